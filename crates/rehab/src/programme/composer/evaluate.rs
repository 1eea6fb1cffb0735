//! Whether a whole list holds every rule, and what it is worth.

use super::compiled::Compiled;
use super::instance::{BENEFIT, CHANGES, LEVELS, NOVELTY, OFF_BAND, Repeats, VARIETY};

/// Others that must stand between two of the same movement where repeats are allowed.
pub(super) const OTHERS_BETWEEN: usize = 2;

/// The levels of a list of fillers, one for each chosen slot; `None` where it breaks a rule.
pub(super) fn evaluate(compiled: &Compiled<'_>, list: &[u16]) -> Option<[i64; LEVELS]> {
    let of = |slot: usize| &compiled.fillers[usize::from(list[slot])];
    if !within_slots(compiled, list) || !pulse_holds(compiled, list) || !sums_hold(compiled, list) {
        return None;
    }
    let mut levels = [0; LEVELS];
    levels[CHANGES] = -changes(compiled, list)?;
    let mut pins = 0;
    for slot in 0..list.len() {
        let filler = of(slot);
        pins |= filler.pins;
        levels[OFF_BAND] += compiled.worth(OFF_BAND, slot, filler);
        levels[NOVELTY] -= filler.novelty;
        match last_alike(compiled, list, slot) {
            None => {
                levels[BENEFIT] += filler.benefit;
                levels[VARIETY] += filler.variety;
            }
            Some(before) => {
                let apart = slot - before > OTHERS_BETWEEN;
                if compiled.repeats == Repeats::Never || !apart {
                    return None;
                }
                // A second time meets no further need and is no variety.
                levels[VARIETY] -= 1;
            }
        }
    }
    (pins.count_ones() as usize == compiled.free_pins).then_some(levels)
}

/// The last slot before this one, of its round, with the same movement.
fn last_alike(compiled: &Compiled<'_>, list: &[u16], slot: usize) -> Option<usize> {
    let movement = compiled.fillers[usize::from(list[slot])].alike;
    let round = compiled.chosen[slot].slot.round;
    (0..slot).rev().find(|before| {
        compiled.chosen[*before].slot.round == round
            && compiled.fillers[usize::from(list[*before])].alike == movement
    })
}

fn within_slots(compiled: &Compiled<'_>, list: &[u16]) -> bool {
    compiled
        .chosen
        .iter()
        .zip(list)
        .all(|(slot, filler)| slot.options.contains(filler))
}

/// Changes of place and things over the whole session; `None` where neighbours do not go together.
fn changes(compiled: &Compiled<'_>, list: &[u16]) -> Option<i64> {
    let mut sum = 0;
    let mut posture_changed = false;
    for pair in compiled.sequence.windows(2) {
        let first = compiled.fillers[usize::from(list[pair[0]])].look;
        let second = compiled.fillers[usize::from(list[pair[1]])].look;
        let between = compiled.between(first, second);
        if !between.allowed || (compiled.postures_slow && posture_changed && between.posture) {
            return None;
        }
        posture_changed = between.posture;
        sum += between.changes;
    }
    Some(sum)
}

fn pulse_holds(compiled: &Compiled<'_>, list: &[u16]) -> bool {
    let Some(pulse) = &compiled.pulse else {
        return true;
    };
    let mut rate = pulse.start_bpm();
    for (slot, chosen) in compiled.sequence.iter().enumerate() {
        let load = compiled.fillers[usize::from(list[*chosen])].load;
        match pulse.after(slot, rate, load) {
            Some(end) => rate = end,
            None => return false,
        }
    }
    true
}

/// Sums over the session: dose, mean METs of each round, new exercises.
fn sums_hold(compiled: &Compiled<'_>, list: &[u16]) -> bool {
    let of = |slot: usize| &compiled.fillers[usize::from(list[slot])];
    let dose: i64 = (0..list.len())
        .map(|slot| compiled.chosen[slot].total_ms * of(slot).low)
        .sum();
    let mut new: Vec<usize> = (0..list.len())
        .map(of)
        .filter(|one| one.new)
        .map(|one| one.exercise)
        .collect();
    new.sort_unstable();
    new.dedup();
    let means = compiled.means.iter().all(|mean| {
        let sum: i64 = (0..list.len())
            .map(|slot| mean.ms[slot] * (of(slot).mets - mean.most_milli))
            .sum();
        sum <= mean.room
    });
    means
        && dose >= compiled.dose_least
        && dose <= compiled.dose_most
        && new.len() as u64 <= u64::from(compiled.max_new)
}
