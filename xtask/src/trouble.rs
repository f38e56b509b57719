//! Everything that can stop a house-keeping task, each with what to do about it.

use std::fmt;
use std::io;
use std::path::PathBuf;

/// Why a task stopped.
#[derive(Debug)]
pub(crate) enum Trouble {
    /// A task nobody wrote.
    UnknownTask { task: String },
    /// A flag the task does not take.
    UnknownFlag { task: String, flag: String },
    /// Measured times differ from run to run, so the long validation has nothing to compare.
    NotComparable,
    /// A file that could not be read.
    Unreadable { path: PathBuf, cause: io::Error },
    /// A file that could not be written.
    Unwritable { path: PathBuf, cause: io::Error },
    /// A file or an answer that is not the data it should be.
    NotData { what: String, cause: String },
    /// A program that could not be started.
    NotStarted { command: String, cause: io::Error },
    /// A program that ran and said no.
    Refused { command: String, code: Option<i32> },
    /// Rules that do not hold; they were printed before.
    Faults { count: usize },
    /// A generated file that is not what the program generates now.
    Stale {
        path: String,
        line: usize,
        kept: String,
        generated: String,
    },
    /// A test run in which no test ran.
    NoTestRan,
    /// A folder that holds nothing to run.
    NothingToRun { folder: String },
}

impl fmt::Display for Trouble {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::UnknownTask { task } => {
                write!(
                    out,
                    "there is no task `{task}`; `cargo xtask help` lists them"
                )
            }
            Self::UnknownFlag { task, flag } => {
                write!(
                    out,
                    "`{task}` does not take `{flag}`; `cargo xtask help` lists what it takes"
                )
            }
            Self::NotComparable => write!(
                out,
                "`validate --long` measures times, which differ from run to run; \
                 compare without `--long`"
            ),
            Self::Unreadable { path, cause } => {
                write!(out, "cannot read {}: {cause}", path.display())
            }
            Self::Unwritable { path, cause } => {
                write!(out, "cannot write {}: {cause}", path.display())
            }
            Self::NotData { what, cause } => write!(out, "cannot understand {what}: {cause}"),
            Self::NotStarted { command, cause } => {
                write!(
                    out,
                    "cannot start `{command}`: {cause}; is it installed and on PATH?"
                )
            }
            Self::Refused {
                command,
                code: Some(code),
            } => {
                write!(
                    out,
                    "`{command}` ended with code {code}; its own message stands above"
                )
            }
            Self::Refused {
                command,
                code: None,
            } => write!(out, "`{command}` was ended by a signal"),
            Self::Faults { count: 1 } => write!(out, "1 fault, listed above with its mend"),
            Self::Faults { count } => {
                write!(out, "{count} faults, listed above, each with its mend")
            }
            Self::Stale {
                path,
                line,
                kept,
                generated,
            } => write!(
                out,
                "{path} differs from what the program prints now, first at line {line}\n  \
                 kept:      {kept}\n  generated: {generated}\n  \
                 run `cargo xtask validate`, read the difference, and commit it"
            ),
            Self::NoTestRan => write!(out, "no test ran, so nothing was shown"),
            Self::NothingToRun { folder } => write!(out, "{folder} holds nothing to run"),
        }
    }
}
