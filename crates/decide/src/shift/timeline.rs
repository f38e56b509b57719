//! Days as rows that a picture or a table can show.

use super::tally::{Judged, WETTER_END};
use crate::case::celsius;
use crate::humidity::frost_point_c;
use crate::plan::ppm_wet;
use line::control::Mode;
use line::follow::Step;
use serde::Serialize;

/// Rows at most.
const ROWS: usize = 672;

/// A while of some days; means over it, but for what is said otherwise.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Row {
    /// Hours since the beginning, its middle.
    pub hour: f64,
    /// Resin that the press wants, kg/h as weighed.
    pub wanted_kg_h: f64,
    /// Resin that it draws.
    pub drawn_kg_h: f64,
    /// Demand as the dryer sees it, of the planned rate.
    pub seen_demand: f64,
    /// Share of the hopper that is full.
    pub level: f64,
    /// Set point; none while the dryer is off.
    pub set_point_c: Option<f64>,
    /// Air into the hopper.
    pub inlet_c: f64,
    /// Air from it.
    pub return_c: f64,
    /// Frost point of the air delivered, dew point above 0 degC; none while the dryer is off.
    pub frost_point_c: Option<f64>,
    /// Air of that at full demand.
    pub air_share: f64,
    /// Current drawn, kW.
    pub power_kw: f64,
    /// Moisture of the resin at the screw, mean; none while none comes.
    pub moisture_ppm_wet: Option<f64>,
    /// The wetter end of it, the most in the while.
    pub high_ppm_wet: Option<f64>,
    /// Share of the longest customary stay, the most in the while.
    pub stay_share: Option<f64>,
}

/// Air that holds all of its vapour, K.
pub(crate) const WARM: f64 = 370.0;

/// The rows of some days; `drawn` is what the screw draws, as weighed, per dry resin, `full` the dry resin of a full
/// bed (kg) and `air` the full air (kg/s).
pub(crate) fn rows(
    steps: &[Step],
    lots: &[Judged],
    (drawn, full, air, pressure): (f64, f64, f64, f64),
) -> Vec<Row> {
    let count = steps.len().div_ceil(ROWS).max(1);
    let mut lots = lots.iter().peekable();
    steps
        .chunks(count)
        .map(|chunk| {
            let end = chunk.last().map_or(0.0, |step| step.time);
            let begin = chunk.first().map_or(0.0, |step| step.time - step.duration);
            let on: Vec<&Step> = chunk.iter().filter(|step| step.orders.on).collect();
            let mean =
                |of: &dyn Fn(&Step) -> f64| chunk.iter().map(of).sum::<f64>() / chunk.len() as f64;
            let mean_on = |of: &dyn Fn(&Step) -> f64| {
                let sum: f64 = on.iter().map(|step| of(step)).sum();
                (!on.is_empty()).then(|| sum / on.len() as f64)
            };
            let mut row = Row {
                hour: 0.5 * (begin + end) / 3600.0,
                wanted_kg_h: 3600.0 * drawn * mean(&|s| s.press.0),
                drawn_kg_h: 3600.0 * drawn * mean(&|s| s.press.1),
                seen_demand: mean(&|s| s.orders.demand),
                level: mean(&|s| s.held) / full,
                set_point_c: mean_on(&|s| celsius(s.orders.set_point)),
                inlet_c: celsius(mean(&|s| s.inlet.0)),
                return_c: celsius(mean(&|s| s.returned.0)),
                frost_point_c: mean_on(&|s| s.delivered)
                    .map(|humidity| frost_point_c(humidity, WARM, pressure)),
                air_share: mean(&|s| {
                    if s.orders.mode == Mode::Off {
                        0.0
                    } else {
                        s.orders.air_flow / air
                    }
                }),
                power_kw: 1e-3 * mean(&|s| s.power),
                ..Row::default()
            };
            let (mut mass, mut water) = (0.0, 0.0);
            while let Some(judged) = lots.next_if(|judged| judged.lot.used <= end) {
                mass += judged.lot.mass;
                water += judged.lot.mass * judged.spread.mean;
                let high = ppm_wet(judged.spread.quantile(WETTER_END));
                row.high_ppm_wet = Some(row.high_ppm_wet.unwrap_or(0.0).max(high));
                let stay = judged.lot.lived.stayed;
                row.stay_share = Some(row.stay_share.unwrap_or(0.0).max(stay));
            }
            row.moisture_ppm_wet = (mass > 0.0).then(|| ppm_wet(water / mass));
            row
        })
        .collect()
}
