//! Dryers side by side as a document.

use super::words::{self, about, sentence, short};
use super::{DryersAnswer, costs, margins, not_computed, own, set_points, unfit};
use crate::equipment::of_own;
use crate::pictures;
use crate::plan::imprint;
use crate::speech::{Measure, Speech, ppm};
use decide::compare::{AirFrom, Compared, Comparison, DayRun, ENOUGH, HopperDay};
use document::{Block, Cell, Column, Document, Grade, Note, Row, Section, State, Table};
use quantity::{Units, digits};

impl DryersAnswer {
    /// The comparison as a document in the units a person reads.
    pub fn document(&self, units: Units) -> Document {
        let speech = Speech(units);
        let compared = &self.comparison;
        let mut document = Document::new(
            words::question(compared, speech),
            sentence(&compared.choice.reason),
            if compared.dryers.is_empty() {
                none_run(compared, speech)
            } else {
                self.table(speech)
            },
        );
        document.state = Some(match compared.choice.dryer {
            Some(_) => State::InWindow,
            None if compared.dryers.is_empty() => State::Unknown,
            None => State::Wet,
        });
        if !compared.dryers.is_empty() {
            document.picture = Some(pictures::choice(compared, speech));
        }
        document.notes = self.notes(speech);
        document.sections = self.sections(speech);
        document.imprint = imprint();
        document
    }

    fn table(&self, speech: Speech) -> Table {
        let compared = &self.comparison;
        let mut columns = vec![
            Column::new("dryer"),
            Column::with_unit("supply", speech.unit(Measure::Temperature)),
            Column::with_unit("outlet", "ppm"),
            Column::with_unit("met", "%"),
            Column::with_unit("energy", speech.unit(Measure::Energy)),
        ];
        if let Some(currency) = &compared.currency {
            columns.push(Column::with_unit("cost", format!("{currency}/year")));
        }
        let rows = compared.dryers.iter().map(|dryer| {
            let worst = worst(dryer);
            let point = |day: &DayRun| {
                day.supply_point_c
                    .map(|point| speech.number(Measure::Temperature, point))
            };
            let tight = worst.and_then(tightest);
            let mut cells = vec![
                Cell::text(short(&dryer.title)),
                spread(dryer, &point),
                tight.map_or(Cell::Blank, outlet),
                match (&dryer.unfit, worst) {
                    (Some(_), _) => Cell::text("not fit"),
                    (None, Some(day)) => Cell::precise(100.0 * day.probability, 3, Grade::Computed),
                    (None, None) => Cell::Blank,
                },
                about(speech.number(Measure::Energy, dryer.year.energy_kwh_kg)),
            ];
            if compared.currency.is_some() {
                cells.push(
                    dryer
                        .year
                        .money
                        .map_or(Cell::Blank, |money| about(money.counted_per_year)),
                );
            }
            Row::new(cells)
        });
        let rows = rows.chain(not_computed::rows(compared, columns.len()));
        Table {
            caption: caption(compared, self.equipment.is_none()),
            rows: rows.collect(),
            columns,
        }
    }

    fn notes(&self, speech: Speech) -> Vec<Note> {
        let evacuated = if self
            .comparison
            .dryers
            .iter()
            .any(|dryer| dryer.air == AirFrom::None)
        {
            "an evacuated vessel is pressed in by ten tonnes on each m2 and must be built and let out for \
             that, and its valve crushes; "
        } else {
            ""
        };
        let mut notes = vec![
            Note::caution(format!(
                "Hot air, hot metal and hot pellets burn; compressed air and blowers store energy; \
                 {evacuated}regeneration and once-through exhaust carry what the resin gives off. Local codes, \
                 the resin maker's data sheet and licensed practice decide.",
            )),
            Note::doubt(
                "Published isotherms of one desiccant part by 17 K of frost point at one state; a draw \
                 moves that of wheel and towers by 4 K, one standard deviation, and what slips past the \
                 seals of a wheel or the valves of towers by a factor of two. A measured dew point on site narrows that.",
            ),
        ];
        notes.extend(words::against_practice(&self.comparison.runs));
        notes.extend(words::below_usual(&self.comparison.below_usual, speech));
        notes.extend(unfit::notes(&self.comparison.dryers, speech));
        match &self.equipment {
            Some(own) => notes.extend(own::notes(own, &self.comparison, speech)),
            None => notes.extend([
                Note::doubt(
                    "The dryers are sized by custom, not by any maker: blowers, heaters, wheel, coolers, \
                     pump and vessels are estimates, and so is every energy and cost here; no measured \
                     record of a vacuum dryer was found.",
                ),
                Note::source(format!(
                    "Desiccant: {}; the evidence stands in docs/desiccants.md.",
                    self.desiccant
                )),
            ]),
        }
        notes.extend(not_computed::notes(&self.comparison));
        let carried = self.comparison.carried_over.iter();
        notes.extend(carried.map(|text| Note::caution(sentence(text))));
        if self.comparison.currency.is_none() {
            notes.push(Note::doubt(
                "The job states no prices, so dryers are ranked by energy; [prices] in the job file adds \
                 money.",
            ));
        }
        notes
    }

