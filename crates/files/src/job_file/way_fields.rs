//! The fields of a job file that say where the resin was before the dryer, and goes after it.

use super::fields::{ABOVE_ZERO, COLDEST_PLACE, HOUR, MOST_MOISTURE, WARMEST_PLACE, quantity};
use super::plant_fields::{DAMPEST_POINT, DRIEST_POINT};
use quantity::constants::ZERO_CELSIUS;
use quantity::{Field, FieldKind, Meaning, Rule, Section};

/// The longest storage, s.
const LONGEST_STORAGE: f64 = 10.0 * 8760.0 * HOUR;
/// The longest way, s.
const LONGEST_WAY: f64 = 30.0 * 24.0 * HOUR;

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

pub(super) static BAG: Section = Section {
    fields: &[
        Field::required(
            "temperature",
            quantity!(Temperature),
            "2 degC",
            "Temperature of the closed bag as it is brought into the hall",
        )
        .within(COLDEST_PLACE, WARMEST_PLACE),
        Field::defaulted(
            "standing",
            quantity!(Duration),
            "0 h",
            "How long it stands closed in the hall before it is opened",
        )
        .like("12 h")
        .within(0.0, LONGEST_WAY),
        Field::defaulted(
            "open",
            quantity!(Duration),
            "10 min",
            "How long its pellets are open to the hall before they are fed",
        )
        .within(0.0, LONGEST_WAY),
        Field::defaulted("mass", quantity!(Mass), "25 kg", "Resin in it").within(0.1, 2e3),
        Field::defaulted("area", quantity!(Area), "0.9 m2", "Its surface").within(1e-2, 20.0),
    ],
    rules: &[],
};

pub(super) static WAY: Section = Section {
    fields: &[
        Field::optional(
            "conveying",
            FieldKind::Table(&CONVEYING),
            "",
            "Conveying from the dryer to the machine; none when left out",
        ),
        Field::optional(
            "hopper",
            FieldKind::Table(&MACHINE_HOPPER),
            "",
            "The hopper on the machine; none when left out",
        ),
        Field::optional(
            "throat",
            FieldKind::Table(&THROAT),
            "",
            "The throat of the machine; passed in no time when left out",
        ),
        Field::optional(
            "sample",
            FieldKind::Table(&SAMPLE),
            "",
            "A sample taken at the throat and carried to the laboratory",
        ),
    ],
    rules: &[],
};

static CONVEYING: Section = Section {
    fields: &[
        Field::defaulted(
            "air",
            FieldKind::Choice(&["hall", "dry"]),
            "hall",
            "The air that carries the pellets",
        ),
        Field::optional(
            "humidity",
            quantity!(Humidity),
            "-40 degC frost",
            "Humidity of dry conveying air; that of the dryer when left out",
        )
        .within(DRIEST_POINT, DAMPEST_POINT),
        Field::defaulted("flight", quantity!(Duration), "4 s", "Time of one flight")
            .within(0.0, 600.0),
        Field::defaulted(
            "waiting",
            quantity!(Duration),
            "0 s",
            "Time that pellets lie in the line until the next flight",
        )
        .like("2 min")
        .within(0.0, LONGEST_WAY),
        Field::defaulted(
            "times",
            FieldKind::Count,
            "1",
            "How often a pellet is carried between dryer and machine",
        )
        .within(1.0, 10.0),
        Field::defaulted(
            "loading",
            quantity!(Number),
            "5",
            "Resin carried per air, by mass, which decides how far the air cools it; common \
             practice, no source",
        )
        .within(0.05, 100.0),
    ],
    rules: &[Rule::When {
        field: "air",
        word: "dry",
        needs: &[],
        may: &["humidity"],
    }],
};

static MACHINE_HOPPER: Section = Section {
    fields: &[
        Field::optional("mass", quantity!(Mass), "6 kg", "Resin in it").within(ABOVE_ZERO, 1e4),
        Field::optional(
            "time",
            quantity!(Duration),
            "20 min",
            "How long a pellet stays in it, instead of a mass",
        )
        .within(ABOVE_ZERO, LONGEST_WAY),
        Field::defaulted(
            "lid",
            FieldKind::Choice(&["closed", "open", "purged"]),
            "closed",
            "What stands over the pellets: a tight lid, the air of the hall, or dried air flowing \
             through",
        ),
        Field::optional(
            "humidity",
            quantity!(Humidity),
            "-40 degC frost",
            "Humidity of the dried air of a purged hopper; that of the dryer when left out",
        )
        .within(DRIEST_POINT, DAMPEST_POINT),
        Field::optional(
            "cooling",
            quantity!(Duration),
            "60 min",
            "Time in which the pellets come nearer the hall by a factor of 2.7; computed from the \
             mass for a bare vessel when left out",
        )
        .within(1.0, LONGEST_WAY),
    ],
    rules: &[
        Rule::ExactlyOne(&["mass", "time"]),
        Rule::When {
            field: "lid",
            word: "purged",
            needs: &[],
            may: &["humidity"],
        },
    ],
};

static THROAT: Section = Section {
    fields: &[
        Field::required(
            "temperature",
            quantity!(Temperature),
            "50 degC",
            "Temperature of the throat",
        )
        .within(COLDEST_PLACE, 200.0 + ZERO_CELSIUS),
        Field::required(
            "time",
            quantity!(Duration),
            "2 min",
            "How long pellets are in it",
        )
        .within(0.0, LONGEST_WAY),
    ],
    rules: &[],
};

static SAMPLE: Section = Section {
    fields: &[
        Field::required(
            "time",
            quantity!(Duration),
            "5 min",
            "From the throat until it is measured",
        )
        .within(0.0, LONGEST_WAY),
        Field::defaulted(
            "vessel",
            FieldKind::Choice(&["closed", "open"]),
            "closed",
            "What it is carried in: a tight vessel, or an open dish",
        ),
        Field::defaulted(
            "fill",
            quantity!(Fraction),
            "50 %",
            "Share of a closed vessel that the pellets fill, the rest being air of the hall",
        )
        .within(0.05, 1.0),
    ],
    rules: &[Rule::When {
        field: "vessel",
        word: "closed",
        needs: &[],
        may: &["fill"],
    }],
};
