//! A limit of a component that was met, and by how much.

use serde::Serialize;

/// What could not be delivered.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Shortfall {
    /// Which component.
    pub component: String,
    /// What of it, for example "outlet temperature".
    pub what: &'static str,
    /// What the line asks of it.
    pub asked: f64,
    /// What it gives.
    pub given: f64,
    /// Unit of both.
    pub unit: &'static str,
}

impl Shortfall {
    /// By how much it falls short, in the unit.
    pub fn by(&self) -> f64 {
        self.asked - self.given
    }
}
