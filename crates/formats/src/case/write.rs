//! A case back into a table: what is not known is left out.

use super::write_test::test;
use crate::shape::ClosedWord;
use crate::tree::{Content, Node, Table};
use rehab::assessment::{
    Case, Effort, Event, Examination, Heart, History, Home, Medicine, Pain, Person, Place,
    Pressure, Procedure, UsualSymptom, Watched, Wishes,
};

pub(super) fn case(case: &Case) -> Table {
    let mut out = Table::default();
    out.put("id", &case.id.0);
    out.put_table("person", person(&case.person));
    let mut status = Table::default();
    status.put("kind", case.status.kind.word());
    status.put_known("since", case.status.since);
    out.put_table("status", status);
    out.put_list("event", tables(&case.events, event));
    out.put_table("heart", heart(&case.heart));
    out.put_table("history", history(&case.history));
    out.put_list("medicine", tables(&case.medicines, medicine));
    let mut nitrate = Table::default();
    nitrate.put_known("prescribed", case.nitrate.prescribed);
    nitrate.put_known("in_date", case.nitrate.in_date);
    nitrate.put_known("until", case.nitrate.until);
    nitrate.put_known("taught", case.nitrate.taught);
    out.put_table("nitrate", nitrate);
    out.put_list("usual_symptom", tables(&case.usual_symptoms, usual_symptom));
    let mut function = Table::default();
    function.put_known("aid", word(case.function.aid));
    function.put_known("falls_12_months", case.function.falls_12_months);
    out.put_table("function", function);
    out.put_list("examination", tables(&case.examinations, examination));
    out.put_list("test", tables(&case.tests, test));
    out.put_table("home", home(&case.home));
    out.put_table("wishes", wishes(&case.wishes));
    if let Some(agreement) = &case.agreement {
        let mut table = Table::default();
        table.put("doctor", &agreement.doctor);
        table.put("date", agreement.date);
        out.put_table("agreement", table);
    }
    out.put_list("watched", tables(&case.watched, watched));
    out.put_list("pain", tables(&case.pains, pain));
    out
}

/// A list of tables.
pub(crate) fn tables<T>(list: &[T], write: fn(&T) -> Table) -> Vec<Node> {
    list.iter().map(|one| write(one).into()).collect()
}

/// The word of a closed list.
pub(crate) fn word<T: ClosedWord>(value: Option<T>) -> Option<&'static str> {
    value.map(ClosedWord::word)
}

/// A list of words.
pub(crate) fn words<T: ClosedWord>(list: &[T]) -> Vec<Node> {
    list.iter()
        .map(|one| ClosedWord::word(*one).into())
        .collect()
}

/// A list of texts.
pub(crate) fn texts(list: &[String]) -> Vec<Node> {
    list.iter().map(Node::from).collect()
}

/// An effort with its scale.
pub(crate) fn effort(effort: Effort) -> Table {
    let mut out = Table::default();
    out.put("scale", effort.scale.word());
    out.put("value", effort.value);
    out
}

/// Blood pressure.
pub(crate) fn pressure(pressure: Pressure) -> Content {
    Content::List(vec![
        pressure.systolic_mmhg.into(),
        pressure.diastolic_mmhg.into(),
    ])
}

fn person(person: &Person) -> Table {
    let mut out = Table::default();
    out.put_known("name", person.name.as_ref());
    out.put_known("called", person.called.as_ref());
    out.put_known("born", person.born);
    out.put_known("sex", word(person.sex));
    out.put_known("height_cm", person.height_cm);
    out.put_known("weight_kg", person.weight_kg);
    out.put_known("language", person.language.as_ref());
    out.put_list("telephones", texts(&person.telephones));
    out.put_known("emergency_contact", person.emergency_contact.as_ref());
    out.put_known("doctor", person.doctor.as_ref());
    out.put_known("interpreter", person.interpreter.as_ref());
    out.put_known("hearing", person.hearing.as_ref());
    out.put_known("sight", person.sight.as_ref());
    out.put_known("reading", person.reading.as_ref());
    out.put_known("memory", person.memory.as_ref());
    out.put_known("consent", person.consent.as_ref());
    out.put_known("address", person.address.as_ref());
    out
}

fn event(event: &Event) -> Table {
    let mut out = Table::default();
    out.put("kind", event.kind.word());
    out.put_known("date", event.date);
    out.put_list("procedures", tables(&event.procedures, procedure));
    out.put_known("complicated", event.complicated);
    out.put_known("residual_disease", event.residual_disease);
    out
}

fn procedure(procedure: &Procedure) -> Table {
    let mut out = Table::default();
    out.put("kind", procedure.kind.word());
    out.put_known("date", procedure.date);
    out.put_known("access", procedure.access.as_ref());
    out
}

