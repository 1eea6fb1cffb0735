//! The ways of breaking a good answer, each beside the rule that must catch it. A break gives `None` where the person has
//! nothing to break.

mod of_limits;
mod of_programme;
mod of_settings;

pub(crate) use of_settings::{CHANGES, Changed};

use serde_json::{Value, json};
use tests::checker::{Library, Settings};

/// A good answer about to be broken.
pub(crate) struct Broken<'a> {
    pub(crate) case: Value,
    pub(crate) limits: Value,
    pub(crate) programme: Value,
    pub(crate) settings: Settings,
    pub(crate) library: &'a Library,
}

pub(crate) type Break = fn(&mut Broken<'_>) -> Option<()>;

/// Every break with its rule.
pub(crate) fn breaks() -> Vec<(&'static str, Break)> {
    [of_limits::BREAKS, of_programme::BREAKS].concat()
}

fn exercises(one: &Broken<'_>) -> Option<()> {
    (one.limits["screening"]["decision"] == "exercise").then_some(())
}

fn add(value: &mut Value, by: f64) -> Option<()> {
    *value = json!(value.as_f64()? + by);
    Some(())
}

fn newest_examination<'b>(one: &'b mut Broken<'_>) -> Option<&'b mut Value> {
    let list = one.case["examination"].as_array_mut()?;
    list.iter_mut()
        .max_by_key(|examination| examination["date"].as_str().map(str::to_owned))
}

fn first_stage<'b>(one: &'b mut Broken<'_>) -> Option<&'b mut Value> {
    one.programme["stages"].get_mut(0)
}

fn segments(stage: &mut Value) -> Option<&mut Vec<Value>> {
    stage["segments"].as_array_mut()
}

fn has_stations(stage: &Value) -> bool {
    stage["objective"].is_i64()
}

fn stage_with_stations<'b>(one: &'b mut Broken<'_>) -> Option<&'b mut Value> {
    let stages = one.programme["stages"].as_array_mut()?;
    stages.iter_mut().find(|stage| has_stations(stage))
}

fn stations<'b>(one: &'b mut Broken<'_>) -> Option<Vec<&'b mut Value>> {
    let list = segments(stage_with_stations(one)?)?.iter_mut();
    let kinds = ["cardiovascular", "active-recovery"];
    let found = list.filter(|segment| kinds.contains(&segment["kind"].as_str().unwrap_or("")));
    Some(found.collect())
}

fn station<'b>(one: &'b mut Broken<'_>, kind: &str) -> Option<&'b mut Value> {
    stations(one)?
        .into_iter()
        .find(|segment| segment["kind"] == kind)
}

fn drop_first_of(one: &mut Broken<'_>, phase: &str) -> Option<()> {
    let list = segments(first_stage(one)?)?;
    let at = list.iter().position(|segment| segment["phase"] == phase)?;
    list.remove(at);
    Some(())
}

fn name_where(one: &Broken<'_>, tag: &str) -> Option<(String, String)> {
    one.library.names_where(tag).into_iter().next()
}

fn rename(segment: &mut Value, name: &(String, String)) {
    segment["exercise"] = json!(name.0);
    segment["variant"] = json!(name.1);
}

/// Puts a way that has a tag at the beginning of the first session.
fn offer(one: &mut Broken<'_>, tag: &str) -> Option<()> {
    let name = name_where(one, tag).expect("the library has such a way");
    rename(segments(first_stage(one)?)?.first_mut()?, &name);
    Some(())
}

/// Makes the first two stations these exercises, in the first of their ways.
fn set_neighbours(one: &mut Broken<'_>, first: &str, second: &str) -> Option<()> {
    let way = |exercise: &str| {
        let all = one.library.names_where(&format!("exercise={exercise}"));
        all.into_iter().next().expect("the library has it")
    };
    let names = [way(first), way(second)];
    let mut list = stations(one)?;
    for (segment, name) in list.iter_mut().zip(&names) {
        rename(segment, name);
    }
    Some(())
}

fn with_prediction(one: &mut Broken<'_>) -> Option<()> {
    let stage = first_stage(one)?;
    stage["predicted"]["peak_hr"].as_f64().map(|_| ())
}

fn parameter<'b>(one: &'b mut Broken<'_>, id: &str) -> Option<&'b mut Value> {
    let list = first_stage(one)?["because"].as_array_mut()?;
    let found = list.iter_mut().find(|because| because["id"] == id)?;
    Some(&mut found["value"])
}

/// Lowers the ceiling, or the band's top, under what the first session is predicted to reach.
fn under_hard(one: &mut Broken<'_>, what: &str) -> Option<()> {
    if one.limits["limits"]["hr_ceiling_kind"] != "hard" {
        return None;
    }
    with_prediction(one)?;
    let peak = first_stage(one)?["predicted"]["peak_hr"].as_f64()?;
    match what {
        "hr_ceiling" => one.limits["limits"]["hr_ceiling"] = json!((peak - 1.0).floor()),
        "hr" => one.limits["limits"]["hr"]["high"] = json!((peak - 1.0).floor()),
        _ => {}
    }
    Some(())
}
