//! The periodic state of a wheel, found directly.

use super::in_time::{Channel, WheelState};
use super::secants::Secants;
use super::spec::{Duty, Met, Wheel, WheelDrive};
use super::turn::{Left, Stretch};
use crate::condensation_temperature;
use crate::sorption::{AirState, Cell, RowSlopes};
use crate::{DryerError, Stream};
use numeric::NumericError;
use numeric::linear::Matrix;

/// How a periodic state was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Found {
    /// By Newton on the whole turn.
    Newton,
    /// By turning until it repeated, because Newton did not settle.
    Turning,
    /// The wheel stands: each sector is at rest with its air.
    Standing,
}

/// What left a sector at an angle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AnglePoint {
    /// Sector, by its place in the list.
    pub sector: usize,
    /// Angle since the first sector began, degrees.
    pub angle: f64,
    /// Temperature, K.
    pub temperature: f64,
    /// Humidity ratio, kg/kg.
    pub humidity: f64,
}

/// What leaves one sector over a turn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SectorOutlet {
    /// Mean, seals included.
    pub mean: Stream,
    /// Temperature at which the mean begins to shed water, K.
    pub dew_point: f64,
    /// Humidity ratio of the wettest air of the turn (before the seals), kg/kg.
    pub wettest: f64,
    /// Temperature at which the wettest begins to shed water, K.
    pub wettest_dew_point: f64,
    /// Angle at which it leaves, degrees.
    pub wettest_angle: f64,
    /// Temperature of the hottest air, K.
    pub hottest: f64,
}

/// Where to begin the next search: a channel at the start of a turn, and the factors of `1 - F'`.
#[derive(Clone, Debug)]
pub struct WheelGuess {
    channel: Channel,
    factors: Option<(Matrix, Vec<usize>)>,
}

impl WheelGuess {
    /// The same loadings and temperatures with heats counted by another sorbent.
    pub(crate) fn recounted(&self, count: impl Fn(&Cell) -> Cell) -> Self {
        let mut again = self.clone();
        for cell in &mut again.channel.cells {
            *cell = count(cell);
        }
        again
    }
}

/// A wheel that repeats itself turn after turn.
#[derive(Clone, Debug)]
pub struct WheelSteady {
    /// What leaves each sector.
    pub outlets: Vec<SectorOutlet>,
    /// What leaves by angle, in order.
    pub by_angle: Vec<AnglePoint>,
    /// The wheel itself.
    pub state: WheelState,
    /// Where to begin a neighbouring search.
    pub guess: WheelGuess,
    /// How it was found.
    pub found: Found,
    /// Turns computed.
    pub rounds: usize,
    /// Largest change over a turn: share of a loading, or kelvin.
    pub residual: f64,
}

/// One computed turn.
struct Turned {
    end: Channel,
    left: Vec<Left>,
    by_angle: Vec<AnglePoint>,
    starts: Vec<Channel>,
    change: Vec<f64>,
    residual: f64,
}

/// Largest change over a turn that counts as none.
const SETTLED: f64 = 1e-10;
/// Rounds of Newton, and turns, before giving up.
const ROUNDS: (usize, usize) = (40, 400);
/// A round must shrink the residual to this share for the old slopes, as the steps since have mended them, to be kept.
const SHRINKS: f64 = 0.4;
/// A round that leaves this many times the residual before has gone astray.
const WORSE: f64 = 10.0;
/// A turn that never settles but swings by no more than this (share of a loading, or kelvin) is given, and
/// its residual says so.
const SWINGS: f64 = 0.1;
/// A turn found by turning may change by this much: each turn then moves the dew point by far less
/// than it is known.
const SETTLED_BY_TURNING: f64 = 1e-7;

