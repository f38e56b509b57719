//! Groups of pellets that share one gas, each at its own temperature, with no air that brings heat.

use super::{Charge, Pellets};
use crate::LineError;
use bed::BedError;
use numeric::NumericError;
use pellet::blend::{Beside, Blend, BlendWork, Mixed};
use pellet::contact::{AirIn, Contact, Exchange, MASS_RATIO, Parcel};

/// The pressure that humidity ratios stand for here, Pa: pellets know the vapour alone, and so far above it
/// that the ratio is straight.
const REFERENCE: f64 = 1e8;
/// Share of the vapour pressure, and Pa, that its root may miss: the water of the pellets notices a tenth
/// of that share.
const CLOSE: (f64, f64) = (1e-4, 1e-2);

/// Where the root of the vapour pressure was last: Pa, and the slope of what it misses.
#[derive(Clone, Copy)]
pub(super) struct Guess {
    pub(super) pressure: f64,
    pub(super) slope: f64,
}

impl Guess {
    /// At a pressure, of pellets that swamp their gas: a change of its pressure they answer by a hundred
    /// times as much.
    pub(super) fn at(pressure: f64) -> Self {
        Self {
            pressure,
            slope: 100.0,
        }
    }
}

/// Pellets of one history: dry resin in kg, and how they are.
#[derive(Clone, Debug)]
pub(super) struct Group {
    pub(super) mass: f64,
    pub(super) pellets: Mixed,
}

/// All groups, in the order in which they are drawn.
pub(super) struct Together<'a> {
    name: &'a str,
    still: &'a [f64],
    lead: Contact,
    beside: Vec<Beside>,
    work: BlendWork,
    pub(super) groups: Vec<Group>,
}

/// Heat that pellets lose beside that of their vapour.
#[derive(Clone, Copy)]
pub(super) struct Losses {
    /// Through the wall, W/(K kg), to a temperature, K.
    pub(super) wall: (f64, f64),
    /// To gas that comes in, W/(K kg), at a temperature, K.
    pub(super) gas: (f64, f64),
}

/// What they gave over a step.
#[derive(Clone, Copy, Default)]
pub(super) struct Given {
    /// Water, kg.
    pub(super) water: f64,
    /// Heat with it, J.
    pub(super) with_vapour: f64,
    /// Heat to the wall, J.
    pub(super) to_wall: f64,
    /// Heat to the gas that comes in, J.
    pub(super) to_gas: f64,
}

impl Given {
    pub(super) fn and(self, more: Self) -> Self {
        Self {
            water: self.water + more.water,
            with_vapour: self.with_vapour + more.with_vapour,
            to_wall: self.to_wall + more.to_wall,
            to_gas: self.to_gas + more.to_gas,
        }
    }
}

impl Losses {
    /// Conductance of both, W/(K kg), and the temperature they draw towards, K.
    fn joined(&self) -> (f64, f64) {
        let sum = self.wall.0 + self.gas.0;
        if sum > 0.0 {
            let mean = (self.wall.0 * self.wall.1 + self.gas.0 * self.gas.1) / sum;
            (sum, mean)
        } else {
            (0.0, self.wall.1)
        }
    }
}

impl<'a> Together<'a> {
    /// Parcels (kg, pellets), so many after each other joined to a group.
    pub(super) fn of(
        charge: &'a Charge,
        parcels: Vec<(f64, Mixed)>,
        joined: usize,
    ) -> Result<Self, LineError> {
        let column = &charge.column;
        let kinds = 1 + column.beside.len();
        if charge.still.len() != kinds {
            return Err(LineError::Kinds {
                films: charge.still.len(),
                kinds,
            });
        }
        let blend = column.blend();
        let mut groups: Vec<Group> = Vec::with_capacity(parcels.len() / joined + 1);
        for (index, (mass, pellets)) in parcels.into_iter().enumerate() {
            match groups.last_mut() {
                Some(last) if index % joined != 0 => {
                    let whole = last.mass + mass;
                    blend.pour(&mut last.pellets, &pellets, last.mass / whole);
                    last.mass = whole;
                }
                _ => groups.push(Group { mass, pellets }),
            }
        }
        let alone = |contact: &Contact, film: f64| Contact {
            exchange: Exchange {
                heat: 0.0,
                vapour: film,
            },
            pressure: REFERENCE,
            ..contact.clone()
        };
        Ok(Self {
            name: &charge.name,
            still: &charge.still,
            lead: alone(&column.contact, charge.still[0]),
            beside: column
                .beside
                .iter()
                .zip(&charge.still[1..])
                .map(|(kind, film)| Beside {
                    contact: alone(&kind.contact, *film),
                    ..kind.clone()
                })
                .collect(),
            work: blend.work(),
            groups,
        })
    }

