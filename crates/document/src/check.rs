//! What makes a document unfit to be shown, found all at once.

use crate::{Block, Cell, Document, Section, Table};
use chart::ChartFault;
use figure::{Extent, FigureFault};

/// One thing that makes a document unfit to be shown.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum DocumentFault {
    /// Nothing was asked.
    #[error("the document has no question")]
    NoQuestion,
    /// Nothing was answered.
    #[error("the document has no answer")]
    NoAnswer,
    /// A picture that cannot be drawn.
    #[error("{place}: {fault}")]
    Picture {
        /// Which picture.
        place: String,
        /// What is wrong with it.
        fault: ChartFault,
    },
    /// A table without caption.
    #[error("{place}: the table has no caption")]
    NoCaption {
        /// Which table.
        place: String,
    },
    /// A table without columns or rows.
    #[error("{place}: a table of {columns} columns and {rows} rows holds nothing")]
    EmptyTable {
        /// Which table.
        place: String,
        /// How many columns.
        columns: usize,
        /// How many rows.
        rows: usize,
    },
    /// A column without a name.
    #[error("{place}: column {column} has no name")]
    ColumnWithoutName {
        /// Which table.
        place: String,
        /// Counted from 1.
        column: usize,
    },
    /// A row with too many or too few cells.
    #[error("{place}: row {row} has {cells} cells for {columns} columns")]
    RowLength {
        /// Which table.
        place: String,
        /// Counted from 1.
        row: usize,
        /// How many cells it has.
        cells: usize,
        /// How many columns there are.
        columns: usize,
    },
    /// A number that is not finite.
    #[error("{place}: row {row}, column {column}: {value} is not a finite number")]
    NotFinite {
        /// Which table.
        place: String,
        /// Counted from 1.
        row: usize,
        /// Counted from 1.
        column: usize,
        /// The number.
        value: f64,
    },
    /// A range whose low end is above its high end.
    #[error("{place}: row {row}, column {column}: a range from {low} to {high}")]
    RangeReversed {
        /// Which table.
        place: String,
        /// Counted from 1.
        row: usize,
        /// Counted from 1.
        column: usize,
        /// The low end.
        low: f64,
        /// The high end.
        high: f64,
    },
    /// A row that leans on a note which is not there.
    #[error("{place}: row {row} leans on note {note} of {notes}, counted from 0")]
    NoSuchNote {
        /// Which table.
        place: String,
        /// Counted from 1.
        row: usize,
        /// The place it names.
        note: usize,
        /// How many notes there are.
        notes: usize,
    },
    /// A note without words.
    #[error("note {note} is empty")]
    EmptyNote {
        /// Counted from 1.
        note: usize,
    },
    /// A section without a title.
    #[error("section {section} has no title")]
    SectionWithoutTitle {
        /// Counted from 1.
        section: usize,
    },
}

/// All faults of a document, in reading order.
pub(crate) fn faults(document: &Document) -> Vec<DocumentFault> {
    let mut found = Vec::new();
    if document.question.trim().is_empty() {
        found.push(DocumentFault::NoQuestion);
    }
    if document.answer.trim().is_empty() {
        found.push(DocumentFault::NoAnswer);
    }
    let notes = document.notes.len();
    if let Some(figure) = &document.picture {
        picture("the picture", figure.check(), &mut found);
    }
    table("the table", &document.table, notes, &mut found);
    for (index, note) in document.notes.iter().enumerate() {
        if note.text.trim().is_empty() {
            found.push(DocumentFault::EmptyNote { note: index + 1 });
        }
    }
    for (index, one) in document.sections.iter().enumerate() {
        section(index + 1, one, notes, &mut found);
    }
    found
}

fn section(number: usize, section: &Section, notes: usize, found: &mut Vec<DocumentFault>) {
    if section.title.trim().is_empty() {
        found.push(DocumentFault::SectionWithoutTitle { section: number });
    }
    for (index, block) in section.blocks.iter().enumerate() {
        let place = format!("section {number}, block {}", index + 1);
        match block {
            Block::Text { .. } => {}
            Block::Picture { figure } => picture(&place, figure.check(), found),
            Block::Balance { balance } => picture(&place, balance.check(), found),
            Block::Table { table: one } => table(&place, one, notes, found),
        }
    }
}

fn picture(place: &str, checked: Result<(), Vec<FigureFault>>, found: &mut Vec<DocumentFault>) {
    if let Err(faults) = checked {
        found.push(DocumentFault::Picture {
            place: place.into(),
            fault: ChartFault::Unreadable { faults },
        });
    }
}

fn table(place: &str, table: &Table, notes: usize, found: &mut Vec<DocumentFault>) {
    let (columns, rows) = (table.columns.len(), table.rows.len());
    if table.caption.trim().is_empty() {
        found.push(DocumentFault::NoCaption {
            place: place.into(),
        });
    }
    if columns == 0 || rows == 0 {
        found.push(DocumentFault::EmptyTable {
            place: place.into(),
            columns,
            rows,
        });
    }
    for (index, column) in table.columns.iter().enumerate() {
        if column.name.trim().is_empty() {
            found.push(DocumentFault::ColumnWithoutName {
                place: place.into(),
                column: index + 1,
            });
        }
    }
    for (index, row) in table.rows.iter().enumerate() {
        if row.cells.len() != columns {
            found.push(DocumentFault::RowLength {
                place: place.into(),
                row: index + 1,
                cells: row.cells.len(),
                columns,
            });
        }
        for note in row.notes.iter().filter(|note| **note >= notes) {
            found.push(DocumentFault::NoSuchNote {
                place: place.into(),
                row: index + 1,
                note: *note,
                notes,
            });
        }
        for (column, one) in row.cells.iter().enumerate() {
            cell(place, index + 1, column + 1, one, found);
        }
    }
}

fn cell(place: &str, row: usize, column: usize, cell: &Cell, found: &mut Vec<DocumentFault>) {
    let Cell::Value(value) = cell else {
        return;
    };
    let ends = value.range.map(|Extent { low, high }| [low, high]);
    let numbers = [value.value].into_iter().chain(ends.into_iter().flatten());
    for number in numbers.filter(|number| !number.is_finite()) {
        found.push(DocumentFault::NotFinite {
            place: place.into(),
            row,
            column,
            value: number,
        });
    }
    if let Some(Extent { low, high }) = value.range
        && low > high
    {
        found.push(DocumentFault::RangeReversed {
            place: place.into(),
            row,
            column,
            low,
            high,
        });
    }
}