    fn sections(&self, speech: Speech) -> Vec<Section> {
        let compared = &self.comparison;
        if compared.dryers.is_empty() {
            return Vec::new();
        }
        let mut all = Vec::new();
        all.extend(costs::costs(compared));
        all.extend(costs::earned(compared));
        all.push(margins::margins(compared));
        all.push(margins::beside(compared, speech));
        let chosen = compared.choice.dryer.map(|index| &compared.dryers[index]);
        if let (Some(found), Some(dryer)) = (&compared.set_points, chosen) {
            all.push(set_points::section(found, &dryer.title, speech));
        }
        all.extend(
            compared
                .set_points_not_searched
                .as_deref()
                .map(set_points::not_searched),
        );
        let dryers = compared.dryers.iter();
        all.extend(dryers.map(|dryer| of_dryer(compared, dryer, speech)));
        all.extend(not_computed::sections(compared, speech));
        all.push(self.days(speech));
        let own = self.equipment.iter().flat_map(|own| &own.dryers);
        all.extend(own.map(|dryer| of_own(dryer, speech.0)));
        all
    }

    /// The days that stand for the year.
    fn days(&self, speech: Speech) -> Section {
        let first = self.comparison.dryers.first();
        let runs = first.map_or(&[][..], |dryer| &dryer.days);
        let rows = self.comparison.days.iter().zip(runs).map(|(day, run)| {
            Row::new(vec![
                Cell::text(&day.name),
                Cell::precise(
                    speech.number(Measure::Temperature, run.hall.0),
                    3,
                    Grade::Computed,
                ),
                Cell::precise(
                    speech.number(Measure::Humidity, 1e3 * run.hall.1),
                    2,
                    Grade::Computed,
                ),
                Cell::precise(
                    100.0 * quantity::Quantity::si(day.share),
                    3,
                    Grade::Computed,
                ),
            ])
        });
        Section {
            title: "The days of the year".into(),
            summary: format!(
                "{} days stand for it; each dryer and day with {} draws, seed {}.",
                self.comparison.days.len(),
                self.comparison.samples.0,
                self.comparison.samples.1
            ),
            blocks: vec![Block::table(Table {
                caption: "Air of the hall".into(),
                columns: vec![
                    Column::new("day"),
                    Column::with_unit("temperature", speech.unit(Measure::Temperature)),
                    Column::with_unit("humidity", speech.unit(Measure::Humidity)),
                    Column::with_unit("share of the year", "%"),
                ],
                rows: rows.collect(),
            })],
        }
    }
}

/// Where no dryer was run: what was asked.
fn none_run(compared: &Comparison, speech: Speech) -> Table {
    let hoppers = compared.runs.iter().flat_map(|run| &run.hoppers);
    let rows = hoppers.map(|hopper| {
        Row::new(vec![
            Cell::text(&hopper.resin),
            Cell::precise(
                speech.number(Measure::Rate, hopper.rate_kg_h),
                3,
                Grade::Computed,
            ),
            Cell::precise(
                speech.number(Measure::Temperature, hopper.air_temperature_c),
                3,
                Grade::Computed,
            ),
        ])
    });
    Table {
        caption: "No dryer was run; what was asked".into(),
        columns: vec![
            Column::new("resin"),
            Column::with_unit("rate", speech.unit(Measure::Rate)),
            Column::with_unit("air", speech.unit(Measure::Temperature)),
        ],
        rows: rows.collect(),
    }
}

