//! What the composer comes to for invented people, printed and judged by nobody: proofs, nodes, how many brisk stations
//! end in the training band, how warm-ups rise, and who is left without stations.
//!
//! `cargo run --profile checked -p tests --example composed -- 1000` for the first thousand people.

use rehab::assessed::{Assessed, Decision};
use rehab::assessment::{Case, PlaceKind};
use rehab::programme::composer::compose;
use rehab::programme::{Choices, Exercises, Phase, Posture, Rung, SegmentKind, rungs};
use rehab::service::Service;
use std::time::Instant;
use tests::answers::on_all_cores;
use tests::{RANDOM_DAY, random_case};

/// Rungs of a whole ladder.
const RUNGS: u16 = 12;
/// Rungs within which a round of four stations should come.
const SOON: u16 = 6;
/// Stations of such a round.
const ROUND: usize = 4;

/// One person's ladder.
struct Seen {
    could: bool,
    rungs: Vec<RungSeen>,
    findings: String,
    twelve_ms: f64,
}

/// One rung.
struct RungSeen {
    number: u16,
    stations: usize,
    proven: bool,
    nodes: u64,
    solve_ms: f64,
    /// Where the pulse of each brisk station ends: beats below the band (negative) or above it, nought within.
    off_band: Vec<f64>,
    /// METs of each brisk station against the lower end of the METs band.
    off_mets: Vec<f64>,
    /// Largest fall of the predicted pulse from one end of a warm-up segment to a later one.
    fall: f64,
    /// Largest rise of the predicted pulse within a cool-down.
    rise: f64,
    warm_off: f64,
    stretches: usize,
    /// Changes between sitting and standing in the warm-up.
    postures: usize,
}

fn main() {
    let people = std::env::args()
        .nth(1)
        .and_then(|text| text.parse().ok())
        .unwrap_or(1_000);
    let service = Service::cautious();
    let exercises = formats::exercises().expect("the library is read");
    let all: Vec<Seen> = on_all_cores(people, |seed| {
        let case = random_case(seed);
        let assessed = rehab::assess(&case, &service, RANDOM_DAY);
        if assessed.screening.decision != Decision::Exercise {
            return None;
        }
        let started = Instant::now();
        let (list, findings) = rungs(
            &case,
            &service,
            &exercises,
            &assessed,
            &Choices::none(),
            RUNGS,
        );
        let twelve_ms = started.elapsed().as_secs_f64() * 1000.0;
        let findings: Vec<String> = findings.iter().map(|one| one.text.clone()).collect();
        Some(Seen {
            could: could(&case, &assessed),
            rungs: list
                .iter()
                .map(|rung| look(rung, &assessed, &exercises))
                .collect(),
            findings: format!("{seed}: {}", findings.join(" | ")),
            twelve_ms,
        })
    })
    .into_iter()
    .map(|(_, seen)| seen)
    .collect();
    proofs(&all);
    bands(&all);
    warm_ups(&all);
    left_out(&all);
}

fn could(case: &Case, assessed: &Assessed) -> bool {
    let places = &case.home.places;
    let chair = places.is_empty() || places.iter().any(|place| place.kind == PlaceKind::Chair);
    let used = assessed.capacity.used.as_ref();
    chair && used.is_some_and(|used| used.mets.to_mets() >= 2.5)
}

fn look(rung: &Rung, assessed: &Assessed, exercises: &Exercises) -> RungSeen {
    let stage = &rung.stage;
    let limits = &assessed.limits;
    let started = Instant::now();
    let nodes = rung
        .instance
        .as_ref()
        .and_then(|instance| compose(instance).ok())
        .map_or(0, |composed| composed.nodes);
    let solve_ms = started.elapsed().as_secs_f64() * 1000.0;
    let brisk = || {
        let of = |kind| move |one: &&rehab::programme::Segment| one.kind == kind;
        stage
            .segments
            .iter()
            .filter(of(SegmentKind::Cardiovascular))
    };
    let off = |bpm: f64| {
        limits.hr.map(|band| {
            let (low, high) = (band.low.to_bpm(), band.high.to_bpm());
            (bpm - low).min(0.0) + (bpm - high).max(0.0)
        })
    };
    let warm: Vec<f64> = stage
        .segments
        .iter()
        .filter(|one| one.phase == Phase::WarmUp)
        .filter_map(|one| one.predicted_hr)
        .collect();
    let mut fall: f64 = 0.0;
    let mut highest = f64::NEG_INFINITY;
    for bpm in &warm {
        highest = highest.max(*bpm);
        fall = fall.max(highest - bpm);
    }
    let sitting: Vec<bool> = stage
        .segments
        .iter()
        .filter(|one| one.phase == Phase::WarmUp)
        .filter_map(|one| exercises.find(one.doing.as_ref()?))
        .map(|(_, variant)| variant.posture == Posture::Seated)
        .collect();
    let postures = sitting.windows(2).filter(|pair| pair[0] != pair[1]).count();
    let down: Vec<f64> = stage
        .segments
        .iter()
        .filter(|one| one.phase == Phase::CoolDown)
        .filter_map(|one| one.predicted_hr)
        .collect();
    let rise = down
        .windows(2)
        .map(|pair| pair[1] - pair[0])
        .fold(0.0, f64::max);
    RungSeen {
        number: stage.number,
        stations: stage
            .segments
            .iter()
            .filter(|one| {
                matches!(
                    one.kind,
                    SegmentKind::Cardiovascular | SegmentKind::ActiveRecovery
                )
            })
            .count(),
        proven: stage.proven,
        nodes,
        solve_ms,
        off_band: brisk().filter_map(|one| off(one.predicted_hr?)).collect(),
        off_mets: brisk()
            .map(|one| one.mets - limits.mets.low.to_mets())
            .collect(),
        fall,
        rise,
        stretches: stage
            .segments
            .iter()
            .filter(|one| one.phase == Phase::WarmUp && one.kind == SegmentKind::Stretch)
            .count(),
        postures,
        warm_off: warm.last().and_then(|bpm| off(*bpm)).unwrap_or(0.0),
    }
}

