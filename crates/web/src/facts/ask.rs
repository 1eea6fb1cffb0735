//! What a form asks: where the answer stands in the case file, how it is asked, how it is read.

/// Words to choose from: as written in files, and as shown.
pub(crate) type Choices = Vec<(&'static str, String)>;

/// How something is asked.
#[derive(Clone, Debug)]
pub(crate) enum Kind {
    /// Words on one line.
    Text,
    /// A day.
    Day,
    /// A number.
    Number,
    /// Yes, no, or not known.
    YesNo,
    /// A pressure, as 128/74.
    Pressure,
    /// One word of a list, or not known.
    Choice(Choices),
    /// Any number of words of a list. `none` is the label of "asked, and none of these", where that can be said.
    Ticks {
        of: Choices,
        none: Option<&'static str>,
    },
    /// The same, kept as tables with a key `kind`.
    Kinds(Choices),
    /// One item of the history: present, asked and absent, not asked, or left open.
    Asked,
    /// Words divided by commas.
    Commas,
    /// Numbers divided by commas.
    Numbers,
    /// Medicines, one on a line.
    Medicines,
    /// None, a pacemaker or a defibrillator.
    Device,
    /// Common places of a home, for the beginning.
    Places,
}

/// One question.
#[derive(Clone, Debug)]
pub(crate) struct Ask {
    /// Where the answer stands in the case file; also the name of the field. Items of a list count from 1; a word in
    /// brackets stands for an item that is added when something beneath it is answered.
    pub(crate) path: String,
    pub(crate) label: String,
    pub(crate) hint: &'static str,
    pub(crate) kind: Kind,
    /// Whether the field needs the whole line: for sentences.
    pub(crate) wide: bool,
    /// Whether it is folded away with others of its part until somebody wants it.
    pub(crate) folded: bool,
}

impl Ask {
    pub(crate) fn new(path: impl Into<String>, label: impl Into<String>, kind: Kind) -> Self {
        Self {
            path: path.into(),
            label: label.into(),
            hint: "",
            kind,
            wide: false,
            folded: false,
        }
    }

    pub(crate) const fn hint(mut self, hint: &'static str) -> Self {
        self.hint = hint;
        self
    }

    /// A field that is wanted seldom.
    pub(crate) const fn folded(mut self) -> Self {
        self.folded = true;
        self
    }

    /// A field for a sentence.
    pub(crate) const fn wide(mut self) -> Self {
        self.wide = true;
        self
    }
}

/// Questions that belong together, with what to know about them.
pub(crate) struct Part {
    pub(crate) title: &'static str,
    pub(crate) about: &'static str,
    /// Where the built-in value of a setting comes from, by its label.
    pub(crate) sources: Vec<(String, String)>,
    pub(crate) asks: Vec<Ask>,
}

/// An item that is added to a list when something beneath it is answered.
pub(crate) struct Added {
    /// The list in the case file.
    pub(crate) list: &'static str,
    /// The word in brackets.
    pub(crate) mark: &'static str,
    /// Keys that the item gets of itself.
    pub(crate) fixed: &'static [(&'static str, &'static str)],
}

/// A form: all its parts.
pub(crate) struct Form {
    pub(crate) title: &'static str,
    pub(crate) lead: &'static str,
    pub(crate) parts: Vec<Part>,
    pub(crate) added: &'static [Added],
    /// Lists whose items are rows of the form: emptied rows are taken out.
    pub(crate) rows: &'static [&'static str],
}

impl Form {
    /// Every question.
    pub(crate) fn asks(&self) -> impl Iterator<Item = &Ask> {
        self.parts.iter().flat_map(|part| &part.asks)
    }
}
