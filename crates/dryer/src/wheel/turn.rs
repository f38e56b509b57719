//! One channel turning through the sectors: the step that steady and transient share.

use super::spec::{Met, Wheel};
use crate::sorption::{AirState, Cell, Row, RowSlopes, Way, mean};
use air::{caloric, mixture};

/// Air that stays in a channel after passing it, per m2 of face: kg dry, kg water, J.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Kept {
    pub(crate) air: f64,
    pub(crate) water: f64,
    pub(crate) heat: f64,
}

impl Kept {
    /// Its mean state; only of some air.
    fn state(&self) -> AirState {
        let humidity = self.water / self.air;
        AirState {
            temperature: caloric::temperature(self.heat / self.air, humidity),
            humidity,
        }
    }
}

/// One channel: its slices and the air in it.
#[derive(Clone, Debug, PartialEq)]
pub struct Channel {
    pub(crate) cells: Vec<Cell>,
    /// The sector it is or was in last.
    pub(crate) sector: Option<usize>,
    pub(crate) kept: Kept,
    /// Air that it has yet to keep, kg/m2.
    pub(crate) owed: f64,
}

/// What left one sector, per m2 of face of a channel.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Left {
    pub(crate) air: f64,
    pub(crate) water: f64,
    pub(crate) heat: f64,
    /// Humidity and angle (degrees) of the wettest air.
    pub(crate) wettest: (f64, f64),
    /// Temperature and angle of the hottest air.
    pub(crate) hottest: (f64, f64),
}

impl Left {
    fn add(&mut self, air: f64, state: AirState, angle: f64) {
        self.air += air;
        self.water += air * state.humidity;
        self.heat += air * state.enthalpy();
        if air > 0.0 {
            if state.humidity > self.wettest.0 {
                self.wettest = (state.humidity, angle);
            }
            if state.temperature > self.hottest.0 {
                self.hottest = (state.temperature, angle);
            }
        }
    }

    /// Mean humidity and temperature; those of `otherwise` when nothing left.
    pub(crate) fn state(&self, otherwise: AirState) -> AirState {
        if self.air <= 0.0 {
            return otherwise;
        }
        let humidity = self.water / self.air;
        AirState {
            temperature: caloric::temperature(self.heat / self.air, humidity),
            humidity,
        }
    }
}

/// A stretch of a turn: from one share of it to another, and how long the whole would take, s.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Stretch {
    pub(crate) from: f64,
    pub(crate) to: f64,
    pub(crate) turn: f64,
}

/// Who looks at each step: the sector, the angle at its middle (degrees), what left, the channel.
pub(crate) type Seen<'a> = &'a mut dyn FnMut(usize, f64, AirState);

