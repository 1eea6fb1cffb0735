//! What the medicines a person takes mean together: findings with their weight.

use super::class::{MedicineClass, MedicineEffect};
use super::class_rules::rule_of;
use super::recognise::{Recognition, Substance, recognise_medicine};
use super::together_rules::{
    MASKED_LOW_SUGAR, NITRATE_CONFLICT, NONE_RECORDED, NOT_RECOGNISED, TWO_BLEED, TWO_SLOW,
};
use crate::assessment::{Answered, Medicine, Nitrate};
use crate::evidence::{Ask, Finding, Named, Weight};
use crate::service::LocalMedicineName;
use jiff::civil::Date;

/// The medicines taken on a day, read once.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Medicines {
    /// Each medicine taken with what its name came to.
    pub taken: Vec<(Medicine, Recognition)>,
    /// Whether any medicine at all is recorded, also one that has ended.
    pub recorded: bool,
}

impl Medicines {
    /// Reads the medicines taken on a day.
    pub fn on(medicines: &[Medicine], local: &[LocalMedicineName], on: Date) -> Self {
        let taken = medicines
            .iter()
            .filter(|one| one.taken_on(on))
            .map(|one| (one.clone(), recognise_medicine(one, local)))
            .collect();
        Self {
            taken,
            recorded: !medicines.is_empty(),
        }
    }

    /// Every substance taken, with the name it was written as.
    pub fn substances(&self) -> impl Iterator<Item = (&Substance, &str)> {
        self.taken.iter().flat_map(|(medicine, read)| {
            read.substances
                .iter()
                .map(|one| (one, medicine.name.as_str()))
        })
    }

    /// Whether a medicine with an effect is taken. Present wins; with no medicine recorded or one not recognised it is
    /// not known; never absent by silence.
    pub fn answer(&self, effect: MedicineEffect) -> Answered {
        let present = self.substances().any(|(one, _)| one.has(effect));
        self.known(present)
    }

    /// Whether a medicine of a class is taken, answered in the same way.
    pub fn answer_class(&self, class: MedicineClass) -> Answered {
        let present = self.substances().any(|(one, _)| one.is(class));
        self.known(present)
    }

    /// Whether something that slows the heart rate is taken.
    pub fn rate_slowed(&self) -> Answered {
        self.answer(MedicineEffect::SlowsRate)
    }

    fn known(&self, present: bool) -> Answered {
        let unread = self.taken.iter().any(|(_, read)| !read.is_complete());
        if present {
            Answered::Present
        } else if unread || !self.recorded {
            Answered::NotKnown
        } else {
            Answered::Absent
        }
    }

    /// Every finding about the medicines: by class, together, and what is still to find out.
    pub fn findings(&self, nitrate: &Nitrate) -> Vec<Finding> {
        let mut found = Vec::new();
        found.extend(self.nitrate_conflict(nitrate));
        found.extend(self.nitrate_beside_unread(nitrate));
        found.extend(self.together());
        found.extend(self.by_class());
        found.extend(self.to_find_out());
        found
    }

