//! The rules of the review, each with its id, statement and source, and the numbers they use.

use super::propose::Action;
use super::table::RULES;
use crate::assessment::EffortScale;
use crate::evidence::{Rule, RuleId};

/// In heart failure: gains in kg that stop, and the days within which each counts. Sources: `heart-fail-rev-2023`; 5 lb in a
/// week, `us-heart-failure-patients`.
pub(super) const WEIGHT_GAINS: [(f64, i32); 2] = [(1.8, 3), (5.0 * 0.453_592_37, 7)];
/// Beats above a guiding rate from which one pulse alone holds. Source: `service-ours`.
pub(crate) const FAR_OVER_BPM: f64 = 20.0;
/// Days without a session after which a person re-enters lower. Source: `service-ours`.
pub(super) const GAP_DAYS: i32 = 14;
/// Days without a session after which a person re-enters at the first rung. Source: `service-ours`.
pub(super) const LONG_GAP_DAYS: i32 = 28;
/// Days after a red or changed symptom in which nobody is advanced. Source: `service-ours`.
pub(super) const QUIET_DAYS: i32 = 14;
/// Share of the stations that counts as finished. Source: `service-ours`.
pub(super) const FINISHED_SHARE: f64 = 0.75;
/// Fewest sessions on a rung before the next. Source: `service-ours`.
pub(super) const LEAST_SESSIONS: usize = 3;
/// Fewest days on a rung before the next. Source: `service-ours`.
pub(super) const LEAST_DAYS: i32 = 6;
/// Pulse before a session from which to ask first, in bpm. Source: `heart-fail-rev-2023`.
pub(super) const FAST_BEFORE_BPM: f64 = 100.0;

/// Points above the band that are far above it. Source: `service-ours`.
pub(crate) const fn far_above(scale: EffortScale) -> f64 {
    match scale {
        EffortScale::ZeroToTen => 2.0,
        EffortScale::SixToTwenty => 3.0,
    }
}

/// The hard end of a scale, to spot news that contradicts itself. Source: `service-ours`.
pub(crate) const fn hardest(scale: EffortScale) -> f64 {
    match scale {
        EffortScale::ZeroToTen => 8.0,
        EffortScale::SixToTwenty => 17.0,
    }
}

