//! The way after the dryer: what the pellets take up again before they reach the screw, and a sample
//! before it is measured.
//!
//! # Equations
//! 1. The mean pellet is followed by [`pellet::history`] through one stretch of air after another. It
//!    begins with the profile with which it leaves the dryer: the pellet of the plan followed through
//!    the air of its bed with a fine inside, that profile then scaled to the mean of a shot.
//! 2. A flight: the pellets meet a stream at 5 m/s, as warm as air and pellets become together,
//!    `T = (c_a T_a + l c T_p)/(c_a + l c)` with the loading l. Pellets that wait in the line lie in still
//!    air.
//! 3. Machine hopper: the heap cools as `c/tau` through a cover in series with the film, with the stated
//!    time constant or `tau = M c/(h A)`, A the surface of a cylinder as high as wide. Open, each pellet
//!    sees the air of the hall. Under a tight lid as much air enters as pellets leave, and the vapour it
//!    brings has to do for all: a conductance `M_w/(R T rho_b t)` for pellets that stay t.
//!    The throat below a tight lid gets none.
//! 4. A closed vessel: the vapour of its head space has to do in the same way,
//!    `(1/(f rho_b) - 1/rho) M_w/(R T t)`.
//!
//! Hot pellets in the same air of the hall meet a lower activity, since the vapour pressure of water
//! rises with their temperature; that comes out of the balance at the surface and is put in nowhere.
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! l | `job::Conveying::loading` | kg/kg
//! tau | `HopperFound::cooling_min` | min
//! f | `job::Vessel::Closed` | share
//!
//! # Holds for
//! Pellets that see the air they are said to see: those on top of a heap, along a wall, in a thin layer.
//! Deeper down the neighbours take the vapour first, so the mean of an open hopper lies lower than here.
//! The mean pellet alone is followed; how sure its moisture is stands with the outlet.
//!
//! # Sources
//! As [`pellet::history`]; slip, loading and heat of a vessel are common practice, no source.
//!
//! # Checked by
//! `tests/src/published/long_sokol_1974.rs`, `tests/src/exact/pellet_on_its_way.rs`,
//! `tests/src/journeys/way.rs`

mod hopper;
mod standing;
mod traveller;
pub(crate) mod warnings;

pub use hopper::HopperFound;
pub(crate) use standing::{Standing, standing};
pub use traveller::{Traveller, still};

use crate::case::Case;
use crate::hall::Hall;
use crate::outlet::Outlet;
use crate::plan::ppm_wet;
use crate::resolve::{resolve, site_pressure};
use crate::{DecideError, humidity};
use bed::steady::Steady;
use job::{Conveying, Job, Lid, Sample, Throat, Vessel, WayAir};
use pellet::contact::{Exchange, Parcel};
use pellet::history::{AirState, Curve, Instant, Segment, Surround};
use quantity::constants::{MOLAR_GAS, WATER_MOLAR_MASS, ZERO_CELSIUS};
use quantity::{
    AbsolutePressure, Duration, Humidity, HumidityRatio, Quantity, Temperature, Velocity,
};
use serde::Serialize;

/// Velocity of the conveying air about the pellets it carries, m/s (common practice, no source: a
/// third of an air velocity of 15 m/s).
const SLIP: f64 = 5.0;
/// Minutes for which the regain is told.
const TOLD_MINUTES: [f64; 4] = [5.0, 15.0, 30.0, 60.0];
/// How long pellets are followed at most, s.
const LONGEST: f64 = 86_400.0;
/// Shortest stretch that is followed, s.
const SHORTEST: f64 = 0.1;
/// Conductance of a cover that keeps nothing back, in the units of [`Exchange`].
const NO_COVER: f64 = 1e6;
/// Points of a stretch that are kept.
const POINTS: usize = 40;

/// The air of the hall.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct HallFound {
    /// Temperature.
    pub temperature_c: f64,
    /// Humidity.
    pub relative_humidity_percent: f64,
    /// Dew point.
    pub dew_point_c: f64,
    /// Whether it was taken because the job states no humidity.
    pub assumed: bool,
}

