//! The sheet of a call: what is said of last time, what answers become, and what is said to the person.

mod fixture;

use fixture::{case, service, today, words};
use handouts::call::{
    Answers, Asking, DayTold, Question, asked_for, days, days_to_next, entries, note, rows, say,
};
use jiff::civil::Date;
use rehab::assessed::Assessed;
use rehab::calendar::days_after;
use rehab::course::Course;
use rehab::diary::{DiaryEntry, DiarySymptom, Pulse, PulseMoment, SymptomKind};
use rehab::evidence::{Because, RuleId, Tag, Value};
use rehab::review::{Action, ContactKind, Given, Proposal};
use rehab::service::Service;
use rehab::wording::Words;

/// Somebody on page B with what is needed to ask them.
struct Called {
    course: Course,
    assessed: Assessed,
    service: Service,
    words: Words,
}

impl Called {
    fn with(entries: Vec<DiaryEntry>) -> Self {
        let service = service();
        let assessed = rehab::assess(&case(), &service, today());
        let mut course = Course::begin(case());
        course.current_stage = Some(2);
        course.entries = entries;
        Self {
            course,
            assessed,
            service,
            words: words(),
        }
    }

    fn asking(&self) -> Asking<'_> {
        Asking {
            course: &self.course,
            assessed: &self.assessed,
            service: &self.service,
            words: &self.words,
            kind: ContactKind::Call,
            practitioner: "Josie Marwood",
            on: today(),
        }
    }

    fn last(&self, question: Question) -> Option<String> {
        let rows = rows(&self.asking());
        let row = rows.into_iter().find(|row| row.question == question);
        row.expect("every question has a row").last
    }

    fn said(&self, proposal: &Proposal, action: Action, to_stage: Option<u16>) -> String {
        let next: Option<Date> = Some(days_after(today(), 1));
        say(&self.asking(), proposal, action, to_stage, next)
    }
}

fn entry(symptoms: Option<Vec<DiarySymptom>>) -> DiaryEntry {
    DiaryEntry {
        id: "one".to_owned(),
        date: days_after(today(), -2),
        stage: Some(2),
        stations_planned: None,
        stations_done: None,
        effort: None,
        symptoms,
        pulses: Vec::new(),
        joint_pain: None,
        eased: Vec::new(),
        rested_s: None,
        stopped_because: None,
        medicine_change: None,
        weight_kg: None,
        pressure: None,
        minutes: Some(30.0),
        note: None,
    }
}

fn proposal(action: Action, rules: &[&'static str]) -> Proposal {
    let because = |rule: &&'static str| Because {
        rule: RuleId(rule),
        text: String::new(),
        value: Value::Text(action.word().to_owned()),
        working: None,
        inputs: Vec::new(),
        sources: Vec::new(),
        tag: Tag::Ours,
        assumed: Vec::new(),
        unsure: None,
        changes_with: None,
    };
    Proposal {
        action,
        from_stage: 2,
        to_stage: Some(2),
        ease: Vec::new(),
        watch_first: Vec::new(),
        because: rules.iter().map(because).collect(),
    }
}

#[test]
fn what_nobody_is_known_to_have_asked_is_not_shown_as_asked() {
    let called = Called::with(vec![entry(Some(Vec::new()))]);
    assert_eq!(called.last(Question::Heart).as_deref(), Some("None."));
    assert_eq!(called.last(Question::Falls), None);
    assert_eq!(called.last(Question::Medicines), None);
    let fall = DiarySymptom {
        kind: SymptomKind::Fall,
        usual: None,
        score: None,
        nitrate_used: None,
    };
    let fallen = Called::with(vec![entry(Some(vec![fall]))]);
    assert_eq!(fallen.last(Question::Falls).as_deref(), Some("Fallen."));
}

#[test]
fn a_change_of_medicine_that_was_only_written_down_is_kept() {
    let called = Called::with(Vec::new());
    for marked in [None, Some(false), Some(true)] {
        let mut answers = Answers::unasked();
        answers.medicines_changed = marked;
        answers.medicine_change = "bisoprolol 5 mg".to_owned();
        let told = entries(&called.asking(), &answers, "call-1");
        let report = told.last().expect("a report");
        assert_eq!(report.medicine_change.as_deref(), Some("bisoprolol 5 mg"));
        let closing = handouts::call::Closing {
            time: "11:20",
            decision: "Stay on page B.",
            next: None,
        };
        let written = note(&called.asking(), &answers, &closing);
        assert!(written.contains("bisoprolol 5 mg"), "{written}");
    }
}

