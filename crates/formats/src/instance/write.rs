//! A composer problem and its answer into tables.

use crate::case::write::{tables, words};
use crate::tree::{Node, Table};
use rehab::programme::composer::{
    Candidate, Composed, Infeasible, Instance, NamedRestriction, PulseRule, Slot, SlotPin,
};
use serde_json::{Value, json};

pub(super) fn instance(instance: &Instance) -> Table {
    let mut out = Table::default();
    out.put("slots", tables(&instance.slots, slot));
    let candidates = instance
        .candidates
        .iter()
        .map(|one| candidate(one, &instance.restrictions).into());
    out.put("candidates", candidates.collect::<Vec<Node>>());
    out.put_list("restrictions", tables(&instance.restrictions, restriction));
    out.put_known("pulse", instance.pulse.map(pulse));
    out.put_known("mean_mets_milli", instance.mean_mets_milli);
    let mut dose = Table::default();
    dose.put("least", instance.dose.least);
    dose.put("most", instance.dose.most);
    out.put("dose", dose);
    out.put("hypotensive", instance.hypotensive);
    out.put("max_new", instance.max_new);
    out.put("repeats", instance.repeats.word());
    out.put_list("pins", tables(&instance.pins, pin));
    out.put(
        "node_budget",
        i64::try_from(instance.node_budget).unwrap_or(i64::MAX),
    );
    out
}

fn slot(slot: &Slot) -> Table {
    let mut out = Table::default();
    out.put("class", slot.class.word());
    out.put("duration_ms", slot.duration_ms);
    out.put("round", slot.round);
    out.put("before_ms", slot.before_ms);
    out.put("before_mets_milli", slot.before_mets_milli);
    out.put_known("same_as", slot.same_as.map(number));
    out
}

fn number(index: usize) -> i64 {
    i64::try_from(index).unwrap_or(i64::MAX)
}

fn candidate(one: &Candidate, restrictions: &[NamedRestriction]) -> Table {
    let mut out = Table::default();
    out.put("id", &one.id);
    out.put("exercise", &one.exercise);
    out.put("variant", &one.variant);
    out.put("alike", &one.alike);
    out.put("classes", words(&one.classes));
    out.put("off_band", one.off_band);
    out.put("benefit", one.benefit);
    out.put("variety", one.variety);
    out.put("mets_milli", one.mets_milli);
    out.put("mets_low_milli", one.mets_low_milli);
    out.put("hr_gain_milli", one.hr_gain_milli);
    out.put("muscles", bits(one.muscles));
    out.put("place", one.place);
    out.put("posture", one.posture.word());
    out.put("arms_above", one.arms_above);
    out.put("props", bits(one.props));
    out.put("new", one.new);
    out.put("novelty", one.novelty);
    let refusing = restrictions
        .iter()
        .enumerate()
        .filter(|(index, _)| one.refused_by >> index & 1 == 1);
    out.put(
        "refused_by",
        refusing
            .map(|(_, restriction)| (&restriction.id).into())
            .collect::<Vec<Node>>(),
    );
    out
}

fn bits(bits: u32) -> Vec<Node> {
    (0_u8..32)
        .filter(|bit| bits >> bit & 1 == 1)
        .map(Node::from)
        .collect()
}

fn restriction(restriction: &NamedRestriction) -> Table {
    let mut out = Table::default();
    out.put("id", &restriction.id);
    out.put("words", &restriction.words);
    out
}

fn pulse(pulse: PulseRule) -> Table {
    let mut out = Table::default();
    out.put("level_bpm", pulse.level_bpm);
    out.put("slope", pulse.slope);
    out.put("tau_s", pulse.tau_s);
    out.put("start_bpm", pulse.start_bpm);
    out.put(
        "start_ms",
        i64::try_from(pulse.start_ms).unwrap_or(i64::MAX),
    );
    out.put("drift_per_minute", pulse.drift_per_minute);
    out.put("drift_begins_s", pulse.drift_begins_s);
    out.put("most_bpm", pulse.most_bpm);
    out
}

fn pin(pin: &SlotPin) -> Table {
    let mut out = Table::default();
    out.put_known("slot", pin.slot.map(number));
    out.put("exercise", &pin.exercise);
    out.put_known("variant", pin.variant.as_ref());
    out
}

/// The answer: the chosen list with objective and bound.
pub fn solved(instance: &Instance, composed: &Composed) -> Value {
    let chosen = composed
        .chosen
        .iter()
        .filter_map(|index| instance.candidates.get(*index));
    json!({
        "chosen": chosen.map(|one| &one.id).collect::<Vec<_>>(),
        "objective": composed.objective,
        "bound": composed.bound,
        "proven": composed.proven,
        "levels": {
            "off_band": composed.levels.off_band,
            "benefit": composed.levels.benefit,
            "novelty": composed.levels.novelty,
            "changes": composed.levels.changes,
            "variety": composed.levels.variety,
        },
        "nodes": composed.nodes,
        "relax": [],
    })
}

/// The answer where nothing fits: what would have to give way.
pub fn infeasible(infeasible: &Infeasible) -> Value {
    let relax = infeasible
        .relax
        .iter()
        .map(|one| json!({ "id": one.id, "words": one.words }));
    json!({
        "chosen": null,
        "objective": null,
        "bound": null,
        "proven": infeasible.proven,
        "levels": null,
        "nodes": infeasible.nodes,
        "relax": relax.collect::<Vec<_>>(),
    })
}
