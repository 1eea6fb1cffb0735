//! The fields of each question.

use super::Sheet;
use crate::address;
use crate::call::read::is_usual;
use handouts::call::{HeartSign, Question, asked_for, days, signs, stations};
use handouts::running_order::page_letter;
use maud::{Markup, html};
use rehab::assessment::EffortScale;

pub(super) fn of(sheet: &Sheet<'_>, question: Question) -> Markup {
    match question {
        Question::Open => said(sheet, "open", "How the person has been"),
        Question::Days => line_of_days(sheet),
        Question::Effort => effort(sheet),
        Question::Pulse => pulse(sheet),
        Question::Heart => heart(sheet),
        Question::Spray => spray(sheet),
        Question::Medicines => medicines(sheet),
        Question::Weight => weight(sheet),
        Question::Sugar => opts(
            sheet,
            "sugar",
            &[
                ("not-low", "call.answer.no-low"),
                ("low", "call.answer.low"),
            ],
        ),
        Question::Falls => opts(
            sheet,
            "falls",
            &[
                ("no", "call.answer.no"),
                ("nearly", "call.answer.nearly"),
                ("fallen", "call.answer.fallen"),
            ],
        ),
        Question::Joints => joints(sheet),
        Question::Sleep => in_themself(sheet, "sleep", "call.answer.worse"),
        Question::Mood => in_themself(sheet, "mood", "call.answer.low-or-worried"),
        Question::Own => said(sheet, "own", "In their own words"),
    }
}

/// What is wrong at a field, where something is.
pub(super) fn wrong(sheet: &Sheet<'_>, name: &str) -> Markup {
    html! {
        @if let Some(message) = sheet.wrong.of(name) { p.wrong id={ (name) "-error" } { (message) } }
    }
}

fn described(sheet: &Sheet<'_>, name: &str) -> Option<String> {
    sheet.wrong.of(name).map(|_| format!("{name}-error"))
}

fn said(sheet: &Sheet<'_>, name: &str, label: &str) -> Markup {
    html! {
        (wrong(sheet, name))
        input.field type="text" name=(name) value=(sheet.typed.get(name)) aria-label=(label) placeholder=[Some(label).filter(|_| name.ends_with("-said"))] aria-describedby=[described(sheet, name)];
    }
}

fn short(sheet: &Sheet<'_>, name: &str, label: &str, unit: &str) -> Markup {
    html! {
        label.pairing {
            span { (label) }
            input.field.short type="text" inputmode="decimal" name=(name) value=(sheet.typed.get(name)) aria-describedby=[described(sheet, name)];
            @if !unit.is_empty() { span { (unit) } }
        }
    }
}

/// One of several, as a row of words to choose from.
fn opts(sheet: &Sheet<'_>, name: &str, list: &[(&str, &str)]) -> Markup {
    html! {
        div.opts {
            @for (value, id) in list {
                (opt(sheet, "radio", name, value, sheet.word(id)))
            }
        }
    }
}

fn opt(sheet: &Sheet<'_>, kind: &str, name: &str, value: &str, words: &str) -> Markup {
    html! {
        label.opt {
            input type=(kind) name=(name) value=(value) checked[sheet.typed.has(name, value)];
            span { (words) }
        }
    }
}

fn line_of_days(sheet: &Sheet<'_>) -> Markup {
    let line = days(sheet.asking);
    let asked = asked_for(sheet.asking, &line);
    html! {
        (wrong(sheet, "days"))
        div.days {
            @for (at, day) in line.iter().enumerate() {
                @let value = day.date.to_string();
                @let name = day_name(day.date, at == 0, day.date == sheet.file.on);
                @if day.known {
                    span.day.y { b { (name) } i {} small { "told" } }
                } @else {
                    span.day {
                        label {
                            b { (name) }
                            input type="checkbox" name="day" value=(value) checked[sheet.typed.has("day", &value)]
                                aria-label={ "Done on " (day.date.strftime("%A %-d %B")) };
                            i {}
                        }
                        label.part {
                            input type="checkbox" name="part" value=(value) checked[sheet.typed.has("part", &value)]
                                aria-label={ "Not to the end on " (day.date.strftime("%A %-d %B")) };
                            small { "part" }
                        }
                    }
                }
            }
        }
        p.after {
            label.opt.small { input type="checkbox" name="days-none" value="yes" checked[sheet.typed.has("days-none", "yes")]; span { "No session" } }
            (pages(sheet))
            span { (counted_days(sheet, line.len(), asked)) }
        }
    }
}

