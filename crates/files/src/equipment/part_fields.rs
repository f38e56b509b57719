//! The fields of the parts that dryers have in common: heater, blower, cooler, regeneration.

use super::fields::ABOVE_ZERO;
use crate::resin_law_fields::sourced;
use dryer::blower::{
    BACKWARDS_HOLDS, BLOWER_POWER_HOLDS, EFFICIENCY_HOLDS, RATED_DENSITY_HOLDS, SPEED_HOLDS,
};
use dryer::cooler::COOLANT_HOLDS;
use dryer::exchanger::{
    CONDUCTANCE_HOLDS, FLOW_EXPONENT_HOLDS, FOULED_SHARE_HOLDS, FOULING_HOLDS, WALL_HOLDS,
};
use dryer::fan_curve::{BLOWER_FLOW_HOLDS, RISE_HOLDS};
use dryer::heater::{
    BAND_HOLDS, DEAD_TIME_HOLDS, ELEMENT_CONDUCTANCE_HOLDS, ELEMENT_LIMIT_HOLDS, ELEMENTS_HOLDS,
    HEATER_POWER_HOLDS, LAG_HOLDS, SET_POINT_HOLDS,
};
use quantity::constants::ZERO_CELSIUS;
use quantity::{Field, FieldKind, Meaning, Range, Rule, Section};

/// A field whose range is that of a component, in SI units.
pub(super) const fn held(field: Field, range: &Range) -> Field {
    field.within(range.low, range.high)
}

/// The same where the component counts in degC.
pub(super) const fn held_celsius(field: Field, range: &Range) -> Field {
    field.within(range.low + ZERO_CELSIUS, range.high + ZERO_CELSIUS)
}

/// Where the flow of a coolant may lie, kg/s.
const COOLANT_FLOW: (f64, f64) = (ABOVE_ZERO, 200.0);

pub(super) static HEATER: Section = Section {
    fields: &[
        held(
            Field::optional(
                "power",
                sourced!(Power),
                "4.5 kW",
                "Power of all elements together",
            ),
            &HEATER_POWER_HOLDS,
        ),
        held(
            Field::optional(
                "elements",
                FieldKind::Count,
                "3",
                "How many elements it has",
            ),
            &ELEMENTS_HOLDS,
        ),
        Field::optional(
            "elements_lost",
            FieldKind::Count,
            "0",
            "How many of them no longer heat",
        )
        .within(0.0, ELEMENTS_HOLDS.high),
        Field::defaulted(
            "control",
            FieldKind::Choice(&["integral", "proportional", "on-off"]),
            "integral",
            "How its power is set: integral action meets the set point as far as power goes",
        ),
        held(
            Field::optional(
                "band",
                sourced!(TemperatureDifference),
                "4 K",
                "Proportional: from no power to all of it; on-off: between switching on and off",
            ),
            &BAND_HOLDS,
        ),
        held(
            Field::optional(
                "time_constant",
                sourced!(Duration),
                "60 s",
                "Lag of elements and casing",
            ),
            &LAG_HOLDS,
        ),
        held(
            Field::optional(
                "dead_time",
                sourced!(Duration),
                "5 s",
                "From the outlet passing a switching point to the power following",
            ),
            &DEAD_TIME_HOLDS,
        ),
        held_celsius(
            Field::optional(
                "outlet_limit",
                sourced!(Temperature),
                "220 degC",
                "Hottest air it is allowed to give",
            ),
            &SET_POINT_HOLDS,
        ),
        held(
            Field::optional(
                "element_conductance",
                sourced!(ThermalConductance),
                "25 W/K",
                "From all elements to the air at its rated flow",
            ),
            &ELEMENT_CONDUCTANCE_HOLDS,
        ),
        held_celsius(
            Field::optional(
                "element_limit",
                sourced!(Temperature),
                "600 degC",
                "Temperature at which the elements are cut out",
            ),
            &ELEMENT_LIMIT_HOLDS,
        ),
    ],
    rules: &[
        Rule::When {
            field: "control",
            word: "integral",
            needs: &[],
            may: &[],
        },
        Rule::When {
            field: "control",
            word: "proportional",
            needs: &["band"],
            may: &[],
        },
        Rule::When {
            field: "control",
            word: "on-off",
            needs: &["band", "time_constant", "dead_time"],
            may: &[],
        },
        Rule::Together(&["element_conductance", "element_limit"]),
    ],
};

