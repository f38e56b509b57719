//! Drying with compressed air let down: how dry it arrives, how much is drawn, what that costs.
//!
//! # Equations
//! 1. Expansion keeps the vapour's share of the molecules, so the pressure dew point becomes the lower point of
//!    [`air::expansion`]; enthalpy stays, so the temperature does (a real gas cools by under 2 K from 7 bar).
//! 2. Single pass: all the air is drawn. Recirculating: of the air to the hopper the share `s` is drawn, the
//!    rest comes back, `Y = s Y_line + (1 - s) Y_return`; as much as is drawn is blown off.
//! 3. Drawn from the compressor: `m/(1 - lost)`, lost being the purge of a heatless adsorption dryer or the sweep
//!    of a membrane.
//! 4. Power: volume drawn at the reference state times (specific energy + that of drying).
//! 5. No compressor needs less than the isothermal work `p ln(p_line/p)`, so less is refused.
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! s | `Pass::Recirculating` |
//! lost | `Drying` |
//!
//! # Holds for
//! Line pressures of 0.5 to 10.9 bar(g). Specific energy is what the user's compressor needs: read in trade pages for
//! machines at 7 bar(g) and full load 0.083 to 0.117 kWh/m3 of air drawn in at 1 bar and 20 degC; whole systems
//! with part load and leaks 0.11 to 0.14 (common practice, no source). Heatless purge is some 15 % of the rated
//! flow whatever is drawn, membrane sweep 10 to 25 % (both from memory). Leaks of the network are
//! not counted.
//!
//! # Sources
//! ISO 1217 for the state of the air drawn in (20 degC, 1 bar, dry) and DIN 1343 for the normal state (0 degC,
//! 1.013 25 bar), both from memory.
//!
//! # Checked by
//! `tests/src/peers/line_air.rs`

use crate::asked::Asked;
use crate::blower::isothermal_work;
use crate::condensation_temperature;
use crate::{DryerError, Stream};
use air::{AirError, CondensationPoint, equilibrium, mixture};
use quantity::constants::{STANDARD_ATMOSPHERE, ZERO_CELSIUS};
use quantity::{
    EnergyPerVolume, Faults, Fraction, GaugePressure, Ledger, MassFlow, Quantity, Range,
    Temperature,
};

/// Pressures of the line above the atmosphere.
pub const LINE_HOLDS: Range = Range::new("line pressure", 0.5, 10.9, "bar(g)");
/// Pressure dew or frost points of the line.
pub const LINE_POINT_HOLDS: Range = Range::new("pressure dew point", -70.0, 60.0, "degC");
/// Temperatures of the air in the line.
pub const LINE_TEMPERATURE_HOLDS: Range =
    Range::new("temperature of the line", -10.0, 80.0, "degC");
/// Energy for each volume drawn in.
pub const SPECIFIC_ENERGY_HOLDS: Range = Range::new("energy of compression", 0.012, 1.0, "kWh/m3");
/// Energy for drying each volume.
pub const DRYING_ENERGY_HOLDS: Range = Range::new("energy of drying", 0.0, 0.1, "kWh/m3");
/// Share lost as purge or sweep.
pub const LOST_SHARE_HOLDS: Range = Range::new("share lost as purge or sweep", 0.0, 0.7, "");
/// Share of the hopper's air that is drawn.
pub const MAKE_UP_HOLDS: Range = Range::new("share of fresh air", 0.01, 1.0, "");
/// The most dry air that valve and let-down pass.
pub const MOST_HOLDS: Range = Range::new("rated flow of compressed air", 1e-7, 50.0, "kg/s");
/// The state at which a volume of air is counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reference {
    /// Drawn in at 20 degC and 1 bar, dry (ISO 1217).
    Inlet,
    /// Normal: 0 degC and 1.013 25 bar, dry (DIN 1343).
    Normal,
}

/// How the plant dries its compressed air.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Drying {
    /// By cooling.
    Refrigerated {
        /// Energy of the refrigeration for each volume.
        energy: EnergyPerVolume,
    },
    /// Two towers, one purged with dried air.
    HeatlessAdsorption {
        /// Share of the drawn air that is lost.
        purge: Fraction,
    },
    /// Two towers, regenerated with heat.
    HeatedAdsorption {
        /// Energy of it for each volume.
        energy: EnergyPerVolume,
    },
    /// A membrane swept with dried air.
    Membrane {
        /// Share of the drawn air that is lost.
        sweep: Fraction,
    },
}

/// How often the air passes the hopper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Pass {
    /// Once.
    Single,
    /// Again and again, with a share of fresh air.
    Recirculating {
        /// Share of the hopper's air that is drawn from the line.
        make_up: Fraction,
    },
}

