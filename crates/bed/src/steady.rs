//! The steady column, found directly: the state that the transient ends in, to the digit.
//!
//! # Equations
//! 1. At steady state every parcel passes the same slots: it enters the highest for half a step,
//!    stays a step in each, and leaves through the lowest. The balances of a slot are those of
//!    [`crate::column`], with one unknown pellet temperature and one unknown air temperature each.
//! 2. Heat: pellets carry their temperature down, air carries its own up, so all slots are closed
//!    at once as a block tridiagonal system, by Newton.
//! 3. Water: with the temperatures known, one parcel is followed from top to bottom in the humidity
//!    of the round before; the humidity is then summed up from the inlet. The two are repeated until
//!    neither moves; where that is slow (resin that takes up much water, cold top) the humidity is
//!    relaxed.
//!
//! # Symbols
//! as in [`crate::column`].
//!
//! # Holds for
//! Continuous feeding and a rate above zero.
//!
//! # Sources
//! As [`crate::column`].
//!
//! # Checked by
//! `crates/bed/src/steady.rs` against the transient; `tests/src/exact`

mod in_time;

use crate::BedError;
use crate::column::{Column, Drive, end_weight};
use numeric::NumericError;
use numeric::tridiagonal::{BlockRow, solve_blocks};
use pellet::contact::{AirIn, Contact, Parcel};
use serde::{Deserialize, Serialize};

/// One place on the way of a pellet.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Place {
    /// Dry resin between the inlet and here, kg.
    pub height: f64,
    /// Seconds since entering.
    pub age: f64,
    /// Pellet temperature, K.
    pub temperature: f64,
    /// Mean sorbed moisture, kg/kg dry.
    pub moisture: f64,
    /// Moisture at the surface.
    pub surface: f64,
    /// Moisture at the heart.
    pub heart: f64,
    /// Free water, kg/kg dry.
    pub free_water: f64,
    /// Air temperature, K.
    pub air_temperature: f64,
    /// Humidity ratio of the air.
    pub air_humidity: f64,
}

/// A column at steady state.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Steady {
    /// The way of a pellet from top to bottom; the first place is the feed.
    pub path: Vec<Place>,
    /// Moisture of the resin leaving, kg/kg dry.
    pub outlet_moisture: f64,
    /// Free water on it.
    pub outlet_free_water: f64,
    /// Temperature of the resin leaving, K.
    pub outlet_temperature: f64,
    /// Air leaving on top, K.
    pub return_temperature: f64,
    /// Its humidity ratio.
    pub return_humidity: f64,
    /// Heat through the wall, W.
    pub wall_heat: f64,
    /// Energy not accounted for, relative to what entered.
    pub energy_imbalance: f64,
    /// Water not accounted for, relative to what entered.
    pub water_imbalance: f64,
    /// Rounds or residences taken.
    pub rounds: usize,
    /// Relative change of the outlet over the last residence, where the bed was followed in time.
    pub unrest: f64,
}

/// The unknowns, slot by slot from the lowest.
struct Unknowns {
    /// Pellet temperature at the end of the slot.
    pellet: Vec<f64>,
    /// Air temperature above the slot.
    air: Vec<f64>,
    /// Humidity above the slot.
    humidity: Vec<f64>,
    /// Drying rate in the slot, its rise with the pellet temperature as the rounds have shown it,
    /// and the mean pellet temperature it belongs to.
    rate: Vec<f64>,
    rise: Vec<f64>,
    met_at: Vec<f64>,
    /// Moisture and free water at the end of the slot.
    moisture: Vec<f64>,
    free: Vec<f64>,
}

/// What does not change from round to round in a slot.
struct Slot {
    load: f64,
    wall: f64,
    pellet_wall: f64,
    duration: f64,
    heat_lean: f64,
    water_lean: f64,
    weight: f64,
    settled: f64,
}

/// Places after entering that may ring.
const RINGING: usize = 16;
/// Rounds before giving up.
const MOST_ROUNDS: usize = 60;
/// Relative change of humidity and moisture (and 1e-3 per kelvin) below which the rounds end. Both
/// ledgers close to rounding whenever they end.
const SETTLED: f64 = 1e-7;
/// A move of the temperatures, K, after which the rounds will not settle.
const RUNAWAY: f64 = 500.0;

