//! Spelling of medicine names: folding of case, accents and endings; words that are not part of the name.

use std::collections::BTreeMap;
use std::sync::LazyLock;

/// One word of a written name.
pub(super) struct Token {
    /// As written, lower case, without accents.
    pub(super) written: String,
    /// Folded, for comparison.
    pub(super) key: String,
    role: Role,
}

/// What a word is when it is not part of a name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Role {
    /// Perhaps a name.
    None,
    /// A salt or ester: it follows the name and changes nothing here.
    Salt,
    /// A dose, form, frequency or joining word.
    Noise,
    /// A form that is swallowed.
    Tablet,
    /// Used on the skin, in the nose, ear or eye.
    LocalUse,
}

impl Token {
    fn new(written: &str) -> Self {
        let short = written.chars().count() == 1;
        let role = if short || written.starts_with(|c: char| c.is_ascii_digit()) {
            Role::Noise
        } else {
            ROLES.get(written).copied().unwrap_or(Role::None)
        };
        Self {
            key: fold(written),
            written: written.to_owned(),
            role,
        }
    }

    /// A salt or ester: it follows the name and changes nothing here.
    pub(super) fn is_salt(&self) -> bool {
        self.role == Role::Salt
    }

    /// Not part of any name.
    pub(super) fn is_noise(&self) -> bool {
        self.role != Role::None
    }

    /// A word that says it is swallowed.
    pub(super) fn is_tablet(&self) -> bool {
        self.role == Role::Tablet
    }

    /// A word that says it is used on the skin, in the nose, ear or eye.
    pub(super) fn is_local_use(&self) -> bool {
        self.role == Role::LocalUse
    }
}

/// Every word that is not part of a name.
static ROLES: LazyLock<BTreeMap<&'static str, Role>> = LazyLock::new(|| {
    let lists = [
        (NOISE, Role::Noise),
        (SALTS, Role::Salt),
        (TABLET, Role::Tablet),
        (LOCAL_USE, Role::LocalUse),
    ];
    let words = lists
        .into_iter()
        .flat_map(|(list, role)| list.split_ascii_whitespace().map(move |word| (word, role)));
    words.collect()
});

const SALTS: &str = "\
    fumarate hemifumarate succinate tartrate bitartrate hydrochloride hcl dihydrochloride hydrobromide maleate besilate \
    besylate mesilate mesylate tosilate tosylate arginine erbumine tert butylamine phosphate sulfate sulphate sulfat \
    sodium disodium potassium calcium magnesium lysine meglumine olamine trometamol acetate citrate lactate nitrate \
    chloride bromide carbonate gluconate oxalate malate hydrate monohydrate dihydrate hemihydrate trihydrate \
    sesquihydrate tetrahydrate anhydrous base cilexetil medoxomil etexilate mofetil axetil proxetil pivoxil propionate \
    dipropionate furoate valerate butyrate enantate decanoate xinafoate bromhydrate hydrogen \
    chlorhydrate chlorhydrat hydrochlorid fumarat succinat tartrat maleat natrium kalium sodique calcique \
    clorhidrato fumarato succinato tartrato maleato sodica calcica potasica acid acide acido saure";

const TABLET: &str = "\
    tablet tablets tab tabs capsule capsules cap caps caplet caplets tablette tabletten filmtablette filmtabletten \
    comprime comprimes comprimido comprimidos compressa compresse oral orally po";

const LOCAL_USE: &str = "\
    eye eyes ear nose nasal cream creme ointment gel lotion shampoo drop drops ophthalmic ocular topical foam \
    augentropfen tropfen collyre gouttes colirio gotas collirio gocce";

const NOISE: &str = "\
    mg mcg ug ng micrograms microgram microg grams gram ml litre iu ie units unit percent per mmol \
    and or with plus und et con avec mit da de del di des du la le el a an in at the of by for to every each as \
    once twice thrice three four times daily day days weekly week monthly month hourly hours hour morning evening night \
    nightly bedtime noon midday mane nocte bd bid od om on tds tid qds qid prn stat needed required before after food meals \
    mr xl sr er cr xr ec gr pr cd modified slow sustained prolonged extended immediate release releasing retard long acting \
    enteric coated film gastro resistant dispersible effervescent chewable orodispersible soluble sublingual buccal \
    spray sprays patch patches transdermal inhaler inhalation nebuliser nebulizer nebules accuhaler turbohaler puff puffs \
    injection injections injectable pen prefilled syringe infusion pump solution suspension syrup liquid powder sachet sachets \
    granules lozenge suppository suppositories depot implant pill pills dose doses low high generic medicine medication \
    left right both alternate only half one two \
    glargine aspart lispro degludec detemir glulisine icodec isophane nph protamine biphasic human soluble mix basal bolus \
    humaine humana biosynthetique hemisynthetique recombinante recombinant origine porcine biphasique cristalline \
    sustained rapid fast short intermediate";