fn day_name(date: jiff::civil::Date, first: bool, today: bool) -> String {
    let form = match first || date.weekday() == jiff::civil::Weekday::Monday {
        true => "%a %-d",
        false => "%a",
    };
    match today {
        true => "today".to_owned(),
        false => date.strftime(form).to_string(),
    }
}

/// Which letter is on it: the pages given so far.
fn pages(sheet: &Sheet<'_>) -> Markup {
    let Some(here) = sheet.file.course.current_stage else {
        return html! {};
    };
    let chosen = sheet.answers.stage.unwrap_or(here);
    html! {
        label.pairing {
            span { "page" }
            select.field.short name="stage" {
                @for stage in 1..=here {
                    option value=(stage) selected[stage == chosen] { (page_letter(stage)) }
                }
            }
        }
    }
}

fn counted_days(sheet: &Sheet<'_>, span: usize, asked: Option<u32>) -> String {
    let Some(told) = &sheet.answers.days else {
        return match asked {
            Some(asked) => format!("{span} days; asked for: {asked} sessions."),
            None => String::new(),
        };
    };
    let known = days(sheet.asking).iter().filter(|day| day.known).count();
    let letter = sheet
        .answers
        .stage
        .map(page_letter)
        .or_else(|| sheet.asking.letter());
    let letter = letter.map_or_else(String::new, |letter| letter.to_string());
    let asked = asked.map_or_else(String::new, |asked| asked.to_string());
    sheet.asking.words.fill(
        "call.answer.sessions",
        &[
            ("done", &(told.len() + known).to_string()),
            ("days", &span.to_string()),
            ("letter", &letter),
            ("asked", &asked),
        ],
    )
}

fn effort(sheet: &Sheet<'_>) -> Markup {
    let limits = &sheet.file.assessed.limits;
    let scale = match limits.effort_scale {
        EffortScale::ZeroToTen => 0..=10_u8,
        EffortScale::SixToTwenty => 6..=20,
    };
    let inside = |step: u8| {
        let step = f64::from(step);
        step >= limits.effort.low && step <= limits.effort.high
    };
    let after = sheet.answers.effort.map(|value| {
        let id = if value > limits.effort.high {
            "call.answer.effort-above"
        } else if value < limits.effort.low {
            "call.answer.effort-below"
        } else {
            "call.answer.effort-inside"
        };
        let (low, high) = (
            limits.effort.low.to_string(),
            limits.effort.high.to_string(),
        );
        sheet
            .asking
            .words
            .fill(id, &[("low", &low), ("high", &high)])
    });
    html! {
        (wrong(sheet, "effort"))
        div.eff {
            @for step in scale {
                @let value = step.to_string();
                label class=[inside(step).then_some("in")] {
                    input type="radio" name="effort" value=(value) checked[sheet.typed.has("effort", &value)];
                    span { (value) }
                }
            }
        }
        p.after { @if let Some(after) = after { (after) } @else { "Agreed: " (limits.effort.low) " to " (limits.effort.high) "." } }
    }
}

fn pulse(sheet: &Sheet<'_>) -> Markup {
    html! {
        (wrong(sheet, "pulse-before")) (wrong(sheet, "pulse-after"))
        div.pair {
            (short(sheet, "pulse-before", sheet.word("call.answer.pulse-before"), ""))
            (short(sheet, "pulse-after", sheet.word("call.answer.pulse-after"), ""))
        }
    }
}

