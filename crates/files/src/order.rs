//! Mistakes as a person works through them: in the order of the file, each table by its whole path.

use quantity::{FaultKind, Faults};

/// The mistakes in the order of their places, a table to be added named by its whole path.
pub(crate) fn in_order(mut faults: Faults) -> Faults {
    let adds = [
        FaultKind::MissingField,
        FaultKind::Alternatives,
        FaultKind::WrongSort,
    ];
    for fault in faults.0.iter_mut().filter(|f| adds.contains(&f.kind)) {
        let path = &fault.place.path;
        let lines = fault.mend.lines().map(|line| match heading(line) {
            Some((before, name)) if path.ends_with(&format!(".{name}")) => {
                format!("{before}[{path}]")
            }
            Some((before, name)) if path != name && !path.is_empty() => {
                format!("{before}[{path}.{name}]")
            }
            _ => line.to_owned(),
        });
        fault.mend = lines.collect::<Vec<_>>().join("\n");
    }
    match faults.or(()) {
        Ok(()) => Faults::none(),
        Err(ordered) => ordered,
    }
}

/// What stands before a heading at the end of a line, and its name.
fn heading(line: &str) -> Option<(&str, &str)> {
    let (before, name) = line.strip_suffix(']')?.rsplit_once('[')?;
    let bare = before.is_empty() || before.ends_with(' ');
    let plain = name.chars().all(|c| c.is_ascii_lowercase() || c == '_');
    (bare && plain && !name.is_empty()).then_some((before, name))
}
