//! What holds of table and slice whatever the sorbent.

use super::*;
use material::sorbent::{Sorbent, SorbentError, SorbentLaw, Toth};
use proptest::prelude::*;
use std::sync::OnceLock;

/// Water on 13X beads, Toth law of Wang and LeVan (2009), J. Chem. Eng. Data 54, 2839.
pub(crate) fn zeolite_13x() -> Result<Sorbent, SorbentError> {
    let law = SorbentLaw::Toth(Toth {
        capacity: 0.271_875,
        affinity: 2.408e-10,
        energy: 6852.0,
        exponent: 0.3974,
        exponent_slope: -4.199,
    });
    Sorbent::new(law, 950.0)
}

/// The same, tabulated once for all tests.
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
pub(crate) fn zeolite() -> &'static Adsorbed {
    static TABLE: OnceLock<Adsorbed> = OnceLock::new();
    TABLE.get_or_init(|| Adsorbed::of(&zeolite_13x().unwrap()))
}

const SLICE: Slice = Slice {
    active: 1.0,
    dry_heat: 1400.0,
};

fn contact(flow: f64, units: f64) -> Contact {
    Contact {
        flow,
        humidity_left: libm::exp(-units),
        warmth_left: libm::exp(-0.9 * units),
        ln_total: libm::log(101_325.0),
    }
}

#[test]
fn exact_table_is_the_law() -> Result<(), SorbentError> {
    let (sorbent, table) = (zeolite_13x()?, zeolite());
    let (mut worst, mut worst_heat) = (0.0_f64, 0.0_f64);
    for t in [233.0, 262.1, 298.3, 331.7, 377.7, 423.9, 455.2, 520.4] {
        for loading in [
            1e-6, 3.3e-5, 4.1e-4, 0.0043, 0.021, 0.067, 0.114, 0.183, 0.236,
        ] {
            let (law, held) = (sorbent.pressure(loading, t), table.at(loading, t));
            worst = worst.max((law.log_pressure - held.ln_pressure).abs());
            worst_heat = worst_heat.max((held.isosteric_heat / law.heat(t) - 1.0).abs());
            let slope = held.by_loading / law.by_loading - 1.0;
            assert!(slope.abs() < 2e-3, "{loading} {t}: {slope}");
        }
    }
    // 2e-4 in ln p is 0.002 K of dew point; the heat is that of the law to 0.05 %.
    assert!(worst < 2e-4, "{worst}");
    assert!(worst_heat < 5e-4, "{worst_heat}");
    Ok(())
}

#[test]
fn exact_heat_given_off_is_the_integral_of_the_isosteric_heat() {
    let table = zeolite();
    for t in [300.0, 450.0] {
        // Simpson's rule between two loadings.
        let (low, high, parts) = (0.01, 0.2, 400);
        let width = (high - low) / f64::from(parts);
        let heat = |q: f64| table.at(q, t).isosteric_heat;
        let mut sum = heat(low) + heat(high);
        for k in 1..parts {
            sum += heat(low + width * f64::from(k)) * if k % 2 == 0 { 2.0 } else { 4.0 };
        }
        let rise = table.at(high, t).released - table.at(low, t).released;
        assert!((sum * width / 3.0 / rise - 1.0).abs() < 1e-6);
    }
}

#[test]
fn holds_shift_turns_pressures_about_the_anchor_and_raises_the_heat() {
    let (table, shifted) = (zeolite(), zeolite().shifted(100.0));
    let (a, b) = (table.at(0.1, ANCHOR), shifted.at(0.1, ANCHOR));
    assert!((a.ln_pressure - b.ln_pressure).abs() < 1e-12);
    assert!((b.isosteric_heat - a.isosteric_heat - 100.0 * VAPOUR_GAS).abs() < 1e-6);
    let (hot, hot_shifted) = (table.at(0.05, 450.0), shifted.at(0.05, 450.0));
    let expected = 100.0 * (1.0 / ANCHOR - 1.0 / 450.0);
    assert!((hot_shifted.ln_pressure - hot.ln_pressure - expected).abs() < 1e-12);
    let back = shifted.loading(libm::exp(hot_shifted.ln_pressure), 450.0);
    assert!((back / 0.05 - 1.0).abs() < 1e-9);
}

#[test]
fn holds_a_slice_at_rest_with_its_air_stays_so() {
    let table = zeolite();
    let vapour = 1000.0;
    let cell = SLICE.at_rest(table, 320.0, vapour);
    let inlet = AirState {
        temperature: 320.0,
        humidity: air::mixture::humidity_ratio(vapour / 101_325.0),
    };
    let (mut after, mut air) = (cell, [inlet; 2]);
    SLICE.meet(table, &contact(1.8, 0.4), &mut after, &mut air, 1e5);
    assert!((after.loading / cell.loading - 1.0).abs() < 1e-9);
    assert!((after.temperature - cell.temperature).abs() < 1e-7);
    assert!((air[1].humidity / inlet.humidity - 1.0).abs() < 1e-9);
}

