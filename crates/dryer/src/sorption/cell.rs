//! A slice of desiccant meeting air for a while: the kernel of wheel and towers.
//!
//! # Equations
//! Per square metre of face, for a slice with `m` kg of active sorbent and dry heat capacity `D`:
//! 1. Air, quasi-steady, sees one state of the sorbent in the slice and leaves with
//!    `Y_out = Y_e + (Y_in - Y_e) exp(-N_m)`, `T_out = T + (T_in - T) exp(-N_h)`; `N_m = K a z / G`,
//!    `N_h = h a z / (G c_p)`.
//! 2. `Y_e = e p / (P - p)` with the sorbent's pressure `p(q, T)`; past 0.8 P it goes on as a straight
//!    line in `ln p`, so that a slice about to boil has an answer.
//! 3. Water: `m dq/dt = G (Y_in - Y_out)`. Heat: `dH/dt = G (h_in - h_out)` with air counted by
//!    [`air::caloric`], and `H = D t + m (q (r_0 + c_v t) - I(q, T))`: the sorbent holds its water as
//!    vapour less the heat given off, so that the heat of a cycle is that of its ends.
//! 4. In time: two implicit stages, `g = 1 - 1/sqrt(2)`, second order and L-stable (Alexander 1977).
//!    Stage one starts from `u_0`, stage two from `u_0 + (1/g - 1)(u_1 - u_0)`; each stage has its own
//!    air, which goes on to the next slice, and what passed weighs `1 - g` and `g`.
//! 5. Where the second start would take out nearly all the water, the slice takes one implicit step of
//!    first order with the mean air instead, which keeps loadings positive.
//!
//! A slice of `N_m` has the variance `2/N + N/6` slices in its response, against `2/N` of the depth
//! itself: second order in `N`.
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! m | `Slice::active` | kg/m2
//! D | `Slice::dry_heat` | J/(K m2)
//! G | `Contact::flow` | kg dry air/(s m2)
//! q, T, H | `Cell` | kg/kg, K, J/m2
//!
//! # Holds for
//! Air holds no store (0.3 % of the matrix by mass). Driving force in humidity ratio; drift by the flow
//! of vapour itself is left out (3 % at 0.05 kg/kg).
//!
//! # Sources
//! Alexander (1977), Diagonally implicit Runge-Kutta methods for stiff O.D.E.s, SIAM J. Numer. Anal. 14,
//! 1006 (from memory).
//!
//! # Checked by
//! `tests/src/peers/wheel.rs`

use super::adsorbed::{Adsorbed, Held};
use air::caloric::{DRY_AIR_HEAT, EVAPORATION, VAPOUR_HEAT, enthalpy};
use air::mixture::MASS_RATIO;
use quantity::constants::ZERO_CELSIUS;

/// Share of a step in one implicit stage, `1 - 1/sqrt(2)`.
pub const STAGE: f64 = 1.0 - std::f64::consts::FRAC_1_SQRT_2;
/// How far the second stage starts beyond the first, `1/g - 1`.
const BEYOND: f64 = 1.0 / STAGE - 1.0;
/// Share of the loading below which the second stage may not start.
const LEAST_START: f64 = 0.05;
/// Share of the total pressure up to which the sorbent's pressure is taken as it is.
const BOILING: f64 = 0.8;
/// Most corrections of a stage.
const ROUNDS: usize = 40;
/// A stage is solved when the next correction changes humidity and temperature by less than this share.
const CLOSE: f64 = 2e-4;

/// Air as it passes from slice to slice.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct AirState {
    /// Temperature, K.
    pub temperature: f64,
    /// Humidity ratio, kg/kg dry air.
    pub humidity: f64,
}

impl AirState {
    /// Enthalpy, J/kg dry air.
    #[inline]
    pub fn enthalpy(&self) -> f64 {
        enthalpy(self.temperature, self.humidity)
    }
}

/// What a slice is made of, per square metre of face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slice {
    /// Dry sorbent that still takes up water, kg/m2.
    pub active: f64,
    /// Heat capacity of everything dry, J/(K m2).
    pub dry_heat: f64,
}

/// What a slice holds.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Cell {
    /// Water, kg/kg active sorbent.
    pub loading: f64,
    /// Temperature, K.
    pub temperature: f64,
    /// Heat above dry sorbent and liquid water at 0 degC, J/m2.
    pub heat: f64,
}

