//! Medicines against two open lists of other people: a public agency's index of substances with its classes (in French),
//! and a list of some twenty thousand names, read by the stems of international names.
//!
//! A name of a watched class must be recognised, and must have the effect that the class is watched for. A name that is
//! not recognised is asked about and counts as slowing the heart; one recognised as harmless is not, so that is the fault
//! that these tests look for first.

use rehab::medicine::MedicineClass::{self as Class, *};
use rehab::medicine::MedicineEffect::{self as Effect, *};
use rehab::medicine::recognise;
use serde::Deserialize;
use tests::tools;

/// What a list says of a name, tried on the program.
struct Tried {
    name: String,
    fault: Option<String>,
}

fn try_class(name: &str, classes: &[Class]) -> Tried {
    let found = recognise(name, &[]);
    let fault = if !found.is_complete() {
        Some(format!("not recognised: {:?}", found.unknown))
    } else if !found.classes().iter().any(|class| classes.contains(class)) {
        Some(format!("read as {:?}", found.classes()))
    } else {
        None
    };
    Tried {
        name: name.to_owned(),
        fault,
    }
}

fn assert_no_fault(what: &str, tried: &[Tried], least: usize) {
    println!("{what}: {} names", tried.len());
    // A list that lost its names, or a stem that fits nothing, would prove nothing.
    assert!(tried.len() >= least, "{what}: only {} names", tried.len());
    let faults: Vec<String> = tried
        .iter()
        .filter_map(|one| Some(format!("{}: {}", one.name, one.fault.as_ref()?)))
        .collect();
    assert!(faults.is_empty(), "{what}\n{}", faults.join("\n"));
}

/// A substance of the agency's index.
#[derive(Deserialize)]
struct Indexed {
    substance: String,
    drug_classes: Vec<String>,
}

/// The agency's substances with a class whose name holds these words; what stands in brackets is left away.
fn indexed(words: &str) -> Vec<String> {
    let text = std::fs::read_to_string(tools::open_data("medicine_index.json"))
        .expect("the index is text");
    let all: Vec<Indexed> = serde_json::from_str(&text).expect("the index is a list of substances");
    all.into_iter()
        .filter(|one| one.drug_classes.iter().any(|class| class.contains(words)))
        .map(|one| {
            one.substance
                .split('(')
                .next()
                .unwrap_or_default()
                .trim()
                .to_owned()
        })
        .collect()
}

/// Classes of the agency's index, by words of their names, with ours for the same substances.
const SAME_CLASS: &[(&str, &[Class])] = &[
    ("sauf esmolol", &[BetaBlocker, BetaBlockerEyeDrops]),
    ("bêta-bloquants dans l'insuffisance", &[BetaBlocker]),
    ("dérivés nitrés", &[Nitrate]),
    ("insuline", &[Insulin]),
    ("sulfamides hypoglycémiants", &[Sulfonylurea]),
    ("glinides", &[Glinide]),
    ("gliptines", &[IncretinMedicine]),
    ("antivitamines K", &[Anticoagulant]),
    ("anticoagulants oraux", &[Anticoagulant]),
    ("héparines", &[Anticoagulant]),
    ("inhibiteurs directs de la thrombine", &[Anticoagulant]),
    (
        "antiarythmiques",
        &[
            RateSlowingAntiarrhythmic,
            OtherAntiarrhythmic,
            RateSlowingCalciumBlocker,
        ],
    ),
    ("antiagrégants plaquettaires", &[Antiplatelet]),
    (
        "phosphodiesterase de type 5",
        &[Phosphodiesterase5Inhibitor],
    ),
    (
        "antagonistes des canaux calciques",
        &[CalciumBlocker, RateSlowingCalciumBlocker],
    ),
    ("enzyme de conversion", &[AceInhibitor]),
    ("récepteurs de l'angiotensine", &[AngiotensinBlocker]),
    ("alphabloquants à visée urologique", &[AlphaBlocker]),
    ("antihypertenseurs alpha-bloquants", &[AlphaBlocker]),
    ("antihypertenseurs centraux", &[CentralPressureLowering]),
    ("diurétiques de l'anse", &[LoopDiuretic]),
    ("diurétiques thiazidiques", &[ThiazideDiuretic]),
    (
        "diurétiques épargneurs",
        &[PotassiumSparingDiuretic, AldosteroneBlocker],
    ),
    ("statines", &[Statin]),
    ("fibrates", &[OtherLipidLowering]),
    ("anticholinestérasiques", &[CholinesteraseInhibitor]),
    ("anti-inflammatoires non stéroïdiens", &[AntiInflammatory]),
    ("hormones thyroïdiennes", &[ThyroidHormone]),
    ("triptans", &[Triptan]),
];

