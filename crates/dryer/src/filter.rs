//! Filter: what it costs in pressure, clean, loaded and blocked, and when to clean it.
//!
//! # Equations
//! 1. Clean medium and housing at face velocity `v = V/(A (1 - b))`:
//!    `drop = drop_0 (s (mu/mu_0)(v/v_0) + (1 - s)(rho/rho_0)(v/v_0)^2)`.
//! 2. Dust cake: `drop_c = alpha mu W v` (Darcy), so that at a given flow the drop rises straight with
//!    the load; this is the filter drag model, `S = S_e + K2 W`.
//! 3. Load: `dW/dt = eta c V/(A (1 - b))`; what is not kept, `(1 - eta) c V`, goes on to the desiccant.
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! W | `FilterState::load` | kg/m2
//! b | `FilterState::blocked` |
//! alpha | `cake_resistance` | m/kg
//! eta | `retention` |
//! c | dust in the air | kg/m3
//! drop_0, v_0, s | `clean_drop`, `rated_velocity`, `laminar_share` | Pa, m/s
//!
//! # Holds for
//! A cake on a surface that neither compresses nor falls off; a depth filter clogs faster near its
//! end. Rated with air at 20 degC and 1 atm. No dust load of resin dryers was found in any source: it is
//! the user's, or follows from the time between two cleanings.
//!
//! # Sources
//! The filter drag model: Turner, McKenna, Mycock, Nunn and Vatavuk (1998), Baghouses and filters, in
//! EPA Air Pollution Control Cost Manual, EPA/452/B-02-001, section 6 (the equation from memory).
//!
//! # Checked by
//! Closed forms below; no measured record of a dryer's filter was found.

use crate::asked::Asked;
use crate::resistance::Resistance;
use crate::{DryerError, Stream};
use figure::{Axis, Figure, Panel, Point, Series};
use quantity::{
    Area, Faults, Fraction, Ledger, PressureDifference, Quantity, Range, Velocity, digits,
};

/// Face of a filter.
pub const FACE_HOLDS: Range = Range::new("filter area", 1e-3, 1000.0, "m2");
/// Face velocity at which it is rated.
pub const FACE_VELOCITY_HOLDS: Range = Range::new("face velocity", 1e-3, 10.0, "m/s");
/// Pressure drops of a filter.
pub const FILTER_DROP_HOLDS: Range = Range::new("pressure drop of the filter", 1.0, 2e4, "Pa");
/// Specific resistance of a dust cake: coarse fines to fume.
pub const CAKE_HOLDS: Range = Range::new("cake resistance", 1e6, 1e14, "m/kg");
/// Dust in the air that comes.
pub const DUST_HOLDS: Range = Range::new("dust in the air", 0.0, 0.1, "kg/m3");
/// Density and viscosity of air at 20 degC and 1 atm, from memory of tables.
const RATED: (f64, f64) = (1.204, 1.82e-5);

/// A filter as it is ordered.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FilterSpec {
    /// Area of the medium.
    pub area: Area,
    /// Face velocity at which the clean drop was measured.
    pub rated_velocity: Velocity,
    /// Drop of the clean filter there.
    pub clean_drop: PressureDifference,
    /// Share of it that goes with viscosity: near 1 for the medium alone, less with its housing.
    pub laminar_share: Fraction,
    /// Specific resistance of the dust cake, m/kg.
    pub cake_resistance: f64,
    /// Share of the dust that is kept.
    pub retention: Fraction,
    /// Drop at which it is to be cleaned.
    pub limit: PressureDifference,
    /// Share of the load that cleaning leaves.
    pub left_by_cleaning: Fraction,
}

/// A checked filter, in SI.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Filter {
    area: f64,
    rated_velocity: f64,
    clean_drop: f64,
    laminar_share: f64,
    cake_resistance: f64,
    retention: f64,
    limit: f64,
    left_by_cleaning: f64,
}

/// What a filter remembers.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct FilterState {
    /// Dust on the open medium, kg/m2.
    pub load: f64,
    /// Share of the medium through which nothing passes: wet, folded, covered.
    pub blocked: f64,
}

