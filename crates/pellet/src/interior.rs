//! The inside of a pellet over one step: modes where D is constant, nodes where it is not, nothing
//! where water stays outside.

use crate::modes::Modes;
use crate::nodal::{GAMMA, NodalGrid, NodalWork, Surface};
use crate::{Outline, PelletError};
use libm::exp;
use material::{Diffusivity, Isotherm};

/// How the inside is carried.
#[derive(Clone, Debug)]
pub enum Interior {
    /// Water does not enter.
    Closed,
    /// Decay modes; the last number of a state is the surface moisture.
    Modal(Modes),
    /// Nodes; the last numbers of a state are the surface nodes.
    Nodal(NodalGrid),
}

/// Work space for steps of one pellet after another.
#[derive(Clone, Debug)]
pub struct InteriorWork {
    /// Decay of each mode over the step, and the weight of the drift of the surface.
    decay: Vec<(f64, f64)>,
    nodal: Option<NodalWork>,
    end: Vec<f64>,
    /// Mean at the end with a dry surface, and its slope with the surface moisture (modes).
    affine: (f64, f64),
}

/// The surface moisture over a step: its mean is sought, its drift follows from the step before.
#[derive(Clone, Copy, Debug)]
pub struct SurfaceDrift {
    /// Mean surface moisture of the step before.
    pub before: f64,
    /// `2 / (this duration + the duration before)`, or 0 when there is no step before.
    pub rate: f64,
}

impl Interior {
    /// The inside of an outline for a diffusion law, with `fineness` modes or nodes per coordinate.
    ///
    /// # Errors
    /// From the outline.
    pub fn of(
        outline: &Outline,
        isotherm: &Isotherm,
        diffusivity: &Diffusivity,
        fineness: usize,
    ) -> Result<Self, PelletError> {
        if !isotherm.takes_up_water() {
            Ok(Self::Closed)
        } else if diffusivity.depends_on_moisture() {
            Ok(Self::Nodal(NodalGrid::of(outline, fineness)?))
        } else {
            Ok(Self::Modal(Modes::of(outline, fineness)?))
        }
    }

    /// The same for searches: nodes on one line even where the outline asks for a section.
    ///
    /// # Errors
    /// As [`Interior::of`].
    pub fn reduced(
        outline: &Outline,
        isotherm: &Isotherm,
        diffusivity: &Diffusivity,
        fineness: usize,
    ) -> Result<Self, PelletError> {
        if isotherm.takes_up_water() && diffusivity.depends_on_moisture() {
            Ok(Self::Nodal(NodalGrid::equivalent(outline, fineness)?))
        } else {
            Self::of(outline, isotherm, diffusivity, fineness)
        }
    }

    /// The inside of a pellet with every length multiplied by `factor`.
    pub fn scaled(&self, factor: f64) -> Self {
        let square = factor * factor;
        match self {
            Self::Closed => Self::Closed,
            Self::Modal(modes) => {
                let mut modes = modes.clone();
                for mode in &mut modes.modes {
                    mode.rate /= square;
                }
                Self::Modal(modes)
            }
            Self::Nodal(grid) => Self::Nodal(grid.scaled(factor)),
        }
    }

    /// State of a pellet with the same moisture everywhere.
    pub fn uniform(&self, moisture: f64) -> Vec<f64> {
        match self {
            Self::Closed => Vec::new(),
            Self::Modal(modes) => modes
                .modes
                .iter()
                .map(|mode| mode.share * moisture)
                .chain(std::iter::once(moisture))
                .collect(),
            Self::Nodal(grid) => vec![moisture; grid.len()],
        }
    }

    /// Mean moisture.
    pub fn mean(&self, state: &[f64]) -> f64 {
        match self {
            Self::Closed => 0.0,
            Self::Modal(modes) => {
                let n = modes.modes.len();
                state[..n].iter().sum::<f64>() + modes.rest * state[n]
            }
            Self::Nodal(grid) => grid.mean(state),
        }
    }

    /// Moisture at the surface.
    pub fn surface(&self, state: &[f64]) -> f64 {
        state.last().copied().unwrap_or(0.0)
    }

