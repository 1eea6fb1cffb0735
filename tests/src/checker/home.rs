//! What the service lets each class of risk do at home, and how often somebody watches and calls.

use super::record::Record;
use super::{Faults, number, word};
use serde_json::Value;

pub(super) fn check(record: &Record<'_>, limits: &Value, faults: &mut Faults) {
    let class = record.settings.class(word(&limits["risk"], "class"));
    let printed = &limits["eligibility"];
    let holds = word(printed, "home") == class.home
        && number(printed, "watched_needed") == Some(class.watched)
        && number(printed, "call_every_days") == Some(class.call_days);
    faults.expect(holds, "home/class", || {
        format!("{printed}, by the settings {class:?}")
    });
    let done = record.watched_days().len() as f64;
    let alone = printed["alone_now"].as_bool() == Some(true);
    let exercises = word(&limits["screening"], "decision") == "exercise";
    let counted = number(printed, "watched_done") == Some(done);
    let allowed = !alone || (exercises && done >= class.watched);
    faults.expect(counted && allowed, "home/watched", || {
        format!("{printed}, watched on {done} days of {}", class.watched)
    });
}
