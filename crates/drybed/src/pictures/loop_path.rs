//! The path of the air of a closed loop: humidity over temperature, its states numbered as in their table.

use super::{line, nice_above, nice_below};
use crate::speech::{Measure, Speech};
use air::{equilibrium, mixture, saturation};
use decide::compare::{DayRun, LoopState};
use figure::{Axis, Figure, Panel, Point, Series, Tone, Weight};
use quantity::constants::ZERO_CELSIUS;
use quantity::digits;

/// Relative humidities that get a line, with their names.
const HUMIDITIES: [(f64, &str); 5] = [
    (1.0, "saturated"),
    (0.1, "10 %"),
    (0.01, "1 %"),
    (0.001, "0.1 %"),
    (0.0001, "0.01 %"),
];
/// Saturation is followed up to here, degC.
const HOTTEST: f64 = 180.0;
/// Points along a line of equal relative humidity.
const FINE: usize = 80;
/// The triple point of water, degC.
const TRIPLE: f64 = 0.01;
/// States nearer than this share one number, K, and as a ratio of humidity.
const TOGETHER: (f64, f64) = (1.5, 1.08);

/// The path of a day; `None` where no air goes round over a desiccant. `hoppers` is the temperature of the
/// air into the hoppers, degC, where all have one.
pub(crate) fn loop_path(day: &DayRun, hoppers: Option<f64>, speech: Speech) -> Option<Figure> {
    let state = |place: &str| {
        day.states
            .iter()
            .find(|state| state.place.starts_with(place))
    };
    let (wet, dry) = (state("at the desiccant")?, state("supply from")?);
    let shown = |state: &&LoopState| state.humidity_g_kg > 0.0;
    let states: Vec<&LoopState> = day.states.iter().filter(shown).collect();
    let at = |celsius: f64, humidity: f64| {
        Point::new(
            speech.number(Measure::Temperature, celsius),
            speech.number(Measure::Humidity, humidity),
        )
    };
    let ends = ends(&states, hoppers)?;
    let mut series = equal_humidity(&states, ends, &at)?;
    let (process, regeneration) = paths(&states);
    let mut round: Vec<Point> = process
        .iter()
        .map(|s| at(s.temperature_c, s.humidity_g_kg))
        .collect();
    round.extend(hoppers.map(|celsius| at(celsius, dry.humidity_g_kg)));
    round.extend(round.first().copied());
    let hot = regeneration
        .iter()
        .map(|s| at(s.temperature_c, s.humidity_g_kg));
    series.push(line(
        "regeneration air",
        hot.collect(),
        Tone::Heat,
        Weight::Plain,
    ));
    series.push(line("process air", round, Tone::Water, Weight::Leading));
    series.extend(numbered(&day.states, &at));
    let (low, high) = (at(ends.0.0, ends.1.0), at(ends.0.1, ends.1.1));
    let across = Axis::linear("temperature", speech.unit(Measure::Temperature))
        .ranging(low.along, high.along);
    let up = Axis::log10("water in the air", speech.unit(Measure::Humidity))
        .ranging(nice_below(low.value), nice_above(high.value));
    let title = format!(
        "The desiccant takes the air from {} to {} and warms it by {}",
        water(wet, speech),
        water(dry, speech),
        speech.say(Measure::Step, dry.temperature_c - wet.temperature_c)
    );
    let mut figure = Figure::stacked(title, across, vec![Panel::new(up, series)]);
    figure.caption = format!(
        "The loop on the day {}; the numbers are those of the table of states. From the supply the air is \
         heated, goes through the hoppers and comes back as 1. Thin: equal relative humidity, over liquid \
         water.",
        day.day
    );
    Some(figure)
}

fn water(state: &LoopState, speech: Speech) -> String {
    let number = speech.number(Measure::Humidity, state.humidity_g_kg);
    format!("{} {}", digits(number, 2), speech.unit(Measure::Humidity))
}

/// From which to which temperature, degC, and humidity, g/kg, the picture reaches.
fn ends(states: &[&LoopState], hoppers: Option<f64>) -> Option<((f64, f64), (f64, f64))> {
    let around = |values: Vec<f64>| figure::Extent::around(values);
    let temperatures = states.iter().map(|state| state.temperature_c);
    let across = around(temperatures.chain(hoppers).collect())?;
    let up = around(states.iter().map(|state| state.humidity_g_kg).collect())?;
    let low = across.low.min(20.0) - 5.0;
    Some(((low, across.high + 8.0), (0.7 * up.low, 1.4 * up.high)))
}

/// The states of the air that goes round, and of that which regenerates, each in order.
fn paths<'a>(states: &[&'a LoopState]) -> (Vec<&'a LoopState>, Vec<&'a LoopState>) {
    let regenerates = |state: &&&LoopState| {
        state.place.contains("regeneration") || state.place.contains("recovery")
    };
    let cools = |state: &&&LoopState| {
        state.place.contains("cooling sector") || state.place.contains("in cooling")
    };
    let round = states
        .iter()
        .filter(|state| !regenerates(state) && !cools(state));
    let hot = states.iter().filter(regenerates);
    (round.copied().collect(), hot.copied().collect())
}

