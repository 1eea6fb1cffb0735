use super::*;
use crate::medicine::hours_without_nitrate;

const TODAY: Date = jiff::civil::date(2026, 10, 12);

fn medicine(name: &str) -> Medicine {
    Medicine {
        name: name.to_owned(),
        dose: None,
        since: None,
        until: None,
        times: None,
        as_needed: None,
    }
}

fn taking(names: &[&str]) -> Medicines {
    let list: Vec<Medicine> = names.iter().map(|name| medicine(name)).collect();
    Medicines::on(&list, &[], TODAY)
}

fn ids(found: &[Finding]) -> Vec<&str> {
    found.iter().map(|one| one.rule.0).collect()
}

#[test]
fn silence_is_not_absence() {
    assert_eq!(taking(&[]).rate_slowed(), Answered::NotKnown);
    assert_eq!(
        taking(&["ramipril", "quirlamex"]).rate_slowed(),
        Answered::NotKnown
    );
    assert_eq!(
        taking(&["bisoprolol", "quirlamex"]).rate_slowed(),
        Answered::Present
    );
    assert_eq!(
        taking(&["ramipril", "atorvastatin"]).rate_slowed(),
        Answered::Absent
    );
    assert_eq!(
        taking(&["timolol eye drops"]).rate_slowed(),
        Answered::Present
    );
}

#[test]
fn a_medicine_that_ended_is_not_taken() {
    let ended = Medicine {
        until: Some(jiff::civil::date(2026, 10, 1)),
        ..medicine("bisoprolol")
    };
    let read = Medicines::on(&[ended, medicine("ramipril")], &[], TODAY);
    assert_eq!(read.rate_slowed(), Answered::Absent);
}

#[test]
fn a_nitrate_with_a_pde5_inhibitor_blocks_signing() {
    let unasked = Nitrate::unasked();
    let spray = Nitrate {
        prescribed: Some(true),
        ..unasked
    };
    let conflict = |names: &[&str], nitrate: &Nitrate| {
        taking(names).findings(nitrate).iter().any(|one| {
            one.rule.0 == "medicine/nitrate-with-pde5" && one.weight == Weight::BlocksSigning
        })
    };
    assert!(conflict(
        &["sildenafil", "glyceryl trinitrate spray"],
        &unasked
    ));
    assert!(conflict(&["tadalafil"], &spray));
    assert!(conflict(&["vardenafil", "nicorandil"], &unasked));
    assert!(conflict(&["riociguat", "isosorbide mononitrate"], &unasked));
    assert!(!conflict(&["sildenafil"], &unasked));
    assert!(!conflict(&["glyceryl trinitrate"], &spray));
}

#[test]
fn what_two_medicines_do_together_is_said() {
    let found = taking(&[
        "bisoprolol",
        "gliclazide",
        "apixaban",
        "clopidogrel",
        "diltiazem",
    ])
    .findings(&Nitrate::unasked());
    for id in [
        "medicine/beta-blocker-masks-low-sugar",
        "medicine/two-rate-slowing",
        "medicine/two-bleeding",
        "medicine/beta-blocker",
        "medicine/sulfonylurea",
        "medicine/anticoagulant",
        "medicine/rate-slowing-calcium-blocker",
    ] {
        assert!(
            ids(&found).contains(&id),
            "{id} is missing in {:?}",
            ids(&found)
        );
    }
}

/// A substance of two classes that say the same stood in the list twice, and so did a medicine written down twice.
#[test]
fn a_medicine_that_widens_vessels_in_two_ways_is_told_once() {
    let told = |names: &[&str]| -> Vec<String> {
        let found = taking(names).findings(&Nitrate::unasked());
        let of_it = found.iter().filter(|one| one.text.contains("nicorandil"));
        of_it.map(|one| one.rule.0.to_owned()).collect()
    };
    assert_eq!(told(&["nicorandil"]), ["medicine/potassium-channel-opener"]);
    let twice = taking(&["nicorandil", "nicorandil"]).findings(&Nitrate::unasked());
    let names = twice
        .iter()
        .map(|one| one.text.matches("nicorandil").count());
    assert_eq!(names.sum::<usize>(), 1, "{twice:?}");
    // Beside a nitrate each stands on its own line.
    let both = taking(&["nicorandil", "isosorbide mononitrate"]).findings(&Nitrate::unasked());
    let widens = both
        .iter()
        .filter(|one| one.text.contains("Widens vessels"));
    assert_eq!(widens.count(), 2, "{both:?}");
}

#[test]
fn what_is_not_recognised_and_what_is_not_recorded_is_asked() {
    let found = taking(&["quirlamex"]).findings(&Nitrate::unasked());
    assert_eq!(ids(&found), ["medicine/not-recognised"]);
    assert_eq!(found[0].weight, Weight::FindOut);
    assert!(found[0].ask.is_some());
    assert_eq!(
        ids(&taking(&[]).findings(&Nitrate::unasked())),
        ["medicine/none-recorded"]
    );
    assert!(ids(&taking(&["paracetamol"]).findings(&Nitrate::unasked())).is_empty());
}

#[test]
fn every_class_has_its_own_rule_with_its_word() {
    for class in MedicineClass::ALL {
        let rule = rule_of(*class);
        assert_eq!(rule.name, class.word());
    }
}

#[test]
fn a_changed_dose_between_two_days_is_seen() {
    let from = jiff::civil::date(2026, 9, 1);
    let day = |month, day| Some(jiff::civil::date(2026, month, day));
    let changed = |list: &[Medicine]| rate_slowing_changed(list, &[], from, TODAY);
    let old = Medicine {
        since: day(8, 1),
        until: day(9, 20),
        ..medicine("bisoprolol 2.5 mg")
    };
    let new = Medicine {
        since: day(9, 21),
        ..medicine("bisoprolol 5 mg")
    };
    assert_eq!(changed(&[old.clone(), new]), Answered::Present);
    let steady = Medicine {
        since: day(8, 1),
        ..medicine("bisoprolol")
    };
    assert_eq!(changed(&[steady]), Answered::Absent);
    assert_eq!(changed(&[medicine("bisoprolol")]), Answered::NotKnown);
    let other = Medicine {
        since: day(9, 10),
        ..medicine("atorvastatin")
    };
    assert_eq!(changed(&[other]), Answered::Absent);
    let unread = Medicine {
        since: day(9, 10),
        ..medicine("quirlamex")
    };
    assert_eq!(changed(&[unread]), Answered::NotKnown);
}

#[test]
fn intervals_without_a_nitrate() {
    assert_eq!(hours_without_nitrate("sildenafil"), Some(24));
    assert_eq!(hours_without_nitrate("tadalafil"), Some(48));
    assert_eq!(hours_without_nitrate("avanafil"), None);
}
