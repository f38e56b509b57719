//! A pellet on its way after the dryer: closed forms of a sphere in air that stays.
//!
//! What is compared: the mean moisture of a sphere of polycarbonate of the library that keeps the
//! temperature of the hall, behind a film as good as none. Begun dry it is
//! `X_eq (1 - S(Fo))` with `S = 6/pi2 sum exp(-n2 pi2 Fo)/n2` (Crank (1975), The Mathematics of
//! Diffusion, second edition, eq. 6.20). Begun as it leaves dry air, in which it lay for `Fo_1` from an
//! even moisture X_0, it is `X_eq (1 - S(Fo_2)) + X_0 S(Fo_1 + Fo_2)`: diffusion with a constant
//! diffusivity adds up, so that the profile it was left with counts, and not its mean alone.
//! Tolerance: 1e-4 of the water, the promise of a curve, for each of the two ways.
//! Errata and doubts: equation numbers from memory.

use crate::published::resin;
use crate::{Kind, Row};
use air::HumidAir;
use decide::way::Traveller;
use pellet::Outline;
use pellet::history::{AirState, PelletSpec, Segment, Surround};
use quantity::constants::STANDARD_ATMOSPHERE;
use quantity::{
    AbsolutePressure, Duration, HeatTransferCoefficient, HumidityRatio, MassTransferCoefficient,
    MoistureDryBasis, Quantity, RelativeHumidity, Temperature,
};
use std::f64::consts::PI;

const SOURCE: &str = "Crank (1975), sphere on its way";
/// Radius, m.
const RADIUS: f64 = 1.5e-3;
/// Even moisture before drying.
const FIRST_PPM: f64 = 1500.0;
/// Times in dry air and in the hall, over `R2/D`.
const FOURIER: [(f64, f64); 4] = [(0.02, 0.005), (0.1, 0.02), (0.1, 0.2), (0.3, 0.05)];

/// What is left of an even moisture.
fn left(fourier: f64) -> f64 {
    let terms = (1..4000).map(|n| {
        let n = f64::from(n) * PI;
        6.0 / (n * n) * (-n * n * fourier).exp()
    });
    terms.sum()
}

/// The sphere, the balance with the hall, and the time of Fo 1, s.
struct Known {
    traveller: Traveller,
    hall: AirState,
    balance: f64,
    unit: f64,
}

fn known() -> Option<Known> {
    let pc = resin("pc")?;
    let pellet = PelletSpec {
        outline: Outline::Sphere {
            diameter: 2.0 * RADIUS,
        },
        conductivity: None,
        ..PelletSpec::of(&pc).ok()?
    };
    let pressure = AbsolutePressure::from_pascal(STANDARD_ATMOSPHERE);
    let warm = Temperature::from_celsius(23.0);
    let damp = RelativeHumidity::from_percent(50.0);
    let air = HumidAir::new(warm, pressure, damp).ok()?;
    // Balance counts vapour pressure over that of pure water, without the enhancement factor.
    let activity = air.vapour_pressure().si() / air::saturation::over_liquid(warm.kelvin());
    Some(Known {
        balance: pc.isotherm.law.moisture(warm.kelvin(), activity),
        unit: RADIUS * RADIUS / pc.diffusivity.law.at(warm.kelvin(), 0.0),
        traveller: Traveller::with(pellet, pressure).ok()?,
        hall: AirState {
            temperature: warm,
            humidity: damp.into(),
        },
    })
}

/// A stretch behind a film as good as none, Fo long.
fn stretch(known: &Known, air: AirState, fourier: f64) -> Segment {
    Segment::steady(
        "air",
        Duration::from_si(fourier * known.unit),
        air,
        Surround::Stated(
            HeatTransferCoefficient::from_si(1e5),
            MassTransferCoefficient::from_si(1e3),
        ),
    )
}

/// Mean moisture after the hall, begun dry or as dry air leaves it.
fn mean(known: &Known, before: Option<f64>, after: f64) -> Option<f64> {
    let first = if before.is_some() { FIRST_PPM } else { 0.0 };
    let mut pellet = known
        .traveller
        .even(known.hall.temperature, MoistureDryBasis::from_ppm(first));
    if let Some(fourier) = before {
        let dry = AirState {
            humidity: HumidityRatio::from_si(0.0).into(),
            ..known.hall
        };
        let stretch = stretch(known, dry, fourier);
        let through = known.traveller.through(&pellet, vec![stretch], Vec::new());
        pellet = through.ok()?.1;
    }
    let stretch = stretch(known, known.hall, after);
    let through = known.traveller.through(&pellet, vec![stretch], Vec::new());
    Some(through.ok()?.1.water())
}

/// Every row.
pub fn rows() -> Vec<Row> {
    let row = |what: String, expected: Option<f64>, computed: Option<f64>| Row {
        source: SOURCE,
        what,
        unit: "ppm dry",
        expected: 1e6 * expected.unwrap_or(f64::NAN),
        computed: 1e6 * computed.unwrap_or(f64::NAN),
        tolerance: 2e-4,
        absolute: false,
        why: "the promise of a curve, twice",
        kind: Kind::Exact,
        disputed: None,
    };
    let known = known();
    let known = known.as_ref();
    let mut rows = Vec::new();
    for (before, after) in FOURIER {
        rows.push(row(
            format!("PC sphere begun dry, in the hall for Fo {after}"),
            known.map(|known| known.balance * (1.0 - left(after))),
            known.and_then(|known| mean(known, None, after)),
        ));
        rows.push(row(
            format!("PC sphere dried for Fo {before}, in the hall for Fo {after}"),
            known.map(|known| {
                known.balance * (1.0 - left(after)) + 1e-6 * FIRST_PPM * left(before + after)
            }),
            known.and_then(|known| mean(known, Some(before), after)),
        ));
    }
    rows
}

#[cfg(test)]
mod tests {
    #[test]
    fn exact_pellet_on_its_way() {
        crate::check(&super::rows());
    }
}