fn heart(sheet: &Sheet<'_>) -> Markup {
    let list = signs(sheet.asking);
    let usual: Vec<HeartSign> = list
        .iter()
        .copied()
        .filter(|sign| is_usual(sheet.asking, *sign))
        .collect();
    html! {
        (wrong(sheet, "heart"))
        div.opts {
            (opt(sheet, "checkbox", "heart", "none", sheet.word("call.answer.none")))
            @for sign in &list {
                (opt(sheet, "checkbox", "heart", sign.word(), sheet.word(&format!("call.answer.{}", sign.word()))))
            }
        }
        @for sign in usual {
            div.pair {
                span { (sheet.word(&format!("call.answer.{}", sign.word()))) ", known for this person:" }
                (opts(sheet, &format!("usual-{}", sign.word()), &[("usual", "call.answer.usual"), ("changed", "call.answer.changed")]))
            }
        }
    }
}

fn spray(sheet: &Sheet<'_>) -> Markup {
    let after = sheet
        .answers
        .spray
        .until
        .map(|until| match until >= sheet.file.on {
            true => "call.answer.in-date",
            false => "call.answer.out-of-date",
        });
    html! {
        (wrong(sheet, "spray-date"))
        div.pair {
            (opts(sheet, "spray", &[("not-used", "call.answer.not-used"), ("used", "call.answer.used")]))
            (short(sheet, "spray-date", "date on it", ""))
        }
        @if let Some(after) = after { p.after { (sheet.word(after)) "." } }
    }
}

fn medicines(sheet: &Sheet<'_>) -> Markup {
    html! {
        (opts(sheet, "medicines", &[("nothing", "call.answer.nothing"), ("something", "call.answer.something")]))
        (wrong(sheet, "medicine-change"))
        input.field.more type="text" name="medicine-change" value=(sheet.typed.get("medicine-change"))
            aria-label="What changed in the medicines" placeholder="what changed, and since when";
    }
}

fn weight(sheet: &Sheet<'_>) -> Markup {
    html! {
        (wrong(sheet, "weight")) (wrong(sheet, "weight-before"))
        div.pair {
            (short(sheet, "weight", "this morning", "kg"))
            (short(sheet, "weight-before", "three days ago", "kg"))
        }
    }
}

fn in_themself(sheet: &Sheet<'_>, name: &str, worse: &str) -> Markup {
    let label = format!("{name}, in their own words");
    html! {
        (opts(sheet, name, &[("usual", "call.answer.usual"), ("worse", worse)]))
        div.more { (said(sheet, &format!("{name}-said"), &label)) }
        @if name == "mood" && sheet.answers.mood.worse == Some(true) {
            p.after { "The mood questions stand under " a href=(format!("{}/tests", address::of_case(sheet.file.id, "facts"))) { "Mood" } ". If somebody may not be safe with themself, follow your service's way today." }
        }
    }
}

fn joints(sheet: &Sheet<'_>) -> Markup {
    let list = stations(sheet.asking);
    html! {
        (wrong(sheet, "joint-during"))
        div.pair {
            (short(sheet, "joint-during", "during, 0 to 10", ""))
            span { "next morning" }
            (opts(sheet, "joint-morning", &[("usual", "call.answer.usual"), ("worse", "call.answer.worse")]))
        }
        (said(sheet, "joint-said", "Which joint, in their words"))
        @if !list.is_empty() {
            label.pairing.easier {
                span { "\u{201c}" (sheet.word("call.ask.easier")) "\u{201d}" }
                select.field.short name="ease" {
                    option value="" { "None" }
                    @for station in &list {
                        option value=(station.exercise) selected[sheet.typed.get("ease") == station.exercise] { (station.name) }
                    }
                }
            }
        }
    }
}
