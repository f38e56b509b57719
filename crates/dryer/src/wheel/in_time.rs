//! A wheel in time, from any state.

use super::spec::{End, Met, Wheel, WheelDrive};
pub use super::turn::Channel;
use super::turn::{Left, Stretch};
use crate::sorption::{AirState, mean};
use crate::{DryerError, Stream};

/// What a wheel remembers: its channels, and how far it has turned.
#[derive(Clone, Debug, PartialEq)]
pub struct WheelState {
    pub(crate) channels: Vec<Channel>,
    /// Whole slots turned.
    pub(crate) turned: usize,
    /// Share of the next slot turned.
    pub(crate) progress: f64,
    /// Seconds at a standstill.
    pub(crate) standing: f64,
}

/// What a wheel gave over some time.
#[derive(Clone, Debug, PartialEq)]
pub struct WheelPassed {
    /// Seconds.
    pub duration: f64,
    /// Mean air leaving each sector, seals included.
    pub outlets: Vec<Stream>,
    /// Water and heat in less out, kg and J: what the wheel took up.
    pub taken_up: (f64, f64),
}

impl Wheel {
    /// A wheel at rest with air of one state, as after a night in the hall.
    ///
    /// # Errors
    /// [`DryerError::Impossible`].
    pub fn at_rest(&self, temperature: f64, humidity: f64) -> Result<WheelState, DryerError> {
        let within = DryerError::unless_between;
        within(
            "temperature of a wheel at rest",
            temperature,
            "K",
            (230.0, 555.0),
        )?;
        within(
            "humidity around a wheel at rest",
            humidity,
            "kg/kg",
            (1e-9, 0.2),
        )?;
        let channel = self.resting(AirState {
            temperature,
            humidity,
        });
        Ok(WheelState {
            channels: vec![channel; self.spec.mesh.slots],
            turned: 0,
            progress: 0.0,
            standing: 0.0,
        })
    }

    /// Seconds in which the wheel turns by one slot; infinite at a standstill.
    pub fn slot_duration(&self, turns_per_hour: f64) -> f64 {
        3600.0 / (turns_per_hour * self.spec.mesh.slots as f64)
    }

    /// Water on the wheel and in its channels, kg.
    pub fn water(&self, state: &WheelState) -> f64 {
        let channels = state.channels.iter();
        let sum: f64 = channels.map(|channel| self.channel_water(channel)).sum();
        sum * self.face / self.spec.mesh.slots as f64
    }

    /// Heat of the wheel and of the air in its channels, J.
    pub fn heat(&self, state: &WheelState) -> f64 {
        let channels = state.channels.iter();
        let sum: f64 = channels.map(Channel::heat).sum();
        sum * self.face / self.spec.mesh.slots as f64
    }

    /// Lets it stand closed for `duration` seconds: it loses heat to a hall (K) with a time constant (s), and its
    /// water stays on it. What it lost is told, J.
    pub fn cool(
        &self,
        state: &mut WheelState,
        hall: f64,
        time_constant: f64,
        duration: f64,
    ) -> f64 {
        let before = self.heat(state);
        let left = libm::exp(-duration / time_constant);
        for channel in &mut state.channels {
            self.row().cool(&mut channel.cells, hall, left);
        }
        before - self.heat(state)
    }

    /// The state of another wheel of the same mesh taken over by this one, which has more or less capacity left:
    /// its water and its heat are the same.
    pub fn take_over(&self, state: &mut WheelState, other: &Self) {
        for channel in &mut state.channels {
            self.row().take_over(&mut channel.cells, other.slice.active);
        }
    }

    /// Lets `duration` seconds pass with the same drive.
    ///
    /// # Errors
    /// A drive that cannot be; a state that is no longer finite.
    pub fn advance(
        &self,
        state: &mut WheelState,
        drive: &WheelDrive,
        duration: f64,
    ) -> Result<WheelPassed, DryerError> {
        self.check_drive(drive)?;
        DryerError::unless_between("time to pass", duration, "s", (0.0, 1e9))?;
        let before = (self.water(state), self.heat(state));
        let met = self.entering(drive);
        let mut left = vec![Left::default(); met.len()];
        let turn = 3600.0 / drive.turns_per_hour;
        let slot = turn / self.spec.mesh.slots as f64;
        let mut rest = duration;
        if drive.turns_per_hour <= 0.0 {
            self.stand(state, &met, rest, &mut left);
            rest = 0.0;
        }
        while rest > 0.0 {
            let ahead = 1.0 - state.progress;
            let share = (rest / slot).min(ahead);
            self.turn_on(state, &met, share, turn, &mut left);
            rest -= share * slot;
            if rest < 1e-9 * slot {
                rest = 0.0;
            }
        }
        let after = (self.water(state), self.heat(state));
        if !(after.0.is_finite() && after.1.is_finite()) {
            return Err(DryerError::Unsolved {
                component: "desiccant wheel",
                cause: numeric::NumericError::NoConvergence {
                    steps: 1,
                    change: f64::INFINITY,
                },
            });
        }
        Ok(WheelPassed {
            duration,
            outlets: self.outlets(drive, &met, &left),
            taken_up: (after.0 - before.0, after.1 - before.1),
        })
    }

