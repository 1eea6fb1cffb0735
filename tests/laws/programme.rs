//! Whole chains: for every invented person the programme holds the limits, checked anew from the exercise data.

use rehab::assess;
use rehab::assessed::{Assessed, CeilingKind, Decision};
use rehab::assessment::{Case, PlaceKind};
use rehab::evidence::{Finding, Value};
use rehab::programme::{
    ArmHeight, Choices, Exercises, Phase, Plan, Posture, RestrictionEffect, Segment, SegmentKind,
    Stage, Variant, VariantRef, composer, plan_with, rungs,
};
use rehab::service::Service;
use tests::{RANDOM_DAY, random_case};

/// How many invented people are planned for.
const CHAINS: u64 = 400;
/// How many invented people are tried for a first rung.
const FIRST_RUNGS: u64 = 2_000;
/// Room under a hard ceiling, in bpm, below which the model may find nothing that fits.
const CLOSE_BPM: f64 = 15.0;
/// Rounding of a sum of METs.
const METS_ROUNDING: f64 = 1e-6;
/// How far the predicted pulse may fall on the way up or rise on the way down, bpm: half of what a count over 15 s can
/// tell apart (one beat is 4 a minute), so nobody who counts sees a valley or a hill.
const UNSEEN_BPM: f64 = 2.0;

/// The warm-up ends within this of the training band. Source: thow-2006 (secondary).
const WARM_UP_WITHIN_BPM: f64 = 20.0;
/// People whose rungs are counted as proved or not, and the least share: well under the 96 per cent that were
/// measured.
const PROVED_PEOPLE: u64 = 200;
const PROVED_LEAST_PCT: usize = 75;

struct Chain {
    seed: u64,
    case: Case,
    plan: Plan,
}

fn chain(seed: u64, service: &Service, exercises: &Exercises, stage: u16) -> Chain {
    chain_with_findings(seed, service, exercises, stage).0
}

fn chain_with_findings(
    seed: u64,
    service: &Service,
    exercises: &Exercises,
    stage: u16,
) -> (Chain, Vec<Finding>) {
    let case = random_case(seed);
    let choices = Choices {
        stage,
        ..Choices::none()
    };
    let (plan, findings) = plan_with(&case, service, exercises, RANDOM_DAY, &choices);
    (Chain { seed, case, plan }, findings)
}

fn chains() -> impl Iterator<Item = (Chain, Service, Exercises)> {
    let service = Service::cautious();
    let exercises = formats::exercises().expect("the library is read");
    (0..CHAINS).map(move |seed| {
        let stage = 1 + (seed % 6) as u16;
        (
            chain(seed, &service, &exercises, stage),
            service.clone(),
            exercises.clone(),
        )
    })
}

const fn is_station(segment: &Segment) -> bool {
    matches!(
        segment.kind,
        SegmentKind::Cardiovascular | SegmentKind::ActiveRecovery
    )
}

fn stations(stage: &Stage) -> Vec<&Segment> {
    stage
        .segments
        .iter()
        .filter(|segment| is_station(segment))
        .collect()
}

fn seconds(stage: &Stage, phase: Phase) -> u32 {
    let of_phase = stage
        .segments
        .iter()
        .filter(|segment| segment.phase == phase);
    of_phase.map(|segment| segment.duration_ms).sum::<u32>() / 1000
}

fn variant_of<'a>(exercises: &'a Exercises, segment: &Segment) -> Option<&'a Variant> {
    Some(
        exercises
            .find(segment.doing.as_ref()?)
            .expect("what is planned is in the library")
            .1,
    )
}

#[test]
fn law_stages_stand_only_where_the_decision_is_to_exercise() {
    let mut without = 0;
    for (chain, ..) in chains() {
        if chain.plan.assessed.screening.decision != Decision::Exercise {
            assert!(chain.plan.stages.is_empty(), "{}", chain.seed);
            without += 1;
        }
    }
    assert!(without > 50, "the people must hold such: {without}");
}

