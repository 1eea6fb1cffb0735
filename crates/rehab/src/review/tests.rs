//! The review on small diaries, and its laws on many.

use super::{
    Action, Contact, ContactKind, Given, Review, ReviewInput, SymptomClass, SymptomReading,
    classify, review, rules,
};
use crate::assessed::{
    Assessed, Capacity, Ceiling, CeilingKind, Decision, Eligibility, Limits, MetsBand, Risk,
    RiskClass, Screening,
};
use crate::assessment::{
    Answered, Case, CaseId, Effort, EffortScale, HistoryItem, Technique, UsualSymptom, Watched,
};
use crate::calendar::days_after;
use crate::diary::{DiaryEntry, DiarySymptom, JointPain, Pulse, PulseMoment, SymptomKind};
use crate::evidence::{Because, RuleId, Tag, Value};
use crate::programme::{Phase, Predicted, Segment, SegmentKind, Stage};
use crate::quantity::{HeartRate, Mets};
use crate::service::{EffortBand, HomeConsequence, ScreeningSet, Service};
use jiff::civil::{Date, date};

pub(super) const ON: Date = date(2026, 11, 25);

fn because() -> Because {
    Because {
        rule: RuleId("test/none"),
        text: String::new(),
        value: Value::Flag(true),
        working: None,
        inputs: Vec::new(),
        sources: Vec::new(),
        tag: Tag::Ours,
        assumed: Vec::new(),
        unsure: None,
        changes_with: None,
    }
}

fn assessed() -> Assessed {
    Assessed {
        on: ON,
        screening: Screening {
            decision: Decision::Exercise,
            set: ScreeningSet::Cautious,
            findings: Vec::new(),
            examined: Some(date(2026, 11, 20)),
            valid_until: None,
        },
        capacity: Capacity {
            used: None,
            others: Vec::new(),
            findings: Vec::new(),
        },
        risk: Risk {
            class: RiskClass::Moderate,
            provisional: false,
            criteria: Vec::new(),
            because: because(),
        },
        eligibility: Eligibility {
            home: HomeConsequence::Yes,
            agreed: None,
            watched_needed: 2,
            watched_done: 2,
            alone_now: true,
            call_every_days: 7,
            because: because(),
        },
        limits: Limits {
            hr: None,
            ceiling: Some(Ceiling {
                rate: HeartRate::bpm(108.0),
                kind: CeilingKind::Hard,
            }),
            never_passed: None,
            resting_hr: Some(HeartRate::bpm(64.0)),
            peak_hr: None,
            peak_hr_measured: false,
            pulse_model: true,
            rate_slowed: Answered::Absent,
            effort_scale: EffortScale::ZeroToTen,
            effort: EffortBand {
                low: 3.0,
                high: 4.0,
            },
            mets: MetsBand {
                low: Mets::of(2.0),
                high: Mets::of(3.0),
            },
            mets_station_high: Mets::of(3.0),
            band_binds_station: false,
            hypotensive: false,
            balance_max: 3,
            adaptations: Vec::new(),
            because: Vec::new(),
        },
        to_find_out: Vec::new(),
        findings: Vec::new(),
        signing_blocked: false,
    }
}

/// A page of one brisk turn of half an hour.
fn stage(number: u16) -> Stage {
    let turn = Segment {
        phase: Phase::Conditioning,
        kind: SegmentKind::Cardiovascular,
        doing: None,
        place: None,
        place_name: String::new(),
        round: 1,
        duration_ms: 1_800_000,
        per_minute: None,
        mets: 3.0,
        mets_low: 3.0,
        mets_high: 3.0,
        hr_gain: 1.0,
        predicted_hr: None,
        predicted_sd: None,
        easier: None,
        to_watch: false,
    };
    Stage {
        number,
        lever: "test".to_owned(),
        sessions_per_week: 3,
        segments: vec![turn],
        predicted: Predicted {
            peak_hr: None,
            ceiling_probability: None,
        },
        objective: 0,
        bound: 0,
        proven: true,
        because: Vec::new(),
    }
}

pub(super) fn entry(id: &str, date: Date) -> DiaryEntry {
    DiaryEntry {
        id: id.to_owned(),
        date,
        stage: Some(2),
        stations_planned: Some(8),
        stations_done: Some(8),
        effort: Some(Effort {
            scale: EffortScale::ZeroToTen,
            value: 3.0,
        }),
        symptoms: Some(Vec::new()),
        pulses: Vec::new(),
        joint_pain: None,
        eased: Vec::new(),
        rested_s: None,
        stopped_because: None,
        medicine_change: None,
        weight_kg: None,
        pressure: None,
        minutes: Some(39.0),
        note: None,
    }
}

