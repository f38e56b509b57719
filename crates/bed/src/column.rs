//! Hopper column: parcels of pellets sinking without mixing through rising air.
//!
//! # Equations
//! 1. Pellets are cut into parcels of equal mass that sink continuously: over a step of `h`
//!    seconds a mass `m h` leaves through the plane of the air inlet and as much enters on top, so
//!    that the lowest parcel is partly gone and the highest partly filled. A parcel meets the air in
//!    proportion to the mean share of it that is in the bed over the step.
//! 2. Air is quasi-steady: it carries no store of its own (a few seconds against hours). It is
//!    followed upward from the inlet, parcel by parcel, each an implicit step of
//!    [`pellet::contact`] that sees the mean of the air entering and leaving it. One sweep closes the
//!    whole bed; no global system is solved.
//! 3. Along the path of a pellet and along the path of the air the scheme is the box scheme
//!    (Keller 1971), second order in both, without numerical dispersion of its own: both families of
//!    characteristics are grid lines.
//! 4. What leaves with a parcel of which the share goes from f0 to f1 is
//!    `(f0 - f1) (x0 + x1)/2`, what it gives to the air `(f0 + f1)/2 (x0 - x1)`; the two add up to
//!    its change exactly, so water and energy close to rounding.
//! 5. A parcel that leaves bit by bit gives up its lowest part first, which is nearest to the temperature of
//!    the air entering; what that part takes along beyond the mean is taken from the rest, see `leaving.rs`.
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! m | `Drive::rate` | kg/s
//! h | step | s
//!
//! # Holds for
//! Plug flow, one size of each kind of pellet, the same air across a section. Spread of residence and
//! size are laid over it by `decide`.
//!
//! # Sources
//! Keller (1971), A new difference scheme for parabolic problems, in Numerical Solution of Partial
//! Differential Equations II (from memory).
//!
//! # Checked by
//! `tests/src/peers/hopper.rs` in steps of a parcel, `tests/src/peers/shift.rs` through a day in shorter ones,
//! `tests/src/exact`

mod filling;
mod leaving;

use crate::BedError;
use crate::lived::{Harms, Lived};
use leaving::LAST;
use pellet::blend::{Beside, Blend, BlendWork, Mixed};
use pellet::contact::{AirIn, Contact, Met};
use serde::{Deserialize, Serialize};
use std::collections::VecDeque;

/// What is imposed on a column from outside over some time.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Drive {
    /// Dry resin drawn, kg/s.
    pub rate: f64,
    /// Dry air, kg/s.
    pub air_flow: f64,
    /// Air temperature at the inlet, K.
    pub air_temperature: f64,
    /// Humidity ratio at the inlet, kg/kg.
    pub air_humidity: f64,
    /// Temperature of the resin fed, K.
    pub feed_temperature: f64,
    /// Moisture of the resin fed, kg/kg dry.
    pub feed_moisture: f64,
    /// Free water on the resin fed, kg/kg dry.
    pub feed_free_water: f64,
    /// Temperature around the hopper, K.
    pub ambient: f64,
}

/// How resin comes to the top.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Feeding {
    /// As much as leaves, at once.
    Continuous,
    /// In batches of this mass (kg dry), when the level has fallen by one.
    Batches(f64),
    /// Not at all, but for what is tipped in, see [`Column::tip`].
    Shut,
}

/// Conductance of the wall from the air inlet up to any height.
#[derive(Clone, Debug, PartialEq)]
pub struct Wall {
    /// Conductance up to the end of each of equal slices of mass, W/K, starting with 0.
    upto: Vec<f64>,
}

impl Wall {
    /// A wall of equal slices of mass, from the inlet up, with the conductance of each (W/K).
    pub fn of_slices(slices: &[f64]) -> Self {
        let mut upto = vec![0.0];
        let mut sum = 0.0;
        for slice in slices {
            sum += slice;
            upto.push(sum);
        }
        Self { upto }
    }

    /// Conductance up to a share (0..1) of the mass of a full column; none beyond.
    fn upto(&self, share: f64) -> f64 {
        let slices = (self.upto.len() - 1) as f64;
        let at = (share * slices).clamp(0.0, slices);
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "held between 0 and the number of slices"
        )]
        let index = (at as usize).min(self.upto.len() - 1);
        let low = self.upto[index];
        match self.upto.get(index + 1) {
            Some(high) => low + (high - low) * (at - index as f64),
            None => low,
        }
    }

    /// Conductance of the whole wall, W/K.
    pub fn total(&self) -> f64 {
        self.upto(1.0)
    }
}

