//! When to switch on, as a document.

use super::SwitchOnAnswer;
use crate::pictures;
use crate::plan::imprint;
use crate::speech::{Measure, Speech, counted, hours, ppm};
use decide::switch_on::{ALL_TRIED, LONGEST_WAIT, Missed, Started, SwitchOn, Tried};
use document::{Block, Cell, Column, Document, Grade, Note, Row, Section, State, Table};
use files::clock::local;
use quantity::{Units, digits};

/// Names that are listed one after another at most.
const LISTED: usize = 4;

impl SwitchOnAnswer {
    /// The answer as a document in the units a person reads.
    pub fn document(&self, units: Units) -> Document {
        let speech = Speech(units);
        let mut document = Document::new(self.question(), self.answer(), self.table());
        let dryers = &self.switch_on.dryers;
        document.state = dryers.iter().any(Started::is_wet).then_some(State::Wet);
        document.picture = Some(pictures::switch_on(
            &self.switch_on,
            self.conclusion(),
            &self.when(last(&self.switch_on)),
        ));
        document.notes = self.notes();
        document.sections = vec![self.each(speech), found(&self.switch_on)];
        document.imprint = imprint();
        document
    }

    /// A time as a clock on the wall shows it.
    fn when(&self, hour: f64) -> String {
        local(&self.clock, 3600.0 * hour)
    }

    fn question(&self) -> String {
        let found = &self.switch_on;
        let limit = found.limit_kw.map_or_else(String::new, |limit| {
            let base = if found.base_kw > 0.0 {
                format!(", {} of it taken already", kilowatts(found.base_kw))
            } else {
                String::new()
            };
            format!(" below {}{base}", kilowatts(limit))
        });
        format!(
            "When must {} be switched on to be dry by {}{limit}?",
            counted(found.dryers.len(), "dryer", "dryers"),
            self.when(last(found)),
        )
    }

    fn answer(&self) -> String {
        let found = &self.switch_on;
        let mut each: Vec<String> = found
            .dryers
            .iter()
            .take(LISTED)
            .map(|dryer| format!("{} at {}", dryer.name, self.when(dryer.on_h)))
            .collect();
        let more = found.dryers.len().saturating_sub(LISTED);
        if more > 0 {
            each.push(format!("{more} more as listed"));
        }
        let order = each.join(", then ");
        match (&found.missed, found.limit_kw) {
            (Some(missed), Some(limit)) => format!(
                "{}. Switched on in this order they keep {}: {order}.",
                refused(missed, limit),
                kilowatts(up(missed.least_kw)),
            ),
            (_, None) => format!(
                "Switch on {order}; together they then take {} at most.",
                kilowatts(found.peak_kw)
            ),
            (None, Some(limit)) => {
                let waiting = if found.waiting_kwh > 0.0 {
                    format!("; waiting hot costs {}", kilowatt_hours(found.waiting_kwh))
                } else {
                    "; none has to wait".to_owned()
                };
                format!(
                    "Switch on {order}: the hall then takes {} of {} at most, and would take {} with each as \
                     late as it can{waiting}.",
                    kilowatts(found.peak_kw),
                    kilowatts(limit),
                    kilowatts(found.peak_unordered_kw),
                )
            }
        }
    }

    /// What the picture shows.
    fn conclusion(&self) -> String {
        let found = &self.switch_on;
        let (peak, late) = (kilowatts(found.peak_kw), kilowatts(found.peak_unordered_kw));
        match (&found.missed, found.limit_kw) {
            (Some(missed), Some(_)) => {
                format!(
                    "The limit is missed by {} at least",
                    kilowatts(missed.by_kw)
                )
            }
            (_, None) => format!("All together take {peak} at most"),
            _ if found.waiting_kwh > 0.0 => {
                format!("Moved apart the dryers take {peak} at most instead of {late}")
            }
            _ => format!(
                "The limit is kept with {peak} though all are switched on as late as they can"
            ),
        }
    }

