//! Histories that must come out as they do.

use super::check::usual_fineness;
use super::*;
use crate::film::{self, VELOCITY_HOLDS};
use air::{HumidAir, saturation};
use quantity::{Faults, FrostPoint, Range, RelativeHumidity};

pub(crate) type Outcome = Result<(), Box<dyn std::error::Error>>;

const ATMOSPHERE: f64 = 101_325.0;

/// Numbers of a polycarbonate pellet (invented lot).
fn pellet() -> PelletSpec {
    PelletSpec {
        outline: Outline::Cylinder {
            diameter: 2.5e-3,
            length: 3e-3,
        },
        isotherm: Isotherm::Henry {
            capacity: 0.005_945,
            reference_temperature: 373.15,
            mixing_heat: 7400.0,
        },
        diffusivity: Diffusivity::Arrhenius {
            reference: 8.7e-11,
            reference_temperature: 373.15,
            activation_energy: 33_100.0,
        },
        density: Density::from_kg_per_m3(1200.0),
        heat_capacity: SpecificHeatCapacity::from_j_per_kg_k(1120.0),
        heat_capacity_slope: HeatCapacitySlope::from_si(3.3),
        conductivity: Some(ThermalConductivity::from_w_per_m_k(0.2)),
        sorption_heat: None,
    }
}

fn state(celsius: f64, humidity: impl Into<Humidity>) -> AirState {
    AirState {
        temperature: Temperature::from_celsius(celsius),
        humidity: humidity.into(),
    }
}

fn percent(relative: f64) -> RelativeHumidity {
    RelativeHumidity::from_percent(relative)
}

fn segment(minutes: f64, air: AirState) -> Segment {
    let surround = Surround::Stream(Velocity::from_m_per_s(0.5));
    Segment::steady("air", Duration::from_minutes(minutes), air, surround)
}

/// 2000 ppm at 25 degC into dry air of 120 degC.
pub(crate) fn oven() -> HistorySpec {
    HistorySpec {
        pellet: pellet(),
        start: Start {
            temperature: Temperature::from_celsius(25.0),
            moisture: MoistureDryBasis::from_ppm(2000.0),
            free_water: MoistureDryBasis::from_ppm(0.0),
        },
        pressure: AbsolutePressure::from_pascal(ATMOSPHERE),
        segments: vec![segment(
            240.0,
            state(120.0, FrostPoint::from_celsius(-40.0)),
        )],
        moments: Vec::new(),
        fineness: None,
        precision: None,
    }
}

/// The same resin if it took up no water inside, wet on its surface.
pub(crate) fn wet_outside(ppm: f64) -> HistorySpec {
    let mut spec = oven();
    spec.pellet.isotherm = Isotherm::SurfaceOnly;
    spec.start.moisture = MoistureDryBasis::from_ppm(0.0);
    spec.start.free_water = MoistureDryBasis::from_ppm(ppm);
    spec
}

pub(crate) fn follow(spec: &HistorySpec) -> Result<Curve, Box<dyn std::error::Error>> {
    Ok(spec.check()?.follow()?)
}

fn end(curve: &Curve) -> Result<&Instant, Box<dyn std::error::Error>> {
    Ok(curve.last().ok_or("a curve has instants")?)
}

/// Total water, ppm.
fn water(instant: &Instant) -> f64 {
    instant.mean.ppm() + instant.free_water.ppm()
}

#[test]
fn holds_what_the_pellet_loses_is_the_sum_of_its_rate() -> Outcome {
    let mut cold = oven();
    cold.start.temperature = Temperature::from_celsius(0.0);
    cold.segments = vec![segment(30.0, state(30.0, percent(80.0)))];
    for spec in [oven(), wet_outside(4000.0), cold] {
        let curve = follow(&spec)?;
        let given: f64 = curve
            .instants
            .windows(2)
            .map(|pair| pair[1].drying_rate_per_s * (pair[1].time.si() - pair[0].time.si()))
            .sum();
        let lost = 1e-6 * (water(&curve.instants[0]) - water(end(&curve)?));
        assert!((given - lost).abs() < 1e-9 * lost.abs(), "{given} {lost}");
    }
    Ok(())
}