    fn by_class(&self) -> Vec<Finding> {
        let taken = |class: MedicineClass| -> Vec<&'static str> {
            let mut names = Vec::new();
            for (one, _) in self.substances() {
                if one.is(class) && !names.contains(&one.inn) && !is_said_by_another(one, class) {
                    names.push(one.inn);
                }
            }
            names
        };
        let mut found = Vec::new();
        for class in MedicineClass::ALL {
            let names = taken(*class);
            if names.is_empty() || class.effects().is_empty() {
                continue;
            }
            let rule = rule_of(*class);
            let mut finding = rule.finding(
                weight_of(*class),
                format!(
                    "{}: {}",
                    names.join(", "),
                    rule.statement.trim_end_matches('.')
                ),
            );
            finding
                .values
                .push(Named::text("medicine", names.join(", ")));
            found.push(finding);
        }
        found
    }

    fn with(&self, effect: MedicineEffect) -> Vec<&'static str> {
        let mut names: Vec<&'static str> = Vec::new();
        for (one, _) in self.substances() {
            if one.has(effect) && !names.contains(&one.inn) {
                names.push(one.inn);
            }
        }
        names
    }

    fn nitrate_conflict(&self, nitrate: &Nitrate) -> Option<Finding> {
        let conflicting = self.with(MedicineEffect::NitrateConflict);
        let mut nitrates: Vec<&str> = self
            .substances()
            .filter(|(one, _)| one.is(MedicineClass::Nitrate))
            .map(|(one, _)| one.inn)
            .collect();
        if nitrates.is_empty() && nitrate.prescribed == Some(true) {
            nitrates.push("the nitrate for chest discomfort");
        }
        if conflicting.is_empty() || nitrates.is_empty() {
            return None;
        }
        let text = format!(
            "{} and {} are both recorded: together they can drop the pressure dangerously; ask the doctor which of them stands before anything is signed",
            conflicting.join(", "),
            nitrates.join(", ")
        );
        let mut finding = NITRATE_CONFLICT.finding(Weight::BlocksSigning, text);
        finding.ask = Some(ask("the doctor", "signing"));
        Some(finding)
    }

    /// A spray is not told of beside a medicine that may be the one it must not meet.
    fn nitrate_beside_unread(&self, nitrate: &Nitrate) -> Option<Finding> {
        let open = nitrate.prescribed == Some(true)
            && self.answer(MedicineEffect::NitrateConflict) == Answered::NotKnown;
        let names: Vec<&str> = self
            .taken
            .iter()
            .filter(|(_, read)| !read.is_complete())
            .map(|(medicine, _)| medicine.name.as_str())
            .collect();
        if !open || names.is_empty() {
            return None;
        }
        let text = format!(
            "A nitrate is prescribed, and {} is not recognised: is it a medicine that must not meet a nitrate? Ask for the \
             international name",
            names.join(", ")
        );
        let mut finding = NITRATE_CONFLICT.finding(Weight::BlocksSigning, text);
        finding.ask = Some(ask("the patient, the packet, the doctor's list", "signing"));
        Some(finding)
    }

    fn together(&self) -> Vec<Finding> {
        let mut found = Vec::new();
        let blocker = self
            .substances()
            .any(|(one, _)| one.is(MedicineClass::BetaBlocker));
        let low_sugar = self.with(MedicineEffect::LowSugar);
        if blocker && !low_sugar.is_empty() {
            let text = format!(
                "A beta-blocker with {}: trembling and a racing heart may not announce low sugar; go by glucose, sweating and confusion",
                low_sugar.join(", ")
            );
            found.push(MASKED_LOW_SUGAR.finding(Weight::Caution, text));
        }
        let slowing = self.with(MedicineEffect::SlowsRate);
        if slowing.len() > 1 {
            let text = format!(
                "{} slow the heart together: a pulse under 50 with dizziness, or a faint, is a reason to contact the doctor",
                slowing.join(", ")
            );
            found.push(TWO_SLOW.finding(Weight::Caution, text));
        }
        let bleeding = self.with(MedicineEffect::BleedsAtAFall);
        if bleeding.len() > 1 {
            let text = format!(
                "{} together: more bleeding at a fall or a knock",
                bleeding.join(", ")
            );
            found.push(TWO_BLEED.finding(Weight::Caution, text));
        }
        found
    }

    fn to_find_out(&self) -> Vec<Finding> {
        let mut found = Vec::new();
        if !self.recorded {
            let mut finding = NONE_RECORDED.finding(
                Weight::FindOut,
                "No medicine is recorded: ask which are taken, eye drops and inhalers too",
            );
            finding.ask = Some(ask(
                "the patient, the doctor's list",
                "the heart-rate equation; counted as rate-slowed until known",
            ));
            found.push(finding);
        }
        for (medicine, read) in &self.taken {
            for one in &read.unknown {
                let nearest = one
                    .nearest
                    .map(|inn| format!("; did it mean {inn}?"))
                    .unwrap_or_default();
                let text = format!(
                    "'{}' in '{}' is not a name we know: ask for the international name{nearest}",
                    one.text, medicine.name
                );
                let mut finding = NOT_RECOGNISED.finding(Weight::FindOut, text);
                finding
                    .values
                    .push(Named::text("name", medicine.name.clone()));
                finding.ask = Some(ask(
                    "the patient, the packet, the doctor's list",
                    "what depends on the medicines; counted as rate-slowing until known",
                ));
                found.push(finding);
            }
        }
        found
    }
}

/// Whether a substance of two classes is told under the other one, which says the same of it: what opens potassium
/// channels and has a nitrate part widens vessels once.
fn is_said_by_another(one: &Substance, class: MedicineClass) -> bool {
    class == MedicineClass::Nitrate && one.is(MedicineClass::PotassiumChannelOpener)
}

fn ask(whom: &str, blocks: &str) -> Ask {
    Ask {
        whom: whom.to_owned(),
        blocks: blocks.to_owned(),
    }
}

fn weight_of(class: MedicineClass) -> Weight {
    use MedicineEffect::{
        BleedsAtAFall, LowSugar, LowersPressure, NarrowsVessels, NitrateConflict, SlowsRate,
        Unsteady,
    };
    if class.has(LowSugar)
        || class.has(NarrowsVessels)
        || class.has(NitrateConflict)
        || class.has(BleedsAtAFall)
    {
        Weight::Caution
    } else if class.has(LowersPressure) || class.has(SlowsRate) || class.has(Unsteady) {
        Weight::Adapt
    } else {
        Weight::Note
    }
}

/// Whether a rate-slowing medicine began, ended or may have changed between two days: tests are then not comparable.
pub fn rate_slowing_changed(
    medicines: &[Medicine],
    local: &[LocalMedicineName],
    from: Date,
    to: Date,
) -> Answered {
    let mut answer = Answered::Absent;
    for medicine in medicines {
        let read = recognise_medicine(medicine, local);
        let slows = read.has(MedicineEffect::SlowsRate);
        if !slows && read.is_complete() {
            continue;
        }
        let within = |day: Option<Date>| day.is_some_and(|day| from < day && day <= to);
        if within(medicine.since) || within(medicine.until) {
            if slows {
                return Answered::Present;
            }
            answer = Answered::NotKnown;
        } else if medicine.since.is_none() && medicine.taken_on(to) {
            answer = Answered::NotKnown;
        }
    }
    answer
}

#[cfg(test)]
mod tests;