/// A first watched session so long ago that the gentle beginning is over.
pub(super) fn watched_long_ago() -> Watched {
    Watched {
        date: date(2026, 10, 1),
        exercise: "seated-march".to_owned(),
        variant: "slow".to_owned(),
        effort: None,
        hr_bpm: None,
        bp: None,
        technique: Technique::Good,
        support: None,
        symptoms: None,
    }
}

/// Somebody of whom nothing is known but that there is no heart failure, and that the gentle beginning is over.
fn known_without_failure() -> Case {
    let mut case = Case::unknown(CaseId("invented-1951".to_owned()));
    case.history.absent.push(HistoryItem::HeartFailure);
    case.watched.push(watched_long_ago());
    case
}

fn week_of_three() -> Vec<DiaryEntry> {
    vec![
        entry("a", date(2026, 11, 18)),
        entry("b", date(2026, 11, 21)),
        entry("c", date(2026, 11, 23)),
    ]
}

pub(super) struct Setting {
    pub(super) case: Case,
    pub(super) service: Service,
    pub(super) current_stage: u16,
    pub(super) stage_since: Option<Date>,
    pub(super) given: Vec<Given>,
    pub(super) heard: Vec<SymptomReading>,
    pub(super) assessed: Assessed,
    pub(super) entries: Vec<DiaryEntry>,
    pub(super) contacts: Vec<Contact>,
    pub(super) keeps_diary: bool,
    pub(super) settled: Vec<String>,
    pub(super) stopped: Option<Date>,
}

impl Setting {
    pub(super) fn ready() -> Self {
        Self {
            case: known_without_failure(),
            service: Service::cautious(),
            current_stage: 2,
            stage_since: Some(date(2026, 11, 12)),
            given: Vec::new(),
            heard: Vec::new(),
            assessed: assessed(),
            entries: week_of_three(),
            contacts: vec![Contact {
                date: date(2026, 11, 12),
                kind: ContactKind::Visit,
            }],
            keeps_diary: true,
            settled: Vec::new(),
            stopped: None,
        }
    }

    pub(super) fn review(&self) -> Review {
        let stages = [stage(1), stage(2), stage(3)];
        review(&ReviewInput {
            case: &self.case,
            service: &self.service,
            assessed: &self.assessed,
            stages: &stages,
            current_stage: self.current_stage,
            stage_since: self.stage_since,
            given: &self.given,
            entries: &self.entries,
            heard: &self.heard,
            earlier: &[],
            contacts: &self.contacts,
            keeps_diary: self.keeps_diary,
            settled: &self.settled,
            stopped: self.stopped,
            on: ON,
        })
    }

    pub(super) fn action(&self) -> Action {
        self.review().proposal.action
    }
}

pub(super) fn symptom(kind: SymptomKind) -> DiarySymptom {
    DiarySymptom {
        kind,
        usual: None,
        score: None,
        nitrate_used: None,
    }
}

pub(super) fn last(setting: &mut Setting) -> &mut DiaryEntry {
    setting.entries.last_mut().expect("the week has entries")
}

#[test]
fn three_good_sessions_advance_by_one_rung() {
    let review = Setting::ready().review();
    assert_eq!(
        review.proposal.action,
        Action::Advance,
        "{:?}",
        review.proposal.because
    );
    assert_eq!(review.proposal.to_stage, Some(3));
    assert_eq!(review.trends.done_in_14_days, 3);
}

#[test]
fn red_symptom_stops_until_settled_and_holds_for_a_fortnight() {
    for kind in [
        SymptomKind::ChestDiscomfort,
        SymptomKind::Faint,
        SymptomKind::Palpitations,
        SymptomKind::Breathlessness,
        SymptomKind::DeviceShock,
    ] {
        let mut setting = Setting::ready();
        last(&mut setting).symptoms = Some(vec![symptom(kind)]);
        let review = setting.review();
        assert_eq!(review.proposal.action, Action::StopAndContact, "{kind}");
        assert_eq!(review.proposal.to_stage, None);
        setting.settled = review
            .alerts
            .iter()
            .map(|alert| alert.key.clone())
            .collect();
        // What an answered red alert leaves behind, until somebody decides on a page.
        setting.stopped = Some(ON);
        let alerts = setting.review().alerts;
        assert!(
            alerts.iter().all(super::Alert::ends_with_decision),
            "{kind}"
        );
        assert_eq!(setting.action(), Action::AskFirst, "{kind} settled");
        setting.stopped = None;
        assert_eq!(setting.action(), Action::Hold, "{kind} decided on");
    }
}