/// A supply of compressed air as it is found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CompressedAirSpec {
    /// Pressure of the line.
    pub line_pressure: GaugePressure,
    /// Its dew or frost point, at that pressure.
    pub pressure_dew_point: CondensationPoint,
    /// Its temperature.
    pub temperature: Temperature,
    /// Energy for each volume that the compressor draws in.
    pub specific_energy: EnergyPerVolume,
    /// State at which that volume is counted.
    pub reference: Reference,
    /// How it is dried.
    pub drying: Drying,
    /// How often it is used.
    pub pass: Pass,
    /// The most dry air that valve and let-down pass to the hopper, where that is known.
    pub most: Option<MassFlow>,
}

/// A checked supply.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CompressedAir {
    gauge: f64,
    point: f64,
    temperature: f64,
    energy: f64,
    reference: Reference,
    lost: f64,
    make_up: f64,
    most: f64,
}

/// Air delivered to the hopper's heater, and what it took.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Delivered {
    /// Air to the heater.
    pub outlet: Stream,
    /// Of it, let down from the line.
    pub fresh: Stream,
    /// Of it, come back from the hopper.
    pub returned: Stream,
    /// Dry air drawn in by the compressor, purge and sweep with it, kg/s.
    pub drawn: f64,
    /// The same as a volume at the reference state, m3/s.
    pub volume: f64,
    /// Power of compressor and drying, W.
    pub power: f64,
    /// Frost point, or dew point above 0.01 degC, at the pressure of the hopper, K.
    pub point: f64,
}

impl Reference {
    /// Density of dry air there, kg/m3.
    pub fn density(self) -> f64 {
        match self {
            Self::Inlet => mixture::density(ZERO_CELSIUS + 20.0, 1e5, 0.0),
            Self::Normal => mixture::density(ZERO_CELSIUS, STANDARD_ATMOSPHERE, 0.0),
        }
    }
}

impl CompressedAirSpec {
    /// The supply, or every mistake in it.
    ///
    /// # Errors
    /// A number outside its range, a point above the temperature of the line, or energy below the least there
    /// can be.
    pub fn check(&self) -> Result<CompressedAir, Faults> {
        let mut asked = Asked::new();
        let bar = asked.number("line_pressure", self.line_pressure.bar(), &LINE_HOLDS);
        let celsius = match self.pressure_dew_point {
            CondensationPoint::Dew(dew) => dew.celsius(),
            CondensationPoint::Frost(frost) => frost.celsius(),
        };
        let point = asked.number("pressure_dew_point", celsius, &LINE_POINT_HOLDS);
        let temperature = asked.number(
            "temperature",
            self.temperature.celsius(),
            &LINE_TEMPERATURE_HOLDS,
        );
        if point > temperature {
            asked.contradiction(
                "pressure_dew_point",
                point,
                "the dew point lies above the temperature of the line: water would run in it",
                "give the point of the air behind the dryer, at the pressure of the line",
            );
        }
        let energy = asked.number(
            "specific_energy",
            self.specific_energy.kwh_per_m3(),
            &SPECIFIC_ENERGY_HOLDS,
        );
        // Each volume at the reference state holds its density in air; work is that of an ideal gas.
        let least = isothermal_work(1e5, 1e5 + bar * 1e5) / Reference::Inlet.density()
            * self.reference.density()
            / 3.6e6;
        if energy < 0.98 * least {
            asked.contradiction(
                "specific_energy",
                energy,
                "no compressor reaches this pressure with so little energy, kWh/m3",
                "give what the compressor takes at this pressure, drives and part load included",
            );
        }
        let (drying, lost) = match self.drying {
            Drying::Refrigerated { energy } | Drying::HeatedAdsorption { energy } => (
                asked.number("drying.energy", energy.kwh_per_m3(), &DRYING_ENERGY_HOLDS),
                0.0,
            ),
            Drying::HeatlessAdsorption { purge } => (
                0.0,
                asked.number("drying.purge", purge.si(), &LOST_SHARE_HOLDS),
            ),
            Drying::Membrane { sweep } => (
                0.0,
                asked.number("drying.sweep", sweep.si(), &LOST_SHARE_HOLDS),
            ),
        };
        let make_up = match self.pass {
            Pass::Single => 1.0,
            Pass::Recirculating { make_up } => {
                asked.number("pass.make_up", make_up.si(), &MAKE_UP_HOLDS)
            }
        };
        let most = self.most.map_or(f64::INFINITY, |most| {
            asked.number("most", most.si(), &MOST_HOLDS)
        });
        asked.give(Some(CompressedAir {
            gauge: bar * 1e5,
            point: point + ZERO_CELSIUS,
            temperature: temperature + ZERO_CELSIUS,
            energy: (energy + drying) * 3.6e6,
            reference: self.reference,
            lost,
            make_up,
            most,
        }))
    }
}

