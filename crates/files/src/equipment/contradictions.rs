//! Numbers of a record that each may be and cannot be together.

use super::fields::{TOWER_DRYER, VACUUM_DRYER, WHEEL_DRYER};
use super::fill::part;
use super::vacuum;
use crate::bag::{Bag, Entry};
use quantity::{Fault, FaultKind, Faults, Humidity, Meaning, Units, digits, show_si};
use std::f64::consts::PI;

/// Every contradiction; ranges and rules of single tables are the reader's.
pub(super) fn check(bag: &Bag) -> Faults {
    let mut faults = Faults::none();
    let heater = part(bag, "heater");
    faults.extend(limit_below(
        &heater,
        bag.get("hottest", Entry::number),
        "the dryer is made for",
    ));
    elements(&heater, &mut faults);
    blower(&part(bag, "blower"), &mut faults);
    let kind = bag.get("kind", Entry::choice);
    if kind == Some(WHEEL_DRYER) {
        wheel(&part(bag, "wheel"), &mut faults);
    }
    if kind == Some(TOWER_DRYER) {
        towers(&part(bag, "towers"), &mut faults);
    }
    if matches!(kind, Some(WHEEL_DRYER | TOWER_DRYER)) {
        regeneration(bag, &mut faults);
    }
    if kind == Some(VACUUM_DRYER) {
        faults.extend(vacuum::contradictions(bag));
    }
    let line = part(bag, "compressed_air");
    faults.extend(no_point(&line, "dew_point"));
    prices(&part(bag, "ownership"), &mut faults);
    faults
}

fn inconsistent(bag: &Bag, name: &str, cause: impl Into<String>, mend: &str) -> Fault {
    bag.fault(name, FaultKind::Inconsistent, cause, mend)
}

fn celsius(kelvin: f64) -> String {
    show_si(kelvin, Meaning::Temperature, Units::Metric, 4)
}

/// A heater whose outlet may not be as hot as is wanted of it.
fn limit_below(heater: &Bag, wanted: Option<f64>, who: &str) -> Option<Fault> {
    let limit = heater.get("outlet_limit", Entry::number)?;
    let wanted = wanted.filter(|wanted| limit < *wanted)?;
    let cause = format!(
        "the heater may give {} at most, and {who} {}",
        celsius(limit),
        celsius(wanted)
    );
    let mend = "raise the limit, or lower the temperature wanted";
    Some(inconsistent(heater, "outlet_limit", cause, mend))
}

fn elements(heater: &Bag, faults: &mut Faults) {
    let lost = heater.get("elements_lost", Entry::count);
    let all = heater.get("elements", Entry::count).unwrap_or(3);
    if let Some(lost) = lost.filter(|lost| *lost > all) {
        let cause = format!("{lost} elements are lost, and it has {all}");
        let mend = "give at most the number of elements";
        faults.push(inconsistent(heater, "elements_lost", cause, mend));
    }
}

fn blower(blower: &Bag, faults: &mut Faults) {
    let points = blower.get("point", Entry::tables).unwrap_or_default();
    let mut last = None;
    for point in &points {
        let flow = point.get("flow", Entry::number);
        if let (Some(before), Some(flow)) = (last, flow)
            && flow <= before
        {
            let cause = "the flow does not rise from point to point";
            let mend = "order the points by rising flow, each flow once";
            faults.push(inconsistent(point, "flow", cause, mend));
        }
        last = flow.or(last);
    }
    let rises: Vec<f64> = points
        .iter()
        .filter_map(|point| point.get("rise", Entry::number))
        .collect();
    if let [.., before, end] = rises[..]
        && let Some(point) = points.last()
        && end >= before
    {
        let cause = "a blower's rise falls at high flow, and this one does not";
        let mend = "carry the curve on to where its rise falls";
        faults.push(inconsistent(point, "rise", cause, mend));
    }
}

