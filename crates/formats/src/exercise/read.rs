//! From a checked tree to an exercise.

use super::shape::EXERCISE;
use crate::Problems;
use crate::shape::{Sink, View, check};
use crate::tree;
use rehab::assessment::{Prop, Support};
use rehab::evidence::Tag;
use rehab::programme::{
    Cost, CostGrade, Exercise, Posture, PublishedCost, Restriction, Variant, VariantRef,
};

pub(super) fn parse(text: &str, file: &str) -> Result<Exercise, Problems> {
    let node = tree::read(file, text.as_bytes())?;
    let mut sink = Sink::new(file);
    check(&node, &EXERCISE, &mut sink);
    let exercise = View::of(&node, &EXERCISE).and_then(|view| {
        if sink.is_clean() {
            check_sense(&view, &mut sink);
        }
        exercise_of(&view)
    });
    sink.finish(exercise)
}

fn exercise_of(view: &View<'_>) -> Option<Exercise> {
    let variants = view.tables("variant");
    Some(Exercise {
        id: view.text("id")?,
        alike: view.text("alike")?,
        kinds: view.words("kinds")?,
        cost: cost_of(&view.table("cost")?)?,
        hr_gain: view.number("hr_gain")?,
        muscles: view.words("muscles")?,
        joints: view.words("joints")?,
        least_peak_mets: view.number("least_peak_mets"),
        families: view.texts("families"),
        trains_balance: view.flag("trains_balance")?,
        strengthens: view.flag("strengthens")?,
        variants: variants.iter().map(variant_of).collect::<Option<_>>()?,
    })
}

fn cost_of(view: &View<'_>) -> Option<Cost> {
    Some(Cost {
        mets: view.number("mets")?,
        low: view.number("low")?,
        high: view.number("high")?,
        response: view.number("response"),
        grade: view.word("grade")?,
        tag: view.word("tag")?,
        published: view.table("published").and_then(|view| {
            Some(PublishedCost {
                mets: view.number("mets")?,
                code: view.text("code"),
                source: view.text("source")?,
            })
        }),
        note: view.text("note")?,
        sources: view.texts("sources"),
    })
}

fn variant_of(view: &View<'_>) -> Option<Variant> {
    let restrictions = view.tables("restrictions");
    Some(Variant {
        id: view.text("id")?,
        net_factor: view.number("net_factor")?,
        grade: view.word("grade")?,
        basis: view.text("basis").unwrap_or_default(),
        support: view.word("support")?,
        posture: view.word("posture")?,
        arms: view.word("arms")?,
        balance: view.whole("balance")?,
        per_minute: view.number("per_minute"),
        hold_s: view.band("hold_s"),
        places: view.words("places")?,
        props: view.words("props").unwrap_or_default(),
        weight_g: view.number("weight_g"),
        step_cm: view.band("step_cm"),
        needs_rail: view.flag("needs_rail").unwrap_or(false),
        needs_arms: view.flag("needs_arms").unwrap_or(false),
        needs_no_arms: view.flag("needs_no_arms").unwrap_or(false),
        needs_stick: view.flag("needs_stick").unwrap_or(false),
        restrictions: restrictions
            .iter()
            .map(restriction_of)
            .collect::<Option<_>>()?,
        easier: view.text("easier").as_deref().and_then(reference_of),
    })
}

fn restriction_of(view: &View<'_>) -> Option<Restriction> {
    Some(Restriction {
        reason: view.word("reason")?,
        effect: view.word("effect")?,
        weeks: view.number("weeks"),
        above_weight_g: view.number("above_weight_g"),
    })
}

/// Reads `exercise/variant`.
pub(crate) fn reference_of(text: &str) -> Option<VariantRef> {
    let (exercise, variant) = text.split_once('/')?;
    Some(VariantRef {
        exercise: exercise.to_owned(),
        variant: variant.to_owned(),
    })
}

