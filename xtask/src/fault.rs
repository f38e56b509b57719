//! One broken rule: where, what, and how to mend it.

use std::fmt;

/// A place where a rule of this house does not hold.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Fault {
    /// Path from the root of the repository.
    pub(crate) file: String,
    /// Line, counted from 1.
    pub(crate) line: usize,
    /// What is wrong.
    pub(crate) what: String,
    /// What to do about it.
    pub(crate) mend: String,
}

impl Fault {
    /// A fault at a line of a file.
    pub(crate) fn at(
        file: &str,
        line: usize,
        what: impl Into<String>,
        mend: impl Into<String>,
    ) -> Self {
        Self {
            file: file.to_owned(),
            line,
            what: what.into(),
            mend: mend.into(),
        }
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            out,
            "{}:{}: {}\n    mend: {}",
            self.file, self.line, self.what, self.mend
        )
    }
}