pub(super) static BLOWER: Section = Section {
    fields: &[
        held(
            Field::optional(
                "rise_at_no_flow",
                sourced!(PressureDifference),
                "7 kPa",
                "Pressure rise with its outlet shut",
            ),
            &RISE_HOLDS,
        ),
        held(
            Field::optional(
                "flow_at_no_rise",
                sourced!(ActualVolumeFlow),
                "160 m3/h",
                "Flow with its outlet open",
            ),
            &BLOWER_FLOW_HOLDS,
        ),
        Field::optional(
            "point",
            FieldKind::Tables(&POINT),
            "",
            "Points of its curve by rising flow, instead of the two ends",
        )
        .within(3.0, 50.0),
        held(
            Field::optional(
                "rated_density",
                sourced!(Density),
                "1.2 kg/m3",
                "Density of the air its curve was measured with",
            ),
            &RATED_DENSITY_HOLDS,
        ),
        held(
            Field::optional(
                "speed",
                sourced!(Fraction),
                "100 %",
                "Its speed over that of the curve",
            ),
            &SPEED_HOLDS,
        ),
        held(
            Field::optional(
                "efficiency",
                sourced!(Fraction),
                "45 %",
                "Isentropic efficiency of the machine without its motor",
            ),
            &EFFICIENCY_HOLDS,
        ),
        held(
            Field::optional(
                "shaft_at_no_flow",
                sourced!(Power),
                "600 W",
                "Power of the shaft at no flow, instead of an efficiency",
            ),
            &BLOWER_POWER_HOLDS,
        ),
        held(
            Field::optional(
                "shaft_at_no_rise",
                sourced!(Power),
                "300 W",
                "Power of the shaft at no rise",
            ),
            &BLOWER_POWER_HOLDS,
        ),
        held(
            Field::optional(
                "motor_efficiency",
                sourced!(Fraction),
                "80 %",
                "Power of the shaft over power drawn",
            ),
            &EFFICIENCY_HOLDS,
        ),
        Field::optional(
            "motor_heat_to_air",
            sourced!(Fraction),
            "0 %",
            "Share of the motor's loss that the air takes up",
        )
        .within(0.0, 1.0),
        held(
            Field::optional(
                "turned_backwards",
                sourced!(Fraction),
                "40 %",
                "Flow it still gives, where two phases are swapped and it turns backwards",
            ),
            &BACKWARDS_HOLDS,
        ),
        Field::optional(
            "flow_set_by",
            FieldKind::Choice(&["speed", "damper", "nothing"]),
            "speed",
            "How its flow is set; with nothing its curve and the resistance decide",
        ),
        Field::optional(
            "drop",
            sourced!(PressureDifference),
            "900 Pa",
            "Pressure drop of clean filter, cooler and hoses at the rated flow",
        )
        .within(0.0, RISE_HOLDS.high),
        Field::optional(
            "laminar_share",
            sourced!(Fraction),
            "50 %",
            "Share of that drop that goes with viscosity: most of a filter, little of a hose",
        )
        .within(0.0, 1.0),
        Field::optional(
            "clogging",
            sourced!(Number),
            "1",
            "How many times that drop has grown by dust",
        )
        .within(1.0, 100.0),
    ],
    rules: &[
        Rule::AtMostOne(&["rise_at_no_flow", "point"]),
        Rule::AtMostOne(&["flow_at_no_rise", "point"]),
        Rule::AtMostOne(&["efficiency", "shaft_at_no_flow"]),
        Rule::Together(&["shaft_at_no_flow", "shaft_at_no_rise"]),
    ],
};

static POINT: Section = Section {
    fields: &[
        Field::required(
            "flow",
            FieldKind::Quantity(Meaning::ActualVolumeFlow),
            "80 m3/h",
            "Flow",
        )
        .within(0.0, BLOWER_FLOW_HOLDS.high),
        Field::required(
            "rise",
            FieldKind::Quantity(Meaning::PressureDifference),
            "6 kPa",
            "Pressure rise at that flow",
        )
        .within(0.0, RISE_HOLDS.high),
    ],
    rules: &[],
};

