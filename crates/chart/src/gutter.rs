//! Names at the right ends of lines, moved apart where they would touch.

use crate::labels::{SWATCH, marked, swatch};
use crate::marks::band_edges;
use crate::plot::Plot;
use crate::ruler::Spot;
use crate::svg::{Anchor, Svg, class_of};
use crate::text::{self, LEADING, SIZE};
use figure::{Figure, Series};

/// The widest a name at a line end may be, px.
const WIDEST: f64 = 118.0;
/// From the frame to the name, px.
const LEAD: f64 = 14.0;
/// Line ends nearer than this cannot be told apart by a name at the end, px.
const APART: f64 = 9.0;

/// Room names at line ends need, px.
pub(crate) fn room(figure: &Figure) -> f64 {
    let series = figure.panels.iter().flat_map(|panel| &panel.series);
    let widths = series.filter_map(|one| Some(indent(one) + text::widest(&lines(one)?, SIZE)));
    let widest = widths.fold(0.0, f64::max);
    if widest > 0.0 {
        widest + LEAD + 6.0
    } else {
        0.0
    }
}

/// Which series get their name at the right end: those that reach it, well apart from others.
pub(crate) fn outside(plot: &Plot<'_>) -> Vec<usize> {
    if plot.gutter <= 0.0 || plot.upright {
        return Vec::new();
    }
    let all = plot.panel.series.iter().enumerate();
    let ends: Vec<(usize, f64)> = all
        .filter(|(_, series)| !series.goes_on())
        .filter_map(|(index, series)| end(plot, series).map(|y| (index, y)))
        .collect();
    let alone = |(index, y): &&(usize, f64)| {
        let others = ends.iter().filter(|(other, _)| other != index);
        others
            .into_iter()
            .all(|(_, other)| (y - other).abs() >= APART)
    };
    ends.iter().filter(alone).map(|(index, _)| *index).collect()
}

/// Draws the names of the chosen series.
pub(crate) fn draw(plot: &Plot<'_>, chosen: &[usize], svg: &mut Svg<'_>) {
    let mut wishes: Vec<(f64, Vec<String>, &Series)> = chosen
        .iter()
        .filter_map(|index| {
            let series = plot.panel.series.get(*index)?;
            Some((end(plot, series)?, lines(series)?, series))
        })
        .collect();
    wishes.sort_by(|a, b| a.0.total_cmp(&b.0));
    let heights: Vec<f64> = wishes.iter().map(|w| w.1.len() as f64 * LEADING).collect();
    let places: Vec<f64> = wishes.iter().map(|w| w.0).collect();
    let middles = spread(&places, &heights);
    let right = plot.frame.right();
    for (((wish, lines, series), height), middle) in wishes.iter().zip(&heights).zip(middles) {
        if (middle - wish).abs() > 3.0 {
            let from = Spot {
                x: right + 2.0,
                y: *wish,
            };
            svg.line(
                "c-lead",
                from,
                Spot {
                    x: right + LEAD - 3.0,
                    y: middle,
                },
            );
        }
        let top = middle - height / 2.0;
        swatch(
            series,
            Spot {
                x: right + LEAD,
                y: top + LEADING / 2.0,
            },
            svg,
        );
        for (row, line) in lines.iter().enumerate() {
            let at = Spot {
                x: right + LEAD + indent(series),
                y: top + (row as f64 + 0.76) * LEADING,
            };
            svg.text(&class(series), at, Anchor::Start, line);
        }
    }
}

/// Middles as near as can be to the wished ones (least squares), in the same order, without
/// overlap: neighbours that touch move as one (pool adjacent violators).
pub(crate) fn spread(wishes: &[f64], heights: &[f64]) -> Vec<f64> {
    struct Pool {
        first: usize,
        top: f64,
        height: f64,
        count: f64,
    }
    let mut pools: Vec<Pool> = Vec::new();
    for (index, (wish, height)) in wishes.iter().zip(heights).enumerate() {
        let mut pool = Pool {
            first: index,
            top: wish - height / 2.0,
            height: *height,
            count: 1.0,
        };
        while let Some(above) = pools.pop_if(|above| above.top + above.height > pool.top) {
            // The top that serves both best, each member wishing for its own place in the pile.
            let wished = above.top * above.count + (pool.top - above.height) * pool.count;
            pool = Pool {
                first: above.first,
                top: wished / (above.count + pool.count),
                height: above.height + pool.height,
                count: above.count + pool.count,
            };
        }
        pools.push(pool);
    }
    let mut middles = Vec::new();
    for (number, pool) in pools.iter().enumerate() {
        let end = pools
            .get(number + 1)
            .map_or(heights.len(), |next| next.first);
        let mut top = pool.top;
        for height in &heights[pool.first..end] {
            middles.push(top + height / 2.0);
            top += height;
        }
    }
    middles
}

