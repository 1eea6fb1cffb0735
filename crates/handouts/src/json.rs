//! Writing JSON text: enough for the page's own data, nothing more.

use core::fmt::Write;

/// A JSON value being written.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Json {
    Null,
    Flag(bool),
    Number(f64),
    Text(String),
    List(Vec<Json>),
    Object(Vec<(&'static str, Json)>),
    /// An object whose keys are data.
    Map(Vec<(String, Json)>),
}

impl Json {
    pub(crate) fn text(text: impl Into<String>) -> Self {
        Self::Text(text.into())
    }

    pub(crate) fn texts(list: &[String]) -> Self {
        Self::List(list.iter().map(Self::text).collect())
    }

    /// The text, or null.
    pub(crate) fn maybe(text: Option<impl Into<String>>) -> Self {
        text.map_or(Self::Null, Self::text)
    }

    /// Written so that it can stand inside a script element: `<` is escaped, so nothing can close it.
    pub(crate) fn write(&self) -> String {
        let mut out = String::new();
        self.put(&mut out);
        out
    }

    fn put(&self, out: &mut String) {
        match self {
            Self::Null => out.push_str("null"),
            Self::Flag(flag) => out.push_str(if *flag { "true" } else { "false" }),
            Self::Number(value) if value.is_finite() => {
                let _ = write!(out, "{value}");
            }
            Self::Number(_) => out.push_str("null"),
            Self::Text(text) => put_text(text, out),
            Self::List(list) => {
                out.push('[');
                for (i, one) in list.iter().enumerate() {
                    if i > 0 {
                        out.push(',');
                    }
                    one.put(out);
                }
                out.push(']');
            }
            Self::Object(pairs) => put_pairs(pairs.iter().map(|(key, value)| (*key, value)), out),
            Self::Map(pairs) => {
                put_pairs(pairs.iter().map(|(key, value)| (key.as_str(), value)), out)
            }
        }
    }
}

fn put_pairs<'a>(pairs: impl Iterator<Item = (&'a str, &'a Json)>, out: &mut String) {
    out.push('{');
    for (i, (key, value)) in pairs.enumerate() {
        if i > 0 {
            out.push(',');
        }
        put_text(key, out);
        out.push(':');
        value.put(out);
    }
    out.push('}');
}

fn put_text(text: &str, out: &mut String) {
    out.push('"');
    for sign in text.chars() {
        match sign {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            '<' | '\u{2028}' | '\u{2029}' | '\u{0}'..='\u{1f}' => {
                let _ = write!(out, "\\u{:04x}", u32::from(sign));
            }
            other => out.push(other),
        }
    }
    out.push('"');
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_in_a_text_can_close_the_script_it_stands_in() {
        let text = Json::text("</script>\"\\\n").write();
        assert_eq!(text, "\"\\u003c/script>\\\"\\\\\\u000a\"");
    }

    #[test]
    fn numbers_are_written_plainly() {
        assert_eq!(Json::Number(12.5).write(), "12.5");
        assert_eq!(Json::Number(300.0).write(), "300");
        assert_eq!(Json::Number(f64::NAN).write(), "null");
    }
}
