//! NASA Goddard Space Flight Center, Outgassing data for selecting spacecraft materials, online database,
//! as retrieved on 2026-06-10 and shipped with the open-source package spacemat 0.3.0 (public domain).
//!
//! What was measured: by ASTM E595, the water that pieces dried for 24 h at 125 degC in vacuum take up
//! again in 24 h at 50 %RH ("water vapor regained", WVR), printed to 0.01 %. Compared is the median of
//! the entries named in `SERIES`: mouldings, sheets and rods of the resin without filler, coating or
//! ink. Products are named there by brand, here by entry.
//! How read: the data file, all entries; half of the last digit, which counts below 0.1 %.
//! Tolerance: half of the number. The method cuts bulk material to pieces of 1.5 to 3 mm at 23 degC
//! (both from memory; the scope of the method was read); computed is the largest piece, as a cylinder as
//! long as thick, and the row shows the smallest beside it; grades differ as well. A film is at
//! equilibrium within the day.
//! Errata and doubts: the size of each piece is not printed; pieces under 3 mm (caps, tubes) are in it.
//! Not compared: resins whose records stand on these entries (PMMA, POM, PA66, PA12, PEEK, elastomers
//! and others), films of PET, whose record lies between this source and another one, and compounds.

use super::{is_absent, resin};
use crate::{Kind, Row};
use air::Humidity;
use pellet::Outline;
use pellet::history::{AirState, HistorySpec, PelletSpec, Segment, Start, Surround};
use quantity::constants::STANDARD_ATMOSPHERE;
use quantity::{
    AbsolutePressure, Duration, MoistureDryBasis, RelativeHumidity, Temperature, Velocity,
};

const SOURCE: &str = "NASA GSFC, outgassing data (2026-06-10)";
/// The sizes of the method, m.
const LARGEST: f64 = 3e-3;
const SMALLEST: f64 = 1.5e-3;

/// The entries of one resin.
struct Series {
    /// Key of the record.
    key: &'static str,
    /// What the pieces were.
    what: &'static str,
    /// Entries of the database.
    entries: &'static [&'static str],
    /// Median of the water regained, kg/kg.
    regained: f64,
    /// Whether the day brings the pieces to equilibrium: films, and resins so fast that their record
    /// keeps water outside only.
    settled: bool,
}

const SERIES: [Series; 12] = [
    Series {
        key: "pc",
        what: "mouldings, sheets and films of PC",
        entries: &[
            "GSFC11421",
            "GSFC12646",
            "GSFC14570",
            "GSFC14956",
            "GSFC19808",
            "GSFC28927",
            "GSFC29488",
            "GSFC31576",
            "GSFC31579",
            "GSFC36120",
        ],
        regained: 0.00115,
        settled: false,
    },
    Series {
        key: "pei",
        what: "mouldings and rods of PEI",
        entries: &[
            "GSFC10889",
            "GSFC13558",
            "GSFC29566",
            "GSFC31264",
            "GFC36906",
        ],
        regained: 0.0028,
        settled: false,
    },
    Series {
        key: "pbt",
        what: "mouldings of PBT",
        entries: &[
            "GSFC13951",
            "GSFC13954",
            "GSFC16028",
            "GSFC16030",
            "GSFC22855",
        ],
        regained: 0.0009,
        settled: false,
    },
    Series {
        key: "petg",
        what: "moulding compound of PETG",
        entries: &["GSFC18909"],
        regained: 0.0018,
        settled: false,
    },
    Series {
        key: "pctg",
        what: "moulding compound of PCTG",
        entries: &["GSFC18907"],
        regained: 0.0012,
        settled: false,
    },
    Series {
        key: "psu",
        what: "mouldings and rods of PSU",
        entries: &["GSFC15548", "GSFC18360", "GSFC28282"],
        regained: 0.0028,
        settled: false,
    },
    Series {
        key: "pesu",
        what: "mouldings and pellets of PESU",
        entries: &["GSFC06844", "GSFC15574", "GSFC18114", "GSFC26887"],
        regained: 0.0069,
        settled: false,
    },
    Series {
        key: "abs",
        what: "mouldings and printed parts of ABS",
        entries: &[
            "GSFC11483",
            "GSFC18566",
            "GSFC33853",
            "GSFC33928",
            "GSFC35076",
            "GSFC35994",
            "GFC36819",
        ],
        regained: 0.0025,
        settled: false,
    },
    Series {
        key: "pla",
        what: "filament and printed parts of PLA",
        entries: &["GSFC35082", "GSFC36270", "GFC36822", "GFC36855", "GFC36879"],
        regained: 0.0030,
        settled: false,
    },
    Series {
        key: "tpu",
        what: "gaskets, connectors and boots of TPU",
        entries: &[
            "GSFC06194",
            "GSFC06197",
            "GSFC06986",
            "GSFC14067",
            "GSFC18955",
            "GSFC28738",
            "GSFC36267",
        ],
        regained: 0.0042,
        settled: false,
    },
    Series {
        key: "ps",
        what: "round-robin pieces of PS",
        entries: &["GSFC14540", "GSFC18530", "GSFC20740"],
        regained: 0.0003,
        settled: true,
    },
    Series {
        key: "pa6",
        what: "films of PA6",
        entries: &[
            "GSFC13030",
            "GSFC13362",
            "GSFC14546",
            "GSFC14886",
            "GSFC36354",
        ],
        regained: 0.0239,
        settled: true,
    },
];

