//! Dryers that could not be run on some day, in table, notes and sections.

use super::page::by_day;
use super::words::short;
use crate::speech::Speech;
use decide::compare::{Comparison, MissingDay, NotComputed};
use document::{Block, Cell, Note, Row, Section};

/// Where the table of the dryers says how often the limit is met.
const MET: usize = 3;

/// A row each, below those that were computed, in a table of so many columns.
pub(super) fn rows(compared: &Comparison, columns: usize) -> impl Iterator<Item = Row> {
    compared.not_computed.iter().map(move |dryer| {
        let mut cells = vec![Cell::Blank; columns];
        cells[0] = Cell::text(short(&dryer.title));
        cells[MET] = Cell::text("not computed");
        Row::new(cells)
    })
}

/// A caution each.
pub(super) fn notes(compared: &Comparison) -> impl Iterator<Item = Note> {
    compared.not_computed.iter().map(|dryer| {
        Note::caution(format!(
            "The {} could not be computed and is not recommended: {}.",
            short(&dryer.title),
            dryer.reasons().join("; ")
        ))
    })
}

/// A section each, with the days that could be computed.
pub(super) fn sections(compared: &Comparison, speech: Speech) -> impl Iterator<Item = Section> {
    compared
        .not_computed
        .iter()
        .map(move |dryer| section(compared, dryer, speech))
}

fn section(compared: &Comparison, dryer: &NotComputed, speech: Speech) -> Section {
    let days = dryer.days.len() + dryer.missing.len();
    let mut blocks: Vec<Block> = dryer
        .missing
        .iter()
        .map(|missing| Block::text(said(missing, compared.runs.len() > 1)))
        .collect();
    if !dryer.days.is_empty() {
        blocks.push(Block::table(by_day(compared, &dryer.days, speech)));
    }
    Section {
        title: dryer.title.clone(),
        summary: format!(
            "Not computed on {} of {days} days, so it has no year and is not recommended.",
            dryer.missing.len()
        ),
        blocks,
    }
}

fn said(missing: &MissingDay, runs: bool) -> String {
    let run = if runs {
        format!(", run {}", missing.run + 1)
    } else {
        String::new()
    };
    format!("On the day {}{run}: {}.", missing.day, missing.reason)
}
