//! A checked tree into settings.

use super::held;
use crate::case::read::all;
use crate::shape::{Sink, View};
use rehab::assessment::EffortScale;
use rehab::quantity::check_bounds;
use rehab::service::{
    Adopted, Contact, EffortBand, Emergency, LocalMedicineName, NitrateProtocol, NitrateStep,
    RiskConsequence, Service, SessionLengths, StationTimes,
};

pub(super) fn service(view: &View<'_>, sink: &mut Sink) -> Option<Service> {
    let mut out = Service::cautious();
    out.name = view.text("name")?;
    set(&mut out.language, view.text("language"));
    out.emergency = view.table("emergency").and_then(|view| {
        Some(Emergency {
            number: view.text("number")?,
            text: view.text("text")?,
        })
    });
    out.nitrate = view.table("nitrate").map(|view| NitrateProtocol {
        steps: all(&view, "protocol", step),
        confirmed_by: view.text("confirmed_by"),
    });
    out.contact = view.table("contact").and_then(|view| contact(&view));
    efforts(view, &mut out, sink);
    held::emergency(view, &out, sink);
    held::nitrate(view, &out, sink);
    set(&mut out.gentle_days, view.whole("gentle_days"));
    set(&mut out.screening_set, view.word("screening_set"));
    set(&mut out.weight_gain_rule, view.word("weight_gain_rule"));
    set(&mut out.hr_max_policy, view.word("hr_max_policy"));
    if let Some((low, high)) = view.band("hr_band_pct") {
        out.reserve_low_pct = low;
        out.reserve_high_pct = high;
    }
    set(&mut out.icd_margin_bpm, view.number("icd_margin_bpm"));
    set(
        &mut out.ischaemia_margin_bpm,
        view.number("ischaemia_margin_bpm"),
    );
    lengths(view, &mut out.lengths, sink);
    set(
        &mut out.warm_up_within_bpm,
        view.number("warm_up_within_bpm"),
    );
    set(
        &mut out.cool_down_within_bpm,
        view.number("cool_down_within_bpm"),
    );
    set(
        &mut out.examination_valid_days,
        view.whole("examination_valid_days"),
    );
    set(&mut out.silent_after_days, view.whole("silent_after_days"));
    set(
        &mut out.alert_to_lead_hours,
        view.whole("alert_to_lead_hours"),
    );
    set(&mut out.growth_cap_pct, view.number("growth_cap_pct"));
    set(
        &mut out.mets_without_capacity,
        view.number("mets_without_capacity"),
    );
    set(
        &mut out.station_of_estimated_peak_pct,
        view.number("station_of_estimated_peak_pct"),
    );
    if let Some(view) = view.table("risk_consequences") {
        consequence(&view, "low", &mut out.risk.low);
        consequence(&view, "moderate", &mut out.risk.moderate);
        consequence(&view, "high", &mut out.risk.high);
    }
    held::risk(view, &out.risk, sink);
    out.medicine_names = all(view, "medicine_names", medicine_name);
    out.adopted = view.table("adopted").and_then(|view| {
        Some(Adopted {
            by: view.text("by")?,
            date: view.day("date")?,
        })
    });
    Some(out)
}

fn set<T>(field: &mut T, value: Option<T>) {
    if let Some(value) = value {
        *field = value;
    }
}

fn step(view: &View<'_>) -> Option<NitrateStep> {
    Some(NitrateStep {
        text: view.text("text")?,
        wait_s: view.whole("wait_s")?,
    })
}

fn contact(view: &View<'_>) -> Option<Contact> {
    Some(Contact {
        name: view.text("name")?,
        telephone: view.text("telephone")?,
        hours: view.text("hours")?,
        out_of_hours: view.text("out_of_hours"),
    })
}

fn medicine_name(view: &View<'_>) -> Option<LocalMedicineName> {
    Some(LocalMedicineName {
        name: view.text("name")?,
        inn: view.text("inn")?,
    })
}

