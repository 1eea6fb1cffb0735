//! Blanks out parts of Rust source so that a rule sees only what it is about; every byte stays where it was.

use std::ops::Range;

/// Replaces comments and text and character literals by spaces.
pub(super) fn without_comments_and_text(source: &str) -> String {
    let bytes = source.as_bytes();
    let mut kept = bytes.to_vec();
    let mut at = 0;
    while at < bytes.len() {
        let Some(length) = blank_length(bytes, at) else {
            at += 1;
            continue;
        };
        for byte in kept[at..at + length]
            .iter_mut()
            .filter(|byte| **byte != b'\n')
        {
            *byte = b' ';
        }
        at += length;
    }
    String::from_utf8(kept).expect("only whole literals and comments are replaced, by spaces")
}

/// The length of the comment or literal that begins here, if one does.
fn blank_length(bytes: &[u8], at: usize) -> Option<usize> {
    let rest = &bytes[at..];
    if rest.starts_with(b"//") {
        Some(line_length(rest))
    } else if rest.starts_with(b"/*") {
        Some(block_comment_length(rest))
    } else if rest[0] == b'"' {
        Some(text_length(rest))
    } else {
        raw_text_length(rest)
            .filter(|_| !follows_a_name(bytes, at))
            .or_else(|| character_length(rest))
    }
}

fn follows_a_name(bytes: &[u8], at: usize) -> bool {
    at > 0 && (bytes[at - 1].is_ascii_alphanumeric() || bytes[at - 1] == b'_')
}

fn line_length(rest: &[u8]) -> usize {
    rest.iter()
        .position(|byte| *byte == b'\n')
        .unwrap_or(rest.len())
}

fn block_comment_length(rest: &[u8]) -> usize {
    let mut depth = 0_usize;
    let mut at = 0;
    while at < rest.len() {
        if rest[at..].starts_with(b"/*") {
            depth += 1;
            at += 2;
        } else if rest[at..].starts_with(b"*/") {
            depth -= 1;
            at += 2;
            if depth == 0 {
                return at;
            }
        } else {
            at += 1;
        }
    }
    rest.len()
}

/// The length of `r"..."`, `r#"..."#`, `br"..."` and their like.
fn raw_text_length(rest: &[u8]) -> Option<usize> {
    let prefix = if rest.starts_with(b"br") {
        2
    } else {
        usize::from(rest.starts_with(b"r"))
    };
    if prefix == 0 {
        return None;
    }
    let hashes = rest[prefix..]
        .iter()
        .take_while(|byte| **byte == b'#')
        .count();
    if rest.get(prefix + hashes) != Some(&b'"') {
        return None;
    }
    let open = prefix + hashes + 1;
    let mut end = vec![b'"'];
    end.extend(std::iter::repeat_n(b'#', hashes));
    let inside = rest[open..]
        .windows(end.len())
        .position(|window| window == end);
    Some(inside.map_or(rest.len(), |inside| open + inside + end.len()))
}

fn text_length(rest: &[u8]) -> usize {
    let mut at = 1;
    while at < rest.len() {
        match rest[at] {
            b'\\' => at += 2,
            b'"' => return at + 1,
            _ => at += 1,
        }
    }
    rest.len()
}

/// The length of a character literal; a lifetime such as `'a` has no closing mark after one character.
fn character_length(rest: &[u8]) -> Option<usize> {
    if rest[0] != b'\'' {
        return None;
    }
    if rest.get(1) == Some(&b'\\') {
        let closing = rest.iter().skip(3).position(|byte| *byte == b'\'')?;
        return Some(closing + 4);
    }
    let text = std::str::from_utf8(&rest[1..rest.len().min(6)])
        .or_else(|error| std::str::from_utf8(&rest[1..1 + error.valid_up_to()]))
        .ok()?;
    let width = text.chars().next()?.len_utf8();
    (rest.get(1 + width) == Some(&b'\'')).then_some(width + 2)
}