/// Classes of the agency's index that are an effect, with ours.
const SAME_EFFECT: &[(&str, Effect)] = &[
    ("bradycardisants", SlowsRate),
    ("abaissant la pression artérielle", LowersPressure),
    ("hypotension orthostatique", LowersPressure),
    ("agissant sur l'hémostase", BleedsAtAFall),
    ("médicaments sédatifs", Unsteady),
];

/// Substances of the index that are left as they are, each with the reason.
const NOT_OURS: &[(&str, &str)] = &[
    (
        "lidocaine",
        "a patch or an ointment at home; against arrhythmia it is given in hospital only",
    ),
    (
        "proteine c activee recombinante",
        "a blood product given in hospital",
    ),
    ("proteine c humaine", "a blood product given in hospital"),
    ("di", "a cut name: two substances in one"),
    (
        "sodium",
        "a cut name: sodium oxybate stands in the index a second time",
    ),
    ("amifostine", "given in hospital with cancer medicines"),
];

fn is_ours(name: &str) -> bool {
    NOT_OURS.iter().all(|(one, _)| *one != name)
}

/// Source: ansm-index-2020.
#[test]
fn reference_an_agencys_classes_of_medicines_are_ours() {
    for (words, classes) in SAME_CLASS {
        let names = indexed(words);
        let tried: Vec<Tried> = names
            .iter()
            .filter(|name| is_ours(name))
            .map(|name| try_class(name, classes))
            .collect();
        assert_no_fault(words, &tried, 2);
    }
    let known = |name: &str| recognise(name, &[]).is_complete();
    assert!(!known("proteine c humaine") && known("lidocaine"));
}

/// What the agency says slows the heart, lowers the pressure, bleeds or makes drowsy is never read as harmless.
///
/// A beta-blocker of which eye drops are meant first is tried as the tablet where the pressure is meant.
/// Source: ansm-index-2020.
#[test]
fn reference_what_an_agency_warns_of_is_never_read_as_harmless() {
    for (words, effect) in SAME_EFFECT {
        let tried: Vec<Tried> = indexed(words)
            .into_iter()
            .filter(|name| is_ours(name))
            .map(|name| {
                let found = recognise(&format!("{name} tablets"), &[]);
                let fault = (!found.is_complete() || !found.has(*effect)).then(|| {
                    format!(
                        "no '{}': {:?} {:?}",
                        effect.word(),
                        found.classes(),
                        found.unknown
                    )
                });
                Tried { name, fault }
            })
            .collect();
        assert_no_fault(words, &tried, 30);
    }
}

/// A stem of international names, the classes it stands for, and names that end so and are something else.
struct Stem {
    ends: &'static [&'static str],
    classes: &'static [Class],
    others: &'static [&'static str],
}

const fn stem(
    ends: &'static [&'static str],
    classes: &'static [Class],
    others: &'static [&'static str],
) -> Stem {
    Stem {
        ends,
        classes,
        others,
    }
}