/// How air of one flow meets a slice.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Contact {
    /// Dry air, kg/(s m2).
    pub flow: f64,
    /// Share of a humidity difference that is left behind the slice, `exp(-N_m)`.
    pub humidity_left: f64,
    /// Share of a temperature difference that is left behind the slice, `exp(-N_h)`.
    pub warmth_left: f64,
    /// Natural logarithm of the total pressure in Pa.
    pub ln_total: f64,
}

/// Two by two, row by row.
pub type Small = [f64; 4];

/// How what leaves a step depends on what enters it. Water and heat of the slice (`loading`, `heat`),
/// air as (`temperature`, `humidity`) in each stage.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Tangent {
    /// Slice after by slice before.
    pub slice_by_slice: Small,
    /// Slice after by the air entering in each stage.
    pub slice_by_air: [Small; 2],
    /// Air leaving in each stage by slice before.
    pub air_by_slice: [Small; 2],
    /// Air leaving in a stage by air entering in the same stage.
    pub air_by_air: [Small; 2],
    /// Air leaving in the second stage by air entering in the first.
    pub second_by_first: Small,
    /// Air leaving in the first stage by air entering in the second; only of a first-order step.
    pub first_by_second: Small,
}

/// What a stage ends with, and the slopes there.
#[derive(Clone, Copy, Debug)]
struct Ended {
    cell: Cell,
    out: AirState,
    /// Slopes of heat along loading and temperature.
    heat_by: [f64; 2],
    /// Slopes of the equilibrium humidity along loading and temperature.
    humid_by: [f64; 2],
}

/// Equilibrium humidity ratio and its slope along `ln p`.
#[inline]
fn humid(ln_pressure: f64, ln_total: f64) -> (f64, f64) {
    // ln 0.8, kg/kg and kg/kg per unit of ln p there.
    const EDGE: f64 = -0.223_143_551_314_209_76;
    const VALUE: f64 = MASS_RATIO * BOILING / (1.0 - BOILING);
    const SLOPE: f64 = MASS_RATIO * BOILING / ((1.0 - BOILING) * (1.0 - BOILING));
    let share_ln = ln_pressure - ln_total;
    if share_ln > EDGE {
        return (VALUE + SLOPE * (share_ln - EDGE), SLOPE);
    }
    let share = libm::exp(share_ln);
    let dry = 1.0 / (1.0 - share);
    let value = MASS_RATIO * share * dry;
    (value, value * dry)
}

impl Slice {
    /// A slice in a state, its heat counted.
    pub fn cell(&self, sorbent: &Adsorbed, loading: f64, temperature: f64) -> Cell {
        let held = sorbent.at(loading, temperature);
        Cell {
            loading,
            temperature,
            heat: self.heat(&held, loading, temperature),
        }
    }

    /// A slice at rest with air of a temperature (K) and vapour pressure (Pa).
    pub fn at_rest(&self, sorbent: &Adsorbed, temperature: f64, vapour: f64) -> Cell {
        self.cell(sorbent, sorbent.loading(vapour, temperature), temperature)
    }

    /// Water in the slice, kg/m2.
    pub fn water(&self, cell: &Cell) -> f64 {
        self.active * cell.loading
    }

    #[inline]
    fn heat(&self, held: &Held, loading: f64, temperature: f64) -> f64 {
        let t = temperature - ZERO_CELSIUS;
        self.dry_heat * t
            + self.active * (loading * (EVAPORATION + VAPOUR_HEAT * t) - held.released)
    }

    /// Temperature of a slice from its loading and heat, K, near a first guess.
    pub fn temperature(&self, sorbent: &Adsorbed, loading: f64, heat: f64, near: f64) -> f64 {
        let mut t = near;
        for _ in 0..ROUNDS {
            let held = sorbent.at(loading, t);
            let by_t = self.dry_heat
                + self.active * (loading * VAPOUR_HEAT - held.released_by_temperature);
            let step = (heat - self.heat(&held, loading, t)) / by_t;
            t += step;
            if step.abs() < 1e-10 {
                break;
            }
        }
        t
    }

    /// Meets air for `duration` s; `air` holds the state of both stages and is replaced by what leaves.
    #[inline]
    pub fn meet(
        &self,
        sorbent: &Adsorbed,
        contact: &Contact,
        cell: &mut Cell,
        air: &mut [AirState; 2],
        duration: f64,
    ) {
        let entering = *air;
        let dose = STAGE * contact.flow * duration;
        let one = self.stage(sorbent, contact, cell, cell, &entering[0], dose);
        let start = beyond(cell, &one.cell);
        if start.loading < LEAST_START * cell.loading.min(one.cell.loading) {
            let full = contact.flow * duration;
            let only = self.stage(sorbent, contact, cell, cell, &mean(&entering), full);
            *cell = only.cell;
            *air = [only.out; 2];
            return;
        }
        let two = self.stage(sorbent, contact, &start, &one.cell, &entering[1], dose);
        *cell = two.cell;
        *air = [one.out, two.out];
    }

