//! More severe is never looser: each direction tried on every invented person it applies to; limits, programme, review.

use crate::further::{looser_programme, looser_review};
use crate::looser::looser;
use crate::{people, service_of};
use jiff::civil::Date;
use rehab::assessment::{
    Case, EventKind, ExaminationSymptom, ExerciseTest, ProcedureKind, TestResult, WalkingAid,
};
use rehab::calendar::{days_after, days_between};
use tests::{Draw, RANDOM_DAY};

/// Of how many people one has the programme made.
const WITH_PROGRAMME: u32 = 4;

/// Tries a change on everybody it applies to; the change says whether it did.
fn never_looser(name: &str, change: impl Fn(&mut Case, &mut Draw) -> bool) {
    let exercises = formats::exercises().expect("the library is read");
    let (mut tried, mut rungs, mut pages) = (0, 0, 0);
    for (seed, case) in people() {
        let mut severer = case.clone();
        if !change(&mut severer, &mut Draw::new(seed ^ 0xA5A5)) {
            continue;
        }
        tried += 1;
        let service = service_of(seed);
        let before = rehab::assess(&case, &service, RANDOM_DAY);
        let after = rehab::assess(&severer, &service, RANDOM_DAY);
        let found = looser(&before, &after);
        assert!(
            found.is_empty(),
            "{name}, person {seed}: {}",
            found.join("; ")
        );
        // A programme takes longer to make than limits do.
        if tried % WITH_PROGRAMME == 0 {
            let (made, found) = looser_programme(&before, (&severer, &after), &service, &exercises);
            assert!(found.is_empty(), "{name}, person {seed}: {found:?}");
            rungs += made;
        }
        let mut draw = Draw::new(seed ^ 0xD1A4);
        let (given, found) =
            looser_review((&case, &before), (&severer, &after), &service, &mut draw);
        assert!(found.is_none(), "{name}, person {seed}: {found:?}");
        pages += u32::from(given);
    }
    println!("{name}: {tried} people, {rungs} rungs, {pages} with a page before");
    assert!(tried > 20, "{name} was tried on {tried} people only");
    assert!(pages > 5, "{name}: {pages} with a page before");
}

fn newest_examination(case: &mut Case) -> Option<&mut rehab::assessment::Examination> {
    case.examinations.last_mut()
}

fn exercise_tests(case: &mut Case) -> impl Iterator<Item = &mut ExerciseTest> {
    case.tests
        .iter_mut()
        .filter_map(|test| match &mut test.result {
            TestResult::Exercise(exercise) => Some(exercise),
            _ => None,
        })
}

#[test]
fn law_a_lower_ejection_fraction_is_never_looser() {
    never_looser("ejection fraction down", |case, draw| {
        let Some(fraction) = &mut case.heart.ejection_fraction_pct else {
            return false;
        };
        *fraction = (*fraction - draw.number(1.0, 30.0, 1.0)).max(8.0);
        true
    });
}

#[test]
fn law_a_higher_functional_class_is_never_looser() {
    never_looser("NYHA up", |case, _| {
        match newest_examination(case).and_then(|one| one.nyha.as_mut()) {
            Some(class) if *class < 4 => {
                *class += 1;
                true
            }
            _ => false,
        }
    });
}

#[test]
fn law_a_lower_ischaemic_rate_is_never_looser() {
    never_looser("ischaemic rate down", |case, draw| {
        let mut any = false;
        for exercise in exercise_tests(case) {
            if let Some(bpm) = &mut exercise.ischaemia_hr_bpm {
                *bpm = (*bpm - draw.number(1.0, 30.0, 1.0)).max(45.0);
                any = true;
            }
        }
        any
    });
}

#[test]
fn law_an_ischaemic_rate_found_is_never_looser_than_none() {
    never_looser("ischaemia found", |case, draw| {
        let mut any = false;
        for exercise in exercise_tests(case) {
            if let (None, Some(peak)) = (exercise.ischaemia_hr_bpm, exercise.peak_hr_bpm) {
                exercise.ischaemia_hr_bpm = Some((peak - draw.number(0.0, 30.0, 1.0)).max(45.0));
                any = true;
            }
        }
        any
    });
}

#[test]
fn law_a_lower_device_rate_is_never_looser() {
    never_looser("device rate down", |case, draw| {
        let device = case.heart.device.as_mut();
        let Some(rate) = device.and_then(|device| device.lowest_treated_bpm.as_mut()) else {
            return false;
        };
        *rate = (*rate - draw.number(2.0, 60.0, 2.0)).max(104.0);
        true
    });
}

#[test]
fn law_a_lower_measured_or_walked_capacity_is_never_looser() {
    never_looser("capacity down", |case, draw| {
        let share = draw.number(0.3, 0.95, 0.05);
        let mut any = false;
        for test in &mut case.tests {
            match &mut test.result {
                TestResult::Exercise(exercise) => {
                    if let Some(mets) = &mut exercise.peak_mets {
                        *mets = (*mets * share).max(1.0);
                        any = true;
                    }
                }
                TestResult::SixMinuteWalk { distance_m, .. }
                | TestResult::ShuttleWalk { distance_m, .. } => {
                    *distance_m *= share;
                    any = true;
                }
                TestResult::ActivityStatus { yes } => {
                    any |= yes.pop().is_some();
                }
                _ => {}
            }
        }
        any
    });
}

