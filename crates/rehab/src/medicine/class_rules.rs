//! What each class of medicines means for exercise, as rules.

use super::class::MedicineClass;
use super::recognise::recognise;
use crate::evidence::{Answer, Input, Rule, RuleError, RuleId, SourceId, Tag, Value, Values};

const NAME: Input = Input::text("name");

/// Answers whether the named medicine belongs to a class.
fn belongs(values: &Values, class: MedicineClass) -> Result<Answer, RuleError> {
    let name = values.text("name")?;
    let found = recognise(name, &[]);
    let mut answer = Answer::new(
        Value::Flag(found.classes().contains(&class)),
        format!("'{name}' is read as {}", described(&found)),
    );
    for one in &found.unknown {
        answer = answer.keep_in_mind(format!("'{}' was not recognised: ask what it is", one.text));
    }
    Ok(answer)
}

/// The substances with their classes, in words.
pub(super) fn described(found: &super::Recognition) -> String {
    if found.substances.is_empty() {
        return "nothing known".to_owned();
    }
    let all: Vec<String> = found
        .substances
        .iter()
        .map(|one| {
            let classes: Vec<&str> = one.classes.iter().map(|class| class.word()).collect();
            format!("{} ({})", one.inn, classes.join(", "))
        })
        .collect();
    all.join(" + ")
}

macro_rules! class_rules {
    ($($class:ident, $id:literal, $statement:literal;)+) => {
        /// One rule for each class.
        pub(super) const RULES: &[Rule] = &[$(Rule {
            id: RuleId(concat!("medicine/", $id)),
            name: MedicineClass::$class.word(),
            statement: $statement,
            sources: &[SourceId("medicine-exercise"), SourceId("inn-atc")],
            tag: Tag::Recalled,
            inputs: &[NAME],
            evaluate: |values| belongs(values, MedicineClass::$class),
        }),+];

        /// The rule of a class.
        pub(super) fn rule_of(class: MedicineClass) -> &'static Rule {
            let at = match class { $(MedicineClass::$class => Position::$class as usize),+ };
            &RULES[at]
        }

        /// Place of each class in the table above.
        enum Position { $($class),+ }
    };
}

