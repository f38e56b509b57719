//! The reference page of a kind of file, from the descriptions of its fields.

use crate::bag::{example, join};
use crate::range::in_words;
use crate::schema::meaning;
use crate::walk::FileKind;
use quantity::{Field, FieldKind, Rule, Section};
use std::fmt::Write as _;

/// The page in Markdown: one heading a table, one row a field.
pub fn page(kind: &FileKind) -> String {
    let mut page = format!(
        "# Fields of {}\n\nThis page is generated from the descriptions the reader itself uses.\n\
         A quantity is text with its unit and basis, as in the examples.\n\
         Format {}.\n",
        kind.name, kind.format
    );
    let mut seen = Vec::new();
    section(kind.section, "", &mut page, &mut seen);
    page
}

fn section(
    section: &'static Section,
    path: &str,
    page: &mut String,
    seen: &mut Vec<(*const Section, String)>,
) {
    let heading = if path.is_empty() {
        "Above the first table".to_owned()
    } else {
        format!("`[{path}]`")
    };
    // Writing to a string cannot fail.
    let _ = writeln!(page, "\n## {heading}\n");
    if let Some((_, first)) = seen.iter().find(|(known, _)| std::ptr::eq(*known, section)) {
        let _ = writeln!(page, "The same fields as `[{first}]`.");
        return;
    }
    seen.push((std::ptr::from_ref(section), path.to_owned()));
    let _ = writeln!(
        page,
        "| field | holds | range | when left out | what it is |"
    );
    let _ = writeln!(page, "| --- | --- | --- | --- | --- |");
    for field in section.fields {
        let _ = writeln!(page, "{}", row(field));
    }
    let rules: Vec<String> = section.rules.iter().map(self::rule).collect();
    if !rules.is_empty() {
        let _ = writeln!(page, "\n{}", rules.join("\n"));
    }
    for field in section.fields {
        let here = join(path, field.name);
        match field.kind {
            FieldKind::Table(inner) | FieldKind::Partial(inner) => {
                self::section(inner, &here, page, seen);
            }
            FieldKind::Tables(inner) => self::section(inner, &here, page, seen),
            _ => {}
        }
    }
}

fn row(field: &Field) -> String {
    let holds = match field.kind {
        FieldKind::Table(_) | FieldKind::Partial(_) | FieldKind::Tables(_) => field.kind.words(),
        FieldKind::Sourced(_) => {
            format!(
                "{}, alone or with its source; `{}`",
                field.kind.words(),
                example(field)
            )
        }
        _ => format!("{}; `{}`", field.kind.words(), example(field)),
    };
    let left_out = match (field.required, field.default) {
        (true, _) => "must be there".to_owned(),
        (false, Some(default)) => format!("`{default}`"),
        (false, None) => "nothing".to_owned(),
    };
    format!(
        "| `{}` | {} | {} | {} | {} |",
        field.name,
        cell(&holds),
        in_words(field, meaning(&field.kind)),
        left_out,
        cell(field.help)
    )
}

fn cell(text: &str) -> String {
    text.replace('|', "\\|")
}

fn rule(rule: &Rule) -> String {
    let list = |names: &[&str]| {
        let quoted: Vec<String> = names.iter().map(|n| format!("`{n}`")).collect();
        quoted.join(", ")
    };
    match rule {
        Rule::ExactlyOne(names) => format!("Exactly one of {} is given.", list(names)),
        Rule::AtMostOne(names) => format!("At most one of {} is given.", list(names)),
        Rule::AtLeastOne(names) => format!("At least one of {} is given.", list(names)),
        Rule::Together(names) => format!("{} are given together or not at all.", list(names)),
        Rule::When {
            field,
            word,
            needs,
            may,
        } => {
            let mut text = format!("With `{field}` \"{word}\"");
            match (needs.is_empty(), may.is_empty()) {
                (true, true) => text.push_str(" nothing more is needed."),
                (false, true) => {
                    let _ = write!(text, " {} must be there.", list(needs));
                }
                (true, false) => {
                    let _ = write!(text, " {} may be there.", list(may));
                }
                (false, false) => {
                    let _ = write!(
                        text,
                        " {} must be there and {} may be.",
                        list(needs),
                        list(may)
                    );
                }
            }
            text
        }
    }
}
