//! The services under which answers are checked: the same file read once by the program and once by the checker.

use crate::checker::Settings;
use crate::tools::root;
use rehab::service::Service;

/// Of ten people one each is answered by the demonstration's service and by those at the ends of the ranges, the others by
/// the built-in cautious one.
const SHARED: usize = 10;

/// A service in both readings.
pub struct Team {
    /// The text of its file.
    pub text: String,
    /// As the program reads it.
    pub service: Service,
    /// As the checker reads it.
    pub settings: Settings,
}

impl Team {
    /// Reads a service file twice.
    ///
    /// # Panics
    /// When the program refuses the file or the checker does not know a key of it.
    pub fn of_text(text: String) -> Self {
        let service = formats::service::read("service.toml", text.as_bytes())
            .unwrap_or_else(|problems| panic!("{problems}"));
        let settings = Settings::read(&text);
        Self {
            text,
            service,
            settings,
        }
    }

    /// The built-in cautious set: a file that sets nothing.
    pub fn cautious() -> Self {
        Self::of_text("name = \"built-in cautious set\"\n".to_owned())
    }
}

/// Every service that answers are checked under, the cautious one first.
///
/// # Panics
/// When a file is missing.
pub fn teams() -> Vec<Team> {
    let files = [
        "data/demo/service.toml",
        "tests/services/loosest.toml",
        "tests/services/strictest.toml",
    ];
    let read = |path: &str| {
        let text = std::fs::read_to_string(root().join(path));
        Team::of_text(text.unwrap_or_else(|error| panic!("{path}: {error}")))
    };
    std::iter::once(Team::cautious())
        .chain(files.map(read))
        .collect()
}

/// The service that answers the person of a seed.
pub fn team_of(teams: &[Team], seed: u64) -> &Team {
    let turn = usize::try_from(seed).unwrap_or(0) % SHARED;
    teams.get(turn).unwrap_or(&teams[0])
}

#[cfg(test)]
mod tests {
    use super::*;
    use formats::tree::Notation;

    #[test]
    fn a_service_written_by_the_program_is_read_alike_by_the_checker() {
        assert_eq!(Team::cautious().service, Service::cautious());
        let all = teams();
        assert_eq!(all.len(), 4);
        for team in all {
            let written = formats::service::write(&team.service, Notation::Toml);
            assert_eq!(Settings::read(&written), team.settings);
        }
    }

    #[test]
    #[should_panic(expected = "the checker does not know the setting `hr_bands_pct`")]
    fn a_setting_that_the_checker_does_not_know_is_not_overlooked() {
        Settings::read("name = \"Invented\"\nhr_bands_pct = [40, 70]\n");
    }
}
