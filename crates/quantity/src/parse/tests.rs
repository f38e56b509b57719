//! Checks that texts are read as meant, or refused with what to write instead.

#![expect(clippy::unwrap_used, reason = "a test stops at the first surprise")]

use super::*;
use crate::kinds::*;
use crate::{FaultKind, Place, air_flow};
use proptest::prelude::*;

fn si_of(text: &str, meaning: Meaning) -> f64 {
    match si(text, meaning) {
        Ok(si) => si,
        Err(misread) => panic!("{text}: {misread}"),
    }
}

fn close(text: &str, meaning: Meaning, wanted: f64) {
    let got = si_of(text, meaning);
    assert!(
        (got / wanted - 1.0).abs() < 1e-9,
        "{text}: {got} instead of {wanted}"
    );
}

fn refusal(text: &str, meaning: Meaning) -> Misread {
    value(text, meaning).unwrap_err()
}

fn offered(text: &str, meaning: Meaning) -> Vec<String> {
    let misread = refusal(text, meaning);
    let pair = |c: &Candidate| format!("{} -> {}", c.write, c.means);
    misread.candidates().iter().map(pair).collect()
}

#[test]
fn exact_metric_and_us_customary() {
    close("12 kg/h", Meaning::MassFlow, 12.0 / 3600.0);
    close("12 lb/hr", Meaning::MassFlow, 12.0 * 0.45359237 / 3600.0);
    close(
        "250 degF",
        Meaning::Temperature,
        273.15 + (250.0 - 32.0) / 1.8,
    );
    close("120 °C", Meaning::Temperature, 393.15);
    close("0.1 in", Meaning::Length, 0.00254);
    close("2.5mm", Meaning::Length, 0.0025);
    close("250 min", Meaning::Duration, 15_000.0);
    close("1.5e-10 m2/s", Meaning::Diffusivity, 1.5e-10);
    close("1.5E-10 m²/s", Meaning::Diffusivity, 1.5e-10);
    close("33.1 kJ/mol", Meaning::MolarEnergy, 33_100.0);
    close("44 lb/ft3", Meaning::BulkDensity, 44.0 * 16.018_463_373_960);
    close("1.36 kJ/(kg K)", Meaning::SpecificHeatCapacity, 1360.0);
    close("1 Btu/(lb degF)", Meaning::SpecificHeatCapacity, 4186.8);
    close("8 W/(m2 K)", Meaning::HeatTransferCoefficient, 8.0);
    close(
        "1 Btu/(h ft2 °F)",
        Meaning::HeatTransferCoefficient,
        5.678_263_341,
    );
    close(
        "1 Btu/(h ft degF)",
        Meaning::ThermalConductivity,
        1.730_734_666,
    );
    close("500 m", Meaning::Altitude, 500.0);
    close("60 deg", Meaning::Angle, std::f64::consts::FRAC_PI_3);
    close("50 %", Meaning::Fraction, 0.5);
    close("65 %RH", Meaning::RelativeHumidity, 0.65);
    close("65 %", Meaning::RelativeHumidity, 0.65);
    close("7 gr/lb", Meaning::HumidityRatio, 0.001);
    close("10 K", Meaning::TemperatureDifference, 10.0);
    close("18 degF difference", Meaning::TemperatureDifference, 10.0);
    close("10 °C diff", Meaning::TemperatureDifference, 10.0);
    close("14.696 psia", Meaning::AbsolutePressure, 101_325.353_2);
    close("1 atm", Meaning::AbsolutePressure, 101_325.0);
    close("7 bar(g)", Meaning::GaugePressure, 7e5);
    close("7 barg", Meaning::GaugePressure, 7e5);
    close("2 in H2O", Meaning::PressureDifference, 498.177_82);
    close("3.3 J/(kg K2)", Meaning::HeatCapacitySlope, 3.3);
    close("10 K/%", Meaning::GlassTransitionDrop, 1000.0);
    close("-20 1/%", Meaning::PerMoisture, -2000.0);
    close("4.8e-4 1/K", Meaning::PerTemperature, 4.8e-4);
    close("0.65", Meaning::Number, 0.65);
    close(".5 h", Meaning::Duration, 1800.0);
    close("+5 °C", Meaning::Temperature, 278.15);
    close("\u{2212}40 °C", Meaning::Temperature, 233.15);
    close("3 µm", Meaning::Length, 3e-6);
    close("0.59 % dry", Meaning::MoistureDryBasis, 0.0059);
    close("0.2 % wet", Meaning::MoistureDryBasis, 0.002 / 0.998);
}

