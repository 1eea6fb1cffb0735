//! Writing SVG text: numbers, paths, words, with everything escaped.

use core::fmt::Write;

/// A number with at most one decimal, so that the same drawing is the same text.
pub(crate) fn num(value: f64) -> String {
    let tenths = libm::round(value * 10.0);
    // Minus nought would print as "-0".
    let tenths = if tenths == 0.0 { 0.0 } else { tenths };
    format!("{}", tenths / 10.0)
}

/// Escapes text for use between tags and inside double quotes.
pub(crate) fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for sign in text.chars() {
        match sign {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            other => out.push(other),
        }
    }
    out
}

/// A point of a drawing in px, y downwards.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Point {
    pub(crate) x: f64,
    pub(crate) y: f64,
}

pub(crate) const fn at(x: f64, y: f64) -> Point {
    Point { x, y }
}

/// The `d` of a path.
#[derive(Clone, Debug, Default)]
pub(crate) struct PathData(String);

impl PathData {
    pub(crate) fn new() -> Self {
        Self::default()
    }

    pub(crate) fn move_to(&mut self, point: Point) -> &mut Self {
        self.put("M", &[point])
    }

    pub(crate) fn line_to(&mut self, point: Point) -> &mut Self {
        self.put("L", &[point])
    }

    pub(crate) fn curve_to(&mut self, one: Point, two: Point, end: Point) -> &mut Self {
        self.put("C", &[one, two, end])
    }

    pub(crate) fn close(&mut self) -> &mut Self {
        self.0.push('Z');
        self
    }

    /// Adds text that already is path data.
    pub(crate) fn raw(&mut self, text: &str) -> &mut Self {
        self.0.push_str(text);
        self
    }

    pub(crate) fn as_str(&self) -> &str {
        &self.0
    }

    fn put(&mut self, letter: &str, points: &[Point]) -> &mut Self {
        self.0.push_str(letter);
        for (i, point) in points.iter().enumerate() {
            if i > 0 {
                self.0.push(' ');
            }
            let _ = write!(self.0, "{} {}", num(point.x), num(point.y));
        }
        self
    }
}

/// A drawing being written.
#[derive(Clone, Debug, Default)]
pub(crate) struct Drawing(String);

impl Drawing {
    pub(crate) fn new() -> Self {
        Self::default()
    }

    /// A path with a class.
    pub(crate) fn path(&mut self, class: &str, data: &PathData) {
        let _ = write!(self.0, "<path class=\"{class}\" d=\"{}\"/>", data.as_str());
    }

    /// A straight line with a class.
    pub(crate) fn line(&mut self, class: &str, from: Point, to: Point) {
        let mut data = PathData::new();
        data.move_to(from).line_to(to);
        self.path(class, &data);
    }

    /// A circle with a class.
    pub(crate) fn circle(&mut self, class: &str, centre: Point, radius: f64) {
        let _ = write!(
            self.0,
            "<circle class=\"{class}\" cx=\"{}\" cy=\"{}\" r=\"{}\"/>",
            num(centre.x),
            num(centre.y),
            num(radius)
        );
    }

    /// Words at a point.
    pub(crate) fn words(&mut self, class: &str, point: Point, text: &str) {
        let _ = write!(
            self.0,
            "<text class=\"{class}\" x=\"{}\" y=\"{}\">{}</text>",
            num(point.x),
            num(point.y),
            escape(text)
        );
    }

    /// Text that already is SVG.
    pub(crate) fn raw(&mut self, text: &str) {
        self.0.push_str(text);
    }

    /// The whole as a drawing of its own, with its text equivalent (a title alone, or title and description).
    pub(crate) fn finish(self, frame: &Frame<'_>) -> String {
        let (w, h) = (num(frame.width), num(frame.height));
        let mut out = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"{}\" viewBox=\"0 0 {w} {h}\" width=\"{w}\" height=\"{h}\" role=\"{}\">",
            frame.class,
            if frame.group { "group" } else { "img" }
        );
        let _ = write!(out, "<title>{}</title>", escape(frame.title));
        if !frame.description.is_empty() {
            let _ = write!(out, "<desc>{}</desc>", escape(frame.description));
        }
        out.push_str(&self.0);
        out.push_str("</svg>");
        out
    }
}

/// What stands round a drawing.
pub(crate) struct Frame<'a> {
    pub(crate) class: &'a str,
    pub(crate) width: f64,
    pub(crate) height: f64,
    pub(crate) title: &'a str,
    pub(crate) description: &'a str,
    /// Whether it holds links, so that it is a group and not one picture.
    pub(crate) group: bool,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_have_one_decimal_and_no_minus_nought() {
        assert_eq!(num(12.34), "12.3");
        assert_eq!(num(-0.04), "0");
        assert_eq!(num(7.0), "7");
        assert_eq!(num(-3.26), "-3.3");
    }

    #[test]
    fn words_cannot_leave_their_place() {
        let mut drawing = Drawing::new();
        drawing.words("t", at(0.0, 0.0), "<script>\"&'");
        assert!(drawing.0.contains("&lt;script&gt;&quot;&amp;'"));
    }
}