/// What the table of the dryers shows.
fn caption(compared: &Comparison, by_custom: bool) -> String {
    let sized = if by_custom { "Sized by custom. " } else { "" };
    let mut hoppers = compared.runs.iter().flat_map(|run| &run.hoppers);
    let limit = match (hoppers.next(), hoppers.next()) {
        (Some(one), None) => format!("the limit of {}", ppm(one.limit_ppm_wet)),
        _ => "the limit of every hopper".to_owned(),
    };
    format!(
        "{sized}Supply: dew or frost point, least and most of the days; outlet, and draws that \
         met {limit}, on each dryer's worst day"
    )
}

/// The hopper of a day in which fewest draws meet the limit.
fn tightest(day: &DayRun) -> Option<&HopperDay> {
    let hoppers = day.hoppers.iter();
    hoppers.min_by(|a, b| a.probability.total_cmp(&b.probability))
}

fn outlet(hopper: &HopperDay) -> Cell {
    let (low, high) = hopper.range_ppm_wet;
    Cell::ranged(hopper.outlet_ppm_wet, low, high, Grade::Computed)
}

/// The day on which fewest draws meet the limit.
fn worst(dryer: &Compared) -> Option<&DayRun> {
    let days = dryer.days.iter();
    days.min_by(|a, b| a.probability.total_cmp(&b.probability))
}

/// From the lowest to the highest of the days, beside the first.
fn spread(dryer: &Compared, of: &dyn Fn(&DayRun) -> Option<f64>) -> Cell {
    let values: Vec<f64> = dryer.days.iter().filter_map(of).collect();
    let low = values.iter().copied().fold(f64::INFINITY, f64::min);
    let high = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    values.first().map_or(Cell::Blank, |first| {
        Cell::ranged(*first, low, high, Grade::Computed)
    })
}

/// One dryer in detail.
fn of_dryer(compared: &Comparison, dryer: &Compared, speech: Speech) -> Section {
    let least = worst(dryer).map_or(0.0, |day| day.probability);
    let word = if least >= ENOUGH {
        "meets the limit on every day"
    } else {
        "does not meet the limit on every day"
    };
    let mut blocks = vec![Block::table(by_day(compared, &dryer.days, speech))];
    if let Some(day) = dryer.days.first() {
        if !day.states.is_empty() {
            let path = pictures::loop_path(day, into_hoppers(compared, day), speech);
            blocks.extend(path.map(Block::picture));
            blocks.push(Block::table(states(day, speech)));
        }
        let books = [
            pictures::books::water(day, speech),
            pictures::books::energy(day, speech),
        ];
        blocks.extend(books.into_iter().flatten().map(Block::balance));
        blocks.push(Block::table(crossings(day)));
        blocks.push(Block::text(format!(
            "What comes in and what goes out differ by {} of the water and {} of the heat.",
            share(day.imbalance.0),
            share(day.imbalance.1)
        )));
    }
    for day in &dryer.days {
        blocks.extend(day.warnings.iter().map(|text| Block::text(sentence(text))));
        for short in &day.shortfalls {
            blocks.push(Block::text(format!(
                "On the day {}: {}, {}: {} {} asked, {} given.",
                day.day,
                short.component,
                short.what,
                digits(short.asked, 3),
                short.unit,
                digits(short.given, 3)
            )));
        }
    }
    Section {
        title: dryer.title.clone(),
        summary: format!(
            "It {word}; about {} over the year.",
            speech.say(Measure::Energy, dryer.year.energy_kwh_kg)
        ),
        blocks,
    }
}

/// The temperature of the air into the hoppers of a day, degC, where one hopper is all.
fn into_hoppers(compared: &Comparison, day: &DayRun) -> Option<f64> {
    match &compared.runs.get(day.run)?.hoppers[..] {
        [one] => Some(one.air_temperature_c),
        _ => None,
    }
}

