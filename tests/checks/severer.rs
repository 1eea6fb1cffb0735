//! More severe is never looser: each direction tried on the case file itself, compared on what is printed.

use crate::looser::looser;
use rehab::service::Service;
use serde_json::{Value, json};
use tests::answers::{case_json, limits_of, on_all_cores, read_case};
use tests::{Draw, random_case};

/// People that each direction is tried on, in the optimised build.
const PEOPLE: u64 = 4_000;

/// Tries a change of the case file on everybody it applies to; the change says whether it did.
fn never_looser(name: &str, change: impl Fn(&mut Value, &mut Draw) -> Option<()> + Sync) {
    let service = Service::cautious();
    let people = if tests::tools::unoptimised() {
        PEOPLE / 4
    } else {
        PEOPLE
    };
    let tried = on_all_cores(people, |seed| {
        let before = random_case(seed);
        let mut file = case_json(&before);
        change(&mut file, &mut Draw::new(seed ^ 0x5EED))?;
        // A change that makes the record contradict itself is refused, so it is no direction of this person.
        let after = read_case(&file).ok()?;
        let before = limits_of(&before, &service).limits;
        let after = limits_of(&after, &service).limits;
        Some(looser(&before, &after))
    });
    assert!(
        tried.len() > 20,
        "{name} was tried on {} people only",
        tried.len()
    );
    let found: Vec<_> = tried.iter().filter(|(_, what)| !what.is_empty()).collect();
    assert!(found.is_empty(), "{name}: {found:#?}");
    println!("{name}: {} people", tried.len());
}

/// Changes a number of a table where it is written.
fn change_number(table: &mut Value, key: &str, by: impl Fn(f64) -> f64) -> Option<()> {
    let value = table.get_mut(key)?;
    let number = value.as_f64()?;
    *value = json!((by(number) * 100.0).round() / 100.0);
    Some(())
}

/// Applies a change to every entry of a list; `None` where it applied to none.
fn each(case: &mut Value, list: &str, change: impl Fn(&mut Value) -> Option<()>) -> Option<()> {
    let entries = case[list].as_array_mut()?;
    let changed = entries.iter_mut().filter_map(change).count();
    (changed > 0).then_some(())
}

fn newest_examination(case: &mut Value) -> Option<&mut Value> {
    let entries = case["examination"].as_array_mut()?;
    entries
        .iter_mut()
        .max_by_key(|one| one["date"].as_str().map(str::to_owned))
}

#[test]
fn law_printed_limits_are_never_looser_with_a_lower_ejection_fraction() {
    never_looser("ejection fraction down", |case, draw| {
        let by = draw.number(1.0, 30.0, 1.0);
        change_number(&mut case["heart"], "ejection_fraction_pct", |pct| {
            (pct - by).max(8.0)
        })
    });
}

#[test]
fn law_printed_limits_are_never_looser_with_a_higher_functional_class() {
    never_looser("functional class up", |case, _| {
        let newest = newest_examination(case)?;
        newest["nyha"].as_f64().filter(|class| *class < 4.0)?;
        change_number(newest, "nyha", |class| class + 1.0)
    });
}

#[test]
fn law_printed_limits_are_never_looser_with_a_lower_ischaemic_or_device_rate() {
    never_looser("ischaemic rate down", |case, draw| {
        let by = draw.number(1.0, 30.0, 1.0);
        each(case, "test", |test| {
            change_number(test, "ischaemia_hr_bpm", |bpm| (bpm - by).max(45.0))
        })
    });
    never_looser("device rate down", |case, draw| {
        let by = draw.number(2.0, 60.0, 2.0);
        change_number(&mut case["heart"]["device"], "lowest_treated_bpm", |bpm| {
            (bpm - by).max(104.0)
        })
    });
}

#[test]
fn law_printed_limits_are_never_looser_with_a_lower_capacity() {
    never_looser("capacity down", |case, draw| {
        let share = draw.number(0.3, 0.95, 0.05);
        each(case, "test", |test| {
            let mets = change_number(test, "peak_mets", |mets| (mets * share).max(1.0));
            mets.or_else(|| change_number(test, "distance_m", |metres| metres * share))
        })
    });
}

#[test]
fn law_printed_limits_are_never_looser_with_a_symptom_more() {
    let words = [
        "chest-pain-at-rest",
        "new-breathlessness",
        "palpitations",
        "irregular-pulse",
        "dizziness",
        "dizziness-on-standing",
        "faint",
        "fever",
        "very-tired",
        "calf-pain",
        "wound-trouble",
    ];
    never_looser("symptom more", |case, draw| {
        let symptom = json!(draw.pick(&words));
        let list = newest_examination(case)?["symptoms"].as_array_mut()?;
        if list.contains(&symptom) {
            return None;
        }
        list.push(symptom);
        Some(())
    });
}

/// From a pressure that isn't low: a low one holds the day as well, so there the direction has two sides.
#[test]
fn law_printed_limits_are_never_looser_with_a_higher_pressure() {
    never_looser("pressure up", |case, draw| {
        let (up, down) = (draw.number(0.0, 90.0, 1.0), draw.number(0.0, 50.0, 1.0));
        let pair = newest_examination(case)?["resting_bp_mmhg"].as_array_mut()?;
        let (systolic, diastolic) = (pair[0].as_f64()?, pair[1].as_f64()?);
        if systolic < 100.0 {
            return None;
        }
        *pair = vec![json!(systolic + up), json!(diastolic + down)];
        Some(())
    });
}

#[test]
fn law_printed_limits_are_never_looser_with_fewer_weeks_since_surgery() {
    never_looser("surgery nearer", |case, draw| {
        let by = draw.whole(1, 140);
        each(case, "event", |event| {
            let kind = event["kind"].as_str()?;
            let opened = [
                "bypass-surgery",
                "valve-surgery",
                "transplant",
                "device-implant",
            ];
            if !opened.contains(&kind) {
                return None;
            }
            nearer(&mut event["date"], by)?;
            for procedure in event["procedures"].as_array_mut().into_iter().flatten() {
                nearer(&mut procedure["date"], by);
            }
            Some(())
        })
    });
}

/// Moves a day nearer to the day of the answer, never past it.
fn nearer(day: &mut Value, by: i32) -> Option<()> {
    let date: jiff::civil::Date = day.as_str()?.parse().ok()?;
    let left = date.until(tests::RANDOM_DAY).ok()?.get_days();
    let moved = date
        .checked_add(jiff::Span::new().days(by.min(left).max(0)))
        .ok()?;
    *day = json!(moved.to_string());
    Some(())
}

#[test]
fn law_printed_limits_are_never_looser_with_worse_balance() {
    never_looser("walking aid", |case, _| {
        let aid = &mut case["function"]["aid"];
        *aid = match aid.as_str()? {
            "none" => json!("stick"),
            "stick" => json!("frame"),
            _ => return None,
        };
        Some(())
    });
    never_looser("falls", |case, draw| {
        let more = f64::from(draw.whole(1, 4));
        change_number(&mut case["function"], "falls_12_months", |falls| {
            falls + more
        })
    });
    never_looser("slower on the feet", |case, draw| {
        let by = draw.number(0.5, 15.0, 0.5);
        each(case, "test", |test| {
            let kind = test["kind"].as_str()?;
            let timed = ["timed-up-and-go", "gait-4m", "five-sit-to-stand"];
            if !timed.contains(&kind) {
                return None;
            }
            change_number(test, "seconds", |seconds| seconds + by)
        })
    });
}
