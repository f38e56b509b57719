//! The way after the dryer: what the pellets take up again, how long a lid may be open, what a sample
//! says.

use super::PlanAnswer;
use crate::pictures;
use crate::speech::{Measure, Speech, hours, ppm};
use decide::way::{HopperFound, OpenTime, SampleFound, WayFound};
use document::{Block, Cell, Column, Grade, Row, Section, State, Table};

/// What hurts or spoils on this way.
const CAUTIONS: &str = "Hot pellets burn: a sample is taken with a scoop and gloves, never by hand, \
    and the slide gate is closed before anybody reaches in. Conveying rubs dust and charge off the \
    pellets: hoses and vessels are bonded and earthed, filters are cleaned with a rated vacuum \
    cleaner and never with compressed air, and local codes on combustible dust decide.";

/// What the answer says of the screw, where a way is stated.
pub(super) fn reaching(answer: &PlanAnswer) -> String {
    let screw = answer.plan.way.as_ref().and_then(WayFound::at_screw);
    screw.map_or_else(String::new, |screw| {
        format!(", reaches the screw at {}", ppm(screw.mean_ppm_wet))
    })
}

/// Whether the pellets leave the dryer dry and reach the screw wet.
pub(super) fn decides(answer: &PlanAnswer) -> bool {
    let limit = answer.plan.outlet.limit_ppm_wet;
    let way = answer.plan.way.as_ref();
    way.and_then(WayFound::at_screw).is_some_and(|screw| {
        screw.mean_ppm_wet > limit && answer.plan.outlet.mean_ppm_wet.value <= limit
    })
}

/// The row of the screw in the table of the answer.
pub(super) fn row(answer: &PlanAnswer, stands: impl Fn(f64) -> Cell) -> Option<Row> {
    let screw = answer.plan.way.as_ref()?.at_screw()?;
    Some(Row::new(vec![
        Cell::text("mean of a shot at the screw"),
        Cell::precise(screw.mean_ppm_wet, 2, Grade::Computed),
        stands(screw.mean_ppm_wet),
    ]))
}

/// The section; nothing for a resin that takes up no water.
pub(super) fn section(answer: &PlanAnswer, speech: Speech) -> Option<Section> {
    let way = answer.plan.way.as_ref()?;
    let figure = pictures::way(answer, speech)?;
    let stated = way.at_screw().is_some();
    let mut blocks = Vec::new();
    let summary = format!("{}.", figure.title);
    blocks.push(Block::picture(figure));
    if stated {
        blocks.push(Block::table(stations(answer, way, speech)));
    }
    if let Some(hopper) = &way.hopper {
        blocks.push(Block::text(held(way, hopper, speech)));
    }
    if let Some(sample) = &way.sample {
        blocks.push(Block::text(sampled(sample)));
    }
    blocks.push(Block::table(regain(way, speech)));
    blocks.push(Block::text(open(answer, way, speech)));
    blocks.push(Block::text(assumed(way, stated, speech)));
    blocks.push(Block::text(CAUTIONS));
    Some(Section {
        title: if stated {
            "On the way to the screw".into()
        } else {
            "Left open in the hall".into()
        },
        summary,
        blocks,
    })
}

/// Station after station.
fn stations(answer: &PlanAnswer, way: &WayFound, speech: Speech) -> Table {
    let limit = answer.plan.outlet.limit_ppm_wet;
    let rows = way.stations.iter().map(|station| {
        Row::new(vec![
            Cell::text(station.name),
            Cell::precise(station.minutes, 2, Grade::Computed),
            Cell::precise(
                speech.number(Measure::Temperature, station.temperature_c),
                2,
                Grade::Computed,
            ),
            Cell::precise(station.mean_ppm_wet, 2, Grade::Computed),
            Cell::precise(station.surface_ppm_wet, 2, Grade::Computed),
            Cell::state(if station.mean_ppm_wet > limit {
                State::Wet
            } else {
                State::InWindow
            }),
        ])
    });
    Table {
        caption: format!("Station after station, wet basis, against {}", ppm(limit)),
        columns: vec![
            Column::new("where"),
            Column::with_unit("after", "min"),
            Column::with_unit("pellets", speech.unit(Measure::Temperature)),
            Column::with_unit("mean", "ppm"),
            Column::with_unit("surface", "ppm"),
            Column::new("stands"),
        ],
        rows: rows.collect(),
    }
}

