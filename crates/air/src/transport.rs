//! Viscosity, thermal conductivity and vapour diffusivity of moist air, in plain SI.
//!
//! # Equations
//! 1. Dry air, viscosity and conductivity: Lemmon and Jacobsen (2004), Int. J. Thermophys. 25, 21,
//!    eqs. 1 to 7, tables I to IV, without the critical enhancement (under 0.02 % here), at the
//!    density dry air has at the total pressure.
//! 2. Vapour, viscosity: the zero-density limit of IAPWS R12-08(2008), eq. 11 and table 1.
//!    Vapour, conductivity: the zero-density limit of IAPWS R15-11(2011), eq. 16 and table 1.
//! 3. Mixing: Wilke (1950), J. Chem. Phys. 18, 517, for viscosity; the same weights for
//!    conductivity after Mason and Saxena (1958), Phys. Fluids 1, 361, as recommended by Poling,
//!    Prausnitz and O'Connell (2001), The Properties of Gases and Liquids, eq. 10-6.2.
//! 4. Diffusivity of vapour in air: Marrero and Mason (1972), J. Phys. Chem. Ref. Data 1, 3, for
//!    water-air: `1.87e-10 T^2.072 atm/p` m2/s to 450 K, `2.75e-9 T^1.632 atm/p` above.
//!
//! # Holds for
//! -40 to 250 degC and 50 kPa to 1.2 MPa. The sources reach below 0 degC for air but not for vapour
//! (2 carried on, at under 0.6 % vapour) and diffusivity (4 starts at 9 degC; carried on, it lies 4 %
//! at 0 degC and 8 % at -40 degC under Massman (1998), Atmos. Environ. 32, 1111). Uncertainty: 1 % in
//! viscosity and 2 % in conductivity of dry air (Lemmon and Jacobsen); our estimate for mixing at high
//! humidity some 3 % more, for diffusivity 5 %. The kernels do not check: the caller does.

use crate::mixture::density_pressure;
use crate::virial::{AIR_REDUCING, Virials};
use quantity::constants::{DRY_AIR_MOLAR_MASS, MOLAR_GAS, STANDARD_ATMOSPHERE, WATER_MOLAR_MASS};

/// Dynamic viscosity of moist air, Pa s, at `t` K, `p` Pa and vapour mole fraction `y`.
pub fn viscosity(t: f64, p: f64, y: f64) -> f64 {
    let air = viscosity_of_air(t, dry_density(t, p));
    mix(
        y,
        air,
        viscosity_of_vapour(t),
        weights(air, viscosity_of_vapour(t)),
    )
}

/// Thermal conductivity of moist air, W/(m K), at `t` K, `p` Pa and vapour mole fraction `y`.
pub fn thermal_conductivity(t: f64, p: f64, y: f64) -> f64 {
    let density = dry_density(t, p);
    let weights = weights(viscosity_of_air(t, density), viscosity_of_vapour(t));
    mix(
        y,
        conductivity_of_air(t, density),
        conductivity_of_vapour(t),
        weights,
    )
}

/// Diffusivity of water vapour in air, m2/s, at `t` K and `p` Pa.
pub fn vapour_diffusivity(t: f64, p: f64) -> f64 {
    /// Marrero and Mason (1972): where the second fit takes over, K.
    const TURN: f64 = 450.0;
    let (scale, power) = if t < TURN {
        (1.87e-10, 2.072)
    } else {
        (2.75e-9, 1.632)
    };
    scale * libm::exp(power * libm::log(t)) * STANDARD_ATMOSPHERE / p
}

/// Density of dry air at the total pressure, mol/m3.
fn dry_density(t: f64, p: f64) -> f64 {
    let virials = Virials::at(t);
    density_pressure(virials.b_aa, virials.c_aaa, p) / (MOLAR_GAS * t)
}

