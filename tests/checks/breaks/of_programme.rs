//! Broken answers of `programme`.

use super::{
    Break, add, drop_first_of, exercises, first_stage, name_where, newest_examination, offer,
    parameter, rename, segments, set_neighbours, stage_with_stations, station, stations,
    under_hard, with_prediction,
};
use serde_json::{Value, json};

/// Every break with its rule.
pub(super) const BREAKS: &[(&str, Break)] = &[
    ("programme/decision", |one| {
        first_stage(one)?;
        one.programme["screening"]["decision"] = json!("not-today");
        one.limits["screening"]["decision"] = json!("not-today");
        Some(())
    }),
    ("programme/decision", |one| {
        exercises(one)?;
        one.programme["stages"] = json!([]);
        one.programme["findings"] = json!([]);
        Some(())
    }),
    ("programme/sums", |one| {
        add(&mut first_stage(one)?["met_minutes"], 1.0)
    }),
    ("programme/sums", |one| {
        add(&mut first_stage(one)?["minutes"], 1.0)
    }),
    ("programme/proof", |one| {
        stage_with_stations(one)?["bound"] = Value::Null;
        Some(())
    }),
    ("programme/proof", |one| {
        let stage = stage_with_stations(one)?;
        stage["objective"] = json!(stage["bound"].as_i64()? + 1);
        Some(())
    }),
    ("programme/growth", |one| {
        let stages = one.programme["stages"].as_array_mut()?;
        let next = stages.get_mut(1)?;
        let list = next["segments"].as_array_mut()?;
        let warm = list
            .iter_mut()
            .find(|segment| segment["phase"] == "warm-up")?;
        add(&mut warm["seconds"], 600.0)
    }),
    ("programme/times", |one| {
        first_stage(one)?["sessions_per_week"] = json!(6);
        Some(())
    }),
    ("session/change-over", |one| {
        let list = segments(stage_with_stations(one)?)?;
        let at = list
            .iter()
            .position(|one| one["kind"] == "cardiovascular")?;
        list.remove(at - 1);
        Some(())
    }),
    ("session/order", |one| {
        segments(first_stage(one)?)?.reverse();
        Some(())
    }),
    ("session/warm-up", |one| drop_first_of(one, "warm-up")),
    ("session/cool-down", |one| {
        segments(first_stage(one)?)?.retain(|segment| segment["phase"] != "cool-down");
        Some(())
    }),
    ("session/length", |one| {
        add(
            &mut segments(first_stage(one)?)?.first_mut()?["seconds"],
            3600.0,
        )
    }),
    ("session/cool-down-arms", |one| {
        let name = name_where(one, "arms=above-shoulder")?;
        rename(segments(first_stage(one)?)?.last_mut()?, &name);
        Some(())
    }),
    ("stations/turns", |one| {
        let first = station(one, "active-recovery")?;
        first["kind"] = json!("cardiovascular");
        Some(())
    }),
    ("stations/times", |one| {
        station(one, "active-recovery")?["seconds"] = json!(90);
        Some(())
    }),
    ("stations/muscles", |one| {
        set_neighbours(one, "heel-raises", "heel-raises")
    }),
    ("stations/arms", |one| {
        set_neighbours(one, "overhead-press", "overhead-press")
    }),
    ("stations/repeats", |one| {
        set_neighbours(one, "heel-raises", "heel-raises")
    }),
    ("stations/posture", |one| {
        one.limits["limits"]["hypotensive"] = json!(true);
        let mut list: Vec<&mut Value> = stations(one)?;
        let names = [
            ("seated-march", "steady-slow"),
            ("heel-raises", "one-hand"),
            ("seated-march", "steady-slow"),
        ];
        if list.len() < names.len() {
            return None;
        }
        for (segment, (exercise, variant)) in list.iter_mut().zip(names) {
            rename(segment, &(exercise.to_owned(), variant.to_owned()));
        }
        Some(())
    }),
    ("stations/capacity", |one| {
        stage_with_stations(one)?;
        one.limits["capacity"]["mets"] = Value::Null;
        Some(())
    }),
    ("stations/mets", |one| {
        let most = one.limits["limits"]["mets_station_high"].as_f64()?;
        station(one, "cardiovascular")?["mets"] = json!(most + 0.1);
        Some(())
    }),
    ("stations/mean", |one| {
        let high = one.limits["limits"]["mets"]["high"].as_f64()?;
        for segment in stations(one)? {
            segment["mets"] = json!(high + 0.05);
        }
        Some(())
    }),
    ("offered/known", |one| {
        segments(first_stage(one)?)?.first_mut()?["exercise"] = json!("cartwheels");
        Some(())
    }),
    ("offered/known", |one| {
        segments(first_stage(one)?)?.first_mut()?["exercise"] = Value::Null;
        Some(())
    }),
    ("offered/cost", |one| {
        add(&mut segments(first_stage(one)?)?.first_mut()?["mets"], -0.1)
    }),
    ("offered/cost", |one| {
        add(
            &mut segments(first_stage(one)?)?.first_mut()?["hr_gain"],
            -0.1,
        )
    }),
    ("offered/body", |one| {
        one.case["history"]["present"] = json!(["shoulder-pain"]);
        offer(one, "excluded-by=shoulder-pain")
    }),
    ("offered/body", |one| {
        one.case["history"]["present"] = json!(["hip-replacement"]);
        offer(one, "excluded-by=hip-flexion")
    }),
    ("offered/body", |one| {
        one.case["history"]["present"] = json!(["orthostatic-hypotension"]);
        offer(one, "excluded-by=orthostatic-hypotension")
    }),
    ("offered/body", |one| {
        let event = json!({ "kind": "bypass-surgery", "date": "2026-10-20" });
        one.case["event"].as_array_mut()?.push(event);
        offer(one, "excluded-by=sternotomy")
    }),
    ("offered/body", |one| {
        newest_examination(one)?["resting_bp_mmhg"] = json!([165, 80]);
        offer(one, "excluded-by=high-pressure")
    }),
    ("offered/arms-healing", |one| {
        let event = json!({ "kind": "valve-surgery", "date": "2026-10-20" });
        one.case["event"].as_array_mut()?.push(event);
        offer(one, "arms=above-shoulder")
    }),
    ("offered/arms-healing", |one| {
        let event = json!({ "kind": "device-implant", "date": "2026-11-01" });
        one.case["event"].as_array_mut()?.push(event);
        offer(one, "arms=above-shoulder")
    }),
    ("offered/balance", |one| {
        one.limits["limits"]["balance_max"] = json!(2);
        offer(one, "balance=3")
    }),
    ("offered/capacity", |one| {
        one.limits["capacity"]["mets"] = json!(5);
        offer(one, "least-peak")
    }),
    ("offered/place", |one| {
        segments(first_stage(one)?)?.first_mut()?["place"] = json!("the moon");
        Some(())
    }),
    ("offered/place", |one| {
        // The armchair loses its arms, the stair its rail, the step its height.
        let places = one.case["home"]["place"].as_array_mut()?;
        for place in places {
            place["kind"] = json!("stairs");
        }
        first_stage(one).map(|_| ())
    }),
    ("offered/things", |one| {
        one.case["wishes"]["weights_g"] = json!([]);
        offer(one, "prop=weights")
    }),
    ("offered/things", |one| {
        one.case["function"]["aid"] = json!("none");
        one.case["home"]["props"] = json!([]);
        let name = ("walk".to_owned(), "with-aid".to_owned());
        rename(segments(first_stage(one)?)?.first_mut()?, &name);
        Some(())
    }),
    ("heart/none", |one| {
        with_prediction(one)?;
        one.case["heart"]["rhythm"] = json!("atrial-fibrillation");
        Some(())
    }),
    ("heart/parameters", |one| {
        with_prediction(one)?;
        add(parameter(one, "response/slope")?, 2.0)
    }),
    ("heart/parameters", |one| {
        with_prediction(one)?;
        add(parameter(one, "response/time-constant")?, 30.0)
    }),
    ("heart/prediction", |one| {
        with_prediction(one)?;
        let list = segments(first_stage(one)?)?;
        let middle = list.len() / 2;
        add(&mut list[middle]["predicted_hr"], -0.1)
    }),
    ("heart/peak", |one| {
        with_prediction(one)?;
        add(&mut first_stage(one)?["predicted"]["peak_hr"], -0.2)
    }),
    ("heart/ceiling", |one| under_hard(one, "hr_ceiling")),
    ("heart/band-top", |one| {
        one.limits["limits"]["hr"].as_object()?;
        under_hard(one, "hr")
    }),
    ("heart/chance", |one| {
        under_hard(one, "")?;
        first_stage(one)?["predicted"]["ceiling_probability"] = json!(0.06);
        Some(())
    }),
    ("heart/chance", |one| {
        under_hard(one, "")?;
        let chance = &mut first_stage(one)?["predicted"]["ceiling_probability"];
        let real = chance.as_f64().filter(|real| *real > 0.015)?;
        *chance = json!(real / 10.0);
        Some(())
    }),
    ("heart/warm-up", |one| {
        with_prediction(one)?;
        one.programme["findings"] = json!([]);
        let mut list = segments(first_stage(one)?)?.iter();
        let end = list.rfind(|segment| segment["phase"] == "warm-up")?;
        let bpm = end["predicted_hr"].as_f64()?;
        one.limits["limits"]["hr"].as_object()?;
        one.limits["limits"]["hr"]["low"] = json!((bpm + 21.0).ceil());
        Some(())
    }),
    ("heart/warm-up", |one| {
        // Only its first part is left: the pulse has hardly risen.
        with_prediction(one)?;
        one.programme["findings"] = json!([]);
        let low = one.limits["limits"]["hr"]["low"].as_f64()?;
        let list = segments(first_stage(one)?)?;
        list.first()?["predicted_hr"]
            .as_f64()
            .filter(|bpm| *bpm < low - 21.0)?;
        let mut first = true;
        list.retain(|segment| segment["phase"] != "warm-up" || std::mem::take(&mut first));
        Some(())
    }),
    ("heart/cool-down", |one| {
        with_prediction(one)?;
        one.programme["findings"] = json!([]);
        let last = segments(first_stage(one)?)?.last_mut()?;
        last["mets"] = json!(3);
        last["seconds"] = json!(120);
        Some(())
    }),
];
