//! `drybed compare`.

use crate::arguments::Compare;
use crate::outcome::{Failure, Outcome};
use crate::plan::{INPUT, input, is_input};
use crate::show::{self, tell_left_out};
use std::io::{self, IsTerminal, Write};
use std::sync::atomic::{AtomicU32, Ordering};

/// Compares the dryers for one job or several.
pub(crate) fn run(asked: &Compare) -> Result<Outcome, Failure> {
    let bar = Bar::new();
    let told = |share: f64| bar.tell(share);
    let path = asked.equipment.as_deref();
    let own = path.map(drybed::open_equipment).transpose()?;
    show::with_library(&asked.reported, |library| {
        let offered = own.as_ref();
        let found = match &asked.jobs[..] {
            [job] if is_input(job) => {
                drybed::dryers(&input()?, INPUT, library, offered, asked.samples, &told)
            }
            jobs => drybed::dryers_files(jobs, library, offered, asked.samples, &told),
        };
        bar.clear();
        let answer = found?;
        let document = answer.document(asked.shown.units.into());
        show::answer(&document, || answer.json(), &asked.shown, &asked.reported)?;
        offered.into_iter().for_each(tell_left_out);
        Ok(if answer.is_met() {
            Outcome::Met
        } else {
            Outcome::NotMet
        })
    })
}

/// How far the work has come, on the standard error when a person looks at it.
struct Bar {
    seen: bool,
    last: AtomicU32,
}

impl Bar {
    /// Cells of the bar.
    const WIDTH: u32 = 40;

    fn new() -> Self {
        Self {
            seen: io::stderr().is_terminal(),
            last: AtomicU32::new(0),
        }
    }

    fn tell(&self, share: f64) {
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "held between none and all of the cells"
        )]
        let cells = (share.clamp(0.0, 1.0) * f64::from(Self::WIDTH)) as u32;
        if !self.seen || self.last.fetch_max(cells, Ordering::Relaxed) >= cells {
            return;
        }
        let full = "█".repeat(cells as usize);
        let rest = "░".repeat((Self::WIDTH - cells) as usize);
        let _ = write!(
            io::stderr().lock(),
            "\r{full}{rest} {:3.0} %",
            100.0 * share
        );
    }

    fn clear(&self) {
        if self.seen {
            let _ = write!(io::stderr().lock(), "\r{}\r", " ".repeat(50));
        }
    }
}