/// The words of a name, folded.
pub(super) fn tokens(text: &str) -> Vec<Token> {
    let plain: String = text.chars().map(unaccent).collect();
    plain
        .split(|c: char| !c.is_ascii_alphanumeric() && !c.is_alphabetic())
        .filter(|word| !word.is_empty())
        .map(Token::new)
        .collect()
}

/// Lower case without accent. What has no plain letter stays itself and will not be recognised.
fn unaccent(c: char) -> char {
    let lower = c.to_lowercase().next().unwrap_or(c);
    match lower {
        'à' | 'á' | 'â' | 'ã' | 'ä' | 'å' | 'ā' | 'ă' | 'ą' => 'a',
        'ç' | 'ć' | 'č' => 'c',
        'ď' | 'đ' => 'd',
        'è' | 'é' | 'ê' | 'ë' | 'ē' | 'ė' | 'ę' | 'ě' => 'e',
        'ğ' => 'g',
        'ì' | 'í' | 'î' | 'ï' | 'ī' | 'į' | 'ı' => 'i',
        'ķ' => 'k',
        'ł' | 'ļ' | 'ĺ' | 'ľ' => 'l',
        'ñ' | 'ń' | 'ň' | 'ņ' => 'n',
        'ò' | 'ó' | 'ô' | 'õ' | 'ö' | 'ø' | 'ő' | 'ō' => 'o',
        'ŕ' | 'ř' => 'r',
        'ś' | 'š' | 'ş' | 'ș' => 's',
        'ť' | 'ţ' | 'ț' => 't',
        'ù' | 'ú' | 'û' | 'ü' | 'ů' | 'ű' | 'ū' | 'ų' | 'µ' | 'μ' => 'u',
        'ý' | 'ÿ' => 'y',
        'ź' | 'ż' | 'ž' => 'z',
        other => other,
    }
}

/// Folds what differs between languages: th, ph, ch, y, ae, oe, doubled letters, and a Latin or Romance ending.
///
/// `furosemide`, `furosemida` and `furosemidum` fold alike; a test holds that no two substances do.
fn fold(word: &str) -> String {
    let mut folded = word.to_owned();
    for (from, to) in [
        ("th", "t"),
        ("ph", "f"),
        ("ch", "c"),
        ("ae", "e"),
        ("oe", "e"),
        ("y", "i"),
    ] {
        folded = folded.replace(from, to);
    }
    let mut single = String::with_capacity(folded.len());
    for c in folded.chars() {
        if !single.ends_with(c) || c.is_ascii_digit() {
            single.push(c);
        }
    }
    if single.chars().count() < 6 {
        return single;
    }
    if let Some(stem) = single.strip_suffix("um") {
        return stem.to_owned();
    }
    single
        .strip_suffix(['a', 'e', 'i', 'o'])
        .unwrap_or(&single)
        .to_owned()
}

/// Letters to change, add or drop to come from one word to the other, when there are no more than `allowed`.
pub(super) fn distance(from: &str, to: &str, allowed: usize) -> Option<usize> {
    let from: Vec<char> = from.chars().collect();
    let to: Vec<char> = to.chars().collect();
    if from.len().abs_diff(to.len()) > allowed {
        return None;
    }
    let mut row: Vec<usize> = (0..=to.len()).collect();
    for (i, a) in from.iter().enumerate() {
        let mut before = row[0];
        row[0] = i + 1;
        for (j, b) in to.iter().enumerate() {
            let replaced = before + usize::from(a != b);
            before = row[j + 1];
            row[j + 1] = replaced.min(before + 1).min(row[j] + 1);
        }
    }
    row.last().copied().filter(|found| *found <= allowed)
}
