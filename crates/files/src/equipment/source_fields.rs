//! The fields of what makes the air dry: wheel, towers, compressed air.

use super::fields::ABOVE_ZERO;
use super::part_fields::held_celsius;
use crate::resin_law_fields::sourced;
use dryer::compressed_air::{
    DRYING_ENERGY_HOLDS, LINE_HOLDS, LINE_POINT_HOLDS, LINE_TEMPERATURE_HOLDS, LOST_SHARE_HOLDS,
    MAKE_UP_HOLDS, SPECIFIC_ENERGY_HOLDS,
};
use quantity::constants::ZERO_CELSIUS;
use quantity::{Field, FieldKind, Meaning, Rule, Section};

/// J/m3 in a kWh/m3.
const KWH: f64 = 3.6e6;
const TURN: f64 = 2.0 * std::f64::consts::PI;
/// Temperatures at which a stage of towers may end, K.
const OUTLET: (f64, f64) = (ZERO_CELSIUS, 280.0 + ZERO_CELSIUS);
/// Times that a clock may be set to, s.
const TIMES: (f64, f64) = (1.0, 1e6);

const DESICCANT: Field = Field::optional(
    "desiccant",
    FieldKind::Text,
    "molecular-sieve-13x",
    "Key of a desiccant record",
);
const CAPACITY_LEFT: Field = Field::optional(
    "capacity_left",
    sourced!(Fraction),
    "90 %",
    "What the desiccant still takes up, of what it did when new",
)
.within(0.01, 1.0);
const HEAT_CAPACITY: Field = Field::optional(
    "heat_capacity",
    sourced!(SpecificHeatCapacity),
    "0.95 kJ/(kg K)",
    "Heat capacity of it, dry",
)
.within(200.0, 5000.0);
const PORE: Field = Field::optional(
    "pore_diffusivity",
    sourced!(Diffusivity),
    "2e-6 m2/s",
    "Pore diffusivity of water in the desiccant, counted in gas",
)
.within(1e-12, 1e-3);

pub(super) static WHEEL: Section = Section {
    fields: &[
        Field::optional("diameter", sourced!(Length), "300 mm", "Outer diameter")
            .within(0.02, 10.0),
        Field::optional(
            "hub_diameter",
            sourced!(Length),
            "60 mm",
            "Diameter of the hub, through which no air passes",
        )
        .within(0.0, 10.0),
        Field::optional(
            "face_used",
            sourced!(Fraction),
            "85 %",
            "Share of the disc that air passes, instead of a hub",
        )
        .within(0.05, 1.0),
        Field::optional("depth", sourced!(Length), "200 mm", "Depth along the air")
            .within(0.01, 2.0),
        Field::optional(
            "channel_pitch",
            sourced!(Length),
            "3.2 mm",
            "From wave to wave of its channels",
        )
        .within(1e-4, 0.05),
        Field::optional(
            "channel_height",
            sourced!(Length),
            "1.7 mm",
            "Height of its channels",
        )
        .within(1e-4, 0.05),
        Field::optional(
            "sheet",
            sourced!(Length),
            "0.2 mm",
            "Thickness of the sheet between two channels",
        )
        .within(1e-6, 5e-3),
        Field::optional(
            "density",
            sourced!(Density),
            "213 kg/m3",
            "Dry mass per volume of the wheel",
        )
        .within(10.0, 2000.0),
        DESICCANT,
        Field::optional(
            "desiccant_share",
            sourced!(Fraction),
            "70 %",
            "Share of desiccant in the dry mass",
        )
        .within(0.01, 1.0),
        CAPACITY_LEFT,
        HEAT_CAPACITY,
        PORE,
        Field::optional(
            "process_angle",
            sourced!(Angle),
            "252 deg",
            "Angle of the process sector",
        )
        .within(ABOVE_ZERO, TURN),
        Field::optional(
            "regeneration_angle",
            sourced!(Angle),
            "72 deg",
            "Angle of the regeneration sector",
        )
        .within(ABOVE_ZERO, TURN),
        Field::optional(
            "cooling_angle",
            sourced!(Angle),
            "36 deg",
            "Angle of the cooling sector; 0 deg where there is none",
        )
        .within(0.0, TURN),
        Field::optional(
            "cooling_share",
            sourced!(Fraction),
            "10 %",
            "Air through the cooling sector, as a share of the process air",
        )
        .within(0.0, 1.0),
        Field::optional(
            "cooling_to",
            FieldKind::Choice(&["return air", "regeneration", "hall"]),
            "regeneration",
            "Where the air of the cooling sector goes",
        ),
        Field::optional(
            "seal_leak",
            sourced!(Fraction),
            "0.3 %",
            "Air that slips from regeneration to process, as a share of the process air",
        )
        .within(0.0, 0.5),
        Field::optional("speed", sourced!(Frequency), "5 1/h", "Turns of the wheel")
            .within(0.0, 1.0),
        Field::optional("drive", sourced!(Power), "20 W", "Power of its drive").within(0.0, 1e4),
        Field::optional(
            "steel",
            sourced!(Mass),
            "6 kg",
            "Steel between the regeneration heater and the wheel, heater box and hood included",
        )
        .within(0.0, 1e5),
    ],
    rules: &[
        Rule::AtMostOne(&["hub_diameter", "face_used"]),
        Rule::Together(&["channel_pitch", "channel_height"]),
    ],
};