/// The column between the air inlet and the level.
#[derive(Clone, Debug)]
pub struct Column {
    /// How pellets meet air: those that lead, where several kinds travel together.
    pub contact: Contact,
    /// Kinds that travel beside them, sharing their air and temperature.
    pub beside: Vec<Beside>,
    /// Dry resin between inlet and full level, kg.
    pub mass: f64,
    /// Wall conductance up to a height.
    pub wall: Wall,
    /// Whether the pellets lose the wall's heat themselves, instead of the air between them.
    pub wall_on_pellets: bool,
    /// How resin comes to the top.
    pub feeding: Feeding,
    /// Number of parcels in a full column.
    pub parcels: usize,
    /// Steps in which a parcel passes its own height.
    pub steps_per_parcel: usize,
}

/// A parcel and the share of it that is in the bed.
#[derive(Clone, Debug)]
pub(crate) struct Layer {
    pub(crate) parcel: Mixed,
    pub(crate) share: f64,
    /// Temperature (K) and humidity ratio of the air leaving it, mean over the last step.
    pub(crate) air: (f64, f64),
    /// What it has lived through.
    pub(crate) lived: Lived,
}

/// Contents of a column at one time, lowest parcel first.
#[derive(Clone, Debug)]
pub struct ColumnState {
    pub(crate) layers: VecDeque<Layer>,
    /// Resin missing below the full level, kg.
    missing: f64,
    last: Option<Drive>,
    work: BlendWork,
    /// Seconds since it was filled.
    time: f64,
    /// Rates of harm that are followed, where they are.
    harms: Option<Harms>,
}

/// What passed the borders over a step, all in kg or J.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Passed {
    /// Seconds.
    pub duration: f64,
    /// Dry resin out through the inlet plane.
    pub resin_out: f64,
    /// Water it carried.
    pub water_out: f64,
    /// Enthalpy it carried.
    pub heat_out: f64,
    /// Dry resin in on top.
    pub resin_in: f64,
    /// Water it carried.
    pub water_in: f64,
    /// Enthalpy it carried.
    pub heat_in: f64,
    /// Dry air through the bed.
    pub air: f64,
    /// Water in the air entering.
    pub air_water_in: f64,
    /// Water in the air leaving.
    pub air_water_out: f64,
    /// Enthalpy of the air entering.
    pub air_heat_in: f64,
    /// Enthalpy of the air leaving.
    pub air_heat_out: f64,
    /// Heat through the wall.
    pub wall_heat: f64,
    /// Temperature of the air leaving, K (mean over the step).
    pub return_temperature: f64,
    /// Humidity of the air leaving (mean over the step).
    pub return_humidity: f64,
    /// Temperature of the resin leaving, K; 0 when none left.
    pub outlet_temperature: f64,
    /// Whether the last of a parcel left with this step.
    pub parcel_ended: bool,
    /// What the resin that left has lived through.
    #[serde(skip)]
    pub lived: Lived,
}

impl Column {
    /// Mass of one parcel, kg.
    pub fn parcel_mass(&self) -> f64 {
        self.mass / self.parcels as f64
    }

