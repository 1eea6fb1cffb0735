//! Random files made from their shapes: every key of a table may come, with a value that is allowed.

use formats::shape::{Field, Kind, Shape, Within};
use formats::tree::{Content, Node, Table};
use jiff::civil::{Date, date};
use rehab::quantity::bound_of;

/// A small generator of numbers, so that one seed makes one file.
pub(crate) struct Dice(u64, bool);

impl Dice {
    pub(crate) fn new(seed: u64) -> Self {
        Self(seed ^ 0x9E37_79B9_7F4A_7C15, false)
    }

    /// The same, with texts of letters only.
    pub(crate) fn plain(seed: u64) -> Self {
        Self(Self::new(seed).0, true)
    }

    pub(crate) fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    pub(crate) fn below(&mut self, most: usize) -> usize {
        (self.next() % most as u64) as usize
    }

    pub(crate) fn one_in(&mut self, many: usize) -> bool {
        self.below(many) == 0
    }
}

pub(crate) const ON: Date = date(2026, 11, 25);

pub(crate) fn table(shape: &'static Shape, dice: &mut Dice) -> Table {
    let mut out = Table::default();
    let word = shape.choice.as_ref().map(|choice| {
        let (word, _) = choice.cases[dice.below(choice.cases.len())];
        out.put(choice.key, word);
        word
    });
    for field in shape.fields_for(word) {
        if field.needed || dice.one_in(2) {
            out.put(field.key, value(field, &field.kind, dice));
        }
    }
    // What refers to other parts of the file would almost never find them.
    for entry in &mut out.entries {
        if entry.key == "refused_by" {
            entry.node = Vec::<Node>::new().into();
        }
    }
    if shape.name == "slot" || shape.name == "pin" {
        out.entries
            .retain(|entry| entry.key != "same_as" && entry.key != "slot");
    }
    // A day of something must name something present, which a random choice almost never does.
    if shape.name == "history" {
        out.entries.retain(|entry| entry.key != "since");
        if let Some(Content::List(list)) = out.get("present").map(|node| node.content.clone())
            && let Some(Content::Text(word)) = list.first().map(|node| node.content.clone())
        {
            let mut since = Table::default();
            since.put(&word, day(dice));
            out.put("since", since);
        }
    }
    out
}

fn value(field: &'static Field, kind: &'static Kind, dice: &mut Dice) -> Node {
    match kind {
        Kind::Text(most) => text(*most, dice).into(),
        Kind::Form { pattern, .. } => formed(field.key, pattern, dice).into(),
        Kind::Bound(key) => {
            let bound = bound_of(key).expect("shapes name known bounds");
            number(Within::new(bound.low, bound.high, ""), dice).into()
        }
        Kind::WholeBound(key) => {
            let bound = bound_of(key).expect("shapes name known bounds");
            (number(Within::new(bound.low, bound.high, ""), dice).floor() as i64).into()
        }
        Kind::Number(within) => number(*within, dice).into(),
        Kind::Whole(within) => (number(*within, dice).floor() as i64).into(),
        Kind::Flag => dice.one_in(2).into(),
        Kind::Day | Kind::AnyDay => day(dice).into(),
        Kind::OtherDay => date(1950, 1, 1).into(),
        Kind::Word(words) => {
            let all = (words.all)();
            all[dice.below(all.len())].into()
        }
        Kind::List(of, count) => {
            let many = count.least + dice.below((count.most - count.least).min(4) + 1);
            let mut list: Vec<Node> = Vec::new();
            while list.len() < many {
                let item = value(field, of, dice);
                if !count.unique || !list.contains(&item) {
                    list.push(item);
                }
            }
            list.into()
        }
        Kind::Table(shape) => table(shape, dice).into(),
        Kind::DaysByWord(words) => {
            let mut days = Table::default();
            days.put((words.all)()[0], day(dice));
            days.into()
        }
        Kind::Pressure => {
            let systolic = 90.0 + dice.below(90) as f64;
            Node::from(vec![systolic.into(), (systolic - 40.0).into()])
        }
        Kind::Band(within) => {
            let low = number(*within, dice);
            let high = low + (within.high - low) / 2.0;
            Node::from(vec![low.into(), high.into()])
        }
        Kind::Either(first, second) => {
            let kind = if dice.one_in(2) { first } else { second };
            value(field, kind, dice)
        }
    }
}

fn number(within: Within, dice: &mut Dice) -> f64 {
    match dice.below(6) {
        0 => within.low,
        1 => within.high,
        _ => {
            let share = dice.below(1000) as f64 / 1000.0;
            let value = within.low + share * (within.high - within.low);
            // Two decimals, as people write; the ends stay reachable.
            ((value * 100.0).round() / 100.0).clamp(within.low, within.high)
        }
    }
}

fn day(dice: &mut Dice) -> Date {
    ON.checked_sub(jiff::Span::new().days(dice.below(20_000) as i64))
        .expect("a day within the calendar")
}

fn text(most: usize, dice: &mut Dice) -> String {
    let signs = [
        "a", "Zoë ", "\"", "\\", "\n", "'", "#", "李", "=", "]", "\t", "0", " x", "é",
    ];
    let mut out = format!("{:x} ", dice.next() % 0xFFFF_FFFF);
    if dice.1 {
        return out.trim().to_owned();
    }
    for _ in 0..dice.below(6) {
        out.push_str(signs[dice.below(signs.len())]);
    }
    out.chars().take(most).collect()
}

fn formed(key: &str, pattern: &str, dice: &mut Dice) -> String {
    match key {
        "id" | "case" => format!("random-{:x}", dice.next()),
        "language" => ["en-GB", "cy", "zh-Hant-TW"][dice.below(3)].to_owned(),
        "at" => [
            "before",
            "60-s-after",
            "after-cool-down",
            "end-of-station-60",
            "end-of-station-9",
        ][dice.below(5)]
        .to_owned(),
        _ => panic!("no random text is known for the form {pattern} of {key}"),
    }
}

/// Spoils one place of a tree: the reader may refuse it, but never panics and never takes what it cannot keep.
pub(crate) fn spoil(table: &mut Table, dice: &mut Dice) {
    if table.entries.is_empty() || dice.one_in(8) {
        table.put(["wieght_kg", "x", "", "date "][dice.below(4)], bad(dice));
        return;
    }
    let at = dice.below(table.entries.len());
    let entry = &mut table.entries[at];
    match &mut entry.node.content {
        Content::Table(inner) if !dice.one_in(4) => spoil(inner, dice),
        Content::List(list) if !list.is_empty() && !dice.one_in(4) => {
            let at = dice.below(list.len());
            match &mut list[at].content {
                Content::Table(inner) => spoil(inner, dice),
                _ => list[at] = bad(dice),
            }
        }
        _ => entry.node = bad(dice),
    }
}

fn bad(dice: &mut Dice) -> Node {
    match dice.below(14) {
        0 => Content::Null.into(),
        1 => true.into(),
        2 => i64::MIN.into(),
        3 => i64::MAX.into(),
        4 => 1e300.into(),
        5 => (-0.5).into(),
        6 => "".into(),
        7 => "a\u{0}b".into(),
        8 => "x".repeat(5000).into(),
        9 => date(9999, 12, 31).into(),
        10 => date(-9999, 1, 1).into(),
        11 => Vec::<Node>::new().into(),
        12 => vec![
            Node::from(1e9),
            Node::from("1"),
            Node::from(Table::default()),
        ]
        .into(),
        _ => Table::default().into(),
    }
}
