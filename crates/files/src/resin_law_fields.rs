//! The fields of a resin record's laws: sorption, diffusion, harm, and the filler that shares in them.

use quantity::{Field, FieldKind, Meaning, Rule, Section};

/// A value with its parents: a quantity and what is known of it.
macro_rules! sourced {
    ($meaning:ident) => {
        FieldKind::Sourced(&FieldKind::Quantity(Meaning::$meaning))
    };
}

pub(crate) use sourced;

/// Words for a filler, as a record writes them.
pub(crate) const FILLERS: &[&str] = &[
    "glass fibre",
    "glass beads",
    "talc",
    "mineral",
    "carbon fibre",
    "carbon black",
    "wood fibre",
    "flame retardant",
    "other",
];

pub(crate) static FILLER: Section = Section {
    fields: &[
        Field::required(
            "kind",
            FieldKind::Choice(FILLERS),
            "glass fibre",
            "What is mixed into the polymer",
        ),
        Field::required(
            "share",
            sourced!(Fraction),
            "30 %",
            "Its share by mass of the dry compound",
        )
        .within(1e-3, 0.9),
        Field::optional(
            "density",
            sourced!(Density),
            "2550 kg/m3",
            "Its density, from which that of the compound follows",
        )
        .within(600.0, 8000.0),
        Field::optional(
            "heat_capacity",
            sourced!(SpecificHeatCapacity),
            "800 J/(kg K)",
            "Its heat capacity at 23 degC, from which that of the compound follows",
        )
        .within(300.0, 3000.0),
    ],
    rules: &[],
};

pub(crate) static ISOTHERM: Section = Section {
    fields: &[
        Field::required(
            "form",
            FieldKind::Choice(&["surface only", "henry", "dual mode", "flory-huggins", "gab"]),
            "henry",
            "Which law",
        ),
        Field::defaulted(
            "whole",
            FieldKind::Flag,
            "false",
            "Whether the values hold for the whole compound, because its filler takes up water too",
        ),
        Field::optional(
            "capacity",
            sourced!(MoistureDryBasis),
            "0.59 % dry",
            "Dissolved moisture at activity 1 and the reference temperature",
        )
        .within(1e-7, 1.0),
        Field::optional(
            "reference_temperature",
            sourced!(Temperature),
            "100 degC",
            "Temperature at which the other values hold",
        )
        .within(200.0, 600.0),
        Field::optional(
            "mixing_heat",
            sourced!(MolarEnergy),
            "6.3 kJ/mol",
            "Heat of sorption less heat of condensation, of dissolved water",
        )
        .within(-1e5, 1e5),
        Field::optional(
            "hole_capacity",
            sourced!(MoistureDryBasis),
            "0.2 % dry",
            "Moisture held in holes when they are full",
        )
        .within(0.0, 1.0),
        Field::optional(
            "hole_affinity",
            sourced!(Number),
            "5",
            "Affinity of the holes at the reference temperature",
        )
        .within(0.0, 1e4),
        Field::optional(
            "hole_heat",
            sourced!(MolarEnergy),
            "-8 kJ/mol",
            "Heat of the holes",
        )
        .within(-1e5, 1e5),
        Field::optional(
            "interaction",
            sourced!(Number),
            "1.8",
            "Interaction parameter at the reference temperature",
        )
        .within(-5.0, 20.0),
        Field::optional(
            "interaction_slope",
            sourced!(PerTemperature),
            "0.003 1/K",
            "Change of the interaction parameter with temperature",
        )
        .within(-1.0, 1.0),
        Field::optional(
            "amorphous_share",
            sourced!(Number),
            "0.65",
            "Share of the dry resin that takes up water",
        )
        .within(0.01, 1.0),
        Field::optional(
            "monolayer",
            sourced!(MoistureDryBasis),
            "1.1 % dry",
            "Moisture of the first layer",
        )
        .within(1e-7, 1.0),
        Field::optional(
            "surface_constant",
            sourced!(Number),
            "6",
            "Constant c at the reference temperature",
        )
        .within(1e-3, 1e4),
        Field::optional(
            "multilayer_constant",
            sourced!(Number),
            "0.85",
            "Constant k at the reference temperature",
        )
        .within(0.0, 0.999),
        Field::optional(
            "surface_heat",
            sourced!(MolarEnergy),
            "-5 kJ/mol",
            "Heat belonging to c",
        )
        .within(-1e5, 1e5),
        Field::optional(
            "multilayer_heat",
            sourced!(MolarEnergy),
            "0 kJ/mol",
            "Heat belonging to k",
        )
        .within(-1e5, 1e5),
    ],
    rules: &[
        Rule::When {
            field: "form",
            word: "surface only",
            needs: &[],
            may: &[],
        },
        Rule::When {
            field: "form",
            word: "henry",
            needs: &["capacity", "reference_temperature", "mixing_heat"],
            may: &[],
        },
        Rule::When {
            field: "form",
            word: "dual mode",
            needs: &[
                "capacity",
                "reference_temperature",
                "mixing_heat",
                "hole_capacity",
                "hole_affinity",
                "hole_heat",
            ],
            may: &[],
        },
        Rule::When {
            field: "form",
            word: "flory-huggins",
            needs: &["interaction", "reference_temperature", "amorphous_share"],
            may: &["interaction_slope"],
        },
        Rule::When {
            field: "form",
            word: "gab",
            needs: &[
                "monolayer",
                "surface_constant",
                "multilayer_constant",
                "reference_temperature",
                "surface_heat",
            ],
            may: &["multilayer_heat"],
        },
    ],
};

