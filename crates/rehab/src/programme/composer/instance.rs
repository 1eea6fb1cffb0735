//! The composer's problem as plain data: what may stand where, and what must hold.

use crate::programme::Posture;

/// Levels of the objective that stand below each other in one number.
pub(super) const LEVELS: usize = 5;
/// How far brisk stations lie off the training band.
pub(super) const OFF_BAND: usize = 0;
/// Needs and likes.
pub(super) const BENEFIT: usize = 1;
/// Novelty.
pub(super) const NOVELTY: usize = 2;
/// Changes of place and things: the level that the order decides.
pub(super) const CHANGES: usize = 3;
/// Variety less repeats.
pub(super) const VARIETY: usize = 4;

/// What one step of each level is worth in the one number of the objective: training band, needs and likes, novelty,
/// changes, variety.
///
/// A lower level never reaches the worth of one step of the level above it, so comparing the numbers is comparing the
/// levels in order; [`Instance::problems`] refuses instances that could break this. The whole stays a number that every
/// reader of JSON can hold.
pub const LEVEL_WORTH: [i64; LEVELS] = [1_000_000_000_000, 1_000_000_000, 1_000_000, 1_000, 1];

closed_words!(
    /// Class of a station.
    Class as "class of a station" { Cardiovascular = "cardiovascular", ActiveRecovery = "active-recovery" }
);

closed_words!(
    /// Whether a movement may come twice in one round.
    Repeats as "rule of repeats" { Never = "never", AfterTwoOthers = "after-two-others" }
);

closed_words!(
    /// A hard rule of the composer, as it can be named when nothing fits.
    HardRule as "hard rule" {
        DoseLeast = "dose-least",
        MaxNew = "new-exercises",
        Repeats = "repeats",
        Muscles = "muscles",
        Arms = "arms",
        Postures = "postures",
        DoseMost = "dose-most",
        MeanMets = "mean-mets",
        Pulse = "pulse",
    }
);

/// One station to be filled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Slot {
    /// Its class.
    pub class: Class,
    /// Length in ms.
    pub duration_ms: u32,
    /// Round, from 1.
    pub round: u8,
    /// Length of the change-over before it in ms.
    pub before_ms: u32,
    /// METs of that change-over, in thousandths.
    pub before_mets_milli: i64,
    /// The earlier slot whose station it repeats; `None` where it is chosen.
    pub same_as: Option<usize>,
}

/// One way of filling a station: a variant of an exercise at a place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Candidate {
    /// Unique id, `exercise/variant@place`: ties are broken by it.
    pub id: String,
    /// Exercise id.
    pub exercise: String,
    /// Variant id.
    pub variant: String,
    /// Name shared by exercises that are one movement: once in a round.
    pub alike: String,
    /// Classes it can serve.
    pub classes: Vec<Class>,
    /// Steps by which it lies off the training band as a cardiovascular station; 0 where it lies within it.
    pub off_band: u32,
    /// How far it meets needs and likes.
    pub benefit: u32,
    /// A low wish: how much it varies the programme.
    pub variety: u32,
    /// METs, best estimate, in thousandths.
    pub mets_milli: i64,
    /// METs, low end, in thousandths: for the dose.
    pub mets_low_milli: i64,
    /// Factor on the heart-rate rise, in thousandths.
    pub hr_gain_milli: i64,
    /// Main muscle groups, one bit each; work of the whole body has none.
    pub muscles: u32,
    /// Index of its place in the order of the walk.
    pub place: u8,
    /// Posture.
    pub posture: Posture,
    /// Whether the hands go above the shoulder.
    pub arms_above: bool,
    /// Things in the hand, one bit each.
    pub props: u32,
    /// Whether its exercise is new to the person: for the most new exercises at a contact.
    pub new: bool,
    /// How far it is from what the person does already: 0 is the same as before.
    pub novelty: u32,
    /// Restrictions that refuse it, one bit each in the order of [`Instance::restrictions`]; 0 where it may be used.
    pub refused_by: u64,
}

/// A restriction that refuses candidates, named so that it can be said which to relax.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NamedRestriction {
    /// Rule id.
    pub id: String,
    /// In words.
    pub words: String,
}

/// The pulse rule: the mean of the first-order model stays at or under a rate at every segment's end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PulseRule {
    /// Rate at rest, bpm.
    pub level_bpm: f64,
    /// Rise in bpm a MET.
    pub slope: f64,
    /// Time constant, s.
    pub tau_s: f64,
    /// Rate at the beginning of the first change-over without drift, bpm.
    pub start_bpm: f64,
    /// Time of that beginning in the session, ms.
    pub start_ms: u64,
    /// Drift in bpm a minute.
    pub drift_per_minute: f64,
    /// When the drift begins in the session, s.
    pub drift_begins_s: f64,
    /// Highest mean, bpm: the band's upper end or the ceiling less its margin.
    pub most_bpm: f64,
}

/// The dose of all stations together, METs (low end, thousandths) times ms.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct DoseRange {
    /// Least.
    pub least: i64,
    /// Most.
    pub most: i64,
}

