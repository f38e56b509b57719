//! The document as plain text of 80 columns.

use crate::terminal::{WIDTH, clean, wrapped};
use crate::{Block, Document, Note, Section};
use crate::{plain_table, spark};
use figure::Figure;

/// The whole text; `full` opens the sections.
pub(crate) fn text(document: &Document, full: bool) -> String {
    let mut out: Vec<String> = wrapped(&document.question, WIDTH);
    out.push(String::new());
    if let Some(state) = document.state {
        out.push(format!("{} {}", state.mark(), state.word()));
    }
    out.extend(wrapped(&document.answer, WIDTH));
    out.push(String::new());
    if let Some(figure) = &document.picture {
        out.extend(picture(figure));
    }
    out.extend(plain_table::lines(&document.table, document));
    out.push(String::new());
    for (index, (_, note)) in document.ordered_notes().into_iter().enumerate() {
        out.extend(margin(index + 1, note));
    }
    if !document.notes.is_empty() {
        out.push(String::new());
    }
    for one in &document.sections {
        out.extend(section(one, document, full));
    }
    if !document.sections.is_empty() && !full {
        out.push(String::new());
    }
    for line in &document.imprint {
        out.extend(wrapped(line, WIDTH));
    }
    while out.last().is_some_and(String::is_empty) {
        out.pop();
    }
    let mut text = out.join("\n");
    text.push('\n');
    text
}

fn picture(figure: &Figure) -> Vec<String> {
    let mut out = wrapped(&figure.title, WIDTH);
    out.extend(spark::lines(figure));
    out.push(String::new());
    out
}

fn margin(number: usize, note: &Note) -> Vec<String> {
    let head = format!("[{number}] {}: ", note.kind.word());
    hanging(&head, &note.text, "    ")
}

fn section(section: &Section, document: &Document, full: bool) -> Vec<String> {
    if !full {
        let words = if section.summary.trim().is_empty() {
            section.title.clone()
        } else {
            format!("{}: {}", section.title, section.summary)
        };
        return hanging("+ ", &words, "  ");
    }
    let title = clean(&section.title);
    let mut out = wrapped(&title, WIDTH);
    out.push("─".repeat(crate::terminal::columns(&title).min(WIDTH)));
    if !section.summary.trim().is_empty() {
        out.extend(wrapped(&section.summary, WIDTH));
        out.push(String::new());
    }
    for block in &section.blocks {
        match block {
            Block::Text { text } => {
                out.extend(wrapped(text, WIDTH));
                out.push(String::new());
            }
            Block::Picture { figure } => out.extend(picture(figure)),
            Block::Balance { balance } => {
                out.extend(wrapped(&balance.title, WIDTH));
                out.extend(crate::balance::lines(balance));
                out.push(String::new());
            }
            Block::Table { table } => {
                out.extend(plain_table::lines(table, document));
                out.push(String::new());
            }
        }
    }
    out
}

/// A paragraph whose first line begins with `head` and whose others are indented.
fn hanging(head: &str, words: &str, indent: &str) -> Vec<String> {
    let room = WIDTH - crate::terminal::columns(indent);
    let lines = wrapped(&format!("{head}{words}"), room);
    let mut out = Vec::new();
    for (index, line) in lines.into_iter().enumerate() {
        out.push(if index == 0 {
            line
        } else {
            format!("{indent}{line}")
        });
    }
    out
}
