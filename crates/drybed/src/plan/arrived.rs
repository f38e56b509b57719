//! How the resin arrived: its package, and what the store made of it.

use super::PlanAnswer;
use crate::pictures;
use crate::speech::{Measure, Speech, hours, ppm};
use document::{Block, Cell, Column, Grade, Row, Section, Table};
use job::{Climate, Package};

/// Rows of the table of a storage.
const ROWS: usize = 7;

/// Where the moisture on arrival comes from, where it was not measured.
pub(super) fn note(answer: &PlanAnswer, speech: Speech) -> Option<String> {
    let arrival = &answer.job.arrival;
    if arrival.moisture.is_some() {
        return None;
    }
    let usual = |package: &str| {
        format!(
            "The moisture on arrival is the usual one of {package} package, not measured on this \
             lot."
        )
    };
    let Some(storage) = &arrival.storage else {
        return Some(usual("an opened"));
    };
    let Some(climate) = &storage.climate else {
        return Some(usual(match storage.package {
            Package::Sealed => "a sealed",
            Package::Opened => "an opened",
        }));
    };
    Some(format!(
        "The moisture on arrival is computed from {} open {}, not measured.",
        hours(climate.time().hours()),
        lain(climate, speech)
    ))
}

/// In which air.
fn lain(climate: &Climate, speech: Speech) -> String {
    match climate {
        Climate::Daily(day) => {
            let still = climate.is_steady();
            format!(
                "at {} and {}{}",
                speech.say(Measure::Temperature, day.temperature.celsius()),
                quantity::show(day.relative_humidity, speech.0),
                if still {
                    ""
                } else {
                    " with the swing of the day"
                }
            )
        }
        Climate::Weather(weather) => format!(
            "in the weather of {} from {} to {}",
            weather.file, weather.span.0, weather.span.1
        ),
    }
}

/// What the store did, and the cold bag, where they are stated.
pub(super) fn sections(answer: &PlanAnswer, speech: Speech) -> Vec<Section> {
    let (stored, bag) = (stored(answer, speech), bag(answer, speech));
    stored.into_iter().chain(bag).collect()
}

/// What the store did; nothing where no climate is stated.
fn stored(answer: &PlanAnswer, speech: Speech) -> Option<Section> {
    let stored = answer.plan.stored.as_ref()?;
    let figure = pictures::storage(answer, speech)?;
    let unit = speech.unit(Measure::Temperature);
    let last = stored.course.len().saturating_sub(1);
    let rows = (0..ROWS).filter_map(|row| {
        let point = stored.course.get(row * last / (ROWS - 1))?;
        Some(Row::new(vec![
            Cell::precise(point.time_d, 2, Grade::Computed),
            Cell::precise(
                speech.number(Measure::Temperature, point.air_c),
                2,
                Grade::Computed,
            ),
            Cell::precise(point.relative_humidity_percent, 2, Grade::Computed),
            Cell::precise(point.mean_ppm_wet, 2, Grade::Computed),
            Cell::precise(point.surface_ppm_wet, 2, Grade::Computed),
        ]))
    });
    let end = stored.course.last().map_or(0.0, |point| point.mean_ppm_wet);
    Some(Section {
        title: "In the store".into(),
        summary: format!("{}.", figure.title),
        blocks: vec![
            Block::picture(figure),
            Block::table(Table {
                caption: "Open in the store, moisture on the wet basis".into(),
                columns: vec![
                    Column::with_unit("after", "d"),
                    Column::with_unit("air", unit),
                    Column::with_unit("humidity", "%RH"),
                    Column::with_unit("mean", "ppm"),
                    Column::with_unit("surface", "ppm"),
                ],
                rows: rows.collect(),
            }),
            Block::text(format!(
                "This is a pellet on top, in balance with the air of the store at its surface, with \
                 no bag or lid before it. Deeper in a bag, box or heap the neighbours dry the air, \
                 and pellets take up less: {} is the wet side, and so is the drying time that \
                 follows from it.",
                ppm(end)
            )),
        ],
    })
}

/// The cold bag; nothing where none is stated.
fn bag(answer: &PlanAnswer, speech: Speech) -> Option<Section> {
    let bag = answer.plan.bag.as_ref()?;
    let degrees = |c: f64| speech.say(Measure::Temperature, c);
    let stand = match bag.should_stand_h {
        Some(time) if !(time > 0.0) => "it may be opened at once".to_owned(),
        Some(time) => format!("it should stand closed for {}", hours(time)),
        None => "no standing keeps the pellets dry, for the hall is at its dew point".to_owned(),
    };
    let condensed = if bag.condensed_ppm_dry > 0.5 {
        format!(
            "{} of water condense on its pellets, which are wettest after {}",
            ppm(bag.condensed_ppm_dry),
            hours(bag.wettest_after_min / 60.0)
        )
    } else {
        "nothing condenses on its pellets".to_owned()
    };
    let number = |c: f64| Cell::precise(speech.number(Measure::Temperature, c), 3, Grade::Computed);
    let rows = [
        ("as it is brought in", bag.brought_c),
        ("the hall", bag.hall_c),
        ("dew point of the hall", bag.hall_dew_point_c),
        ("mean of the bag as it is opened", bag.opened_c),
        ("its coldest pellets", bag.coldest_c),
        ("pellets as they are fed", bag.fed_c),
    ];
    let air = if bag.hall_assumed {
        format!(
            " The job states no humidity of the hall, so the standard atmosphere of {} and 50 %RH \
             (ISO 291) is taken.",
            degrees(bag.hall_c)
        )
    } else {
        String::new()
    };
    Some(Section {
        title: "The cold bag".into(),
        summary: format!(
            "Brought in at {}, {stand}; opened after {}, {condensed}.",
            degrees(bag.brought_c),
            hours(bag.stood_h)
        ),
        blocks: vec![
            Block::table(Table {
                caption: "Temperatures of the bag".into(),
                columns: vec![
                    Column::new("what"),
                    Column::with_unit("temperature", speech.unit(Measure::Temperature)),
                ],
                rows: rows
                    .iter()
                    .map(|(what, c)| Row::new(vec![Cell::text(*what), number(*c)]))
                    .collect(),
            }),
            Block::text(format!(
                "The closed bag warms as one body with a time constant of {}, its heart lagging \
                 behind its mean, and should stand until its heart has come to the dew point. It \
                 stands alone: bags on a pallet take several times as long. Once open, each pellet \
                 meets the still air of the hall alone, and is fed as wet as it was at its \
                 wettest.{air}",
                hours(bag.time_constant_h)
            )),
        ],
    })
}