/// What the keys cannot say by themselves.
fn check_sense(view: &View<'_>, sink: &mut Sink) {
    if let Some(cost) = view.table("cost") {
        check_cost(&cost, sink);
    }
    let grade = view.table("cost").and_then(|cost| cost.word("grade"));
    let mut seen: Vec<String> = Vec::new();
    for variant in view.tables("variant") {
        let id = variant.text("id").unwrap_or_default();
        if seen.contains(&id) {
            let message = format!("there are two variants '{id}'; give one another name");
            sink.say(&variant.place("id"), variant.line_of("id"), message);
        }
        seen.push(id);
        check_variant(&variant, grade, sink);
    }
}

fn check_cost(cost: &View<'_>, sink: &mut Sink) {
    let number = |key| cost.number(key).unwrap_or(f64::NAN);
    let (low, mets, high) = (number("low"), number("mets"), number("high"));
    if !(low <= mets && mets <= high) {
        let message = format!("{low} to {high} does not contain {mets}; read the three again");
        sink.say(&cost.place("mets"), cost.line_of("mets"), message);
    }
    if let Some(response) = cost.number("response")
        && !(low <= response && response <= high)
    {
        let message = format!("{low} to {high} does not contain {response}; read the three again");
        sink.say(&cost.place("response"), cost.line_of("response"), message);
    }
    let grade: Option<CostGrade> = cost.word("grade");
    let tag: Option<Tag> = cost.word("tag");
    if grade == Some(CostGrade::A) && tag == Some(Tag::Ours) {
        let message = "grade A means that a source names this movement; it cannot be ours";
        sink.say(&cost.place("tag"), cost.line_of("tag"), message);
    }
    if grade != Some(CostGrade::A) && cost.has("published") {
        let message =
            "only grade A may show a published value; for B and C the source bounds an estimate";
        sink.say(&cost.place("published"), cost.line_of("published"), message);
    }
    if let (Some(published), Some(mets)) = (cost.table("published"), cost.number("mets"))
        && published.number("mets") != Some(mets)
    {
        let message =
            "the published value is printed unaltered; mets and published.mets must be the same";
        sink.say(&published.place("mets"), published.line_of("mets"), message);
    }
}

fn check_variant(variant: &View<'_>, grade: Option<CostGrade>, sink: &mut Sink) {
    let mut say = |key: &str, message: &str| {
        sink.say(&variant.place(key), variant.line_of(key), message);
    };
    let seated = variant.word::<Posture>("posture") == Some(Posture::Seated);
    if seated != (variant.word::<Support>("support") == Some(Support::Seated)) {
        say(
            "support",
            "posture and support do not agree; a seated variant has both of them seated",
        );
    }
    if seated && variant.whole::<u8>("balance") != Some(0) {
        say("balance", "a seated variant asks for no balance; write 0");
    }
    if variant.word::<CostGrade>("grade") < grade {
        say(
            "grade",
            "a variant cannot be better known than its exercise; take the grade of the exercise or a lower one",
        );
    }
    if variant.has("per_minute") && variant.has("hold_s") {
        say(
            "hold_s",
            "it is either repeated or held; keep one of the two",
        );
    }
    if !variant.has("per_minute") && !variant.has("hold_s") {
        say(
            "id",
            "it has neither per_minute nor hold_s; add one of the two",
        );
    }
    let weights = variant.words::<Prop>("props").unwrap_or_default();
    if weights.contains(&Prop::Weights) != variant.has("weight_g") {
        say(
            "props",
            "weights and weight_g go together; add the one that is missing",
        );
    }
    let rail = variant.flag("needs_rail") == Some(true);
    let stands: Option<Support> = variant.word("support");
    if rail && stands == Some(Support::None) {
        say(
            "needs_rail",
            "a rail is needed but no hand holds it; write the support",
        );
    }
    if variant.flag("needs_arms") == Some(true) && variant.flag("needs_no_arms") == Some(true) {
        say(
            "needs_no_arms",
            "a chair cannot have arms and have none; keep one of needs_arms and needs_no_arms",
        );
    }
    if variant.flag("needs_stick") == Some(true) && stands != Some(Support::OneHand) {
        say(
            "needs_stick",
            "a stick is needed but not one hand holds it; write the support",
        );
    }
}
