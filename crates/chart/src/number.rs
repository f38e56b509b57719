//! Numbers as printed on a drawing.

/// A number with the digits its range deserves: the last printed digit is the first digit of the
/// half width of the range, and never more than three digits stand (`93.4` between 50 and 170 is
/// `90`; between 92 and 95 it is `93`).
///
/// A range that is empty or not finite leaves three digits. A value that is not finite is written
/// `unknown`.
pub fn rounded(value: f64, low: f64, high: f64) -> String {
    if !value.is_finite() {
        return "unknown".to_owned();
    }
    let half = (high - low).abs() / 2.0;
    let finest = exponent(value) - 2;
    let place = if half.is_finite() && half > 0.0 {
        exponent(half).max(finest)
    } else {
        finest
    };
    with_last_place(value, place)
}

/// A number rounded so that its last digit stands for `10^place`.
fn with_last_place(value: f64, place: i32) -> String {
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

/// A short plain number for labels on contour lines and in descriptions: four digits at most.
pub(crate) fn short(value: f64) -> String {
    let written = with_last_place(value, (exponent(value) - 3).min(0));
    if written.contains('.') {
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
        assert_eq!(rounded(93.4, 92.0, 95.0), "93");
        assert_eq!(rounded(0.1234, 0.12, 0.13), "0.123");
        assert_eq!(rounded(0.1234, 0.05, 0.3), "0.1");
        assert_eq!(rounded(12_345.0, 12_345.0, 12_345.0), "12\u{202f}300");
        assert_eq!(rounded(-40.2, -42.0, -38.0), "\u{2212}40");
        assert_eq!(rounded(f64::NAN, 0.0, 1.0), "unknown");
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
