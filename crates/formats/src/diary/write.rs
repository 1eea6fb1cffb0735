//! A diary back into a table.

use super::read::moment_word;
use crate::case::write::{effort, pressure, tables, texts, word};
use crate::tree::Table;
use rehab::diary::{Diary, DiaryEntry, DiarySymptom, JointPain, Pulse};

pub(super) fn diary(diary: &Diary) -> Table {
    let mut out = Table::default();
    out.put("case", &diary.case.0);
    out.put("entries", tables(&diary.entries, entry));
    out
}

pub(super) fn entry(entry: &DiaryEntry) -> Table {
    let mut out = Table::default();
    out.put("id", &entry.id);
    out.put("date", entry.date);
    out.put_known("stage", entry.stage);
    out.put_known("stations_planned", entry.stations_planned);
    out.put_known("stations_done", entry.stations_done);
    out.put_known("effort", entry.effort.map(effort));
    // An empty list stays: it was asked, and there was none.
    out.put_known(
        "symptoms",
        entry.symptoms.as_ref().map(|list| tables(list, symptom)),
    );
    out.put_list("pulses", tables(&entry.pulses, pulse));
    out.put_known("joint_pain", entry.joint_pain.map(joint_pain));
    out.put_list("eased", texts(&entry.eased));
    out.put_known("rested_s", entry.rested_s);
    out.put_known("stopped_because", entry.stopped_because.as_ref());
    out.put_known("medicine_change", entry.medicine_change.as_ref());
    out.put_known("weight_kg", entry.weight_kg);
    out.put_known("bp_mmhg", entry.pressure.map(pressure));
    out.put_known("minutes", entry.minutes);
    out.put_known("note", entry.note.as_ref());
    out
}

fn symptom(symptom: &DiarySymptom) -> Table {
    let mut out = Table::default();
    out.put("kind", symptom.kind.word());
    out.put_known("usual", symptom.usual);
    out.put_known("score", symptom.score);
    out.put_known("nitrate_used", symptom.nitrate_used);
    out
}

fn pulse(pulse: &Pulse) -> Table {
    let mut out = Table::default();
    out.put("at", moment_word(pulse.at));
    out.put("bpm", pulse.bpm);
    out.put_known("how", word(pulse.how));
    out
}

fn joint_pain(pain: JointPain) -> Table {
    let mut out = Table::default();
    out.put_known("during", pain.during);
    let next_morning = pain
        .worse_next_morning
        .map(|worse| if worse { "worse" } else { "usual" });
    out.put_known("next_morning", next_morning);
    out
}