/// The dust of some time, kg.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dust {
    /// Came with the air.
    pub came: f64,
    /// Kept.
    pub kept: f64,
    /// Went on to what stands behind.
    pub passed: f64,
}

impl FilterSpec {
    /// The filter, or every mistake in it.
    ///
    /// # Errors
    /// A number outside its range, or a limit under the drop of the clean filter.
    pub fn check(&self) -> Result<Filter, Faults> {
        let mut asked = Asked::new();
        let share = |name| Range::new(name, 0.0, 1.0, "");
        let filter = Filter {
            area: asked.number("area", self.area.si(), &FACE_HOLDS),
            rated_velocity: asked.number(
                "rated_velocity",
                self.rated_velocity.si(),
                &FACE_VELOCITY_HOLDS,
            ),
            clean_drop: asked.number("clean_drop", self.clean_drop.si(), &FILTER_DROP_HOLDS),
            laminar_share: asked.number(
                "laminar_share",
                self.laminar_share.si(),
                &share("share that goes with viscosity"),
            ),
            cake_resistance: asked.number("cake_resistance", self.cake_resistance, &CAKE_HOLDS),
            retention: asked.number(
                "retention",
                self.retention.si(),
                &share("share of the dust kept"),
            ),
            limit: asked.number("limit", self.limit.si(), &FILTER_DROP_HOLDS),
            left_by_cleaning: asked.number(
                "left_by_cleaning",
                self.left_by_cleaning.si(),
                &share("share left by cleaning"),
            ),
        };
        if filter.limit <= filter.clean_drop {
            asked.contradiction(
                "limit",
                filter.limit,
                "the filter is to be cleaned at a drop that it has when clean",
                "give a limit above clean_drop",
            );
        }
        asked.give(Some(filter))
    }
}

impl FilterState {
    fn checked(self) -> Result<Self, DryerError> {
        DryerError::unless_between("load of the filter", self.load, "kg/m2", (0.0, 1e3))?;
        DryerError::unless_between("blocked share", self.blocked, "", (0.0, 0.999))?;
        Ok(self)
    }
}

impl Filter {
    /// What it costs in pressure.
    ///
    /// # Errors
    /// [`DryerError::Impossible`] for a state that none is.
    pub fn resistance(&self, state: &FilterState) -> Result<Resistance, DryerError> {
        let state = state.checked()?;
        let (density, viscosity) = RATED;
        let open = self.area * (1.0 - state.blocked);
        let clean = Resistance::of_rating(
            self.clean_drop,
            self.rated_velocity * open,
            density,
            viscosity,
            self.laminar_share,
        );
        Ok(Resistance {
            laminar: clean.laminar + self.cake_resistance * state.load / open,
            ..clean
        })
    }

    /// Pressure drop, Pa, for a stream at a pressure (Pa).
    ///
    /// # Errors
    /// [`DryerError::Impossible`] for air or a state it cannot have.
    pub fn drop(
        &self,
        state: &FilterState,
        air: &Stream,
        pressure: f64,
    ) -> Result<f64, DryerError> {
        let air = air.checked_at(pressure)?;
        let resistance = self.resistance(state)?;
        Ok(resistance.drop(
            air.volume_flow(pressure),
            air.density(pressure),
            air.viscosity(pressure),
        ))
    }

    /// Loads the filter for `time` seconds with a volume flow (m3/s) that carries `dust` kg/m3.
    ///
    /// # Errors
    /// [`DryerError::Impossible`] for dust outside [`DUST_HOLDS`], a flow or a time below zero.
    pub fn load(
        &self,
        state: &FilterState,
        volume_flow: f64,
        dust: f64,
        time: f64,
    ) -> Result<(FilterState, Dust), DryerError> {
        let state = state.checked()?;
        DryerError::unless_within(&DUST_HOLDS, dust)?;
        DryerError::unless_between("volume flow", volume_flow, "m3/s", (0.0, 1e3))?;
        DryerError::unless_between("time", time, "s", (0.0, 1e9))?;
        let came = dust * volume_flow * time;
        let kept = self.retention * came;
        let load = state.load + kept / (self.area * (1.0 - state.blocked));
        let after = FilterState { load, ..state };
        Ok((
            after,
            Dust {
                came,
                kept,
                passed: came - kept,
            },
        ))
    }