#[test]
fn law_every_session_has_its_warm_up_and_its_cool_down() {
    let mut seen = 0;
    for (chain, service, _) in chains() {
        for stage in &chain.plan.stages {
            seen += 1;
            let order: Vec<Phase> = stage.segments.iter().map(|segment| segment.phase).collect();
            assert!(order.is_sorted(), "{} {:?}", chain.seed, order);
            let lengths = &service.lengths;
            assert!(
                seconds(stage, Phase::WarmUp) >= lengths.warm_up_s,
                "{} warm-up",
                chain.seed
            );
            assert!(
                seconds(stage, Phase::CoolDown) >= lengths.cool_down_s,
                "{} cool-down",
                chain.seed
            );
            assert!(
                stage.duration_ms() <= u64::from(lengths.session_max_s) * 1000,
                "{}",
                chain.seed
            );
        }
    }
    assert!(seen > 200, "the people must hold such: {seen}");
}

#[test]
fn law_no_station_is_heavier_than_this_persons_limit() {
    for (chain, ..) in chains() {
        let limits = &chain.plan.assessed.limits;
        for stage in &chain.plan.stages {
            let list = stations(stage);
            for station in &list {
                let watched = chain.case.watched.iter().any(|one| {
                    station.doing.as_ref().is_some_and(|doing| {
                        doing.exercise == one.exercise && doing.variant == one.variant
                    })
                });
                let high = limits.mets_station_high.to_mets() + METS_ROUNDING;
                assert!(
                    station.mets <= high || watched,
                    "{} {:?}",
                    chain.seed,
                    station
                );
            }
            let whole: f64 = list.iter().map(|one| f64::from(one.duration_ms)).sum();
            let load: f64 = list
                .iter()
                .map(|one| one.mets * f64::from(one.duration_ms))
                .sum();
            if whole > 0.0 && !limits.band_binds_station {
                assert!(
                    load / whole <= limits.mets.high.to_mets() + METS_ROUNDING,
                    "{}",
                    chain.seed
                );
            }
        }
    }
}

#[test]
fn law_no_predicted_pulse_passes_a_hard_ceiling_or_a_measured_peak() {
    let (mut hard, mut measured) = (0, 0);
    for (chain, ..) in chains() {
        let limits = &chain.plan.assessed.limits;
        for stage in &chain.plan.stages {
            if !limits.pulse_model {
                assert!(
                    stage.segments.iter().all(|one| one.predicted_hr.is_none()),
                    "{}",
                    chain.seed
                );
            }
            let ceiling = limits.ceiling.filter(|one| one.kind == CeilingKind::Hard);
            let rate = match (ceiling, limits.never_passed) {
                (Some(ceiling), _) => ceiling.rate,
                (None, Some(peak)) => {
                    measured += 1;
                    peak
                }
                (None, None) => continue,
            };
            hard += 1;
            for segment in &stage.segments {
                assert!(
                    segment.predicted_hr.is_none_or(|bpm| bpm <= rate.to_bpm()),
                    "{}",
                    chain.seed
                );
            }
            assert!(
                stage
                    .predicted
                    .ceiling_probability
                    .is_none_or(|p| p <= 0.05),
                "{}",
                chain.seed
            );
        }
    }
    println!("{hard} rungs under a rate, {measured} of them under a measured peak only");
    assert!(
        hard > 20 && measured > 0,
        "the people must hold such: {hard}, {measured}"
    );
}

#[test]
fn law_the_pulse_rises_through_the_warm_up_and_falls_through_the_cool_down() {
    let rates = |stage: &Stage, phase: Phase| -> Vec<f64> {
        let of_phase = stage.segments.iter().filter(|one| one.phase == phase);
        of_phase.filter_map(|one| one.predicted_hr).collect()
    };
    let mut seen = 0;
    for (chain, ..) in chains() {
        for stage in &chain.plan.stages {
            let (mut highest, mut lowest) = (f64::NEG_INFINITY, f64::INFINITY);
            for bpm in rates(stage, Phase::WarmUp) {
                highest = highest.max(bpm);
                let fall = highest - bpm;
                assert!(fall <= UNSEEN_BPM, "{} falls by {fall}", chain.seed);
                seen += 1;
            }
            for bpm in rates(stage, Phase::CoolDown) {
                lowest = lowest.min(bpm);
                let rise = bpm - lowest;
                assert!(rise <= UNSEEN_BPM, "{} rises by {rise}", chain.seed);
            }
        }
    }
    assert!(seen > 2_000, "the people must hold such: {seen}");
}