#[test]
fn exact_spellings_of_one_unit_agree() {
    for text in [
        "8 W/(m2 K)",
        "8 W/m2/K",
        "8 W/m2K",
        "8 W/(m²·K)",
        "8 W/m^2 K",
        "8 W per m2 K",
    ] {
        close(text, Meaning::HeatTransferCoefficient, 8.0);
    }
}

#[test]
fn holds_no_two_units_of_a_table_share_a_spelling() {
    for dimension in DIMENSIONS {
        let mut seen: Vec<String> = Vec::new();
        for unit in dimension.units {
            let mut own: Vec<String> = unit.aliases.iter().map(|a| squash(a)).collect();
            own.push(squash(unit.symbol));
            own.sort();
            own.dedup();
            for key in own {
                assert!(
                    !seen.contains(&key),
                    "{key} stands twice for {}",
                    dimension.name
                );
                seen.push(key);
            }
            assert!(lookup(unit.symbol, dimension).is_some_and(|u| u.symbol == unit.symbol));
            assert!(lookup(unit.shown, dimension).is_some() || unit.shown.is_empty());
        }
    }
}

#[test]
fn exact_stated_forms_keep_their_basis() {
    let wet: Moisture = "200 ppm wet basis".parse().unwrap();
    assert_eq!(wet, Moisture::Wet(MoistureWetBasis::from_si(200.0 * 1e-6)));
    let frost: Humidity = "-40 degC frost".parse().unwrap();
    assert_eq!(
        frost,
        Humidity::Frost(FrostPoint::from_celsius(-40.0), None)
    );
    let dew: Humidity = "-40 °C dew point".parse().unwrap();
    assert_eq!(dew, Humidity::Dew(DewPoint::from_celsius(-40.0), None));
    let pressed: Humidity = "-20 degC frost at 7 bar(g)".parse().unwrap();
    let at = Some(StatedPressure::Gauge(GaugePressure::from_bar(7.0)));
    assert_eq!(
        pressed,
        Humidity::Frost(FrostPoint::from_celsius(-20.0), at)
    );
    let air: AirFlow = "28 m3/h at 20 degC and 1 atm".parse().unwrap();
    let stated = AirFlow::Volume {
        flow: ActualVolumeFlow::from_m3_per_hour(28.0),
        temperature: Temperature::from_celsius(20.0),
        pressure: StatedPressure::Absolute(AbsolutePressure::from_pascal(101_325.0)),
    };
    assert_eq!(air, stated);
    assert_eq!(
        "28 m3/h at 1 atm and 20 degC".parse::<AirFlow>().unwrap(),
        stated
    );
    let dry: AirFlow = "30 kg/h dry air".parse().unwrap();
    assert_eq!(
        dry,
        AirFlow::DryAir(MassFlow::from_si(30.0 * (1.0 / 3600.0)))
    );
    let relative: Humidity = "65 %RH at 23 degC".parse().unwrap();
    let room = Some(Temperature::from_celsius(23.0));
    assert_eq!(
        relative,
        Humidity::Relative(RelativeHumidity::from_percent(65.0), room)
    );
    assert!(matches!("1 g/kg".parse(), Ok(Humidity::Ratio(_))));
    assert!(matches!("130 ppmv".parse(), Ok(Humidity::Share(_))));
    assert!(matches!("9 g/m3".parse(), Ok(Humidity::Density(_))));
    assert!(matches!("12 Pa vapour".parse(), Ok(Humidity::Pressure(_))));
    assert_eq!(
        "site pressure".parse::<StatedPressure>(),
        Ok(StatedPressure::Site)
    );
    assert!(
        "16 cfm at 250 degF and site pressure"
            .parse::<AirFlow>()
            .is_ok()
    );
}

