//! The fields of a job file that say what is there: hopper, air, site and model.

use super::fields::{ABOVE_ZERO, COLDEST_PLACE, HOUR, MOST_MOISTURE, WARMEST_PLACE, quantity};
use quantity::constants::ZERO_CELSIUS;
use quantity::{Field, FieldKind, Meaning, Rule, Section};
use std::f64::consts::PI;

/// The coldest and hottest air of a hopper, K.
const COLDEST_AIR: f64 = ZERO_CELSIUS;
const HOTTEST_AIR: f64 = 250.0 + ZERO_CELSIUS;
/// The driest and dampest air that can be stated by dew or frost point, K.
pub(crate) const DRIEST_POINT: f64 = -80.0 + ZERO_CELSIUS;
pub(crate) const DAMPEST_POINT: f64 = 100.0 + ZERO_CELSIUS;
/// The largest flow of air, kg/s.
const LARGEST_FLOW: f64 = 50.0;
/// The largest number that is counted.
const LARGEST_COUNT: f64 = 4_294_967_295.0;

pub(super) static HOPPER: Section = Section {
    fields: &[
        Field::optional(
            "volume",
            quantity!(Volume),
            "60 l",
            "Volume up to the full level, cone included",
        )
        .within(1e-6, 1e3),
        Field::optional(
            "bed_mass",
            quantity!(Mass),
            "35 kg",
            "Dry resin between air inlet and level, instead of a volume",
        )
        .within(1e-3, 1e6),
        Field::optional(
            "diameter",
            quantity!(Length),
            "400 mm",
            "Inner diameter of the cylinder",
        )
        .within(0.01, 20.0),
        Field::optional(
            "cone_angle",
            quantity!(Angle),
            "60 deg",
            "Included angle of the cone; a flat bottom when left out",
        )
        .within(PI / 36.0, PI * 35.0 / 36.0),
        Field::defaulted(
            "fill",
            quantity!(Fraction),
            "90 %",
            "Level as a share of the volume; common practice, no source",
        )
        .within(0.01, 1.0),
        Field::optional(
            "below_inlet",
            quantity!(Mass),
            "3 kg",
            "Resin below the air inlet, where the air never comes",
        )
        .within(0.0, 1e5),
        Field::optional(
            "wall_coefficient",
            quantity!(HeatTransferCoefficient),
            "1.2 W/(m2 K)",
            "Heat lost from bed to hall, per inner wall",
        )
        .within(0.0, 1000.0),
        Field::optional(
            "insulation",
            quantity!(Length),
            "50 mm",
            "Thickness of insulation, from which the heat lost is computed",
        )
        .within(0.0, 1.0),
        Field::defaulted(
            "wall_side",
            FieldKind::Choice(&["air", "pellets"]),
            "air",
            "Which of the two loses its heat to the wall",
        ),
        Field::optional(
            "batch",
            quantity!(Mass),
            "5 kg",
            "Mass of one loader batch; the hopper is kept full when left out",
        )
        .within(ABOVE_ZERO, 1e5),
        Field::optional(
            "residence_spread",
            quantity!(Fraction),
            "15 %",
            "One standard deviation of residence time between streams, as a share of the mean",
        )
        .within(0.0, 1.0),
    ],
    rules: &[
        Rule::AtMostOne(&["volume", "bed_mass"]),
        Rule::AtMostOne(&["wall_coefficient", "insulation"]),
    ],
};

pub(super) static AIR: Section = Section {
    fields: &[
        Field::optional(
            "temperature",
            quantity!(Temperature),
            "120 degC",
            "Temperature at the inlet of the hopper",
        )
        .within(COLDEST_AIR, HOTTEST_AIR),
        Field::optional(
            "humidity",
            quantity!(Humidity),
            "-40 degC frost",
            "Humidity as delivered to the hopper",
        )
        .within(DRIEST_POINT, DAMPEST_POINT),
        Field::optional(
            "flow",
            quantity!(AirFlow),
            "28 m3/h at 20 degC and 1 atm",
            "Flow through the bed",
        )
        .within(ABOVE_ZERO, LARGEST_FLOW),
        Field::optional(
            "largest_flow",
            quantity!(AirFlow),
            "40 kg/h dry air",
            "Largest flow the blower gives, for the search of settings",
        )
        .within(ABOVE_ZERO, LARGEST_FLOW),
        Field::optional(
            "driest",
            quantity!(Humidity),
            "-50 degC frost",
            "Driest air the dryer gives, for the search of settings",
        )
        .within(DRIEST_POINT, DAMPEST_POINT),
        Field::optional(
            "pressure",
            quantity!(Pressure),
            "2 kPa(g)",
            "Pressure in the hopper; that of the site when left out",
        )
        .within(5e4, 1.2e6),
    ],
    rules: &[],
};

