//! Quantities that cross a module border, and the one table of what an outside value may be.

/// A value that is not a finite number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NotFinite;

impl core::fmt::Display for NotFinite {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str("the value is not a finite number")
    }
}

impl core::error::Error for NotFinite {}

macro_rules! quantity {
    ($(#[$meta:meta])* $name:ident, $make:ident, $read:ident, $unit:literal) => {
        $(#[$meta])*
        #[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
        pub struct $name(f64);

        impl $name {
            #[doc = concat!("From a value in ", $unit, ".")]
            ///
            /// # Panics
            /// When the value is not finite: callers check outside values against [`bounds`] first.
            pub fn $make(value: f64) -> Self {
                assert!(value.is_finite(), "a quantity must be finite");
                Self(value)
            }

            #[doc = concat!("The value in ", $unit, ".")]
            pub const fn $read(self) -> f64 {
                self.0
            }

            /// The lesser of two.
            pub fn min(self, other: Self) -> Self {
                if other.0 < self.0 { other } else { self }
            }

            /// The greater of two.
            pub fn max(self, other: Self) -> Self {
                if other.0 > self.0 { other } else { self }
            }
        }
    };
}

quantity!(
    /// A heart rate or pulse.
    HeartRate, bpm, to_bpm, "beats a minute"
);
quantity!(
    /// Energy cost as a multiple of resting: 1 MET is 3.5 mL/kg/min of oxygen, gross.
    Mets, of, to_mets, "METs"
);
quantity!(
    /// Oxygen uptake.
    OxygenUptake, ml_per_kg_min, to_ml_per_kg_min, "mL/kg/min"
);

impl OxygenUptake {
    /// As METs, at 3.5 mL/kg/min each.
    pub fn to_mets(self) -> Mets {
        Mets::of(self.0 / 3.5)
    }
}

impl Mets {
    /// As oxygen uptake, at 3.5 mL/kg/min for each MET.
    pub fn to_oxygen_uptake(self) -> OxygenUptake {
        OxygenUptake::ml_per_kg_min(self.0 * 3.5)
    }
}

/// What one outside value may be: outside of it the input is refused, never clamped.
#[derive(Clone, Copy, Debug)]
pub struct Bound {
    /// Key as written in files, unit included.
    pub key: &'static str,
    /// Unit in words.
    pub unit: &'static str,
    /// Least value taken.
    pub low: f64,
    /// Greatest value taken.
    pub high: f64,
    /// The quantity in words for the message.
    pub words: &'static str,
    /// A slip that explains values outside, with what to do (for example metres written for centimetres).
    pub slip: Option<Slip>,
}

/// A known slip of writing: the factor that would bring the value back into its bounds.
#[derive(Clone, Copy, Debug)]
pub struct Slip {
    /// The value times this would lie inside.
    pub factor: f64,
    /// What it looks like, for the message.
    pub looks_like: &'static str,
}

/// An outside value that cannot be true.
#[derive(Clone, Debug, PartialEq)]
pub struct OutOfBounds {
    /// What, why and what to do.
    pub message: String,
}

impl core::fmt::Display for OutOfBounds {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(&self.message)
    }
}

impl core::error::Error for OutOfBounds {}

const fn bound(
    key: &'static str,
    unit: &'static str,
    low: f64,
    high: f64,
    words: &'static str,
) -> Bound {
    Bound {
        key,
        unit,
        low,
        high,
        words,
        slip: None,
    }
}

/// The one table of bounds (source `bounds-ours`: what a living adult can show, set wide on purpose).
pub const BOUNDS: &[Bound] = &[
    Bound {
        slip: Some(Slip {
            factor: 100.0,
            looks_like: "metres",
        }),
        ..bound("height_cm", "cm", 100.0, 230.0, "height")
    },
    Bound {
        slip: Some(Slip {
            factor: 0.001,
            looks_like: "grams",
        }),
        ..bound("weight_kg", "kg", 25.0, 300.0, "weight")
    },
    bound("age_years", "years", 16.0, 110.0, "age"),
    bound(
        "resting_hr_bpm",
        "beats a minute",
        25.0,
        220.0,
        "resting heart rate",
    ),
    bound("hr_bpm", "beats a minute", 25.0, 240.0, "heart rate"),
    bound(
        "peak_hr_bpm",
        "beats a minute",
        40.0,
        240.0,
        "peak heart rate",
    ),
    bound(
        "ischaemia_hr_bpm",
        "beats a minute",
        40.0,
        240.0,
        "heart rate at the start of ischaemia",
    ),
    bound(
        "hr_recovery_1min_bpm",
        "beats a minute",
        -20.0,
        100.0,
        "fall of heart rate in one minute",
    ),
    bound("systolic_mmhg", "mmHg", 50.0, 280.0, "systolic pressure"),
    bound("diastolic_mmhg", "mmHg", 20.0, 180.0, "diastolic pressure"),
    Bound {
        slip: Some(Slip {
            factor: 100.0,
            looks_like: "a fraction",
        }),
        ..bound("spo2_pct", "per cent", 50.0, 100.0, "oxygen saturation")
    },
    bound(
        "temperature_c",
        "degrees Celsius",
        30.0,
        43.0,
        "temperature",
    ),
    Bound {
        slip: Some(Slip {
            factor: 1.0 / 18.016,
            looks_like: "mg/dL",
        }),
        ..bound("glucose_mmol_l", "mmol/L", 0.5, 45.0, "glucose")
    },
    bound("haemoglobin_g_dl", "g/dL", 3.0, 25.0, "haemoglobin"),
    bound("ketones_mmol_l", "mmol/L", 0.0, 15.0, "ketones"),
    Bound {
        slip: Some(Slip {
            factor: 100.0,
            looks_like: "a fraction",
        }),
        ..bound(
            "ejection_fraction_pct",
            "per cent",
            5.0,
            85.0,
            "ejection fraction",
        )
    },
    bound(
        "lowest_treated_bpm",
        "beats a minute",
        100.0,
        260.0,
        "lowest rate the device treats",
    ),
    bound(
        "base_bpm",
        "beats a minute",
        30.0,
        110.0,
        "base rate of the pacemaker",
    ),
    bound(
        "upper_tracking_bpm",
        "beats a minute",
        80.0,
        200.0,
        "upper tracking rate",
    ),
    bound("peak_mets", "METs", 1.0, 25.0, "peak capacity"),
    bound(
        "symptom_mets",
        "METs",
        1.0,
        25.0,
        "load at which the symptom came",
    ),
    bound("st_depression_mm", "mm", 0.0, 10.0, "ST depression"),
    bound("distance_m", "m", 0.0, 1100.0, "distance walked"),
    bound("course_m", "m", 3.0, 60.0, "length of the course"),
    bound("count", "repetitions", 0.0, 250.0, "count"),
    bound("seconds", "s", 0.5, 180.0, "time"),
    Bound {
        slip: Some(Slip {
            factor: 0.01,
            looks_like: "centimetres",
        }),
        ..bound("step_height_m", "m", 0.05, 0.45, "height of the step")
    },
    bound("effort_0_10", "of 10", 0.0, 10.0, "effort"),
    bound("effort_6_20", "on 6 to 20", 6.0, 20.0, "effort"),
    bound("score_0_10", "of 10", 0.0, 10.0, "score"),
    Bound {
        slip: Some(Slip {
            factor: 100.0,
            looks_like: "metres",
        }),
        ..bound("seat_cm", "cm", 25.0, 75.0, "height of the seat")
    },
    Bound {
        slip: Some(Slip {
            factor: 100.0,
            looks_like: "metres",
        }),
        ..bound("step_cm", "cm", 3.0, 30.0, "height of the step")
    },
    bound("metres_to_next", "m", 0.0, 200.0, "way to the next place"),
    bound("weight_g", "g", 0.0, 20_000.0, "weight in the hand"),
    bound("sessions_per_week", "a week", 1.0, 14.0, "sessions"),
    bound("falls_12_months", "falls", 0.0, 100.0, "falls"),
    bound("station_number", "station", 1.0, 60.0, "station"),
    bound("minutes", "minutes", 0.0, 240.0, "length"),
    bound("rested_s", "s", 0.0, 7200.0, "rest"),
];

/// The bound of a key.
pub fn bound_of(key: &str) -> Option<&'static Bound> {
    BOUNDS.iter().find(|bound| bound.key == key)
}

