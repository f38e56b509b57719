//! What a file says that a person wrote about one thing, and its mistakes so far.

use crate::bag::Bag;
use crate::order::in_order;
use crate::text::{Text, too_long};
use crate::walk::{FileKind, read_whole};
use quantity::{FaultKind, Faults};
use std::path::Path;

/// What stands in a text of `what`, and what is wrong in it where the rest can still be understood.
///
/// # Errors
/// A text that is too long, and mistakes that leave it open what the rest of it says.
pub(crate) fn whole(
    text: &Text,
    kind: &FileKind,
    what: &str,
    mend: &str,
) -> Result<(Bag, Faults), Faults> {
    if let Some(fault) = too_long(&text.name, &text.content, what, mend) {
        return Err(fault.into());
    }
    let (bag, faults) = read_whole(text, kind);
    if faults.iter().any(|fault| unsound(fault.kind)) {
        // What follows from a line that could not be read is no mistake of the user.
        return Err(in_order(faults));
    }
    Ok((bag, faults))
}

/// Whether a mistake leaves it open what the rest of the file says.
fn unsound(kind: FaultKind) -> bool {
    matches!(
        kind,
        FaultKind::Unreadable | FaultKind::RepeatedField | FaultKind::Format
    )
}

/// Mistakes so far.
pub(crate) struct Kept<'a>(pub(crate) &'a mut Faults);

impl Kept<'_> {
    /// What was read; what is wrong with it is kept.
    pub(crate) fn of<T>(&mut self, read: Result<T, Faults>) -> Option<T> {
        read.map_err(|mistakes| self.0.extend(mistakes)).ok()
    }
}

/// The name of a file without folder and ending, or `other` where it has none.
pub(crate) fn stem(file: &str, other: &str) -> String {
    let stem = Path::new(file).file_stem();
    stem.map_or_else(|| other.to_owned(), |s| s.to_string_lossy().into_owned())
}
