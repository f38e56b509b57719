//! What crosses the border of a line: streams of air and resin, current, heat through walls.
//!
//! Every component writes here what it takes from outside and gives to it; what passes between
//! components is not written, so a sum that closes shows that nothing was lost between them.

use dryer::Stream;
use quantity::Ledger;
use serde::Serialize;

/// What carries heat or water across the border.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Carrier {
    /// Pellets with their water.
    Resin,
    /// Air from or to the hall.
    Air,
    /// Current.
    Electricity,
    /// Heat through walls and casings into the hall.
    Wall,
    /// Heat taken by cooling water or by an outdoor cooler.
    Coolant,
    /// Water that runs off.
    Condensate,
}

/// One crossing of the border.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Crossing {
    /// What it is.
    pub name: String,
    /// What carries it.
    pub carrier: Carrier,
    /// Whether it comes in.
    pub inward: bool,
    /// Dry air, kg/s.
    pub dry_air: f64,
    /// Water, kg/s.
    pub water: f64,
    /// Enthalpy above dry air, dry resin and liquid water at 0 degC, or work, W.
    pub heat: f64,
}

/// Current drawn elsewhere for the line, such as that of a compressor in its own room: it is paid for and
/// does not enter the balance.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Elsewhere {
    /// What draws it.
    pub name: String,
    /// Power, W.
    pub power: f64,
}

/// All crossings of a line.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Account {
    /// One by one.
    pub crossings: Vec<Crossing>,
    /// What is drawn elsewhere.
    pub elsewhere: Vec<Elsewhere>,
    /// Compressed air drawn, m3/s at the state its supply is counted at.
    pub compressed_air: f64,
}

impl Account {
    /// Air that comes in.
    pub fn air_in(&mut self, name: impl Into<String>, stream: &Stream) {
        self.air(name.into(), stream, true);
    }

    /// Air that leaves.
    pub fn air_out(&mut self, name: impl Into<String>, stream: &Stream) {
        self.air(name.into(), stream, false);
    }

    fn air(&mut self, name: String, stream: &Stream, inward: bool) {
        if stream.dry_air > 0.0 {
            self.crossings.push(Crossing {
                name,
                carrier: Carrier::Air,
                inward,
                dry_air: stream.dry_air,
                water: stream.water(),
                heat: stream.heat(),
            });
        }
    }

    /// Resin in or out, with its water (kg/s) and enthalpy (W).
    pub fn resin(&mut self, name: impl Into<String>, inward: bool, water: f64, heat: f64) {
        self.crossings.push(Crossing {
            name: name.into(),
            carrier: Carrier::Resin,
            inward,
            dry_air: 0.0,
            water,
            heat,
        });
    }

    /// Current drawn, W.
    pub fn electricity(&mut self, name: impl Into<String>, power: f64) {
        self.crossings.push(Crossing {
            name: name.into(),
            carrier: Carrier::Electricity,
            inward: true,
            dry_air: 0.0,
            water: 0.0,
            heat: power,
        });
    }

    /// Heat that leaves without air or resin, W; negative heat comes in.
    pub fn heat_out(&mut self, name: impl Into<String>, carrier: Carrier, heat: f64) {
        if heat != 0.0 {
            self.crossings.push(Crossing {
                name: name.into(),
                carrier,
                inward: heat < 0.0,
                dry_air: 0.0,
                water: 0.0,
                heat: heat.abs(),
            });
        }
    }

    /// Liquid water that runs off, kg/s, with its enthalpy, W.
    pub fn condensate(&mut self, name: impl Into<String>, water: f64, heat: f64) {
        if water > 0.0 {
            self.crossings.push(Crossing {
                name: name.into(),
                carrier: Carrier::Condensate,
                inward: false,
                dry_air: 0.0,
                water,
                heat,
            });
        }
    }

    /// Everything of another account.
    pub fn take(&mut self, other: Self) {
        self.crossings.extend(other.crossings);
        self.elsewhere.extend(other.elsewhere);
        self.compressed_air += other.compressed_air;
    }

    /// Adds what crossed in `duration` seconds at the rates of another account: amounts then stand for
    /// kg and J.
    pub fn add(&mut self, rates: &Self, duration: f64) {
        self.compressed_air += duration * rates.compressed_air;
        for rate in &rates.elsewhere {
            match self.elsewhere.iter_mut().find(|sum| sum.name == rate.name) {
                Some(sum) => sum.power += duration * rate.power,
                None => self.elsewhere.push(Elsewhere {
                    power: duration * rate.power,
                    ..rate.clone()
                }),
            }
        }
        for rate in &rates.crossings {
            let same = |c: &&mut Crossing| c.name == rate.name && c.inward == rate.inward;
            match self.crossings.iter_mut().find(same) {
                Some(sum) => {
                    sum.dry_air += duration * rate.dry_air;
                    sum.water += duration * rate.water;
                    sum.heat += duration * rate.heat;
                }
                None => self.crossings.push(Crossing {
                    dry_air: duration * rate.dry_air,
                    water: duration * rate.water,
                    heat: duration * rate.heat,
                    ..rate.clone()
                }),
            }
        }
    }

    /// Current drawn by all, here and elsewhere, W.
    pub fn electric_power(&self) -> f64 {
        let elsewhere: f64 = self.elsewhere.iter().map(|drawn| drawn.power).sum();
        elsewhere
            + self.sum(
                |crossing| crossing.carrier == Carrier::Electricity,
                |c| c.heat,
            )
    }

    /// Heat given to the hall by walls and by the air that leaves, above what came from it, W.
    pub fn heat_to_hall(&self) -> f64 {
        let signed = |crossing: &Crossing| {
            if crossing.inward {
                -crossing.heat
            } else {
                crossing.heat
            }
        };
        self.sum(
            |c| matches!(c.carrier, Carrier::Wall | Carrier::Air),
            signed,
        )
    }

    fn sum(&self, of: impl Fn(&Crossing) -> bool, what: impl Fn(&Crossing) -> f64) -> f64 {
        self.crossings.iter().filter(|c| of(c)).map(what).sum()
    }

    /// Water in and out, kg/s.
    pub fn water(&self) -> Ledger {
        self.ledger("water", "kg/s", |crossing| crossing.water)
    }

    /// Energy in and out, W.
    pub fn energy(&self) -> Ledger {
        self.ledger("energy", "W", |crossing| crossing.heat)
    }

    /// Dry air in and out, kg/s.
    pub fn dry_air(&self) -> Ledger {
        self.ledger("dry air", "kg/s", |crossing| crossing.dry_air)
    }

    fn ledger(&self, what: &str, unit: &str, amount: impl Fn(&Crossing) -> f64) -> Ledger {
        let mut ledger = Ledger::new(what, unit);
        for crossing in &self.crossings {
            let amount = amount(crossing);
            if amount == 0.0 {
                continue;
            }
            ledger = if crossing.inward {
                ledger.enter(crossing.name.clone(), amount)
            } else {
                ledger.leave(crossing.name.clone(), amount)
            };
        }
        ledger
    }
}
