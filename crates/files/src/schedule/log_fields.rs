//! The fields of a log: a table with a time in each row.

use crate::job_file::quantity;
use quantity::{Field, FieldKind, Meaning, Section};

/// What a log can be of, in the order of [`super::log_rows::Of`].
pub(super) const OF: &[&str] = &["shots", "rate", "loader cycles", "level"];

pub(super) static LOG: Section = Section {
    fields: &[
        Field::required(
            "file",
            FieldKind::Text,
            "pa66-shots.csv",
            "Table (.csv, .xlsx) with one heading a column, looked for beside this file; times rise from row to row",
        ),
        Field::optional(
            "of",
            FieldKind::Choice(OF),
            "shots",
            "What a row is; the headings say it when left out: shot mass, rate, batch or level, and shots where there \
             are times alone",
        ),
        Field::optional(
            "time",
            FieldKind::Text,
            "stamp",
            "Heading of the column with the times; time, time stamp, timestamp or date and time when left out",
        ),
        Field::optional(
            "value",
            FieldKind::Text,
            "mass 1",
            "Heading of the column with the mass of the shot or batch, the rate, or the level; the unit stands in \
             brackets behind the heading, or in each cell",
        ),
        Field::optional(
            "shot",
            quantity!(Mass),
            "45 g",
            "Mass of a shot where no column says it; that of the job when left out",
        )
        .within(f64::MIN_POSITIVE, 1e3),
    ],
    rules: &[],
};
