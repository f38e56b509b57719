//! Why a text could not be read as a quantity, and what to write instead.

use crate::fault::{Fault, FaultKind, Place};
use crate::meaning::Meaning;

/// One way to write what was probably meant, and what that would mean.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct Candidate {
    /// What to write.
    pub write: String,
    /// What it would mean, in a unit that lets the candidates be compared; may be empty.
    pub means: String,
}

/// Why a text is not the quantity that was wanted.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Misread {
    /// Nothing was written.
    #[error("nothing is written where {} is wanted", .wanted.with_article())]
    Empty {
        /// What was wanted.
        wanted: Meaning,
    },
    /// The text does not begin with a number.
    #[error("this does not begin with a number; {} is wanted", .wanted.with_article())]
    NotANumber {
        /// What was wanted.
        wanted: Meaning,
    },
    /// A comma inside the number.
    #[error(
        "a comma stands in the number; the decimal sign is a point and thousands are not marked"
    )]
    DecimalComma {
        /// The same text with a point, and without the comma.
        candidates: Vec<Candidate>,
    },
    /// Digits in groups, as in `12 000 kg`.
    #[error("digits stand in groups; write the number without spaces or marks")]
    GroupedDigits {
        /// The number in one piece.
        joined: String,
    },
    /// A power of ten written out, as in `1.5 x 10^-10`.
    #[error("a power of ten is written as in 1.5e-10")]
    WrittenPower,
    /// A number too large to compute with.
    #[error("the number is too large to compute with")]
    TooLarge,
    /// A number without a unit.
    #[error("a unit is missing; {} is wanted", .wanted.with_article())]
    MissingUnit {
        /// What was wanted.
        wanted: Meaning,
        /// The number with each customary unit.
        candidates: Vec<Candidate>,
    },
    /// A number with a unit that leaves open what it is counted against.
    #[error("the basis is missing: {question}")]
    MissingBasis {
        /// The question that is left open.
        question: &'static str,
        /// Each answer, with what it would mean.
        candidates: Vec<Candidate>,
    },
    /// A unit that is in no table.
    #[error("the unit {unit:?} is not known; {} is wanted", .wanted.with_article())]
    UnknownUnit {
        /// The unit as written.
        unit: String,
        /// What was wanted.
        wanted: Meaning,
        /// Known units that resemble it.
        near: Vec<&'static str>,
    },
    /// A known unit of something else.
    #[error("this is {is}, and {} is wanted", .wanted.with_article())]
    WrongDimension {
        /// What it is, with its article.
        is: &'static str,
        /// What was wanted.
        wanted: Meaning,
    },
    /// A value that nothing can have.
    #[error("{why}")]
    Impossible {
        /// Why nothing can have it.
        why: &'static str,
        /// What to do about it.
        mend: &'static str,
    },
}

impl Misread {
    /// The sort of mistake.
    pub const fn kind(&self) -> FaultKind {
        match self {
            Self::Empty { .. }
            | Self::NotANumber { .. }
            | Self::DecimalComma { .. }
            | Self::GroupedDigits { .. }
            | Self::WrittenPower => FaultKind::NotANumber,
            Self::TooLarge | Self::Impossible { .. } => FaultKind::OutOfRange,
            Self::MissingUnit { .. } => FaultKind::MissingUnit,
            Self::MissingBasis { .. } => FaultKind::MissingBasis,
            Self::UnknownUnit { .. } => FaultKind::UnknownUnit,
            Self::WrongDimension { .. } => FaultKind::WrongDimension,
        }
    }

    /// What to write instead; a line for each candidate.
    pub fn mend(&self) -> String {
        match self {
            Self::Empty { wanted } | Self::NotANumber { wanted } => {
                format!("write for example {:?}", wanted.example())
            }
            Self::GroupedDigits { joined } => format!("write {joined:?}"),
            Self::WrittenPower => "write the number as in \"1.5e-10 m2/s\"".to_owned(),
            Self::TooLarge => "write a smaller number".to_owned(),
            Self::MissingUnit { wanted, candidates } => {
                format!(
                    "{}\n{}",
                    list("write one of", candidates),
                    accepted(*wanted)
                )
            }
            Self::DecimalComma { candidates } | Self::MissingBasis { candidates, .. } => {
                list("write one of", candidates)
            }
            Self::UnknownUnit { wanted, near, .. } => match near.as_slice() {
                [] => accepted(*wanted),
                [one] => format!("did you mean {one}?\n{}", accepted(*wanted)),
                more => format!("did you mean {}?\n{}", more.join(" or "), accepted(*wanted)),
            },
            Self::WrongDimension { wanted, .. } => {
                format!(
                    "write for example {:?}\n{}",
                    wanted.example(),
                    accepted(*wanted)
                )
            }
            Self::Impossible { mend, .. } => (*mend).to_owned(),
        }
    }

    /// The candidates offered, when there are any.
    pub fn candidates(&self) -> &[Candidate] {
        match self {
            Self::DecimalComma { candidates }
            | Self::MissingUnit { candidates, .. }
            | Self::MissingBasis { candidates, .. } => candidates,
            _ => &[],
        }
    }

    /// The fault this is when it stands at `place`, written as `written`.
    pub fn at(&self, place: Place, written: &str) -> Fault {
        Fault::new(
            self.kind(),
            place,
            format!("{written:?}"),
            self.to_string(),
            self.mend(),
        )
    }
}

/// Candidates in two columns.
fn list(head: &str, candidates: &[Candidate]) -> String {
    let width = candidates.iter().map(|c| c.write.chars().count()).max();
    let mut text = match candidates {
        [_] => "write".to_owned(),
        _ => head.to_owned(),
    };
    for candidate in candidates {
        let gap = width
            .unwrap_or(0)
            .saturating_sub(candidate.write.chars().count());
        text.push_str("\n\"");
        text.push_str(&candidate.write);
        text.push('"');
        if !candidate.means.is_empty() {
            text.push_str(&" ".repeat(gap));
            text.push_str("  -> ");
            text.push_str(&candidate.means);
        }
    }
    text
}

/// "units of a mass flow: kg/h, ..."
fn accepted(wanted: Meaning) -> String {
    match wanted {
        Meaning::Humidity => {
            "accepted are degC frost, degC dew, degF frost, degF dew, g/kg, gr/lb, %RH, \
             ppm by volume, g/m3, Pa vapour"
                .to_owned()
        }
        Meaning::AirFlow => {
            "accepted are kg/h dry air, lb/h dry air, kg/h moist air, and m3/h or cfm with \
             \"at <temperature> and <pressure>\""
                .to_owned()
        }
        Meaning::Moisture | Meaning::MoistureDryBasis | Meaning::MoistureWetBasis => {
            "accepted are % wet, % dry, ppm wet, ppm dry, kg/kg wet, kg/kg dry".to_owned()
        }
        Meaning::Number => "write the number alone".to_owned(),
        _ => {
            let basis = match wanted {
                Meaning::AbsolutePressure => "(a)",
                Meaning::GaugePressure => "(g)",
                Meaning::Pressure => "(a) or (g)",
                Meaning::DewPoint => " dew",
                Meaning::FrostPoint => " frost",
                _ => "",
            };
            let symbols: Vec<String> = wanted
                .dimension()
                .units
                .iter()
                .map(|u| {
                    if u.symbol == "atm" {
                        u.symbol.to_owned()
                    } else {
                        format!("{}{basis}", u.symbol)
                    }
                })
                .collect();
            format!("accepted are {}", symbols.join(", "))
        }
    }
}
