//! The words and tables of the specimen; every number is invented.

use crate::figures;
use document::{Block, Cell, Column, Document, Grade, Note, Row, Section, State, Table};

/// Stands at the foot of the page and below every picture.
const INVENTED: &str = "Values in data are invented for the specimen.";

/// A document with every kind of part.
pub(crate) fn specimen() -> Document {
    Document {
        question: "PC, 10 kg/h, a 35 kg hopper and air at 120 °C with a frost point of -38 °C: \
                   is it dry when it leaves?"
            .into(),
        answer:
            "PC at 10 kg/h leaves at 90 ppm (50 to 170), wettest 1 % of pellets 160, limit 200: \
                 in window, and the wall takes a tenth of the heat."
                .into(),
        state: Some(State::InWindow),
        picture: Some(figures::journey()),
        table: outlet(),
        notes: vec![
            Note::source(
                "Diffusivity of water in PC: specimen of a source, Table 3, films of 0.2 mm, 25 to 130 °C; invented.",
            ),
            Note::source("Heat transfer in the bed: specimen of a source, equation 12; invented."),
            Note::doubt(
                "The wall coefficient is common practice for a bare hopper, not measured on this one; with 30 mm of mineral wool the pellets are warm 10 min earlier.",
            ),
            Note::doubt(
                "Pellet size was read from the data sheet; one in ten pellets may be 15 % larger.",
            ),
            Note::caution(
                "Air of 120 °C burns. Let the hopper cool before opening it, and follow the maker's manual and local rules.",
            ),
            Note::caution("The resin maker's data sheet decides on temperature and time."),
        ],
        sections: vec![
            section(
                "Inside the pellet",
                "The mean says little: the skin is dry long before the middle.",
                vec![Block::picture(figures::pellet())],
            ),
            section(
                "The bed",
                "Heat needs the top 0.3 m; the rest is time.",
                vec![Block::picture(figures::bed()), Block::table(heights())],
            ),
            section(
                "The map of settings",
                "Half an hour and 7 K of room.",
                vec![
                    Block::picture(figures::map()),
                    Block::text(
                        "Left of the blue line the pellets leave too wet; in the hatched area on the right they stick at this load, and above the upper border they are longer in the heat than the resin maker allows.",
                    ),
                ],
            ),
            section(
                "What a dew point buys",
                "Below -30 °C nothing more.",
                vec![Block::picture(figures::dew_point())],
            ),
            section(
                "The wheel by angle",
                "",
                vec![Block::picture(figures::wheel())],
            ),
            section(
                "The choice and its energy ledger",
                "One dryer of three, and where its current goes.",
                vec![
                    Block::picture(figures::choice()),
                    Block::balance(figures::ledger()),
                ],
            ),
            section(
                "All settings and how they stand",
                "A wall of tables, to see how they read.",
                vec![
                    Block::table(states()),
                    Block::table(evidence()),
                    Block::table(energy()),
                ],
            ),
        ],
        imprint: vec![INVENTED.into(), "drybed, specimen of a document".into()],
    }
}

fn section(title: &str, summary: &str, blocks: Vec<Block>) -> Section {
    Section {
        title: title.into(),
        summary: summary.into(),
        blocks,
    }
}

fn outlet() -> Table {
    let row = |what: &str, cell, limit, notes: &[usize]| {
        Row::new(vec![Cell::text(what), cell, limit]).leaning_on(notes)
    };
    let computed = |value, low, high| Cell::ranged(value, low, high, Grade::Computed);
    let limit = || Cell::number(200.0, Grade::Measured);
    Table {
        caption: "Moisture at the outlet, dry basis".into(),
        columns: vec![
            Column::new("what"),
            Column::with_unit("moisture", "ppm"),
            Column::with_unit("limit", "ppm"),
        ],
        rows: vec![
            row(
                "mean of a shot",
                computed(93.4, 51.0, 168.0),
                limit(),
                &[0, 1],
            ),
            row(
                "wettest 1 % of pellets",
                computed(158.0, 96.0, 262.0),
                limit(),
                &[0, 3],
            ),
            row(
                "middle of a mean pellet",
                computed(141.0, 80.0, 251.0),
                Cell::Blank,
                &[0],
            ),
            row(
                "skin of a mean pellet",
                computed(57.0, 52.0, 62.0),
                Cell::Blank,
                &[],
            ),
            row(
                "picked up in the machine hopper",
                Cell::ranged(8.0, 2.0, 20.0, Grade::CommonPractice),
                Cell::Blank,
                &[2],
            ),
        ],
    }
}

