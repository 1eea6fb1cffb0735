//! TOML into the tree, with a line for every value.

use super::{Content, Entry, MOST_DEPTH, Node, Slip, Table};
use jiff::civil::Date;
use toml::de::{DeInteger, DeTable, DeValue};

/// Most slips of one file that are told; a damaged file has thousands.
const MOST_SLIPS: usize = 20;

pub(super) fn parse(text: &str, most: usize) -> Result<Node, Vec<Slip>> {
    let lines = Lines::of(text);
    let (table, errors) = DeTable::parse_recoverable(text);
    if !errors.is_empty() {
        return Err(slips(&errors, &lines, text));
    }
    let mut build = Build {
        lines,
        values: 0,
        most,
    };
    let span = table.span();
    let content = build
        .table(table.get_ref(), 0)
        .map_err(|message| vec![Slip { line: 1, message }])?;
    Ok(Node {
        content,
        line: Some(build.lines.at(span.start)),
    })
}

fn slips(errors: &[toml::de::Error], lines: &Lines, text: &str) -> Vec<Slip> {
    let mut out: Vec<Slip> = Vec::new();
    for error in errors {
        let at = error.span().map_or(text.len(), |span| span.start);
        let line = lines.at(at);
        // One line gives one message: what follows on it is only the echo of the first slip.
        if out.last().is_some_and(|last| last.line == line) {
            continue;
        }
        out.push(Slip {
            line,
            message: format!("this is not TOML: {}; correct the line", error.message()),
        });
        if out.len() == MOST_SLIPS {
            break;
        }
    }
    out
}

/// Where each line begins.
struct Lines(Vec<usize>);

impl Lines {
    fn of(text: &str) -> Self {
        let ends = text.bytes().enumerate().filter(|(_, byte)| *byte == b'\n');
        Self(
            core::iter::once(0)
                .chain(ends.map(|(at, _)| at + 1))
                .collect(),
        )
    }

    fn at(&self, byte: usize) -> usize {
        self.0.partition_point(|start| *start <= byte).max(1)
    }
}

struct Build {
    lines: Lines,
    values: usize,
    most: usize,
}

impl Build {
    fn table(&mut self, table: &DeTable<'_>, depth: usize) -> Result<Content, String> {
        let mut out = Table::default();
        for (key, value) in table {
            let line = self.lines.at(key.span().start);
            let at = value.span().start;
            let mut node = self.node(value.get_ref(), at, depth + 1)?;
            // A table made by a header stands on the line of the header, not where its span happens to begin.
            if node.line.is_some_and(|own| own < line) {
                node.line = Some(line);
            }
            out.entries.push(Entry {
                key: key.get_ref().to_string(),
                line: Some(line),
                node,
            });
        }
        out.entries.sort_by_key(|entry| entry.line);
        Ok(Content::Table(out))
    }

    fn node(&mut self, value: &DeValue<'_>, at: usize, depth: usize) -> Result<Node, String> {
        self.values += 1;
        if self.values > self.most {
            return Err("the file holds more values than any file of this program".to_owned());
        }
        if depth > MOST_DEPTH {
            return Err("the file is nested deeper than any file of this program".to_owned());
        }
        let content = match value {
            DeValue::String(text) => Content::Text(text.to_string()),
            DeValue::Integer(number) => whole(number),
            DeValue::Float(number) => {
                Content::Number(number.as_str().parse().unwrap_or(f64::INFINITY))
            }
            DeValue::Boolean(flag) => Content::Flag(*flag),
            DeValue::Datetime(datetime) => {
                // A day stays a day; an instant becomes text, which whoever wants a day refuses by its form.
                let plain = datetime.time.is_none() && datetime.offset.is_none();
                let date = datetime.date.filter(|_| plain);
                date.and_then(|date| day(date.year, date.month, date.day))
                    .map_or_else(|| Content::Text(datetime.to_string()), Content::Date)
            }
            DeValue::Array(list) => {
                let mut out = Vec::new();
                for item in list.iter() {
                    out.push(self.node(item.get_ref(), item.span().start, depth + 1)?);
                }
                Content::List(out)
            }
            DeValue::Table(table) => self.table(table, depth)?,
        };
        Ok(Node {
            content,
            line: Some(self.lines.at(at)),
        })
    }
}

fn whole(number: &DeInteger<'_>) -> Content {
    match i64::from_str_radix(number.as_str(), number.radix()) {
        Ok(number) => Content::Whole(number),
        Err(_) => Content::Number(f64::INFINITY),
    }
}

fn day(year: u16, month: u8, day: u8) -> Option<Date> {
    let year = i16::try_from(year).ok()?;
    let month = i8::try_from(month).ok()?;
    Date::new(year, month, i8::try_from(day).ok()?).ok()
}