    /// As [`Slice::meet`], with the slopes of what leaves along what enters.
    pub fn meet_with_tangent(
        &self,
        sorbent: &Adsorbed,
        contact: &Contact,
        cell: &mut Cell,
        air: &mut [AirState; 2],
        duration: f64,
    ) -> Tangent {
        let entering = *air;
        let dose = STAGE * contact.flow * duration;
        let one = self.stage(sorbent, contact, cell, cell, &entering[0], dose);
        let start = beyond(cell, &one.cell);
        if start.loading < LEAST_START * cell.loading.min(one.cell.loading) {
            let full = contact.flow * duration;
            let meets = mean(&entering);
            let only = self.stage(sorbent, contact, cell, cell, &meets, full);
            *cell = only.cell;
            *air = [only.out; 2];
            let [a, d, c, f] = self.slopes(contact, &only, &meets, full);
            return Tangent {
                slice_by_slice: a,
                slice_by_air: [scaled(&d, 1.0 - STAGE), scaled(&d, STAGE)],
                air_by_slice: [c; 2],
                air_by_air: [scaled(&f, 1.0 - STAGE), scaled(&f, STAGE)],
                second_by_first: scaled(&f, 1.0 - STAGE),
                first_by_second: scaled(&f, STAGE),
            };
        }
        let two = self.stage(sorbent, contact, &start, &one.cell, &entering[1], dose);
        *cell = two.cell;
        *air = [one.out, two.out];
        let [a1, d1, c1, f1] = self.slopes(contact, &one, &entering[0], dose);
        let [a2, d2, c2, f2] = self.slopes(contact, &two, &entering[1], dose);
        let mut start_by_slice = scaled(&a1, BEYOND);
        start_by_slice[0] += 1.0 - BEYOND;
        start_by_slice[3] += 1.0 - BEYOND;
        Tangent {
            slice_by_slice: product(&a2, &start_by_slice),
            slice_by_air: [scaled(&product(&a2, &d1), BEYOND), d2],
            air_by_slice: [c1, product(&c2, &start_by_slice)],
            air_by_air: [f1, f2],
            second_by_first: scaled(&product(&c2, &d1), BEYOND),
            first_by_second: [0.0; 4],
        }
    }

    /// One implicit stage from `start`, in which `dose` kg of dry air pass a square metre.
    #[inline]
    fn stage(
        &self,
        sorbent: &Adsorbed,
        contact: &Contact,
        start: &Cell,
        guess: &Cell,
        entering: &AirState,
        dose: f64,
    ) -> Ended {
        let (mut q, mut t) = (guess.loading, guess.temperature);
        let (taken, warmed) = (1.0 - contact.humidity_left, 1.0 - contact.warmth_left);
        let inlet_heat = entering.enthalpy();
        let mut round = 0;
        loop {
            round += 1;
            let held = sorbent.at(q, t);
            let (wet, by_ln) = humid(held.ln_pressure, contact.ln_total);
            let humid_by = [by_ln * held.by_loading, by_ln * held.by_temperature];
            let celsius = t - ZERO_CELSIUS;
            let heat = self.heat(&held, q, t);
            let heat_by = [
                self.active * (EVAPORATION + VAPOUR_HEAT * celsius - held.isosteric_heat),
                self.dry_heat + self.active * (q * VAPOUR_HEAT - held.released_by_temperature),
            ];
            let out = AirState {
                temperature: t + (entering.temperature - t) * contact.warmth_left,
                humidity: wet + (entering.humidity - wet) * contact.humidity_left,
            };
            let vapour = EVAPORATION + VAPOUR_HEAT * (out.temperature - ZERO_CELSIUS);
            let capacity = DRY_AIR_HEAT + VAPOUR_HEAT * out.humidity;
            // Residuals of water and heat, and their slopes along loading and temperature.
            let water_off =
                self.active * (q - start.loading) - dose * taken * (entering.humidity - wet);
            let heat_off = heat - start.heat - dose * (inlet_heat - out.enthalpy());
            let a = self.active + dose * taken * humid_by[0];
            let b = dose * taken * humid_by[1];
            let c = heat_by[0] + dose * vapour * taken * humid_by[0];
            let d = heat_by[1] + dose * (capacity * warmed + vapour * taken * humid_by[1]);
            let scale = 1.0 / (a * d - b * c);
            let mut dq = -(d * water_off - b * heat_off) * scale;
            let mut dt = -(a * heat_off - c * water_off) * scale;
            // Near saturation a share of the loading moves the pressure by far more: it is what counts.
            let wetter = humid_by[0] * dq + humid_by[1] * dt;
            let close = wetter.abs() <= CLOSE * wet && dt.abs() <= CLOSE * t;
            if close || round >= ROUNDS {
                // The last correction, with the water counted by what the air leaves behind.
                let out = AirState {
                    temperature: out.temperature + warmed * dt,
                    humidity: out.humidity + taken * (humid_by[0] * dq + humid_by[1] * dt),
                };
                let cell = Cell {
                    loading: start.loading
                        + dose * (entering.humidity - out.humidity) / self.active,
                    temperature: t + dt,
                    heat: start.heat + dose * (inlet_heat - out.enthalpy()),
                };
                return Ended {
                    cell,
                    out,
                    heat_by,
                    humid_by,
                };
            }
            // Long corrections are cut: at most to a third or threefold of the loading, 60 K.
            if dq < -0.67 * q {
                dq = -0.67 * q;
            } else if dq > 2.0 * q {
                dq = 2.0 * q;
            }
            dt = dt.clamp(-60.0, 60.0);
            q += dq;
            t += dt;
        }
    }