pub(super) static TOWERS: Section = Section {
    fields: &[
        Field::optional(
            "charge",
            sourced!(Mass),
            "30 kg",
            "Dry desiccant in one vessel, instead of its diameter",
        )
        .within(0.01, 1e5),
        Field::optional(
            "diameter",
            sourced!(Length),
            "300 mm",
            "Inner diameter of a vessel",
        )
        .within(0.02, 10.0),
        Field::optional("depth", sourced!(Length), "500 mm", "Depth of the bed").within(0.02, 5.0),
        Field::optional("bead", sourced!(Length), "2.5 mm", "Diameter of a bead")
            .within(1e-4, 0.02),
        Field::optional(
            "voidage",
            sourced!(Fraction),
            "37 %",
            "Share of the bed between the beads",
        )
        .within(0.2, 0.8),
        Field::optional(
            "density",
            sourced!(Density),
            "680 kg/m3",
            "Dry mass per volume of bed",
        )
        .within(50.0, 2000.0),
        DESICCANT,
        CAPACITY_LEFT,
        HEAT_CAPACITY,
        PORE,
        Field::optional(
            "steel",
            sourced!(Mass),
            "12 kg",
            "Steel of one vessel that warms with its bed",
        )
        .within(0.0, 1e5),
        Field::defaulted(
            "swap",
            FieldKind::Choice(&["clock", "dew point"]),
            "clock",
            "What swaps the towers",
        ),
        Field::optional(
            "swap_after",
            sourced!(Duration),
            "4 h",
            "Time from swap to swap; with a dew point the latest",
        )
        .within(TIMES.0, TIMES.1),
        Field::optional(
            "swap_earliest",
            sourced!(Duration),
            "30 min",
            "Time before which a dew point does not swap them",
        )
        .within(0.0, TIMES.1),
        Field::optional(
            "swap_dew_point",
            FieldKind::Quantity(Meaning::Humidity),
            "-30 degC frost",
            "Dew or frost point of the dried air that swaps them",
        )
        .within(173.15, 323.15),
        Field::optional(
            "regeneration_time",
            sourced!(Duration),
            "2.5 h",
            "Time of the hot air; the longest where it ends by temperature",
        )
        .within(0.0, TIMES.1),
        Field::optional(
            "regeneration_until",
            sourced!(Temperature),
            "150 degC",
            "Temperature of the air leaving at which it ends",
        )
        .within(OUTLET.0, OUTLET.1),
        Field::optional(
            "cooling_time",
            sourced!(Duration),
            "1.2 h",
            "Time of the cooling air; the longest where it ends by temperature",
        )
        .within(0.0, TIMES.1),
        Field::optional(
            "cooling_until",
            sourced!(Temperature),
            "60 degC",
            "Temperature of the air leaving at which it ends",
        )
        .within(OUTLET.0, OUTLET.1),
        Field::optional(
            "cooling_way",
            FieldKind::Choice(&["along", "against"]),
            "along",
            "Whether cooling air flows as the process air or against it",
        ),
        Field::optional(
            "stuck",
            FieldKind::Count,
            "1",
            "A tower whose valve is stuck, so that it dries for ever",
        )
        .within(1.0, 2.0),
        Field::optional(
            "bypass_1",
            sourced!(Fraction),
            "3 %",
            "Process air that a valve lets by while the first tower dries",
        )
        .within(0.0, 0.9),
        Field::optional(
            "bypass_2",
            sourced!(Fraction),
            "3 %",
            "Process air that a valve lets by while the second tower dries",
        )
        .within(0.0, 0.9),
    ],
    rules: &[
        Rule::AtMostOne(&["charge", "diameter"]),
        Rule::When {
            field: "swap",
            word: "clock",
            needs: &[],
            may: &[],
        },
        Rule::When {
            field: "swap",
            word: "dew point",
            needs: &["swap_dew_point"],
            may: &["swap_earliest"],
        },
    ],
};

