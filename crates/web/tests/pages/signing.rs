//! A signature that goes further than the program would: only with a reason and another person's name.

use crate::fixture::{ON, fenwick, house, session, signed};
use crate::programme::answered;
use jiff::civil::date;
use rehab::assessment::{Agreement, Case};
use rehab::course::{Digests, Second, SignRefused, Signature, SignedPlan, Signing, sign};
use rehab::diary::SymptomKind;
use rehab::programme::{Choices, Stage, plan_from};
use rehab::service::Service;

/// The first two pages of a case as the program makes them.
fn pages(case: &Case) -> Vec<Stage> {
    let service = Service::cautious();
    let exercises = formats::exercises().unwrap();
    let assessed = rehab::assess(case, &service, ON);
    plan_from(case, &service, &exercises, assessed, &Choices::none())
        .0
        .stages
}

fn signed_as(
    case: &Case,
    stages: &[Stage],
    second: Option<(&str, &str)>,
) -> Result<SignedPlan, SignRefused> {
    let assessed = rehab::assess(case, &Service::cautious(), ON);
    sign(Signing {
        case,
        assessed: &assessed,
        stages,
        unchosen: &pages(case),
        proposal: None,
        by: Signature {
            name: "Josie Marwood".to_owned(),
            role: "physiotherapist".to_owned(),
        },
        digests: Digests {
            case: String::new(),
            service: String::new(),
            exercises: String::new(),
            program: String::new(),
        },
        adopted_or_invented: true,
        second: second.map(|(reason, name)| Second {
            reason: reason.to_owned(),
            name: name.to_owned(),
        }),
    })
}

#[test]
fn a_page_as_the_program_makes_it_needs_no_second_name() {
    let case = answered();
    let plan = signed_as(&case, &pages(&case), None).unwrap();
    assert_eq!(plan.overrides, []);
}

#[test]
fn a_harder_page_needs_a_reason_and_another_name() {
    let case = answered();
    let mut harder = pages(&case);
    let segment = &mut harder[1].segments[1];
    segment.mets = 4.2;
    let refused = signed_as(&case, &harder, None).unwrap_err();
    let SignRefused::NeedsReason(what) = &refused else {
        panic!("{refused}");
    };
    assert!(what[0].contains("page B is 4.2 METs"), "{what:?}");
    let refused = signed_as(&case, &harder, Some(("  ", "Dr Thorsby"))).unwrap_err();
    assert!(matches!(refused, SignRefused::NeedsReason(_)));
    let refused = signed_as(&case, &harder, Some(("did it watched", " "))).unwrap_err();
    assert!(matches!(refused, SignRefused::NeedsSecondName(_)));
    for own in ["Josie Marwood", "j. marwood josie", "MARWOOD"] {
        let refused = signed_as(&case, &harder, Some(("did it watched", own)));
        assert_eq!(refused, Err(SignRefused::SameName), "{own}");
    }
    let plan = signed_as(&case, &harder, Some(("did it watched", "Dr Thorsby"))).unwrap();
    assert_eq!(plan.overrides.len(), 1);
    assert_eq!(plan.overrides[0].second_name, "Dr Thorsby");
    assert_eq!(plan.overrides[0].reason, "did it watched");
    let mut gentler = pages(&case);
    gentler[1].segments[1].mets = 1.2;
    assert_eq!(signed_as(&case, &gentler, None).unwrap().overrides, []);
}

#[test]
fn a_higher_pulse_is_harder_too() {
    let case = answered();
    let mut harder = pages(&case);
    let peak = harder[0].predicted.peak_hr.unwrap();
    harder[0].predicted.peak_hr = Some(peak + 2.0);
    assert!(matches!(
        signed_as(&case, &harder, None),
        Err(SignRefused::NeedsReason(_))
    ));
}

/// The doctor who agreed to a high risk at home, and when, stand on the plan: nobody types them twice.
#[test]
fn a_high_risk_at_home_bears_the_name_of_the_doctor_who_agreed() {
    let mut case = answered();
    case.heart.ejection_fraction_pct = Some(32.0);
    assert!(matches!(
        signed_as(&case, &pages(&case), None),
        Err(SignRefused::NotToExercise(_))
    ));
    case.agreement = Some(Agreement {
        doctor: "Dr Sena".to_owned(),
        date: date(2026, 11, 20),
    });
    let plan = signed_as(&case, &pages(&case), None).unwrap();
    assert_eq!(plan.overrides.len(), 1, "{:?}", plan.overrides);
    assert_eq!(plan.overrides[0].second_name, "Dr Sena");
    assert_eq!(plan.overrides[0].reason, "agreed on 2026-11-20");
    assert!(plan.overrides[0].what.contains("high risk"));
}

#[tokio::test]
async fn nothing_is_signed_over_a_red_sign_also_not_with_reason_and_second_name() {
    let house = house().await;
    let mut past = signed(date(2026, 11, 9));
    past.push(session(
        "fenwick-1951",
        date(2026, 11, 23),
        Some(SymptomKind::ChestDiscomfort),
    ));
    let id = house.write(answered(), past).await;
    let address = format!("/people/{id}/sign");
    let page = house.get(&address).await;
    assert!(
        page.text.contains("Something stands that stops exercise"),
        "{}",
        page.text
    );
    assert!(!page.text.contains("second-name"), "no name opens it");
}

/// Without any page yet there is no review to go against, and `fenwick` alone is as proposed.
#[tokio::test]
async fn a_first_page_as_proposed_asks_for_no_second_name() {
    let house = house().await;
    let id = house.write(answered(), Vec::new()).await;
    let page = house.get(&format!("/people/{id}/sign")).await;
    assert!(!page.text.contains("second-name"), "{}", page.text);
    assert_ne!(fenwick(), answered());
}