pub(super) static COOLER: Section = Section {
    fields: &[
        Field::defaulted(
            "with",
            FieldKind::Choice(&["water", "hall air", "nothing"]),
            "water",
            "What the return air is cooled with",
        ),
        Field::optional(
            "coolant_flow",
            sourced!(MassFlow),
            "200 kg/h",
            "Flow of water or air through it",
        )
        .within(COOLANT_FLOW.0, COOLANT_FLOW.1),
        held_celsius(
            Field::optional(
                "water_temperature",
                sourced!(Temperature),
                "20 degC",
                "Temperature of the water as it comes",
            ),
            &COOLANT_HOLDS,
        ),
        Field::optional(
            "fan_power",
            sourced!(Power),
            "40 W",
            "Power of the fan that moves the hall air",
        )
        .within(0.0, 1e5),
        held(
            Field::optional(
                "air_conductance",
                sourced!(ThermalConductance),
                "100 W/K",
                "From the air to the wall at the rated flow",
            ),
            &CONDUCTANCE_HOLDS,
        ),
        held(
            Field::optional(
                "coolant_conductance",
                sourced!(ThermalConductance),
                "500 W/K",
                "From the wall to water or hall air",
            ),
            &CONDUCTANCE_HOLDS,
        ),
        held(
            Field::optional(
                "flow_exponent",
                sourced!(Fraction),
                "60 %",
                "How the first grows with the flow of air: the exponent",
            ),
            &FLOW_EXPONENT_HOLDS,
        ),
        held(
            Field::optional(
                "fouled",
                sourced!(Fraction),
                "0 %",
                "Share of the first that dust or oligomer has taken",
            ),
            &FOULED_SHARE_HOLDS,
        ),
        held(
            Field::optional(
                "scale",
                sourced!(FoulingResistance),
                "0.0002 m2 K/W",
                "Resistance of a layer on the side of the water",
            ),
            &FOULING_HOLDS,
        ),
        held(
            Field::optional(
                "wall",
                sourced!(Area),
                "0.8 m2",
                "Area of the wall under it",
            ),
            &WALL_HOLDS,
        ),
    ],
    rules: &[
        Rule::When {
            field: "with",
            word: "water",
            needs: &[],
            may: &[
                "coolant_flow",
                "water_temperature",
                "air_conductance",
                "coolant_conductance",
                "flow_exponent",
                "fouled",
                "scale",
                "wall",
            ],
        },
        Rule::When {
            field: "with",
            word: "hall air",
            needs: &[],
            may: &[
                "coolant_flow",
                "fan_power",
                "air_conductance",
                "coolant_conductance",
                "flow_exponent",
                "fouled",
            ],
        },
        Rule::When {
            field: "with",
            word: "nothing",
            needs: &[],
            may: &[],
        },
        Rule::Together(&["scale", "wall"]),
        Rule::AtMostOne(&["fouled", "scale"]),
    ],
};

pub(super) static REGENERATION: Section = Section {
    fields: &[
        Field::optional(
            "share",
            sourced!(Fraction),
            "25 %",
            "Regeneration air while it flows, as a share of the rated process air",
        )
        .within(ABOVE_ZERO, 2.0),
        Field::optional(
            "temperature",
            sourced!(Temperature),
            "180 degC",
            "Temperature of that air before the desiccant",
        )
        .within(30.0 + ZERO_CELSIUS, 280.0 + ZERO_CELSIUS),
        Field::optional(
            "heater",
            FieldKind::Table(&HEATER),
            "",
            "The heater of the regeneration",
        ),
        Field::optional(
            "blower",
            FieldKind::Table(&BLOWER),
            "",
            "The blower of the regeneration",
        ),
    ],
    rules: &[],
};

pub(super) static RECOVERY: Section = Section {
    fields: &[
        Field::required(
            "arrangement",
            FieldKind::Choice(&["counterflow", "parallel", "crossflow"]),
            "crossflow",
            "How exhaust and fresh air pass each other",
        ),
        held(
            Field::required(
                "conductance",
                sourced!(ThermalConductance),
                "15 W/K",
                "From air to air when clean, with the regeneration air on both sides",
            ),
            &CONDUCTANCE_HOLDS,
        ),
        held(
            Field::defaulted(
                "flow_exponent",
                sourced!(Fraction),
                "60 %",
                "How it grows with the flow: the exponent",
            ),
            &FLOW_EXPONENT_HOLDS,
        ),
        held(
            Field::optional(
                "fouled",
                sourced!(Fraction),
                "0 %",
                "Share of it that dirt has taken",
            ),
            &FOULED_SHARE_HOLDS,
        ),
    ],
    rules: &[],
};
