//! What holds of a line: balances, closed forms, and that time ends in rest.

#![expect(
    clippy::unwrap_used,
    reason = "a trial that cannot be built has failed"
)]

mod blown;
mod crystalliser;
mod supply;
mod towers;
mod vacuum;
mod way;

use crate::*;
use bed::column::{Column, Feeding, Wall};
use dryer::blower::{BlowerPower, BlowerSpec, Turning};
use dryer::cooler::CoolerSpec;
use dryer::exchanger::{Arrangement, Exchanger, ExchangerSpec, Fouling};
use dryer::fan_curve::FanCurveSpec;
use dryer::heater::{Control, Heater, HeaterSpec};
use dryer::sorption::{self, Adsorbed, LawPoint, Passages};
use dryer::wheel::{Duty, End, Leak, Mesh, Sector, WheelSpec};
use dryer::{Resistance, Stream};
use material::{Diffusivity, Isotherm};
use pellet::Outline;
use pellet::contact::{Calorics, Contact, Exchange};
use pellet::interior::Interior;
use quantity::constants::ZERO_CELSIUS;
use quantity::{
    ActualVolumeFlow, Density, Fraction, MassFlow, Power, PressureDifference, Quantity,
    Temperature, ThermalConductance,
};

pub(crate) const DAY: Room = Room {
    temperature: ZERO_CELSIUS + 23.0,
    humidity: 0.009,
    pressure: 101_325.0,
};

fn heater(kilowatts: f64) -> Heater {
    HeaterSpec {
        power: Power::from_kilowatts(kilowatts),
        elements: 3,
        lost: 0,
        control: Control::Integral,
        outlet_limit: Temperature::from_celsius(300.0),
        element: None,
    }
    .check()
    .unwrap()
}

fn fan(name: &'static str, shut_off: f64, free_flow: f64) -> Fan {
    let blower = BlowerSpec {
        curve: FanCurveSpec::Parabola {
            shut_off: PressureDifference::from_si(shut_off),
            free_flow: ActualVolumeFlow::from_m3_per_hour(free_flow),
        },
        rated_density: Density::from_si(1.2),
        speed: Fraction::from_si(1.0),
        power: BlowerPower::Efficiency(Fraction::from_si(0.45)),
        motor_efficiency: Fraction::from_si(0.8),
        motor_heat_to_air: Fraction::from_si(0.0),
        turning: Turning::Forwards,
    };
    Fan {
        name,
        blower: blower.check().unwrap(),
        control: FlowControl::Speed,
    }
}

/// Twenty-five kg/h of pellets of 3 mm as polycarbonate is, four hours of them, 120 degC.
pub(crate) fn station(name: &str) -> Station {
    let isotherm = Isotherm::Henry {
        capacity: 0.006,
        reference_temperature: 373.15,
        mixing_heat: 6300.0,
    };
    let diffusivity = Diffusivity::Arrhenius {
        reference: 1.3e-10,
        reference_temperature: 393.15,
        activation_energy: 33.1e3,
    };
    let outline = Outline::Sphere { diameter: 3e-3 };
    let contact = Contact {
        interior: Interior::of(&outline, &isotherm, &diffusivity, 6).unwrap(),
        isotherm,
        diffusivity,
        calorics: Calorics {
            resin: 1400.0,
            resin_slope: 0.0,
            dry_air: air::caloric::DRY_AIR_HEAT,
            vapour: air::caloric::VAPOUR_HEAT,
            water: air::caloric::WATER_HEAT,
            evaporation: air::caloric::EVAPORATION,
            sorption: None,
        },
        exchange: Exchange {
            heat: 100.0,
            vapour: 5.5e-7,
        },
        pressure: DAY.pressure,
    };
    Station {
        name: name.to_owned(),
        column: Column {
            contact,
            beside: Vec::new(),
            mass: 100.0,
            wall: Wall::of_slices(&[0.03; 100]),
            wall_on_pellets: false,
            feeding: Feeding::Continuous,
            parcels: 36,
            steps_per_parcel: 1,
        },
        feed: Feed {
            rate: 25.0 / 3600.0,
            temperature: DAY.temperature,
            moisture: 2e-3,
            free_water: 0.0,
        },
        air_flow: 62.0 / 3600.0,
        set_point: ZERO_CELSIUS + 120.0,
        heater: heater(6.0),
        resistance: Resistance::of_rating(1500.0, 0.02, 1.0, 2.1e-5, 0.3),
        way: Way::default(),
    }
}