impl Wheel {
    /// A row of this wheel's slices.
    pub(crate) fn row(&self) -> Row<'_> {
        Row {
            sorbent: &self.spec.sorbent,
            slice: self.slice,
        }
    }

    /// Shares of the turn at which sectors begin, and the end of the last.
    pub(crate) fn borders(&self) -> Vec<f64> {
        let mut borders = vec![0.0];
        let mut sum = 0.0;
        for sector in &self.spec.sectors {
            sum += sector.angle / 360.0;
            borders.push(sum.min(1.0));
        }
        borders
    }

    /// Turns a channel over a stretch; `left` has an entry for each sector.
    pub(crate) fn turn_channel(
        &self,
        met: &[Met],
        channel: &mut Channel,
        stretch: Stretch,
        left: &mut [Left],
        mut slopes: Option<&mut RowSlopes>,
        seen: Seen<'_>,
    ) {
        let borders = self.borders();
        for (sector, ends) in borders.windows(2).enumerate() {
            let (from, to) = (stretch.from.max(ends[0]), stretch.to.min(ends[1]));
            if to - from <= 1e-12 {
                continue;
            }
            let since = (from - ends[0]) * stretch.turn;
            let until = (to - ends[0]) * stretch.turn;
            let stay = (ends[1] - ends[0]) * stretch.turn;
            self.enter(
                met,
                channel,
                sector,
                &mut left[sector],
                (from * 360.0, stay),
            );
            let cuts = self.cuts(since, until, met[sector].first_step);
            for ends_of_step in cuts.windows(2) {
                let duration = ends_of_step[1] - ends_of_step[0];
                let middle = 0.5 * (ends_of_step[0] + ends_of_step[1]);
                let angle = (ends[0] + middle / stretch.turn) * 360.0;
                let slopes = slopes.as_deref_mut();
                let out = self.meet(&met[sector], channel, duration, slopes);
                let state = mean(&out);
                seen(sector, angle, state);
                channel.keep(&met[sector], duration, state, angle, &mut left[sector]);
            }
        }
    }

    /// Ends of the steps between two times since a sector began: they grow in proportion.
    pub(crate) fn cuts(&self, since: f64, until: f64, first: f64) -> Vec<f64> {
        let ratio = libm::log((until + first) / (since + first));
        let wanted = ratio / libm::log(1.0 + self.spec.mesh.growth);
        // Never more than a few thousand, whatever the numbers.
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "held between 1 and a few thousand"
        )]
        let count = libm::ceil(wanted - 1e-9).clamp(1.0, 4096.0) as u32;
        let step = libm::exp(ratio / f64::from(count));
        let mut cuts = vec![since];
        let mut at = since + first;
        for _ in 1..count {
            at *= step;
            cuts.push(at - first);
        }
        cuts.push(until);
        cuts
    }

    /// Passes air of a sector through a channel for a while.
    pub(crate) fn meet(
        &self,
        met: &Met,
        channel: &mut Channel,
        duration: f64,
        slopes: Option<&mut RowSlopes>,
    ) -> [AirState; 2] {
        let inlet = met.inlet();
        if met.contact.flow <= 0.0 {
            return [inlet; 2];
        }
        let cells = &mut channel.cells;
        match slopes {
            Some(slopes) => {
                self.row()
                    .pass_with_slopes(cells, slopes, &met.contact, met.way, inlet, duration)
            }
            None => self
                .row()
                .pass(cells, &met.contact, met.way, inlet, duration),
        }
    }

    /// Brings a channel into a sector: the air left in it is pushed out ahead of the sector's own. Where it
    /// stays for less time than its air takes to be renewed (`stay`, s), it keeps the air it has.
    pub(crate) fn enter(
        &self,
        met: &[Met],
        channel: &mut Channel,
        sector: usize,
        left: &mut Left,
        (angle, stay): (f64, f64),
    ) {
        let here = &met[sector];
        let renews = here.contact.flow * stay >= self.void_air;
        if channel.sector == Some(sector) || !(self.spec.channels_carry_air && renews) {
            return;
        }
        let before = channel.sector.replace(sector);
        if channel.kept.air > 0.0 {
            let before = before.map(|before| &met[before]);
            self.push_out(before, here, channel, left, angle);
        }
        channel.owed = self.void_air - channel.kept.air;
    }

    /// The air kept takes the state it had in the channel at last, the difference coming from the
    /// slices beside it, and leaves slice by slice.
    fn push_out(
        &self,
        before: Option<&Met>,
        here: &Met,
        channel: &mut Channel,
        left: &mut Left,
        angle: f64,
    ) {
        let row = self.row();
        let slice = &self.slice;
        let profile = match before {
            Some(before) => {
                let inlet = before.inlet();
                row.profile(&channel.cells, &before.contact, before.way, inlet)
            }
            None => vec![channel.kept.state(); channel.cells.len()],
        };
        let count = channel.cells.len();
        let parcel = channel.kept.air / count as f64;
        let kept = channel.kept.state();
        let (humidity, enthalpy) = (kept.humidity, kept.enthalpy());
        for (cell, air) in channel.cells.iter_mut().zip(&profile) {
            cell.loading -= parcel * (air.humidity - humidity) / slice.active;
            cell.heat -= parcel * (air.enthalpy() - enthalpy);
            let near = cell.temperature;
            cell.temperature = slice.temperature(row.sorbent, cell.loading, cell.heat, near);
        }
        let mut gone = Kept::default();
        for k in 0..count {
            let index = match here.way {
                Way::Along => k,
                Way::Against => count - 1 - k,
            };
            if gone.air > 0.0 {
                let mut air = [gone.state(); 2];
                let duration = gone.air / here.contact.flow;
                slice.meet(
                    row.sorbent,
                    &here.contact,
                    &mut channel.cells[index],
                    &mut air,
                    duration,
                );
                let out = mean(&air);
                gone.water = gone.air * out.humidity;
                gone.heat = gone.air * out.enthalpy();
            }
            gone.air += parcel;
            gone.water += parcel * profile[index].humidity;
            gone.heat += parcel * profile[index].enthalpy();
        }
        left.air += gone.air;
        left.water += gone.water;
        left.heat += gone.heat;
        // The first to leave came from beside the outlet: it is the wettest or hottest there is.
        let first = match here.way {
            Way::Along => profile[count - 1],
            Way::Against => profile[0],
        };
        let mut none = Left::default();
        none.add(parcel, first, angle);
        if none.wettest.0 > left.wettest.0 {
            left.wettest = none.wettest;
        }
        if none.hottest.0 > left.hottest.0 {
            left.hottest = none.hottest;
        }
        channel.kept = Kept::default();
    }

    /// A channel of equal slices, its air at rest with them.
    pub(crate) fn resting(&self, air: AirState) -> Channel {
        let vapour = mixture::mole_fraction(air.humidity) * self.spec.pressure;
        let sorbent = &self.spec.sorbent;
        let cell = self.slice.at_rest(sorbent, air.temperature, vapour);
        let kept = if self.spec.channels_carry_air {
            self.void_air
        } else {
            0.0
        };
        Channel {
            cells: vec![cell; self.spec.mesh.slices],
            sector: None,
            kept: Kept {
                air: kept,
                water: kept * air.humidity,
                heat: kept * air.enthalpy(),
            },
            owed: 0.0,
        }
    }

    /// Water in a channel and the air in it, kg/m2.
    pub(crate) fn channel_water(&self, channel: &Channel) -> f64 {
        self.row().water(&channel.cells) + channel.kept.water
    }
}

impl Channel {
    /// Counts what left, less what stays in the self.
    pub(crate) fn keep(
        &mut self,
        met: &Met,
        duration: f64,
        out: AirState,
        angle: f64,
        left: &mut Left,
    ) {
        let air = met.contact.flow * duration;
        let kept = air.min(self.owed);
        self.owed -= kept;
        self.kept.air += kept;
        self.kept.water += kept * out.humidity;
        self.kept.heat += kept * out.enthalpy();
        left.add(air - kept, out, angle);
    }

    /// Heat of the slices and of the air beside them, J/m2.
    pub(crate) fn heat(&self) -> f64 {
        self.cells.iter().map(|cell| cell.heat).sum::<f64>() + self.kept.heat
    }
}

impl Met {
    pub(crate) fn inlet(&self) -> AirState {
        AirState {
            temperature: self.air.temperature,
            humidity: self.air.humidity,
        }
    }
}
