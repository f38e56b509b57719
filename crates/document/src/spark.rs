//! A picture in a few lines of text: one small curve for each panel.

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
        if let Some((name, curve)) =
            curve(panel, shared, figure.shared.scale, figure.shared.reversed)
        {
            drawn = true;
            let heading = match panel.axis.scale {
                Scale::Linear => panel.axis.label(),
                Scale::Log10 => format!("{} (logarithmic)", panel.axis.label()),
            };
            out.push(format!("  {}", clean(&heading)));
            out.push(format!("  {} {curve}", shortened(&clean(&name), NAME)));
        }
        out.extend(remarks(panel));
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
        out.push(format!("  {} {}", left("", NAME + 1 + END), clean(&words)));
    }
    out
}

/// The curve of the line that matters most, between its first and last number.
fn curve(panel: &Panel, shared: Extent, scale: Scale, reversed: bool) -> Option<(String, String)> {
    let (name, points) = leading(panel)?;
    let ramp = |v: f64, scale: Scale| match scale {
        Scale::Linear => v,
        Scale::Log10 => v.ln(),
    };
    let (low, high) = (ramp(shared.low, scale), ramp(shared.high, scale));
    let mut sorted: Vec<(f64, f64)> = points
        .iter()
        .map(|p| (ramp(p.along, scale), ramp(p.value, panel.axis.scale)))
        .collect();
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
    let line = format!(
        "{first} {} {last}",
        chart::sparkline(&samples, CURVE.min(WIDTH.saturating_sub(beside)))
    );
    Some((name.to_owned(), line))
}

/// Three digits, without empty decimals.
fn trimmed(value: f64) -> String {
    let written = chart::significant(value, 3);
    if written.contains('.') && !written.contains('\u{b7}') {
        return written
            .trim_end_matches('0')
            .trim_end_matches('.')
            .to_owned();
    }
    written
}

/// The leading line of a panel, or its first.
fn leading(panel: &Panel) -> Option<(&str, &[Point])> {
    let mut first = None;
    for series in &panel.series {
        if let Series::Line {
            name,
            points,
            weight,
            ..
        } = series
        {
            let found = (name.as_str(), points.as_slice());
            if *weight == Weight::Leading {
                return Some(found);
            }
            first = first.or(Some(found));
        }
    }
    first
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

/// What a picture names besides lines, in words: limits and the recommended point.
fn remarks(panel: &Panel) -> Vec<String> {
    let remark = |series: &Series| match series {
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
            chart::short(at.along),
            chart::short(at.value)
        )),
        _ => None,
    };
    let words = panel.series.iter().filter_map(remark);
    words
        .map(|words| format!("  - {}", clean(&words)))
        .collect()
}

/// A name in exactly so many columns, cut where it is longer.
fn shortened(name: &str, width: usize) -> String {
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
