//! The shape of a rung, and the levers that lead from one to the next: one at a time.

use crate::service::{Service, SessionLengths};

closed_words!(
    /// What changed from the rung before.
    Lever as "lever" {
        WarmUpAlone = "warm-up-alone",
        LongerWarmUp = "longer-warm-up",
        FewStations = "few-stations",
        OneMorePair = "one-more-pair",
        LongerBrisk = "longer-cv",
        ShorterEasy = "shorter-ar",
        Harder = "harder",
        SecondRound = "second-round",
    }
);

/// Pairs of the first rung with stations. Source: `programme-ours`.
const FEW_PAIRS: u8 = 2;
/// Pairs up to which stations are added. Source: `programme-ours`.
pub(crate) const FULL_PAIRS: u8 = 5;
/// Steps of a brisk station in s, the larger tried first. Source: `programme-ours`.
const LONGER_S: [u32; 3] = [30, 15, 5];
/// Brisk stations are lengthened to this multiple of their first time before anything gets harder.
/// Source: `programme-ours`.
const LONGER_FIRST: u32 = 2;
/// Step of an easy station in s. Source: `programme-ours`.
const SHORTER_S: u32 = 15;
/// Steps of hardness: share of the room in METs that the mean of a round may use, per cent. Source: `programme-ours`.
pub(crate) const HARDNESS_PCT: [u32; 3] = [80, 90, 100];
/// Steps of a warm-up without stations, s, and how many. Source: `programme-ours`.
const WARM_UP_STEP_S: u32 = 120;
const WARM_UP_STEPS: u32 = 3;

/// The shape.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Shape {
    /// Pairs of a brisk and an easy station in the round.
    pub(crate) pairs: u8,
    /// Pairs of them that come once more.
    pub(crate) again: u8,
    /// Brisk stations, s.
    pub(crate) brisk_s: u32,
    /// Easy stations, s.
    pub(crate) easy_s: u32,
    /// Step of hardness.
    pub(crate) hard: usize,
    /// Warm-up beyond the service's length, s.
    pub(crate) longer_warm_up_s: u32,
}

impl Shape {
    /// Warm-up and cool-down alone.
    pub(crate) const fn first(lengths: &SessionLengths) -> Self {
        Self {
            pairs: 0,
            again: 0,
            brisk_s: lengths.cardiovascular_s.first_s,
            easy_s: lengths.active_recovery_s.first_s,
            hard: 0,
            longer_warm_up_s: 0,
        }
    }

    /// The next shapes that may be tried, in order: the ladder's own step first, smaller steps of it, then the levers
    /// that would follow.
    pub(crate) fn next(self, service: &Service, stations: bool) -> Vec<(Lever, Self)> {
        if !stations {
            return self.longer_warm_up();
        }
        let mut list = self.more_stations();
        let first = service.lengths.cardiovascular_s.first_s;
        let most = service.lengths.cardiovascular_s.most_s;
        list.extend(self.longer(most.min(first.saturating_mul(LONGER_FIRST))));
        list.extend(self.shorter(service.lengths.active_recovery_s.least_s));
        list.extend(self.harder());
        list.extend(self.once_more());
        list.extend(self.longer(most));
        list.dedup();
        list
    }

    fn longer_warm_up(self) -> Vec<(Lever, Self)> {
        let longer_warm_up_s = self.longer_warm_up_s + WARM_UP_STEP_S;
        if longer_warm_up_s > WARM_UP_STEP_S * WARM_UP_STEPS {
            return Vec::new();
        }
        vec![(
            Lever::LongerWarmUp,
            Self {
                longer_warm_up_s,
                ..self
            },
        )]
    }

    fn more_stations(self) -> Vec<(Lever, Self)> {
        let with = |pairs: u8| Self { pairs, ..self };
        if self.pairs == 0 {
            return (1..=FEW_PAIRS)
                .rev()
                .map(|pairs| (Lever::FewStations, with(pairs)))
                .collect();
        }
        if self.pairs < FULL_PAIRS && self.again == 0 {
            return vec![(Lever::OneMorePair, with(self.pairs + 1))];
        }
        Vec::new()
    }

    fn longer(self, most_s: u32) -> Vec<(Lever, Self)> {
        if self.pairs == 0 {
            return Vec::new();
        }
        LONGER_S
            .iter()
            .map(|step| self.brisk_s + step)
            .filter(|brisk_s| *brisk_s <= most_s)
            .map(|brisk_s| (Lever::LongerBrisk, Self { brisk_s, ..self }))
            .collect()
    }

    fn shorter(self, least_s: u32) -> Vec<(Lever, Self)> {
        let easy_s = self.easy_s.saturating_sub(SHORTER_S).max(least_s);
        if self.pairs == 0 || easy_s >= self.easy_s {
            return Vec::new();
        }
        vec![(Lever::ShorterEasy, Self { easy_s, ..self })]
    }

    fn harder(self) -> Vec<(Lever, Self)> {
        if self.pairs == 0 || self.hard + 1 >= HARDNESS_PCT.len() {
            return Vec::new();
        }
        let hard = self.hard + 1;
        vec![(Lever::Harder, Self { hard, ..self })]
    }

    fn once_more(self) -> Vec<(Lever, Self)> {
        if self.pairs < 2 || self.again >= self.pairs {
            return Vec::new();
        }
        let again = self.again + 1;
        vec![(Lever::SecondRound, Self { again, ..self })]
    }

    /// Stations in the whole session.
    pub(crate) fn stations(self) -> u32 {
        2 * (u32::from(self.pairs) + u32::from(self.again))
    }

    /// Length of the conditioning part with its change-overs, s.
    pub(crate) fn conditioning_s(self, change_over_s: u32) -> u32 {
        (u32::from(self.pairs) + u32::from(self.again)) * (self.brisk_s + self.easy_s)
            + self.stations() * change_over_s
    }

    /// In one sentence, for a rung that is told in outline.
    pub(crate) fn words(self, lever: Lever) -> String {
        let brisk = self.brisk_s;
        match lever {
            Lever::WarmUpAlone => "Warm-up and cool-down alone.".to_owned(),
            Lever::LongerWarmUp => {
                format!(
                    "Warm-up and cool-down alone, {} minutes longer.",
                    self.longer_warm_up_s / 60
                )
            }
            Lever::FewStations => {
                format!(
                    "The first {} brisk and easy stations in turns.",
                    self.stations()
                )
            }
            Lever::OneMorePair => {
                format!("One brisk and one easy station more: {}.", self.stations())
            }
            Lever::LongerBrisk => format!("Brisk stations of {brisk} seconds."),
            Lever::ShorterEasy => format!("Easy stations of {} seconds.", self.easy_s),
            Lever::Harder => "Harder variants of the same stations, the same time.".to_owned(),
            Lever::SecondRound => {
                format!(
                    "Once more round, the first {} stations.",
                    2 * u32::from(self.again)
                )
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_each_step_moves_one_lever() {
        let service = Service::cautious();
        let mut shape = Shape::first(&service.lengths);
        let mut count = 1;
        while let Some((_, next)) = shape.next(&service, true).first().copied() {
            let moved = [
                next.pairs != shape.pairs,
                next.again != shape.again,
                next.brisk_s != shape.brisk_s,
                next.easy_s != shape.easy_s,
                next.hard != shape.hard,
            ];
            assert_eq!(
                moved.iter().filter(|one| **one).count(),
                1,
                "{shape:?} to {next:?}"
            );
            shape = next;
            count += 1;
        }
        assert_eq!(shape.again, FULL_PAIRS);
        assert!(count >= 12, "{count} rungs");
    }
}
