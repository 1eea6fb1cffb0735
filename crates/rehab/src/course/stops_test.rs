//! Stops: the latest stands, and only an examination on a later day lets a page be given.

use super::tests::{answered, case, decided, entry, fold};
use super::{Channel, Course, DecisionRefused, Happening, PageRefused, Taken};
use crate::assess;
use crate::assessment::{Case, CaseId, Examination, StatusKind};
use crate::review::{Action, Proposal, Review, ReviewInput, review, unanswered};
use crate::service::Service;
use jiff::civil::{Date, date};

const fn day(day: i8) -> Date {
    date(2026, 11, day)
}

fn examined(on: Date) -> (Date, Happening) {
    let mut case = Case::unknown(CaseId("invented-1951".to_owned()));
    case.examinations.push(Examination {
        resting_hr_bpm: Some(64.0),
        ..Examination::on(on)
    });
    (on, Happening::Case(Box::new(case)))
}

/// A second red alert answered after an examination: that examination came before it and clears nothing.
#[test]
fn of_two_stops_the_later_stands() {
    let begun = [(day(1), case()), (day(2), Happening::Released { stage: 2 })];
    let second_stops = [
        answered(day(12), "review/red-palpitations:b:palpitations"),
        decided(day(12), Action::StopAndContact, None),
    ];
    for second in second_stops {
        let mut happened = begun.to_vec();
        happened.push(answered(day(5), "review/red-faint:a:faint"));
        happened.push(examined(day(8)));
        happened.push(second);
        assert_eq!(fold(&happened, day(25)).stopped, Some(day(12)));
    }
}

#[test]
fn a_first_page_ends_a_stop_only_after_an_examination_on_a_later_day() {
    let with = |examination: Option<Date>| {
        let mut happened = vec![
            (day(1), case()),
            answered(day(2), "review/red-faint:a:faint"),
        ];
        happened.extend(examination.map(examined));
        happened.push((day(9), Happening::Released { stage: 1 }));
        fold(&happened, day(25)).stopped
    };
    assert_eq!(with(None), Some(day(2)));
    assert_eq!(with(Some(day(2))), Some(day(2)), "perhaps before the stop");
    assert_eq!(with(Some(day(3))), None);
}

pub(super) fn reviewed(course: &Course, on: Date) -> Review {
    let service = Service::cautious();
    review(&ReviewInput {
        case: &course.case,
        service: &service,
        assessed: &assess(&course.case, &service, on),
        stages: &[],
        current_stage: course.current_stage.unwrap_or(1),
        stage_since: course.stage_since,
        given: &course.given,
        entries: &course.entries,
        heard: &course.heard,
        earlier: &course.known,
        contacts: &course.contacts,
        keeps_diary: course.keeps_diary,
        settled: &course.settled,
        stopped: course.stopped,
        on,
    })
}

#[test]
fn no_first_page_over_something_red_or_a_stop() {
    let service = Service::cautious();
    let may = |course: &Course| {
        let assessed = assess(&course.case, &service, day(20));
        let mut review = reviewed(course, day(20));
        // Of the screening only: it says for itself that nothing is signed.
        review
            .proposal
            .because
            .retain(|one| one.rule.0 != "review/stop-screening");
        if review
            .alerts
            .iter()
            .all(|one| one.rule.0 == "review/stop-screening")
        {
            review.proposal.action = Action::AskFirst;
        }
        course.may_have_a_page(&review, &assessed)
    };
    let mut red = entry("a", day(19));
    red.stopped_because = Some("unwell: faint".to_owned());
    let news = Happening::Diary {
        channel: Channel::Page,
        entries: vec![red],
    };
    let begun = vec![(day(1), case()), examined(day(18))];
    assert_eq!(may(&fold(&begun, day(20))), Ok(()));
    let mut told = begun.clone();
    told.push((day(19), news));
    assert!(matches!(
        may(&fold(&told, day(20))),
        Err(PageRefused::Stop(_))
    ));
    let mut stopped = begun;
    stopped.push(answered(day(18), "review/red-unwell:a"));
    let stopped = fold(&stopped, day(20));
    assert_eq!(may(&stopped), Err(PageRefused::Stopped(day(18))));
}

#[test]
fn nobody_is_discharged_over_an_open_alert() {
    let mut told = entry("a", day(19));
    told.medicine_change = Some("another water tablet".to_owned());
    let happened = [
        (day(1), case()),
        (
            day(19),
            Happening::Diary {
                channel: Channel::Call,
                entries: vec![told],
            },
        ),
        (day(20), Happening::Status(StatusKind::Paused)),
    ];
    let course = fold(&happened, day(20));
    let alerts = reviewed(&course, day(20)).alerts;
    let open: Vec<_> = alerts.iter().collect();
    for kind in [StatusKind::Discharged, StatusKind::Declined] {
        assert!(!unanswered(kind, &open).is_empty(), "{kind}");
        assert!(unanswered(kind, &[]).is_empty(), "{kind}");
    }
    assert!(unanswered(StatusKind::InHospital, &open).is_empty());
}

#[test]
fn a_stop_is_decided_without_a_page() {
    let proposal = Proposal {
        action: Action::Hold,
        from_stage: 2,
        to_stage: Some(2),
        ease: Vec::new(),
        watch_first: Vec::new(),
        because: Vec::new(),
    };
    for action in [Action::StopAndContact, Action::AskFirst] {
        let taken = Taken::new(&proposal, action, Some(2), None, None);
        assert_eq!(taken, Err(DecisionRefused::NoPage));
        assert!(Taken::new(&proposal, action, None, None, None).is_ok());
    }
}
