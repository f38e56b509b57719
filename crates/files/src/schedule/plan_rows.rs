//! The rows of a plan: its columns by their headings, and what each row says of its order.

use super::table::{self, Columns, quoted};
use super::times::Times;
use crate::bag::Bag;
use crate::clock;
use crate::sheet::{Cell, Comma, Row, Sheet, Size, cut, folded, lead};
use job::Demand;
use quantity::{Duration, Faults, Mass, MassFlow, Meaning, Quantity, parse};
use std::fmt::Write as _;

/// The largest plan.
pub(super) const PLANS: Size = Size::written("a plan");
/// Words for pieces.
const PIECES: &[&str] = &["pieces", "piece", "pcs", "parts"];
/// The most of a quantity, in kg or pieces.
const MOST: f64 = 1e9;

/// A column: its field in `[plan]`, its usual headings, and what it holds.
const COLUMNS: [(&str, &[&str], &str); 9] = [
    ("order", &["order", "order name", "name"], "its name"),
    (
        "from",
        &["from", "begin", "begins", "start"],
        "when it begins",
    ),
    (
        "to",
        &["to", "end", "ends"],
        "when it ends; it counts where there is a quantity as well",
    ),
    (
        "quantity",
        &["quantity", "amount", "pieces", "mass"],
        "a mass, or pieces of which whole shots are made; without an end it is made at the rate through hours of \
         work and past planned stops",
    ),
    (
        "rate",
        &["rate", "throughput"],
        "resin drawn while the press runs, weighed as it is",
    ),
    (
        "shot",
        &["shot", "shot mass", "shot weight"],
        "mass of a shot with its runner; that of the job when left out",
    ),
    (
        "cycle",
        &["cycle", "cycle time"],
        "time from shot to shot of one machine, instead of a rate",
    ),
    (
        "pieces_per_shot",
        &["pieces per shot", "cavities"],
        "pieces that a shot makes; one when left out",
    ),
    (
        "job",
        &["job", "job file", "resin"],
        "job file of its resin; that of the order before it when left out",
    ),
];

/// How much an order wants.
#[derive(Clone, Copy, Debug)]
pub(super) enum Amount {
    /// kg.
    Mass(f64),
    /// Shots.
    Shots(f64),
}

/// An order as a row says it.
#[derive(Clone, Debug)]
pub(super) struct Ordered {
    pub(super) line: usize,
    pub(super) name: String,
    /// s since the beginning.
    pub(super) from: f64,
    /// s since the beginning.
    pub(super) to: Option<f64>,
    pub(super) amount: Option<Amount>,
    pub(super) demand: Option<Demand>,
    /// Mass of a shot, kg.
    pub(super) shot: Option<f64>,
    pub(super) job: Option<String>,
}

/// Which columns hold what.
pub(super) struct Found<'a> {
    columns: Columns<'a>,
    at: [Option<usize>; 9],
    units: [String; 9],
}

/// How a plan is written, as a section of the reference page.
pub(super) fn page() -> String {
    let mut page = "\n## The table of a plan\n\n\
         A plan (`.csv`, `.xlsx`) has one heading a column and one row an order. `[plan]` may name other headings:\n\n\
         | field of `[plan]` | its column | what it holds |\n| --- | --- | --- |\n"
        .to_owned();
    for (field, headings, what) in COLUMNS {
        // Writing to a string cannot fail.
        let _ = writeln!(page, "| `{field}` | {} | {what} |", quoted(headings));
    }
    page += "\nAn order has a name, a beginning, and an end or a quantity; what is drawn is its rate, its shots, or else that of \
             the job.\n\
             A unit stands in brackets behind the heading, or in each cell: a quantity has a unit of mass or `pieces`.\n\
             Where the job of an order is another than that of the order before it, or than that of the schedule for the first, \
             the hopper is drained when the order begins, as a `[[changeover]]` does; a plan that names jobs and \
             `[[changeover]]` exclude each other.\n\
             A row that lacks something or cannot be read, that has the name and the beginning of another, overlaps an order that \
             begins before it, or lies outside the days or the hours of work is left out and told with its line and column; \
             an order that goes beyond the days is cut to them and told. A job file that cannot be read is a mistake.\n\
             A stop that nobody planned takes from what is made until the end of its order.\n";
    page
}

impl<'a> Found<'a> {
    /// The columns of a plan.
    ///
    /// # Errors
    /// A column that is not there, and a unit that is none of its meaning.
    pub(super) fn of(table: &'a Bag, sheet: &'a Sheet) -> Result<Self, Faults> {
        let columns = Columns::of(table, sheet)?;
        let mut at = [None; 9];
        let mut units: [String; 9] = Default::default();
        for (index, (field, usual, _)) in COLUMNS.into_iter().enumerate() {
            at[index] = match field {
                "order" | "from" => Some(columns.need(field, usual)?),
                _ => columns.find(field, usual)?,
            };
            let Some(column) = at[index] else {
                continue;
            };
            let (words, unit) = cut(columns.heading(column));
            let pieces = |word: &str| PIECES.contains(&folded(word).as_str());
            units[index] = match field {
                "quantity" if pieces(unit) || (unit.is_empty() && pieces(words)) => {
                    PIECES[0].to_owned()
                }
                "quantity" | "shot" => columns.unit(column, Meaning::Mass)?,
                "rate" => columns.unit(column, Meaning::MassFlow)?,
                "cycle" => columns.unit(column, Meaning::Duration)?,
                _ => String::new(),
            };
        }
        if at[2].is_none() && at[3].is_none() {
            let mut usual = COLUMNS[2].1.to_vec();
            usual.extend(COLUMNS[3].1);
            return Err(columns.lacks("to", &usual));
        }
        Ok(Self { columns, at, units })
    }

