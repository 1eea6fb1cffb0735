//! Classes of medicines and what each means for exercise.

closed_words!(
    /// Class of a medicine, as far as exercise cares.
    MedicineClass as "class of medicine" {
        BetaBlocker = "beta-blocker",
        BetaBlockerEyeDrops = "beta-blocker-eye-drops",
        SinusNodeSlower = "sinus-node-slower",
        RateSlowingCalciumBlocker = "rate-slowing-calcium-blocker",
        Digitalis = "digitalis",
        RateSlowingAntiarrhythmic = "rate-slowing-antiarrhythmic",
        OtherAntiarrhythmic = "other-antiarrhythmic",
        OtherRateSlowing = "other-rate-slowing",
        CholinesteraseInhibitor = "cholinesterase-inhibitor",
        Nitrate = "nitrate",
        PotassiumChannelOpener = "potassium-channel-opener",
        OtherAntianginal = "other-antianginal",
        AceInhibitor = "ace-inhibitor",
        AngiotensinBlocker = "angiotensin-blocker",
        NeprilysinInhibitor = "neprilysin-inhibitor",
        AlphaBlocker = "alpha-blocker",
        CentralPressureLowering = "central-pressure-lowering",
        CalciumBlocker = "calcium-blocker",
        DirectVasodilator = "direct-vasodilator",
        OtherPressureLowering = "other-pressure-lowering",
        LoopDiuretic = "loop-diuretic",
        ThiazideDiuretic = "thiazide-diuretic",
        PotassiumSparingDiuretic = "potassium-sparing-diuretic",
        AldosteroneBlocker = "aldosterone-blocker",
        Phosphodiesterase5Inhibitor = "phosphodiesterase-5-inhibitor",
        GuanylateCyclaseStimulator = "guanylate-cyclase-stimulator",
        PulmonaryVasodilator = "pulmonary-vasodilator",
        PressureRaising = "pressure-raising",
        Sglt2Inhibitor = "sglt2-inhibitor",
        Insulin = "insulin",
        Sulfonylurea = "sulfonylurea",
        Glinide = "glinide",
        Metformin = "metformin",
        IncretinMedicine = "incretin-medicine",
        Glitazone = "glitazone",
        SugarAbsorptionSlower = "sugar-absorption-slower",
        Anticoagulant = "anticoagulant",
        Antiplatelet = "antiplatelet",
        Statin = "statin",
        OtherLipidLowering = "other-lipid-lowering",
        BetaAgonist = "beta-agonist",
        InhaledAntimuscarinic = "inhaled-antimuscarinic",
        Xanthine = "xanthine",
        InhaledSteroid = "inhaled-steroid",
        SteroidTablets = "steroid-tablets",
        ThyroidHormone = "thyroid-hormone",
        ThyroidBlocker = "thyroid-blocker",
        Antidepressant = "antidepressant",
        TricyclicAntidepressant = "tricyclic-antidepressant",
        Antipsychotic = "antipsychotic",
        Lithium = "lithium",
        Sedative = "sedative",
        Opioid = "opioid",
        NervePainOrEpilepsy = "nerve-pain-or-epilepsy",
        ParkinsonMedicine = "parkinson-medicine",
        MuscleRelaxant = "muscle-relaxant",
        AntiInflammatory = "anti-inflammatory",
        Triptan = "triptan",
        Stimulant = "stimulant",
        BladderOrBowelRelaxant = "bladder-or-bowel-relaxant",
        Antihistamine = "antihistamine",
        Supplement = "supplement",
        EyeMedicine = "eye-medicine",
        Other = "other",
    }
);