/// Moisture of pellets that lie open in the hall.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct RegainRow {
    /// Since they left the dryer.
    pub minutes: f64,
    /// Mean of pellets as cold as the hall.
    pub cold_ppm_wet: f64,
    /// Their surface.
    pub cold_surface_ppm_wet: f64,
    /// Mean of pellets kept as hot as they leave.
    pub hot_ppm_wet: f64,
    /// Their surface.
    pub hot_surface_ppm_wet: f64,
}

/// How long pellets may lie open.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct OpenTime {
    /// Until the mean comes to the limit; none where it does not in a day.
    pub to_limit_min: Option<f64>,
    /// Until half of what lies between it and the limit is used.
    pub to_half_margin_min: Option<f64>,
}

/// The pellets at one station of their way.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Station {
    /// Where.
    pub name: &'static str,
    /// Since they left the dryer.
    pub minutes: f64,
    /// Their temperature.
    pub temperature_c: f64,
    /// Mean moisture.
    pub mean_ppm_wet: f64,
    /// Moisture of the surface.
    pub surface_ppm_wet: f64,
    /// Mean moisture, dry basis.
    pub mean_kg_kg: f64,
}

/// What the laboratory reads.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct SampleFound {
    /// At the throat.
    pub throat_ppm_wet: f64,
    /// As it is measured.
    pub laboratory_ppm_wet: f64,
    /// From the throat until it is measured.
    pub minutes: f64,
    /// Whether it went in a closed vessel.
    pub closed: bool,
}

/// The pellet at one moment of its way.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct WayPoint {
    /// Since it left the dryer.
    pub minutes: f64,
    /// Its temperature.
    pub temperature_c: f64,
    /// Mean moisture.
    pub mean_ppm_wet: f64,
    /// Moisture of the surface.
    pub surface_ppm_wet: f64,
}

/// The way after the dryer.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WayFound {
    /// Air of the hall.
    pub hall: HallFound,
    /// In balance with it at its temperature: nothing takes up more.
    pub balance_ppm_wet: f64,
    /// Temperature with which the pellets leave the dryer.
    pub leaving_c: f64,
    /// Mean moisture with which they leave it.
    pub leaving_ppm_wet: f64,
    /// Regain of pellets that lie open in the hall.
    pub regain: Vec<RegainRow>,
    /// How long cold pellets may lie open.
    pub open_cold: OpenTime,
    /// How long pellets kept hot may.
    pub open_hot: OpenTime,
    /// Stations of the way as it is stated; none where no way is.
    pub stations: Vec<Station>,
    /// The machine hopper.
    pub hopper: Option<HopperFound>,
    /// The sample.
    pub sample: Option<SampleFound>,
    /// Along the way to the screw; where no way is stated, an hour open and cold.
    pub course: Vec<WayPoint>,
}

impl WayFound {
    /// The pellets as they reach the screw, where a way is stated.
    pub fn at_screw(&self) -> Option<&Station> {
        self.stations.last()
    }
}

/// What a way is worked out from.
pub(crate) struct Walk<'a> {
    job: &'a Job,
    case: &'a Case,
    traveller: Traveller,
    hall: Hall,
    pressure: AbsolutePressure,
    /// Limit, kg/kg dry.
    limit: f64,
}

/// The way of a job whose hopper and air are those it states, or the usual ones.
///
/// # Errors
/// When the air, the pellet or the hopper of the job cannot be.
pub fn of_job(job: &Job) -> Result<Option<WayFound>, DecideError> {
    let (case, _) = resolve(job)?;
    let out = Outlet::of(&case)?;
    of(job, &case, &out.steady, out.mean)
}

/// Least share of the limit that is aimed at, however much the way adds.
const LEAST_AIM: f64 = 0.05;

/// The case with the limit that the outlet of the dryer has to meet: that of the screw less what the
/// way adds, where one is stated.
///
/// # Errors
/// As [`of_job`].
pub(crate) fn aim(job: &Job, case: &Case) -> Result<Case, DecideError> {
    if job.way.is_none() {
        return Ok(case.clone());
    }
    let out = Outlet::of(case)?;
    let found = of(job, case, &out.steady, out.mean)?;
    let screw = found.as_ref().and_then(WayFound::at_screw);
    let added = screw.map_or(0.0, |screw| screw.mean_kg_kg - out.mean);
    Ok(case.with_limit((case.limit - added.max(0.0)).max(LEAST_AIM * case.limit)))
}

