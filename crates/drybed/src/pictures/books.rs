//! The books of water and energy as pictures: what enters and what leaves.

use crate::speech::{Measure, Speech};
use air::caloric;
use decide::compare::DayRun;
use figure::{Balance, Grade, Part, Tone};
use line::{Carrier, Crossing};
use quantity::constants::ZERO_CELSIUS;
use quantity::{Entry, Ledger, digits};

/// Parts below this share of the whole are put together.
const SMALL: f64 = 0.01;
/// Below this share of the whole an amount is no part.
const NOTHING: f64 = 1e-4;
/// What the parts that are put together are called.
const REST: &str = "other";

/// The water of a day in kg/h or lb/h; `None` where nothing can be drawn.
pub(crate) fn water(day: &DayRun, speech: Speech) -> Option<Balance> {
    let mut sides = Sides::default();
    for crossing in &day.crossings {
        let amount = speech.number(Measure::Rate, 3600.0 * crossing.water);
        sides.add(&crossing.name, amount, crossing.inward);
    }
    let brought = sides.share_of_entering(&names(day, Carrier::Resin));
    let mut balance = sides.balance(speech.unit(Measure::Rate), Tone::Water)?;
    let (taker, taken) = largest(&balance.leaving, &[])?;
    balance.title = format!(
        "The resin brings {} of the water; the {taker} takes {} out",
        fraction(brought),
        fraction(taken)
    );
    balance.caption = format!("{} {}", both(&balance, day), together(&balance));
    usable(balance)
}

/// The heat of a day in kW, counted above the air of the hall and the resin as it comes.
///
/// # Equations
/// `H' = H - m_a h(T_h, 0) - m_w (h(T_h, 1) - h(T_h, 0))` with the enthalpy `h(T, Y)` of
/// [`air::caloric`] and the temperature `T_h` of the hall: air of the hall brings nothing, whatever
/// its humidity. The resin stands with the difference of what it takes away and brings. Each shift is
/// the same multiple of a mass that closes, so the books stay closed.
pub(crate) fn energy(day: &DayRun, speech: Speech) -> Option<Balance> {
    let hall = day.hall.0 + ZERO_CELSIUS;
    let dry = caloric::enthalpy(hall, 0.0);
    let vapour = caloric::enthalpy(hall, 1.0) - dry;
    let shifted = |c: &Crossing| 1e-3 * (c.heat - c.dry_air * dry - c.water * vapour);
    let mut sides = Sides::default();
    let mut resin = 0.0;
    for crossing in &day.crossings {
        let heat = shifted(crossing);
        match crossing.carrier {
            Carrier::Resin => resin += if crossing.inward { -heat } else { heat },
            Carrier::Condensate if heat < 0.0 => {
                sides.add(&format!("{}, condensing", crossing.name), -heat, true);
            }
            Carrier::Air if heat < 0.0 => {
                let name = format!("{}, colder than the hall", crossing.name);
                sides.add(&name, -heat, !crossing.inward);
            }
            _ => sides.add(&crossing.name, heat, crossing.inward),
        }
    }
    sides.add(RESIN, resin, false);
    let mut balance = sides.balance("kW", Tone::Heat)?;
    let (loser, lost) = largest(&balance.leaving, &[RESIN])?;
    let whole = balance.whole();
    balance.title = format!(
        "The resin takes {} of the heat, the {loser} {}",
        fraction(resin / whole),
        fraction(lost)
    );
    let elsewhere = day.elsewhere_kwh_kg * day.rate_kg_h;
    let elsewhere = if elsewhere > NOTHING * whole {
        format!(
            " Current drawn elsewhere, {} kW, is not in it.",
            digits(elsewhere, 2)
        )
    } else {
        String::new()
    };
    balance.caption = format!(
        "{} Heat is counted above the air of the hall ({}), its water as vapour, and above the resin as \
         it comes, so neither of them brings any; what it takes to drive water out of the resin counts \
         with the resin.{elsewhere} {}",
        both(&balance, day),
        speech.say(Measure::Temperature, day.hall.0),
        together(&balance)
    );
    usable(balance)
}

/// What the resin keeps.
const RESIN: &str = "resin, warmed and dried";

/// A ledger over a time, in kg or lb of water or kWh; what stayed stands with what left.
pub(crate) fn over_time(ledger: &Ledger, speech: Speech) -> Option<Balance> {
    let (unit, tone): (&str, Tone) = if ledger.unit == "J" {
        ("kWh", Tone::Heat)
    } else {
        (speech.unit(Measure::Mass), Tone::Water)
    };
    let amount = |entry: &Entry| {
        if ledger.unit == "J" {
            entry.amount / 3.6e6
        } else {
            speech.number(Measure::Mass, entry.amount)
        }
    };
    let mut sides = Sides::default();
    for entry in &ledger.entered {
        sides.add(&entry.name, amount(entry), true);
    }
    for entry in &ledger.left {
        sides.add(&entry.name, amount(entry), false);
    }
    for entry in &ledger.stayed {
        // Contents that shrink give what they lose.
        let name = match entry.name.strip_prefix("gain ") {
            Some(rest) if entry.amount < 0.0 => format!("loss {rest}"),
            _ => entry.name.clone(),
        };
        sides.add(&name, amount(entry), false);
    }
    let mut balance = sides.balance(unit, tone)?;
    let (taker, taken) = largest(&balance.leaving, &[])?;
    balance.title = format!(
        "The {taker} takes {} of the {} from air on to the end of the start",
        fraction(taken),
        ledger.what
    );
    balance.caption = String::from(together(&balance));
    usable(balance)
}

/// Both sides while they are gathered.
#[derive(Default)]
struct Sides {
    entering: Vec<(String, f64)>,
    leaving: Vec<(String, f64)>,
}

