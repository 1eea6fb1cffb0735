//! What was typed, as it came: several values of one name kept, so that a refused form comes back whole.

use crate::typed::refuse_twice;
use axum::extract::{FromRequest, Request};
use axum::response::Response;
use axum::{Form, response::IntoResponse};

/// A form's values by name.
#[derive(Clone, Debug, Default)]
pub(crate) struct Given {
    values: Vec<(String, String)>,
}

impl Given {
    /// The first value of a name, without blanks round it.
    pub(crate) fn one(&self, name: &str) -> &str {
        let found = self.values.iter().find(|(known, _)| known == name);
        found.map_or("", |(_, value)| value.trim())
    }

    /// The first value of a name exactly as typed, for passphrases.
    pub(crate) fn raw(&self, name: &str) -> &str {
        let found = self.values.iter().find(|(known, _)| known == name);
        found.map_or("", |(_, value)| value)
    }

    /// Whether a name came more than once.
    pub(crate) fn is_twice(&self, name: &str) -> bool {
        self.values
            .iter()
            .filter(|(known, _)| known == name)
            .count()
            > 1
    }

    /// Every value of a name.
    pub(crate) fn all<'a>(&'a self, name: &'a str) -> impl Iterator<Item = &'a str> {
        self.values
            .iter()
            .filter(move |(known, _)| known == name)
            .map(|(_, value)| value.trim())
            .filter(|value| !value.is_empty())
    }

    /// Whether anything was given under a name.
    pub(crate) fn has(&self, name: &str) -> bool {
        self.all(name).next().is_some()
    }

    /// Adds a value.
    pub(crate) fn put(&mut self, name: &str, value: impl Into<String>) {
        self.values.push((name.to_owned(), value.into()));
    }
}

impl<S: Send + Sync> FromRequest<S> for Given {
    type Rejection = Response;

    async fn from_request(request: Request, state: &S) -> Result<Self, Response> {
        let form = Form::<Vec<(String, String)>>::from_request(request, state).await;
        form.map(|Form(values)| Self { values })
            .map_err(IntoResponse::into_response)
    }
}

/// The values of a form that asks each thing once, but for roles: a field that came twice refuses the whole.
pub(crate) struct Once(pub(crate) Given);

impl<S: Send + Sync> FromRequest<S> for Once {
    type Rejection = Response;

    async fn from_request(request: Request, state: &S) -> Result<Self, Response> {
        let given = Given::from_request(request, state).await?;
        refuse_twice(&given.values).map_err(IntoResponse::into_response)?;
        Ok(Self(given))
    }
}