fn open_air(recirculated: f64) -> Line {
    Line {
        maker: Maker::OpenAir(OpenAir {
            recirculated,
            resistance: Resistance::of_rating(300.0, 0.02, 1.2, 1.8e-5, 0.5),
            fan: fan("blower", 6000.0, 150.0),
        }),
        stations: vec![station("hopper")],
        room: DAY,
    }
}

/// A law of Toth with the numbers of 13X: Wang and LeVan (2009), J. Chem. Eng. Data 54, 2839.
fn zeolite() -> Adsorbed {
    Adsorbed::tabulated(0.2712, toth)
}

fn toth(q: f64, t: f64) -> LawPoint {
    let (capacity, b0, e, n0, c): (f64, f64, f64, f64, f64) =
        (0.271_875, 2.408e-10, 6852.0, 0.3974, -4.199);
    let theta = (q / capacity).min(1.0 - 1e-12);
    let n = n0 + c / t;
    let power = libm::exp(n * libm::log(theta));
    let rest = 1.0 - power;
    let by_n = libm::log(rest) / (n * n) + power * libm::log(theta) / (n * rest);
    LawPoint {
        ln_pressure: libm::log(theta) - libm::log(rest) / n - (libm::log(b0) + e / t),
        by_loading: 1.0 / (q * rest),
        by_temperature: e / (t * t) + by_n * (-c / (t * t)),
    }
}

fn wheel_loop(cooling_to: CoolingTo) -> WheelLoop {
    let sector = |duty, angle, way| Sector { duty, angle, way };
    let wheel = WheelSpec {
        diameter: 0.25,
        face_used: 0.85,
        depth: 0.2,
        passages: Passages {
            area: 2370.0,
            open: 0.763,
            hydraulic_diameter: 1.29e-3,
            nusselt: 2.4,
            friction: 11.3,
            sheet: 0.2e-3,
        },
        matrix_density: 213.0,
        sorbent_share: 0.7,
        capacity_left: 1.0,
        matrix_heat: 950.0,
        pore_diffusivity: Some(2e-6),
        sectors: vec![
            sector(Duty::Process, 252.0, sorption::Way::Along),
            sector(Duty::Regeneration, 72.0, sorption::Way::Against),
            sector(Duty::Cooling, 36.0, sorption::Way::Along),
        ],
        leaks: Vec::new(),
        channels_carry_air: false,
        pressure: DAY.pressure,
        sorbent: zeolite(),
        mesh: Mesh::FINE,
    };
    WheelLoop {
        wheel: wheel.check().unwrap(),
        turns_per_hour: 5.0,
        drive_power: 20.0,
        process: ProcessSide {
            resistance: Resistance::of_rating(600.0, 0.02, 1.1, 1.9e-5, 0.5),
            cooler: Some((
                CoolerSpec {
                    air_conductance: ThermalConductance::from_si(60.0),
                    coolant_conductance: ThermalConductance::from_si(300.0),
                    rated_flow: MassFlow::from_kg_per_hour(62.0),
                    flow_exponent: Fraction::from_si(0.6),
                    fouling: Fouling::Clean,
                }
                .check()
                .unwrap(),
                CooledBy::Water(0.05, ZERO_CELSIUS + 18.0),
            )),
            blower_first: false,
            fan: fan("process blower", 9000.0, 150.0),
            leak: 0.002 * 62.0 / 3600.0,
        },
        cooling_flow: 6.0 / 3600.0,
        cooling_to,
        regeneration: Regeneration {
            air_flow: 16.0 / 3600.0,
            set_point: ZERO_CELSIUS + 190.0,
            heater: heater(2.0),
            fan: fan("regeneration blower", 2500.0, 40.0),
            resistance: Resistance::of_rating(200.0, 0.005, 1.2, 1.8e-5, 0.5),
            recovery: None,
            casing: Casing {
                heat_capacity: 6.0 * 480.0,
            },
        },
    }
}

