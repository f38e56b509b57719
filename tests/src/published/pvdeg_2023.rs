//! Kempe and the PVDeg contributors (2023), water permeation parameters of polymers: data file
//! H2Opermeation.json of PV Degradation Tools (PVDeg), National Renewable Energy Laboratory, commit
//! 122617f (year from memory).
//!
//! What was measured: permeation of water vapour through films and sheets, fitted by diffusivity,
//! solubility and permeability with their activation energies; entries W018 (bisphenol-A polycarbonate),
//! W017 and W003 (PET films), W007, W031 and W034 (aliphatic thermoplastic polyurethane sheets), W040
//! (ethylene vinyl acetate sheet of another laboratory), W002 (film of three layers of polyamide, whose
//! kind is not printed: 12, from memory; it means 0.9 % saturated, the record has 1.4 %).
//! Most entries are marked there as unpublished measurements; their range of temperature is not printed
//! (25 to 85 degC, from memory).
//! How read: the fitted constants, all digits; no reading error.
//! Tolerance: half of the number, what separates two laboratories and two grades of one resin; 30 % for
//! a rise with temperature.
//! Errata and doubts: the solubility of polycarbonate rises with 13.5 kJ/mol to twice what Golovoy and
//! Zinbo (1989) print at 100 degC; shown as disputed. Films of PET are drawn, pellets are not.
//! Not compared: entry W016 (PET) and the solubilities of PET and polyurethane, which the records of
//! this workspace stand on; so do the diffusivities of W007, W031 and W034, and only the rise with
//! temperature of those is compared, for which the record has another source.

use super::{is_absent, resin};
use crate::{Kind, Row};
use quantity::constants::MOLAR_GAS;

const SOURCE: &str = "PVDeg (2023), H2Opermeation.json";
/// Where the fits are compared, degC.
const AT: [f64; 3] = [23.0, 50.0, 85.0];
/// g mm/(m2 d) in a kg/(m s).
const GRAM_MILLIMETRE_DAY: f64 = 1e3 * 1e3 * 86_400.0;

/// A fit `value exp(-energy/RT)`, kJ/mol.
#[derive(Clone, Copy)]
struct Fit {
    value: f64,
    energy: f64,
}

impl Fit {
    fn at(self, t: f64) -> f64 {
        self.value * (-1e3 * self.energy / (MOLAR_GAS * t)).exp()
    }
}

/// W018: cm2/s, g/cm3, g mm/(m2 d).
const PC_DIFFUSIVITY: Fit = Fit {
    value: 0.0177602090081197,
    energy: 31.7570673066821,
};
const PC_SOLUBILITY: Fit = Fit {
    value: 1.21057375762911,
    energy: 13.4503885886312,
};
const PC_PERMEABILITY: Fit = Fit {
    value: 185760371.133255,
    energy: 45.2074558953133,
};
/// Entry and diffusivity, cm2/s.
const PET: [(&str, Fit); 2] = [
    (
        "W017",
        Fit {
            value: 1.43136116146877,
            energy: 49.1988088587438,
        },
    ),
    (
        "W003",
        Fit {
            value: 1.31884541208636,
            energy: 47.5191721120378,
        },
    ),
];
const TPU: [(&str, Fit); 3] = [
    (
        "W007",
        Fit {
            value: 40.519181381529,
            energy: 46.6619594980869,
        },
    ),
    (
        "W031",
        Fit {
            value: 74.7749648984175,
            energy: 50.7463326496412,
        },
    ),
    (
        "W034",
        Fit {
            value: 4.32928261563764,
            energy: 44.2414356094982,
        },
    ),
];

/// W002, cm2/s: a film of three layers of polyamide.
const POLYAMIDE_DIFFUSIVITY: Fit = Fit {
    value: 257.906020262449,
    energy: 61.4781422330562,
};
/// W040, cm2/s: another laboratory's sheet of ethylene vinyl acetate, read there from a figure.
const EVA_DIFFUSIVITY: Fit = Fit {
    value: 0.0347563378698928,
    energy: 28.0325960835163,
};

