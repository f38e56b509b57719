//! Volatile trap: what a charge of sorbent takes out of the return air, what it costs, how long it lasts.
//!
//! # Equations
//! Of the volatiles that come, `V` kg/s, the share `eta` is taken up while the charge is fresh; u is what it
//! holds over what it can hold, `u = held/(capacity mass)`. Two laws bound what is not known between:
//! 1. sharp front: `eta` until u = 1, then nothing;
//! 2. fading: `eta (1 - u)`, so that `1 - u = exp(-eta V t/(capacity mass))`.
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! eta | `removal` |
//! u | `TrapState::held` over capacity |
//!
//! # Holds for
//! One sum of volatiles, at the temperature at which capacity and removal are stated. **There are no
//! kinetics here**: no isotherm or uptake rate of the oligomers, monomers and plasticisers that resins
//! give off was found, nor how much they give off; both laws, and the life that lies between them, are only
//! as good as the capacity and the rate that the user brings. A hot trap takes little; water that it
//! takes and gives is left out; a full one may give back what it holds, which neither law does.
//!
//! # Sources
//! None read; the two laws are the limits of a bed with and without mixing.
//!
//! # Checked by
//! Closed forms below.

use crate::DryerError;
use crate::asked::Asked;
use crate::resistance::Resistance;
use quantity::{
    ActualVolumeFlow, Faults, Fraction, Ledger, Mass, PressureDifference, Quantity, Range,
};

/// Mass of a charge.
pub const CHARGE_HOLDS: Range = Range::new("mass of sorbent", 1e-3, 1e4, "kg");
/// What it can hold.
pub const TRAP_CAPACITY_HOLDS: Range = Range::new("capacity of the sorbent", 1e-4, 1.0, "kg/kg");
/// Share taken out while fresh.
pub const REMOVAL_HOLDS: Range = Range::new("share taken out", 0.01, 1.0, "");
/// Pressure drop of a trap.
pub const TRAP_DROP_HOLDS: Range = Range::new("pressure drop of the trap", 0.0, 2e4, "Pa");
/// Volatiles that come with the air.
pub const VOLATILES_HOLDS: Range = Range::new("volatiles in the air", 0.0, 1e-2, "kg/s");
/// Density and viscosity of air at 20 degC and 1 atm, from memory of tables.
const RATED: (f64, f64) = (1.204, 1.82e-5);

/// How a charge gives out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GivingOut {
    /// Good until full.
    Sharp,
    /// Worse the fuller.
    Fading,
}

/// A trap as it is ordered.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TrapSpec {
    /// Sorbent in it.
    pub sorbent: Mass,
    /// What it can hold of these volatiles at its temperature, kg per kg of sorbent.
    pub capacity: Fraction,
    /// Share of the volatiles it takes out while fresh.
    pub removal: Fraction,
    /// How it gives out.
    pub giving_out: GivingOut,
    /// Pressure drop, with air at 20 degC, of
    pub drop: PressureDifference,
    /// this flow.
    pub rated_flow: ActualVolumeFlow,
    /// Share of the drop that goes with viscosity.
    pub laminar_share: Fraction,
}

/// A checked trap.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Trap {
    capacity: f64,
    removal: f64,
    giving_out: GivingOut,
    resistance: Resistance,
}

/// What a trap remembers.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct TrapState {
    /// Volatiles held, kg.
    pub held: f64,
}

/// The volatiles of some time, kg.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Volatiles {
    /// Came with the air.
    pub came: f64,
    /// Taken up.
    pub taken: f64,
    /// Went on, to the desiccant.
    pub passed: f64,
}

impl TrapSpec {
    /// The trap, or every mistake in it.
    ///
    /// # Errors
    /// A number outside its range.
    pub fn check(&self) -> Result<Trap, Faults> {
        let mut asked = Asked::new();
        let flows = Range::new("rated flow", 1e-4, 50.0, "m3/s");
        let shares = Range::new("share that goes with viscosity", 0.0, 1.0, "");
        let mass = asked.number("sorbent", self.sorbent.si(), &CHARGE_HOLDS);
        let trap = Trap {
            capacity: mass * asked.number("capacity", self.capacity.si(), &TRAP_CAPACITY_HOLDS),
            removal: asked.number("removal", self.removal.si(), &REMOVAL_HOLDS),
            giving_out: self.giving_out,
            resistance: Resistance::of_rating(
                asked.number("drop", self.drop.si(), &TRAP_DROP_HOLDS),
                asked.number("rated_flow", self.rated_flow.si(), &flows),
                RATED.0,
                RATED.1,
                asked.number("laminar_share", self.laminar_share.si(), &shares),
            ),
        };
        asked.give(Some(trap))
    }
}

impl Trap {
    /// What it costs in pressure.
    pub fn resistance(&self) -> Resistance {
        self.resistance
    }

    /// Share of the volatiles taken out now.
    ///
    /// # Errors
    /// [`DryerError::Impossible`] for a state that holds less than nothing or more than it can.
    pub fn removal(&self, state: &TrapState) -> Result<f64, DryerError> {
        let used = self.used(*state)?;
        Ok(match self.giving_out {
            GivingOut::Sharp if used < 1.0 => self.removal,
            GivingOut::Sharp => 0.0,
            GivingOut::Fading => self.removal * (1.0 - used),
        })
    }