fn with_stations(all: &[Seen]) -> Vec<&RungSeen> {
    let rungs = all.iter().flat_map(|seen| &seen.rungs);
    rungs.filter(|rung| rung.stations > 0).collect()
}

fn sorted(mut values: Vec<f64>) -> Vec<f64> {
    values.sort_by(f64::total_cmp);
    values
}

/// Middle, nine of ten, ninety-nine of a hundred, last.
fn spread(values: Vec<f64>) -> String {
    let values = sorted(values);
    let at = |share: f64| {
        let index = (values.len() as f64 * share) as usize;
        values
            .get(index.min(values.len().saturating_sub(1)))
            .copied()
            .unwrap_or(0.0)
    };
    format!(
        "{:.2} / {:.2} / {:.2} / {:.2}",
        at(0.5),
        at(0.9),
        at(0.99),
        at(1.0)
    )
}

fn percent(part: usize, whole: usize) -> String {
    format!(
        "{part} of {whole} ({:.2} per cent)",
        100.0 * part as f64 / whole.max(1) as f64
    )
}

fn proofs(all: &[Seen]) {
    let rungs = with_stations(all);
    let proven = rungs.iter().filter(|rung| rung.proven).count();
    println!("people who may exercise: {}", all.len());
    println!("proven: {}", percent(proven, rungs.len()));
    println!(
        "nodes: {}",
        spread(rungs.iter().map(|one| one.nodes as f64).collect())
    );
    println!(
        "one rung solved, ms: {}",
        spread(rungs.iter().map(|one| one.solve_ms).collect())
    );
    println!(
        "twelve rungs, ms: {}",
        spread(all.iter().map(|one| one.twelve_ms).collect())
    );
}

fn bands(all: &[Seen]) {
    println!(
        "brisk stations: in the band, below, above; middle of METs against the band's lower end"
    );
    for number in 1..=RUNGS {
        let rungs: Vec<&RungSeen> = with_stations(all);
        let rungs: Vec<&&RungSeen> = rungs.iter().filter(|one| one.number == number).collect();
        let off: Vec<f64> = rungs.iter().flat_map(|one| one.off_band.clone()).collect();
        tell_band(
            &format!("rung {number}"),
            &off,
            rungs.iter().flat_map(|one| one.off_mets.clone()).collect(),
        );
    }
    let rungs = with_stations(all);
    let off: Vec<f64> = rungs.iter().flat_map(|one| one.off_band.clone()).collect();
    tell_band(
        "all",
        &off,
        rungs.iter().flat_map(|one| one.off_mets.clone()).collect(),
    );
}

fn tell_band(what: &str, off: &[f64], mets: Vec<f64>) {
    let count = |test: fn(f64) -> bool| off.iter().filter(|one| test(**one)).count();
    let below = sorted(off.iter().copied().filter(|one| *one < 0.0).collect());
    println!(
        "  {what}: {}, below {} (middle {:.1}), above {}; METs {}",
        percent(count(|one| one == 0.0), off.len()),
        below.len(),
        below.get(below.len() / 2).copied().unwrap_or(0.0),
        count(|one| one > 0.0),
        spread(mets),
    );
}

fn warm_ups(all: &[Seen]) {
    let rungs: Vec<&RungSeen> = all.iter().flat_map(|seen| &seen.rungs).collect();
    println!(
        "largest fall in a warm-up, bpm: {}",
        spread(rungs.iter().map(|one| one.fall).collect())
    );
    println!(
        "largest rise in a cool-down, bpm: {}",
        spread(rungs.iter().map(|one| one.rise).collect())
    );
    let without = rungs.iter().filter(|one| one.stretches == 0).count();
    println!(
        "warm-ups without a stretch: {}",
        percent(without, rungs.len())
    );
    println!(
        "changes of posture in a warm-up: {}",
        spread(rungs.iter().map(|one| one.postures as f64).collect())
    );
    println!(
        "end of the warm-up below the band: {}",
        spread(rungs.iter().map(|one| -one.warm_off).collect())
    );
    let near = rungs.iter().filter(|one| one.warm_off >= -20.0).count();
    println!("within 20 bpm: {}", percent(near, rungs.len()));
}

fn left_out(all: &[Seen]) {
    let could: Vec<&Seen> = all.iter().filter(|one| one.could).collect();
    let none: Vec<&&Seen> = could.iter().filter(|one| one.rungs.is_empty()).collect();
    println!("without a first rung: {}", percent(none.len(), could.len()));
    let few = could.iter().filter(|one| {
        let soon = one.rungs.iter().filter(|rung| rung.number <= SOON);
        !one.rungs.is_empty() && soon.map(|rung| rung.stations).max().unwrap_or(0) < ROUND
    });
    let few: Vec<&&Seen> = few.collect();
    println!(
        "under {ROUND} stations in {SOON} rungs: {}",
        percent(few.len(), could.len())
    );
    for one in few {
        println!("  {}", one.findings);
    }
}
