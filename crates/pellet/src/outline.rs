//! The outline of a pellet: its volume, its surface and the depth water has to travel.

use crate::PelletError;
use libm::{asin, log, sqrt};
use material::PelletShape;
use quantity::{Length, Quantity};
use serde::{Deserialize, Serialize};
use std::f64::consts::PI;

/// A pellet's outline, lengths in metres.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(tag = "shape", rename_all = "kebab-case")]
pub enum Outline {
    /// Finite circular cylinder.
    Cylinder {
        /// Diameter, m.
        diameter: f64,
        /// Length along the axis, m.
        length: f64,
    },
    /// Sphere.
    Sphere {
        /// Diameter, m.
        diameter: f64,
    },
    /// Ellipsoid of revolution.
    Spheroid {
        /// Diameter across the axis, m.
        diameter: f64,
        /// Length along the axis, m.
        length: f64,
    },
    /// Two equal spherical caps base to base.
    Lens {
        /// Diameter of the rim, m.
        diameter: f64,
        /// Thickness at the axis, m; at most the diameter.
        thickness: f64,
    },
    /// Plate that dries through both faces: sheet, flake, film.
    Plate {
        /// Thickness, m.
        thickness: f64,
    },
    /// Endless cylinder: filament, rod.
    Rod {
        /// Diameter, m.
        diameter: f64,
    },
}

/// Smallest and largest size a pellet may have, m: fines of 0.05 mm to blocks of 50 mm.
pub const SIZE_HOLDS: (f64, f64) = (5e-5, 5e-2);
/// Smallest and largest length over diameter.
pub const ASPECT_HOLDS: (f64, f64) = (0.1, 10.0);
/// Width of a flake over its thickness beyond which it is taken as a plate, just inside
/// [`ASPECT_HOLDS`]. The rim that is left out makes it a little slower: the time to a hundredth of
/// the water is 10 % longer than that of the disc at this width, 2.9 % at 27 thicknesses.
const PLATE_FROM: f64 = 9.9;

impl Outline {
    /// An outline from a record's shape and sizes; `length` is ignored for a sphere and is the
    /// thickness of a flake, which is a flat disc, or a plate where it is wider than 9.9 thicknesses.
    ///
    /// # Errors
    /// [`PelletError::Size`] and [`PelletError::Aspect`] outside [`SIZE_HOLDS`] and [`ASPECT_HOLDS`];
    /// [`PelletError::LensTooThick`]; [`PelletError::MissingLength`].
    pub fn from_sizes(
        shape: PelletShape,
        diameter: Length,
        length: Option<Length>,
    ) -> Result<Self, PelletError> {
        let diameter = diameter.si();
        let length = || length.map(Quantity::si).ok_or(PelletError::MissingLength);
        let outline = match shape {
            PelletShape::Sphere => Self::Sphere { diameter },
            // A flake is a flat disc: what its rim looks like matters little to its water.
            PelletShape::Flake => return Self::flake(diameter, length()?),
            PelletShape::Cylinder => Self::Cylinder {
                diameter,
                length: length()?,
            },
            PelletShape::Spheroid => Self::Spheroid {
                diameter,
                length: length()?,
            },
            PelletShape::Lens => Self::Lens {
                diameter,
                thickness: length()?,
            },
        };
        outline.check()?;
        Ok(outline)
    }

    /// A flake `across` wide: the disc that dries as it does, or the plate where its rim hardly
    /// matters.
    fn flake(across: f64, thickness: f64) -> Result<Self, PelletError> {
        if !(across >= SIZE_HOLDS.0 && across <= SIZE_HOLDS.1) {
            return Err(PelletError::Size { size: across });
        }
        let outline = if across > PLATE_FROM * thickness {
            Self::Plate { thickness }
        } else {
            Self::Cylinder {
                diameter: across,
                length: thickness,
            }
        };
        outline.check()?;
        Ok(outline)
    }

    /// Refuses sizes that no pellet has.
    ///
    /// # Errors
    /// As [`Outline::from_sizes`].
    pub fn check(&self) -> Result<(), PelletError> {
        let (first, second) = match *self {
            Self::Cylinder { diameter, length } | Self::Spheroid { diameter, length } => {
                (diameter, length)
            }
            Self::Lens {
                diameter,
                thickness,
            } => {
                if thickness > diameter {
                    return Err(PelletError::LensTooThick {
                        diameter,
                        thickness,
                    });
                }
                (diameter, thickness)
            }
            Self::Sphere { diameter } | Self::Rod { diameter } => (diameter, diameter),
            Self::Plate { thickness } => (thickness, thickness),
        };
        for size in [first, second] {
            if !(size >= SIZE_HOLDS.0 && size <= SIZE_HOLDS.1) {
                return Err(PelletError::Size { size });
            }
        }
        let aspect = second / first;
        if !(aspect >= ASPECT_HOLDS.0 && aspect <= ASPECT_HOLDS.1) {
            return Err(PelletError::Aspect { aspect });
        }
        Ok(())
    }

