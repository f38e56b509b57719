//! The hopper, the dryer and the press of a job, ready to be followed through days.

use super::control::{Chosen, control};
use crate::case::Case;
use crate::closed::{line_of, settle};
use crate::doubt::{shifted, unlucky};
use crate::hall::Hall;
use crate::harm::harms;
use crate::plan::settled;
use crate::resolve::{Given, site_pressure};
use crate::way::standing;
use crate::{DecideError, humidity};
use bed::lived::Harms;
use job::{ControlSettings, Holding, Job, Lid, Loader, MachineHopper};
use line::control::Control;
use line::equipment::Equipment;
use line::follow::Press;
use line::{Line, LineState, Room};
use quantity::{Mass, Quantity};

/// Parcels of a bed that is followed through days: the outlet through steps and stops of the rate is then within
/// 0.5 % of an independent solver (`docs/benchmark.md`).
const DAY_PARCELS: usize = 48;
/// Stays on the press for which the uptake is worked out, h.
const STAYS: [f64; 9] = [0.1, 0.25, 0.5, 1.0, 2.0, 4.0, 8.0, 24.0, 72.0];
/// How many batches of its loader a machine hopper holds where nothing is said (common practice, no source).
const BATCHES_HELD: f64 = 2.0;
/// Heat from an insulated cone to the hall, W/(m2 K), where the wall of the hopper does not say it, and its surface
/// over the two-thirds power of its volume (a cone as high as wide).
const CONE_SURFACE: f64 = 5.2;

/// A job with its dryer, ready to be followed.
#[derive(Clone, Debug)]
pub(crate) struct Scene {
    /// The case, its bed as coarse as days need it.
    pub(crate) case: Case,
    /// What was given of it.
    given: Given,
    /// The line.
    pub(crate) line: Line,
    /// How it is run.
    pub(crate) control: Control,
    /// What of that was chosen here.
    pub(crate) chosen: Vec<Chosen>,
    /// From the air inlet to the screw.
    pub(crate) press: Press,
    /// Harm that is followed.
    pub(crate) harms: Harms,
    /// Water that leaves the bed at the planned rate, kg/kg dry.
    pub(crate) outlet: f64,
}

/// The hall of a job as a room.
///
/// # Errors
/// When its air cannot be.
pub(crate) fn room_of(job: &Job) -> Result<Room, DecideError> {
    let pressure = site_pressure(job)?;
    let hall = Hall::of(job, pressure)?;
    Ok(Room {
        temperature: hall.temperature,
        humidity: hall.humidity,
        pressure: pressure.si(),
    })
}

/// The hall at a moment that is stated.
///
/// # Errors
/// When its air cannot be.
pub(crate) fn room_at(moment: &job::HallMoment, pressure: f64) -> Result<Room, DecideError> {
    let site = quantity::AbsolutePressure::from_si(pressure);
    let (t, stated) = (moment.temperature, moment.humidity);
    let ratio = humidity::ratio(
        stated,
        t,
        site,
        site,
        "the hall at a moment of the schedule",
    )?;
    Ok(Room {
        temperature: t.si(),
        humidity: ratio.si(),
        pressure,
    })
}

impl Scene {
    /// The scene of a job with the dryer that `make` gives for an air flow (kg/s) and a set point (K).
    ///
    /// # Errors
    /// When the job cannot be planned, or the dryer cannot be.
    pub(crate) fn of(
        job: &Job,
        make: &dyn Fn(f64, f64) -> Equipment,
        settings: &ControlSettings,
        loader: Option<&Loader>,
    ) -> Result<Self, DecideError> {
        let (case, given) = settled(job)?;
        let equipment = make(case.air_flow, case.air_temperature);
        Self::with(job, (&case, given), &equipment, settings, loader)
    }

