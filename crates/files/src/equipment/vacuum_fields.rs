//! The fields of a vacuum dryer: vessels, pump, purge and times.

use super::fields::ABOVE_ZERO;
use super::part_fields::held;
use crate::resin_law_fields::sourced;
use dryer::vacuum::{
    END_PRESSURE_HOLDS, FREE_VOLUME_HOLDS, PUMP_POWER_HOLDS, PUMP_SPEED_HOLDS, PURGE_HOLDS,
};
use line::vacuum_batch::{CHARGE_HOLDS, HANDLING_HOLDS, LACKING_HOLDS, VACUUM_TIME_HOLDS};
use quantity::{Field, FieldKind, Meaning, Rule, Section};

pub(super) static VACUUM: Section = Section {
    fields: &[
        held(
            Field::required("charge", sourced!(Mass), "40 kg", "Dry resin of a batch"),
            &CHARGE_HOLDS,
        ),
        Field::optional(
            "chamber",
            sourced!(Volume),
            "80 l",
            "Volume of the empty vacuum vessel with its pipes up to the pump",
        )
        .within(1e-4, 100.0),
        held(
            Field::optional(
                "free_volume",
                sourced!(Volume),
                "45 l",
                "Gas in that vessel beside the pellets, instead of its volume",
            ),
            &FREE_VOLUME_HOLDS,
        ),
        held(
            Field::optional(
                "time",
                sourced!(Duration),
                "45 min",
                "How long the pump runs for a batch; as long as the resin needs when left out",
            ),
            &VACUUM_TIME_HOLDS,
        ),
        held(
            Field::optional(
                "handling",
                sourced!(Duration),
                "2 min",
                "Filling, dropping and the valves, for each vessel and batch",
            ),
            &HANDLING_HOLDS,
        ),
        held(
            Field::optional(
                "end_pressure",
                sourced!(AbsolutePressure),
                "2 kPa(a)",
                "Pressure below which the pump takes nothing, its own or that at which its control stops it",
            ),
            &END_PRESSURE_HOLDS,
        ),
        held(
            Field::optional(
                "pump_speed",
                sourced!(ActualVolumeFlow),
                "40 m3/h",
                "What the pump takes, counted at its inlet",
            ),
            &PUMP_SPEED_HOLDS,
        ),
        held(
            Field::optional(
                "pump_power",
                sourced!(Power),
                "1.1 kW",
                "Power of the pump while it runs",
            ),
            &PUMP_POWER_HOLDS,
        ),
        Field::optional(
            "rise",
            sourced!(PressureDifference),
            "60 Pa",
            "Rise of pressure in a minute when pumped down and shut off, by leaks",
        )
        .within(0.0, 1e5),
        Field::optional(
            "purge_air",
            FieldKind::Choice(&["compressed air", "hall"]),
            "compressed air",
            "Where the air for purging and letting out comes from",
        ),
        Field::optional(
            "purge",
            sourced!(AirFlow),
            "1 kg/h dry air",
            "Of it into the vessel while the pump runs",
        )
        .within(0.0, PURGE_HOLDS.high),
        Field::optional(
            "retention_purge",
            sourced!(AirFlow),
            "0.2 kg/h dry air",
            "Of it into the hopper in which the dried charge waits",
        )
        .within(0.0, PURGE_HOLDS.high),
        Field::optional(
            "heating_air",
            sourced!(AirFlow),
            "130 kg/h dry air",
            "Air of the hall through the charge while it is heated",
        )
        .within(ABOVE_ZERO, 100.0),
        held(
            Field::optional(
                "lacking",
                sourced!(TemperatureDifference),
                "5 K",
                "What the coldest pellets may lack of the hot air when the charge counts as heated",
            ),
            &LACKING_HOLDS,
        ),
    ],
    rules: &[Rule::AtMostOne(&["chamber", "free_volume"])],
};
