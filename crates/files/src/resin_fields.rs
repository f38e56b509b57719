//! The fields of a resin record: names, meanings, ranges, examples and help, said once.

use crate::resin_law_fields::{DEGRADATION, DIFFUSIVITY, FILLER, ISOTHERM, sourced};
use quantity::{Field, FieldKind, Meaning, Rule, Section};

/// Words for a reason to warn, as a record writes them.
pub(crate) const CAUTIONS: &[&str] = &[
    "formaldehyde",
    "hydrogen chloride",
    "styrene",
    "caprolactam",
    "acrylonitrile",
    "acetaldehyde",
    "acetic acid",
    "ammonia",
    "hydrogen fluoride",
    "dust",
    "plasticiser",
    "oligomer",
    "hydrolysis",
    "oxidation",
    "sticks",
    "crystallised only",
];

/// The fields of a resin record.
pub static RESIN: Section = Section {
    fields: &[
        Field::FORMAT,
        Field::optional(
            "like",
            FieldKind::Text,
            "PC",
            "Name of the resin or family whose values stand where this record says nothing",
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
        Field::optional(
            "family",
            FieldKind::Text,
            "polyamide",
            "Family it is listed under",
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
            "crystallises",
            FieldKind::Flag,
            "false",
            "Whether it comes amorphous, may be dried so, and crystallises where it is stirred hot",
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
        Field::optional(
            "filler",
            FieldKind::Table(&FILLER),
            "",
            "What is mixed into the polymer",
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
        Field::optional(
            "degradation",
            FieldKind::Table(&DEGRADATION),
            "",
            "How fast water and air harm it while it is hot",
        ),
    ],
    rules: &[],
};

static PELLET: Section = Section {
    fields: &[
        Field::required(
            "shape",
            FieldKind::Sourced(&FieldKind::Choice(&[
                "cylinder", "sphere", "spheroid", "lens", "flake",
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
            "Length of a cylinder, axis of a spheroid, thickness of a lens or flake",
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
        Rule::When {
            field: "shape",
            word: "flake",
            needs: &["length"],
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
            "Longest time at the customary temperature before harm is usual",
        )
        .within(60.0, 1e7),
        Field::optional(
            "hold_energy",
            sourced!(MolarEnergy),
            "120 kJ/mol",
            "Activation energy of the harm that ends the hold; 100 kJ/mol by analogy when left out",
        )
        .within(0.0, 3e5),
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
            "Highest moisture for extrusion, sheet and film",
        )
        .within(1e-6, 0.1),
        Field::optional(
            "fibre",
            sourced!(MoistureDryBasis),
            "0.005 % wet",
            "Highest moisture for spinning fibre",
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