    /// The line and the column of a field, as a note names them.
    pub(super) fn place(&self, line: usize, field: &str) -> String {
        let index = COLUMNS.iter().position(|(known, ..)| *known == field);
        match index.and_then(|index| self.at[index]) {
            Some(at) => format!("line {line}, column {:?}", self.columns.heading(at)),
            None => format!("line {line}"),
        }
    }

    /// What a row says, or why it cannot be used.
    pub(super) fn read(&self, row: &Row, times: &Times) -> Result<Ordered, String> {
        let told = |field: &str, cause: String| {
            let place = self.place(row.number, field);
            format!("{place}: {cause}")
        };
        let text = |index: usize| match self.cell(row, index) {
            Cell::Blank => Ok(None),
            Cell::Broken(cause) => Err(told(COLUMNS[index].0, format!("it holds {cause}"))),
            cell => Ok(Some(cell.shown())),
        };
        let time = |index: usize| {
            let field = COLUMNS[index].0;
            match self.cell(row, index) {
                Cell::Blank => Ok(None),
                Cell::Text(written) | Cell::Moment(written) => {
                    let at = clock::moment(&times.zone, written);
                    let at =
                        at.map_err(|why| told(field, format!("{}; {}", why.cause, why.mend)))?;
                    Ok(Some(clock::since(&times.clock, at)))
                }
                other => Err(told(
                    field,
                    format!("{:?} is no date and time", other.shown()),
                )),
            }
        };
        let number = |index: usize, meaning: Meaning, most: f64| {
            let (cell, unit) = (self.cell(row, index), &self.units[index]);
            let read = table::si(cell, unit, meaning).and_then(|si| match si {
                Some(si) if !(si > 0.0 && si <= most) => {
                    Err(format!("{:?} cannot be", cell.shown()))
                }
                si => Ok(si),
            });
            read.map_err(|cause| told(COLUMNS[index].0, cause))
        };
        let name = text(0)?.ok_or_else(|| told("order", "it has no name".to_owned()))?;
        let from = time(1)?.ok_or_else(|| told("from", "it has no beginning".to_owned()))?;
        let to = time(2)?;
        let amount = self.amount(row).map_err(|why| told("quantity", why))?;
        if to.is_none() && amount.is_none() {
            let field = if self.at[2].is_some() {
                "to"
            } else {
                "quantity"
            };
            return Err(told(field, "it has neither end nor quantity".to_owned()));
        }
        let rate = number(4, Meaning::MassFlow, 1e5 / 3600.0)?;
        let shot = number(5, Meaning::Mass, 1e3)?;
        let cycle = number(6, Meaning::Duration, 86_400.0)?;
        let per_shot = number(7, Meaning::Number, 1e4)?.unwrap_or(1.0);
        let amount = amount.map(|amount| match amount {
            Amount::Shots(pieces) => Amount::Shots((pieces / per_shot).ceil()),
            mass @ Amount::Mass(_) => mass,
        });
        let demand = match (rate, shot, cycle) {
            (Some(rate), ..) => Some(Demand::Rate(MassFlow::from_si(rate))),
            (None, Some(shot), Some(cycle)) if cycle >= 0.1 => Some(Demand::Shots {
                shot: Mass::from_si(shot),
                runner: Mass::from_si(0.0),
                cycle: Duration::from_si(cycle),
                machines: 1,
            }),
            (None, _, None) => None,
            (None, Some(_), Some(_)) => {
                return Err(told("cycle", "no shot takes less than 0.1 s".to_owned()));
            }
            (None, None, Some(_)) => {
                let cause = "nothing says the mass of a shot of this cycle";
                return Err(told("cycle", cause.to_owned()));
            }
        };
        if demand.is_some_and(|demand| demand.peak().si() > 1e5 / 3600.0) {
            let cause = "shots of that mass in that time are more than 100 t/h";
            return Err(told("cycle", cause.to_owned()));
        }
        Ok(Ordered {
            line: row.number,
            name,
            from,
            to,
            amount,
            demand,
            shot,
            job: text(8)?,
        })
    }

    fn cell<'r>(&self, row: &'r Row, index: usize) -> &'r Cell {
        let cell = self.at[index].and_then(|at| row.cells.get(at));
        cell.unwrap_or(&Cell::Blank)
    }

    /// How much is wanted, pieces still as such.
    fn amount(&self, row: &Row) -> Result<Option<Amount>, String> {
        let cell = self.cell(row, 3);
        if let Cell::Text(text) = cell
            && Comma::of(text) == Comma::DecimalOrThousands
        {
            let cause =
                "the comma of {} may be a decimal sign or part thousands; write it without one";
            return Err(cause.replace("{}", &format!("{text:?}")));
        }
        let Some(whole) = table::written(cell, &self.units[3]) else {
            return Ok(None);
        };
        let (number, unit) = lead(&whole);
        let shots = PIECES.contains(&folded(unit).as_str());
        if unit.trim().is_empty() && !number.is_empty() {
            return Err(format!("{whole:?} has no unit; write kg or pieces"));
        }
        let read = if shots {
            parse::si(number, Meaning::Number)
        } else {
            parse::si(&whole, Meaning::Mass)
        };
        let amount = read.map_err(|misread| misread.to_string())?;
        if !(amount > 0.0 && amount <= MOST) {
            return Err(format!("{whole:?} cannot be"));
        }
        Ok(Some(if shots {
            Amount::Shots(amount)
        } else {
            Amount::Mass(amount)
        }))
    }
}
