//! Checks of the nodal pellet against modes, finite volumes and itself.

use super::NodalGrid;
use crate::modes::Modes;
use crate::radial::RadialGrid;
use crate::{Outline, PelletError};
use material::Diffusivity;

fn law(exponent: f64) -> Diffusivity {
    Diffusivity::Exponential {
        reference: 1e-10,
        reference_temperature: 373.15,
        activation_energy: 30e3,
        moisture_exponent: exponent,
    }
}

/// Dries from 1 to 0 in steps that double up to `fourier` (scaled by 1e-10 m2/s).
fn dry(grid: &NodalGrid, exponent: f64, fourier: f64, steps: u32) -> Result<f64, PelletError> {
    let (mut state, mut work) = (vec![1.0; grid.len()], grid.work());
    let mut end = state.clone();
    let total = fourier / 1e-10;
    let mut last = 0.0;
    for step in 1..=steps {
        let now = total * (f64::from(step) / f64::from(steps)).powi(2);
        grid.step(
            &law(exponent),
            373.15,
            now - last,
            &state,
            0.0,
            0.0,
            &mut end,
            &mut work,
        )?;
        state.copy_from_slice(&end);
        last = now;
    }
    Ok(grid.mean(&state))
}

#[test]
fn exact_section_and_product_of_modes_agree() -> Result<(), PelletError> {
    let outline = Outline::Cylinder {
        diameter: 2.5e-3,
        length: 3e-3,
    };
    let grid = NodalGrid::section(1.25e-3, 1.5e-3, 9)?;
    let fourier = 0.2 * 1.25e-3 * 1.25e-3;
    let wanted = Modes::of(&outline, 60)?.remaining(fourier);
    let found = dry(&grid, 0.0, fourier, 160)?;
    assert!((found / wanted - 1.0).abs() < 2e-4, "{found} {wanted}");
    Ok(())
}

#[test]
fn peer_plate_with_exponential_diffusivity_dries_as_finite_volumes_do() -> Result<(), PelletError> {
    // Finite volumes with 400 and 800 cells, extrapolated, to 2e-5 (scipy).
    let grid = NodalGrid::line(&RadialGrid::new(1.0, 0.0, 24)?, 1.0);
    for (fourier, wanted) in [(0.1, 0.380_25), (0.5, 0.085_81), (1.0, 0.021_92)] {
        let found = dry(&grid, 3.0, fourier, 400)?;
        assert!((found - wanted).abs() < 5e-5, "{fourier} {found} {wanted}");
    }
    Ok(())
}

#[test]
fn holds_the_slope_is_the_derivative_with_the_surface() -> Result<(), PelletError> {
    let grid = NodalGrid::of(&Outline::Sphere { diameter: 3e-3 }, 8)?;
    let (state, mut work) = (vec![0.01; grid.len()], grid.work());
    let mut end = state.clone();
    let mut at = |x: f64| {
        grid.step(
            &law(150.0),
            353.15,
            300.0,
            &state,
            x,
            x,
            &mut end,
            &mut work,
        )
    };
    let (low, mid, high) = (at(1.999e-3)?, at(2e-3)?, at(2.001e-3)?);
    let difference = (high.mean - low.mean) / 2e-6;
    assert!(
        (mid.slope / difference - 1.0).abs() < 1e-3,
        "{} {difference}",
        mid.slope
    );
    Ok(())
}