    /// Moisture at the heart.
    pub fn heart(&self, state: &[f64]) -> f64 {
        match self {
            Self::Closed => 0.0,
            Self::Modal(modes) => {
                let n = modes.modes.len();
                let covered: f64 = modes.modes.iter().map(|mode| mode.share * mode.heart).sum();
                let sum: f64 = modes
                    .modes
                    .iter()
                    .zip(state)
                    .map(|(mode, y)| mode.heart * y)
                    .sum();
                sum + (1.0 - covered) * state[n]
            }
            Self::Nodal(grid) => grid.heart.iter().zip(state).map(|(w, x)| w * x).sum(),
        }
    }

    /// Work space for this inside.
    pub fn work(&self) -> InteriorWork {
        let (count, nodal, len) = match self {
            Self::Closed => (0, None, 0),
            Self::Modal(modes) => (modes.modes.len(), None, modes.modes.len() + 1),
            Self::Nodal(grid) => (0, Some(grid.work()), grid.len()),
        };
        InteriorWork {
            decay: vec![(0.0, 0.0); count],
            nodal,
            end: vec![0.0; len],
            affine: (0.0, 0.0),
        }
    }

    /// Whether one call of [`Interior::prepare`] describes the answer to any surface moisture.
    pub fn is_affine(&self) -> bool {
        !matches!(self, Self::Nodal(_))
    }

    /// Makes ready a step of `duration` at diffusivity `diffusion` (modes only).
    pub fn prepare(
        &self,
        state: &[f64],
        diffusion: f64,
        duration: f64,
        drift: SurfaceDrift,
        work: &mut InteriorWork,
    ) {
        let Self::Modal(modes) = self else { return };
        let half = 0.5 * drift.rate * duration;
        let (mut dry, mut slope, mut pulled) = (0.0, 0.0, 0.0);
        for ((mode, y), decay) in modes.modes.iter().zip(state).zip(&mut work.decay) {
            let z = mode.rate * diffusion * duration;
            let left = if z < GONE { exp(-z) } else { 0.0 };
            let weight = drift_weight(left, z);
            *decay = (left, weight);
            dry += y * left;
            // Weights of the mean surface moisture and of its drift over the step.
            let still = mode.share * (1.0 - left);
            let moving = mode.share * weight * 2.0 * half;
            slope += still + moving;
            pulled += moving;
        }
        slope += modes.rest * (1.0 + half);
        pulled += modes.rest * half;
        work.affine = (dry - pulled * drift.before, slope);
    }

    /// Mean at the end of the step and its slope with the mean surface moisture `surface`.
    ///
    /// # Errors
    /// From the nodal solver.
    #[expect(
        clippy::too_many_arguments,
        reason = "one kernel, each argument a different quantity"
    )]
    pub fn respond(
        &self,
        law: &Diffusivity,
        t: f64,
        duration: f64,
        state: &[f64],
        surface: f64,
        drift: SurfaceDrift,
        work: &mut InteriorWork,
    ) -> Result<(f64, f64), PelletError> {
        match self {
            Self::Closed => Ok((0.0, 0.0)),
            Self::Modal(_) => Ok((work.affine.0 + work.affine.1 * surface, work.affine.1)),
            Self::Nodal(grid) => {
                let Some(nodal) = work.nodal.as_mut() else {
                    return Ok((0.0, 0.0));
                };
                // Linear surface history about the middle of the step.
                let at = |share: f64| {
                    let reach = drift.rate * duration * (share - 0.5);
                    let moisture = surface + reach * (surface - drift.before);
                    if moisture > 0.0 {
                        (moisture, 1.0 + reach)
                    } else {
                        (0.0, 0.0)
                    }
                };
                let (stage, end) = (at(GAMMA), at(1.0));
                let path = Surface {
                    moisture: (stage.0, end.0),
                    slope: (stage.1, end.1),
                };
                let found = grid.follow(law, t, duration, state, path, &mut work.end, nodal)?;
                Ok((found.mean, found.slope))
            }
        }
    }

    /// Writes the state at the end of the step last responded to.
    pub fn commit(
        &self,
        state: &mut [f64],
        surface: f64,
        duration: f64,
        drift: SurfaceDrift,
        work: &InteriorWork,
    ) {
        match self {
            Self::Closed => {}
            Self::Modal(modes) => {
                let rise = drift.rate * (surface - drift.before);
                let n = modes.modes.len();
                for ((mode, y), (left, weight)) in
                    modes.modes.iter().zip(state.iter_mut()).zip(&work.decay)
                {
                    *y = *y * left
                        + mode.share * ((1.0 - left) * surface + weight * rise * duration);
                }
                state[n] = surface + 0.5 * rise * duration;
            }
            Self::Nodal(_) => state.copy_from_slice(&work.end),
        }
    }
}

