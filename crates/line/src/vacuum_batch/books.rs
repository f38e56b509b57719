//! What crosses the border over a batch, in kg and J, and the same as means over its time.

use crate::{Account, Carrier, Crossing, Elsewhere};
use dryer::Stream;

/// Amounts over one batch.
#[derive(Default)]
pub(super) struct Books {
    account: Account,
}

impl Books {
    /// Air with its water and heat, kg and J.
    pub(super) fn air(&mut self, name: &str, inward: bool, amounts: [f64; 3]) {
        self.crossing(name, Carrier::Air, inward, amounts);
    }

    /// A stream for so many seconds.
    pub(super) fn stream(&mut self, name: &str, inward: bool, stream: &Stream, seconds: f64) {
        let amounts = [stream.dry_air, stream.water(), stream.heat()];
        self.air(name, inward, amounts.map(|rate| rate * seconds));
    }

    /// Resin with its water and heat, kg and J.
    pub(super) fn resin(&mut self, name: String, inward: bool, water: f64, heat: f64) {
        self.account.resin(name, inward, water, heat);
    }

    /// Current, J.
    pub(super) fn electricity(&mut self, name: &str, energy: f64) {
        self.account.electricity(name, energy);
    }

    /// Heat to the hall through walls and casings, J.
    pub(super) fn wall(&mut self, name: &str, heat: f64) {
        self.account.heat_out(name, Carrier::Wall, heat);
    }

    /// Compressed air, m3 as it is counted, and the energy it took, J.
    pub(super) fn compressed(&mut self, volume: f64, energy: f64) {
        self.account.compressed_air += volume;
        self.account.elsewhere.push(Elsewhere {
            name: "compressor and air drying".to_owned(),
            power: energy,
        });
    }

    /// Means over a time, s.
    pub(super) fn over(&self, time: f64) -> Account {
        let mut means = Account::default();
        means.add(&self.account, 1.0 / time);
        means
    }

    fn crossing(&mut self, name: &str, carrier: Carrier, inward: bool, amounts: [f64; 3]) {
        let [dry_air, water, heat] = amounts;
        self.account.crossings.push(Crossing {
            name: name.to_owned(),
            carrier,
            inward,
            dry_air,
            water,
            heat,
        });
    }
}