/// The machine hopper in words.
fn held(way: &WayFound, hopper: &HopperFound, speech: Speech) -> String {
    let over = match hopper.lid {
        "closed" => "under a tight lid",
        "purged" => "under dried air",
        _ => "open to the hall",
    };
    let supply = hopper.supply_ppm_wet.map_or_else(String::new, |supply| {
        format!(
            " The air that enters as the pellets leave carries vapour for {} in all.",
            ppm(supply)
        )
    });
    let most = match (hopper.most_kg, hopper.most_half_margin_kg) {
        (None, _) => "A day in it does not bring the pellets to the limit.".to_owned(),
        (Some(most), _) if !(most > 0.0) => {
            "The limit is reached before the pellets enter it.".to_owned()
        }
        (Some(most), half) => format!(
            "It may hold {} at most until the pellets reach the screw at the limit{}.",
            speech.say(Measure::Mass, most),
            half.map_or_else(String::new, |half| format!(
                ", {} with half of the margin left",
                speech.say(Measure::Mass, half)
            ))
        ),
    };
    let entered = way.stations.iter().rev().nth(2);
    let from = entered.map_or(way.leaving_c, |station| station.temperature_c);
    format!(
        "The machine hopper holds {} {over}, through which a pellet takes {}; the heap cools with a \
         time constant of {}.{supply} {most} Lid off, {} from pellets as they enter ({}).",
        speech.say(Measure::Mass, hopper.holds_kg),
        hours(hopper.stays_min / 60.0),
        hours(hopper.cooling_min / 60.0),
        until(&hopper.open),
        speech.say(Measure::Temperature, from),
    )
}

/// How long until the limit, in words.
fn until(open: &OpenTime) -> String {
    match (open.to_limit_min, open.to_half_margin_min) {
        (Some(limit), _) if !(limit > 0.0) => "the limit is passed already".to_owned(),
        (Some(limit), Some(half)) => format!(
            "the limit is reached after {}, half of the margin is used after {}",
            hours(limit / 60.0),
            hours(half / 60.0)
        ),
        (None, Some(half)) => format!(
            "the limit is not reached in a day, half of the margin is used after {}",
            hours(half / 60.0)
        ),
        _ => "not even half of the margin is used in a day".to_owned(),
    }
}

/// The sample in words.
fn sampled(sample: &SampleFound) -> String {
    let taken = sample.laboratory_ppm_wet - sample.throat_ppm_wet;
    format!(
        "A sample that is {} {} reads {} where {} were at the throat: {} {}.",
        hours(sample.minutes / 60.0),
        if sample.closed {
            "in a closed vessel"
        } else {
            "in the air of the hall"
        },
        ppm(sample.laboratory_ppm_wet),
        ppm(sample.throat_ppm_wet),
        ppm(taken.abs()),
        if taken >= 0.0 {
            "too much"
        } else {
            "too little"
        },
    )
}

/// Regain in the air of the hall.
fn regain(way: &WayFound, speech: Speech) -> Table {
    let rows = way.regain.iter().map(|row| {
        let cell = |value: f64| Cell::precise(value, 2, Grade::Computed);
        Row::new(vec![
            Cell::precise(row.minutes, 2, Grade::Computed),
            cell(row.cold_ppm_wet),
            cell(row.cold_surface_ppm_wet),
            cell(row.hot_ppm_wet),
            cell(row.hot_surface_ppm_wet),
        ])
    });
    Table {
        caption: format!(
            "Open in the hall, wet basis: as cold as it, and kept at the {} they leave with",
            speech.say(Measure::Temperature, way.leaving_c)
        ),
        columns: vec![
            Column::with_unit("after", "min"),
            Column::with_unit("cold, mean", "ppm"),
            Column::with_unit("surface", "ppm"),
            Column::with_unit("hot, mean", "ppm"),
            Column::with_unit("surface", "ppm"),
        ],
        rows: rows.collect(),
    }
}

/// How long pellets may lie open.
fn open(answer: &PlanAnswer, way: &WayFound, speech: Speech) -> String {
    format!(
        "Open and cold, {}. Kept at {}, {}: in the same air hot pellets are in balance with less \
         water. In the end cold pellets would come to {}; the limit is {}.",
        until(&way.open_cold),
        speech.say(Measure::Temperature, way.leaving_c),
        until(&way.open_hot),
        ppm(way.balance_ppm_wet),
        ppm(answer.plan.outlet.limit_ppm_wet),
    )
}

/// What was assumed.
fn assumed(way: &WayFound, stated: bool, speech: Speech) -> String {
    let hall = &way.hall;
    let air = format!(
        "{} and {} %RH",
        speech.say(Measure::Temperature, hall.temperature_c),
        quantity::digits(hall.relative_humidity_percent, 2)
    );
    let from = if hall.assumed {
        format!(
            "The job states no humidity of the hall, so the standard atmosphere of {air} (ISO 291) \
             is taken."
        )
    } else {
        format!("The hall is at {air}, as stated.")
    };
    let more = if stated {
        ""
    } else {
        " Describe the way to the machine under [way], and the plan is judged at the screw."
    };
    format!(
        "{from} The mean pellet begins as it leaves the dryer, drier at its surface than at its \
         heart, and sees the air of the hall at its surface. Pellets inside a heap take up less, for \
         their neighbours dry the air: this is the wet side.{more}"
    )
}
