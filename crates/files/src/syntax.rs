//! Mistakes of TOML itself, told with the line they stand in and how it should read.

use crate::text::Text;
use quantity::{Fault, FaultKind, Faults};

/// The mistakes of syntax, and of what was found the mistakes that do not follow from them.
pub(crate) fn faults(text: &Text, errors: &[toml::de::Error], found: Faults) -> Faults {
    let mut faults = Faults::none();
    let mut lines = Vec::new();
    for error in errors {
        let at = error.span().map_or(text.content.len(), |span| span.start);
        let mut place = text.place(at, "");
        if lines.contains(&place.line) {
            continue;
        }
        lines.push(place.line);
        let line = text.line(at);
        let (name, value) = split(line);
        name.clone_into(&mut place.path);
        let message = error.message();
        let (kind, cause) = if message.contains("duplicate key") {
            (
                FaultKind::RepeatedField,
                "this name stands twice in one table".to_owned(),
            )
        } else {
            (
                FaultKind::Unreadable,
                format!("this is not a line of TOML: {message}"),
            )
        };
        faults.push(Fault::new(
            kind,
            place,
            value,
            cause,
            mend(kind, name, value),
        ));
    }
    let astray = astray(text, &lines);
    for fault in found {
        let line = fault.place.line;
        let homeless = fault.kind == FaultKind::UnknownField && astray.contains(&line);
        if !lines.contains(&line) && !homeless {
            faults.push(fault);
        }
    }
    faults
}

/// Lines under a heading that could not be read: they were taken for part of the table above.
fn astray(text: &Text, broken: &[usize]) -> Vec<usize> {
    let mut found = Vec::new();
    let mut under = false;
    for (index, line) in text.content.lines().enumerate() {
        if line.trim_start().starts_with('[') {
            under = broken.contains(&(index + 1));
        } else if under {
            found.push(index + 1);
        }
    }
    found
}

/// The name and the value of a line.
fn split(line: &str) -> (&str, &str) {
    let line = line.trim();
    match line.split_once('=') {
        Some((name, value)) if !line.starts_with(['[', '#', '"', '\'']) => {
            (name.trim(), value.trim())
        }
        _ => ("", line),
    }
}

fn mend(kind: FaultKind, name: &str, value: &str) -> String {
    if kind == FaultKind::RepeatedField {
        return "keep one of the two".to_owned();
    }
    let bare = value.split('#').next().unwrap_or_default().trim();
    let quotes = bare.matches('"').count();
    if name.is_empty() {
        if bare.starts_with('[') && !bare.ends_with(']') {
            return format!("close the bracket: {bare}]");
        }
        return "write name = \"value\", or [table]".to_owned();
    }
    if bare.is_empty() {
        return format!("write a value after the sign: {name} = \"...\"");
    }
    if quotes == 0 && !bare.starts_with(['\'', '[', '{']) {
        return format!("put the value in quotes: {name} = \"{bare}\"");
    }
    if quotes == 1 {
        return format!("close the quotes: {name} = \"{}\"", bare.replace('"', ""));
    }
    "compare the line with the example in the reference".to_owned()
}
