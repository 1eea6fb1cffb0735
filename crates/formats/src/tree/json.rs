//! JSON into the tree, with a line for every value. Own reader, because lines are needed for every message and a
//! key that stands twice must be refused, not silently resolved; it is compared with a general library in tests.

use super::{Content, Entry, MOST_DEPTH, Node, Slip, Table};
use std::collections::BTreeSet;

pub(super) fn parse(text: &str, most: usize) -> Result<Node, Slip> {
    let mut reader = Reader {
        text,
        at: 0,
        line: 1,
        values: 0,
        most,
    };
    let node = reader.value(0)?;
    reader.skip_space();
    if reader.at < text.len() {
        return Err(
            reader.slip("there is more after the end of the value; one file holds one value")
        );
    }
    Ok(node)
}

struct Reader<'t> {
    text: &'t str,
    at: usize,
    line: usize,
    values: usize,
    most: usize,
}

impl Reader<'_> {
    fn slip(&self, message: &str) -> Slip {
        Slip {
            line: self.line,
            message: message.to_owned(),
        }
    }

    fn cut_off(&self) -> Slip {
        self.slip("the file ends in the middle; it was cut off, get it again")
    }

    fn peek(&self) -> Option<u8> {
        self.text.as_bytes().get(self.at).copied()
    }

    fn skip_space(&mut self) {
        while let Some(byte @ (b' ' | b'\t' | b'\r' | b'\n')) = self.peek() {
            self.line += usize::from(byte == b'\n');
            self.at += 1;
        }
    }

    fn value(&mut self, depth: usize) -> Result<Node, Slip> {
        self.skip_space();
        self.values += 1;
        if self.values > self.most {
            return Err(self.slip("the file holds more values than any file of this program"));
        }
        if depth > MOST_DEPTH {
            return Err(self.slip("the file is nested deeper than any file of this program"));
        }
        let line = Some(self.line);
        let content = match self.peek() {
            None => return Err(self.cut_off()),
            Some(b'{') => self.table(depth)?,
            Some(b'[') => self.list(depth)?,
            Some(b'"') => Content::Text(self.string()?),
            Some(b'-' | b'0'..=b'9') => self.number()?,
            Some(_) => self.literal()?,
        };
        Ok(Node { content, line })
    }

    fn table(&mut self, depth: usize) -> Result<Content, Slip> {
        self.at += 1;
        let mut table = Table::default();
        let mut seen = BTreeSet::new();
        self.skip_space();
        if self.peek() == Some(b'}') {
            self.at += 1;
            return Ok(Content::Table(table));
        }
        loop {
            self.skip_space();
            let line = Some(self.line);
            match self.peek() {
                Some(b'"') => {}
                None => return Err(self.cut_off()),
                Some(_) => return Err(self.slip("a key in double quotes is expected here")),
            }
            let key = self.string()?;
            if !seen.insert(key.clone()) {
                return Err(self.slip(&format!("the key '{key}' stands twice; keep one of them")));
            }
            self.skip_space();
            self.expect(b':', "a colon is expected after the key")?;
            let node = self.value(depth + 1)?;
            table.entries.push(Entry { key, line, node });
            if self.ends(b'}')? {
                return Ok(Content::Table(table));
            }
        }
    }

    fn list(&mut self, depth: usize) -> Result<Content, Slip> {
        self.at += 1;
        let mut list = Vec::new();
        self.skip_space();
        if self.peek() == Some(b']') {
            self.at += 1;
            return Ok(Content::List(list));
        }
        loop {
            list.push(self.value(depth + 1)?);
            if self.ends(b']')? {
                return Ok(Content::List(list));
            }
        }
    }

    /// After a value: true at the closing sign, false after a comma.
    fn ends(&mut self, close: u8) -> Result<bool, Slip> {
        self.skip_space();
        match self.peek() {
            None => Err(self.cut_off()),
            Some(byte) if byte == close => {
                self.at += 1;
                Ok(true)
            }
            Some(b',') => {
                self.at += 1;
                Ok(false)
            }
            Some(_) => Err(self.slip(&format!(
                "a comma or '{}' is expected here",
                char::from(close)
            ))),
        }
    }

    fn expect(&mut self, byte: u8, message: &str) -> Result<(), Slip> {
        match self.peek() {
            Some(found) if found == byte => {
                self.at += 1;
                Ok(())
            }
            None => Err(self.cut_off()),
            Some(_) => Err(self.slip(message)),
        }
    }

    fn literal(&mut self) -> Result<Content, Slip> {
        let rest = &self.text[self.at..];
        for (word, content) in [
            ("true", Content::Flag(true)),
            ("false", Content::Flag(false)),
            ("null", Content::Null),
        ] {
            if rest.starts_with(word) {
                self.at += word.len();
                return Ok(content);
            }
            if word.starts_with(rest) {
                return Err(self.cut_off());
            }
        }
        Err(self.slip("this is not a JSON value; text stands in double quotes"))
    }

    fn digits(&mut self) -> usize {
        let start = self.at;
        while matches!(self.peek(), Some(b'0'..=b'9')) {
            self.at += 1;
        }
        self.at - start
    }

    fn number(&mut self) -> Result<Content, Slip> {
        let start = self.at;
        let mut whole = true;
        self.at += usize::from(self.peek() == Some(b'-'));
        let leading_zero = self.peek() == Some(b'0');
        let count = self.digits();
        if count == 0 || (leading_zero && count > 1) {
            return Err(self.slip("this is not a number; write it like 61 or 61.5"));
        }
        if self.peek() == Some(b'.') {
            whole = false;
            self.at += 1;
            if self.digits() == 0 {
                return Err(self.slip("digits are missing after the decimal point"));
            }
        }
        if matches!(self.peek(), Some(b'e' | b'E')) {
            whole = false;
            self.at += 1;
            self.at += usize::from(matches!(self.peek(), Some(b'+' | b'-')));
            if self.digits() == 0 {
                return Err(self.slip("digits are missing in the exponent"));
            }
        }
        let text = &self.text[start..self.at];
        // Minus nought is a number that no whole number holds.
        if whole
            && text != "-0"
            && let Ok(number) = text.parse::<i64>()
        {
            return Ok(Content::Whole(number));
        }
        match text.parse::<f64>() {
            Ok(number) if number.is_finite() => Ok(Content::Number(number)),
            _ => Err(self.slip("the number is too large to be true")),
        }
    }

    fn string(&mut self) -> Result<String, Slip> {
        self.at += 1;
        let mut out = String::new();
        loop {
            let rest = &self.text[self.at..];
            let plain = rest
                .find(|sign: char| sign == '"' || sign == '\\' || sign < ' ')
                .ok_or_else(|| self.cut_off())?;
            out.push_str(&rest[..plain]);
            self.at += plain;
            match self.peek() {
                Some(b'"') => {
                    self.at += 1;
                    return Ok(out);
                }
                Some(b'\\') => {
                    self.at += 1;
                    out.push(self.escape()?);
                }
                _ => {
                    return Err(self.slip(
                        "a text runs over the end of its line; close it with a double quote or write \\n",
                    ));
                }
            }
        }
    }

    fn escape(&mut self) -> Result<char, Slip> {
        let sign = self.peek().ok_or_else(|| self.cut_off())?;
        let plain = match sign {
            b'"' => '"',
            b'\\' => '\\',
            b'/' => '/',
            b'b' => '\u{8}',
            b'f' => '\u{c}',
            b'n' => '\n',
            b'r' => '\r',
            b't' => '\t',
            b'u' => return self.unicode(),
            _ => return Err(self.slip("a backslash stands before a sign that needs none")),
        };
        self.at += 1;
        Ok(plain)
    }

    fn unicode(&mut self) -> Result<char, Slip> {
        let high = self.four_hex()?;
        let code = match high {
            0xD800..=0xDBFF => {
                if !self.text[self.at..].starts_with("\\u") {
                    return Err(self.half_sign());
                }
                self.at += 1;
                let low = self.four_hex()?;
                if !(0xDC00..=0xDFFF).contains(&low) {
                    return Err(self.half_sign());
                }
                0x10000 + ((high - 0xD800) << 10) + (low - 0xDC00)
            }
            code => code,
        };
        char::from_u32(code).ok_or_else(|| self.half_sign())
    }

    fn half_sign(&self) -> Slip {
        self.slip("half of a sign is written with \\u; the file is damaged")
    }

    /// Four hexadecimal digits after the `u` that the reader stands on.
    fn four_hex(&mut self) -> Result<u32, Slip> {
        self.at += 1;
        let digits = self
            .text
            .get(self.at..self.at + 4)
            .filter(|digits| digits.bytes().all(|byte| byte.is_ascii_hexdigit()))
            .ok_or_else(|| self.slip("four hexadecimal digits are expected after \\u"))?;
        self.at += 4;
        u32::from_str_radix(digits, 16)
            .map_err(|_| self.slip("four hexadecimal digits are expected after \\u"))
    }
}
