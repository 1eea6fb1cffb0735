//! The band of METs and the most for a single station.

use crate::assessed::{Capacity, CapacityEstimate, MetsBand};
use crate::evidence::{Answer, Because, Input, Named, Rule, RuleId, SourceId, Tag, Value};
use crate::inputs::{PEAK_METS, short};
use crate::intensity::{oxygen_reserve, oxygen_reserve_band};
use crate::known::Known;
use crate::quantity::Mets;

const SOURCES: &[SourceId] = &[
    SourceId("swain-1998"),
    SourceId("uk-acpicr-bacpr"),
    SourceId("service-ours"),
];
const SHARE: Input = Input::number("share_pct", "per cent of reserve", 0.0, 100.0);

const LOW: Rule = Rule {
    id: RuleId("limits/mets-low"),
    name: "Lower end of the METs band",
    statement: "1 + share x (peak - 1) METs, share 40 per cent of the reserve by default. It never constrains the \
                choice of stations.",
    sources: SOURCES,
    tag: Tag::Recalled,
    inputs: &[PEAK_METS, SHARE],
    evaluate: |values| {
        let (peak, share) = (values.number("peak_mets")?, values.number("share_pct")?);
        Ok(share_answer(peak, share))
    },
};

const HIGH: Rule = Rule {
    id: RuleId("limits/mets-high"),
    name: "Upper end of the METs band",
    statement: "1 + share x (peak - 1) METs, share 70 per cent of the reserve by default, 60 in high risk. Capacity \
                measured: it binds each station; only estimated: it binds the mean of a round. Without any capacity \
                3.0 METs, warm-up rungs only (our default).",
    sources: SOURCES,
    tag: Tag::Recalled,
    inputs: &[PEAK_METS, SHARE],
    evaluate: |values| {
        let (peak, share) = (values.number("peak_mets")?, values.number("share_pct")?);
        Ok(share_answer(peak, share))
    },
};

const STATION: Rule = Rule {
    id: RuleId("limits/mets-station-high"),
    name: "Most METs for a single station",
    statement: "Capacity measured: the upper end of the band. Capacity only estimated: 85 per cent of the estimated \
                peak (our default), while the band binds the mean of a round.",
    sources: &[SourceId("service-ours")],
    tag: Tag::Ours,
    inputs: &[
        PEAK_METS,
        Input::number("of_peak_pct", "per cent of the estimated peak", 0.0, 100.0),
    ],
    evaluate: |values| {
        let (peak, pct) = (values.number("peak_mets")?, values.number("of_peak_pct")?);
        let top = peak * pct / 100.0;
        Ok(Answer::new(
            Value::Number(top, "METs"),
            format!("{} x {peak} = {}", pct / 100.0, short(top)),
        ))
    },
};

/// The rules of this part.
pub(super) const RULES: &[Rule] = &[LOW, HIGH, STATION];

fn share_answer(peak: f64, share_pct: f64) -> Answer {
    let mets = oxygen_reserve(Mets::of(peak), share_pct / 100.0);
    Answer::new(
        Value::Number(mets.to_mets(), "METs"),
        share_working(peak, share_pct),
    )
}

fn share_working(peak: f64, share_pct: f64) -> String {
    let mets = oxygen_reserve(Mets::of(peak), share_pct / 100.0);
    format!(
        "1 + {} x ({} - 1) = {}",
        short(share_pct / 100.0),
        short(peak),
        short(mets.to_mets())
    )
}

/// The load limits.
pub(super) struct Load {
    pub(super) band: MetsBand,
    pub(super) station_high: Mets,
    pub(super) band_binds_station: bool,
    pub(super) because: Vec<Because>,
}

/// The load limits from the capacity used, `high_pct` being the upper share that the risk class leaves.
pub(super) fn load(
    known: &Known,
    capacity: &Capacity,
    holding: &[CapacityEstimate],
    high_pct: f64,
) -> Load {
    match &capacity.used {
        Some(used) => {
            let load = from_capacity(known, used, high_pct);
            held_back(known, holding, high_pct, load)
        }
        None => without_capacity(known, holding, high_pct),
    }
}

fn station_top(known: &Known, estimate: &CapacityEstimate, band: MetsBand) -> Mets {
    if estimate.measured {
        return band.high;
    }
    let share = known.service.station_of_estimated_peak_pct / 100.0;
    Mets::of((estimate.mets.to_mets() * share).max(1.0))
}

/// The upper end and the station's top that one estimate would give.
fn tops(known: &Known, estimate: &CapacityEstimate, high_pct: f64) -> (Mets, Mets) {
    let band = oxygen_reserve_band(estimate.mets, known.service.reserve_low_pct, high_pct);
    let station = station_top(known, estimate, band);
    (band.high.min(station), station)
}

