//! A field described once: the reader, its error texts, the schema and the reference all come
//! from the same description.

use crate::meaning::Meaning;

/// One field of a file or a form.
#[derive(Clone, Copy, Debug)]
pub struct Field {
    /// Its name, as written.
    pub name: &'static str,
    /// What it holds.
    pub kind: FieldKind,
    /// Lowest and highest value, in SI units: dry basis for a moisture, the dew or frost
    /// temperature for a humidity, dry air at 1 atm for a flow of air, above vacuum for a pressure;
    /// each item for a list, the number of tables for a list of tables. An end may be infinite; a low end of
    /// [`f64::MIN_POSITIVE`] stands for "above zero".
    pub range: Option<(f64, f64)>,
    /// What is taken when it is left out, as it would be written.
    pub default: Option<&'static str>,
    /// What it is, in a sentence without its full stop.
    pub help: &'static str,
    /// Something a user could write.
    pub example: &'static str,
    /// Whether it must be there.
    pub required: bool,
}

/// What a field holds.
#[derive(Clone, Copy, Debug)]
pub enum FieldKind {
    /// A number with its unit and basis.
    Quantity(Meaning),
    /// Any text that is not empty.
    Text,
    /// One of these words.
    Choice(&'static [&'static str]),
    /// Yes or no.
    Flag,
    /// A whole number that is not negative.
    Count,
    /// Several of one kind.
    List(&'static FieldKind),
    /// A table of fields.
    Table(&'static Section),
    /// Several tables of the same fields.
    Tables(&'static Section),
    /// Any of the fields of a table, none of them needed: what is given stands for what was there.
    Partial(&'static Section),
    /// One of the above, alone or in a table that adds its spread, source and grade.
    Sourced(&'static FieldKind),
}

/// The fields of one table and what binds them together.
#[derive(Clone, Copy, Debug)]
pub struct Section {
    /// The fields, in the order of the reference page.
    pub fields: &'static [Field],
    /// What must hold between them.
    pub rules: &'static [Rule],
}

/// What must hold between the fields of one table.
#[derive(Clone, Copy, Debug)]
pub enum Rule {
    /// One of these and no other.
    ExactlyOne(&'static [&'static str]),
    /// One of these or none.
    AtMostOne(&'static [&'static str]),
    /// One of these or more.
    AtLeastOne(&'static [&'static str]),
    /// All of these or none.
    Together(&'static [&'static str]),
    /// When the choice `field` is `word`, all of `needs` must be there and `may` can be; of the
    /// fields that such rules name, no other may be.
    When {
        /// A field whose kind is a choice.
        field: &'static str,
        /// The word chosen.
        word: &'static str,
        /// Fields that word needs.
        needs: &'static [&'static str],
        /// Fields that word can use.
        may: &'static [&'static str],
    },
}

impl Section {
    /// The field of that name.
    pub fn field(&self, name: &str) -> Option<&'static Field> {
        self.fields.iter().find(|f| f.name == name)
    }
}

impl Field {
    /// The version of its format, with which every file begins.
    pub const FORMAT: Self = Self::required(
        "format",
        FieldKind::Count,
        "1",
        "Version of the format of this file",
    );

    /// A field that may be left out, without range or default.
    pub const fn optional(
        name: &'static str,
        kind: FieldKind,
        example: &'static str,
        help: &'static str,
    ) -> Self {
        Self {
            name,
            kind,
            range: None,
            default: None,
            help,
            example,
            required: false,
        }
    }

    /// A field that must be there, without a range.
    pub const fn required(
        name: &'static str,
        kind: FieldKind,
        example: &'static str,
        help: &'static str,
    ) -> Self {
        Self {
            required: true,
            ..Self::optional(name, kind, example, help)
        }
    }

    /// A field with what is taken when it is left out.
    pub const fn defaulted(
        name: &'static str,
        kind: FieldKind,
        default: &'static str,
        help: &'static str,
    ) -> Self {
        Self {
            default: Some(default),
            ..Self::optional(name, kind, default, help)
        }
    }

    /// The same field with something a user could write, where that is not its default.
    #[must_use]
    pub const fn like(self, example: &'static str) -> Self {
        Self { example, ..self }
    }

    /// The same field within a closed range, in SI units.
    #[must_use]
    pub const fn within(self, low: f64, high: f64) -> Self {
        Self {
            range: Some((low, high)),
            ..self
        }
    }
}

impl FieldKind {
    /// What the field holds, in words, with an article where one is due.
    pub fn with_article(&self) -> String {
        match self {
            Self::Quantity(meaning) => meaning.with_article(),
            Self::Sourced(kind) => kind.with_article(),
            Self::Text | Self::Flag | Self::Choice(_) => self.words(),
            _ => format!("a {}", self.words()),
        }
    }

    /// What the field holds, in words.
    pub fn words(&self) -> String {
        match self {
            Self::Quantity(meaning) => meaning.words().to_owned(),
            Self::Text => "text".to_owned(),
            Self::Choice(words) => format!("one of {}", words.join(", ")),
            Self::Flag => "true or false".to_owned(),
            Self::Count => "whole number".to_owned(),
            Self::List(kind) => format!("list of {}", kind.words()),
            Self::Table(_) | Self::Partial(_) => "table".to_owned(),
            Self::Sourced(kind) => kind.words(),
            Self::Tables(_) => "list of tables".to_owned(),
        }
    }
}
