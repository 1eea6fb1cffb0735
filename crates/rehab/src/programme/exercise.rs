//! Exercises as data: facts only; their words stand elsewhere.

use crate::assessment::{Joint, PlaceKind, Prop, Support};
use crate::evidence::Tag;

closed_words!(
    /// What an exercise is for.
    ExerciseKind as "kind of exercise" {
        Mobility = "mobility",
        Stretch = "stretch",
        PulseRaising = "pulse-raising",
        Cardiovascular = "cardiovascular",
        ActiveRecovery = "active-recovery",
    }
);

closed_words!(
    /// Muscle group.
    MuscleGroup as "muscle group" {
        Quadriceps = "quadriceps", Hamstrings = "hamstrings", Gluteals = "gluteals", HipAbductors = "hip-abductors",
        HipAdductors = "hip-adductors", HipFlexors = "hip-flexors", Calf = "calf", Shin = "shin",
        Deltoid = "deltoid", Chest = "chest", UpperBack = "upper-back", Trapezius = "trapezius",
        RotatorCuff = "rotator-cuff", Biceps = "biceps", Triceps = "triceps", Trunk = "trunk",
        BackExtensors = "back-extensors", Neck = "neck", WholeBody = "whole-body",
    }
);

closed_words!(
    /// Posture.
    Posture as "posture" { Seated = "seated", Standing = "standing", Rising = "rising", Walking = "walking" }
);

closed_words!(
    /// How high the hands go.
    ArmHeight as "height of the arms" { Still = "still", BelowShoulder = "below-shoulder", Shoulder = "shoulder", AboveShoulder = "above-shoulder" }
);

closed_words!(
    /// How well a cost is known: A named by its source, B bounded by a class, C estimated by analogy.
    CostGrade as "grade of the cost" { A = "A", B = "B", C = "C" }
);

closed_words!(
    /// Why an exercise may not suit.
    RestrictionReason as "reason of a restriction" {
        KneePain = "knee-pain",
        HipPain = "hip-pain",
        HipReplacement = "hip-replacement",
        HipFlexion = "hip-flexion",
        HipAdduction = "hip-adduction",
        HipPivot = "hip-pivot",
        Sternotomy = "sternotomy",
        DeviceArm = "device-arm",
        ShoulderPain = "shoulder-pain",
        WristPain = "wrist-pain",
        BackPain = "back-pain",
        PoorBalance = "poor-balance",
        OrthostaticHypotension = "orthostatic-hypotension",
        Osteoporosis = "osteoporosis",
        FootNeuropathy = "foot-neuropathy",
        Claudication = "claudication",
        HighPressure = "high-pressure",
        LowVision = "low-vision",
        Vertigo = "vertigo",
        HighRisk = "high-risk",
    }
);

closed_words!(
    /// What a restriction does: `exclude` takes the variant away; `adapt` lets it stand but a variant of the same
    /// exercise without the restriction comes first, and where none fits it is watched before it is done alone.
    RestrictionEffect as "effect of a restriction" { Exclude = "exclude", Adapt = "adapt" }
);

/// One restriction of a variant.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Restriction {
    /// Why.
    pub reason: RestrictionReason,
    /// What it does.
    pub effect: RestrictionEffect,
    /// Weeks after the operation or implant before which it holds (12 means: until 12 weeks have passed);
    /// `None` holds as long as the reason does.
    pub weeks: Option<f64>,
    /// Holds only above this weight in the hand, in grams.
    pub above_weight_g: Option<f64>,
}

/// A published cost: code, value and source, unaltered.
#[derive(Clone, Debug, PartialEq)]
pub struct PublishedCost {
    /// METs as printed.
    pub mets: f64,
    /// Code, where the table has codes.
    pub code: Option<String>,
    /// Source id.
    pub source: String,
}

/// Energy cost of an exercise at its own rate, gross METs.
#[derive(Clone, Debug, PartialEq)]
pub struct Cost {
    /// Best estimate; the published value unaltered where one names this exercise.
    pub mets: f64,
    /// Low end: for dose claims.
    pub low: f64,
    /// High end: with `low` the spread in the variance of predictions.
    pub high: f64,
    /// What a measurement says instead, where it disagrees with the published value: then limits and predicted pulse
    /// use this one and dose claims the low end, so that neither end of the disagreement can mislead.
    pub response: Option<f64>,
    /// Grade.
    pub grade: CostGrade,
    /// How well it is known.
    pub tag: Tag,
    /// The published value, where there is one.
    pub published: Option<PublishedCost>,
    /// In words where the number comes from.
    pub note: String,
    /// Source ids.
    pub sources: Vec<String>,
}

