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

/// What the store did; nothing where no climate is stated.
pub(super) fn section(answer: &PlanAnswer, speech: Speech) -> Option<Section> {
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
