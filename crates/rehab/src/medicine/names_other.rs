//! Names of other medicines that people after a heart event often take, by class.
//!
//! Source: register `inn-atc` (recalled). Written as in `names_heart`.

use super::class::MedicineClass::{
    AntiInflammatory, Antidepressant, Antihistamine, Antipsychotic, BetaAgonist,
    BladderOrBowelRelaxant, CholinesteraseInhibitor, EyeMedicine, InhaledAntimuscarinic,
    InhaledSteroid, Lithium, MuscleRelaxant, NervePainOrEpilepsy, Opioid, Other,
    OtherPressureLowering, OtherRateSlowing, ParkinsonMedicine, Sedative, SteroidTablets,
    Stimulant, Supplement, ThyroidBlocker, ThyroidHormone, TricyclicAntidepressant, Triptan,
    Xanthine,
};
use super::names_heart::Group;

/// Groups of this file.
pub(super) const GROUPS: &[Group] = &[
    Group {
        classes: &[BetaAgonist],
        names: "\
            salbutamol|albuterol, levosalbutamol|levalbuterol, terbutaline, fenoterol, formoterol|eformoterol, \
            salmeterol, indacaterol, olodaterol, vilanterol, bambuterol, clenbuterol, mirabegron, vibegron, arformoterol, \
            bitolterol, orciprenaline|metaproterenol, isoprenaline|isoproterenol, pirbuterol, procaterol, reproterol, \
            tulobuterol",
    },
    Group {
        classes: &[InhaledAntimuscarinic],
        names: "\
            aclidinium|aclidinium bromide, glycopyrronium|glycopyrrolate, ipratropium, tiotropium, umeclidinium, \
            revefenacin",
    },
    Group {
        classes: &[Xanthine],
        names: "theophylline, aminophylline, doxofylline, pentoxifylline|oxpentifylline",
    },
    Group {
        classes: &[InhaledSteroid],
        names: "beclometasone|beclomethasone, budesonide, ciclesonide, fluticasone, mometasone",
    },
    Group {
        classes: &[SteroidTablets],
        names: "\
            betamethasone, cortisone, deflazacort, dexamethasone, hydrocortisone, methylprednisolone, prednisolone, \
            prednisone, triamcinolone, cortivazol, tetracosactide",
    },
    Group {
        classes: &[ThyroidHormone],
        names: "levothyroxine|thyroxine|l thyroxine|levotiroxina|thyroxines, liothyronine, tiratricol",
    },
    Group {
        classes: &[ThyroidBlocker],
        names: "carbimazole, propylthiouracil, thiamazole|methimazole",
    },
    Group {
        classes: &[Antidepressant],
        names: "\
            bupropion|amfebutamone, citalopram, desvenlafaxine, duloxetine, escitalopram, fluoxetine, \
            fluvoxamine, milnacipran, moclobemide, paroxetine, reboxetine, sertraline, \
            tianeptine, venlafaxine, hypericum|st john s wort|st johns wort",
    },
    Group {
        classes: &[Antidepressant, Sedative],
        names: "agomelatine, mianserin, mirtazapine",
    },
    Group {
        classes: &[Antidepressant, OtherPressureLowering],
        names: "vortioxetine, iproniazid, phenelzine, tranylcypromine",
    },
    Group {
        classes: &[Antidepressant, Sedative, OtherPressureLowering],
        names: "trazodone, dapoxetine",
    },
    Group {
        classes: &[TricyclicAntidepressant],
        names: "\
            amitriptyline, clomipramine, desipramine, dosulepin|dothiepin, doxepin, imipramine, lofepramine, \
            maprotiline, nortriptyline, trimipramine, amoxapine",
    },
    Group {
        classes: &[Antipsychotic],
        names: "\
            amisulpride, aripiprazole, brexpiprazole, cariprazine, chlorpromazine, clozapine, flupentixol, \
            haloperidol, levomepromazine, lurasidone, melperone, olanzapine, paliperidone, pipamperone, quetiapine, \
            risperidone, sulpiride, trifluoperazine, ziprasidone, zuclopenthixol, prochlorperazine, alimemazine, alizapride, asenapine, carpipramine, cyamemazine, \
            droperidol, fluphenazine, loxapine, metopimazine, oxomemazine, penfluridol, pimozide, pipotiazine, \
            propericiazine|periciazine, tiapride",
    },
    Group {
        classes: &[Lithium],
        names: "lithium",
    },
    Group {
        classes: &[Sedative],
        names: "\
            alprazolam, bromazepam, chlordiazepoxide, clobazam, clonazepam, diazepam, flurazepam, loprazolam, \
            lorazepam, lormetazepam, midazolam, nitrazepam, oxazepam, temazepam, triazolam, zaleplon, zolpidem, \
            zopiclone|eszopiclone, melatonin, buspirone, adinazolam, avizafone, bentazepam, camazepam, cinolazepam, \
            clorazepate, clotiazepam, cloxazolam, delorazepam, doxefazepam, estazolam, etifoxine, fludiazepam, \
            flunitrazepam, halazepam, haloxazolam, ketazolam, loflazepate|ethyl loflazepate, medazepam, mexazolam, \
            nordazepam|nordiazepam, oxazolam, phenazepam, pinazepam, prazepam, quazepam, tetrazepam, captodiame, \
            sodium oxybate|oxybate de sodium",
    },
    Group {
        classes: &[Sedative, OtherPressureLowering],
        names: "promethazine",
    },
    Group {
        classes: &[Sedative, OtherRateSlowing],
        names: "dexmedetomidine",
    },
    Group {
        classes: &[Opioid],
        names: "\
            buprenorphine, codeine, dihydrocodeine, fentanyl, hydrocodone, hydromorphone, meptazinol, methadone, \
            morphine, oxycodone, pethidine, tapentadol, tilidine, tramadol, naloxone, alfentanil, ethylmorphine, \
            nalbuphine, nalmefene, noscapine, pholcodine, remifentanil, sufentanil",
    },
    Group {
        classes: &[NervePainOrEpilepsy],
        names: "\
            gabapentin, pregabalin, brivaracetam, carbamazepine, eslicarbazepine, ethosuximide, lacosamide, \
            lamotrigine, levetiracetam, oxcarbazepine, perampanel, phenobarbital|phenobarbitone, phenytoin, \
            primidone, topiramate, felbamate, fosphenytoin, retigabine, tiagabine, valpromide, \
            valproic acid|acide valproique|valproate|sodium valproate|valproate semisodium|divalproex, \
            zonisamide",
    },
    Group {
        classes: &[ParkinsonMedicine],
        names: "\
            levodopa, benserazide, carbidopa, entacapone, opicapone, pramipexole, rasagiline, ropinirole, rotigotine, \
            safinamide, selegiline, amantadine, apomorphine, bromocriptine, cabergoline, piribedil, \
            trihexyphenidyl|benzhexol, biperiden, procyclidine, budipine, lisuride, quinagolide, tolcapone",
    },
    Group {
        classes: &[CholinesteraseInhibitor],
        names: "\
            donepezil, galantamine, rivastigmine, pyridostigmine, neostigmine, ambenonium, distigmine, ganstigmine, \
            physostigmine",
    },
    Group {
        classes: &[MuscleRelaxant],
        names: "\
            methocarbamol, dantrolene, tolperisone, cyclobenzaprine, orphenadrine",
    },
    Group {
        classes: &[MuscleRelaxant, OtherPressureLowering],
        names: "baclofen, tizanidine",
    },
    Group {
        classes: &[AntiInflammatory],
        names: "\
            aceclofenac, celecoxib, dexibuprofen, dexketoprofen, diclofenac, etodolac, etoricoxib, flurbiprofen, \
            ibuprofen, indometacin|indomethacin, ketoprofen, ketorolac, mefenamic acid|acide mefenamique, meloxicam, nabumetone, \
            naproxen, nimesulide, piroxicam, tenoxicam, alminoprofen, fenoprofen, lornoxicam, loxoprofen, lumiracoxib, \
            morniflumate, niflumic acid|acide niflumique, parecoxib, rofecoxib, sulindac, \
            tiaprofenic acid|acide tiaprofenique, valdecoxib",
    },
    Group {
        classes: &[Triptan],
        names: "\
            almotriptan, eletriptan, frovatriptan, naratriptan, rizatriptan, sumatriptan, zolmitriptan, ergotamine",
    },
    Group {
        classes: &[Stimulant],
        names: "\
            methylphenidate|dexmethylphenidate, dexamfetamine|dexamphetamine, lisdexamfetamine, atomoxetine, \
            modafinil, pseudoephedrine, phenylephrine, phentermine, caffeine, xylometazoline, oxymetazoline, naphazoline, \
            synephrine, tetryzoline, tuaminoheptane",
    },
    Group {
        classes: &[BladderOrBowelRelaxant],
        names: "\
            darifenacin, fesoterodine, oxybutynin, propiverine, solifenacin, tolterodine, trospium, \
            hyoscine butylbromide|butylscopolamine|hyoscine, mebeverine, alverine, dicycloverine|dicyclomine",
    },
    Group {
        classes: &[Antihistamine],
        names: "\
            acrivastine, bilastine, cetirizine, desloratadine, ebastine, fexofenadine, levocetirizine, loratadine, \
            mizolastine, betahistine",
    },
    // The older ones make drowsy.
    Group {
        classes: &[Antihistamine, Sedative],
        names: "\
            chlorphenamine|chlorpheniramine, clemastine, cyclizine, diphenhydramine, dimenhydrinate, hydroxyzine, \
            rupatadine, doxylamine, cinnarizine, azelastine, fenspiride, brompheniramine, cyproheptadine, \
            dexchlorpheniramine|dexchlorphenamine, flunarizine, isothipendyl, ketotifen, meclozine|meclizine, \
            mepyramine, mequitazine, oxetorone, pheniramine, phenyltoloxamine, pimethixene, pizotifen, triprolidine",
    },
    Group {
        classes: &[Supplement],
        names: "\
            calcium|calcium carbonate, colecalciferol|cholecalciferol|vitamin d|vitamin d3, \
            ergocalciferol|vitamin d2, alfacalcidol, calcitriol, cyanocobalamin|hydroxocobalamin|vitamin b12, \
            folic acid, \
            ferrous sulfate|ferrous fumarate|ferrous gluconate|iron|ferric maltol|ferric carboxymaltose|ferric derisomaltose, \
            magnesium|magnesium aspartate|magnesium oxide|magnesium glycerophosphate, \
            potassium|potassium chloride|potassium citrate, thiamine|vitamin b1, pyridoxine|vitamin b6, \
            ascorbic acid|vitamin c, multivitamin|multivitamins, zinc, biotin, ubidecarenone|coenzyme q10, \
            vitamin b complex|vitamin b compound, vitamin k|phytomenadione, iodine|potassium iodide, glucosamine, \
            sodium bicarbonate, selenium",
    },
    Group {
        classes: &[EyeMedicine],
        names: "\
            latanoprost, bimatoprost, tafluprost, travoprost, brimonidine, apraclonidine, brinzolamide, dorzolamide, \
            acetazolamide, hypromellose, carbomer, hyaluronic acid|sodium hyaluronate, netarsudil, \
            carmellose, aflibercept, ranibizumab",
    },
    Group {
        classes: &[EyeMedicine, OtherRateSlowing],
        names: "pilocarpine",
    },
    // Given for the nerves, the immune system, hormones, malaria or cancer; each can slow the heart.
    Group {
        classes: &[OtherRateSlowing],
        names: "\
            fingolimod, siponimod, ponesimod, ozanimod, etrasimod, crizotinib, pasireotide, octreotide, lanreotide, \
            mefloquine, fampridine",
    },
    Group {
        classes: &[Sedative, OtherRateSlowing],
        names: "thalidomide",
    },
    Group {
        classes: &[Other, Sedative],
        names: "nefopam, dextromethorphan, metoclopramide, tetrabenazine, ziconotide",
    },
    Group {
        classes: &[Other],
        names: "\
            paracetamol|acetaminophen, metamizole|dipyrone|metamizol, capsaicin, menthol, benzydamine, \
            cannabidiol, lidocaine|lignocaine, omeprazole, esomeprazole, lansoprazole, dexlansoprazole, pantoprazole, \
            rabeprazole, famotidine, ranitidine, cimetidine, nizatidine, sucralfate, \
            alginate|alginic acid|sodium alginate, simeticone|simethicone, aluminium hydroxide, magnesium hydroxide, \
            misoprostol, bisacodyl, docusate|docusate sodium, ispaghula|ispaghula husk|psyllium, lactulose, \
            macrogol|macrogol 3350|polyethylene glycol, senna|sennosides, sodium picosulfate, prucalopride, \
            loperamide, paraffin|white soft paraffin|liquid paraffin, urea, salicylic acid, calcipotriol, \
            chlorhexidine, peppermint oil, sodium chloride, oxygen, racecadotril, dantron|danthron, poloxamer, \
            glycerol, domperidone, ondansetron, granisetron, aprepitant, allopurinol, febuxostat, \
            colchicine, probenecid, alendronic acid|alendronate, ibandronic acid|ibandronate, \
            risedronic acid|risedronate|risedronate sodium, zoledronic acid|zoledronate, denosumab, raloxifene, \
            teriparatide, romosozumab, finasteride, dutasteride, anastrozole, letrozole, exemestane, tamoxifen, \
            fulvestrant, bicalutamide, enzalutamide, abiraterone, goserelin, leuprorelin|leuprolide, triptorelin, \
            degarelix, estradiol|oestradiol, estriol|oestriol, conjugated estrogens|conjugated oestrogens, \
            progesterone, medroxyprogesterone, norethisterone, levonorgestrel, desogestrel, drospirenone, \
            ethinylestradiol|ethinyloestradiol, tibolone, testosterone, dydrogesterone, methotrexate, azathioprine, \
            mercaptopurine, ciclosporin|cyclosporin|cyclosporine, tacrolimus, sirolimus, everolimus, \
            mycophenolic acid|mycophenolate|mycophenolate mofetil, hydroxychloroquine, leflunomide, \
            sulfasalazine|sulphasalazine, mesalazine|mesalamine, adalimumab, etanercept, infliximab, rituximab, \
            tocilizumab, secukinumab, ustekinumab, vedolizumab, baricitinib, tofacitinib, upadacitinib, dupilumab, \
            omalizumab, benralizumab, mepolizumab, amoxicillin, clavulanic acid, ampicillin, flucloxacillin, \
            phenoxymethylpenicillin|penicillin v, benzylpenicillin, cefalexin|cephalexin, cefuroxime, ceftriaxone, \
            doxycycline, lymecycline, clarithromycin, erythromycin, azithromycin, ciprofloxacin, levofloxacin, \
            moxifloxacin, trimethoprim, sulfamethoxazole, nitrofurantoin, fosfomycin, metronidazole, clindamycin, \
            linezolid, rifampicin|rifampin, isoniazid, vancomycin, gentamicin, methenamine, aciclovir|acyclovir, \
            chloramphenicol, fusidic acid, mupirocin, ketoconazole, miconazole, valaciclovir|valacyclovir, \
            oseltamivir, fluconazole, itraconazole, terbinafine, clotrimazole, nystatin, memantine, montelukast, \
            acetylcysteine, carbocisteine, roflumilast, guaifenesin, nintedanib, pirfenidone, \
            sodium cromoglicate, varenicline, nicotine, cytisinicline|cytisine, disulfiram, acamprosate, naltrexone, \
            orlistat, epoetin|erythropoietin|epoetin alfa, darbepoetin alfa|darbepoetin, sevelamer, patiromer, \
            sodium zirconium cyclosilicate, lanthanum, cinacalcet, tolvaptan, desmopressin, tafamidis, acoramidis, \
            patisiran, vutrisiran, mavacamten, aficamten, somatropin, glucagon, dobutamine, \
            milrinone, adrenaline|epinephrine, noradrenaline|norepinephrine, quinine, riluzole, interferon beta, \
            glatiramer, ocrelizumab, natalizumab, dimethyl fumarate, botulinum toxin, erenumab, \
            fremanezumab, galcanezumab, rimegepant, imatinib, ibrutinib, trastuzumab, pembrolizumab, nivolumab, \
            bevacizumab, capecitabine, fluorouracil|5 fluorouracil, docetaxel, paclitaxel, doxorubicin, epirubicin, \
            carboplatin, cisplatin, cyclophosphamide, lenalidomide, hydroxycarbamide|hydroxyurea, tranexamic acid",
    },
];

/// Fixed combinations that have a name of their own, with their substances.
pub(super) const COMBINATIONS: &[(&str, &[&str])] = &[
    ("co amilofruse", &["amiloride", "furosemide"]),
    ("co amilozide", &["amiloride", "hydrochlorothiazide"]),
    ("co beneldopa", &["levodopa", "benserazide"]),
    ("co careldopa", &["levodopa", "carbidopa"]),
    ("co codamol", &["codeine", "paracetamol"]),
    ("co codaprin", &["codeine", "acetylsalicylic acid"]),
    ("co dydramol", &["dihydrocodeine", "paracetamol"]),
    ("co flumactone", &["hydroflumethiazide", "spironolactone"]),
    ("co prenozide", &["oxprenolol", "cyclopenthiazide"]),
    ("co tenidone", &["atenolol", "chlortalidone"]),
    ("co triamterzide", &["triamterene", "hydrochlorothiazide"]),
    ("co zidocapt", &["captopril", "hydrochlorothiazide"]),
    ("co amoxiclav", &["amoxicillin", "clavulanic acid"]),
    ("co trimoxazole", &["trimethoprim", "sulfamethoxazole"]),
    ("co danthramer", &["dantron", "poloxamer"]),
];
