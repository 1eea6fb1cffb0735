//! Evaluates each rule of the review alone, on named values.

use super::propose::Action;
use super::symptoms::{SymptomClass, class_of, not_scored_higher};
use super::{decide, rules};
use crate::adaptations::JOINT_DURING;
use crate::assessed::CeilingKind;
use crate::assessment::EffortScale;
use crate::diary::SymptomKind;
use crate::evidence::{Answer, Input, RuleError, Value, Values};
use crate::inputs::{several, short};

const SYMPTOM_WORDS: &[&str] = &[
    "chest-discomfort",
    "faint",
    "dizziness",
    "palpitations",
    "breathlessness",
    "device-shock",
    "low-sugar",
    "swelling",
    "leg-pain",
    "tiredness",
    "fall",
    "other",
];

pub(super) const KIND: Input = Input::choice("kind", SYMPTOM_WORDS);
pub(super) const RECORDED: Input = Input::flag("usual_recorded");
pub(super) const SAID: Input = Input::flag("said_as_usual");
pub(super) const SCORE: Input = Input::number("score", "of 10", 0.0, 10.0).or_none();
pub(super) const USUAL_SCORE: Input = Input::number("usual_score", "of 10", 0.0, 10.0).or_none();
pub(super) const FAILING: Input = Input::flag("heart_failure").or_none();
pub(super) const HAPPENED: Input = Input::flag("happened");
pub(super) const GAIN: Input = Input::number("gain_kg", "kg", -50.0, 50.0);
pub(super) const WITHIN: Input = Input::number("days", "days", 0.0, 365.0);
pub(super) const DURING: Input = Input::number("during", "of 10", 0.0, 10.0).or_none();
pub(super) const MORNING: Input = Input::flag("worse_next_morning").or_none();
pub(super) const DAYS_SILENT: Input = Input::number("days_silent", "days", 0.0, 3650.0).or_none();
pub(super) const AGREED: Input = Input::number("agreed_days", "days", 1.0, 365.0);
pub(super) const BEFORE: Input = Input::number("pulse_before_bpm", "beats a minute", 25.0, 220.0);
pub(super) const AFTER: Input = Input::number("after_bpm", "beats a minute", 25.0, 240.0);
pub(super) const REST: Input = Input::number("before_bpm", "beats a minute", 25.0, 240.0);
pub(super) const NEAR: Input = Input::number("within_bpm", "beats a minute", 0.0, 60.0).or_none();
pub(super) const GAP: Input = Input::number("gap_days", "days", 0.0, 3650.0);
pub(super) const SCALE: Input = Input::choice("scale", &["0-10", "6-20"]);
pub(super) const EFFORTS: Input = Input::numbers("efforts", "effort", 0.0, 20.0);
pub(super) const BAND_HIGH: Input = Input::number("band_high", "effort", 0.0, 20.0);
pub(super) const DONE: Input = Input::numbers("stations_done", "stations", 0.0, 60.0);
pub(super) const PLANNED: Input = Input::numbers("stations_planned", "stations", 0.0, 60.0);
pub(super) const PULSES: Input = Input::numbers("highest_bpm", "beats a minute", 25.0, 240.0);
pub(super) const CEILING: Input = Input::number("ceiling_bpm", "beats a minute", 40.0, 240.0);
pub(super) const DAYS_SINCE: Input = Input::number("days_since", "days", 0.0, 3650.0);
pub(super) const SESSIONS: Input = Input::number("sessions_done", "sessions", 0.0, 500.0);
pub(super) const PER_WEEK: Input = Input::number("sessions_per_week", "a week", 1.0, 14.0);
pub(super) const DAYS_ON: Input = Input::number("days_on_page", "days", 0.0, 3650.0);

type Result = core::result::Result<Answer, RuleError>;

fn answer(action: Option<Action>, working: String) -> Result {
    let word = action.map_or("no effect", Action::word);
    Ok(Answer {
        value: Value::Text(word.to_owned()),
        working,
        cautions: Vec::new(),
    })
}