#[test]
fn law_a_symptom_added_is_never_looser() {
    never_looser("symptom added", |case, draw| {
        let symptom = draw.pick(ExaminationSymptom::ALL);
        match newest_examination(case).and_then(|one| one.symptoms.as_mut()) {
            Some(symptoms) if !symptoms.contains(&symptom) => {
                symptoms.push(symptom);
                true
            }
            _ => false,
        }
    });
}

#[test]
fn law_a_symptom_in_the_exercise_test_is_never_looser() {
    never_looser("symptom in the exercise test", |case, draw| {
        let symptom = draw.pick(rehab::assessment::ExerciseTestSymptom::ALL);
        let mut any = false;
        for symptoms in exercise_tests(case).filter_map(|one| one.symptoms.as_mut()) {
            if !symptoms.contains(&symptom) {
                symptoms.push(symptom);
                any = true;
            }
        }
        any
    });
}

/// From a pressure that isn't low: a low one holds the day as well, so there the direction has two sides.
#[test]
fn law_a_higher_pressure_is_never_looser() {
    never_looser("pressure up", |case, draw| {
        let pressure = newest_examination(case).and_then(|one| one.resting_bp.as_mut());
        match pressure {
            Some(pressure) if pressure.systolic_mmhg >= 100.0 => {
                pressure.systolic_mmhg += draw.number(0.0, 90.0, 1.0);
                pressure.diastolic_mmhg += draw.number(0.0, 50.0, 1.0);
                true
            }
            _ => false,
        }
    });
}

fn opens_the_breastbone(kind: EventKind) -> bool {
    matches!(
        kind,
        EventKind::BypassSurgery | EventKind::ValveSurgery | EventKind::Transplant
    )
}

/// Moves a day nearer to the day of assessment, never past it.
fn nearer(day: &mut Option<Date>, by: i32) {
    if let Some(date) = *day {
        let left = days_between(date, RANDOM_DAY);
        *day = Some(days_after(date, by.min(left)));
    }
}

#[test]
fn law_fewer_weeks_since_surgery_is_never_looser() {
    never_looser("surgery nearer", |case, draw| {
        let by = draw.whole(1, 140);
        let mut any = false;
        for event in &mut case.events {
            if opens_the_breastbone(event.kind) && event.date.is_some() {
                nearer(&mut event.date, by);
                for procedure in &mut event.procedures {
                    nearer(&mut procedure.date, by);
                }
                any = true;
            }
        }
        any
    });
}

#[test]
fn law_fewer_weeks_since_an_implant_is_never_looser() {
    never_looser("implant nearer", |case, draw| {
        let by = draw.whole(1, 140);
        let mut any = false;
        for event in &mut case.events {
            let implanted = event
                .procedures
                .iter()
                .any(|one| matches!(one.kind, ProcedureKind::Pacemaker | ProcedureKind::Icd));
            if (implanted || event.kind == EventKind::DeviceImplant) && event.date.is_some() {
                nearer(&mut event.date, by);
                for procedure in &mut event.procedures {
                    nearer(&mut procedure.date, by);
                }
                any = true;
            }
        }
        any
    });
}

#[test]
fn law_a_worse_walking_aid_is_never_looser() {
    never_looser("walking aid", |case, _| {
        case.function.aid = match case.function.aid {
            Some(WalkingAid::None) => Some(WalkingAid::Stick),
            Some(WalkingAid::Stick) => Some(WalkingAid::Frame),
            _ => return false,
        };
        true
    });
}

#[test]
fn law_more_falls_are_never_looser() {
    never_looser("falls", |case, draw| {
        match &mut case.function.falls_12_months {
            Some(falls) => {
                *falls += draw.whole(1, 4).unsigned_abs();
                true
            }
            None => false,
        }
    });
}

#[test]
fn law_a_slower_balance_test_is_never_looser() {
    never_looser("slower", |case, draw| {
        let mut any = false;
        for test in &mut case.tests {
            match &mut test.result {
                TestResult::TimedUpAndGo { seconds }
                | TestResult::Gait4m { seconds }
                | TestResult::FiveSitToStand { seconds } => {
                    *seconds += draw.number(0.5, 15.0, 0.5);
                    any = true;
                }
                _ => {}
            }
        }
        any
    });
}

#[test]
fn law_a_condition_added_is_never_looser() {
    use rehab::assessment::HistoryItem;
    never_looser("condition added", |case, draw| {
        let item = draw.pick(HistoryItem::ALL);
        if case.history.present.contains(&item) {
            return false;
        }
        case.history.absent.retain(|one| *one != item);
        case.history.present.push(item);
        true
    });
}