/// A choice that must stand: an exercise, perhaps a variant, perhaps at one slot.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct SlotPin {
    /// Index of the slot; `None` for anywhere in the session.
    pub slot: Option<usize>,
    /// Exercise id.
    pub exercise: String,
    /// Variant id; `None` for any.
    pub variant: Option<String>,
}

impl SlotPin {
    /// Whether a candidate is what the pin names.
    pub(super) fn names(&self, candidate: &Candidate) -> bool {
        self.exercise == candidate.exercise
            && self
                .variant
                .as_ref()
                .is_none_or(|variant| *variant == candidate.variant)
    }
}

/// One problem.
#[derive(Clone, Debug, PartialEq)]
pub struct Instance {
    /// Stations in the order of the session.
    pub slots: Vec<Slot>,
    /// What can fill them; their order changes nothing.
    pub candidates: Vec<Candidate>,
    /// Restrictions that candidates name.
    pub restrictions: Vec<NamedRestriction>,
    /// Pulse rule; `None` without a pulse model or a hard ceiling.
    pub pulse: Option<PulseRule>,
    /// Most for the time-weighted mean METs of each round, in thousandths.
    pub mean_mets_milli: Option<i64>,
    /// Range of the dose.
    pub dose: DoseRange,
    /// Needs slow changes of posture: never two running.
    pub hypotensive: bool,
    /// Most new exercises.
    pub max_new: u32,
    /// Whether movements may come twice in a round.
    pub repeats: Repeats,
    /// Choices that must stand.
    pub pins: Vec<SlotPin>,
    /// Nodes after which the best found is handed back unproven.
    pub node_budget: u64,
}

/// Most slots of an instance; wide of any session.
const MOST_SLOTS: usize = 64;
/// Most steps off the band of one candidate.
pub(crate) const MOST_OFF_BAND: u32 = 99;
/// Most benefit, and most novelty and variety, of one candidate: with as many slots as there may be they stay under one
/// step of the level above.
const MOST_BENEFIT: u32 = 15;
const MOST_SMALL: u32 = 9;
/// Eight things at most, so that all changes of a session stay under one step of the level above.
const MOST_PROPS: u32 = 0xff;

impl Instance {
    /// What makes the instance no instance; empty for every instance that the program makes itself.
    pub fn problems(&self) -> Vec<String> {
        let mut found = Vec::new();
        if self.slots.len() > MOST_SLOTS {
            found.push(format!("more than {MOST_SLOTS} slots; take fewer"));
        }
        for (index, slot) in self.slots.iter().enumerate() {
            found.extend(slot_problem(&self.slots, index, slot));
        }
        if self.pins.len() > MOST_SLOTS {
            found.push(format!("more than {MOST_SLOTS} pins; take fewer"));
        }
        let mut ids: Vec<&str> = self.candidates.iter().map(|one| one.id.as_str()).collect();
        ids.sort_unstable();
        for pair in ids.windows(2).filter(|pair| pair[0] == pair[1]) {
            found.push(format!("candidate '{}' stands twice; keep one", pair[0]));
        }
        for one in &self.candidates {
            found.extend(candidate_problem(one, self.restrictions.len()));
        }
        for pin in &self.pins {
            if pin.slot.is_some_and(|slot| slot >= self.slots.len()) {
                found.push(format!("the pin of '{}' names no slot", pin.exercise));
            }
        }
        let finite = self.pulse.is_none_or(|pulse| {
            [
                pulse.level_bpm,
                pulse.slope,
                pulse.start_bpm,
                pulse.most_bpm,
            ]
            .iter()
            .chain(&[pulse.tau_s, pulse.drift_per_minute, pulse.drift_begins_s])
            .all(|value| value.is_finite())
        });
        if !finite {
            found.push("a number of the pulse rule is not finite".to_owned());
        }
        found
    }
}

fn slot_problem(slots: &[Slot], index: usize, slot: &Slot) -> Option<String> {
    let same = slot.same_as?;
    let earlier = slots.get(same).filter(|_| same < index);
    match earlier {
        Some(other) if other.same_as.is_none() && other.class == slot.class => None,
        _ => Some(format!(
            "slot {index} repeats slot {same}, which is not an earlier slot of its class that is chosen"
        )),
    }
}

fn candidate_problem(one: &Candidate, restrictions: usize) -> Option<String> {
    let id = &one.id;
    let small = one.variety.max(one.novelty);
    let high = one.off_band > MOST_OFF_BAND || one.benefit > MOST_BENEFIT || small > MOST_SMALL;
    if high || one.props > MOST_PROPS {
        return Some(format!(
            "candidate '{id}' lies more than {MOST_OFF_BAND} steps off the band, has a benefit above {MOST_BENEFIT}, novelty or variety above {MOST_SMALL} or props beyond the eighth"
        ));
    }
    let known = if restrictions >= 64 {
        u64::MAX
    } else {
        (1_u64 << restrictions) - 1
    };
    if one.refused_by & !known != 0 {
        return Some(format!(
            "candidate '{id}' is refused by a restriction that is not listed"
        ));
    }
    let plain = |milli: i64| (0..=50_000).contains(&milli);
    if !plain(one.mets_milli) || !plain(one.mets_low_milli) || !plain(one.hr_gain_milli) {
        return Some(format!(
            "candidate '{id}' has METs or a gain outside 0 to 50"
        ));
    }
    None
}