impl CompressedAir {
    /// The most dry air that it gives, kg/s; without end where that is not known.
    pub fn most(&self) -> f64 {
        self.most
    }

    /// Humidity ratio of the line's air where the atmosphere has this pressure (Pa).
    ///
    /// # Errors
    /// [`DryerError::Impossible`] for an atmosphere that is none.
    pub fn humidity(&self, atmosphere: f64) -> Result<f64, DryerError> {
        DryerError::unless_between("atmosphere", atmosphere, "Pa", (5e4, 1.1e5))?;
        let line = atmosphere + self.gauge;
        let share = if self.point < air::saturation::TRIPLE_POINT {
            equilibrium::saturated_over_ice(self.point, line)
        } else {
            equilibrium::saturated_over_liquid(self.point, line)
        };
        Ok(mixture::humidity_ratio(share))
    }

    /// Delivers a flow of dry air (kg/s) to a hopper open to this atmosphere (Pa); what comes back from it is
    /// `back`, whatever its amount (not used in a single pass).
    ///
    /// # Errors
    /// [`DryerError::Impossible`] for air, a flow or an atmosphere that cannot be.
    pub fn deliver(
        &self,
        dry_air: f64,
        back: &Stream,
        atmosphere: f64,
    ) -> Result<Delivered, DryerError> {
        let fresh = Stream {
            dry_air: self.make_up * dry_air,
            temperature: self.temperature,
            humidity: self.humidity(atmosphere)?,
        }
        .checked()?;
        let returned = back.of((1.0 - self.make_up) * dry_air).checked()?;
        let outlet = if returned.dry_air > 0.0 {
            fresh.joined(returned)
        } else {
            fresh
        };
        let drawn = fresh.dry_air / (1.0 - self.lost);
        let volume = drawn / self.reference.density();
        Ok(Delivered {
            outlet,
            fresh,
            returned,
            drawn,
            volume,
            power: volume * self.energy,
            point: condensation_temperature(outlet.humidity, atmosphere),
        })
    }
}

impl Delivered {
    /// Water in and out, kg/s.
    pub fn water(&self) -> Ledger {
        Ledger::new("water of the compressed air", "kg/s")
            .enter("line", self.fresh.water())
            .enter("return", self.returned.water())
            .leave("hopper", self.outlet.water())
    }
}

