//! Quantities as people read them: metric or US customary, with no more digits than asked.

use crate::meaning::{Meaning, Written};
use crate::units::Units;

/// Digits shown when nobody asks for more.
const DIGITS: usize = 3;

/// Something that can be printed in either system of units.
pub trait Show {
    /// Printed with at most `digits` significant digits.
    fn show(&self, system: Units, digits: usize) -> String;
}

impl<T: Written> Show for T {
    fn show(&self, system: Units, digits: usize) -> String {
        show_si(self.si(), T::MEANING, system, digits)
    }
}

/// A quantity with at most three significant digits: `248 °F`, `180 ppm wet basis`.
pub fn show(quantity: impl Show + Copy, system: Units) -> String {
    quantity.show(system, DIGITS)
}

/// A quantity with at most `digits` significant digits.
pub fn show_to(quantity: impl Show + Copy, system: Units, digits: usize) -> String {
    quantity.show(system, digits)
}

/// A plain SI number of known meaning, printed in the unit that suits its size.
pub fn show_si(si: f64, meaning: Meaning, system: Units, digits: usize) -> String {
    let unit = meaning.unit(system, si);
    let number = unit.number(si);
    // What a scale with an offset leaves of its own zero is rounding, not a number.
    let rounding = unit.offset.abs() * f64::EPSILON * 4.0;
    let number = self::digits(
        if number.abs() <= rounding {
            0.0
        } else {
            number
        },
        digits,
    );
    let space = if unit.shown.is_empty() || unit.shown == "°" {
        ""
    } else {
        " "
    };
    format!("{number}{space}{}{}", unit.shown, meaning.suffix())
}

/// A number with at most `digits` significant digits, zeros at the end of its fraction left out.
///
/// Numbers of a million and above and below a ten-thousandth are written with a power of ten. What
/// is not a finite number is printed as `unknown`.
pub fn digits(value: f64, digits: usize) -> String {
    if !value.is_finite() {
        return "unknown".to_owned();
    }
    if value == 0.0 {
        return "0".to_owned();
    }
    let after_first = digits.clamp(1, 17) - 1;
    let scientific = format!("{value:.after_first$e}");
    let Some((mantissa, power)) = scientific.split_once('e') else {
        return scientific;
    };
    let power: i32 = power.parse().unwrap_or(0);
    if !(-4..6).contains(&power) {
        return format!("{}e{power}", without_trailing_zeros(mantissa));
    }
    let rounded: f64 = scientific.parse().unwrap_or(value);
    let places = usize::try_from(i32::try_from(after_first).unwrap_or(0) - power).unwrap_or(0);
    without_trailing_zeros(&format!("{rounded:.places$}")).to_owned()
}

fn without_trailing_zeros(number: &str) -> &str {
    if number.contains('.') {
        number.trim_end_matches('0').trim_end_matches('.')
    } else {
        number
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kinds::*;

    #[test]
    fn exact_digits_are_at_most_those_asked() {
        assert_eq!(digits(1234.5, 3), "1230");
        assert_eq!(digits(0.0012345, 3), "0.00123");
        assert_eq!(digits(-40.0, 3), "-40");
        assert_eq!(digits(0.2, 3), "0.2");
        assert_eq!(digits(9.996, 3), "10");
        assert_eq!(digits(1.5e-10, 3), "1.5e-10");
        assert_eq!(digits(2.5e7, 3), "2.5e7");
        assert_eq!(digits(f64::NAN, 3), "unknown");
    }

    #[test]
    fn exact_quantities_in_both_systems() {
        let hot = Temperature::from_celsius(120.0);
        assert_eq!(show(hot, Units::Metric), "120 °C");
        assert_eq!(show(hot, Units::UsCustomary), "248 °F");
        assert_eq!(
            show(
                Temperature::from_celsius(-17.0 - 7.0 / 9.0),
                Units::UsCustomary
            ),
            "0 °F"
        );
        let wet = MoistureWetBasis::from_ppm(180.0);
        assert_eq!(show(wet, Units::Metric), "180 ppm wet basis");
        let step = TemperatureDifference::from_kelvin(10.0);
        assert_eq!(show(step, Units::UsCustomary), "18 °F difference");
        let rate = MassFlow::from_kg_per_hour(10.0);
        assert_eq!(show(rate, Units::UsCustomary), "22 lb/h");
        assert_eq!(show_to(rate, Units::UsCustomary, 4), "22.05 lb/h");
        assert_eq!(show(Duration::from_hours(1.0), Units::Metric), "1 h");
        assert_eq!(show(Angle::from_degrees(60.0), Units::Metric), "60°");
        assert_eq!(
            show(GaugePressure::from_bar(7.0), Units::Metric),
            "7 bar(g)"
        );
        assert_eq!(
            show(FrostPoint::from_celsius(-40.0), Units::UsCustomary),
            "-40 °F frost point"
        );
        assert_eq!(show(Length::from_millimetres(2.5), Units::Metric), "2.5 mm");
        assert_eq!(
            show(RelativeHumidity::from_percent(65.0), Units::Metric),
            "65 % RH"
        );
    }
}
