//! How many changes of place and things a set of stations needs at least, whatever its order.

use super::pool::{Item, MOST_PLACES};

/// Sets of places, one bit for each of the 64 sets of up to six places.
#[derive(Clone, Copy, Debug)]
pub(super) struct Cover {
    /// Sets that reach every station so far.
    sets: u64,
    /// Things that some station needs.
    props: u32,
    /// Most things that one station needs.
    at_once: u32,
}

impl Cover {
    pub(super) const fn new() -> Self {
        Self {
            sets: u64::MAX,
            props: 0,
            at_once: 0,
        }
    }

    /// With one more station.
    pub(super) fn with(mut self, item: &Item) -> Self {
        if item.places != 0 {
            self.sets &= REACHING[usize::from(item.places)];
        }
        self.props |= item.props;
        self.at_once = self.at_once.max(item.props.count_ones());
        self
    }

    /// Changes that no order can do without: one to each further place, one for each thing that was not there at first.
    pub(super) fn least_changes(self) -> i64 {
        let places = (1..=i64::from(MOST_PLACES))
            .find(|size| self.sets & OF_SIZE[*size as usize] != 0)
            .unwrap_or(1);
        let props = self.props.count_ones().saturating_sub(self.at_once);
        places - 1 + i64::from(props)
    }
}

/// Sets of places that have at least one place of a mask, by mask.
const REACHING: [u64; 64] = reaching_all();
/// Sets of exactly so many places, by their number.
const OF_SIZE: [u64; 7] = of_sizes();

const fn reaching_all() -> [u64; 64] {
    let mut table = [0; 64];
    let mut places = 0;
    while places < 64 {
        let mut set = 0;
        while set < 64 {
            if set & places != 0 {
                table[places] |= 1 << set;
            }
            set += 1;
        }
        places += 1;
    }
    table
}

const fn of_sizes() -> [u64; 7] {
    let mut table = [0; 7];
    let mut set: u64 = 0;
    while set < 64 {
        table[set.count_ones() as usize] |= 1 << set;
        set += 1;
    }
    table
}

#[cfg(test)]
mod tests {
    use super::*;

    fn item(places: u8, props: u32) -> Item {
        Item {
            fillers: Vec::new(),
            movement: 0,
            exercise: 0,
            new: false,
            mets: 0,
            low: 0,
            pins: 0,
            apart: 0,
            order_look: 0,
            placed_look: 0,
            sitting: 0,
            places,
            props,
        }
    }

    #[test]
    fn places_that_share_one_need_no_change_and_others_one_each() {
        let together = Cover::new().with(&item(0b011, 0)).with(&item(0b110, 0));
        assert_eq!(together.least_changes(), 0);
        let apart = together.with(&item(0b001, 0)).with(&item(0b100, 0));
        assert_eq!(apart.least_changes(), 1);
        let thrice = apart.with(&item(0b1000, 0));
        assert_eq!(thrice.least_changes(), 2);
    }

    #[test]
    fn things_are_fetched_once_each_but_for_those_of_the_first_station() {
        let cover = Cover::new()
            .with(&item(1, 0b11))
            .with(&item(1, 0b100))
            .with(&item(1, 0b1));
        assert_eq!(cover.least_changes(), 1);
    }
}