    /// Turns all channels on by a share of a slot.
    fn turn_on(
        &self,
        state: &mut WheelState,
        met: &[Met],
        share: f64,
        turn: f64,
        left: &mut [Left],
    ) {
        let slots = self.spec.mesh.slots;
        let at = |k: usize| (k as f64 + state.progress) / slots as f64;
        let width = share / slots as f64;
        // Where a slot lies across a border, a part of a slot shows a sector more or less of the face.
        let borders = self.borders();
        let shown = |sector: usize| -> f64 {
            (0..slots)
                .map(|k| {
                    ((at(k) + width).min(borders[sector + 1]) - at(k).max(borders[sector])).max(0.0)
                })
                .sum()
        };
        let scaled: Vec<Met> = met
            .iter()
            .enumerate()
            .map(|(sector, met)| {
                let face = shown(sector) / share;
                met.through((borders[sector + 1] - borders[sector]) / face)
            })
            .collect();
        let progress = state.progress;
        for k in 0..slots {
            let from = (k as f64 + progress) / slots as f64;
            let index = (k + slots - state.turned % slots) % slots;
            let stretch = Stretch {
                from,
                to: from + width,
                turn,
            };
            let channel = &mut state.channels[index];
            self.turn_channel(&scaled, channel, stretch, left, None, &mut |_, _, _| {});
        }
        state.standing = 0.0;
        state.progress += share;
        if state.progress > 1.0 - 1e-9 {
            state.progress = 0.0;
            state.turned += 1;
        }
    }

    /// Leaves all channels where they are for a while.
    fn stand(&self, state: &mut WheelState, met: &[Met], duration: f64, left: &mut [Left]) {
        let slots = self.spec.mesh.slots;
        let borders = self.borders();
        let places: Vec<Option<usize>> = (0..slots)
            .map(|k| {
                let angle = (k as f64 + 0.5) / slots as f64;
                borders
                    .windows(2)
                    .position(|ends| angle >= ends[0] && angle < ends[1])
            })
            .collect();
        for (sector, met) in met.iter().enumerate() {
            let count = places
                .iter()
                .filter(|place| **place == Some(sector))
                .count();
            let width = borders[sector + 1] - borders[sector];
            let scaled = met.through(width * slots as f64 / count as f64);
            let cuts = self.cuts(state.standing, state.standing + duration, met.first_step);
            for (k, _) in places
                .iter()
                .enumerate()
                .filter(|(_, place)| **place == Some(sector))
            {
                let angle = (k as f64 + 0.5) / slots as f64 * 360.0;
                let index = (k + slots - state.turned % slots) % slots;
                let channel = &mut state.channels[index];
                let mut all = vec![*met; left.len()];
                all[sector] = scaled;
                self.enter(
                    &all,
                    channel,
                    sector,
                    &mut left[sector],
                    (angle, f64::INFINITY),
                );
                for ends in cuts.windows(2) {
                    let out = self.meet(&scaled, channel, ends[1] - ends[0], None);
                    let out = mean(&out);
                    channel.keep(&scaled, ends[1] - ends[0], out, angle, &mut left[sector]);
                }
            }
        }
        state.standing += duration;
    }

    /// Mean air leaving each sector, seals included.
    pub(crate) fn outlets(&self, drive: &WheelDrive, met: &[Met], left: &[Left]) -> Vec<Stream> {
        let through: Vec<Stream> = met
            .iter()
            .zip(left)
            .map(|(met, left)| {
                let state = left.state(met.inlet());
                Stream {
                    dry_air: met.air.dry_air,
                    temperature: state.temperature,
                    humidity: state.humidity,
                }
            })
            .collect();
        let mut outlets = through.clone();
        let leaks = self.spec.leaks.iter().zip(self.leaking(drive));
        for (leak, amount) in leaks.filter(|(leak, _)| leak.into.1 == End::Outlet) {
            let source = match leak.from.1 {
                End::Inlet => drive.air[leak.from.0],
                End::Outlet => {
                    outlets[leak.from.0].dry_air -= amount;
                    through[leak.from.0]
                }
            };
            outlets[leak.into.0] = outlets[leak.into.0].joined(source.of(amount));
        }
        outlets
    }
}

impl Met {
    /// The same air through another face: `by` times as fast.
    fn through(&self, by: f64) -> Self {
        let mut scaled = *self;
        scaled.contact.flow = if by.is_finite() {
            self.contact.flow * by
        } else {
            0.0
        };
        scaled
    }
}

impl WheelState {
    /// Loading (kg/kg) and temperature (K) of each slice of the channel now at a slot.
    pub fn slices(&self, slot: usize) -> Vec<(f64, f64)> {
        let slots = self.channels.len();
        let index = (slot + slots - self.turned % slots) % slots;
        let cells = self.channels[index].cells.iter();
        cells.map(|cell| (cell.loading, cell.temperature)).collect()
    }
}
