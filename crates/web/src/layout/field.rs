//! One field of a form: label, hint, error and value always together.

use maud::{Markup, html};

/// A field to be drawn.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Field<'a> {
    /// Name in the form.
    pub(crate) name: &'a str,
    /// What it asks.
    pub(crate) label: &'a str,
    /// Unit or example, shown under the label.
    pub(crate) hint: &'a str,
    /// The value as typed before.
    pub(crate) value: &'a str,
    /// What is wrong with it, why and what to do.
    pub(crate) error: Option<&'a str>,
    /// `text`, `password`, `date`, `number`, `tel`.
    pub(crate) kind: &'a str,
    /// For the browser: `current-password`, `off` ...
    pub(crate) autocomplete: &'a str,
}

impl<'a> Field<'a> {
    /// A text field without hint, value or error.
    pub(crate) const fn text(name: &'a str, label: &'a str) -> Self {
        Self {
            name,
            label,
            hint: "",
            value: "",
            error: None,
            kind: "text",
            autocomplete: "off",
        }
    }
}

/// Draws a field.
pub(crate) fn field(field: &Field<'_>) -> Markup {
    let (hint_id, error_id) = (
        format!("{}-hint", field.name),
        format!("{}-error", field.name),
    );
    let described = match (field.hint.is_empty(), field.error) {
        (true, None) => None,
        (false, None) => Some(hint_id.clone()),
        (true, Some(_)) => Some(error_id.clone()),
        (false, Some(_)) => Some(format!("{hint_id} {error_id}")),
    };
    html! {
        div.ask {
            label for=(field.name) { (field.label) }
            @if !field.hint.is_empty() { p.hint id=(hint_id) { (field.hint) } }
            @if let Some(error) = field.error { p.wrong id=(error_id) { (error) } }
            input.field id=(field.name) name=(field.name) type=(field.kind) value=(field.value)
                autocomplete=(field.autocomplete) aria-describedby=[described]
                aria-invalid=[field.error.map(|_| "true")];
        }
    }
}