    /// All kinds of pellet in it.
    pub fn blend(&self) -> Blend<'_> {
        Blend {
            lead: &self.contact,
            beside: &self.beside,
        }
    }

    /// A full column of uniform resin at rest; kinds beside the lead have the water they are fed
    /// with.
    pub fn filled(&self, temperature: f64, moisture: f64, free_water: f64) -> ColumnState {
        let parcel = self
            .blend()
            .parcel(temperature, moisture, free_water)
            .settled();
        self.full_of(&parcel)
    }

    /// A full column of the same pellets everywhere.
    pub(crate) fn full_of(&self, parcel: &Mixed) -> ColumnState {
        let temperature = parcel.temperature();
        ColumnState {
            layers: (0..self.parcels)
                .map(|_| Layer {
                    parcel: parcel.clone(),
                    share: 1.0,
                    air: (temperature, 0.0),
                    lived: Lived::fed(0.0, temperature),
                })
                .collect(),
            missing: 0.0,
            last: None,
            work: self.blend().work(),
            time: 0.0,
            harms: None,
        }
    }

    /// Heat capacity of the dry resin at 0 degC, mean over the kinds, J/(kg K).
    fn dry_capacity(&self) -> f64 {
        let kinds = self.blend().kinds();
        kinds
            .map(|(share, contact)| share * contact.calorics.resin)
            .sum()
    }

    /// Longest step at this drive: a parcel passes its own height in `steps_per_parcel` of them;
    /// at standstill, the air brings the heat capacity of one parcel.
    pub fn longest_step(&self, drive: &Drive) -> f64 {
        let parts = self.steps_per_parcel as f64;
        let calorics = &self.contact.calorics;
        let standing = self.parcel_mass() * self.dry_capacity()
            / (drive.air_flow * calorics.dry_air).max(f64::MIN_POSITIVE)
            / parts;
        if drive.rate > 0.0 {
            (self.parcel_mass() / drive.rate / parts).min(MOST_HEAT_PER_STEP * standing)
        } else {
            standing
        }
    }

    /// Wall conductance of the slice between two heights counted in kg of resin above the inlet,
    /// W/K; the profile ends at the full level.
    pub(crate) fn wall_between(&self, from: f64, to: f64) -> f64 {
        (self.wall.upto(to / self.mass) - self.wall.upto(from / self.mass)).max(0.0)
    }

    /// Wall conductance of a slice as seen by the air, J/(K kg air), and by its pellets, W/(K kg).
    pub(crate) fn wall_shares(&self, drive: &Drive, height: f64, thick: f64) -> (f64, f64) {
        let conductance = self.wall_between(height, height + thick);
        if self.wall_on_pellets {
            (0.0, conductance / thick.max(f64::MIN_POSITIVE))
        } else {
            (conductance / drive.air_flow, 0.0)
        }
    }

    /// Advances by at most `duration` seconds, less when a parcel border reaches the inlet first.
    ///
    /// # Errors
    /// From the pellets.
    pub fn step(
        &self,
        state: &mut ColumnState,
        drive: &Drive,
        duration: f64,
    ) -> Result<Passed, BedError> {
        if state.last.is_some_and(|last| jumps(&last, drive)) {
            for layer in &mut state.layers {
                layer.parcel.jolt();
            }
        }
        state.last = Some(*drive);
        let mass = self.parcel_mass();
        let mut duration = duration.min(self.longest_step(drive));
        if state.layers.is_empty() && self.feeding != Feeding::Continuous {
            return Ok(self.empty(state, drive, duration));
        }
        let mut sunk = drive.rate * duration / mass;
        let lowest = state.layers.front().map_or(0.0, |layer| layer.share);
        if sunk > lowest * (1.0 - 1e-9) && drive.rate > 0.0 {
            // End the step where the lowest parcel has left.
            sunk = lowest;
            duration = lowest * mass / drive.rate;
        }
        let mut passed = Passed {
            duration,
            air: drive.air_flow * duration,
            ..Passed::default()
        };
        self.feed(state, drive, &mut passed);
        self.sweep(state, drive, duration, sunk, &mut passed)?;
        state.time += duration;
        Ok(passed)
    }

    /// One sweep from the air inlet upward.
    fn sweep(
        &self,
        state: &mut ColumnState,
        drive: &Drive,
        duration: f64,
        sunk: f64,
        passed: &mut Passed,
    ) -> Result<(), BedError> {
        let mass = self.parcel_mass();
        let blend = self.blend();
        let calorics = &self.contact.calorics;
        let mut air = Met {
            temperature: drive.air_temperature,
            humidity: drive.air_humidity,
            ..Met::default()
        };
        let continuous = self.feeding == Feeding::Continuous;
        if continuous
            && sunk > 0.0
            && state
                .layers
                .back()
                .is_none_or(|top| top.share >= 1.0 - 1e-12)
        {
            let fresh = self.fresh(drive);
            state.layers.push_back(Layer {
                parcel: fresh,
                share: 0.0,
                air: (drive.feed_temperature, drive.air_humidity),
                lived: Lived::fed(state.time, drive.feed_temperature),
            });
        }
        let top = state.layers.len().saturating_sub(1);
        let end_weight = end_weight(self.units(drive).1);
        let mut height = 0.0;
        let next = state.layers.get(1);
        let second = next.map(|next| (next.share, next.parcel.temperature()));
        for (index, layer) in state.layers.iter_mut().enumerate() {
            let before = layer.share;
            let mut after = before;
            if index == 0 {
                after = (before - sunk).max(0.0);
            }
            let mut exposed = duration;
            let entering = continuous && index == top && sunk > 0.0;
            if entering {
                after = (before + sunk).min(1.0);
                exposed = duration * 0.5 * (before + after) / after;
                let middle = state.time + 0.5 * duration;
                self.enter(layer, drive, (before, after), middle, passed);
            }
            let was = (index == 0 && sunk > 0.0).then(|| self.before(layer));
            let start = state.harms.map(|_| at_of(&layer.parcel));
            let present = 0.5 * (before + after);
            let thick = present * mass;
            let leans = self.leans(drive, index == 0, entering, sunk);
            let (wall, pellet_wall) = self.wall_shares(drive, height, thick);
            let meets = AirIn {
                temperature: air.temperature,
                humidity: air.humidity,
                load: thick / drive.air_flow,
                wall,
                pellet_wall,
                ambient: drive.ambient,
                heat_lean: leans.0,
                water_lean: leans.1,
                end_weight,
            };
            air = blend.meet(&mut layer.parcel, &meets, exposed, &mut state.work)?;
            passed.wall_heat += air.wall_loss * passed.air;
            height += thick;
            if let (Some(harms), Some(start)) = (&state.harms, start) {
                let ends = [start, at_of(&layer.parcel)];
                let isotherm = &self.contact.isotherm;
                layer.lived.live(harms, isotherm, ends, exposed);
            }
            if let Some(was) = &was {
                let left = self.leave(layer, (was, after), second, drive, passed);
                state.missing += if continuous { 0.0 } else { left };
            }
            layer.share = after;
            layer.air = (air.temperature, air.humidity);
        }
        if state
            .layers
            .front()
            .is_some_and(|lowest| lowest.share <= LAST)
        {
            state.layers.pop_front();
            passed.parcel_ended = true;
        }
        passed.air_water_in = passed.air * drive.air_humidity;
        passed.air_water_out = passed.air * air.humidity;
        passed.air_heat_in =
            passed.air * calorics.air_enthalpy(drive.air_temperature, drive.air_humidity);
        passed.air_heat_out = passed.air * calorics.air_enthalpy(air.temperature, air.humidity);
        passed.return_temperature = air.temperature;
        passed.return_humidity = air.humidity;
        Ok(())
    }

    /// Fresh pellets join the parcel on top, of which the share goes from one to another.
    fn enter(
        &self,
        layer: &mut Layer,
        drive: &Drive,
        (before, after): (f64, f64),
        time: f64,
        passed: &mut Passed,
    ) {
        let (blend, fresh) = (self.blend(), self.fresh(drive));
        if before > 0.0 {
            blend.pour(&mut layer.parcel, &fresh, before / after);
            let fed = Lived::fed(time, drive.feed_temperature);
            layer.lived.pour(&fed, before / after);
        }
        let entered = (after - before) * self.parcel_mass();
        passed.resin_in += entered;
        passed.water_in += entered * blend.water(&fresh);
        passed.heat_in += entered * blend.enthalpy(&fresh);
    }

    /// Weights of the air leaving in the mean temperature and humidity that a parcel sees.
    ///
    /// The parcel that is leaving stands, in the mean over the step, in the plane of the inlet and
    /// sees the air entering; see [`Column::lean`] for the parcel that comes in.
    pub(crate) fn leans(
        &self,
        drive: &Drive,
        leaving: bool,
        entering: bool,
        sunk: f64,
    ) -> (f64, f64) {
        if leaving && sunk > 0.0 {
            let inside = 0.5 * (1.0 - sunk);
            (inside + sunk * self.pinch(drive), inside)
        } else if entering {
            (self.lean(drive), 0.5)
        } else {
            (0.5, 0.5)
        }
    }

    /// Weight of the air leaving in the mean air seen by the parcel that enters.
    ///
    /// Pellets fed into more air than they can cool heat up in a layer of depth `1/z` parcels,
    /// `z = N (r - 1)` with N the heat-transfer units of a parcel and r the ratio of the heat
    /// capacity flows of air and resin. The mean of that exponential over the parcel is
    /// `1/z - 1/(exp(z) - 1)` of the fall, one half where the layer is resolved.
    fn lean(&self, drive: &Drive) -> f64 {
        let (units, ratio) = self.units(drive);
        let z = units * (ratio - 1.0);
        if z < 1e-3 {
            0.5
        } else {
            1.0 / z - 1.0 / libm::expm1(z)
        }
    }

    /// Weight of the air leaving in the mean air seen by the parcel that leaves.
    ///
    /// Nothing where air is ample. Where it cannot heat the resin (r below 1), it gives its heat up
    /// in a layer at the inlet of depth `1/z` parcels, `z = N (1 - r)`; where that is not resolved
    /// the air leaving must not fall below the pellets, which takes `1 - r`.
    fn pinch(&self, drive: &Drive) -> f64 {
        let (units, ratio) = self.units(drive);
        let short = (1.0 - ratio).max(0.0);
        -short * libm::expm1(-units * short)
    }

    /// Heat-transfer units of a parcel, and the ratio r of the heat capacity flows of air and resin.
    pub(crate) fn units(&self, drive: &Drive) -> (f64, f64) {
        let calorics = &self.contact.calorics;
        let air = drive.air_flow * (calorics.dry_air + drive.air_humidity * calorics.vapour);
        let resin = drive.rate * self.capacity(drive);
        (
            self.blend().conductance() * self.parcel_mass() / air,
            air / resin,
        )
    }

    /// Heat capacity of the feed at the temperature of the air entering, J/(kg K).
    fn capacity(&self, drive: &Drive) -> f64 {
        let t = drive.air_temperature;
        let lead = (drive.feed_moisture, drive.feed_free_water);
        let fed = std::iter::once(lead).chain(
            self.beside
                .iter()
                .map(|kind| (kind.moisture, kind.free_water)),
        );
        self.blend()
            .kinds()
            .zip(fed)
            .map(|((share, contact), (x, w))| share * contact.calorics.resin_capacity(t, x, w))
            .sum()
    }

    /// A parcel as it is fed.
    pub(crate) fn fresh(&self, drive: &Drive) -> Mixed {
        self.blend().parcel(
            drive.feed_temperature,
            drive.feed_moisture,
            drive.feed_free_water,
        )
    }

    /// Dry resin, water and enthalpy held: kg, kg, J.
    pub fn held(&self, state: &ColumnState) -> [f64; 3] {
        let mass = self.parcel_mass();
        let mut sums = [0.0; 3];
        for layer in &state.layers {
            let resin = layer.share * mass;
            sums[0] += resin;
            sums[1] += resin * self.blend().water(&layer.parcel);
            sums[2] += resin * self.blend().enthalpy(&layer.parcel);
        }
        sums
    }
}

