//! Putting a set of stations in order: rules between neighbours, pulse, places.

use super::pool::Pool;
use crate::programme::composer::evaluate::evaluate;
use crate::programme::composer::instance::{CHANGES, LEVELS};
use std::collections::BTreeMap;

/// A list with its levels.
pub(super) type Ordered = (Vec<u16>, [i64; LEVELS]);

/// A slot that is still open: anything can stand in it.
const OPEN: u16 = u16::MAX;
/// Nodes for the question whether an order is possible; not decided by then counts as possible.
const NODES_TO_ASK: u64 = 2_000;

/// Branches that are known to lead nowhere, by what they have in common.
struct Dead {
    /// Items that stand already, last filler, whether posture has just changed.
    key: (u32, u16, bool),
    /// Changes that were left.
    left: i64,
    rate_bpm: f64,
}

/// Buckets of dead branches; a power of two.
const BUCKETS: usize = 256;

/// One search for an order.
pub(super) struct Order<'p, 'c, 'i> {
    pool: &'p Pool<'c, 'i>,
    /// Items with their kinds.
    picks: Vec<(usize, usize)>,
    /// Open slots of each kind where it is only asked whether an order is possible, without the pulse.
    open: Option<Vec<usize>>,
    /// Picks of each kind, one bit each.
    of_kind: Vec<u32>,
    /// Whether places matter; else the first open place of an item stands for all.
    places: bool,
    list: Vec<u16>,
    dead: Vec<Vec<Dead>>,
    most_changes: i64,
    pub(super) nodes: u64,
    budget: u64,
}

#[derive(Clone, Copy)]
struct At {
    used: u32,
    look: usize,
    filler: u16,
    posture_changed: bool,
    rate_bpm: f64,
    left: i64,
}

impl<'p, 'c, 'i> Order<'p, 'c, 'i> {
    /// A search for an order of a whole set with at most so many changes; `None` leaves changes open.
    pub(super) fn new(
        pool: &'p Pool<'c, 'i>,
        picks: &[(usize, usize)],
        most_changes: Option<i64>,
        budget: u64,
    ) -> Self {
        let mut of_kind = vec![0; pool.kinds.len()];
        for (index, (kind, _)) in picks.iter().enumerate() {
            of_kind[*kind] |= 1 << index;
        }
        Self {
            pool,
            picks: picks.to_vec(),
            open: None,
            of_kind,
            places: most_changes.is_some(),
            list: Vec::with_capacity(pool.kind_of.len()),
            dead: (0..BUCKETS).map(|_| Vec::new()).collect(),
            most_changes: most_changes.unwrap_or(i64::MAX / 4),
            nodes: 0,
            budget,
        }
    }

    /// The first order found.
    pub(super) fn find(&mut self) -> Option<Ordered> {
        if !self.branch(self.start()) {
            return None;
        }
        let levels = evaluate(self.pool.compiled, &self.list)?;
        Some((core::mem::take(&mut self.list), levels))
    }

    fn start(&self) -> At {
        At {
            used: 0,
            look: 0,
            filler: OPEN,
            posture_changed: false,
            rate_bpm: self
                .pool
                .compiled
                .pulse
                .as_ref()
                .map_or(0.0, |pulse| pulse.start_bpm()),
            left: self.most_changes,
        }
    }

    /// Searches below a branch; `true` leaves the order found in the list.
    fn branch(&mut self, at: At) -> bool {
        if self.nodes >= self.budget {
            return false;
        }
        self.nodes += 1;
        let slot = self.list.len();
        if slot == self.pool.kind_of.len() {
            return self.is_whole_and_holds();
        }
        if self.is_dead(&at) {
            return false;
        }
        let mut next = self.next(&at, slot);
        next.sort_by(|a, b| b.left.cmp(&a.left).then(a.filler.cmp(&b.filler)));
        for child in next {
            self.list.push(child.filler);
            if self.branch(child) {
                return true;
            }
            self.list.pop();
        }
        self.bury(&at);
        false
    }

    /// Whether an order that reached its end holds: an order with open slots is only asked about.
    fn is_whole_and_holds(&self) -> bool {
        if self.open.is_some() {
            return true;
        }
        evaluate(self.pool.compiled, &self.list)
            .is_some_and(|levels| -levels[CHANGES] <= self.most_changes)
    }

    /// Every filler of an unused pick that can stand in a slot, and nothing in particular where the slot may stay open.
    fn next(&self, at: &At, slot: usize) -> Vec<At> {
        let kind = self.pool.kind_of[slot];
        let mut list = Vec::new();
        let mut unused = self.of_kind[kind] & !at.used;
        while unused != 0 {
            let index = unused.trailing_zeros();
            unused &= unused - 1;
            for filler in &self.pool.items[self.picks[index as usize].1].fillers {
                if !self.pool.compiled.chosen[slot].options.contains(filler) {
                    continue;
                }
                list.extend(self.child(at, slot, index, *filler));
                if !self.places {
                    break;
                }
            }
        }
        if self.may_stay_open(at, slot, kind) {
            list.push(Self::open_child(at));
        }
        list
    }