    fn table(&self) -> Table {
        let number = |value: f64| Cell::number(value, Grade::Computed);
        let rows = self.switch_on.dryers.iter().map(|dryer| {
            Row::new(vec![
                Cell::text(&dryer.name),
                Cell::text(self.when(dryer.on_h)),
                Cell::text(self.when(dryer.ready_h)),
                Cell::text(hours(dryer.waiting_h)),
                number(dryer.energy_kwh),
                number(dryer.peak_kw),
                number(dryer.working_kw),
            ])
        });
        Table {
            caption: "In the order of switching on; energy and peak until it is wanted".into(),
            columns: vec![
                Column::new("dryer"),
                Column::new("switch on"),
                Column::new("dry"),
                Column::new("waits"),
                Column::with_unit("energy", "kWh"),
                Column::with_unit("peak", "kW"),
                Column::with_unit("at work", "kW"),
            ],
            rows: rows.collect(),
        }
    }

    /// How long each takes, and what its resin goes through.
    fn each(&self, speech: Speech) -> Section {
        let dryers = &self.switch_on.dryers;
        let table = |caption: &str, columns: Vec<Column>, row: &dyn Fn(&Started) -> Vec<Cell>| {
            let rows = dryers.iter().map(|dryer| {
                let mut cells = vec![Cell::text(&dryer.name)];
                cells.extend(row(dryer));
                Row::new(cells)
            });
            Block::table(Table {
                caption: caption.into(),
                columns,
                rows: rows.collect(),
            })
        };
        let stays = [
            "dryer",
            "wanted",
            "cold to dry",
            "held",
            "hot at most",
            "bears",
        ];
        let stays = table("Hours", stays.map(Column::new).to_vec(), &|dryer| {
            vec![
                Cell::text(self.when(dryer.wanted_h)),
                Cell::text(hours(dryer.to_ready_h)),
                Cell::text(hours(dryer.hold_h)),
                Cell::text(hours(dryer.hot_h)),
                Cell::text(hours(dryer.bears_h)),
            ]
        });
        let resins = ["dryer", "resin", "set point", "at the outlet", "limit"];
        let mut columns = resins.map(Column::new).to_vec();
        columns.push(Column::with_unit("hot", "kW"));
        let resins = table("Resin, and power while it waits hot", columns, &|dryer| {
            vec![
                Cell::text(&dryer.resin),
                Cell::text(speech.say(Measure::Temperature, dryer.set_point_c)),
                Cell::text(ppm(dryer.outlet_ppm_wet)),
                Cell::text(ppm(dryer.limit_ppm_wet)),
                Cell::number(dryer.waiting_kw, Grade::Computed),
            ]
        });
        let longest = self.switch_on.dryers.iter().map(|dryer| dryer.to_ready_h);
        Section {
            title: "How long each takes from cold".into(),
            summary: format!("{} for the slowest.", hours(longest.fold(0.0, f64::max))),
            blocks: vec![
                Block::text(
                    "From a hopper just filled, all of it as cold as the hall. The air is held at the set point \
                     for one planned stay, or for as long as the start of the plan asks, before anything is drawn; \
                     the outlet is the mean pellet there when that is over. Hot at most is the hold, the wait and \
                     one planned stay more, for what lies on top.",
                ),
                stays,
                resins,
            ],
        }
    }

