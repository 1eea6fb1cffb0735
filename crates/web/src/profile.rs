//! The profile of a page, drawn: hills, the ceiling, and the pulses that came back.

use crate::alone;
use crate::builder::{taken::taken, turns::turns};
use crate::casefile::CaseFile;
use crate::phrases::page_of;
use handouts::profile::{CaptionFacts, Course, Full, PulseScale, captions, full};
use maud::{Markup, PreEscaped, html};
use rehab::assessed::CeilingKind;
use rehab::programme::Stage;

/// The time constant that only shapes the drawn line between two predicted ends. Source: `response-ours`.
const TAU_S: f64 = 60.0;

/// How a profile is looked at.
#[derive(Default)]
pub(crate) struct Look<'a> {
    pub(crate) width_px: u16,
    /// The hill that is chosen.
    pub(crate) chosen: Option<u16>,
    /// What another way would take.
    pub(crate) alternative_mets: Option<f64>,
    /// Where a hill leads.
    pub(crate) link: Option<&'a dyn Fn(u16) -> String>,
}

/// Draws a page under the limits of today.
pub(crate) fn drawn(file: &CaseFile, stage: &Stage, look: &Look<'_>) -> Markup {
    let limits = &file.assessed.limits;
    let course = Course::of(stage);
    let pulse = limits
        .ceiling
        .zip(limits.resting_hr)
        .map(|(ceiling, resting)| PulseScale {
            resting_bpm: resting.to_bpm(),
            ceiling_bpm: ceiling.rate.to_bpm(),
            tau_s: TAU_S,
        });
    let taken = taken(file, stage, &course);
    let names: Vec<String> = turns(stage)
        .iter()
        .map(|turn| alone::name(file.app.words(), &turn.doing))
        .collect();
    let words = captions(
        &course,
        &CaptionFacts {
            title: &format!("Session profile of {}", page_of(stage.number)),
            ceiling_of: "The ceiling",
            scale: limits.effort_scale,
            effort_high: limits.effort.high,
            pulse: limits
                .ceiling
                .map(|ceiling| (ceiling.rate.to_bpm(), ceiling.kind == CeilingKind::Guiding)),
            expected: stage.predicted.peak_hr.is_some(),
            taken: !taken.is_empty(),
            turns: &names,
        },
    );
    let ask = Full {
        width_px: look.width_px,
        top_mets: limits.mets_station_high.to_mets(),
        pulse,
        taken: &taken,
        chosen: look.chosen,
        alternative_mets: look.alternative_mets,
        captions: &words,
        link: look.link,
    };
    html! { (PreEscaped(full(&course, &ask))) }
}