    fn may_stay_open(&self, at: &At, slot: usize, kind: usize) -> bool {
        let Some(open) = self.open.as_ref().map(|open| open[kind]) else {
            return false;
        };
        let before = self.pool.kind_of[..slot]
            .iter()
            .filter(|one| **one == kind)
            .count();
        let filled = (self.of_kind[kind] & at.used).count_ones() as usize;
        before - filled < open
    }

    /// An open slot: no rule between neighbours speaks, and how many changes it makes is not known.
    fn open_child(at: &At) -> At {
        At {
            filler: OPEN,
            posture_changed: false,
            ..*at
        }
    }

    fn child(&self, at: &At, slot: usize, index: u32, filler: u16) -> Option<At> {
        let compiled = self.pool.compiled;
        let one = &compiled.fillers[usize::from(filler)];
        let mut child = At {
            used: at.used | 1 << index,
            look: one.look,
            filler,
            posture_changed: false,
            ..*at
        };
        if slot > 0 && at.filler != OPEN {
            let between = compiled.between(at.look, one.look);
            let changed = compiled.postures_slow && between.posture;
            child.left -= between.changes * compiled.chosen[slot - 1].changes_after;
            if !between.allowed || (changed && at.posture_changed) || child.left < 0 {
                return None;
            }
            child.posture_changed = changed;
        }
        if let (Some(pulse), None) = (&compiled.pulse, &self.open) {
            child.rate_bpm = pulse.after(compiled.first_of(slot), at.rate_bpm, one.load)?;
        }
        Some(child)
    }

    fn bucket(at: &At) -> usize {
        let mixed = u64::from(at.used)
            .wrapping_mul(0x9e37_79b9_7f4a_7c15)
            .wrapping_add(u64::from(at.filler).wrapping_mul(0xbf58_476d_1ce4_e5b9))
            .wrapping_add(u64::from(at.posture_changed));
        (mixed >> 40) as usize % BUCKETS
    }

    /// With open slots the items that stand do not tell the slot, so nothing is remembered.
    fn remembers(&self) -> bool {
        self.open
            .as_ref()
            .is_none_or(|open| open.iter().all(|count| *count == 0))
    }

    fn is_dead(&self, at: &At) -> bool {
        let key = (at.used, at.filler, at.posture_changed);
        self.remembers()
            && self.dead[Self::bucket(at)]
                .iter()
                .any(|one| one.key == key && one.left >= at.left && one.rate_bpm <= at.rate_bpm)
    }

    /// Remembers a branch that led nowhere: with no more changes left and no lower rate it never will.
    fn bury(&mut self, at: &At) {
        if self.remembers() && self.nodes < self.budget {
            let key = (at.used, at.filler, at.posture_changed);
            self.dead[Self::bucket(at)].push(Dead {
                key,
                left: at.left,
                rate_bpm: at.rate_bpm,
            });
        }
    }
}

/// Answers to the question whether picks have an order, remembered by what decides it. The pulse is left out: it hardly
/// ever decides, and with it no two sets would be alike.
#[derive(Default)]
pub(super) struct Orders {
    /// By what neighbours see.
    plain: BTreeMap<Vec<u32>, bool>,
    /// With places and things: most changes with which there is none, least with which there is one.
    limited: BTreeMap<Vec<u32>, (i64, i64)>,
}

impl Orders {
    /// Whether some picks have an order in which open slots can be filled by anything, and the nodes it took.
    pub(super) fn possible(
        &mut self,
        pool: &Pool<'_, '_>,
        picks: &[(usize, usize)],
        open: &[usize],
        most_changes: Option<i64>,
    ) -> (bool, u64) {
        let mut key: Vec<u32> = picks
            .iter()
            .map(|(kind, item)| pool.order_key(*kind, *item, false))
            .collect();
        key.sort_unstable();
        let (possible, nodes) = match self.plain.get(&key) {
            Some(known) => (*known, 0),
            None => {
                let (possible, nodes) = ask(pool, picks, open, None);
                self.plain.insert(key, possible);
                (possible, nodes)
            }
        };
        match most_changes {
            Some(most) if possible => {
                let (possible, more) = self.within(pool, picks, open, most);
                (possible, nodes + more)
            }
            _ => (possible, nodes),
        }
    }

    fn within(
        &mut self,
        pool: &Pool<'_, '_>,
        picks: &[(usize, usize)],
        open: &[usize],
        most: i64,
    ) -> (bool, u64) {
        let mut key: Vec<u32> = picks
            .iter()
            .map(|(kind, item)| pool.order_key(*kind, *item, true))
            .collect();
        key.sort_unstable();
        let known = self.limited.entry(key).or_insert((-1, i64::MAX));
        if most <= known.0 {
            return (false, 0);
        }
        if most >= known.1 {
            return (true, 0);
        }
        let (possible, nodes) = ask(pool, picks, open, Some(most));
        if possible {
            known.1 = most;
        } else {
            known.0 = most;
        }
        (possible, nodes)
    }
}

fn ask(
    pool: &Pool<'_, '_>,
    picks: &[(usize, usize)],
    open: &[usize],
    most_changes: Option<i64>,
) -> (bool, u64) {
    let mut order = Order::new(pool, picks, most_changes, NODES_TO_ASK);
    order.open = Some(open.to_vec());
    let start = order.start();
    let possible = order.branch(start) || order.nodes >= NODES_TO_ASK;
    (possible, order.nodes)
}
