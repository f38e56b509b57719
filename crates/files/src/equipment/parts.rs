//! Heater, blower, cooler and recovery of a record.

use super::fill::{Fill, part};
use crate::bag::{Bag, Entry};
use dryer::blower::{BlowerPower, Turning};
use dryer::exchanger::{Arrangement, ExchangerSpec, Fouling};
use dryer::fan_curve::FanCurveSpec;
use dryer::heater::{Control, ElementSpec, HeaterSpec};
use line::FlowControl;
use line::equipment::{Blowing, CoolantSpec, ReturnCooler};
use quantity::{Faults, Fraction, MassFlow, Power, Quantity};

/// Hall air over process air through a cooler that it cools (common practice, no source).
const HALL_AIR_FLOW: f64 = 3.0;
/// Pressure (Pa) against which its fan works, and efficiency of fan and motor (common practice, no
/// source).
const FAN: (f64, f64) = (150.0, 0.3);
/// Density of hall air, kg/m3.
const HALL_DENSITY: f64 = 1.2;

/// What is stated of a heater, laid over the usual one; `flow` is the air it is rated for.
pub(super) fn heater(fill: &mut Fill, bag: &Bag, usual: HeaterSpec, flow: MassFlow) -> HeaterSpec {
    let mut spec = usual;
    fill.lay(bag, "power", &mut spec.power);
    spec.elements = fill.count(bag, "elements", spec.elements);
    if bag.gives("elements_lost") {
        spec.lost = fill.count(bag, "elements_lost", 0);
    }
    spec.control = control(fill, bag);
    fill.lay(bag, "outlet_limit", &mut spec.outlet_limit);
    let conductance = fill.stated(bag, "element_conductance");
    let limit = fill.stated(bag, "element_limit");
    spec.element = conductance
        .zip(limit)
        .map(|(conductance, limit)| ElementSpec {
            conductance,
            rated_flow: flow,
            limit,
        });
    spec
}

fn control(fill: &mut Fill, bag: &Bag) -> Control {
    let word = fill.choose(bag, "control", "integral");
    let Some(band) = fill.stated(bag, "band") else {
        return Control::Integral;
    };
    match (
        word,
        fill.stated(bag, "time_constant"),
        fill.stated(bag, "dead_time"),
    ) {
        ("on-off", Some(time_constant), Some(dead_time)) => Control::OnOff {
            band,
            time_constant,
            dead_time,
        },
        _ => Control::Proportional { band },
    }
}

/// What is stated of a blower and its way, laid over the usual ones.
pub(super) fn blowing(fill: &mut Fill, bag: &Bag, usual: Blowing) -> Blowing {
    let mut all = usual;
    let spec = &mut all.blower;
    let points = bag.get("point", Entry::tables).unwrap_or_default();
    if points.is_empty() {
        if let FanCurveSpec::Parabola {
            shut_off,
            free_flow,
        } = &mut spec.curve
        {
            fill.lay(bag, "rise_at_no_flow", shut_off);
            fill.lay(bag, "flow_at_no_rise", free_flow);
        }
    } else {
        let read = |point: &Bag| {
            let flow = point.get("flow", Entry::quantity)?;
            Some((flow, point.get("rise", Entry::quantity)?))
        };
        spec.curve = FanCurveSpec::Points(points.iter().filter_map(read).collect());
    }
    fill.lay(bag, "rated_density", &mut spec.rated_density);
    fill.lay(bag, "speed", &mut spec.speed);
    let ends = (
        fill.stated(bag, "shaft_at_no_flow"),
        fill.stated(bag, "shaft_at_no_rise"),
    );
    if let (Some(at_shut_off), Some(at_free_flow)) = ends {
        spec.power = BlowerPower::Line {
            at_shut_off,
            at_free_flow,
        };
    } else if let BlowerPower::Efficiency(efficiency) = &mut spec.power {
        fill.lay(bag, "efficiency", efficiency);
    }
    fill.lay(bag, "motor_efficiency", &mut spec.motor_efficiency);
    fill.lay(bag, "motor_heat_to_air", &mut spec.motor_heat_to_air);
    if let Some(left) = fill.stated(bag, "turned_backwards") {
        spec.turning = Turning::Backwards(left);
    }
    all.control = match fill.choose(bag, "flow_set_by", "speed") {
        "damper" => FlowControl::Damper,
        "nothing" => FlowControl::Fixed,
        _ => FlowControl::Speed,
    };
    fill.lay(bag, "drop", &mut all.drop);
    fill.lay(bag, "laminar_share", &mut all.laminar_share);
    if let Some(times) = fill.stated_si(bag, "clogging") {
        all.clogging = times;
    }
    all
}

/// What cools the return air of a dryer rated for a flow.
pub(super) fn cooler(
    fill: &mut Fill,
    bag: &Bag,
    usual: Option<ReturnCooler>,
    flow: MassFlow,
) -> Option<ReturnCooler> {
    let mut all = usual?;
    let spec = &mut all.cooler;
    spec.rated_flow = flow;
    match fill.choose(bag, "with", "water") {
        "nothing" => return None,
        "hall air" => {
            let moved = HALL_AIR_FLOW * flow.si();
            spec.coolant_conductance = spec.air_conductance;
            let mut coolant = MassFlow::from_si(moved);
            fill.lay(bag, "coolant_flow", &mut coolant);
            let mut fan = Power::from_si(coolant.si() / HALL_DENSITY * FAN.0 / FAN.1);
            fill.lay(bag, "fan_power", &mut fan);
            all.coolant = CoolantSpec::HallAir { flow: coolant, fan };
        }
        _ => {
            if let CoolantSpec::Water { flow, temperature } = &mut all.coolant {
                fill.lay(bag, "coolant_flow", flow);
                fill.lay(bag, "water_temperature", temperature);
            }
        }
    }
    fill.lay(bag, "air_conductance", &mut spec.air_conductance);
    fill.lay(bag, "coolant_conductance", &mut spec.coolant_conductance);
    fill.lay(bag, "flow_exponent", &mut spec.flow_exponent);
    spec.fouling = fouling(fill, bag);
    if let (Some(resistance), Some(area)) = (fill.stated(bag, "scale"), fill.stated(bag, "wall")) {
        spec.fouling = Fouling::Layer { resistance, area };
    }
    Some(all)
}

fn fouling(fill: &mut Fill, bag: &Bag) -> Fouling {
    fill.stated::<Fraction>(bag, "fouled")
        .map_or(Fouling::Clean, Fouling::Share)
}

/// What takes heat from the exhaust of a regeneration with a flow, where a record has it.
pub(super) fn recovery(
    fill: &mut Fill,
    bag: &Bag,
    rated_flow: MassFlow,
) -> Result<Option<ExchangerSpec>, Faults> {
    if !bag.gives("recovery") {
        return Ok(None);
    }
    let table = part(bag, "recovery");
    let arrangement = match table.need("arrangement", Entry::choice)? {
        "counterflow" => Arrangement::Counterflow,
        "parallel" => Arrangement::Parallel,
        _ => Arrangement::Crossflow,
    };
    fill.note_stated(&table, "arrangement");
    fill.note_stated(&table, "conductance");
    Ok(Some(ExchangerSpec {
        arrangement,
        conductance: table.need("conductance", Entry::quantity)?,
        rated_flow,
        flow_exponent: table.need("flow_exponent", Entry::quantity)?,
        fouling: fouling(fill, &table),
    }))
}