    /// Takes up for `time` seconds from `volatiles` kg/s.
    ///
    /// # Errors
    /// [`DryerError::Impossible`] for volatiles outside [`VOLATILES_HOLDS`], a time below zero, or a state
    /// that none is.
    pub fn take(
        &self,
        state: &TrapState,
        volatiles: f64,
        time: f64,
    ) -> Result<(TrapState, Volatiles), DryerError> {
        let used = self.used(*state)?;
        DryerError::unless_within(&VOLATILES_HOLDS, volatiles)?;
        DryerError::unless_between("time", time, "s", (0.0, 1e10))?;
        let came = volatiles * time;
        let room = self.capacity * (1.0 - used);
        let taken = match self.giving_out {
            GivingOut::Sharp => (self.removal * came).min(room),
            GivingOut::Fading => -room * libm::expm1(-self.removal * came / self.capacity),
        };
        let after = TrapState {
            held: (state.held + taken).min(self.capacity),
        };
        Ok((
            after,
            Volatiles {
                came,
                taken,
                passed: came - taken,
            },
        ))
    }

    /// Time, s, until the removal of a fresh charge has fallen to the share `floor` of what it was, by
    /// both laws, shorter first; nothing when no volatiles come.
    ///
    /// # Errors
    /// [`DryerError::Impossible`] for volatiles outside [`VOLATILES_HOLDS`] or a floor outside 0.01 to 0.99.
    pub fn life(&self, volatiles: f64, floor: f64) -> Result<Option<(f64, f64)>, DryerError> {
        DryerError::unless_within(&VOLATILES_HOLDS, volatiles)?;
        DryerError::unless_between("share of the fresh removal", floor, "", (0.01, 0.99))?;
        if volatiles <= 0.0 {
            return Ok(None);
        }
        let sharp = self.capacity / (self.removal * volatiles);
        let fading = -libm::log(floor) * sharp;
        Ok(Some((sharp.min(fading), sharp.max(fading))))
    }

    fn used(&self, state: TrapState) -> Result<f64, DryerError> {
        let used = state.held / self.capacity;
        DryerError::unless_between("used share of the trap", used, "", (0.0, 1.0 + 1e-9))?;
        Ok(used.min(1.0))
    }
}

impl Volatiles {
    /// Volatiles in and out, kg.
    pub fn ledger(&self) -> Ledger {
        Ledger::new("volatiles", "kg")
            .enter("air", self.came)
            .leave("air", self.passed)
            .stay("trap", self.taken)
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
mod tests {
    use super::*;
    use crate::asked::trials::at_the_ends;

    fn spec(giving_out: GivingOut) -> TrapSpec {
        TrapSpec {
            sorbent: Mass::from_si(10.0),
            capacity: Fraction::from_si(0.1),
            removal: Fraction::from_si(0.8),
            giving_out,
            drop: PressureDifference::from_si(400.0),
            rated_flow: ActualVolumeFlow::from_si(0.05),
            laminar_share: Fraction::from_si(0.5),
        }
    }

    #[test]
    fn exact_many_small_steps_are_one_long_one() {
        for law in [GivingOut::Sharp, GivingOut::Fading] {
            let trap = spec(law).check().unwrap();
            let (once, moved) = trap.take(&TrapState::default(), 1e-6, 2e6).unwrap();
            assert!(moved.ledger().imbalance() < 1e-12);
            let mut state = TrapState::default();
            for _ in 0..1000 {
                state = trap.take(&state, 1e-6, 2000.0).unwrap().0;
            }
            assert!((state.held / once.held - 1.0).abs() < 1e-9);
        }
    }

    #[test]
    fn exact_life_is_where_the_removal_has_fallen() {
        let trap = spec(GivingOut::Fading).check().unwrap();
        let (short, long) = trap.life(1e-6, 0.5).unwrap().unwrap();
        assert!((long - 1.25e6).abs() < 1e-3);
        let (after, _) = trap.take(&TrapState::default(), 1e-6, short).unwrap();
        assert!((trap.removal(&after).unwrap() - 0.4).abs() < 1e-12);
        let sharp = spec(GivingOut::Sharp).check().unwrap();
        let (after, _) = sharp
            .take(&TrapState::default(), 1e-6, long * 1.000_001)
            .unwrap();
        assert!(sharp.removal(&after).unwrap().abs() < 1e-12);
        assert_eq!(trap.life(0.0, 0.5).unwrap(), None);
        assert!((trap.resistance().drop(0.05, RATED.0, RATED.1) - 400.0).abs() < 1e-9);
    }

    #[test]
    fn holds_ranges_at_their_ends_and_every_mistake_told() {
        let with = |change: &dyn Fn(&mut TrapSpec)| {
            let mut spec = spec(GivingOut::Sharp);
            change(&mut spec);
            spec.check().is_ok()
        };
        at_the_ends(&CHARGE_HOLDS, |x| {
            with(&|spec| spec.sorbent = Mass::from_si(x))
        });
        at_the_ends(&TRAP_CAPACITY_HOLDS, |x| {
            with(&|spec| spec.capacity = Fraction::from_si(x))
        });
        at_the_ends(&REMOVAL_HOLDS, |x| {
            with(&|spec| spec.removal = Fraction::from_si(x))
        });
        at_the_ends(&TRAP_DROP_HOLDS, |x| {
            with(&|spec| spec.drop = PressureDifference::from_si(x))
        });
        let trap = spec(GivingOut::Fading).check().unwrap();
        at_the_ends(&VOLATILES_HOLDS, |x| {
            trap.take(&TrapState::default(), x, 1.0).is_ok()
        });
        assert!(trap.take(&TrapState { held: f64::NAN }, 1e-6, 1.0).is_err());
        assert!(trap.take(&TrapState { held: 1.1 }, 1e-6, 1.0).is_err());
        let wrong = TrapSpec {
            sorbent: Mass::from_si(0.0),
            removal: Fraction::from_si(f64::NAN),
            ..spec(GivingOut::Sharp)
        };
        assert_eq!(wrong.check().unwrap_err().len(), 2);
    }
}
