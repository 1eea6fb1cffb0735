//! Names of medicines for heart, vessels, blood and sugar, by class.
//!
//! Source: register `inn-atc` (recalled). Substances are separated by commas: the INN first, then other
//! spellings in use behind bars. Brand names are never here: they are the service's own data.

use super::class::MedicineClass::{
    self, AceInhibitor, AldosteroneBlocker, AlphaBlocker, AngiotensinBlocker, Anticoagulant,
    Antiplatelet, BetaBlocker, BetaBlockerEyeDrops, CalciumBlocker, CentralPressureLowering,
    Digitalis, DirectVasodilator, Glinide, Glitazone, GuanylateCyclaseStimulator, IncretinMedicine,
    Insulin, LoopDiuretic, Metformin, NeprilysinInhibitor, Nitrate, OtherAntianginal,
    OtherAntiarrhythmic, OtherLipidLowering, Phosphodiesterase5Inhibitor, PotassiumChannelOpener,
    PotassiumSparingDiuretic, PressureRaising, PulmonaryVasodilator, RateSlowingAntiarrhythmic,
    RateSlowingCalciumBlocker, Sglt2Inhibitor, SinusNodeSlower, Statin, SugarAbsorptionSlower,
    Sulfonylurea, ThiazideDiuretic,
};

/// The substances that share the same classes.
pub(super) struct Group {
    pub(super) classes: &'static [MedicineClass],
    pub(super) names: &'static str,
}