impl Column {
    /// The steady state under `drive`: directly, or, where the rounds do not settle (condensation in
    /// a cold top), by following the column until it no longer changes.
    ///
    /// # Errors
    /// [`BedError::Impossible`] for a rate or air flow that is not positive; otherwise from the
    /// pellets or when the rounds do not settle.
    pub fn steady(&self, drive: &Drive) -> Result<Steady, BedError> {
        for (what, value) in [("rate", drive.rate), ("air flow", drive.air_flow)] {
            if !(value > 0.0 && value.is_finite()) {
                return Err(BedError::Impossible {
                    what,
                    value,
                    unit: "kg/s",
                    low: 0.0,
                    high: f64::INFINITY,
                });
            }
        }
        self.steady_directly(drive)
            .or_else(|_| self.steady_in_time(drive))
    }

    /// Rounds of heat and water until neither moves.
    fn steady_directly(&self, drive: &Drive) -> Result<Steady, BedError> {
        let slots = self.slots(drive);
        let count = slots.len();
        let fresh = self.fresh(drive);
        let mut unknowns = Unknowns {
            pellet: vec![drive.air_temperature; count],
            air: vec![drive.air_temperature; count],
            humidity: vec![drive.air_humidity; count],
            rate: vec![0.0; count],
            rise: vec![0.0; count],
            met_at: vec![f64::NAN; count],
            moisture: vec![fresh.moisture; count],
            free: vec![0.0; count],
        };
        let mut work = self.contact.work();
        let (mut rows, mut solution) = (vec![BlockRow::default(); count], Vec::new());
        let mut path = Vec::with_capacity(count + 1);
        let (mut relax, mut last) = (1.0_f64, f64::INFINITY);
        for round in 1..=MOST_ROUNDS {
            let moved = self.heat_round(
                drive,
                &slots,
                &fresh,
                &mut unknowns,
                &mut rows,
                &mut solution,
            )?;
            let change = self.water_round(
                drive,
                &slots,
                &fresh,
                &mut unknowns,
                relax,
                &mut path,
                &mut work,
            )?;
            let worst = change.max(moved * 1e-3);
            if worst < SETTLED {
                unknowns.rise.fill(0.0);
                for _ in 0..8 {
                    let rest = self.heat_round(
                        drive,
                        &slots,
                        &fresh,
                        &mut unknowns,
                        &mut rows,
                        &mut solution,
                    )?;
                    if rest < 1e-11 {
                        break;
                    }
                }
                Self::calm(&mut path);
                return Ok(self.summary(drive, &slots, &fresh, &unknowns, path, round));
            }
            if worst > last && round > 4 {
                relax = (0.7 * relax).max(0.2);
            }
            last = worst;
            if round > 8 && !(moved < RUNAWAY) {
                break;
            }
        }
        Err(NumericError::NoConvergence {
            steps: MOST_ROUNDS,
            change: last,
        }
        .into())
    }

    fn slots(&self, drive: &Drive) -> Vec<Slot> {
        let mass = self.parcel_mass();
        let step = mass / drive.rate;
        let count = self.parcels + 1;
        let mut height = 0.0;
        let settled = end_weight(self.units(drive).1);
        (0..count)
            .map(|index| {
                let (leaving, entering) = (index == 0, index == count - 1);
                let share = if leaving || entering { 0.5 } else { 1.0 };
                let thick = share * mass;
                let leans = self.leans(drive, leaving, entering, 1.0);
                let steps = u32::try_from(count - 1 - index).unwrap_or(u32::MAX);
                let (wall, pellet_wall) = self.wall_shares(drive, height, thick);
                let slot = Slot {
                    load: thick / drive.air_flow,
                    wall,
                    pellet_wall,
                    duration: if entering { 0.5 * step } else { step },
                    heat_lean: leans.0,
                    water_lean: leans.1,
                    weight: Contact::end_weight(steps, settled),
                    settled,
                };
                height += thick;
                slot
            })
            .collect()
    }