/// Equation 3: how much a molecule of vapour stands in air's way, and the reverse.
fn weights(air: f64, vapour: f64) -> (f64, f64) {
    let weight = |ratio: f64, masses: f64| {
        let root = 1.0 + libm::sqrt(ratio) * libm::sqrt(libm::sqrt(masses));
        root * root / libm::sqrt(8.0 * (1.0 + 1.0 / masses))
    };
    let masses = WATER_MOLAR_MASS / DRY_AIR_MOLAR_MASS;
    (
        weight(air / vapour, masses),
        weight(vapour / air, 1.0 / masses),
    )
}

fn mix(y: f64, air: f64, vapour: f64, (by_vapour, by_air): (f64, f64)) -> f64 {
    let x = 1.0 - y;
    x * air / (x + y * by_vapour) + y * vapour / (y + x * by_air)
}

/// A term `n tau^t delta^d exp(-delta^l)`, the last factor absent for `l = 0`.
type Term = (f64, f64, i32, i32);

fn power(base: f64, exponent: i32) -> f64 {
    (0..exponent).fold(1.0, |product, _| product * base)
}

fn residual(terms: &[Term], t: f64, density: f64) -> f64 {
    let ln_tau = libm::log(AIR_REDUCING.0 / t);
    let delta = density / AIR_REDUCING.1;
    let term = |&(n, t, d, l): &Term| {
        let damping = if l == 0 { 0.0 } else { power(delta, l) };
        n * libm::exp(t * ln_tau - damping) * power(delta, d)
    };
    terms.iter().map(term).sum()
}

/// Zero-density viscosity of dry air, Pa s. Lemmon and Jacobsen (2004), eqs. 2 and 3.
fn dilute_viscosity_of_air(t: f64) -> f64 {
    /// Table II: the collision integral in powers of ln(T kB / epsilon).
    const OMEGA: [f64; 5] = [0.431, -0.4623, 0.08406, 0.005_341, -0.003_31];
    /// Table I: molar mass the fit was made with, g/mol; well depth over the Boltzmann constant,
    /// K; collision diameter, nm.
    const MOLAR_MASS: f64 = 28.9586;
    const WELL: f64 = 103.3;
    const DIAMETER: f64 = 0.360;
    let ln_star = libm::log(t / WELL);
    let omega = libm::exp(OMEGA.iter().rev().fold(0.0, |sum, b| sum * ln_star + b));
    2.669_58e-8 * libm::sqrt(MOLAR_MASS * t) / (DIAMETER * DIAMETER * omega)
}

/// Viscosity of dry air at a molar density, Pa s. Equation 1.
fn viscosity_of_air(t: f64, density: f64) -> f64 {
    /// Lemmon and Jacobsen (2004), table III, for uPa s.
    const TERMS: [Term; 5] = [
        (10.72, 0.2, 1, 0),
        (1.122, 0.05, 4, 0),
        (0.002_019, 2.4, 9, 0),
        (-8.876, 0.6, 1, 1),
        (-0.029_16, 3.6, 8, 1),
    ];
    dilute_viscosity_of_air(t) + 1e-6 * residual(&TERMS, t, density)
}

/// Conductivity of dry air at a molar density, W/(m K). Equation 1.
fn conductivity_of_air(t: f64, density: f64) -> f64 {
    /// Lemmon and Jacobsen (2004), table IV, for mW/(m K).
    const DILUTE: [(f64, f64); 2] = [(1.405, -1.1), (-1.036, -0.3)];
    const TERMS: [Term; 6] = [
        (8.743, 0.1, 1, 0),
        (14.76, 0.0, 2, 0),
        (-16.62, 0.5, 3, 2),
        (3.793, 2.7, 7, 2),
        (-6.142, 0.3, 7, 2),
        (-0.3778, 1.3, 11, 2),
    ];
    let ln_tau = libm::log(AIR_REDUCING.0 / t);
    let dilute: f64 = DILUTE.iter().map(|&(n, k)| n * libm::exp(k * ln_tau)).sum();
    1e-3 * (1.308 * 1e6 * dilute_viscosity_of_air(t) + dilute + residual(&TERMS, t, density))
}

