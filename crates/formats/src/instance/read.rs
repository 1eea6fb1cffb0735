//! A checked tree into a composer problem.

use crate::case::read::all;
use crate::shape::{Sink, View};
use rehab::programme::composer::{
    Candidate, DoseRange, Instance, NamedRestriction, PulseRule, Slot, SlotPin,
};

pub(super) fn instance(view: &View<'_>, sink: &mut Sink) -> Option<Instance> {
    let restrictions = all(view, "restrictions", restriction);
    let candidates = view.tables("candidates");
    let candidates: Vec<Candidate> = candidates
        .iter()
        .filter_map(|one| candidate(one, &restrictions, sink))
        .collect();
    let dose = view.table("dose")?;
    Some(Instance {
        slots: all(view, "slots", slot),
        candidates,
        restrictions,
        pulse: view.table("pulse").and_then(|view| pulse(&view)),
        mean_mets_milli: view.whole("mean_mets_milli"),
        dose: DoseRange {
            least: dose.whole("least")?,
            most: dose.whole("most")?,
        },
        hypotensive: view.flag("hypotensive")?,
        max_new: view.whole("max_new")?,
        repeats: view.word("repeats")?,
        pins: all(view, "pins", pin),
        node_budget: view.whole("node_budget")?,
    })
}

fn slot(view: &View<'_>) -> Option<Slot> {
    Some(Slot {
        class: view.word("class")?,
        duration_ms: view.whole("duration_ms")?,
        round: view.whole("round")?,
        before_ms: view.whole("before_ms")?,
        before_mets_milli: view.whole("before_mets_milli")?,
        same_as: view.whole("same_as"),
    })
}

fn candidate(
    view: &View<'_>,
    restrictions: &[NamedRestriction],
    sink: &mut Sink,
) -> Option<Candidate> {
    Some(Candidate {
        id: view.text("id")?,
        exercise: view.text("exercise")?,
        variant: view.text("variant")?,
        alike: view.text("alike")?,
        classes: view.words("classes")?,
        off_band: view.whole("off_band")?,
        benefit: view.whole("benefit")?,
        variety: view.whole("variety")?,
        mets_milli: view.whole("mets_milli")?,
        mets_low_milli: view.whole("mets_low_milli")?,
        hr_gain_milli: view.whole("hr_gain_milli")?,
        muscles: bits(view, "muscles"),
        place: view.whole("place")?,
        posture: view.word("posture")?,
        arms_above: view.flag("arms_above")?,
        props: bits(view, "props"),
        new: view.flag("new")?,
        novelty: view.whole("novelty")?,
        refused_by: refused_by(view, restrictions, sink),
    })
}

fn bits(view: &View<'_>, key: &str) -> u32 {
    let numbers: Vec<u8> = view.wholes(key);
    let known = numbers.into_iter().filter(|number| *number < 32);
    known.fold(0, |bits, number| bits | (1 << number))
}

fn refused_by(view: &View<'_>, restrictions: &[NamedRestriction], sink: &mut Sink) -> u64 {
    let mut bits = 0;
    for id in view.texts("refused_by") {
        match restrictions.iter().position(|one| one.id == id) {
            Some(index) if index < 64 => bits |= 1_u64 << index,
            _ => {
                let message =
                    format!("no restriction has the id '{id}'; add it under restrictions");
                sink.say(
                    &view.place("refused_by"),
                    view.line_of("refused_by"),
                    message,
                );
            }
        }
    }
    bits
}

fn restriction(view: &View<'_>) -> Option<NamedRestriction> {
    Some(NamedRestriction {
        id: view.text("id")?,
        words: view.text("words")?,
    })
}

fn pulse(view: &View<'_>) -> Option<PulseRule> {
    Some(PulseRule {
        level_bpm: view.number("level_bpm")?,
        slope: view.number("slope")?,
        tau_s: view.number("tau_s")?,
        start_bpm: view.number("start_bpm")?,
        start_ms: view.whole("start_ms")?,
        drift_per_minute: view.number("drift_per_minute")?,
        drift_begins_s: view.number("drift_begins_s")?,
        most_bpm: view.number("most_bpm")?,
    })
}

fn pin(view: &View<'_>) -> Option<SlotPin> {
    Some(SlotPin {
        slot: view.whole("slot"),
        exercise: view.text("exercise")?,
        variant: view.text("variant"),
    })
}