/// Lowers the load to what a more trusted test found that does not count any more.
fn held_back(known: &Known, holding: &[CapacityEstimate], high_pct: f64, mut load: Load) -> Load {
    for other in holding {
        let (high, station) = tops(known, other, high_pct);
        if high >= load.band.high && station >= load.station_high {
            continue;
        }
        load.band.high = load.band.high.min(high);
        load.band.low = load.band.low.min(load.band.high);
        load.station_high = load.station_high.min(station);
        let note = format!(
            "held lower by an older or non-standard {}: {} METs",
            other.method.replace('-', " "),
            short(other.mets.to_mets())
        );
        for because in &mut load.because {
            let value = match because.rule {
                rule if rule == LOW.id => load.band.low,
                rule if rule == HIGH.id => load.band.high,
                _ => load.station_high,
            };
            because.value = Value::Number(value.to_mets(), "METs");
            because.assumed.push(note.clone());
        }
    }
    load
}

fn from_capacity(known: &Known, used: &CapacityEstimate, high_pct: f64) -> Load {
    let low_pct = known.service.reserve_low_pct;
    let peak = used.mets.to_mets();
    let mut band = oxygen_reserve_band(used.mets, low_pct, high_pct);
    let station_high = station_top(known, used, band);
    // Under 2 METs of estimated peak 85 per cent of it lie below the band's upper end; the lower one counts.
    band.high = band.high.min(station_high);
    band.low = band.low.min(band.high);
    let from = |rule: &Rule, value: Mets, text: &str, share_pct: f64| {
        rule.because(Value::Number(value.to_mets(), "METs"), text)
            .working(share_working(peak, share_pct))
            .also_from(&used.because.sources, used.because.tag)
            .with(Named::number("peak_mets", peak, "METs"))
            .with(Named::text("method", used.method.clone()))
            .with(Named::number("share_pct", share_pct, "per cent"))
            .changes_with("a new test of capacity, the risk class, the service's band")
    };
    let binds = if used.measured {
        "It binds each station."
    } else {
        "It binds the mean of a round, because capacity is only estimated."
    };
    let low = from(
        &LOW,
        band.low,
        "Lower end of the band; it never constrains.",
        low_pct,
    );
    let mut high = from(
        &HIGH,
        band.high,
        &format!("Upper end of the band. {binds}"),
        high_pct,
    );
    if let Some(error) = used.error_mets {
        let unsure = format!(
            "capacity may be out by {} METs either way for one person",
            short(error)
        );
        high = high.unsure(unsure);
    }
    Load {
        band,
        station_high,
        band_binds_station: used.measured,
        because: vec![low, high, station_because(known, used, station_high)],
    }
}

fn station_because(known: &Known, used: &CapacityEstimate, top: Mets) -> Because {
    let value = Value::Number(top.to_mets(), "METs");
    let because = if used.measured {
        let text =
            "Most for one station: the upper end of the band, because capacity was measured.";
        STATION.because(value, text).working(format!(
            "the upper end of the band, {}",
            short(top.to_mets())
        ))
    } else {
        let share = known.service.station_of_estimated_peak_pct / 100.0;
        STATION
            .because(
                value,
                "Most for one station: a share of the estimated peak. What was watched at an effort inside the band \
                 is eligible whatever the table says.",
            )
            .working(format!(
                "{} x {} = {}",
                short(share),
                short(used.mets.to_mets()),
                short(top.to_mets())
            ))
    };
    because
        .also_from(&used.because.sources, used.because.tag)
        .with(Named::number("peak_mets", used.mets.to_mets(), "METs"))
        .with(Named::text("method", used.method.clone()))
        .changes_with("a new test of capacity")
}

/// Without a capacity the top is the service's value; a test that does not count any more may lower it, never
/// raise it.
fn without_capacity(known: &Known, holding: &[CapacityEstimate], high_pct: f64) -> Load {
    let default = Mets::of(known.service.mets_without_capacity.max(1.0));
    let mut top = default;
    for other in holding {
        top = top.min(tops(known, other, high_pct).0);
    }
    let low = oxygen_reserve(top, known.service.reserve_low_pct / 100.0);
    let text = if top < default {
        "No capacity that counts now; an older or non-standard test keeps the top low. Warm-up rungs only."
    } else {
        "No measure of capacity: the service's top without one. Warm-up rungs only."
    };
    let say = |rule: &Rule, value: Mets| {
        let working = if rule.id == LOW.id {
            share_working(top.to_mets(), known.service.reserve_low_pct)
        } else if top < default {
            format!(
                "least of {} and what the tests that do not count allow",
                short(default.to_mets())
            )
        } else {
            format!(
                "the service's top without capacity, {}",
                short(top.to_mets())
            )
        };
        rule.because(Value::Number(value.to_mets(), "METs"), text)
            .working(working)
            .unsure("nothing is known of what this person can do")
            .also_from(&[SourceId("service-ours")], Tag::Ours)
            .with(Named::number(
                "mets_without_capacity",
                default.to_mets(),
                "METs",
            ))
            .changes_with("any test of capacity: the six-minute walk or the activity questions")
    };
    Load {
        band: MetsBand { low, high: top },
        station_high: top,
        band_binds_station: true,
        because: vec![say(&LOW, low), say(&HIGH, top), say(&STATION, top)],
    }
}
