//! What cannot be true together, though each value by itself could be.

use crate::shape::{Sink, View};
use rehab::assessment::HistoryItem;
use rehab::quantity::check_bounds;

pub(super) fn tell(view: &View<'_>, sink: &mut Sink) {
    if let Some(person) = view.table("person") {
        age(&person, sink);
        names(&person, sink);
    }
    if let Some(history) = view.table("history") {
        present_and_absent(&history, sink);
        since_of_something_absent(&history, sink);
    }
    if let Some(pacemaker) = view
        .table("heart")
        .and_then(|heart| heart.table("pacemaker"))
    {
        not_above(&pacemaker, "base_bpm", "upper_tracking_bpm", sink);
    }
    for medicine in view.tables("medicine") {
        ended_before_begun(&medicine, sink);
    }
    for test in view.tables("test") {
        match test.text("kind").as_deref() {
            Some("exercise-test") => {
                not_above(&test, "ischaemia_hr_bpm", "peak_hr_bpm", sink);
                not_above(&test, "symptom_mets", "peak_mets", sink);
                symptom_without_one(&test, sink);
                recovery_below_life(&test, sink);
            }
            Some("step") => stage_efforts(&test, sink),
            _ => {}
        }
    }
    if let Some(home) = view.table("home") {
        places_of_one_name(&home, sink);
    }
}

/// Signs that nobody sees: they order a line anew or end it, so that a name reads as another one.
pub(crate) fn is_hidden(sign: char) -> bool {
    sign.is_control()
        || matches!(sign, '\u{61c}' | '\u{200b}' | '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}'
            | '\u{2060}'..='\u{206f}' | '\u{feff}' | '\u{fff9}'..='\u{fffb}')
}

/// Only in what is written now: a record that holds such a name already must still open.
fn names(person: &View<'_>, sink: &mut Sink) {
    if sink.on.is_none() {
        return;
    }
    for key in ["name", "called"] {
        if person
            .text(key)
            .is_some_and(|name| name.contains(is_hidden))
        {
            let message = "this name holds signs that nobody sees, which can make it read as another one (line ends, or marks that turn the direction of writing); type the name by hand".to_owned();
            sink.say(&person.place(key), person.line_of(key), message);
        }
    }
}

fn age(person: &View<'_>, sink: &mut Sink) {
    let (Some(born), Some(on)) = (person.day("born"), sink.on) else {
        return;
    };
    if born > on {
        return; // Said already as a day that lies ahead.
    }
    let had_birthday = (on.month(), on.day()) >= (born.month(), born.day());
    let years = i32::from(on.year()) - i32::from(born.year()) - i32::from(!had_birthday);
    if let Err(error) = check_bounds("age_years", f64::from(years)) {
        let place = person.place("born");
        sink.say(
            &place,
            person.line_of("born"),
            format!("born {born}, on {on}: {error}"),
        );
    }
}

fn present_and_absent(history: &View<'_>, sink: &mut Sink) {
    let present: Vec<HistoryItem> = history.words("present").unwrap_or_default();
    let absent: Vec<HistoryItem> = history.words("absent").unwrap_or_default();
    for item in present.iter().filter(|item| absent.contains(item)) {
        let message =
            format!("'{item}' is listed as present and as absent; ask again and keep one");
        sink.say(&history.place("absent"), history.line_of("absent"), message);
    }
    let not_asked: Vec<HistoryItem> = history.words("not_asked").unwrap_or_default();
    for item in not_asked {
        if present.contains(&item) || absent.contains(&item) {
            let message =
                format!("'{item}' is listed as answered and as not asked; ask again and keep one");
            let line = history.line_of("not_asked");
            sink.say(&history.place("not_asked"), line, message);
        }
    }
}

fn since_of_something_absent(history: &View<'_>, sink: &mut Sink) {
    let present: Vec<HistoryItem> = history.words("present").unwrap_or_default();
    for (item, _) in history.days_by_word::<HistoryItem>("since") {
        if !present.contains(&item) {
            let message = format!(
                "'{item}' has a day but is not listed as present; add it there or take the day away"
            );
            let place = format!("{}.{item}", history.place("since"));
            sink.say(&place, history.line_of("since"), message);
        }
    }
}

fn not_above(view: &View<'_>, lower: &str, upper: &str, sink: &mut Sink) {
    if let (Some(low), Some(high)) = (view.number(lower), view.number(upper))
        && low > high
    {
        let message = format!(
            "{lower} of {low} lies above {upper} of {high}, which is not possible; read both again"
        );
        sink.say(&view.place(lower), view.line_of(lower), message);
    }
}

/// A load at which a symptom came, though none came.
fn symptom_without_one(test: &View<'_>, sink: &mut Sink) {
    let none = test
        .list("symptoms")
        .is_some_and(|symptoms| symptoms.is_empty());
    if none && test.number("symptom_mets").is_some() {
        let message = "symptom_mets is given and symptoms says that none came: they contradict each other; read both again";
        sink.say(
            &test.place("symptom_mets"),
            test.line_of("symptom_mets"),
            message.to_owned(),
        );
    }
}

/// A fall of the rate that leaves less than a heart can beat.
fn recovery_below_life(test: &View<'_>, sink: &mut Sink) {
    let (peak, fall) = (
        test.number("peak_hr_bpm"),
        test.number("hr_recovery_1min_bpm"),
    );
    if let (Some(peak), Some(fall)) = (peak, fall)
        && check_bounds("resting_hr_bpm", peak - fall).is_err()
    {
        let message = format!(
            "hr_recovery_1min_bpm of {fall} from a peak_hr_bpm of {peak} leaves {}, which is not possible; write the fall, \
             not the rate, and read both again",
            peak - fall
        );
        let key = "hr_recovery_1min_bpm";
        sink.say(&test.place(key), test.line_of(key), message);
    }
}

fn ended_before_begun(medicine: &View<'_>, sink: &mut Sink) {
    if let (Some(since), Some(until)) = (medicine.day("since"), medicine.day("until"))
        && until < since
    {
        let message =
            format!("it ends on {until}, before it begins on {since}; read both days again");
        sink.say(&medicine.place("until"), medicine.line_of("until"), message);
    }
}

/// The efforts of a step test's stages are on the scale of the test's own effort, else on either scale.
fn stage_efforts(test: &View<'_>, sink: &mut Sink) {
    let scale = test.table("effort").and_then(|effort| effort.text("scale"));
    let key = match scale.as_deref() {
        Some("0-10") => "effort_0_10",
        Some("6-20") => "effort_6_20",
        _ => return,
    };
    for stage in test.tables("stages") {
        if let Some(Err(error)) = stage
            .number("effort")
            .map(|effort| check_bounds(key, effort))
        {
            sink.say(
                &stage.place("effort"),
                stage.line_of("effort"),
                error.message,
            );
        }
    }
}

fn places_of_one_name(home: &View<'_>, sink: &mut Sink) {
    let mut names: Vec<String> = Vec::new();
    for place in home.tables("place") {
        let Some(name) = place.text("name") else {
            continue;
        };
        let plain = name.trim().to_lowercase();
        if names.contains(&plain) {
            let message = format!(
                "two places are called '{name}'; give each its own name, the session names them"
            );
            sink.say(&place.place("name"), place.line_of("name"), message);
        }
        names.push(plain);
    }
}