    /// Dust on the whole medium, kg.
    pub fn held(&self, state: &FilterState) -> f64 {
        state.load * self.area * (1.0 - state.blocked)
    }

    /// The state after cleaning: what sits in the medium stays, nothing is blocked.
    #[must_use]
    pub fn cleaned(&self, state: &FilterState) -> FilterState {
        FilterState {
            load: state.load * (1.0 - state.blocked) * self.left_by_cleaning,
            blocked: 0.0,
        }
    }

    /// Time, s, until the limit is met at a constant flow of this air that carries `dust` kg/m3: zero when
    /// it is met already, nothing when no dust comes.
    ///
    /// # Errors
    /// [`DryerError::Impossible`] for air, dust or a state it cannot have.
    pub fn time_to_clean(
        &self,
        state: &FilterState,
        air: &Stream,
        pressure: f64,
        dust: f64,
    ) -> Result<Option<f64>, DryerError> {
        DryerError::unless_within(&DUST_HOLDS, dust)?;
        let room = self.limit - self.drop(state, air, pressure)?;
        if room <= 0.0 {
            return Ok(Some(0.0));
        }
        let open = self.area * (1.0 - state.blocked);
        let velocity = air.volume_flow(pressure) / open;
        let rise = self.cake_resistance
            * air.viscosity(pressure)
            * velocity
            * velocity
            * self.retention
            * dust;
        Ok((rise > 0.0).then(|| room / rise))
    }

    /// The drop over time at a constant flow, up to the limit.
    ///
    /// # Errors
    /// As [`Filter::time_to_clean`]; `None` when no dust comes.
    pub fn figure(
        &self,
        state: &FilterState,
        air: &Stream,
        pressure: f64,
        dust: f64,
    ) -> Result<Option<Figure>, DryerError> {
        let Some(time) = self.time_to_clean(state, air, pressure, dust)? else {
            return Ok(None);
        };
        let flow = air.volume_flow(pressure);
        let end = 1.2 * time.max(3600.0);
        let mut points = Vec::new();
        for step in 0..=12 {
            let at = end * f64::from(step) / 12.0;
            let (after, _) = self.load(state, flow, dust, at)?;
            let drop = self.drop(&after, air, pressure)?;
            points.push(Point::new(at / 3600.0, drop / 1e3));
        }
        let limit = self.limit / 1e3;
        Ok(Some(Figure::stacked(
            format!("Clean the filter every {} h", digits(time / 3600.0, 2)),
            Axis::linear("time at this flow", "h"),
            vec![Panel::new(
                Axis::linear("pressure drop", "kPa"),
                vec![
                    Series::line("filter", points),
                    Series::limit(format!("to be cleaned: {} kPa", digits(limit, 3)), limit),
                ],
            )],
        )))
    }
}

