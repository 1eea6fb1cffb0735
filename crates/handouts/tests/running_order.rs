//! The running order: one time axis, this person's own rows and paths, and no trade word for a patient.

mod fixture;

use fixture::{case, exercises, limits, order, order_with, service, signed, stage, today, words};
use handouts::running_order::{
    Answer, Approval, Ask, Call, CueKind, Next, OrderRefused, Outcome, RunningOrder, running_order,
};
use rehab::assessment::{Device, HistoryItem, Medicine};
use rehab::programme::Phase;
use std::collections::{BTreeMap, BTreeSet};

#[test]
fn law_cues_follow_each_other_without_gap_in_whole_milliseconds() {
    for rounds in 1..=3 {
        let order = order_with(&signed(), rounds, |_, _, _| {});
        cues_follow(&order, &stage(rounds));
    }
}

fn cues_follow(order: &RunningOrder, stage: &rehab::programme::Stage) {
    let mut at = 0;
    for (cue, segment) in order.cues.iter().zip(&stage.segments) {
        assert_eq!(cue.start_ms, at);
        assert_eq!(cue.duration_ms, segment.duration_ms);
        at = cue.end_ms();
    }
    assert_eq!(order.cues.len(), stage.segments.len());
    assert_eq!(order.length_ms, stage.duration_ms());
}

#[test]
fn marching_on_the_spot_is_no_turn_for_the_person_either() {
    let order = order();
    let march = order
        .cues
        .iter()
        .find(|cue| cue.title == "March on the spot")
        .expect("a march");
    assert_eq!((march.kind, march.station), (CueKind::Walk, None));
    assert_eq!(march.told(), "March on the spot. Low and easy.");
    let easy = order.cues.iter().filter(|cue| cue.kind == CueKind::Easy);
    assert!(easy.into_iter().all(|cue| cue.doing.what.is_some()));
}

#[test]
fn an_easier_way_is_the_plans_own_or_the_same_thing_smaller() {
    let order = order_with(&signed(), 2, |case, _, _| {
        // Where nothing of the plan can be done, nothing that nobody chose is taken instead.
        for place in &mut case.home.places {
            place.kind = rehab::assessment::PlaceKind::Path;
        }
    });
    let stage = stage(2);
    for (cue, segment) in order.cues.iter().zip(&stage.segments) {
        if let (Some(_), Some(easier)) = (&cue.doing.what, &cue.easier.what) {
            let chosen = segment.easier.as_ref() == Some(easier);
            assert!(
                chosen || cue.doing.what.as_ref() == Some(easier),
                "{easier:?}"
            );
        }
    }
}

#[test]
fn turns_are_named_as_the_person_hears_them() {
    let order = order_with(&signed(), 2, |_, _, _| {});
    let titles: Vec<&str> = order
        .cues
        .iter()
        .filter(|cue| cue.kind == CueKind::Brisk)
        .map(|cue| cue.title.as_str())
        .collect();
    assert_eq!(titles[0], "Brisk turn 1 of 5");
    assert_eq!(titles[5], "Brisk turn 1 of 5");
    let again: Vec<u8> = order
        .cues
        .iter()
        .filter(|cue| cue.once_more)
        .map(|cue| cue.round)
        .collect();
    assert_eq!(again, [2]);
    let stations: Vec<u8> = order.cues.iter().filter_map(|cue| cue.station).collect();
    assert_eq!(stations, (1..=18).collect::<Vec<u8>>());
}

#[test]
fn every_cue_has_an_easier_way_ready_and_at_most_three_sentences() {
    for cue in &order().cues {
        assert!(!cue.easier.lines.is_empty(), "{}", cue.title);
        assert!((1..=3).contains(&cue.doing.lines.len()), "{:?}", cue.doing);
        assert!(cue.easier.lines.len() <= 3);
        if let (Some(doing), Some(easier)) = (&cue.doing.what, &cue.easier.what) {
            assert!(doing != easier || cue.easier.way == "smaller and slower");
        }
    }
}