    fn notes(&self) -> Vec<Note> {
        let found = &self.switch_on;
        let mut notes = vec![
            Note::caution(
                "Hot surfaces burn, and a dryer that begins by itself begins while nobody looks: a person who may \
                 answers for automatic switching on, with hoppers filled, lids shut, filters in place and nobody \
                 at work on it. The data sheet of the grade, local codes and licensed practice decide.",
            ),
            Note::caution(
                "No fuse, cable or contract is checked here: what a motor or a heater draws for moments as it is \
                 switched is not in the power of a minute.",
            ),
        ];
        notes.extend(
            found
                .dryers
                .iter()
                .filter(|dryer| dryer.is_wet())
                .map(|dryer| {
                    Note::caution(format!(
                        "{} is not dry when its hold is over: {} at the outlet, limit {}.",
                        dryer.name,
                        ppm(dryer.outlet_ppm_wet),
                        ppm(dryer.limit_ppm_wet)
                    ))
                }),
        );
        notes.extend(found.dryers.iter().filter(|dryer| dryer.is_hot_too_long()).map(|dryer| {
            Note::caution(format!(
                "In {} what lies on top would be hot for {} where {} is borne: begin with a lower level.",
                dryer.name,
                hours(dryer.hot_h),
                hours(dryer.bears_h)
            ))
        }));
        notes.push(Note::doubt(
            "Each is followed in the hall and with the moisture of its job. A damper desiccant, a colder hall or a \
             hopper that was warm still changes the hours; begin earlier where the shift depends on it, and measure \
             at the throat before the first shot.",
        ));
        notes.extend(self.read.iter().map(|text| Note::doubt(text.clone())));
        notes
    }
}

/// Why the limit is not kept.
fn refused(missed: &Missed, limit: f64) -> String {
    let limit = kilowatts(limit);
    let by = format!("{} kW", digits(missed.by_kw, 2));
    if let [(name, alone), ..] = &missed.alone[..] {
        let others = missed.alone.len() - 1;
        let others = if others > 0 {
            format!(" and {others} more pass it as well")
        } else {
            String::new()
        };
        return format!(
            "{limit} cannot be kept: {name} alone comes to {} with what else is on{others}, {by} too much at \
             least, and no earlier begin mends that",
            kilowatts(*alone)
        );
    }
    match missed.at_work_kw {
        Some(at_work) => format!(
            "{limit} cannot be kept: all at work take {}, {by} too much, and no earlier begin mends that; run \
             fewer at once",
            kilowatts(at_work)
        ),
        None => format!(
            "No order that was tried keeps {limit}: it is missed by {by}; want them dry further apart, or \
             let the limit be {}",
            kilowatts(up(missed.least_kw))
        ),
    }
}

fn found(found: &SwitchOn) -> Section {
    let longest = LONGEST_WAIT / 60;
    let text = match found.tried {
        Tried::None if found.limit_kw.is_none() => {
            "Without a limit each is switched on as late as it can be.".to_owned()
        }
        Tried::Every => format!(
            "Every order was tried; in each, a dryer is switched on at the last minute that its power and that of \
             those placed before permit, up to {longest} h early. The order shown costs least in waiting."
        ),
        Tried::Exchange | Tried::None => format!(
            "More than {ALL_TRIED} dryers, or a limit that is not kept: orders were bettered by exchange until \
             nothing improved, each dryer switched on at the last minute that the others permit, up to {longest} h \
             early. A better order may exist."
        ),
    };
    Section {
        title: "How the order was found".into(),
        summary: format!(
            "{} until the last is wanted, {} of it waiting; all at work take {}.",
            kilowatt_hours(found.energy_kwh),
            kilowatt_hours(found.waiting_kwh),
            kilowatts(found.at_work_kw)
        ),
        blocks: vec![Block::text(text)],
    }
}

/// When the last is wanted, h.
fn last(found: &SwitchOn) -> f64 {
    let wanted = found.dryers.iter().map(|dryer| dryer.wanted_h);
    wanted.fold(f64::NEG_INFINITY, f64::max)
}

/// A power a little up, so that what is told is kept.
fn up(kw: f64) -> f64 {
    (10.0 * kw - 1e-6).ceil() / 10.0
}

fn kilowatts(kw: f64) -> String {
    format!("{} kW", digits(kw, 3))
}

fn kilowatt_hours(kwh: f64) -> String {
    format!("{} kWh", digits(kwh, 2))
}
