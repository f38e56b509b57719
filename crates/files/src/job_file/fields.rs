//! The fields of a job file that ask the question: resin, demand, arrival and target.

use super::crystalliser::CRYSTALLISER;
use super::lot_fields::COMPONENT;
use super::plant::{DAY, PRICES};
use super::plant_fields::{AIR, HOPPER, MODEL, SITE};
use super::way_fields::{BAG, STORAGE, WAY};
use crate::data_sheet::DATA_SHEET_TABLE;
use crate::resin_fields::RESIN;
use quantity::constants::ZERO_CELSIUS;
use quantity::{Field, FieldKind, Meaning, Rule, Section};

/// A quantity of some meaning.
macro_rules! quantity {
    ($meaning:ident) => {
        FieldKind::Quantity(Meaning::$meaning)
    };
}
pub(crate) use quantity;

/// The lowest end of a range whose values lie above zero.
pub(super) const ABOVE_ZERO: f64 = f64::MIN_POSITIVE;
/// More water than any resin of the trade takes up, kg/kg dry resin; what is above it is a slip of
/// unit or basis.
pub(super) const MOST_MOISTURE: f64 = 0.3;
/// Moisture beyond which a limit is a slip of unit or basis, kg/kg dry resin.
const HIGHEST_LIMIT: f64 = 0.1;
/// An hour, s.
pub(super) const HOUR: f64 = 3600.0;
/// The cold and warm end of stores and halls where people work, K.
pub(crate) const COLDEST_PLACE: f64 = -40.0 + ZERO_CELSIUS;
pub(crate) const WARMEST_PLACE: f64 = 80.0 + ZERO_CELSIUS;

/// The fields of a job file.
pub static JOB_FIELDS: Section = Section {
    fields: &[
        Field::FORMAT,
        Field::optional(
            "title",
            FieldKind::Text,
            "PC lenses, press 4",
            "What you call the job; the name of the file when left out",
        ),
        Field::required(
            "resin",
            FieldKind::Partial(&JOB_RESIN),
            "",
            "Resin of the library, any value of its record stated anew, or one written inline",
        ),
        Field::required("demand", FieldKind::Table(&DEMAND), "", "How much is drawn"),
        Field::optional(
            "lot",
            FieldKind::Tables(&COMPONENT),
            "",
            "What the lot is made of, where it is a mixture; their shares add up to 100 %",
        )
        .within(1.0, 12.0),
        Field::defaulted(
            "arrival",
            FieldKind::Table(&ARRIVAL),
            "{}",
            "How the resin arrives",
        ),
        Field::defaulted(
            "target",
            FieldKind::Table(&TARGET),
            "{}",
            "How dry it must be",
        ),
        Field::optional(
            "crystalliser",
            FieldKind::Table(&CRYSTALLISER),
            "",
            "A crystalliser ahead of the hopper, through which the whole lot goes",
        ),
        Field::defaulted(
            "hopper",
            FieldKind::Table(&HOPPER),
            "{}",
            "The hopper, as far as it is given; the plan sizes what is left out",
        ),
        Field::defaulted(
            "air",
            FieldKind::Table(&AIR),
            "{}",
            "The drying air, as far as it is given; the plan sets what is left out",
        ),
        Field::defaulted(
            "site",
            FieldKind::Table(&SITE),
            "{}",
            "Where the hopper stands",
        ),
        Field::optional(
            "data_sheet",
            FieldKind::Table(&DATA_SHEET_TABLE),
            "",
            "What the data sheet of the grade says; it stands beside the computed setting, and its \
             range is the window that is kept to",
        ),
        Field::optional(
            "way",
            FieldKind::Table(&WAY),
            "",
            "What lies between the dryer and the screw; where it is stated the plan is judged at the \
             screw",
        ),
        Field::optional(
            "day",
            FieldKind::Tables(&DAY),
            "",
            "Days that stand for the year, where dryers are compared; their shares add up to 100 %",
        )
        .within(1.0, 24.0),
        Field::optional(
            "prices",
            FieldKind::Table(&PRICES),
            "",
            "What things cost, all in one currency",
        ),
        Field::defaulted(
            "model",
            FieldKind::Table(&MODEL),
            "{}",
            "What the physics does or leaves out",
        ),
    ],
    rules: &[],
};

/// Whether a resin stands on no record; it takes the place of a record's `format`.
const INLINE: Field = Field::defaulted(
    "inline",
    FieldKind::Flag,
    "false",
    "Whether the resin is written here whole and stands on no record of the library",
);

static RESIN_FIELDS: [Field; RESIN.fields.len()] = any_of(INLINE, RESIN.fields);