#[test]
fn an_alert_that_is_answered_ends_no_other() {
    let mut setting = Setting::ready();
    last(&mut setting).symptoms = Some(vec![
        symptom(SymptomKind::ChestDiscomfort),
        symptom(SymptomKind::Faint),
    ]);
    let keys = |setting: &Setting| -> Vec<String> {
        let alerts = setting.review().alerts.into_iter();
        alerts.map(|alert| alert.key).collect()
    };
    let open = keys(&setting);
    assert!(open.len() >= 2, "{open:?}");
    setting.settled = vec![open[0].clone()];
    let left = keys(&setting);
    for key in &open[1..] {
        assert!(left.contains(key), "{key} went with {}", open[0]);
    }
    assert!(!left.contains(&open[0]), "{left:?}");
}

#[test]
fn usual_symptom_stops_nobody_and_worse_than_usual_does() {
    let mut setting = Setting::ready();
    setting.case.usual_symptoms = vec![UsualSymptom {
        kind: SymptomKind::Breathlessness,
        score: Some(4.0),
    }];
    let usual = DiarySymptom {
        usual: Some(true),
        score: Some(4.0),
        ..symptom(SymptomKind::Breathlessness)
    };
    last(&mut setting).symptoms = Some(vec![usual.clone()]);
    assert_eq!(setting.action(), Action::Advance);
    let worse = DiarySymptom {
        score: Some(5.0),
        ..usual.clone()
    };
    assert_eq!(classify(&setting.case, &worse).0, SymptomClass::Changed);
    last(&mut setting).symptoms = Some(vec![worse]);
    assert_eq!(setting.action(), Action::Hold);
    let not_asked = DiarySymptom {
        usual: None,
        ..usual
    };
    assert_eq!(classify(&setting.case, &not_asked).0, SymptomClass::Changed);
}

#[test]
fn the_word_as_usual_counts_only_where_it_is_recorded() {
    let case = Case::unknown(CaseId("invented-1951".to_owned()));
    let said = DiarySymptom {
        usual: Some(true),
        ..symptom(SymptomKind::ChestDiscomfort)
    };
    assert_eq!(classify(&case, &said).0, SymptomClass::Red);
}

#[test]
fn silence_and_missing_news_ask_first() {
    let mut setting = Setting::ready();
    setting.entries.clear();
    let review = setting.review();
    assert_eq!(review.proposal.action, Action::AskFirst);
    assert!(
        review.silence.silent,
        "a visit 13 days ago is longer than the agreed 10"
    );
    let mut setting = Setting::ready();
    last(&mut setting).symptoms = None;
    assert_eq!(setting.action(), Action::AskFirst);
    let mut setting = Setting::ready();
    last(&mut setting).stations_done = Some(9);
    assert_eq!(setting.action(), Action::AskFirst);
    let mut setting = Setting::ready();
    last(&mut setting).medicine_change = Some("a new water tablet".to_owned());
    assert_eq!(setting.action(), Action::AskFirst);
}

#[test]
fn a_person_never_heard_from_is_silent() {
    let mut setting = Setting::ready();
    setting.entries.clear();
    setting.contacts.clear();
    let review = setting.review();
    assert_eq!(review.silence.days, None);
    assert!(review.silence.silent);
    assert_eq!(review.proposal.action, Action::AskFirst);
}

/// The alert stood there in the minute of signing, and a call of long ago made a new page silent at once.
#[test]
fn silence_is_counted_from_the_day_the_page_began() {
    let silence = |setting: &Setting| {
        let review = setting.review();
        let mut alerts = review.alerts.iter();
        let raised = alerts.find(|one| one.rule == rules::ASK_SILENCE).cloned();
        assert_eq!(raised.is_some(), review.silence.silent);
        raised
    };
    let mut setting = Setting::ready();
    setting.entries.clear();
    setting.contacts.clear();
    let agreed = setting.review().silence.agreed_days;
    for (days, silent) in [(0, false), (agreed, false), (agreed + 1, true)] {
        let began = days_after(ON, -days);
        setting.stage_since = Some(began);
        let raised = silence(&setting);
        assert_eq!(
            raised.as_ref().map(|one| one.since),
            silent.then_some(began)
        );
        let said = format!("since the page began on {began}");
        assert!(raised.is_none_or(|one| one.text.contains(&said)), "{said}");
        assert_eq!(setting.action(), Action::AskFirst, "nothing came back");
    }
    let mut setting = Setting::ready();
    setting.entries.clear();
    setting.contacts[0].date = days_after(ON, -40);
    setting.contacts.truncate(1);
    setting.stage_since = Some(ON);
    assert_eq!(silence(&setting), None);
    setting.stage_since = Some(days_after(ON, -41));
    let since = silence(&setting).map(|one| one.since);
    assert_eq!(since, Some(days_after(ON, -40)));
}