impl Dust {
    /// Dust in and out, kg.
    pub fn ledger(&self) -> Ledger {
        Ledger::new("dust", "kg")
            .enter("air", self.came)
            .leave("air", self.passed)
            .stay("filter", self.kept)
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
mod tests {
    use super::*;
    use crate::asked::trials::at_the_ends;

    const ATMOSPHERE: f64 = 101_325.0;
    const AIR: Stream = Stream {
        dry_air: 0.06,
        temperature: 293.15,
        humidity: 0.0,
    };

    fn spec() -> FilterSpec {
        FilterSpec {
            area: Area::from_si(0.5),
            rated_velocity: Velocity::from_si(0.1),
            clean_drop: PressureDifference::from_si(200.0),
            laminar_share: Fraction::from_si(0.8),
            cake_resistance: 1e10,
            retention: Fraction::from_si(0.99),
            limit: PressureDifference::from_si(1500.0),
            left_by_cleaning: Fraction::from_si(0.2),
        }
    }

    #[test]
    fn exact_clean_drop_at_the_rating_and_cake_by_darcy() {
        let filter = spec().check().unwrap();
        let clean = filter.resistance(&FilterState::default()).unwrap();
        assert!((clean.drop(0.05, RATED.0, RATED.1) - 200.0).abs() < 1e-9);
        let loaded = FilterState {
            load: 0.05,
            blocked: 0.0,
        };
        let cake = filter
            .resistance(&loaded)
            .unwrap()
            .drop(0.05, RATED.0, RATED.1)
            - 200.0;
        assert!((cake - 1e10 * RATED.1 * 0.05 * 0.1).abs() < 1e-9);
    }

    #[test]
    fn exact_half_blocked_is_twice_the_velocity() {
        let filter = spec().check().unwrap();
        let blocked = FilterState {
            load: 0.0,
            blocked: 0.5,
        };
        let drop = filter
            .resistance(&blocked)
            .unwrap()
            .drop(0.05, RATED.0, RATED.1);
        assert!((drop - 200.0 * (0.8 * 2.0 + 0.2 * 4.0)).abs() < 1e-9);
    }

    #[test]
    fn exact_the_limit_is_met_when_said() {
        let filter = spec().check().unwrap();
        let state = FilterState {
            load: 0.01,
            blocked: 0.1,
        };
        let dust = 1e-6;
        let time = filter
            .time_to_clean(&state, &AIR, ATMOSPHERE, dust)
            .unwrap()
            .unwrap();
        let flow = AIR.volume_flow(ATMOSPHERE);
        let (after, moved) = filter.load(&state, flow, dust, time).unwrap();
        let drop = filter.drop(&after, &AIR, ATMOSPHERE).unwrap();
        assert!((drop - 1500.0).abs() < 1e-8);
        assert!(moved.ledger().imbalance() < 1e-12);
        let grown = filter.held(&after) - filter.held(&state);
        assert!((grown / moved.kept - 1.0).abs() < 1e-12);
        let again = filter.time_to_clean(&after, &AIR, ATMOSPHERE, dust);
        assert!(again.unwrap().unwrap() < 1e-6);
        let never = filter.time_to_clean(&state, &AIR, ATMOSPHERE, 0.0);
        assert_eq!(never.unwrap(), None);
        let cleaned = filter.cleaned(&after);
        assert!((filter.held(&cleaned) / filter.held(&after) - 0.2).abs() < 1e-12);
    }

    #[test]
    fn holds_a_figure_that_can_be_drawn() {
        let filter = spec().check().unwrap();
        let at = FilterState::default();
        let figure = filter.figure(&at, &AIR, ATMOSPHERE, 1e-6).unwrap().unwrap();
        assert!(figure.check().is_ok());
        assert!(filter.figure(&at, &AIR, ATMOSPHERE, 0.0).unwrap().is_none());
    }

    #[test]
    fn holds_ranges_at_their_ends_and_every_mistake_told() {
        let with = |change: &dyn Fn(&mut FilterSpec)| {
            let mut spec = spec();
            change(&mut spec);
            spec.check().is_ok()
        };
        at_the_ends(&FACE_HOLDS, |x| with(&|spec| spec.area = Area::from_si(x)));
        at_the_ends(&FACE_VELOCITY_HOLDS, |x| {
            with(&|spec| spec.rated_velocity = Velocity::from_si(x))
        });
        at_the_ends(&FILTER_DROP_HOLDS, |x| {
            // A clean drop near the low end, a limit near the high one.
            with(&|spec| {
                if x < 100.0 {
                    spec.clean_drop = PressureDifference::from_si(x);
                } else {
                    spec.limit = PressureDifference::from_si(x);
                }
            })
        });
        at_the_ends(&CAKE_HOLDS, |x| with(&|spec| spec.cake_resistance = x));
        let filter = spec().check().unwrap();
        at_the_ends(&DUST_HOLDS, |x| {
            filter.load(&FilterState::default(), 0.05, x, 60.0).is_ok()
        });
        let wrong = FilterSpec {
            limit: PressureDifference::from_si(100.0),
            retention: Fraction::from_si(1.1),
            area: Area::from_si(f64::NAN),
            ..spec()
        };
        assert_eq!(wrong.check().unwrap_err().len(), 3);
        let state = FilterState {
            load: f64::NAN,
            blocked: 0.0,
        };
        assert!(filter.drop(&state, &AIR, ATMOSPHERE).is_err());
    }
}