/// The warm-up ends within 20 of the training band (thow-2006, secondary), or the person's practitioner is told that nothing
/// open comes nearer. Those told are few.
#[test]
fn law_the_warm_up_ends_near_the_training_band_or_it_is_told() {
    let service = Service::cautious();
    let exercises = formats::exercises().expect("the library is read");
    let (mut seen, mut far) = (0, 0);
    for seed in 0..CHAINS {
        let stage = 1 + (seed % 6) as u16;
        let (chain, findings) = chain_with_findings(seed, &service, &exercises, stage);
        let Some(band) = chain.plan.assessed.limits.hr else {
            continue;
        };
        let told = findings.iter().any(|one| one.rule.0 == "warm-up/near-band");
        for stage in &chain.plan.stages {
            let mut warm_up = stage.segments.iter();
            let end = warm_up.rfind(|one| one.phase == Phase::WarmUp);
            let Some(bpm) = end.and_then(|one| one.predicted_hr) else {
                continue;
            };
            seen += 1;
            if bpm < band.low.to_bpm() - WARM_UP_WITHIN_BPM {
                far += 1;
                let low = band.low.to_bpm();
                assert!(told, "{seed} ends at {bpm}, the band begins at {low}");
            }
        }
    }
    println!(
        "{far} of {seen} warm-ups end further than {WARM_UP_WITHIN_BPM} from the band, each told"
    );
    assert!(seen > 100 && far * 10 < seen, "{far} of {seen}");
}

/// Rungs with stations whose list is proved to be the best there is.
#[test]
fn law_most_rungs_are_proved() {
    let service = Service::cautious();
    let exercises = formats::exercises().expect("the library is read");
    let (mut all, mut proved) = (0, 0);
    for seed in 0..PROVED_PEOPLE {
        let case = random_case(seed);
        let assessed = assess(&case, &service, RANDOM_DAY);
        let (list, _) = rungs(&case, &service, &exercises, &assessed, &Choices::none(), 6);
        for rung in list.iter().filter(|rung| !stations(&rung.stage).is_empty()) {
            all += 1;
            proved += usize::from(rung.stage.proven);
            let closed = rung.stage.objective == rung.stage.bound;
            assert!(
                !rung.stage.proven || closed,
                "{seed} rung {}",
                rung.stage.number
            );
        }
    }
    println!(
        "{proved} of {all} rungs with stations proved: {:.1} per cent",
        100.0 * proved as f64 / all as f64
    );
    assert!(all > 100, "the people must hold such: {all}");
    assert!(proved * 100 >= all * PROVED_LEAST_PCT, "{proved} of {all}");
}

/// Brisk stations whose pulse is predicted to end in the training band. A programme that is gentle where it need not be
/// would leave most of them below it; the hard rules leave some.
#[test]
fn law_two_in_five_brisk_stations_end_in_the_training_band() {
    let (mut all, mut within) = (0, 0);
    for (chain, ..) in chains() {
        let Some(band) = chain.plan.assessed.limits.hr else {
            continue;
        };
        for stage in &chain.plan.stages {
            let brisk = stage
                .segments
                .iter()
                .filter(|one| one.kind == SegmentKind::Cardiovascular);
            for bpm in brisk.filter_map(|one| one.predicted_hr) {
                all += 1;
                within += u32::from((band.low.to_bpm()..=band.high.to_bpm()).contains(&bpm));
            }
        }
    }
    println!("{within} of {all} brisk stations end in the band");
    assert!(all > 400, "the people must hold such: {all}");
    assert!(5 * within >= 2 * all, "{within} of {all}");
}

