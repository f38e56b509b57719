//! Tests of the surface: close to its law, smooth, rising, and finite everywhere.

use super::super::tests::{every, rd_silica_gel, sieve_5a, sieve_13x};
use super::*;

/// Uneven steps over the loadings and temperatures of a table, away from corners.
fn walk(table: &SorbentTable) -> Vec<(f64, f64)> {
    let (low, high) = table.loadings();
    let (cold, hot) = table.temperatures();
    let mut points = Vec::new();
    for i in 0..211 {
        let q = low * libm::exp(libm::log(high / low) * f64::from(i) / 211.0);
        for j in 0..37 {
            points.push((q, cold + (hot - cold) * f64::from(j) / 36.3));
        }
    }
    points
}

#[test]
fn holds_the_surface_is_the_law() -> Result<(), SorbentError> {
    for sorbent in every() {
        let table = SorbentTable::new(&sorbent)?;
        let mut worst = [0.0_f64; 3];
        for (q, t) in walk(&table) {
            let (a, b) = (table.pressure(q, t), sorbent.pressure(q, t));
            worst[0] = worst[0].max((a.log_pressure - b.log_pressure).abs());
            worst[1] = worst[1].max((a.by_loading / b.by_loading - 1.0).abs());
            worst[2] = worst[2].max((a.by_temperature / b.by_temperature - 1.0).abs());
        }
        // 1e-4 of ln p is 0.001 K of frost point; slopes enter heats, known to some per cent.
        assert!(
            worst[0] < 1e-4 && worst[1] < 1e-2 && worst[2] < 1e-3,
            "{worst:?} {sorbent:?}"
        );
    }
    Ok(())
}

#[test]
fn holds_slopes_are_those_of_the_surface() -> Result<(), SorbentError> {
    let table = SorbentTable::new(&sieve_13x())?;
    let (low, high) = table.loadings();
    for q in [
        0.01 * low,
        0.5 * low,
        1.7 * low,
        0.003,
        0.0313,
        0.11,
        0.2,
        1.1 * high,
    ] {
        for t in [251.0, 313.7, 466.6] {
            let at = table.pressure(q, t);
            let (h, k) = (1e-6 * q, 1e-4);
            let by_q = (table.pressure(q + h, t).log_pressure
                - table.pressure(q - h, t).log_pressure)
                / (2.0 * h);
            let by_t = (table.pressure(q, t + k).log_pressure
                - table.pressure(q, t - k).log_pressure)
                / (2.0 * k);
            assert!((at.by_loading / by_q - 1.0).abs() < 1e-5, "{q} {t}");
            assert!((at.by_temperature / by_t - 1.0).abs() < 1e-5, "{q} {t}");
        }
    }
    Ok(())
}

#[test]
fn holds_pressure_rises_with_loading_and_temperature() -> Result<(), SorbentError> {
    for sorbent in every() {
        let table = SorbentTable::new(&sorbent)?;
        let (low, high) = table.loadings();
        for t in [200.0, 243.15, 301.3, 399.9, 533.15, 900.0] {
            let mut last = f64::NEG_INFINITY;
            for i in 0..20_000 {
                let q = 0.1 * low * libm::exp(libm::log(10.5 * high / low) * f64::from(i) / 2e4);
                let [ln_p, by_q, by_t] = table.log_pressure(q, t);
                assert!(
                    ln_p > last && by_q > 0.0 && by_t > 0.0,
                    "{q} {t} {ln_p} {by_q} {by_t}"
                );
                last = ln_p;
            }
        }
    }
    Ok(())
}

#[test]
fn holds_one_slope_on_both_sides_of_every_edge() -> Result<(), SorbentError> {
    let table = SorbentTable::new(&sieve_5a())?;
    let (low, high) = table.loadings();
    let mut edges = vec![low, high, 0.03125, 0.0625, 0.125];
    edges.extend([0.015625 * 1.125, 0.0625 * 1.25]);
    for q in edges {
        for t in [243.15, 253.15, 300.0, 413.15] {
            let [a, b] = [1.0 - 1e-12, 1.0 + 1e-12].map(|x| table.log_pressure(q * x, t * x));
            assert!((a[0] - b[0]).abs() < 1e-9, "{q} {t}");
            assert!((a[1] / b[1] - 1.0).abs() < 1e-6, "{q} {t} {a:?} {b:?}");
            assert!((a[2] / b[2] - 1.0).abs() < 1e-6, "{q} {t} {a:?} {b:?}");
        }
    }
    Ok(())
}

#[test]
fn holds_nothing_asked_gives_not_a_number() -> Result<(), SorbentError> {
    let odd = [
        f64::NAN,
        f64::INFINITY,
        f64::NEG_INFINITY,
        -1.0,
        0.0,
        1e-300,
        1e-9,
        0.1,
        0.5,
        1e9,
    ];
    for sorbent in every() {
        let table = SorbentTable::new(&sorbent)?;
        for q in odd {
            for t in [f64::NAN, -5.0, 0.0, 243.15, 533.15, 1e6, f64::INFINITY] {
                for over in [table.pressure(q, t), sorbent.pressure(q, t)] {
                    assert!(
                        over.pressure >= 0.0 && over.pressure.is_finite(),
                        "{q} {t} {over:?}"
                    );
                    assert!(
                        over.by_loading > 0.0 && over.by_loading.is_finite(),
                        "{q} {t} {over:?}"
                    );
                    assert!(over.by_temperature.is_finite(), "{q} {t} {over:?}");
                }
                assert!(table.loading(q, t).is_finite() && sorbent.loading(q, t).is_finite());
            }
        }
    }
    Ok(())
}

#[test]
fn holds_loading_undoes_pressure() -> Result<(), SorbentError> {
    let table = SorbentTable::new(&sieve_13x())?;
    for q in [1e-7, 1e-3, 0.05, 0.21] {
        for t in [260.0, 330.0, 500.0] {
            let back = table.loading(table.pressure(q, t).pressure, t);
            assert!((back / q - 1.0).abs() < 1e-9, "{q} {t} {back}");
        }
    }
    Ok(())
}

#[test]
fn holds_a_table_beyond_the_limit_is_refused() -> Result<(), SorbentError> {
    let gel = rd_silica_gel().limited(273.15, 348.15)?;
    let sieve = |low, high| {
        SorbentTable::between(
            &sieve_13x().limited(low, high)?,
            TABLE_HOLDS.low,
            TABLE_HOLDS.high,
        )
    };
    assert!(sieve(TABLE_HOLDS.low, TABLE_HOLDS.high).is_ok());
    assert!(sieve(TABLE_HOLDS.low + 0.01, TABLE_HOLDS.high).is_err());
    assert!(sieve(TABLE_HOLDS.low, TABLE_HOLDS.high - 0.01).is_err());
    assert!(SorbentTable::new(&gel).is_err());
    assert!(SorbentTable::between(&gel, 273.14, 348.15).is_err());
    assert!(SorbentTable::between(&gel, 273.15, 348.16).is_err());
    assert!(SorbentTable::between(&gel, 273.15, 348.15).is_ok());
    let (low, high) = SorbentTable::within_limit(&gel)?.temperatures();
    assert!((low - 273.15).abs() < 1e-9 && (high - 348.15).abs() < 1e-9);
    Ok(())
}
