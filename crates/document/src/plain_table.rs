//! A table in plain text: columns under one another, words wrapped, 80 columns at most.

use crate::html_table::{Kind, kinds};
use crate::terminal::{WIDTH, clean, columns, left, pieces, right, wrapped};
use crate::{Cell, Document, Row, Table};
use std::fmt::Write as _;

/// Between two columns.
const GAP: usize = 2;
/// No column of words is made narrower than this.
const NARROWEST: usize = 6;

/// One printed column: its head and its cells, and whether they stand to the right.
struct Printed {
    head: String,
    cells: Vec<String>,
    to_the_right: bool,
}

/// The table in lines.
pub(crate) fn lines(table: &Table, document: &Document) -> Vec<String> {
    let printed = printed(table, document);
    let widths = widths(&printed);
    let mut out = wrapped(&table.caption, WIDTH);
    let rule: Vec<String> = widths.iter().map(|width| "─".repeat(*width)).collect();
    out.extend(heads(&printed, &widths));
    out.push(rule.join(&" ".repeat(GAP)));
    for index in 0..table.rows.len() {
        let cell = |column: &Printed| column.cells.get(index).cloned().unwrap_or_default();
        let cells: Vec<String> = printed.iter().map(cell).collect();
        let cells: Vec<&str> = cells.iter().map(String::as_str).collect();
        out.extend(row(&cells, &printed, &widths));
    }
    out
}

fn printed(table: &Table, document: &Document) -> Vec<Printed> {
    let mut all = Vec::new();
    for (index, (column, kind)) in table.columns.iter().zip(kinds(table)).enumerate() {
        let head = match &column.unit {
            Some(unit) => format!("{} /\u{a0}{}", clean(&column.name), clean(unit)),
            None => clean(&column.name),
        };
        let numbers = table.written(index);
        let words = |(number, row): (usize, &Row)| {
            let marks = if index == 0 {
                marks(row, document)
            } else {
                String::new()
            };
            let words = row
                .cells
                .get(index)
                .map(|cell| words(cell, &numbers[number]));
            clean(&format!("{}{marks}", words.unwrap_or_default()))
        };
        all.push(Printed {
            head,
            cells: table.rows.iter().enumerate().map(words).collect(),
            to_the_right: kind != Kind::Words,
        });
        if kind == Kind::Ranged {
            let beside = |row: &Row| match row.cells.get(index) {
                Some(Cell::Value(value)) => clean(&value.beside()),
                _ => String::new(),
            };
            all.push(Printed {
                head: String::new(),
                cells: table.rows.iter().map(beside).collect(),
                to_the_right: false,
            });
        }
    }
    all
}

fn words(cell: &Cell, number: &str) -> String {
    match cell {
        Cell::Blank => "–".to_owned(),
        Cell::Text { text } => text.clone(),
        Cell::Value(_) => number.to_owned(),
        Cell::State { state } => format!("{} {}", state.mark(), state.word()),
    }
}

/// The numbers of the notes a row leans on.
fn marks(row: &Row, document: &Document) -> String {
    let numbers = row
        .notes
        .iter()
        .filter_map(|note| document.note_number(*note));
    let mut numbers: Vec<usize> = numbers.collect();
    numbers.sort_unstable();
    numbers.iter().fold(String::new(), |mut out, number| {
        let _ = write!(out, " [{number}]");
        out
    })
}

/// Widths that together fit the page: the widest columns give way first, and words are cut last, those of the
/// heads after those of the cells.
fn widths(printed: &[Printed]) -> Vec<usize> {
    let widest = |column: &Printed| {
        let cells = column
            .cells
            .iter()
            .map(|cell| columns(cell))
            .max()
            .unwrap_or(0);
        // A head of several words may wrap.
        let head = column.head.split(' ').map(|word| columns(&clean(word)));
        let head = head.max().unwrap_or(0);
        cells
            .max(head)
            .max(if column.to_the_right { head } else { 1 })
    };
    let mut widths: Vec<usize> = printed.iter().map(widest).collect();
    let room = WIDTH.saturating_sub(GAP * printed.len().saturating_sub(1));
    let longest = |text: &String| pieces(text).iter().map(|word| columns(word)).max();
    let head = |column: &Printed| longest(&column.head).unwrap_or(0).max(NARROWEST);
    let every = |column: &Printed| {
        let cells = column.cells.iter().filter_map(longest).max();
        cells.unwrap_or(0).max(head(column))
    };
    give_way(
        &mut widths,
        room,
        &printed.iter().map(every).collect::<Vec<_>>(),
    );
    give_way(
        &mut widths,
        room,
        &printed.iter().map(head).collect::<Vec<_>>(),
    );
    give_way(&mut widths, room, &vec![NARROWEST; printed.len()]);
    widths
}