    /// The same with a dryer that is there already, which another job was planned for.
    ///
    /// # Errors
    /// As [`Scene::of`].
    pub(crate) fn with(
        job: &Job,
        (whole, given): (&Case, Given),
        equipment: &Equipment,
        settings: &ControlSettings,
        loader: Option<&Loader>,
    ) -> Result<Self, DecideError> {
        let room = room_of(job)?;
        let mut case = whole.with_each(|pellets| {
            pellets.interior = pellets.coarse_interior.clone();
        });
        case.ambient = room.temperature;
        case.parcels = case.parcels.min(DAY_PARCELS);
        // Batches are tipped in by what fills the hopper while it is followed.
        case.batch = None;
        let mut line = line_of(equipment, std::slice::from_ref(&case), room)?;
        line.maker = line.maker.for_days().map_err(|cause| DecideError::Line {
            title: equipment.title.clone(),
            cause: Box::new(cause),
        })?;
        let steady = settle(&line, None, &equipment.title)?;
        let (control, chosen) = control(&case, (&line, &steady), settings)?;
        Ok(Self {
            press: press(job, whole, loader)?,
            harms: harms(&case),
            outlet: steady.stations[0].steady.outlet_moisture,
            line,
            control,
            chosen,
            case,
            given,
        })
    }

    /// Moves what is in doubt of the resin by the standard normal deviate of its dimension; the hopper and what runs
    /// it stay as they are.
    ///
    /// # Errors
    /// From the hopper.
    pub(crate) fn draw(&mut self, deviate: &dyn Fn(u32) -> f64) -> Result<(), DecideError> {
        let drawn = shifted(&self.case, &self.given, deviate);
        let (column, _) = drawn.column()?;
        let station = &mut self.line.stations[0];
        station.column.contact = column.contact;
        station.column.beside = column.beside;
        station.feed.moisture = drawn.lead.feed_moisture;
        Ok(())
    }

    /// A bed as coarse as a search wants it.
    pub(crate) fn coarsen(&mut self) {
        let parcels = self.case.coarse().parcels;
        self.case.parcels = parcels;
        self.line.stations[0].column.parcels = parcels;
    }

    /// See [`unlucky`].
    ///
    /// # Errors
    /// From the bed.
    pub(crate) fn unlucky(&self, deviations: f64) -> Result<Vec<f64>, DecideError> {
        unlucky(&self.case, &self.given, deviations)
    }

    /// The line long at work with full demand, or cold and just filled.
    ///
    /// # Errors
    /// From the line.
    pub(crate) fn begin(&self, running: bool) -> Result<LineState, DecideError> {
        let fail = |cause| DecideError::Line {
            title: self.case.lead.resin.name.clone(),
            cause: Box::new(cause),
        };
        let state = self.line.at_rest().map_err(fail)?;
        if !running {
            return Ok(state);
        }
        let mut state = state.filled_with(
            &self.line,
            self.case.air_temperature,
            self.outlet.max(0.5 * self.case.limit),
        );
        let long = 1.3 * self.case.residence() + RUN_IN;
        self.line.run(&mut state, long).map_err(fail)?;
        Ok(state.begun_anew())
    }
}

/// Time in which a desiccant comes to its work, s.
const RUN_IN: f64 = 4.0 * 3600.0;

/// The way from the air inlet to the screw.
fn press(job: &Job, case: &Case, loader: Option<&Loader>) -> Result<Press, DecideError> {
    let batch = loader.map(|loader| loader.batch.si());
    let stated = job.way.as_ref().and_then(|way| way.hopper);
    let hopper = stated.or_else(|| {
        batch.map(|batch| MachineHopper {
            holding: Holding::Mass(Mass::from_si(BATCHES_HELD * batch)),
            lid: Lid::Closed,
            cooling: None,
        })
    });
    let volume = case.below_inlet / case.bulk_density;
    let surface = CONE_SURFACE * libm::pow(volume.max(1e-9), 2.0 / 3.0);
    let capacity = case
        .lead
        .calorics
        .resin_capacity(case.air_temperature, case.limit, 0.0);
    let cone_cooling = case.below_inlet * capacity / (case.wall_coefficient * surface).max(1e-9);
    let Some(hopper) = hopper else {
        return Ok(Press {
            cone_cooling,
            ..Press::default()
        });
    };
    let stays = STAYS.map(|hours| 3600.0 * hours);
    let found = standing(job, case, &hopper, &stays)?;
    Ok(Press {
        holds: found.holds / case.drawn,
        batch: batch.map_or(0.0, |batch| batch.min(found.holds) / case.drawn),
        cooling: found.cooling,
        cone_cooling,
        uptake: found.uptake,
    })
}
