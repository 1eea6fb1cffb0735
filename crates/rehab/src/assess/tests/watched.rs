//! What is seen while somebody watches counts: effort, pulse, pressure and symptoms, not only how it looked.

use super::*;
use crate::assessment::{Effort, EffortScale};
use crate::diary::SymptomKind;
use crate::programme::eligible::outside_when_watched;

const DAY: Date = date(2026, 11, 20);

fn at_effort(value: f64) -> Watched {
    Watched {
        effort: Some(Effort {
            scale: EffortScale::ZeroToTen,
            value,
        }),
        ..watched(DAY)
    }
}

fn at_pressure(systolic: f64, diastolic: f64) -> Watched {
    Watched {
        bp: Some(pressure(systolic, diastolic)),
        ..watched(DAY)
    }
}

fn feeling(kind: SymptomKind) -> Watched {
    Watched {
        symptoms: Some(vec![kind]),
        ..watched(DAY)
    }
}

fn outside(one: &Watched) -> Vec<String> {
    let mut case = fenwick();
    case.tests.push(exercise_test(clean_test(7.0, 130.0)));
    case.watched.push(one.clone());
    let assessed = today(&case);
    assert_eq!(ceiling(&assessed), Some((130.0, CeilingKind::Hard)));
    assert_eq!(assessed.limits.effort.high, 3.0);
    let told = outside_when_watched(&case, &Service::cautious(), &assessed, one);
    let speaks = speaks(&assessed, "eligibility/watched-turn");
    assert_eq!(speaks, !told.is_empty(), "{told:?}");
    told
}

/// A turn watched at effort 8, a pulse of 160 over a hard limit of 146 and a pressure of 248/118 counted as good.
#[test]
fn a_watched_turn_is_in_order_only_with_effort_pulse_pressure_and_symptoms() {
    let pulse = |bpm: f64| Watched {
        hr_bpm: Some(bpm),
        ..watched(DAY)
    };
    let inside = [
        watched(DAY),
        at_effort(3.0),
        pulse(130.0),
        at_pressure(239.0, 109.0),
        at_pressure(109.0, 70.0),
        feeling(SymptomKind::KneePain),
    ];
    for one in inside {
        assert_eq!(outside(&one), Vec::<String>::new(), "{one:?}");
    }
    let beyond = [
        (at_effort(4.0), "effort 4, above the agreed 3"),
        (pulse(131.0), "pulse 131, above the hard limit of 130"),
        (at_pressure(240.0, 90.0), "at a value that stops"),
        (at_pressure(180.0, 110.0), "at a value that stops"),
        (at_pressure(108.0, 70.0), "a fall of 20"),
        (feeling(SymptomKind::ChestDiscomfort), "chest discomfort"),
        (feeling(SymptomKind::Dizziness), "dizziness"),
    ];
    for (one, words) in beyond {
        let told = outside(&one).join("; ");
        assert!(told.contains(words), "{told}, not '{words}'");
    }
}

/// Chest discomfort in a watched session counted it as one of three, and the answer of the day stayed "exercise".
#[test]
fn a_session_that_something_ended_holds_the_day_and_is_none_of_those_watched() {
    let of = |one: Watched| changed(|case| case.watched = vec![one]);
    let holds = [
        at_pressure(248.0, 118.0),
        at_pressure(108.0, 70.0),
        feeling(SymptomKind::ChestDiscomfort),
        feeling(SymptomKind::Breathlessness),
    ];
    for one in holds {
        let assessed = of(one.clone());
        assert_eq!(assessed.screening.decision, Decision::NotToday, "{one:?}");
        assert_eq!(assessed.eligibility.watched_done, 0, "{one:?}");
    }
    let hardest = of(at_effort(8.0));
    assert_eq!(hardest.eligibility.watched_done, 0);
    let in_order = of(at_effort(3.0));
    assert_eq!(in_order.screening.decision, Decision::Exercise);
    assert_eq!(in_order.eligibility.watched_done, 1);
}

#[test]
fn an_examination_on_a_later_day_ends_what_a_watched_session_held_and_never_makes_it_count() {
    let mut case = fenwick();
    case.watched = vec![feeling(SymptomKind::ChestDiscomfort)];
    let mut examined = case.examinations[0].clone();
    for (day, decision) in [
        (DAY, Decision::NotToday),
        (date(2026, 11, 21), Decision::Exercise),
    ] {
        examined.date = day;
        case.examinations.push(examined.clone());
        assert_eq!(today(&case).screening.decision, decision, "{day}");
        assert_eq!(today(&case).eligibility.watched_done, 0);
    }
}
