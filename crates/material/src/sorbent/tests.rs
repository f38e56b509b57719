//! Tests of the laws, and the sets of numbers that other tests stand on.

#![expect(
    clippy::expect_used,
    reason = "numbers of a paper that are refused are a failed test"
)]

use super::*;

fn toth(numbers: [f64; 5]) -> Sorbent {
    let [capacity, affinity, energy, exponent, exponent_slope] = numbers;
    let law = SorbentLaw::Toth(Toth {
        capacity,
        affinity,
        energy,
        exponent,
        exponent_slope,
    });
    Sorbent::new(law, 900.0).expect("numbers of a paper")
}

/// Wang and LeVan (2009), J. Chem. Eng. Data 54, 2839, 13X beads.
pub(super) fn sieve_13x() -> Sorbent {
    toth([0.271_875, 2.408e-10, 6852.0, 0.3974, -4.199])
}

/// Wang and LeVan (2009), 5A beads.
pub(super) fn sieve_5a() -> Sorbent {
    toth([0.422_675, 4.714e-13, 9955.0, 0.3548, -51.14])
}

/// Chua et al. (2004), regular-density silica gel.
pub(super) fn rd_silica_gel() -> Sorbent {
    toth([0.45, 1.622_22e-12, 5835.03, 12.0, 0.0])
}

/// 3A: numbers of open adsorption code, after Llano-Restrepo and Mosquera (2009).
pub(super) fn sieve_3a() -> Sorbent {
    let law = SorbentLaw::Sites(Sites {
        capacity: 11.67 * 0.018_015_268,
        enthalpies: [-46_597.5, -125_024.0, -193_619.0, -272_228.0],
        entropies: [-53.6994, -221.073, -356.728, -567.459],
    });
    Sorbent::new(law, 1045.0).expect("numbers of a paper")
}

/// Binderless 13X: numbers of open code, after Mette et al. (2014).
pub(super) fn binderless_13x() -> Sorbent {
    let law = SorbentLaw::Characteristic(Characteristic {
        coefficients: [
            0.363_405_728_9,
            -1.344_959_704e-3,
            -7.581_210_111e-4,
            -7.331_279_616e-8,
            5.365_656_974e-7,
            6.854_673_678e-10,
            -1.019_705_022e-10,
        ],
        density_at_reference: 998.0,
        density: SorbedDensity::Expanding {
            expansion: 2.01e-4,
            reference_temperature: 293.15,
        },
        highest_potential: 3e6,
    });
    Sorbent::new(law, 880.0).expect("numbers of a paper")
}

/// Regular-density silica gel: Thu et al. (2013), Appl. Therm. Eng. 50, 1596.
pub(super) fn dubinin_silica_gel() -> Sorbent {
    let law = SorbentLaw::DubininAstakhov(DubininAstakhov {
        capacity: 3.27e-4 * 998.0,
        energy: 4384.0 / 0.018_015_268,
        exponent: 1.35,
        density: SorbedDensity::Expanding {
            expansion: 2.07e-4,
            reference_temperature: 293.15,
        },
    });
    Sorbent::new(law, 924.0).expect("numbers of a paper")
}

/// Part zeolite, part silica gel, part inert.
fn blend() -> Sorbent {
    let part = |share, of: Sorbent| Part {
        share,
        law: of.parts()[0].law,
    };
    Sorbent::mixture(
        vec![part(0.35, sieve_13x()), part(0.4, rd_silica_gel())],
        900.0,
    )
    .expect("shares below 1")
}

pub(super) fn every() -> [Sorbent; 7] {
    [
        sieve_13x(),
        sieve_5a(),
        rd_silica_gel(),
        sieve_3a(),
        binderless_13x(),
        dubinin_silica_gel(),
        blend(),
    ]
}

#[test]
fn holds_pressure_undoes_loading() {
    for sorbent in every() {
        for t in [243.15, 298.15, 373.15, 533.15] {
            for p in [1e-3, 1.0, 50.0, 900.0] {
                let q = sorbent.loading(p, t);
                let back = sorbent.pressure(q, t);
                if back.by_loading * q > 1e3 || q < 10.0 * DRIEST {
                    continue; // full or dry: the loading no longer tells the pressure
                }
                assert!(
                    (back.pressure / p - 1.0).abs() < 1e-8,
                    "{t} {p} {q} {back:?} {sorbent:?}"
                );
            }
        }
    }
}

