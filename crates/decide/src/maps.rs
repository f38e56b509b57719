//! Maps of settings: outlet moisture and heat over temperature and residence, and over the frost
//! point.

use crate::DecideError;
use crate::answer::{DewPointRow, SettingsMap};
use crate::case::{Case, celsius};
use crate::doubt::TEMPERATURE_DOUBT;
use crate::energy;
use crate::humidity::at_frost_point;
use crate::outlet;
use crate::plan::ppm_wet;
use libm::{exp, log};
use numeric::root::bracketed;
use quantity::Quantity;
use rayon::prelude::*;

/// Points of the map each way.
const TEMPERATURES: usize = 15;
const RESIDENCES: usize = 13;
/// The map reaches this far beyond the customary window, K.
const BEYOND: f64 = 12.0;
/// Doubt of a residence from level and rate, relative (common practice, no source).
const RESIDENCE_DOUBT: f64 = 0.07;
/// Frost points of the table, degC.
const FROST_POINTS: [f64; 11] = [
    -70.0, -60.0, -50.0, -40.0, -35.0, -30.0, -20.0, -10.0, 0.0, 10.0, 18.0,
];
/// Share of the limit that the mean may rise by before a frost point is called too wet.
const WORTH: f64 = 0.05;

/// One size, one stream: what maps are drawn with.
fn coarse(case: &Case) -> Case {
    Case {
        residence_spread: 0.0,
        ..case.coarse().of_one_size()
    }
}

/// Outlet moisture, and the heat a closed loop needs, over temperature and residence, air flow and
/// humidity kept: both from one solution of the bed.
///
/// # Errors
/// From the bed.
pub(crate) fn settings_map(case: &Case) -> Result<SettingsMap, DecideError> {
    let plain = coarse(case);
    let drying = &case.lead.resin.drying;
    let low = drying.temperature_low.value.si().min(case.air_temperature) - BEYOND;
    let high = drying.temperature_high.value.si().max(case.air_temperature) + BEYOND;
    let temperatures: Vec<f64> = (0..TEMPERATURES)
        .map(|k| low + (high - low) * k as f64 / (TEMPERATURES - 1) as f64)
        .collect();
    let middle = case.residence();
    let residences: Vec<f64> = (0..RESIDENCES)
        .map(|k| {
            let share = k as f64 / (RESIDENCES - 1) as f64;
            middle * exp(log(0.2) + share * (log(2.5) - log(0.2)))
        })
        .collect();
    let rows: Result<Vec<Vec<(f64, f64)>>, DecideError> = residences
        .par_iter()
        .map(|residence| {
            temperatures
                .iter()
                .map(|temperature| {
                    let there = plain
                        .with_bed_mass(plain.rate * residence)
                        .with_air_temperature(*temperature);
                    let out = outlet::brief(&there)?;
                    let heat = energy::closed_loop(&there, out.steady.return_temperature);
                    Ok((ppm_wet(out.mean), heat))
                })
                .collect()
        })
        .collect();
    let rows = rows?;
    let grid = |value: fn(&(f64, f64)) -> f64| {
        let row = |row: &Vec<(f64, f64)>| row.iter().map(value).collect();
        rows.iter().map(row).collect()
    };
    Ok(SettingsMap {
        temperature_c: temperatures.iter().map(|t| celsius(*t)).collect(),
        residence_h: residences.iter().map(|seconds| seconds / 3600.0).collect(),
        mean_ppm_wet: grid(|(mean, _)| *mean),
        closed_loop_kwh_kg: grid(|(_, heat)| *heat),
        sticking_c: celsius(case.sticking()),
        hold_h: case.hold() / 3600.0,
        hold_over_temperature_h: temperatures
            .iter()
            .map(|t| case.hold_at(*t) / 3600.0)
            .collect(),
        temperature_spread_k: TEMPERATURE_DOUBT,
        residence_spread_h: RESIDENCE_DOUBT * middle / 3600.0,
    })
}

fn at_point(case: &Case, point_c: f64) -> Case {
    Case {
        air_humidity: at_frost_point(point_c, case.pressure),
        ..case.clone()
    }
}

/// Mean outlet moisture at each frost point of the table.
///
/// # Errors
/// From the bed.
pub(crate) fn dew_points(case: &Case) -> Result<Vec<DewPointRow>, DecideError> {
    let plain = coarse(case);
    FROST_POINTS
        .iter()
        .map(|point| {
            let mean = outlet::mean(&at_point(&plain, *point))?;
            Ok(DewPointRow {
                frost_point_c: *point,
                mean_ppm_wet: ppm_wet(mean),
            })
        })
        .collect()
}

/// Wettest frost point (degC) at which the mean stays within a twentieth of the limit of what the
/// driest air gives.
///
/// # Errors
/// From the bed.
pub(crate) fn needed_frost_point(case: &Case) -> Result<f64, DecideError> {
    let plain = coarse(case);
    let driest = outlet::mean(&at_point(&plain, FROST_POINTS[0]))?;
    let target = driest + WORTH * case.limit;
    let wettest = FROST_POINTS[FROST_POINTS.len() - 1];
    let miss = |point: f64| outlet::mean(&at_point(&plain, point)).map(|mean| mean - target);
    if miss(wettest)? <= 0.0 {
        return Ok(wettest);
    }
    Ok(bracketed(FROST_POINTS[0], wettest, 0.1, |point| {
        miss(point).unwrap_or(f64::NAN)
    })
    .unwrap_or(FROST_POINTS[0]))
}