/// Lines of equal relative humidity, as far as they lie on the picture.
fn equal_humidity(
    states: &[&LoopState],
    ((cold, hot), (least, most)): ((f64, f64), (f64, f64)),
    at: &dyn Fn(f64, f64) -> Point,
) -> Option<Vec<Series>> {
    let pressure = pressure(states)?;
    let hot = hot.min(HOTTEST);
    let curve = |(share, name): (f64, &str)| {
        let point = |index: usize| {
            let celsius = cold + (hot - cold) * index as f64 / FINE as f64;
            let kelvin = celsius + ZERO_CELSIUS;
            let full = match saturation::over_liquid(kelvin) / pressure {
                boils if boils >= 1.0 => boils,
                _ => equilibrium::saturated_over_liquid(kelvin, pressure),
            };
            let humidity = 1e3 * mixture::humidity_ratio(share * full);
            let shown = share * full < 1.0 && (least..=1.5 * most).contains(&humidity);
            shown.then(|| at(celsius, humidity))
        };
        let points: Vec<Point> = (0..=FINE).filter_map(point).collect();
        (points.len() > 3).then(|| line(name, points, Tone::Ink, Weight::Light))
    };
    Some(HUMIDITIES.into_iter().filter_map(curve).collect())
}

/// The pressure at which the states have their dew or frost points, Pa: of the most humid, `p = e f / x`
/// with the saturation pressure `e`, the enhancement `f` and the mole fraction `x`.
fn pressure(states: &[&LoopState]) -> Option<f64> {
    let wettest = states
        .iter()
        .max_by(|a, b| a.humidity_g_kg.total_cmp(&b.humidity_g_kg))?;
    let point = wettest.point_c + ZERO_CELSIUS;
    let share = mixture::mole_fraction(1e-3 * wettest.humidity_g_kg);
    let over_ice = wettest.point_c < TRIPLE;
    let mut pressure = 101_325.0;
    for _ in 0..4 {
        let saturated = if over_ice {
            saturation::over_ice(point) * equilibrium::enhancement_over_ice(point, pressure)
        } else {
            saturation::over_liquid(point) * equilibrium::enhancement_over_liquid(point, pressure)
        };
        pressure = saturated / share;
    }
    (pressure.is_finite() && pressure > 0.0).then_some(pressure)
}

/// The numbers of the states; those that lie together share one remark.
fn numbered(states: &[LoopState], at: &dyn Fn(f64, f64) -> Point) -> Vec<Series> {
    let mut spots: Vec<(&LoopState, String)> = Vec::new();
    for (index, state) in states.iter().enumerate() {
        if state.humidity_g_kg <= 0.0 {
            continue;
        }
        let near = |(other, _): &&mut (&LoopState, String)| {
            let ratio = (other.humidity_g_kg / state.humidity_g_kg).ln().abs();
            (other.temperature_c - state.temperature_c).abs() < TOGETHER.0
                && ratio < TOGETHER.1.ln()
        };
        let number = index + 1;
        match spots.iter_mut().find(near) {
            Some((_, text)) => *text = format!("{text}, {number}"),
            None => spots.push((state, number.to_string())),
        }
    }
    let note = |(state, text): (&LoopState, String)| Series::Note {
        text,
        at: at(state.temperature_c, state.humidity_g_kg),
    };
    spots.into_iter().map(note).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn state(place: &str, celsius: f64, humidity: f64, point: f64) -> LoopState {
        LoopState {
            place: place.into(),
            dry_air_kg_h: 60.0,
            temperature_c: celsius,
            humidity_g_kg: humidity,
            point_c: point,
        }
    }

    #[test]
    fn peer_the_pressure_is_that_of_the_dew_points() {
        for (pressure_pa, humidity) in [(101_325.0, 8.0), (85_000.0, 12.0), (101_325.0, 0.5)] {
            let point = dryer::condensation_temperature(1e-3 * humidity, pressure_pa);
            let state = state("x", 60.0, humidity, point - ZERO_CELSIUS);
            let found = pressure(&[&state]).unwrap_or(0.0);
            assert!(
                (found / pressure_pa - 1.0).abs() < 1e-4,
                "{found} {pressure_pa}"
            );
        }
    }

    #[test]
    fn exact_states_that_lie_together_share_their_number() {
        let states = [
            state("return of the hoppers", 65.0, 1.0, -15.0),
            state("before the cooler", 64.5, 1.05, -15.0),
            state("regeneration air at the wheel", 180.0, 6.0, 5.0),
            state("at the desiccant", 25.0, 1.05, -15.0),
        ];
        let notes = numbered(&states, &Point::new);
        let texts: Vec<&str> = notes.iter().map(Series::name).collect();
        assert_eq!(texts, ["1, 2", "3", "4"]);
        let all: Vec<&LoopState> = states.iter().collect();
        let (round, hot) = paths(&all);
        assert_eq!((round.len(), hot.len()), (3, 1));
    }
}
