//! Events, the heart itself, the history and the medicines.

use super::days_ago;
use super::draw::{Draw, Kind};
use rehab::assessment::{
    Case, Device, Event, EventKind, HistoryItem, Medicine, Pacemaker, PacingMode, Procedure,
    ProcedureKind, Rhythm,
};

pub(super) fn draw(draw: &mut Draw, kind: Kind, case: &mut Case) {
    events(draw, kind, case);
    heart(draw, kind, case);
    history(draw, kind, case);
    medicines(draw, kind, case);
    nitrate(draw, kind, case);
}

fn events(draw: &mut Draw, kind: Kind, case: &mut Case) {
    if draw.chance(0.04) {
        return;
    }
    let mut count = 1;
    while count < 4 && draw.chance(0.25) {
        count += 1;
    }
    for number in 0..count {
        let what = match draw.whole(0, 99) {
            0..=44 => EventKind::MyocardialInfarction,
            45..=54 => EventKind::Angina,
            55..=60 => EventKind::HeartFailure,
            61..=74 => EventKind::BypassSurgery,
            75..=86 => EventKind::ValveSurgery,
            _ => draw.pick(EventKind::ALL),
        };
        let days = if number == 0 {
            draw.whole(15, 150)
        } else {
            draw.whole(1, 4000)
        };
        let date = days_ago(days);
        let procedures = procedures(draw, what, days);
        let complicated = draw.chance(0.06);
        let residual = draw.chance(0.15);
        case.events.push(Event {
            kind: what,
            date: draw.known(kind.thorough.max(0.8), date),
            procedures,
            complicated: draw.known(kind.thorough, complicated),
            residual_disease: draw.known(kind.thorough, residual),
        });
    }
}

fn procedures(draw: &mut Draw, what: EventKind, days: i32) -> Vec<Procedure> {
    let usual = match what {
        EventKind::MyocardialInfarction | EventKind::Angina => ProcedureKind::Stent,
        EventKind::BypassSurgery => ProcedureKind::Bypass,
        EventKind::ValveSurgery | EventKind::CatheterValve => ProcedureKind::Valve,
        EventKind::DeviceImplant => draw.pick(&[ProcedureKind::Pacemaker, ProcedureKind::Icd]),
        _ => draw.pick(ProcedureKind::ALL),
    };
    if !draw.chance(0.7) {
        return Vec::new();
    }
    let later = draw.whole(0, 3).min(days - 1).max(0);
    let date = days_ago(days - later);
    let access = draw.pick(&["wrist", "wrist", "groin"]);
    let stent = usual == ProcedureKind::Stent;
    vec![Procedure {
        kind: usual,
        date: draw.known(0.7, date),
        access: if stent {
            draw.known(0.7, access.to_owned())
        } else {
            None
        },
    }]
}

fn heart(draw: &mut Draw, kind: Kind, case: &mut Case) {
    let fraction = if draw.chance(0.14) {
        draw.number(18.0, 49.0, 1.0)
    } else {
        draw.number(50.0, 68.0, 1.0)
    };
    case.heart.ejection_fraction_pct = draw.known(0.85 * kind.thorough, fraction);
    let rhythm = match draw.whole(0, 99) {
        0..=79 => Rhythm::Sinus,
        80..=91 => Rhythm::AtrialFibrillation,
        92..=93 => Rhythm::AtrialFlutter,
        94..=97 => Rhythm::Paced,
        _ => Rhythm::Other,
    };
    case.heart.rhythm = draw.known(kind.thorough.max(0.7), rhythm);
    if draw.chance(0.08) {
        let rate = draw.number(130.0, 222.0, 2.0);
        let shock = days_ago(draw.whole(1, 900));
        let under_skin = draw.chance(0.2);
        case.heart.device = Some(Device {
            lowest_treated_bpm: draw.known(0.75, rate),
            last_shock: draw.known(0.15, shock),
            subcutaneous: draw.known(0.6, under_skin),
        });
    }
    if rhythm == Rhythm::Paced || draw.chance(0.03) {
        let mode = draw.pick(PacingMode::ALL);
        let base = draw.number(50.0, 70.0, 5.0);
        let upper = draw.number(110.0, 150.0, 5.0);
        let (response, both) = (draw.chance(0.5), draw.chance(0.2));
        case.heart.pacemaker = Some(Pacemaker {
            mode: draw.known(0.8, mode),
            base_bpm: draw.known(0.8, base),
            upper_tracking_bpm: draw.known(0.7, upper),
            rate_response: draw.known(0.7, response),
            resynchronisation: draw.known(0.7, both),
        });
    }
    let haemoglobin = draw.number(9.5, 16.5, 0.1);
    case.heart.haemoglobin_g_dl = draw.known(0.4 * kind.thorough, haemoglobin);
}