/// The way of the pellets that leave with `mean` kg/kg dry; none for a resin that takes up no water.
///
/// # Errors
/// When the air of the way cannot be, or from the pellet.
pub(crate) fn of(
    job: &Job,
    case: &Case,
    steady: &Steady,
    mean: f64,
) -> Result<Option<WayFound>, DecideError> {
    let Some((walk, dried)) = begin(job, case, steady, mean)? else {
        return Ok(None);
    };
    walk.found(&dried).map(Some)
}

/// The way of a job, and the pellet that leaves the dryer with `mean` kg/kg dry; none for a resin that takes up
/// no water.
fn begin<'a>(
    job: &'a Job,
    case: &'a Case,
    steady: &Steady,
    mean: f64,
) -> Result<Option<(Walk<'a>, Parcel)>, DecideError> {
    let pressure = site_pressure(job)?;
    let traveller = Traveller::of(&case.lead.resin, pressure)?;
    if !traveller.takes_up_water() {
        return Ok(None);
    }
    let walk = Walk {
        hall: Hall::of(job, pressure)?,
        job,
        case,
        traveller,
        pressure,
        limit: case.limit,
    };
    let (column, _) = case.column()?;
    let dried = walk.traveller.dried(
        &column.contact,
        (
            case.feed_temperature,
            case.lead.feed_moisture,
            case.lead.feed_free_water,
        ),
        &steady.lead.path,
        mean,
    )?;
    Ok(Some((walk, dried)))
}