    /// One Newton step of all heat balances; returns the largest move, K.
    fn heat_round(
        &self,
        drive: &Drive,
        slots: &[Slot],
        fresh: &Parcel,
        unknowns: &mut Unknowns,
        rows: &mut [BlockRow],
        solution: &mut Vec<[f64; 2]>,
    ) -> Result<f64, BedError> {
        let contact = &self.contact;
        let c = &contact.calorics;
        let count = slots.len();
        let enthalpy = |t: f64, x: f64, w: f64| c.resin_enthalpy(&contact.isotherm, t, x, w);
        let feed = contact.enthalpy(fresh);
        for (k, slot) in slots.iter().enumerate() {
            let (t_end, x_end, w_end) =
                (unknowns.pellet[k], unknowns.moisture[k], unknowns.free[k]);
            let above = k + 1 < count;
            let (t_start, h_start, start_slope) = if above {
                let (t, x, w) = (
                    unknowns.pellet[k + 1],
                    unknowns.moisture[k + 1],
                    unknowns.free[k + 1],
                );
                (t, enthalpy(t, x, w), c.resin_capacity(t, x, w))
            } else {
                (fresh.temperature, feed, 0.0)
            };
            let (g_in, y_in) = if k == 0 {
                (drive.air_temperature, drive.air_humidity)
            } else {
                (unknowns.air[k - 1], unknowns.humidity[k - 1])
            };
            let (g_out, y_out) = (unknowns.air[k], y_in + slot.load * unknowns.rate[k]);
            let inverse = 1.0 / slot.duration;
            let weight = slot.weight;
            let rate = unknowns.rate[k];
            let h_end = enthalpy(t_end, x_end, w_end);
            let end_slope = c.resin_capacity(t_end, x_end, w_end);
            let gain = (h_end - h_start) * inverse;
            let mean = t_start + weight * (t_end - t_start);
            let air_mean = g_in + slot.heat_lean * (g_out - g_in);
            let drawn = gain + slot.pellet_wall * (mean - drive.ambient);
            let balance = slot.load * drawn + c.air_enthalpy(g_out, y_out)
                - c.air_enthalpy(g_in, y_in)
                + slot.wall * (air_mean - drive.ambient);
            let film =
                contact.exchange.heat * (air_mean - mean) - drawn - rate * c.vapour_enthalpy(mean);
            let h = contact.exchange.heat;
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

    /// Follows one parcel down, then sums the humidity up; returns the largest relative change of
    /// the humidity and of the moisture.
    #[expect(
        clippy::too_many_arguments,
        reason = "one round, each argument a different thing"
    )]
    fn water_round(
        &self,
        drive: &Drive,
        slots: &[Slot],
        fresh: &Parcel,
        unknowns: &mut Unknowns,
        relax: f64,
        path: &mut Vec<Place>,
        work: &mut pellet::contact::ContactWork,
    ) -> Result<f64, BedError> {
        let count = slots.len();
        let scale = fresh.water().max(1e-9);
        // No rise counts for more than what the film can carry away per kelvin.
        let steepest = 10.0 * self.contact.exchange.heat / self.contact.calorics.evaporation;
        let mut parcel = fresh.clone();
        let mut change = 0.0_f64;
        path.clear();
        path.push(self.place(
            &parcel,
            self.mass,
            0.0,
            unknowns.air[count - 1],
            unknowns.humidity[count - 1],
        ));
        let (mut height, mut age) = (self.mass, 0.0);
        for k in (0..count).rev() {
            let slot = &slots[k];
            let below = if k == 0 {
                drive.air_humidity
            } else {
                unknowns.humidity[k - 1]
            };
            let air_below = if k == 0 {
                drive.air_temperature
            } else {
                unknowns.air[k - 1]
            };
            let start = parcel.temperature;
            let end = unknowns.pellet[k];
            let meets = AirIn {
                temperature: air_below,
                humidity: below,
                load: slot.load,
                wall: slot.wall,
                pellet_wall: slot.pellet_wall,
                ambient: drive.ambient,
                heat_lean: slot.heat_lean,
                water_lean: slot.water_lean,
                end_weight: slot.settled,
            };
            let mean = start + slot.weight * (end - start);
            let rate =
                self.contact
                    .meet_at(&mut parcel, &meets, slot.duration, (mean, end), work)?;
            change = change
                .max((parcel.water() - unknowns.moisture[k] - unknowns.free[k]).abs() / scale);
            let apart = mean - unknowns.met_at[k];
            if apart.abs() > 1e-6 {
                let secant = (rate - unknowns.rate[k]) / apart;
                unknowns.rise[k] = secant.clamp(0.0, steepest);
            }
            unknowns.met_at[k] = mean;
            unknowns.rate[k] = rate;
            unknowns.moisture[k] = parcel.moisture;
            unknowns.free[k] = parcel.free_water;
            height = (height
                - self.parcel_mass() * slot.duration * drive.rate / self.parcel_mass())
            .max(0.0);
            age += slot.duration;
            if k > 0 {
                path.push(self.place(&parcel, height, age, air_below, below));
            } else {
                // The lowest parcel crosses the plane of the inlet in the middle of its last step.
                let mut last =
                    self.place(&parcel, 0.0, age - 0.5 * slot.duration, air_below, below);
                if let Some(before) = path.last() {
                    last.temperature = 0.5 * (before.temperature + last.temperature);
                    last.moisture = 0.5 * (before.moisture + last.moisture);
                    last.surface = 0.5 * (before.surface + last.surface);
                    last.heart = 0.5 * (before.heart + last.heart);
                    last.free_water = 0.5 * (before.free_water + last.free_water);
                }
                path.push(last);
            }
        }
        let mut humidity = drive.air_humidity;
        for (k, slot) in slots.iter().enumerate() {
            humidity += slot.load * unknowns.rate[k];
            let next = unknowns.humidity[k] + relax * (humidity - unknowns.humidity[k]);
            change = change.max((humidity - unknowns.humidity[k]).abs() / humidity.abs().max(1e-6));
            unknowns.humidity[k] = next;
        }
        Ok(change)
    }