/// Zero-density viscosity of vapour, Pa s. Equation 2.
fn viscosity_of_vapour(t: f64) -> f64 {
    /// IAPWS R12-08(2008), table 1, in powers of Tc / T; reference 1e-6 Pa s times 100.
    const H: [f64; 4] = [1.677_52, 2.204_62, 0.636_656_4, -0.241_605];
    let (root, sum) = reduced(t, &H);
    1e-4 * root / sum
}

/// Zero-density conductivity of vapour, W/(m K). Equation 2.
fn conductivity_of_vapour(t: f64) -> f64 {
    /// IAPWS R15-11(2011), table 1, in powers of Tc / T; reference 1e-3 W/(m K).
    const L: [f64; 5] = [
        2.443_221e-3,
        1.323_095e-2,
        6.770_357e-3,
        -3.454_586e-3,
        4.096_266e-4,
    ];
    let (root, sum) = reduced(t, &L);
    1e-3 * root / sum
}

/// Root of the reduced temperature, and a polynomial in its inverse.
fn reduced(t: f64, coefficients: &[f64]) -> (f64, f64) {
    let inverse = crate::saturation::CRITICAL_TEMPERATURE / t;
    let sum = coefficients
        .iter()
        .rev()
        .fold(0.0, |sum, c| sum * inverse + c);
    (libm::sqrt(1.0 / inverse), sum)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(computed: f64, expected: f64, relative: f64) {
        assert!(
            (computed / expected - 1.0).abs() <= relative,
            "computed {computed}, expected {expected}, ratio {}",
            computed / expected
        );
    }

    #[test]
    fn published_dry_air_check_values() {
        // Lemmon and Jacobsen (2004), table V, air: K, mol/dm3, uPa s, mW/(m K). At 100 K and
        // 28 mol/dm3, 200 K and 10 mol/dm3 the enhancement left out is 0.14 % and 3.8 %, at 300 K nothing.
        for (t, density, eta, lambda, left_out) in [
            (100.0, 0.0, 7.09559, 9.35902, 0.0),
            (300.0, 0.0, 18.5230, 26.3529, 0.0),
            (100.0, 28.0, 107.923, 119.221, 0.0015),
            (200.0, 10.0, 21.1392, 35.3185, 0.04),
            (300.0, 5.0, 21.3241, 32.6062, 0.0),
        ] {
            near(viscosity_of_air(t, 1e3 * density), 1e-6 * eta, 5e-6);
            near(
                conductivity_of_air(t, 1e3 * density),
                1e-3 * lambda,
                5e-6 + left_out,
            );
        }
    }

    #[test]
    fn published_diffusivity() {
        // Marrero and Mason (1972) as tabulated in the CRC Handbook, "Diffusion in gases", for
        // water in excess air: cm2/s at 101.325 kPa, printed to 0.001.
        for (t, d) in [
            (293.15, 0.242),
            (373.15, 0.399),
            (473.15, 0.638),
            (573.15, 0.873),
        ] {
            assert!(
                (1e4 * vapour_diffusivity(t, 101_325.0) - d).abs() < 6e-4,
                "{t}"
            );
        }
    }

    #[test]
    fn holds_diffusivity_meets_at_the_turn() {
        near(
            vapour_diffusivity(450.0, 1e5),
            vapour_diffusivity(449.999_999, 1e5),
            4e-3,
        );
    }

    #[test]
    fn exact_mixing_ends_at_the_pure_gases() {
        let (t, p) = (350.0, 101_325.0);
        near(
            viscosity(t, p, 0.0),
            viscosity_of_air(t, dry_density(t, p)),
            1e-15,
        );
        near(viscosity(t, p, 1.0), viscosity_of_vapour(t), 1e-15);
        near(
            thermal_conductivity(t, p, 1.0),
            conductivity_of_vapour(t),
            1e-15,
        );
    }
}
