//! Pellets meeting air over one step: heat, water and the film between them.
//!
//! # Equations
//! Per kg of dry resin, over a step of duration h, with means over the step written in bars:
//! 1. water: `n = (X0 + W0 - X1 - W1)/h`, X the sorbed and W the free surface water;
//! 2. film: `n = k (a_s p_sat(T) - p_air)`, with a_s the activity at the surface: below 1 it is in
//!    equilibrium with the surface moisture, and W = 0; where W > 0 it is 1;
//! 3. inside: X1 follows from [`crate::interior`] with the surface at `X_eq(T, a_s)`;
//! 4. heat: `(H1 - H0)/h = q - n h_v(T) - u (T - T_ambient)`, `q = h_a (T_air - T)`, with the enthalpy
//!    `H = c T + X h_l(T) - Q(T, X) + W h_l(T)`; Q is the excess heat of sorption that follows from
//!    the isotherm (or from the stated heat of sorption);
//! 5. air, per kg of dry air passing `load` kg/s of pellets per kg/s of air: `Y_out = Y_in + load n`,
//!    `h_out = h_in - load (H1 - H0)/h - wall (T_air - T_ambient)`; the pellets see the mean of in
//!    and out (weights `heat_lean`, `water_lean` of out).
//!
//! Equation 2 is one monotone equation in a single number that counts activity below 1 and free
//! water above it; heat and water are closed together by a secant on n.
//! Pellets that have just entered are taken implicitly at the end of their first step, then at
//! the middle (Rannacher start: Rannacher (1984), Numer. Math. 43, 309), which keeps second order
//! without ringing.
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! k | `Exchange::vapour` | kg/(s Pa kg)
//! h_a | `Exchange::heat` | W/(K kg)
//!
//! # Holds for
//! One temperature in each pellet (the resistance inside is folded into h_a); perfect-gas air of
//! constant heat capacities.
//!
//! # Sources
//! As named above.
//!
//! # Checked by
//! `tests/src/exact`; ledgers in `crates/bed`.

use crate::PelletError;
pub use crate::calorics::Calorics;
use crate::closing::{Heat, HeatSide, Sides, agree};
use crate::interior::{Interior, InteriorWork, SurfaceDrift};
use crate::parcel::IMPLICIT_STEPS;
pub use crate::parcel::{AirIn, Exchange, Met, Parcel};
use air::saturation;
use material::{Diffusivity, Isotherm};
use numeric::NumericError;
use quantity::constants::{DRY_AIR_MOLAR_MASS, WATER_MOLAR_MASS};

/// Molar mass of water over that of dry air.
pub const MASS_RATIO: f64 = WATER_MOLAR_MASS / DRY_AIR_MOLAR_MASS;
/// Free water that one unit above activity 1 stands for, kg/kg.
const FREE_WATER_SCALE: f64 = 1e-3;

/// What the pellets are.
#[derive(Clone, Debug)]
pub struct Contact {
    /// The inside of a pellet.
    pub interior: Interior,
    /// Sorption law.
    pub isotherm: Isotherm,
    /// Diffusion law.
    pub diffusivity: Diffusivity,
    /// Heat capacities.
    pub calorics: Calorics,
    /// Transfer coefficients.
    pub exchange: Exchange,
    /// Total pressure, Pa.
    pub pressure: f64,
}

/// Work space for contacts.
#[derive(Clone, Debug)]
pub struct ContactWork {
    pub(crate) inside: InteriorWork,
}

/// What one pass over the step assumes: pellet temperature and the duration.
pub(crate) struct Step<'a> {
    pub(crate) parcel: &'a Parcel,
    air: &'a AirIn,
    duration: f64,
    pub(crate) drift: SurfaceDrift,
    /// Weight of the end of the step in the mean pellet temperature.
    pub(crate) weight: f64,
}

/// The water side of a step.
#[derive(Clone, Copy)]
pub(crate) struct Water {
    pub(crate) rate: f64,
    pub(crate) moisture: f64,
    pub(crate) free: f64,
    surface: f64,
    wetness: f64,
}

