//! Shapes that stand in many figures are held once and used: chairs, heads, limbs that do not move.

use std::collections::BTreeMap;

/// A shape shorter than this is not worth a reference.
const WORTH: usize = 60;

/// Drawings with their common shapes taken out, and the holder of these shapes.
pub(super) struct Shared {
    /// The drawings, in the order they were given.
    pub(super) drawings: Vec<String>,
    /// What stands once on the page.
    pub(super) held: String,
}

/// Takes out every path that stands more than once.
pub(super) fn share(drawings: &[String]) -> Shared {
    let mut seen: BTreeMap<&str, usize> = BTreeMap::new();
    for drawing in drawings {
        for shape in paths(drawing) {
            *seen.entry(shape).or_insert(0) += 1;
        }
    }
    let mut names: BTreeMap<&str, String> = BTreeMap::new();
    let mut held = String::new();
    for (shape, count) in seen {
        if count > 1 && shape.len() >= WORTH {
            let name = format!("s{}", names.len());
            held.push_str(&shape.replacen("<path", &format!("<path id=\"{name}\""), 1));
            names.insert(shape, name);
        }
    }
    Shared {
        drawings: drawings.iter().map(|one| replaced(one, &names)).collect(),
        held: format!(
            "<svg class=\"heads\" width=\"0\" height=\"0\" aria-hidden=\"true\"><defs>{held}</defs></svg>"
        ),
    }
}

/// Every path element of a drawing that has no id of its own.
fn paths(drawing: &str) -> impl Iterator<Item = &str> {
    drawing.match_indices("<path ").filter_map(|(at, _)| {
        let rest = &drawing[at..];
        let end = rest.find("/>")? + 2;
        Some(&rest[..end])
    })
}

fn replaced(drawing: &str, names: &BTreeMap<&str, String>) -> String {
    let mut out = String::with_capacity(drawing.len());
    let mut rest = drawing;
    while let Some(at) = rest.find("<path ") {
        out.push_str(&rest[..at]);
        rest = &rest[at..];
        let end = rest.find("/>").map_or(rest.len(), |end| end + 2);
        let shape = &rest[..end];
        match names.get(shape) {
            Some(name) => {
                out.push_str("<use href=\"#");
                out.push_str(name);
                out.push_str("\"/>");
            }
            None => out.push_str(shape),
        }
        rest = &rest[end..];
    }
    out.push_str(rest);
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_putting_the_shapes_back_gives_the_drawings_again() {
        let long = format!("<path class=\"a\" d=\"M{}\"/>", "1 ".repeat(60));
        let once = format!("<path class=\"a\" d=\"M{}\"/>", "2 ".repeat(60));
        let drawings = [
            format!("<g>{long}{once}</g>"),
            format!("<svg>{long}</svg>"),
            "<path d=\"M0 0\"/>".to_owned(),
        ];
        let shared = share(&drawings);
        assert_eq!(shared.held.matches("id=\"s").count(), 1);
        for (drawing, was) in shared.drawings.iter().zip(&drawings) {
            assert_eq!(&drawing.replace("<use href=\"#s0\"/>", &long), was);
        }
    }
}
