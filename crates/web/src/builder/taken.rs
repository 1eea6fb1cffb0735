//! Pulses that came back in diaries, placed on the picture of their page.

use crate::casefile::CaseFile;
use handouts::profile::{Course, TakenPulse};
use rehab::diary::PulseMoment;
use rehab::programme::{SegmentKind, Stage};

/// Pulses at the end of stations of this page, where the diary has them.
pub(crate) fn taken(file: &CaseFile, stage: &Stage, course: &Course) -> Vec<TakenPulse> {
    let ends: Vec<u64> = stage
        .segments
        .iter()
        .enumerate()
        .filter(|(_, one)| {
            matches!(
                one.kind,
                SegmentKind::Cardiovascular | SegmentKind::ActiveRecovery
            )
        })
        .filter(|(place, _)| *place < course.parts().len())
        .map(|(place, _)| course.span_ms(place).1)
        .collect();
    let of_page = |number: Option<u16>| number == Some(stage.number);
    let entries = file.course.entries.iter().filter(|one| of_page(one.stage));
    entries
        .flat_map(|entry| &entry.pulses)
        .filter_map(|pulse| match pulse.at {
            PulseMoment::EndOfStation(station) => Some(TakenPulse {
                at_ms: *ends.get(usize::from(station).checked_sub(1)?)?,
                bpm: pulse.bpm,
            }),
            _ => None,
        })
        .collect()
}
