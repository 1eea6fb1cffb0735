//! What is lost by striking an entry out.

use super::stops_test::reviewed;
use super::tests::{case, decided, entry, fold, watched};
use super::{Channel, Happening, Stands, Unfinished, less_careful};
use crate::assess;
use crate::assessment::Technique;
use crate::diary::JointPain;
use crate::programme::{Ban, Choices};
use crate::review::Action;
use crate::service::Service;
use jiff::civil::{Date, date};

const fn day(day: i8) -> Date {
    date(2026, 11, day)
}

fn lost(happening: Happening) -> Vec<&'static str> {
    let before = [
        (day(1), case()),
        (day(2), Happening::Watched(watched(day(2)))),
        decided(day(3), Action::Hold, Some(1)),
    ];
    let with = [&before[..], &[(day(20), happening)]].concat();
    let stands = [fold(&with, day(21)), fold(&before, day(21))].map(|course| {
        let assessed = assess(&course.case, &Service::cautious(), day(21));
        let review = reviewed(&course, day(21));
        (course, assessed, review)
    });
    let [with, without] = stands.each_ref().map(|(course, assessed, review)| Stands {
        course,
        assessed,
        review,
    });
    less_careful(with, without)
}

#[test]
fn whatever_warned_is_not_struck_out_by_one_person_alone() {
    let mut not_good = watched(day(20));
    not_good.stations[0].technique = Technique::NotForThem;
    let mut sore = entry("s-1", day(20));
    sore.eased = vec!["sit-to-stand-slow".to_owned()];
    sore.joint_pain = Some(JointPain {
        during: Some(7.0),
        worse_next_morning: Some(true),
    });
    let ban = Choices {
        bans: vec![Ban {
            exercise: "walk".to_owned(),
            variant: None,
        }],
        ..Choices::none()
    };
    let cases = [
        (Happening::Watched(not_good), "not found good"),
        (
            Happening::Diary {
                channel: Channel::File,
                entries: vec![sore],
            },
            "would not be eased",
        ),
        (Happening::Chosen(ban), "would be offered again"),
        (
            Happening::Unfinished(Unfinished {
                follows: "Stop".to_owned(),
                answers: Vec::new(),
            }),
            "call that was begun",
        ),
    ];
    for (happening, wanted) in cases {
        let found = lost(happening);
        assert!(
            found.iter().any(|one| one.contains(wanted)),
            "{wanted}: {found:?}"
        );
    }
    let nothing = lost(Happening::Note("a slip of the pen".to_owned()));
    assert!(nothing.is_empty(), "{nothing:?}");
}
