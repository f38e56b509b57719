//! One panel laid out on the sheet, and everything on it as spots.

use crate::level;
use crate::ruler::{Frame, Ruler, Spot};
use crate::ticks::Tick;
use figure::{Grid, Panel, Point, Scale};

/// One panel laid out on the sheet.
pub(crate) struct Plot<'a> {
    pub(crate) panel: &'a Panel,
    /// The plot itself, without labels.
    pub(crate) frame: Frame,
    /// The shared axis.
    pub(crate) along: Ruler,
    pub(crate) along_ticks: Vec<Tick>,
    /// The panel's own axis.
    pub(crate) own: Ruler,
    pub(crate) own_ticks: Vec<Tick>,
    /// The shared axis is vertical.
    pub(crate) upright: bool,
    /// This panel carries the labels of the shared axis.
    pub(crate) labels_shared: bool,
    /// Where its heading begins.
    pub(crate) head: Spot,
    /// Room to its right for names at line ends, px; 0 when there is none.
    pub(crate) gutter: f64,
    /// Hairlines across the plot at places and moments of the shared axis.
    pub(crate) hairlines: Vec<Hairline<'a>>,
}

/// A hairline at a position on the shared axis.
pub(crate) struct Hairline<'a> {
    pub(crate) at: f64,
    /// Its name, where it has to stand on this plot.
    pub(crate) name: Option<&'a str>,
}

impl Plot<'_> {
    pub(crate) fn spot(&self, along: f64, value: f64) -> Spot {
        let (along, own) = (self.along.px(along), self.own.px(value));
        if self.upright {
            Spot { x: own, y: along }
        } else {
            Spot { x: along, y: own }
        }
    }

    pub(crate) fn at(&self, point: Point) -> Spot {
        self.spot(point.along, point.value)
    }

    /// The ends of a line across the plot at a position on the shared axis.
    pub(crate) fn across(&self, along: f64) -> [Spot; 2] {
        let (at, frame) = (self.along.px(along), &self.frame);
        if self.upright {
            [frame.left, frame.right()].map(|x| Spot { x, y: at })
        } else {
            [frame.top, frame.bottom()].map(|y| Spot { x: at, y })
        }
    }

    pub(crate) fn spots(&self, points: &[Point]) -> Vec<Spot> {
        points.iter().map(|point| self.at(*point)).collect()
    }

    /// The parts of a line that lie inside the frame, cut at its border.
    pub(crate) fn visible(&self, spots: &[Spot]) -> Vec<Vec<Spot>> {
        let mut parts: Vec<Vec<Spot>> = Vec::new();
        let mut joined = false;
        for pair in spots.windows(2) {
            let Some((from, to)) = cut(pair[0], pair[1], &self.frame) else {
                joined = false;
                continue;
            };
            match parts.last_mut() {
                Some(part) if joined && from == pair[0] => part.push(to),
                _ => parts.push(vec![from, to]),
            }
            joined = to == pair[1];
        }
        if let [only] = spots
            && self.frame.holds(*only, 0.01)
        {
            parts.push(vec![*only]);
        }
        parts
    }

    /// A grid laid out on the sheet, its values taken to logarithms on a logarithmic scale.
    pub(crate) fn sheet(&self, grid: &Grid, scale: Scale) -> level::Sheet {
        let along: Vec<f64> = grid.along.iter().map(|v| self.along.px(*v)).collect();
        let across: Vec<f64> = grid.across.iter().map(|v| self.own.px(*v)).collect();
        let measure = |value: f64| scaled(value, scale);
        if self.upright {
            let column = |i: usize| grid.values.iter().map(|row| measure(row[i])).collect();
            level::Sheet {
                values: (0..along.len()).map(column).collect(),
                xs: across,
                ys: along,
            }
        } else {
            let row = |row: &Vec<f64>| row.iter().map(|v| measure(*v)).collect();
            level::Sheet {
                values: grid.values.iter().map(row).collect(),
                xs: along,
                ys: across,
            }
        }
    }
}

/// A value as laid out along a scale.
pub(crate) fn scaled(value: f64, scale: Scale) -> f64 {
    match scale {
        Scale::Linear => value,
        Scale::Log10 => libm::log10(value),
    }
}

/// The part of a piece of line inside a frame (Y.-D. Liang and B. A. Barsky 1984, ACM Transactions
/// on Graphics 3(1) 1-22).
fn cut(from: Spot, to: Spot, frame: &Frame) -> Option<(Spot, Spot)> {
    let (dx, dy) = (to.x - from.x, to.y - from.y);
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    for (step, room) in [
        (-dx, from.x - frame.left),
        (dx, frame.right() - from.x),
        (-dy, from.y - frame.top),
        (dy, frame.bottom() - from.y),
    ] {
        if step == 0.0 {
            if room < 0.0 {
                return None;
            }
        } else if step < 0.0 {
            enter = enter.max(room / step);
        } else {
            leave = leave.min(room / step);
        }
    }
    let between = |t: f64| Spot {
        x: from.x + t * dx,
        y: from.y + t * dy,
    };
    (enter <= leave).then(|| {
        let start = if enter <= 0.0 { from } else { between(enter) };
        let end = if leave >= 1.0 { to } else { between(leave) };
        (start, end)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const FRAME: Frame = Frame {
        left: 0.0,
        top: 0.0,
        width: 10.0,
        height: 10.0,
    };

    #[test]
    fn exact_pieces_are_cut_at_the_border() {
        let s = |x: f64, y: f64| Spot { x, y };
        assert_eq!(
            cut(s(-5.0, 5.0), s(15.0, 5.0), &FRAME),
            Some((s(0.0, 5.0), s(10.0, 5.0)))
        );
        assert_eq!(
            cut(s(2.0, 2.0), s(3.0, 3.0), &FRAME),
            Some((s(2.0, 2.0), s(3.0, 3.0)))
        );
        assert_eq!(cut(s(-5.0, -1.0), s(15.0, -1.0), &FRAME), None);
        assert_eq!(cut(s(20.0, 5.0), s(30.0, 5.0), &FRAME), None);
    }
}
