//! Examinations: the newest mostly within its validity, with older ones before it.

use super::days_ago;
use super::draw::{Draw, Kind};
use rehab::assessment::{Case, Examination, ExaminationSymptom, Pressure, Rhythm};

pub(super) fn draw(draw: &mut Draw, kind: Kind, case: &mut Case) {
    if !draw.chance(kind.thorough.max(0.5)) {
        return;
    }
    let mut days = if draw.chance(0.9) {
        draw.whole(0, 13)
    } else {
        draw.whole(13, 40)
    };
    let mut weight = case.person.weight_kg.unwrap_or(78.0);
    let mut newest_first = Vec::new();
    let mut count = 1;
    while count < 5 && draw.chance(0.5) {
        count += 1;
    }
    for _ in 0..count {
        let mut examination = examination(draw, kind, case, days);
        examination.weight_kg = draw.known(kind.thorough, (weight * 10.0).round() / 10.0);
        newest_first.push(examination);
        days += draw.whole(1, 12);
        weight = (weight + draw.about(0.0, 0.9, 0.1)).clamp(35.0, 170.0);
    }
    newest_first.reverse();
    case.examinations = newest_first;
}

fn examination(draw: &mut Draw, kind: Kind, case: &Case, days: i32) -> Examination {
    let known = kind.thorough;
    let bad = |draw: &mut Draw| draw.chance(kind.unwell * 0.3);
    let nyha = if bad(draw) {
        draw.whole(3, 4)
    } else {
        draw.whole(1, 3)
    };
    let rate = if bad(draw) {
        draw.pick(&[36.0, 46.0, 99.0, 100.0, 118.0, 121.0])
    } else {
        draw.about(66.0, 14.0, 1.0).clamp(48.0, 96.0)
    };
    let systolic = if bad(draw) {
        draw.pick(&[84.0, 96.0, 178.0, 180.0, 181.0, 204.0])
    } else {
        draw.about(128.0, 20.0, 1.0).clamp(100.0, 172.0)
    };
    let diastolic = if bad(draw) {
        draw.pick(&[99.0, 100.0, 110.0])
    } else {
        draw.about(75.0, 10.0, 1.0).clamp(52.0, 94.0)
    };
    // Two thirds of the systolic keeps the two in order when one of them is unusual.
    let diastolic = diastolic.min(systolic - 15.0);
    let fall = draw.about(4.0, 8.0, 1.0) + if bad(draw) { 18.0 } else { 0.0 };
    let standing = Pressure {
        systolic_mmhg: (systolic - fall).clamp(60.0, 240.0),
        diastolic_mmhg: (diastolic - draw.about(0.0, 4.0, 1.0)).clamp(35.0, 130.0),
    };
    let standing = Pressure {
        diastolic_mmhg: standing.diastolic_mmhg.min(standing.systolic_mmhg - 10.0),
        ..standing
    };
    let fibrillates = matches!(
        case.heart.rhythm,
        Some(Rhythm::AtrialFibrillation | Rhythm::AtrialFlutter | Rhythm::Other)
    );
    let regular = if fibrillates {
        draw.chance(0.1)
    } else {
        draw.chance(0.985)
    };
    let mut symptoms = Vec::new();
    for symptom in ExaminationSymptom::ALL {
        if draw.chance(kind.unwell * 0.06) {
            symptoms.push(*symptom);
        }
    }
    let spo2 = if bad(draw) {
        draw.whole(82, 92)
    } else {
        draw.whole(92, 99)
    };
    let temperature = if bad(draw) {
        draw.number(37.5, 39.4, 0.1)
    } else {
        draw.number(36.1, 37.4, 0.1)
    };
    let glucose = if bad(draw) {
        draw.pick(&[2.6, 3.8, 4.4, 13.9, 16.2, 19.4])
    } else {
        draw.number(4.8, 11.5, 0.1)
    };
    let ketones = draw.number(0.0, 2.0, 0.1);
    let oedema = draw.chance(0.1);
    Examination {
        nyha: draw.known(known, nyha.unsigned_abs() as u8),
        resting_hr_bpm: draw.known(known.max(0.8), rate),
        pulse_regular: draw.known(known, regular),
        resting_bp: draw.known(
            known.max(0.8),
            Pressure {
                systolic_mmhg: systolic,
                diastolic_mmhg: diastolic,
            },
        ),
        standing_bp: draw.known(0.8 * known, standing),
        spo2_pct: draw.known(0.7 * known, f64::from(spo2)),
        temperature_c: draw.known(0.3 * known, temperature),
        glucose_mmol_l: draw.known(0.4 * known, glucose),
        ketones_mmol_l: draw.known(0.08 * known, ketones),
        oedema: draw.known(known, oedema),
        symptoms: draw.known(known.max(0.7), symptoms),
        ..Examination::on(days_ago(days))
    }
}