#[test]
fn what_is_said_of_a_turn_is_place_task_beat_and_feel() {
    let order = order();
    let cue = order
        .cues
        .iter()
        .find(|cue| cue.doing.name == "Stand up, sit down")
        .expect("the turn");
    assert_eq!(cue.at_place, "At the armchair");
    assert_eq!(cue.serves, "For getting up from any chair.");
    assert_eq!(cue.length, "Two minutes.");
    assert_eq!(cue.doing.tempo, "About eight times a minute.");
    assert_eq!(
        cue.feel,
        "Warm, breathing deeper, still able to talk. 3 to 4 out of 10."
    );
    let way = order
        .cues
        .iter()
        .find(|cue| cue.kind == CueKind::Walk)
        .expect("a way");
    assert_eq!(way.doing.lines[0], "Walk over to the worktop.");
    assert!(
        !way.doing.set_up.is_empty(),
        "what comes next is made ready on the way"
    );
}

/// Every sentence of a running order that a patient may read.
fn said(order: &RunningOrder) -> Vec<String> {
    let mut all = vec![
        order.sum.clone(),
        order.often.clone(),
        order.approval_words.clone(),
    ];
    for cue in &order.cues {
        all.extend([
            cue.title.clone(),
            cue.at_place.clone(),
            cue.feel.clone(),
            cue.length.clone(),
            cue.serves.clone(),
        ]);
        for doing in [&cue.doing, &cue.easier] {
            all.extend([
                doing.name.clone(),
                doing.way.clone(),
                doing.set_up.clone(),
                doing.tempo.clone(),
                doing.care.clone(),
            ]);
            all.extend(doing.lines.clone());
        }
    }
    for row in &order.check {
        all.extend([row.question.clone(), row.passed.clone()]);
        all.extend(row.paper.clone());
        if let Some(listed) = &row.listed {
            all.extend([listed.head.clone(), listed.line.clone()]);
        }
    }
    for node in order.unwell.nodes.values() {
        all.push(node.head.clone());
        all.push(node.question.clone());
        all.extend(node.lines.clone());
        all.extend(node.choices.iter().map(|choice| choice.label.clone()));
    }
    all.extend(order.unwell.after.clone());
    all.extend(order.ready.clone());
    all.extend([
        order.stop.when.clone(),
        order.stop.call_if.clone(),
        order.stop.afterwards.clone(),
    ]);
    all.extend(order.stop.shock.clone());
    all.extend(order.closing.last.clone());
    all.extend(order.closing.signs.iter().map(|sign| sign.label.clone()));
    all.extend(order.words.values().cloned());
    all
}

#[test]
fn law_no_trade_word_reaches_a_patient() {
    let mut everything = said(&order());
    everything.extend(said(&order_with(&Approval::Draft, 2, |case, _, _| {
        make_ill(case)
    })));
    for text in &everything {
        let words: Vec<&str> = text.split(|sign: char| !sign.is_alphanumeric()).collect();
        for bad in [
            "CV",
            "AR",
            "MET",
            "METs",
            "RPE",
            "rung",
            "stage",
            "risk",
            "cardiovascular",
            "ischaemia",
            "safe",
            "safely",
            "optimal",
            "proven",
        ] {
            assert!(!words.contains(&bad), "'{bad}' in '{text}'");
        }
        assert!(!text.contains('!'), "no exclamation marks: {text}");
    }
}

fn make_ill(case: &mut rehab::assessment::Case) {
    case.history.present = vec![
        HistoryItem::HeartFailure,
        HistoryItem::Diabetes,
        HistoryItem::KneeOsteoarthritis,
    ];
    case.heart.device = Some(Device {
        lowest_treated_bpm: Some(170.0),
        last_shock: None,
        subcutaneous: None,
    });
    for name in ["insulin", "apixaban"] {
        case.medicines.push(Medicine {
            name: name.to_owned(),
            dose: None,
            since: None,
            until: None,
            times: None,
            as_needed: None,
        });
    }
}

fn ids(order: &RunningOrder) -> Vec<&str> {
    order.check.iter().map(|row| row.id.as_str()).collect()
}