#[test]
fn exact_dry_air_of_a_stated_volume() {
    // 28 m3/h at 0 degC and 1 atm: molar volume of an ideal gas 22.413 97 l/mol, 28.966 g/mol.
    let site = AbsolutePressure::from_pascal(101_325.0);
    let flow: AirFlow = "28 m3/h at 0 degC and 1 atm".parse().unwrap();
    let dry = flow
        .dry_air(site, HumidityRatio::from_si(0.0))
        .kg_per_hour();
    assert!((dry - 28.0 / 22.413_97 * 28.966).abs() < 1e-4, "{dry}");
    let wet = flow
        .dry_air(site, HumidityRatio::from_g_per_kg(10.0))
        .kg_per_hour();
    assert!((wet / dry - 1.0 / (1.0 + 0.01 * 28.966 / 18.015268)).abs() < 1e-12);
    let moist: AirFlow = "30 kg/h moist air".parse().unwrap();
    let part = moist
        .dry_air(site, HumidityRatio::from_si(0.01))
        .kg_per_hour();
    assert!((part - 30.0 / 1.01).abs() < 1e-12);
}

#[test]
fn holds_a_missing_moisture_basis_shows_both_readings() {
    let misread = refusal("0.2 %", Meaning::Moisture);
    assert_eq!(misread.kind(), FaultKind::MissingBasis);
    assert_eq!(
        offered("0.2 %", Meaning::Moisture),
        ["0.2 % wet -> 2004.01 ppm dry", "0.2 % dry -> 2000 ppm dry"]
    );
    let fault = misread.at(Place::of("job.toml", "limit"), "0.2 %");
    assert_eq!(
        fault.to_string(),
        "job.toml  limit = \"0.2 %\"\n  cause: the basis is missing: water over wet resin, or over \
         dry resin?\n  mend:  write one of\n         \"0.2 % wet\"  -> 2004.01 ppm dry\n         \
         \"0.2 % dry\"  -> 2000 ppm dry"
    );
}

#[test]
fn holds_a_missing_dew_or_frost_shows_both_readings() {
    assert_eq!(
        offered("-40 degC", Meaning::Humidity),
        [
            "-40 degC frost -> about 130 ppm by volume at 1 atm",
            "-40 degC dew -> about 190 ppm by volume at 1 atm"
        ]
    );
    assert_eq!(offered("12 degC", Meaning::Humidity).len(), 1);
    assert_eq!(
        refusal("-40 degC", Meaning::FrostPoint).kind(),
        FaultKind::MissingBasis
    );
    assert_eq!(
        refusal("-40 degC dew", Meaning::FrostPoint).kind(),
        FaultKind::WrongDimension
    );
    assert_eq!(
        offered("-40 degC frost at 7 bar", Meaning::Humidity)[1],
        "-40 degC frost at 7 bar(g) -> 8.013 bar(a) at sea level"
    );
    assert_eq!(offered("200 ppm", Meaning::Humidity).len(), 2);
    assert_eq!(offered("65 %", Meaning::Humidity).len(), 2);
}

