//! The library of resins: which there are, what is known of each, and how they differ.

mod check;
mod compare;
mod groups;
mod line;
mod list;
mod new;
mod numbers;
mod page;
mod reading;
mod show;

pub use check::{CheckAnswer, CheckedRecord, check_records};
pub use compare::{Compared, ComparisonAnswer, compare};
pub use line::ResinLine;
pub use list::{ResinSearch, find_resins, resin_table, resins};
pub use new::{NewResinAnswer, NewResinWords, new_resin};
pub use numbers::{PelletTime, ResinNumbers};
pub(crate) use numbers::{diffusivity_at, wet_ppm};
pub use page::library_page;
pub use show::{ResinAnswer, resin};

use files::{Library, Loaded, Text};
use quantity::Faults;
use std::path::Path;

/// The library shipped with the program, with the records of a folder laid over it.
///
/// # Errors
/// Every mistake in the records.
pub fn library(folder: Option<&Path>) -> Result<Library, Faults> {
    let shipped = Library::shipped()?;
    match folder {
        None => Ok(shipped),
        Some(path) => shipped.with_folder(path)?.sound(),
    }
}

/// As [`library`], with the grades of a file beside; what is sound is in it, and every mistake
/// beside it.
///
/// # Errors
/// A folder that cannot be listed, a file of grades that cannot be opened.
pub fn open_library(folder: Option<&Path>, grades: Option<&Path>) -> Result<Loaded, Faults> {
    let shipped = Library::shipped()?;
    let loaded = match folder {
        None => Loaded {
            library: shipped,
            faults: Faults::none(),
        },
        Some(path) => shipped.with_folder(path)?,
    };
    Ok(match grades {
        None => loaded,
        Some(path) => loaded.with_grades(&Text::open(path)?),
    })
}
