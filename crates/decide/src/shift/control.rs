//! How a dryer is run, from what is stated and what is usual.

use crate::DecideError;
use crate::case::{Case, celsius};
use job::{ControlSettings, DemandSense};
use line::control::{BakeOut, Control, Sense, Setback, Warn};
use line::{Line, LineSteady};
use quantity::{Quantity, TemperatureDifference};
use serde::Serialize;

/// What is usual where nothing is stated (all common practice, no source).
pub(crate) mod usual {
    /// Lag of what is sensed, s.
    pub(crate) const LAG: f64 = 600.0;
    /// Least share of the air that follows demand.
    pub(crate) const LEAST_AIR: f64 = 0.4;
    /// Demand below which the set point is set back, and above which it recovers.
    pub(crate) const BELOW: f64 = 0.25;
    pub(crate) const ABOVE: f64 = 0.4;
    /// How long demand is low before, s.
    pub(crate) const AFTER: f64 = 1800.0;
    /// Fastest change of the set point, K/h.
    pub(crate) const RAMP: f64 = 120.0;
    /// Time a hopper needs to warm up before it counts as held, s.
    pub(crate) const WARM_UP: f64 = 1800.0;
    /// Bake-out: how much hotter the regeneration is, K, and how long, s.
    pub(crate) const BAKE_OUT: (f64, f64) = (30.0, 7200.0);
    /// Humidity delivered that is warned of, over that at rest: some 10 K of dew point.
    pub(crate) const HUMIDER: f64 = 3.0;
    /// Difference from the set point that is warned of, K, and for how long, s.
    pub(crate) const AWAY: f64 = 5.0;
    pub(crate) const WARN_AFTER: f64 = 900.0;
    /// Humidity of the return that still counts as usual, over that at rest.
    pub(crate) const HUMIDER_RETURN: f64 = 1.5;
}

/// A setting that was chosen because nothing is stated.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Chosen {
    /// What.
    pub what: &'static str,
    /// Its value in words with its unit.
    pub value: String,
}

/// The control of a case on its line at rest.
///
/// # Errors
/// When a humidity that is stated cannot be.
pub(crate) fn control(
    case: &Case,
    (line, steady): (&Line, &LineSteady),
    settings: &ControlSettings,
) -> Result<(Control, Vec<Chosen>), DecideError> {
    let mut chosen = Vec::new();
    let mut choose = |what: &'static str, value: String| chosen.push(Chosen { what, value });
    let served = &steady.stations[0];
    let (inlet, hall, feed) = (
        served.inlet.temperature,
        line.room.temperature,
        case.feed_temperature,
    );
    let hopper = case.hopper()?;
    let wall = hopper.wall.total();
    let left = served.inlet.heat_capacity() * (inlet - served.steady.return_temperature)
        - wall * (inlet - hall);
    let demand_heat = (left / (inlet - feed)).max(0.05 * case.rate * case.lead.calorics.resin);
    let sense = settings.sense.map_or_else(
        || {
            choose(
                "demand is taken from",
                DemandSense::ReturnAir.words().to_owned(),
            );
            Sense::ReturnAir
        },
        sense_of,
    );
    let lag = settings.lag.map_or_else(
        || {
            choose("lag of what is sensed", minutes(usual::LAG));
            usual::LAG
        },
        Quantity::si,
    );
    let air_follows = settings.air_follows.unwrap_or(settings.least_air.is_some());
    let least_air = air_follows.then(|| {
        settings.least_air.map_or_else(
            || {
                choose("least air", percent(usual::LEAST_AIR));
                usual::LEAST_AIR
            },
            Quantity::si,
        )
    });
    let setback = settings.setback.map(|to| {
        let mut share = |stated: Option<quantity::Fraction>, what, usual: f64| {
            stated.map_or_else(
                || {
                    choose(what, percent(usual));
                    usual
                },
                Quantity::si,
            )
        };
        let below = share(settings.setback_below, "set back below", usual::BELOW);
        let above = share(
            settings.recover_above,
            "recovers above",
            usual::ABOVE.max(below),
        );
        Setback {
            temperature: to.si(),
            below,
            after: settings.setback_after.map_or(usual::AFTER, Quantity::si),
            above: above.max(below),
        }
    });
    if setback.is_some() && settings.setback_after.is_none() {
        choose("set back after", minutes(usual::AFTER));
    }
    let ramp: f64 = settings
        .ramp_per_hour
        .map_or(usual::RAMP, TemperatureDifference::si);
    let hold = settings
        .hold_until_dry
        .unwrap_or(true)
        .then(|| case.residence());
    if settings.hold_until_dry.is_none() {
        let value = format!("{} at the set point", minutes(case.residence()));
        choose("the press waits after a start", value);
    }
    Ok((
        Control {
            set_point: case.air_temperature,
            air_flow: case.air_flow,
            rate: case.rate,
            demand_heat,
            wall,
            shortfall: shortfall(case, served, feed),
            sense,
            lag,
            least_air,
            setback,
            ramp: ramp / 3600.0,
            off: Vec::new(),
            hold,
            regeneration: line.maker.regeneration().unwrap_or(hall),
            bake_out: bake_out(case, line, settings)?,
            usual_return: usual::HUMIDER_RETURN * served.steady.return_humidity,
            warn: warn(case, steady, settings)?,
        },
        chosen,
    ))
}

