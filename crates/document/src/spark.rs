//! A picture in a few lines of text: one small curve for each panel.

use crate::ranges;
use crate::terminal::{WIDTH, clean, columns, left, right};
use figure::{Extent, Figure, Layout, Panel, Point, Scale, Series, Weight};

/// Width of a curve, columns.
const CURVE: usize = 40;
/// Width of a number at the end of a curve, columns.
const END: usize = 7;
/// The widest a name before a curve may be, columns.
const NAME: usize = 22;

/// The lines that stand for a picture, title excepted.
pub(crate) fn lines(figure: &Figure) -> Vec<String> {
    let Some(shared) = figure.shared_extent() else {
        return Vec::new();
    };
    let mut out = Vec::new();
    let mut drawn = false;
    for panel in &figure.panels {
        let curves = curves(panel, shared, figure.shared.scale, figure.shared.reversed);
        let ranges = ranges::lines(panel);
        if !(curves.is_empty() && ranges.is_empty()) {
            let heading = match panel.axis.scale {
                Scale::Linear => panel.axis.label(),
                Scale::Log10 => format!("{} (logarithmic)", panel.axis.label()),
            };
            out.push(format!("  {}", clean(&heading)));
        }
        let ranged = !ranges.is_empty();
        out.extend(ranges);
        if !curves.is_empty() {
            drawn = true;
            let lines = curves.iter();
            let lines =
                lines.map(|(name, curve)| format!("  {} {curve}", shortened(&clean(name), NAME)));
            out.extend(lines);
        }
        out.extend(remarks(panel, ranged));
    }
    if drawn {
        let (from, to) = if figure.shared.reversed {
            (shared.high, shared.low)
        } else {
            (shared.low, shared.high)
        };
        let along = match figure.layout {
            Layout::Stacked => "over",
            Layout::SideBySide => "along",
        };
        let words = format!(
            "{along} {}, {} to {}",
            figure.shared.label(),
            chart::short(from),
            chart::short(to)
        );
        let words = clean(&words);
        let room = WIDTH.saturating_sub(3 + columns(&words));
        out.push(format!("  {} {words}", left("", room.min(NAME + 1 + END))));
    }
    out
}

/// The curves of the lines that matter most, each between its first and last number, with its name;
/// where several are set side by side they share one scale.
fn curves(panel: &Panel, shared: Extent, scale: Scale, reversed: bool) -> Vec<(String, String)> {
    let lines = leading(panel);
    let sampled: Vec<_> = lines
        .iter()
        .filter_map(|(name, points)| {
            Some((*name, sampled(panel, points, shared, scale, reversed)?))
        })
        .collect();
    let known = sampled.iter().flat_map(|(_, line)| &line.samples);
    let known = known.filter(|value| value.is_finite());
    let (low, high) = known.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| {
        (low.min(*value), high.max(*value))
    });
    let one = sampled.len() == 1;
    let draw = |line: &Sampled| {
        let width = CURVE.min(WIDTH.saturating_sub(line.beside));
        let drawn = if one {
            chart::sparkline(&line.samples, width)
        } else {
            chart::sparkline_between(&line.samples, width, low, high)
        };
        format!("{} {drawn} {}", line.first, line.last)
    };
    sampled
        .iter()
        .map(|(name, line)| ((*name).to_owned(), draw(line)))
        .collect()
}

/// A line at the places of the characters, with the numbers at its ends.
struct Sampled {
    samples: Vec<f64>,
    first: String,
    last: String,
    /// Columns that are taken beside it.
    beside: usize,
}