#[test]
fn holds_slopes_are_derivatives() {
    for sorbent in every() {
        for t in [263.0, 313.0, 453.0] {
            for q in [1e-4, 0.01, 0.08, 0.15] {
                let at = sorbent.pressure(q, t);
                let (h, k) = (1e-6 * q, 1e-3);
                let ln_p = |q, t| sorbent.pressure(q, t).log_pressure;
                let by_q = (ln_p(q + h, t) - ln_p(q - h, t)) / (2.0 * h);
                let by_t = (ln_p(q, t + k) - ln_p(q, t - k)) / (2.0 * k);
                assert!(
                    (at.by_loading / by_q - 1.0).abs() < 1e-5,
                    "{q} {t} {sorbent:?}"
                );
                assert!(
                    (at.by_temperature / by_t - 1.0).abs() < 1e-5,
                    "{q} {t} {sorbent:?}"
                );
            }
        }
    }
}

#[test]
fn exact_slope_with_loading_reaches_henry() {
    let at = rd_silica_gel().pressure(1e-6, 300.0);
    assert!((at.by_loading * 1e-6 - 1.0).abs() < 1e-12);
}

#[test]
fn holds_a_mixture_is_the_sum_of_its_parts() {
    for p in [0.1, 10.0, 1000.0] {
        let sum = 0.35 * sieve_13x().loading(p, 320.0) + 0.4 * rd_silica_gel().loading(p, 320.0);
        assert!((blend().loading(p, 320.0) - sum).abs() < 1e-15);
    }
}

#[test]
fn holds_age_scales_the_loading() -> Result<(), SorbentError> {
    let old = blend().with_capacity_left(0.8)?.with_capacity_left(0.9)?;
    assert!((old.loading(20.0, 320.0) / blend().loading(20.0, 320.0) - 0.72).abs() < 1e-12);
    assert!(
        blend().with_capacity_left(1.01).is_err() && blend().with_capacity_left(f64::NAN).is_err()
    );
    Ok(())
}

#[test]
fn holds_impossible_numbers_are_refused() {
    let law = sieve_13x().parts()[0].law;
    let twice = vec![Part { share: 0.6, law }, Part { share: 0.5, law }];
    assert_eq!(Sorbent::mixture(vec![], 900.0), Err(SorbentError::Empty));
    assert!(matches!(
        Sorbent::mixture(twice, 900.0),
        Err(SorbentError::Shares { .. })
    ));
    assert!(
        Sorbent::mixture(
            vec![Part {
                share: f64::NAN,
                law
            }],
            900.0
        )
        .is_err()
    );
    assert!(Sorbent::new(law, f64::NAN).is_err());
    let SorbentLaw::Toth(numbers) = law else {
        return;
    };
    let broken = SorbentLaw::Toth(Toth {
        exponent: -1.0,
        ..numbers
    });
    assert!(Sorbent::new(broken, 900.0).is_err());
}

#[test]
fn exact_liquid_density_is_that_of_its_check_values() {
    // IAPWS SR1-86(1992), table 1: 999.789 kg/m3 at 273.16 K and 958.365 kg/m3 at 373.1243 K.
    use super::potential::{LIQUID_DENSITY_20, liquid_density};
    assert!((liquid_density(273.16).0 / 999.789 - 1.0).abs() < 1e-6);
    assert!((liquid_density(373.1243).0 / 958.365 - 1.0).abs() < 1e-6);
    assert!((liquid_density(293.15).0 / LIQUID_DENSITY_20 - 1.0).abs() < 1e-6);
    let (h, t) = (1e-3, 420.0);
    let slope = (liquid_density(t + h).0 / liquid_density(t - h).0).ln() / (2.0 * h);
    assert!((liquid_density(t).1 / slope - 1.0).abs() < 1e-6);
}

#[test]
fn exact_driest_is_the_regeneration_where_both_ends_are_alike() {
    let p = sieve_13x().driest(1600.0, 420.0, 420.0);
    assert!((p / 1600.0 - 1.0).abs() < 1e-10);
    assert!(sieve_13x().driest(1600.0, 450.0, 310.0) < sieve_13x().driest(1600.0, 420.0, 310.0));
}