/// One way of doing an exercise.
#[derive(Clone, Debug, PartialEq)]
pub struct Variant {
    /// Id within the exercise.
    pub id: String,
    /// Factor on the net cost (METs - 1) of the exercise.
    pub net_factor: f64,
    /// How well the cost of this variant is known; never better than that of its exercise.
    pub grade: CostGrade,
    /// In words where the factor comes from; empty for the way the exercise's own cost is for.
    pub basis: String,
    /// Support of the hands.
    pub support: Support,
    /// Posture.
    pub posture: Posture,
    /// Height of the arms.
    pub arms: ArmHeight,
    /// Balance asked for: 0 seated or two hands, 1 two feet, 2 dynamic single support, 3 sustained single support.
    pub balance: u8,
    /// Repetitions, cycles or steps a minute; `None` for holds.
    pub per_minute: Option<f64>,
    /// How long a stretch or a stand is held, in seconds: from, to; `None` for movements.
    pub hold_s: Option<(f64, f64)>,
    /// Kinds of place where it can be done: any one of them will do.
    pub places: Vec<PlaceKind>,
    /// Things it needs.
    pub props: Vec<Prop>,
    /// Most weight in each hand in grams; at least half of it must be at hand, or a lighter variant is taken.
    pub weight_g: Option<f64>,
    /// Height of the step it needs in cm: from, to.
    pub step_cm: Option<(f64, f64)>,
    /// Needs a rail at the step.
    pub needs_rail: bool,
    /// Needs a chair with arms.
    pub needs_arms: bool,
    /// Needs a chair without arms: a thigh or a hand goes down beside the seat.
    pub needs_no_arms: bool,
    /// Needs a walking stick in the hand.
    pub needs_stick: bool,
    /// Restrictions.
    pub restrictions: Vec<Restriction>,
    /// The easier version that stands ready: of this or another exercise.
    pub easier: Option<VariantRef>,
}

/// Names one variant of one exercise.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct VariantRef {
    /// Exercise id.
    pub exercise: String,
    /// Variant id.
    pub variant: String,
}

/// One exercise.
#[derive(Clone, Debug, PartialEq)]
pub struct Exercise {
    /// Id, kebab case.
    pub id: String,
    /// Name shared by exercises that are one movement at different loads: a session has at most one of them.
    pub alike: String,
    /// What it is for, first its main purpose.
    pub kinds: Vec<ExerciseKind>,
    /// Cost done as the variant whose factor is 1: the first, unless a heavier one stands before it.
    pub cost: Cost,
    /// Factor on the heart-rate rise at equal METs (arm work raises it more).
    pub hr_gain: f64,
    /// Main muscle groups.
    pub muscles: Vec<MuscleGroup>,
    /// Joints it loads.
    pub joints: Vec<Joint>,
    /// Least peak capacity in METs of a person it is offered to; `None` leaves that to the limits.
    pub least_peak_mets: Option<f64>,
    /// Families for likes and dislikes ("walking", "arms", "chair").
    pub families: Vec<String>,
    /// Whether it trains balance.
    pub trains_balance: bool,
    /// Whether it strengthens.
    pub strengthens: bool,
    /// Variants, hardest first.
    pub variants: Vec<Variant>,
}

impl Exercise {
    /// Gross METs of a variant, best estimate for limits and the predicted pulse.
    pub fn mets_of(&self, variant: &Variant) -> f64 {
        let best = self.cost.response.unwrap_or(self.cost.mets);
        1.0 + (best - 1.0) * variant.net_factor
    }

    /// Gross METs of a variant, low end.
    pub fn mets_low_of(&self, variant: &Variant) -> f64 {
        1.0 + (self.cost.low - 1.0) * variant.net_factor
    }

    /// Gross METs of a variant, high end.
    pub fn mets_high_of(&self, variant: &Variant) -> f64 {
        1.0 + (self.cost.high - 1.0) * variant.net_factor
    }

    /// A variant by its id.
    pub fn variant(&self, id: &str) -> Option<&Variant> {
        self.variants.iter().find(|variant| variant.id == id)
    }

    /// Whether it serves a purpose.
    pub fn is(&self, kind: ExerciseKind) -> bool {
        self.kinds.contains(&kind)
    }
}

/// All exercises, ordered by id.
#[derive(Clone, Debug, PartialEq)]
pub struct Exercises {
    list: Vec<Exercise>,
}

impl Exercises {
    /// Takes the exercises in any order; the order of files changes nothing.
    pub fn new(mut list: Vec<Exercise>) -> Self {
        list.sort_by(|a, b| a.id.cmp(&b.id));
        Self { list }
    }

    /// All, ordered by id.
    pub fn iter(&self) -> impl Iterator<Item = &Exercise> {
        self.list.iter()
    }

    /// One by its id.
    pub fn get(&self, id: &str) -> Option<&Exercise> {
        let found = self
            .list
            .binary_search_by(|one| one.id.as_str().cmp(id))
            .ok()?;
        self.list.get(found)
    }

    /// The exercise and variant a reference names.
    pub fn find(&self, named: &VariantRef) -> Option<(&Exercise, &Variant)> {
        let exercise = self.get(&named.exercise)?;
        Some((exercise, exercise.variant(&named.variant)?))
    }

    /// How many.
    pub fn len(&self) -> usize {
        self.list.len()
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.list.is_empty()
    }
}