pub(super) const RED_CHEST: RuleId = RuleId("review/red-chest-discomfort");
pub(super) const RED_FAINT: RuleId = RuleId("review/red-faint");
pub(super) const RED_SHOCK: RuleId = RuleId("review/red-device-shock");
pub(super) const RED_PALPITATIONS: RuleId = RuleId("review/red-palpitations");
pub(super) const RED_BREATH: RuleId = RuleId("review/red-new-breathlessness");
pub(super) const RED_NITRATE: RuleId = RuleId("review/red-nitrate-used");
pub(super) const RED_WEIGHT: RuleId = RuleId("review/red-weight-gain");
pub(super) const RED_UNWELL: RuleId = RuleId("review/red-unwell");
pub(super) const RED_PRESSURE: RuleId = RuleId("review/red-pressure");
pub(super) const RED_PULSE: RuleId = RuleId("review/red-pulse-before");
pub(super) const RED_SLOW: RuleId = RuleId("review/red-slow-pulse");
pub(super) const STOP_SCREENING: RuleId = RuleId("review/stop-screening");
pub(super) const CHANGED: RuleId = RuleId("review/changed-symptom");
pub(super) const USUAL: RuleId = RuleId("review/usual-symptom");
pub(super) const JOINT: RuleId = RuleId("review/joint-pain");
pub(super) const ASK_SILENCE: RuleId = RuleId("review/ask-silence");
pub(super) const ASK_STOPPED: RuleId = RuleId("review/ask-stopped");
pub(super) const ASK_NOT_TOLD: RuleId = RuleId("review/ask-symptoms-not-told");
pub(super) const ASK_CONTRADICTION: RuleId = RuleId("review/ask-contradiction");
pub(super) const ASK_HIGHER_PAGE: RuleId = RuleId("review/ask-higher-page");
pub(super) const ASK_MEDICINE: RuleId = RuleId("review/ask-medicine-change");
pub(super) const ASK_FAST_BEFORE: RuleId = RuleId("review/ask-fast-before");
pub(super) const ASK_FAST_AFTER: RuleId = RuleId("review/ask-fast-after");
pub(super) const HOLD_FAR_OVER: RuleId = RuleId("review/hold-far-above-guiding");
pub(super) const HOLD_AFTER_COOL_DOWN: RuleId = RuleId("review/hold-after-cool-down");
pub(super) const ASK_STOPPED_EARLY: RuleId = RuleId("review/ask-stopped-early");
pub(super) const ASK_WATCHED: RuleId = RuleId("review/ask-watched-outside");
pub(super) const RE_ENTER_GAP: RuleId = RuleId("review/re-enter-gap");
pub(super) const RE_ENTER_RETURN: RuleId = RuleId("review/re-enter-return");
pub(super) const RE_ENTER_STOPPED: RuleId = RuleId("review/re-enter-stopped");
pub(super) const BACK_EFFORT: RuleId = RuleId("review/step-back-effort");
pub(super) const BACK_UNFINISHED: RuleId = RuleId("review/step-back-unfinished");
pub(super) const OVER_CEILING: RuleId = RuleId("review/step-back-over-ceiling");
pub(super) const HOLD_SYMPTOM: RuleId = RuleId("review/hold-recent-symptom");
pub(super) const HOLD_EFFORT: RuleId = RuleId("review/hold-effort");
pub(super) const HOLD_EFFORT_UNKNOWN: RuleId = RuleId("review/hold-effort-not-told");
pub(super) const HOLD_UNFINISHED: RuleId = RuleId("review/hold-unfinished");
pub(super) const HOLD_GUIDING: RuleId = RuleId("review/hold-guiding-pulse");
pub(super) const HOLD_JOINT: RuleId = RuleId("review/hold-joint");
pub(super) const HOLD_FEW: RuleId = RuleId("review/hold-few-sessions");
pub(super) const HOLD_EARLY: RuleId = RuleId("review/hold-early");
pub(super) const HOLD_EXAMINATION: RuleId = RuleId("review/hold-examination");
pub(super) const HOLD_FIND_OUT: RuleId = RuleId("review/hold-find-out");
pub(super) const HOLD_LAST: RuleId = RuleId("review/hold-last-page");
pub(super) const ADVANCE: RuleId = RuleId("review/advance");

/// The rule of an id.
pub(super) fn rule(id: RuleId) -> &'static Rule {
    RULES
        .iter()
        .find(|rule| rule.id == id)
        .expect("every id of the review stands in its table")
}

/// What an open alert of a rule does to the proposal; `None` where the alert alone changes nothing.
pub(super) fn action_of_alert(id: RuleId) -> Option<Action> {
    match id {
        RED_CHEST | RED_FAINT | RED_SHOCK | RED_PALPITATIONS | RED_BREATH | RED_NITRATE
        | RED_WEIGHT | RED_UNWELL | RED_PRESSURE | RED_PULSE | RED_SLOW | STOP_SCREENING => {
            Some(Action::StopAndContact)
        }
        CHANGED | HOLD_FAR_OVER | HOLD_AFTER_COOL_DOWN => Some(Action::Hold),
        ASK_SILENCE | ASK_MEDICINE | ASK_NOT_TOLD | ASK_CONTRADICTION | ASK_FAST_BEFORE
        | ASK_FAST_AFTER | ASK_HIGHER_PAGE | ASK_STOPPED_EARLY | ASK_WATCHED => {
            Some(Action::AskFirst)
        }
        OVER_CEILING => Some(Action::StepBack),
        _ => None,
    }
}