fn recovery() -> Exchanger {
    ExchangerSpec {
        arrangement: Arrangement::Counterflow,
        conductance: ThermalConductance::from_si(8.0),
        rated_flow: MassFlow::from_kg_per_hour(16.0),
        flow_exponent: Fraction::from_si(0.4),
        fouling: Fouling::Clean,
    }
    .check()
    .unwrap()
}

/// A mesh between the wheel's own two: its slots are the steps of these lines.
const MIDDLE: Mesh = Mesh {
    slices: 12,
    slots: 16,
    growth: 0.7,
};

/// The same line with a wheel of a coarser mesh.
pub(crate) fn coarse(line: &Line) -> Line {
    let mut line = line.clone();
    if let Maker::Wheel(dryer) = &mut line.maker {
        dryer.wheel = dryer.wheel.resolved(MIDDLE).unwrap();
    }
    line
}

pub(crate) fn with_wheel(cooling_to: CoolingTo) -> Line {
    Line {
        maker: Maker::Wheel(Box::new(wheel_loop(cooling_to))),
        stations: vec![station("hopper")],
        room: DAY,
    }
}

fn frost_point(stream: &Stream) -> f64 {
    air::equilibrium::frost_temperature(air::mixture::mole_fraction(stream.humidity), DAY.pressure)
        - ZERO_CELSIUS
}

/// The sums over the border, all to rounding.
fn closes(account: &Account) {
    for ledger in [account.dry_air(), account.water(), account.energy()] {
        assert!(ledger.imbalance() < 1e-9, "{ledger:#?}");
    }
}

fn supply(line: &Line) -> f64 {
    frost_point(&line.steady(None).unwrap().delivered)
}

#[test]
fn holds_what_crosses_the_border_adds_up_at_rest() -> Result<(), LineError> {
    for recirculated in [0.0, 0.5, 0.9] {
        closes(&open_air(recirculated).steady(None)?.account);
    }
    for to in [CoolingTo::Return, CoolingTo::Regeneration, CoolingTo::Hall] {
        for blower_first in [false, true] {
            let mut dryer = wheel_loop(to);
            dryer.process.blower_first = blower_first;
            dryer.regeneration.recovery = blower_first.then(recovery);
            let line = Line {
                maker: Maker::Wheel(Box::new(dryer)),
                ..with_wheel(to)
            };
            closes(&line.steady(None)?.account);
        }
    }
    Ok(())
}

#[test]
fn holds_seals_that_leak_either_way_lose_nothing_in_the_books() -> Result<(), LineError> {
    for (from, into) in [(0, 1), (1, 0)] {
        let mut dryer = wheel_loop(CoolingTo::Regeneration);
        let mut spec = dryer.wheel.spec.clone();
        spec.leaks = vec![Leak {
            from: (from, End::Inlet),
            into: (into, End::Outlet),
            share: 0.01,
        }];
        dryer.wheel = spec.check()?;
        let line = Line {
            maker: Maker::Wheel(Box::new(dryer)),
            ..with_wheel(CoolingTo::Regeneration)
        };
        closes(&line.steady(None)?.account);
    }
    Ok(())
}

#[test]
fn exact_hot_air_taken_back_settles_at_the_balance_of_its_water() -> Result<(), LineError> {
    for recirculated in [0.0, 0.5, 0.9] {
        let line = open_air(recirculated);
        let steady = line.steady(None)?;
        let station = &steady.stations[0];
        let bed = &station.steady;
        let dried =
            line.stations[0].feed.rate * (2e-3 - bed.outlet_moisture - bed.outlet_free_water);
        let fresh = (1.0 - recirculated) * line.stations[0].air_flow;
        let settled = DAY.humidity + dried / fresh;
        assert!((steady.returned.humidity / settled - 1.0).abs() < 1e-8);
    }
    Ok(())
}

