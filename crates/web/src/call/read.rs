//! The form of the sheet into answers.

use crate::typed::{Typed, Wrong};
use handouts::call::{
    Answers, Asking, DayTold, Fall, HeartSign, InThemself, Joints, SignTold, Spray, days, signs,
    stations,
};
use jiff::civil::Date;
use rehab::assessment::EffortScale;

/// Longest text of one answer.
const ANSWER: usize = 1000;
/// Longest text of a change of medicine: one line of a diary.
const LINE: usize = 200;

/// Reads the answers; what is wrong is said at its field.
pub(super) fn answers(asking: &Asking<'_>, typed: &Typed, wrong: &mut Wrong) -> Answers {
    let scale = match asking.assessed.limits.effort_scale {
        EffortScale::ZeroToTen => "effort_0_10",
        EffortScale::SixToTwenty => "effort_6_20",
    };
    Answers {
        open: wrong.words(typed, "open", ANSWER),
        days: days_told(asking, typed, wrong),
        stage: typed.get("stage").parse().ok(),
        effort: wrong.number(typed, "effort", scale),
        pulse_before_bpm: wrong.number(typed, "pulse-before", "hr_bpm"),
        pulse_after_bpm: wrong.number(typed, "pulse-after", "hr_bpm"),
        heart: heart(asking, typed, wrong),
        spray: spray(typed, wrong),
        medicines_changed: one_of(
            typed,
            "medicines",
            &[("nothing", false), ("something", true)],
        ),
        medicine_change: medicine_change(typed, wrong),
        weight_kg: wrong.number(typed, "weight", "weight_kg"),
        weight_before_kg: wrong.number(typed, "weight-before", "weight_kg"),
        low_sugar: one_of(typed, "sugar", &[("low", true), ("not-low", false)]),
        fall: one_of(
            typed,
            "falls",
            &[
                ("no", Fall::No),
                ("nearly", Fall::Nearly),
                ("fallen", Fall::Fallen),
            ],
        ),
        joints: joints(asking, typed, wrong),
        sleep: in_themself(typed, "sleep", wrong),
        mood: in_themself(typed, "mood", wrong),
        own: wrong.words(typed, "own", ANSWER),
    }
}

fn one_of<T: Copy>(typed: &Typed, name: &str, known: &[(&str, T)]) -> Option<T> {
    let word = typed.get(name);
    known
        .iter()
        .find(|(one, _)| *one == word)
        .map(|(_, value)| *value)
}

fn days_told(asking: &Asking<'_>, typed: &Typed, wrong: &mut Wrong) -> Option<Vec<DayTold>> {
    let line = days(asking);
    let told: Vec<DayTold> = line
        .iter()
        .filter(|day| !day.known)
        .filter_map(|day| {
            let date = day.date.to_string();
            let part = typed.has("part", &date);
            (part || typed.has("day", &date)).then_some(DayTold {
                date: day.date,
                part,
            })
        })
        .collect();
    for name in ["day", "part"] {
        for text in typed.all(name) {
            let day = text.trim().parse::<Date>();
            if !day.is_ok_and(|day| day <= asking.on) {
                wrong.say(
                    "days",
                    format!(
                        "'{text}' is not a day up to {}; mark the days that have been",
                        asking.on
                    ),
                );
            }
        }
    }
    let none = typed.has("days-none", "yes");
    if none && !told.is_empty() {
        wrong.say(
            "days",
            "days are marked and 'none' too; take away the one that is not so",
        );
    }
    (none || !told.is_empty()).then_some(told)
}

fn heart(asking: &Asking<'_>, typed: &Typed, wrong: &mut Wrong) -> Option<Vec<SignTold>> {
    let told: Vec<SignTold> = signs(asking)
        .into_iter()
        .filter(|sign| typed.has("heart", sign.word()))
        .map(|sign| SignTold {
            sign,
            usual: usual(asking, typed, sign),
        })
        .collect();
    let none = typed.has("heart", "none");
    if none && !told.is_empty() {
        wrong.say(
            "heart",
            "'None' is marked and a sign too; take away the one that is not so",
        );
    }
    (none || !told.is_empty()).then_some(told)
}

/// What is not recorded as usual is new, whatever the form says.
fn usual(asking: &Asking<'_>, typed: &Typed, sign: HeartSign) -> Option<bool> {
    if !is_usual(asking, sign) {
        return Some(false);
    }
    one_of(
        typed,
        &format!("usual-{}", sign.word()),
        &[("usual", true), ("changed", false)],
    )
}

/// Whether a sign is recorded as usual for this person.
pub(super) fn is_usual(asking: &Asking<'_>, sign: HeartSign) -> bool {
    asking
        .course
        .case
        .usual_symptoms
        .iter()
        .any(|usual| usual.kind == sign.kind())
}

fn spray(typed: &Typed, wrong: &mut Wrong) -> Spray {
    let used = one_of(typed, "spray", &[("used", true), ("not-used", false)]);
    let text = typed.get("spray-date");
    let until = (!text.is_empty())
        .then(|| match last_day_of(text) {
            Some(date) => Some(date),
            None => {
                wrong.say(
                    "spray-date",
                    format!("'{text}' is not a month and year; write for example 03 2027"),
                );
                None
            }
        })
        .flatten();
    Spray { used, until }
}

/// "03 2027", "3/27", "03.2027": the last day of that month.
pub(super) fn last_day_of(text: &str) -> Option<Date> {
    let mut parts = text
        .split(|sign: char| !sign.is_ascii_digit())
        .filter(|part| !part.is_empty());
    let (month, year) = (parts.next()?, parts.next()?);
    if parts.next().is_some() {
        return None;
    }
    let month: i8 = month.parse().ok()?;
    let year: i16 = match year.len() {
        2 => 2000 + year.parse::<i16>().ok()?,
        4 => year.parse().ok()?,
        _ => return None,
    };
    (2000..2100)
        .contains(&year)
        .then(|| Date::new(year, month, 1).ok())
        .flatten()
        .map(Date::last_of_month)
}

fn medicine_change(typed: &Typed, wrong: &mut Wrong) -> String {
    let text = wrong.words(typed, "medicine-change", LINE);
    if !text.is_empty() && typed.get("medicines") == "nothing" {
        wrong.say(
            "medicine-change",
            "a change is written and 'Nothing' is marked; take away the one that is not so",
        );
    }
    text
}

fn in_themself(typed: &Typed, name: &str, wrong: &mut Wrong) -> InThemself {
    InThemself {
        worse: one_of(typed, name, &[("usual", false), ("worse", true)]),
        said: wrong.words(typed, &format!("{name}-said"), ANSWER),
    }
}

fn joints(asking: &Asking<'_>, typed: &Typed, wrong: &mut Wrong) -> Joints {
    let ease = typed.get("ease");
    let ease = stations(asking)
        .into_iter()
        .map(|station| station.exercise)
        .find(|exercise| exercise == ease);
    Joints {
        during: wrong.number(typed, "joint-during", "score_0_10"),
        worse: one_of(typed, "joint-morning", &[("usual", false), ("worse", true)]),
        ease,
        said: wrong.words(typed, "joint-said", ANSWER),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn a_month_is_read_as_it_is_printed_on_a_spray() {
        for text in ["03 2027", "3/27", "03.2027", "03-2027"] {
            assert_eq!(last_day_of(text), Some(date(2027, 3, 31)), "{text}");
        }
        for text in ["13 2027", "2027", "03 1999", "1 3 2027", "soon"] {
            assert_eq!(last_day_of(text), None, "{text}");
        }
    }
}
