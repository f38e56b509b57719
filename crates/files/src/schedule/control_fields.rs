//! The fields of how a dryer is run.

use crate::job_file::{DAMPEST_POINT, DRIEST_POINT, quantity};
use job::DemandSense;
use quantity::constants::ZERO_CELSIUS;
use quantity::{Field, FieldKind, Meaning, Section};

/// A day, s.
const DAY: f64 = 86_400.0;

pub(super) static CONTROL: Section = Section {
    fields: &[
        Field::optional(
            "sense",
            FieldKind::Choice(DemandSense::WORDS),
            "loader cycles",
            "What the control takes the demand from; the return air when left out",
        ),
        Field::optional(
            "lag",
            quantity!(Duration),
            "10 min",
            "Time over which what is sensed is smoothed",
        )
        .within(0.0, DAY),
        Field::optional(
            "air_follows",
            FieldKind::Flag,
            "true",
            "Whether the air follows demand; as soon as least_air is given when left out",
        ),
        Field::optional(
            "least_air",
            quantity!(Fraction),
            "40 %",
            "Least air, of that at full demand",
        )
        .within(0.05, 1.0),
        Field::optional(
            "setback",
            quantity!(Temperature),
            "80 degC",
            "Temperature to which the drying air is set back when demand is low; it never is when left out",
        )
        .within(ZERO_CELSIUS, 250.0 + ZERO_CELSIUS),
        Field::optional(
            "setback_below",
            quantity!(Fraction),
            "25 %",
            "Demand, of the rate planned, below which it is set back",
        )
        .within(0.0, 1.0),
        Field::optional(
            "setback_after",
            quantity!(Duration),
            "30 min",
            "How long demand is low before",
        )
        .within(0.0, 7.0 * DAY),
        Field::optional(
            "recover_above",
            quantity!(Fraction),
            "40 %",
            "Demand, of the rate planned, above which it recovers",
        )
        .within(0.0, 1.0),
        Field::optional(
            "ramp_per_hour",
            quantity!(TemperatureDifference),
            "60 K",
            "Fastest change of the set point within an hour",
        )
        .within(1.0, 2000.0),
        Field::optional(
            "off_when_closed",
            FieldKind::Flag,
            "true",
            "Whether the dryer is switched off while nobody works; it is not when left out",
        ),
        Field::optional(
            "on_before",
            quantity!(Duration),
            "4 h",
            "How long before work begins it is switched on again; the time the resin needs when left out",
        )
        .within(0.0, 7.0 * DAY),
        Field::optional(
            "hold_until_dry",
            FieldKind::Flag,
            "true",
            "Whether the press waits after a start until the hopper has been dried; it does when left out",
        ),
        Field::optional(
            "bake_out_every",
            quantity!(Duration),
            "7 d",
            "Time between bake-outs of the desiccant; none when neither this nor bake_out_above is given",
        )
        .within(3600.0, 366.0 * DAY),
        Field::optional(
            "bake_out_above",
            quantity!(Humidity),
            "-25 degC frost",
            "Delivered humidity above which it is baked out, when the return is no more humid than usual",
        )
        .within(DRIEST_POINT, DAMPEST_POINT),
        Field::optional(
            "bake_out_temperature",
            quantity!(Temperature),
            "220 degC",
            "Temperature of the regeneration air while it is baked out",
        )
        .within(60.0 + ZERO_CELSIUS, 350.0 + ZERO_CELSIUS),
        Field::optional(
            "bake_out_time",
            quantity!(Duration),
            "2 h",
            "How long it is baked out",
        )
        .within(60.0, 2.0 * DAY),
        Field::optional(
            "warn_humidity",
            quantity!(Humidity),
            "-20 degC frost",
            "Delivered humidity above which it warns",
        )
        .within(DRIEST_POINT, DAMPEST_POINT),
        Field::optional(
            "warn_temperature",
            quantity!(TemperatureDifference),
            "5 K",
            "Difference from the set point at which it warns",
        )
        .within(0.1, 100.0),
    ],
    rules: &[],
};