    /// Volume, m3; per m2 of face for a plate, per m of length for a rod.
    pub fn volume(&self) -> f64 {
        match *self {
            Self::Cylinder { diameter, length } => 0.25 * PI * diameter * diameter * length,
            Self::Sphere { diameter } => PI / 6.0 * diameter * diameter * diameter,
            Self::Spheroid { diameter, length } => PI / 6.0 * diameter * diameter * length,
            Self::Lens {
                diameter,
                thickness,
            } => {
                let (a, h) = (0.5 * diameter, 0.5 * thickness);
                PI * h / 3.0 * (3.0 * a * a + h * h)
            }
            Self::Plate { thickness } => thickness,
            Self::Rod { diameter } => 0.25 * PI * diameter * diameter,
        }
    }

    /// Surface, m2; on the same footing as [`Outline::volume`].
    pub fn surface(&self) -> f64 {
        match *self {
            Self::Cylinder { diameter, length } => {
                PI * diameter * length + 0.5 * PI * diameter * diameter
            }
            Self::Sphere { diameter } => PI * diameter * diameter,
            Self::Spheroid { diameter, length } => spheroid_surface(0.5 * diameter, 0.5 * length),
            Self::Lens {
                diameter,
                thickness,
            } => {
                let (a, h) = (0.5 * diameter, 0.5 * thickness);
                2.0 * PI * (a * a + h * h)
            }
            Self::Plate { .. } => 2.0,
            Self::Rod { diameter } => PI * diameter,
        }
    }

    /// Surface over volume, 1/m.
    pub fn surface_to_volume(&self) -> f64 {
        self.surface() / self.volume()
    }

    /// Diameter of the sphere with the same surface to volume, m: the size that drag and films see.
    pub fn sauter_diameter(&self) -> f64 {
        6.0 / self.surface_to_volume()
    }

    /// The same outline with every length multiplied by `factor`.
    pub fn scaled(mut self, factor: f64) -> Self {
        match &mut self {
            Self::Cylinder { diameter, length } | Self::Spheroid { diameter, length } => {
                *diameter *= factor;
                *length *= factor;
            }
            Self::Lens {
                diameter,
                thickness,
            } => {
                *diameter *= factor;
                *thickness *= factor;
            }
            Self::Sphere { diameter } | Self::Rod { diameter } => *diameter *= factor,
            Self::Plate { thickness } => *thickness *= factor,
        }
        self
    }
}

