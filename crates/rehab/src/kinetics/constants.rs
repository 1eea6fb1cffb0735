//! Published time constants and mean response times.

use crate::evidence::SourceId;

closed_words!(
    /// What a time constant is of.
    KineticsOf as "course in time" {
        HeartRateOn = "heart rate rising",
        HeartRateOff = "heart rate falling",
        UptakeOn = "oxygen uptake rising",
        UptakeOff = "oxygen uptake falling",
    }
);

/// One published time constant or mean response time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TimeConstant {
    /// What of.
    pub of: KineticsOf,
    /// In whom.
    pub in_whom: &'static str,
    /// Seconds.
    pub seconds: f64,
    /// Standard deviation (or standard error where said) in seconds.
    pub spread_s: Option<f64>,
    /// Source.
    pub source: SourceId,
}

const fn tau(
    of: KineticsOf,
    in_whom: &'static str,
    seconds: f64,
    spread_s: Option<f64>,
    source: &'static str,
) -> TimeConstant {
    TimeConstant {
        of,
        in_whom,
        seconds,
        spread_s,
        source: SourceId(source),
    }
}

/// Every published time constant that was read.
pub const TIME_CONSTANTS: &[TimeConstant] = &[
    tau(
        KineticsOf::HeartRateOn,
        "men of 72 years before training",
        38.1,
        Some(20.5),
        "babcock-1994",
    ),
    tau(
        KineticsOf::HeartRateOn,
        "men of 72 years after training",
        28.6,
        Some(7.2),
        "babcock-1994",
    ),
    tau(
        KineticsOf::UptakeOn,
        "men of 72 years before training",
        62.2,
        None,
        "babcock-1994",
    ),
    tau(
        KineticsOf::UptakeOn,
        "men of 72 years after training",
        31.9,
        None,
        "babcock-1994",
    ),
    tau(
        KineticsOf::UptakeOn,
        "older men before three weeks of training",
        43.0,
        Some(10.0),
        "murias-2010",
    ),
    tau(
        KineticsOf::UptakeOn,
        "older men after three weeks of training",
        35.0,
        Some(9.0),
        "murias-2010",
    ),
    tau(
        KineticsOf::UptakeOn,
        "young men",
        34.0,
        Some(8.0),
        "murias-2010",
    ),
    tau(
        KineticsOf::UptakeOn,
        "older inactive people",
        44.1,
        None,
        "front-physiol-2018-kinetics",
    ),
    tau(
        KineticsOf::UptakeOn,
        "older people active for leisure",
        26.6,
        None,
        "front-physiol-2018-kinetics",
    ),
    tau(
        KineticsOf::UptakeOn,
        "older trained people",
        17.7,
        None,
        "front-physiol-2018-kinetics",
    ),
    tau(
        KineticsOf::UptakeOn,
        "heart disease at 50 W",
        61.4,
        Some(15.2),
        "koike-kinetics",
    ),
    tau(
        KineticsOf::UptakeOn,
        "healthy people at 50 W",
        48.8,
        Some(10.4),
        "koike-kinetics",
    ),
    tau(
        KineticsOf::UptakeOn,
        "weak left ventricle, mean response time (SEM)",
        64.0,
        Some(3.0),
        "chatterjee-2013",
    ),
    tau(
        KineticsOf::UptakeOn,
        "normal left ventricle, mean response time (SEM)",
        45.0,
        Some(5.0),
        "chatterjee-2013",
    ),
    tau(
        KineticsOf::UptakeOn,
        "people at cardiovascular risk, mean response time",
        83.6,
        Some(45.0),
        "cv-risk-kinetics",
    ),
    tau(
        KineticsOf::UptakeOn,
        "people not at risk, mean response time",
        49.2,
        Some(36.0),
        "cv-risk-kinetics",
    ),
    tau(
        KineticsOf::HeartRateOff,
        "healthy people after a maximal test",
        148.0,
        Some(82.0),
        "kriatselis-2012",
    ),
    tau(
        KineticsOf::HeartRateOff,
        "first of three patient groups by falling peak uptake, after a maximal test",
        290.0,
        Some(65.0),
        "kriatselis-2012",
    ),
    tau(
        KineticsOf::HeartRateOff,
        "second of three patient groups by falling peak uptake, after a maximal test",
        320.0,
        Some(58.0),
        "kriatselis-2012",
    ),
    tau(
        KineticsOf::HeartRateOff,
        "third of three patient groups by falling peak uptake, after a maximal test",
        376.0,
        Some(55.0),
        "kriatselis-2012",
    ),
    tau(
        KineticsOf::UptakeOff,
        "healthy people after a maximal test",
        110.0,
        None,
        "kriatselis-2012",
    ),
    tau(
        KineticsOf::UptakeOff,
        "first of three patient groups by falling peak uptake, after a maximal test",
        197.0,
        None,
        "kriatselis-2012",
    ),
    tau(
        KineticsOf::UptakeOff,
        "second of three patient groups by falling peak uptake, after a maximal test",
        238.0,
        None,
        "kriatselis-2012",
    ),
    tau(
        KineticsOf::UptakeOff,
        "third of three patient groups by falling peak uptake, after a maximal test",
        278.0,
        None,
        "kriatselis-2012",
    ),
    tau(
        KineticsOf::HeartRateOff,
        "the limit between fit and unfit after low-level exercise",
        55.0,
        None,
        "wang-2006",
    ),
];