impl Water {
    /// What a parcel brings from its last step.
    pub(crate) fn of(parcel: &Parcel) -> Self {
        Self {
            rate: parcel.rate,
            moisture: parcel.moisture,
            free: parcel.free_water,
            surface: parcel.surface,
            wetness: parcel.wetness,
        }
    }
}

/// One kind of pellet with the air to itself.
struct Alone<'a> {
    contact: &'a Contact,
    step: &'a Step<'a>,
    heat: HeatSide<'a>,
    water: Water,
    work: &'a mut InteriorWork,
}

impl Sides for Alone<'_> {
    fn heat(&mut self, rate: Option<f64>, guess: f64) -> Result<Heat, PelletError> {
        let Contact {
            calorics, isotherm, ..
        } = self.contact;
        let water = match rate {
            Some(assumed) => balanced(&self.water, assumed, self.step),
            None => self.water,
        };
        let (x, w) = (water.moisture, water.free);
        self.heat.balance(
            rate.unwrap_or(self.water.rate),
            guess,
            |t| calorics.resin_enthalpy(isotherm, t, x, w),
            |t| calorics.resin_capacity(t, x, w),
        )
    }

    fn water(&mut self, mean: f64) -> Result<f64, PelletError> {
        let (contact, step) = (self.contact, self.step);
        contact.prepare(step, mean, self.work);
        self.water = contact.water(step, mean, &self.water, self.work)?;
        Ok(self.water.rate)
    }

    fn close_enough(&self) -> f64 {
        self.heat.close_enough()
    }
}

impl Contact {
    /// A parcel of uniform pellets at rest.
    pub fn parcel(&self, temperature: f64, moisture: f64, free_water: f64) -> Parcel {
        let moisture = if self.isotherm.takes_up_water() {
            moisture
        } else {
            0.0
        };
        Parcel {
            temperature,
            free_water,
            inside: self.interior.uniform(moisture),
            moisture,
            steps: 0,
            surface: moisture,
            duration: 0.0,
            wetness: if free_water > 0.0 {
                1.0 + free_water / FREE_WATER_SCALE
            } else {
                self.isotherm.activity(temperature, moisture)
            },
            rate: 0.0,
            expected: 0.0,
        }
    }

    /// Work space.
    pub fn work(&self) -> ContactWork {
        ContactWork {
            inside: self.interior.work(),
        }
    }

    /// Enthalpy of a parcel, J/kg dry resin.
    pub fn enthalpy(&self, parcel: &Parcel) -> f64 {
        self.enthalpy_at(parcel.temperature, parcel.moisture, parcel.free_water)
    }

    /// Enthalpy at a temperature with sorbed moisture `x` and free water `w`, J/kg dry resin.
    pub fn enthalpy_at(&self, t: f64, x: f64, w: f64) -> f64 {
        self.calorics.resin_enthalpy(&self.isotherm, t, x, w)
    }

    /// Vapour pressure at humidity ratio `y`, Pa.
    #[inline]
    pub fn vapour_pressure(&self, y: f64) -> f64 {
        self.pressure * y / (MASS_RATIO + y)
    }

    /// Lets `parcel` meet `air` for `duration` seconds.
    ///
    /// # Errors
    /// [`PelletError::Numeric`] when heat and water cannot be closed.
    pub fn meet(
        &self,
        parcel: &mut Parcel,
        air: &AirIn,
        duration: f64,
        work: &mut ContactWork,
    ) -> Result<Met, PelletError> {
        let step = step_of(parcel, air, duration);
        let drift = step.drift;
        let before = self.enthalpy(parcel);
        let (heat, water) = self.close(&step, before, &mut work.inside)?;
        self.settle(parcel, &water, heat.end, duration, drift, work);
        Ok(Met {
            temperature: heat.air_out,
            humidity: air.humidity + air.load * water.rate,
            drying_rate: water.rate,
            wall_loss: air.load * air.pellet_wall * (heat.mean - air.ambient)
                + air.wall
                    * (air.temperature + air.heat_lean * (heat.air_out - air.temperature)
                        - air.ambient),
        })
    }

