//! Numbers as printed on a drawing.

/// A number with the digits its range deserves: the last printed digit is the first digit of the
/// half width of the range (the second, when the first is a 1), never more than three digits stand,
/// and never less than one (`93.4` between 50 and 170 is `90`; between 90 and 96 it is `93`).
///
/// A range that is empty or not finite leaves three digits. A value that is not finite is written
/// `unknown`.
pub fn rounded(value: f64, low: f64, high: f64) -> String {
    if !value.is_finite() {
        return "unknown".to_owned();
    }
    let half = (high - low).abs() / 2.0;
    let finest = exponent(value) - 2;
    if !(half.is_finite() && half > 0.0) {
        return significant(value, 3);
    }
    let first = exponent(half);
    let starts_with_one = half / libm::pow(10.0, f64::from(first)) < 1.95;
    let deserved = if starts_with_one { first - 1 } else { first };
    let place = if value == 0.0 {
        deserved
    } else {
        deserved.min(exponent(value)).max(finest)
    };
    with_last_place(value, place)
}

/// A number with so many significant digits, at least one; `unknown` when it is not finite.
pub fn significant(value: f64, digits: u8) -> String {
    if !value.is_finite() {
        return "unknown".to_owned();
    }
    if value == 0.0 {
        return "0".to_owned();
    }
    let digits = i32::from(digits.max(1));
    let place = exponent(value) + 1 - digits;
    let unit = libm::pow(10.0, f64::from(place));
    // Rounding may carry into a new first digit: 99.96 is 100, not 100.0.
    let carried = exponent((value / unit).round() * unit) + 1 - digits;
    with_last_place(value, carried)
}

/// The numbers of one column, with as many decimals as the largest deserves for three digits, and
/// more only where a small one would keep less than two.
pub fn aligned(values: &[f64]) -> Vec<String> {
    let largest = values
        .iter()
        .filter(|value| value.is_finite())
        .fold(0.0, |most: f64, value| most.max(value.abs()));
    let common = (exponent(largest) - 2).min(0);
    let write = |value: &f64| {
        if !value.is_finite() {
            return "unknown".to_owned();
        }
        let own = if *value == 0.0 {
            common
        } else {
            exponent(*value) - 1
        };
        with_last_place(*value, common.min(own))
    };
    values.iter().map(write).collect()
}

/// A number rounded so that its last digit stands for `10^place`; very small and very large ones
/// with a power of ten.
fn with_last_place(value: f64, place: i32) -> String {
    let power = exponent(value);
    if value != 0.0 && !(-4..7).contains(&power) {
        let factor = value / libm::pow(10.0, f64::from(power));
        let digits = grouped(&format!("{factor:.*}", places(power - place)));
        let raised: String = power.to_string().chars().map(superscript).collect();
        return format!("{digits}\u{b7}10{raised}");
    }
    if place <= 0 {
        grouped(&format!("{value:.*}", places(-place)))
    } else {
        let unit = libm::pow(10.0, f64::from(place));
        grouped(&format!("{:.0}", (value / unit).round() * unit))
    }
}

/// A tick label on an axis of this step.
pub(crate) fn tick(value: f64, step: f64) -> String {
    let mut decimals = 0;
    while decimals < 9 && !is_whole(step * libm::pow(10.0, f64::from(decimals))) {
        decimals += 1;
    }
    let cleaned = if value.abs() < step * 1e-6 {
        0.0
    } else {
        value
    };
    grouped(&format!("{cleaned:.*}", places(decimals)))
}

/// The label of a decade or of one of its multiples.
pub(crate) fn decade(value: f64) -> String {
    let power = exponent(value);
    if (-4..6).contains(&power) {
        return grouped(&format!("{value:.*}", places((-power).max(0))));
    }
    let factor = (value / libm::pow(10.0, f64::from(power))).round();
    let raised: String = power.to_string().chars().map(superscript).collect();
    if (factor - 1.0).abs() < 0.5 {
        format!("10{raised}")
    } else {
        format!("{factor}\u{b7}10{raised}")
    }
}

/// A number with a fixed count of decimals.
pub(crate) fn fixed(value: f64, decimals: usize) -> String {
    grouped(&format!("{value:.decimals$}"))
}

/// A short plain number for labels and running text: four digits at most, without empty decimals;
/// `unknown` when it is not finite.
pub fn short(value: f64) -> String {
    if !value.is_finite() {
        return "unknown".to_owned();
    }
    let written = with_last_place(value, (exponent(value) - 3).min(0));
    if written.contains('.') && !written.contains('\u{b7}') {
        let trimmed = written.trim_end_matches('0').trim_end_matches('.');
        return trimmed.to_owned();
    }
    written
}

/// The power of ten of the first digit; 0 for zero.
fn exponent(value: f64) -> i32 {
    if value == 0.0 || !value.is_finite() {
        return 0;
    }
    // A thousandth of a millionth above the logarithm keeps 1000 from being 999.999... there.
    floor_to_i32(libm::log10(value.abs()) + 1e-9)
}

fn is_whole(value: f64) -> bool {
    (value - value.round()).abs() < 1e-6 * value.abs().max(1e-9)
}