#[test]
fn exact_pellet_in_equilibrium_stays() -> Outcome {
    let mut spec = oven();
    let air = HumidAir::new(
        Temperature::from_celsius(23.0),
        spec.pressure,
        percent(50.0),
    )?;
    // The balance counts vapour pressure over that of pure water, without the enhancement factor.
    let activity = air.vapour_pressure().si() / saturation::over_liquid(296.15);
    let balance = spec.pellet.isotherm.moisture(296.15, activity);
    spec.start.temperature = Temperature::from_celsius(23.0);
    spec.start.moisture = MoistureDryBasis::from_si(balance);
    spec.segments = vec![segment(6000.0, state(23.0, percent(50.0)))];
    let curve = follow(&spec)?;
    for instant in &curve.instants {
        assert!((instant.mean.si() / balance - 1.0).abs() < 1e-7);
        assert!((instant.heart.si() / balance - 1.0).abs() < 1e-7);
        assert!((instant.pellet_temperature.celsius() - 23.0).abs() < 1e-5);
    }
    Ok(())
}

#[test]
fn exact_long_stay_ends_in_equilibrium() -> Outcome {
    let mut spec = oven();
    spec.segments[0].duration = Duration::from_hours(40.0);
    let curve = follow(&spec)?;
    let last = end(&curve)?;
    let air = HumidAir::new(
        Temperature::from_celsius(120.0),
        spec.pressure,
        FrostPoint::from_celsius(-40.0),
    )?;
    let activity = air.vapour_pressure().si() / saturation::over_liquid(393.15);
    let balance = spec.pellet.isotherm.moisture(393.15, activity);
    assert!((last.mean.si() / balance - 1.0).abs() < 1e-6);
    // A tenth of what a step may be off.
    assert!((last.pellet_temperature.celsius() - 120.0).abs() < 1e-4);
    Ok(())
}

#[test]
fn exact_surface_water_leaves_at_the_rate_of_the_film() -> Outcome {
    // At the balance of heat and vapour (wet bulb) the rate is that of the film there.
    let mut spec = wet_outside(100_000.0);
    spec.segments = vec![segment(0.4, state(60.0, percent(10.0)))];
    let curve = follow(&spec)?;
    let last = end(&curve)?;
    assert!(last.free_water.ppm() > 1000.0, "still wet");
    let t = last.pellet_temperature;
    let air = HumidAir::new(
        Temperature::from_celsius(60.0),
        spec.pressure,
        percent(10.0),
    )?;
    let at_film = Temperature::from_si(0.5 * (t.si() + air.temperature().si()));
    let film = film::in_stream(
        &spec.pellet.outline,
        &air.at_temperature(at_film)?,
        Velocity::from_m_per_s(0.5),
    )?;
    let pellet = &spec.pellet;
    let exchange = film::exchange(
        &pellet.outline,
        pellet.density,
        pellet.conductivity,
        &film,
        at_film,
    )?;
    let pressure = air.vapour_pressure().si();
    let rate = exchange.vapour * (saturation::over_liquid(t.si()) - pressure);
    assert!((last.drying_rate_per_s / rate - 1.0).abs() < 2e-4);
    let heat = exchange.heat * (air.temperature().si() - t.si());
    let spent = rate * (pellet.calorics().vapour_enthalpy(t.si()) - 4186.0 * t.celsius());
    assert!((heat / spent - 1.0).abs() < 1e-3, "{heat} {spent}");
    Ok(())
}

#[test]
fn holds_surface_water_goes_first_and_then_all_is_dry() -> Outcome {
    let curve = follow(&wet_outside(4000.0))?;
    let dry = curve
        .crossing(1e-12, |i| i.free_water.si())
        .ok_or("dries")?;
    assert!(dry.seconds() > 0.5 && dry.seconds() < 20.0, "{dry:?}");
    let last = end(&curve)?;
    assert!(last.free_water.ppm() <= 0.0);
    assert!((last.pellet_temperature.celsius() - 120.0).abs() < 1e-3);
    Ok(())
}