/// How long before work a dryer is switched on again, s.
pub(crate) fn on_before(control: &Control, settings: &ControlSettings) -> f64 {
    settings.on_before.map_or_else(
        || control.hold.unwrap_or(0.0) + usual::WARM_UP,
        Quantity::si,
    )
}

pub(crate) fn sense_of(sense: DemandSense) -> Sense {
    match sense {
        DemandSense::ReturnAir => Sense::ReturnAir,
        DemandSense::HopperTemperatures => Sense::HopperTemperatures,
        DemandSense::LoaderCycles => Sense::LoaderCycles,
        DemandSense::Level => Sense::Level,
        DemandSense::Told => Sense::Told,
    }
}

/// Mean shortfall of the temperatures along the hopper, of the lift of the feed.
fn shortfall(case: &Case, served: &line::Served, feed: f64) -> f64 {
    let inlet = served.inlet.temperature;
    let path = &served.steady.lead.path;
    let at = |share: f64| {
        let height = share * case.bed_mass;
        let near = path.iter().min_by(|a, b| {
            (a.height - height)
                .abs()
                .total_cmp(&(b.height - height).abs())
        });
        near.map_or(inlet, |place| place.temperature)
    };
    let mean = [0.2, 0.4, 0.6, 0.8].map(at).iter().sum::<f64>() / 4.0;
    ((inlet - mean) / (inlet - feed)).max(0.01)
}

fn bake_out(
    case: &Case,
    line: &Line,
    settings: &ControlSettings,
) -> Result<Option<BakeOut>, DecideError> {
    let Some(regeneration) = line.maker.regeneration() else {
        return Ok(None);
    };
    let above = settings
        .bake_out_above
        .map(|stated| ratio_of(case, stated))
        .transpose()?;
    let every = settings.bake_out_every.map(Quantity::si);
    let asked = above.is_some() || every.is_some();
    Ok(asked.then(|| BakeOut {
        every,
        above,
        temperature: settings
            .bake_out_temperature
            .map_or(regeneration + usual::BAKE_OUT.0, Quantity::si),
        time: settings
            .bake_out_time
            .map_or(usual::BAKE_OUT.1, Quantity::si),
    }))
}

fn warn(case: &Case, steady: &LineSteady, settings: &ControlSettings) -> Result<Warn, DecideError> {
    let humidity = match settings.warn_humidity {
        Some(stated) => ratio_of(case, stated)?,
        None => usual::HUMIDER * steady.delivered.humidity.max(case.air_humidity),
    };
    Ok(Warn {
        humidity,
        difference: settings.warn_temperature.map_or(usual::AWAY, Quantity::si),
        after: usual::WARN_AFTER,
    })
}

fn ratio_of(case: &Case, stated: quantity::Humidity) -> Result<f64, DecideError> {
    let pressure = quantity::AbsolutePressure::from_si(case.pressure);
    let at = quantity::Temperature::from_si(case.air_temperature);
    let found = crate::humidity::ratio(stated, at, pressure, pressure, "the control of the dryer")?;
    Ok(found.si())
}

fn minutes(seconds: f64) -> String {
    format!("{:.0} min", seconds / 60.0)
}

fn percent(share: f64) -> String {
    format!("{:.0} %", 100.0 * share)
}

/// Temperatures of a control for people.
pub(crate) fn set_back_to(control: &Control) -> Option<f64> {
    control.setback.map(|setback| celsius(setback.temperature))
}