fn wheel(wheel: &Bag, faults: &mut Faults) {
    let length = |name: &str| wheel.get(name, Entry::number);
    if let (Some(hub), Some(outer)) = (length("hub_diameter"), length("diameter"))
        && hub >= 0.95 * outer
    {
        let mm = |metres: f64| format!("{} mm", digits(1e3 * metres, 4));
        let cause = format!(
            "a hub of {} leaves no face to a wheel of {}",
            mm(hub),
            mm(outer)
        );
        let mend = "compare both diameters with the wheel";
        faults.push(inconsistent(wheel, "hub_diameter", cause, mend));
    }
    let names = ["process_angle", "regeneration_angle", "cooling_angle"];
    let stated: Vec<(&str, f64)> = names
        .into_iter()
        .filter_map(|name| Some((name, length(name)?)))
        .collect();
    let degrees = |radians: f64| digits(radians * 180.0 / PI, 4);
    let sum: f64 = stated.iter().map(|(_, angle)| angle).sum();
    // What rounding to a degree leaves.
    let turn = 2.0 * PI * (1.0 + 1e-9);
    if let Some((last, _)) = stated.last() {
        let whole = sum >= 2.0 * PI * (1.0 - 1e-9);
        let lacks = ["process_angle", "regeneration_angle"]
            .into_iter()
            .find(|name| length(name).is_none());
        if sum > turn {
            let all: Vec<String> = stated.iter().map(|(_, angle)| degrees(*angle)).collect();
            let cause = format!(
                "the sectors take {} = {} degrees, more than the 360 of a turn",
                all.join(" + "),
                degrees(sum)
            );
            let mend = "let the sectors and the seals between them share 360 deg";
            faults.push(inconsistent(wheel, last, cause, mend));
        } else if let Some(lacks) = lacks.filter(|_| whole) {
            let cause =
                format!("the sectors stated take the whole turn, and {lacks} has none left");
            faults.push(inconsistent(wheel, last, cause, "state all sectors"));
        }
    }
    let cooled = length("cooling_angle").is_some_and(|angle| angle > 0.0);
    if cooled && length("cooling_share") == Some(0.0) {
        let cause = "the cooling sector gets no air";
        let mend = "give its air, or cooling_angle = \"0 deg\"";
        faults.push(inconsistent(wheel, "cooling_share", cause, mend));
    }
    let without = length("cooling_angle") == Some(0.0);
    if without && length("cooling_share").is_some_and(|share| share > 0.0) {
        let cause = "air is given to a cooling sector that is not there";
        let mend = "give cooling_angle, or remove cooling_share";
        faults.push(inconsistent(wheel, "cooling_share", cause, mend));
    }
}

fn towers(towers: &Bag, faults: &mut Faults) {
    let time = |name: &str| towers.get(name, Entry::number);
    if let (Some(earliest), Some(latest)) = (time("swap_earliest"), time("swap_after"))
        && earliest > latest
    {
        let cause = "the earliest swap comes after the latest";
        faults.push(inconsistent(
            towers,
            "swap_earliest",
            cause,
            "exchange the two",
        ));
    }
    if let (Some(regeneration), Some(cooling), Some(swap)) = (
        time("regeneration_time"),
        time("cooling_time"),
        time("swap_after"),
    ) && regeneration + cooling > swap * (1.0 + 1e-9)
        && towers.get("swap", Entry::choice) == Some("clock")
    {
        let hours = |seconds: f64| digits(seconds / 3600.0, 3);
        let cause = format!(
            "regeneration and cooling take {} h, and the towers swap after {} h",
            hours(regeneration + cooling),
            hours(swap)
        );
        let mend = "let both fit into the time of drying";
        faults.push(inconsistent(towers, "swap_after", cause, mend));
    }
    faults.extend(no_point(towers, "swap_dew_point"));
}

/// A humidity that is no dew or frost point.
fn no_point(table: &Bag, name: &str) -> Option<Fault> {
    match table.get(name, Entry::humidity)? {
        Humidity::Dew(..) | Humidity::Frost(..) => None,
        _ => Some(table.fault(
            name,
            FaultKind::WrongDimension,
            "this is no dew or frost point",
            "write for example \"-40 degC frost\" or \"3 degC dew\"",
        )),
    }
}

fn regeneration(bag: &Bag, faults: &mut Faults) {
    let table = part(bag, "regeneration");
    blower(&part(&table, "blower"), faults);
    let heater = part(&table, "heater");
    elements(&heater, faults);
    let hot = table.get("temperature", Entry::number);
    faults.extend(limit_below(&heater, hot, "the regeneration wants"));
    let cooler = part(bag, "cooler");
    let with = cooler.get("with", Entry::choice).unwrap_or("water");
    let comes = match with {
        "water" => cooler.get("water_temperature", Entry::number),
        "nothing" => bag.get("hottest", Entry::number),
        _ => None,
    };
    // Process air is never colder than the coolant, and without a cooler as hot as it returns.
    let comes = comes.unwrap_or(50.0 + quantity::constants::ZERO_CELSIUS);
    if let Some(hot) = hot.filter(|hot| *hot <= comes) {
        let cause = format!(
            "regeneration at {} is no hotter than the process air, which may come at {}",
            celsius(hot),
            celsius(comes)
        );
        let mend = "give the temperature behind the regeneration heater";
        faults.push(inconsistent(&table, "temperature", cause, mend));
    }
}

/// Prices that do not say what they count in.
fn prices(table: &Bag, faults: &mut Faults) {
    let priced = ["price", "desiccant_price", "filters_per_year"]
        .into_iter()
        .find(|name| table.gives(name));
    if let (Some(name), None) = (priced, table.entry("currency")) {
        let lacks = table.lacks("currency");
        faults.push(Fault {
            cause: format!("{}; {name} counts in it", lacks.cause),
            ..lacks
        });
    }
}