/// Somebody who counts the pulse is asked for it, and it stands with the last session they told.
#[test]
fn a_pulse_that_was_told_stands_with_the_last_session() {
    let mut called = Called::with(Vec::new());
    called.assessed.limits.pulse_model = true;
    let asked = |called: &Called| {
        let mut rows = rows(&called.asking()).into_iter();
        rows.any(|row| row.question == Question::Pulse)
    };
    assert!(asked(&called));
    let mut answers = Answers::unasked();
    answers.pulse_before_bpm = Some(66.0);
    answers.pulse_after_bpm = Some(81.0);
    let at = |pulses: &[Pulse]| -> Vec<(PulseMoment, f64)> {
        pulses.iter().map(|pulse| (pulse.at, pulse.bpm)).collect()
    };
    let both = [
        (PulseMoment::Before, 66.0),
        (PulseMoment::AfterCoolDown, 81.0),
    ];
    let report = entries(&called.asking(), &answers, "one");
    assert_eq!(at(&report[0].pulses), both, "no day is told");
    let day = |back| DayTold {
        date: days_after(today(), back),
        part: false,
    };
    answers.days = Some(vec![day(-1), day(-4)]);
    for one in entries(&called.asking(), &answers, "one") {
        let wanted = if one.date == days_after(today(), -1) {
            &both[..]
        } else {
            &[]
        };
        assert_eq!(at(&one.pulses), wanted, "{}", one.id);
    }
    let closing = handouts::call::Closing {
        time: "11:20",
        decision: "Stay",
        next: None,
    };
    let written = note(&called.asking(), &answers, &closing);
    assert!(
        written.contains("Pulse 66 before. Pulse 81 at the end."),
        "{written}"
    );
    called.course.entries = entries(&called.asking(), &answers, "one");
    called.course.entries.retain(|one| one.date < today());
    let last = called.last(Question::Pulse);
    assert_eq!(last.as_deref(), Some("66 before. 81 at the end."));
    called.assessed.limits.pulse_model = false;
    assert!(!asked(&called), "where it means nothing");
    called.assessed.limits.pulse_model = true;
    called.course.case.wishes.pulse_counting = None;
    assert!(!asked(&called), "who does not count it");
}

/// On the day of giving, the six days before the page existed were offered, those ticked there counted as a further page
/// than the one given, and one session was too few of three.
#[test]
fn days_before_the_first_page_are_not_asked_about_and_what_is_asked_for_is_of_the_days_since() {
    let line_of = |given: &[(i32, u16)]| {
        let mut called = Called::with(Vec::new());
        called.course.given = given
            .iter()
            .map(|(days, stage)| Given {
                date: days_after(today(), *days),
                stage: *stage,
                effort: None,
            })
            .collect();
        let line = days(&called.asking());
        assert_eq!(line.last().unwrap().date, today());
        (called, line)
    };
    assert_eq!(line_of(&[(0, 2)]).1.len(), 1);
    assert_eq!(line_of(&[(-3, 2)]).1.len(), 4);
    let (mut called, line) = line_of(&[(-2, 2)]);
    assert_eq!(asked_for(&called.asking(), &line), None);
    let mut home = fixture::stage(1);
    (home.number, home.sessions_per_week) = (2, 3);
    called.course.at_home = Some(home);
    assert_eq!(
        asked_for(&called.asking(), &line),
        Some(1),
        "of three a week"
    );
    let (called, line) = line_of(&[(-30, 1), (-2, 2)]);
    assert_eq!(line.len(), 7, "page A was there before");
    let answers = Answers {
        days: Some(
            line.iter()
                .map(|day| DayTold {
                    date: day.date,
                    part: false,
                })
                .collect(),
        ),
        ..Answers::unasked()
    };
    let told = entries(&called.asking(), &answers, "call-1");
    let pages: Vec<_> = told
        .iter()
        .filter(|entry| entry.is_session())
        .map(|entry| entry.stage)
        .collect();
    let mut expected = vec![Some(1); 4];
    expected.extend([Some(2); 3]);
    assert_eq!(pages, expected);
    let said = called.said(
        &proposal(
            Action::Hold,
            &["review/hold-early", "review/hold-few-sessions"],
        ),
        Action::Hold,
        Some(2),
    );
    assert!(!said.contains("once more each week"), "{said}");
}

#[test]
fn praise_is_said_only_where_nothing_spoke_against_going_on() {
    let called = Called::with(Vec::new());
    let held =
        |rules: &[&'static str]| called.said(&proposal(Action::Hold, rules), Action::Hold, Some(2));
    let praise = "You have done what we hoped.";
    assert!(held(&["review/hold-last-page"]).contains(praise));
    assert!(
        called
            .said(
                &proposal(Action::Advance, &["review/advance"]),
                Action::Hold,
                Some(2)
            )
            .contains(praise)
    );
    for (rule, words) in [
        ("review/hold-recent-symptom", "If you feel that again"),
        ("review/red-chest-discomfort", "If you feel that again"),
        ("review/hold-effort", "go a little slower"),
        ("review/hold-after-cool-down", "the whole of the last part"),
        ("review/hold-few-sessions", "once more each week"),
        ("review/hold-effort-not-told", "Keep to page B"),
    ] {
        let said = held(&["review/hold-last-page", rule]);
        assert!(
            said.contains(words) && !said.contains(praise),
            "{rule}: {said}"
        );
    }
}

#[test]
fn a_lower_page_is_brought_the_next_day_and_nobody_goes_on_with_the_higher_one() {
    let called = Called::with(Vec::new());
    for action in [Action::StepBack, Action::ReEnter] {
        let back = proposal(action, &["review/step-back-effort"]);
        let asking = called.asking();
        assert_eq!(days_to_next(&asking, action, Some(1), 14), 1);
        let said = called.said(&back, action, Some(1));
        assert!(
            said.contains("Please do no session until I bring it."),
            "{said}"
        );
        // Where they have the page already nothing is brought.
        assert_eq!(days_to_next(&asking, action, Some(2), 14), 14);
        let said = called.said(&back, action, Some(2));
        assert!(said.contains("You have the right page already."), "{said}");
        assert!(!said.contains("bring"), "{said}");
    }
    assert_eq!(
        days_to_next(&called.asking(), Action::Hold, Some(2), 14),
        14
    );
    assert_eq!(
        days_to_next(&called.asking(), Action::StopAndContact, None, 14),
        0
    );
}