#[test]
fn holds_cold_pellet_is_wetted_by_warm_air_and_dries_again() -> Outcome {
    let mut spec = oven();
    spec.start.temperature = Temperature::from_celsius(0.0);
    spec.start.moisture = MoistureDryBasis::from_ppm(200.0);
    spec.segments = vec![segment(120.0, state(30.0, percent(80.0)))];
    let curve = follow(&spec)?;
    let most = curve
        .instants
        .iter()
        .fold(0.0_f64, |most, i| most.max(i.free_water.ppm()));
    // All the cold of the pellet spent on condensing would give c (30 - 0)/h_v = 1.4 %.
    assert!(most > 3000.0 && most < 14_000.0, "{most}");
    let last = end(&curve)?;
    assert!(last.free_water.ppm() <= 0.0);
    assert!(last.mean.ppm() > 1000.0, "some of it went inside");
    for instant in &curve.instants {
        assert!(instant.heart.ppm() <= instant.surface.ppm() * 1.000_01 + 1e-9);
    }
    Ok(())
}

#[test]
fn holds_coarser_steps_come_to_the_same_end() -> Outcome {
    let mut spec = oven();
    spec.moments = vec![Duration::from_minutes(3.0), Duration::from_minutes(60.0)];
    let usual = follow(&spec)?;
    spec.precision = Some(1e-8);
    spec.fineness = Some(400);
    let fine = follow(&spec)?;
    for moment in &spec.moments {
        let pick = |curve: &Curve| {
            let found = curve.instants.iter().find(|i| i.time == *moment);
            found.map(|i| i.mean.ppm()).ok_or("asked for")
        };
        let (usual, fine) = (pick(&usual)?, pick(&fine)?);
        assert!((usual / fine - 1.0).abs() < 1e-5, "{usual} {fine}");
    }
    Ok(())
}

#[test]
fn holds_ramp_ends_like_its_end() -> Outcome {
    let mut spec = oven();
    let (cool, warm) = (state(20.0, percent(95.0)), state(60.0, percent(95.0)));
    spec.segments = vec![Segment {
        to: warm,
        ..segment(600.0, cool)
    }];
    let curve = follow(&spec)?;
    let middle = curve.at(Duration::from_minutes(300.0), |i| i.air_temperature.si());
    assert!((middle.ok_or("there")? - 313.15).abs() < 0.05);
    assert!((end(&curve)?.air_temperature.celsius() - 60.0).abs() < 1e-9);
    // The same ends, said in different measures, meet along a chord that no air can hold.
    spec.segments[0].to = state(60.0, FrostPoint::from_celsius(-10.0));
    assert!(follow(&spec).is_ok());
    let saturated = HumidAir::new(warm.temperature, spec.pressure, percent(95.0))?;
    spec.segments[0].to = state(60.0, saturated.humidity_ratio());
    let faults = spec.check().err().ok_or("supersaturated between")?;
    assert!(faults.to_string().contains("between both ends"), "{faults}");
    Ok(())
}

#[test]
fn holds_a_bag_slows_the_pellet_down() -> Outcome {
    let mut spec = oven();
    spec.start.moisture = MoistureDryBasis::from_ppm(100.0);
    spec.segments = vec![segment(1440.0, state(25.0, percent(60.0)))];
    let open = end(&follow(&spec)?)?.mean.ppm();
    // A lining that passes 1 g a day per bag of 25 kg at 3 kPa.
    spec.segments[0].cover = Some(Exchange {
        heat: 1.0,
        vapour: 1e-3 / 86_400.0 / 3000.0 / 25.0,
    });
    let bagged = end(&follow(&spec)?)?.mean.ppm();
    assert!(open > 1200.0, "{open}");
    // 60 % of 3.17 kPa drives 0.63 g into 25 kg: 25 ppm.
    assert!((bagged - 125.0).abs() < 3.0, "{bagged}");
    Ok(())
}

#[test]
fn holds_every_mistake_is_listed_with_its_place() {
    let mut spec = oven();
    spec.start.moisture = MoistureDryBasis::from_percent(-1.0);
    spec.start.temperature = Temperature::from_celsius(900.0);
    spec.segments[0].duration = Duration::from_si(-5.0);
    spec.segments[0].from = state(20.0, percent(120.0));
    spec.pellet.density = Density::from_kg_per_m3(f64::NAN);
    let faults = spec.check().err().unwrap_or_default();
    let paths: Vec<&str> = faults.iter().map(|f| f.place.path.as_str()).collect();
    assert_eq!(
        paths,
        [
            "pellet",
            "segments[0].duration",
            "segments[0].from",
            "start.moisture",
            "start.temperature"
        ]
    );
    let mut empty = oven();
    empty.segments.clear();
    assert_eq!(empty.check().err().map_or(0, |faults| faults.len()), 1);
    let mut inside = wet_outside(0.0);
    inside.start.moisture = MoistureDryBasis::from_ppm(300.0);
    assert_eq!(inside.check().err().map_or(0, |faults| faults.len()), 1);
}