fn sampled(
    panel: &Panel,
    points: &[Point],
    shared: Extent,
    scale: Scale,
    reversed: bool,
) -> Option<Sampled> {
    let ramp = |v: f64, scale: Scale| match scale {
        Scale::Linear => v,
        Scale::Log10 => v.ln(),
    };
    let (low, high) = (ramp(shared.low, scale), ramp(shared.high, scale));
    let mut sorted: Vec<(f64, f64)> = points
        .iter()
        .map(|p| (ramp(p.along, scale), ramp(p.value, panel.axis.scale)))
        .collect();
    // A line that turns back, as a path that closes, has no one value at a place.
    let turns = |same: fn(&f64, &f64) -> bool| sorted.windows(2).any(|p| same(&p[0].0, &p[1].0));
    if turns(f64::lt) && turns(f64::gt) {
        return None;
    }
    sorted.sort_by(|a, b| a.0.total_cmp(&b.0));
    let sample = |index: usize| {
        let at = low + (high - low) * (index as f64 + 0.5) / CURVE as f64;
        interpolated(&sorted, at)
    };
    let mut samples: Vec<f64> = (0..CURVE).map(sample).collect();
    let mut ends = (points.first()?, points.last()?);
    if ends.0.along > ends.1.along {
        ends = (ends.1, ends.0);
    }
    if reversed {
        samples.reverse();
        ends = (ends.1, ends.0);
    }
    let end = |point: &Point| clean(&trimmed(point.value));
    let (first, last) = (right(&end(ends.0), END), end(ends.1));
    // Two columns before the name, and one between any two parts.
    let beside = NAME + 5 + columns(&first) + columns(&last);
    Some(Sampled {
        samples,
        first,
        last,
        beside,
    })
}

/// Three digits, without empty decimals.
pub(crate) fn trimmed(value: f64) -> String {
    let written = chart::significant(value, 3);
    if written.contains('.') && !written.contains('\u{b7}') {
        return written
            .trim_end_matches('0')
            .trim_end_matches('.')
            .to_owned();
    }
    written
}

/// The leading line of a panel; where none leads and all weigh the same, as in a comparison, each of
/// them; else the first.
fn leading(panel: &Panel) -> Vec<(&str, Vec<Point>)> {
    let mut lines: Vec<(Weight, (&str, Vec<Point>))> = Vec::new();
    for series in &panel.series {
        let Series::Line {
            name,
            points,
            weight,
            ..
        } = series
        else {
            continue;
        };
        match lines.last_mut() {
            Some((_, (_, before))) if series.goes_on() => {
                before.extend(points);
                before.sort_by(|a, b| a.along.total_cmp(&b.along));
            }
            _ => lines.push((*weight, (name.as_str(), points.clone()))),
        }
    }
    let leads = lines.iter().find(|(weight, _)| *weight == Weight::Leading);
    let plain = lines.iter().all(|(weight, _)| *weight == Weight::Plain);
    match leads {
        Some((_, line)) => vec![line.clone()],
        None if plain => lines.into_iter().map(|(_, line)| line).collect(),
        None => lines.into_iter().take(1).map(|(_, line)| line).collect(),
    }
}

/// The value between two neighbours; not a number outside all points.
fn interpolated(sorted: &[(f64, f64)], at: f64) -> f64 {
    let pair = sorted
        .windows(2)
        .find(|pair| pair[0].0 <= at && at <= pair[1].0);
    pair.map_or(f64::NAN, |pair| {
        let wide = pair[1].0 - pair[0].0;
        let t = if wide > 0.0 {
            (at - pair[0].0) / wide
        } else {
            0.0
        };
        pair[0].1 + t * (pair[1].1 - pair[0].1)
    })
}

/// What a picture names besides lines, in words: limits, where they do not stand on the scale of
/// points with a range, and the recommended point.
fn remarks(panel: &Panel, ranged: bool) -> Vec<String> {
    let remark = |series: &Series| match series {
        Series::Limit { .. } if ranged => None,
        Series::Limit { name, value } => {
            let stands = name.chars().any(|c| c.is_ascii_digit());
            let number = chart::short(*value);
            Some(if stands {
                name.clone()
            } else {
                format!("{name} {number}")
            })
        }
        Series::Recommended { name, at, .. } => Some(format!(
            "{name} ({}; {})",
            chart::significant(at.along, 3),
            chart::significant(at.value, 3)
        )),
        _ => None,
    };
    let words = panel.series.iter().filter_map(remark);
    words
        .map(|words| format!("  - {}", clean(&words)))
        .collect()
}

/// A name in exactly so many columns, cut where it is longer.
pub(crate) fn shortened(name: &str, width: usize) -> String {
    if columns(name) <= width {
        return left(name, width);
    }
    let mut short = String::new();
    for c in name.chars() {
        if columns(&short) + 2 > width {
            break;
        }
        short.push(c);
    }
    left(&format!("{short}…"), width)
}