/// The margin under a hard ceiling is 1.645 times the largest error that a session can have; no error in it is larger.
#[test]
fn law_no_error_is_larger_than_the_margin_counts_with() {
    let mut held = 0;
    for (chain, ..) in chains() {
        for stage in &chain.plan.stages {
            let reason = stage
                .because
                .iter()
                .find(|one| one.rule.0 == "response/hard-ceiling");
            let Some(reason) = reason else { continue };
            let number = |name: &str| {
                let input = reason.inputs.iter().find(|one| one.name == name);
                match input.map(|one| &one.value) {
                    Some(Value::Number(value, _)) => *value,
                    other => panic!("{}: {name} is {other:?}", chain.seed),
                }
            };
            let (largest, most) = (number("sd_bpm"), number("most_bpm"));
            for segment in &stage.segments {
                let sd = segment
                    .predicted_sd
                    .expect("a hard ceiling has a prediction");
                let mean = segment
                    .predicted_hr
                    .expect("a hard ceiling has a prediction");
                assert!(sd <= largest + 1e-9, "{}: {sd} above {largest}", chain.seed);
                assert!(mean <= most + 1e-9, "{}: {mean} above {most}", chain.seed);
                held += 1;
            }
        }
    }
    assert!(held > 500, "only {held} moments under a hard ceiling");
}

/// A restriction of the data holds while this person has its reason and its weeks are not over.
fn is_forbidden(assessed: &Assessed, variant: &Variant) -> bool {
    variant.restrictions.iter().any(|restriction| {
        restriction.effect == RestrictionEffect::Exclude
            && restriction
                .above_weight_g
                .is_none_or(|above| variant.weight_g.is_some_and(|g| g > above))
            && assessed.limits.adaptations.iter().any(|adaptation| {
                adaptation.reason == restriction.reason
                    && match (restriction.weeks, adaptation.weeks_since) {
                        (Some(weeks), Some(since)) => since < weeks,
                        _ => true,
                    }
            })
    })
}

#[test]
fn law_nothing_this_body_must_not_do_is_planned() {
    for (chain, _, exercises) in chains() {
        for segment in chain.plan.stages.iter().flat_map(|stage| &stage.segments) {
            let Some(variant) = variant_of(&exercises, segment) else {
                continue;
            };
            let what = || format!("{} {:?}", chain.seed, segment.doing);
            assert!(!is_forbidden(&chain.plan.assessed, variant), "{}", what());
            assert!(
                variant.balance <= chain.plan.assessed.limits.balance_max,
                "balance {}",
                what()
            );
        }
    }
}

/// What is excluded is not among the composer's candidates at all: no objective, pin or relaxed rule can bring it back.
#[test]
fn law_the_composer_never_sees_an_excluded_exercise() {
    let service = Service::cautious();
    let exercises = formats::exercises().expect("the library is read");
    let (mut seen, mut excluded) = (0, 0);
    for seed in 0..CHAINS {
        let case = random_case(seed);
        let assessed = assess(&case, &service, RANDOM_DAY);
        let choices = Choices::none();
        let (rungs, _) = rungs(&case, &service, &exercises, &assessed, &choices, 3);
        for instance in rungs.iter().filter_map(|rung| rung.instance.as_ref()) {
            for candidate in &instance.candidates {
                let (_, variant) = exercises
                    .find(&candidate_ref(candidate))
                    .expect("a candidate is in the library");
                assert!(
                    !is_forbidden(&assessed, variant),
                    "{seed}: {}",
                    candidate.id
                );
                seen += 1;
            }
        }
        let variants = exercises.iter().flat_map(|exercise| &exercise.variants);
        excluded += variants
            .filter(|variant| is_forbidden(&assessed, variant))
            .count();
    }
    assert!(seen > 10_000, "only {seen} candidates");
    assert!(excluded > 1_000, "only {excluded} exclusions");
}

fn candidate_ref(candidate: &composer::Candidate) -> VariantRef {
    VariantRef {
        exercise: candidate.exercise.clone(),
        variant: candidate.variant.clone(),
    }
}

