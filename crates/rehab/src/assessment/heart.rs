//! What is known of the heart itself.

use jiff::civil::Date;

closed_words!(
    /// Rhythm of the heart.
    Rhythm as "rhythm" {
        Sinus = "sinus",
        AtrialFibrillation = "atrial-fibrillation",
        AtrialFlutter = "atrial-flutter",
        Paced = "paced",
        Other = "other",
    }
);

closed_words!(
    /// Pacing mode in the code of the trade (chamber paced, chamber sensed, response, rate response).
    PacingMode as "pacing mode" {
        Aai = "AAI", Aair = "AAIR", Vvi = "VVI", Vvir = "VVIR",
        Vdd = "VDD", Vddr = "VDDR", Ddd = "DDD", Dddr = "DDDR", Ddi = "DDI", Ddir = "DDIR",
    }
);

/// What is known of the heart.
#[derive(Clone, Debug, PartialEq)]
pub struct Heart {
    /// Ejection fraction in per cent.
    pub ejection_fraction_pct: Option<f64>,
    /// Rhythm.
    pub rhythm: Option<Rhythm>,
    /// A device that treats fast rhythms.
    pub device: Option<Device>,
    /// A pacemaker, or the pacing side of the device.
    pub pacemaker: Option<Pacemaker>,
    /// Haemoglobin in g/dL, for one heart-failure equation.
    pub haemoglobin_g_dl: Option<f64>,
}

impl Heart {
    /// Nothing known.
    pub const fn unknown() -> Self {
        Self {
            ejection_fraction_pct: None,
            rhythm: None,
            device: None,
            pacemaker: None,
            haemoglobin_g_dl: None,
        }
    }
}

/// An implanted defibrillator.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Device {
    /// The lowest rate at which it treats, in bpm; unknown means no pulse ceiling and no signing.
    pub lowest_treated_bpm: Option<f64>,
    /// Day of the last shock.
    pub last_shock: Option<Date>,
    /// Whether it lies under the skin outside the ribs.
    pub subcutaneous: Option<bool>,
}

/// A pacemaker.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pacemaker {
    /// Mode.
    pub mode: Option<PacingMode>,
    /// Base rate in bpm.
    pub base_bpm: Option<f64>,
    /// Upper tracking rate in bpm.
    pub upper_tracking_bpm: Option<f64>,
    /// Whether the rate follows activity.
    pub rate_response: Option<bool>,
    /// Whether it resynchronises both ventricles.
    pub resynchronisation: Option<bool>,
}