/// Replaces every item marked `#[cfg(test)]` by spaces; expects code without comments and text.
pub(super) fn without_tests(code: &str) -> String {
    let mut kept = code.as_bytes().to_vec();
    for range in test_items(code) {
        for byte in kept[range].iter_mut().filter(|byte| **byte != b'\n') {
            *byte = b' ';
        }
    }
    String::from_utf8(kept).expect("only whole items are replaced, by spaces")
}

/// Where the items marked `#[cfg(test)]` stand.
fn test_items(code: &str) -> Vec<Range<usize>> {
    const MARK: &str = "#[cfg(test)]";
    let mut items = Vec::new();
    let mut from = 0;
    while let Some(found) = code[from..].find(MARK) {
        let start = from + found;
        from = item_end(code, start + MARK.len());
        items.push(start..from);
    }
    items
}

/// The text literals outside comments and test items, each with the byte where it begins.
pub(super) fn text_literals(source: &str) -> Vec<(usize, &str)> {
    let bytes = source.as_bytes();
    let tests = test_items(&without_comments_and_text(source));
    let mut literals = Vec::new();
    let mut at = 0;
    while at < bytes.len() {
        let Some(length) = blank_length(bytes, at) else {
            at += 1;
            continue;
        };
        let in_test = tests.iter().any(|item| item.contains(&at));
        if let Some(literal) = source[at..at + length]
            .strip_prefix('"')
            .and_then(|rest| rest.strip_suffix('"'))
            .filter(|_| !in_test)
        {
            literals.push((at, literal));
        }
        at += length;
    }
    literals
}

/// Where the item that begins here ends: at its `;`, or behind the brace that closes its body.
fn item_end(code: &str, start: usize) -> usize {
    let mut depth = 0_usize;
    for (offset, character) in code[start..].char_indices() {
        match character {
            '{' => depth += 1,
            '}' => {
                depth = depth.saturating_sub(1);
                if depth == 0 {
                    return start + offset + 1;
                }
            }
            ';' if depth == 0 => return start + offset + 1,
            _ => {}
        }
    }
    code.len()
}

/// The names and numbers of a line of code, in order.
pub(super) fn names(line: &str) -> impl Iterator<Item = &str> {
    line.split(|character: char| !(character.is_alphanumeric() || character == '_'))
        .filter(|name| !name.is_empty())
}

/// The line, counted from one, on which this byte stands.
pub(super) fn line_of(text: &str, at: usize) -> usize {
    text.as_bytes()[..at]
        .iter()
        .filter(|byte| **byte == b'\n')
        .count()
        + 1
}

#[cfg(test)]
mod tests {
    use super::{names, text_literals, without_comments_and_text, without_tests};

    #[test]
    fn comments_and_text_become_spaces_and_lines_stay() {
        let source = "let a = \"x // y\"; // note\n/* one /* two */\n */ let b = 'c';\n";
        let code = without_comments_and_text(source);
        assert_eq!(code.lines().count(), source.lines().count());
        assert_eq!(names(&code).collect::<Vec<_>>(), ["let", "a", "let", "b"]);
    }

    #[test]
    fn raw_text_escapes_and_lifetimes_are_told_apart() {
        let source = r##"fn f<'a>(x: &'a str) { g(r#"a "quoted" word"#, "b \" c", '\'', 'é', '"', b"d"); h }"##;
        let code = without_comments_and_text(source);
        let left: Vec<_> = names(&code).collect();
        assert_eq!(left, ["fn", "f", "a", "x", "a", "str", "g", "b", "h"]);
    }

    #[test]
    fn test_modules_and_test_uses_go_and_the_rest_stays() {
        let code = "fn a() {}\n#[cfg(test)]\nuse x;\n#[cfg(test)]\nmod tests {\n fn b() { {} }\n}\nfn c() {}\n";
        let left = without_tests(code);
        assert_eq!(left.lines().count(), code.lines().count());
        assert_eq!(names(&left).collect::<Vec<_>>(), ["fn", "a", "fn", "c"]);
    }
    #[test]
    fn literals_of_comments_and_tests_are_left_out() {
        let source = "f(\"a.b\"); // \"c\"\n#[cfg(test)]\nmod tests { const D: &str = \"d\"; }\n";
        assert_eq!(text_literals(source), [(2, "a.b")]);
    }
}
