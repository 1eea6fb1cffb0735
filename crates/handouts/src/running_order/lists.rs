//! Which rows of the day check stand together on one screen, so that a well person is through them with one answer.
//!
//! Safety before speed: what leads to the unwell path or closes the page is always asked by itself, and so is every
//! number and everything that is waited for. A list never hides a row: each stands in sight in plain words, no list is
//! longer than a low screen holds, and "yes, one or more" asks its rows one by one.

use super::{Answer, CheckRow, Listed, Outcome};
use rehab::wording::Words;

/// Most rows in one list: our default, so that none has to be scrolled to.
const MOST: usize = 4;

/// What is asked about the time since the last visit or call; everything else is asked about today.
const SINCE: [&str; 5] = ["tablets", "fall", "hospital", "wound", "joint"];

/// The same rows, neighbours joined into lists where they may be.
pub(super) fn listed(mut rows: Vec<CheckRow>, words: &Words) -> Vec<CheckRow> {
    let (mut from, mut number) = (0, 0);
    while from < rows.len() {
        let head = head_of(&rows[from]);
        let mut to = from + 1;
        if lists(&rows[from], words) {
            while to < rows.len() && lists(&rows[to], words) && head_of(&rows[to]) == head {
                to += 1;
            }
        }
        let screens = (to - from).div_ceil(MOST);
        let each = (to - from).div_ceil(screens);
        for list in rows[from..to].chunks_mut(each).filter(|one| one.len() > 1) {
            number += 1;
            for row in list {
                row.listed = Some(Listed {
                    number,
                    head: words
                        .get(head)
                        .replace("{since}", words.get("check.since-last")),
                    line: words.get(&line_of(row)).to_owned(),
                });
            }
        }
        from = to;
    }
    rows
}

/// Whether a row may stand in a list: a plain yes that leaves this day out and nothing more, with words for the list.
fn lists(row: &CheckRow, words: &Words) -> bool {
    let plain = matches!(
        &row.answer,
        Answer::YesNo {
            yes: Outcome::NotToday(_)
        }
    );
    plain && !row.told.lock && words.find(&line_of(row)).is_some()
}

fn line_of(row: &CheckRow) -> String {
    format!("check.listed.{}", row.id)
}

fn head_of(row: &CheckRow) -> &'static str {
    match SINCE.contains(&row.id.as_str()) {
        true => "check.list.since",
        false => "check.list.today",
    }
}