fn share(value: f64) -> String {
    if value < 1e-9 {
        "less than a billionth".into()
    } else {
        format!("{} of a millionth", digits(1e6 * value, 2))
    }
}

/// What leaves each hopper on some days.
pub(super) fn by_day(compared: &Comparison, days: &[DayRun], speech: Speech) -> Table {
    let temperature = speech.unit(Measure::Temperature);
    let alone = words::is_one_job(compared);
    let number = |value: f64| Cell::precise(value, 3, Grade::Computed);
    let degrees = |value: Option<f64>| {
        value.map_or(Cell::Blank, |c| {
            number(speech.number(Measure::Temperature, c))
        })
    };
    let rows = days.iter().flat_map(|day| {
        day.hoppers.iter().map(move |hopper| {
            let mut cells = vec![Cell::text(&day.day)];
            if !alone {
                cells.push(Cell::text(&hopper.resin));
            }
            cells.extend([
                degrees(day.supply_point_c),
                degrees(day.return_c),
                outlet(hopper),
                number(100.0 * hopper.probability),
                about(speech.number(Measure::Energy, day.energy_kwh_kg)),
                about(day.heat_to_hall_w / 1000.0),
            ]);
            Row::new(cells)
        })
    });
    let mut columns = vec![Column::new("day")];
    if !alone {
        columns.push(Column::new("hopper"));
    }
    columns.extend([
        Column::with_unit("supply", temperature),
        Column::with_unit("return", temperature),
        Column::with_unit("outlet", "ppm"),
        Column::with_unit("met", "%"),
        Column::with_unit("energy", speech.unit(Measure::Energy)),
        Column::with_unit("to the hall", "kW"),
    ]);
    let shared = if alone {
        ""
    } else {
        "; supply, return, energy and heat are those of all hoppers that run at once"
    };
    Table {
        caption: format!(
            "Day by day; supply is the dew or frost point, met the draws that met the limit{shared}"
        ),
        columns,
        rows: rows.collect(),
    }
}

/// The numbered states of the loop.
fn states(day: &DayRun, speech: Speech) -> Table {
    let rows = day.states.iter().enumerate().map(|(index, state)| {
        Row::new(vec![
            Cell::text(format!("{}", index + 1)),
            Cell::text(&state.place),
            Cell::precise(
                speech.number(Measure::Rate, state.dry_air_kg_h),
                3,
                Grade::Computed,
            ),
            Cell::precise(
                speech.number(Measure::Temperature, state.temperature_c),
                3,
                Grade::Computed,
            ),
            Cell::precise(
                speech.number(Measure::Humidity, state.humidity_g_kg),
                2,
                Grade::Computed,
            ),
            Cell::precise(
                speech.number(Measure::Temperature, state.point_c),
                3,
                Grade::Computed,
            ),
        ])
    });
    Table {
        caption: format!("The loop on the day {}; point: dew or frost point", day.day),
        columns: vec![
            Column::new("state"),
            Column::new("where"),
            Column::with_unit("dry air", speech.unit(Measure::Rate)),
            Column::with_unit("temperature", speech.unit(Measure::Temperature)),
            Column::with_unit("humidity", speech.unit(Measure::Humidity)),
            Column::with_unit("point", speech.unit(Measure::Temperature)),
        ],
        rows: rows.collect(),
    }
}

/// What crossed the border of the line.
fn crossings(day: &DayRun) -> Table {
    let rows = day.crossings.iter().map(|crossing| {
        let signed = |value: f64| if crossing.inward { value } else { -value };
        Row::new(vec![
            Cell::text(&crossing.name),
            Cell::number(signed(1000.0 * 3600.0 * crossing.water), Grade::Computed),
            Cell::number(signed(crossing.heat), Grade::Computed),
        ])
    });
    Table {
        caption: format!(
            "What crosses the border on the day {}: in above zero, out below; heat counted from dry \
             air, dry resin and water at 0 °C",
            day.day
        ),
        columns: vec![
            Column::new("what"),
            Column::with_unit("water", "g/h"),
            Column::with_unit("heat", "W"),
        ],
        rows: rows.collect(),
    }
}
