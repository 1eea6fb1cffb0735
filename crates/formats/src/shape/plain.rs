//! Values that stand by themselves: text, numbers, words, days.

use super::near::nearest;
use super::{Kind, Within};
use crate::tree::{Content, Node};
use jiff::civil::Date;
use rehab::quantity::check_bounds;

/// Longest list of words that a message tells whole.
const MOST_TOLD: usize = 14;

pub(super) fn unknown_word(word: &str, list: &str, known: &[&str]) -> String {
    let shown: String = word.chars().take(60).collect();
    match nearest(word, known.iter().copied()) {
        Some(near) => format!("'{shown}' is not a known {list}; did you mean '{near}'"),
        None if known.len() <= MOST_TOLD => {
            format!(
                "'{shown}' is not a known {list}; known are {}",
                known.join(", ")
            )
        }
        None => format!(
            "'{shown}' is not a known {list}; the command 'schema' lists the {} that are known",
            known.len()
        ),
    }
}

pub(super) fn check_plain(node: &Node, kind: &Kind, on: Option<Date>) -> Result<(), String> {
    match kind {
        Kind::Text(most) => text_of(node).and_then(|text| plain_text(text, *most)),
        Kind::Form { check, .. } => text_of(node).and_then(check),
        Kind::Word(words) => text_of(node).and_then(|word| {
            let known = (words.all)();
            if known.contains(&word) {
                Ok(())
            } else {
                Err(unknown_word(word, words.list, &known))
            }
        }),
        Kind::Bound(key) => number_of(node)
            .and_then(|value| check_bounds(key, value).map(drop).map_err(|e| e.message)),
        Kind::WholeBound(key) => whole_of(node).and_then(|value| {
            check_bounds(key, value as f64)
                .map(drop)
                .map_err(|e| e.message)
        }),
        Kind::Number(within) => number_of(node).and_then(|value| inside(value, *within)),
        Kind::Whole(within) => whole_of(node).and_then(|value| inside(value as f64, *within)),
        Kind::Band(within) => band_of(node, *within).map(drop),
        Kind::AnyDay => day_of(node).map(drop),
        Kind::Either(first, second) => check_plain(node, first, on)
            .or_else(|message| check_plain(node, second, on).map_err(|_| message)),
        Kind::OtherDay => day_of(node).and_then(|day| not_ahead(day, on)),
        Kind::Flag => match node.content {
            Content::Flag(_) => Ok(()),
            _ => Err(format!(
                "{} stands where true or false is expected, without quotes",
                node.content.words()
            )),
        },
        Kind::Table(_) | Kind::List(..) | Kind::DaysByWord(_) | Kind::Pressure | Kind::Day => {
            Ok(())
        }
    }
}

pub(super) fn not_ahead(day: Date, on: Option<Date>) -> Result<(), String> {
    match on {
        Some(on) if day > on => Err(format!(
            "{day} lies ahead of {on}, the day this is worked out for; correct it, or give a later day with --on"
        )),
        _ => Ok(()),
    }
}

pub(super) fn text_of(node: &Node) -> Result<&str, String> {
    match &node.content {
        Content::Text(text) => Ok(text),
        other => Err(format!(
            "{} stands where text in double quotes is expected",
            other.words()
        )),
    }
}

fn plain_text(text: &str, most: usize) -> Result<(), String> {
    let count = text.chars().count();
    if text.trim().is_empty() {
        return Err("this is empty; leave the key out when it is not known".to_owned());
    }
    if count > most {
        return Err(format!(
            "this has {count} characters; at most {most} are taken"
        ));
    }
    let odd = |sign: char| sign.is_control() && sign != '\n' && sign != '\t' && sign != '\r';
    if text.contains(odd) {
        return Err("this holds control characters, which are no text; write it again".to_owned());
    }
    Ok(())
}

pub(super) fn number_of(node: &Node) -> Result<f64, String> {
    match node.content {
        Content::Whole(number) => Ok(number as f64),
        Content::Number(number) if number.is_finite() => Ok(number),
        Content::Number(_) => Err("this is not a finite number; write the number".to_owned()),
        Content::Text(_) => Err(
            "text stands where a number is expected; write the number without quotes".to_owned(),
        ),
        _ => Err(format!(
            "{} stands where a number is expected",
            node.content.words()
        )),
    }
}

pub(super) fn whole_of(node: &Node) -> Result<i64, String> {
    match node.content {
        Content::Whole(number) => Ok(number),
        Content::Number(number)
            if number.is_finite() && number == libm::trunc(number) && number.abs() < 1e15 =>
        {
            Ok(number as i64)
        }
        Content::Number(number) if number.is_finite() => {
            Err(format!("{number} stands where a whole number is expected"))
        }
        _ => number_of(node).map(|number| number as i64),
    }
}

fn inside(value: f64, within: Within) -> Result<(), String> {
    if value >= within.low && value <= within.high {
        return Ok(());
    }
    let unit = if within.unit.is_empty() {
        String::new()
    } else {
        format!(" {}", within.unit)
    };
    Err(format!(
        "{value}{unit} is not possible here: {} to {}{unit} is taken; read the value again",
        within.low, within.high
    ))
}

pub(super) fn band_of(node: &Node, within: Within) -> Result<(f64, f64), String> {
    let form = "write the band as [low, high]";
    let Content::List(list) = &node.content else {
        return Err(format!("{} stands here; {form}", node.content.words()));
    };
    let [low, high] = &list[..] else {
        return Err(format!("the list has {} entries; {form}", list.len()));
    };
    let (low, high) = (number_of(low)?, number_of(high)?);
    inside(low, within)?;
    inside(high, within)?;
    if low > high {
        return Err(format!(
            "the lower end {low} is above the upper end {high}; {form}"
        ));
    }
    Ok((low, high))
}

pub(super) fn day_of(node: &Node) -> Result<Date, String> {
    let text = match &node.content {
        Content::Date(day) => return Ok(*day),
        Content::Text(text) => text,
        other => {
            return Err(format!(
                "{} stands where a day is expected, written 2026-10-12",
                other.words()
            ));
        }
    };
    let form = text.len() == 10
        && text.bytes().enumerate().all(|(at, byte)| {
            if at == 4 || at == 7 {
                byte == b'-'
            } else {
                byte.is_ascii_digit()
            }
        });
    let shown: String = text.chars().take(40).collect();
    if !form {
        return Err(format!(
            "'{shown}' is not a day; write only the day, as 2026-10-12"
        ));
    }
    text.parse()
        .map_err(|_| format!("'{shown}' is not a day of the calendar; read it again"))
}