impl Wheel {
    /// The state that repeats itself under a drive, from a neighbouring one when given.
    ///
    /// # Errors
    /// A drive that cannot be; [`DryerError::Unsolved`].
    pub fn steady(
        &self,
        drive: &WheelDrive,
        guess: Option<&WheelGuess>,
    ) -> Result<WheelSteady, DryerError> {
        self.check_drive(drive)?;
        let met = self.entering(drive);
        let flowing = met.iter().any(|met| met.contact.flow > 0.0);
        if drive.turns_per_hour <= 0.0 || !flowing {
            return Ok(self.standing(drive, &met));
        }
        let turn = 3600.0 / drive.turns_per_hour;
        let fitting = guess.filter(|guess| guess.channel.cells.len() == self.spec.mesh.slices);
        let (mut channel, mut factors) = match fitting {
            Some(guess) => (guess.channel.clone(), guess.factors.clone()),
            None => (self.turn_once(&met, &self.dry(&met), turn, None).end, None),
        };
        channel.sector = channel.sector.filter(|sector| *sector < met.len());
        let mut last = f64::INFINITY;
        let mut safe = channel.clone();
        let mut patience = 1;
        let mut secants = Secants::default();
        for round in 1..=ROUNDS.0 {
            let mut slopes = factors
                .is_none()
                .then(|| RowSlopes::new(self.spec.mesh.slices));
            let turned = self.turn_once(&met, &channel, turn, slopes.as_mut());
            if !turned.residual.is_finite() || turned.residual > WORSE * last {
                // Newton went astray: turn on from the last good state, longer each time.
                factors = None;
                secants.forget();
                last = f64::INFINITY;
                channel = safe.clone();
                patience *= 2;
                for _ in 0..patience {
                    channel = self.turn_once(&met, &channel, turn, None).end;
                }
                safe.clone_from(&channel);
                continue;
            }
            if turned.residual <= SETTLED {
                return Ok(self.found(drive, &met, turned, factors, Found::Newton, round));
            }
            if let Some(slopes) = &slopes {
                factors = self.factors(slopes);
                secants.forget();
            } else if turned.residual > SHRINKS * last {
                // The old slopes no longer lead; new ones from where we are, next round.
                factors = None;
            }
            last = turned.residual;
            safe.clone_from(&turned.end);
            channel = self.corrected(&channel, &turned, factors.as_ref(), &mut secants);
        }
        self.by_turning(drive, &met, turn)
    }

    /// Turns until it repeats.
    fn by_turning(
        &self,
        drive: &WheelDrive,
        met: &[Met],
        turn: f64,
    ) -> Result<WheelSteady, DryerError> {
        let mut channel = self.dry(met);
        let mut change = f64::INFINITY;
        for round in 1..=ROUNDS.1 {
            let turned = self.turn_once(met, &channel, turn, None);
            change = turned.residual;
            let given_up = round == ROUNDS.1 && change <= SWINGS;
            if change <= SETTLED_BY_TURNING || given_up {
                return Ok(self.found(drive, met, turned, None, Found::Turning, round));
            }
            if !change.is_finite() {
                break;
            }
            channel = turned.end;
        }
        Err(DryerError::Unsolved {
            component: "desiccant wheel",
            cause: NumericError::NoConvergence {
                steps: ROUNDS.1,
                change,
            },
        })
    }

    /// A channel as the regeneration air would leave it after long.
    fn dry(&self, met: &[Met]) -> Channel {
        let driest = self.sector(Duty::Regeneration).unwrap_or(0);
        self.resting(met[driest].inlet())
    }

    /// One turn of a channel, slot by slot.
    fn turn_once(
        &self,
        met: &[Met],
        start: &Channel,
        turn: f64,
        mut slopes: Option<&mut RowSlopes>,
    ) -> Turned {
        let slots = self.spec.mesh.slots;
        let mut channel = start.clone();
        let mut left = vec![Left::default(); met.len()];
        let mut by_angle = Vec::with_capacity(8 * slots);
        let mut starts = Vec::with_capacity(slots);
        for slot in 0..slots {
            starts.push(channel.clone());
            let stretch = Stretch {
                from: slot as f64 / slots as f64,
                to: (slot + 1) as f64 / slots as f64,
                turn,
            };
            let mut seen = |sector: usize, angle: f64, air: AirState| {
                by_angle.push(AnglePoint {
                    sector,
                    angle,
                    temperature: air.temperature,
                    humidity: air.humidity,
                });
            };
            self.turn_channel(
                met,
                &mut channel,
                stretch,
                &mut left,
                slopes.as_deref_mut(),
                &mut seen,
            );
        }
        let mut change = Vec::with_capacity(2 * start.cells.len());
        let mut residual = 0.0_f64;
        for (after, before) in channel.cells.iter().zip(&start.cells) {
            let loading = after.loading - before.loading;
            let heat = (after.heat - before.heat) / self.slice.dry_heat;
            change.extend([loading, heat]);
            let most = (loading / before.loading).abs().max(heat.abs());
            residual = if most.is_finite() {
                residual.max(most)
            } else {
                f64::INFINITY
            };
        }
        if start.kept.air > 0.0 {
            // The air carried repeats as well.
            residual = residual.max((channel.kept.water / start.kept.water - 1.0).abs());
        }
        Turned {
            end: channel,
            left,
            by_angle,
            starts,
            change,
            residual,
        }
    }

    /// Factors of `1 - F'`, loadings beside heats in kelvin of the dry matrix.
    fn factors(&self, slopes: &RowSlopes) -> Option<(Matrix, Vec<usize>)> {
        let size = 2 * self.spec.mesh.slices;
        let scale = |k: usize| {
            if k.is_multiple_of(2) {
                1.0
            } else {
                self.slice.dry_heat
            }
        };
        let mut matrix = Matrix::zeros(size);
        for row in 0..size {
            for (column, slope) in slopes.line(row).iter().enumerate() {
                let own = if row == column { 1.0 } else { 0.0 };
                matrix.set(row, column, own - slope * scale(column) / scale(row));
            }
        }
        let mut pivots = Vec::new();
        matrix.factorise(&mut pivots).ok()?;
        Some((matrix, pivots))
    }

