//! The hills of a page, and which station of the round each is.

use rehab::programme::{Phase, SegmentKind, Stage, VariantRef};

/// One brisk turn.
pub(crate) struct Turn {
    /// Number through the session, from 1: the hill.
    pub(crate) number: u16,
    /// Number of its station within the round, from 1, easy turns counted too.
    pub(crate) station: u8,
    /// Which segment it is.
    pub(crate) segment: usize,
    /// What is done.
    pub(crate) doing: VariantRef,
}

/// The hills in order.
pub(crate) fn turns(stage: &Stage) -> Vec<Turn> {
    let mut list: Vec<Turn> = Vec::new();
    let (mut round, mut station) = (0, 0_u8);
    for (at, segment) in stage.segments.iter().enumerate() {
        let brisk = segment.kind == SegmentKind::Cardiovascular;
        let counts = brisk || segment.kind == SegmentKind::ActiveRecovery;
        if segment.phase != Phase::Conditioning || !counts {
            continue;
        }
        if segment.round != round {
            (round, station) = (segment.round, 0);
        }
        station += 1;
        if let Some(doing) = segment.doing.as_ref().filter(|_| brisk) {
            list.push(Turn {
                number: list.len() as u16 + 1,
                station,
                segment: at,
                doing: doing.clone(),
            });
        }
    }
    list
}