#[test]
fn holds_a_missing_air_state_shows_each_as_dry_air() {
    assert_eq!(
        offered("28 m3/h", Meaning::AirFlow),
        [
            "28 m3/h at 0 degC and 1 atm -> 36.2 kg/h dry air",
            "28 m3/h at 20 degC and 1 atm -> 33.7 kg/h dry air",
            "28 m3/h at 120 degC and 1 atm -> 25.1 kg/h dry air, as it is in air of, say, that temperature"
        ]
    );
    let set = Some(Temperature::from_celsius(80.0));
    let misread = air_flow("28 Nm3/h", set).unwrap_err();
    assert_eq!(
        misread.candidates()[2].write,
        "28 m3/h at 80 degC and 1 atm"
    );
    for text in [
        "16 scfm",
        "16 acfm",
        "16 cfm",
        "28 m3/h at 20 degC",
        "28 m3/h at 1 atm",
        "30 kg/h",
    ] {
        assert_eq!(
            refusal(text, Meaning::AirFlow).kind(),
            FaultKind::MissingBasis,
            "{text}"
        );
    }
    assert_eq!(
        offered("28 m3/h at 20 degC and 7 bar", Meaning::AirFlow)[0],
        "28 m3/h at 20 degC and 7 bar(a) -> 7 bar(a)"
    );
    assert_eq!(
        refusal("30", Meaning::AirFlow).kind(),
        FaultKind::MissingUnit
    );
    assert_eq!(
        refusal("30 kg/h dry air at 20 degC", Meaning::AirFlow).kind(),
        FaultKind::OutOfRange
    );
}

#[test]
fn holds_a_pressure_says_what_it_is_counted_from() {
    assert_eq!(
        offered("7 bar", Meaning::Pressure),
        [
            "7 bar(a) -> 7 bar(a)",
            "7 bar(g) -> 8.013 bar(a) at sea level"
        ]
    );
    assert_eq!(
        refusal("101.3 kPa", Meaning::AbsolutePressure).kind(),
        FaultKind::MissingBasis
    );
    assert_eq!(
        refusal("7 bar(g)", Meaning::AbsolutePressure).kind(),
        FaultKind::WrongDimension
    );
    assert_eq!(
        refusal("7 bar(a)", Meaning::GaugePressure).kind(),
        FaultKind::WrongDimension
    );
    assert_eq!(
        refusal("7", Meaning::Pressure).kind(),
        FaultKind::MissingUnit
    );
    assert_eq!(
        refusal("7 bar(g)", Meaning::PressureDifference).kind(),
        FaultKind::WrongDimension
    );
}

#[test]
fn holds_a_missing_unit_lists_what_is_accepted() {
    let misread = refusal("12", Meaning::MassFlow);
    assert_eq!(
        misread.to_string(),
        "a unit is missing; a mass flow is wanted"
    );
    assert_eq!(
        misread.mend(),
        "write one of\n\"12 kg/h\"    -> 12 kg/h\n\"12 kg/s\"    -> 43200 kg/h\n\"12 lb/h\"    -> \
         5.443 kg/h\n\"12 lb/min\"  -> 326.6 kg/h\naccepted are kg/h, kg/s, kg/min, g/s, g/min, g/h, \
         t/h, t/d, kg/d, lb/h, lb/min, lb/s"
    );
    assert_eq!(offered("0.2", Meaning::Moisture).len(), 4);
    assert_eq!(offered("0.2 dry", Meaning::Moisture).len(), 2);
    assert_eq!(
        refusal("0.5", Meaning::Fraction).kind(),
        FaultKind::MissingUnit
    );
}

#[test]
fn holds_another_dimension_is_named() {
    let cause = |text, meaning| refusal(text, meaning).to_string();
    assert_eq!(
        cause("12 kg/h", Meaning::Temperature),
        "this is a mass flow, and a temperature is wanted"
    );
    assert_eq!(
        cause("0.2 % wet", Meaning::MassFlow),
        "this is a moisture on wet basis, and a mass flow is wanted"
    );
    assert_eq!(
        cause("-40 degC frost", Meaning::Temperature),
        "this is a frost point, and a temperature is wanted"
    );
    assert_eq!(
        cause("18 degF difference", Meaning::Temperature),
        "this is a temperature difference, and a temperature is wanted"
    );
    assert_eq!(
        refusal("10 degC", Meaning::TemperatureDifference).kind(),
        FaultKind::MissingBasis
    );
    assert_eq!(
        cause("3 mm", Meaning::AirFlow),
        "this is a length, and a flow of air is wanted"
    );
}

