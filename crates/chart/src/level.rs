//! Lines of equal value and filled levels on a grid, by marching squares.
//!
//! The method is that of W. E. Lorensen and H. E. Cline (1987), "Marching cubes", Computer Graphics
//! 21(4) 163-169, in two dimensions; a saddle is told apart by the mean of its four corners.

use crate::ruler::Spot;
use std::collections::BTreeMap;

/// Values on a grid already laid out on the sheet.
pub(crate) struct Sheet {
    /// Columns, px.
    pub(crate) xs: Vec<f64>,
    /// Rows, px.
    pub(crate) ys: Vec<f64>,
    /// One row of values for each of `ys`.
    pub(crate) values: Vec<Vec<f64>>,
}

/// The lines along which the value is `level`; a closed line ends where it began.
pub(crate) fn lines(sheet: &Sheet, level: f64) -> Vec<Vec<Spot>> {
    let mut segments = Vec::new();
    for row in 0..sheet.ys.len().saturating_sub(1) {
        for column in 0..sheet.xs.len().saturating_sub(1) {
            segments.extend(cell(sheet, row, column, level));
        }
    }
    chained(&segments)
        .into_iter()
        .map(|edges| {
            edges
                .iter()
                .map(|edge| crossing(sheet, *edge, level))
                .collect()
        })
        .collect()
}

/// The outlines of all that is at least `level`, closed along the border of the grid; to be filled
/// by the even-odd rule.
pub(crate) fn region(sheet: &Sheet, level: f64) -> Vec<Vec<Spot>> {
    lines(&walled(sheet), level)
}

/// The grid with a ring of nothing around it, of no width.
fn walled(sheet: &Sheet) -> Sheet {
    let stretch = |list: &[f64]| {
        let ends = (list.first().copied(), list.last().copied());
        let all = ends.0.into_iter().chain(list.iter().copied()).chain(ends.1);
        all.collect::<Vec<f64>>()
    };
    let (xs, ys) = (stretch(&sheet.xs), stretch(&sheet.ys));
    let nothing = || vec![f64::NEG_INFINITY; xs.len()];
    let mut values = vec![nothing()];
    for row in &sheet.values {
        let mut wide = vec![f64::NEG_INFINITY];
        wide.extend(row);
        wide.push(f64::NEG_INFINITY);
        values.push(wide);
    }
    values.push(nothing());
    Sheet { xs, ys, values }
}

/// One edge of the grid: from a crossing to the next one to the right or in the next row.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Edge {
    row: usize,
    column: usize,
    down: bool,
}

/// The pieces of the line in one cell, each from edge to edge.
fn cell(sheet: &Sheet, row: usize, column: usize, level: f64) -> Vec<(Edge, Edge)> {
    let value = |r: usize, c: usize| sheet.values[row + r][column + c];
    let edge = |r: usize, c: usize, down: bool| Edge {
        row: row + r,
        column: column + c,
        down,
    };
    // Around the cell: near, right, far, left; an edge is crossed when its ends differ.
    let corners = [value(0, 0), value(0, 1), value(1, 1), value(1, 0)];
    let inside = corners.map(|corner| corner >= level);
    let edges = [
        edge(0, 0, false),
        edge(0, 1, true),
        edge(1, 0, false),
        edge(0, 0, true),
    ];
    let crossed: Vec<Edge> = (0..4)
        .filter(|i| inside[*i] != inside[(*i + 1) % 4])
        .map(|i| edges[i])
        .collect();
    match crossed[..] {
        [a, b] => vec![(a, b)],
        [near, right, far, left] => {
            let middle = corners.iter().sum::<f64>() / 4.0 >= level;
            if middle == inside[0] {
                vec![(near, right), (far, left)]
            } else {
                vec![(near, left), (right, far)]
            }
        }
        _ => Vec::new(),
    }
}