pub(crate) static DIFFUSIVITY: Section = Section {
    fields: &[
        Field::required(
            "form",
            FieldKind::Choice(&["arrhenius", "exponential", "linear", "free volume"]),
            "arrhenius",
            "Which law",
        ),
        Field::required(
            "reference",
            sourced!(Diffusivity),
            "1.5e-10 m2/s",
            "Diffusivity of the dry resin at the reference temperature",
        )
        .within(1e-17, 1e-6),
        Field::required(
            "reference_temperature",
            sourced!(Temperature),
            "120 degC",
            "Temperature at which the reference value holds",
        )
        .within(200.0, 600.0),
        Field::required(
            "activation_energy",
            sourced!(MolarEnergy),
            "33.1 kJ/mol",
            "Activation energy of diffusion",
        )
        .within(0.0, 3e5),
        Field::optional(
            "moisture_exponent",
            sourced!(PerMoisture),
            "40 1/%",
            "Exponent per moisture on dry basis",
        )
        .within(-1e5, 1e5),
        Field::optional(
            "moisture_slope",
            sourced!(PerMoisture),
            "-20 1/%",
            "Relative slope per moisture on dry basis",
        )
        .within(-1e5, 1e5),
        Field::optional(
            "overlap",
            sourced!(Number),
            "1",
            "Overlap factor of the free volume",
        )
        .within(0.01, 10.0),
        Field::optional(
            "fraction_at_glass",
            sourced!(Number),
            "0.025",
            "Share of free volume at the glass transition",
        )
        .within(1e-3, 0.5),
        Field::optional(
            "expansion",
            sourced!(PerTemperature),
            "4.8e-4 1/K",
            "Growth of the free volume above the glass transition",
        )
        .within(1e-6, 0.1),
    ],
    rules: &[
        Rule::When {
            field: "form",
            word: "arrhenius",
            needs: &[],
            may: &[],
        },
        Rule::When {
            field: "form",
            word: "exponential",
            needs: &["moisture_exponent"],
            may: &[],
        },
        Rule::When {
            field: "form",
            word: "linear",
            needs: &["moisture_slope"],
            may: &[],
        },
        Rule::When {
            field: "form",
            word: "free volume",
            needs: &["overlap", "fraction_at_glass", "expansion"],
            may: &[],
        },
    ],
};

pub(crate) static DEGRADATION: Section = Section {
    fields: &[
        Field::optional(
            "hydrolysis",
            FieldKind::Table(&HYDROLYSIS),
            "",
            "Chains cut by water",
        ),
        Field::optional(
            "oxidation",
            FieldKind::Table(&OXIDATION),
            "",
            "Harm by the oxygen of air",
        ),
    ],
    rules: &[],
};

static HYDROLYSIS: Section = Section {
    fields: &[
        Field::required(
            "rate",
            sourced!(Frequency),
            "3.0e-6 1/s",
            "First-order loss ln(Mn0/Mn) per time at water activity 1 and the reference temperature",
        )
        .within(1e-15, 1.0),
        Field::required(
            "reference_temperature",
            sourced!(Temperature),
            "60 degC",
            "Temperature at which the rate holds",
        )
        .within(200.0, 600.0),
        Field::required(
            "activation_energy",
            sourced!(MolarEnergy),
            "87.2 kJ/mol",
            "Activation energy of the rate",
        )
        .within(0.0, 3e5),
        Field::required(
            "order",
            sourced!(Number),
            "1",
            "Exponent of the water activity",
        )
        .within(0.0, 4.0),
    ],
    rules: &[],
};

static OXIDATION: Section = Section {
    fields: &[
        Field::required(
            "rate",
            sourced!(Frequency),
            "0.04 1/h",
            "One over the time in air until harm is visible, at the reference temperature",
        )
        .within(1e-12, 1.0),
        Field::required(
            "reference_temperature",
            sourced!(Temperature),
            "80 degC",
            "Temperature at which the rate holds",
        )
        .within(200.0, 600.0),
        Field::required(
            "activation_energy",
            sourced!(MolarEnergy),
            "120 kJ/mol",
            "Activation energy of the rate",
        )
        .within(0.0, 3e5),
    ],
    rules: &[],
};
