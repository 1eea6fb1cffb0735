//! What hands hold counts: for the centre of mass, for the work, and for what it can do itself.

use crate::movements::{borne, standing};
use crate::{cycle, judged};
use motion::body::{Body, Side};
use motion::held::{Band, Held, Round};
use motion::joint::{Freedom, Limb};
use motion::judge::Kind;
use motion::key::{Arm, Key, Pair};
use motion::movement::Movement;
use motion::pose::Pose;
use motion::posture::Posture;
use motion::room::Room;
use motion::settle::{settle, settle_holding};
use motion::work::rise_m;

fn arms(flexion_deg: f64, abduction_deg: f64, elbow_deg: f64) -> Pair<Arm> {
    Pair::both(Arm::Angles([
        flexion_deg,
        abduction_deg,
        0.0,
        elbow_deg,
        0.0,
        0.0,
        0.0,
    ]))
}

fn between(from: Pair<Arm>, to: Pair<Arm>, held: Held) -> Movement {
    let key = |arms| Key {
        hips: borne(1.0, 0.4, 0.5),
        arms,
        ..standing()
    };
    Movement {
        room: Room::EMPTY,
        keys: vec![key(from), key(to)],
        alternates: false,
        held,
    }
}

fn weights(kg: f64) -> Held {
    Held {
        weight_kg: Pair::both(kg),
        ..Held::NOTHING
    }
}

#[test]
fn reference_weights_add_their_own_rise_to_that_of_the_body() {
    // Worked out by hand at 1.70 m and 75 kg from winter-2009 and drillis-contini-1966: forward raise to 90 degrees .0291 m, with
    // 1 kg in each hand .0466; elbow bent by 130 degrees .0123, with 2 kg in each hand .0421, to half a last digit. The body here
    // has 24 kg/m2, so that the same weights are scaled by its mass over 75 kg.
    const HALF_DIGIT_M: f64 = 0.000_051;
    let body = Body::of_stature_m(1.70).unwrap();
    let scale = 24.0 * 1.70 * 1.70 / 75.0;
    let lifted = |held: &Held, flexion_deg, elbow_deg| {
        let mut pose = Pose::UPRIGHT;
        for side in Side::BOTH {
            pose.set_deg(Freedom::Of(side, Limb::ShoulderFlexion), flexion_deg);
            pose.set_deg(Freedom::Of(side, Limb::ElbowFlexion), elbow_deg);
        }
        held.lifted_m(&Posture::of(&body, &pose))
    };
    let rows = [
        (90.0, 0.0, 0.0, 0.0291),
        (90.0, 0.0, 1.0, 0.0466),
        (0.0, 130.0, 0.0, 0.0123),
        (0.0, 130.0, 2.0, 0.0421),
    ];
    for (flexion_deg, elbow_deg, kg, expected_m) in rows {
        let held = weights(kg * scale);
        let found_m = lifted(&held, flexion_deg, elbow_deg) - lifted(&held, 0.0, 0.0);
        // The worked example has the weight at the centre of the hand, .006 of its length beyond the middle of the palm.
        let off_m = 2.0 * kg / 75.0 * 0.006 * 0.108 * 1.70 * 2.0;
        assert!(
            (found_m - expected_m).abs() < HALF_DIGIT_M + off_m,
            "{kg} kg: {found_m} {expected_m}"
        );
    }
}

#[test]
fn a_weight_in_the_hand_makes_a_repetition_cost_more() {
    let rise = |kg| {
        let curl = between(arms(0.0, 4.0, 5.0), arms(0.0, 4.0, 125.0), weights(kg));
        rise_m(&cycle(&curl, 1.62)).unwrap()
    };
    assert!(rise(1.0) > rise(0.0) + 0.01 && rise(3.0) > rise(1.0) + 0.02);
}

#[test]
fn law_a_weight_held_ahead_moves_the_hips_back_and_not_the_centre() {
    let body = Body::of_stature_m(1.62).unwrap();
    let key = Key {
        arms: arms(85.0, 0.0, 5.0),
        ..standing()
    };
    let empty = settle(&body, &Room::EMPTY, &key).unwrap();
    let held = weights(3.0);
    let loaded = settle_holding(&body, &Room::EMPTY, &held, &key).unwrap();
    assert!(loaded.pelvis.at.x < empty.pelvis.at.x - 0.02);
    let centre = held.centre_of_mass(&Posture::of(&body, &loaded));
    let before = Posture::of(&body, &empty).centre_of_mass();
    assert!((centre.x - before.x).abs() < 1e-9 && (centre.y - before.y).abs() < 1e-9);
}

#[test]
fn a_stick_between_the_hands_keeps_them_apart() {
    let held = Held {
        stick_between: true,
        ..Held::NOTHING
    };
    let raise = between(arms(10.0, 0.0, 5.0), arms(88.0, 0.0, 5.0), held);
    assert_eq!(judged(&cycle(&raise, 1.62)).faults, []);
    let spread = between(arms(10.0, 0.0, 5.0), arms(60.0, 20.0, 5.0), held);
    let kinds: Vec<Kind> = judged(&cycle(&spread, 1.62))
        .faults
        .iter()
        .map(|fault| fault.kind)
        .collect();
    assert_eq!(kinds, [Kind::StickSlides]);
}

#[test]
fn a_band_is_taut_and_no_longer_than_it_can_be() {
    let pull = |rest| {
        let held = Held {
            band: Some(Band {
                rest,
                round: Round::Nothing,
            }),
            ..Held::NOTHING
        };
        let movement = between(arms(75.0, 3.0, 15.0), arms(75.0, 40.0, 15.0), held);
        let faults = judged(&cycle(&movement, 1.62)).faults;
        faults.iter().map(|fault| fault.kind).collect::<Vec<Kind>>()
    };
    assert_eq!(pull(0.30), []);
    assert_eq!(pull(0.15), [Kind::BandOverstretched]);
    assert_eq!(pull(1.20), [Kind::BandSlack]);
}

#[test]
fn law_a_band_round_back_or_feet_is_longer_than_the_way_from_hand_to_hand() {
    let body = Body::of_stature_m(1.62).unwrap();
    let key = Key {
        arms: arms(75.0, 3.0, 15.0),
        ..standing()
    };
    let posture = Posture::of(&body, &settle(&body, &Room::EMPTY, &key).unwrap());
    let stretch = |round| {
        let band = Some(Band { rest: 0.5, round });
        let held = Held {
            band,
            ..Held::NOTHING
        };
        held.stretch(&posture).unwrap()
    };
    let straight = stretch(Round::Nothing);
    assert!(stretch(Round::Back) > straight + 0.5);
    assert!(stretch(Round::Feet) > straight + 0.5);
    assert_eq!(Held::NOTHING.stretch(&posture), None);
}
