//! A ledger: what went in, what came out, what stayed, and how far the three are from closing.

use serde::Serialize;

/// One named amount of a ledger.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Entry {
    /// Where it came from, went to, or stayed.
    pub name: String,
    /// How much, in the unit of the ledger.
    pub amount: f64,
}

/// An account of one conserved thing over a stated span of time.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Ledger {
    /// What is counted, for example "water".
    pub what: String,
    /// Unit of every amount, for example "kg" or "kg/s".
    pub unit: String,
    /// What went in.
    pub entered: Vec<Entry>,
    /// What came out.
    pub left: Vec<Entry>,
    /// What stayed: growth of the contents, negative when they shrank.
    pub stayed: Vec<Entry>,
}

impl Ledger {
    /// An empty ledger of `what`, counted in `unit`.
    pub fn new(what: impl Into<String>, unit: impl Into<String>) -> Self {
        Self {
            what: what.into(),
            unit: unit.into(),
            entered: Vec::new(),
            left: Vec::new(),
            stayed: Vec::new(),
        }
    }

    /// Adds an amount that went in.
    #[must_use]
    pub fn enter(mut self, name: impl Into<String>, amount: f64) -> Self {
        self.entered.push(entry(name.into(), amount));
        self
    }

    /// Adds an amount that came out.
    #[must_use]
    pub fn leave(mut self, name: impl Into<String>, amount: f64) -> Self {
        self.left.push(entry(name.into(), amount));
        self
    }

    /// Adds growth of the contents.
    #[must_use]
    pub fn stay(mut self, name: impl Into<String>, amount: f64) -> Self {
        self.stayed.push(entry(name.into(), amount));
        self
    }

    /// What went in, less what came out and what stayed, in the unit of the ledger.
    pub fn difference(&self) -> f64 {
        sum(&self.entered) - sum(&self.left) - sum(&self.stayed)
    }

    /// The size of the difference over the size of what entered, as a fraction.
    ///
    /// Where nothing entered it is taken over what came out and what stayed; an empty ledger
    /// closes. An amount that is not a finite number makes the ledger infinitely out of balance.
    pub fn imbalance(&self) -> f64 {
        let entered = size(&self.entered);
        let basis = if entered > 0.0 {
            entered
        } else {
            size(&self.left) + size(&self.stayed)
        };
        let difference = self.difference().abs();
        if !(difference.is_finite() && basis.is_finite()) {
            f64::INFINITY
        } else if basis > 0.0 {
            difference / basis
        } else {
            0.0
        }
    }
}

fn entry(name: String, amount: f64) -> Entry {
    Entry { name, amount }
}

fn sum(entries: &[Entry]) -> f64 {
    entries.iter().map(|e| e.amount).sum()
}

fn size(entries: &[Entry]) -> f64 {
    entries.iter().map(|e| e.amount.abs()).sum()
}

#[cfg(test)]
#[expect(clippy::float_cmp, reason = "these numbers are exact in binary")]
mod tests {
    use super::*;

    #[test]
    fn exact_imbalance_is_relative_to_what_entered() {
        let water = Ledger::new("water", "kg")
            .enter("resin", 2.0)
            .enter("leak", 2.0)
            .leave("air", 3.0)
            .stay("bed", 0.5);
        assert_eq!(water.difference(), 0.5);
        assert_eq!(water.imbalance(), 0.125);
    }

    #[test]
    fn holds_an_empty_ledger_closes_and_a_broken_one_does_not() {
        assert_eq!(Ledger::new("water", "kg").imbalance(), 0.0);
        let broken = Ledger::new("water", "kg").enter("resin", f64::NAN);
        assert_eq!(broken.imbalance(), f64::INFINITY);
        let leak = Ledger::new("water", "kg").leave("air", 1.0);
        assert_eq!(leak.imbalance(), 1.0);
    }
}
