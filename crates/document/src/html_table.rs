//! A table in HTML: units in the head, numbers under one another, ranges beside them.

use crate::sign::sign;
use crate::typeset::typeset;
use crate::{Cell, Column, Document, Row, Table};
use chart::escape;
use std::fmt::Write as _;

/// What kind of column it is, by what stands in it.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Kind {
    /// Words, states.
    Words,
    /// Numbers alone.
    Numbers,
    /// Numbers, with ranges or grades beside them.
    Ranged,
}

/// The kind of each column.
pub(crate) fn kinds(table: &Table) -> Vec<Kind> {
    let kind = |index: usize| {
        let cells = table.rows.iter().filter_map(|row| row.cells.get(index));
        let mut kind = Kind::Words;
        for cell in cells {
            if let Cell::Value(value) = cell {
                if !value.beside().is_empty() {
                    return Kind::Ranged;
                }
                kind = Kind::Numbers;
            }
        }
        kind
    };
    (0..table.columns.len()).map(kind).collect()
}

/// The table, in a box that scrolls sideways where the screen is too narrow. Its caption stands above
/// the box, so that it wraps within the screen.
pub(crate) fn table(table: &Table, document: &Document) -> String {
    let kinds = kinds(table);
    let caption = escape(&table.caption);
    let mut out = format!(
        "<p class=\"caption\">{}</p>\n\
         <div class=\"scroll\" role=\"region\" aria-label=\"{caption}\" tabindex=\"0\">\n\
         <table aria-label=\"{caption}\">\n<thead><tr>",
        typeset(&table.caption)
    );
    for (column, kind) in table.columns.iter().zip(&kinds) {
        out.push_str(&head(column, *kind));
    }
    out.push_str("</tr></thead>\n<tbody>\n");
    let numbers: Vec<Vec<String>> = (0..kinds.len())
        .map(|column| table.written(column))
        .collect();
    for (number, row) in table.rows.iter().enumerate() {
        out.push_str("<tr>");
        for (index, (cell, kind)) in row.cells.iter().zip(&kinds).enumerate() {
            let marks = if index == 0 {
                marks(row, document)
            } else {
                String::new()
            };
            out.push_str(&body(
                cell,
                &numbers[index][number],
                *kind,
                index == 0,
                &marks,
            ));
        }
        out.push_str("</tr>\n");
    }
    out.push_str("</tbody>\n</table>\n</div>\n");
    out
}

fn head(column: &Column, kind: Kind) -> String {
    let unit = column.unit.as_deref().map_or(String::new(), |unit| {
        format!(" <span class=\"unit\">/\u{a0}{}</span>", escape(unit))
    });
    let span = match kind {
        Kind::Words => "",
        Kind::Numbers => " class=\"number\"",
        Kind::Ranged => " class=\"ranged\" colspan=\"2\"",
    };
    format!(
        "<th scope=\"col\"{span}>{}{unit}</th>",
        escape(&column.name)
    )
}

fn body(cell: &Cell, written: &str, kind: Kind, names_row: bool, marks: &str) -> String {
    let (open, close) = if names_row {
        ("<th scope=\"row\"", "</th>")
    } else {
        ("<td", "</td>")
    };
    match (cell, kind) {
        (Cell::Value(value), _) => {
            let class = if value.grade.is_estimate() {
                "number estimate"
            } else {
                "number"
            };
            let number = format!("{open} class=\"{class}\">{}{marks}{close}", escape(written));
            if kind == Kind::Ranged {
                let beside = typeset(&value.beside());
                format!("{number}<td class=\"beside\">{beside}</td>")
            } else {
                number
            }
        }
        (other, kind) => {
            let words = match other {
                Cell::State { state } => sign(*state),
                Cell::Text { text } => typeset(text),
                _ => "<span class=\"none\">–</span>".to_owned(),
            };
            let span = match kind {
                Kind::Words => "",
                Kind::Numbers => " class=\"number\"",
                Kind::Ranged => " colspan=\"2\"",
            };
            format!("{open}{span}>{words}{marks}{close}")
        }
    }
}

/// The numbers of the notes a row leans on, as links to them.
fn marks(row: &Row, document: &Document) -> String {
    let mut numbers: Vec<usize> = row
        .notes
        .iter()
        .filter_map(|note| document.note_number(*note))
        .collect();
    numbers.sort_unstable();
    let mut out = String::new();
    for number in numbers {
        let _ = write!(
            out,
            "<a class=\"ref\" href=\"#note-{number}\" aria-label=\"note {number}\">{number}</a>"
        );
    }
    out
}