    /// Slopes of a stage: slice by start, slice by air, air by start, air by air.
    fn slopes(&self, contact: &Contact, at: &Ended, entering: &AirState, dose: f64) -> [Small; 4] {
        let (taken, warmed) = (1.0 - contact.humidity_left, 1.0 - contact.warmth_left);
        let vapour_out = EVAPORATION + VAPOUR_HEAT * (at.out.temperature - ZERO_CELSIUS);
        let vapour_in = EVAPORATION + VAPOUR_HEAT * (entering.temperature - ZERO_CELSIUS);
        let capacity_out = DRY_AIR_HEAT + VAPOUR_HEAT * at.out.humidity;
        let capacity_in = DRY_AIR_HEAT + VAPOUR_HEAT * entering.humidity;
        let [wet_q, wet_t] = at.humid_by;
        let a = self.active + dose * taken * wet_q;
        let b = dose * taken * wet_t;
        let c = at.heat_by[0] + dose * vapour_out * taken * wet_q;
        let d = at.heat_by[1] + dose * (capacity_out * warmed + vapour_out * taken * wet_t);
        let scale = 1.0 / (a * d - b * c);
        let inverse = [d * scale, -b * scale, -c * scale, a * scale];
        // (loading, temperature) by start (loading, heat) and by air (temperature, humidity).
        let by_start = product(&inverse, &[self.active, 0.0, 0.0, 1.0]);
        let by_air = product(
            &inverse,
            &[
                0.0,
                dose * taken,
                dose * (capacity_in - capacity_out * contact.warmth_left),
                dose * (vapour_in - vapour_out * contact.humidity_left),
            ],
        );
        let to_slice = [1.0, 0.0, at.heat_by[0], at.heat_by[1]];
        let to_air = [0.0, warmed, taken * wet_q, taken * wet_t];
        let mut air_by_air = product(&to_air, &by_air);
        air_by_air[0] += contact.warmth_left;
        air_by_air[3] += contact.humidity_left;
        [
            product(&to_slice, &by_start),
            product(&to_slice, &by_air),
            product(&to_air, &by_start),
            air_by_air,
        ]
    }
}

/// Where the second stage starts.
#[inline]
fn beyond(from: &Cell, one: &Cell) -> Cell {
    Cell {
        loading: from.loading + BEYOND * (one.loading - from.loading),
        heat: from.heat + BEYOND * (one.heat - from.heat),
        temperature: one.temperature,
    }
}

/// The mean of both stages, as what passed is weighed.
#[inline]
pub fn mean(air: &[AirState; 2]) -> AirState {
    let humidity = (1.0 - STAGE) * air[0].humidity + STAGE * air[1].humidity;
    let heat = (1.0 - STAGE) * air[0].enthalpy() + STAGE * air[1].enthalpy();
    AirState {
        temperature: air::caloric::temperature(heat, humidity),
        humidity,
    }
}

#[inline]
fn product(a: &Small, b: &Small) -> Small {
    [
        a[0] * b[0] + a[1] * b[2],
        a[0] * b[1] + a[1] * b[3],
        a[2] * b[0] + a[3] * b[2],
        a[2] * b[1] + a[3] * b[3],
    ]
}

#[inline]
fn scaled(a: &Small, by: f64) -> Small {
    a.map(|entry| entry * by)
}
