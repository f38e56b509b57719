//! What a record comes to at its customary drying temperature, computed with the pellet's own model.

use crate::Trouble;
use crate::speech::hours;
use decide::answer::Ranged;
use libm::{exp, log, sqrt};
use material::{Diffusivity, Resin, Spread};
use pellet::history::{AirState, Curve, HistorySpec, PelletSpec, Segment, Start, Surround};
use quantity::constants::{MOLAR_GAS, STANDARD_ATMOSPHERE};
use quantity::{AbsolutePressure, Duration, MoistureDryBasis, Quantity, Velocity};
use serde::Serialize;

/// Standard deviations to each end of the range that holds nine in ten.
pub(crate) const NINE_IN_TEN: f64 = 1.645;
/// Stays that are looked at, s: the short one is enough for most.
const SHORT: f64 = 6.0 * 3600.0;
const LONGEST: f64 = 48.0 * 3600.0;
/// Air about the one pellet that is followed, m/s: inside decides at any usual velocity.
const VELOCITY: f64 = 0.3;
/// Room climate that moistures are compared at (ISO 291 standard atmosphere 23/50).
const ROOM: (f64, f64) = (296.15, 0.5);
/// No range is wider than this factor to each side.
const WIDEST: f64 = 50.0;

/// What becomes of one pellet from an opened package in the customary air.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case", tag = "it", content = "h")]
pub enum PelletTime {
    /// Water sits on its surface only: nothing has to leave its inside.
    TakesUpNoWater,
    /// It is inside the limit as it arrives.
    AlreadyInside,
    /// It reaches the limit after so many hours.
    Reaches(Ranged),
    /// It does not reach the limit in two days.
    Never,
}

/// Numbers that follow from a record.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ResinNumbers {
    /// Diffusivity of the dry resin at the customary temperature, m2/s.
    pub diffusivity_m2_s: Ranged,
    /// Moisture at activity 1 and the customary temperature, % of dry resin.
    pub capacity_percent_dry: f64,
    /// Moisture in equilibrium with a room of 23 degC and 50 %RH, ppm wet basis.
    pub in_a_room_ppm_wet: f64,
    /// Moisture in equilibrium with the customary air, ppm wet basis.
    pub floor_ppm_wet: f64,
    /// Time of one pellet from an opened package to the limit for moulding.
    pub pellet_time: PelletTime,
}

impl PelletTime {
    /// In words.
    pub(crate) fn words(&self) -> String {
        match self {
            Self::TakesUpNoWater => "surface water only".into(),
            Self::AlreadyInside => "already inside".into(),
            Self::Reaches(time) => hours(time.value),
            Self::Never => "not in 2 days".into(),
        }
    }
}

/// The numbers of a resin.
///
/// # Errors
/// A pellet that cannot be followed.
pub(crate) fn numbers(resin: &Resin) -> Result<ResinNumbers, Trouble> {
    let at: f64 = resin.drying.temperature.value.si();
    let law = &resin.isotherm.law;
    let diffusivity = diffusivity_at(resin, at);
    Ok(ResinNumbers {
        diffusivity_m2_s: diffusivity,
        capacity_percent_dry: 100.0 * law.moisture(at, 1.0),
        in_a_room_ppm_wet: wet_ppm(law.moisture(ROOM.0, ROOM.1)),
        floor_ppm_wet: wet_ppm(floor(resin)),
        pellet_time: pellet_time(resin, diffusivity)?,
    })
}

