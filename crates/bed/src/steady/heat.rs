//! The heat of a steady column: one Newton step of all its balances at once.

use super::{Slot, Unknowns};
use crate::BedError;
use crate::column::{Column, Drive};
use numeric::tridiagonal::{BlockRow, solve_blocks};
use pellet::blend::Mixed;

impl Column {
    /// One Newton step of all heat balances; returns the largest move, K.
    pub(super) fn heat_round(
        &self,
        drive: &Drive,
        slots: &[Slot],
        fresh: &Mixed,
        unknowns: &mut Unknowns,
        rows: &mut [BlockRow],
        solution: &mut Vec<[f64; 2]>,
    ) -> Result<f64, BedError> {
        let c = &self.contact.calorics;
        let h = self.blend().conductance();
        let count = slots.len();
        let feed = self.blend().enthalpy(fresh);
        let mut end = (0.0, 0.0);
        for (k, slot) in slots.iter().enumerate() {
            let t_end = unknowns.pellet[k];
            let (h_end, end_slope) = if k == 0 {
                self.resin_heat(unknowns, 0)
            } else {
                end
            };
            let above = k + 1 < count;
            let (t_start, (h_start, start_slope)) = if above {
                (unknowns.pellet[k + 1], self.resin_heat(unknowns, k + 1))
            } else {
                (fresh.temperature(), (feed, 0.0))
            };
            // The next slot ends where this one starts.
            end = (h_start, start_slope);
            let (g_in, y_in) = if k == 0 {
                (drive.air_temperature, drive.air_humidity)
            } else {
                (unknowns.air[k - 1], unknowns.humidity[k - 1])
            };
            let (g_out, y_out) = (unknowns.air[k], y_in + slot.load * unknowns.rate[k]);
            let inverse = 1.0 / slot.duration;
            let weight = slot.weight;
            let rate = unknowns.rate[k];
            let gain = (h_end - h_start) * inverse;
            let mean = t_start + weight * (t_end - t_start);
            let air_mean = g_in + slot.heat_lean * (g_out - g_in);
            let drawn = gain + slot.pellet_wall * (mean - drive.ambient);
            let balance = slot.load * drawn + c.air_enthalpy(g_out, y_out)
                - c.air_enthalpy(g_in, y_in)
                + slot.wall * (air_mean - drive.ambient);
            let film = h * (air_mean - mean) - drawn - rate * c.vapour_enthalpy(mean);
            // Warmer pellets also give off more water: that takes heat from them and gives it to
            // the air.
            let rise = unknowns.rise[k];
            let by_mean = -h - rate * c.vapour - slot.pellet_wall - rise * c.vapour_enthalpy(mean);
            let drained = slot.load * (slot.pellet_wall + rise * c.vapour_enthalpy(g_out));
            let lean = slot.heat_lean;
            rows[k] = BlockRow {
                // Unknowns of the slot below: (pellet, air above it).
                below: [
                    0.0,
                    -(c.dry_air + y_in * c.vapour) + slot.wall * (1.0 - lean),
                    0.0,
                    h * (1.0 - lean),
                ],
                on: [
                    slot.load * end_slope * inverse + weight * drained,
                    c.dry_air + y_out * c.vapour + slot.wall * lean,
                    weight * by_mean - end_slope * inverse,
                    h * lean,
                ],
                above: [
                    (1.0 - weight) * drained - slot.load * start_slope * inverse,
                    0.0,
                    (1.0 - weight) * by_mean + start_slope * inverse,
                    0.0,
                ],
                right: [-balance, -film],
            };
            if k == 0 {
                rows[k].below = [0.0; 4];
            }
            if !above {
                rows[k].above = [0.0; 4];
            }
        }
        solve_blocks(rows, solution)?;
        let mut most = 0.0_f64;
        for (k, step) in solution.iter().enumerate() {
            unknowns.pellet[k] += step[0];
            unknowns.air[k] += step[1];
            most = most.max(step[0].abs()).max(step[1].abs());
        }
        Ok(most)
    }

    /// Enthalpy and heat capacity of the blend at the end of a slot.
    pub(super) fn resin_heat(&self, unknowns: &Unknowns, k: usize) -> (f64, f64) {
        let t = unknowns.pellet[k];
        let (mut enthalpy, mut capacity) = (0.0, 0.0);
        for ((share, contact), kind) in self.blend().kinds().zip(&unknowns.kinds) {
            let (x, w) = (kind.moisture[k], kind.free[k]);
            enthalpy += share * contact.enthalpy_at(t, x, w);
            capacity += share * contact.calorics.resin_capacity(t, x, w);
        }
        (enthalpy, capacity)
    }
}