#[test]
fn the_check_asks_only_what_concerns_this_person() {
    assert_eq!(
        ids(&order()),
        [
            "chest",
            "faint",
            "racing",
            "breathless",
            "spray",
            "ill",
            "tired",
            "leg",
            "tablets",
            "fall",
            "hospital",
            "drink",
            "pulse"
        ]
    );
    let ill = order_with(&signed(), 1, |case, _, _| make_ill(case));
    let asked = ids(&ill);
    for id in [
        "shock",
        "weight-gain",
        "swelling",
        "breathless-lying",
        "joint",
        "sugar-low",
        "sugar",
    ] {
        assert!(asked.contains(&id), "{id}");
    }
    let row = ill
        .check
        .iter()
        .find(|row| row.id == "weight-gain")
        .expect("the row");
    assert_eq!(
        row.question,
        "Have you gained 1.8 kg or more in three days?"
    );
}

#[test]
fn what_needs_help_now_leads_to_the_unwell_path_and_the_rest_to_the_team() {
    let order = order_with(&signed(), 1, |case, _, _| make_ill(case));
    for row in &order.check {
        if let Answer::YesNo { yes } = &row.answer {
            match row.id.as_str() {
                "chest" | "faint" | "racing" | "breathless" | "shock" => {
                    let Outcome::Unwell(node) = yes else {
                        panic!("{}", row.id)
                    };
                    assert!(order.unwell.nodes.contains_key(node));
                }
                "drink" => assert!(matches!(yes, Outcome::First(_))),
                _ => assert!(matches!(yes, Outcome::NotToday(_)), "{}", row.id),
            }
        }
    }
}

#[test]
fn law_only_rows_that_leave_the_day_out_and_stop_nothing_stand_in_lists_of_two_to_four() {
    for order in [
        order(),
        order_with(&signed(), 1, |case, _, _| make_ill(case)),
        with_everything(rehab::assessment::EffortScale::ZeroToTen),
    ] {
        let mut lists: BTreeMap<u8, Vec<usize>> = BTreeMap::new();
        for (at, row) in order.check.iter().enumerate() {
            let Some(listed) = &row.listed else { continue };
            let plain = matches!(
                &row.answer,
                Answer::YesNo {
                    yes: Outcome::NotToday(_)
                }
            );
            assert!(plain && !row.told.lock, "{}", row.id);
            assert!(
                !listed.line.is_empty() && !listed.head.contains('{'),
                "{listed:?}"
            );
            lists.entry(listed.number).or_default().push(at);
        }
        assert!(!lists.is_empty());
        for places in lists.values() {
            assert!((2..=4).contains(&places.len()), "{places:?}");
            assert!(
                places.windows(2).all(|two| two[1] == two[0] + 1),
                "neighbours: {places:?}"
            );
        }
    }
}

#[test]
fn a_heart_that_fails_without_the_label_or_was_never_asked_about_gets_the_stricter_questions() {
    let weighed = |change: fn(&mut rehab::assessment::Case)| {
        let order = order_with(&signed(), 1, |case, _, _| change(case));
        (
            ids(&order).contains(&"weight-gain"),
            order.closing.weight.is_some(),
        )
    };
    assert_eq!(weighed(|_| {}), (false, false));
    assert_eq!(
        weighed(|case| case.heart.ejection_fraction_pct = Some(35.0)),
        (true, true)
    );
    assert_eq!(
        weighed(|case| case.history.absent.clear()),
        (true, true),
        "not asked is not absent"
    );
}

#[test]
fn a_row_that_leaves_the_day_out_tells_the_diary_and_closes_the_page_by_the_reviews_rule() {
    let order = with_everything(rehab::assessment::EffortScale::ZeroToTen);
    let told = |id: &str| {
        let row = order.check.iter().find(|row| row.id == id).expect(id);
        (row.told.symptom, row.told.lock)
    };
    assert_eq!(told("chest-usual"), (Some("chest-discomfort"), true));
    assert_eq!(told("swelling"), (Some("swelling"), false));
    assert_eq!(told("fall"), (Some("fall"), false));
    assert_eq!(told("weight-gain"), (Some("other"), true));
    assert_eq!(told("hospital"), (None, false));
}

#[test]
fn sugar_that_was_not_measured_never_counts_as_good() {
    let order = with_everything(rehab::assessment::EffortScale::ZeroToTen);
    let row = order.check.iter().find(|row| row.id == "sugar");
    let Answer::Number { unmeasured, .. } = &row.expect("the row").answer else {
        panic!("a number")
    };
    assert!(matches!(unmeasured, Outcome::First(_)));
}