pub(super) static SITE: Section = Section {
    fields: &[
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
            "Pressure of the atmosphere, instead of an altitude",
        )
        .within(5e4, 1.2e5),
        Field::defaulted(
            "ambient",
            quantity!(Temperature),
            "20 degC",
            "Temperature of the hall",
        )
        .within(COLDEST_PLACE, WARMEST_PLACE),
        Field::optional(
            "humidity",
            quantity!(Humidity),
            "50 %RH",
            "Humidity of the hall",
        )
        .within(DRIEST_POINT, DAMPEST_POINT),
    ],
    rules: &[Rule::AtMostOne(&["altitude", "pressure"])],
};

pub(super) static MODEL: Section = Section {
    fields: &[
        Field::defaulted(
            "residence_spread",
            FieldKind::Flag,
            "true",
            "Whether streams differ in their time in the hopper",
        ),
        Field::defaulted(
            "size_spread",
            FieldKind::Flag,
            "true",
            "Whether pellets differ in size",
        ),
        Field::defaulted(
            "batches",
            FieldKind::Flag,
            "true",
            "Whether the loader brings batches",
        ),
        Field::defaulted(
            "cone",
            FieldKind::Flag,
            "true",
            "Whether the cone is computed; otherwise the bed is a cylinder of the same mass",
        ),
        Field::defaulted(
            "heat_gradient",
            FieldKind::Flag,
            "true",
            "Whether a pellet may be warmer outside than inside",
        ),
        Field::defaulted(
            "film",
            FieldKind::Table(&FILM),
            "{}",
            "Film coefficients stated instead of computed",
        ),
        Field::defaulted(
            "heat",
            FieldKind::Table(&HEAT),
            "{}",
            "Heat capacities stated instead of those of humid air and water",
        ),
        Field::defaulted(
            "initial",
            FieldKind::Table(&INITIAL),
            "{}",
            "What the hopper holds when the air is switched on",
        ),
        Field::optional(
            "duration",
            quantity!(Duration),
            "16 h",
            "Time followed after the air is switched on",
        )
        .within(60.0, 8760.0 * HOUR),
        Field::optional(
            "parcels",
            FieldKind::Count,
            "100",
            "Parcels in a full bed; chosen when left out",
        )
        .within(2.0, 10_000.0),
        Field::optional(
            "fineness",
            FieldKind::Count,
            "12",
            "Modes or nodes inside a pellet; chosen when left out",
        )
        .within(1.0, 1000.0),
        Field::defaulted(
            "samples",
            FieldKind::Count,
            "256",
            "Samples of what is not known, for the range of the answer; 0 for none",
        )
        .within(0.0, 1e6),
        Field::defaulted(
            "seed",
            FieldKind::Count,
            "1",
            "Seed of the samples; the same seed gives the same answer",
        )
        .within(0.0, LARGEST_COUNT),
    ],
    rules: &[],
};

static FILM: Section = Section {
    fields: &[
        Field::optional(
            "heat",
            quantity!(HeatTransferCoefficient),
            "60 W/(m2 K)",
            "Heat from air to pellet, per surface of pellets",
        )
        .within(ABOVE_ZERO, 1e5),
        Field::optional(
            "vapour",
            quantity!(MassTransferCoefficient),
            "0.06 m/s",
            "Vapour from pellet to air, per surface of pellets, on a difference of concentration",
        )
        .within(ABOVE_ZERO, 100.0),
    ],
    rules: &[],
};

static HEAT: Section = Section {
    fields: &[
        Field::optional(
            "dry_air",
            quantity!(SpecificHeatCapacity),
            "1006 J/(kg K)",
            "Heat capacity of dry air",
        )
        .within(500.0, 2000.0),
        Field::optional(
            "vapour",
            quantity!(SpecificHeatCapacity),
            "1860 J/(kg K)",
            "Heat capacity of water vapour",
        )
        .within(1000.0, 4000.0),
        Field::optional(
            "water",
            quantity!(SpecificHeatCapacity),
            "4186 J/(kg K)",
            "Heat capacity of liquid water",
        )
        .within(2000.0, 8000.0),
        Field::optional(
            "evaporation",
            quantity!(SpecificEnergy),
            "2501 kJ/kg",
            "Heat of evaporation of water at 0 degC",
        )
        .within(1e6, 5e6),
    ],
    rules: &[],
};

static INITIAL: Section = Section {
    fields: &[
        Field::optional(
            "temperature",
            quantity!(Temperature),
            "20 degC",
            "Temperature of the charge; that of the feed when left out",
        )
        .within(COLDEST_PLACE, HOTTEST_AIR),
        Field::optional(
            "moisture",
            quantity!(Moisture),
            "0.2 % wet",
            "Moisture of the charge; that of the feed when left out",
        )
        .within(0.0, MOST_MOISTURE),
    ],
    rules: &[],
};