closed_words!(
    /// What a medicine does that matters in exercise.
    MedicineEffect as "effect of a medicine" {
        SlowsRate = "slows the heart rate",
        RaisesRate = "raises the heart rate",
        LowersPressure = "lowers the pressure",
        LowSugar = "can bring low sugar",
        BleedsAtAFall = "bleeds at a fall",
        LosesFluid = "loses fluid and salts",
        HoldsFluid = "holds fluid",
        MuscleAche = "can bring muscle ache",
        Unsteady = "can make drowsy or unsteady",
        NitrateConflict = "must not meet a nitrate",
        NarrowsVessels = "narrows vessels",
    }
);

impl MedicineClass {
    /// What the class does that matters in exercise; empty for a class that is recognised only so as not to be asked about.
    pub const fn effects(self) -> &'static [MedicineEffect] {
        use MedicineEffect::{
            BleedsAtAFall, HoldsFluid, LosesFluid, LowSugar, LowersPressure, MuscleAche,
            NarrowsVessels, NitrateConflict, RaisesRate, SlowsRate, Unsteady,
        };
        match self {
            Self::BetaBlocker => &[SlowsRate, LowersPressure],
            Self::RateSlowingCalciumBlocker => &[SlowsRate, LowersPressure],
            Self::BetaBlockerEyeDrops
            | Self::SinusNodeSlower
            | Self::Digitalis
            | Self::RateSlowingAntiarrhythmic
            | Self::OtherRateSlowing
            | Self::CholinesteraseInhibitor => &[SlowsRate],
            Self::CentralPressureLowering => &[SlowsRate, LowersPressure, Unsteady],
            Self::Nitrate
            | Self::PotassiumChannelOpener
            | Self::AceInhibitor
            | Self::AngiotensinBlocker
            | Self::NeprilysinInhibitor
            | Self::AlphaBlocker
            | Self::CalciumBlocker
            | Self::OtherPressureLowering
            | Self::PulmonaryVasodilator => &[LowersPressure],
            Self::DirectVasodilator => &[LowersPressure, RaisesRate],
            Self::LoopDiuretic | Self::ThiazideDiuretic | Self::Sglt2Inhibitor => {
                &[LosesFluid, LowersPressure]
            }
            Self::PotassiumSparingDiuretic | Self::AldosteroneBlocker => {
                &[LosesFluid, LowersPressure]
            }
            Self::Phosphodiesterase5Inhibitor | Self::GuanylateCyclaseStimulator => {
                &[LowersPressure, NitrateConflict]
            }
            Self::Insulin | Self::Sulfonylurea | Self::Glinide => &[LowSugar],
            Self::Glitazone | Self::AntiInflammatory => &[HoldsFluid],
            Self::Anticoagulant | Self::Antiplatelet => &[BleedsAtAFall],
            Self::Statin => &[MuscleAche],
            Self::BetaAgonist
            | Self::Xanthine
            | Self::ThyroidHormone
            | Self::Stimulant
            | Self::PressureRaising => &[RaisesRate],
            Self::SteroidTablets => &[HoldsFluid, MuscleAche],
            Self::TricyclicAntidepressant => &[RaisesRate, LowersPressure, Unsteady],
            Self::Antipsychotic | Self::ParkinsonMedicine => &[LowersPressure, Unsteady],
            Self::Sedative | Self::Opioid | Self::NervePainOrEpilepsy | Self::MuscleRelaxant => {
                &[Unsteady]
            }
            Self::Triptan => &[NarrowsVessels],
            Self::OtherAntiarrhythmic
            | Self::OtherAntianginal
            | Self::Metformin
            | Self::IncretinMedicine
            | Self::SugarAbsorptionSlower
            | Self::OtherLipidLowering
            | Self::InhaledAntimuscarinic
            | Self::InhaledSteroid
            | Self::ThyroidBlocker
            | Self::Antidepressant
            | Self::Lithium
            | Self::BladderOrBowelRelaxant
            | Self::Antihistamine
            | Self::Supplement
            | Self::EyeMedicine
            | Self::Other => &[],
        }
    }

    /// Whether the class has an effect.
    pub fn has(self, effect: MedicineEffect) -> bool {
        self.effects().contains(&effect)
    }
}
