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

impl Outline {
    /// An outline from a record's shape and sizes; `length` is ignored for a sphere.
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
            PelletShape::Cylinder | PelletShape::Flake => Self::Cylinder {
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
mod tests {
    use super::{ASPECT_HOLDS, Outline, SIZE_HOLDS};
    use std::f64::consts::PI;

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
