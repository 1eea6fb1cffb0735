//! The nearest known word to one that is not known.

/// The known word nearest to the one given, when it is near enough to be what was meant.
pub fn nearest<'k>(given: &str, known: impl IntoIterator<Item = &'k str>) -> Option<&'k str> {
    let plain = plain(given);
    if plain.is_empty() {
        return None;
    }
    let mut best: Option<(usize, &str)> = None;
    for word in known {
        let distance = closeness(&plain, &self::plain(word));
        if best.is_none_or(|(least, _)| distance < least) {
            best = Some((distance, word));
        }
    }
    let (distance, word) = best?;
    let longer = plain.chars().count().max(word.chars().count());
    // A third of the letters may differ: more is another word.
    (distance * 3 <= longer).then_some(word)
}

/// Small letters without signs between words, so that `Weight-KG` is `weightkg`.
fn plain(word: &str) -> String {
    word.chars()
        .filter(|sign| sign.is_alphanumeric())
        .take(64)
        .flat_map(char::to_lowercase)
        .collect()
}

/// Edit distance; a key without its unit (`height` for `height_cm`) counts as one edit away.
fn closeness(given: &str, word: &str) -> usize {
    if given.len() >= 3 && (word.starts_with(given) || given.starts_with(word)) {
        return edits(given, word).min(1);
    }
    edits(given, word)
}

/// Insertions, deletions, replacements and swaps of neighbours between two words.
fn edits(one: &str, other: &str) -> usize {
    let one: Vec<char> = one.chars().collect();
    let other: Vec<char> = other.chars().collect();
    let mut rows: Vec<Vec<usize>> = vec![(0..=other.len()).collect()];
    for i in 1..=one.len() {
        let mut row = vec![i];
        for j in 1..=other.len() {
            let same = usize::from(one[i - 1] != other[j - 1]);
            let mut least = (rows[i - 1][j] + 1)
                .min(row[j - 1] + 1)
                .min(rows[i - 1][j - 1] + same);
            if i > 1 && j > 1 && one[i - 1] == other[j - 2] && one[i - 2] == other[j - 1] {
                least = least.min(rows[i - 2][j - 2] + 1);
            }
            row.push(least);
        }
        rows.push(row);
    }
    rows[one.len()][other.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slips_of_the_hand_find_the_word() {
        let known = ["height_cm", "weight_kg", "born", "language", "sex"];
        assert_eq!(nearest("heigth_cm", known), Some("height_cm"));
        assert_eq!(nearest("weightKg", known), Some("weight_kg"));
        assert_eq!(nearest("height", known), Some("height_cm"));
        assert_eq!(nearest("langage", known), Some("language"));
        assert_eq!(nearest("telephone", known), None);
        assert_eq!(nearest("", known), None);
    }
}