fn heights() -> Table {
    let row = |height: f64, pellet: f64, air: f64, frost: f64, moisture: f64| {
        let number = |value| Cell::number(value, Grade::Computed);
        Row::new(vec![
            Cell::precise(height, 2, Grade::Computed),
            number(pellet),
            number(air),
            number(frost),
            number(moisture),
        ])
    };
    Table {
        caption: "The bed at five heights".into(),
        columns: vec![
            Column::with_unit("height", "m"),
            Column::with_unit("pellets", "°C"),
            Column::with_unit("air", "°C"),
            Column::with_unit("air frost point", "°C"),
            Column::with_unit("moisture", "ppm"),
        ],
        rows: vec![
            row(1.4, 24.0, 58.0, 4.1, 1990.0),
            row(1.1, 118.0, 119.0, -1.2, 1310.0),
            row(0.84, 120.0, 120.0, -17.4, 512.0),
            row(0.56, 120.0, 120.0, -33.0, 174.0),
            row(0.28, 120.0, 120.0, -38.0, 96.0),
        ],
    }
}

fn states() -> Table {
    let row = |setting: &str, moisture: f64, state, why: &str| {
        Row::new(vec![
            Cell::text(setting),
            Cell::ranged(moisture, moisture * 0.6, moisture * 1.8, Grade::Computed),
            Cell::state(state),
            Cell::text(why),
        ])
    };
    Table {
        caption: "Settings tried".into(),
        columns: vec![
            Column::new("setting"),
            Column::with_unit("outlet moisture", "ppm"),
            Column::new("state"),
            Column::new("why"),
        ],
        rows: vec![
            row("120 °C, 4 h", 93.0, State::InWindow, "recommended"),
            row(
                "100 °C, 4 h",
                412.0,
                State::Wet,
                "the way out of the pellet is too slow",
            ),
            row(
                "120 °C, 8 h",
                41.0,
                State::TooDry,
                "for a resin with a lower edge",
            ),
            row(
                "135 °C, 4 h",
                52.0,
                State::Cooked,
                "pellets stick, and the colour turns",
            ),
            row(
                "120 °C, 4 h, wet lot",
                130.0,
                State::Unknown,
                "nobody measured the lot",
            ),
        ],
    }
}

fn evidence() -> Table {
    let row = |what: &str, unit: &str, cell, source: &str, notes: &[usize]| {
        Row::new(vec![
            Cell::text(what),
            cell,
            Cell::text(unit),
            Cell::text(source),
        ])
        .leaning_on(notes)
    };
    Table {
        caption: "What the answer leans on".into(),
        columns: vec![
            Column::new("what"),
            Column::new("value"),
            Column::new("unit"),
            Column::new("from"),
        ],
        rows: vec![
            row(
                "diffusivity at 120 °C",
                "m²/s",
                Cell::ranged(5.1e-11, 4.0e-11, 6.6e-11, Grade::Fitted),
                "Table 3",
                &[0],
            ),
            row(
                "solubility at 25 °C, 50 %",
                "% dry basis",
                Cell::ranged(0.19, 0.17, 0.21, Grade::Measured),
                "Table 1",
                &[0],
            ),
            row(
                "heat of sorption",
                "kJ/mol",
                Cell::ranged(44.0, 38.0, 50.0, Grade::Analogy),
                "a polyester",
                &[],
            ),
            row(
                "wall coefficient",
                "W/(m² K)",
                Cell::ranged(6.0, 3.0, 12.0, Grade::CommonPractice),
                "no source",
                &[2],
            ),
            row(
                "clumping above",
                "°C",
                Cell::number(127.0, Grade::Assumed),
                "no source",
                &[],
            ),
        ],
    }
}

fn energy() -> Table {
    let row = |what: &str, power: f64, specific: f64| {
        Row::new(vec![
            Cell::text(what),
            Cell::number(power, Grade::Computed),
            Cell::number(specific, Grade::Computed),
        ])
    };
    Table {
        caption: "Where the electricity goes".into(),
        columns: vec![
            Column::new("where"),
            Column::with_unit("power", "kW"),
            Column::with_unit("per kilogram", "kWh/kg"),
        ],
        rows: vec![
            row("into the pellets", 0.352, 0.0352),
            row("through the wall", 0.104, 0.0104),
            row("with the return air", 0.211, 0.0211),
            row("regeneration", 0.287, 0.0287),
            row("blowers", 0.120, 0.0120),
        ],
    }
}