/// Diffusivity of the dry resin, with the range that the doubt of its size and of its activation
/// energy leaves open.
pub(crate) fn diffusivity_at(resin: &Resin, kelvin: f64) -> Ranged {
    let law = &resin.diffusivity;
    let value = law.law.at(kelvin, 0.0);
    let mut square = 0.0;
    if let Some(reference) = law.value("reference") {
        let moved = reference.spread.shift(reference.value, NINE_IN_TEN) / reference.value;
        square += log(moved.max(1.0)).powi(2);
    }
    if let Some(energy) = law.value("activation_energy")
        && let Some(reference) = law.value("reference_temperature")
    {
        let moved = match energy.spread {
            Spread::Exact => energy.value,
            spread => spread.shift(energy.value, NINE_IN_TEN),
        };
        let apart = (1.0 / kelvin - 1.0 / reference.value).abs();
        square += ((moved - energy.value) / MOLAR_GAS * apart).powi(2);
    }
    let factor = exp(sqrt(square)).min(WIDEST);
    Ranged {
        value,
        low: value / factor,
        high: value * factor,
    }
}

/// The way of the mean of one pellet from an opened package, warm from the beginning, in the
/// customary air; none where water sits on its surface only.
///
/// # Errors
/// A pellet that cannot be followed.
pub(crate) fn drying(resin: &Resin, law: Diffusivity) -> Result<Option<Curve>, Trouble> {
    let mut pellet = PelletSpec::of(resin)?;
    if !pellet.isotherm.takes_up_water() {
        return Ok(None);
    }
    pellet.diffusivity = law;
    let practice = &resin.drying;
    let limit: f64 = resin.limit.moulding.value.si();
    let air = AirState {
        temperature: practice.temperature.value,
        humidity: air::Humidity::FrostPoint(practice.frost_point.value),
    };
    let mut spec = HistorySpec {
        pellet,
        start: Start {
            temperature: practice.temperature.value,
            moisture: resin.received.opened.value,
            free_water: MoistureDryBasis::from_si(0.0),
        },
        pressure: AbsolutePressure::from_si(STANDARD_ATMOSPHERE),
        segments: Vec::new(),
        moments: Vec::new(),
        fineness: None,
        precision: None,
    };
    for longest in [SHORT, LONGEST] {
        spec.segments = vec![Segment::steady(
            "dryer",
            Duration::from_si(longest),
            air,
            Surround::Stream(Velocity::from_si(VELOCITY)),
        )];
        let curve = spec.check()?.follow()?;
        let dry = curve.last().is_some_and(|i| i.mean.si() <= 0.5 * limit);
        if dry || longest >= LONGEST {
            return Ok(Some(curve));
        }
    }
    Ok(None)
}

fn pellet_time(resin: &Resin, diffusivity: Ranged) -> Result<PelletTime, Trouble> {
    let limit: f64 = resin.limit.moulding.value.si();
    let begun: f64 = resin.received.opened.value.si();
    let law = resin.diffusivity.law;
    let time = |law: Diffusivity| -> Result<Option<f64>, Trouble> {
        let curve = drying(resin, law)?;
        let met = curve.and_then(|c| c.crossing(limit, |i| i.mean.si()));
        Ok(met.map(Duration::hours))
    };
    if !PelletSpec::of(resin)?.isotherm.takes_up_water() {
        return Ok(PelletTime::TakesUpNoWater);
    }
    if begun <= limit {
        return Ok(PelletTime::AlreadyInside);
    }
    let Some(value) = time(law)? else {
        return Ok(PelletTime::Never);
    };
    let fast = time(law.scaled(diffusivity.high / diffusivity.value))?;
    let slow = time(law.scaled(diffusivity.low / diffusivity.value))?;
    Ok(PelletTime::Reaches(Ranged {
        value,
        low: fast.unwrap_or(value).min(value),
        high: slow.unwrap_or(LONGEST / 3600.0).max(value),
    }))
}

/// Moisture in equilibrium with the customary air, kg/kg dry.
fn floor(resin: &Resin) -> f64 {
    let at = resin.drying.temperature.value;
    let saturated = air::saturation::over_liquid(at.si());
    let vapour = air::saturation::over_ice(resin.drying.frost_point.value.si());
    resin.isotherm.law.moisture(at.si(), vapour / saturated)
}

/// Moisture in ppm wet basis.
pub(crate) fn wet_ppm(dry_basis: f64) -> f64 {
    MoistureDryBasis::from_si(dry_basis.max(0.0))
        .wet_basis()
        .ppm()
}
