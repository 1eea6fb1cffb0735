//! Every story plays, and the caseload shows every point of the way.

use super::play::{Played, Setting, review_of};
use super::{play_all, service};
use jiff::civil::{Date, date};
use rehab::assessment::StatusKind;
use rehab::course::Signature;
use rehab::review::Action;
use std::collections::BTreeSet;

const ON: Date = date(2026, 11, 25);

fn caseload(on: Date) -> Vec<Played> {
    let exercises = formats::exercises().unwrap();
    play_all(&exercises, on).unwrap_or_else(|error| panic!("{error:#}"))
}

#[test]
fn every_story_plays_on_the_base_day_and_on_another() {
    assert_eq!(caseload(ON).len(), 26);
    assert_eq!(caseload(date(2028, 3, 1)).len(), 26);
}

#[test]
fn the_caseload_shows_every_standing_and_every_proposal() {
    let exercises = formats::exercises().unwrap();
    let service = service().unwrap();
    let setting = Setting {
        service: &service,
        exercises: &exercises,
        on: ON,
        by: Signature {
            name: "x".to_owned(),
            role: "y".to_owned(),
        },
    };
    let played = caseload(ON);
    let standings: BTreeSet<StatusKind> = played
        .iter()
        .map(|one| one.course.case.status.kind)
        .collect();
    assert_eq!(standings.into_iter().collect::<Vec<_>>(), StatusKind::ALL);
    let mut proposals: BTreeSet<Action> = BTreeSet::new();
    for one in played
        .iter()
        .filter(|one| one.course.current_stage.is_some())
    {
        proposals.insert(review_of(&setting, &one.course, ON).proposal.action);
    }
    assert_eq!(proposals.into_iter().collect::<Vec<_>>(), Action::ALL);
}

#[test]
fn law_the_same_day_gives_the_same_caseload() {
    let bytes = |played: &[Played]| -> Vec<Vec<u8>> {
        let happened = played.iter().flat_map(|one| {
            one.happened
                .iter()
                .map(|(_, what)| (&one.course.case.id, what))
        });
        happened
            .map(|(id, what)| formats::journal::write_body(id, what))
            .collect()
    };
    assert_eq!(bytes(&caseload(ON)), bytes(&caseload(ON)));
}
