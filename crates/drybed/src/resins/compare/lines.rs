//! The lines of the table that sets resins side by side.

use super::Compared;
use crate::resins::PelletTime;
use crate::speech::{Measure, Speech, hours};
use material::Evidence;
use quantity::{MoistureDryBasis, Quantity, Temperature, digits};

/// What stands in a line for a resin.
type Write = Box<dyn Fn(&Compared) -> Option<String>>;
/// A line of the table: its name with the unit, and what stands there for a resin.
type Line = (String, Write);

/// Every line, in the order in which one asks.
pub(super) fn lines(speech: Speech) -> Vec<Line> {
    let mut all = practice(speech);
    all.extend(computed(speech));
    all.extend(body(speech));
    all
}

/// What the trade does.
fn practice(speech: Speech) -> Vec<Line> {
    let degree = speech.unit(Measure::Temperature);
    vec![
        (
            format!("dried at, {degree}"),
            Box::new(move |c: &Compared| Some(degrees(speech, &c.resin.drying.temperature))),
        ),
        (
            format!("window, {degree}"),
            Box::new(move |c: &Compared| {
                let ends = [
                    &c.resin.drying.temperature_low,
                    &c.resin.drying.temperature_high,
                ];
                let [low, high] =
                    ends.map(|e| whole(speech.number(Measure::Temperature, e.value.celsius())));
                Some(format!("{low} to {high}"))
            }),
        ),
        line(
            "customary time, h",
            Box::new(|c| Some(marked(&c.resin.drying.time, &digits(c.line.time_h, 2)))),
        ),
        line(
            "longest stay, h",
            Box::new(|c| {
                let hold = &c.resin.drying.hold;
                Some(marked(hold, &digits(hold.value.hours(), 2)))
            }),
        ),
        (
            format!("frost point, {degree}"),
            Box::new(move |c: &Compared| {
                let number = speech.number(Measure::Temperature, c.line.frost_point_c);
                Some(marked(&c.resin.drying.frost_point, &whole(number)))
            }),
        ),
        line(
            "limit for moulding, ppm",
            Box::new(|c| Some(water(&c.resin.limit.moulding))),
        ),
        line(
            "limit for extrusion, ppm",
            Box::new(|c| c.resin.limit.extrusion.as_ref().map(water)),
        ),
        line(
            "limit for fibre, ppm",
            Box::new(|c| c.resin.limit.fibre.as_ref().map(water)),
        ),
        line(
            "too dry below, ppm",
            Box::new(|c| c.resin.limit.lower_edge.as_ref().map(water)),
        ),
        line(
            "received sealed, ppm",
            Box::new(|c| Some(water(&c.resin.received.sealed))),
        ),
        line(
            "received opened, ppm",
            Box::new(|c| Some(water(&c.resin.received.opened))),
        ),
    ]
}

/// What the record comes to.
fn computed(speech: Speech) -> Vec<Line> {
    vec![
        line(
            "in a room of 23 °C, 50 %RH, ppm",
            Box::new(|c| Some(digits(c.numbers.in_a_room_ppm_wet, 2))),
        ),
        line(
            "capacity when dried, % dry",
            Box::new(|c| Some(digits(c.numbers.capacity_percent_dry, 2))),
        ),
        line(
            "floor in its air, ppm",
            Box::new(|c| Some(digits(c.numbers.floor_ppm_wet, 2))),
        ),
        (
            format!(
                "diffusivity when dried, {}",
                speech.unit(Measure::Diffusivity)
            ),
            Box::new(move |c: &Compared| {
                let value = c.numbers.diffusivity_m2_s.value;
                let text = digits(speech.number(Measure::Diffusivity, value), 2);
                let estimate = c
                    .resin
                    .diffusivity
                    .value("reference")
                    .is_some_and(|e| e.grade.is_estimate());
                Some(if estimate {
                    format!("≈\u{a0}{text}")
                } else {
                    text
                })
            }),
        ),
        line(
            "one pellet, opened to limit",
            Box::new(|c| Some(c.numbers.pellet_time.words())),
        ),
        line(
            "nine in ten",
            Box::new(|c| match c.numbers.pellet_time {
                PelletTime::Reaches(t) => Some(format!("{} to {}", hours(t.low), hours(t.high))),
                _ => None,
            }),
        ),
    ]
}

/// The resin and its pellets.
fn body(speech: Speech) -> Vec<Line> {
    let degree = speech.unit(Measure::Temperature);
    let width = speech.unit(Measure::Width);
    vec![
        (
            format!("pellet, {width}"),
            Box::new(move |c: &Compared| {
                let form = &c.resin.pellet;
                let say = |e: &Evidence<quantity::Length>| {
                    digits(speech.number(Measure::Width, 1e3 * e.value.si()), 2)
                };
                let mut text = say(&form.diameter);
                if let Some(length) = &form.length {
                    text = format!("{text} x {}", say(length));
                }
                Some(marked(&form.diameter, &text))
            }),
        ),
        line(
            "filler, % by mass",
            Box::new(|c| {
                let share = &c.resin.filler.as_ref()?.share;
                Some(marked(share, &digits(100.0 * share.value.si(), 2)))
            }),
        ),
        (
            format!("glass transition, {degree}"),
            Box::new(move |c: &Compared| {
                c.resin
                    .glass_transition
                    .as_ref()
                    .map(|e| degrees(speech, e))
            }),
        ),
        (
            format!("melting, {degree}"),
            Box::new(move |c: &Compared| c.resin.melting.as_ref().map(|e| degrees(speech, e))),
        ),
        (
            format!("sticks from, {degree}"),
            Box::new(move |c: &Compared| Some(degrees(speech, &c.resin.sticking))),
        ),
        line(
            "estimates, %",
            Box::new(|c| Some(digits(100.0 * c.line.estimates, 2))),
        ),
        line(
            "numbers read in a source",
            Box::new(|c| Some(c.line.read.to_string())),
        ),
    ]
}

fn line(what: &str, write: Write) -> Line {
    (what.to_owned(), write)
}

/// A temperature of the record.
fn degrees(speech: Speech, e: &Evidence<Temperature>) -> String {
    let number = speech.number(Measure::Temperature, e.value.celsius());
    marked(e, &whole(number))
}

/// A moisture of the record, ppm wet basis.
fn water(e: &Evidence<MoistureDryBasis>) -> String {
    marked(e, &digits(e.value.wet_basis().ppm(), 3))
}

/// A number of the record, with the sign of an estimate where it is one.
fn marked<T>(evidence: &Evidence<T>, text: &str) -> String {
    if evidence.grade.is_estimate() {
        format!("≈\u{a0}{text}")
    } else {
        text.to_owned()
    }
}

fn whole(value: f64) -> String {
    digits(value.round(), 6)
}