fn row(what: String, unit: &'static str, expected: f64, computed: f64, tolerance: f64) -> Row {
    Row {
        source: SOURCE,
        what,
        unit,
        expected,
        computed,
        tolerance,
        absolute: false,
        why: "two laboratories, two grades of a resin",
        kind: Kind::Published,
        disputed: None,
    }
}

fn polycarbonate() -> Vec<Row> {
    let Some(pc) = resin("pc") else {
        return vec![is_absent(SOURCE, "pc")];
    };
    let density = pc.density.value.kg_per_m3();
    let mut rows = Vec::new();
    for celsius in AT {
        let t = celsius + 273.15;
        let diffusivity = pc.diffusivity.law.at(t, 0.0);
        let saturated = pc.isotherm.law.moisture(t, 1.0);
        rows.push(row(
            format!("diffusivity in PC, {celsius} degC"),
            "m2/s",
            1e-4 * PC_DIFFUSIVITY.at(t),
            diffusivity,
            0.5,
        ));
        rows.push(row(
            format!("permeability of PC from dry to saturated, {celsius} degC"),
            "g mm/(m2 d)",
            PC_PERMEABILITY.at(t),
            diffusivity * saturated * density * GRAM_MILLIMETRE_DAY,
            0.5,
        ));
        rows.push(Row {
            disputed: Some(
                "0.59 % at 100 degC in Golovoy and Zinbo (1989), 0.28 % from 40 to 90 degC in \
                 Ghorbel et al. (1995)",
            ),
            ..row(
                format!("moisture of saturated PC, {celsius} degC"),
                "kg/kg",
                1e3 * PC_SOLUBILITY.at(t) / density,
                saturated,
                0.5,
            )
        });
    }
    rows
}

/// Every row of this source.
pub fn rows() -> Vec<Row> {
    let mut rows = polycarbonate();
    match resin("pet") {
        None => rows.push(is_absent(SOURCE, "pet")),
        Some(pet) => {
            for (entry, fit) in PET {
                for celsius in AT {
                    let t = celsius + 273.15;
                    rows.push(row(
                        format!("diffusivity in a PET film, entry {entry}, {celsius} degC"),
                        "m2/s",
                        1e-4 * fit.at(t),
                        pet.diffusivity.law.at(t, 0.0),
                        0.5,
                    ));
                }
            }
        }
    }
    match resin("pa12") {
        None => rows.push(is_absent(SOURCE, "pa12")),
        Some(pa12) => {
            for celsius in AT {
                let t = celsius + 273.15;
                rows.push(row(
                    format!("diffusivity in a polyamide film, entry W002, {celsius} degC, as PA12"),
                    "m2/s",
                    1e-4 * POLYAMIDE_DIFFUSIVITY.at(t),
                    pa12.diffusivity.law.at(t, 0.0),
                    0.5,
                ));
            }
        }
    }
    match resin("eva") {
        None => rows.push(is_absent(SOURCE, "eva")),
        Some(eva) => {
            for celsius in AT {
                let t = celsius + 273.15;
                rows.push(Row {
                    disputed: Some(
                        "28 kJ/mol read from a figure, 38 kJ/mol in the sheet of entry W001, on \
                         which the record stands",
                    ),
                    ..row(
                        format!("diffusivity in an EVA sheet, entry W040, {celsius} degC"),
                        "m2/s",
                        1e-4 * EVA_DIFFUSIVITY.at(t),
                        eva.diffusivity.law.at(t, 0.0),
                        0.5,
                    )
                });
            }
        }
    }
    match resin("tpu") {
        None => rows.push(is_absent(SOURCE, "tpu")),
        Some(tpu) => {
            for (entry, fit) in TPU {
                let law = |celsius: f64| tpu.diffusivity.law.at(celsius + 273.15, 0.0);
                rows.push(row(
                    format!("rise of diffusivity in a TPU sheet, entry {entry}, 23 to 60 degC"),
                    "",
                    fit.at(333.15) / fit.at(296.15),
                    law(60.0) / law(23.0),
                    0.3,
                ));
            }
        }
    }
    rows
}

#[cfg(test)]
mod tests {
    #[test]
    fn published_pvdeg() {
        crate::check(&super::rows());
    }
}