/// Groups of three from five digits on, divided by a narrow space, and a true minus sign.
fn grouped(written: &str) -> String {
    let (sign, digits) = written
        .strip_prefix('-')
        .map_or(("", written), |rest| ("\u{2212}", rest));
    let (whole, fraction) = digits
        .find('.')
        .map_or((digits, ""), |dot| digits.split_at(dot));
    let zero = digits.chars().all(|c| matches!(c, '0' | '.'));
    let mut out = String::from(if zero { "" } else { sign });
    for (index, digit) in whole.chars().enumerate() {
        if whole.len() > 4 && index > 0 && (whole.len() - index).is_multiple_of(3) {
            out.push('\u{202f}');
        }
        out.push(digit);
    }
    out.push_str(fraction);
    out
}

fn superscript(digit: char) -> char {
    match digit {
        '-' => '⁻',
        '0' => '⁰',
        '1' => '¹',
        '2' => '²',
        '3' => '³',
        '4' => '⁴',
        '5' => '⁵',
        '6' => '⁶',
        '7' => '⁷',
        '8' => '⁸',
        _ => '⁹',
    }
}

fn places(decimals: i32) -> usize {
    usize::try_from(decimals.clamp(0, 12)).unwrap_or(0)
}

#[expect(
    clippy::cast_possible_truncation,
    reason = "the decimal exponent of an f64 lies between -324 and 308"
)]
fn floor_to_i32(value: f64) -> i32 {
    value.floor() as i32
}

/// A count from a small non-negative number; a negative one is no count at all.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "bounded just before the cast"
)]
pub(crate) fn count(value: f64) -> usize {
    value.clamp(0.0, 100_000.0) as usize
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_digits_follow_the_range() {
        assert_eq!(rounded(93.4, 50.0, 170.0), "90");
        assert_eq!(rounded(93.4, 90.0, 96.0), "93");
        assert_eq!(rounded(123.0, 111.0, 135.0), "123");
        assert_eq!(rounded(0.1234, 0.12, 0.13), "0.123");
        assert_eq!(rounded(0.1234, 0.05, 0.5), "0.1");
        assert_eq!(rounded(0.4, 0.4, 300.0), "0.4");
        assert_eq!(rounded(0.0, 0.0, 50.0), "0");
        assert_eq!(rounded(12_345.0, 12_345.0, 12_345.0), "12\u{202f}300");
        assert_eq!(rounded(-40.2, -42.0, -38.0), "\u{2212}40");
        assert_eq!(rounded(f64::NAN, 0.0, 1.0), "unknown");
    }

    #[test]
    fn exact_significant_digits() {
        assert_eq!(significant(1013.25, 6), "1013.25");
        assert_eq!(significant(1013.25, 2), "1000");
        assert_eq!(significant(99.96, 3), "100");
        assert_eq!(significant(0.0, 3), "0");
        assert_eq!(significant(f64::INFINITY, 3), "unknown");
    }

    #[test]
    fn exact_columns_share_their_decimals() {
        assert_eq!(aligned(&[24.0, 118.4, 120.0]), ["24", "118", "120"]);
        assert_eq!(
            aligned(&[4.1, -17.4, -38.0]),
            ["4.1", "\u{2212}17.4", "\u{2212}38.0"]
        );
        assert_eq!(aligned(&[1990.0, 96.0, 0.3]), ["1990", "96", "0.30"]);
        assert_eq!(aligned(&[0.0, f64::NAN]), ["0.00", "unknown"]);
    }

    #[test]
    fn exact_far_numbers_have_a_power_of_ten() {
        assert_eq!(significant(5.13e-11, 2), "5.1\u{b7}10⁻¹¹");
        assert_eq!(rounded(5.1e-11, 4.0e-11, 6.6e-11), "5.1\u{b7}10⁻¹¹");
        assert_eq!(significant(-3.6e9, 3), "\u{2212}3.60\u{b7}10⁹");
        assert_eq!(significant(1.23e-4, 3), "0.000123");
        assert_eq!(significant(9_990_000.0, 3), "9\u{202f}990\u{202f}000");
    }

    #[test]
    fn exact_ticks_carry_the_decimals_of_their_step() {
        assert_eq!(tick(0.30000000000000004, 0.1), "0.3");
        assert_eq!(tick(-1e-17, 0.5), "0.0");
        assert_eq!(tick(-40.0, 20.0), "\u{2212}40");
        assert_eq!(tick(20_000.0, 5000.0), "20\u{202f}000");
        assert_eq!(tick(0.25, 0.25), "0.25");
    }

    #[test]
    fn exact_decades_are_plain_until_they_are_long() {
        assert_eq!(decade(0.001), "0.001");
        assert_eq!(decade(1000.0), "1000");
        assert_eq!(decade(1e6), "10⁶");
        assert_eq!(decade(2e-7), "2·10⁻⁷");
    }

    #[test]
    fn exact_short_numbers_drop_empty_decimals() {
        assert_eq!(short(200.0), "200");
        assert_eq!(short(0.5), "0.5");
        assert_eq!(short(1234.56), "1235");
        assert_eq!(short(0.0), "0");
    }
}
