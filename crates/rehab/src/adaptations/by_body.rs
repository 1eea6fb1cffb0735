//! What bodies and leaflets print about conditions, beside the one value that the programme uses.

use crate::evidence::{Answer, Input, Rule, RuleId, SourceId, Tag, Value};
use crate::inputs::refuse;

/// One leaflet's limit after a catheter.
struct Leaflet {
    body: &'static str,
    site: &'static str,
    what: &'static str,
    days: f64,
}

const fn leaflet(body: &'static str, site: &'static str, what: &'static str, days: f64) -> Leaflet {
    Leaflet {
        body,
        site,
        what,
        days,
    }
}

/// The leaflets, each for one place of entry.
// Source: access-leaflets (UK: Blackpool; Chelsea and Westminster; Australian and US hospitals).
const LEAFLETS: &[Leaflet] = &[
    leaflet("uk", "wrist", "no heavy lifting", 3.0),
    leaflet("uk", "wrist", "the wrist rests (24 to 48 hours)", 2.0),
    leaflet("uk", "groin", "no heavy lifting", 3.0),
    leaflet("uk", "groin", "no long walks", 2.0),
    leaflet("australia", "wrist", "at most 2 kg (3 to 4 days)", 4.0),
    leaflet("us", "wrist", "the wrist rests", 2.0),
    leaflet("us", "groin", "nothing over 10 lb (4.5 kg)", 14.0),
];

const CATHETER: Rule = Rule {
    id: RuleId("adapt/catheter-by-body"),
    name: "After a catheter, leaflet by leaflet",
    statement: "UK: no heavy lifting for 72 hours, wrist at rest 24 to 48 hours, groin no long walks for 48 hours. Australia: wrist \
                at most 2 kg for 3 to 4 days. US: wrist 48 hours, groin nothing over 10 lb for 2 weeks. The programme takes \
                the longest of each place (4 days at the wrist, 2 weeks at the groin).",
    sources: &[SourceId("access-leaflets")],
    tag: Tag::Read,
    inputs: &[
        Input::choice("body", &["uk", "australia", "us"]),
        Input::choice("site", &["wrist", "groin"]),
        Input::number("days_since", "days", 0.0, 40_000.0),
    ],
    evaluate: |values| {
        let (body, site) = (values.text("body")?, values.text("site")?);
        let days = values.number("days_since")?;
        let mut of_body = LEAFLETS
            .iter()
            .filter(|one| one.body == body && one.site == site)
            .peekable();
        if of_body.peek().is_none() {
            return refuse(format!(
                "no leaflet of {body} for the {site} was seen; take another body"
            ));
        }
        let (mut holding, mut read) = (Vec::new(), Vec::new());
        for one in of_body {
            read.push(format!("{} for {} days", one.what, one.days));
            if days < one.days {
                holding.push(one.what);
            }
        }
        let word = if holding.is_empty() {
            "free".to_owned()
        } else {
            holding.join(", ")
        };
        Ok(Answer::new(
            Value::Text(word),
            format!("{days} days since; {}", read.join(", ")),
        ))
    },
};

/// Leg pain, on 0 to 4, from which walking with leg arteries stops until it is gone.
// Source: adaptation-practice (recalled); other numberings of the scale exist.
const LEG_PAIN_STOPS_FROM: f64 = 3.0;

const LEG_PAIN: Rule = Rule {
    id: RuleId("adapt/claudication-pain"),
    name: "Walking with leg arteries by numbers",
    statement: "On numbers of leg pain from 1 (it begins) to 4 (the most) walk to 3 or 4, rest until it is gone, walk again \
                (recalled; scales from 0 exist). For information at a watched walk; the numbers have the service's own words.",
    sources: &[
        SourceId("adaptation-practice"),
        SourceId("gerhard-herman-2016"),
    ],
    tag: Tag::Recalled,
    inputs: &[
        Input::number("leg_pain", "of 4", 0.0, 4.0),
        Input::flag("resting"),
    ],
    evaluate: |values| {
        let pain = values.number("leg_pain")?;
        let word = match (values.flag("resting")?, pain) {
            (true, pain) if pain > 0.0 => "rest on until it is gone",
            (true, _) => "walk again",
            (false, pain) if pain >= LEG_PAIN_STOPS_FROM => "rest until it is gone",
            (false, _) => "walk on",
        };
        Ok(Answer::new(
            Value::Text(word.to_owned()),
            format!("{pain} of 4 against {LEG_PAIN_STOPS_FROM}"),
        ))
    },
};

