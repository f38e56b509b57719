//! The front that moves: how far the heat has climbed in the bed since the air was switched on, and
//! the moments worth a picture.

use crate::answer::{Front, FrontMoment};
use crate::case::{Case, celsius};
use bed::profile::{Level, Profile};
use bed::run::Moment;
use bed::steady::Steady;

/// Share of the rise from feed to inlet temperature from which a pellet counts as warm.
const WARM: f64 = 0.75;
/// The front is up when it stands within this share of the height at which it stays.
const NEAR: f64 = 0.05;
/// The moisture is settled when it stays within this share of what matters: its steady value or, where
/// that is larger, the limit it is held against.
const SETTLED: f64 = 0.05;
/// Looks at the column over a start.
const LOOKS: f64 = 160.0;
/// Moments kept while the front climbs, as shares of its time to the top.
const CLIMBING: [f64; 3] = [1.0 / 3.0, 2.0 / 3.0, 1.0];

/// Profiles taken while a column is followed, evenly over the start.
pub(crate) struct Watch {
    every: f64,
    pub(crate) seen: Vec<Profile>,
}

impl Watch {
    /// For a start followed so long, s.
    pub(crate) fn over(duration: f64) -> Self {
        Self {
            every: duration / LOOKS,
            seen: Vec::new(),
        }
    }

    /// Whether the next look is due at a time.
    pub(crate) fn is_due(&self, time: f64) -> bool {
        time >= self.every * self.seen.len() as f64
    }
}

/// Temperature (K) from which the pellets of a case count as warm.
pub(crate) fn warm(case: &Case) -> f64 {
    case.feed_temperature + WARM * (case.air_temperature - case.feed_temperature)
}

/// The front of a start, from what was seen of it, what left, and the steady bed.
pub(crate) fn front(
    case: &Case,
    seen: Vec<Profile>,
    moments: &[Moment],
    steady_bed: &Steady,
) -> Front {
    let warm = warm(case);
    let steady = steady_bed
        .lead
        .path
        .iter()
        .rev()
        .map(|place| (place.height, place.temperature));
    let stays = warm_up_to(steady, warm);
    let up = stays.and_then(|height| {
        // Between two batches the level is lower.
        let lowest = case.bed_mass - case.batch.unwrap_or(0.0);
        let wanted = height.min(lowest) * (1.0 - NEAR);
        let looks = seen.iter().map(|profile| {
            let up_to = warm_levels(&profile.levels, warm);
            (profile.time, up_to)
        });
        reached(looks, wanted)
    });
    // What leaves is the whole lot, of which the lead is a part.
    let ends = steady_bed.outlet_moisture + steady_bed.outlet_free_water;
    let matters = case.limit.min(case.fed_water());
    let settled = if case.batch.is_some() {
        settled_between_batches(moments, case.residence(), matters)
    } else {
        stays_near(moments, ends, SETTLED * ends.max(matters))
    };
    Front {
        warm_c: celsius(warm),
        warm_up_to_kg: stays,
        up_h: up.map(|time| time / 3600.0),
        settled_h: settled.map(|time| time / 3600.0),
        moments: chosen(seen, up, settled)
            .into_iter()
            .map(|profile| FrontMoment {
                time_h: profile.time / 3600.0,
                warm_up_to_kg: warm_levels(&profile.levels, warm),
                water_kg: profile.water(),
                levels: profile.levels,
            })
            .collect(),
    }
}

/// Time from which on what is dried stays within `off` of `steady` to the end.
fn stays_near(moments: &[Moment], steady: f64, off: f64) -> Option<f64> {
    let away = |moment: &Moment| (moment.dried - steady).abs() > off;
    let next = moments.iter().rposition(away).map_or(0, |index| index + 1);
    moments.get(next).map(|moment| moment.time)
}

/// The same where the bed is fed in batches and what leaves swings: about the mean of the last
/// residence, with its swing on top; none when that is only reached within it.
fn settled_between_batches(moments: &[Moment], residence: f64, matters: f64) -> Option<f64> {
    let from = moments.last()?.time - residence;
    let late = || moments.iter().filter(|moment| moment.time >= from);
    let mean = late().map(|moment| moment.dried).sum::<f64>() / late().count() as f64;
    let away = late().map(|moment| (moment.dried - mean).abs());
    let swing = away.fold(0.0, f64::max);
    stays_near(moments, mean, swing + SETTLED * mean.max(matters)).filter(|time| *time <= from)
}

/// [`warm_up_to`] of a profile, nothing where the lowest level is colder.
fn warm_levels(levels: &[Level], wanted: f64) -> f64 {
    let each = levels.iter().map(|level| (level.height, level.temperature));
    warm_up_to(each, wanted).unwrap_or(0.0)
}