/// Source: inn-stems (recalled).
const STEMS: &[Stem] = &[
    stem(
        &["olol", "alol", "dilol"],
        &[BetaBlocker, BetaBlockerEyeDrops],
        &[
            // An anabolic steroid.
            "stanozolol",
            // Substances of the laboratory, and what the body makes of a medicine.
            "capsinolol",
            "dihydroalprenolol",
            "eugenodilol",
            "hydroxycarteolol",
            "hydroxytertatolol",
            "iodocyanopindolol",
            "iodopindolol",
        ],
    ),
    stem(&["bradine"], &[SinusNodeSlower], &[]),
    stem(&["pamil", "tiazem"], &[RateSlowingCalciumBlocker], &[]),
    stem(
        &["digoxin", "digitoxin", "lanoside", "scillaridin"],
        &[Digitalis],
        &[],
    ),
    stem(
        &["darone", "kalant", "ainide", "tilide", "pafenone"],
        &[RateSlowingAntiarrhythmic, OtherAntiarrhythmic],
        // Against gout.
        &["benziodarone"],
    ),
    stem(&["sidomine", "nitrate"], &[Nitrate], &["nitrate"]),
    stem(&["dipine"], &[CalciumBlocker], &["budipine"]),
    stem(&["pril", "prilat"], &[AceInhibitor], &["epicaptopril"]),
    stem(&["sartan"], &[AngiotensinBlocker], &[]),
    stem(&["azosin"], &[AlphaBlocker], &[]),
    stem(&["nafil", "dalafil"], &[Phosphodiesterase5Inhibitor], &[]),
    stem(&["ciguat"], &[GuanylateCyclaseStimulator], &[]),
    stem(
        &["sentan"],
        &[PulmonaryVasodilator, OtherPressureLowering],
        &[],
    ),
    stem(&["thiazide"], &[ThiazideDiuretic], &[]),
    stem(&["semide"], &[LoopDiuretic], &[]),
    stem(&["erenone"], &[AldosteroneBlocker], &[]),
    stem(&["dralazine"], &[DirectVasodilator], &[]),
    stem(&["parin"], &[Anticoagulant], &[]),
    stem(&["gatran", "xaban", "rudin"], &[Anticoagulant], &[]),
    stem(
        &["coumarol", "coumon", "indione"],
        &[Anticoagulant],
        // Against gout.
        &["isobromindione"],
    ),
    stem(&["grel", "grelor", "grelide"], &[Antiplatelet], &[]),
    stem(
        &["butamide", "propamide", "azamide", "hexamide"],
        &[Sulfonylurea],
        // A mould of plants, bladder and stomach medicines, a contrast medium.
        &["carpropamide", "isopropamide"],
    ),
    stem(&["glinide"], &[Glinide], &[]),
    stem(&["gliflozin"], &[Sglt2Inhibitor], &[]),
    stem(&["gliptin"], &[IncretinMedicine], &[]),
    stem(&["glitazone"], &[Glitazone], &[]),
    stem(&["vastatin"], &[Statin], &["mevastatin", "tenivastatin"]),
    stem(&["stigmine"], &[CholinesteraseInhibitor], &[]),
    stem(&["triptan"], &[Triptan], &[]),
];

/// Names of sulfonylureas begin alike, and so do a protein of wheat, a hormone, a poison of a mould and an enzyme.
const BEGINS_WITH_GLI: &[&str] = &["gliadin", "glicentin", "gliotoxin", "glisodin"];

fn listed() -> Vec<String> {
    let script = std::fs::read_to_string(tools::root().join("tests/python/medicine_names.py"))
        .expect("the script stands in the tests");
    let printed = tools::run_python(
        &script,
        &[&tools::open_data("medicine_names.pkl.bz2").to_string_lossy()],
    );
    let all: Vec<String> = serde_json::from_str(&printed).expect("the script prints a list");
    all.into_iter()
        .filter(|name| name.bytes().all(|byte| byte.is_ascii_lowercase()))
        .collect()
}

/// Source: inn-stems (recalled), names of drug-names-2025.
#[test]
fn reference_every_listed_name_with_a_stem_of_a_watched_class_is_in_that_class() {
    let names = listed();
    assert!(names.len() > 8_000, "only {} names", names.len());
    for stem in STEMS {
        let ends = |name: &&String| stem.ends.iter().any(|end| name.ends_with(end));
        let (others, ours): (Vec<_>, Vec<_>) = names
            .iter()
            .filter(ends)
            .partition(|name| stem.others.contains(&name.as_str()));
        assert_eq!(others.len(), stem.others.len(), "{:?}", stem.others);
        let tried: Vec<Tried> = ours
            .into_iter()
            .map(|name| try_class(name, stem.classes))
            .collect();
        assert_no_fault(&stem.ends.join(", "), &tried, 1);
        for name in others {
            let found = recognise(name, &[]).classes();
            let wrong = found.iter().any(|class| stem.classes.contains(class));
            assert!(!wrong, "{name} is read as {found:?}");
        }
    }
    let gli: Vec<Tried> = names
        .iter()
        .filter(|name| name.starts_with("gli") && !name.ends_with("gliflozin"))
        .filter(|name| !BEGINS_WITH_GLI.contains(&name.as_str()))
        .map(|name| try_class(name, &[Sulfonylurea]))
        .collect();
    assert_no_fault("gli-", &gli, 5);
}
