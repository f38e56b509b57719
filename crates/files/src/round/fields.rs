//! The fields of a round file.

use crate::walk::FileKind;
use job::{DryerKind, ReadingKind};
use quantity::{Field, FieldKind, Meaning, Rule, Section};

/// Round files.
pub const ROUND: FileKind = FileKind {
    name: "a round file",
    format: 1,
    section: &ROUND_FIELDS,
};

static ROUND_FIELDS: Section = Section {
    fields: &[
        Field::FORMAT,
        Field::optional(
            "title",
            FieldKind::Text,
            "press 4, Tuesday night",
            "What you call the round; the name of the file when left out",
        ),
        Field::required(
            "job",
            FieldKind::Text,
            "../pa66-housings.toml",
            "Job file of what the dryer runs, looked for beside this file",
        ),
        Field::required("dryer", FieldKind::Table(&DRYER), "", "The dryer"),
        Field::optional(
            "good_round",
            FieldKind::Text,
            "monday.toml",
            "Round file of a good day, taken on this dryer with the same instruments; it narrows what the model may \
             be off by",
        ),
        Field::required(
            "reading",
            FieldKind::Tables(&READING),
            "",
            "What was read, with the dryer at rest: no start, no swap, no refill just before",
        )
        .within(1.0, 40.0),
    ],
    rules: &[],
};

pub(crate) static DRYER: Section = Section {
    fields: &[
        Field::optional(
            "record",
            FieldKind::Text,
            "../../equipment/wheel-mid.toml",
            "Record of the dryer, looked for beside this file; it says kind, rated flow and cooler, and everything \
             else that is known of it",
        ),
        Field::optional(
            "kind",
            FieldKind::Choice(DryerKind::WORDS),
            "desiccant wheel",
            "What makes its air; where no record is named, the rest is what is usual",
        ),
        Field::optional(
            "rated_flow",
            FieldKind::Quantity(Meaning::AirFlow),
            "80 kg/h dry air",
            "Air it is rated for; that of its record, or of the job, when left out",
        )
        .within(f64::MIN_POSITIVE, 50.0),
        Field::defaulted(
            "controlled_at",
            FieldKind::Choice(&["hopper inlet", "dryer outlet"]),
            "hopper inlet",
            "Where the sensor of the temperature control sits",
        ),
        Field::defaulted(
            "water_cooler",
            FieldKind::Flag,
            "true",
            "Whether water cools the return air; for a wheel or towers, where no record says it",
        ),
        Field::optional(
            "dew_point_doubt",
            FieldKind::Quantity(Meaning::TemperatureDifference),
            "1.5 K",
            "How well the dew point that it gives in good order is known, one standard deviation; 4 K for a \
             desiccant when left out",
        )
        .within(0.2, 20.0),
    ],
    rules: &[Rule::AtLeastOne(&["record", "kind"])],
};

static READING: Section = Section {
    fields: &[
        Field::required(
            "of",
            FieldKind::Choice(ReadingKind::WORDS),
            "supply dew point",
            "What was read",
        ),
        Field::required(
            "value",
            FieldKind::Text,
            "-38 degC frost",
            "What the instrument said, with its unit",
        ),
        Field::optional(
            "error",
            FieldKind::Text,
            "2 K",
            "Error of the instrument, one standard deviation: a temperature difference for temperatures and dew \
             points, a share for the rest; the usual one when left out",
        ),
    ],
    rules: &[],
};