/// Surface of a spheroid with equatorial radius `a` and polar half-axis `c`.
/// Zwillinger (2018), CRC Standard Mathematical Tables, spheroids (from memory).
fn spheroid_surface(a: f64, c: f64) -> f64 {
    let ratio = c / a;
    if (ratio - 1.0).abs() < 1e-6 {
        return 4.0 * PI * a * a * (1.0 + 2.0 / 3.0 * (ratio - 1.0));
    }
    if ratio < 1.0 {
        let e = sqrt(1.0 - ratio * ratio);
        2.0 * PI * a * a + PI * c * c / e * log((1.0 + e) / (1.0 - e))
    } else {
        let e = sqrt(1.0 - 1.0 / (ratio * ratio));
        2.0 * PI * a * a + 2.0 * PI * a * c / e * asin(e)
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test stops at the first surprise")]
mod tests {
    use super::{ASPECT_HOLDS, Outline, PLATE_FROM, SIZE_HOLDS};
    use crate::PelletError;
    use crate::modes::Modes;
    use libm::exp;
    use material::PelletShape;
    use quantity::{Length, Quantity};
    use std::f64::consts::PI;

    fn flake(across: f64, thickness: f64) -> Result<Outline, PelletError> {
        let thickness = Some(Length::from_si(thickness));
        Outline::from_sizes(PelletShape::Flake, Length::from_si(across), thickness)
    }

    /// Fourier time (m2) at which a hundredth of the water is left, `remaining` falling.
    fn hundredth(remaining: impl Fn(f64) -> f64) -> f64 {
        let (mut low, mut high) = (0.0, 1e-4);
        for _ in 0..200 {
            let middle = 0.5 * (low + high);
            if remaining(middle) > 0.01 {
                low = middle;
            } else {
                high = middle;
            }
        }
        high
    }

    /// Of a plate: the series of Crank (1975), The Mathematics of Diffusion, equation 4.18 (from
    /// memory), five hundred terms.
    fn plate_series(thickness: f64, fourier: f64) -> f64 {
        let term = |n: u32| {
            let odd = f64::from(2 * n + 1);
            let root = odd * PI / thickness;
            8.0 / (PI * PI * odd * odd) * exp(-root * root * fourier)
        };
        (0..500).map(term).sum()
    }

    /// What a disc keeps beside a plate of its thickness, at the same early time: a plane front from
    /// the rim less its curvature, `1 - 4 sqrt(F/pi) + F` with F over the radius squared (Crank
    /// 1975, equation 5.24, from memory).
    fn rim(across: f64, fourier: f64) -> f64 {
        let short = fourier / (0.25 * across * across);
        1.0 - 4.0 * (short / PI).sqrt() + short
    }

    #[test]
    fn exact_a_wide_flake_dries_as_the_plate_and_within_three_percent_of_its_disc() {
        let (across, thickness) = (8e-3, 0.3e-3);
        let outline = flake(across, thickness).unwrap();
        let modes = Modes::of(&outline, 24).unwrap();
        let found = hundredth(|fourier| modes.remaining(fourier));
        let plate = hundredth(|fourier| plate_series(thickness, fourier));
        assert!((found / plate - 1.0).abs() < 1e-6, "{}", found / plate);
        let disc = |across: f64| {
            hundredth(|fourier| plate_series(thickness, fourier) * rim(across, fourier))
        };
        let late = found / disc(across);
        assert!(late > 1.02 && late < 1.03, "{late}");
        // Where the rule changes hands it is at its worst, and on the slow side.
        let worst = found / disc(PLATE_FROM * thickness);
        assert!(worst > 1.05 && worst < 1.11, "{worst}");
    }

    #[test]
    fn holds_a_flake_is_a_disc_up_to_its_widest_and_a_plate_beyond() {
        let thickness = 0.3e-3;
        let at = |ratio: f64| flake(ratio * thickness, thickness).unwrap();
        assert!(matches!(at(PLATE_FROM * 0.999), Outline::Cylinder { .. }));
        assert_eq!(at(PLATE_FROM * 1.001), Outline::Plate { thickness });
        assert!(flake(SIZE_HOLDS.1 * 1.001, thickness).is_err());
        assert!(flake(f64::NAN, thickness).is_err() && flake(8e-3, f64::NAN).is_err());
        assert!(flake(8e-3, SIZE_HOLDS.0 * 0.999).is_err());
    }

    #[test]
    fn exact_limits_of_the_outlines_are_spheres() {
        let sphere = Outline::Sphere { diameter: 3e-3 };
        for ratio in [1.0 - 1e-4, 1.0, 1.0 + 1e-4] {
            let near = Outline::Spheroid {
                diameter: 3e-3,
                length: 3e-3 * ratio,
            };
            assert!((near.surface() / sphere.surface() - 1.0).abs() < 1e-3);
        }
        let ball = Outline::Lens {
            diameter: 3e-3,
            thickness: 3e-3,
        };
        assert!((ball.volume() / sphere.volume() - 1.0).abs() < 1e-12);
        assert!((ball.surface() / sphere.surface() - 1.0).abs() < 1e-12);
        assert!((sphere.sauter_diameter() - 3e-3).abs() < 1e-15);
        assert!((sphere.volume() - PI / 6.0 * 27e-9).abs() < 1e-20);
    }

    #[test]
    fn holds_spheroid_surface_is_continuous_across_the_sphere() {
        let at = |ratio: f64| {
            Outline::Spheroid {
                diameter: 2e-3,
                length: 2e-3 * ratio,
            }
            .surface()
        };
        for edge in [1.0 - 1e-6, 1.0 + 1e-6] {
            assert!((at(edge * (1.0 - 1e-9)) / at(edge * (1.0 + 1e-9)) - 1.0).abs() < 1e-6);
        }
    }

    #[test]
    fn holds_sizes_outside_the_range_are_refused() {
        for (diameter, inside) in [
            (SIZE_HOLDS.0 * 1.001, true),
            (SIZE_HOLDS.0 * 0.999, false),
            (SIZE_HOLDS.1 * 0.999, true),
            (SIZE_HOLDS.1 * 1.001, false),
        ] {
            assert_eq!(
                Outline::Sphere { diameter }.check().is_ok(),
                inside,
                "{diameter}"
            );
        }
        for (aspect, inside) in [
            (ASPECT_HOLDS.0 * 1.001, true),
            (ASPECT_HOLDS.0 * 0.999, false),
            (ASPECT_HOLDS.1 * 0.999, true),
            (ASPECT_HOLDS.1 * 1.001, false),
        ] {
            let outline = Outline::Cylinder {
                diameter: 2e-3,
                length: 2e-3 * aspect,
            };
            assert_eq!(outline.check().is_ok(), inside, "{aspect}");
        }
        assert!(Outline::Sphere { diameter: f64::NAN }.check().is_err());
        assert!(
            Outline::Cylinder {
                diameter: 1e-3,
                length: 2e-2
            }
            .check()
            .is_err()
        );
        assert!(
            Outline::Lens {
                diameter: 2e-3,
                thickness: 3e-3
            }
            .check()
            .is_err()
        );
        assert!(
            Outline::Cylinder {
                diameter: 2.5e-3,
                length: 3e-3
            }
            .check()
            .is_ok()
        );
    }
}