impl Walk<'_> {
    fn found(&self, dried: &Parcel) -> Result<WayFound, DecideError> {
        let hall = &self.hall;
        let mut chilled = dried.clone();
        chilled.temperature = hall.temperature;
        let cold = self.lying(&chilled)?;
        let hot = self.lying(dried)?;
        let at = |curve: &Curve, minutes: f64, number: &dyn Fn(&Instant) -> f64| {
            let found = curve.at(Duration::from_minutes(minutes), number);
            ppm_wet(found.unwrap_or(0.0))
        };
        let regain = TOLD_MINUTES
            .iter()
            .map(|&minutes| RegainRow {
                minutes,
                cold_ppm_wet: at(&cold, minutes, &water),
                cold_surface_ppm_wet: at(&cold, minutes, &surface),
                hot_ppm_wet: at(&hot, minutes, &water),
                hot_surface_ppm_wet: at(&hot, minutes, &surface),
            })
            .collect();
        let mut found = WayFound {
            hall: HallFound {
                temperature_c: hall.temperature - ZERO_CELSIUS,
                relative_humidity_percent: hall.relative_percent,
                dew_point_c: hall.dew_point_c,
                assumed: hall.assumed,
            },
            balance_ppm_wet: ppm_wet(
                self.traveller
                    .balance(hall.temperature, hall.vapour_pressure),
            ),
            leaving_c: dried.temperature - ZERO_CELSIUS,
            leaving_ppm_wet: ppm_wet(dried.water()),
            regain,
            open_cold: self.open_time(&cold, dried.water()),
            open_hot: self.open_time(&hot, dried.water()),
            stations: Vec::new(),
            hopper: None,
            sample: None,
            course: Vec::new(),
        };
        match &self.job.way {
            Some(way) if *way != job::Way::default() => self.walk(way, dried, &mut found)?,
            _ => {
                let hour = cold.instants.iter().filter(|i| i.time.minutes() <= 60.0);
                let hour: Vec<Instant> = hour.copied().collect();
                found.course = thinned(&hour, 0.0);
            }
        }
        Ok(found)
    }

    /// A pellet that lies open in the hall for a day and keeps its temperature.
    fn lying(&self, pellet: &Parcel) -> Result<Curve, DecideError> {
        let air = air_of(pellet.temperature, self.hall.ratio());
        let stretch = still("open in the hall", Duration::from_si(LONGEST), air);
        let moments = TOLD_MINUTES.map(Duration::from_minutes).to_vec();
        Ok(self.traveller.through(pellet, vec![stretch], moments)?.0)
    }

    /// Station after station of a way that is stated.
    fn walk(
        &self,
        way: &job::Way,
        dried: &Parcel,
        found: &mut WayFound,
    ) -> Result<(), DecideError> {
        let mut going = Going {
            pellet: dried.clone(),
            seconds: 0.0,
            course: vec![],
            stations: vec![],
            surface: self.traveller.surface(dried),
        };
        going.arrive("leaving the dryer");
        if let Some(conveying) = &way.conveying {
            self.convey(conveying, &mut going)?;
            going.arrive("conveyed");
        }
        let mut entered = None;
        if let Some(hopper) = &way.hopper {
            let (held, entering) = self.hold(hopper, &mut going)?;
            found.hopper = Some(held);
            entered = Some(entering);
            going.arrive("leaving the machine hopper");
        }
        if let Some(throat) = &way.throat {
            self.go(self.in_throat(way, throat)?, &mut going)?;
        }
        going.arrive("at the screw");
        if let Some(sample) = &way.sample {
            found.sample = Some(self.sample(sample, &going.pellet)?);
        }
        if let (Some(hopper), Some(entering)) = (&mut found.hopper, &entered) {
            self.most(way, hopper, entering)?;
        }
        found.stations = going.stations;
        found.course = going.course;
        Ok(())
    }

    /// Every flight and every stay in the line.
    fn convey(&self, conveying: &Conveying, going: &mut Going) -> Result<(), DecideError> {
        let ratio = match conveying.air {
            WayAir::Hall => self.hall.ratio(),
            WayAir::Dry(stated) => self.dry(stated, "the conveying line")?,
        };
        for _ in 0..conveying.times {
            let pellet = &going.pellet;
            let resin = conveying.loading
                * self
                    .case
                    .lead
                    .calorics
                    .resin_capacity(pellet.temperature, pellet.moisture, 0.0);
            let air = self.case.lead.calorics.dry_air;
            let shared = (air * self.hall.temperature + resin * pellet.temperature) / (air + resin);
            let surround = Surround::Stream(Velocity::from_si(SLIP));
            let state = air_of(shared, ratio);
            self.go(
                Segment::steady("flight", conveying.flight, state, surround),
                going,
            )?;
            let state = air_of(self.hall.temperature, ratio);
            self.go(still("in the line", conveying.waiting, state), going)?;
        }
        Ok(())
    }

    /// The stay in the throat, in the air that stands over the pellets of the machine hopper, or in
    /// that of the hall. Air that comes down through pellets under a tight lid has given them its
    /// vapour.
    fn in_throat(&self, way: &job::Way, throat: &Throat) -> Result<Segment, DecideError> {
        let over = way.hopper.as_ref();
        let ratio = over.map_or(Ok(self.hall.ratio()), |hopper| self.over(hopper))?;
        let air = air_of(throat.temperature.si(), ratio);
        let mut stretch = still("throat", throat.time, air);
        if over.is_some_and(|hopper| hopper.lid == Lid::Closed) {
            stretch.cover = Some(Exchange {
                heat: NO_COVER,
                vapour: 0.0,
            });
        }
        Ok(stretch)
    }

    /// The sample, which does not go on to the screw.
    fn sample(&self, sample: &Sample, throat: &Parcel) -> Result<SampleFound, DecideError> {
        let air = air_of(self.hall.temperature, self.hall.ratio());
        let mut stretch = still("to the laboratory", sample.time, air);
        if let Vessel::Closed { fill } = sample.vessel {
            let head = 1.0 / (fill.si() * self.case.bulk_density) - 1.0 / self.case.density;
            stretch.cover = Some(self.sharing(head.max(0.0), sample.time.si(), NO_COVER));
        }
        let read = if sample.time.si() < SHORTEST {
            throat.water()
        } else {
            let (_, end) = self.traveller.through(throat, vec![stretch], Vec::new())?;
            end.water()
        };
        Ok(SampleFound {
            throat_ppm_wet: ppm_wet(throat.water()),
            laboratory_ppm_wet: ppm_wet(read),
            minutes: sample.time.minutes(),
            closed: sample.vessel != Vessel::Open,
        })
    }

    /// A cover through which the vapour of so much hall air (m3 per kg dry resin) passes in a time
    /// (s), and so much heat (W/(K kg)).
    fn sharing(&self, volume: f64, time: f64, heat: f64) -> Exchange {
        let per_pascal = WATER_MOLAR_MASS / (MOLAR_GAS * self.hall.temperature);
        Exchange {
            heat,
            vapour: volume * per_pascal / time,
        }
    }

    /// One stretch further; one that lasts no time changes nothing.
    fn go(&self, stretch: Segment, going: &mut Going) -> Result<(), DecideError> {
        let seconds = stretch.duration.si();
        if seconds < SHORTEST {
            return Ok(());
        }
        let (curve, end) = self
            .traveller
            .through(&going.pellet, vec![stretch], Vec::new())?;
        going
            .course
            .extend(thinned(&curve.instants, going.seconds / 60.0));
        going.surface = self.traveller.surface(&end);
        going.pellet = end;
        going.seconds += seconds;
        Ok(())
    }

    /// Dried air as stated, or that of the dryer.
    fn dry(
        &self,
        stated: Option<Humidity>,
        place: &'static str,
    ) -> Result<HumidityRatio, DecideError> {
        match stated {
            None => Ok(HumidityRatio::from_si(self.case.air_humidity)),
            Some(stated) => {
                let hall = Temperature::from_si(self.hall.temperature);
                humidity::ratio(stated, hall, self.pressure, self.pressure, place)
            }
        }
    }

    fn open_time(&self, curve: &Curve, start: f64) -> OpenTime {
        let minutes = |level: f64| {
            if start >= level {
                return Some(0.0);
            }
            curve.crossing(level, water).map(Duration::minutes)
        };
        OpenTime {
            to_limit_min: minutes(self.limit),
            to_half_margin_min: if start >= self.limit {
                Some(0.0)
            } else {
                minutes(0.5 * (start + self.limit))
            },
        }
    }
}

