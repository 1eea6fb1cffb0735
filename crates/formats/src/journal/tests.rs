//! What is written down comes back as it was, and what cannot be read is an error.

use super::{kind_of, read_body, write_body};
use jiff::civil::date;
use proptest::prelude::*;
use rehab::assessment::{
    Case, CaseId, Effort, EffortScale, Pressure, StatusKind, Support, Technique, Watched,
};
use rehab::course::{
    Call, Channel, Digests, Happening, Override, Settled, Signature, SignedPlan, Taken, TeachBack,
    Towards, Unfinished, WatchedSession,
};
use rehab::diary::{DiaryEntry, DiarySymptom, Pulse, PulseMethod, PulseMoment, SymptomKind};
use rehab::programme::{Phase, Predicted, Segment, SegmentKind, Stage, VariantRef};
use rehab::review::{Action, Contact, ContactKind};

fn id() -> CaseId {
    CaseId("invented-1951".to_owned())
}

fn there_and_back(happening: &Happening) -> Happening {
    read_body(kind_of(happening), &write_body(&id(), happening)).expect("what was written is read")
}

fn segment(kind: SegmentKind, mets: f64) -> Segment {
    Segment {
        phase: Phase::Conditioning,
        kind,
        doing: Some(VariantRef {
            exercise: "march".to_owned(),
            variant: "seated".to_owned(),
        }),
        place: Some(2),
        place_name: "bottom stair".to_owned(),
        round: 1,
        duration_ms: 60_000,
        per_minute: Some(22.5),
        mets,
        mets_low: mets - 0.3,
        mets_high: mets + 0.4,
        hr_gain: 1.1,
        predicted_hr: Some(88.442_8),
        predicted_sd: Some(5.25),
        easier: None,
        to_watch: true,
    }
}

fn stage(mets: f64) -> Stage {
    Stage {
        number: 2,
        lever: "one-more-pair".to_owned(),
        sessions_per_week: 3,
        segments: vec![
            segment(SegmentKind::Cardiovascular, mets),
            Segment {
                doing: None,
                ..segment(SegmentKind::Walk, 2.3)
            },
        ],
        predicted: Predicted {
            peak_hr: Some(90.1),
            ceiling_probability: Some(0.013),
        },
        objective: 79,
        bound: 79,
        proven: true,
        because: Vec::new(),
    }
}

fn entry() -> DiaryEntry {
    DiaryEntry {
        id: "fenwick-2026-11-23".to_owned(),
        date: date(2026, 11, 23),
        stage: Some(2),
        stations_planned: Some(9),
        stations_done: Some(9),
        effort: Some(Effort {
            scale: EffortScale::ZeroToTen,
            value: 4.0,
        }),
        symptoms: Some(vec![DiarySymptom {
            kind: SymptomKind::Breathlessness,
            usual: Some(true),
            score: Some(3.0),
            nitrate_used: Some(false),
        }]),
        pulses: vec![
            Pulse {
                at: PulseMoment::EndOfStation(7),
                bpm: 92.0,
                how: Some(PulseMethod::Count15s),
            },
            Pulse {
                at: PulseMoment::AfterCoolDown,
                bpm: 70.0,
                how: None,
            },
        ],
        joint_pain: None,
        eased: vec!["step-up".to_owned()],
        rested_s: Some(30),
        stopped_because: None,
        medicine_change: None,
        weight_kg: Some(71.5),
        pressure: None,
        minutes: Some(39.0),
        note: Some("the post office was shut".to_owned()),
    }
}

