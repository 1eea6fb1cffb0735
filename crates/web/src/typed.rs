//! What was typed into a form, as it came: values by name, several of one name kept.

use crate::error::PageError;
use axum::Form;
use axum::extract::{FromRequest, Request};
use axum::response::{IntoResponse, Response};
use std::collections::{BTreeMap, BTreeSet};

/// Names under which several can be ticked; of every other there is one value.
const TICKED: [&str; 7] = ["also", "day", "felt", "heart", "part", "role", "shown"];

/// The first name that came twice though it has one value.
fn twice(values: &[(String, String)]) -> Option<&str> {
    let mut seen = BTreeSet::new();
    values
        .iter()
        .map(|(name, _)| name.as_str())
        .find(|name| !TICKED.contains(name) && !seen.insert(*name))
}

/// Refuses a form of which a field came twice that has one value: one of the two would be lost without a word.
pub(crate) fn refuse_twice(values: &[(String, String)]) -> Result<(), PageError> {
    match twice(values) {
        None => Ok(()),
        Some(name) => Err(came_twice(name)),
    }
}

/// What is said of a field that came twice.
pub(crate) fn came_twice(name: &str) -> PageError {
    PageError::Refused(format!(
        "The field '{name}' came twice, and one of the two would be lost, so nothing was kept. Go back, load the page anew and send it again"
    ))
}

/// A form's values; nothing typed is lost when the form comes back.
#[derive(Clone, Debug, Default)]
pub(crate) struct Typed {
    values: Vec<(String, String)>,
}

impl Typed {
    /// The first value of a name, without blanks around it; empty when there is none.
    pub(crate) fn get(&self, name: &str) -> &str {
        self.values
            .iter()
            .find(|(known, _)| known == name)
            .map_or("", |(_, value)| value.trim())
    }

    /// Whether a value was chosen under a name.
    pub(crate) fn has(&self, name: &str, value: &str) -> bool {
        self.all(name).any(|one| one == value)
    }

    /// Every value of a name.
    pub(crate) fn all<'a>(&'a self, name: &'a str) -> impl Iterator<Item = &'a str> {
        self.values
            .iter()
            .filter(move |(known, _)| known == name)
            .map(|(_, value)| value.as_str())
    }

    /// Every name with its value, in order.
    pub(crate) fn pairs(&self) -> impl Iterator<Item = (&str, &str)> {
        self.values
            .iter()
            .map(|(name, value)| (name.as_str(), value.as_str()))
    }

    /// Adds a value to those of a name.
    pub(crate) fn add(&mut self, name: &str, value: impl Into<String>) {
        self.values.push((name.to_owned(), value.into()));
    }

    /// Sets the only value of a name.
    pub(crate) fn set(&mut self, name: &str, value: impl Into<String>) {
        self.values.retain(|(known, _)| known != name);
        self.values.push((name.to_owned(), value.into()));
    }
}

impl<S: Send + Sync> FromRequest<S> for Typed {
    type Rejection = Response;

    async fn from_request(request: Request, state: &S) -> Result<Self, Response> {
        let form = Form::<Vec<(String, String)>>::from_request(request, state).await;
        let Form(values) = form.map_err(IntoResponse::into_response)?;
        refuse_twice(&values).map_err(IntoResponse::into_response)?;
        Ok(Self { values })
    }
}

/// What is wrong with fields: what, why and what to do, by the field's name.
#[derive(Clone, Debug, Default)]
pub(crate) struct Wrong {
    messages: BTreeMap<String, String>,
}

impl Wrong {
    /// Says what is wrong with a field; the first thing said stays.
    pub(crate) fn say(&mut self, name: &str, message: impl Into<String>) {
        self.messages
            .entry(name.to_owned())
            .or_insert_with(|| message.into());
    }

    /// What is wrong with a field.
    pub(crate) fn of(&self, name: &str) -> Option<&str> {
        self.messages.get(name).map(String::as_str)
    }

    /// Each field with what is wrong with it.
    pub(crate) fn fields(&self) -> impl Iterator<Item = (&str, &str)> {
        self.messages
            .iter()
            .map(|(name, message)| (name.as_str(), message.as_str()))
    }

    /// Whether nothing is.
    pub(crate) fn is_empty(&self) -> bool {
        self.messages.is_empty()
    }

    /// How many fields.
    pub(crate) fn count(&self) -> usize {
        self.messages.len()
    }

    /// Reads a number within the bounds of its quantity; empty is not told.
    pub(crate) fn number(&mut self, typed: &Typed, name: &str, bound: &str) -> Option<f64> {
        let text = typed.get(name);
        if text.is_empty() {
            return None;
        }
        let number = match text.replace(',', ".").parse::<f64>() {
            Ok(number) => number,
            Err(_) => {
                self.say(
                    name,
                    format!("'{text}' is not a number; write figures only"),
                );
                return None;
            }
        };
        match rehab::quantity::check_bounds(bound, number) {
            Ok(number) => Some(number),
            Err(error) => {
                self.say(name, error.to_string());
                None
            }
        }
    }

    /// Reads words of at most so many signs, as the record keeps them.
    pub(crate) fn words(&mut self, typed: &Typed, name: &str, most: usize) -> String {
        let text = typed.get(name);
        let count = text.chars().count();
        if count > most {
            self.say(
                name,
                format!("this is {count} signs long and {most} fit; shorten it, or put the rest in the note"),
            );
        }
        text.to_owned()
    }
}
