//! The fields of a desiccant record: names, meanings, ranges, examples and help, said once.

use crate::resin_law_fields::sourced;
use quantity::{Field, FieldKind, Meaning, Rule, Section};

/// A plain number with its parents.
const fn number(name: &'static str, example: &'static str, help: &'static str) -> Field {
    Field::optional(name, sourced!(Number), example, help)
}

/// The fields of a desiccant record.
pub(crate) static DESICCANT_FIELDS: Section = Section {
    fields: &[
        Field::FORMAT,
        Field::required(
            "title",
            FieldKind::Text,
            "13X molecular sieve, beads",
            "What it is, in a few words",
        ),
        Field::defaulted(
            "invented",
            FieldKind::Flag,
            "false",
            "Whether a number is invented, to stand in for one that is not known",
        ),
        Field::required(
            "heat_capacity",
            sourced!(SpecificHeatCapacity),
            "0.9 kJ/(kg K)",
            "Heat capacity of the dry desiccant",
        )
        .within(300.0, 3000.0),
        Field::optional(
            "serves_from",
            sourced!(Temperature),
            "-30 degC",
            "Lowest temperature at which the law is used",
        )
        .within(183.15, 573.15),
        Field::optional(
            "serves_to",
            sourced!(Temperature),
            "260 degC",
            "Highest temperature at which the law is used; beyond, it is unphysical",
        )
        .within(183.15, 573.15),
        Field::optional(
            "measured_from",
            FieldKind::Quantity(Meaning::Temperature),
            "0 degC",
            "Lowest temperature at which the source measured",
        )
        .within(183.15, 773.15),
        Field::optional(
            "measured_to",
            FieldKind::Quantity(Meaning::Temperature),
            "100 degC",
            "Highest temperature at which the source measured",
        )
        .within(183.15, 773.15),
        Field::optional(
            "measured_pressure_from",
            FieldKind::Quantity(Meaning::VapourPressure),
            "3.5 Pa",
            "Lowest vapour pressure at which the source measured",
        )
        .within(1e-6, 1e6),
        Field::optional(
            "measured_pressure_to",
            FieldKind::Quantity(Meaning::VapourPressure),
            "1830 Pa",
            "Highest vapour pressure at which the source measured",
        )
        .within(1e-6, 1e6),
        Field::defaulted(
            "gaps",
            FieldKind::List(&FieldKind::Text),
            "[]",
            "What is not known, one sentence each",
        ),
        Field::optional(
            "law",
            FieldKind::Table(&LAW),
            "",
            "The law of a desiccant of one kind",
        ),
        Field::optional(
            "part",
            FieldKind::Tables(&PART),
            "",
            "The desiccants of a mixture, one table each",
        ),
    ],
    rules: &[
        Rule::ExactlyOne(&["law", "part"]),
        Rule::Together(&["serves_from", "serves_to"]),
        Rule::Together(&["measured_from", "measured_to"]),
        Rule::Together(&["measured_pressure_from", "measured_pressure_to"]),
    ],
};

static PART: Section = Section {
    fields: &[
        Field::required(
            "of",
            FieldKind::Text,
            "molecular-sieve-13x",
            "Key of another desiccant record",
        ),
        Field::required(
            "share",
            sourced!(Fraction),
            "35 %",
            "Its share by mass of the dry mixture; what the shares leave is inert",
        )
        .within(1e-6, 1.0),
    ],
    rules: &[],
};

