//! Names of medicines for heart, vessels, blood and sugar, by class.
//!
//! Source: register `inn-atc` (recalled). Substances are separated by commas: the INN first, then other
//! spellings in use behind bars. Brand names are never here: they are the service's own data.

use super::class::MedicineClass::{
    self, AceInhibitor, AldosteroneBlocker, AlphaBlocker, AngiotensinBlocker, Anticoagulant,
    Antiplatelet, BetaBlocker, BetaBlockerEyeDrops, CalciumBlocker, CentralPressureLowering,
    Digitalis, DirectVasodilator, Glinide, Glitazone, GuanylateCyclaseStimulator, IncretinMedicine,
    Insulin, LoopDiuretic, Metformin, NeprilysinInhibitor, Nitrate, OtherAntianginal,
    OtherAntiarrhythmic, OtherLipidLowering, OtherPressureLowering, OtherRateSlowing,
    Phosphodiesterase5Inhibitor, PotassiumChannelOpener, PotassiumSparingDiuretic, PressureRaising,
    PulmonaryVasodilator, RateSlowingAntiarrhythmic, RateSlowingCalciumBlocker, Sglt2Inhibitor,
    SinusNodeSlower, Statin, SugarAbsorptionSlower, Sulfonylurea, ThiazideDiuretic,
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
            cloranolol, nipradilol, tilisolol, amosulalol, bucumolol, bufetolol, bufuralol, carazolol, carpindolol, \
            cinamolol, dilevalol, ecastolol, epanolol, esatenolol, indenolol, iprocrolol, medroxalol, moprolol, \
            pronetalol, tiprenolol, toliprolol, xibenolol",
    },
    // Given as eye drops first of all; the name with "tablet" makes it the tablet.
    Group {
        classes: &[BetaBlockerEyeDrops],
        names: "timolol, betaxolol|levobetaxolol, levobunolol|bunolol, carteolol, metipranolol, befunolol",
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
        names: "\
            diltiazem, verapamil|arverapamil, gallopamil, etripamil, bepridil, mibefradil, fendiline, tiapamil, \
            emopamil, clentiazem",
    },
    Group {
        classes: &[Digitalis],
        names: "\
            digoxin, digitoxin, metildigoxin|medigoxin|beta methyldigoxin, beta acetyldigoxin|acetyldigoxin, acetyldigitoxin, \
            deslanoside, lanatoside c|lanatosides, ouabain|strophanthin, proscillaridin",
    },
    Group {
        classes: &[RateSlowingAntiarrhythmic],
        names: "\
            amiodarone, dronedarone, propafenone, vernakalant, budiodarone, celivarone",
    },
    Group {
        classes: &[OtherAntiarrhythmic],
        names: "\
            flecainide, mexiletine, procainamide, dofetilide, ajmaline, cibenzoline|cifenline, pilsicainide, acecainide, \
            aprindine, azimilide, encainide, ibutilide, indecainide, lorcainide, moracizine|moricizine, nifekalant, \
            prajmaline|prajmalium, tocainide",
    },
    // Listed as slowing the heart by the French agency; by themselves they quicken the sinus node a little.
    Group {
        classes: &[OtherAntiarrhythmic, OtherRateSlowing],
        names: "disopyramide, quinidine|hydroquinidine",
    },
    Group {
        classes: &[Nitrate],
        names: "\
            glyceryl trinitrate|nitroglycerin|nitroglycerine|nitroglycerol|trinitrin|gtn|glyceroltrinitrat|trinitroglycerin|trinitrina|nitroglicerina, \
            isosorbide mononitrate|isosorbide 5 mononitrate|ismn|isosorbidmononitrat|mononitrato de isosorbida|mononitrate d isosorbide, \
            isosorbide dinitrate|isdn|isosorbiddinitrat|dinitrato de isosorbida|dinitrate d isosorbide|isosorbide, \
            pentaerithrityl tetranitrate|pentaerythritol tetranitrate|pentaerithrityltetranitrat, molsidomine, \
            linsidomine, propatylnitrate, eritrityl tetranitrate|erythrityl tetranitrate, trolnitrate, tenitramine, \
            itramin, clonitrate, amyl nitrite",
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
            benazepril|benazeprilat, delapril, temocapril, captopril, cilazapril|cilazaprilat, enalapril|enalaprilat, fosinopril|fosinoprilat, imidapril, lisinopril, \
            moexipril|moexiprilat, perindopril|perindoprilat, quinapril|quinaprilat, ramipril|ramiprilat, spirapril, trandolapril|trandolaprilat, zofenopril|zofenoprilat",
    },
    Group {
        classes: &[AngiotensinBlocker],
        names: "\
            azilsartan, candesartan|candesartan cilexetil, eprosartan, fimasartan, irbesartan, losartan, \
            olmesartan|olmesartan medoxomil, telmisartan, valsartan, aliskiren, forasartan, saprisartan, tasosartan",
    },
    Group {
        classes: &[NeprilysinInhibitor],
        names: "sacubitril",
    },
    Group {
        classes: &[AlphaBlocker],
        names: "\
            alfuzosin, doxazosin, indoramin, prazosin, silodosin, tamsulosin, terazosin, urapidil, phenoxybenzamine, \
            phentolamine, bunazosin, trimazosin",
    },
    Group {
        classes: &[CentralPressureLowering],
        names: "\
            clonidine, moxonidine, rilmenidine, methyldopa|alpha methyldopa, guanfacine, reserpine, \
            tolonidine, guanabenz, guanethidine, debrisoquine, lofexidine",
    },
    Group {
        classes: &[CalciumBlocker],
        names: "\
            amlodipine|levamlodipine, azelnidipine, efonidipine, barnidipine, benidipine, cilnidipine, clevidipine, \
            felodipine, isradipine, lacidipine, lercanidipine, manidipine, nicardipine, nifedipine, nilvadipine, \
            nimodipine, nisoldipine, nitrendipine, aranidipine, cronidipine, darodipine, niguldipine|dexniguldipine, \
            niludipine",
    },
    Group {
        classes: &[DirectVasodilator],
        names: "hydralazine, dihydralazine, minoxidil, cadralazine, endralazine",
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
            indapamide, metolazone, xipamide, methyclothiazide, polythiazide, clopamide, benzthiazide, butizide|buthiazide, cicletanine, \
            cyclothiazide",
    },
    Group {
        classes: &[PotassiumSparingDiuretic],
        names: "amiloride, triamterene",
    },
    Group {
        classes: &[AldosteroneBlocker],
        names: "\
            eplerenone, finerenone, spironolactone|espironolactona, canrenone|potassium canrenoate|canrenoate de potassium, \
            apararenone, esaxerenone",
    },
    Group {
        classes: &[Phosphodiesterase5Inhibitor],
        names: "sildenafil, tadalafil, vardenafil, avanafil, udenafil, lodenafil, mirodenafil, gisadenafil",
    },
    Group {
        classes: &[GuanylateCyclaseStimulator],
        names: "\
            riociguat, vericiguat, ataciguat, avenciguat, cinaciguat, mosliciguat, olinciguat, praliciguat, \
            runcaciguat, zagociguat",
    },
    Group {
        classes: &[PulmonaryVasodilator],
        names: "\
            ambrisentan, bosentan, macitentan, clazosentan, darusentan, enrasentan, tezosentan, sotatercept",
    },
    // They keep platelets apart as well.
    Group {
        classes: &[PulmonaryVasodilator, Antiplatelet],
        names: "selexipag, treprostinil, iloprost, epoprostenol, beraprost",
    },
    // Endothelin blockers for pressure and kidneys.
    Group {
        classes: &[OtherPressureLowering],
        names: "aprocitentan, atrasentan, sparsentan, levosimendan",
    },
    Group {
        classes: &[PressureRaising],
        names: "droxidopa, etilefrine, fludrocortisone, ephedrine",
    },
    // It raises the pressure, and the heart answers by beating more slowly.
    Group {
        classes: &[PressureRaising, OtherRateSlowing],
        names: "midodrine",
    },
    Group {
        classes: &[Sglt2Inhibitor],
        names: "\
            canagliflozin, dapagliflozin, empagliflozin, ertugliflozin, sotagliflozin, ipragliflozin, luseogliflozin, \
            tofogliflozin, bexagliflozin, enavogliflozin, henagliflozin, janagliflozin, licogliflozin, mizagliflozin",
    },
    Group {
        classes: &[Insulin],
        names: "\
            insulin, insulin aspart, insulin degludec, insulin detemir, insulin glargine, insulin glulisine, \
            insulin icodec, insulin lispro, isophane insulin|insulin isophane|nph insulin|insulin nph, insulin efsitora, insulin tregopil",
    },
    Group {
        classes: &[Sulfonylurea],
        names: "\
            glibenclamide|glyburide, gliclazide, glimepiride, glipizide, gliquidone, tolbutamide, chlorpropamide, \
            tolazamide, glibornuride, acetohexamide, carbutamide, glisoxepide, metahexamide, glisentide, glycyclamide",
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
            anagliptin, gemigliptin, linagliptin, saxagliptin, sitagliptin, teneligliptin, vildagliptin, bisegliptin, \
            carmegliptin, denagliptin, dutogliptin, evogliptin, gosogliptin, omarigliptin, retagliptin, trelagliptin",
    },
    Group {
        classes: &[Glitazone],
        names: "\
            pioglitazone, rosiglitazone, azemiglitazone, balaglitazone, ciglitazone, darglitazone, edaglitazone, \
            englitazone, leriglitazone, lobeglitazone, mitoglitazone, netoglitazone, rivoglitazone, troglitazone",
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
            reviparin, tinzaparin, danaparoid|danaparoide, argatroban, bivalirudin, adomiparin, ardeparin, semuloparin, \
            sevuparin, sulodexide, desirudin, lepirudin, pegmusirudin, melagatran|ximelagatran, flovagatran, \
            darexaban, eribaxaban, letaxaban, otamixaban, dicoumarol|dicumarol, ethyl biscoumacetate, anisindione, \
            clorindione",
    },
    Group {
        classes: &[Antiplatelet],
        names: "\
            acetylsalicylic acid|aspirin|asa|acetylsalicylsaure|acide acetylsalicylique|acido acetilsalicilico|aspirina|carbasalate calcium|lysine acetylsalicylate, \
            clopidogrel, prasugrel, ticagrelor, ticlopidine, dipyridamole, cilostazol, triflusal, vorapaxar, \
            cangrelor, indobufen, abciximab, eptifibatide, tirofiban, caplacizumab, anagrelide, elinogrel, ozagrel, \
            regrelor, ridogrel, sarpogrelate, selatogrel, terbogrel, vicagrel",
    },
    Group {
        classes: &[Statin],
        names: "\
            atorvastatin, fluvastatin, lovastatin, pitavastatin, pravastatin, rosuvastatin, simvastatin, cerivastatin",
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
