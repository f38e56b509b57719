//! Question, answer, picture and table as data, as an HTML page and as plain text.
//!
//! A [`Document`] has the same four parts, in the same order, wherever it is shown: the question in
//! the user's words, the answer as one sentence with its range, one picture that makes the sentence
//! visible, one table that makes it checkable. Sources, doubts and cautions stand in the margin;
//! sections with more open below.
//!
//! ```
//! use document::{Cell, Column, Document, Grade, Row, State, Table};
//! let table = Table {
//!     caption: "Moisture at the outlet".into(),
//!     columns: vec![Column::new("what"), Column::with_unit("moisture", "ppm")],
//!     rows: vec![Row::new(vec![
//!         Cell::text("mean of a shot"),
//!         Cell::ranged(93.4, 50.0, 170.0, Grade::Computed),
//!     ])],
//! };
//! let mut document = Document::new("Is it dry?", "It leaves at 90 ppm (50 to 170).", table);
//! document.state = Some(State::InWindow);
//! let page = document.html().map_err(|faults| faults[0].clone())?;
//! assert!(page.starts_with("<!DOCTYPE html>") && page.contains("in window"));
//! let text = document.text().map_err(|faults| faults[0].clone())?;
//! assert!(text.contains("90") && text.lines().all(|line| line.chars().count() <= 80));
//! # Ok::<(), document::DocumentFault>(())
//! ```

mod balance;
mod check;
mod html;
mod html_table;
mod plain;
mod plain_table;
mod ranges;
mod sign;
mod spark;
mod state;
mod table;
mod terminal;
mod typeset;

pub use check::DocumentFault;
pub use figure::{Balance, Extent, Figure, Grade};
pub use state::State;
pub use table::{Cell, Column, Row, Table, Value};

use serde::{Deserialize, Serialize};

/// A question answered: four parts, their margin, and more below.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Document {
    /// The question in the user's words.
    pub question: String,
    /// The answer: one sentence with its range.
    pub answer: String,
    /// How what was asked about stands; `None` when nothing was asked that can be wet or dry.
    pub state: Option<State>,
    /// The picture that makes the answer visible.
    pub picture: Option<Figure>,
    /// The table that makes the answer checkable.
    pub table: Table,
    /// Sources, doubts and cautions; shown in the margin, cautions first.
    #[serde(default)]
    pub notes: Vec<Note>,
    /// More, each opened on demand.
    #[serde(default)]
    pub sections: Vec<Section>,
    /// Closing lines: what made this page, and what has to be said about all of it.
    #[serde(default)]
    pub imprint: Vec<String>,
}

impl Document {
    /// A document of the three parts none can be without.
    pub fn new(question: impl Into<String>, answer: impl Into<String>, table: Table) -> Self {
        Self {
            question: question.into(),
            answer: answer.into(),
            state: None,
            picture: None,
            table,
            notes: Vec::new(),
            sections: Vec::new(),
            imprint: Vec::new(),
        }
    }

    /// Whether the document can be shown.
    ///
    /// # Errors
    /// Every mistake at once: see [`DocumentFault`].
    pub fn check(&self) -> Result<(), Vec<DocumentFault>> {
        let faults = check::faults(self);
        if faults.is_empty() {
            Ok(())
        } else {
            Err(faults)
        }
    }

    /// The document as one HTML file: no script, no request to anywhere, light and dark, for a
    /// desk, a hand and paper. Every word of the document is escaped.
    ///
    /// # Errors
    /// What [`Document::check`] finds.
    pub fn html(&self) -> Result<String, Vec<DocumentFault>> {
        self.check()?;
        html::page(self).map_err(|fault| vec![fault])
    }

    /// The document as plain text of 80 columns: the four parts, the margin, and the titles of the
    /// sections. Control characters are left out, so nothing in the data can steer a terminal.
    ///
    /// # Errors
    /// What [`Document::check`] finds.
    pub fn text(&self) -> Result<String, Vec<DocumentFault>> {
        self.check()?;
        Ok(plain::text(self, false))
    }

    /// As [`Document::text`], with the sections in full.
    ///
    /// # Errors
    /// What [`Document::check`] finds.
    pub fn full_text(&self) -> Result<String, Vec<DocumentFault>> {
        self.check()?;
        Ok(plain::text(self, true))
    }

    /// The notes in the order they are shown, each with its place in [`Document::notes`]: cautions,
    /// doubts, sources.
    fn ordered_notes(&self) -> Vec<(usize, &Note)> {
        let mut ordered: Vec<(usize, &Note)> = self.notes.iter().enumerate().collect();
        ordered.sort_by_key(|(_, note)| note.kind);
        ordered
    }

    /// The number a note is shown under.
    fn note_number(&self, index: usize) -> Option<usize> {
        let place = |(at, _): &(usize, &Note)| *at == index;
        self.ordered_notes().iter().position(place).map(|n| n + 1)
    }
}

/// A remark in the margin.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Note {
    /// What kind of remark it is.
    pub kind: NoteKind,
    /// The remark.
    pub text: String,
}

impl Note {
    /// What can hurt someone or spoil a lot, and who decides.
    pub fn caution(text: impl Into<String>) -> Self {
        Self {
            kind: NoteKind::Caution,
            text: text.into(),
        }
    }

    /// What is not known well.
    pub fn doubt(text: impl Into<String>) -> Self {
        Self {
            kind: NoteKind::Doubt,
            text: text.into(),
        }
    }

    /// Where a number comes from.
    pub fn source(text: impl Into<String>) -> Self {
        Self {
            kind: NoteKind::Source,
            text: text.into(),
        }
    }
}

/// What kind of remark a note is, in the order they are shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum NoteKind {
    /// What can hurt someone or spoil a lot, and who decides.
    Caution,
    /// What is not known well.
    Doubt,
    /// Where a number comes from.
    Source,
}

impl NoteKind {
    /// The kind as a word.
    pub fn word(self) -> &'static str {
        match self {
            Self::Caution => "Caution",
            Self::Doubt => "Doubt",
            Self::Source => "Source",
        }
    }
}

/// More on one matter, opened on demand.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Section {
    /// Its title.
    pub title: String,
    /// What it says, in a sentence one can read without opening it; may be empty.
    pub summary: String,
    /// What is in it, in order.
    pub blocks: Vec<Block>,
}

/// One piece of a section.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Block {
    /// A paragraph.
    Text {
        /// Its words.
        text: String,
    },
    /// A picture.
    Picture {
        /// The picture.
        figure: Figure,
    },
    /// What enters and what leaves, as a picture.
    Balance {
        /// The picture.
        balance: Balance,
    },
    /// A table.
    Table {
        /// The table.
        table: Table,
    },
}

impl Block {
    /// A paragraph.
    pub fn text(text: impl Into<String>) -> Self {
        Self::Text { text: text.into() }
    }

    /// A picture.
    pub fn picture(figure: Figure) -> Self {
        Self::Picture { figure }
    }

    /// What enters and what leaves, as a picture.
    pub fn balance(balance: Balance) -> Self {
        Self::Balance { balance }
    }

    /// A table.
    pub fn table(table: Table) -> Self {
        Self::Table { table }
    }
}
