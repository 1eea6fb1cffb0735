//! An independent checker of what `limits` and `programme` print.
//!
//! It reads only the printed JSON, the case as JSON, the service file, the exercise files and the register of sources. It is a second
//! reading of the clinical rules with numbers of its own and shares no code with the domain crate, so that a slip in one of
//! the two shows. Every rule has a name; a test breaks a good answer on purpose for each and expects to be told.

mod body;
mod growth;
mod heart;
mod home;
mod library;
mod load;
mod offered;
mod peak;
mod pulse;
mod readings;
mod reasons;
mod record;
mod session;
mod settings;
mod stations;
mod today;

pub use library::Library;
pub use settings::Settings;

use record::Record;
use serde_json::Value;

/// Every rule of the checker, by the name that a fault carries.
pub const RULES: &[&str] = &[
    // What may be done today, and what must be known before a signature.
    "today/absolute",
    "today/reading",
    "today/symptom",
    "today/examined",
    "today/status",
    "today/class-iv",
    "today/infarction",
    "today/agreement",
    "home/class",
    "home/watched",
    "signing/unanswered",
    "signing/device-rate",
    // Pulse.
    "pulse/no-target",
    "pulse/order",
    "pulse/reserve",
    "pulse/peak",
    "ceiling/device",
    "ceiling/ischaemia",
    "ceiling/tested-peak",
    "ceiling/kind",
    "ceiling/value",
    // Load, risk, effort, balance.
    "load/order",
    "load/low",
    "load/band",
    "load/station",
    "load/capacity",
    "risk/high",
    "risk/low",
    "effort/band",
    "balance/level",
    // Reasons.
    "because/source",
    "because/missing",
    "settings/named",
    // A programme as a whole.
    "programme/decision",
    "programme/sums",
    "programme/proof",
    "programme/growth",
    "programme/times",
    "session/order",
    "session/warm-up",
    "session/cool-down",
    "session/length",
    "session/cool-down-arms",
    "session/change-over",
    // Stations beside each other.
    "stations/turns",
    "stations/times",
    "stations/muscles",
    "stations/arms",
    "stations/repeats",
    "stations/posture",
    "stations/capacity",
    "stations/mets",
    "stations/mean",
    // What is offered.
    "offered/known",
    "offered/cost",
    "offered/body",
    "offered/arms-healing",
    "offered/balance",
    "offered/capacity",
    "offered/place",
    "offered/things",
    // The heart.
    "heart/none",
    "heart/parameters",
    "heart/prediction",
    "heart/peak",
    "heart/ceiling",
    "heart/band-top",
    "heart/chance",
    "heart/warm-up",
    "heart/cool-down",
];

/// One thing that does not hold.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// The rule of the checker, one of [`RULES`].
    pub rule: &'static str,
    /// What was found.
    pub text: String,
}

/// What was found wrong so far.
#[derive(Default)]
struct Faults(Vec<Fault>);

impl Faults {
    /// Notes a fault unless the condition holds.
    fn expect(&mut self, holds: bool, rule: &'static str, text: impl FnOnce() -> String) {
        debug_assert!(RULES.contains(&rule), "{rule} is not listed");
        if !holds {
            self.0.push(Fault { rule, text: text() });
        }
    }
}

/// Checks what `limits --json` printed for a case under the settings of a service.
pub fn check_limits(
    library: &Library,
    settings: &Settings,
    case: &Value,
    limits: &Value,
) -> Vec<Fault> {
    let record = Record::new(case, limits, settings);
    let mut faults = Faults::default();
    check_name(settings, limits, &mut faults);
    today::check(&record, limits, &mut faults);
    home::check(&record, limits, &mut faults);
    pulse::check(&record, limits, &mut faults);
    load::check(&record, limits, &mut faults);
    reasons::check(library, limits, &mut faults);
    faults.0
}

/// Checks what `programme --json` printed for a case, given what `limits --json` printed for it.
pub fn check_programme(
    library: &Library,
    settings: &Settings,
    case: &Value,
    limits: &Value,
    programme: &Value,
) -> Vec<Fault> {
    let record = Record::new(case, limits, settings);
    let mut faults = Faults::default();
    check_name(settings, programme, &mut faults);
    session::check_decision(limits, programme, &mut faults);
    growth::check(&record, limits, programme, &mut faults);
    let body = body::restrictions(&record, limits);
    for stage in list(programme, "stages") {
        session::check(&record, limits, stage, &mut faults);
        stations::check(library, &record, limits, stage, &mut faults);
        offered::check(library, &record, &body, limits, stage, &mut faults);
        heart::check(
            &record,
            limits,
            stage,
            list(programme, "findings"),
            &mut faults,
        );
        reasons::check_list(library, stage, &mut faults);
    }
    faults.0
}

/// An answer names the service whose settings it was made under.
fn check_name(settings: &Settings, answer: &Value, faults: &mut Faults) {
    let name = word(answer, "service");
    faults.expect(name == settings.name, "settings/named", || {
        format!(
            "made for '{name}', the settings are those of '{}'",
            settings.name
        )
    });
}

/// The entries of a list; none where there is no list.
fn list<'a>(value: &'a Value, key: &str) -> &'a [Value] {
    value[key].as_array().map_or(&[], Vec::as_slice)
}

/// A number of a table.
fn number(value: &Value, key: &str) -> Option<f64> {
    value[key].as_f64()
}

/// A word of a table; empty where there is none.
fn word<'a>(value: &'a Value, key: &str) -> &'a str {
    value[key].as_str().unwrap_or("")
}
