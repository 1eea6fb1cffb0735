//! How high words stand on a sheet, so that pages are filled and never overrun: measured, not guessed.

use super::Paper;
use crate::measure::{Weight, break_lines};
use maud::{Markup, html};

/// Points in a millimetre.
const PT_PER_MM: f64 = 72.0 / 25.4;
/// Size and line of the body.
pub(super) const BODY_PT: f64 = 16.0;
pub(super) const LINE_PT: f64 = 22.0;
/// A browser sets lines a little differently than we measure; every sum is taken a little larger.
const CAUTION: f64 = 1.02;

/// The room for words on a sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Room {
    pub(super) width: f64,
    pub(super) height: f64,
}

impl Room {
    /// The sheet less its edges, its foot, and the mark of a draft; as `look/print.css` sets them.
    pub(super) fn of(paper: Paper, draft: bool) -> Self {
        let (width_mm, height_mm) = match paper {
            Paper::A4 => (210.0 - 40.0, 297.0 - 22.0),
            Paper::Letter => (215.9 - 40.0, 279.4 - 18.0),
        };
        let foot = 6.0 * PT_PER_MM + 35.0;
        let mark = if draft { 42.0 } else { 0.0 };
        Self {
            width: width_mm * PT_PER_MM,
            height: height_mm * PT_PER_MM - foot - mark,
        }
    }

    pub(super) fn holds(&self, height: f64) -> bool {
        height * CAUTION <= self.height
    }
}

/// Something drawn, and how high it stands in pt.
pub(super) struct Block {
    pub(super) drawn: Markup,
    pub(super) height: f64,
}

/// A sheet, and how far it is filled.
pub(super) struct Sheet {
    blocks: Vec<Markup>,
    filled: f64,
}

impl Sheet {
    /// A sheet that nothing more goes on.
    pub(super) fn full(drawn: Markup) -> Self {
        Self {
            blocks: vec![drawn],
            filled: f64::INFINITY,
        }
    }

    fn takes(&self, block: &Block, room: Room) -> bool {
        room.holds(self.filled + block.height)
    }

    fn put(&mut self, block: Block) {
        self.filled += block.height;
        self.blocks.push(block.drawn);
    }

    pub(super) fn drawn(&self) -> Markup {
        html! { @for one in &self.blocks { (one) } }
    }
}

/// Blocks one under the other, as many to a sheet as it holds.
pub(super) fn flow(blocks: Vec<Block>, room: Room, sheets: &mut Vec<Sheet>) {
    for block in blocks {
        match sheets.last_mut().filter(|last| last.takes(&block, room)) {
            Some(last) => last.put(block),
            None => {
                let mut sheet = Sheet {
                    blocks: Vec::new(),
                    filled: 0.0,
                };
                sheet.put(block);
                sheets.push(sheet);
            }
        }
    }
}

/// Puts a block on the first sheet with room for it, so that it never stands alone while there is one.
pub(super) fn tuck(block: Block, room: Room, sheets: &mut Vec<Sheet>) {
    match sheets.iter_mut().find(|sheet| sheet.takes(&block, room)) {
        Some(sheet) => sheet.put(block),
        None => flow(vec![block], room, sheets),
    }
}

/// Height in pt of body words in a column.
pub(super) fn words(text: &str, width: f64) -> f64 {
    lines(text, BODY_PT, Weight::Regular, width) * LINE_PT
}

/// Height in pt of bold body words in a column.
pub(super) fn bold(text: &str, width: f64) -> f64 {
    lines(text, BODY_PT, Weight::Bold, width) * LINE_PT
}

/// Height in pt of a heading of 21 pt.
pub(super) fn heading(text: &str, width: f64) -> f64 {
    lines(text, 21.0, Weight::Bold, width) * 28.0
}

/// Height in pt of a heading of 30 pt.
pub(super) fn title(text: &str, width: f64) -> f64 {
    lines(text, 30.0, Weight::Bold, width) * 36.0
}

fn lines(text: &str, size: f64, weight: Weight, width: f64) -> f64 {
    break_lines(text, size, weight, width).len() as f64
}

/// Millimetres in pt.
pub(super) fn mm(value: f64) -> f64 {
    value * PT_PER_MM
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sheet_holds_about_thirty_lines() {
        let room = Room::of(Paper::A4, false);
        let lines = room.height / LINE_PT;
        assert!((31.0..34.0).contains(&lines), "{lines}");
        assert!(Room::of(Paper::A4, true).height < room.height);
        assert!(Room::of(Paper::Letter, false).height < room.height);
    }

    #[test]
    fn longer_words_are_higher() {
        let short = words("one line", 480.0);
        let long = words(&"many words ".repeat(30), 480.0);
        assert!(long > short);
        assert!((short - LINE_PT).abs() < 1e-9);
    }
}
