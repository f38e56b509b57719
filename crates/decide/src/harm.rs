//! What heat, water and air do to the resin over its stay.
//!
//! Followed along the way of the mean pellet: its temperature and the water activity that its mean
//! moisture has, from feed to air inlet, and below the inlet as it arrived there. The wetter heart
//! is harmed a little more and the drier rim a little less than the mean tells.

use crate::answer::Harm;
use crate::case::Case;
use bed::lived::Harms;
use bed::steady::Place;
use material::lost_share;

/// Harm over the stay, of what the record has rates for.
pub(crate) fn of(case: &Case, path: &[Place]) -> Harm {
    let below = case.below_inlet / case.rate;
    let harms = harms(case);
    let dose = |k: usize| {
        over_the_way(path, below, |place| {
            let at = (place.temperature, place.moisture, place.free_water);
            harms.rates(&case.lead.isotherm, at)[k]
        })
    };
    Harm {
        molar_mass_loss: harms.hydrolysis.map(|_| lost_share(dose(0)).fraction()),
        oxidation_dose: harms.oxidation.map(|_| dose(1)),
    }
}

/// The rates that the record of the lead has.
pub(crate) fn harms(case: &Case) -> Harms {
    let resin = &case.lead.resin;
    let degradation = &resin.degradation;
    Harms {
        hydrolysis: degradation.hydrolysis.as_ref().map(|found| found.law),
        oxidation: degradation.oxidation.as_ref().map(|found| found.law),
        stay: Some(resin.stay_law()),
        hot_from: case.air_temperature - HOT_WITHIN,
    }
}

/// How far below the drying temperature pellets still count as hot, K.
const HOT_WITHIN: f64 = 15.0;

/// A rate per second summed over the ages of the way, by trapezoids, and `below` seconds more at its
/// last value.
fn over_the_way(path: &[Place], below: f64, rate: impl Fn(&Place) -> f64) -> f64 {
    let on_the_way: f64 = path
        .windows(2)
        .map(|pair| 0.5 * (rate(&pair[0]) + rate(&pair[1])) * (pair[1].age - pair[0].age))
        .sum();
    on_the_way + path.last().map_or(0.0, |last| rate(last) * below)
}

#[cfg(test)]
mod tests {
    use super::over_the_way;
    use bed::steady::Place;

    #[test]
    fn exact_a_rate_is_summed_over_the_stay() {
        let at = |age: f64, temperature: f64| Place {
            height: 0.0,
            age,
            temperature,
            moisture: 0.0,
            surface: 0.0,
            heart: 0.0,
            free_water: 0.0,
            air_temperature: temperature,
            air_humidity: 0.0,
        };
        let path = [at(0.0, 1.0), at(10.0, 3.0), at(30.0, 3.0)];
        // 2 * 10 + 3 * 20, and 3 * 5 below the inlet.
        let sum = over_the_way(&path, 5.0, |place| place.temperature);
        assert!((sum - 95.0).abs() < 1e-12, "{sum}");
        assert!(over_the_way(&[], 5.0, |place| place.age).abs() <= 0.0);
    }
}
