//! Where on a plot there is already ink, so that names find an empty place.

use crate::number::count;
use crate::ruler::{Frame, Spot};

/// Side of one cell, px.
const CELL: f64 = 3.0;

/// The ink on one plot, counted in small cells.
pub(crate) struct Canvas {
    frame: Frame,
    columns: usize,
    ink: Vec<f64>,
}

impl Canvas {
    /// An empty canvas over a frame and 24 px around it.
    pub(crate) fn around(frame: Frame) -> Self {
        let frame = Frame {
            left: frame.left - 24.0,
            top: frame.top - 24.0,
            width: frame.width + 48.0,
            height: frame.height + 48.0,
        };
        let columns = count(frame.width / CELL) + 1;
        let rows = count(frame.height / CELL) + 1;
        Self {
            frame,
            columns,
            ink: vec![0.0; columns * rows],
        }
    }

    /// Counts a line.
    pub(crate) fn line(&mut self, spots: &[Spot], weight: f64) {
        for pair in spots.windows(2) {
            let (dx, dy) = (pair[1].x - pair[0].x, pair[1].y - pair[0].y);
            let steps = count((libm::hypot(dx, dy) / CELL).min(4000.0)).max(1);
            for step in 0..steps {
                let t = step as f64 / steps as f64;
                let spot = Spot {
                    x: pair[0].x + t * dx,
                    y: pair[0].y + t * dy,
                };
                if self.frame.holds(spot, -CELL) {
                    let column = count((spot.x - self.frame.left) / CELL);
                    let row = count((spot.y - self.frame.top) / CELL);
                    self.add(row, column, weight);
                }
            }
        }
    }

    /// Counts everything inside a frame.
    pub(crate) fn block(&mut self, frame: &Frame, weight: f64) {
        for (row, column) in self.cells(frame) {
            self.add(row, column, weight);
        }
    }

    /// How much ink a frame would cover.
    pub(crate) fn under(&self, frame: &Frame) -> f64 {
        let cells = self.cells(frame);
        let ink = cells.into_iter().map(|(row, column)| {
            let cell = self.ink.get(row * self.columns + column);
            cell.copied().unwrap_or(0.0)
        });
        ink.sum()
    }

    fn cells(&self, frame: &Frame) -> Vec<(usize, usize)> {
        let column = |x: f64| count((x - self.frame.left) / CELL).min(self.columns - 1);
        let row = |y: f64| count((y - self.frame.top) / CELL);
        let columns = column(frame.left)..=column(frame.right());
        (row(frame.top)..=row(frame.bottom()))
            .flat_map(|r| columns.clone().map(move |c| (r, c)))
            .collect()
    }

    fn add(&mut self, row: usize, column: usize, weight: f64) {
        if let Some(cell) = self.ink.get_mut(row * self.columns + column) {
            *cell += weight;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const FRAME: Frame = Frame {
        left: 50.0,
        top: 20.0,
        width: 200.0,
        height: 100.0,
    };

    #[test]
    fn holds_ink_is_found_where_it_was_put() {
        let mut canvas = Canvas::around(FRAME);
        let ends = [Spot { x: 60.0, y: 70.0 }, Spot { x: 240.0, y: 70.0 }];
        canvas.line(&ends, 1.0);
        let over = Frame {
            left: 100.0,
            top: 60.0,
            width: 40.0,
            height: 20.0,
        };
        let above = Frame { top: 30.0, ..over };
        assert!(canvas.under(&over) > 10.0);
        assert!(canvas.under(&above).abs() < 1e-12);
        canvas.block(&above, 5.0);
        assert!(canvas.under(&above) > 100.0);
    }

    #[test]
    fn holds_what_is_outside_is_forgotten() {
        let mut canvas = Canvas::around(FRAME);
        let far = [Spot { x: -1e6, y: 0.0 }, Spot { x: -1e5, y: 1e7 }];
        canvas.line(&far, 1.0);
        assert!(canvas.ink.iter().all(|ink| ink.abs() < 1e-12));
    }
}
