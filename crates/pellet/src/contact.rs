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
use crate::interior::{Interior, InteriorWork, SurfaceDrift};
use crate::parcel::IMPLICIT_STEPS;
pub use crate::parcel::{AirIn, Exchange, Met, Parcel};
use air::saturation;
use material::{Diffusivity, Isotherm};
use numeric::NumericError;
use quantity::constants::{DRY_AIR_MOLAR_MASS, WATER_MOLAR_MASS, ZERO_CELSIUS};

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
    inside: InteriorWork,
}

/// What one pass over the step assumes: pellet temperature and the duration.
struct Step<'a> {
    parcel: &'a Parcel,
    air: &'a AirIn,
    duration: f64,
    drift: SurfaceDrift,
    /// Weight of the end of the step in the mean pellet temperature.
    weight: f64,
}

/// The water side of a step.
#[derive(Clone, Copy)]
struct Water {
    rate: f64,
    moisture: f64,
    free: f64,
    surface: f64,
    wetness: f64,
}

/// The heat side of a step.
#[derive(Clone, Copy)]
struct Heat {
    end: f64,
    mean: f64,
    air_out: f64,
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
        self.calorics.resin_enthalpy(
            &self.isotherm,
            parcel.temperature,
            parcel.moisture,
            parcel.free_water,
        )
    }

    /// Blends `fresh` pellets into a parcel of which the share `old` is already there: water and
    /// enthalpy are conserved.
    pub fn blend(&self, parcel: &mut Parcel, fresh: &Parcel, old: f64) {
        let new = 1.0 - old;
        let enthalpy = old * self.enthalpy(parcel) + new * self.enthalpy(fresh);
        for (mine, theirs) in parcel.inside.iter_mut().zip(&fresh.inside) {
            *mine = old * *mine + new * theirs;
        }
        parcel.moisture = old * parcel.moisture + new * fresh.moisture;
        parcel.free_water = old * parcel.free_water + new * fresh.free_water;
        parcel.surface = old * parcel.surface + new * fresh.surface;
        let mut t = old * parcel.temperature + new * fresh.temperature;
        for _ in 0..20 {
            let (x, w) = (parcel.moisture, parcel.free_water);
            let miss = self.calorics.resin_enthalpy(&self.isotherm, t, x, w) - enthalpy;
            let step = miss / self.calorics.resin_capacity(t, x, w);
            t -= step;
            if step.abs() < 1e-13 * t {
                break;
            }
        }
        parcel.temperature = t;
        parcel.jolt();
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
        let seed = Water {
            rate: parcel.rate,
            moisture: parcel.moisture,
            free: parcel.free_water,
            surface: parcel.surface,
            wetness: parcel.wetness,
        };
        let diffusion = self.diffusivity.at(t_mean, 0.0);
        self.interior
            .prepare(&parcel.inside, diffusion, duration, drift, &mut work.inside);
        let water = self.water(&step, t_mean, &seed, &mut work.inside)?;
        self.settle(parcel, &water, t_end, duration, drift, work);
        Ok(water.rate)
    }

    /// Weight of the end of the step in the mean temperature of a parcel that has taken `steps`,
    /// `settled` once it has been in the bed for a while.
    pub fn end_weight(steps: u32, settled: f64) -> f64 {
        if steps < IMPLICIT_STEPS { 1.0 } else { settled }
    }

    /// Writes the end of a step into the parcel.
    fn settle(
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

    /// Finds the drying rate with which heat and water agree, by a secant started from the rate of
    /// the step before.
    fn close(
        &self,
        step: &Step<'_>,
        before: f64,
        work: &mut InteriorWork,
    ) -> Result<(Heat, Water), PelletError> {
        const MOST: usize = 90;
        // A miss is judged by the pellet temperature it stands for: 1e-6 K is 1e-7 of a diffusivity.
        let close_enough = 1e-6 * self.exchange.heat / self.calorics.evaporation;
        // No more can leave than there is, and no more can condense than the air brings to the film.
        let most = step.parcel.water() / step.duration;
        let least =
            -self.exchange.vapour * self.vapour_pressure(step.air.humidity.max(0.0)) - 1e-15;
        let mut guess = step.parcel.expected.clamp(least, most);
        let mut seed = Water {
            rate: guess,
            moisture: step.parcel.moisture,
            free: step.parcel.free_water,
            surface: step.parcel.surface,
            wetness: step.parcel.wetness,
        };
        let mut last: Option<(f64, f64)> = None;
        let (mut low, mut high) = (least, most);
        let mut miss = f64::INFINITY;
        let mut t_guess = step.parcel.temperature;
        for round in 0..MOST {
            let assumed = Water {
                rate: guess,
                ..balanced(&seed, guess, step)
            };
            let heat = self.heat(step, before, &assumed, t_guess)?;
            t_guess = heat.end;
            let diffusion = self.diffusivity.at(heat.mean, 0.0);
            self.interior.prepare(
                &step.parcel.inside,
                diffusion,
                step.duration,
                step.drift,
                work,
            );
            let found = self.water(step, heat.mean, &seed, work)?;
            seed = found;
            miss = found.rate - guess;
            let narrow = high - low <= 1e-13 * (high.abs() + low.abs());
            if miss.abs() <= close_enough || narrow {
                // Close the heat with the water as found, so that both balances are exact.
                let heat = self.heat(step, before, &found, t_guess)?;
                return Ok((heat, found));
            }
            // The rate found falls as the rate assumed rises (more evaporation, colder pellets).
            if miss > 0.0 {
                low = low.max(guess);
            } else {
                high = high.min(guess);
            }
            let next = match last {
                Some((before_guess, before_miss)) if (before_miss - miss).abs() > 0.0 => {
                    let step = -miss * (guess - before_guess) / (miss - before_miss);
                    // The slope of the miss lies near or below -1, so a longer step is noise.
                    guess + step.clamp(-2.0 * miss.abs(), 2.0 * miss.abs())
                }
                _ => found.rate,
            };
            last = Some((guess, miss));
            guess = if next > low && next < high && round % 4 != 3 && round < 16 {
                next
            } else {
                0.5 * (low + high)
            };
        }
        Err(NumericError::NoConvergence {
            steps: MOST,
            change: miss,
        }
        .into())
    }

    /// Heat balance with the water known: end and mean pellet temperature, air leaving.
    fn heat(
        &self,
        step: &Step<'_>,
        before: f64,
        water: &Water,
        guess: f64,
    ) -> Result<Heat, PelletError> {
        const MOST: usize = 40;
        let c = &self.calorics;
        let air = step.air;
        let (y_in, y_out) = (air.humidity, air.humidity + air.load * water.rate);
        let start = step.parcel.temperature;
        let in_enthalpy = c.air_enthalpy(air.temperature, y_in);
        let out_capacity = c.dry_air + y_out * c.vapour;
        let inverse = 1.0 / step.duration;
        let conductance = self.exchange.heat;
        // Air leaving follows from the balance: capacity * out = carried - load * gain.
        let leaving = out_capacity + air.heat_lean * air.wall;
        let carried = in_enthalpy
            + air.wall * (air.ambient - (1.0 - air.heat_lean) * air.temperature)
            - y_out * c.evaporation
            + out_capacity * ZERO_CELSIUS;
        let mut end = guess;
        let mut change = f64::INFINITY;
        for _ in 0..MOST {
            let mean = start + step.weight * (end - start);
            let gain = (c.resin_enthalpy(&self.isotherm, end, water.moisture, water.free) - before)
                * inverse;
            // What the pellets keep and what they lose to the wall.
            let drawn = gain + air.pellet_wall * (mean - air.ambient);
            let taken = drawn + water.rate * c.vapour_enthalpy(mean);
            let air_out = (carried - air.load * drawn) / leaving;
            let air_mean = air.temperature + air.heat_lean * (air_out - air.temperature);
            let miss = conductance * (air_mean - mean) - taken;
            let gain_slope = c.resin_capacity(end, water.moisture, water.free) * inverse;
            let slope = (gain_slope + step.weight * air.pellet_wall)
                * (1.0 + conductance * air.heat_lean * air.load / leaving)
                + step.weight * (conductance + water.rate * c.vapour);
            let correction = miss / slope;
            if correction.abs() <= 1e-12 * end.abs() || correction.abs() >= change {
                // Settled, or rounding has been reached; this pass is the answer.
                if !(correction.abs() < 1e-6) {
                    break;
                }
                return Ok(Heat { end, mean, air_out });
            }
            end += correction;
            change = correction.abs();
        }
        Err(NumericError::NoConvergence {
            steps: MOST,
            change,
        }
        .into())
    }

    /// Water balance at pellet temperature `t`: the monotone equation in the surface number.
    fn water(
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
        // Nodes are solved to ten digits, so the surface is not asked for more.
        let close = if self.interior.is_affine() {
            1e-13
        } else {
            1e-9
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
            // What rounding leaves of the three amounts of water is no miss.
            let rounding = 4.0 * f64::EPSILON * (start + moisture + free) * inverse;
            if change <= close * wetness + 1e-18 || miss.abs() <= rounding || change == 0.0 {
                return Ok(Water {
                    rate,
                    moisture,
                    free,
                    surface,
                    wetness,
                });
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
            wetness = next;
        }
        Err(NumericError::NoConvergence {
            steps: MOST,
            change,
        }
        .into())
    }
}

fn step_of<'a>(parcel: &'a Parcel, air: &'a AirIn, duration: f64) -> Step<'a> {
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
fn balanced(seed: &Water, rate: f64, step: &Step<'_>) -> Water {
    let total = step.parcel.water() - rate * step.duration;
    let free = step.parcel.free_water.min(total.max(0.0));
    Water {
        moisture: (total - free).max(0.0),
        free,
        ..*seed
    }
}
