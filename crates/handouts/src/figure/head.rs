//! Heads: each with hair and, for one, spectacles; faces and expressions are left out.

use super::Build;
use super::space::{Camera, P2};

/// The head seen from the side, facing right; drawn round its middle.
const FACE: &str = "M-58 58C-96 20-98-52-58-88C-22-118 40-116 68-78C80-62 82-44 80-28C80-20 86-8 98 10C103 18 99 26 86 27C84 32 87 36 86 41C88 48 86 52 82 55C84 64 82 72 78 80C70 97 44 100 24 92C4 86-14 84-28 78Z";
const EAR: &str = "M-4 4C10-2 18 10 12 24C8 34-2 38-6 30";
const SPECTACLES: &str = "M58-22h26M58-22C54-6 62 6 74 4C84 2 88-10 84-22M58-22L8-12";
const HAIR_LONG: &str = "M82-40C70-52 52-58 40-50C28-42 24-26 10-18C-2-10-10 0-12 14C-14 30-24 44-44 52C-52 58-66 62-78 50C-112 22-116-56-74-98C-34-136 50-128 76-88C84-74 87-56 82-40Z";
const HAIR_SHORT: &str = "M80-48C66-62 44-62 30-52C18-44 14-30 2-24C-10-18-14-6-20 6C-28 20-40 30-62 26C-96 6-106-58-70-94C-32-130 48-124 74-86C80-76 83-60 80-48Z";
const HAIR_CROWN: &str = "M-30-66C-18-54-6-34-8-20C-10-8-16 2-22 12C-30 26-42 36-64 32C-92 10-100-40-74-76C-62-88-44-84-30-66Z";
const HAIR_CURLS: &str = "M80-44C74-58 58-60 46-48C36-40 30-26 14-22C4-14 0 0-8 16C-16 40-40 58-66 60C-92 58-102 40-100 24C-116 12-120-12-110-28C-118-52-104-78-84-84C-76-108-46-120-26-112C-8-128 26-126 38-114C60-118 82-98 80-80C88-70 88-54 80-44Z";

/// The head seen nearly from the front.
const FACE_FRONT: &str =
    "M-66-40C-66-92 84-92 86-40C88 10 78 62 52 86C36 100-6 100-22 86C-50 60-66 10-66-40Z";
const EAR_FRONT: &str = "M-64-14C-82-22-84 14-62 22Z";
const SPECTACLES_FRONT: &str =
    "M-34-20h38v20c-2 14-36 14-38 0ZM28-20h38v20c-2 14-36 14-38 0ZM4-12h24M-34-14l-28-4";
const HAIR_FRONT_LONG: &str = "M-72 10C-96-40-84-112 4-116C92-116 108-40 90 4C88-28 78-52 56-62C20-54-30-58-52-40C-62-28-66-12-72 10Z";
const HAIR_FRONT_SHORT: &str = "M-70-14C-84-66-66-114 6-116C78-116 98-66 88-14C86-40 78-58 62-66C24-74-22-74-46-62C-60-52-66-36-70-14Z";
const HAIR_FRONT_CROWN: &str =
    "M-70 14C-88-20-84-58-66-76C-62-50-62-20-64 6ZM88 14C104-20 100-58 84-76C82-50 84-20 84 6Z";
const HAIR_FRONT_CURLS: &str = "M-78 24C-104 6-98-24-92-34C-104-66-82-92-62-92C-50-120-14-126 6-116C30-128 66-116 76-96C98-92 112-64 102-38C112-16 108 10 92 24C92-8 84-44 62-58C30-48-24-52-52-40C-66-22-70 0-78 24Z";

/// The head as a group at its place.
pub(super) fn head(build: Build, camera: Camera, at: P2, tilt: f64) -> String {
    let (x, y) = (libm::round(at.x), libm::round(at.y));
    let inner = match camera {
        Camera::Side => side(build),
        Camera::Front => front(build),
    };
    let tilt = libm::round(tilt);
    format!("<g transform=\"translate({x} {y}) rotate({tilt})\">{inner}</g>")
}

/// A head without colours of its own, as the ghost has it.
pub(super) fn bare(drawn: &str) -> String {
    drawn
        .replace(" class=\"fg-skin\"", "")
        .replace("<path class=\"fg-line\"", "<path class=\"fg-none\"")
        .replace(" class=\"fg-hair\"", "")
}

fn path(class: &str, data: &str) -> String {
    format!("<path class=\"{class}\" d=\"{data}\"/>")
}

fn side(build: Build) -> String {
    let hair = match build {
        Build::First => HAIR_LONG,
        Build::Second => HAIR_SHORT,
        Build::Third => HAIR_CURLS,
        Build::Fourth => HAIR_CROWN,
    };
    let mut out = String::new();
    if build == Build::First {
        out += "<circle class=\"fg-hair\" cx=\"-104\" cy=\"-14\" r=\"40\"/>";
    }
    out += &path("fg-skin", FACE);
    out += &path("fg-hair", hair);
    out += &path("fg-skin", EAR);
    if build.wears_spectacles() {
        out += &path("fg-line", SPECTACLES);
    }
    out
}

fn front(build: Build) -> String {
    let hair = match build {
        Build::First => HAIR_FRONT_LONG,
        Build::Second => HAIR_FRONT_SHORT,
        Build::Third => HAIR_FRONT_CURLS,
        Build::Fourth => HAIR_FRONT_CROWN,
    };
    let mut out = String::new();
    if build == Build::First {
        out += "<circle class=\"fg-hair\" cx=\"-52\" cy=\"-96\" r=\"38\"/>";
    }
    out += &path("fg-skin", EAR_FRONT);
    out += &path("fg-skin", FACE_FRONT);
    out += &path("fg-hair", hair);
    if build.wears_spectacles() {
        out += &path("fg-line", SPECTACLES_FRONT);
    }
    out
}