/// Minutes a week in pregnancy, and days over which they are spread.
// Source: mottola-2019.
const PREGNANCY_MINUTES: f64 = 150.0;
const PREGNANCY_DAYS: f64 = 3.0;

const PREGNANCY: Rule = Rule {
    id: RuleId("adapt/pregnancy-dose"),
    name: "How much exercise in pregnancy",
    statement: "Without a contraindication 150 minutes or more a week of moderate exercise over 3 days or more. For information: \
                with heart disease the specialist decides, and no unattended home programme is made (our default).",
    sources: &[SourceId("mottola-2019")],
    tag: Tag::Read,
    inputs: &[
        Input::number("minutes_a_week", "minutes", 0.0, 2000.0),
        Input::number("days_a_week", "days", 0.0, 7.0),
    ],
    evaluate: |values| {
        let (minutes, days) = (
            values.number("minutes_a_week")?,
            values.number("days_a_week")?,
        );
        let reached = minutes >= PREGNANCY_MINUTES && days >= PREGNANCY_DAYS;
        Ok(Answer::new(
            Value::Flag(reached),
            format!(
                "{minutes} of {PREGNANCY_MINUTES} minutes over {days} of {PREGNANCY_DAYS} days"
            ),
        )
        .keep_in_mind("with heart disease only under a specialist"))
    },
};

/// The rules of this part.
pub(super) const RULES: &[Rule] = &[CATHETER, LEG_PAIN, PREGNANCY];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::evidence::Values;

    fn answer(rule: &Rule, given: &[(&str, &str)]) -> String {
        let pairs: Vec<(String, String)> = given
            .iter()
            .map(|(name, value)| ((*name).to_owned(), (*value).to_owned()))
            .collect();
        let values = Values::check(rule, &pairs).unwrap();
        match (rule.evaluate)(&values) {
            Ok(answer) => answer.value.to_string(),
            Err(why) => why.message,
        }
    }

    // Source: access-leaflets: 72, 48 and 48 hours, 3 to 4 days, 2 weeks.
    #[test]
    fn published_days_after_a_catheter_by_leaflet() {
        let of = |body, site, days| {
            answer(
                &CATHETER,
                &[("body", body), ("site", site), ("days_since", days)],
            )
        };
        assert_eq!(of("uk", "groin", "2.9"), "no heavy lifting");
        assert_eq!(of("uk", "groin", "3"), "free");
        assert_eq!(of("uk", "groin", "1.9"), "no heavy lifting, no long walks");
        assert_eq!(of("us", "wrist", "1.9"), "the wrist rests");
        assert_eq!(of("us", "wrist", "2"), "free");
        assert_eq!(of("us", "groin", "13"), "nothing over 10 lb (4.5 kg)");
        assert_eq!(
            of("australia", "wrist", "3.9"),
            "at most 2 kg (3 to 4 days)"
        );
        assert_eq!(of("australia", "wrist", "4"), "free");
        assert!(of("australia", "groin", "1").contains("no leaflet"));
    }

    #[test]
    fn law_the_programme_holds_as_long_as_the_longest_leaflet_of_each_place() {
        for (site, days) in [
            ("wrist", super::super::operations::WRIST_DAYS),
            ("groin", super::super::operations::GROIN_LIFT_DAYS),
        ] {
            let of_site = LEAFLETS.iter().filter(|one| one.site == site);
            let longest = of_site.map(|one| one.days).fold(0.0, f64::max);
            assert!(f64::from(days) >= longest, "{site}");
        }
    }

    // Source: adaptation-practice (recalled), walk to 3 or 4 of 4; mottola-2019, 150 minutes over 3 days.
    #[test]
    fn published_numbers_of_leg_pain_and_of_pregnancy() {
        let walk = |pain, resting| answer(&LEG_PAIN, &[("leg_pain", pain), ("resting", resting)]);
        assert_eq!(walk("2.9", "no"), "walk on");
        assert_eq!(walk("3", "no"), "rest until it is gone");
        assert_eq!(walk("1", "yes"), "rest on until it is gone");
        assert_eq!(walk("0", "yes"), "walk again");
        let dose = |minutes, days| {
            answer(
                &PREGNANCY,
                &[("minutes_a_week", minutes), ("days_a_week", days)],
            )
        };
        assert_eq!(
            (dose("150", "3"), dose("149", "3")),
            ("yes".to_owned(), "no".to_owned())
        );
        assert_eq!(dose("150", "2"), "no");
    }
}
