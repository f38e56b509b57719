//! The fields of a curve file.

use files::{FileKind, RESIN};
use quantity::{Field, FieldKind, Meaning, Rule, Section};

/// Curve files.
pub(crate) const CURVE: FileKind = FileKind {
    name: "a curve file",
    format: 1,
    section: &CURVE_FIELDS,
};

/// A quantity of some meaning.
macro_rules! quantity {
    ($meaning:ident) => {
        FieldKind::Quantity(Meaning::$meaning)
    };
}

/// From -40 degC to 250 degC, K: where air is known.
const AIR: (f64, f64) = (233.15, 523.15);
/// More water than any resin of the trade takes up, kg/kg dry resin.
const MOST_MOISTURE: f64 = 0.3;

static CURVE_FIELDS: Section = Section {
    fields: &[
        Field::FORMAT,
        Field::optional(
            "title",
            FieldKind::Text,
            "PC sample in the oven",
            "What you call it",
        ),
        Field::required(
            "resin",
            FieldKind::Partial(&RESIN),
            "",
            "Resin of the library, any value of its record stated anew",
        ),
        Field::defaulted(
            "start",
            FieldKind::Table(&START),
            "{}",
            "The pellet at the beginning",
        ),
        Field::optional(
            "limit",
            quantity!(Moisture),
            "0.02 % wet",
            "Moisture it is held against; the limit for moulding of the record when left out",
        )
        .within(1e-6, 0.1),
        Field::optional(
            "altitude",
            quantity!(Altitude),
            "300 m",
            "Height above the sea, where it is not that of the sea",
        )
        .within(-500.0, 5500.0),
        Field::optional(
            "pressure",
            quantity!(AbsolutePressure),
            "0.98 bar(a)",
            "Pressure of the air, instead of an altitude",
        )
        .within(5e4, 1.2e6),
        Field::required(
            "air",
            FieldKind::Tables(&STRETCH),
            "",
            "The air it goes through, in order",
        )
        .within(1.0, 100.0),
    ],
    rules: &[Rule::AtMostOne(&["altitude", "pressure"])],
};

static START: Section = Section {
    fields: &[
        Field::optional(
            "moisture",
            quantity!(Moisture),
            "0.2 % wet",
            "Moisture inside; that of an opened package when left out",
        )
        .within(0.0, MOST_MOISTURE),
        Field::defaulted(
            "surface_water",
            quantity!(MoistureDryBasis),
            "0 ppm dry",
            "Water on the surface, beside the moisture inside",
        )
        .within(0.0, MOST_MOISTURE),
        Field::defaulted(
            "temperature",
            quantity!(Temperature),
            "20 degC",
            "Temperature of the pellet",
        )
        .within(AIR.0, AIR.1),
    ],
    rules: &[],
};

static STRETCH: Section = Section {
    fields: &[
        Field::optional(
            "name",
            FieldKind::Text,
            "oven",
            "What you call this stretch",
        ),
        Field::required("duration", quantity!(Duration), "4 h", "How long it lasts")
            .within(0.1, 6.4e8),
        Field::required(
            "temperature",
            quantity!(Temperature),
            "120 degC",
            "Temperature of the air",
        )
        .within(AIR.0, AIR.1),
        Field::required(
            "humidity",
            quantity!(Humidity),
            "-40 degC frost",
            "Humidity of the air",
        ),
        Field::optional(
            "to_temperature",
            quantity!(Temperature),
            "80 degC",
            "Temperature at the end, where it changes in a straight line",
        )
        .within(AIR.0, AIR.1),
        Field::optional(
            "to_humidity",
            quantity!(Humidity),
            "-20 degC frost",
            "Humidity at the end, where it changes",
        ),
        Field::defaulted(
            "velocity",
            quantity!(Velocity),
            "0.2 m/s",
            "Velocity of the air about the pellet; 0 m/s for still air",
        )
        .within(0.0, 50.0),
        Field::optional(
            "bag",
            FieldKind::Table(&BAG),
            "",
            "A closed bag about the pellets, which share its air",
        ),
    ],
    rules: &[],
};

static BAG: Section = Section {
    fields: &[
        Field::defaulted("holds", quantity!(Mass), "25 kg", "Resin in the bag").within(1e-3, 5e3),
        Field::defaulted("area", quantity!(Area), "0.9 m2", "Surface of the bag").within(1e-4, 1e3),
        Field::required(
            "transmission",
            quantity!(Mass),
            "5 g",
            "Water that a square metre of its film lets through in a day at 38 degC with 90 %RH on \
             one side and none on the other, as film data sheets state it",
        )
        .within(0.0, 1.0),
    ],
    rules: &[],
};
