//! The page: one HTML file with its style inside and nothing else.

use crate::html_table;
use crate::sign::sign;
use crate::typeset::typeset;
use crate::{Block, Document, DocumentFault, Section};
use chart::{ChartFault, Sheet, escape};
use figure::{Balance, Figure};
use std::fmt::Write as _;

const PAGE_STYLE: &str = include_str!("page.css");

/// Nothing may be fetched, run or sent; only the style inside counts.
const POLICY: &str =
    "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'";

/// The whole page.
pub(crate) fn page(document: &Document) -> Result<String, DocumentFault> {
    let mut out = format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta http-equiv=\"Content-Security-Policy\" content=\"{POLICY}\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <meta name=\"color-scheme\" content=\"light dark\">\n\
         <title>{}</title>\n<style>\n{}{PAGE_STYLE}</style>\n</head>\n<body>\n<main>\n",
        escape(&document.question),
        chart::STYLE,
    );
    head(document, &mut out);
    out.push_str("<div class=\"spread\">\n<div class=\"body\">\n");
    if let Some(figure) = &document.picture {
        out.push_str(&picture("p", figure)?);
    }
    out.push_str(&html_table::table(&document.table, document));
    out.push_str("</div>\n");
    margin(document, &mut out);
    out.push_str("</div>\n");
    for (index, one) in document.sections.iter().enumerate() {
        section(index + 1, one, document, &mut out)?;
    }
    out.push_str("</main>\n");
    if !document.imprint.is_empty() {
        out.push_str("<footer>\n");
        for line in &document.imprint {
            let _ = writeln!(out, "<p>{}</p>", typeset(line));
        }
        out.push_str("</footer>\n");
    }
    out.push_str("</body>\n</html>\n");
    Ok(out)
}

fn head(document: &Document, out: &mut String) {
    let _ = write!(
        out,
        "<header>\n<h1>{}</h1>\n<div class=\"answer\">\n",
        typeset(&document.question)
    );
    if let Some(state) = document.state {
        out.push_str(&sign(state));
        out.push('\n');
    }
    let _ = write!(
        out,
        "<p>{}</p>\n</div>\n</header>\n",
        typeset(&document.answer)
    );
}

fn picture(id: &str, figure: &Figure) -> Result<String, DocumentFault> {
    let draw = |sheet: &Sheet<'_>| chart::draw(figure, sheet);
    drawn(id, &draw, &figure.title, &figure.caption, &figure.sources)
}

fn balance(id: &str, balance: &Balance) -> Result<String, DocumentFault> {
    let draw = |sheet: &Sheet<'_>| chart::draw_balance(balance, sheet);
    drawn(
        id,
        &draw,
        &balance.title,
        &balance.caption,
        &balance.sources,
    )
}

/// A picture drawn twice, for a desk and for a hand; the style shows the one that fits.
fn drawn(
    id: &str,
    draw: &dyn Fn(&Sheet<'_>) -> Result<String, ChartFault>,
    title: &str,
    caption: &str,
    sources: &[String],
) -> Result<String, DocumentFault> {
    let (wide, narrow) = (format!("{id}w"), format!("{id}n"));
    let draw = |sheet: Sheet<'_>| {
        draw(&sheet).map_err(|fault| DocumentFault::Picture {
            place: title.to_owned(),
            fault,
        })
    };
    let mut out = format!(
        "<figure>\n<h2>{}</h2>\n<div class=\"wide\">{}</div>\n<div class=\"narrow\">{}</div>\n",
        typeset(title),
        draw(Sheet::wide(&wide))?,
        draw(Sheet::narrow(&narrow))?,
    );
    if !caption.trim().is_empty() || !sources.is_empty() {
        out.push_str("<figcaption>");
        out.push_str(&typeset(caption));
        for source in sources {
            let _ = write!(out, " <span class=\"from\">{}</span>", typeset(source));
        }
        out.push_str("</figcaption>\n");
    }
    out.push_str("</figure>\n");
    Ok(out)
}

fn margin(document: &Document, out: &mut String) {
    if document.notes.is_empty() {
        return;
    }
    out.push_str("<aside aria-label=\"Cautions, doubts and sources\">\n");
    for (place, (_, note)) in document.ordered_notes().into_iter().enumerate() {
        let word = note.kind.word();
        let _ = writeln!(
            out,
            "<p class=\"note {}\" id=\"note-{number}\"><span class=\"kind\">{word}\u{a0}{number}</span> {}</p>",
            word.to_lowercase(),
            typeset(&note.text),
            number = place + 1,
        );
    }
    out.push_str("</aside>\n");
}

fn section(
    number: usize,
    section: &Section,
    document: &Document,
    out: &mut String,
) -> Result<(), DocumentFault> {
    let _ = write!(
        out,
        "<details>\n<summary><span class=\"title\">{}</span>",
        typeset(&section.title)
    );
    if !section.summary.trim().is_empty() {
        let _ = write!(
            out,
            " <span class=\"say\">{}</span>",
            typeset(&section.summary)
        );
    }
    out.push_str("</summary>\n<div class=\"body\">\n");
    for (index, block) in section.blocks.iter().enumerate() {
        match block {
            Block::Text { text } => {
                let _ = writeln!(out, "<p>{}</p>", typeset(text));
            }
            Block::Picture { figure } => {
                out.push_str(&picture(&format!("s{number}b{}", index + 1), figure)?);
            }
            Block::Balance { balance: one } => {
                out.push_str(&balance(&format!("s{number}b{}", index + 1), one)?);
            }
            Block::Table { table } => out.push_str(&html_table::table(table, document)),
        }
    }
    out.push_str("</div>\n</details>\n");
    Ok(())
}