class_rules! {
    BetaBlocker, "beta-blocker", "Slows the heart at rest and at work (20 to 40 bpm lower) and lowers the pressure; effort leads, age equations for people without one do not apply, a change of dose ends the comparison of tests, and with insulin or a sulfonylurea it hides the signs of low sugar.";
    BetaBlockerEyeDrops, "beta-blocker-eye-drops", "Beta-blocker in the eye: enough reaches the blood to slow the heart and tighten the chest in some people; counted as rate-slowing until somebody has checked.";
    SinusNodeSlower, "sinus-node-slower", "Slows the sinus node at rest and at work without lowering the pressure; counted like a beta-blocker for the pulse; flickers of light in the eyes are its known side effect.";
    RateSlowingCalciumBlocker, "rate-slowing-calcium-blocker", "Slows the heart at rest and at work and lowers the pressure; counted like a beta-blocker for the pulse.";
    Digitalis, "digitalis", "Slows the heart, in fibrillation above all, and changes the ST segment in an exercise test; counted as rate-slowing; sickness, yellow sight or a new slow pulse are a reason to ring the doctor.";
    RateSlowingAntiarrhythmic, "rate-slowing-antiarrhythmic", "Slows the heart at rest and at work and was given for a rhythm: effort leads, and palpitations are a reason to stop.";
    OtherAntiarrhythmic, "other-antiarrhythmic", "Given for a rhythm: palpitations, a faint or a new irregular pulse are a reason to stop and to contact the team.";
    OtherRateSlowing, "other-rate-slowing", "Given for something else, and can slow the heart; counted as rate-slowing until somebody has checked; a new slow pulse or a faint is a reason to ring the doctor.";
    CholinesteraseInhibitor, "cholinesterase-inhibitor", "Can slow the heart and bring a faint; counted as rate-slowing.";
    Nitrate, "nitrate", "Widens vessels and lowers the pressure: long cool-down, slow changes of posture, feet moving, no sudden stop; never with a phosphodiesterase-5 inhibitor.";
    PotassiumChannelOpener, "potassium-channel-opener", "Widens vessels like a nitrate and lowers the pressure: long cool-down, slow changes of posture, feet moving, no sudden stop; never with a phosphodiesterase-5 inhibitor.";
    OtherAntianginal, "other-antianginal", "Given for angina without changing pulse or pressure much; says that angina was a problem: ask what brings it on.";
    AceInhibitor, "ace-inhibitor", "Lowers the pressure, most after exercise: long cool-down, slow changes of posture, feet moving.";
    AngiotensinBlocker, "angiotensin-blocker", "Lowers the pressure, most after exercise: long cool-down, slow changes of posture, feet moving.";
    NeprilysinInhibitor, "neprilysin-inhibitor", "Given in heart failure; lowers the pressure, most in the first weeks: long cool-down, slow changes of posture.";
    AlphaBlocker, "alpha-blocker", "Lowers the pressure on standing, also when given for the prostate: slow changes of posture, no sudden stop.";
    CentralPressureLowering, "central-pressure-lowering", "Lowers the pressure and can slow the heart and make drowsy; must not be stopped suddenly.";
    CalciumBlocker, "calcium-blocker", "Lowers the pressure; ankles can swell without heart failure: tell it apart from new swelling.";
    DirectVasodilator, "direct-vasodilator", "Widens vessels, lowers the pressure and can quicken the heart: long cool-down, slow changes of posture.";
    OtherPressureLowering, "other-pressure-lowering", "Given for something else, and can lower the pressure on standing: slow changes of posture, no sudden stop.";
    LoopDiuretic, "loop-diuretic", "Loses fluid and salts: low pressure on standing, cramps; time the session away from the rush to the lavatory; weight is watched in heart failure.";
    ThiazideDiuretic, "thiazide-diuretic", "Loses fluid and salts: low pressure on standing, cramps, more so in heat.";
    PotassiumSparingDiuretic, "potassium-sparing-diuretic", "Keeps potassium: weakness or palpitations are a reason to have the blood checked.";
    AldosteroneBlocker, "aldosterone-blocker", "Given in heart failure and for pressure; keeps potassium: weakness or palpitations are a reason to have the blood checked.";
    Phosphodiesterase5Inhibitor, "phosphodiesterase-5-inhibitor", "Widens vessels; no nitrate within 24 hours of sildenafil or vardenafil and 48 hours of tadalafil.";
    GuanylateCyclaseStimulator, "guanylate-cyclase-stimulator", "Widens vessels and lowers the pressure; riociguat must not meet a nitrate or a phosphodiesterase-5 inhibitor: ask the doctor.";
    PulmonaryVasodilator, "pulmonary-vasodilator", "Given for pressure in the vessels of the lung: a specialist's patient; lowers the pressure.";
    PressureRaising, "pressure-raising", "Raises the pressure, often for falls of it on standing; lying flat after a dose can bring it too high.";
    Sglt2Inhibitor, "sglt2-inhibitor", "Loses sugar and fluid in the urine: drink enough; with long fasting or illness ketones rise at a normal glucose; alone it hardly brings low sugar.";
    Insulin, "insulin", "Exercise adds to it: low sugar during and up to a day after; glucose before exercise, sugar within reach, not alone after a low; a dose over a working muscle acts faster.";
    Sulfonylurea, "sulfonylurea", "Can bring low sugar during and after exercise: glucose before exercise, sugar within reach.";
    Glinide, "glinide", "Can bring low sugar when taken without a meal: exercise after food, sugar within reach.";
    Metformin, "metformin", "Hardly brings low sugar by itself.";
    IncretinMedicine, "incretin-medicine", "Hardly brings low sugar by itself, more with insulin or a sulfonylurea; sickness and little eating weaken.";
    Glitazone, "glitazone", "Holds fluid and can bring heart failure: report swelling and gain of weight.";
    SugarAbsorptionSlower, "sugar-absorption-slower", "Hardly brings low sugar by itself; a low needs glucose, not household sugar.";
    Anticoagulant, "anticoagulant", "Bleeds at a fall or a knock: balance first, no risk of falls; a blow to the head is a reason to call for help at once.";
    Antiplatelet, "antiplatelet", "Bruises and bleeds more easily at a fall, two of them more so.";
    Statin, "statin", "New widespread muscle ache that is not from the exercise: tell the team.";
    OtherLipidLowering, "other-lipid-lowering", "Lowers fats in the blood; with a statin muscle ache is more likely.";
    BetaAgonist, "beta-agonist", "Quickens the heart and can bring palpitations or trembling for some hours; the reliever stays within reach.";
    InhaledAntimuscarinic, "inhaled-antimuscarinic", "Opens the airways; says that there is a lung condition: keep the reliever within reach.";
    Xanthine, "xanthine", "Quickens the heart and can bring palpitations.";
    InhaledSteroid, "inhaled-steroid", "Says that there is a lung condition; rinse the mouth; nothing changes in exercise.";
    SteroidTablets, "steroid-tablets", "Over months: weak thighs, thin bones and skin, higher sugar and pressure; holds fluid; loaded bending is avoided.";
    ThyroidHormone, "thyroid-hormone", "Too much quickens the heart: palpitations are a reason to have the blood checked.";
    ThyroidBlocker, "thyroid-blocker", "Says that the thyroid was overactive: palpitations or a fast pulse at rest are a reason to have the blood checked.";
    Antidepressant, "antidepressant", "Says that mood was a problem: ask how it is; some lower the pressure on standing or lengthen the QT time.";
    TricyclicAntidepressant, "tricyclic-antidepressant", "Quickens the heart, lowers the pressure on standing, makes drowsy; palpitations or a faint are a reason to stop.";
    Antipsychotic, "antipsychotic", "Lowers the pressure on standing and can make stiff, drowsy or unsteady; palpitations or a faint are a reason to stop.";
    Lithium, "lithium", "Loss of fluid raises its level: drink enough; trembling, sickness or unsteadiness are a reason to have the blood checked.";
    Sedative, "sedative", "Makes drowsy and unsteady: not within some hours of a dose; balance exercises with a hold.";
    Opioid, "opioid", "Makes drowsy and unsteady and hides pain that would say stop.";
    NervePainOrEpilepsy, "nerve-pain-or-epilepsy", "Can make drowsy and unsteady; for epilepsy: not alone on stairs, ask about the last fit.";
    ParkinsonMedicine, "parkinson-medicine", "Lowers the pressure on standing; movement is best in the good hours after a dose.";
    MuscleRelaxant, "muscle-relaxant", "Makes drowsy and weak: balance exercises with a hold.";
    AntiInflammatory, "anti-inflammatory", "Holds fluid and raises the pressure; not wanted in heart failure and after a heart event: tell the doctor.";
    Triptan, "triptan", "Narrows vessels; not wanted with coronary disease: tell the doctor.";
    Stimulant, "stimulant", "Quickens the heart and raises the pressure: not before exercise.";
    BladderOrBowelRelaxant, "bladder-or-bowel-relaxant", "Dry mouth and less sweating: cool room, drink enough.";
    Antihistamine, "antihistamine", "Older ones make drowsy; otherwise nothing changes in exercise.";
    Supplement, "supplement", "Nothing changes in exercise.";
    EyeMedicine, "eye-medicine", "Says that sight may be low; a beta-blocker may be in the same bottle: read the label.";
    Other, "other-medicine", "Recognised; nothing known to us that changes a home programme.";
}