#[test]
fn bands_of_a_number_cover_everything_and_the_bound_itself_stops() {
    let order = order();
    let row = order
        .check
        .iter()
        .find(|row| row.id == "pulse")
        .expect("the row");
    let Answer::Number {
        bands, least, most, ..
    } = &row.answer
    else {
        panic!("a number")
    };
    let outcome = |value: f64| {
        &bands
            .iter()
            .find(|band| band.below.is_none_or(|below| value < below))
            .expect("bands have no end")
            .outcome
    };
    assert!(matches!(outcome(39.9), Outcome::NotToday(_)));
    assert_eq!(outcome(40.0), &Outcome::GoOn);
    assert_eq!(outcome(99.0), &Outcome::GoOn);
    assert!(matches!(outcome(100.0), Outcome::NotToday(_)));
    assert!(*least < 40.0 && *most > 100.0);
}

#[test]
fn bounds_of_the_day_are_those_of_the_services_set() {
    use handouts::running_order::DayBounds;
    use rehab::service::ScreeningSet;
    let mut service = service();
    assert_eq!(DayBounds::of(&service), fixture::bounds());
    // "Above 100" lets 100 pass: the first whole beat that stops is 101.
    service.screening_set = ScreeningSet::UkPhaseIv;
    assert!((DayBounds::of(&service).pulse_high - 101.0).abs() < 1e-9);
}

#[test]
fn the_pulse_is_counted_for_a_full_minute_unless_it_is_known_to_be_regular() {
    assert_eq!(order().closing.pulse_s, Some(60));
    let regular = order_with(&signed(), 1, |case, _, _| {
        case.heart.rhythm = Some(rehab::assessment::Rhythm::Sinus);
        let mut examined = rehab::assessment::Examination::on(today());
        examined.pulse_regular = Some(true);
        case.examinations.push(examined);
    });
    assert_eq!(regular.closing.pulse_s, Some(30));
}

#[test]
fn no_pulse_is_asked_where_it_cannot_guide() {
    let order = order_with(&signed(), 1, |_, _, limits| limits.pulse_model = false);
    assert!(!ids(&order).contains(&"pulse") && order.closing.pulse_s.is_none());
}

fn reachable(order: &RunningOrder) -> BTreeSet<String> {
    let mut seen = BTreeSet::new();
    let mut open = vec![order.unwell.first.clone()];
    for row in &order.check {
        if let Answer::YesNo {
            yes: Outcome::Unwell(node),
        } = &row.answer
        {
            open.push(node.clone());
        }
    }
    while let Some(id) = open.pop() {
        let node = order
            .unwell
            .nodes
            .get(&id)
            .unwrap_or_else(|| panic!("no node '{id}'"));
        if seen.insert(id) {
            open.extend(node.choices.iter().filter_map(|choice| match &choice.next {
                Next::Node(next) => Some(next.clone()),
                _ => None,
            }));
            open.extend(node.together.iter().map(|way| way.next.clone()));
        }
    }
    seen
}

#[test]
fn law_every_screen_of_the_unwell_path_is_reached_and_leads_on() {
    for order in [
        order(),
        order_with(&signed(), 1, |case, _, _| make_ill(case)),
        order_with(&signed(), 1, |_, service, _| service.nitrate = None),
    ] {
        let seen = reachable(&order);
        let all: BTreeSet<String> = order.unwell.nodes.keys().cloned().collect();
        assert_eq!(seen, all);
        for (id, node) in &order.unwell.nodes {
            assert!(!node.lines.is_empty(), "{id} says nothing");
            // With a wait there is always something that can be pressed at once.
            let now = node.choices.iter().any(|choice| !choice.after_wait);
            assert!(now || !node.together.is_empty(), "{id} leads nowhere");
            // Whatever is ticked alone leads somewhere.
            for tick in &node.ticks {
                assert!(
                    node.together.iter().any(|way| way.needs == [tick.id]),
                    "{id}: {}",
                    tick.id
                );
            }
        }
    }
}

