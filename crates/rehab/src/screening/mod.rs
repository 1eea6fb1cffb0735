//! Screening on one day: may this person exercise today, by the service's chosen cut-offs.

mod contraindication_table;
mod contraindications;
mod cutoff_table;
mod cutoffs;
mod day;
mod day_rules;
mod diary_pressure;
mod earlier_signs;
mod fibrillation;
mod field_test;
mod gate;
mod glucose;
mod lungs;
mod meal;
mod nyha;
mod recent_events;
mod standing;
mod swelling;
mod symptoms;
mod watched_pressure;
mod watched_symptom;
mod weight_gain;

pub use contraindications::{Consequence, strength_of};
pub use cutoffs::{CUT_OFFS, CutOff, Side, Strength, Vital, cut_off, day_cut_offs};
pub(crate) use diary_pressure::pressure_stops;
pub use field_test::{BeforeWalk, FieldWalk, field_walk, older_six_minute_walk};
pub(crate) use gate::Gate;
pub use glucose::{CARBOHYDRATE_MMOL_L, KETONES_FIRST_MMOL_L, TREAT_FIRST_MMOL_L};

pub use weight_gain::{WeightWindow, weight_windows};

use crate::assessed::Screening;
use crate::evidence::{Finding, Rule};
use crate::known::Known;

/// Every rule of this module.
pub(crate) fn rules() -> impl Iterator<Item = &'static Rule> {
    standing::RULES
        .iter()
        .chain(&contraindications::RULES)
        .chain(recent_events::RULES)
        .chain(recent_events::DATE_RULES)
        .chain(nyha::RULES)
        .chain(day_rules::RULES)
        .chain(symptoms::RULES)
        .chain(earlier_signs::RULES)
        .chain(swelling::RULES)
        .chain(glucose::RULES)
        .chain(watched_pressure::RULES)
        .chain(watched_symptom::RULES)
        .chain(weight_gain::RULES)
        .chain(fibrillation::RULES)
        .chain(lungs::RULES)
        .chain(meal::RULES)
        .chain(field_test::RULES)
}

/// Screening with what is still to find out.
pub(crate) struct Screened {
    pub(crate) screening: Screening,
    pub(crate) questions: Vec<Finding>,
}

/// Screens the record on its day. `sugar_can_fall`: insulin or a sulfonylurea is taken, as far as it is known.
pub(crate) fn screen(known: &Known, sugar_can_fall: bool) -> Screened {
    let mut gate = Gate::default();
    standing::apply_status(known, &mut gate);
    let examined = standing::apply_validity(known, &mut gate);
    contraindications::apply(known, &mut gate);
    recent_events::apply(known, &mut gate);
    nyha::apply(known, &mut gate);
    symptoms::apply(known, &mut gate);
    earlier_signs::apply(known, &mut gate);
    swelling::apply(known, &mut gate);
    day::apply(known, &mut gate);
    fibrillation::apply(known, &mut gate);
    lungs::apply(known, &mut gate);
    glucose::apply(known, sugar_can_fall, &mut gate);
    watched_pressure::apply(known, &mut gate);
    watched_symptom::apply(known, &mut gate);
    let screening = Screening {
        decision: gate.decision(),
        set: known.service.screening_set,
        findings: gate.findings,
        examined: examined.map(|one| one.date),
        valid_until: examined.map(|one| one.valid_until),
    };
    Screened {
        screening,
        questions: gate.questions,
    }
}
