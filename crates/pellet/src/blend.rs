//! Pellets of several kinds travelling together: one temperature, one air, each with its own water.
//!
//! # Equations
//! Per kg of dry resin of the whole blend, with the shares s of its kinds by dry mass:
//! 1. each kind obeys the water, film and inside equations of [`crate::contact`] at the common
//!    temperature and the common humidity;
//! 2. heat and air balances hold for the sums `H = sum s H_i`, `n = sum s n_i`, `h_a = sum s h_i`;
//! 3. the humidity that the pellets see is one monotone equation,
//!    `Y - Y_in - lean load sum s n_i(Y) = 0`, within the closing of heat and water.
//!
//! # Symbols
//! as in [`crate::contact`].
//!
//! # Holds for
//! Kinds that are well mixed. One temperature: pellets of different size differ by a few kelvin in
//! the few centimetres where they heat up, and not below.
//!
//! # Sources
//! As [`crate::contact`].
//!
//! # Checked by
//! `tests/src/peers/blend.rs`: two sizes, and three kinds of three isotherms, steady and in time;
//! `crates/bed/src/blend_trials.rs`: parts of one kind are one kind, ledgers, steady and in time;
//! `tests/src/journeys/lots.rs`.

use crate::PelletError;
use crate::closing::{Heat, HeatSide, Sides, agree, temperature_of};
use crate::contact::{Contact, ContactWork, Step, Water, balanced, step_of};
use crate::parcel::{AirIn, Met, Parcel};
use numeric::NumericError;

/// A kind of pellet that travels beside the lead.
#[derive(Clone, Debug)]
pub struct Beside {
    /// Its share of the dry resin.
    pub share: f64,
    /// How it meets air.
    pub contact: Contact,
    /// Moisture with which it is fed, kg/kg dry.
    pub moisture: f64,
    /// Free water with which it is fed, kg/kg dry.
    pub free_water: f64,
}

/// A lead kind and those beside it; the lead has the share that they leave.
#[derive(Clone, Copy, Debug)]
pub struct Blend<'a> {
    /// The lead.
    pub lead: &'a Contact,
    /// The others.
    pub beside: &'a [Beside],
}

/// A parcel of a blend: one parcel of each kind, all at the temperature of the lead.
#[derive(Clone, Debug, PartialEq)]
pub struct Mixed {
    /// Pellets of the lead.
    pub lead: Parcel,
    /// Pellets of the others.
    pub beside: Vec<Parcel>,
}

/// Work space for a blend.
#[derive(Clone, Debug)]
pub struct BlendWork {
    lead: ContactWork,
    beside: Vec<ContactWork>,
}

impl Mixed {
    /// Temperature, K.
    pub fn temperature(&self) -> f64 {
        self.lead.temperature
    }

    /// Forgets the drift of the surfaces, so that a jump in the air is met without ringing.
    pub fn jolt(&mut self) {
        self.lead.jolt();
        for parcel in &mut self.beside {
            parcel.jolt();
        }
    }

    /// Pellets that have been in the bed for a while.
    #[must_use]
    pub fn settled(self) -> Self {
        Self {
            lead: self.lead.settled(),
            beside: self.beside.into_iter().map(Parcel::settled).collect(),
        }
    }

    /// The parcel of a kind, the lead first.
    pub fn of_kind(&self, kind: usize) -> Option<&Parcel> {
        self.parcels().nth(kind)
    }

    fn parcels(&self) -> impl Iterator<Item = &Parcel> {
        std::iter::once(&self.lead).chain(&self.beside)
    }

    fn parcels_mut(&mut self) -> impl Iterator<Item = &mut Parcel> {
        std::iter::once(&mut self.lead).chain(&mut self.beside)
    }
}

impl BlendWork {
    /// Work space of a kind, the lead first.
    pub fn of_kind(&mut self, kind: usize) -> Option<&mut ContactWork> {
        match kind.checked_sub(1) {
            None => Some(&mut self.lead),
            Some(index) => self.beside.get_mut(index),
        }
    }
}

impl<'a> Blend<'a> {
    /// Pellets as they are fed: all at one temperature, the lead with the water given here.
    pub fn parcel(self, temperature: f64, moisture: f64, free_water: f64) -> Mixed {
        let fed = |kind: &Beside| {
            kind.contact
                .parcel(temperature, kind.moisture, kind.free_water)
        };
        Mixed {
            lead: self.lead.parcel(temperature, moisture, free_water),
            beside: self.beside.iter().map(fed).collect(),
        }
    }

    /// Each kind with its share, the lead first.
    pub fn kinds(self) -> impl Iterator<Item = (f64, &'a Contact)> {
        let others: f64 = self.beside.iter().map(|kind| kind.share).sum();
        std::iter::once((1.0 - others, self.lead))
            .chain(self.beside.iter().map(|kind| (kind.share, &kind.contact)))
    }