/// How often an item of the history is present.
fn frequency(item: HistoryItem, unwell: f64) -> f64 {
    use HistoryItem as Item;
    match item {
        Item::KneeOsteoarthritis => 0.25,
        Item::Diabetes | Item::BackPain | Item::Hypertension => 0.2,
        Item::HipOsteoarthritis | Item::ShoulderPain => 0.12,
        Item::HeartFailure
        | Item::ChronicObstructivePulmonaryDisease
        | Item::PeripheralArterialDisease
        | Item::Osteoporosis
        | Item::PoorBalance
        | Item::FootNeuropathy
        | Item::ChronicKidneyDisease => 0.07,
        Item::ClinicalDepression
        | Item::HipReplacement
        | Item::WristPain
        | Item::Stroke
        | Item::Vertigo
        | Item::LowVision
        | Item::OrthostaticHypotension
        | Item::VertebralFracture => 0.04,
        Item::CardiacArrest | Item::ComplexArrhythmia | Item::PostEventIschaemia => 0.02,
        Item::Pregnancy | Item::VentricularAssistDevice => 0.002,
        _ => unwell * 0.05,
    }
}

fn history(draw: &mut Draw, kind: Kind, case: &mut Case) {
    for item in HistoryItem::ALL {
        if draw.chance(frequency(*item, kind.unwell)) {
            case.history.present.push(*item);
            if draw.chance(0.3) {
                let began = days_ago(draw.whole(1, 2000));
                case.history.since.push((*item, began));
            }
        }
    }
    // One tick answers the rest, as most thorough records have it; else item by item.
    if draw.chance(kind.thorough * 0.85) {
        case.history.rest_absent = Some("letter and by asking".to_owned());
    } else {
        for item in HistoryItem::ALL {
            if !case.history.present.contains(item) && draw.chance(kind.thorough) {
                case.history.absent.push(*item);
            }
        }
    }
}

const MEDICINES: &[(&str, &str, f64)] = &[
    ("bisoprolol", "2.5 mg", 0.6),
    ("aspirin", "75 mg", 0.7),
    ("atorvastatin", "80 mg", 0.7),
    ("ramipril", "5 mg", 0.5),
    ("clopidogrel", "75 mg", 0.4),
    ("furosemide", "40 mg", 0.2),
    ("spironolactone", "25 mg", 0.15),
    ("isosorbide mononitrate", "30 mg", 0.1),
    ("amlodipine", "5 mg", 0.15),
    ("diltiazem", "120 mg", 0.04),
    ("ivabradine", "5 mg", 0.05),
    ("digoxin", "125 micrograms", 0.05),
    ("amiodarone", "200 mg", 0.03),
    ("apixaban", "5 mg", 0.15),
    ("metformin", "500 mg", 0.15),
    ("insulin glargine", "20 units", 0.06),
    ("gliclazide", "80 mg", 0.06),
    ("dapagliflozin", "10 mg", 0.15),
    ("tamsulosin", "400 micrograms", 0.06),
    ("timolol eye drops", "0.5 %", 0.03),
    ("salbutamol", "100 micrograms", 0.08),
    ("sertraline", "50 mg", 0.08),
    ("sildenafil", "50 mg", 0.03),
    ("a herbal mixture from home", "one cup", 0.03),
];

fn medicines(draw: &mut Draw, kind: Kind, case: &mut Case) {
    if !draw.chance(kind.thorough.max(0.6)) {
        return;
    }
    for (name, dose, often) in MEDICINES {
        if !draw.chance(*often) {
            continue;
        }
        let days = if draw.chance(0.97) {
            draw.whole(20, 900)
        } else {
            draw.whole(0, 14)
        };
        let since = days_ago(days);
        let until = days_ago(draw.whole(-60, days.min(60)));
        case.medicines.push(Medicine {
            name: (*name).to_owned(),
            dose: draw.known(0.9, (*dose).to_owned()),
            since: draw.known(kind.thorough, since),
            until: draw.known(0.03, until),
            times: draw.known(0.3, "morning".to_owned()),
            as_needed: draw.known(0.2, *name == "salbutamol"),
        });
    }
}

fn nitrate(draw: &mut Draw, kind: Kind, case: &mut Case) {
    let prescribed = draw.chance(0.7);
    case.nitrate.prescribed = draw.known(kind.thorough, prescribed);
    if case.nitrate.prescribed == Some(true) {
        let (in_date, taught) = (draw.chance(0.95), draw.chance(0.9));
        case.nitrate.in_date = draw.known(kind.thorough, in_date);
        case.nitrate.taught = draw.known(kind.thorough, taught);
    }
}
