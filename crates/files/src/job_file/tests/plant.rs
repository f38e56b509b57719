//! Days and prices of the plant.

use super::*;

/// A job with these lines at its end.
fn with(lines: &str) -> String {
    format!("{SOUND}{lines}\n")
}

const PRICES: &str = "[prices]\ncurrency = \"EUR\"\nelectricity = \"0.20 per kWh\"\n";

#[test]
fn exact_prices_and_tariff_are_read() {
    let text = with(&format!(
        "{PRICES}press_hour = \"60 per h\"\nhours_per_year = \"5000 h\"\n\
         [[prices.tariff]]\nfrom = 22\nto = 6\nelectricity = \"140 per MWh\""
    ));
    let prices = sound(&text).plant.prices.unwrap();
    assert!((prices.electricity_at(23).per_kwh() - 0.14).abs() < 1e-12);
    assert!((prices.electricity_at(12).per_kwh() - 0.20).abs() < 1e-12);
    assert!((prices.press_hour.unwrap().per_hour() - 60.0).abs() < 1e-9);
    assert!((prices.hours_per_year - 5000.0).abs() < 1e-9);
    assert!((prices.years - 10.0).abs() < 1e-12);
}

#[test]
fn holds_days_that_make_no_year_are_told_by_how_much() {
    let day = |share: &str| {
        format!(
            "[[day]]\nname = \"d\"\ntemperature = \"20 degC\"\nhumidity = \"50 %RH\"\n\
             share = \"{share}\"\n"
        )
    };
    let faults = told(&with(&format!("{}{}", day("50 %"), day("40 %"))));
    assert_eq!(faults.len(), 1, "{faults:#?}");
    assert!(faults[0].cause.contains("10 % too little"), "{faults:#?}");
    assert!(faults[0].place.path.ends_with("share"));
    assert_eq!(
        sound(&with(&format!("{}{}", day("50 %"), day("50 %"))))
            .plant
            .days
            .len(),
        2
    );
}

#[test]
fn holds_prices_in_another_dimension_are_told() {
    let faults = told(&with(
        "[prices]\ncurrency = \"EUR\"\nelectricity = \"0.20 per kg\"",
    ));
    assert_eq!(faults.len(), 1, "{faults:#?}");
    assert_eq!(faults[0].place.path, "prices.electricity");
}
