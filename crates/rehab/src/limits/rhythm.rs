//! Whether the pulse says how hard the heart works: not in every rhythm.

use crate::assessment::{EventKind, HistoryItem, PacingMode, Rhythm};
use crate::evidence::{
    Answer, Finding, Input, Named, Rule, RuleError, RuleId, SourceId, Tag, Value, Weight,
};
use crate::known::Known;

/// Why there is no pulse target.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum NoTarget {
    AtrialFibrillation,
    AtrialFlutter,
    Transplant,
    AssistDevice,
    FixedRatePacing,
    PacingModeNotKnown,
    OtherRhythm,
    RhythmNotKnown,
}

impl NoTarget {
    /// The reason in words.
    pub(super) const fn words(self) -> &'static str {
        match self {
            Self::AtrialFibrillation => "atrial fibrillation",
            Self::AtrialFlutter => "atrial flutter",
            Self::Transplant => "a transplanted heart",
            Self::AssistDevice => "a ventricular assist device",
            Self::FixedRatePacing => "pacing at a fixed rate",
            Self::PacingModeNotKnown => "pacing whose mode is not known",
            Self::OtherRhythm => "a rhythm other than sinus",
            Self::RhythmNotKnown => "the rhythm is not known",
        }
    }
}

const TARGET: Rule = Rule {
    id: RuleId("limits/pulse-target"),
    name: "Whether there is a pulse target",
    statement: "In atrial fibrillation or flutter, after transplant, with an assist device and with pacing at a fixed \
                rate the pulse does not say how hard the heart works: effort and the talk test lead, no pulse target. \
                A ceiling from a device or from ischaemia stays. A rhythm that is not known counts as one of these, \
                also where the pulse was felt to be regular: flutter with a fixed block is regular too.",
    sources: &[
        SourceId("keteyian-2019"),
        SourceId("jcm-2021-t3"),
        SourceId("pacing-practice"),
        SourceId("service-ours"),
    ],
    tag: Tag::Recalled,
    inputs: &[
        Input::choice(
            "rhythm",
            &[
                "sinus",
                "atrial-fibrillation",
                "atrial-flutter",
                "paced",
                "other",
            ],
        )
        .or_none(),
        Input::choice(
            "pacing_mode",
            &[
                "AAI", "AAIR", "VVI", "VVIR", "VDD", "VDDR", "DDD", "DDDR", "DDI", "DDIR",
            ],
        )
        .or_none(),
        Input::flag("rate_response").or_none(),
        Input::flag("transplant").or_none(),
        Input::flag("assist_device").or_none(),
    ],
    evaluate: |values| {
        let yes = |name| values.optional_text(name).map(|word| word == "yes");
        let word = |unknown: crate::UnknownWord| RuleError {
            message: unknown.to_string(),
        };
        let rhythm = match values.optional_text("rhythm") {
            Some(text) => Some(Rhythm::parse(text).map_err(word)?),
            None => None,
        };
        let mode = match values.optional_text("pacing_mode") {
            Some(text) => Some(PacingMode::parse(text).map_err(word)?),
            None => None,
        };
        let reason = reason(&Facts {
            rhythm,
            mode,
            rate_response: yes("rate_response"),
            transplant: yes("transplant") == Some(true),
            assist_device: yes("assist_device") == Some(true),
        });
        let text = reason.map_or("pulse target", NoTarget::words);
        Ok(Answer::new(Value::Text(text.to_owned()), text))
    },
};

/// The rules of this part.
pub(super) const RULES: &[Rule] = &[TARGET];

/// What decides.
struct Facts {
    rhythm: Option<Rhythm>,
    mode: Option<PacingMode>,
    rate_response: Option<bool>,
    transplant: bool,
    assist_device: bool,
}

fn reason(facts: &Facts) -> Option<NoTarget> {
    if facts.transplant {
        return Some(NoTarget::Transplant);
    }
    if facts.assist_device {
        return Some(NoTarget::AssistDevice);
    }
    match facts.rhythm {
        Some(Rhythm::AtrialFibrillation) => Some(NoTarget::AtrialFibrillation),
        Some(Rhythm::AtrialFlutter) => Some(NoTarget::AtrialFlutter),
        Some(Rhythm::Other) => Some(NoTarget::OtherRhythm),
        Some(Rhythm::Paced) => pacing(facts.mode, facts.rate_response),
        Some(Rhythm::Sinus) => None,
        None => Some(NoTarget::RhythmNotKnown),
    }
}

/// A pacemaker that neither tracks the sinus node nor answers activity keeps one rate.
// Source: pacing-practice (recalled).
fn pacing(mode: Option<PacingMode>, rate_response: Option<bool>) -> Option<NoTarget> {
    use PacingMode::{Aai, Aair, Ddd, Dddr, Ddi, Ddir, Vdd, Vddr, Vvi, Vvir};
    match mode {
        Some(Ddd | Dddr | Vdd | Vddr) => None,
        Some(Aair | Vvir | Ddir) if rate_response != Some(false) => None,
        Some(Aai | Vvi | Ddi) if rate_response == Some(true) => None,
        Some(Aai | Aair | Vvi | Vvir | Ddi | Ddir) => Some(NoTarget::FixedRatePacing),
        None => Some(NoTarget::PacingModeNotKnown),
    }
}

/// The reason for no pulse target, where there is one.
pub(super) fn no_target(known: &Known) -> Option<NoTarget> {
    let heart = &known.case.heart;
    reason(&Facts {
        rhythm: heart.rhythm,
        mode: heart.pacemaker.and_then(|pacemaker| pacemaker.mode),
        rate_response: heart
            .pacemaker
            .and_then(|pacemaker| pacemaker.rate_response),
        transplant: known.had(EventKind::Transplant),
        assist_device: known.has(HistoryItem::VentricularAssistDevice),
    })
}

/// What is said where there is no target.
pub(super) fn finding(reason: NoTarget) -> Finding {
    TARGET
        .finding(
            Weight::Caution,
            format!(
                "No pulse target: {}. Effort and the talk test lead; a ceiling from a device or from ischaemia stays",
                reason.words()
            ),
        )
        .with(Named::text("reason", reason.words()))
}

/// What is asked where the rhythm or the mode is not known.
pub(super) fn questions(known: &Known) -> Vec<Finding> {
    let heart = &known.case.heart;
    let mut asked = Vec::new();
    if heart.rhythm.is_none() {
        asked.push(
            TARGET
                .finding(
                    Weight::FindOut,
                    "Which rhythm is it? Without it the pulse is not used",
                )
                .asking("the doctor's letter or the last tracing", "the pulse band"),
        );
    }
    let mode_missing = heart
        .pacemaker
        .is_none_or(|pacemaker| pacemaker.mode.is_none());
    if heart.rhythm == Some(Rhythm::Paced) && mode_missing {
        asked.push(
            TARGET
                .finding(
                    Weight::FindOut,
                    "How is the pacemaker set (mode, base and upper rate)? It is not recorded",
                )
                .asking("the device clinic", "the pulse band"),
        );
    }
    asked
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pacing_that_cannot_rise_gives_no_target() {
        assert_eq!(
            pacing(Some(PacingMode::Vvi), None),
            Some(NoTarget::FixedRatePacing)
        );
        assert_eq!(
            pacing(Some(PacingMode::Vvir), Some(false)),
            Some(NoTarget::FixedRatePacing)
        );
        assert_eq!(pacing(Some(PacingMode::Vvir), None), None);
        assert_eq!(pacing(Some(PacingMode::Ddd), None), None);
        assert_eq!(pacing(None, None), Some(NoTarget::PacingModeNotKnown));
    }
}
