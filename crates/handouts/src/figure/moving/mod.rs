//! The moving figure: scenes of a body in motion as stills for print, as a drawing that moves by itself, and as numbers for the page.

mod arrow;
mod data;
mod files;
mod outline;
mod still;
mod turning;

pub use data::{MOST_FRAMES, MOST_NUMBERS_BYTES, blueprint, numbers};
pub use files::{MOST_FILE_BYTES, Picture, pictures};
pub use still::{drawn, scene_alone};
pub use turning::{MOST_BYTES, turning};

use super::Build;
use core::fmt::Write;
use motion::scene::{Hair, Look, Paint, Part, Point, Scene};

impl Build {
    /// Who is drawn.
    pub const fn look(self) -> Look {
        match self {
            Self::First => Look {
                girth: 0.98,
                waist: 1.0,
                hair: Hair::Bun,
                spectacles: true,
            },
            Self::Second => Look {
                girth: 1.02,
                waist: 1.05,
                hair: Hair::Short,
                spectacles: false,
            },
            Self::Third => Look {
                girth: 1.12,
                waist: 1.18,
                hair: Hair::Curls,
                spectacles: false,
            },
            Self::Fourth => Look {
                girth: 0.94,
                waist: 0.96,
                hair: Hair::Crown,
                spectacles: true,
            },
        }
    }

    /// How tall the drawn person is.
    pub const fn stature_m(self) -> f64 {
        match self {
            Self::First => 1.62,
            Self::Second => 1.68,
            Self::Third => 1.60,
            Self::Fourth => 1.66,
        }
    }
}

const fn class(paint: Paint) -> &'static str {
    match paint {
        Paint::SoftShadow => "fg-shadow2",
        Paint::Shadow => "fg-shadow",
        Paint::Wood => "fg-wood",
        Paint::FarWood => "fg-wood2",
        Paint::Cloth => "fg-cloth",
        Paint::ShadedCloth => "fg-cloth2",
        Paint::DarkCloth => "fg-cloth3",
        Paint::Sleeve => "fg-sleeve",
        Paint::FarSleeve | Paint::FarLeg => "fg-far",
        Paint::Leg => "fg-near",
        Paint::Trunk => "fg-mid",
        Paint::Skin => "fg-skin",
        Paint::FarSkin => "fg-skin2",
        Paint::Shoe => "fg-shoe",
        Paint::FarShoe => "fg-shoe2",
        Paint::Hair => "fg-hair",
        Paint::Held => "fg-held",
        Paint::Band => "fg-band",
        Paint::Wall => "fg-wall",
        Paint::Nose => "fg-nose",
        Paint::Line => "fg-line",
    }
}

fn part_text(scene: &Scene, part: &Part, out: &mut String) {
    let _ = write!(
        out,
        "<path class=\"{}{}\" d=\"",
        class(part.paint),
        if part.rim || part.paint.is_line() {
            ""
        } else {
            " fg-in"
        }
    );
    for hull in scene.hulls(part) {
        if part.paint.is_line() {
            outline::line(hull, out);
        } else {
            outline::exact(hull, out);
        }
    }
    out.push_str("\"/>");
}

/// Left, top, width and height in whole mm, with paper round it, of everything that the corners hold.
fn view(corners: impl IntoIterator<Item = [Point; 2]>) -> [i64; 4] {
    const PAPER_MM: f64 = 30.0;
    let all = corners.into_iter().reduce(|[low, high], [least, most]| {
        let pick = |a: Point, b: Point, of: fn(f64, f64) -> f64| Point {
            x_mm: of(a.x_mm, b.x_mm),
            y_mm: of(a.y_mm, b.y_mm),
        };
        [pick(low, least, f64::min), pick(high, most, f64::max)]
    });
    let Some([low, high]) = all else {
        return [0, 0, 1, 1];
    };
    let whole = |value: f64| libm::round(value) as i64;
    [
        whole(low.x_mm - PAPER_MM),
        whole(low.y_mm - PAPER_MM),
        whole(high.x_mm - low.x_mm + 2.0 * PAPER_MM),
        whole(high.y_mm - low.y_mm + 2.0 * PAPER_MM),
    ]
}

/// The frame of a drawing, with its title.
fn framed(build: Build, view: [i64; 4], title: &str, inside: &str) -> String {
    let [x, y, width, height] = view;
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"{}\" viewBox=\"{x} {y} {width} {height}\" role=\"img\"><title>{}</title>{inside}</svg>",
        build.class(),
        crate::svg::escape(title)
    )
}
