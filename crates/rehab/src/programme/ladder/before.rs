//! What a rung begins from: the rung before it, and what the person has learned by then.

use crate::programme::composer::DoseRange;
use crate::programme::eligible::Way;
use crate::programme::{Phase, Segment, SegmentKind, Stage, VariantRef};

/// New exercises at one contact, once the first stations are learned. Source: `programme-ours`.
pub(crate) const MOST_NEW: u32 = 2;

/// The rung before, as the next one needs it.
#[derive(Clone, Debug)]
pub(crate) struct Before {
    /// Stations of the rung before.
    stations: Vec<VariantRef>,
    /// Exercises of every earlier rung.
    learned: Vec<String>,
    /// Movements of the warm-up.
    warm: Vec<String>,
    /// How far was given way for it, see the ladder's tries.
    pub(crate) tries_at: usize,
    /// Most new exercises.
    pub(crate) most_new: u32,
    /// Dose of one session of the rung before, MET-minutes; `None` for the first.
    pub(crate) met_minutes: Option<f64>,
    /// Dose of its dearest pair of stations, MET-minutes; nought without stations.
    pub(crate) dearest_pair: f64,
    /// Times a week of the whole ladder.
    pub(crate) times_a_week: u8,
    /// Whether its rungs are held against the page at home.
    pub(crate) held_to_home: bool,
    /// Dose of its stations, METs (low end, thousandths) times ms.
    pub(crate) station_dose: i64,
}

/// As many new ways as a list can have: no bound. What an instance on file may say ends there too.
const ANY_NEW: u32 = 64;

impl Before {
    /// Before the first rung of a ladder.
    pub(crate) fn nothing(times_a_week: u8, held_to_home: bool) -> Self {
        Self {
            stations: Vec::new(),
            learned: Vec::new(),
            warm: Vec::new(),
            tries_at: 0,
            most_new: ANY_NEW,
            met_minutes: None,
            times_a_week,
            held_to_home,
            dearest_pair: 0.0,
            station_dose: 0,
        }
    }

    /// After a rung.
    pub(crate) fn after(mut self, stage: &Stage) -> Self {
        let stations: Vec<VariantRef> = stage
            .segments
            .iter()
            .filter(|segment| is_station(segment))
            .filter_map(|segment| segment.doing.clone())
            .collect();
        self.learned
            .extend(stations.iter().map(|one| one.exercise.clone()));
        self.learned.sort();
        self.learned.dedup();
        // The first stations are all taught at one contact, because there is nothing yet to build on.
        self.most_new = if self.learned.is_empty() {
            u32::MAX
        } else {
            MOST_NEW
        };
        self.station_dose = station_dose(&stage.segments);
        self.met_minutes = Some(stage.met_minutes());
        self.dearest_pair = super::growth::dearest_pair(&stage.segments);
        self.stations = stations;
        self
    }

    /// The same with the movements of the warm-up.
    pub(crate) fn warming_with(mut self, movements: Vec<String>) -> Self {
        self.warm = movements;
        self
    }

    /// Whether there were stations.
    pub(crate) fn has_stations(&self) -> bool {
        !self.stations.is_empty()
    }

    /// Whether the warm-up has this movement.
    pub(crate) fn warms_up_with(&self, way: &Way<'_>) -> bool {
        self.warm.contains(&way.exercise.alike)
    }

    /// How far a way is from what the person does already, and whether its exercise is new.
    pub(crate) fn novelty(&self, way: &Way<'_>) -> (u32, bool) {
        let earlier = self.learned.contains(&way.exercise.id);
        let new = !way.learned && !earlier;
        let (same, other) = if self.has_stations() {
            let of_exercise = |one: &&VariantRef| one.exercise == way.exercise.id;
            let same = self
                .stations
                .iter()
                .filter(of_exercise)
                .any(|one| one.variant == way.variant.id);
            (same, self.stations.iter().any(|one| of_exercise(&one)))
        } else {
            (way.watched, way.learned)
        };
        let novelty = match (same, other, new) {
            (true, _, _) => 0,
            (_, true, _) => 1,
            (_, _, false) => 2,
            _ => 3,
        };
        (novelty, new)
    }

    /// The least that the stations of the next rung must do: not less than before, a little more where that is the
    /// lever.
    pub(crate) fn least_dose(&self, harder: bool) -> i64 {
        if harder {
            self.station_dose + self.station_dose / 100 + 1
        } else {
            self.station_dose
        }
    }
}

/// Whether a segment is a station.
pub(crate) fn is_station(segment: &Segment) -> bool {
    segment.phase == Phase::Conditioning
        && matches!(
            segment.kind,
            SegmentKind::Cardiovascular | SegmentKind::ActiveRecovery
        )
}

/// Dose of the stations, METs (low end, thousandths) times ms.
fn station_dose(segments: &[Segment]) -> i64 {
    segments
        .iter()
        .filter(|segment| is_station(segment))
        .map(dose)
        .sum()
}

/// Dose of a segment, METs (low end, thousandths) times ms.
pub(crate) fn dose(segment: &Segment) -> i64 {
    libm::round(segment.mets_low * 1000.0) as i64 * i64::from(segment.duration_ms)
}

/// The range without a bound above.
pub(crate) const fn dose_range(least: i64, most: i64) -> DoseRange {
    DoseRange { least, most }
}