fn symptom(kind: SymptomKind, values: &Values) -> Result {
    let recorded = values.flag("usual_recorded")?;
    let said = values.flag("said_as_usual")?;
    let (usual, now) = (
        values.optional_number("usual_score"),
        values.optional_number("score"),
    );
    let as_usual = recorded && said && not_scored_higher(usual, now);
    // Where it does not stand among the values it is not known, and never counts as absent.
    let failing = values.optional_text("heart_failure") != Some("no");
    let (class, rule) = class_of(kind, recorded, as_usual, failing);
    let action = match class {
        SymptomClass::Red => Some(Action::StopAndContact),
        SymptomClass::Changed => Some(Action::Hold),
        SymptomClass::Usual | SymptomClass::Joint => None,
    };
    answer(action, format!("{kind} is {class} by {rule}"))
}

pub(super) fn any_symptom(values: &Values) -> Result {
    let kind = SymptomKind::parse(values.text("kind")?).map_err(|error| RuleError {
        message: error.to_string(),
    })?;
    symptom(kind, values)
}

pub(super) fn chest(values: &Values) -> Result {
    symptom(SymptomKind::ChestDiscomfort, values)
}

pub(super) fn faint(values: &Values) -> Result {
    symptom(SymptomKind::Faint, values)
}

pub(super) fn shock(values: &Values) -> Result {
    symptom(SymptomKind::DeviceShock, values)
}

pub(super) fn palpitations(values: &Values) -> Result {
    symptom(SymptomKind::Palpitations, values)
}

pub(super) fn breathlessness(values: &Values) -> Result {
    symptom(SymptomKind::Breathlessness, values)
}

fn when(action: Action, values: &Values) -> Result {
    let happened = values.flag("happened")?;
    answer(
        happened.then_some(action),
        format!("happened: {}", if happened { "yes" } else { "no" }),
    )
}

pub(super) fn stops_when(values: &Values) -> Result {
    when(Action::StopAndContact, values)
}

pub(super) fn asks_when(values: &Values) -> Result {
    when(Action::AskFirst, values)
}

pub(super) fn re_enters_when(values: &Values) -> Result {
    when(Action::ReEnter, values)
}

pub(super) fn holds_when(values: &Values) -> Result {
    when(Action::Hold, values)
}

pub(super) fn weight(values: &Values) -> Result {
    let (gain, days) = (values.number("gain_kg")?, values.number("days")?);
    let working = format!(
        "{gain} kg in {days} days against {}",
        rules::WEIGHT_GAINS
            .map(|(kg, days)| format!("{} kg in {days}", short(kg)))
            .join(" or ")
    );
    answer(decide::weight(gain, libm::ceil(days) as i32), working)
}

pub(super) fn joint(values: &Values) -> Result {
    let during = values.optional_number("during");
    let worse = values
        .optional_text("worse_next_morning")
        .map(|word| word == "yes");
    answer(
        decide::joint(during, worse),
        format!("above {JOINT_DURING} during, worse next morning, or the next morning not told"),
    )
}

pub(super) fn silence(values: &Values) -> Result {
    let days = values.optional_number("days_silent");
    let agreed = values.number("agreed_days")?;
    let silent = decide::is_silent(
        days.map(|days| libm::floor(days) as i32),
        libm::floor(agreed) as i32,
    );
    let heard = days.map_or("never heard from".to_owned(), |days| format!("{days} days"));
    answer(
        silent.then_some(Action::AskFirst),
        format!("{heard} against {agreed} agreed"),
    )
}

pub(super) fn far_over(values: &Values) -> Result {
    let bpm = values.number("pulse_before_bpm")?;
    let ceiling = values.number("ceiling_bpm")?;
    answer(
        decide::far_over(bpm, ceiling),
        format!("{bpm} against {ceiling} + {}", rules::FAR_OVER_BPM),
    )
}

