//! The start: from the moment the air is switched on to the first dry pellet.

use crate::DecideError;
use crate::answer::{Front, Start, Transient};
use crate::case::Case;
use crate::front::{Watch, front};
use bed::column::{Column, ColumnState, Drive};
use bed::profile::Profile;
use bed::run::{Run, watch};
use bed::steady::Steady;
use job::Job;
use quantity::Quantity;

/// Rate that stands for a held outlet, as a share of the rate: no resin moves.
const HELD: f64 = 0.0;
/// Residences that a transient is followed for where no duration is given.
const USUAL_RESIDENCES: f64 = 4.0;

/// What the hopper holds when the air is switched on: temperature (K), moisture, free water.
fn charge(case: &Case, job: &Job) -> (f64, f64, f64) {
    let initial = &job.model.initial;
    (
        initial
            .temperature
            .map_or(case.feed_temperature, Quantity::si),
        initial
            .moisture
            .map_or(case.lead.feed_moisture, |moisture| {
                moisture.dry_basis().si()
            }),
        case.lead.feed_free_water,
    )
}

fn run(
    case: &Case,
    column: &Column,
    job: &Job,
    duration: f64,
    hold: f64,
    look: impl FnMut(&ColumnState, &Drive, f64),
) -> Result<Run, DecideError> {
    let (temperature, moisture, free) = charge(case, job);
    let state = column.filled(temperature, moisture, free);
    let charged = column.blend().parcel(temperature, moisture, free);
    let drawing = case.drive();
    let held = Drive {
        rate: drawing.rate * HELD,
        ..drawing
    };
    let found = watch(
        column,
        state,
        duration,
        (case.below_inlet, column.blend().water(&charged)),
        |time| {
            if time < hold {
                (held, hold)
            } else {
                (drawing, f64::INFINITY)
            }
        },
        look,
    )?;
    Ok(found)
}

/// Looks at nothing.
fn unwatched(_: &ColumnState, _: &Drive, _: f64) {}

/// The transient from air on, resin drawn from the first moment, and its front, which ends in the
/// steady bed.
///
/// # Errors
/// From the bed.
pub(crate) fn transient(
    case: &Case,
    job: &Job,
    steady: &Steady,
) -> Result<(Transient, Front), DecideError> {
    let (column, _) = case.column()?;
    let duration = job
        .model
        .duration
        .map_or(USUAL_RESIDENCES * case.residence(), Quantity::si);
    let mut watch = Watch::over(duration);
    let found = run(case, &column, job, duration, 0.0, |state, drive, time| {
        if watch.is_due(time) {
            let profile = Profile::of(&column, state, drive, time);
            // Between batches a single parcel may well be colder than those about it.
            let steps = case.batch.is_some();
            watch
                .seen
                .push(if steps { profile } else { profile.calmed() });
        }
    })?;
    let front = front(case, watch.seen, &found.moments, steady);
    let transient = Transient {
        water_imbalance: found.water.imbalance(),
        energy_imbalance: found.energy.imbalance(),
        moments: found.moments,
        water: found.water,
        energy: found.energy,
    };
    Ok((transient, front))
}

/// When the fastest stream runs dry, and how long to hold before the first shot. What is computed
/// carries no margin, so that no less is told than the trade holds: one full planned stay with the air at
/// set point, for the whole charge (common practice, no source).
///
/// # Errors
/// From the bed.
pub(crate) fn start(case: &Case, job: &Job) -> Result<Start, DecideError> {
    // The fastest stream is a column in which everything passes sooner by two standard deviations.
    let fast = Stream::of(case, 1.0 + 2.0 * case.residence_spread)?;
    let first = fast.dry_from(job, case.limit)?;
    // Where it stays wet, the mean of all streams may well be dry.
    let mean = if first.is_none() {
        let mean = Stream::of(case, 1.0)?;
        mean.dry_from(job, case.limit)?.map(|_| mean)
    } else {
        None
    };
    let ready = match (first, &mean) {
        (Some(_), _) => fast.hold(job, case)?,
        (None, Some(mean)) => mean.hold(job, case)?,
        (None, None) => None,
    };
    Ok(Start {
        first_dry_h: first.map(|seconds| seconds / 3600.0),
        hold_before_drawing_h: ready.map(|seconds| seconds.max(case.residence()) / 3600.0),
        computed_hold_h: ready.map(|seconds| seconds / 3600.0),
        fastest_stays_wet: mean.is_some(),
        put_back_kg: case.below_inlet * (1.0 + case.fed_water()),
    })
}

/// A stream through the hopper, as a column of its own.
struct Stream {
    case: Case,
    column: Column,
}

impl Stream {
    /// The stream that passes so many times as fast as the mean.
    fn of(case: &Case, speed: f64) -> Result<Self, DecideError> {
        let case = Case {
            rate: case.rate * speed,
            air_flow: case.air_flow * speed,
            batch: None,
            below_inlet: 0.0,
            ..case.coarse()
        };
        let (column, _) = case.column()?;
        Ok(Self { case, column })
    }

    /// Time at which it runs dry, drawn from the first minute; none where it never does.
    fn dry_from(&self, job: &Job, limit: f64) -> Result<Option<f64>, DecideError> {
        let long = 6.0 * self.case.residence() + 4.0 * 3600.0;
        Ok(run(&self.case, &self.column, job, long, 0.0, unwatched)?.dry_from(limit))
    }

    /// Time to hold the outlet of a hopper so that nothing wet is drawn on this stream; none where
    /// none does.
    fn hold(&self, job: &Job, whole: &Case) -> Result<Option<f64>, DecideError> {
        let wet_after = |hold: f64| -> Result<bool, DecideError> {
            let duration = hold + 2.0 * self.case.residence();
            let follows = run(&self.case, &self.column, job, duration, hold, unwatched)?;
            let mut moments = follows.moments.iter();
            Ok(moments.any(|moment| moment.dried > whole.limit))
        };
        let (mut low, mut high) = (0.0, 2.0 * whole.residence() + 3600.0);
        if wet_after(high)? {
            return Ok(None);
        }
        for _ in 0..7 {
            let middle = 0.5 * (low + high);
            if wet_after(middle)? {
                low = middle;
            } else {
                high = middle;
            }
        }
        Ok(Some(high))
    }
}