proptest! {
    #[test]
    fn holds_slice_keeps_water_and_heat(
        loading in 1e-5_f64..0.25,
        celsius in 0.0_f64..220.0,
        inlet_celsius in 0.0_f64..250.0,
        ln_humidity in -15.0_f64..-2.5,
        ln_duration in -4.0_f64..9.0,
        units in 0.01_f64..3.0,
    ) {
        let table = zeolite();
        let contact = contact(1.8, units);
        let duration = libm::exp(ln_duration);
        let inlet = AirState { temperature: 273.15 + inlet_celsius, humidity: libm::exp(ln_humidity) };
        let before = SLICE.cell(table, loading, 273.15 + celsius);
        let (mut after, mut air) = (before, [inlet; 2]);
        SLICE.meet(table, &contact, &mut after, &mut air, duration);
        let passed = contact.flow * duration;
        let out = mean(&air);
        let water = SLICE.water(&after) - SLICE.water(&before) - passed * (inlet.humidity - out.humidity);
        let scale = SLICE.water(&before) + passed * inlet.humidity;
        prop_assert!(water.abs() <= 1e-12 * scale, "water {water}");
        let heat = after.heat - before.heat - passed * (inlet.enthalpy() - out.enthalpy());
        let scale = before.heat.abs() + passed * inlet.enthalpy().abs() + 1e5;
        prop_assert!(heat.abs() <= 1e-11 * scale, "heat {heat}");
        prop_assert!(after.loading > 0.0 && out.humidity > 0.0, "{after:?} {out:?}");
        // What the temperature says of the heat is what was counted, but for what the last correction
        // leaves: below a millikelvin for steps of a turn, some mK for steps of an hour.
        let counted = SLICE.cell(table, after.loading, after.temperature).heat;
        prop_assert!((counted - after.heat).abs() < 1e-2 * SLICE.dry_heat, "{counted} {}", after.heat);
    }

    #[test]
    fn holds_tangent_is_the_slope(
        loading in 0.005_f64..0.2,
        celsius in 20.0_f64..150.0,
        inlet_celsius in 20.0_f64..200.0,
        humidity in 0.001_f64..0.02,
        duration in 0.5_f64..20.0,
    ) {
        let table = zeolite();
        let contact = contact(1.8, 0.4);
        let inlet = AirState { temperature: 273.15 + inlet_celsius, humidity };
        let start = SLICE.cell(table, loading, 273.15 + celsius);
        let run = |dq: f64, dh: f64, dt: f64, dy: f64| {
            let mut cell = start;
            cell.loading += dq;
            cell.heat += dh;
            cell.temperature = SLICE.temperature(table, cell.loading, cell.heat, cell.temperature);
            let second = AirState { temperature: inlet.temperature + dt, humidity: inlet.humidity + dy };
            let mut air = [inlet, second];
            SLICE.meet(table, &contact, &mut cell, &mut air, duration);
            [cell.loading, cell.heat, air[0].humidity, air[1].humidity, air[1].temperature]
        };
        let mut cell = start;
        let mut air = [inlet; 2];
        let t = SLICE.meet_with_tangent(table, &contact, &mut cell, &mut air, duration);
        let steps = [1e-6 * loading.max(0.01), 20.0, 0.01, 1e-6];
        for (k, step) in steps.into_iter().enumerate() {
            let mut plus = [0.0; 4];
            plus[k] = step;
            let up = run(plus[0], plus[1], plus[2], plus[3]);
            let down = run(-plus[0], -plus[1], -plus[2], -plus[3]);
            let by = |n: usize| (up[n] - down[n]) / (2.0 * step);
            let said = if k < 2 {
                [t.slice_by_slice[k], t.slice_by_slice[2 + k], t.air_by_slice[0][2 + k], t.air_by_slice[1][2 + k], t.air_by_slice[1][k]]
            } else {
                let j = k - 2;
                [t.slice_by_air[1][j], t.slice_by_air[1][2 + j], t.first_by_second[2 + j], t.air_by_air[1][2 + j], t.air_by_air[1][j]]
            };
            let scales = [0.1, 1e5, 0.01, 0.01, 300.0];
            for n in 0..5 {
                let wrong = (by(n) - said[n]).abs() * step / scales[n];
                prop_assert!(wrong < 1e-7 + 1e-2 * (said[n] * step / scales[n]).abs(), "{k} {n}: {} {}", by(n), said[n]);
            }
        }
    }
}
