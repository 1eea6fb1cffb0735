//! Paragraphs in eighty columns.

const COLUMNS: usize = 80;

/// A paragraph, every line indented alike.
pub(crate) fn wrapped(text: &str, indent: usize) -> String {
    hanging(text, indent, indent)
}

/// A paragraph whose first line is indented differently from the rest. Words are never cut.
pub(crate) fn hanging(text: &str, first: usize, rest: usize) -> String {
    let mut out = String::new();
    let mut line = " ".repeat(first);
    let mut empty = true;
    for word in text.split_whitespace() {
        let width = line.chars().count() + word.chars().count() + usize::from(!empty);
        if !empty && width > COLUMNS {
            out.push_str(&line);
            out.push('\n');
            line = " ".repeat(rest);
            empty = true;
        }
        if !empty {
            line.push(' ');
        }
        line.push_str(word);
        empty = false;
    }
    out.push_str(&line);
    out.push('\n');
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_stay_within_eighty_columns_and_lose_no_word() {
        let text = "the pulse ceiling is the least of what is known ".repeat(12);
        let laid = hanging(&text, 2, 6);
        assert!(laid.lines().all(|line| line.chars().count() <= COLUMNS));
        assert!(laid.starts_with("  the"));
        assert!(laid.lines().skip(1).all(|line| line.starts_with("      ")));
        let words: Vec<&str> = laid.split_whitespace().collect();
        assert_eq!(words, text.split_whitespace().collect::<Vec<_>>());
    }
}