/// Groups of this file.
pub(super) const GROUPS: &[Group] = &[
    Group {
        classes: &[BetaBlocker],
        names: "\
            acebutolol, alprenolol, arotinolol, atenolol, bevantolol, bisoprolol, bopindolol, bucindolol, bunitrolol, \
            bupranolol, celiprolol, esmolol, landiolol, mepindolol, metoprolol, nadolol, nebivolol, oxprenolol, \
            penbutolol, pindolol, practolol, propranolol, talinolol, tertatolol, carvedilol, labetalol|labetolol, \
            cloranolol, nipradilol, tilisolol",
    },
    // Given as eye drops first of all; the name with "tablet" makes it the tablet.
    Group {
        classes: &[BetaBlockerEyeDrops],
        names: "timolol, betaxolol|levobetaxolol, levobunolol, carteolol, metipranolol, befunolol",
    },
    Group {
        classes: &[BetaBlocker, RateSlowingAntiarrhythmic],
        names: "sotalol",
    },
    Group {
        classes: &[SinusNodeSlower],
        names: "ivabradine",
    },
    Group {
        classes: &[RateSlowingCalciumBlocker],
        names: "diltiazem, verapamil, gallopamil",
    },
    Group {
        classes: &[Digitalis],
        names: "\
            digoxin, digitoxin, metildigoxin|medigoxin|beta methyldigoxin, beta acetyldigoxin|acetyldigoxin",
    },
    Group {
        classes: &[RateSlowingAntiarrhythmic],
        names: "amiodarone, dronedarone, propafenone, vernakalant",
    },
    Group {
        classes: &[OtherAntiarrhythmic],
        names: "\
            flecainide, disopyramide, mexiletine, quinidine|hydroquinidine, procainamide, dofetilide, ajmaline, \
            cibenzoline|cifenline, pilsicainide",
    },
    Group {
        classes: &[Nitrate],
        names: "\
            glyceryl trinitrate|nitroglycerin|nitroglycerine|nitroglycerol|trinitrin|gtn|glyceroltrinitrat|trinitroglycerin|trinitrina|nitroglicerina, \
            isosorbide mononitrate|isosorbide 5 mononitrate|ismn|isosorbidmononitrat|mononitrato de isosorbida, \
            isosorbide dinitrate|isdn|isosorbiddinitrat|dinitrato de isosorbida, \
            pentaerithrityl tetranitrate|pentaerythritol tetranitrate|pentaerithrityltetranitrat, molsidomine, \
            linsidomine",
    },
    // It has a nitrate part: a phosphodiesterase-5 inhibitor must not meet it either.
    Group {
        classes: &[PotassiumChannelOpener, Nitrate],
        names: "nicorandil",
    },
    Group {
        classes: &[OtherAntianginal],
        names: "ranolazine, trimetazidine, perhexiline",
    },
    Group {
        classes: &[AceInhibitor],
        names: "\
            benazepril, delapril, temocapril, captopril, cilazapril, enalapril, fosinopril, imidapril, lisinopril, \
            moexipril, perindopril, quinapril, ramipril, spirapril, trandolapril, zofenopril",
    },
    Group {
        classes: &[AngiotensinBlocker],
        names: "\
            azilsartan, candesartan|candesartan cilexetil, eprosartan, fimasartan, irbesartan, losartan, \
            olmesartan|olmesartan medoxomil, telmisartan, valsartan, aliskiren",
    },
    Group {
        classes: &[NeprilysinInhibitor],
        names: "sacubitril",
    },
    Group {
        classes: &[AlphaBlocker],
        names: "\
            alfuzosin, doxazosin, indoramin, prazosin, silodosin, tamsulosin, terazosin, urapidil, phenoxybenzamine, \
            phentolamine",
    },
    Group {
        classes: &[CentralPressureLowering],
        names: "clonidine, moxonidine, rilmenidine, methyldopa|alpha methyldopa, guanfacine, reserpine",
    },
    Group {
        classes: &[CalciumBlocker],
        names: "\
            amlodipine|levamlodipine, azelnidipine, efonidipine, barnidipine, benidipine, cilnidipine, clevidipine, \
            felodipine, isradipine, lacidipine, lercanidipine, manidipine, nicardipine, nifedipine, nilvadipine, \
            nimodipine, nisoldipine, nitrendipine",
    },
    Group {
        classes: &[DirectVasodilator],
        names: "hydralazine, dihydralazine, minoxidil",
    },
    Group {
        classes: &[LoopDiuretic],
        names: "\
            bumetanide, etacrynic acid|ethacrynic acid, furosemide|frusemide, piretanide, torasemide|torsemide, \
            azosemide",
    },
    Group {
        classes: &[ThiazideDiuretic],
        names: "\
            bendroflumethiazide|bendrofluazide, trichlormethiazide, altizide|althiazide, chlorothiazide, \
            chlortalidone|chlorthalidone, cyclopenthiazide, hydrochlorothiazide|hctz|hct, hydroflumethiazide, \
            indapamide, metolazone, xipamide, methyclothiazide, polythiazide, clopamide",
    },
    Group {
        classes: &[PotassiumSparingDiuretic],
        names: "amiloride, triamterene",
    },
    Group {
        classes: &[AldosteroneBlocker],
        names: "eplerenone, finerenone, spironolactone|espironolactona, canrenone|potassium canrenoate",
    },
    Group {
        classes: &[Phosphodiesterase5Inhibitor],
        names: "sildenafil, tadalafil, vardenafil, avanafil, udenafil, lodenafil, mirodenafil",
    },
    Group {
        classes: &[GuanylateCyclaseStimulator],
        names: "riociguat, vericiguat",
    },
    Group {
        classes: &[PulmonaryVasodilator],
        names: "\
            ambrisentan, bosentan, macitentan, selexipag, treprostinil, iloprost, epoprostenol, beraprost, \
            sotatercept",
    },
    Group {
        classes: &[PressureRaising],
        names: "midodrine, droxidopa, etilefrine, fludrocortisone, ephedrine",
    },
    Group {
        classes: &[Sglt2Inhibitor],
        names: "\
            canagliflozin, dapagliflozin, empagliflozin, ertugliflozin, sotagliflozin, ipragliflozin, luseogliflozin, \
            tofogliflozin, bexagliflozin",
    },
    Group {
        classes: &[Insulin],
        names: "\
            insulin, insulin aspart, insulin degludec, insulin detemir, insulin glargine, insulin glulisine, \
            insulin icodec, insulin lispro, isophane insulin|insulin isophane|nph insulin|insulin nph",
    },
    Group {
        classes: &[Sulfonylurea],
        names: "\
            glibenclamide|glyburide, gliclazide, glimepiride, glipizide, gliquidone, tolbutamide, chlorpropamide, \
            tolazamide, glibornuride",
    },
    Group {
        classes: &[Glinide],
        names: "nateglinide, repaglinide, mitiglinide",
    },
    Group {
        classes: &[Metformin],
        names: "metformin",
    },
    Group {
        classes: &[IncretinMedicine],
        names: "\
            albiglutide, dulaglutide, exenatide, liraglutide, lixisenatide, semaglutide, tirzepatide, alogliptin, \
            anagliptin, gemigliptin, linagliptin, saxagliptin, sitagliptin, teneligliptin, vildagliptin",
    },
    Group {
        classes: &[Glitazone],
        names: "pioglitazone, rosiglitazone",
    },
    Group {
        classes: &[SugarAbsorptionSlower],
        names: "acarbose, miglitol, voglibose",
    },
    Group {
        classes: &[Anticoagulant],
        names: "\
            acenocoumarol|nicoumalone|acenocumarol, apixaban, dabigatran|dabigatran etexilate, edoxaban, fluindione, \
            fondaparinux, phenindione, phenprocoumon, rivaroxaban, betrixaban, warfarin, \
            heparin|unfractionated heparin, bemiparin, certoparin, dalteparin, enoxaparin, nadroparin, parnaparin, \
            reviparin, tinzaparin, danaparoid, argatroban, bivalirudin",
    },
    Group {
        classes: &[Antiplatelet],
        names: "\
            acetylsalicylic acid|aspirin|asa|acetylsalicylsaure|acide acetylsalicylique|acido acetilsalicilico|aspirina|carbasalate calcium|lysine acetylsalicylate, \
            clopidogrel, prasugrel, ticagrelor, ticlopidine, dipyridamole, cilostazol, triflusal, vorapaxar, \
            cangrelor, indobufen",
    },
    Group {
        classes: &[Statin],
        names: "\
            atorvastatin, fluvastatin, lovastatin, pitavastatin, pravastatin, rosuvastatin, simvastatin",
    },
    Group {
        classes: &[OtherLipidLowering],
        names: "\
            alirocumab, evolocumab, inclisiran, bempedoic acid, bezafibrate, ciprofibrate, fenofibrate, gemfibrozil, \
            colesevelam, colestipol, colestyramine|cholestyramine, ezetimibe, icosapent ethyl|icosapent, lomitapide, \
            evinacumab, acipimox, nicotinic acid|niacin, \
            omega 3|omega 3 acid ethyl esters|omega 3 fatty acids|fish oil",
    },
];