fn every_kind() -> Vec<Happening> {
    let day = date(2026, 11, 12);
    let watched = Watched {
        date: day,
        exercise: "march".to_owned(),
        variant: "seated".to_owned(),
        effort: Some(Effort {
            scale: EffortScale::ZeroToTen,
            value: 3.0,
        }),
        hr_bpm: Some(88.0),
        bp: Some(Pressure {
            systolic_mmhg: 132.0,
            diastolic_mmhg: 76.0,
        }),
        technique: Technique::NeededHelp,
        support: Some(Support::OneHand),
        symptoms: Some(vec![SymptomKind::Dizziness]),
    };
    vec![
        Happening::Case(Box::new(Case::unknown(id()))),
        Happening::Status(StatusKind::InHospital),
        Happening::Signed(Box::new(SignedPlan {
            stages: vec![stage(3.3)],
            by: Signature {
                name: "Josie Marwood".to_owned(),
                role: "physiotherapist".to_owned(),
            },
            on: day,
            valid_until: Some(date(2026, 11, 26)),
            digests: Digests {
                case: "a".to_owned(),
                service: "b".to_owned(),
                exercises: "c".to_owned(),
                program: "0.1.0".to_owned(),
            },
            overrides: vec![Override {
                what: "the review proposes an earlier page".to_owned(),
                reason: "spoken to the doctor".to_owned(),
                second_name: "Dr Thorsby".to_owned(),
            }],
            effort: Some(rehab::course::AgreedEffort {
                scale: rehab::assessment::EffortScale::ZeroToTen,
                band: rehab::service::EffortBand {
                    low: 2.0,
                    high: 4.0,
                },
            }),
        })),
        Happening::Released { stage: 3 },
        Happening::Watched(WatchedSession {
            date: day,
            stations: vec![watched],
            shown: TeachBack::ALL.to_vec(),
            note: "steady".to_owned(),
        }),
        Happening::Diary {
            channel: Channel::Paper,
            entries: vec![entry()],
        },
        Happening::Called(Box::new(Call {
            contact: Contact {
                date: date(2026, 11, 25),
                kind: ContactKind::Call,
            },
            reached: true,
            entries: vec![entry()],
            decided: Some(Taken {
                proposed: Action::Hold,
                action: Action::Advance,
                to_stage: Some(3),
                towards: Towards::Risk,
                reason: Some("spoken to the doctor".to_owned()),
                second_name: Some("Dr Thorsby".to_owned()),
            }),
            note: "five sessions in twelve days".to_owned(),
            next: Some(date(2026, 12, 1)),
            nitrate_until: Some(date(2027, 3, 31)),
        })),
        Happening::Unfinished(Unfinished {
            follows: "Ask first.".to_owned(),
            answers: vec![("open".to_owned(), "well =\n\"so so\"".to_owned())],
        }),
        Happening::Settled(Settled {
            key: "review/red-faint:e:faint".to_owned(),
            done: "rang".to_owned(),
        }),
        Happening::Note("her daughter interprets".to_owned()),
    ]
}

#[test]
fn every_kind_of_happening_comes_back_as_it_was() {
    for happening in every_kind() {
        assert_eq!(
            there_and_back(&happening),
            happening,
            "{}",
            kind_of(&happening)
        );
    }
}

#[test]
fn what_cannot_be_read_is_said_and_never_skipped() {
    let note = write_body(&id(), &Happening::Note("x".to_owned()));
    assert!(read_body("spell", &note).is_err());
    let newer = String::from_utf8(note.clone())
        .unwrap()
        .replace("\"version\":1", "\"version\":2");
    let error = read_body("note", newer.as_bytes()).unwrap_err();
    assert!(error.message.contains("version is 2"), "{error}");
    for kind in every_kind()
        .iter()
        .map(kind_of)
        .filter(|kind| *kind != "note")
    {
        assert!(read_body(kind, &note).is_err(), "a note is no {kind}");
    }
    for cut in 0..note.len() {
        assert!(read_body("note", &note[..cut]).is_err(), "cut at {cut}");
    }
}

proptest! {
    #[test]
    fn law_costs_and_rates_come_back_bit_for_bit(mets in 1.0f64..12.0) {
        let happening = Happening::Signed(Box::new(SignedPlan {
            stages: vec![stage(mets)],
            by: Signature { name: "n".to_owned(), role: "r".to_owned() },
            on: date(2026, 11, 25),
            valid_until: None,
            digests: Digests {
                case: String::new(),
                service: String::new(),
                exercises: String::new(),
                program: String::new(),
            },
            overrides: Vec::new(),
            effort: None,
        }));
        prop_assert_eq!(there_and_back(&happening), happening);
    }

    #[test]
    fn law_random_bytes_never_panic(kind in 0usize..10, bytes in proptest::collection::vec(any::<u8>(), 0..200)) {
        let kinds: Vec<&str> = every_kind().iter().map(kind_of).collect();
        let _ = read_body(kinds[kind], &bytes);
    }
}

/// Plans that an earlier version stored have no overrides, and are stored without the key where there are none.
#[test]
fn a_signed_plan_without_overrides_reads_as_before() {
    let plan = every_kind().swap_remove(2);
    let Happening::Signed(mut plan) = plan else {
        panic!("the third kind is a signed plan");
    };
    plan.overrides.clear();
    let plain = Happening::Signed(plan);
    let text = String::from_utf8(write_body(&id(), &plain)).unwrap();
    assert!(!text.contains("overrides"), "{text}");
    assert_eq!(there_and_back(&plain), plain);
}

#[test]
fn choices_come_back_as_they_were_written() {
    use rehab::programme::{Ban, Choices, Pin};
    let chosen = Happening::Chosen(Choices {
        pins: vec![Pin {
            station: Some(3),
            exercise: "march".to_owned(),
            variant: None,
        }],
        bans: vec![Ban {
            exercise: "low-step-ups".to_owned(),
            variant: Some("slow".to_owned()),
        }],
        stage: 2,
        given: Vec::new(),
    });
    let id = rehab::assessment::CaseId("fenwick-1951".to_owned());
    let body = write_body(&id, &chosen);
    assert_eq!(read_body(kind_of(&chosen), &body).unwrap(), chosen);
}
