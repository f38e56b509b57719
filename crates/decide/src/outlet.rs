//! What leaves a hopper: the mean over pellets and streams, and the spread between them.

use crate::DecideError;
use crate::case::Case;
use bed::steady::Steady;
use pellet::contact::{AirIn, Contact, Exchange};
use uncertainty::{classes, quantile};

/// What leaves at steady state, kg/kg dry.
#[derive(Clone, Debug)]
pub(crate) struct Outlet {
    /// The mean pellet on the mean stream.
    pub(crate) steady: Steady,
    /// Mean over pellets and streams.
    pub(crate) mean: f64,
    /// Equally likely pellets, sorted.
    pub(crate) pellets: Vec<f64>,
}

/// Sizes, and streams, that are followed; fewer while searching, where only the mean counts.
const CLASSES: usize = 7;
const SEARCH_CLASSES: usize = 3;
/// Slowest and fastest stream over the mean.
const STREAM_HOLDS: (f64, f64) = (0.2, 5.0);

impl Outlet {
    /// Solves a case and follows the other pellets and streams through the air of the mean one.
    ///
    /// # Errors
    /// From the bed.
    pub(crate) fn of(case: &Case) -> Result<Self, DecideError> {
        Self::with(case, CLASSES)
    }

    /// The same with so many sizes and as many streams.
    fn with(case: &Case, classes: usize) -> Result<Self, DecideError> {
        let (column, _) = case.column()?;
        let steady = column.steady(&case.drive())?;
        let nominal = steady.outlet_moisture + steady.outlet_free_water;
        if case.size_spread <= 0.0 && case.residence_spread <= 0.0 {
            return Ok(Self {
                mean: nominal,
                pellets: vec![nominal],
                steady,
            });
        }
        let sizes = spread(case.size_spread, classes);
        let streams = spread(case.residence_spread, classes);
        // Followed in the air of the bed, the mean pellet itself is met to the error of the steps;
        // the others are counted relative to it.
        let reference = follow(&column.contact, case, &steady, 1.0, 1.0)?;
        let correction = if reference > 0.0 {
            nominal / reference
        } else {
            1.0
        };
        let mut pellets = Vec::with_capacity(sizes.len() * streams.len());
        for size in &sizes {
            for stream in &streams {
                let slow = stream.clamp(STREAM_HOLDS.0, STREAM_HOLDS.1);
                pellets.push(correction * follow(&column.contact, case, &steady, *size, slow)?);
            }
        }
        pellets.sort_by(f64::total_cmp);
        let mean = pellets.iter().sum::<f64>() / pellets.len() as f64;
        Ok(Self {
            steady,
            mean,
            pellets,
        })
    }

    /// Moisture that a share of the pellets lies below.
    pub(crate) fn share_below(&self, share: f64) -> f64 {
        quantile(&self.pellets, share)
    }

    /// Share of pellets above a moisture.
    pub(crate) fn share_above(&self, moisture: f64) -> f64 {
        let above = self
            .pellets
            .iter()
            .filter(|water| **water > moisture)
            .count();
        above as f64 / self.pellets.len() as f64
    }
}

/// What leaves, with few pellets and streams and a coarse bed: for searches and maps.
///
/// # Errors
/// From the bed.
pub(crate) fn brief(case: &Case) -> Result<Outlet, DecideError> {
    Outlet::with(&case.coarse(), SEARCH_CLASSES)
}

/// Mean over pellets and streams, kg/kg dry, of [`brief`].
///
/// # Errors
/// From the bed.
pub(crate) fn mean(case: &Case) -> Result<f64, DecideError> {
    Ok(brief(case)?.mean)
}

fn spread(deviation: f64, count: usize) -> Vec<f64> {
    if deviation > 0.0 {
        classes(1.0, deviation, count)
    } else {
        vec![1.0]
    }
}

/// Outlet moisture of one pellet of relative size `size` that stays `stay` times the mean
/// residence, in the air along the way of the mean pellet.
fn follow(
    contact: &Contact,
    case: &Case,
    steady: &Steady,
    size: f64,
    stay: f64,
) -> Result<f64, DecideError> {
    let square = size * size;
    let own = Contact {
        interior: contact.interior.scaled(size),
        exchange: Exchange {
            heat: contact.exchange.heat / square,
            vapour: contact.exchange.vapour / square,
        },
        ..contact.clone()
    };
    let mut parcel = own.parcel(
        case.feed_temperature,
        case.feed_moisture,
        case.feed_free_water,
    );
    let mut work = own.work();
    for pair in steady.lead.path.windows(2) {
        let duration = (pair[1].age - pair[0].age) * stay;
        if duration <= 0.0 {
            continue;
        }
        let air = AirIn::endless(
            0.5 * (pair[0].air_temperature + pair[1].air_temperature),
            0.5 * (pair[0].air_humidity + pair[1].air_humidity),
        );
        own.meet(&mut parcel, &air, duration, &mut work)?;
    }
    Ok(parcel.water())
}
