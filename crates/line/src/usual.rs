//! What is usual: a whole dryer from the process air it is rated for, where nothing else is known.
//!
//! Every number here is common practice, no source, unless a source stands beside it; a dryer made
//! here is an estimate and is shown as one.

use crate::air_sides::{ProcessAir, RegenerationAir};
use crate::equipment::{
    Blowing, CoolantSpec, Equipment, HotAirDryer, Machine, Matrix, ReturnCooler, WheelDryer,
};
use crate::fan::FlowControl;
use crate::tower_dryer::{BeadBed, TowerDryer};
use crate::vacuum_dryer::{PurgeAir, VacuumDryer};
use crate::wheel_loop::CoolingTo;
use air::CondensationPoint;
use dryer::Stream;
use dryer::blower::{BlowerPower, BlowerSpec, Turning};
use dryer::compressed_air::{CompressedAirSpec, Drying, Pass, Reference};
use dryer::cooler::CoolerSpec;
use dryer::crystalliser::{CrystalliserSpec, Heating};
use dryer::exchanger::Fouling;
use dryer::fan_curve::FanCurveSpec;
use dryer::heater::{Control, HeaterSpec};
use dryer::sorption::{Adsorbed, Passages, Way};
use dryer::towers::{Cycle, Ending, Swap};
use quantity::constants::{DRY_AIR_MOLAR_MASS, MOLAR_GAS};
use quantity::{
    AbsolutePressure, ActualVolumeFlow, Angle, Density, DewPoint, Diffusivity, Duration,
    EnergyPerVolume, Fraction, Frequency, FrostPoint, GaugePressure, Length, Mass, MassFlow, Power,
    PressureDifference, Quantity, SpecificHeatCapacity, Temperature, TemperatureDifference,
    ThermalConductance, Volume,
};
use std::f64::consts::PI;

/// Density of hall air, kg/m3, at which blowers are rated.
const HALL_DENSITY: f64 = 1.2;
/// Face velocity of the process air in its sector, m/s at hall density.
pub const FACE_VELOCITY: f64 = 1.5;
/// Share of the disc without hub and rim.
const FACE_USED: f64 = 0.85;
/// Depth of a wheel, m: Yamauchi, Kodama et al. (2007), Ind. Eng. Chem. Res. 46, 4316, and custom.
pub const DEPTH: f64 = 0.2;
/// Regeneration air that slips past the seals, of the process air. No seal is tight and no measurement of
/// those of dryers was found: this much brings the wheel to the -40 degC that practice sees (common
/// practice, no source), from some -57 degC with tight ones.
pub const SEAL_LEAK: f64 = 0.003;
/// Doubt of its logarithm, one standard deviation (common practice, no source).
pub const SEAL_DOUBT: f64 = 0.7;
/// Angles of process, regeneration and cooling, degrees.
const ANGLES: (f64, f64, f64) = (252.0, 72.0, 36.0);

/// A blower for a dry flow (kg/s) and pressure rise (Pa) at its best point.
pub fn blower(flow: f64, rise: f64) -> BlowerSpec {
    /// Margins on flow and pressure.
    const MARGINS: (f64, f64) = (1.6, 1.6);
    BlowerSpec {
        curve: FanCurveSpec::Parabola {
            shut_off: PressureDifference::from_si(rise * MARGINS.1),
            free_flow: ActualVolumeFlow::from_si(flow / HALL_DENSITY * MARGINS.0),
        },
        rated_density: Density::from_si(HALL_DENSITY),
        speed: Fraction::from_si(1.0),
        power: BlowerPower::Efficiency(Fraction::from_si(0.45)),
        motor_efficiency: Fraction::from_si(0.8),
        motor_heat_to_air: Fraction::from_si(0.0),
        turning: Turning::Forwards,
    }
}

