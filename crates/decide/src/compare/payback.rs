//! Payback: how long until the dearer of two dryers has earned what it cost more.
//!
//! # Equations
//! 1. Simple: `n = I/S`, with `I` what it costs more to buy and `S` what it saves each year.
//! 2. Discounted at interest `i`, savings at the end of each year: `I = S (1 - (1+i)^-n)/i`, so
//!    `n = -ln(1 - i I/S)/ln(1 + i)`; never where `i I >= S`.
//! 3. Capital spread over `N` years: `a = I i/(1 - (1+i)^-N)`, and `I/N` without interest.
//!
//! # Symbols
//! as above.
//!
//! # Holds for
//! Savings that stay the same from year to year; no tax, no rest value.
//!
//! # Sources
//! Annuities, any book of accounting; from memory.

use serde::Serialize;

/// Years until a purchase has paid for itself.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Payback {
    /// Without interest; none where it never does.
    pub simple_years: Option<f64>,
    /// With interest; none where it never does.
    pub discounted_years: Option<f64>,
}

impl Payback {
    /// Of what costs `extra` more to buy and saves `saved` a year, at a yearly interest; at once where it
    /// costs no more and loses nothing.
    pub fn of(extra: f64, saved: f64, interest: f64) -> Self {
        if extra <= 0.0 && saved >= 0.0 {
            return Self {
                simple_years: Some(0.0),
                discounted_years: Some(0.0),
            };
        }
        if !(saved > 0.0) {
            return Self {
                simple_years: None,
                discounted_years: None,
            };
        }
        let simple = extra / saved;
        let owed = interest * simple;
        Self {
            simple_years: Some(simple),
            discounted_years: if interest == 0.0 {
                Some(simple)
            } else {
                (owed < 1.0).then(|| -libm::log1p(-owed) / libm::log1p(interest))
            },
        }
    }
}

/// What a price comes to each year over so many years at a yearly interest.
pub fn annuity(price: f64, interest: f64, years: f64) -> f64 {
    if interest == 0.0 {
        return price / years;
    }
    price * interest / -libm::expm1(-years * libm::log1p(interest))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_payback_by_hand() {
        // 10 000 more, 2500 saved: four years; at 5 % the present value of 2500 a year over
        // ln(1/(1 - 0.2))/ln(1.05) years is 10 000.
        let found = Payback::of(10_000.0, 2500.0, 0.05);
        assert_eq!(found.simple_years, Some(4.0));
        let years = found.discounted_years.unwrap_or(f64::NAN);
        assert!((years - f64::ln(1.25) / f64::ln(1.05)).abs() < 1e-12);
        let worth = 2500.0 * (1.0 - f64::powf(1.05, -years)) / 0.05;
        assert!((worth - 10_000.0).abs() < 1e-8);
    }

    #[test]
    fn exact_what_saves_nothing_or_less_than_its_interest_never_pays() {
        assert_eq!(Payback::of(100.0, -1.0, 0.05).simple_years, None);
        assert_eq!(Payback::of(100.0, 0.0, 0.05).simple_years, None);
        let slow = Payback::of(100.0, 4.0, 0.05);
        assert_eq!(slow.simple_years, Some(25.0));
        assert_eq!(slow.discounted_years, None);
        assert_eq!(Payback::of(-5.0, 1.0, 0.05).discounted_years, Some(0.0));
    }

    #[test]
    fn exact_an_annuity_pays_its_price_back() {
        assert!((annuity(1000.0, 0.0, 10.0) - 100.0).abs() < 1e-12);
        let each = annuity(1000.0, 0.05, 10.0);
        let worth: f64 = (1..=10).map(|year| each / f64::powi(1.05, year)).sum();
        assert!((worth - 1000.0).abs() < 1e-9);
        let years = Payback::of(1000.0, each, 0.05).discounted_years;
        assert!((years.unwrap_or(0.0) - 10.0).abs() < 1e-9);
    }
}
