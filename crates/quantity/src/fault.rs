//! A fault: one mistake a person made in something they wrote, with its place, cause and mend.

use serde::Serialize;
use std::fmt;

/// Where a mistake stands.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct Place {
    /// The file as the user named it; empty when the text came from elsewhere.
    pub file: String,
    /// Line, counted from 1; 0 when the fault belongs to the whole file.
    pub line: usize,
    /// Column in characters, counted from 1; 0 when the fault belongs to the whole line.
    pub column: usize,
    /// Path of the field, for example `demand.rate`; empty for the whole file.
    pub path: String,
}

/// What sort of mistake it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum FaultKind {
    /// A field nobody asks for.
    UnknownField,
    /// A field that must be there and is not.
    MissingField,
    /// The same field twice.
    RepeatedField,
    /// A number without its unit.
    MissingUnit,
    /// A unit without its basis: wet or dry, frost or dew, absolute or gauge, at which state.
    MissingBasis,
    /// A unit nobody knows.
    UnknownUnit,
    /// A quantity of another sort than the one wanted.
    WrongDimension,
    /// A possible number that lies outside what the field allows.
    OutOfRange,
    /// A name that is not among those known.
    UnknownName,
    /// Text where a number is wanted, or a number that cannot be read.
    NotANumber,
    /// Something else where text is wanted.
    NotText,
    /// Another sort of value than the field takes: a table for a number, a list for a flag.
    WrongSort,
    /// A file that cannot be opened or is not in its format.
    Unreadable,
    /// Two fields that contradict each other.
    Inconsistent,
    /// One of several alternatives must be given, and none or too many are.
    Alternatives,
    /// A source that is cited and missing, or listed and never cited.
    Source,
    /// A file of a format version this program does not read.
    Format,
}

/// One mistake: where, what was written, why it is wrong, how to mend it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Fault {
    /// Where it stands.
    pub place: Place,
    /// What was written there, as written; empty when nothing was.
    pub value: String,
    /// Why it is wrong.
    pub cause: String,
    /// What to write instead; several lines when there are several candidates.
    pub mend: String,
    /// The sort of mistake.
    pub kind: FaultKind,
}

/// Every mistake found in one reading, in the order of their places.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
#[serde(transparent)]
pub struct Faults(pub Vec<Fault>);

impl Place {
    /// A place known by file and field path only.
    pub fn of(file: impl Into<String>, path: impl Into<String>) -> Self {
        Self {
            file: file.into(),
            line: 0,
            column: 0,
            path: path.into(),
        }
    }
}

impl Fault {
    /// A fault with everything said.
    pub fn new(
        kind: FaultKind,
        place: Place,
        value: impl Into<String>,
        cause: impl Into<String>,
        mend: impl Into<String>,
    ) -> Self {
        Self {
            place,
            value: value.into(),
            cause: cause.into(),
            mend: mend.into(),
            kind,
        }
    }
}

impl Faults {
    /// No fault yet.
    pub const fn none() -> Self {
        Self(Vec::new())
    }

    /// Whether nothing is wrong.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// How many mistakes there are.
    pub fn len(&self) -> usize {
        self.0.len()
    }

    /// Adds one mistake.
    pub fn push(&mut self, fault: Fault) {
        self.0.push(fault);
    }

    /// Adds every mistake of another reading, or of one check.
    pub fn extend(&mut self, others: impl IntoIterator<Item = Fault>) {
        self.0.extend(others);
    }

    /// The mistakes, one by one.
    pub fn iter(&self) -> std::slice::Iter<'_, Fault> {
        self.0.iter()
    }

    /// The value when nothing is wrong, otherwise every mistake ordered by place.
    pub fn or<T>(mut self, value: T) -> Result<T, Self> {
        if self.0.is_empty() {
            Ok(value)
        } else {
            self.0.sort_by(|a, b| a.place.cmp(&b.place));
            Err(self)
        }
    }
}

impl<'a> IntoIterator for &'a Faults {
    type Item = &'a Fault;
    type IntoIter = std::slice::Iter<'a, Fault>;
    fn into_iter(self) -> Self::IntoIter {
        self.0.iter()
    }
}

impl IntoIterator for Faults {
    type Item = Fault;
    type IntoIter = std::vec::IntoIter<Fault>;
    fn into_iter(self) -> Self::IntoIter {
        self.0.into_iter()
    }
}

impl From<Fault> for Faults {
    fn from(fault: Fault) -> Self {
        Self(vec![fault])
    }
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut said = false;
        if !self.file.is_empty() {
            write!(f, "{}", self.file)?;
            said = true;
        }
        if self.line > 0 {
            write!(f, "{}{}", if said { ":" } else { "line " }, self.line)?;
            if self.column > 0 {
                write!(f, ":{}", self.column)?;
            }
            said = true;
        }
        if !self.path.is_empty() {
            write!(f, "{}{}", if said { "  " } else { "" }, self.path)?;
            said = true;
        }
        if said { Ok(()) } else { write!(f, "here") }
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.place)?;
        if !self.value.is_empty() {
            let join = if self.place.path.is_empty() {
                "  "
            } else {
                " = "
            };
            write!(f, "{join}{}", self.value)?;
        }
        write!(f, "\n  cause: {}", hang(&self.cause))?;
        write!(f, "\n  mend:  {}", hang(&self.mend))
    }
}

impl fmt::Display for Faults {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (index, fault) in self.0.iter().enumerate() {
            if index > 0 {
                write!(f, "\n\n")?;
            }
            write!(f, "{fault}")?;
        }
        Ok(())
    }
}

impl std::error::Error for Fault {}
impl std::error::Error for Faults {}

/// Later lines hang under the first.
fn hang(text: &str) -> String {
    text.replace('\n', "\n         ")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fault(line: usize) -> Fault {
        Fault::new(
            FaultKind::MissingUnit,
            Place {
                file: "job.toml".into(),
                line,
                column: 8,
                path: "demand.rate".into(),
            },
            "\"12\"",
            "a mass flow needs a unit",
            "write one of\n12 kg/h\n12 lb/h",
        )
    }

    #[test]
    fn holds_one_block_a_fault() {
        assert_eq!(
            fault(4).to_string(),
            "job.toml:4:8  demand.rate = \"12\"\n  cause: a mass flow needs a unit\n  mend:  \
             write one of\n         12 kg/h\n         12 lb/h"
        );
    }

    #[test]
    fn holds_faults_come_out_in_the_order_of_the_file() {
        let faults = Faults(vec![fault(9), fault(2)]);
        let lines = faults
            .or(())
            .map_err(|f| f.iter().map(|x| x.place.line).collect::<Vec<_>>());
        assert_eq!(lines, Err(vec![2, 9]));
        assert_eq!(Faults::none().or(7), Ok(7));
    }

    #[test]
    fn holds_a_place_says_what_it_knows() {
        assert_eq!(Place::default().to_string(), "here");
        assert_eq!(Place::of("", "a.b").to_string(), "a.b");
        assert_eq!(Place::of("f", "").to_string(), "f");
    }
}
