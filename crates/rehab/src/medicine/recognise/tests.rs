use super::*;
use crate::medicine::MedicineClass::{
    AceInhibitor, AngiotensinBlocker, BetaBlocker, BetaBlockerEyeDrops, CalciumBlocker,
    LoopDiuretic, NeprilysinInhibitor, Nitrate, Other,
};

fn check(name: &str, inn: &str, class: MedicineClass) {
    let found = recognise(name, &[]);
    assert!(found.is_complete(), "{name}: {found:?}");
    assert_eq!(found.inn(), inn, "{name}");
    assert!(
        found.classes().contains(&class),
        "{name}: {:?}",
        found.classes()
    );
}

#[test]
fn case_accents_salts_doses_and_forms_are_set_aside() {
    check("bisoprolol", "bisoprolol", BetaBlocker);
    check(
        "Bisoprolol fumarate 2.5 mg tablets",
        "bisoprolol",
        BetaBlocker,
    );
    check("METOPROLOL SUCCINATE", "metoprolol", BetaBlocker);
    check("métoprolol", "metoprolol", BetaBlocker);
    check("chlorhydrate de propranolol", "propranolol", BetaBlocker);
    check("  nebivolol  5mg od", "nebivolol", BetaBlocker);
    check(
        "perindopril tert-butylamine 4mg",
        "perindopril",
        AceInhibitor,
    );
    check("perindopril arginine", "perindopril", AceInhibitor);
    check("losartan potassium", "losartan", AngiotensinBlocker);
    check("GTN spray", "glyceryl trinitrate", Nitrate);
    check(
        "glyceryl trinitrate 400 micrograms/dose",
        "glyceryl trinitrate",
        Nitrate,
    );
    check(
        "Isosorbide-5-mononitrate",
        "isosorbide mononitrate",
        Nitrate,
    );
}

#[test]
fn endings_of_other_languages_are_read() {
    check("furosemida", "furosemide", LoopDiuretic);
    check("furosémide", "furosemide", LoopDiuretic);
    check("Furosemidum", "furosemide", LoopDiuretic);
    check("bisoprololo", "bisoprolol", BetaBlocker);
    check(
        "hidroclorotiazida",
        "hydrochlorothiazide",
        MedicineClass::ThiazideDiuretic,
    );
    check("Amlodipin", "amlodipine", CalciumBlocker);
    check(
        "Insulina glargina",
        "insulin glargine",
        MedicineClass::Insulin,
    );
}

#[test]
fn combinations_are_read_part_by_part() {
    for name in [
        "sacubitril/valsartan 49/51 mg",
        "Sacubitril + Valsartan",
        "sacubitril and valsartan",
        "sacubitril-valsartan",
    ] {
        let found = recognise(name, &[]);
        assert!(found.is_complete(), "{name}: {found:?}");
        assert_eq!(found.inn(), "sacubitril + valsartan");
        assert_eq!(
            found.classes(),
            vec![NeprilysinInhibitor, AngiotensinBlocker]
        );
    }
    check(
        "bisoprolol and aspirin",
        "bisoprolol + acetylsalicylic acid",
        BetaBlocker,
    );
    check(
        "perindopril + amlodipine",
        "perindopril + amlodipine",
        CalciumBlocker,
    );
    check(
        "co-tenidone 50/12.5",
        "atenolol + chlortalidone",
        BetaBlocker,
    );
    check(
        "insulin degludec/liraglutide",
        "insulin degludec + liraglutide",
        MedicineClass::Insulin,
    );
    check(
        "dorzolamide/timolol eye drops",
        "dorzolamide + timolol",
        BetaBlockerEyeDrops,
    );
}

#[test]
fn eye_drops_of_a_beta_blocker_slow_the_heart_too() {
    for name in [
        "timolol",
        "timolol 0.5% eye drops",
        "betaxolol",
        "levobunolol",
        "carteolol",
    ] {
        let found = recognise(name, &[]);
        assert_eq!(found.classes(), vec![BetaBlockerEyeDrops], "{name}");
        assert!(found.has(MedicineEffect::SlowsRate));
    }
    assert_eq!(
        recognise("timolol tablets 10 mg", &[]).classes(),
        vec![BetaBlocker]
    );
}

