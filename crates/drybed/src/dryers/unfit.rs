//! What speaks against a dryer whatever it leaves in the resin, and a desiccant that does nothing, in words.

use super::words::{sentence, short};
use crate::speech::{Measure, Speech};
use decide::compare::{AirFrom, Compared, Unfit};
use document::Note;
use quantity::digits;

/// Frost point of the supply below that of the hall from which a desiccant does something, K (common practice,
/// no source).
const DOES_SOMETHING: f64 = 10.0;

/// Each dryer that is not fit, and each whose desiccant does nothing.
pub(super) fn notes(dryers: &[Compared], speech: Speech) -> Vec<Note> {
    let unfit = dryers.iter().filter_map(|dryer| {
        let why = said(dryer.unfit.as_ref()?, speech);
        Some(Note::caution(sentence(&format!(
            "{} is not fit: {why}",
            short(&dryer.title)
        ))))
    });
    let idle = dryers.iter().filter_map(|dryer| idle(dryer, speech));
    unfit.chain(idle).collect()
}

fn said(unfit: &Unfit, speech: Speech) -> String {
    let temperature = |celsius: f64| speech.say(Measure::Temperature, celsius);
    match unfit {
        Unfit::MadeForCooler { hottest_c, asked_c } => format!(
            "it is made for air of {}, and the plan asks {}",
            temperature(*hottest_c),
            temperature(*asked_c)
        ),
        Unfit::TooHot {
            day,
            resin,
            inlet_c,
            asked_c,
        } => format!(
            "on the day {day} air of {} reaches the {resin}, where {} is asked, so what it leaves is no measure: \
             it is too large for this job, or its heater is",
            temperature(*inlet_c),
            temperature(*asked_c)
        ),
        Unfit::Cooked { day, share } => format!(
            "on the day {day} it keeps the resin hot for longer than that bears in {} % of the draws",
            digits(100.0 * share, 2)
        ),
    }
}

/// A desiccant whose air is hardly drier than that of the hall.
fn idle(dryer: &Compared, speech: Speech) -> Option<Note> {
    if !matches!(dryer.air, AirFrom::Wheel | AirFrom::Beads) {
        return None;
    }
    let wettest = dryer.days.iter().filter_map(|day| {
        let point = day.supply_point_c?;
        let hall = day.hall_point_c;
        (point > hall - DOES_SOMETHING).then_some((point, hall, &day.day))
    });
    let (point, hall, day) = wettest.max_by(|a, b| (a.0 - a.1).total_cmp(&(b.0 - b.1)))?;
    Some(Note::caution(format!(
        "The desiccant of the {} does next to nothing on the day {day}: its air has a dew point of {}, that of \
         the hall {}.",
        short(&dryer.title),
        speech.say(Measure::Temperature, point),
        speech.say(Measure::Temperature, hall)
    )))
}
