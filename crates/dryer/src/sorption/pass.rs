//! Air passing through a row of slices, with or without the slopes of what comes of it.

use super::adsorbed::Adsorbed;
use super::cell::{AirState, Cell, Contact, Slice, Tangent};

/// Which end of a row the air enters.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// At the first slice.
    Along,
    /// At the last slice.
    Against,
}

/// A bed of equal slices of one sorbent.
#[derive(Clone, Copy, Debug)]
pub struct Row<'a> {
    /// What holds the water.
    pub sorbent: &'a Adsorbed,
    /// What one slice is made of.
    pub slice: Slice,
}

impl Row<'_> {
    /// Air of one inlet state passes for `duration` s. Gives what leaves, in both stages of the step.
    pub fn pass(
        &self,
        cells: &mut [Cell],
        contact: &Contact,
        way: Way,
        inlet: AirState,
        duration: f64,
    ) -> [AirState; 2] {
        let mut air = [inlet; 2];
        let mut meet = |cell: &mut Cell| {
            self.slice
                .meet(self.sorbent, contact, cell, &mut air, duration);
        };
        match way {
            Way::Along => cells.iter_mut().for_each(&mut meet),
            Way::Against => cells.iter_mut().rev().for_each(&mut meet),
        }
        air
    }

    /// As [`Row::pass`], carrying the slopes of all slices along.
    pub fn pass_with_slopes(
        &self,
        cells: &mut [Cell],
        slopes: &mut RowSlopes,
        contact: &Contact,
        way: Way,
        inlet: AirState,
        duration: f64,
    ) -> [AirState; 2] {
        let mut air = [inlet; 2];
        slopes.air.fill(0.0);
        let count = cells.len();
        for k in 0..count {
            let index = match way {
                Way::Along => k,
                Way::Against => count - 1 - k,
            };
            let tangent = self.slice.meet_with_tangent(
                self.sorbent,
                contact,
                &mut cells[index],
                &mut air,
                duration,
            );
            slopes.follow(index, &tangent);
        }
        air
    }

    /// The state air takes behind each slice if slices do not change: entry k behind slice k.
    pub fn profile(
        &self,
        cells: &[Cell],
        contact: &Contact,
        way: Way,
        inlet: AirState,
    ) -> Vec<AirState> {
        let mut air = inlet;
        let mut behind = vec![inlet; cells.len()];
        for k in 0..cells.len() {
            let index = match way {
                Way::Along => k,
                Way::Against => cells.len() - 1 - k,
            };
            let mut still = cells[index];
            let mut stages = [air; 2];
            self.slice
                .meet(self.sorbent, contact, &mut still, &mut stages, 0.0);
            air = stages[1];
            behind[index] = air;
        }
        behind
    }

    /// Cells whose temperature has come nearer to that of the hall (K): `left` of the difference stays, and the
    /// water stays where it is.
    pub(crate) fn cool(&self, cells: &mut [Cell], hall: f64, left: f64) {
        for cell in cells {
            let t = hall + left * (cell.temperature - hall);
            *cell = self.slice.cell(self.sorbent, cell.loading, t);
        }
    }

    /// Cells of a row with another active mass, kg/m2, that hold the same water and the same heat here.
    pub(crate) fn take_over(&self, cells: &mut [Cell], active: f64) {
        for cell in cells {
            cell.loading *= active / self.slice.active;
            let (loading, heat) = (cell.loading, cell.heat);
            cell.temperature =
                self.slice
                    .temperature(self.sorbent, loading, heat, cell.temperature);
        }
    }

    /// Water in all slices, kg/m2.
    pub fn water(&self, cells: &[Cell]) -> f64 {
        cells.iter().map(|cell| self.slice.water(cell)).sum()
    }
}

/// Slopes of every slice along what the row began with: `columns` unknowns, two for each slice
/// (loading, then heat).
#[derive(Clone, Debug)]
pub struct RowSlopes {
    columns: usize,
    /// For each slice: a line of slopes of the loading, then one of the heat.
    slices: Vec<f64>,
    /// Lines of temperature and humidity in stage one, then in stage two.
    air: Vec<f64>,
}

impl RowSlopes {
    /// At the start: each slice depends on itself alone.
    pub fn new(slices: usize) -> Self {
        let columns = 2 * slices;
        let mut lines = vec![0.0; columns * columns];
        for k in 0..columns {
            lines[k * columns + k] = 1.0;
        }
        Self {
            columns,
            slices: lines,
            air: vec![0.0; 4 * columns],
        }
    }

    /// Slopes of unknown `row` along all unknowns at the start.
    pub fn line(&self, row: usize) -> &[f64] {
        &self.slices[row * self.columns..(row + 1) * self.columns]
    }

    /// Carries the slopes over one slice.
    fn follow(&mut self, index: usize, by: &Tangent) {
        let n = self.columns;
        let slice = &mut self.slices[2 * index * n..2 * (index + 1) * n];
        let (loading, heat) = slice.split_at_mut(n);
        let (first, second) = self.air.split_at_mut(2 * n);
        let (warm_one, wet_one) = first.split_at_mut(n);
        let (warm_two, wet_two) = second.split_at_mut(n);
        let (ss, [s1, s2]) = (&by.slice_by_slice, &by.slice_by_air);
        let ([g1, g2], [f1, f2]) = (&by.air_by_slice, &by.air_by_air);
        let (f21, f12) = (&by.second_by_first, &by.first_by_second);
        let lines = loading
            .iter_mut()
            .zip(heat)
            .zip(warm_one)
            .zip(wet_one)
            .zip(warm_two)
            .zip(wet_two);
        let crossed = f12.iter().any(|entry| *entry != 0.0);
        for (((((q, h), t1), y1), t2), y2) in lines {
            let (q0, h0, a, b, c, d) = (*q, *h, *t1, *y1, *t2, *y2);
            *q = ss[0] * q0 + ss[1] * h0 + s1[0] * a + s1[1] * b + s2[0] * c + s2[1] * d;
            *h = ss[2] * q0 + ss[3] * h0 + s1[2] * a + s1[3] * b + s2[2] * c + s2[3] * d;
            *t1 = g1[0] * q0 + g1[1] * h0 + f1[0] * a + f1[1] * b;
            *y1 = g1[2] * q0 + g1[3] * h0 + f1[2] * a + f1[3] * b;
            *t2 = g2[0] * q0 + g2[1] * h0 + f21[0] * a + f21[1] * b + f2[0] * c + f2[1] * d;
            *y2 = g2[2] * q0 + g2[3] * h0 + f21[2] * a + f21[3] * b + f2[2] * c + f2[3] * d;
            if crossed {
                *t1 += f12[0] * c + f12[1] * d;
                *y1 += f12[2] * c + f12[3] * d;
            }
        }
    }
}