/// The pellet on its way.
struct Going {
    pellet: Parcel,
    surface: f64,
    seconds: f64,
    course: Vec<WayPoint>,
    stations: Vec<Station>,
}

impl Going {
    fn arrive(&mut self, name: &'static str) {
        self.stations.push(Station {
            name,
            minutes: self.seconds / 60.0,
            temperature_c: self.pellet.temperature - ZERO_CELSIUS,
            mean_ppm_wet: ppm_wet(self.pellet.water()),
            surface_ppm_wet: ppm_wet(self.surface),
            mean_kg_kg: self.pellet.water(),
        });
    }
}

fn air_of(temperature: f64, humidity: HumidityRatio) -> AirState {
    AirState {
        temperature: Temperature::from_si(temperature),
        humidity: humidity.into(),
    }
}

fn water(instant: &Instant) -> f64 {
    instant.mean.si() + instant.free_water.si()
}

fn surface(instant: &Instant) -> f64 {
    instant.surface.si()
}

/// Few of many instants, evenly spread over the root of their time, from so many minutes on.
fn thinned(instants: &[Instant], from: f64) -> Vec<WayPoint> {
    let (Some(first), Some(last)) = (instants.first(), instants.last()) else {
        return Vec::new();
    };
    let span = last.time.si() - first.time.si();
    let mut points = Vec::new();
    for instant in instants {
        let share = points.len() as f64 / (POINTS - 1) as f64;
        let passed = instant.time.si() - first.time.si();
        if passed >= span * share * share || instant.time == last.time {
            points.push(WayPoint {
                minutes: from + instant.time.minutes(),
                temperature_c: instant.pellet_temperature.celsius(),
                mean_ppm_wet: ppm_wet(water(instant)),
                surface_ppm_wet: ppm_wet(instant.surface.si()),
            });
        }
    }
    points
}
