//! Checks against papers and standards, one file a source.

use crate::{Kind, Row};
use files::Library;
use material::Resin;

pub mod braden_1964;
pub mod ghorbel_1995;
pub mod iapws_saturation;
pub mod krongauz_2016;
pub mod long_sokol_1974;
pub mod mette_2014;
pub mod nasa_outgassing;
pub mod pvdeg_2023;
pub mod shah_london_1978;
pub mod silica_gel_wheel_map;
pub mod siparsky_1997;
pub mod wang_levan_2009;

/// Every row of this folder.
pub fn rows() -> Vec<Row> {
    [
        iapws_saturation::rows,
        braden_1964::rows,
        ghorbel_1995::rows,
        krongauz_2016::rows,
        long_sokol_1974::rows,
        nasa_outgassing::rows,
        pvdeg_2023::rows,
        siparsky_1997::rows,
        wang_levan_2009::rows,
        mette_2014::rows,
        shah_london_1978::rows,
        silica_gel_wheel_map::rows,
    ]
    .iter()
    .flat_map(|rows| rows())
    .collect()
}

/// A resin of the shipped library by its key.
pub(crate) fn resin(key: &str) -> Option<Resin> {
    let library = Library::shipped().ok()?;
    let record = library.records.into_iter().find(|r| r.resin.key == key)?;
    Some(record.resin)
}

/// The row of a source whose resin is not in the library: it fails.
fn is_absent(source: &'static str, key: &str) -> Row {
    Row {
        source,
        what: format!("the library has no resin {key}"),
        unit: "",
        expected: 1.0,
        computed: f64::NAN,
        tolerance: 0.0,
        absolute: false,
        why: "without the record there is nothing to compare",
        kind: Kind::Published,
        disputed: None,
    }
}