/// Whether a spec with one number just inside each end of its range passes, and just outside fails.
fn guarded(range: Range, set: impl Fn(f64) -> HistorySpec) {
    let step = 1e-6 * (range.high - range.low);
    let passes = |x: f64| {
        set(x)
            .check()
            .map(|_| ())
            .map_err(|f: Faults| f.to_string())
    };
    for inside in [range.low, range.high] {
        assert_eq!(passes(inside), Ok(()), "{range:?} {inside}");
    }
    for outside in [range.low - step, range.high + step, f64::NAN] {
        assert!(passes(outside).is_err(), "{range:?} {outside}");
    }
}

#[test]
fn holds_just_inside_and_just_outside_of_every_range() {
    guarded(MOISTURE_HOLDS, |x| {
        let mut spec = oven();
        spec.start.moisture = MoistureDryBasis::from_si(x);
        spec
    });
    guarded(FREE_WATER_HOLDS, |x| {
        let mut spec = oven();
        spec.start.free_water = MoistureDryBasis::from_si(x);
        spec
    });
    guarded(TIME_HOLDS, |x| {
        let mut spec = oven();
        spec.segments[0].duration = Duration::from_si(x);
        spec
    });
    guarded(PRECISION_HOLDS, |x| HistorySpec {
        precision: Some(x),
        ..oven()
    });
    guarded(VELOCITY_HOLDS, |x| {
        let mut spec = oven();
        spec.segments[0].surround = Surround::Stream(Velocity::from_m_per_s(x));
        spec
    });
    let mut plasticised = oven();
    plasticised.pellet.diffusivity = Diffusivity::Exponential {
        reference: 8.7e-11,
        reference_temperature: 373.15,
        activation_energy: 33_100.0,
        moisture_exponent: 100.0,
    };
    for (base, range) in [(oven(), MODES_HOLDS), (plasticised.clone(), NODES_HOLDS)] {
        // The ends of both ranges are whole numbers.
        for fineness in [3, 4, 40, 41, 1000, 1001] {
            let spec = HistorySpec {
                fineness: Some(fineness),
                ..base.clone()
            };
            let inside = range.contains(fineness as f64);
            assert_eq!(spec.check().is_ok(), inside, "{range:?} {fineness}");
        }
    }
    assert!(usual_fineness(&oven()) > usual_fineness(&plasticised));
}

#[test]
fn exact_a_history_cut_in_two_is_the_whole() -> Outcome {
    // The one stretch is the other two; a jump between them is none, so the surface goes on.
    let whole = oven();
    let mut first = oven();
    first.segments[0].duration = Duration::from_minutes(90.0);
    let mut second = oven();
    second.segments[0].duration = Duration::from_minutes(150.0);
    let (_, left) = {
        let history = first.check()?;
        let even = Journey::begun(&history)?.finish_with()?;
        assert_eq!(even.0, history.follow()?);
        even
    };
    let (curve, end_of) = second.check()?.follow_from(&left)?;
    let once = follow(&whole)?;
    let (twice, once) = (end(&curve)?, end(&once)?);
    assert!((twice.mean.si() / once.mean.si() - 1.0).abs() < 2e-4);
    assert!((twice.heart.si() / once.heart.si() - 1.0).abs() < 2e-4);
    assert!((end_of.moisture / twice.mean.si() - 1.0).abs() < 1e-12);
    assert!((curve.instants[0].mean.si() / left.moisture - 1.0).abs() < 1e-12);
    Ok(())
}

#[test]
fn holds_an_inside_of_other_fineness_is_refused() -> Outcome {
    let mut coarse = oven();
    coarse.fineness = Some(20);
    let (_, left) = Journey::begun(&coarse.check()?)?.finish_with()?;
    let refused = oven().check()?.follow_from(&left);
    assert!(matches!(refused, Err(PelletError::OtherInside { .. })));
    Ok(())
}
