//! Where the problems of one file are collected.

use crate::{Problem, Problems};
use jiff::civil::Date;

/// Collects the problems of one file.
#[derive(Debug)]
pub struct Sink {
    file: String,
    /// The day the work is for: nothing that has been lies after it.
    pub on: Option<Date>,
    /// The day of birth: nothing of the course lies before it.
    pub born: Option<Date>,
    problems: Vec<Problem>,
}

impl Sink {
    /// For one file.
    pub fn new(file: &str) -> Self {
        Self {
            file: file.to_owned(),
            on: None,
            born: None,
            problems: Vec::new(),
        }
    }

    /// Adds a problem.
    pub fn say(&mut self, path: &str, line: Option<usize>, message: impl Into<String>) {
        let problem = Problem::new(&self.file, path, line, &message.into());
        self.problems.push(problem);
    }

    /// Whether nothing was wrong so far.
    pub fn is_clean(&self) -> bool {
        self.problems.is_empty()
    }

    /// The value when nothing was wrong, else every problem in the order of lines.
    ///
    /// # Errors
    /// Every problem that was said; never empty.
    pub fn finish<T>(mut self, value: Option<T>) -> Result<T, Problems> {
        match value {
            Some(value) if self.problems.is_empty() => Ok(value),
            _ => {
                if self.problems.is_empty() {
                    // Reachable only when a reader drops a value without saying why: a bug of ours, still told.
                    self.say(
                        "",
                        None,
                        "the file could not be understood; tell whoever keeps this program",
                    );
                }
                self.problems.sort_by_key(|problem| problem.line);
                Err(Problems(self.problems))
            }
        }
    }
}