#[test]
fn what_slows_the_heart_is_known_to_slow_it() {
    for name in [
        "ivabradine",
        "diltiazem",
        "verapamil",
        "digoxin",
        "amiodarone",
        "dronedarone",
        "sotalol",
        "carvedilol",
        "labetalol",
        "atenolol",
        "acebutolol",
        "celiprolol",
        "nadolol",
        "pindolol",
        "propranolol",
        "esmolol",
    ] {
        assert!(
            recognise(name, &[]).has(MedicineEffect::SlowsRate),
            "{name}"
        );
    }
    for name in [
        "amlodipine",
        "ramipril",
        "atorvastatin",
        "aspirin",
        "paracetamol",
        "salbutamol",
    ] {
        assert!(
            !recognise(name, &[]).has(MedicineEffect::SlowsRate),
            "{name}"
        );
    }
}

#[test]
fn what_is_not_recognised_is_kept_with_the_nearest_name_and_never_assumed() {
    let found = recognise("bisoprolul", &[]);
    assert!(found.substances.is_empty());
    assert_eq!(found.unknown[0].nearest, Some("bisoprolol"));
    let found = recognise("Quirlamex", &[]);
    assert_eq!(
        found.unknown,
        vec![Unknown {
            text: "quirlamex".to_owned(),
            nearest: None
        }]
    );
    let found = recognise("ramipril / quirlamex", &[]);
    assert_eq!(found.inn(), "ramipril");
    assert_eq!(found.unknown.len(), 1);
    assert!(!found.is_complete());
    assert_eq!(
        recognise("white tablets 5 mg", &[]).unknown[0].text,
        "white"
    );
    assert_eq!(recognise("2 tablets", &[]).unknown[0].text, "2 tablets");
}

fn local(name: &str, inn: &str) -> LocalMedicineName {
    LocalMedicineName {
        name: name.to_owned(),
        inn: inn.to_owned(),
    }
}

#[test]
fn local_names_are_read_and_cannot_hide_a_known_substance() {
    let names = [
        local("Quirlamex", "bisoprolol"),
        local("Aspirin Quor", "acetylsalicylic acid"),
        local("Verapamil", "paracetamol"),
        local("Duoquir", "sacubitril/valsartan"),
        local("Blankex", "nothingatall"),
    ];
    assert_eq!(recognise("quirlamex 5 mg", &names).inn(), "bisoprolol");
    assert!(recognise("Aspirin Quor 100", &names).is_complete());
    assert_eq!(recognise("verapamil", &names).inn(), "verapamil");
    assert_eq!(
        recognise("Duoquir 49/51", &names).inn(),
        "sacubitril + valsartan"
    );
    assert!(!recognise("Blankex", &names).is_complete());
}

#[test]
fn a_cream_is_not_a_tablet() {
    assert_eq!(
        recognise("hydrocortisone 1% cream", &[]).classes(),
        vec![Other]
    );
    assert_eq!(recognise("potassium chloride", &[]).inn(), "potassium");
    assert_eq!(recognise("sodium valproate", &[]).inn(), "valproic acid");
}

#[test]
fn law_every_name_of_the_table_is_read_as_itself() {
    for group in groups() {
        for names in group.names.split(", ") {
            let inn = names.split('|').next().unwrap();
            for spelling in names.split('|') {
                let found = recognise(spelling, &[]);
                assert!(found.is_complete(), "{spelling}: {found:?}");
                assert_eq!(found.inn(), inn, "{spelling}");
                assert_eq!(found.substances[0].classes, group.classes, "{spelling}");
            }
        }
    }
    for (name, parts) in names_other::COMBINATIONS {
        let found = recognise(name, &[]);
        assert_eq!(found.inn(), parts.join(" + "), "{name}");
    }
}

#[test]
fn law_no_two_substances_fold_alike() {
    let mut seen: BTreeMap<String, &str> = BTreeMap::new();
    for group in groups() {
        for names in group.names.split(", ") {
            let inn = names.split('|').next().unwrap();
            for spelling in names.split('|') {
                if let Some(before) = seen.insert(key_of(spelling), inn) {
                    assert_eq!(before, inn, "{spelling} folds like {before}");
                }
            }
        }
    }
    assert!(seen.len() > 800, "{} names", seen.len());
}