#[test]
fn holds_a_neighbour_is_found_sooner_and_is_the_same() -> Result<(), LineError> {
    let line = with_wheel(CoolingTo::Return);
    let steady = line.steady(None)?;
    let mut near = line.clone();
    near.stations[0].feed.moisture = 2.2e-3;
    let (cold, warm) = (near.steady(None)?, near.steady(Some(&steady.guess))?);
    assert!(warm.rounds < cold.rounds, "{} {}", warm.rounds, cold.rounds);
    let ratio = warm.delivered.humidity / cold.delivered.humidity;
    assert!((ratio - 1.0).abs() < 1e-6, "{ratio}");
    Ok(())
}

#[test]
fn holds_a_run_closes_its_books_and_ends_at_rest() -> Result<(), LineError> {
    let line = coarse(&with_wheel(CoolingTo::Regeneration));
    let steady = line.steady(None)?;
    let mut state = line.at_rest()?;
    let run = line.run(&mut state, 40.0 * 3600.0)?;
    assert!(run.water().imbalance() < 1e-9, "{:#?}", run.water());
    assert!(run.energy().imbalance() < 1e-9, "{:#?}", run.energy());
    let end = run.moments.last().map(|moment| moment.delivered).unwrap();
    let miss = frost_point(&end) - frost_point(&steady.delivered);
    // A step of the wheel's turning stands between the two.
    assert!(miss.abs() < 0.1, "{miss} K");
    let dried = run
        .moments
        .iter()
        .rev()
        .find_map(|m| m.stations[0].parcel.map(|parcel| parcel.water));
    // The bed takes nine steps to a parcel here and one at rest: with 36 parcels that parts them by 1.4 %.
    let ratio = dried.unwrap() / steady.stations[0].steady.outlet_moisture;
    assert!((ratio - 1.0).abs() < 0.02, "{ratio}");
    Ok(())
}

#[test]
fn holds_half_the_step_tells_the_same() -> Result<(), LineError> {
    let line = coarse(&with_wheel(CoolingTo::Return));
    let after = |step: f64| -> Result<(f64, f64), LineError> {
        let mut state = line.at_rest()?;
        let run = line.run_in_steps(&mut state, 2.4 * 3600.0, step)?;
        let last = run.moments.last().unwrap();
        Ok((frost_point(&last.delivered), last.returned.temperature))
    };
    let (whole, half) = (after(2.0 * line.step())?, after(line.step())?);
    assert!((whole.0 - half.0).abs() < 0.3, "{whole:?} {half:?}");
    assert!((whole.1 - half.1).abs() < 0.1, "{whole:?} {half:?}");
    Ok(())
}

#[test]
fn holds_what_spoils_the_air_spoils_it_here() {
    let line = with_wheel(CoolingTo::Return);
    let sound = supply(&line);
    assert!((-60.0..-38.0).contains(&sound), "{sound}");
    let with = |change: &dyn Fn(&mut WheelLoop)| {
        let mut dryer = wheel_loop(CoolingTo::Return);
        change(&mut dryer);
        let line = Line {
            maker: Maker::Wheel(Box::new(dryer)),
            ..line.clone()
        };
        supply(&line)
    };
    let uncooled = with(&|dryer| dryer.process.cooler = None);
    let cold = with(&|dryer| dryer.regeneration.set_point = ZERO_CELSIUS + 130.0);
    let leaky = with(&|dryer| {
        let mut spec = dryer.wheel.spec.clone();
        spec.leaks = vec![Leak {
            from: (1, End::Inlet),
            into: (0, End::Outlet),
            share: 0.002,
        }];
        dryer.wheel = spec.check().unwrap();
    });
    let stopped = with(&|dryer| dryer.turns_per_hour = 0.0);
    for (what, spoilt) in [
        ("cooler", uncooled),
        ("regeneration", cold),
        ("seal", leaky),
    ] {
        assert!(spoilt > sound + 1.0, "{what}: {spoilt} of {sound}");
    }
    assert!(stopped > -20.0, "{stopped}");
    // The day: twice the humidity of the hall.
    let muggy = Line {
        room: Room {
            humidity: 0.018,
            ..DAY
        },
        ..line
    };
    let wet = supply(&muggy);
    assert!(wet > sound + 1.0, "{wet} of {sound}");
}