#[test]
fn holds_an_unknown_unit_offers_the_nearest() {
    let misread = refusal("12 kg/hh", Meaning::MassFlow);
    assert_eq!(misread.kind(), FaultKind::UnknownUnit);
    assert!(
        misread.mend().starts_with("did you mean kg/h"),
        "{}",
        misread.mend()
    );
    let misread = refusal("12 mJ", Meaning::Energy);
    assert!(
        misread.mend().starts_with("did you mean MJ"),
        "{}",
        misread.mend()
    );
    assert_eq!(
        refusal("12 furlongs", Meaning::Length).kind(),
        FaultKind::UnknownUnit
    );
}

#[test]
fn holds_numbers_have_a_point_and_no_marks() {
    let both = offered("1,5 kg/h", Meaning::MassFlow);
    assert_eq!(both[0], "1.5 kg/h -> if the comma is the decimal sign");
    assert_eq!(
        refusal("12 000 kg/h", Meaning::MassFlow).mend(),
        "write \"12000 kg/h\""
    );
    assert_eq!(
        refusal("1.5 x 10^-10 m2/s", Meaning::Diffusivity),
        Misread::WrittenPower
    );
    for text in [
        "nan kg/h",
        "inf kg/h",
        "kg/h",
        "-",
        "about 5 kg/h",
        "1e",
        "--5 K",
    ] {
        let kind = refusal(text, Meaning::MassFlow).kind();
        assert!(
            matches!(kind, FaultKind::NotANumber | FaultKind::UnknownUnit),
            "{text}: {kind:?}"
        );
    }
    assert_eq!(refusal("1e999 kg/h", Meaning::MassFlow), Misread::TooLarge);
    assert_eq!(
        refusal("1e305 MPa(a)", Meaning::Pressure),
        Misread::TooLarge
    );
    assert_eq!(refusal("  ", Meaning::Mass).kind(), FaultKind::NotANumber);
}

#[test]
fn holds_what_nothing_can_be_is_refused() {
    for (text, meaning) in [
        ("-300 degC", Meaning::Temperature),
        ("-0.1 % wet", Meaning::Moisture),
        ("100 % wet", Meaning::Moisture),
        ("101 %RH", Meaning::Humidity),
        ("5 degC frost", Meaning::Humidity),
        ("-1 bar(a)", Meaning::Pressure),
        ("-1 g/kg", Meaning::Humidity),
        ("100 % by volume", Meaning::Humidity),
    ] {
        assert_eq!(
            refusal(text, meaning).kind(),
            FaultKind::OutOfRange,
            "{text}"
        );
    }
    assert!(value("99.9 % wet", Meaning::Moisture).is_ok());
    assert!(value("0.01 degC frost", Meaning::Humidity).is_ok());
}

#[test]
fn holds_the_system_of_a_text_is_seen() {
    for text in [
        "12 lb/h",
        "-40 degF frost",
        "100 psi(g)",
        "16 cfm at 70 degF and 1 atm",
        "2 in",
    ] {
        assert_eq!(system_of(text), Units::UsCustomary, "{text}");
    }
    for text in ["12 kg/h", "-40 degC frost", "4 h", "50 %", "nonsense", "3"] {
        assert_eq!(system_of(text), Units::Metric, "{text}");
    }
}

#[test]
fn exact_spans() {
    let (low, high) = span("20 degC .. 120 degC", Meaning::Temperature).unwrap();
    assert_eq!((low, high), (293.15, 393.15));
    assert!(span("120 degC .. 20 degC", Meaning::Temperature).is_err());
    assert!(span("20 degC", Meaning::Temperature).is_err());
    assert_eq!(span("5..6", Meaning::Number), Ok((5.0, 6.0)));
}