#[test]
fn law_every_place_is_one_of_this_home_and_suits_what_is_done_there() {
    for (chain, _, exercises) in chains() {
        let places = &chain.case.home.places;
        for segment in chain.plan.stages.iter().flat_map(|stage| &stage.segments) {
            let Some(index) = segment.place else { continue };
            let place = places
                .get(index)
                .unwrap_or_else(|| panic!("{}: no such place", chain.seed));
            let Some(variant) = variant_of(&exercises, segment) else {
                continue;
            };
            // A clear floor is beside every place.
            let suits =
                variant.places.contains(&place.kind) || variant.places.contains(&PlaceKind::Floor);
            assert!(
                suits,
                "{} {:?} at {}",
                chain.seed, segment.doing, place.name
            );
            assert!(
                !variant.needs_rail || place.rail == Some(true),
                "{} rail",
                chain.seed
            );
            assert!(
                !variant.needs_arms || place.arms == Some(true),
                "{} arms of the chair",
                chain.seed
            );
            assert!(
                !variant.needs_no_arms || place.arms == Some(false),
                "{} {:?} beside the arms of the chair",
                chain.seed,
                segment.doing
            );
        }
    }
}

/// A thigh over the edge of a seat, or a hand beside it, is for a chair known to be without arms.
#[test]
fn law_beside_the_seat_there_is_room_only_without_arms() {
    let service = Service::cautious();
    let exercises = formats::exercises().expect("the library is read");
    let mut seen = [0; 3];
    for seed in 0..CHAINS {
        for (at, arms) in [Some(true), None, Some(false)].into_iter().enumerate() {
            let mut case = random_case(seed);
            for place in &mut case.home.places {
                place.arms = arms;
            }
            let choices = Choices {
                stage: 3,
                ..Choices::none()
            };
            let (plan, _) = plan_with(&case, &service, &exercises, RANDOM_DAY, &choices);
            let segments = plan.stages.iter().flat_map(|stage| &stage.segments);
            seen[at] += segments
                .filter_map(|one| variant_of(&exercises, one))
                .filter(|variant| variant.needs_no_arms)
                .count();
        }
    }
    assert_eq!((seen[0], seen[1]), (0, 0));
    assert!(seen[2] > 10, "the people must hold such: {}", seen[2]);
}

/// With one place and nothing to sit on or to hold, who cannot stand freely is told which reason would have to give way.
#[test]
fn law_where_no_warm_up_is_open_it_is_told_what_would_have_to_give_way() {
    let service = Service::cautious();
    let exercises = formats::exercises().expect("the library is read");
    let mut told = 0;
    for seed in 0..CHAINS {
        let mut case = random_case(seed);
        case.home.places.truncate(1);
        let Some(place) = case.home.places.first_mut() else {
            continue;
        };
        place.kind = PlaceKind::Step;
        (place.rail, place.arms, place.height_cm) = (None, None, None);
        let choices = Choices::none();
        let (plan, findings) = plan_with(&case, &service, &exercises, RANDOM_DAY, &choices);
        let why = findings
            .iter()
            .find(|one| one.rule.0 == "ladder/no-warm-up");
        let Some(why) = why.filter(|one| one.text.contains("No warm-up exercise is open")) else {
            continue;
        };
        assert!(plan.stages.is_empty(), "{seed}");
        assert!(
            why.text.contains("If this gave way") && why.text.contains(" in the home"),
            "{seed}: {}",
            why.text
        );
        told += 1;
    }
    assert!(told > 20, "the people must hold such: {told}");
}

#[test]
fn law_nothing_done_sitting_is_said_to_train_balance() {
    let mut said = 0;
    for (chain, _, exercises) in chains() {
        for stage in &chain.plan.stages {
            let all = stations(stage);
            for one in stage
                .because
                .iter()
                .filter(|one| one.text.contains("trains balance"))
            {
                let number = one.text.trim_start_matches("Station ").split(':').next();
                let number: usize = number.and_then(|text| text.parse().ok()).expect("a number");
                let variant = variant_of(&exercises, all[number - 1]).expect("a station is done");
                assert_ne!(variant.posture, Posture::Seated, "{}", one.text);
                said += 1;
            }
        }
    }
    assert!(said > 20, "{said}");
}

