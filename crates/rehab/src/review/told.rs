//! What an entry tells that somebody must answer: how it went, pulses, pressure, what is missing or cannot be.

use super::{ReviewInput, decide, rules, trends};
use crate::assessed::CeilingKind;
use crate::diary::{DiaryEntry, PulseMoment, SymptomKind};
use crate::evidence::RuleId;
use crate::screening::{Vital, cut_off, pressure_stops};
use jiff::civil::Date;

/// One thing an entry tells.
pub(super) struct Told {
    pub(super) rule: RuleId,
    pub(super) date: Date,
    /// The entry.
    pub(super) entry: String,
    pub(super) text: String,
}

/// Everything one entry tells that somebody must answer, beside its symptoms.
pub(super) fn of_entry(input: &ReviewInput<'_>, entry: &DiaryEntry) -> Vec<Told> {
    let found = [
        unwell(entry),
        nitrate(entry),
        medicine(entry),
        pressure(input, entry),
        pulse_slow(input, entry),
        pulse_before(input, entry),
        pulse_after(input, entry),
        after_cool_down(input, entry),
        over_ceiling(input, entry),
        far_over(input, entry),
        stopped_early(entry),
        not_told(entry),
        contradiction(input, entry),
        higher_page(input, entry),
    ];
    let told = found.into_iter().flatten().map(|(rule, text)| Told {
        rule,
        date: entry.date,
        entry: entry.id.clone(),
        text,
    });
    told.collect()
}

type Found = Option<(RuleId, String)>;

fn unwell(entry: &DiaryEntry) -> Found {
    let why = entry.why_not_exercising()?;
    let text = format!("no exercise on {}: {why}", entry.date);
    Some((rules::RED_UNWELL, text))
}

fn nitrate(entry: &DiaryEntry) -> Found {
    let used = entry
        .symptoms
        .iter()
        .flatten()
        .any(|symptom| symptom.nitrate_used == Some(true));
    used.then(|| {
        let text = format!(
            "the spray or tablet for chest discomfort was used on {}",
            entry.date
        );
        (rules::RED_NITRATE, text)
    })
}

fn medicine(entry: &DiaryEntry) -> Found {
    let change = entry.medicine_change.as_ref()?;
    let text = format!("a change of medicine was told on {}: {change}", entry.date);
    Some((rules::ASK_MEDICINE, text))
}

/// A pressure told is held against the service's own cut-offs of the day.
fn pressure(input: &ReviewInput<'_>, entry: &DiaryEntry) -> Found {
    let pressure = entry.pressure?;
    let cut = pressure_stops(input.service.screening_set, pressure, is_dizzy(entry))?;
    let text = format!(
        "pressure {}/{} on {}: cut-off {} {} {}",
        pressure.systolic_mmhg,
        pressure.diastolic_mmhg,
        entry.date,
        cut.side,
        cut.value,
        cut.vital.unit()
    );
    Some((rules::RED_PRESSURE, text))
}

/// A pulse that the cut-offs of the day call too slow stops, whenever it was taken.
fn pulse_slow(input: &ReviewInput<'_>, entry: &DiaryEntry) -> Found {
    let bpm = trends::lowest_pulse(entry)?;
    let marks = [Vital::HeartRateLow, Vital::HeartRateLowWithSymptoms];
    let cut = marks
        .map(|mark| cut_off(input.service.screening_set, mark))
        .into_iter()
        .take(if is_dizzy(entry) { 2 } else { 1 })
        .find(|cut| cut.stops(bpm))?;
    let text = format!(
        "a pulse of {bpm} told on {}: cut-off {} {}",
        entry.date, cut.side, cut.value
    );
    Some((rules::RED_SLOW, text))
}

/// A pulse far above a guiding rate is asked about once it is told, not only when it comes again.
fn far_over(input: &ReviewInput<'_>, entry: &DiaryEntry) -> Found {
    let ceiling = input.assessed.limits.ceiling;
    let guiding = ceiling.filter(|ceiling| ceiling.kind == CeilingKind::Guiding)?;
    let (rate, pulse) = (guiding.rate.to_bpm(), trends::highest_pulse(entry)?);
    decide::far_over(pulse, rate)?;
    let text = format!(
        "pulse {pulse} on {} is far above the guiding rate of {rate}",
        entry.date
    );
    Some((rules::HOLD_FAR_OVER, text))
}

/// A session was stopped for a reason in somebody's own words, which only a person can judge.
fn stopped_early(entry: &DiaryEntry) -> Found {
    let why = entry.own_reason()?;
    let text = format!("the session of {} was stopped: {why}", entry.date);
    Some((rules::ASK_STOPPED_EARLY, text))
}

fn is_dizzy(entry: &DiaryEntry) -> bool {
    entry.symptoms.iter().flatten().any(|symptom| {
        matches!(
            symptom.kind,
            SymptomKind::Dizziness | SymptomKind::Faint | SymptomKind::Fall
        )
    })
}

