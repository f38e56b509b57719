//! What of a source was read: the words of its note, and whether a value counts as read there.

use crate::plan::EvidenceRow;
use files::{Library, Reference};
use serde::Serialize;

/// What of a source was read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Reading {
    /// Nothing, or nobody says so.
    Unread,
    /// A page, a data file or a part of the text.
    Part,
    /// The abstract.
    Abstract,
    /// The full text.
    FullText,
}

impl Reading {
    /// From the note of the source, which begins `read: abstract` or `read: full text`.
    pub(crate) fn of(reference: &Reference) -> Self {
        let note = reference.get("note").unwrap_or_default();
        let Some((_, read)) = note.split_once("read:") else {
            return Self::Unread;
        };
        match read.trim_start() {
            text if text.starts_with("full text") => Self::FullText,
            text if text.starts_with("abstract") => Self::Abstract,
            text if text.starts_with("from memory") || text.starts_with("nothing") => Self::Unread,
            _ => Self::Part,
        }
    }

    /// The words shown.
    pub(super) fn words(self) -> &'static str {
        match self {
            Self::Unread => "not read",
            Self::Part => "read in part",
            Self::Abstract => "abstract read",
            Self::FullText => "full text read",
        }
    }
}

/// How the source of a value was read, where the value was measured or fitted in it and nothing of
/// it is from memory; [`Reading::Unread`] for every other.
pub(crate) fn reading(row: &EvidenceRow, library: &Library) -> Reading {
    let known = ["measured", "fitted"].contains(&row.grade);
    let remembered = row.note.as_ref().is_some_and(|n| n.contains("from memory"));
    if !known || remembered {
        return Reading::Unread;
    }
    let reference = library.bibliography.get(&row.source);
    reference.map_or(Reading::Unread, Reading::of)
}

/// Whether a value was read in the abstract or full text of the source it cites.
pub(crate) fn is_read(row: &EvidenceRow, library: &Library) -> bool {
    reading(row, library) >= Reading::Abstract
}

#[cfg(test)]
mod tests {
    use super::*;

    fn source(note: &str) -> Reference {
        Reference {
            key: "invented".into(),
            kind: "misc".into(),
            fields: vec![("note".into(), note.into())],
            place: quantity::Place::default(),
        }
    }

    #[test]
    fn exact_notes_say_what_was_read() {
        for (note, reading) in [
            ("read: full text", Reading::FullText),
            ("read: abstract; volume from memory", Reading::Abstract),
            ("read: page text; 3.5 percent", Reading::Part),
            ("read: from memory", Reading::Unread),
            ("a classic", Reading::Unread),
        ] {
            assert_eq!(Reading::of(&source(note)), reading, "{note}");
        }
    }
}