static LAW: Section = Section {
    fields: &[
        Field::required(
            "form",
            FieldKind::Choice(&["toth", "sites", "characteristic curve", "dubinin-astakhov"]),
            "toth",
            "Which law",
        ),
        Field::optional(
            "capacity",
            sourced!(MoistureDryBasis),
            "0.272 kg/kg dry",
            "Loading at saturation",
        )
        .within(1e-6, 1e6),
        number(
            "affinity_per_pa",
            "2.4e-10",
            "Affinity b_0 of the law of Toth, 1/Pa",
        )
        .within(1e-30, 1e6),
        Field::optional(
            "energy",
            sourced!(TemperatureDifference),
            "6852 K",
            "Energy E of the law of Toth over the gas constant",
        )
        .within(0.0, 3e4),
        number("exponent", "0.4", "Exponent n, or n_0").within(-50.0, 50.0),
        Field::optional(
            "exponent_slope",
            sourced!(TemperatureDifference),
            "-4.2 K",
            "Change c of the exponent with 1/T",
        )
        .within(-1e4, 1e4),
        site_enthalpy("enthalpy_1"),
        site_enthalpy("enthalpy_2"),
        site_enthalpy("enthalpy_3"),
        site_enthalpy("enthalpy_4"),
        site_entropy("entropy_1"),
        site_entropy("entropy_2"),
        site_entropy("entropy_3"),
        site_entropy("entropy_4"),
        coefficient("coefficient_0"),
        coefficient("coefficient_1"),
        coefficient("coefficient_2"),
        coefficient("coefficient_3"),
        coefficient("coefficient_4"),
        coefficient("coefficient_5"),
        coefficient("coefficient_6"),
        Field::optional(
            "density_at_reference",
            sourced!(Density),
            "998 kg/m3",
            "Density of sorbed water at the reference temperature",
        )
        .within(100.0, 2000.0),
        Field::optional(
            "expansion",
            sourced!(PerTemperature),
            "2.0e-4 1/K",
            "Thermal expansion of sorbed water at the reference temperature",
        )
        .within(0.0, 2e-3),
        Field::optional(
            "reference_temperature",
            sourced!(Temperature),
            "20 degC",
            "Reference temperature of the density",
        )
        .within(250.0, 400.0),
        Field::optional(
            "highest_potential",
            sourced!(SpecificEnergy),
            "2200 kJ/kg",
            "Adsorption potential beyond which the curve goes on as an exponential",
        )
        .within(1e5, 1e7),
        number(
            "volume_cm3_per_g",
            "0.327",
            "Volume filled at saturation, cm3 per g of dry desiccant",
        )
        .within(1e-6, 10.0),
        Field::optional(
            "characteristic_energy",
            sourced!(MolarEnergy),
            "4.4 kJ/mol",
            "Energy E of Dubinin and Astakhov",
        )
        .within(100.0, 1e5),
    ],
    rules: &[
        Rule::When {
            field: "form",
            word: "toth",
            needs: &["capacity", "affinity_per_pa", "energy", "exponent"],
            may: &["exponent_slope"],
        },
        Rule::When {
            field: "form",
            word: "sites",
            needs: &[
                "capacity",
                "enthalpy_1",
                "enthalpy_2",
                "enthalpy_3",
                "enthalpy_4",
                "entropy_1",
                "entropy_2",
                "entropy_3",
                "entropy_4",
            ],
            may: &[],
        },
        Rule::When {
            field: "form",
            word: "characteristic curve",
            needs: &[
                "coefficient_0",
                "coefficient_1",
                "coefficient_2",
                "coefficient_3",
                "coefficient_4",
                "coefficient_5",
                "coefficient_6",
                "density_at_reference",
                "expansion",
                "reference_temperature",
                "highest_potential",
            ],
            may: &[],
        },
        Rule::When {
            field: "form",
            word: "dubinin-astakhov",
            needs: &["volume_cm3_per_g", "characteristic_energy", "exponent"],
            may: &[],
        },
    ],
};

const fn site_enthalpy(name: &'static str) -> Field {
    Field::optional(
        name,
        sourced!(MolarEnergy),
        "-46.6 kJ/mol",
        "Enthalpy of so many molecules in a cage",
    )
    .within(-1e6, 0.0)
}

const fn site_entropy(name: &'static str) -> Field {
    number(
        name,
        "-53.7",
        "Entropy of so many molecules in a cage, J/(mol K), against vapour at 100 kPa",
    )
    .within(-5e3, 0.0)
}

const fn coefficient(name: &'static str) -> Field {
    number(
        name,
        "0.363",
        "Coefficient of the curve W(A), W in cm3/g and A in kJ/kg",
    )
    .within(-10.0, 10.0)
}
