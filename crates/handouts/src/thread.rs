//! The thread: the last weeks of one person as strokes, dots and a dotted end of silence; and the mark of the house.

use crate::svg::{Drawing, Frame, PathData, at};

/// What happened on a day of the thread.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stitch {
    /// A session was done.
    Session,
    /// A session broke off with something that matters.
    Stopped,
    /// Somebody spoke with the person.
    Contact,
}

/// The thread of one person.
#[derive(Clone, Debug)]
pub struct Thread<'a> {
    /// Days shown, the last is today.
    pub days: u16,
    /// What happened, each so many days ago (0 is today).
    pub stitches: &'a [(u16, Stitch)],
    /// Days since anything was heard; the dotted end.
    pub silent_days: u16,
    /// Whether that is longer than agreed.
    pub late: bool,
    /// Width in px.
    pub width_px: u16,
    /// Says in words what the strokes and dots say.
    pub title: &'a str,
}

const LINE_Y: f64 = 20.0;

/// Draws the thread.
pub fn thread(ask: &Thread<'_>) -> String {
    let width = f64::from(ask.width_px);
    let days = f64::from(ask.days.max(1));
    let x = |ago: u16| width * (days - 0.5 - f64::from(ago)).max(0.0) / days;
    let mut out = Drawing::new();
    let silent = ask.silent_days.min(ask.days);
    let end = if silent == 0 { width } else { x(silent) };
    out.line("th-base", at(0.0, LINE_Y), at(end, LINE_Y));
    if silent > 0 {
        let class = if ask.late { "th-gap late" } else { "th-gap" };
        out.line(class, at(end + 6.0, LINE_Y), at(width - 2.0, LINE_Y));
    }
    let shown = |ago: &u16| *ago < ask.days;
    for (ago, stitch) in ask.stitches.iter().filter(|one| shown(&one.0)) {
        let x = x(*ago);
        match stitch {
            Stitch::Session | Stitch::Stopped => {
                out.line("th-s", at(x, LINE_Y - 13.0), at(x, LINE_Y - 1.0));
            }
            Stitch::Contact => {}
        }
        if *stitch == Stitch::Stopped {
            let mut cross = PathData::new();
            cross
                .move_to(at(x - 4.0, 1.5))
                .line_to(at(x + 4.0, 9.5))
                .move_to(at(x + 4.0, 1.5))
                .line_to(at(x - 4.0, 9.5));
            out.path("th-x", &cross);
        }
    }
    // Dots lie over strokes, so that a call on the day of a session is seen.
    for (ago, stitch) in ask.stitches.iter().filter(|one| shown(&one.0)) {
        if *stitch == Stitch::Contact {
            out.circle("th-c", at(x(*ago), LINE_Y), 4.5);
        }
    }
    out.finish(&Frame {
        class: "thread",
        width,
        height: 27.0,
        title: ask.title,
        description: "",
        group: false,
    })
}

/// The mark of Hearthpace: a short line of hills with an ember on the second. Decoration beside the name.
pub const MARK: &str = "<svg class=\"mark-svg\" width=\"40\" height=\"18\" viewBox=\"0 0 40 18\" aria-hidden=\"true\"><path class=\"mark-line\" d=\"M1 16C5 16 6 10 10 9s5-6 9-6 5 6 8 6 3-4 6-4 3 9 6 11\"/><circle class=\"mark-ember\" cx=\"19\" cy=\"3\" r=\"3\"/></svg>";

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn silence_beyond_what_was_agreed_is_marked_and_said() {
        let ask = Thread {
            days: 28,
            stitches: &[(14, Stitch::Contact), (12, Stitch::Session)],
            silent_days: 12,
            late: true,
            width_px: 240,
            title: "Last heard from 12 days ago",
        };
        let drawn = thread(&ask);
        assert!(drawn.contains("th-gap late"));
        assert!(drawn.contains("<title>Last heard from 12 days ago</title>"));
        assert_eq!(drawn.matches("class=\"th-s\"").count(), 1);
        assert_eq!(drawn.matches("class=\"th-c\"").count(), 1);
    }
}