/// Dry resin (kg) between the inlet and the height up to which all is at least as warm as `wanted`,
/// from heights and temperatures counted from the inlet up; none where the lowest is colder.
fn warm_up_to(levels: impl Iterator<Item = (f64, f64)>, wanted: f64) -> Option<f64> {
    let mut warm: Option<(f64, f64)> = None;
    for (height, temperature) in levels {
        if temperature < wanted {
            return warm.map(|(below, hot)| {
                below + (height - below) * (hot - wanted) / (hot - temperature)
            });
        }
        warm = Some((height, temperature));
    }
    warm.map(|(height, _)| height)
}

/// The first time at which something that is looked at now and then reaches `wanted`, along a
/// straight line between two looks.
fn reached(looks: impl Iterator<Item = (f64, f64)>, wanted: f64) -> Option<f64> {
    let mut before: Option<(f64, f64)> = None;
    for (time, value) in looks {
        if value >= wanted {
            return Some(before.map_or(time, |(earlier, low)| {
                earlier + (time - earlier) * (wanted - low) / (value - low)
            }));
        }
        before = Some((time, value));
    }
    None
}

/// The profiles worth a picture: while the front climbs (or, where it is soon up, while the bed
/// dries), half way from there to where the moisture is settled, and the last.
fn chosen(seen: Vec<Profile>, up: Option<f64>, settled: Option<f64>) -> Vec<Profile> {
    let end = seen.last().map_or(0.0, |profile| profile.time);
    let settled = settled.unwrap_or(end);
    let up = up.unwrap_or(0.0).max(0.5 * settled);
    let settled = settled.max(up);
    let mut wanted: Vec<f64> = CLIMBING.iter().map(|share| share * up).collect();
    wanted.extend([0.5 * (up + settled), end]);
    let nearest = |time: &f64| {
        let away = |profile: &Profile| (profile.time - time).abs();
        let each = seen.iter().enumerate();
        let found = each.min_by(|a, b| away(a.1).total_cmp(&away(b.1)));
        found.map(|(index, _)| index)
    };
    let mut kept: Vec<usize> = wanted.iter().filter_map(nearest).collect();
    kept.dedup();
    let of = |(index, profile)| kept.contains(&index).then_some(profile);
    seen.into_iter().enumerate().filter_map(of).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_warm_heights() {
        let levels = [(1.0, 100.0), (3.0, 90.0), (5.0, 30.0), (7.0, 95.0)];
        assert_eq!(warm_up_to(levels.into_iter(), 60.0), Some(4.0));
        assert_eq!(warm_up_to(levels.into_iter(), 101.0), None);
        assert_eq!(warm_up_to(levels.into_iter(), 20.0), Some(7.0));
        assert_eq!(warm_up_to(std::iter::empty(), 20.0), None);
    }

    /// Moments an hour apart with so much water, kg/kg dry.
    fn leaving(dried: impl Iterator<Item = f64>) -> Vec<Moment> {
        let each = dried.enumerate().map(|(index, dried)| Moment {
            time: 3600.0 * index as f64,
            dried,
            outlet: dried,
            temperature: 350.0,
            return_temperature: 320.0,
            return_humidity: 1e-3,
            held: 10.0,
        });
        each.collect()
    }

    #[test]
    fn exact_what_swings_settles_where_the_swing_is_small_beside_the_limit() {
        // Below 1 ppm, and still halved from hour to hour.
        let halved = |hour: i32| 1e-8 * f64::from(1 << (15 - hour));
        let moments = leaving((0..=15).map(halved));
        let residence = 3.5 * 3600.0;
        assert_eq!(settled_between_batches(&moments, residence, 0.0), None);
        // Beside a limit of 200 ppm that is nothing.
        let found = settled_between_batches(&moments, residence, 2e-4);
        assert_eq!(found, Some(6.0 * 3600.0), "below 10 ppm from there");
        // Still on its way through the limit, it has not settled.
        let moments = leaving((0..=12).map(|hour| 1e-4 * f64::from(15 - hour)));
        assert_eq!(settled_between_batches(&moments, residence, 2e-4), None);
    }

    #[test]
    fn exact_a_value_is_reached_between_looks() {
        let looks = [(0.0, 0.0), (10.0, 4.0), (20.0, 8.0)];
        assert_eq!(reached(looks.into_iter(), 6.0), Some(15.0));
        assert_eq!(reached(looks.into_iter(), 0.0), Some(0.0));
        assert_eq!(reached(looks.into_iter(), 9.0), None);
    }
}
