//! Checks of the nodal pellet against modes, finite volumes and itself.

use super::{NodalGrid, Surface};
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

#[test]
fn holds_the_slope_follows_a_surface_that_drifts() -> Result<(), PelletError> {
    let grid = NodalGrid::of(&Outline::Sphere { diameter: 3e-3 }, 8)?;
    let (state, mut work) = (vec![0.01; grid.len()], grid.work());
    let mut end = state.clone();
    let mut at = |x: f64| {
        let surface = Surface {
            moisture: (0.8 * x, 1.5 * x),
            slope: (0.8, 1.5),
        };
        grid.follow(
            &law(150.0),
            353.15,
            300.0,
            &state,
            surface,
            &mut end,
            &mut work,
        )
    };
    let (low, mid, high) = (at(1.9999e-3)?, at(2e-3)?, at(2.0001e-3)?);
    let difference = (high.mean - low.mean) / 2e-7;
    let ratio = mid.slope / difference;
    assert!((ratio - 1.0).abs() < 1e-5, "{} {difference}", mid.slope);
    Ok(())
}

#[test]
fn holds_a_first_guess_does_not_change_the_answer() -> Result<(), PelletError> {
    let grid = NodalGrid::of(&Outline::Sphere { diameter: 3e-3 }, 6)?;
    let state = vec![0.01; grid.len()];
    let (mut used, mut end) = (grid.work(), state.clone());
    for (t, x) in [
        (353.15, 2e-3),
        (353.15, 2.01e-3),
        (353.15, 1e-4),
        (353.0, 1e-4),
        (343.0, 0.03),
        (353.15, 0.0),
    ] {
        let law = law(150.0);
        let mut fresh = grid.work();
        let wanted = grid.step(&law, t, 300.0, &state, x, x, &mut end, &mut fresh)?;
        let found = grid.step(&law, t, 300.0, &state, x, x, &mut end, &mut used)?;
        assert!((found.mean / wanted.mean - 1.0).abs() < 1e-10, "{t} {x}");
        assert!((found.slope / wanted.slope - 1.0).abs() < 1e-4, "{t} {x}");
    }
    Ok(())
}

#[test]
fn holds_any_law_settles_at_any_length_of_step() -> Result<(), PelletError> {
    let grid = NodalGrid::of(&Outline::Sphere { diameter: 3e-3 }, 6)?;
    let linear = |moisture_slope| Diffusivity::Linear {
        reference: 1e-10,
        reference_temperature: 373.15,
        activation_energy: 30e3,
        moisture_slope,
    };
    let free_volume = Diffusivity::FreeVolume {
        reference: 1e-11,
        reference_temperature: 353.15,
        activation_energy: 58e3,
        overlap: 1.0,
        fraction_at_glass: 0.025,
        expansion: 4.8e-4,
        glass_transition: 340.0,
        glass_transition_drop: 2000.0,
    };
    let laws = [
        law(400.0),
        law(-400.0),
        law(150.0),
        linear(400.0),
        linear(-400.0),
        free_volume,
    ];
    for law in &laws {
        for (from, to) in [(0.0, 0.03), (0.03, 0.0), (0.03, 0.029), (1e-9, 0.02)] {
            for duration in [1e-3, 1.0, 60.0, 3600.0, 1e7, 1e12] {
                let mut state = vec![from; grid.len()];
                let (mut end, mut work) = (state.clone(), grid.work());
                for _ in 0..4 {
                    let t = 320.0;
                    grid.step(law, t, duration, &state, to, to, &mut end, &mut work)?;
                    state.copy_from_slice(&end);
                    let mean = grid.mean(&state);
                    let (low, high) = (f64::min(from, to), f64::max(from, to));
                    // A single step through a drying front may overshoot; it must not run away.
                    let margin = 0.5 * (high - low);
                    let inside = mean >= low - margin && mean <= high + margin;
                    assert!(inside, "{law:?} {from} {to} {duration}: {mean}");
                }
            }
        }
    }
    Ok(())
}