fn heart(heart: &Heart) -> Table {
    let mut out = Table::default();
    out.put_known("ejection_fraction_pct", heart.ejection_fraction_pct);
    out.put_known("rhythm", word(heart.rhythm));
    if let Some(device) = heart.device {
        let mut table = Table::default();
        table.put("kind", "icd");
        table.put_known("lowest_treated_bpm", device.lowest_treated_bpm);
        table.put_known("last_shock", device.last_shock);
        table.put_known("subcutaneous", device.subcutaneous);
        out.put("device", table);
    }
    if let Some(pacemaker) = heart.pacemaker {
        let mut table = Table::default();
        table.put_known("mode", word(pacemaker.mode));
        table.put_known("base_bpm", pacemaker.base_bpm);
        table.put_known("upper_tracking_bpm", pacemaker.upper_tracking_bpm);
        table.put_known("rate_response", pacemaker.rate_response);
        table.put_known("resynchronisation", pacemaker.resynchronisation);
        out.put("pacemaker", table);
    }
    out.put_known("haemoglobin_g_dl", heart.haemoglobin_g_dl);
    out
}

fn history(history: &History) -> Table {
    let mut out = Table::default();
    out.put_list("present", words(&history.present));
    out.put_list("absent", words(&history.absent));
    out.put_known("rest_absent", history.rest_absent.as_ref());
    out.put_list("not_asked", words(&history.not_asked));
    let mut since = Table::default();
    for (item, day) in &history.since {
        since.put(item.word(), *day);
    }
    out.put_table("since", since);
    out
}

fn medicine(medicine: &Medicine) -> Table {
    let mut out = Table::default();
    out.put("name", &medicine.name);
    out.put_known("dose", medicine.dose.as_ref());
    out.put_known("since", medicine.since);
    out.put_known("until", medicine.until);
    out.put_known("times", medicine.times.as_ref());
    out.put_known("as_needed", medicine.as_needed);
    out
}

fn usual_symptom(symptom: &UsualSymptom) -> Table {
    let mut out = Table::default();
    out.put("kind", symptom.kind.word());
    out.put_known("score", symptom.score);
    out
}

fn examination(examination: &Examination) -> Table {
    let mut out = Table::default();
    out.put("date", examination.date);
    out.put_known("nyha", examination.nyha);
    out.put_known("resting_hr_bpm", examination.resting_hr_bpm);
    out.put_known("pulse_regular", examination.pulse_regular);
    out.put_known("resting_bp_mmhg", examination.resting_bp.map(pressure));
    out.put_known("standing_bp_mmhg", examination.standing_bp.map(pressure));
    out.put_known("spo2_pct", examination.spo2_pct);
    out.put_known("weight_kg", examination.weight_kg);
    out.put_known("temperature_c", examination.temperature_c);
    out.put_known("glucose_mmol_l", examination.glucose_mmol_l);
    out.put_known("ketones_mmol_l", examination.ketones_mmol_l);
    out.put_known("oedema", examination.oedema);
    // An empty list stays: it was asked, and there was none.
    out.put_known("symptoms", examination.symptoms.as_deref().map(words));
    out
}

fn home(home: &Home) -> Table {
    let mut out = Table::default();
    out.put_known("alone_when_exercising", home.alone_when_exercising);
    out.put_known("telephone", home.telephone);
    out.put_list("screen", words(&home.screens));
    out.put_list("props", words(&home.props));
    out.put_list("place", tables(&home.places, place));
    out
}

fn place(place: &Place) -> Table {
    let mut out = Table::default();
    out.put("name", &place.name);
    out.put("kind", place.kind.word());
    out.put_known("seat_cm", place.seat_cm);
    out.put_known("arms", place.arms);
    out.put_known("height_cm", place.height_cm);
    out.put_known("rail", place.rail);
    out.put_known("metres_to_next", place.metres_to_next);
    out
}

fn wishes(wishes: &Wishes) -> Table {
    let mut out = Table::default();
    out.put_list("likes", texts(&wishes.likes));
    out.put_list("dislikes", texts(&wishes.dislikes));
    out.put_known("sessions_per_week", wishes.sessions_per_week);
    out.put_list(
        "weights_g",
        wishes.weights_g.iter().map(|one| (*one).into()).collect(),
    );
    out.put_known("goal", wishes.goal.as_ref());
    out.put_known("pulse_counting", wishes.pulse_counting);
    out
}

fn watched(watched: &Watched) -> Table {
    let mut out = Table::default();
    out.put("date", watched.date);
    out.put("exercise", &watched.exercise);
    out.put("variant", &watched.variant);
    out.put_known("effort", watched.effort.map(effort));
    out.put_known("hr_bpm", watched.hr_bpm);
    out.put_known("bp_mmhg", watched.bp.map(pressure));
    out.put("technique", watched.technique.word());
    out.put_known("support", word(watched.support));
    out.put_known("symptoms", watched.symptoms.as_deref().map(words));
    out
}

fn pain(pain: &Pain) -> Table {
    let mut out = Table::default();
    out.put_known("joint", word(pain.joint));
    out.put_known("during", pain.during);
    out.put_known("settled_2h", pain.settled_2h);
    out.put_known("worse_next_morning", pain.worse_next_morning);
    out.put_known("date", pain.date);
    out.put_known("exercise", pain.exercise.as_ref());
    out
}