fn finite_value(read: Value) -> bool {
    let at = |p: Option<StatedPressure>| match p {
        Some(StatedPressure::Absolute(p)) => p.si(),
        Some(StatedPressure::Gauge(p)) => p.si(),
        _ => 0.0,
    };
    let all = match read {
        Value::Si(si) => vec![si],
        Value::Pressure(p) => vec![at(Some(p))],
        Value::Moisture(m) => vec![m.dry_basis().si(), m.wet_basis().si()],
        Value::Humidity(Humidity::Dew(t, p)) => vec![t.si(), at(p)],
        Value::Humidity(Humidity::Frost(t, p)) => vec![t.si(), at(p)],
        Value::Humidity(Humidity::Ratio(x)) => vec![x.si()],
        Value::Humidity(Humidity::Relative(x, t)) => vec![x.si(), t.map_or(0.0, Quantity::si)],
        Value::Humidity(Humidity::Share(x)) => vec![x.si()],
        Value::Humidity(Humidity::Density(x)) => vec![x.si()],
        Value::Humidity(Humidity::Pressure(x)) => vec![x.si()],
        Value::AirFlow(AirFlow::DryAir(m) | AirFlow::MoistAir(m)) => vec![m.si()],
        Value::AirFlow(AirFlow::Volume {
            flow,
            temperature,
            pressure,
        }) => vec![flow.si(), temperature.si(), at(Some(pressure))],
    };
    all.iter().all(|x| x.is_finite())
}

/// Pieces that texts are made of, so that random texts get past the first letter.
fn piece() -> impl Strategy<Value = String> {
    let mut known: Vec<String> = [
        "1",
        "-40",
        "0.2",
        "1e9",
        "1e308",
        "e",
        ",",
        "..",
        " at ",
        " and ",
        "wet",
        "dry",
        "frost",
        "dew",
        "dry air",
        "moist air",
        "vapour",
        "difference",
        "(a)",
        "(g)",
        "site",
        "x10^",
        "@",
        "°",
        "µ",
        "\u{2212}",
        "000",
        "N",
        "s",
        "/",
        "nan",
        "inf",
    ]
    .iter()
    .map(|s| (*s).to_owned())
    .collect();
    for dimension in DIMENSIONS {
        known.extend(dimension.units.iter().map(|u| u.symbol.to_owned()));
    }
    prop_oneof![prop::sample::select(known), "\\PC{0,3}"]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn holds_no_text_panics_or_yields_what_is_not_a_number(
        pieces in prop::collection::vec((piece(), any::<bool>()), 0..9),
    ) {
        let mut text = String::new();
        for (piece, space) in pieces {
            text.push_str(&piece);
            if space { text.push(' '); }
        }
        for &meaning in Meaning::ALL {
            match value(&text, meaning) {
                Ok(read) => prop_assert!(finite_value(read), "{text} as {meaning:?}: {read:?}"),
                Err(misread) => {
                    let told = misread.at(Place::default(), &text).to_string();
                    prop_assert!(!told.contains("NaN"), "{text}: {told}");
                    prop_assert!(!misread.mend().is_empty());
                }
            }
        }
        let _ = span(&text, Meaning::Number);
    }

    #[test]
    fn holds_what_is_printed_in_full_is_read_back(number in 1e-3..1e5_f64, exact in 0usize..45) {
        let meaning = Meaning::ALL[exact % Meaning::ALL.len()];
        let stated = matches!(
            meaning,
            Meaning::Pressure | Meaning::Moisture | Meaning::Humidity | Meaning::AirFlow
        );
        for system in [Units::Metric, Units::UsCustomary] {
            let unit = meaning.unit(system, number);
            let printed = show_si(number, meaning, system, 17);
            if !stated && si(&printed, meaning).is_ok() {
                let back = si_of(&printed, meaning);
                // One rounding for the print, one for each way through the factor.
                let scale = number.abs().max(unit.offset.abs() * unit.factor);
                prop_assert!((back - number).abs() <= 4.0 * f64::EPSILON * scale, "{printed}");
            }
        }
    }
}