/// A pulse before a session: very high stops, fast asks.
fn pulse_before(input: &ReviewInput<'_>, entry: &DiaryEntry) -> Found {
    let bpm = trends::pulse_at(entry, PulseMoment::Before)?;
    let very_high = cut_off(input.service.screening_set, Vital::HeartRateVeryHigh);
    if very_high.stops(bpm) {
        let text = format!(
            "a pulse of {bpm} before the session of {}: cut-off {} {}",
            entry.date, very_high.side, very_high.value
        );
        return Some((rules::RED_PULSE, text));
    }
    decide::fast_before(bpm).map(|_| {
        let text = format!(
            "a pulse of {bpm} before the session of {}: {} or more",
            entry.date,
            rules::FAST_BEFORE_BPM
        );
        (rules::ASK_FAST_BEFORE, text)
    })
}

/// A minute after the last turn a heart is slower already: one that would stop a session before it began is asked about.
fn pulse_after(input: &ReviewInput<'_>, entry: &DiaryEntry) -> Found {
    let very_high = cut_off(input.service.screening_set, Vital::HeartRateVeryHigh);
    let moments = [
        (
            PulseMoment::SixtySecondsAfter,
            "a minute after the last turn",
        ),
        (PulseMoment::AfterCoolDown, "after the cool-down"),
    ];
    let mut told = moments
        .into_iter()
        .filter_map(|(moment, when)| Some((trends::pulse_at(entry, moment)?, when)));
    let (bpm, when) = told.rfind(|(bpm, _)| very_high.stops(*bpm))?;
    let text = format!(
        "a pulse of {bpm} {when} on {}: cut-off {} {}",
        entry.date, very_high.side, very_high.value
    );
    Some((rules::ASK_FAST_AFTER, text))
}

/// The cool-down ends near the pulse it began from; where no pulse means anything, nothing is expected of it.
fn after_cool_down(input: &ReviewInput<'_>, entry: &DiaryEntry) -> Found {
    let limits = &input.assessed.limits;
    let after = trends::pulse_at(entry, PulseMoment::AfterCoolDown)?;
    let before = trends::pulse_at(entry, PulseMoment::Before);
    let resting = limits.resting_hr.map(|rate| rate.to_bpm());
    let rest = before.or(resting).filter(|_| limits.pulse_model)?;
    let within = input.service.cool_down_within_bpm;
    decide::after_cool_down(after, rest, within)?;
    let of = before.map_or("at rest", |_| "before the session");
    let text = format!(
        "pulse {after} after the cool-down of {} is more than {within} above {rest} {of}",
        entry.date
    );
    Some((rules::HOLD_AFTER_COOL_DOWN, text))
}

/// Whenever it was taken, a pulse above a hard ceiling is above it; so is one above a measured peak that only gave way to
/// a lower guiding ceiling.
fn over_ceiling(input: &ReviewInput<'_>, entry: &DiaryEntry) -> Found {
    let limits = &input.assessed.limits;
    let what = if limits.never_passed.is_some() {
        "highest measured rate"
    } else {
        "hard ceiling"
    };
    let rate = limits.hard_rate()?;
    let (rate, pulse) = (rate.to_bpm(), trends::highest_pulse(entry)?);
    (pulse > rate).then(|| {
        let text = format!(
            "pulse {pulse} on {} passed the {what} of {rate}",
            entry.date
        );
        (rules::OVER_CEILING, text)
    })
}

fn not_told(entry: &DiaryEntry) -> Found {
    let missing = entry.symptoms.is_none() && !entry.is_morning_after();
    missing.then(|| {
        let text = format!(
            "the entry of {} does not say whether there were symptoms",
            entry.date
        );
        (rules::ASK_NOT_TOLD, text)
    })
}

fn contradiction(input: &ReviewInput<'_>, entry: &DiaryEntry) -> Found {
    let more_than_planned = entry
        .stations_done
        .zip(entry.stations_planned)
        .is_some_and(|(done, planned)| done > planned);
    let hard = entry
        .effort
        .is_some_and(|effort| effort.value >= rules::hardest(effort.scale));
    let resting = input.assessed.limits.resting_hr;
    let calm = resting
        .zip(trends::highest_station_pulse(entry))
        .is_some_and(|(rest, pulse)| pulse <= rest.to_bpm());
    let why = match (more_than_planned, hard && calm) {
        (true, _) => "more turns done than were planned",
        (_, true) => "the hardest effort with a pulse no higher than at rest",
        _ => return None,
    };
    let text = format!("the entry of {} contradicts itself: {why}", entry.date);
    Some((rules::ASK_CONTRADICTION, text))
}

/// A page further than any the person had that day. On the day of a change both pages may have been done.
fn higher_page(input: &ReviewInput<'_>, entry: &DiaryEntry) -> Found {
    let stage = entry.stage.filter(|_| entry.is_session())?;
    let had = pages_of_day(input, entry.date)?;
    (stage > had).then(|| {
        let text = format!(
            "a page further than the one given was done on {}",
            entry.date
        );
        (rules::ASK_HIGHER_PAGE, text)
    })
}

/// The highest page a person had on a day, nought before the first was given; `None` where that is not known.
fn pages_of_day(input: &ReviewInput<'_>, day: Date) -> Option<u16> {
    if input.given.is_empty() {
        let since = input.stage_since.filter(|since| day >= *since);
        return since.map(|_| input.current_stage);
    }
    let before = input.given.iter().rfind(|given| given.date < day);
    let on_it = input.given.iter().filter(|given| given.date == day);
    let had = before.into_iter().chain(on_it).map(|given| given.stage);
    Some(had.max().unwrap_or(0))
}
