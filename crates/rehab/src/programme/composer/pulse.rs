//! The pulse rule made ready for many steps: decays and drift of every slot computed once.

use super::instance::{PulseRule, Slot};
use crate::programme::response::{decay, drift};

/// One slot's numbers.
#[derive(Clone, Copy, Debug)]
struct SlotPulse {
    /// Target of the change-over, bpm.
    before_target: f64,
    /// Share of a difference left after the change-over.
    before_left: f64,
    /// Highest rate without drift at the end of the change-over.
    before_most: f64,
    /// Share of a difference left after the station.
    left: f64,
    /// Highest rate without drift at the end of the station.
    most: f64,
}

/// The pulse rule over the slots of a session.
#[derive(Clone, Debug)]
pub(super) struct Pulse {
    level_bpm: f64,
    slope: f64,
    start_bpm: f64,
    slots: Vec<SlotPulse>,
}

impl Pulse {
    pub(super) fn new(rule: &PulseRule, slots: &[Slot]) -> Self {
        let mut at_ms = rule.start_ms;
        let most_at = |at_ms: u64| {
            let seconds = at_ms as f64 / 1000.0;
            rule.most_bpm - drift(seconds, rule.drift_per_minute, rule.drift_begins_s)
        };
        let slots = slots
            .iter()
            .map(|slot| {
                at_ms += u64::from(slot.before_ms);
                let before_most = most_at(at_ms);
                at_ms += u64::from(slot.duration_ms);
                let load = (slot.before_mets_milli - 1000) as f64 / 1000.0;
                SlotPulse {
                    before_target: rule.level_bpm + rule.slope * load,
                    before_left: decay(f64::from(slot.before_ms) / 1000.0, rule.tau_s),
                    before_most,
                    left: decay(f64::from(slot.duration_ms) / 1000.0, rule.tau_s),
                    most: most_at(at_ms),
                }
            })
            .collect();
        Self {
            level_bpm: rule.level_bpm,
            slope: rule.slope,
            start_bpm: rule.start_bpm,
            slots,
        }
    }

    /// The rule at the end of a slot as a sum over the loads of the slots up to it: coefficients, and the most.
    ///
    /// Loads are METs above rest; the sum is in units of the slope, so that a price is of the size of one load.
    pub(super) fn linear(&self, slot: usize) -> (Vec<f64>, f64) {
        let mut coefficients = Vec::with_capacity(slot + 1);
        let mut fixed = self.start_bpm - self.level_bpm;
        for one in &self.slots[..=slot] {
            let before = one.before_target - self.level_bpm;
            let left = one.before_left * one.left;
            fixed = fixed * left + before * (1.0 - one.before_left) * one.left;
            for earlier in &mut coefficients {
                *earlier *= left;
            }
            coefficients.push(1.0 - one.left);
        }
        let room = self.slots[slot].most - self.level_bpm - fixed;
        (coefficients, room / self.slope.max(1e-9))
    }

    /// Whether more work gives a higher rate, as in every person.
    pub(super) fn rises(&self) -> bool {
        self.slope > 0.0
    }

    /// Rate at the beginning.
    pub(super) fn start_bpm(&self) -> f64 {
        self.start_bpm
    }

    /// Rate without drift at the end of a slot of the session that begins at a rate; `None` where it passes the rule.
    pub(super) fn after(&self, slot: usize, from_bpm: f64, load: f64) -> Option<f64> {
        let one = &self.slots[slot];
        let ready = one.before_target + (from_bpm - one.before_target) * one.before_left;
        // A change-over of no length is no segment, so nothing ends there.
        if ready > one.before_most && one.before_left < 1.0 {
            return None;
        }
        let target = self.level_bpm + self.slope * load;
        let end = target + (ready - target) * one.left;
        (end <= one.most).then_some(end)
    }
}
