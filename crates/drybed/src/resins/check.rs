//! Whether the records of a folder can be used: every mistake in them, and what is left.

use super::line::{ResinLine, line};
use crate::Trouble;
use crate::plan::imprint;
use crate::speech::counted;
use document::{Block, Cell, Column, Document, Note, Row, Section, Table};
use files::Library;
use quantity::{Fault, Faults};
use serde::Serialize;
use std::path::Path;

/// Version of the layout of a check in JSON.
const CHECK_SCHEMA: u32 = 1;

/// A record of the folder.
#[derive(Clone, Debug, Serialize)]
pub struct CheckedRecord {
    /// Its file.
    pub file: String,
    /// Whether it can be used.
    pub usable: bool,
    /// Mistakes that stand in it.
    pub mistakes: usize,
    /// It in a line, where it can be used.
    pub line: Option<ResinLine>,
}

/// What a folder of records comes to.
#[derive(Clone, Debug, Serialize)]
pub struct CheckAnswer {
    /// Version of this layout.
    pub schema_version: u32,
    /// The folder.
    pub folder: String,
    /// Its records, those that can be used first.
    pub records: Vec<CheckedRecord>,
    /// Every mistake in the folder.
    pub faults: Faults,
}

/// Checks the records of a folder against the library shipped with the program.
///
/// # Errors
/// A folder that cannot be listed.
pub fn check_records(folder: &Path) -> Result<CheckAnswer, Faults> {
    let loaded = Library::shipped()?.with_folder(folder)?;
    let library = &loaded.library;
    let own = library
        .records
        .iter()
        .filter(|record| Path::new(&record.bag.place.file).parent() == Some(folder));
    let usable = own.map(|record| CheckedRecord {
        file: record.bag.place.file.clone(),
        usable: true,
        mistakes: mistakes(&loaded.faults, &record.bag.place.file),
        line: Some(line(&record.resin, library)),
    });
    let broken = library.unusable.iter().map(|out| CheckedRecord {
        file: out.file.clone(),
        usable: false,
        mistakes: mistakes(&loaded.faults, &out.file),
        line: None,
    });
    let records = usable.chain(broken).collect();
    Ok(CheckAnswer {
        schema_version: CHECK_SCHEMA,
        folder: folder.display().to_string(),
        records,
        faults: loaded.faults,
    })
}

fn mistakes(faults: &Faults, file: &str) -> usize {
    faults
        .iter()
        .filter(|fault| fault.place.file == file)
        .count()
}

impl CheckAnswer {
    /// Whether nothing is wrong.
    pub fn is_sound(&self) -> bool {
        self.faults.is_empty() && self.records.iter().all(|record| record.usable)
    }

    /// The check as a document.
    pub fn document(&self) -> Document {
        let usable = self.records.iter().filter(|r| r.usable).count();
        let answer = format!(
            "{usable} of {} can be used; {}.",
            match self.records.len() {
                1 => "1 record".to_owned(),
                count => format!("{count} records"),
            },
            counted(self.faults.len(), "mistake", "mistakes")
        );
        let rows = self.records.iter().map(|record| {
            let name = record.line.as_ref().map_or("", |line| line.name.as_str());
            let stands = match (record.usable, record.mistakes) {
                (true, 0) => "can be used".to_owned(),
                (true, _) => "can be used by its key".to_owned(),
                (false, 0) => "stands on one that cannot be used".to_owned(),
                (false, count) => counted(count, "mistake", "mistakes"),
            };
            let read = record.line.as_ref().map_or_else(String::new, |line| {
                format!("{} of {}", line.read, line.numbers)
            });
            let file = Path::new(&record.file).file_name();
            let file = file.map_or_else(String::new, |f| f.to_string_lossy().into_owned());
            Row::new(vec![
                Cell::text(file),
                Cell::text(name),
                Cell::text(stands),
                Cell::text(read),
            ])
        });
        let mut rows: Vec<Row> = rows.collect();
        if rows.is_empty() {
            let none = ["no record", "", "the folder holds none", ""];
            rows.push(Row::new(none.map(Cell::text).to_vec()));
        }
        let mut document = Document::new(
            format!("Can the records of {} be used?", self.folder),
            answer,
            Table {
                caption: "The records of the folder".into(),
                columns: ["file", "name", "stands", "numbers read in a source"]
                    .map(Column::new)
                    .to_vec(),
                rows,
            },
        );
        document.notes = vec![Note::doubt(
            "A record that can be used is written rightly; whether its numbers are right only your \
             own measurement says.",
        )];
        if !self.faults.is_empty() {
            document.sections.push(Section {
                title: "Mistakes".into(),
                summary: format!(
                    "{}, each with its place and how to mend it.",
                    counted(self.faults.len(), "mistake", "mistakes")
                ),
                blocks: self.faults.iter().map(said).collect(),
            });
        }
        document.imprint = imprint();
        document
    }

    /// The whole answer as JSON.
    ///
    /// # Errors
    /// When it cannot be written.
    pub fn json(&self) -> Result<String, Trouble> {
        crate::json(self)
    }
}

fn said(fault: &Fault) -> Block {
    Block::text(fault.to_string().replace('\n', " "))
}
