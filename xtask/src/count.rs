//! Reads from a test runner's output how many tests passed and failed.

/// Tests, or single checks that count like one.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Count {
    pub(crate) passed: usize,
    pub(crate) failed: usize,
}

impl Count {
    /// One check that either holds or does not.
    pub(crate) fn one(holds: bool) -> Count {
        Count {
            passed: usize::from(holds),
            failed: usize::from(!holds),
        }
    }

    pub(crate) fn add(&mut self, other: Count) {
        self.passed += other.passed;
        self.failed += other.failed;
    }
}

/// The count in a nextest summary, such as `Summary [ 0.01s] 5 tests run: 3 passed (1 slow), 2 failed, 1 timed out, 0 skipped`.
pub(crate) fn of_nextest(printed: &str) -> Option<Count> {
    let line = printed
        .lines()
        .rev()
        .find(|line| line.contains("Summary [") && line.contains(" run: "))?;
    let (_, kinds) = line.split_once(" run: ")?;
    let mut count = Count::default();
    for kind in without_brackets(kinds).split(',') {
        let (number, word) = kind.trim().split_once(' ')?;
        let number: usize = number.parse().ok()?;
        match word.trim() {
            "passed" => count.passed += number,
            "skipped" => {}
            _ => count.failed += number,
        }
    }
    Some(count)
}

/// The sum over all `test result: ok. 3 passed; 0 failed; 0 ignored; ...` lines of the standard test harness.
pub(crate) fn of_harness(printed: &str) -> Option<Count> {
    let mut sum = None;
    for line in printed
        .lines()
        .filter(|line| line.starts_with("test result: "))
    {
        let (_, numbers) = line.split_once(". ")?;
        let mut count = Count::default();
        for part in numbers.split(';') {
            match part.trim().split_once(' ') {
                Some((number, "passed")) => count.passed = number.parse().ok()?,
                Some((number, "failed")) => count.failed = number.parse().ok()?,
                _ => {}
            }
        }
        sum.get_or_insert_with(Count::default).add(count);
    }
    sum
}

fn without_brackets(text: &str) -> String {
    let mut depth = 0_usize;
    let mut kept = String::new();
    for character in text.chars() {
        match character {
            '(' => depth += 1,
            ')' => depth = depth.saturating_sub(1),
            _ if depth == 0 => kept.push(character),
            _ => {}
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::{Count, of_harness, of_nextest};

    #[test]
    fn nextest_counts_every_kind_of_failure() {
        let printed = "        PASS x\n     Summary [   0.012s] 9 tests run: 5 passed (1 slow, 1 leaky), 2 failed, 1 exec failed, 1 timed out, 4 skipped\n";
        assert_eq!(
            of_nextest(printed),
            Some(Count {
                passed: 5,
                failed: 4
            })
        );
        assert_eq!(
            of_nextest("     Summary [   0.1s] 1 test run: 1 passed, 0 skipped"),
            Some(Count {
                passed: 1,
                failed: 0
            })
        );
    }

    #[test]
    fn the_harness_is_summed_over_all_binaries() {
        let printed = "test result: ok. 3 passed; 0 failed; 0 ignored; 0 measured; 0 filtered out; finished in 0.00s\n\
                       test result: FAILED. 1 passed; 2 failed; 0 ignored; 0 measured; 0 filtered out; finished in 0.00s\n";
        assert_eq!(
            of_harness(printed),
            Some(Count {
                passed: 4,
                failed: 2
            })
        );
    }

    #[test]
    fn output_without_a_summary_has_no_count() {
        assert_eq!(of_nextest("error: could not compile"), None);
        assert_eq!(of_harness("error: could not compile"), None);
    }
}