    /// Sum over the kinds of their share times `value`.
    fn sum(self, mixed: &Mixed, value: impl Fn(&Contact, &Parcel) -> f64) -> f64 {
        let pairs = self.kinds().zip(mixed.parcels());
        pairs
            .map(|((share, contact), parcel)| share * value(contact, parcel))
            .sum()
    }

    /// Work space.
    pub fn work(self) -> BlendWork {
        BlendWork {
            lead: self.lead.work(),
            beside: self.beside.iter().map(|kind| kind.contact.work()).collect(),
        }
    }

    /// Heat transfer of the blend, W/(K kg).
    pub fn conductance(self) -> f64 {
        self.kinds()
            .map(|(share, contact)| share * contact.exchange.heat)
            .sum()
    }

    /// Total water, kg/kg.
    pub fn water(self, mixed: &Mixed) -> f64 {
        self.sum(mixed, |_, parcel| parcel.water())
    }

    /// Enthalpy, J/kg dry resin.
    pub fn enthalpy(self, mixed: &Mixed) -> f64 {
        self.sum(mixed, Contact::enthalpy)
    }

    /// Heat capacity with its water, J/(K kg dry resin).
    pub fn capacity(self, mixed: &Mixed) -> f64 {
        self.sum(mixed, |contact, parcel| {
            let (x, w) = (parcel.moisture, parcel.free_water);
            contact.calorics.resin_capacity(parcel.temperature, x, w)
        })
    }

    /// Brings it to a temperature (K), its water unchanged.
    pub fn bring_to(self, mixed: &mut Mixed, temperature: f64) {
        for parcel in mixed.parcels_mut() {
            parcel.temperature = temperature;
        }
    }

    /// Blends `fresh` pellets into a parcel of which the share `old` is already there: the water of
    /// each kind and the enthalpy are conserved.
    pub fn pour(self, mixed: &mut Mixed, fresh: &Mixed, old: f64) {
        let enthalpy = old * self.enthalpy(mixed) + (1.0 - old) * self.enthalpy(fresh);
        let guess = old * mixed.temperature() + (1.0 - old) * fresh.temperature();
        for (mine, theirs) in mixed.parcels_mut().zip(fresh.parcels()) {
            mine.pour_water(theirs, old);
        }
        let temperature = temperature_of(
            enthalpy,
            guess,
            |t| {
                self.sum(mixed, |contact, parcel| {
                    contact.enthalpy_at(t, parcel.moisture, parcel.free_water)
                })
            },
            |t| {
                self.sum(mixed, |contact, parcel| {
                    let calorics = &contact.calorics;
                    calorics.resin_capacity(t, parcel.moisture, parcel.free_water)
                })
            },
        );
        for parcel in mixed.parcels_mut() {
            parcel.temperature = temperature;
        }
    }

    /// Lets `mixed` meet `air` for `duration` seconds.
    ///
    /// # Errors
    /// [`PelletError::Numeric`] when heat and water cannot be closed.
    pub fn meet(
        self,
        mixed: &mut Mixed,
        air: &AirIn,
        duration: f64,
        work: &mut BlendWork,
    ) -> Result<Met, PelletError> {
        if self.beside.is_empty() {
            return self
                .lead
                .meet(&mut mixed.lead, air, duration, &mut work.lead);
        }
        let before = self.enthalpy(mixed);
        let (heat, waters) = Several::new(self, mixed, air, duration, before, work).close()?;
        let works = std::iter::once(&work.lead).chain(&work.beside);
        let mut rate = 0.0;
        for (((share, contact), parcel), (water, work)) in self
            .kinds()
            .zip(mixed.parcels_mut())
            .zip(waters.iter().zip(works))
        {
            let drift = step_of(parcel, air, duration).drift;
            contact.settle(parcel, water, heat.end, duration, drift, work);
            rate += share * water.rate;
        }
        Ok(Met {
            temperature: heat.air_out,
            humidity: air.humidity + air.load * rate,
            drying_rate: rate,
            wall_loss: air.load * air.pellet_wall * (heat.mean - air.ambient)
                + air.wall
                    * (air.temperature + air.heat_lean * (heat.air_out - air.temperature)
                        - air.ambient),
        })
    }
}

/// One kind while a step is closed.
struct One<'a> {
    share: f64,
    contact: &'a Contact,
    parcel: &'a Parcel,
    water: Water,
    work: &'a mut ContactWork,
}

/// Several kinds in the same air.
struct Several<'a> {
    kinds: Vec<One<'a>>,
    heat: HeatSide<'a>,
    air: &'a AirIn,
    duration: f64,
    /// Mean humidity that the pellets see.
    humidity: f64,
}