    /// Averages out what the middle-of-step weights let ring where pellets enter: a value that stands
    /// out against both its neighbours becomes the binomial mean of the three. Shown only; the
    /// balances do not use it.
    fn calm(path: &mut [Place]) {
        let rough: Vec<Place> = path.to_vec();
        let smooth = |before: f64, here: f64, after: f64| {
            if (here - before) * (after - here) < 0.0 {
                0.25 * (before + 2.0 * here + after)
            } else {
                here
            }
        };
        for k in 1..path.len().saturating_sub(2).min(RINGING) {
            let (before, here, after) = (&rough[k - 1], &rough[k], &rough[k + 1]);
            // The feed itself is no neighbour: from it to the first place the jump is real.
            let first = if k == 1 { here } else { before };
            path[k].temperature = smooth(first.temperature, here.temperature, after.temperature);
            path[k].air_temperature = smooth(
                first.air_temperature,
                here.air_temperature,
                after.air_temperature,
            );
            path[k].surface = smooth(first.surface, here.surface, after.surface);
            path[k].heart = smooth(first.heart, here.heart, after.heart);
        }
    }

    fn place(&self, parcel: &Parcel, height: f64, age: f64, air: f64, humidity: f64) -> Place {
        Place {
            height,
            age,
            temperature: parcel.temperature,
            moisture: parcel.moisture,
            surface: self.contact.interior.surface(&parcel.inside),
            heart: self.contact.interior.heart(&parcel.inside),
            free_water: parcel.free_water,
            air_temperature: air,
            air_humidity: humidity,
        }
    }

    fn summary(
        &self,
        drive: &Drive,
        slots: &[Slot],
        fresh: &Parcel,
        unknowns: &Unknowns,
        path: Vec<Place>,
        rounds: usize,
    ) -> Steady {
        let contact = &self.contact;
        let c = &contact.calorics;
        let count = slots.len();
        // What leaves is the mean of the lowest parcel before and after its last step.
        let half = |values: &[f64]| 0.5 * (values[0] + values[1.min(count - 1)]);
        let enthalpy = |k: usize| {
            c.resin_enthalpy(
                &contact.isotherm,
                unknowns.pellet[k],
                unknowns.moisture[k],
                unknowns.free[k],
            )
        };
        let out_enthalpy = 0.5 * (enthalpy(0) + enthalpy(1.min(count - 1)));
        let mut wall_heat = 0.0;
        for (k, slot) in slots.iter().enumerate() {
            let below = if k == 0 {
                drive.air_temperature
            } else {
                unknowns.air[k - 1]
            };
            let mean = below + slot.heat_lean * (unknowns.air[k] - below);
            let start = if k + 1 < count {
                unknowns.pellet[k + 1]
            } else {
                fresh.temperature
            };
            let weight = slot.weight;
            let pellet = start + weight * (unknowns.pellet[k] - start);
            wall_heat += drive.air_flow
                * (slot.wall * (mean - drive.ambient)
                    + slot.load * slot.pellet_wall * (pellet - drive.ambient));
        }
        let mut return_humidity = drive.air_humidity;
        for (slot, rate) in slots.iter().zip(&unknowns.rate) {
            return_humidity += slot.load * rate;
        }
        let return_temperature = unknowns.air[count - 1];
        let (moisture, free) = (half(&unknowns.moisture), half(&unknowns.free));
        let water_in = drive.rate * fresh.water() + drive.air_flow * drive.air_humidity;
        let water_out = drive.rate * (moisture + free) + drive.air_flow * return_humidity;
        let heat_in = drive.rate * contact.enthalpy(fresh)
            + drive.air_flow * c.air_enthalpy(drive.air_temperature, drive.air_humidity);
        let heat_out = drive.rate * out_enthalpy
            + drive.air_flow * c.air_enthalpy(return_temperature, return_humidity)
            + wall_heat;
        Steady {
            outlet_moisture: moisture,
            outlet_free_water: free,
            outlet_temperature: half(&unknowns.pellet),
            return_temperature,
            return_humidity,
            wall_heat,
            energy_imbalance: (heat_in - heat_out) / heat_in.abs().max(f64::MIN_POSITIVE),
            water_imbalance: (water_in - water_out) / water_in.max(f64::MIN_POSITIVE),
            rounds,
            unrest: 0.0,
            path,
        }
    }
}