/// Where a series leaves the frame on the right; `None` when it ends before.
fn end(plot: &Plot<'_>, series: &Series) -> Option<f64> {
    let spots = match series {
        Series::Line { points, .. } => plot.spots(points),
        Series::Band { points, .. } => band_edges(plot, points).1,
        _ => return None,
    };
    let parts = plot.visible(&spots);
    let ends = parts.iter().flat_map(|part| [part.first(), part.last()]);
    let near = |spot: &&Spot| plot.frame.right() - spot.x < 3.0;
    ends.flatten().find(near).map(|spot| spot.y)
}

fn words(series: &Series) -> Option<String> {
    match series {
        Series::Line { name, grade, .. } | Series::Band { name, grade, .. } => {
            Some(marked(name, *grade))
        }
        _ => None,
    }
}

/// The name of a series as it stands in the gutter, after its indent.
fn lines(series: &Series) -> Option<Vec<String>> {
    Some(text::wrap(&words(series)?, SIZE, WIDEST - indent(series)))
}

/// Room before the name, px.
fn indent(series: &Series) -> f64 {
    match series {
        Series::Band { .. } => SWATCH,
        _ => 0.0,
    }
}

fn class(series: &Series) -> String {
    match series {
        Series::Line { tone, .. } | Series::Band { tone, .. } => class_of(*tone),
        _ => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_free_names_stay_and_touching_ones_share_the_way() {
        assert_eq!(spread(&[10.0, 50.0], &[14.0, 14.0]), [10.0, 50.0]);
        assert_eq!(spread(&[10.0, 21.0], &[14.0, 14.0]), [8.5, 22.5]);
        assert_eq!(spread(&[30.0, 30.0], &[14.0, 14.0]), [23.0, 37.0]);
        assert_eq!(
            spread(&[30.0, 30.0, 30.0], &[10.0, 10.0, 10.0]),
            [20.0, 30.0, 40.0]
        );
    }

    #[test]
    fn holds_the_longest_name_fits_the_gutter() {
        use figure::{Axis, BandPoint, Grade, Panel, Tone};
        for name in [
            "9 in 10",
            "nine pellets in ten of one shot",
            "unbreakable-longword",
        ] {
            let point = |along| BandPoint {
                along,
                low: 1.0,
                high: 2.0,
            };
            let band = Series::Band {
                name: name.into(),
                points: vec![point(0.0), point(1.0)],
                grade: Grade::Computed,
                tone: Tone::Water,
            };
            let drawn = lines(&band).unwrap_or_default();
            let right = LEAD + indent(&band) + text::widest(&drawn, SIZE);
            let panel = Panel::new(Axis::linear("moisture", "ppm"), vec![band]);
            let figure = Figure::stacked("t", Axis::linear("time", "h"), vec![panel]);
            assert!(room(&figure) >= right, "{name}: {} {right}", room(&figure));
        }
    }

    #[test]
    fn holds_no_two_names_overlap() {
        let wishes: Vec<f64> = (0..12)
            .map(|i| f64::from(i * i % 7) * 5.0 + f64::from(i))
            .collect();
        let mut wishes = wishes;
        wishes.sort_by(f64::total_cmp);
        let heights: Vec<f64> = (0..12).map(|i| 12.0 + f64::from(i % 3) * 12.0).collect();
        let middles = spread(&wishes, &heights);
        for i in 1..middles.len() {
            let gap = middles[i] - middles[i - 1] - f64::midpoint(heights[i], heights[i - 1]);
            assert!(gap > -1e-9, "{gap}");
        }
    }
}