/// A blower that works against a clean filter, a cooler and hoses of a drop (Pa).
fn blowing(flow: f64, rise: f64, drop: f64) -> Blowing {
    Blowing {
        blower: blower(flow, rise),
        control: FlowControl::Speed,
        drop: PressureDifference::from_si(drop),
        laminar_share: Fraction::from_si(0.5),
        clogging: 1.0,
    }
}

/// A heater of a power, W.
pub fn heater(power: f64) -> HeaterSpec {
    HeaterSpec {
        power: Power::from_si(power.max(100.0)),
        elements: 3,
        lost: 0,
        control: Control::Integral,
        outlet_limit: Temperature::from_celsius(300.0),
        element: None,
    }
}

/// A cooler that leaves air of a flow (kg/s) some 5 K above its coolant.
fn cooler(flow: f64) -> CoolerSpec {
    /// Transfer units.
    const UNITS: f64 = 3.0;
    let capacity = flow * air::caloric::DRY_AIR_HEAT;
    CoolerSpec {
        air_conductance: ThermalConductance::from_si(UNITS * capacity),
        coolant_conductance: ThermalConductance::from_si(5.0 * UNITS * capacity),
        rated_flow: MassFlow::from_si(flow),
        flow_exponent: Fraction::from_si(0.6),
        fouling: Fouling::Clean,
    }
}

/// Such a cooler for the return air (kg/s), with water of 20 degC.
fn return_cooler(flow: f64) -> ReturnCooler {
    ReturnCooler {
        cooler: cooler(flow),
        coolant: CoolantSpec::Water {
            flow: MassFlow::from_si(2.0 * flow),
            temperature: Temperature::from_celsius(20.0),
        },
    }
}

/// The process side of a dryer with a desiccant for a flow (kg/s) and the pressure rise (Pa) of its blower.
fn process_air(flow: f64, rise: f64) -> ProcessAir {
    ProcessAir {
        rated_flow: MassFlow::from_si(flow),
        blowing: blowing(flow, rise, 900.0),
        cooler: Some(return_cooler(flow)),
        blower_first: false,
        leak: Fraction::from_si(0.002),
    }
}

/// Heat that warms a flow of dry air (kg/s) by so many K, W.
fn heat(flow: f64, rise: f64) -> f64 {
    flow * air::caloric::DRY_AIR_HEAT * rise
}

/// A honeycomb wheel for a process flow, kg/s of dry air.
///
/// Channels of 3.2 mm pitch, 1.7 mm height and 0.2 mm sheet: Yamauchi, Kodama et al. (2007), Ind. Eng.
/// Chem. Res. 46, 4316; friction and Nusselt number of that sine duct after Shah and London (1978).
pub fn matrix(flow: f64, desiccant: Adsorbed) -> Matrix {
    let face = flow / HALL_DENSITY / FACE_VELOCITY * 360.0 / ANGLES.0;
    Matrix {
        diameter: Length::from_si(libm::sqrt(4.0 * face / (PI * FACE_USED))),
        face_used: Fraction::from_si(FACE_USED),
        depth: Length::from_si(DEPTH),
        passages: Passages {
            area: 2370.0,
            open: 0.763,
            hydraulic_diameter: 1.29e-3,
            nusselt: 2.4,
            friction: 11.3,
            sheet: 0.2e-3,
        },
        density: Density::from_si(213.0),
        desiccant_share: Fraction::from_si(0.7),
        desiccant,
        capacity_left: Fraction::from_si(0.9),
        heat_capacity: SpecificHeatCapacity::from_si(950.0),
        pore_diffusivity: Some(Diffusivity::from_si(2e-6)),
        process: Angle::from_degrees(ANGLES.0),
        regeneration: Angle::from_degrees(ANGLES.1),
        cooling: Angle::from_degrees(ANGLES.2),
        seal_leak: Fraction::from_si(SEAL_LEAK),
        speed: Frequency::from_per_hour(5.0),
        drive: Power::from_si(20.0),
    }
}

