//! Decay modes of a pellet with a diffusivity that does not depend on moisture.
//!
//! With the surface at moisture X_s, each mode relaxes on its own:
//! `dy/dt = -D rate (y - share X_s)`, and the mean is `sum y + rest X_s`, where `rest` is the share
//! of the modes left out, which follow the surface at once.
//! A finite cylinder has the product of the modes of a rod and a plate (Carslaw and Jaeger (1959),
//! Conduction of Heat in Solids, section 1.15); every other outline has those of its
//! one-dimensional equivalent.

use crate::equivalent::Equivalent;
use crate::radial::{RadialGrid, RadialModes};
use crate::{Outline, PelletError};

/// One decay mode.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mode {
    /// Decay rate over diffusivity, 1/m2.
    pub rate: f64,
    /// Share in the mean of a uniformly wet pellet.
    pub share: f64,
    /// Value at the heart when its share in the mean is 1.
    pub heart: f64,
}

/// The modes of an outline, slowest first.
#[derive(Clone, Debug, PartialEq)]
pub struct Modes {
    /// Modes kept.
    pub modes: Vec<Mode>,
    /// Share of the modes left out.
    pub rest: f64,
}

/// Nodes used to find the modes; the first third of them are exact to nine digits.
const NODES: usize = 36;

fn scaled(modes: &RadialModes, depth: f64) -> Vec<Mode> {
    modes
        .rates
        .iter()
        .zip(&modes.shares)
        .zip(&modes.hearts)
        .map(|((rate, share), heart)| Mode {
            rate: rate / (depth * depth),
            share: *share,
            heart: *heart,
        })
        .collect()
}

impl Modes {
    /// The slowest `count` modes of an outline, those beyond merged into the last of them so that
    /// the answer to a slow change of the surface stays exact to first order.
    ///
    /// # Errors
    /// From the outline, or from the eigenvalue iteration.
    pub fn of(outline: &Outline, count: usize) -> Result<Self, PelletError> {
        outline.check()?;
        let mut all = if let Outline::Cylinder { diameter, length } = *outline {
            let rod = scaled(&RadialGrid::new(2.0, 0.0, NODES)?.modes()?, 0.5 * diameter);
            let plate = scaled(&RadialGrid::new(1.0, 0.0, NODES)?.modes()?, 0.5 * length);
            let mut product = Vec::with_capacity(rod.len() * plate.len());
            for across in &rod {
                for along in &plate {
                    product.push(Mode {
                        rate: across.rate + along.rate,
                        share: across.share * along.share,
                        heart: across.heart * along.heart,
                    });
                }
            }
            product
        } else {
            let equivalent = Equivalent::of(outline)?;
            let grid = RadialGrid::new(equivalent.dimension, equivalent.bulge, NODES)?;
            scaled(&grid.modes()?, equivalent.depth)
        };
        all.sort_by(|a, b| a.rate.total_cmp(&b.rate));
        Ok(Self::merged(&all, count))
    }

    /// Keeps the slowest half of `count` modes as they are and gathers the others, by rising rate,
    /// into groups with the same summed share and the same delay (share over rate).
    fn merged(all: &[Mode], count: usize) -> Self {
        let kept = (count / 2).max(1).min(all.len());
        let mut modes = all[..kept].to_vec();
        let groups = count.saturating_sub(kept);
        let start = all[kept - 1].rate;
        // Groups widen geometrically up to 500 times the last rate kept.
        let widest = 500.0_f64;
        let mut taken = kept;
        for group in 1..=groups {
            let high = start * libm::pow(widest, group as f64 / groups as f64);
            let (mut share, mut delay, mut heart) = (0.0, 0.0, 0.0);
            while taken < all.len() && all[taken].rate <= high {
                share += all[taken].share;
                delay += all[taken].share / all[taken].rate;
                heart += all[taken].share * all[taken].heart;
                taken += 1;
            }
            if share > 0.0 {
                modes.push(Mode {
                    rate: share / delay,
                    share,
                    heart: heart / share,
                });
            }
        }
        let rest = 1.0 - modes.iter().map(|mode| mode.share).sum::<f64>();
        Self { modes, rest }
    }

    /// Share of removable moisture left after `fourier` = D t (m2), surface held at equilibrium.
    pub fn remaining(&self, fourier: f64) -> f64 {
        self.modes
            .iter()
            .map(|mode| mode.share * libm::exp(-mode.rate * fourier))
            .sum()
    }
}

#[cfg(test)]
mod tests {
    use super::Modes;
    use crate::{Outline, PelletError};

    #[test]
    fn exact_remaining_moisture_of_finite_cylinders() -> Result<(), PelletError> {
        // Product of the series of Crank (1975), The Mathematics of Diffusion, eq. 4.18 and 5.23,
        // summed with 4000 terms; Fo on the radius.
        let rows = [
            (2.5e-3, 3.0e-3, 0.1, 0.276_966),
            (2.5e-3, 3.0e-3, 0.5, 0.013_209),
            (2.5e-3, 3.0e-3, 1.0, 0.000_311),
            (2.0e-3, 3.0e-3, 0.2, 0.144_563),
            (3.0e-3, 3.0e-3, 0.05, 0.409_642),
        ];
        for (diameter, length, fourier, wanted) in rows {
            let modes = Modes::of(&Outline::Cylinder { diameter, length }, 24)?;
            let found = modes.remaining(fourier * diameter * diameter / 4.0);
            assert!(
                (found - wanted).abs() < 2e-6 + 1e-5 * wanted,
                "{found} {wanted}"
            );
        }
        Ok(())
    }
}