    /// Lets `parcel` give or take water over `duration` while its temperature goes to `t_end`
    /// (mean `t_mean`) by some other account; the heat is not balanced here.
    /// The steady bed solves all heat balances at once and uses this for the water.
    ///
    /// # Errors
    /// [`PelletError::Numeric`] when the water cannot be closed.
    pub fn meet_at(
        &self,
        parcel: &mut Parcel,
        air: &AirIn,
        duration: f64,
        (t_mean, t_end): (f64, f64),
        work: &mut ContactWork,
    ) -> Result<f64, PelletError> {
        let step = step_of(parcel, air, duration);
        let drift = step.drift;
        let seed = Water::of(parcel);
        self.prepare(&step, t_mean, &mut work.inside);
        let water = self.water(&step, t_mean, &seed, &mut work.inside)?;
        self.settle(parcel, &water, t_end, duration, drift, work);
        Ok(water.rate)
    }

    /// Weight of the end of the step in the mean temperature of a parcel that has taken `steps`,
    /// `settled` once it has been in the bed for a while.
    pub fn end_weight(steps: u32, settled: f64) -> f64 {
        if steps < IMPLICIT_STEPS { 1.0 } else { settled }
    }

    /// Makes the inside ready for a step at a mean temperature.
    pub(crate) fn prepare(&self, step: &Step<'_>, mean: f64, work: &mut InteriorWork) {
        let diffusion = self.diffusivity.at(mean, 0.0);
        let inside = &step.parcel.inside;
        self.interior
            .prepare(inside, diffusion, step.duration, step.drift, work);
    }

    /// Writes the end of a step into the parcel.
    pub(crate) fn settle(
        &self,
        parcel: &mut Parcel,
        water: &Water,
        t_end: f64,
        duration: f64,
        drift: SurfaceDrift,
        work: &ContactWork,
    ) {
        self.interior.commit(
            &mut parcel.inside,
            water.surface,
            duration,
            drift,
            &work.inside,
        );
        parcel.temperature = t_end;
        parcel.moisture = water.moisture;
        parcel.free_water = water.free;
        parcel.surface = water.surface;
        parcel.wetness = water.wetness;
        parcel.expected = if drift.rate > 0.0 {
            2.0 * water.rate - parcel.rate
        } else {
            water.rate
        };
        parcel.duration = duration;
        parcel.rate = water.rate;
        parcel.steps = parcel.steps.saturating_add(1);
    }

    /// Finds the drying rate with which heat and water agree.
    fn close(
        &self,
        step: &Step<'_>,
        before: f64,
        work: &mut InteriorWork,
    ) -> Result<(Heat, Water), PelletError> {
        let mut sides = Alone {
            contact: self,
            step,
            heat: HeatSide {
                air: step.air,
                calorics: &self.calorics,
                start: step.parcel.temperature,
                before,
                weight: step.weight,
                duration: step.duration,
                conductance: self.exchange.heat,
            },
            water: Water::of(step.parcel),
            work,
        };
        // No more can leave than there is, and no more can condense than the air brings to the film.
        let most = step.parcel.water() / step.duration;
        let least = self.least_rate(step.air);
        let heat = agree(&mut sides, step.parcel.expected, (least, most))?;
        Ok((heat, sides.water))
    }

    /// Most that can condense on the pellets, as a drying rate.
    pub(crate) fn least_rate(&self, air: &AirIn) -> f64 {
        -self.exchange.vapour * self.vapour_pressure(air.humidity.max(0.0)) - 1e-15
    }

