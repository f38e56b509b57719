//! The fields of a job file that say where the resin lay before the dryer.

use super::fields::{COLDEST_PLACE, HOUR, MOST_MOISTURE, WARMEST_PLACE, quantity};
use quantity::{Field, FieldKind, Meaning, Rule, Section};

/// The longest storage, s.
const LONGEST_STORAGE: f64 = 10.0 * 8760.0 * HOUR;

pub(super) static STORAGE: Section = Section {
    fields: &[
        Field::defaulted(
            "package",
            FieldKind::Choice(&["opened", "sealed"]),
            "opened",
            "How it was packed; a sealed package keeps the moisture of the record",
        ),
        Field::optional(
            "temperature",
            quantity!(Temperature),
            "28 degC",
            "Temperature of the store, mean of the day",
        )
        .within(COLDEST_PLACE, WARMEST_PLACE),
        Field::optional(
            "temperature_swing",
            quantity!(TemperatureDifference),
            "5 K",
            "From the mean to the warmest of the day; none when left out",
        )
        .within(0.0, 40.0),
        Field::optional(
            "relative_humidity",
            quantity!(RelativeHumidity),
            "65 %RH",
            "Its humidity, mean of the day",
        )
        .within(0.0, 1.0),
        Field::optional(
            "humidity_swing",
            quantity!(RelativeHumidity),
            "10 %RH",
            "From the mean to the dampest of the day, when it is coldest; none when left out",
        )
        .within(0.0, 0.5),
        Field::optional(
            "weather",
            FieldKind::Text,
            "hall.csv",
            "Hourly weather instead, a file of comma-separated values beside the job file with the \
             columns time, temperature (degC) and relative humidity (%RH) or dew point (degC)",
        ),
        Field::optional(
            "time",
            quantity!(Duration),
            "5 d",
            "How long the pellets lay open in it; with weather the last of the file, or all of it \
             when left out",
        )
        .within(0.0, LONGEST_STORAGE),
        Field::optional(
            "from",
            quantity!(Moisture),
            "0.08 % wet",
            "Moisture when they were laid there; that of a sealed bag when left out",
        )
        .within(0.0, MOST_MOISTURE),
    ],
    rules: &[
        Rule::When {
            field: "package",
            word: "opened",
            needs: &[],
            may: &[
                "temperature",
                "temperature_swing",
                "relative_humidity",
                "humidity_swing",
                "weather",
                "time",
                "from",
            ],
        },
        Rule::AtMostOne(&["weather", "temperature"]),
        Rule::AtMostOne(&["weather", "temperature_swing"]),
        Rule::AtMostOne(&["weather", "relative_humidity"]),
        Rule::AtMostOne(&["weather", "humidity_swing"]),
        Rule::Together(&["temperature", "relative_humidity"]),
    ],
};