#[test]
fn law_raised_arms_and_the_same_exercise_are_never_neighbours() {
    for (chain, _, exercises) in chains() {
        for stage in &chain.plan.stages {
            for pair in stations(stage).windows(2) {
                let [one, next] = pair else { continue };
                let above = |segment: &Segment| {
                    variant_of(&exercises, segment)
                        .is_some_and(|variant| variant.arms == ArmHeight::AboveShoulder)
                };
                assert!(!(above(one) && above(next)), "{}", chain.seed);
                let id =
                    |segment: &Segment| segment.doing.as_ref().map(|doing| doing.exercise.clone());
                assert!(id(one) != id(next), "{} {:?}", chain.seed, id(one));
            }
        }
    }
}

#[test]
fn law_from_one_rung_to_the_next_the_dose_grows_by_the_cap_or_one_pair() {
    for (chain, service, _) in chains() {
        for pair in chain.plan.stages.windows(2) {
            let [now, next] = pair else { continue };
            let week = |stage: &Stage| {
                let load: f64 = stations(stage)
                    .iter()
                    .map(|one| one.mets_low * f64::from(one.duration_ms))
                    .sum();
                load * f64::from(stage.sessions_per_week)
            };
            let few_more =
                stations(next).len() <= stations(now).len() + 2 || stations(now).is_empty();
            let within =
                week(next) <= week(now) * (1.0 + service.growth_cap_pct / 100.0) + METS_ROUNDING;
            assert!(few_more || within, "{} rung {}", chain.seed, next.number);
        }
    }
}

/// Somebody with a chair, or of whose home nothing is known, and 2.5 METs or more.
fn could_have_one(chain: &Chain) -> bool {
    let chair = chain.case.home.places.is_empty()
        || chain
            .case
            .home
            .places
            .iter()
            .any(|place| place.kind == PlaceKind::Chair);
    let capacity = chain.plan.assessed.capacity.used.as_ref();
    chain.plan.assessed.screening.decision == Decision::Exercise
        && chair
        && capacity.is_some_and(|used| used.mets.to_mets() >= 2.5)
}

/// The aim is that less than 2 in 100 are left without; it is met but for people whose hard ceiling lies so close to
/// their resting pulse that even sitting work may pass it. These are counted and printed, and told to ask the doctor.
#[test]
fn law_nearly_everyone_who_may_exercise_gets_a_programme() {
    let service = Service::cautious();
    let exercises = formats::exercises().expect("the library is read");
    let (mut all, mut close, mut without) = (0, 0, Vec::new());
    for seed in 0..FIRST_RUNGS {
        let (chain, findings) = chain_with_findings(seed, &service, &exercises, 1);
        if !could_have_one(&chain) {
            continue;
        }
        all += 1;
        if !chain.plan.stages.is_empty() {
            continue;
        }
        assert!(!findings.is_empty(), "{seed}: refused without a reason");
        match findings.iter().any(|one| one.rule.0 == "ladder/no-warm-up")
            && room_bpm(&chain) < CLOSE_BPM
        {
            true => close += 1,
            false => without.push(seed),
        }
    }
    println!(
        "{close} of {all} have a hard ceiling too close to rest; others without a programme: {without:?}"
    );
    assert!(all > 300, "the people must hold such: {all}");
    assert!(close * 100 < 3 * all, "3 in 100 at most: {close} of {all}");
    assert!(
        without.len() * 50 < all,
        "2 in 100 at most: {without:?} of {all}"
    );
}

/// Beats between resting pulse and a hard ceiling.
fn room_bpm(chain: &Chain) -> f64 {
    let limits = &chain.plan.assessed.limits;
    let hard = limits.ceiling.filter(|one| one.kind == CeilingKind::Hard);
    let room = hard
        .zip(limits.resting_hr)
        .map(|(ceiling, rest)| ceiling.rate.to_bpm() - rest.to_bpm());
    room.unwrap_or(f64::INFINITY)
}

#[test]
fn law_the_same_record_gives_the_same_programme() {
    let service = Service::cautious();
    let exercises = formats::exercises().expect("the library is read");
    for seed in 0..60 {
        let (one, again) = (
            chain(seed, &service, &exercises, 3),
            chain(seed, &service, &exercises, 3),
        );
        assert_eq!(one.plan, again.plan, "{seed}");
    }
}