/// A wheel dryer for a process flow (kg/s of dry air) and the hottest set point (K) it serves.
pub fn wheel_dryer(flow: f64, set_point: f64, desiccant: Adsorbed) -> Equipment {
    /// Regeneration air per process air.
    const REGENERATION: f64 = 0.25;
    const REGENERATION_TEMPERATURE: f64 = 180.0;
    let regeneration = flow * REGENERATION;
    Equipment {
        title: "desiccant wheel, sized by custom".to_owned(),
        heater: heater(1.4 * heat(flow, set_point - 303.15)),
        machine: Machine::Wheel(Box::new(WheelDryer {
            wheel: matrix(flow, desiccant),
            process: process_air(flow, 4500.0),
            cooling_share: Fraction::from_si(0.1),
            cooling_to: CoolingTo::Regeneration,
            regeneration: RegenerationAir {
                share: Fraction::from_si(REGENERATION),
                temperature: Temperature::from_celsius(REGENERATION_TEMPERATURE),
                heater: heater(1.5 * heat(regeneration, REGENERATION_TEMPERATURE - 20.0)),
                blowing: blowing(regeneration, 1500.0, 400.0),
            },
            recovery: None,
            // A heater box and hood for 4 g/s of regeneration air weigh some 6 kg.
            regeneration_steel: Mass::from_si(6.0 * libm::sqrt(regeneration / 0.004)),
        })),
    }
}

/// Process air through a bed of beads, kg of dry air/(s m2).
pub const BED_FLOW: f64 = 0.42;
/// Depth of such a bed, m.
pub const BED_DEPTH: f64 = 0.5;

/// Process air that a valve lets by undried, of the process air. No valve is tight and no measurement of those of
/// dryers was found: this much brings the towers to the middle of the -40 to -60 degC frost that practice sees (an
/// estimate; common practice, no source), from some -75 degC with tight ones and -59 degC with a third of it.
pub const VALVE_LEAK: f64 = 0.03;
/// Doubt of its logarithm, one standard deviation: a factor of two (common practice, no source).
pub const VALVE_DOUBT: f64 = std::f64::consts::LN_2;

/// One of two vessels with molecular sieve beads of 2.5 mm for a process flow, kg/s of dry air: four hours
/// of drying, two and a half of regeneration, 1.2 of cooling.
pub fn bead_bed(flow: f64, desiccant: Adsorbed) -> BeadBed {
    /// Wall of the vessel, m, its height above that of the bed, m, and density of steel, kg/m3.
    const VESSEL: (f64, f64, f64) = (2e-3, 0.3, 7850.0);
    const HOUR: f64 = 3600.0;
    let diameter = libm::sqrt(4.0 * flow / (PI * BED_FLOW));
    let steel = PI * diameter * (BED_DEPTH + VESSEL.1) * VESSEL.0 * VESSEL.2;
    BeadBed {
        diameter: Length::from_si(diameter),
        depth: Length::from_si(BED_DEPTH),
        bead: Length::from_si(2.5e-3),
        voidage: Fraction::from_si(0.37),
        density: Density::from_si(680.0),
        desiccant,
        capacity_left: Fraction::from_si(0.9),
        heat_capacity: SpecificHeatCapacity::from_si(950.0),
        steel: Mass::from_si(steel),
        pore_diffusivity: Some(Diffusivity::from_si(3e-6)),
        cycle: Cycle {
            swap: Swap::Clock(4.0 * HOUR),
            regeneration: Ending::After(2.5 * HOUR),
            cooling: Ending::After(1.2 * HOUR),
            cooling_way: Way::Along,
            stuck: None,
        },
        bypass: [Fraction::from_si(VALVE_LEAK); 2],
    }
}