    fn blend(&self) -> Blend<'_> {
        Blend {
            lead: &self.lead,
            beside: &self.beside,
        }
    }

    /// Sets the film for a gas of which still air at the hall's pressure has `times` the diffusivity.
    pub(super) fn film(&mut self, times: f64) {
        self.lead.exchange.vapour = self.still[0] * times;
        for (kind, film) in self.beside.iter_mut().zip(&self.still[1..]) {
            kind.contact.exchange.vapour = film * times;
        }
    }

    /// Forgets the drift of the surfaces: the gas jumps.
    pub(super) fn jolt(&mut self) {
        for group in &mut self.groups {
            group.pellets.jolt();
        }
    }

    /// Dry resin, kg.
    pub(super) fn mass(&self) -> f64 {
        self.groups.iter().map(|group| group.mass).sum()
    }

    /// Water (kg) and heat (J) of a group.
    pub(super) fn held(&self, group: &Group) -> (f64, f64) {
        let blend = self.blend();
        (
            group.mass * blend.water(&group.pellets),
            group.mass * blend.enthalpy(&group.pellets),
        )
    }

    /// Mean temperature, K.
    pub(super) fn temperature(&self) -> f64 {
        let sum: f64 = self
            .groups
            .iter()
            .map(|group| group.mass * group.pellets.temperature())
            .sum();
        sum / self.mass()
    }

    /// Mean water, kg/kg.
    pub(super) fn water(&self) -> f64 {
        let sum: f64 = self.groups.iter().map(|group| self.held(group).0).sum();
        sum / self.mass()
    }

    /// How the pellets are.
    pub(super) fn pellets(&self) -> Pellets {
        let whole = self.mass();
        let mut found = Pellets {
            kinds: vec![0.0; self.still.len()],
            coldest: f64::INFINITY,
            ..Pellets::default()
        };
        for group in &self.groups {
            let share = group.mass / whole;
            for (kind, mean) in found.kinds.iter_mut().enumerate() {
                let water = group.pellets.of_kind(kind).map_or(0.0, Parcel::water);
                *mean += share * water;
                found.wettest = found.wettest.max(water);
            }
            found.water += share * self.blend().water(&group.pellets);
            found.temperature += share * group.pellets.temperature();
            found.coldest = found.coldest.min(group.pellets.temperature());
        }
        found
    }

    /// Lets all groups live for `duration` seconds in the gas that `gas` makes of what they give off (kg/s): its
    /// vapour pressure, Pa. The guess is where to begin, and where it ended.
    pub(super) fn live(
        &mut self,
        duration: f64,
        losses: &Losses,
        guess: &mut Guess,
        gas: impl Fn(f64) -> f64,
    ) -> Result<Given, LineError> {
        const MOST: usize = 60;
        let (mut low, mut high) = (0.0_f64, f64::INFINITY);
        let mut last: Option<(f64, f64)> = None;
        let mut pressure = guess.pressure.max(1e-3);
        let mut miss = f64::INFINITY;
        for _ in 0..MOST {
            let (groups, given) = self.at(pressure, duration, losses)?;
            miss = pressure - gas(given.water / duration);
            let near = CLOSE.0 * pressure + CLOSE.1;
            if miss.abs() <= near || high - low <= near {
                self.groups = groups;
                guess.pressure = pressure;
                return Ok(given);
            }
            // The miss rises with the pressure by one at least.
            if miss > 0.0 {
                high = pressure;
                low = low.max(pressure - miss);
            } else {
                low = pressure;
                high = high.min(pressure - miss);
            }
            if let Some((before, was)) = last {
                let slope = (miss - was) / (pressure - before);
                guess.slope = if slope.is_finite() {
                    slope.max(1.0)
                } else {
                    1.0
                };
            }
            let next = pressure - miss / guess.slope;
            last = Some((pressure, miss));
            pressure = if next > low && next < high {
                next
            } else {
                0.5 * (low + high)
            };
        }
        Err(failed(
            self.name,
            NumericError::NoConvergence {
                steps: MOST,
                change: miss,
            },
        ))
    }

    /// The groups after a step at a vapour pressure, and what they gave.
    fn at(
        &mut self,
        pressure: f64,
        duration: f64,
        losses: &Losses,
    ) -> Result<(Vec<Group>, Given), LineError> {
        /// Weight of the end of a step in its mean temperature.
        const END: f64 = 0.5;
        let (conductance, outside) = losses.joined();
        let air = AirIn {
            pellet_wall: conductance,
            ambient: outside,
            end_weight: END,
            ..AirIn::endless(outside, MASS_RATIO * pressure / (REFERENCE - pressure))
        };
        let name = self.name;
        let mut groups = self.groups.clone();
        let mut sum = Given::default();
        let blend = Blend {
            lead: &self.lead,
            beside: &self.beside,
        };
        for group in &mut groups {
            let start = group.pellets.temperature();
            let met = blend
                .meet(&mut group.pellets, &air, duration, &mut self.work)
                .map_err(|cause| failed(name, cause))?;
            let mean = start + END * (group.pellets.temperature() - start);
            let each = group.mass * duration;
            let water = each * met.drying_rate;
            sum = sum.and(Given {
                water,
                with_vapour: water * self.lead.calorics.vapour_enthalpy(mean),
                to_wall: each * losses.wall.0 * (mean - losses.wall.1),
                to_gas: each * losses.gas.0 * (mean - losses.gas.1),
            });
        }
        Ok((groups, sum))
    }
}

fn failed(name: &str, cause: impl Into<BedError>) -> LineError {
    LineError::Hopper {
        station: name.to_owned(),
        cause: cause.into(),
    }
}