/// Beyond this exponent nothing is left of a mode: exp(-40) is below the rounding of 1.
const GONE: f64 = 40.0;

/// Weight of a drift of the surface by 1 over the step: `(1 + e)/2 - (1 - e)/z` for decay e = exp(-z).
fn drift_weight(decay: f64, z: f64) -> f64 {
    if z < 0.05 {
        // Series of the same: z/12 (z - z2/2 + 3 z3/20 - z4/30), exact to 1e-9 below this z.
        z * z / 12.0 * (1.0 + z * (-0.5 + z * (0.15 - z / 30.0)))
    } else {
        0.5 * (1.0 + decay) - (1.0 - decay) / z
    }
}

#[cfg(test)]
mod tests {
    use super::{Interior, SurfaceDrift, drift_weight};
    use crate::{Outline, PelletError};
    use material::{Diffusivity, Isotherm};

    const STILL: SurfaceDrift = SurfaceDrift {
        before: 0.0,
        rate: 0.0,
    };
    const LAW: Diffusivity = Diffusivity::Arrhenius {
        reference: 1e-10,
        reference_temperature: 373.15,
        activation_energy: 30e3,
    };

    fn sphere() -> Result<Interior, PelletError> {
        let isotherm = Isotherm::Henry {
            capacity: 0.005,
            reference_temperature: 373.15,
            mixing_heat: 0.0,
        };
        Interior::of(&Outline::Sphere { diameter: 3e-3 }, &isotherm, &LAW, 16)
    }

    #[test]
    fn holds_the_committed_state_has_the_mean_responded() -> Result<(), PelletError> {
        let inside = sphere()?;
        let mut work = inside.work();
        let mut state = inside.uniform(0.002);
        let drift = SurfaceDrift {
            before: 3e-4,
            rate: 2.0 / 220.0,
        };
        inside.prepare(&state, 1e-10, 120.0, drift, &mut work);
        let (mean, slope) = inside.respond(&LAW, 373.15, 120.0, &state, 4e-4, drift, &mut work)?;
        let (lower, _) = inside.respond(&LAW, 373.15, 120.0, &state, 3e-4, drift, &mut work)?;
        assert!(((mean - lower) / 1e-4 - slope).abs() < 1e-9);
        inside.commit(&mut state, 4e-4, 120.0, drift, &work);
        assert!((inside.mean(&state) - mean).abs() < 1e-16);
        Ok(())
    }

    #[test]
    fn exact_uniform_pellet_in_equilibrium_stays() -> Result<(), PelletError> {
        let inside = sphere()?;
        let mut work = inside.work();
        let mut state = inside.uniform(0.002);
        inside.prepare(&state, 1e-10, 500.0, STILL, &mut work);
        inside.commit(&mut state, 0.002, 500.0, STILL, &work);
        assert!((inside.mean(&state) - 0.002).abs() < 1e-15);
        assert!((inside.heart(&state) - 0.002).abs() < 1e-12);
        Ok(())
    }

    #[test]
    fn exact_drift_weight_is_smooth_through_its_series() {
        let below = drift_weight((-0.049_999_f64).exp(), 0.049_999);
        let above = drift_weight((-0.050_001_f64).exp(), 0.050_001);
        assert!((above / below - 1.0).abs() < 1e-4, "{below} {above}");
        let z = 0.05_f64;
        let direct = 0.5 * (1.0 + (-z).exp()) - (1.0 - (-z).exp()) / z;
        assert!((below / direct - 1.0).abs() < 1e-4, "{below} {direct}");
    }
}