pub(super) fn after_cool_down(values: &Values) -> Result {
    let (after, before) = (values.number("after_bpm")?, values.number("before_bpm")?);
    let within = values
        .optional_number("within_bpm")
        .unwrap_or(crate::service::Service::cautious().cool_down_within_bpm);
    answer(
        decide::after_cool_down(after, before, within),
        format!("{after} against {before} + {within}"),
    )
}

pub(super) fn fast_before(values: &Values) -> Result {
    let bpm = values.number("pulse_before_bpm")?;
    answer(
        decide::fast_before(bpm),
        format!("{bpm} against {}", rules::FAST_BEFORE_BPM),
    )
}

pub(super) fn gap(values: &Values) -> Result {
    let days = values.number("gap_days")?;
    let working = format!(
        "{days} days against {} and {}",
        rules::GAP_DAYS,
        rules::LONG_GAP_DAYS
    );
    answer(decide::gap(libm::floor(days) as i32), working)
}

pub(super) fn effort(values: &Values) -> Result {
    let scale = EffortScale::parse(values.text("scale")?).map_err(|error| RuleError {
        message: error.to_string(),
    })?;
    let efforts = values.numbers("efforts")?;
    let high = values.number("band_high")?;
    answer(
        decide::effort(&efforts, high, scale),
        format!("{} against {high} on {scale}", several(&efforts)),
    )
}

pub(super) fn unfinished(values: &Values) -> Result {
    let (done, planned) = (
        values.numbers("stations_done")?,
        values.numbers("stations_planned")?,
    );
    if done.len() != planned.len() {
        let message = "stations_done and stations_planned need as many numbers each; give both for each session";
        return Err(RuleError {
            message: message.to_owned(),
        });
    }
    let count = done
        .iter()
        .zip(&planned)
        .filter(|(d, p)| !decide::is_finished(**d as u8, **p as u8))
        .count();
    answer(
        decide::unfinished(count),
        format!("{count} below {} of the turns", rules::FINISHED_SHARE),
    )
}

fn ceiling(kind: CeilingKind, values: &Values) -> Result {
    let (pulses, rate) = (
        values.numbers("highest_bpm")?,
        values.number("ceiling_bpm")?,
    );
    answer(
        decide::pulse(&pulses, rate, kind),
        format!("{} against a {kind} ceiling of {rate}", several(&pulses)),
    )
}

pub(super) fn hard_ceiling(values: &Values) -> Result {
    ceiling(CeilingKind::Hard, values)
}

pub(super) fn guiding_ceiling(values: &Values) -> Result {
    ceiling(CeilingKind::Guiding, values)
}

pub(super) fn recent_symptom(values: &Values) -> Result {
    let days = values.number("days_since")?;
    let recent = days <= f64::from(rules::QUIET_DAYS);
    answer(
        recent.then_some(Action::Hold),
        format!("{days} days against {}", rules::QUIET_DAYS),
    )
}

fn sessions(values: &Values) -> core::result::Result<(usize, usize), RuleError> {
    let done = libm::floor(values.number("sessions_done")?) as usize;
    let per_week = libm::floor(values.number("sessions_per_week")?) as usize;
    Ok((done, decide::sessions_wanted(per_week)))
}

pub(super) fn few(values: &Values) -> Result {
    let (done, wanted) = sessions(values)?;
    answer(
        (done < wanted).then_some(Action::Hold),
        format!("{done} of {wanted} sessions"),
    )
}

pub(super) fn advance(values: &Values) -> Result {
    let (done, wanted) = sessions(values)?;
    let action = if done < wanted {
        Action::Hold
    } else {
        Action::Advance
    };
    answer(
        Some(action),
        format!("{done} of {wanted} sessions; every other rule must be silent"),
    )
}

pub(super) fn early(values: &Values) -> Result {
    let days = values.number("days_on_page")?;
    let soon = days < f64::from(rules::LEAST_DAYS);
    answer(
        soon.then_some(Action::Hold),
        format!("{days} days against {}", rules::LEAST_DAYS),
    )
}
