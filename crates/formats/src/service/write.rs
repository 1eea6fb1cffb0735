//! Settings back into a table: every value is written, so that a later change of a built-in value changes nothing.

use crate::case::write::tables;
use crate::tree::{Content, Table};
use rehab::service::{
    EffortBand, LocalMedicineName, NitrateStep, RiskConsequence, Service, SessionLengths,
    StationTimes,
};

pub(super) fn service(service: &Service) -> Table {
    let mut out = Table::default();
    out.put("name", &service.name);
    out.put("language", &service.language);
    out.put("effort_scale", service.effort_scale.word());
    out.put("effort_band", band(service.effort_band));
    out.put("effort_band_gentle", band(service.effort_band_gentle));
    out.put("gentle_days", service.gentle_days);
    out.put("screening_set", service.screening_set.word());
    out.put("weight_gain_rule", service.weight_gain_rule.word());
    out.put("hr_max_policy", service.hr_max_policy.word());
    let reserve = EffortBand {
        low: service.reserve_low_pct,
        high: service.reserve_high_pct,
    };
    out.put("hr_band_pct", band(reserve));
    out.put("icd_margin_bpm", service.icd_margin_bpm);
    out.put("ischaemia_margin_bpm", service.ischaemia_margin_bpm);
    lengths(&mut out, &service.lengths);
    out.put("warm_up_within_bpm", service.warm_up_within_bpm);
    out.put("cool_down_within_bpm", service.cool_down_within_bpm);
    out.put("examination_valid_days", service.examination_valid_days);
    out.put("silent_after_days", service.silent_after_days);
    out.put("alert_to_lead_hours", service.alert_to_lead_hours);
    out.put("growth_cap_pct", service.growth_cap_pct);
    out.put("mets_without_capacity", service.mets_without_capacity);
    out.put(
        "station_of_estimated_peak_pct",
        service.station_of_estimated_peak_pct,
    );
    people(&mut out, service);
    let mut risk = Table::default();
    risk.put("low", consequence(&service.risk.low));
    risk.put("moderate", consequence(&service.risk.moderate));
    risk.put("high", consequence(&service.risk.high));
    out.put("risk_consequences", risk);
    out.put_list(
        "medicine_names",
        tables(&service.medicine_names, medicine_name),
    );
    out
}

fn people(out: &mut Table, service: &Service) {
    if let Some(emergency) = &service.emergency {
        let mut table = Table::default();
        table.put("number", &emergency.number);
        table.put("text", &emergency.text);
        out.put("emergency", table);
    }
    if let Some(nitrate) = &service.nitrate {
        let mut table = Table::default();
        table.put("protocol", tables(&nitrate.steps, step));
        table.put_known("confirmed_by", nitrate.confirmed_by.as_ref());
        out.put("nitrate", table);
    }
    if let Some(contact) = &service.contact {
        let mut table = Table::default();
        table.put("name", &contact.name);
        table.put("telephone", &contact.telephone);
        table.put("hours", &contact.hours);
        table.put_known("out_of_hours", contact.out_of_hours.as_ref());
        out.put("contact", table);
    }
    if let Some(adopted) = &service.adopted {
        let mut table = Table::default();
        table.put("by", &adopted.by);
        table.put("date", adopted.date);
        out.put("adopted", table);
    }
}

fn band(band: EffortBand) -> Content {
    Content::List(vec![band.low.into(), band.high.into()])
}

fn step(step: &NitrateStep) -> Table {
    let mut out = Table::default();
    out.put("text", &step.text);
    out.put("wait_s", step.wait_s);
    out
}

fn lengths(out: &mut Table, lengths: &SessionLengths) {
    out.put("warm_up_s", lengths.warm_up_s);
    out.put("cool_down_s", lengths.cool_down_s);
    out.put("session_max_s", lengths.session_max_s);
    out.put("cardiovascular_s", times(lengths.cardiovascular_s));
    out.put("active_recovery_s", times(lengths.active_recovery_s));
    out.put("warm_up_stretch_s", times(lengths.warm_up_stretch_s));
    out.put("changeover_s", lengths.changeover_s);
}

fn times(times: StationTimes) -> Table {
    let mut out = Table::default();
    out.put("least_s", times.least_s);
    out.put("first_s", times.first_s);
    out.put("most_s", times.most_s);
    out
}

fn consequence(consequence: &RiskConsequence) -> Table {
    let mut out = Table::default();
    out.put("home", consequence.home.word());
    out.put("reserve_high_pct", consequence.reserve_high_pct);
    out.put("watched_sessions", consequence.watched_sessions);
    out.put("call_every_days", consequence.call_every_days);
    out
}

fn medicine_name(name: &LocalMedicineName) -> Table {
    let mut out = Table::default();
    out.put("name", &name.name);
    out.put("inn", &name.inn);
    out
}