impl Sides {
    /// An amount below zero belongs to the other side; what has a name already is added to it.
    fn add(&mut self, name: &str, amount: f64, inward: bool) {
        let side = if inward == (amount >= 0.0) {
            &mut self.entering
        } else {
            &mut self.leaving
        };
        match side.iter_mut().find(|(known, _)| known == name) {
            Some((_, sum)) => *sum += amount.abs(),
            None => side.push((name.to_owned(), amount.abs())),
        }
    }

    fn share_of_entering(&self, names: &[&str]) -> f64 {
        let sum = |all: bool| -> f64 {
            let chosen = |(name, _): &&(String, f64)| all || names.contains(&name.as_str());
            let amounts = self.entering.iter().filter(chosen);
            amounts.map(|(_, amount)| amount).sum()
        };
        sum(false) / sum(true)
    }

    /// The parts of both sides, the largest first and the small ones together at the end.
    fn balance(self, unit: &str, tone: Tone) -> Option<Balance> {
        let sum = |side: &[(String, f64)]| side.iter().map(|(_, amount)| amount).sum::<f64>();
        let whole = sum(&self.entering).max(sum(&self.leaving));
        if !(whole.is_finite() && whole > 0.0) {
            return None;
        }
        let mut balance = Balance::new("", unit, tone);
        balance.entering = parts(self.entering, whole);
        balance.leaving = parts(self.leaving, whole);
        Some(balance)
    }
}

fn parts(mut side: Vec<(String, f64)>, whole: f64) -> Vec<Part> {
    side.retain(|(_, amount)| *amount > NOTHING * whole);
    side.sort_by(|a, b| b.1.total_cmp(&a.1));
    let large = side.iter().filter(|(_, amount)| *amount >= SMALL * whole);
    let mut small = side.split_off(large.count());
    if small.len() > 1 {
        let sum = small.iter().map(|(_, amount)| amount).sum();
        small = vec![(format!("{REST}, {} parts", small.len()), sum)];
    }
    side.append(&mut small);
    let part = |(name, amount)| Part::new(name, amount, Grade::Computed);
    side.into_iter().map(part).collect()
}

/// The largest part of a side with its share, those named left out.
fn largest<'a>(side: &'a [Part], but: &[&str]) -> Option<(&'a str, f64)> {
    let whole: f64 = side.iter().map(|part| part.amount).sum();
    let mut named = side
        .iter()
        .filter(|part| !but.contains(&part.name.as_str()));
    let first = named.next()?;
    Some((first.name.as_str(), first.amount / whole))
}

fn names(day: &DayRun, carrier: Carrier) -> Vec<&str> {
    let of = day.crossings.iter().filter(|c| c.carrier == carrier);
    of.map(|crossing| crossing.name.as_str()).collect()
}

/// The day and the height of both columns.
fn both(balance: &Balance, day: &DayRun) -> String {
    format!(
        "On the day {}; each column is {} {}.",
        day.day,
        digits(balance.whole(), 3),
        balance.unit
    )
}

/// How small parts are shown, where there are any.
fn together(balance: &Balance) -> &'static str {
    let mut all = balance.entering.iter().chain(&balance.leaving);
    if all.any(|part| part.name.starts_with(REST)) {
        "Parts below a hundredth stand together; the table has each."
    } else {
        "The table has every part."
    }
}

/// A picture that does not close is left to its table.
fn usable(balance: Balance) -> Option<Balance> {
    balance.check().is_ok().then_some(balance)
}

/// A share as people say it.
fn fraction(share: f64) -> String {
    const SAID: [(f64, &str); 11] = [
        (0.1, "a tenth"),
        (0.2, "a fifth"),
        (0.25, "a quarter"),
        (1.0 / 3.0, "a third"),
        (0.4, "two fifths"),
        (0.5, "half"),
        (0.6, "three fifths"),
        (2.0 / 3.0, "two thirds"),
        (0.75, "three quarters"),
        (0.8, "four fifths"),
        (0.9, "nine tenths"),
    ];
    if share > 0.95 {
        return "nearly all".to_owned();
    }
    if share < 0.08 {
        return format!("{} %", digits(100.0 * share, 1));
    }
    let near = |said: &&(f64, &str)| (said.0 - share).abs();
    let said = SAID.iter().min_by(|a, b| near(a).total_cmp(&near(b)));
    said.map_or_else(String::new, |said| said.1.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_shares_as_people_say_them() {
        let said = [0.03, 0.09, 0.31, 0.44, 0.47, 0.96].map(fraction);
        assert_eq!(
            said,
            [
                "3 %",
                "a tenth",
                "a third",
                "two fifths",
                "half",
                "nearly all"
            ]
        );
    }

    #[test]
    fn exact_small_parts_stand_together_and_what_is_below_zero_on_the_other_side() {
        let mut sides = Sides::default();
        for (name, amount, inward) in [
            ("a", 60.0, true),
            ("b", 30.0, true),
            ("b", 9.1, true),
            ("c", -0.5, false),
            ("d", 0.4, true),
            ("e", 100.0, false),
            ("f", 1e-9, false),
        ] {
            sides.add(name, amount, inward);
        }
        assert!((sides.share_of_entering(&["b"]) - 0.391).abs() < 1e-12);
        let balance = sides
            .balance("kg/h", Tone::Water)
            .unwrap_or_else(|| Balance::new("", "", Tone::Ink));
        let names = |parts: &[Part]| parts.iter().map(|p| p.name.clone()).collect::<Vec<_>>();
        assert_eq!(names(&balance.entering), ["a", "b", "other, 2 parts"]);
        assert_eq!(names(&balance.leaving), ["e"]);
        assert!((balance.entering[2].amount - 0.9).abs() < 1e-12);
    }
}