/// Checks one outside value against the table.
///
/// # Errors
/// [`OutOfBounds`] with what was given, why it is refused and what to do.
///
/// # Panics
/// When the key is not in [`BOUNDS`]: a slip of ours, found by any test that reaches it.
pub fn check_bounds(key: &str, value: f64) -> Result<f64, OutOfBounds> {
    let bound = bound_of(key).expect("every checked key stands in the table of bounds");
    if value.is_finite() && value >= bound.low && value <= bound.high {
        return Ok(value);
    }
    let mut message = format!(
        "{} of {} {} is not possible: {} to {} is taken",
        bound.words, value, bound.unit, bound.low, bound.high
    );
    let inside = |v: f64| v >= bound.low && v <= bound.high;
    match bound.slip {
        Some(slip) if inside(value * slip.factor) => {
            let meant = libm::round(value * slip.factor * 10.0) / 10.0;
            message.push_str(&format!(
                "; it looks like {}, write {meant}",
                slip.looks_like
            ));
        }
        _ => message.push_str("; read the value again and write it in the unit of the key"),
    }
    Err(OutOfBounds { message })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn height_in_metres_is_refused_with_what_to_write() {
        let error = check_bounds("height_cm", 1.61).unwrap_err();
        assert!(
            error.message.contains("looks like metres, write 161"),
            "{error}"
        );
    }

    #[test]
    fn a_share_and_metres_are_refused_with_what_to_write() {
        for (key, value, said) in [
            ("spo2_pct", 0.97, "looks like a fraction, write 97"),
            ("seat_cm", 0.45, "looks like metres, write 45"),
            ("step_cm", 0.15, "looks like metres, write 15"),
        ] {
            let error = check_bounds(key, value).unwrap_err();
            assert!(error.message.contains(said), "{error}");
        }
    }

    #[test]
    fn not_a_number_is_refused() {
        assert!(check_bounds("weight_kg", f64::NAN).is_err());
        assert!(check_bounds("weight_kg", f64::INFINITY).is_err());
        assert!(check_bounds("weight_kg", 71.5).is_ok());
    }
}