pub(super) static COMPRESSED_AIR: Section = Section {
    fields: &[
        Field::optional(
            "pressure",
            sourced!(GaugePressure),
            "7 bar(g)",
            "Pressure of the line",
        )
        .within(LINE_HOLDS.low * 1e5, LINE_HOLDS.high * 1e5),
        held_celsius(
            Field::optional(
                "dew_point",
                sourced!(Humidity),
                "3 degC dew",
                "Dew or frost point of the line at its own pressure",
            ),
            &LINE_POINT_HOLDS,
        ),
        held_celsius(
            Field::optional(
                "temperature",
                sourced!(Temperature),
                "25 degC",
                "Temperature of the line",
            ),
            &LINE_TEMPERATURE_HOLDS,
        ),
        Field::optional(
            "energy",
            sourced!(EnergyPerVolume),
            "0.11 kWh/m3",
            "Energy of the compressor for each volume it draws in",
        )
        .within(
            SPECIFIC_ENERGY_HOLDS.low * KWH,
            SPECIFIC_ENERGY_HOLDS.high * KWH,
        ),
        Field::optional(
            "counted_at",
            FieldKind::Choice(&["20 degC and 1 bar", "0 degC and 1 atm"]),
            "20 degC and 1 bar",
            "State at which that volume is counted",
        ),
        Field::defaulted(
            "dried_by",
            FieldKind::Choice(&[
                "refrigeration",
                "heatless adsorption",
                "heated adsorption",
                "membrane",
            ]),
            "refrigeration",
            "How the plant dries its compressed air",
        ),
        Field::optional(
            "drying_energy",
            sourced!(EnergyPerVolume),
            "0.005 kWh/m3",
            "Energy of that for each volume",
        )
        .within(DRYING_ENERGY_HOLDS.low * KWH, DRYING_ENERGY_HOLDS.high * KWH),
        Field::optional(
            "lost",
            sourced!(Fraction),
            "15 %",
            "Share of the air that is lost as purge or sweep",
        )
        .within(LOST_SHARE_HOLDS.low, LOST_SHARE_HOLDS.high),
        Field::optional(
            "fresh",
            sourced!(Fraction),
            "30 %",
            "Share of the air of the hopper that comes fresh from the line; all of it when left out",
        )
        .within(MAKE_UP_HOLDS.low, MAKE_UP_HOLDS.high),
    ],
    rules: &[
        Rule::When {
            field: "dried_by",
            word: "refrigeration",
            needs: &[],
            may: &["drying_energy"],
        },
        Rule::When {
            field: "dried_by",
            word: "heated adsorption",
            needs: &["drying_energy"],
            may: &[],
        },
        Rule::When {
            field: "dried_by",
            word: "heatless adsorption",
            needs: &["lost"],
            may: &[],
        },
        Rule::When {
            field: "dried_by",
            word: "membrane",
            needs: &["lost"],
            may: &[],
        },
    ],
};
