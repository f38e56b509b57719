//! A pellet on its way through a history, step by step.

use super::schedule::{Seen, Stretch};
use super::{Curve, History, Instant, Surround};
use crate::contact::{Contact, ContactWork, Exchange, Parcel};
use crate::film::{Setting, Stream};
use crate::interior::{InteriorWork, SurfaceDrift};
use crate::{Outline, PelletError};
use libm::{cbrt, fabs};
use numeric::NumericError;
use quantity::{Duration, HumidityRatio, MoistureDryBasis, Quantity, Temperature, Velocity};

/// First step after a jump of the air, s.
const FIRST_STEP: f64 = 1e-2;
/// A step this short is kept whatever it says, s: nothing in a pellet is faster.
const LEAST_STEP: f64 = 1e-5;
/// Fewest steps in which a segment is passed, so that a curve can be drawn through them.
const FEWEST_STEPS: f64 = 24.0;
/// Difference in temperature that counts as much as all the water, K: 1e-3 K at the usual precision
/// moves a diffusivity by less than 1e-4.
const TEMPERATURE_SCALE: f64 = 100.0;
/// Diffusion time over depth squared up to which the heart feels less than 1e-5 of what happened at
/// the surface (Crank (1975), short-time solutions, eq. 4.18, 5.24 and 6.20). Until then the heart
/// goes on as if the air had not jumped, which a sum of modes or nodes would only approach.
const UNTOUCHED: f64 = 0.02;
/// Steps after which a history is given up.
const MOST_STEPS: usize = 50_000;

/// The inside with its surface held as it was before the air jumped.
struct Shadow {
    state: Vec<f64>,
    surface: f64,
    /// Diffusion time over depth squared since the jump.
    reached: f64,
    work: InteriorWork,
}

/// A pellet on its way.
pub(super) struct Journey<'a> {
    history: &'a History,
    contact: Contact,
    work: ContactWork,
    parcel: Parcel,
    /// The inside as it would be without the last jump of the air, while the heart has not felt it.
    shadow: Shadow,
    curve: Curve,
}

impl<'a> Journey<'a> {
    /// The pellet as it begins.
    pub(super) fn begun(history: &'a History) -> Result<Self, PelletError> {
        let start = &history.spec.start;
        let contact = history.contact.clone();
        let parcel = contact.parcel(
            start.temperature.si(),
            start.moisture.si(),
            start.free_water.si(),
        );
        let mut journey = Self {
            history,
            work: contact.work(),
            shadow: Shadow {
                state: parcel.inside.clone(),
                surface: parcel.moisture,
                reached: 0.0,
                work: contact.interior.work(),
            },
            contact,
            parcel,
            curve: Curve {
                instants: Vec::new(),
                segments: Vec::new(),
                rejected: 0,
            },
        };
        if let Some(first) = history.stretches.first() {
            journey.note(0.0, &first.at(0.0)?, 0.0);
        }
        Ok(journey)
    }

    /// The pellet with an inside of its own.
    pub(super) fn from(history: &'a History, pellet: &Parcel) -> Result<Self, PelletError> {
        let mut journey = Self::begun(history)?;
        let wanted = journey.parcel.inside.len();
        if pellet.inside.len() != wanted {
            return Err(PelletError::OtherInside {
                found: pellet.inside.len(),
                wanted,
            });
        }
        let contact = &journey.contact;
        let surface = contact.interior.surface(&pellet.inside);
        // Its air has changed, so what it was about to do is forgotten.
        let mut parcel = contact.parcel(pellet.temperature, surface, pellet.free_water);
        parcel.inside.clone_from(&pellet.inside);
        parcel.moisture = pellet.moisture;
        journey.shadow.state.clone_from(&pellet.inside);
        journey.shadow.surface = surface;
        journey.parcel = parcel;
        journey.curve.instants.clear();
        if let Some(first) = history.stretches.first() {
            journey.note(0.0, &first.at(0.0)?, 0.0);
        }
        Ok(journey)
    }

    /// Through every stretch.
    pub(super) fn finish(self) -> Result<Curve, PelletError> {
        Ok(self.finish_with()?.0)
    }

