//! From a composed list to the segments of a session, with change-overs and predictions.

use super::instance::slots;
use super::shape::Shape;
use crate::programme::composer::{Class, Composed, Instance};
use crate::programme::ground::{Ground, work_of};
use crate::programme::response::{chance_of_passing, predict};
use crate::programme::{Phase, Posture, Predicted, Segment, SegmentKind, VariantRef};

/// The stations of a list in the order of the session, each with the change-over before it.
pub(super) fn stations(
    ground: &Ground<'_>,
    shape: Shape,
    instance: &Instance,
    composed: &Composed,
    from_stop: Option<usize>,
) -> Vec<Segment> {
    let mut segments = Vec::new();
    let mut here = from_stop;
    let mut sitting = false;
    for (slot, chosen) in slots(ground, shape).iter().zip(&composed.chosen) {
        let candidate = &instance.candidates[*chosen];
        let named = VariantRef {
            exercise: candidate.exercise.clone(),
            variant: candidate.variant.clone(),
        };
        let way = ground
            .eligible
            .way(&named)
            .expect("candidates are made from open ways");
        let stop = usize::from(candidate.place);
        let sits = way.variant.posture == Posture::Seated;
        if slot.before_ms > 0 {
            let kind = match (ground.change_over.moving, here == Some(stop)) {
                (false, _) => SegmentKind::Rest,
                (true, false) => SegmentKind::Walk,
                // Sitting on the same chair there is nowhere to march.
                (true, true) if sitting && sits => SegmentKind::Rest,
                (true, true) => SegmentKind::March,
            };
            let between = ground.between(Phase::Conditioning, kind, Some(stop), slot.before_ms);
            segments.push(Segment {
                round: slot.round,
                ..between
            });
        }
        let kind = match slot.class {
            Class::Cardiovascular => SegmentKind::Cardiovascular,
            Class::ActiveRecovery => SegmentKind::ActiveRecovery,
        };
        let station = ground.segment(Phase::Conditioning, kind, way, stop, slot.duration_ms);
        segments.push(Segment {
            round: slot.round,
            ..station
        });
        here = Some(stop);
        sitting = sits;
    }
    segments
}

/// The stop at which segments end.
pub(super) fn last_stop(ground: &Ground<'_>, segments: &[Segment]) -> Option<usize> {
    let last = segments.last()?;
    ground
        .stops
        .iter()
        .position(|stop| stop.place == last.place && stop.name == last.place_name)
        .filter(|_| last.place.is_some())
        .or_else(|| assumed_stop(ground, last))
}

/// An assumed stop has no name, so it is found by what is done there.
fn assumed_stop(ground: &Ground<'_>, segment: &Segment) -> Option<usize> {
    let way = ground.eligible.way(segment.doing.as_ref()?)?;
    way.stops.first().copied()
}

/// Writes the predicted mean and error at every segment's end.
pub(super) fn fill_predictions(ground: &Ground<'_>, segments: &mut [Segment]) {
    let Some(response) = &ground.response else {
        return;
    };
    let moments = predict(response, &work_of(segments));
    for (segment, moment) in segments.iter_mut().zip(moments) {
        segment.predicted_hr = Some(moment.mean_bpm);
        segment.predicted_sd = Some(moment.sd_bpm);
    }
}

/// What a session is predicted to do.
pub(super) fn predicted(ground: &Ground<'_>, segments: &[Segment]) -> Predicted {
    let peak_hr = segments
        .iter()
        .filter_map(|segment| segment.predicted_hr)
        .reduce(f64::max);
    let chance =
        ground
            .response
            .as_ref()
            .zip(ground.ceiling.as_ref())
            .map(|(response, ceiling)| {
                chance_of_passing(response, &work_of(segments), ceiling.ceiling_bpm)
            });
    Predicted {
        peak_hr,
        ceiling_probability: chance,
    }
}
