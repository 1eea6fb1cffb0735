//! Labels of the form in place of keys of the file.

use super::ask::Form;

/// A message with the labels of the form where it names keys of the file: nobody sees those keys on the page.
pub(super) fn with_labels(form: &Form, name: &str, message: &str) -> String {
    let mut told = String::new();
    let is_of_key = |sign: char| sign.is_ascii_alphanumeric() || sign == '_';
    let mut rest = message;
    while !rest.is_empty() {
        let end = rest.find(|sign| !is_of_key(sign)).unwrap_or(rest.len());
        let (word, after) = rest.split_at(end);
        let is_quoted = told.ends_with('\'') && after.starts_with('\'');
        match label_of(form, name, word).filter(|_| is_quoted || word.contains('_')) {
            Some(label) => told.push_str(label),
            None => told.push_str(word),
        }
        let next = after.find(is_of_key).unwrap_or(after.len());
        told.push_str(&after[..next]);
        rest = &after[next..];
    }
    told
}

/// The label of the field with this last key, the nearest to the one at which the message stands.
fn label_of<'f>(form: &'f Form, name: &str, key: &str) -> Option<&'f str> {
    let last = |path: &str| path.rsplit('.').next() == Some(key);
    let shared = |path: &str| {
        let same = path.chars().zip(name.chars()).take_while(|(a, b)| a == b);
        same.count()
    };
    let named = form.asks().filter(|ask| last(&ask.path));
    named
        .max_by_key(|ask| shared(&ask.path))
        .map(|ask| ask.label.as_str())
}
