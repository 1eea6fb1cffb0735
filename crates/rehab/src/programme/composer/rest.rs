//! What the slots that are left can still add to the sums, so that a branch that cannot keep them is cut early.

use super::compiled::{Compiled, Filler};

/// What the slots that are left can add at least and at most, for the sums.
pub(super) struct Rest {
    dose_least: Vec<i64>,
    dose_most: Vec<i64>,
    means_least: Vec<Vec<i64>>,
}

impl Rest {
    pub(super) fn new(compiled: &Compiled<'_>) -> Self {
        let after = |weight: &dyn Fn(usize, &Filler) -> i64, least: bool| {
            let slots = compiled.chosen.len();
            let mut sums = vec![0; slots + 1];
            for slot in (0..slots).rev() {
                let all = compiled.chosen[slot]
                    .options
                    .iter()
                    .map(|filler| weight(slot, &compiled.fillers[usize::from(*filler)]));
                let one = if least { all.min() } else { all.max() };
                sums[slot] = sums[slot + 1] + one.unwrap_or(0);
            }
            sums
        };
        let dose = |slot: usize, one: &Filler| compiled.chosen[slot].total_ms * one.low;
        Self {
            dose_least: after(&dose, true),
            dose_most: after(&dose, false),
            means_least: compiled
                .means
                .iter()
                .map(|mean| {
                    after(
                        &|slot, one: &Filler| mean.ms[slot] * (one.mets - mean.most_milli),
                        true,
                    )
                })
                .collect(),
        }
    }

    /// Whether the sums can still be kept with one more filler in a slot.
    pub(super) fn allows(
        &self,
        compiled: &Compiled<'_>,
        dose: i64,
        slot: usize,
        one: &Filler,
        means: &[i64],
    ) -> bool {
        let in_range = dose + self.dose_most[slot + 1] >= compiled.dose_least
            && dose + self.dose_least[slot + 1] <= compiled.dose_most;
        in_range
            && compiled.means.iter().enumerate().all(|(index, mean)| {
                let with = means[index] + mean.ms[slot] * (one.mets - mean.most_milli);
                with + self.means_least[index][slot + 1] <= mean.room
            })
    }
}
