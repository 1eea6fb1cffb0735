//! Observations in our own words: what other systems have no code for, written so that we read it back exactly.

use super::bundle::Resource;
use super::concept::Concept;
use super::gather::{Gather, Source, Why};
use crate::case;
use crate::shape::{ClosedWord, Kind, Shape, Sink, View, check};
use crate::tree::{self, Content, Node, Table};
use jiff::civil::Date;
use rehab::assessment::{ExaminationSymptom, Test};

/// Takes an observation of ours; false when it is none.
pub(super) fn take(resource: &Resource<'_>, concept: &Concept<'_>, gather: &mut Gather) -> bool {
    if let Some(kind) = concept.ours("test") {
        match test(resource, kind) {
            Ok(test) => match test.date.and_then(|day| gather.impossible(day)) {
                None => gather.case.tests.push(test),
                Some(reason) => gather.list(
                    resource,
                    Why::LeftOut,
                    format!("the day of the test {reason}"),
                ),
            },
            Err(message) => gather.list(resource, Why::NotRead, message),
        }
        return true;
    }
    let what = match concept.ours("observation") {
        Some("oedema") => "oedema",
        Some("pulse-regular") => "regularity of the pulse",
        Some("symptoms") => "symptoms",
        _ => return false,
    };
    let Some(day) = gather.day(resource, &["effectiveDateTime"]) else {
        return true;
    };
    let instant = resource.text("effectiveDateTime").unwrap_or("");
    if !gather.keep(Source::of(resource), Some(day), what, instant) {
        return true;
    }
    take_of_day(resource, what, day, gather);
    true
}

fn take_of_day(resource: &Resource<'_>, what: &str, day: Date, gather: &mut Gather) {
    let flag = resource.flag("valueBoolean");
    let examination = gather.examination(day);
    match what {
        "oedema" => examination.oedema = flag,
        "symptoms" => {
            let codes = resource
                .all("component")
                .into_iter()
                .filter_map(|one| one.find("code"));
            let words = codes
                .filter_map(|code| ExaminationSymptom::read(Concept::of(code).ours("symptom")?));
            examination.symptoms = Some(words.collect());
        }
        _ => examination.pulse_regular = flag,
    }
}

/// The shape of one test of a case file.
fn shape() -> Option<&'static Shape> {
    match case::CASE.field("test").map(|field| &field.kind) {
        Some(Kind::List(Kind::Table(shape), _)) => Some(shape),
        _ => None,
    }
}

fn test(resource: &Resource<'_>, kind: &str) -> Result<Test, String> {
    let mut table = Table::default();
    table.put("kind", kind);
    if let Some(day) = resource.text("effectiveDateTime") {
        table.put("date", day);
    }
    for component in resource.all("component") {
        let concept = component.find("code").map(Concept::of);
        if let (Some(key), Some(value)) =
            (concept.and_then(|one| one.ours("key")), value(component))
        {
            table.put(key, value);
        }
    }
    let shape = shape().ok_or("tests have no shape")?;
    let node = Node::from(Content::Table(table));
    let mut sink = Sink::new("test");
    check(&node, shape, &mut sink);
    let read = View::of(&node, shape).and_then(|view| case::read_test(&view));
    sink.finish(read).map_err(|problems| {
        let messages: Vec<String> = problems.0.into_iter().map(|one| one.message).collect();
        format!("the test cannot be read: {}", messages.join("; "))
    })
}

fn value(component: &Node) -> Option<Node> {
    if let Some(number) = component.number("valueQuantity.value") {
        return Some(number.into());
    }
    if let Some(flag) = component.flag("valueBoolean") {
        return Some(flag.into());
    }
    let text = component.text("valueString")?;
    // Lists and tables within a test are written as JSON text.
    if text.starts_with(['[', '{']) {
        return tree::read("test.json", text.as_bytes()).ok();
    }
    Some(text.into())
}
