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

mod heat;
mod in_time;
mod water;

use crate::BedError;
use crate::column::{Column, Drive, end_weight};
use numeric::NumericError;
use numeric::tridiagonal::BlockRow;
use pellet::blend::Mixed;
use pellet::contact::{Contact, Parcel};
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

/// The way of one kind of pellet.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Way {
    /// Places from top to bottom; the first is the feed.
    pub path: Vec<Place>,
    /// Moisture with which it leaves, kg/kg dry.
    pub moisture: f64,
    /// Free water on it.
    pub free_water: f64,
}

impl Way {
    /// All water with which it leaves, kg/kg dry.
    pub fn water(&self) -> f64 {
        self.moisture + self.free_water
    }
}

/// A column at steady state.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Steady {
    /// The way of the lead.
    pub lead: Way,
    /// The ways of the kinds beside it.
    pub beside: Vec<Way>,
    /// Moisture of the resin leaving, mean over the kinds, kg/kg dry.
    pub outlet_moisture: f64,
    /// Free water on it.
    pub outlet_free_water: f64,
    /// Temperature of the resin leaving, K.
    pub outlet_temperature: f64,
    /// Air leaving on top, K.
    pub return_temperature: f64,
    /// Its humidity ratio.
    pub return_humidity: f64,
    /// Enthalpy of the resin fed with its water, W.
    pub feed_heat: f64,
    /// Enthalpy of the resin leaving with its water, W.
    pub outlet_heat: f64,
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
    /// Water of each kind, the lead first.
    kinds: Vec<KindUnknowns>,
}

/// What is not known of one kind, slot by slot from the lowest.
struct KindUnknowns {
    /// Drying rate in the slot.
    rate: Vec<f64>,
    /// Moisture and free water at the end of the slot.
    moisture: Vec<f64>,
    free: Vec<f64>,
}

impl Unknowns {
    /// Drying rate of all kinds in a slot, from the newest round of each.
    fn rate_of_all(&self, column: &Column, k: usize) -> f64 {
        let kinds = column.blend().kinds().zip(&self.kinds);
        kinds.map(|((share, _), kind)| share * kind.rate[k]).sum()
    }

    fn at_start(drive: &Drive, fresh: &Mixed, count: usize) -> Self {
        let kind = |parcel: &Parcel| KindUnknowns {
            rate: vec![0.0; count],
            moisture: vec![parcel.moisture; count],
            free: vec![0.0; count],
        };
        Self {
            pellet: vec![drive.air_temperature; count],
            air: vec![drive.air_temperature; count],
            humidity: vec![drive.air_humidity; count],
            rate: vec![0.0; count],
            rise: vec![0.0; count],
            met_at: vec![f64::NAN; count],
            kinds: std::iter::once(&fresh.lead)
                .chain(&fresh.beside)
                .map(kind)
                .collect(),
        }
    }
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
        let mut unknowns = Unknowns::at_start(drive, &fresh, count);
        let mut work = self.blend().work();
        let (mut rows, mut solution) = (vec![BlockRow::default(); count], Vec::new());
        let mut paths = vec![Vec::with_capacity(count + 2); unknowns.kinds.len()];
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
                &mut paths,
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
                for path in &mut paths {
                    Self::calm(path);
                }
                return Ok(self.summary(drive, &slots, &fresh, &unknowns, paths, round));
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

    fn summary(
        &self,
        drive: &Drive,
        slots: &[Slot],
        fresh: &Mixed,
        unknowns: &Unknowns,
        paths: Vec<Vec<Place>>,
        rounds: usize,
    ) -> Steady {
        let c = &self.contact.calorics;
        let count = slots.len();
        // What leaves is the mean of the lowest parcel before and after its last step.
        let half = |values: &[f64]| 0.5 * (values[0] + values[1.min(count - 1)]);
        let enthalpy = |k: usize| self.resin_heat(unknowns, k).0;
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
                fresh.temperature()
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
        let mut ways = unknowns.kinds.iter().zip(paths).map(|(kind, path)| Way {
            path,
            moisture: half(&kind.moisture),
            free_water: half(&kind.free),
        });
        let lead = ways.next().unwrap_or_default();
        let beside: Vec<Way> = ways.collect();
        let shares = self.blend().kinds().map(|(share, _)| share);
        let (mut moisture, mut free) = (0.0, 0.0);
        for (share, way) in shares.zip(std::iter::once(&lead).chain(&beside)) {
            moisture += share * way.moisture;
            free += share * way.free_water;
        }
        let water_in = drive.rate * self.blend().water(fresh) + drive.air_flow * drive.air_humidity;
        let water_out = drive.rate * (moisture + free) + drive.air_flow * return_humidity;
        let feed_heat = drive.rate * self.blend().enthalpy(fresh);
        let outlet_heat = drive.rate * out_enthalpy;
        let heat_in =
            feed_heat + drive.air_flow * c.air_enthalpy(drive.air_temperature, drive.air_humidity);
        let heat_out = outlet_heat
            + drive.air_flow * c.air_enthalpy(return_temperature, return_humidity)
            + wall_heat;
        Steady {
            outlet_moisture: moisture,
            outlet_free_water: free,
            outlet_temperature: half(&unknowns.pellet),
            return_temperature,
            return_humidity,
            feed_heat,
            outlet_heat,
            wall_heat,
            energy_imbalance: (heat_in - heat_out) / heat_in.abs().max(f64::MIN_POSITIVE),
            water_imbalance: (water_in - water_out) / water_in.max(f64::MIN_POSITIVE),
            rounds,
            unrest: 0.0,
            lead,
            beside,
        }
    }
}

/// Where a pellet is and how it stands.
fn place(
    contact: &Contact,
    parcel: &Parcel,
    height: f64,
    age: f64,
    air: f64,
    humidity: f64,
) -> Place {
    Place {
        height,
        age,
        temperature: parcel.temperature,
        moisture: parcel.moisture,
        surface: contact.interior.surface(&parcel.inside),
        heart: contact.interior.heart(&parcel.inside),
        free_water: parcel.free_water,
        air_temperature: air,
        air_humidity: humidity,
    }
}