/// Point at the atmosphere (Pa) of air whose dew or frost point at a gauge pressure is known, K.
///
/// # Errors
/// As [`air::expansion::condensation_point`].
pub fn expanded_point(
    pressure_dew_point: CondensationPoint,
    line: GaugePressure,
    atmosphere: f64,
) -> Result<f64, AirError> {
    let open = quantity::AbsolutePressure::from_pascal(atmosphere);
    let line = quantity::AbsolutePressure::from_pascal(atmosphere + line.pascal());
    Ok(
        match air::expansion::condensation_point(pressure_dew_point, line, open)? {
            CondensationPoint::Dew(dew) => dew.kelvin(),
            CondensationPoint::Frost(frost) => frost.kelvin(),
        },
    )
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
mod tests {
    use super::*;
    use crate::asked::trials::at_the_ends;
    use quantity::{DewPoint, FrostPoint};

    const ATMOSPHERE: f64 = 101_325.0;
    const BACK: Stream = Stream {
        dry_air: 0.0,
        temperature: 323.15,
        humidity: 0.004,
    };

    fn spec() -> CompressedAirSpec {
        CompressedAirSpec {
            line_pressure: GaugePressure::from_bar(7.0),
            pressure_dew_point: CondensationPoint::Dew(DewPoint::from_celsius(3.0)),
            temperature: Temperature::from_celsius(25.0),
            specific_energy: EnergyPerVolume::from_kwh_per_m3(0.11),
            reference: Reference::Inlet,
            drying: Drying::Refrigerated {
                energy: EnergyPerVolume::from_kwh_per_m3(0.003),
            },
            pass: Pass::Single,
            most: None,
        }
    }

    #[test]
    fn exact_energy_of_a_volume_and_what_is_lost() {
        let single = spec().check().unwrap();
        let delivered = single.deliver(0.01, &BACK, ATMOSPHERE).unwrap();
        assert!((delivered.volume - 0.01 / 1.189).abs() < 1e-5);
        assert!((delivered.power / (delivered.volume * 0.113 * 3.6e6) - 1.0).abs() < 1e-12);
        let membrane = CompressedAirSpec {
            drying: Drying::Membrane {
                sweep: Fraction::from_si(0.2),
            },
            pass: Pass::Recirculating {
                make_up: Fraction::from_si(0.25),
            },
            reference: Reference::Normal,
            ..spec()
        };
        let delivered = membrane
            .check()
            .unwrap()
            .deliver(0.01, &BACK, ATMOSPHERE)
            .unwrap();
        assert!((delivered.drawn - 0.01 * 0.25 / 0.8).abs() < 1e-15);
        let mixed = 0.25 * delivered.fresh.humidity + 0.75 * 0.004;
        assert!((delivered.outlet.humidity / mixed - 1.0).abs() < 1e-12);
        assert!(delivered.water().imbalance() < 1e-12);
        // A normal cubic metre is 1.293 kg, as a real gas.
        assert!((delivered.volume * 1.293 / delivered.drawn - 1.0).abs() < 3e-4);
    }

    #[test]
    fn holds_the_delivered_point_is_that_of_expansion() {
        for point in [
            CondensationPoint::Dew(DewPoint::from_celsius(10.0)),
            CondensationPoint::Frost(FrostPoint::from_celsius(-40.0)),
        ] {
            let supply = CompressedAirSpec {
                pressure_dew_point: point,
                ..spec()
            };
            let delivered = supply
                .check()
                .unwrap()
                .deliver(0.01, &BACK, ATMOSPHERE)
                .unwrap();
            let expected = expanded_point(point, supply.line_pressure, ATMOSPHERE).unwrap();
            assert!((delivered.point - expected).abs() < 1e-6);
        }
    }

    #[test]
    fn holds_small_energy_and_a_wet_line_are_refused() {
        let with = |change: &dyn Fn(&mut CompressedAirSpec)| {
            let mut spec = spec();
            change(&mut spec);
            spec.check().map_err(|faults| faults.len())
        };
        // Isothermal to 8 bar(a): 0.058 kWh/m3.
        let energy = EnergyPerVolume::from_kwh_per_m3;
        assert!(with(&|spec| spec.specific_energy = energy(0.058)).is_ok());
        assert_eq!(with(&|spec| spec.specific_energy = energy(0.055)), Err(1));
        assert_eq!(
            with(&|spec| spec.temperature = Temperature::from_celsius(2.0)),
            Err(1)
        );
        assert_eq!(
            with(&|spec| {
                spec.line_pressure = GaugePressure::from_bar(f64::NAN);
                spec.specific_energy = energy(-1.0);
                spec.drying = Drying::HeatlessAdsorption {
                    purge: Fraction::from_si(1.0),
                };
            }),
            Err(3)
        );
        let supply = spec().check().unwrap();
        assert!(supply.deliver(f64::NAN, &BACK, ATMOSPHERE).is_err());
        assert!(supply.deliver(0.01, &BACK, 1e3).is_err());
    }

    #[test]
    fn holds_ranges_at_their_ends() {
        let with = |change: &dyn Fn(&mut CompressedAirSpec)| {
            let mut spec = spec();
            spec.specific_energy = EnergyPerVolume::from_kwh_per_m3(0.2);
            spec.pressure_dew_point = CondensationPoint::Frost(FrostPoint::from_celsius(-40.0));
            change(&mut spec);
            spec.check().is_ok()
        };
        let energy = EnergyPerVolume::from_kwh_per_m3;
        at_the_ends(&LINE_HOLDS, |x| {
            with(&|spec| spec.line_pressure = GaugePressure::from_bar(x))
        });
        at_the_ends(&LINE_POINT_HOLDS, |x| {
            with(&|spec| {
                spec.temperature = Temperature::from_celsius(70.0);
                spec.pressure_dew_point = CondensationPoint::Dew(DewPoint::from_celsius(x));
            })
        });
        at_the_ends(&LINE_TEMPERATURE_HOLDS, |x| {
            with(&|spec| spec.temperature = Temperature::from_celsius(x))
        });
        at_the_ends(&SPECIFIC_ENERGY_HOLDS, |x| {
            // The low end is for a line of half a bar.
            with(&|spec| {
                spec.line_pressure = GaugePressure::from_bar(0.5);
                spec.specific_energy = energy(x);
            })
        });
        at_the_ends(&DRYING_ENERGY_HOLDS, |x| {
            with(&|spec| spec.drying = Drying::HeatedAdsorption { energy: energy(x) })
        });
        at_the_ends(&LOST_SHARE_HOLDS, |x| {
            with(&|spec| {
                spec.drying = Drying::Membrane {
                    sweep: Fraction::from_si(x),
                }
            })
        });
        at_the_ends(&MOST_HOLDS, |x| {
            with(&|spec| spec.most = Some(MassFlow::from_si(x)))
        });
        at_the_ends(&MAKE_UP_HOLDS, |x| {
            with(&|spec| {
                spec.pass = Pass::Recirculating {
                    make_up: Fraction::from_si(x),
                }
            })
        });
    }
}
