//! The fields of what happens at a moment of a schedule, of its loader and of its chances.

use crate::job_file::{COLDEST_PLACE, DAMPEST_POINT, DRIEST_POINT, WARMEST_PLACE, quantity};
use quantity::{Field, FieldKind, Meaning, Section};

/// When something happens.
const AT: Field = Field::required("at", FieldKind::Text, "2026-03-25 14:00", "When");

pub(super) static CHANGEOVER: Section = Section {
    fields: &[
        AT,
        Field::required(
            "job",
            FieldKind::Text,
            "pc-white.toml",
            "Job file of what comes, looked for beside this file; its hopper and air are set from then on",
        ),
        Field::defaulted(
            "way",
            FieldKind::Choice(&["drain", "run down"]),
            "drain",
            "What becomes of what is in the hopper: drained at once, or run down by the press before, with the rest \
             drained",
        ),
        Field::optional(
            "name",
            FieldKind::Text,
            "to white",
            "What you call it; the title of its job when left out",
        ),
    ],
    rules: &[],
};

pub(super) static LEVEL: Section = Section {
    fields: &[
        AT,
        Field::required(
            "level",
            quantity!(Fraction),
            "60 %",
            "Share of the full hopper to which it is filled",
        )
        .within(0.01, 1.0),
    ],
    rules: &[],
};

pub(super) static REFILL: Section = Section {
    fields: &[
        AT,
        Field::optional(
            "mass",
            quantity!(Mass),
            "25 kg",
            "How much is filled in, weighed as it is; up to full when left out",
        )
        .within(f64::MIN_POSITIVE, 1e6),
    ],
    rules: &[],
};

pub(super) static LOADER: Section = Section {
    fields: &[Field::required(
        "batch",
        quantity!(Mass),
        "3 kg",
        "Resin of one cycle, weighed as it is",
    )
    .within(1e-6, 1e4)],
    rules: &[],
};

pub(super) static HALL: Section = Section {
    fields: &[
        AT,
        Field::required(
            "temperature",
            quantity!(Temperature),
            "28 degC",
            "Temperature of the hall",
        )
        .within(COLDEST_PLACE, WARMEST_PLACE),
        Field::required(
            "humidity",
            quantity!(Humidity),
            "55 %RH",
            "Humidity of the hall",
        )
        .within(DRIEST_POINT, DAMPEST_POINT),
    ],
    rules: &[],
};

pub(super) static CHANCES: Section = Section {
    fields: &[
        Field::optional(
            "stops_per_hour",
            quantity!(Frequency),
            "0.05 1/h",
            "Stops that nobody planned, per hour that the press runs",
        )
        .within(0.0, 60.0 / 3600.0),
        Field::optional(
            "stop_length",
            quantity!(Duration),
            "20 min",
            "Their usual length: half of them are longer",
        )
        .within(1.0, 7.0 * 86_400.0),
        Field::optional(
            "rate_spread",
            quantity!(Fraction),
            "5 %",
            "Spread of the rate from order to order, one standard deviation",
        )
        .within(0.0, 1.0),
        Field::optional(
            "lateness",
            quantity!(Duration),
            "10 min",
            "Time by which people begin late or early, one standard deviation",
        )
        .within(0.0, 86_400.0),
    ],
    rules: &[],
};