    /// Through every stretch; the pellet is handed back as it ends.
    pub(super) fn finish_with(mut self) -> Result<(Curve, Parcel), PelletError> {
        let mut begin = 0.0;
        for stretch in &self.history.stretches {
            self.parcel.jolt();
            self.shadow.state.clone_from(&self.parcel.inside);
            self.shadow.surface = self.contact.interior.surface(&self.parcel.inside);
            self.shadow.reached = 0.0;
            self.pass(begin, stretch)?;
            let end = begin + stretch.duration;
            self.curve.segments.push((
                stretch.name.clone(),
                Duration::from_si(begin),
                Duration::from_si(end),
            ));
            begin = end;
        }
        Ok((self.curve, self.parcel))
    }

    /// Through one stretch that begins at `begin` s.
    fn pass(&mut self, begin: f64, stretch: &Stretch) -> Result<(), PelletError> {
        let longest = stretch.duration / FEWEST_STEPS;
        let (mut done, mut step) = (0.0, FIRST_STEP.min(longest));
        while done < stretch.duration {
            if self.curve.instants.len() + self.curve.rejected > MOST_STEPS {
                return Err(NumericError::NoConvergence {
                    steps: MOST_STEPS,
                    change: step,
                }
                .into());
            }
            // A step that would end just short of the next goal is stretched to it.
            let goal = self.next_moment(begin + done, begin + stretch.duration) - begin;
            let left = goal - done;
            let last = step > 0.999 * left;
            let h = if last { left } else { step };
            let (whole, halves) = match self.both_ways(stretch, done, h) {
                Err(PelletError::Numeric(_)) if h > LEAST_STEP => {
                    // What cannot be closed over a step can be over a shorter one; what the failure
                    // left in the work space is thrown away.
                    self.work = self.contact.work();
                    self.curve.rejected += 1;
                    step = 0.3 * h;
                    continue;
                }
                ways => ways?,
            };
            let air = stretch.at(done + h)?;
            let difference = self.difference(&whole, &halves, &air);
            let factor = cbrt(0.8 / difference.max(1e-9)).clamp(0.2, 4.0);
            let kept = difference <= 1.0 || h <= LEAST_STEP;
            let next = (h * factor).min(longest);
            // A step cut short by its goal does not say how long the next may be.
            step = if kept && h < step {
                step.max(next)
            } else {
                next
            };
            if !kept {
                self.curve.rejected += 1;
                continue;
            }
            let rate = (self.parcel.water() - halves.water()) / h;
            self.cast(h, 0.5 * (self.parcel.temperature + halves.temperature))?;
            self.parcel = halves;
            done = if last { goal } else { done + h };
            self.note(begin + done, &air, rate);
        }
        Ok(())
    }

    /// One step whole, and in halves.
    fn both_ways(
        &mut self,
        stretch: &Stretch,
        done: f64,
        h: f64,
    ) -> Result<(Parcel, Parcel), PelletError> {
        let (mut whole, mut halves) = (self.parcel.clone(), self.parcel.clone());
        self.advance(stretch, done, h, &mut whole)?;
        self.advance(stretch, done, 0.5 * h, &mut halves)?;
        self.advance(stretch, done + 0.5 * h, 0.5 * h, &mut halves)?;
        Ok((whole, halves))
    }

    /// The first moment asked for after `time`, or the end.
    fn next_moment(&self, time: f64, end: f64) -> f64 {
        let asked = self.history.spec.moments.iter().map(|moment| moment.si());
        asked
            .filter(|moment| *moment > time && *moment < end)
            .fold(end, f64::min)
    }

    /// Lets the shadow go on for `h` s at temperature `t`, while the heart follows it.
    fn cast(&mut self, h: f64, t: f64) -> Result<(), PelletError> {
        if self.shadow.reached >= UNTOUCHED {
            return Ok(());
        }
        let law = &self.contact.diffusivity;
        let interior = &self.contact.interior;
        let shadow = &mut self.shadow;
        let still = SurfaceDrift {
            before: shadow.surface,
            rate: 0.0,
        };
        let (state, surface) = (&mut shadow.state, shadow.surface);
        interior.prepare(state, law.at(t, 0.0), h, still, &mut shadow.work);
        interior.respond(law, t, h, state, surface, still, &mut shadow.work)?;
        interior.commit(state, surface, h, still, &shadow.work);
        let depth = least_depth(&self.history.spec.pellet.outline);
        let wet = self.history.spec.start.moisture.si().max(surface);
        shadow.reached += h * law.at(t, 0.0).max(law.at(t, wet)) / (depth * depth);
        Ok(())
    }