#[test]
fn the_spray_is_told_of_only_for_the_chest_seated_and_not_faint_by_the_services_own_steps() {
    let order = order();
    assert_eq!(order.nitrate.len(), 2);
    let chest = &order.unwell.nodes["chest"];
    assert!(
        chest.question.contains("faint"),
        "faint is asked before the spray"
    );
    let yes = &chest.choices[0];
    assert_eq!(yes.next, Next::Node("chest-faint".to_owned()));
    assert!(order.unwell.nodes["chest-faint"].lines[0].contains("Do not use your spray"));
    let one = &order.unwell.nodes["spray-1"];
    assert!(one.lines[0].contains("one spray under the tongue"));
    let wait = &order.unwell.nodes["spray-1-wait"];
    assert_eq!(wait.wait_ms, 300_000);
    let still = wait
        .choices
        .iter()
        .find(|choice| choice.after_wait)
        .expect("a choice after the wait");
    assert_eq!(still.next, Next::Node("spray-2".to_owned()));
    let last = &order.unwell.nodes["spray-2-wait"];
    let still = last
        .choices
        .iter()
        .find(|choice| choice.after_wait)
        .expect("a choice after the wait");
    assert_eq!(
        still.next,
        Next::Node("chest-now".to_owned()),
        "after the last step comes the emergency number"
    );
    // Only the branch of the chest leads to it.
    for (id, node) in &order.unwell.nodes {
        let leads = node
            .choices
            .iter()
            .any(|choice| matches!(&choice.next, Next::Node(next) if next.starts_with("spray")));
        assert!(
            !leads || id.starts_with("chest") || id.starts_with("spray"),
            "{id}"
        );
    }
}

#[test]
fn a_last_step_without_a_wait_is_the_call_and_asks_for_no_dose() {
    let order = order_with(&signed(), 1, |_, service, _| {
        let protocol = service.nitrate.as_mut().expect("the fixture has steps");
        let mut call = protocol.steps[1].clone();
        (call.text, call.wait_s) = ("Ring 999 now. No more doses.".to_owned(), 0);
        protocol.steps.push(call);
    });
    let last = &order.unwell.nodes["spray-3"];
    let leads: Vec<&Next> = last.choices.iter().map(|one| &one.next).collect();
    let to = |id: &str| Next::Node(id.to_owned());
    assert_eq!(leads, [&to("chest-gone"), &to("chest-now")]);
    assert!(!order.unwell.nodes.contains_key("spray-3-wait"));
    assert!(order.unwell.nodes.contains_key("spray-2-wait"));
}

#[test]
fn nobody_who_is_faint_or_hurt_is_sent_to_the_door() {
    let order = order();
    for (id, node) in &order.unwell.nodes {
        let sent = node
            .lines
            .iter()
            .any(|line| line.starts_with("If you can, open"));
        let stays = ["chest-faint", "faint-now", "fall-hurt"].contains(&id.as_str());
        assert!(!(sent && stays), "{id}: {:?}", node.lines);
    }
    let faint = &order.unwell.nodes["faint-now"].lines;
    assert!(
        faint
            .iter()
            .any(|line| line.contains("somebody is with you"))
    );
}

#[test]
fn no_spray_without_prescription_teaching_date_protocol_or_beside_a_conflicting_medicine() {
    let without: [fn(&mut rehab::assessment::Case, &mut rehab::service::Service); 6] = [
        |case, _| case.nitrate.prescribed = None,
        |case, _| case.nitrate.taught = None,
        |case, _| case.nitrate.taught = Some(false),
        |case, _| case.nitrate.in_date = Some(false),
        |_, service| service.nitrate = None,
        |case, _| {
            case.medicines.push(Medicine {
                name: "sildenafil".to_owned(),
                dose: None,
                since: None,
                until: None,
                times: None,
                as_needed: None,
            })
        },
    ];
    for change in without {
        let order = order_with(&signed(), 1, |case, service, _| change(case, service));
        assert!(order.nitrate.is_empty());
        assert!(order.unwell.nodes.keys().all(|id| !id.starts_with("spray")));
        for node in order.unwell.nodes.values() {
            assert!(
                node.lines.iter().all(|line| !line.contains("spray")),
                "{node:?}"
            );
        }
        assert!(order.ready.iter().all(|line| !line.contains("spray")));
    }
}

