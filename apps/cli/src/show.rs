//! Data to the standard output, talk to the standard error.

use crate::arguments::{Reported, Shown};
use crate::outcome::{Failure, Outcome};
use crate::write::write_whole;
use drybed::Document;
use std::io::{self, Write};

/// Data: a text and its line end.
pub(crate) fn say(text: &str) -> Result<Outcome, Failure> {
    let mut out = io::stdout().lock();
    let end = if text.ends_with('\n') { "" } else { "\n" };
    out.write_all(text.as_bytes())
        .and_then(|()| out.write_all(end.as_bytes()))
        .and_then(|()| out.flush())
        .map_err(Failure::Output)?;
    Ok(Outcome::Met)
}

/// Talk. When even that cannot be said, nobody is listening.
pub(crate) fn tell(text: &str) {
    let _ = writeln!(io::stderr().lock(), "{text}");
}

/// An answer as JSON or as text, and its report where one is wanted.
///
/// The report is written first, so that an answer that was shown has left everything it promised.
pub(crate) fn answer(
    document: &Document,
    json: impl FnOnce() -> Result<String, drybed::Trouble>,
    shown: &Shown,
    reported: &Reported,
) -> Result<(), Failure> {
    let text = match (shown.json, reported.verbose) {
        (true, _) => json()?,
        (false, true) => document.full_text().map_err(drybed::Trouble::from)?,
        (false, false) => document.text().map_err(drybed::Trouble::from)?,
    };
    if let Some(path) = &reported.report {
        let page = document.html().map_err(drybed::Trouble::from)?;
        write_whole(path, &page)?;
    }
    say(&text)?;
    if let Some(path) = &reported.report {
        tell(&format!("report: {}", path.display()));
    }
    Ok(())
}