    /// One step of `h` s.
    fn advance(
        &mut self,
        stretch: &Stretch,
        from: f64,
        h: f64,
        parcel: &mut Parcel,
    ) -> Result<(), PelletError> {
        let air = stretch.at(from + 0.5 * h)?;
        self.contact.exchange = self.exchange(stretch, &air, parcel.temperature);
        let air = air.endless();
        self.contact.meet(parcel, &air, h, &mut self.work)?;
        Ok(())
    }

    /// Conductances between air and pellet, cover included.
    fn exchange(&self, stretch: &Stretch, air: &Seen, pellet: f64) -> Exchange {
        let film_temperature = 0.5 * (air.temperature + pellet);
        let diameter = self.history.spec.pellet.outline.sauter_diameter();
        let moving = |velocity: Velocity, setting| {
            let stream = Stream::at(film_temperature, self.contact.pressure, air.mole_fraction);
            let film = stream.film(diameter, velocity.si(), setting);
            (film.heat.si(), film.vapour.si())
        };
        let (heat, vapour) = match stretch.surround {
            Surround::Stream(velocity) => moving(velocity, Setting::Alone),
            Surround::Bed(velocity, law) => moving(velocity, Setting::Bed(law)),
            Surround::Stated(heat, vapour) => (heat.si(), vapour.si()),
        };
        let film = self.history.skin.through(heat, vapour, film_temperature);
        match stretch.cover {
            None => film,
            Some(cover) => Exchange {
                heat: in_series(film.heat, cover.heat),
                vapour: in_series(film.vapour, cover.vapour),
            },
        }
    }

    /// How far two ways to the same time are apart, 1 at the precision asked for.
    fn difference(&self, whole: &Parcel, halves: &Parcel, air: &Seen) -> f64 {
        /// Water that is nothing, kg/kg: a hundredth of a ppm.
        const NOTHING: f64 = 1e-8;
        let water = halves.water();
        let isotherm = &self.contact.isotherm;
        let balance = isotherm.moisture(air.temperature, air.activity);
        let scale = fabs(water).max(fabs(balance - water)).max(NOTHING);
        let by_water = fabs(whole.water() - water) / scale;
        let by_temperature = fabs(whole.temperature - halves.temperature) / TEMPERATURE_SCALE;
        by_water.max(by_temperature) / self.history.precision
    }

    /// Writes down the pellet as it is.
    fn note(&mut self, time: f64, air: &Seen, rate: f64) {
        let parcel = &self.parcel;
        let interior = &self.contact.interior;
        let moisture = |x: f64| MoistureDryBasis::from_si(x.max(0.0));
        let heart = if self.shadow.reached < UNTOUCHED {
            interior.heart(&self.shadow.state)
        } else {
            interior.heart(&parcel.inside)
        };
        self.curve.instants.push(Instant {
            time: Duration::from_si(time),
            pellet_temperature: Temperature::from_si(parcel.temperature),
            air_temperature: Temperature::from_si(air.temperature),
            air_humidity: HumidityRatio::from_si(air.humidity),
            condensation_point: air.condensation_point,
            mean: moisture(parcel.moisture),
            surface: moisture(interior.surface(&parcel.inside)),
            heart: moisture(heart),
            free_water: moisture(parcel.free_water),
            drying_rate_per_s: rate,
        });
    }
}

/// Two conductances one after the other.
fn in_series(first: f64, second: f64) -> f64 {
    let sum = first + second;
    if sum > 0.0 { first * second / sum } else { 0.0 }
}

/// Half the smallest size of an outline, m.
fn least_depth(outline: &Outline) -> f64 {
    0.5 * match *outline {
        Outline::Rod { diameter } | Outline::Sphere { diameter } => diameter,
        Outline::Cylinder { diameter, length } | Outline::Spheroid { diameter, length } => {
            diameter.min(length)
        }
        Outline::Plate { thickness } | Outline::Lens { thickness, .. } => thickness,
    }
}