/// A dryer with twin towers for a process flow (kg/s of dry air) and the hottest set point (K) it serves.
pub fn tower_dryer(flow: f64, set_point: f64, desiccant: Adsorbed) -> Equipment {
    /// Regeneration air per process air, while it flows.
    const REGENERATION: f64 = 0.7;
    const REGENERATION_TEMPERATURE: f64 = 230.0;
    let regeneration = flow * REGENERATION;
    Equipment {
        title: "twin desiccant towers, sized by custom".to_owned(),
        heater: heater(1.4 * heat(flow, set_point - 303.15)),
        machine: Machine::Towers(Box::new(TowerDryer {
            bed: bead_bed(flow, desiccant),
            process: process_air(flow, 6000.0),
            regeneration: RegenerationAir {
                share: Fraction::from_si(REGENERATION),
                temperature: Temperature::from_celsius(REGENERATION_TEMPERATURE),
                heater: heater(1.3 * heat(regeneration, REGENERATION_TEMPERATURE - 20.0)),
                blowing: blowing(regeneration, 2500.0, 400.0),
            },
        })),
    }
}

/// A hot-air dryer for a process flow (kg/s of dry air) and the hottest set point (K).
pub fn hot_air_dryer(flow: f64, set_point: f64) -> Equipment {
    Equipment {
        title: "hot air, sized by custom".to_owned(),
        heater: heater(1.4 * heat(flow, set_point - 283.15)),
        machine: Machine::HotAir(Box::new(HotAirDryer {
            rated_flow: MassFlow::from_si(flow),
            process: blowing(flow, 3000.0, 300.0),
            recirculated: Fraction::from_si(0.0),
        })),
    }
}

/// A line of compressed air with a refrigerated dryer.
fn refrigerated() -> CompressedAirSpec {
    CompressedAirSpec {
        line_pressure: GaugePressure::from_bar(7.0),
        pressure_dew_point: CondensationPoint::Dew(DewPoint::from_celsius(3.0)),
        temperature: Temperature::from_celsius(25.0),
        specific_energy: EnergyPerVolume::from_kwh_per_m3(0.105),
        reference: Reference::Inlet,
        drying: Drying::Refrigerated {
            energy: EnergyPerVolume::from_kwh_per_m3(0.005),
        },
        pass: Pass::Single,
        most: None,
    }
}

/// Compressed air of a refrigerated dryer, once through, for a process flow (kg/s of dry air) and the
/// hottest set point (K).
///
/// 7 bar(g), pressure dew point 3 degC; 0.11 kWh a m3 with part load and dryer: trade articles on
/// data sheets after ISO 1217 give 0.083 to 0.117 for the compressor alone.
pub fn compressed_air_dryer(flow: f64, set_point: f64) -> Equipment {
    Equipment {
        title: "compressed air let down, sized by custom".to_owned(),
        heater: heater(1.4 * heat(flow, set_point - 288.15)),
        machine: Machine::Compressed(refrigerated()),
    }
}

/// Time under vacuum that is usual where the resin does not ask for more, s.
pub const VACUUM_TIME: f64 = 1800.0;