#[test]
fn effort_pulse_and_unfinished_sessions_hold_or_step_back() {
    let mut setting = Setting::ready();
    last(&mut setting).effort = Some(Effort {
        scale: EffortScale::ZeroToTen,
        value: 5.0,
    });
    assert_eq!(setting.action(), Action::Hold);
    last(&mut setting).effort = Some(Effort {
        scale: EffortScale::ZeroToTen,
        value: 6.0,
    });
    assert_eq!(setting.review().proposal.to_stage, Some(1));
    let mut setting = Setting::ready();
    let pulse = |bpm| Pulse {
        at: PulseMoment::EndOfStation(3),
        bpm,
        how: None,
    };
    last(&mut setting).pulses = vec![pulse(108.0)];
    assert_eq!(
        setting.action(),
        Action::Advance,
        "at the ceiling is not above it"
    );
    last(&mut setting).pulses = vec![pulse(109.0)];
    assert_eq!(setting.action(), Action::StepBack);
    setting.assessed.limits.ceiling = Some(Ceiling {
        rate: HeartRate::bpm(108.0),
        kind: CeilingKind::Guiding,
    });
    assert_eq!(
        setting.action(),
        Action::Advance,
        "once above a guiding ceiling blocks nobody"
    );
    let mut setting = Setting::ready();
    for entry in setting.entries.iter_mut().skip(1) {
        entry.stations_done = Some(4);
    }
    assert_eq!(setting.action(), Action::StepBack);
}

#[test]
fn a_sore_joint_eases_the_exercise_and_holds() {
    let mut setting = Setting::ready();
    last(&mut setting).joint_pain = Some(JointPain {
        during: Some(4.0),
        worse_next_morning: Some(true),
    });
    last(&mut setting).eased = vec!["step-up".to_owned()];
    let review = setting.review();
    assert_eq!(review.proposal.action, Action::Hold);
    assert_eq!(review.proposal.ease, ["step-up"]);
    last(&mut setting).joint_pain = Some(JointPain {
        during: Some(5.0),
        worse_next_morning: Some(false),
    });
    assert_eq!(
        setting.action(),
        Action::Advance,
        "5 of 10 and usual next morning goes on"
    );
}

#[test]
fn a_long_gap_re_enters_lower() {
    let mut setting = Setting::ready();
    for (entry, day) in setting.entries.iter_mut().zip([2, 4, 6]) {
        entry.date = date(2026, 11, day);
    }
    setting.stage_since = Some(date(2026, 10, 20));
    // A call keeps the person from being silent, so that the gap itself is seen.
    setting.contacts = vec![Contact {
        date: date(2026, 11, 24),
        kind: ContactKind::Call,
    }];
    let seen = setting.review();
    assert_eq!(seen.proposal.action, Action::ReEnter);
    assert_eq!(seen.proposal.to_stage, Some(1));
}

#[test]
fn fast_weight_gain_in_heart_failure_stops_and_slow_does_not() {
    let mut setting = Setting::ready();
    let weights = [70.0, 70.0, 71.8];
    for (entry, kg) in setting.entries.iter_mut().zip(weights) {
        entry.weight_kg = Some(kg);
    }
    assert_eq!(
        setting.action(),
        Action::Advance,
        "no heart failure, no rule"
    );
    setting.case.history.absent.clear();
    assert_eq!(
        setting.action(),
        Action::StopAndContact,
        "not asked is not absent"
    );
    setting.case.history.present.push(HistoryItem::HeartFailure);
    // 21 to 23 November is 2 days.
    assert_eq!(setting.action(), Action::StopAndContact);
    last(&mut setting).weight_kg = Some(71.7);
    assert_eq!(setting.action(), Action::Advance);
}

#[test]
fn an_examination_that_only_ran_out_holds_and_a_void_one_stops() {
    use crate::evidence::{Finding, Named, Weight};
    let finding = |values: Vec<Named>| Finding {
        rule: RuleId("screening/examination-validity"),
        weight: Weight::NotToday,
        text: String::new(),
        values,
        sources: Vec::new(),
        tag: Tag::Ours,
        ask: None,
    };
    let mut setting = Setting::ready();
    setting.assessed.screening.decision = Decision::NotToday;
    setting.assessed.screening.findings = vec![finding(vec![Named::date(
        "valid_until",
        date(2026, 11, 24),
    )])];
    assert_eq!(setting.action(), Action::Hold);
    setting
        .assessed
        .screening
        .findings
        .push(finding(Vec::new()));
    assert_eq!(setting.action(), Action::StopAndContact);
}

#[test]
fn whoever_died_raises_no_alert() {
    let mut setting = Setting::ready();
    last(&mut setting).symptoms = Some(vec![symptom(SymptomKind::ChestDiscomfort)]);
    assert!(!setting.review().alerts.is_empty());
    setting.case.status.kind = crate::assessment::StatusKind::Died;
    assert!(setting.review().alerts.is_empty());
}

#[test]
fn an_entry_seen_twice_is_one_entry() {
    let mut setting = Setting::ready();
    let again = setting.entries.clone();
    setting.entries.extend(again);
    assert_eq!(setting.review().trends.done_in_14_days, 3);
}
