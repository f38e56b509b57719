//! What gives way first when the job gets harder, and what a dryer's air carries.

use super::words::short;
use crate::speech::{Measure, Speech};
use decide::compare::{AirFrom, Breaks, Compared, Comparison, Harder, Margin};
use document::{Block, Cell, Column, Row, Section, Table};
use job::Contaminant;
use quantity::{Quantity, digits, show};

/// How much harder the job may get.
pub(super) fn margins(compared: &Comparison) -> Section {
    let rows = compared
        .dryers
        .iter()
        .filter(|dryer| !dryer.margins.is_empty())
        .map(|dryer| {
            let mut cells = vec![Cell::text(short(&dryer.title))];
            cells.extend(Harder::ALL.iter().map(|harder| {
                let margin = dryer.margins.iter().find(|margin| margin.harder == *harder);
                margin.map_or(Cell::Blank, |margin| Cell::text(in_a_cell(margin)))
            }));
            cells.push(dryer.heater_used.map_or(Cell::Blank, |used| {
                Cell::text(format!("{} %", digits(100.0 * (1.0 - used), 2)))
            }));
            Row::new(cells)
        });
    let first = compared
        .choice
        .dryer
        .and_then(|index| compared.dryers.get(index))
        .map_or_else(
            || "No dryer is recommended; how far each is from giving way stands below.".to_owned(),
            in_words,
        );
    Section {
        title: "What gives way first".into(),
        summary: first,
        blocks: vec![
            Block::table(Table {
                caption:
                    "Times what it is now, on each dryer's worst day, one thing at a time, until \
                          something gives way; heater: what it has left"
                        .into(),
                columns: [
                    "dryer",
                    "more resin",
                    "wetter resin",
                    "damper hall",
                    "slower press",
                    "heater",
                ]
                .map(Column::new)
                .to_vec(),
                rows: rows.collect(),
            }),
            Block::text(
                "By the best values, without draws: a limit is missed when the mean pellet leaves wetter; \
                 a dew point has given way when it has risen by 10 K, which is the cliff of a desiccant. A \
                 slower press sends hotter air back.",
            ),
        ],
    }
}

/// The margins of a dryer in a sentence.
fn in_words(dryer: &Compared) -> String {
    let first = dryer
        .margins
        .iter()
        .filter(|margin| margin.breaks != Breaks::Nothing)
        .min_by(|a, b| a.factor.total_cmp(&b.factor));
    let heater = dryer.heater_used.map_or_else(String::new, |used| {
        format!(
            "; its heater has {} % left",
            digits(100.0 * (1.0 - used), 2)
        )
    });
    let Some(first) = first else {
        return format!(
            "{}: nothing gives way as far as was looked{heater}.",
            short(&dryer.title)
        );
    };
    let harder = match first.harder {
        Harder::Rate => "the resin an hour",
        Harder::ResinWater => "the water in the resin",
        Harder::HallWater => "the water in the hall's air",
        Harder::SlowPress => "less resin an hour",
    };
    format!(
        "{}: first {}, at {} times {harder}{heater}.",
        short(&dryer.title),
        given_way(&first.breaks),
        digits(first.factor, 2)
    )
}

fn given_way(breaks: &Breaks) -> String {
    match breaks {
        Breaks::Limit { resin } => format!("{resin} leaves wetter than its limit"),
        Breaks::Component { component } => format!("the {component} gives no more"),
        Breaks::DewPoint => "the dew point rises by 10 K".to_owned(),
        Breaks::Loop => "the loop does not settle".to_owned(),
        Breaks::Nothing => "nothing gives way".to_owned(),
    }
}

fn in_a_cell(margin: &Margin) -> String {
    let factor = digits(margin.factor, 2);
    match &margin.breaks {
        Breaks::Nothing => format!("> {factor}"),
        Breaks::Limit { .. } => format!("{factor} limit"),
        Breaks::Component { component } => format!("{factor} {component}"),
        Breaks::DewPoint => format!("{factor} dew point"),
        Breaks::Loop => format!("{factor} loop"),
    }
}

/// What the air of each dryer carries, its floor and its noise.
pub(super) fn beside(compared: &Comparison, speech: Speech) -> Section {
    let rows = compared.dryers.iter().map(|dryer| {
        let owned = &dryer.ownership;
        Row::new(vec![
            Cell::text(short(&dryer.title)),
            Cell::text(carries(dryer)),
            owned.footprint.map_or(Cell::Blank, |area| {
                Cell::text(speech.say(Measure::Area, area.si()))
            }),
            owned
                .noise
                .map_or(Cell::Blank, |level| Cell::text(show(level, speech.0))),
        ])
    });
    Section {
        title: "What the air carries, floor and noise".into(),
        summary: "By common practice where nothing is stated; a filter before the hopper holds dust, and \
                  none holds vapour."
            .into(),
        blocks: vec![Block::table(Table {
            caption: "What may come to the resin with the air; floor and noise only where stated".into(),
            columns: ["dryer", "its air may carry", "floor", "noise at 1 m"]
                .map(Column::new)
                .to_vec(),
            rows: rows.collect(),
        })],
    }
}

fn carries(dryer: &Compared) -> String {
    if let Some(stated) = &dryer.ownership.air_carries {
        let words: Vec<&str> = stated
            .iter()
            .map(|what| match what {
                Contaminant::Oil => "oil",
                Contaminant::BeadDust => "dust of beads",
            })
            .collect();
        return if words.is_empty() {
            "nothing, as stated".to_owned()
        } else {
            format!("{}, as stated", words.join(" and "))
        };
    }
    match dryer.air {
        AirFrom::Wheel => "dust of the resin itself, which goes round",
        AirFrom::Beads => "dust of beads, and of the resin, which goes round",
        AirFrom::Compressor => "oil and rust of the line, without a filter at the dryer",
        AirFrom::Hall => "dust and smell of the hall",
        AirFrom::None => "none is blown through the resin",
    }
    .to_owned()
}
