//! How the supply of a desiccant goes up and down though the line is at rest.

use dryer::condensation_temperature;
use dryer::towers::TowersSteady;
use dryer::wheel::{Duty, Wheel, WheelSteady};

/// The driest and the wettest air of a supply at rest, before seals let in what they do.
///
/// Of towers they follow each other in time, so that an instrument sees them one after the other. Of a wheel
/// they leave side by side for ever: an instrument close behind it sees one of them, one after hoses and
/// bends the mean.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ripple {
    /// Condensation point of the driest air, K.
    pub driest: f64,
    /// Condensation point of the wettest air, K: of a wheel where the process sector begins or ends, of towers
    /// after the swap.
    pub wettest: f64,
    /// Hottest air, K.
    pub hottest: f64,
    /// Seconds from swap to swap of towers; none for a wheel.
    pub period: Option<f64>,
    /// Seconds of that in which the condensation point is more than 10 K above that of the mean, the longer
    /// of the two towers.
    pub wet_for: f64,
}

impl Ripple {
    pub(crate) fn of_wheel(wheel: &Wheel, steady: &WheelSteady) -> Option<Self> {
        let place = wheel.sector(Duty::Process)?;
        let outlet = steady.outlets.get(place)?;
        let points = steady.by_angle.iter();
        let driest = points
            .filter(|point| point.sector == place)
            .map(|point| point.humidity)
            .fold(outlet.wettest, f64::min);
        Some(Self {
            driest: condensation_temperature(driest, wheel.spec.pressure),
            wettest: outlet.wettest_dew_point,
            hottest: outlet.hottest,
            period: None,
            wet_for: 0.0,
        })
    }

    pub(crate) fn of_towers(steady: &TowersSteady, pressure: f64) -> Self {
        let outlets = steady.halves.iter().map(|half| &half.outlet);
        let most = |of: &dyn Fn(&dryer::towers::Outlet) -> f64| {
            outlets.clone().map(of).fold(0.0, f64::max)
        };
        let moments = steady.halves.iter().flat_map(|half| &half.moments);
        let driest = moments
            .map(|moment| moment.dry.humidity)
            .fold(f64::INFINITY, f64::min);
        let time = steady.halves.iter().map(|half| half.duration);
        Self {
            driest: condensation_temperature(driest, pressure),
            wettest: most(&|outlet| outlet.wettest_dew_point),
            hottest: most(&|outlet| outlet.hottest),
            period: Some(0.5 * time.sum::<f64>()),
            wet_for: most(&|outlet| outlet.wet_for),
        }
    }
}