/// A vacuum dryer for a rate (kg/s of resin), the hottest set point (K) it serves, and a time under vacuum (s).
///
/// A batch is drawn in ten minutes more than that, and heated in three quarters of it by 2.5 kg of hall air per
/// kg. The vacuum is about 50 mbar: a pump that ends at 20 and takes 0.5 m3 for each kg of charge over the time, 25 W
/// for each m3/h, against a purge of membrane-dried compressed air that holds it up.
pub fn vacuum_dryer(rate: f64, set_point: f64, time: f64) -> (VacuumDryer, HeaterSpec) {
    /// Draw beyond the time under vacuum, s, and share of the draw in which a charge is heated.
    const DRAW: (f64, f64) = (600.0, 0.75);
    /// Heating air per charge, kg/kg.
    const HEATING_AIR: f64 = 2.5;
    /// Free volume per charge, m3/kg: room between the pellets and above them.
    const FREE_VOLUME: f64 = 1e-3;
    /// Pumped volume per charge, m3/kg, energy of it, J/m3.
    const PUMPED: (f64, f64) = (0.5, 9e4);
    /// Pressure at which the pump ends, and with the purge, Pa.
    const PRESSURE: (f64, f64) = (2000.0, 5000.0);
    /// Rise of pressure when shut off, Pa/s.
    const RISE: f64 = 1.0;
    /// Purge of the retention hopper per volume that the pellets drawn leave.
    const RETENTION: f64 = 3.0;
    /// Bulk density of most resins, kg/m3.
    const BULK: f64 = 700.0;
    let drawn_in = time + DRAW.0;
    let charge = rate * drawn_in;
    let heating_air = charge * HEATING_AIR / (DRAW.1 * drawn_in);
    let speed = charge * PUMPED.0 / time;
    // Gas let in at the drying temperature.
    let purge = speed * (PRESSURE.1 - PRESSURE.0) * DRY_AIR_MOLAR_MASS / (MOLAR_GAS * set_point);
    let dryer = VacuumDryer {
        charge: Mass::from_si(charge),
        heating_air: MassFlow::from_si(heating_air),
        heating: blowing(heating_air, 3000.0, 1500.0),
        lacking: TemperatureDifference::from_si(5.0),
        free_volume: Volume::from_si(charge * FREE_VOLUME),
        pump_speed: ActualVolumeFlow::from_si(speed),
        end_pressure: AbsolutePressure::from_si(PRESSURE.0),
        pump_power: Power::from_si(speed * PUMPED.1),
        leak: charge * FREE_VOLUME * RISE,
        vacuum_time: Duration::from_si(time),
        handling: Duration::from_si(120.0),
        purge_air: PurgeAir::Line(CompressedAirSpec {
            drying: Drying::Membrane {
                sweep: Fraction::from_si(0.2),
            },
            pressure_dew_point: CondensationPoint::Frost(FrostPoint::from_celsius(-20.0)),
            ..refrigerated()
        }),
        purge: MassFlow::from_si(purge),
        retention_purge: MassFlow::from_si(RETENTION * rate * HALL_DENSITY / BULK),
    };
    (dryer, heater(1.3 * heat(heating_air, set_point - 283.15)))
}

/// An agitated crystalliser in hot air of the hall (kg/kg) for a rate (kg/s of dry resin) and a temperature of the
/// resin (K): three quarters of an hour, two stirred stages, 2 kg of air per kg, of whose heat six tenths reach
/// the resin, and 15 W of agitator for each kg that it holds.
pub fn agitated_crystalliser(rate: f64, temperature: f64, humidity: f64) -> CrystalliserSpec {
    const RESIDENCE: f64 = 2700.0;
    CrystalliserSpec {
        heating: Heating::HotAir {
            air: crystalliser_air(2.0 * rate, temperature, humidity),
        },
        residence: Duration::from_si(RESIDENCE),
        stages: 2,
        temperature: Temperature::from_si(temperature),
        efficiency: Fraction::from_si(0.6),
        drive: Power::from_si(15.0 * RESIDENCE * rate),
        law: None,
    }
}

/// A rotary infrared crystalliser: a quarter of an hour in a drum with a screw, as good as twenty stages, a sweep
/// of hall air of half the resin, half of the lamps' power in the resin, and 5 W of drive for each kg that it holds.
pub fn infrared_crystalliser(rate: f64, temperature: f64, humidity: f64) -> CrystalliserSpec {
    const RESIDENCE: f64 = 900.0;
    CrystalliserSpec {
        heating: Heating::Infrared {
            air: crystalliser_air(0.5 * rate, temperature, humidity),
        },
        residence: Duration::from_si(RESIDENCE),
        stages: 20,
        temperature: Temperature::from_si(temperature),
        efficiency: Fraction::from_si(0.5),
        drive: Power::from_si(5.0 * RESIDENCE * rate),
        law: None,
    }
}

fn crystalliser_air(dry_air: f64, temperature: f64, humidity: f64) -> Stream {
    Stream {
        dry_air,
        temperature,
        humidity,
    }
}