/// The fields of a resin record, none of them needed, and `inline`.
pub(crate) static JOB_RESIN: Section = Section {
    fields: &RESIN_FIELDS,
    rules: &[],
};

/// The fields of a record without the first, their tables open to any of their own fields.
const fn any_of<const N: usize>(first: Field, record: &[Field]) -> [Field; N] {
    let mut fields = [first; N];
    let mut at = 1;
    while at < N {
        let field = record[at];
        let kind = match field.kind {
            FieldKind::Table(inner) => FieldKind::Partial(inner),
            other => other,
        };
        fields[at] = Field {
            kind,
            required: false,
            default: None,
            ..field
        };
        at += 1;
    }
    fields
}

static DEMAND: Section = Section {
    fields: &[
        Field::optional(
            "rate",
            quantity!(MassFlow),
            "12 kg/h",
            "Resin drawn, weighed as it is, with its water",
        )
        .within(ABOVE_ZERO, 1e5 / HOUR),
        Field::optional(
            "shots",
            FieldKind::Table(&SHOTS),
            "",
            "Shots of one or several machines, instead of a rate",
        ),
        Field::defaulted(
            "process",
            FieldKind::Choice(&["moulding", "extrusion", "fibre"]),
            "moulding",
            "What follows the hopper; chooses the limit of the record",
        ),
    ],
    rules: &[Rule::ExactlyOne(&["rate", "shots"])],
};

pub(crate) static SHOTS: Section = Section {
    fields: &[
        Field::required(
            "shot",
            quantity!(Mass),
            "45 g",
            "Mass of the parts of a shot",
        )
        .within(ABOVE_ZERO, 1e3),
        Field::defaulted(
            "runner",
            quantity!(Mass),
            "0 g",
            "Mass of the runner, where it does not come back through this hopper",
        )
        .within(0.0, 1e3),
        Field::required(
            "cycle",
            quantity!(Duration),
            "30 s",
            "Time from shot to shot",
        )
        .within(0.1, 24.0 * HOUR),
        Field::defaulted(
            "machines",
            FieldKind::Count,
            "1",
            "Machines that draw from this hopper at once",
        )
        .within(1.0, 1000.0),
    ],
    rules: &[],
};

static ARRIVAL: Section = Section {
    fields: &[
        Field::optional(
            "moisture",
            quantity!(Moisture),
            "0.2 % wet",
            "Moisture inside the pellets, measured or known",
        )
        .within(0.0, MOST_MOISTURE),
        Field::optional(
            "spread",
            quantity!(Fraction),
            "20 %",
            "One standard deviation of that moisture from lot to lot, as a share of it",
        )
        .within(0.0, 2.0),
        Field::optional(
            "storage",
            FieldKind::Table(&STORAGE),
            "",
            "Where the pellets lay, from which their moisture follows",
        ),
        Field::optional(
            "bag",
            FieldKind::Table(&BAG),
            "",
            "A cold bag brought into the warm hall, which says how warm and how wet outside the \
             pellets are fed",
        ),
        Field::optional(
            "temperature",
            quantity!(Temperature),
            "20 degC",
            "Temperature of the pellets fed; that of the hall when left out",
        )
        .within(COLDEST_PLACE, 200.0 + ZERO_CELSIUS),
        Field::defaulted(
            "surface_water",
            quantity!(MoistureDryBasis),
            "0 ppm dry",
            "Free water on the surface of the pellets, beside the moisture inside",
        )
        .within(0.0, MOST_MOISTURE),
    ],
    rules: &[
        Rule::AtMostOne(&["moisture", "storage"]),
        Rule::AtMostOne(&["temperature", "bag"]),
    ],
};

static TARGET: Section = Section {
    fields: &[
        Field::optional(
            "limit",
            quantity!(Moisture),
            "0.02 % wet",
            "Highest moisture at the throat; that of the record when left out",
        )
        .within(1e-6, HIGHEST_LIMIT),
        Field::optional(
            "lower_edge",
            quantity!(Moisture),
            "0.02 % wet",
            "Moisture below which the resin is too dry; that of the record when left out",
        )
        .within(0.0, HIGHEST_LIMIT),
        Field::defaulted(
            "margin",
            quantity!(Fraction),
            "20 %",
            "Margin on the residence time, applied once; common practice, no source",
        )
        .within(0.0, 5.0),
        Field::defaulted(
            "outside_window",
            FieldKind::Flag,
            "false",
            "Whether a setting outside the customary window of the record may be recommended",
        ),
    ],
    rules: &[],
};