/// Takes from the widest columns until all fit or each is as narrow as it may be.
fn give_way(widths: &mut [usize], room: usize, narrowest: &[usize]) {
    while widths.iter().sum::<usize>() > room {
        let may = widths.iter_mut().zip(narrowest);
        let may = may.filter(|(width, narrowest)| **width > **narrowest);
        let Some((widest, _)) = may.max_by_key(|(width, _)| **width) else {
            break;
        };
        *widest -= 1;
    }
}

/// The heads, on the lowest lines; that of a number with a range reaches over both.
fn heads(printed: &[Printed], widths: &[usize]) -> Vec<String> {
    let mut blocks: Vec<(Vec<String>, usize, bool)> = Vec::new();
    for (column, width) in printed.iter().zip(widths) {
        match blocks.last_mut() {
            Some((_, wide, right)) if column.head.is_empty() => {
                *wide += GAP + width;
                *right = false;
            }
            _ => blocks.push((vec![column.head.clone()], *width, column.to_the_right)),
        }
    }
    for (block, width, _) in &mut blocks {
        *block = wrapped(&block.concat(), *width);
    }
    let height = blocks
        .iter()
        .map(|(block, ..)| block.len())
        .max()
        .unwrap_or(0);
    let line = |number: usize| {
        let part = |(block, width, right): &(Vec<String>, usize, bool)| {
            let at = number.checked_sub(height - block.len());
            let text = at.and_then(|at| block.get(at)).map_or("", String::as_str);
            placed(text, *width, *right)
        };
        joined(&blocks.iter().map(part).collect::<Vec<_>>())
    };
    (0..height).map(line).collect()
}

/// One row, as many lines high as its highest cell.
fn row(cells: &[&str], printed: &[Printed], widths: &[usize]) -> Vec<String> {
    let wrap = |(cell, width): (&&str, &usize)| wrapped(cell, *width);
    let blocks: Vec<Vec<String>> = cells.iter().zip(widths).map(wrap).collect();
    let height = blocks.iter().map(Vec::len).max().unwrap_or(0);
    let line = |number: usize| {
        let part = |index: usize| {
            let text = blocks[index].get(number).map_or("", String::as_str);
            placed(text, widths[index], printed[index].to_the_right)
        };
        joined(&(0..blocks.len()).map(part).collect::<Vec<_>>())
    };
    (0..height).map(line).collect()
}

fn placed(text: &str, width: usize, to_the_right: bool) -> String {
    if to_the_right {
        right(text, width)
    } else {
        left(text, width)
    }
}

fn joined(parts: &[String]) -> String {
    parts.join(&" ".repeat(GAP)).trim_end().to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn holds_heads_are_cut_last() {
        let column = |head: &str, cell: &str| Printed {
            head: head.to_owned(),
            cells: vec![cell.to_owned()],
            to_the_right: false,
        };
        let words = "regeneration heater element out, seen in one of a hundred rounds or so";
        let mut all = vec![column("cause", words), column("how much", words)];
        all.extend(["temperature", "temperature", "probability"].map(|head| column(head, "1")));
        let found = widths(&all);
        assert_eq!(found.iter().sum::<usize>(), WIDTH - 4 * GAP);
        assert!(found[2..].iter().all(|width| *width == 11), "{found:?}");
        // Where not even the heads fit, they are cut.
        let many: Vec<Printed> = (0..9).map(|_| column("temperature", "1")).collect();
        assert!(widths(&many).iter().sum::<usize>() <= WIDTH - 8 * GAP);
    }
}
