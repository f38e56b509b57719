//! The fields of a resin record: names, meanings, ranges, examples and help, said once.

use quantity::{Field, FieldKind, Meaning, Rule, Section};

/// A value with its parents: a quantity and what is known of it.
macro_rules! sourced {
    ($meaning:ident) => {
        FieldKind::Sourced(&FieldKind::Quantity(Meaning::$meaning))
    };
}

/// Words for a reason to warn, as a record writes them.
pub(crate) const CAUTIONS: &[&str] = &[
    "formaldehyde",
    "hydrogen chloride",
    "styrene",
    "caprolactam",
    "plasticiser",
    "oligomer",
    "hydrolysis",
    "oxidation",
    "sticks",
];

/// The fields of a resin record.
pub static RESIN: Section = Section {
    fields: &[
        Field::required(
            "format",
            FieldKind::Count,
            "1",
            "Version of the format of this file",
        ),
        Field::optional(
            "like",
            FieldKind::Text,
            "PC",
            "Name of the resin whose values stand where this record says nothing",
        ),
        Field::required("name", FieldKind::Text, "PC", "Generic name people use"),
        Field::required(
            "title",
            FieldKind::Text,
            "Polycarbonate",
            "What it is, in a few words",
        ),
        Field::defaulted(
            "aliases",
            FieldKind::List(&FieldKind::Text),
            "[]",
            "Other names",
        ),
        Field::required(
            "behaviour",
            FieldKind::Choice(&["hygroscopic", "surface water only"]),
            "hygroscopic",
            "Whether water enters the resin",
        ),
        Field::required(
            "structure",
            FieldKind::Choice(&["amorphous", "semicrystalline"]),
            "amorphous",
            "How the chains are arranged",
        ),
        Field::defaulted(
            "crystallise_first",
            FieldKind::Flag,
            "false",
            "Whether a hopper without motion would fuse it before it has crystallised",
        ),
        Field::defaulted(
            "cautions",
            FieldKind::List(&FieldKind::Choice(CAUTIONS)),
            "[]",
            "What it can give off or do",
        )
        .like("sticks"),
        Field::required(
            "over_drying",
            FieldKind::Text,
            "Long stays yellow it.",
            "What staying too long or too dry does to it",
        ),
        Field::required(
            "pellet",
            FieldKind::Table(&PELLET),
            "",
            "Form and size of the pellets",
        ),
        Field::required(
            "density",
            sourced!(Density),
            "1200 kg/m3",
            "Density of the dry resin",
        )
        .within(600.0, 3000.0),
        Field::required(
            "bulk_density",
            sourced!(BulkDensity),
            "700 kg/m3",
            "Density of poured pellets",
        )
        .within(200.0, 2000.0),
        Field::required(
            "heat_capacity",
            sourced!(SpecificHeatCapacity),
            "1.20 kJ/(kg K)",
            "Heat capacity of the dry resin at 23 degC",
        )
        .within(500.0, 5000.0),
        Field::required(
            "heat_capacity_slope",
            sourced!(HeatCapacitySlope),
            "3.3 J/(kg K2)",
            "Rise of the heat capacity per kelvin",
        )
        .within(-20.0, 50.0),
        Field::required(
            "thermal_conductivity",
            sourced!(ThermalConductivity),
            "0.20 W/(m K)",
            "Thermal conductivity of the solid",
        )
        .within(0.03, 5.0),
        Field::optional(
            "glass_transition",
            sourced!(Temperature),
            "148 degC",
            "Glass transition of the dry resin",
        )
        .within(100.0, 700.0),
        Field::optional(
            "glass_transition_drop",
            sourced!(GlassTransitionDrop),
            "10 K/%",
            "Fall of the glass transition per moisture on dry basis",
        )
        .within(0.0, 20_000.0),
        Field::optional(
            "melting",
            sourced!(Temperature),
            "262 degC",
            "Melting point",
        )
        .within(300.0, 800.0),
        Field::required(
            "sticking",
            sourced!(Temperature),
            "130 degC",
            "Temperature at which dry pellets begin to fuse under the load of a hopper",
        )
        .within(280.0, 700.0),
        Field::required("isotherm", FieldKind::Table(&ISOTHERM), "", "Sorption law"),
        Field::optional(
            "sorption_heat",
            sourced!(SpecificEnergy),
            "2300 kJ/kg",
            "Heat of sorption, where it does not follow from the isotherm",
        )
        .within(1e5, 1e7),
        Field::required(
            "diffusivity",
            FieldKind::Table(&DIFFUSIVITY),
            "",
            "Diffusion law",
        ),
        Field::required(
            "drying",
            FieldKind::Table(&DRYING),
            "",
            "Customary settings",
        ),
        Field::required("limit", FieldKind::Table(&LIMIT), "", "Moisture limits"),
        Field::required(
            "received",
            FieldKind::Table(&RECEIVED),
            "",
            "Moisture as it arrives",
        ),
    ],
    rules: &[],
};