/// Both bands are on the service's own scale; a scale without bands has the built-in ones of that scale.
fn efforts(view: &View<'_>, out: &mut Service, sink: &mut Sink) {
    if let Some(scale) = view.word::<EffortScale>("effort_scale") {
        out.effort_scale = scale;
        out.effort_band = EffortBand::to_begin(scale);
        out.effort_band_gentle = EffortBand::gentle(scale);
    }
    let key = match out.effort_scale {
        EffortScale::ZeroToTen => "effort_0_10",
        EffortScale::SixToTwenty => "effort_6_20",
    };
    for (name, band) in [
        ("effort_band", &mut out.effort_band),
        ("effort_band_gentle", &mut out.effort_band_gentle),
    ] {
        let Some((low, high)) = view.band(name) else {
            continue;
        };
        for end in [low, high] {
            if let Err(error) = check_bounds(key, end) {
                let message = format!("{error}; the scale of this service is {}", out.effort_scale);
                sink.say(&view.place(name), view.line_of(name), message);
            }
        }
        let most = most_effort(out.effort_scale);
        if high > most {
            let message = format!(
                "{high} is hard work; a band that is agreed for home ends at {most} at most"
            );
            sink.say(&view.place(name), view.line_of(name), message);
        }
        *band = EffortBand { low, high };
    }
    if out.effort_band_gentle.high > out.effort_band.high {
        let message = format!(
            "the gentle band ends at {}, above the usual one at {}; it is for the first days, so end it no higher",
            out.effort_band_gentle.high, out.effort_band.high
        );
        sink.say(
            &view.place("effort_band_gentle"),
            view.line_of("effort_band_gentle"),
            message,
        );
    }
}

/// Highest end of a band of effort: 16 on the scale to 20 is the top of the published bands for cardiac patients
/// (acsm-getp, recalled: 12 to 16 with a test), and 14 to 16 are 5 to 6 of 10 (essa-2010).
const fn most_effort(scale: EffortScale) -> f64 {
    match scale {
        EffortScale::ZeroToTen => 6.0,
        EffortScale::SixToTwenty => 16.0,
    }
}

fn lengths(view: &View<'_>, out: &mut SessionLengths, sink: &mut Sink) {
    set(&mut out.warm_up_s, view.whole("warm_up_s"));
    set(&mut out.cool_down_s, view.whole("cool_down_s"));
    set(&mut out.session_max_s, view.whole("session_max_s"));
    set(&mut out.changeover_s, view.whole("changeover_s"));
    times(view, "cardiovascular_s", &mut out.cardiovascular_s, sink);
    times(view, "active_recovery_s", &mut out.active_recovery_s, sink);
    times(view, "warm_up_stretch_s", &mut out.warm_up_stretch_s, sink);
    if out.warm_up_s + out.cool_down_s > out.session_max_s {
        let message = format!(
            "a session of at most {} s has no room for a warm-up of {} s and a cool-down of {} s; lengthen it or shorten them",
            out.session_max_s, out.warm_up_s, out.cool_down_s
        );
        sink.say(
            &view.place("session_max_s"),
            view.line_of("session_max_s"),
            message,
        );
    }
}

fn times(view: &View<'_>, key: &str, out: &mut StationTimes, sink: &mut Sink) {
    let read = view.table(key).and_then(|view| {
        Some(StationTimes {
            least_s: view.whole("least_s")?,
            first_s: view.whole("first_s")?,
            most_s: view.whole("most_s")?,
        })
    });
    let Some(times) = read else {
        return;
    };
    if times.least_s > times.first_s || times.first_s > times.most_s {
        let message =
            "the times do not rise from least_s over first_s to most_s; put them in order";
        sink.say(&view.place(key), view.line_of(key), message);
    }
    *out = times;
}

fn consequence(view: &View<'_>, key: &str, out: &mut RiskConsequence) {
    if let Some(view) = view.table(key) {
        set(&mut out.home, view.word("home"));
        set(&mut out.reserve_high_pct, view.number("reserve_high_pct"));
        set(&mut out.watched_sessions, view.whole("watched_sessions"));
        set(&mut out.call_every_days, view.whole("call_every_days"));
    }
}
