//! What is asked and said at the end.

use super::build::{Ask, Facts};
use super::check::count_seconds;
use super::{Closing, SignRow};
use rehab::assessment::EffortScale;
use rehab::diary::{DiarySymptom, SymptomKind};
use rehab::quantity::bound_of;
use rehab::review::{SymptomClass, classify};

pub(super) fn closing(ask: &Ask<'_>, facts: &Facts) -> Closing {
    let words = ask.words;
    let scale = ask.limits.effort_scale;
    let scale_words = match scale {
        EffortScale::ZeroToTen => "page.notes.effort-0-10",
        EffortScale::SixToTwenty => "page.notes.effort-6-20",
    };
    let last = ["stay-up", "near-telephone", "no-hot-bath", "late-signs"];
    Closing {
        scale,
        scale_words: words.get(scale_words).to_owned(),
        effort_high: ask.limits.effort.high,
        signs: kinds(facts).iter().map(|kind| sign(ask, *kind)).collect(),
        spray: facts.nitrate,
        pulse_s: facts.pulse_counting.then(|| count_seconds(ask)),
        weight: facts.heart_failure.then(|| {
            let bound =
                bound_of("weight_kg").expect("the key stands in the table of bounds: tested");
            (bound.low, bound.high)
        }),
        last: last
            .iter()
            .map(|id| words.get(&format!("page.end.{id}")).to_owned())
            .collect(),
    }
}

fn kinds(facts: &Facts) -> Vec<SymptomKind> {
    let mut kinds = vec![
        SymptomKind::ChestDiscomfort,
        SymptomKind::Faint,
        SymptomKind::Dizziness,
        SymptomKind::Palpitations,
        SymptomKind::Breathlessness,
    ];
    if facts.device {
        kinds.push(SymptomKind::DeviceShock);
    }
    if facts.diabetes {
        kinds.push(SymptomKind::LowSugar);
    }
    if facts.heart_failure {
        kinds.push(SymptomKind::Swelling);
    }
    kinds.extend([
        SymptomKind::LegPain,
        SymptomKind::Tiredness,
        SymptomKind::Fall,
        SymptomKind::Other,
    ]);
    kinds
}

fn sign(ask: &Ask<'_>, kind: SymptomKind) -> SignRow {
    // The review's own rule says what stops; the page only carries its answer.
    let class = |usual: bool| {
        let told = DiarySymptom {
            kind,
            usual: Some(usual),
            score: None,
            nitrate_used: None,
        };
        classify(ask.case, &told).0
    };
    SignRow {
        kind: kind.word().to_owned(),
        label: ask.words.get(&format!("page.signs.{kind}")).to_owned(),
        known: class(true) != class(false),
        lock: class(false) == SymptomClass::Red,
    }
}