    /// Water balance at pellet temperature `t`: the monotone equation in the surface number.
    pub(crate) fn water(
        &self,
        step: &Step<'_>,
        t: f64,
        seed: &Water,
        work: &mut InteriorWork,
    ) -> Result<Water, PelletError> {
        const MOST: usize = 80;
        let film = self.exchange.vapour;
        let saturation = saturation::over_liquid(t);
        let isotherm = self.isotherm.at(t);
        let start = step.parcel.water();
        let inverse = 1.0 / step.duration;
        // Nodes are solved to ten digits, so neither surface nor water is asked for more.
        let (close, digits) = if self.interior.is_affine() {
            (1e-13, 16.0 * f64::EPSILON)
        } else {
            (1e-9, 1e-10)
        };
        let mut wetness = seed.wetness;
        let (mut low, mut high) = (0.0_f64, f64::INFINITY);
        let mut change = f64::INFINITY;
        for _ in 0..MOST {
            let activity = wetness.min(1.0);
            let (surface, surface_slope) = isotherm.moisture(activity);
            let free = (wetness - 1.0).max(0.0) * FREE_WATER_SCALE;
            let (moisture, slope) = self.interior.respond(
                &self.diffusivity,
                t,
                step.duration,
                &step.parcel.inside,
                surface,
                step.drift,
                work,
            )?;
            let rate = (start - moisture - free) * inverse;
            let humidity = step.air.humidity + step.air.water_lean * step.air.load * rate;
            let below = MASS_RATIO + humidity;
            let pressure = self.pressure * humidity / below;
            let by_humidity = self.pressure * MASS_RATIO / (below * below);
            let miss = rate - film * (activity * saturation - pressure);
            let found = Water {
                rate,
                moisture,
                free,
                surface,
                wetness,
            };
            // What is left of the three amounts of water behind their last digit is no miss.
            let unseen = digits * (start + moisture + free) * inverse;
            if miss.abs() <= unseen {
                return Ok(found);
            }
            if miss > 0.0 {
                low = low.max(wetness);
            } else {
                high = high.min(wetness);
            }
            let by_wetness = if wetness < 1.0 {
                -slope * surface_slope * inverse
            } else {
                -FREE_WATER_SCALE * inverse
            };
            let back = 1.0 + film * by_humidity * step.air.water_lean * step.air.load;
            let pull = if wetness < 1.0 {
                film * saturation
            } else {
                0.0
            };
            let fall = by_wetness * back - pull;
            let mut next = wetness - miss / fall;
            // A Newton step must not jump over the kink at activity 1: stop just across it and
            // go on with the slope found there.
            let across = (wetness < 1.0) != (next < 1.0);
            if across {
                next = if next < 1.0 { 1.0 - 1e-13 } else { 1.0 };
            }
            if !(next >= low && next <= high) {
                next = if high.is_finite() {
                    0.5 * (low + high)
                } else {
                    2.0 * low + 1e-9
                };
            }
            change = (next - wetness).abs();
            if across && high - low > 1e-12 {
                change = f64::INFINITY;
            }
            // The surface met is as good as the next one would be.
            if change <= close * wetness + 1e-18 {
                return Ok(found);
            }
            wetness = next;
        }
        Err(NumericError::NoConvergence {
            steps: MOST,
            change,
        }
        .into())
    }
}

pub(crate) fn step_of<'a>(parcel: &'a Parcel, air: &'a AirIn, duration: f64) -> Step<'a> {
    let fresh = parcel.steps < IMPLICIT_STEPS || parcel.duration == 0.0;
    let rate = if fresh {
        0.0
    } else {
        2.0 / (duration + parcel.duration)
    };
    Step {
        parcel,
        air,
        duration,
        drift: SurfaceDrift {
            before: parcel.surface,
            rate,
        },
        weight: Contact::end_weight(parcel.steps, air.end_weight),
    }
}

/// End moisture that belongs to an assumed rate, for the heat balance
/// of a step that is not closed yet.
pub(crate) fn balanced(seed: &Water, rate: f64, step: &Step<'_>) -> Water {
    let total = step.parcel.water() - rate * step.duration;
    let free = step.parcel.free_water.min(total.max(0.0));
    Water {
        moisture: (total - free).max(0.0),
        free,
        ..*seed
    }
}
