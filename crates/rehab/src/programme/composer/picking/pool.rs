//! What can be picked: fillers that differ only in their place are one item, slots that count alike are one kind.

use super::ranked::MOST_MEANS;
use crate::programme::composer::compiled::{Chosen, Compiled, Filler};
use crate::programme::composer::instance::Repeats;

/// Most slots that are put in order by sets of items.
const MOST_SLOTS: usize = 16;
/// Places that a bound on changes tells apart.
pub(super) const MOST_PLACES: u8 = 6;

/// Whether this search can be used: every movement once, in one round that is chosen.
pub(in crate::programme::composer) fn suits(compiled: &Compiled<'_>) -> bool {
    let rounds = |round: u8| compiled.chosen.iter().all(|slot| slot.slot.round == round);
    compiled.repeats == Repeats::Never
        && compiled.chosen.len() <= MOST_SLOTS
        && compiled.means.len() <= MOST_MEANS
        && compiled
            .chosen
            .first()
            .is_some_and(|first| rounds(first.slot.round))
}

/// Fillers that differ only in their place.
#[derive(Clone, Debug)]
pub(super) struct Item {
    /// The fillers, in the order of the places.
    pub(super) fillers: Vec<u16>,
    pub(super) movement: usize,
    pub(super) exercise: usize,
    pub(super) new: bool,
    pub(super) mets: i64,
    pub(super) low: i64,
    pub(super) pins: u64,
    /// What no two neighbours may both have: muscle groups, arms above the shoulder; one bit each.
    pub(super) apart: u64,
    /// What neighbours see of it, place and things apart.
    pub(super) order_look: usize,
    /// The same with the places and things of all its fillers.
    pub(super) placed_look: usize,
    /// Number of its posture.
    pub(super) sitting: usize,
    /// Places it can be done at, one bit each; 0 where they are too many to tell apart.
    pub(super) places: u8,
    pub(super) props: u32,
}

/// Slots of one class that count alike.
#[derive(Clone, Debug)]
pub(super) struct Kind {
    /// Chosen slots.
    pub(super) slots: Vec<usize>,
    /// Length over the whole session, ms.
    pub(super) total_ms: i64,
    /// Length in each round with a limit on the mean, ms.
    pub(super) mean_ms: Vec<i64>,
    /// Items that can stand in at least one of them.
    pub(super) items: Vec<usize>,
}

/// Everything that can be picked.
pub(super) struct Pool<'c, 'i> {
    pub(super) compiled: &'c Compiled<'i>,
    pub(super) items: Vec<Item>,
    pub(super) kinds: Vec<Kind>,
    /// Kinds of one class: they draw on the same movements.
    pub(super) families: Vec<Vec<usize>>,
    /// Kind of each chosen slot.
    pub(super) kind_of: Vec<usize>,
    /// Side of each kind where slots of two classes take turns and changes of posture must be slow, else empty.
    pub(super) sides: Vec<usize>,
    /// Whether every item can stand in all slots of a kind or in none.
    slots_alike: bool,
}

impl<'c, 'i> Pool<'c, 'i> {
    pub(super) fn new(compiled: &'c Compiled<'i>) -> Self {
        let places_told = compiled
            .fillers
            .iter()
            .all(|one| compiled.instance.candidates[one.source].place < MOST_PLACES);
        let mut items = items_of(compiled, places_told);
        number_placed_looks(compiled, &mut items);
        let mut kinds: Vec<Kind> = Vec::new();
        let mut kind_of = Vec::with_capacity(compiled.chosen.len());
        for (slot, chosen) in compiled.chosen.iter().enumerate() {
            let mean_ms: Vec<i64> = compiled.means.iter().map(|mean| mean.ms[slot]).collect();
            let class = chosen.slot.class;
            let known = kinds.iter().position(|kind| {
                compiled.chosen[kind.slots[0]].slot.class == class
                    && kind.total_ms == chosen.total_ms
                    && kind.mean_ms == mean_ms
            });
            let at = known.unwrap_or_else(|| {
                kinds.push(Kind {
                    slots: Vec::new(),
                    total_ms: chosen.total_ms,
                    mean_ms,
                    items: Vec::new(),
                });
                kinds.len() - 1
            });
            kinds[at].slots.push(slot);
            kind_of.push(at);
        }
        for kind in &mut kinds {
            kind.items = (0..items.len())
                .filter(|item| {
                    let open = |filler: &u16| {
                        kind.slots
                            .iter()
                            .any(|slot| compiled.chosen[*slot].options.contains(filler))
                    };
                    items[*item].fillers.iter().any(open)
                })
                .collect();
        }
        Self {
            slots_alike: every_slot_alike(compiled, &items, &kinds),
            sides: sides(compiled, &kinds),
            compiled,
            families: families(compiled, &kinds),
            items,
            kinds,
            kind_of,
        }
    }