impl<'a> Several<'a> {
    fn new(
        blend: Blend<'a>,
        mixed: &'a Mixed,
        air: &'a AirIn,
        duration: f64,
        before: f64,
        work: &'a mut BlendWork,
    ) -> Self {
        let works = std::iter::once(&mut work.lead).chain(&mut work.beside);
        let kinds: Vec<One<'a>> = blend
            .kinds()
            .zip(mixed.parcels().zip(works))
            .map(|((share, contact), (parcel, work))| One {
                share,
                contact,
                parcel,
                water: Water::of(parcel),
                work,
            })
            .collect();
        let rate: f64 = kinds.iter().map(|one| one.share * one.water.rate).sum();
        Self {
            humidity: (air.humidity + air.water_lean * air.load * rate).max(0.0),
            heat: HeatSide {
                air,
                calorics: &blend.lead.calorics,
                start: mixed.temperature(),
                before,
                weight: step_of(&mixed.lead, air, duration).weight,
                duration,
                conductance: blend.conductance(),
            },
            kinds,
            air,
            duration,
        }
    }

    fn close(mut self) -> Result<(Heat, Vec<Water>), PelletError> {
        let most = self.sum(|one| one.parcel.water()) / self.duration;
        let least = self.sum(|one| one.contact.least_rate(self.air));
        let expected = self.sum(|one| one.parcel.expected);
        let heat = agree(&mut self, expected, (least, most))?;
        Ok((heat, self.kinds.into_iter().map(|one| one.water).collect()))
    }

    /// Sum over the kinds of their share times `value`.
    fn sum(&self, value: impl Fn(&One<'_>) -> f64) -> f64 {
        self.kinds.iter().map(|one| one.share * value(one)).sum()
    }

    /// Drying rate of all kinds at a mean temperature and a humidity.
    fn at_humidity(&mut self, mean: f64, humidity: f64) -> Result<f64, PelletError> {
        // The humidity is held, so that no kind answers for what the others do.
        let still = AirIn {
            humidity,
            load: 0.0,
            ..*self.air
        };
        let mut rate = 0.0;
        for one in &mut self.kinds {
            let step = step_of(one.parcel, &still, self.duration);
            one.water = one
                .contact
                .water(&step, mean, &one.water, &mut one.work.inside)?;
            rate += one.share * one.water.rate;
        }
        Ok(rate)
    }
}

impl Sides for Several<'_> {
    fn heat(&mut self, rate: Option<f64>, guess: f64) -> Result<Heat, PelletError> {
        let found = self.sum(|one| one.water.rate);
        // An assumed rate is shared out as the rates found last were.
        let assumed = rate.unwrap_or(found);
        let waters: Vec<(f64, f64)> = self
            .kinds
            .iter()
            .map(|one| {
                if rate.is_none() {
                    return (one.water.moisture, one.water.free);
                }
                let own = one.water.rate + (assumed - found);
                let step: Step<'_> = step_of(one.parcel, self.air, self.duration);
                let water = balanced(&one.water, own, &step);
                (water.moisture, water.free)
            })
            .collect();
        let pairs = || self.kinds.iter().zip(&waters);
        self.heat.balance(
            assumed,
            guess,
            |t| {
                pairs()
                    .map(|(one, (x, w))| one.share * one.contact.enthalpy_at(t, *x, *w))
                    .sum()
            },
            |t| {
                pairs()
                    .map(|(one, (x, w))| one.share * one.contact.calorics.resin_capacity(t, *x, *w))
                    .sum()
            },
        )
    }

    fn water(&mut self, mean: f64) -> Result<f64, PelletError> {
        const MOST: usize = 60;
        for one in &mut self.kinds {
            let step = step_of(one.parcel, self.air, self.duration);
            one.contact.prepare(&step, mean, &mut one.work.inside);
        }
        let pull = self.air.water_lean * self.air.load;
        let inlet = self.air.humidity;
        let affine = self
            .kinds
            .iter()
            .all(|one| one.contact.interior.is_affine());
        let close = if affine { 1e-12 } else { 1e-9 };
        // The miss rises with the humidity, so the root is held in from both sides.
        let (mut low, mut high) = (0.0_f64, f64::INFINITY);
        let mut last: Option<(f64, f64)> = None;
        let mut change = f64::INFINITY;
        for _ in 0..MOST {
            let humidity = self.humidity;
            let rate = self.at_humidity(mean, humidity)?;
            let miss = humidity - inlet - pull * rate;
            if miss.abs() <= close * humidity.max(1e-9) || change <= close * humidity {
                return Ok(rate);
            }
            if miss > 0.0 {
                high = high.min(humidity);
            } else {
                low = low.max(humidity);
            }
            let next = match last {
                Some((before, was)) if (miss - was).abs() > 0.0 => {
                    humidity - miss * (humidity - before) / (miss - was)
                }
                _ => inlet + pull * rate,
            };
            last = Some((humidity, miss));
            self.humidity = if next >= low && next <= high {
                next
            } else if high.is_finite() {
                0.5 * (low + high)
            } else {
                2.0 * low + 1e-6
            };
            change = (self.humidity - humidity).abs();
        }
        Err(NumericError::NoConvergence {
            steps: MOST,
            change,
        }
        .into())
    }

    fn close_enough(&self) -> f64 {
        self.heat.close_enough()
    }
}
