//! A curve in one line of text, for the terminal.

use crate::number::count;

const LEVELS: [char; 8] = ['▁', '▂', '▃', '▄', '▅', '▆', '▇', '█'];

/// The values as one line of `width` characters, lowest to highest from `▁` to `█`.
///
/// Neighbouring values are averaged when there are more of them than characters, and repeated when
/// there are fewer. A character none of whose values is finite is a blank. Constant values lie at
/// half height. Hand in logarithms to show decades.
///
/// ```
/// assert_eq!(chart::sparkline(&[0.0, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0], 8), "▁▂▃▄▅▆▇█");
/// ```
pub fn sparkline(values: &[f64], width: usize) -> String {
    let means: Vec<Option<f64>> = (0..width).map(|index| mean(values, index, width)).collect();
    let known = means.iter().flatten();
    let (low, high) = known.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| {
        (low.min(*value), high.max(*value))
    });
    sparkline_between(values, width, low, high)
}

/// As [`sparkline`], from `low` at `▁` to `high` at `█`, so that several can be compared.
pub fn sparkline_between(values: &[f64], width: usize, low: f64, high: f64) -> String {
    let means: Vec<Option<f64>> = (0..width).map(|index| mean(values, index, width)).collect();
    let draw = |mean: &Option<f64>| match mean {
        None => ' ',
        Some(_) if high <= low => LEVELS[3],
        Some(value) => {
            let step = ((value - low) / (high - low)).clamp(0.0, 1.0) * 7.0;
            LEVELS[count(step.round()).min(7)]
        }
    };
    means.iter().map(draw).collect()
}

/// The mean of the finite values that fall on one character.
fn mean(values: &[f64], index: usize, width: usize) -> Option<f64> {
    let first = index * values.len() / width;
    let last = ((index + 1) * values.len()).div_ceil(width).max(first + 1);
    let part = values.get(first..last.min(values.len()))?;
    let finite: Vec<f64> = part.iter().copied().filter(|v| v.is_finite()).collect();
    let sum: f64 = finite.iter().sum();
    (!finite.is_empty()).then(|| sum / finite.len() as f64)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_lines() {
        assert_eq!(sparkline(&[1.0, 2.0, 3.0, 4.0], 2), "▁█");
        assert_eq!(sparkline_between(&[0.0, 7.0, 9.0], 3, 0.0, 7.0), "▁██");
        assert_eq!(sparkline(&[5.0, 5.0], 4), "▄▄▄▄");
        assert_eq!(sparkline(&[0.0, f64::NAN, 1.0], 3), "▁ █");
        assert_eq!(sparkline(&[], 3), "   ");
        assert_eq!(sparkline(&[1.0, 2.0], 0), "");
    }

    #[test]
    fn holds_the_width_is_kept_and_order_is_kept() {
        for n in 1..40 {
            let rising: Vec<f64> = (0..n).map(f64::from).collect();
            let line: Vec<char> = sparkline(&rising, 17).chars().collect();
            assert_eq!(line.len(), 17);
            assert!(line.is_sorted());
        }
    }
}
