//! What is asked, in the order of talk, and what is not asked of this person and why.

use super::{Asking, HeartSign, last};
use rehab::assessment::EffortScale;
use rehab::programme::SegmentKind;
use rehab::review::ContactKind;

/// A question of the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Question {
    /// How have you been.
    Open,
    /// Days done and the letter.
    Days,
    /// Effort at the hardest moment.
    Effort,
    /// Pulse before and after the last session, of whoever counts it.
    Pulse,
    /// Signs of the heart.
    Heart,
    /// The spray and the date on it.
    Spray,
    /// Medicines.
    Medicines,
    /// Weight.
    Weight,
    /// Sugar.
    Sugar,
    /// Falls.
    Falls,
    /// Joints during and next morning.
    Joints,
    /// Sleep, at a visit.
    Sleep,
    /// Mood, at a visit.
    Mood,
    /// Anything else.
    Own,
}

/// One row of the sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// Which question.
    pub question: Question,
    /// Its short name.
    pub label: String,
    /// What is said aloud; where it is not asked, why.
    pub text: String,
    /// Whether it is asked of this person.
    pub asked: bool,
    /// What was said last time.
    pub last: Option<String>,
}

/// One brisk or easy turn of the present page, to be named when it should be easier.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Station {
    /// Exercise id.
    pub exercise: String,
    /// In words, with its place.
    pub name: String,
}

/// Every row in the order of talk.
pub fn rows(asking: &Asking<'_>) -> Vec<Row> {
    let mut rows = vec![open(asking), days(asking), effort(asking)];
    if asking.counts_pulse() {
        rows.push(row(
            asking,
            Question::Pulse,
            "call.row.pulse",
            "call.ask.pulse",
        ));
    }
    rows.extend([
        row(asking, Question::Heart, "call.row.heart", "call.ask.heart"),
        spray(asking),
        row(
            asking,
            Question::Medicines,
            "call.row.tablets",
            "call.ask.tablets",
        ),
        weight(asking),
        sugar(asking),
        row(asking, Question::Falls, "call.row.falls", "call.ask.falls"),
        row(
            asking,
            Question::Joints,
            "call.row.joints",
            "call.ask.joints",
        ),
    ]);
    if asking.kind == ContactKind::Visit {
        // Face to face only: a low answer must not be left alone with somebody at the end of a line.
        rows.extend([
            row(asking, Question::Sleep, "call.row.sleep", "call.ask.sleep"),
            row(asking, Question::Mood, "call.row.mood", "call.ask.mood"),
        ]);
    }
    rows.push(row(asking, Question::Own, "call.row.own", "call.ask.own"));
    rows
}

fn row(asking: &Asking<'_>, question: Question, label: &str, ask: &str) -> Row {
    Row {
        question,
        label: asking.words.get(label).to_owned(),
        text: asking.words.get(ask).to_owned(),
        asked: true,
        last: last::said(asking, question),
    }
}

fn not_asked(asking: &Asking<'_>, question: Question, label: &str, why: &str) -> Row {
    Row {
        asked: false,
        last: None,
        ..row(asking, question, label, why)
    }
}

fn open(asking: &Asking<'_>) -> Row {
    let values = [
        ("called", asking.called()),
        ("practitioner", asking.practitioner),
        ("team", asking.team()),
    ];
    Row {
        text: asking.words.fill("call.open", &values),
        ..row(asking, Question::Open, "call.row.open", "call.row.open")
    }
}

fn days(asking: &Asking<'_>) -> Row {
    match asking.course.current_stage {
        Some(_) => row(asking, Question::Days, "call.row.days", "call.ask.days"),
        None => not_asked(asking, Question::Days, "call.row.days", "call.none.page"),
    }
}

fn effort(asking: &Asking<'_>) -> Row {
    let ask = match asking.assessed.limits.effort_scale {
        EffortScale::ZeroToTen => "call.ask.effort",
        EffortScale::SixToTwenty => "call.ask.effort-20",
    };
    match asking.course.current_stage {
        Some(_) => row(asking, Question::Effort, "call.row.effort", ask),
        None => not_asked(
            asking,
            Question::Effort,
            "call.row.effort",
            "call.none.page",
        ),
    }
}

fn spray(asking: &Asking<'_>) -> Row {
    // Whether one is prescribed may be not known: then it is asked, because the question costs little.
    match asking.course.case.nitrate.prescribed {
        Some(false) => not_asked(asking, Question::Spray, "call.row.spray", "call.none.spray"),
        _ => row(asking, Question::Spray, "call.row.spray", "call.ask.spray"),
    }
}

fn weight(asking: &Asking<'_>) -> Row {
    let (label, ask) = ("call.row.weight", "call.ask.weight");
    match asking.heart_failure() {
        true => row(asking, Question::Weight, label, ask),
        false => not_asked(
            asking,
            Question::Weight,
            label,
            "call.answer.weight-not-asked",
        ),
    }
}

fn sugar(asking: &Asking<'_>) -> Row {
    match asking.sugar_can_fall() {
        true => row(asking, Question::Sugar, "call.row.sugar", "call.ask.sugar"),
        false => not_asked(asking, Question::Sugar, "call.row.sugar", "call.none.sugar"),
    }
}

/// The signs of the heart that concern this person.
pub fn signs(asking: &Asking<'_>) -> Vec<HeartSign> {
    let concerns = |sign: &HeartSign| match sign {
        HeartSign::Shock => asking.course.case.heart.device.is_some(),
        HeartSign::Swelling => asking.heart_failure(),
        _ => true,
    };
    HeartSign::ALL.into_iter().filter(concerns).collect()
}

/// The turns of the present page, each exercise once.
pub fn stations(asking: &Asking<'_>) -> Vec<Station> {
    let mut list: Vec<Station> = Vec::new();
    for segment in asking
        .course
        .stage()
        .map_or(&[][..], |stage| &stage.segments)
    {
        let turn = matches!(
            segment.kind,
            SegmentKind::Cardiovascular | SegmentKind::ActiveRecovery
        );
        let Some(doing) = segment.doing.as_ref().filter(|_| turn) else {
            continue;
        };
        if list
            .iter()
            .any(|station| station.exercise == doing.exercise)
        {
            continue;
        }
        let name = asking.exercise_name(&doing.exercise);
        let name = match segment.place_name.is_empty() {
            true => name,
            false => format!("{name}, {}", segment.place_name),
        };
        list.push(Station {
            exercise: doing.exercise.clone(),
            name,
        });
    }
    list
}
