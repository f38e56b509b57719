//! What leaves a hopper: the mean over pellets and streams, and the spread between them.

use crate::DecideError;
use crate::case::Case;
use bed::steady::{Place, Steady};
use pellet::contact::{AirIn, Contact, Exchange};
use uncertainty::classes;

/// What leaves at steady state, kg/kg dry.
#[derive(Clone, Debug)]
pub(crate) struct Outlet {
    /// The mean pellet of each kind on the mean stream.
    pub(crate) steady: Steady,
    /// Mean over kinds, pellets and streams.
    pub(crate) mean: f64,
    /// Mean of each kind over its pellets and streams, the lead first.
    pub(crate) kinds: Vec<f64>,
    /// Moisture and weight of classes of pellets, sorted by moisture; the weights add up to 1.
    pub(crate) pellets: Vec<(f64, f64)>,
}

/// Sizes, and streams, that are followed; fewer while searching, where only the mean counts.
const CLASSES: usize = 7;
const SEARCH_CLASSES: usize = 3;
/// Slowest and fastest stream over the mean.
const STREAM_HOLDS: (f64, f64) = (0.2, 5.0);

/// One kind of pellet in a bed at steady state.
struct Kind<'a> {
    share: f64,
    contact: &'a Contact,
    /// Moisture and free water with which it is fed.
    fed: (f64, f64),
    size_spread: f64,
    path: &'a [Place],
    /// Water with which its mean pellet leaves on the mean stream.
    nominal: f64,
}

impl Outlet {
    /// Solves a case and follows the other pellets and streams of each kind through the air of the
    /// mean one.
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
        let mut found = Self {
            mean: 0.0,
            kinds: Vec::with_capacity(1 + case.beside.len()),
            pellets: Vec::new(),
            steady,
        };
        let ways = std::iter::once(&found.steady.lead).chain(&found.steady.beside);
        let contacts = column.blend().kinds();
        for (((share, pellets), (_, contact)), way) in case.kinds().zip(contacts).zip(ways) {
            let kind = Kind {
                share,
                contact,
                fed: (pellets.feed_moisture, pellets.feed_free_water),
                size_spread: pellets.size_spread,
                path: &way.path,
                nominal: way.water(),
            };
            let mean = kind.classes(case, classes, &mut found.pellets)?;
            found.kinds.push(mean);
            found.mean += share * mean;
        }
        found.pellets.sort_by(|a, b| a.0.total_cmp(&b.0));
        Ok(found)
    }

    /// The mean over that of the mean pellet on the mean stream.
    pub(crate) fn ratio(&self) -> f64 {
        let ratio = self.mean / (self.steady.outlet_moisture + self.steady.outlet_free_water);
        if ratio.is_finite() { ratio } else { 1.0 }
    }

    /// Moisture that a share of the pellets, by mass, lies below.
    pub(crate) fn share_below(&self, share: f64) -> f64 {
        let mut passed = 0.0;
        let mut last: Option<(f64, f64)> = None;
        for (water, weight) in &self.pellets {
            // Each class stands in the middle of its weight.
            let middle = passed + 0.5 * weight;
            if middle >= share {
                return match last {
                    None => *water,
                    Some((below, at)) => below + (water - below) * (share - at) / (middle - at),
                };
            }
            last = Some((*water, middle));
            passed += weight;
        }
        last.map_or(0.0, |(water, _)| water)
    }

    /// Share of pellets, by mass, above a moisture.
    pub(crate) fn share_above(&self, moisture: f64) -> f64 {
        let above = self.pellets.iter().filter(|(water, _)| *water > moisture);
        // An empty sum of floats is minus nothing.
        above.fold(0.0, |sum, (_, weight)| sum + weight)
    }
}

/// What leaves, with few pellets and streams and a coarse bed: for searches and maps.
///
/// # Errors
/// From the bed.
pub(crate) fn brief(case: &Case) -> Result<Outlet, DecideError> {
    Outlet::with(&case.coarse(), SEARCH_CLASSES)
}

/// Mean over kinds, pellets and streams, kg/kg dry, of [`brief`].
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

impl Kind<'_> {
    /// Mean over sizes and streams; writes down each class.
    fn classes(
        &self,
        case: &Case,
        count: usize,
        pellets: &mut Vec<(f64, f64)>,
    ) -> Result<f64, DecideError> {
        if self.size_spread <= 0.0 && case.residence_spread <= 0.0 {
            pellets.push((self.nominal, self.share));
            return Ok(self.nominal);
        }
        let sizes = spread(self.size_spread, count);
        let streams = spread(case.residence_spread, count);
        // Followed in the air of the bed, the mean pellet itself is met to the error of the steps;
        // the others are counted relative to it.
        let reference = self.follow(case.feed_temperature, 1.0, 1.0)?;
        let correction = if reference > 0.0 {
            self.nominal / reference
        } else {
            1.0
        };
        let each = 1.0 / (sizes.len() * streams.len()) as f64;
        let mut mean = 0.0;
        for size in &sizes {
            for stream in &streams {
                let slow = stream.clamp(STREAM_HOLDS.0, STREAM_HOLDS.1);
                let water = correction * self.follow(case.feed_temperature, *size, slow)?;
                pellets.push((water, self.share * each));
                mean += water * each;
            }
        }
        Ok(mean)
    }

    /// Outlet moisture of one pellet of relative size `size` that stays `stay` times the mean
    /// residence, in the air along the way of the mean pellet.
    fn follow(&self, feed_temperature: f64, size: f64, stay: f64) -> Result<f64, DecideError> {
        let square = size * size;
        let contact = self.contact;
        let own = Contact {
            interior: contact.interior.scaled(size),
            exchange: Exchange {
                heat: contact.exchange.heat / square,
                vapour: contact.exchange.vapour / square,
            },
            ..contact.clone()
        };
        let mut parcel = own.parcel(feed_temperature, self.fed.0, self.fed.1);
        let mut work = own.work();
        for pair in self.path.windows(2) {
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
}