    /// What a pick is worth at one level, as far as that does not depend on the order.
    pub(super) fn worth(&self, level: usize, kind: usize, item: usize) -> i64 {
        let first = self.items[item].fillers[0];
        let filler = &self.compiled.fillers[usize::from(first)];
        self.compiled
            .worth(level, self.kinds[kind].slots[0], filler)
    }

    /// The picks behind a list of fillers.
    pub(super) fn picks_of(&self, list: &[u16]) -> Vec<(usize, usize)> {
        list.iter()
            .zip(&self.kind_of)
            .filter_map(|(filler, kind)| {
                let item = self
                    .items
                    .iter()
                    .position(|item| item.fillers.contains(filler))?;
                Some((*kind, item))
            })
            .collect()
    }

    /// What decides whether a pick has its place in an order, pulse apart: what neighbours see of it, with its places
    /// and things where changes count; where slots differ in what they take, the item itself.
    pub(super) fn order_key(&self, kind: usize, item: usize, places: bool) -> u32 {
        let one = &self.items[item];
        let told = match (self.slots_alike, places) {
            (false, _) => item,
            (true, false) => one.order_look,
            (true, true) => one.placed_look,
        };
        (kind * 0x1_0000 + told) as u32
    }

    /// Most picks that may share what no two neighbours may both have: every other slot.
    pub(super) fn most_apart(&self) -> usize {
        self.compiled.chosen.len().div_ceil(2)
    }

    /// Whether a set keeps every sum, with no movement twice.
    pub(super) fn sums_hold(&self, picks: &[(usize, usize)]) -> bool {
        let compiled = self.compiled;
        let of = |pick: &(usize, usize)| (&self.kinds[pick.0], &self.items[pick.1]);
        let mut movements: Vec<usize> = picks.iter().map(|pick| of(pick).1.movement).collect();
        movements.sort_unstable();
        movements.dedup();
        let mut new: Vec<usize> = picks
            .iter()
            .map(|pick| of(pick).1)
            .filter(|item| item.new)
            .map(|item| item.exercise)
            .collect();
        new.sort_unstable();
        new.dedup();
        let pins = picks.iter().fold(0, |pins, pick| pins | of(pick).1.pins);
        let dose: i64 = picks
            .iter()
            .map(|pick| of(pick).0.total_ms * of(pick).1.low)
            .sum();
        let means = compiled.means.iter().enumerate().all(|(index, mean)| {
            let sum: i64 = picks
                .iter()
                .map(|pick| of(pick).0.mean_ms[index] * (of(pick).1.mets - mean.most_milli))
                .sum();
            sum <= mean.room
        });
        movements.len() == picks.len()
            && new.len() as u64 <= u64::from(compiled.max_new)
            && pins.count_ones() as usize == compiled.free_pins
            && dose >= compiled.dose_least
            && dose <= compiled.dose_most
            && means
    }
}

/// Whether every item can stand in all slots of a kind or in none.
fn every_slot_alike(compiled: &Compiled<'_>, items: &[Item], kinds: &[Kind]) -> bool {
    kinds.iter().all(|kind| {
        kind.items.iter().all(|item| {
            kind.slots.iter().all(|slot| {
                let options = &compiled.chosen[*slot].options;
                items[*item]
                    .fillers
                    .iter()
                    .any(|filler| options.contains(filler))
            })
        })
    })
}