fn crossing(sheet: &Sheet, edge: Edge, level: f64) -> Spot {
    let (row, column) = if edge.down {
        (edge.row + 1, edge.column)
    } else {
        (edge.row, edge.column + 1)
    };
    let (from, to) = (
        sheet.values[edge.row][edge.column],
        sheet.values[row][column],
    );
    let share = (level - from) / (to - from);
    let t = if share.is_finite() {
        share.clamp(0.0, 1.0)
    } else {
        0.5
    };
    let between = |a: f64, b: f64| a + t * (b - a);
    Spot {
        x: between(sheet.xs[edge.column], sheet.xs[column]),
        y: between(sheet.ys[edge.row], sheet.ys[row]),
    }
}

/// Pieces joined end to end; open lines first, then closed ones.
fn chained(segments: &[(Edge, Edge)]) -> Vec<Vec<Edge>> {
    let mut touching: BTreeMap<Edge, Vec<usize>> = BTreeMap::new();
    for (index, (a, b)) in segments.iter().enumerate() {
        touching.entry(*a).or_default().push(index);
        touching.entry(*b).or_default().push(index);
    }
    let mut used = vec![false; segments.len()];
    let open = touching.iter().filter(|(_, list)| list.len() == 1);
    let mut starts: Vec<Edge> = open.map(|(edge, _)| *edge).collect();
    starts.extend(segments.iter().map(|(a, _)| *a));
    let mut chains = Vec::new();
    for start in starts {
        let chain = walk(start, segments, &touching, &mut used);
        if chain.len() > 1 {
            chains.push(chain);
        }
    }
    chains
}

fn walk(
    start: Edge,
    segments: &[(Edge, Edge)],
    touching: &BTreeMap<Edge, Vec<usize>>,
    used: &mut [bool],
) -> Vec<Edge> {
    let mut chain = vec![start];
    let mut here = start;
    while let Some(next) = touching
        .get(&here)
        .and_then(|list| list.iter().find(|index| !used[**index]))
    {
        used[*next] = true;
        let (a, b) = segments[*next];
        here = if a == here { b } else { a };
        chain.push(here);
    }
    chain
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sheet(n: usize, value: impl Fn(f64, f64) -> f64) -> Sheet {
        let axis: Vec<f64> = (0..n)
            .map(|i| 2.0 * i as f64 / (n - 1) as f64 - 1.0)
            .collect();
        let row = |y: &f64| axis.iter().map(|x| value(*x, *y)).collect();
        Sheet {
            values: axis.iter().map(row).collect(),
            xs: axis.clone(),
            ys: axis,
        }
    }

    /// Twice the signed area of a closed line.
    fn area(line: &[Spot]) -> f64 {
        line.windows(2)
            .map(|p| p[0].x * p[1].y - p[1].x * p[0].y)
            .sum::<f64>()
            / 2.0
    }

    #[test]
    fn exact_straight_line_of_a_plane() {
        let found = lines(&sheet(9, |x, _| x), 0.3);
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].len(), 9);
        assert!(found[0].iter().all(|spot| (spot.x - 0.3).abs() < 1e-12));
    }

    #[test]
    fn exact_circle_is_one_closed_line_of_its_area() {
        let found = lines(&sheet(81, |x, y| x * x + y * y), 0.49);
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].first(), found[0].last());
        // The error of straight pieces over squares of side h = 0.025 is of the order h squared.
        let exact = std::f64::consts::PI * 0.49;
        assert!((area(&found[0]).abs() - exact).abs() < 2.0 * 0.025 * 0.025);
    }

    #[test]
    fn exact_region_is_closed_along_the_border() {
        let found = region(&sheet(11, |x, _| x), 0.0);
        assert_eq!(found.len(), 1);
        assert!((area(&found[0]).abs() - 2.0).abs() < 1e-12);
        let all = region(&sheet(5, |_, _| 1.0), 0.0);
        assert!((area(&all[0]).abs() - 4.0).abs() < 1e-12);
        assert!(region(&sheet(5, |_, _| -1.0), 0.0).is_empty());
    }

    #[test]
    fn holds_a_saddle_makes_two_lines() {
        let found = lines(&sheet(4, |x, y| x * y), 0.01);
        assert_eq!(found.len(), 2);
        // Each branch of the hyperbola stays in its own quadrant.
        let one_sided = |line: &Vec<Spot>| line.iter().all(|s| (s.x > 0.0) == (line[0].x > 0.0));
        assert!(found.iter().all(one_sided));
    }
}
