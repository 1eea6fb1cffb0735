//! How hard a text is to read: the Flesch-Kincaid grade.

/// What was counted in a text.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Counts {
    /// Words.
    pub(crate) words: f64,
    /// Sentences; a line without a full stop is one too.
    pub(crate) sentences: f64,
    /// Syllables.
    pub(crate) syllables: f64,
}

impl Counts {
    /// Counts of several texts together.
    pub(crate) fn add(self, other: Self) -> Self {
        Self {
            words: self.words + other.words,
            sentences: self.sentences + other.sentences,
            syllables: self.syllables + other.syllables,
        }
    }
}

/// School grade of a text, 0.39 words/sentences + 11.8 syllables/words - 15.59.
///
/// Source: Kincaid JP et al. 1975, Research Branch Report 8-75, Naval Technical Training Command.
pub(crate) fn grade(counts: Counts) -> f64 {
    0.39 * counts.words / counts.sentences + 11.8 * counts.syllables / counts.words - 15.59
}

/// Counts a text; a placeholder counts as one word of two syllables.
pub(crate) fn count(text: &str) -> Counts {
    let mut counts = Counts::default();
    for sentence in text.split_inclusive(['.', '?', ':', ';']) {
        let words = words_of(sentence);
        if words.is_empty() {
            continue;
        }
        counts.sentences += 1.0;
        for word in words {
            counts.words += 1.0;
            counts.syllables += syllables(&word);
        }
    }
    counts
}

/// Words of a sentence in small letters.
pub(crate) fn words_of(sentence: &str) -> Vec<String> {
    sentence
        .split(|sign: char| sign.is_whitespace() || sign == '-' || sign == '/')
        .map(|word| {
            word.trim_matches(|sign: char| !sign.is_alphanumeric() && sign != '{' && sign != '}')
        })
        .filter(|word| !word.is_empty())
        .map(str::to_lowercase)
        .collect()
}

/// Syllables of a word, by its vowels; figures and placeholders count two.
pub(crate) fn syllables(word: &str) -> f64 {
    if word.starts_with('{') || word.chars().all(|sign| sign.is_ascii_digit()) {
        return 2.0;
    }
    let letters: Vec<char> = word.chars().filter(|sign| sign.is_alphabetic()).collect();
    let vowel = |sign: &char| "aeiouy".contains(*sign);
    let mut count = 0_i32;
    for (index, letter) in letters.iter().enumerate() {
        let before = index.checked_sub(1).and_then(|before| letters.get(before));
        if vowel(letter) && !before.is_some_and(vowel) {
            count += 1;
        }
    }
    let ends = |ending: &str| letters.iter().collect::<String>().ends_with(ending);
    let consonant_before = |back: usize| {
        letters
            .len()
            .checked_sub(back)
            .and_then(|at| letters.get(at))
            .is_some_and(|letter| !vowel(letter))
    };
    // A last e is silent, except after a consonant and l ("table"); so are -es and -ed, except where they sound.
    let sounding = [
        "ted", "ded", "ses", "xes", "zes", "ches", "shes", "ces", "ges",
    ];
    let silent = if ends("le") {
        !consonant_before(3)
    } else if ends("e") {
        consonant_before(2)
    } else {
        (ends("ed") || ends("es"))
            && consonant_before(3)
            && !sounding.iter().any(|ending| ends(ending))
    };
    if silent {
        count -= 1;
    }
    f64::from(count.max(1))
}
