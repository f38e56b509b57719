//! Points with a range as lines of text: the value, and where it lies between low and high on a scale
//! that all of them share.

use crate::spark::{shortened, trimmed};
use crate::terminal::{WIDTH, clean, columns, left, right};
use figure::{Cross, Extent, Panel, Scale, Series};

/// The widest the common scale may be, columns.
const SCALE: usize = 32;
/// The widest a name may be, columns.
const NAME: usize = 25;

/// A line for each cross of a panel, and one for each limit, which crosses their scale.
pub(crate) fn lines(panel: &Panel) -> Vec<String> {
    let crosses = panel.series.iter().filter_map(|series| match series {
        Series::Cross(cross) => Some(cross),
        _ => None,
    });
    let crosses: Vec<&Cross> = crosses.collect();
    let Some(extent) = panel.extent().filter(|_| !crosses.is_empty()) else {
        return Vec::new();
    };
    let value = |cross: &&Cross| clean(&trimmed(cross.at.value));
    let values: Vec<String> = crosses.iter().map(value).collect();
    let end = |cross: &&Cross| {
        let Extent { low, high } = cross.value;
        clean(&format!("{} to {}", trimmed(low), trimmed(high)))
    };
    let ends: Vec<String> = crosses.iter().map(end).collect();
    let widest = |texts: &[String]| texts.iter().map(|text| columns(text)).max().unwrap_or(0);
    let before = 2 + NAME + 1 + widest(&values) + 1;
    let scale = Common {
        extent,
        scale: panel.axis.scale,
        columns: WIDTH
            .saturating_sub(before + 1 + widest(&ends))
            .clamp(2, SCALE),
    };
    let limits = limits(panel);
    let mut out = Vec::new();
    for ((cross, value), end) in crosses.iter().zip(&values).zip(&ends) {
        let sign = if cross.grade.is_estimate() {
            "≈ "
        } else {
            ""
        };
        let name = shortened(&clean(&format!("{sign}{}", cross.name)), NAME);
        let value = right(value, widest(&values));
        out.push(format!(
            "  {name} {value} {} {end}",
            scale.bar(cross, &limits)
        ));
    }
    out.extend(
        limits
            .into_iter()
            .map(|(name, limit)| scale.named(name, limit, before)),
    );
    out
}

fn limits(panel: &Panel) -> Vec<(&str, f64)> {
    let limit = |series: &Series| match series {
        Series::Limit { value, .. } => Some(*value),
        _ => None,
    };
    let all = panel.series.iter();
    all.filter_map(|series| Some((series.name(), limit(series)?)))
        .collect()
}

/// The scale that all points share.
struct Common {
    extent: Extent,
    scale: Scale,
    columns: usize,
}

impl Common {
    /// From low to high with the value between, and the limits that are passed.
    fn bar(&self, cross: &Cross, limits: &[(&str, f64)]) -> String {
        let stroke = if cross.grade.is_estimate() {
            '╌'
        } else {
            '─'
        };
        let range = self.column(cross.value.low)..=self.column(cross.value.high);
        let mut bar = vec![' '; self.columns];
        for at in range.clone() {
            bar[at] = stroke;
        }
        for (_, limit) in limits {
            let at = self.column(*limit);
            bar[at] = if range.contains(&at) { '┼' } else { '│' };
        }
        bar[self.column(cross.at.value)] = '●';
        bar.into_iter().collect()
    }

    /// The line of a limit with its name on the side that has room.
    fn named(&self, name: &str, limit: f64, before: usize) -> String {
        let (at, words) = (before + self.column(limit), clean(name));
        if at + 2 + columns(&words) <= WIDTH {
            format!("{}│ {words}", left("", at))
        } else {
            format!("{} │", right(&words, at.saturating_sub(1)))
        }
    }

    /// The column of a value.
    fn column(&self, value: f64) -> usize {
        let ramp = |v: f64| match self.scale {
            Scale::Linear => v,
            Scale::Log10 => v.ln(),
        };
        let (low, high) = (ramp(self.extent.low), ramp(self.extent.high));
        let share = (ramp(value) - low) / (high - low);
        // A range without width stands in the middle.
        let place = if share.is_finite() { share } else { 0.5 };
        let most = self.columns - 1;
        let passed = (0..most).take_while(|column| *column as f64 + 0.5 <= place * most as f64);
        passed.count()
    }
}