#[test]
fn device_and_sugar_have_screens_only_where_there_is_one() {
    let plain = order();
    assert!(
        plain
            .unwell
            .nodes
            .keys()
            .all(|id| !id.starts_with("shock") && !id.starts_with("sugar"))
    );
    assert!(
        plain
            .closing
            .signs
            .iter()
            .all(|sign| sign.kind != "device-shock")
    );
    let ill = order_with(&signed(), 1, |case, _, _| make_ill(case));
    assert!(ill.unwell.nodes.contains_key("shock") && ill.unwell.nodes.contains_key("sugar"));
    assert_eq!(ill.unwell.nodes["shock-now"].call, Call::Emergency);
    assert!(
        ill.unwell.nodes["fall-hurt"]
            .lines
            .iter()
            .any(|line| line.contains("blood thinner"))
    );
}

#[test]
fn red_signs_at_the_end_lock_by_the_reviews_own_rule() {
    let order = order();
    let lock = |kind: &str| {
        order
            .closing
            .signs
            .iter()
            .find(|sign| sign.kind == kind)
            .expect(kind)
            .lock
    };
    assert!(
        lock("chest-discomfort") && lock("faint") && lock("palpitations") && lock("breathlessness")
    );
    assert!(!lock("tiredness"));
}

#[test]
fn without_emergency_contact_name_or_words_nothing_is_made() {
    let (case, service, stage, exercises, words, limits) =
        (case(), service(), stage(1), exercises(), words(), limits());
    let approval = signed();
    let base = Ask {
        case: &case,
        service: &service,
        limits: &limits,
        bounds: fixture::bounds(),
        stage: &stage,
        exercises: &exercises,
        words: &words,
        letter: 'B',
        on: today(),
        valid_until: None,
        approval: &approval,
    };
    let mut bare = service.clone();
    bare.emergency = None;
    assert_eq!(
        running_order(&Ask {
            service: &bare,
            ..base
        })
        .unwrap_err(),
        OrderRefused::NoEmergency
    );
    let mut bare = service.clone();
    bare.contact = None;
    assert_eq!(
        running_order(&Ask {
            service: &bare,
            ..base
        })
        .unwrap_err(),
        OrderRefused::NoContact
    );
    let mut nobody = case.clone();
    nobody.person.called = None;
    nobody.person.name = None;
    assert_eq!(
        running_order(&Ask {
            case: &nobody,
            ..base
        })
        .unwrap_err(),
        OrderRefused::NoName
    );
    let mut empty = stage.clone();
    empty.segments.clear();
    assert_eq!(
        running_order(&Ask {
            stage: &empty,
            ..base
        })
        .unwrap_err(),
        OrderRefused::Empty
    );
    let mut strange = stage.clone();
    strange.segments[0].doing = Some(fixture::named("no-such/thing"));
    assert!(matches!(
        running_order(&Ask {
            stage: &strange,
            ..base
        }),
        Err(OrderRefused::NoWords { .. })
    ));
}

#[test]
fn every_page_bears_name_year_letter_and_signature_or_draft() {
    let order = order();
    assert_eq!(order.identity, "Mrs Fenwick, born 1951");
    assert_eq!(
        order.word("page.printed"),
        "Page B, printed 25 November 2026. Throw older pages away."
    );
    assert_eq!(
        order.approval_words,
        "Signed by Josie Marwood, physiotherapist, 25 November 2026"
    );
    let draft = order_with(&Approval::Draft, 1, |_, _, _| {});
    assert_eq!(draft.approval_words, "DRAFT, NOT FOR A PATIENT");
}

#[test]
fn a_session_of_warm_up_alone_has_its_order_too() {
    let (case, service, mut stage, exercises, words, limits) =
        (case(), service(), stage(1), exercises(), words(), limits());
    stage
        .segments
        .retain(|segment| segment.phase != Phase::Conditioning);
    let approval = signed();
    let order = running_order(&Ask {
        case: &case,
        service: &service,
        limits: &limits,
        bounds: fixture::bounds(),
        stage: &stage,
        exercises: &exercises,
        words: &words,
        letter: 'A',
        on: today(),
        valid_until: None,
        approval: &approval,
    })
    .expect("it is complete");
    assert!(order.sum.starts_with("A gentle session"));
    assert!(order.cues.iter().all(|cue| cue.turn.is_none()));
}