static PELLET: Section = Section {
    fields: &[
        Field::required(
            "shape",
            FieldKind::Sourced(&FieldKind::Choice(&[
                "cylinder", "sphere", "spheroid", "lens",
            ])),
            "cylinder",
            "Outline of a pellet",
        ),
        Field::required(
            "diameter",
            sourced!(Length),
            "2.5 mm",
            "Diameter across the axis; its spread is from pellet to pellet",
        )
        .within(1e-4, 0.05),
        Field::optional(
            "length",
            sourced!(Length),
            "3.0 mm",
            "Length of a cylinder, axis of a spheroid, thickness of a lens",
        )
        .within(1e-4, 0.05),
    ],
    rules: &[
        Rule::When {
            field: "shape",
            word: "cylinder",
            needs: &["length"],
            may: &[],
        },
        Rule::When {
            field: "shape",
            word: "spheroid",
            needs: &["length"],
            may: &[],
        },
        Rule::When {
            field: "shape",
            word: "lens",
            needs: &["length"],
            may: &[],
        },
    ],
};

static ISOTHERM: Section = Section {
    fields: &[
        Field::required(
            "form",
            FieldKind::Choice(&["surface only", "henry", "dual mode", "flory-huggins", "gab"]),
            "henry",
            "Which law",
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

static DIFFUSIVITY: Section = Section {
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

static DRYING: Section = Section {
    fields: &[
        Field::required(
            "temperature",
            sourced!(Temperature),
            "120 degC",
            "Customary set point",
        )
        .within(290.0, 600.0),
        Field::required(
            "temperature_low",
            sourced!(Temperature),
            "115 degC",
            "Lower end of the customary window",
        )
        .within(290.0, 600.0),
        Field::required(
            "temperature_high",
            sourced!(Temperature),
            "125 degC",
            "Upper end of the customary window",
        )
        .within(290.0, 600.0),
        Field::required(
            "time",
            sourced!(Duration),
            "3 h",
            "Customary time in the hopper",
        )
        .within(60.0, 1e6),
        Field::required(
            "dew_point",
            sourced!(FrostPoint),
            "-30 degC frost",
            "Frost point that practice asks for, at one atmosphere",
        )
        .within(173.15, 273.16),
        Field::required(
            "hold",
            sourced!(Duration),
            "24 h",
            "Longest time at temperature before harm is usual",
        )
        .within(60.0, 1e7),
    ],
    rules: &[],
};

static LIMIT: Section = Section {
    fields: &[
        Field::required(
            "moulding",
            sourced!(MoistureDryBasis),
            "0.02 % wet",
            "Highest moisture for injection moulding",
        )
        .within(1e-6, 0.1),
        Field::optional(
            "extrusion",
            sourced!(MoistureDryBasis),
            "0.01 % wet",
            "Highest moisture for extrusion, film or fibre",
        )
        .within(1e-6, 0.1),
        Field::optional(
            "lower_edge",
            sourced!(MoistureDryBasis),
            "0.02 % wet",
            "Moisture below which the resin is too dry",
        )
        .within(0.0, 0.1),
    ],
    rules: &[],
};

static RECEIVED: Section = Section {
    fields: &[
        Field::required(
            "sealed",
            sourced!(MoistureDryBasis),
            "0.08 % wet",
            "Moisture from a sealed, lined bag",
        )
        .within(0.0, 0.5),
        Field::required(
            "opened",
            sourced!(MoistureDryBasis),
            "0.2 % wet",
            "Moisture from an opened or stored package",
        )
        .within(0.0, 0.5),
    ],
    rules: &[],
};