/// Temperature and water of the lead of a parcel.
fn at_of(parcel: &Mixed) -> (f64, f64, f64) {
    let lead = &parcel.lead;
    (lead.temperature, lead.moisture, lead.free_water)
}

/// Heat that the air may bring over a step, in heat capacities of a parcel; more would ring.
const MOST_HEAT_PER_STEP: f64 = 3.0;

/// Weight of the end of the step in the mean pellet temperature for a ratio `r` of the heat capacity
/// flows of air and resin: one half from r = 1 to 2; beyond, where the air swamps the pellets, and
/// below, where the pellets swamp the air, up to 0.65, which damps what halves would let ring and
/// costs at most 0.15 of a parcel in position.
pub(crate) fn end_weight(ratio: f64) -> f64 {
    let swamped = ((ratio - 2.0) / (ratio + 2.0)).max(0.0);
    let starved = ((1.0 - ratio) / (1.0 + ratio)).max(0.0);
    0.5 + 0.15 * (swamped + starved)
}

/// Whether two drives differ by a jump that the pellets will feel.
fn jumps(last: &Drive, now: &Drive) -> bool {
    (last.air_temperature - now.air_temperature).abs() > 0.5
        || (last.air_humidity - now.air_humidity).abs()
            > 0.05 * last.air_humidity.max(now.air_humidity)
        || (last.air_flow - now.air_flow).abs() > 0.05 * last.air_flow
}