#[test]
fn holds_a_limit_that_is_met_is_told_with_its_number() -> Result<(), LineError> {
    let mut line = with_wheel(CoolingTo::Return);
    line.stations[0].heater = heater(1.0);
    let mut dryer = wheel_loop(CoolingTo::Return);
    dryer.process.fan = fan("process blower", 600.0, 150.0);
    line.maker = Maker::Wheel(Box::new(dryer));
    let steady = line.steady(None)?;
    let of = |what: &str| {
        steady
            .shortfalls
            .iter()
            .find(|short| short.component.contains(what))
    };
    let heater = of("heater of hopper").unwrap();
    assert!(
        (heater.asked - 120.0).abs() < 1e-9 && heater.by() > 5.0,
        "{heater:?}"
    );
    assert!(of("process blower").unwrap().by() > 100.0);
    closes(&steady.account);
    Ok(())
}

#[test]
fn holds_compressed_air_goes_into_the_room_and_is_paid_elsewhere() -> Result<(), LineError> {
    let equipment = usual::compressed_air_dryer(0.02, ZERO_CELSIUS + 120.0);
    let line = Line {
        maker: equipment.maker(0.02, &DAY).unwrap(),
        ..open_air(0.0)
    };
    let steady = line.steady(None)?;
    closes(&steady.account);
    let out = steady
        .account
        .crossings
        .iter()
        .find(|c| c.name.contains("let out"));
    assert!((out.unwrap().dry_air / line.stations[0].air_flow - 1.0).abs() < 1e-12);
    // 3 degC at 7 bar(g) is -20.5 degC at 1 atm: desiccant evidence, after CoolProp and Hardy (1998).
    let point = frost_point(&steady.delivered);
    assert!((point + 20.5).abs() < 0.2, "{point}");
    // 62 kg/h of dry air are some 52 m3/h; at 0.11 kWh a m3 that is 5.7 kW.
    let power = steady.account.elsewhere[0].power;
    assert!((power / 5700.0 - 1.0).abs() < 0.05, "{power}");
    Ok(())
}

#[test]
fn holds_a_dryer_sized_by_custom_dries() -> Result<(), LineError> {
    let station = station("hopper");
    let (flow, hot) = (station.air_flow, station.set_point);
    for (equipment, wettest) in [
        (usual::wheel_dryer(flow, hot, zeolite()), -35.0),
        (usual::hot_air_dryer(flow, hot), 15.0),
    ] {
        let line = Line {
            maker: equipment.maker(flow, &DAY).unwrap(),
            stations: vec![station.clone()],
            room: DAY,
        };
        let steady = line.steady(None)?;
        assert!(
            frost_point(&steady.delivered) < wettest,
            "{}",
            equipment.title
        );
        assert!(steady.shortfalls.is_empty(), "{:?}", steady.shortfalls);
        closes(&steady.account);
    }
    Ok(())
}

#[test]
fn holds_two_hoppers_share_their_air() -> Result<(), LineError> {
    let mut line = with_wheel(CoolingTo::Return);
    line.stations[0].air_flow *= 0.6;
    line.stations[0].feed.rate *= 0.6;
    let mut other = station("second");
    other.air_flow *= 0.4;
    other.feed.rate *= 0.4;
    other.set_point = ZERO_CELSIUS + 80.0;
    line.stations.push(other);
    let steady = line.steady(None)?;
    closes(&steady.account);
    let [first, second] = [0, 1].map(|index: usize| steady.stations[index].returned.temperature);
    let mean = steady.returned.temperature;
    assert!(second < mean && mean < first);
    Ok(())
}

#[test]
fn holds_what_cannot_be_solved_is_said() {
    let mut line = open_air(0.0);
    line.stations[0].air_flow = 0.0;
    assert!(line.steady(None).is_err());
    line.stations.clear();
    assert!(matches!(line.steady(None), Err(LineError::NoHopper)));
}