/// Sides of the kinds: 0 for the class of the first slot, 1 for the other.
fn sides(compiled: &Compiled<'_>, kinds: &[Kind]) -> Vec<usize> {
    let class = |slot: &Chosen| slot.slot.class;
    let turns = compiled
        .chosen
        .windows(2)
        .all(|pair| class(&pair[0]) != class(&pair[1]));
    if !turns || !compiled.postures_slow {
        return Vec::new();
    }
    let first = compiled.chosen.first().map(class);
    kinds
        .iter()
        .map(|kind| usize::from(Some(class(&compiled.chosen[kind.slots[0]])) != first))
        .collect()
}

fn families(compiled: &Compiled<'_>, kinds: &[Kind]) -> Vec<Vec<usize>> {
    let class = |kind: usize| compiled.chosen[kinds[kind].slots[0]].slot.class;
    let mut list: Vec<Vec<usize>> = Vec::new();
    for kind in 0..kinds.len() {
        match list
            .iter_mut()
            .find(|family| class(family[0]) == class(kind))
        {
            Some(family) => family.push(kind),
            None => list.push(vec![kind]),
        }
    }
    list
}

fn items_of(compiled: &Compiled<'_>, places_told: bool) -> Vec<Item> {
    let mut items: Vec<Item> = Vec::new();
    let mut first: Vec<u16> = Vec::new();
    for (at, filler) in (0_u16..).zip(&compiled.fillers) {
        let place = compiled.instance.candidates[filler.source].place;
        let bit = if places_told { 1_u8 << place } else { 0 };
        // Candidates are in the order of their ids, so places of one variant stand together.
        let same = first
            .last()
            .is_some_and(|known| differ_in_place_only(compiled, *known, at));
        if let Some(item) = items.last_mut().filter(|_| same) {
            item.fillers.push(at);
            item.places |= bit;
            continue;
        }
        first.push(at);
        items.push(item_of(compiled, filler, at, bit));
    }
    items
}

/// Gives items the same number that neighbours cannot tell apart wherever they are done.
fn number_placed_looks(compiled: &Compiled<'_>, items: &mut [Item]) {
    let mut known: Vec<(usize, Vec<u8>, u32)> = Vec::new();
    for item in items {
        let place = |filler: &u16| {
            let source = compiled.fillers[usize::from(*filler)].source;
            compiled.instance.candidates[source].place
        };
        let seen = (
            item.order_look,
            item.fillers.iter().map(place).collect(),
            item.props,
        );
        let at = known.iter().position(|one| *one == seen);
        item.placed_look = at.unwrap_or_else(|| {
            known.push(seen);
            known.len() - 1
        });
    }
}

fn item_of(compiled: &Compiled<'_>, filler: &Filler, at: u16, places: u8) -> Item {
    Item {
        fillers: vec![at],
        movement: filler.alike,
        exercise: filler.exercise,
        new: filler.new,
        mets: filler.mets,
        low: filler.low,
        pins: filler.pins,
        apart: compiled.apart(filler),
        order_look: compiled.order_look(filler),
        placed_look: 0,
        sitting: compiled.sitting(filler),
        places,
        props: compiled.instance.candidates[filler.source].props,
    }
}

fn differ_in_place_only(compiled: &Compiled<'_>, first: u16, second: u16) -> bool {
    let of =
        |filler: u16| &compiled.instance.candidates[compiled.fillers[usize::from(filler)].source];
    let (a, b) = (of(first), of(second));
    a.exercise == b.exercise
        && a.variant == b.variant
        && a.alike == b.alike
        && a.classes == b.classes
        && a.off_band == b.off_band
        && (a.benefit, a.variety, a.novelty, a.new) == (b.benefit, b.variety, b.novelty, b.new)
        && (a.mets_milli, a.mets_low_milli) == (b.mets_milli, b.mets_low_milli)
        && a.hr_gain_milli == b.hr_gain_milli
        && (a.muscles, a.posture, a.arms_above, a.props)
            == (b.muscles, b.posture, b.arms_above, b.props)
}