    /// Where to look next: by Newton with factors, by the turn itself without.
    fn corrected(
        &self,
        channel: &Channel,
        turned: &Turned,
        factors: Option<&(Matrix, Vec<usize>)>,
        secants: &mut Secants,
    ) -> Channel {
        let mut next = turned.end.clone();
        let Some((matrix, pivots)) = factors else {
            secants.forget();
            return next;
        };
        let mut step = turned.change.clone();
        matrix.solve_factorised(pivots, &mut step);
        secants.correct(&mut step);
        for (k, cell) in next.cells.iter_mut().enumerate() {
            let before = &channel.cells[k];
            *cell = self.moved(before, step[2 * k], step[2 * k + 1] * self.slice.dry_heat);
        }
        next
    }

    /// A slice after a correction, held where a slice can be.
    fn moved(&self, before: &Cell, loading: f64, heat: f64) -> Cell {
        let sorbent = &self.spec.sorbent;
        let wanted = (before.loading + loading).clamp(
            0.2 * before.loading,
            (5.0 * before.loading).min(1.5 * sorbent.greatest()),
        );
        if !wanted.is_finite() || !heat.is_finite() {
            return *before;
        }
        let near = before.temperature;
        let heat = before.heat + heat;
        let t = self.slice.temperature(sorbent, wanted, heat, near);
        if (230.0..=555.0).contains(&t) {
            Cell {
                loading: wanted,
                temperature: t,
                heat,
            }
        } else {
            let t = if t.is_finite() {
                t.clamp(230.0, 555.0)
            } else {
                near
            };
            self.slice.cell(sorbent, wanted, t)
        }
    }

    fn found(
        &self,
        drive: &WheelDrive,
        met: &[Met],
        turned: Turned,
        factors: Option<(Matrix, Vec<usize>)>,
        found: Found,
        rounds: usize,
    ) -> WheelSteady {
        let guess = WheelGuess {
            channel: turned.starts[0].clone(),
            factors,
        };
        WheelSteady {
            outlets: self.sector_outlets(drive, met, &turned.left),
            by_angle: turned.by_angle,
            state: WheelState {
                channels: turned.starts,
                turned: 0,
                progress: 0.0,
                standing: 0.0,
            },
            guess,
            found,
            rounds,
            residual: turned.residual,
        }
    }

    fn sector_outlets(&self, drive: &WheelDrive, met: &[Met], left: &[Left]) -> Vec<SectorOutlet> {
        let p = self.spec.pressure;
        let means = self.outlets(drive, met, left);
        let sectors = means.into_iter().zip(left);
        sectors
            .map(|(mean, left)| {
                let wettest = left.wettest.0.max(f64::MIN_POSITIVE);
                SectorOutlet {
                    mean,
                    dew_point: condensation_temperature(mean.humidity, p),
                    wettest,
                    wettest_dew_point: condensation_temperature(wettest, p),
                    wettest_angle: left.wettest.1,
                    hottest: left.hottest.0,
                }
            })
            .collect()
    }

    /// A wheel that stands: each sector at rest with its air, which leaves as it came.
    fn standing(&self, drive: &WheelDrive, met: &[Met]) -> WheelSteady {
        let slots = self.spec.mesh.slots;
        let borders = self.borders();
        let starts: Vec<Channel> = (0..slots)
            .map(|k| {
                let angle = (k as f64 + 0.5) / slots as f64;
                let mut places = borders.windows(2);
                let place = places.position(|ends| angle >= ends[0] && angle < ends[1]);
                let mut channel = self.resting(met[place.unwrap_or(0)].inlet());
                channel.sector = place;
                channel
            })
            .collect();
        let left: Vec<Left> = met
            .iter()
            .enumerate()
            .map(|(sector, met)| Left {
                wettest: (met.air.humidity, borders[sector] * 360.0),
                hottest: (met.air.temperature, borders[sector] * 360.0),
                ..Left::default()
            })
            .collect();
        let by_angle = met.iter().enumerate().flat_map(|(sector, met)| {
            [borders[sector], borders[sector + 1]].map(|border| AnglePoint {
                sector,
                angle: border * 360.0,
                temperature: met.air.temperature,
                humidity: met.air.humidity,
            })
        });
        WheelSteady {
            outlets: self.sector_outlets(drive, met, &left),
            by_angle: by_angle.collect(),
            guess: WheelGuess {
                channel: starts[0].clone(),
                factors: None,
            },
            state: WheelState {
                channels: starts,
                turned: 0,
                progress: 0.0,
                standing: 0.0,
            },
            found: Found::Standing,
            rounds: 0,
            residual: 0.0,
        }
    }
}
