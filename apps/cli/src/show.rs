//! Data to the standard output, talk to the standard error.

use crate::arguments::{Reported, Shown};
use crate::outcome::{Failure, Outcome};
use crate::write::write_whole;
use drybed::{Document, Fault, Library, Loaded};
use std::io::{self, IsTerminal, Write};
use std::sync::Mutex;

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

/// What of the user's own dryers had to be left out.
pub(crate) fn tell_left_out(own: &drybed::StatedDryers) {
    if own.faults.is_empty() {
        return;
    }
    tell(&format!("\n{}", own.faults));
    tell(&format!(
        "\n{}; answered without {}.",
        mistakes(own.faults.len()),
        own.left_out.join(", ")
    ));
}

/// How many mistakes there are.
pub(crate) fn mistakes(count: usize) -> String {
    match count {
        1 => "1 mistake".to_owned(),
        several => format!("{several} mistakes"),
    }
}

/// Asks something of the library with the user's own records and grades laid over it. What of them is
/// broken is left out, so that the rest can still be used, and told once: after the answer, or with
/// the mistakes for which there is none.
pub(crate) fn with_library(
    reported: &Reported,
    ask: impl FnOnce(&Library) -> Result<Outcome, Failure>,
) -> Result<Outcome, Failure> {
    let Loaded { library, faults } =
        drybed::open_library(reported.resins.as_deref(), reported.grades.as_deref())?;
    match ask(&library) {
        Err(Failure::Asked(mut asked)) => {
            let untold: Vec<Fault> = faults
                .into_iter()
                .filter(|fault| !asked.0.contains(fault))
                .collect();
            asked.extend(untold);
            Err(Failure::Asked(asked))
        }
        outcome => {
            if !faults.is_empty() {
                tell(&format!("\n{faults}"));
                tell(&format!(
                    "\n{}{}.",
                    mistakes(faults.len()),
                    left_out(&library)
                ));
            }
            outcome
        }
    }
}

/// What cannot be used, in words.
fn left_out(library: &Library) -> String {
    let keys: Vec<&str> = library.unusable.iter().map(|r| r.key.as_str()).collect();
    if keys.is_empty() {
        return String::new();
    }
    format!("; answered without {}", keys.join(", "))
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

/// A bar that says how far a long answer is, where a person looks on.
pub(crate) struct Bar {
    shown: Option<Mutex<(&'static str, f64)>>,
}

impl Bar {
    /// A bar; none where nobody looks.
    pub(crate) fn new() -> Self {
        let looks = io::stderr().is_terminal();
        Self {
            shown: looks.then(|| Mutex::new(("", 0.0))),
        }
    }

    /// So much of something is done, 0 to 1; it never goes back.
    pub(crate) fn at(&self, what: &'static str, share: f64) {
        /// Letters of the bar.
        const LETTERS: usize = 30;
        let Some(Ok(mut shown)) = self.shown.as_ref().map(Mutex::lock) else {
            return;
        };
        let share = if shown.0 == what {
            share.max(shown.1)
        } else {
            share
        };
        *shown = (what, share);
        let parts = (1..=LETTERS).map(|k| {
            if k as f64 <= share * LETTERS as f64 {
                '='
            } else {
                '.'
            }
        });
        let bar: String = parts.collect();
        let mut out = io::stderr().lock();
        let _ = write!(out, "\r{bar} {:3.0} % {what}      ", 100.0 * share);
        let _ = out.flush();
    }

    /// The answer follows.
    pub(crate) fn done(&self) {
        if self.shown.is_some() {
            tell("");
        }
    }
}