#[test]
fn the_same_input_gives_the_same_order() {
    assert_eq!(order(), order());
    let ill = || order_with(&signed(), 2, |case, _, _| make_ill(case));
    assert_eq!(ill(), ill());
}

/// Everybody at once: every row, branch and sentence that any person may need.
fn with_everything(scale: rehab::assessment::EffortScale) -> RunningOrder {
    use rehab::assessed::Adaptation;
    use rehab::assessment::UsualSymptom;
    use rehab::diary::SymptomKind;
    use rehab::evidence::Weight;
    use rehab::programme::RestrictionReason;
    order_with(&signed(), 2, |case, _, limits| {
        make_ill(case);
        case.history.present.push(HistoryItem::LowVision);
        for kind in [SymptomKind::ChestDiscomfort, SymptomKind::Breathlessness] {
            case.usual_symptoms.push(UsualSymptom { kind, score: None });
        }
        let rule = rehab::rules::rule("day/glucose").expect("a rule");
        limits.adaptations.push(Adaptation {
            reason: RestrictionReason::Sternotomy,
            weeks_since: Some(5.0),
            until: None,
            joint: None,
            finding: rule.finding(Weight::Note, "five weeks after the operation"),
        });
        limits.effort_scale = scale;
        if scale == rehab::assessment::EffortScale::SixToTwenty {
            limits.effort = rehab::service::EffortBand {
                low: 11.0,
                high: 13.0,
            };
        }
    })
}

#[test]
fn every_row_and_branch_has_its_words_in_both_scales() {
    for scale in rehab::assessment::EffortScale::ALL {
        let order = with_everything(*scale);
        let asked = ids(&order);
        for id in [
            "chest-usual",
            "wound",
            "joint",
            "shock",
            "sugar",
            "weight-gain",
            "pulse",
        ] {
            assert!(asked.contains(&id), "{id}");
        }
        // A sentence that is missing would show its own id.
        for text in said(&order) {
            for file in ["page.", "check.", "unwell.", "print.", "say."] {
                assert!(!text.starts_with(file), "{text}");
            }
        }
        let brisk = order
            .cues
            .iter()
            .find(|cue| cue.kind == CueKind::Brisk)
            .expect("a turn");
        let expected = match scale {
            rehab::assessment::EffortScale::ZeroToTen => "3 to 4 out of 10",
            rehab::assessment::EffortScale::SixToTwenty => "11 to 13 on the scale of 6 to 20",
        };
        assert!(brisk.feel.contains(expected), "{}", brisk.feel);
        let html = handouts::page::session_page(&order);
        assert!(html.len() < 400 * 1024);
        handouts::print::printed_pages(
            &order,
            handouts::print::Paper::Letter,
            handouts::print::Ink::Grey,
        );
    }
}

#[test]
fn no_placeholder_is_left_for_a_patient_to_read() {
    let order = with_everything(rehab::assessment::EffortScale::ZeroToTen);
    for row in &order.check {
        assert!(
            !row.question.contains('{') && row.paper.iter().all(|line| !line.contains('{')),
            "{row:?}"
        );
    }
    for node in order.unwell.nodes.values() {
        let all = node.lines.iter().chain([&node.head, &node.question]);
        assert!(
            all.chain(node.choices.iter().map(|one| &one.label))
                .all(|text| !text.contains('{')),
            "{node:?}"
        );
    }
    for paper in [handouts::print::Paper::A4, handouts::print::Paper::Letter] {
        let page = handouts::print::printed_pages(&order, paper, handouts::print::Ink::Colour);
        let body = page.split("<body").nth(1).expect("a body");
        assert!(
            !body.contains('{'),
            "{}",
            body.split('{')
                .nth(1)
                .unwrap_or("")
                .chars()
                .take(60)
                .collect::<String>()
        );
    }
    let document = handouts::page::session_page(&order);
    let document = document
        .split("<main id=\"whole\">")
        .nth(1)
        .and_then(|rest| rest.split("</main>").next())
        .expect("a document");
    assert!(!document.contains('{'));
}
