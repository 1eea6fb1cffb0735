//! Broken answers of `limits`.

use super::{Break, add, exercises, first_stage, newest_examination};
use serde_json::json;

/// Every break with its rule.
pub(super) const BREAKS: &[(&str, Break)] = &[
    ("today/absolute", |one| {
        exercises(one)?;
        one.case["history"]["present"] = json!(["endocarditis"]);
        Some(())
    }),
    ("today/reading", |one| {
        exercises(one)?;
        newest_examination(one)?["resting_bp_mmhg"] = json!([182, 80]);
        Some(())
    }),
    ("today/reading", |one| {
        exercises(one)?;
        newest_examination(one)?["resting_hr_bpm"] = json!(121);
        Some(())
    }),
    ("today/symptom", |one| {
        exercises(one)?;
        newest_examination(one)?["symptoms"] = json!(["faint"]);
        Some(())
    }),
    ("today/examined", |one| {
        exercises(one)?;
        one.case["examination"] = json!([]);
        Some(())
    }),
    ("today/examined", |one| {
        exercises(one)?;
        let event = one.case["event"].get_mut(0)?;
        event["date"] = json!("2026-11-25");
        let day = newest_examination(one)?["date"].as_str()?;
        (day < "2026-11-25").then_some(())
    }),
    ("today/status", |one| {
        exercises(one)?;
        one.case["status"]["kind"] = json!("in-hospital");
        Some(())
    }),
    ("today/class-iv", |one| {
        exercises(one)?;
        newest_examination(one)?["nyha"] = json!(4);
        Some(())
    }),
    ("today/agreement", |one| {
        exercises(one)?;
        one.limits["risk"]["class"] = json!("high");
        one.case.as_object_mut()?.remove("agreement");
        Some(())
    }),
    ("today/infarction", |one| {
        exercises(one)?;
        let event = json!({ "kind": "myocardial-infarction", "date": "2026-11-24" });
        one.case["event"].as_array_mut()?.push(event);
        Some(())
    }),
    ("today/reading", |one| {
        exercises(one)?;
        newest_examination(one)?["spo2_pct"] = json!(87);
        Some(())
    }),
    ("home/class", |one| {
        add(&mut one.limits["eligibility"]["call_every_days"], 7.0)
    }),
    ("home/watched", |one| {
        one.limits["eligibility"]["alone_now"] = json!(true);
        one.case["watched"] = json!([]);
        Some(())
    }),
    ("home/watched", |one| {
        add(&mut one.limits["eligibility"]["watched_done"], 1.0)
    }),
    ("settings/named", |one| {
        one.limits["service"] = json!("another service");
        Some(())
    }),
    ("effort/band", |one| {
        // The gentle band of a high risk given up.
        one.limits["risk"]["class"]
            .as_str()
            .filter(|class| *class == "high")?;
        one.limits["limits"]["effort"] = json!({ "scale": "0-10", "low": 3, "high": 4 });
        Some(())
    }),
    ("load/low", |one| {
        add(&mut one.limits["limits"]["mets"]["low"], 0.2)
    }),
    ("signing/unanswered", |one| {
        one.case["history"] = json!({ "present": [], "absent": [] });
        one.limits["signing_blocked"] = json!(false);
        Some(())
    }),
    ("signing/device-rate", |one| {
        // A ceiling below a known ischaemic rate may stay.
        let tests = one.case["test"].as_array().into_iter().flatten();
        if tests
            .clone()
            .any(|test| test["ischaemia_hr_bpm"].is_number())
        {
            return None;
        }
        let device = one.case["heart"]["device"].as_object_mut()?;
        device.remove("lowest_treated_bpm")?;
        one.limits["signing_blocked"] = json!(true);
        one.limits["limits"]["hr_ceiling"].as_i64().map(|_| ())
    }),
    ("signing/device-rate", |one| {
        let device = one.case["heart"]["device"].as_object()?;
        if device.contains_key("lowest_treated_bpm") {
            return None;
        }
        one.limits["signing_blocked"] = json!(false);
        Some(())
    }),
    ("pulse/no-target", |one| {
        one.limits["limits"]["hr"].as_object()?;
        one.case["heart"]["rhythm"] = json!("atrial-flutter");
        Some(())
    }),
    ("pulse/no-target", |one| {
        one.limits["limits"]["hr"].as_object()?;
        let event = json!({ "kind": "transplant", "date": "2026-01-01" });
        one.case["event"].as_array_mut()?.push(event);
        Some(())
    }),
    ("pulse/order", |one| {
        let band = one.limits["limits"]["hr"].as_object()?.clone();
        one.limits["limits"]["hr"] = json!({ "low": band["high"], "high": band["low"] });
        (band["low"] != band["high"]).then_some(())
    }),
    ("pulse/order", |one| {
        add(&mut one.limits["limits"]["hr"]["high"], 60.0)
    }),
    ("pulse/reserve", |one| {
        add(&mut one.limits["limits"]["hr"]["low"], -1.0)
    }),
    ("pulse/reserve", |one| {
        one.limits["limits"]["hr"].as_object()?;
        add(&mut one.limits["limits"]["resting_hr"], 3.0)
    }),
    ("pulse/peak", |one| {
        one.limits["limits"]["hr"].as_object()?;
        add(&mut one.limits["limits"]["peak_hr"], 53.3)
    }),
    ("ceiling/device", |one| {
        let rate = one.case["heart"]["device"]["lowest_treated_bpm"].as_f64()?;
        one.limits["limits"]["hr_ceiling"] = json!(rate - 10.0);
        Some(())
    }),
    ("ceiling/device", |one| {
        one.case["heart"]["device"]["lowest_treated_bpm"].as_f64()?;
        one.limits["limits"]["hr_ceiling_kind"] = json!("guiding");
        Some(())
    }),
    ("ceiling/ischaemia", |one| {
        let tests = one.case["test"].as_array()?;
        let rates = tests
            .iter()
            .filter_map(|test| test["ischaemia_hr_bpm"].as_f64());
        let least = rates.fold(f64::INFINITY, f64::min);
        // The rule must be the ischaemic one: it binds where the least rate stands under the ceiling of now.
        let now = one.limits["limits"]["hr_ceiling"].as_f64()?;
        if (now - (least - 10.0).floor()).abs() > 0.5 {
            return None;
        }
        one.limits["limits"]["hr_ceiling"] = json!(least);
        Some(())
    }),
    ("ceiling/tested-peak", |one| {
        let reasons = one.limits["limits"]["because"].as_array()?;
        reasons
            .iter()
            .find(|because| because["id"] == "ceiling/tested-peak")?;
        one.limits["limits"]["pulse_model"]
            .as_bool()
            .filter(|model| *model)?;
        one.limits["limits"]["hr_ceiling"] = json!(230);
        Some(())
    }),
    ("ceiling/kind", |one| {
        if one.limits["limits"]["hr_ceiling_kind"] != "guiding" {
            return None;
        }
        let tests = one.case["test"].as_array();
        let tested =
            tests.is_some_and(|all| all.iter().any(|test| test["peak_hr_bpm"].is_number()));
        one.limits["limits"]["hr_ceiling_kind"] = json!("hard");
        (!tested).then_some(())
    }),
    ("ceiling/value", |one| {
        if one.limits["limits"]["hr_ceiling_kind"] != "hard" {
            return None;
        }
        add(&mut one.limits["limits"]["hr_ceiling"], -7.0)
    }),
    ("load/order", |one| {
        let high = one.limits["limits"]["mets"]["high"].as_f64()?;
        one.limits["limits"]["mets"]["low"] = json!(high + 0.5);
        Some(())
    }),
    ("load/band", |one| {
        add(&mut one.limits["limits"]["mets"]["high"], 0.7)
    }),
    ("load/station", |one| {
        add(&mut one.limits["limits"]["mets_station_high"], 0.5)
    }),
    ("load/capacity", |one| {
        if one.limits["capacity"]["method"] == "step" {
            return None;
        }
        add(&mut one.limits["capacity"]["mets"], 0.37)
    }),
    ("load/capacity", |one| {
        if one.limits["capacity"]["method"] != "six-minute-walk" {
            return None;
        }
        one.limits["capacity"]["measured"] = json!(true);
        Some(())
    }),
    ("risk/high", |one| {
        one.case["heart"]["ejection_fraction_pct"] = json!(30);
        one.limits["risk"]["class"] = json!("moderate");
        Some(())
    }),
    ("risk/high", |one| {
        one.case["test"] = json!([{ "kind": "exercise-test", "bp_response": "fall-after" }]);
        one.limits["risk"]["class"] = json!("moderate");
        Some(())
    }),
    ("risk/low", |one| {
        one.case["heart"]
            .as_object_mut()?
            .remove("ejection_fraction_pct")?;
        one.limits["risk"]["class"] = json!("low");
        Some(())
    }),
    ("effort/band", |one| {
        one.limits["limits"]["effort"] = json!({ "scale": "0-10", "low": 3, "high": 5 });
        Some(())
    }),
    ("balance/level", |one| {
        one.case["function"]["aid"] = json!("frame");
        one.limits["limits"]["balance_max"] = json!(1);
        Some(())
    }),
    ("because/source", |one| {
        one.limits["limits"]["because"][0]["source"] = json!("");
        Some(())
    }),
    ("because/source", |one| {
        first_stage(one)?["because"][0]["source"] = json!("a-book-that-nobody-wrote");
        Some(())
    }),
    ("because/missing", |one| {
        let list = one.limits["limits"]["because"].as_array_mut()?;
        list.retain(|because| because["id"] != "limits/mets-high");
        Some(())
    }),
];
