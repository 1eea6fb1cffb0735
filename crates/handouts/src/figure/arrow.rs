//! The one ember arrow: from where the moving part was to where it goes, bulging away from the body.

use super::body::Body;
use super::space::{Camera, P2, V3};

/// The part the arrow follows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Follow {
    Nothing,
    Head,
    /// The hip going down, the arrow behind it.
    Hip,
    NearHand,
    NearKnee,
    NearFoot,
    NearShoulder,
    /// Round the head, for turning it.
    RoundHead,
}

/// How far the arrow stands off what it follows, in mm.
const OFF: f64 = 120.0;
/// Shorter ways get no arrow, in mm.
const SHORTEST: f64 = 60.0;
const HEAD_LONG: f64 = 74.0;
const HEAD_HALF: f64 = 44.0;

fn joint(body: &Body, follow: Follow) -> V3 {
    match follow {
        Follow::NearHand => body.near_arm.knuckles,
        Follow::NearKnee => body.near_leg.knee,
        Follow::NearFoot => body.near_leg.ankle,
        Follow::NearShoulder => body.near_arm.shoulder,
        Follow::Hip => body.near_leg.hip.towards(body.far_leg.hip, 0.5),
        Follow::Head | Follow::RoundHead | Follow::Nothing => body.head,
    }
}

/// The arrow with the points it touches, for the frame; nothing when the way is too short to be seen.
pub(super) fn arrow(
    start: &Body,
    end: &Body,
    follow: Follow,
    camera: Camera,
) -> Option<(String, Vec<P2>)> {
    if follow == Follow::Nothing {
        return None;
    }
    let (mut from, mut to) = (
        camera.see(joint(start, follow)),
        camera.see(joint(end, follow)),
    );
    let middle = camera.see(end.neck.towards(end.near_leg.hip, 0.45));
    if follow == Follow::RoundHead {
        let head = to;
        from = P2 {
            x: head.x - 150.0,
            y: head.y - 120.0,
        };
        to = P2 {
            x: head.x + 150.0,
            y: head.y - 100.0,
        };
    } else {
        let way = distance(from, to);
        if way < SHORTEST {
            return None;
        }
        // A short way is drawn a little longer than it is.
        let stretch = (150.0 / way).max(1.0);
        to = P2 {
            x: from.x + (to.x - from.x) * stretch,
            y: from.y + (to.y - from.y) * stretch,
        };
    }
    let half = mix(from, to, 0.5);
    let away = if follow == Follow::Head {
        P2 { x: -0.55, y: -0.83 }
    } else if matches!(follow, Follow::Hip | Follow::NearShoulder) {
        P2 { x: -1.0, y: 0.0 }
    } else {
        unit(P2 {
            x: half.x - middle.x,
            y: half.y - middle.y,
        })
    };
    let off = match follow {
        Follow::RoundHead => 20.0,
        Follow::Hip => 190.0,
        _ => OFF,
    };
    let (from, to) = (moved(from, away, off), moved(to, away, off));
    let bulge = 0.28 * distance(from, to) + 30.0;
    let control = moved(mix(from, to, 0.5), away, bulge);
    let heading = unit(P2 {
        x: to.x - control.x,
        y: to.y - control.y,
    });
    Some((
        drawn(from, control, to, heading),
        vec![from, control, to, moved(to, heading, HEAD_LONG)],
    ))
}

fn drawn(from: P2, control: P2, to: P2, heading: P2) -> String {
    let r = |value: f64| libm::round(value) as i64;
    let tip = moved(to, heading, HEAD_LONG);
    let side = P2 {
        x: -heading.y,
        y: heading.x,
    };
    let (one, two) = (moved(to, side, HEAD_HALF), moved(to, side, -HEAD_HALF));
    let (one, two) = (moved(one, heading, -14.0), moved(two, heading, -14.0));
    format!(
        "<path class=\"fg-arrow\" d=\"M{} {}Q{} {} {} {}\"/><path class=\"fg-arrowhead\" d=\"M{} {}L{} {}L{} {}L{} {}Z\"/>",
        r(from.x),
        r(from.y),
        r(control.x),
        r(control.y),
        r(to.x),
        r(to.y),
        r(tip.x),
        r(tip.y),
        r(one.x),
        r(one.y),
        r(to.x),
        r(to.y),
        r(two.x),
        r(two.y),
    )
}

fn distance(a: P2, b: P2) -> f64 {
    libm::sqrt((a.x - b.x) * (a.x - b.x) + (a.y - b.y) * (a.y - b.y))
}

fn unit(p: P2) -> P2 {
    let length = libm::sqrt(p.x * p.x + p.y * p.y).max(1e-9);
    P2 {
        x: p.x / length,
        y: p.y / length,
    }
}

fn mix(a: P2, b: P2, share: f64) -> P2 {
    P2 {
        x: a.x + (b.x - a.x) * share,
        y: a.y + (b.y - a.y) * share,
    }
}

fn moved(p: P2, way: P2, by: f64) -> P2 {
    P2 {
        x: p.x + way.x * by,
        y: p.y + way.y * by,
    }
}