/// kg/kg that a dry cylinder as long as thick holds after the day; not a number when it cannot be followed.
fn regained(pellet: &PelletSpec, size: f64) -> f64 {
    let room = AirState {
        temperature: Temperature::from_celsius(23.0),
        humidity: Humidity::RelativeHumidity(RelativeHumidity::from_percent(50.0)),
    };
    let spec = HistorySpec {
        pellet: PelletSpec {
            outline: Outline::Cylinder {
                diameter: size,
                length: size,
            },
            ..pellet.clone()
        },
        start: Start {
            temperature: room.temperature,
            moisture: MoistureDryBasis::from_ppm(0.0),
            free_water: MoistureDryBasis::from_ppm(0.0),
        },
        pressure: AbsolutePressure::from_pascal(STANDARD_ATMOSPHERE),
        segments: vec![Segment::steady(
            "room",
            Duration::from_hours(24.0),
            room,
            Surround::Stream(Velocity::from_m_per_s(0.0)),
        )],
        moments: Vec::new(),
        fineness: None,
        precision: None,
    };
    spec.check()
        .ok()
        .and_then(|checked| checked.follow().ok())
        .and_then(|curve| curve.instants.last().map(|last| last.mean.kg_per_kg()))
        .unwrap_or(f64::NAN)
}

fn row(series: &Series) -> Row {
    let count = series.entries.len();
    let Some(record) = resin(series.key) else {
        return is_absent(SOURCE, series.key);
    };
    let (what, computed) = if series.settled {
        (
            format!("median of {count} {}, at equilibrium", series.what),
            record.isotherm.law.moisture(296.15, 0.5),
        )
    } else {
        let Ok(pellet) = PelletSpec::of(&record) else {
            return is_absent(SOURCE, series.key);
        };
        let smallest = regained(&pellet, SMALLEST);
        (
            format!(
                "median of {count} {}, as pieces of 3 mm ({:.2} % here for 1.5 mm)",
                series.what,
                1e2 * smallest
            ),
            regained(&pellet, LARGEST),
        )
    };
    Row {
        source: SOURCE,
        what,
        unit: "kg/kg",
        expected: series.regained,
        computed,
        tolerance: 0.5,
        absolute: false,
        why: "pieces of 1.5 to 3 mm, several grades",
        kind: Kind::Published,
        disputed: None,
    }
}

/// Every row of this source.
pub fn rows() -> Vec<Row> {
    SERIES.iter().map(row).collect()
}

#[cfg(test)]
mod tests {
    #[test]
    fn published_nasa_outgassing() {
        crate::check(&super::rows());
    }
}
