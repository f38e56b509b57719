//! The hopper as it stands: cylinder over cone, air inlet, wall, and what the air meets in it.
//!
//! Geometry turns a volume into a bed of dry resin, slices of wall and a velocity at each height;
//! pressure drop is Ergun's (1952, Chem. Eng. Prog. 48, 89), approach to fluidisation that of
//! Wen and Yu (1966, Chem. Eng. Prog. Symp. Ser. 62, 100; constants 33.7 and 0.0408 from memory).

use crate::BedError;
use crate::column::Wall;
use libm::{cbrt, sqrt, tan};
use quantity::constants::STANDARD_GRAVITY;
use serde::{Deserialize, Serialize};
use std::f64::consts::PI;

/// A hopper, all numbers SI.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct HopperSpec {
    /// Dry resin between air inlet and level, kg.
    pub bed_mass: f64,
    /// Dry resin below the air inlet, kg.
    pub below_inlet: f64,
    /// Bulk density of the dry resin, kg/m3.
    pub bulk_density: f64,
    /// Inner diameter of the cylinder, m; chosen for a height of twice the diameter when absent.
    pub diameter: Option<f64>,
    /// Included angle of the cone, rad; none for a flat bottom.
    pub cone_angle: Option<f64>,
    /// Heat transfer coefficient from bed to ambient, W/(m2 K) of inner wall.
    pub wall_coefficient: f64,
}

/// A checked hopper with its geometry.
#[derive(Clone, Debug, PartialEq)]
pub struct Hopper {
    /// What it was made from.
    pub spec: HopperSpec,
    /// Inner diameter of the cylinder, m.
    pub diameter: f64,
    /// Height of bed between air inlet and level, m.
    pub height: f64,
    /// Wall above the inlet by slices of mass.
    pub wall: Wall,
    /// Inner wall above the inlet, m2.
    pub wall_area: f64,
    /// Height above the inlet, m, and cross-section, m2, at the middle of equal slices of mass.
    pub sections: Vec<(f64, f64)>,
}

/// The pressure that the air spends and how near it comes to lifting the bed.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct FlowThrough {
    /// Superficial velocity in the cylinder, m/s.
    pub velocity: f64,
    /// Pressure drop over the bed, Pa.
    pub pressure_drop: f64,
    /// Superficial velocity over that of minimum fluidisation.
    pub fluidisation: f64,
    /// Share of the bed that is void.
    pub voidage: f64,
}

/// Slices of mass in which wall and velocity are resolved.
const SLICES: usize = 80;
/// Height over diameter of a cylinder whose diameter is not given (common practice: 1.5 to 3).
const SLENDERNESS: f64 = 2.0;
/// Voidage of a poured bed that a record's densities may imply.
pub const VOIDAGE_HOLDS: (f64, f64) = (0.2, 0.95);

/// Heat transfer coefficient of a wall, W/(m2 K) of inner surface: insulation of `thickness` m,
/// conductivity 0.04 W/(m K), in series with 8 W/(m2 K) to still air (both common practice, no
/// source); the bed side is many times better and left out.
pub fn insulated_wall(thickness: f64) -> f64 {
    const STILL_AIR: f64 = 8.0;
    const INSULATION: f64 = 0.04;
    1.0 / (1.0 / STILL_AIR + thickness.max(0.0) / INSULATION)
}

impl HopperSpec {
    /// Checks the numbers and works out the geometry.
    ///
    /// # Errors
    /// [`BedError::Impossible`] naming the number.
    pub fn check(self) -> Result<Hopper, BedError> {
        let within = |what, value: f64, unit, low: f64, high: f64| {
            if value >= low && value <= high {
                Ok(())
            } else {
                Err(BedError::Impossible {
                    what,
                    value,
                    unit,
                    low,
                    high,
                })
            }
        };
        within("bed mass", self.bed_mass, "kg", 1e-3, 1e5)?;
        within(
            "resin below the air inlet",
            self.below_inlet,
            "kg",
            0.0,
            1e5,
        )?;
        within("bulk density", self.bulk_density, "kg/m3", 50.0, 3000.0)?;
        within(
            "wall coefficient",
            self.wall_coefficient,
            "W/(m2 K)",
            0.0,
            1000.0,
        )?;
        if let Some(diameter) = self.diameter {
            within("hopper diameter", diameter, "m", 0.02, 10.0)?;
        }
        if let Some(angle) = self.cone_angle {
            within(
                "cone angle",
                angle,
                "rad",
                10_f64.to_radians(),
                175_f64.to_radians(),
            )?;
        }
        let below = self.below_inlet / self.bulk_density;
        let above = self.bed_mass / self.bulk_density;
        let diameter = self
            .diameter
            .unwrap_or_else(|| cbrt(4.0 * (below + above) / (PI * SLENDERNESS)));
        let outline = Outline::new(diameter, self.cone_angle);
        let bottom = outline.height(below);
        let mut slices = Vec::with_capacity(SLICES);
        let mut sections = Vec::with_capacity(SLICES);
        let (mut wall_area, mut from) = (0.0, bottom);
        for slice in 1..=SLICES {
            let share = slice as f64 / SLICES as f64;
            let to = outline.height(below + above * share);
            let area = outline.lateral(from, to);
            wall_area += area;
            slices.push(self.wall_coefficient * area);
            let middle = 0.5 * (from + to);
            sections.push((middle - bottom, outline.section(middle)));
            from = to;
        }
        Ok(Hopper {
            spec: self,
            diameter,
            height: from - bottom,
            wall: Wall::of_slices(&slices),
            wall_area,
            sections,
        })
    }
}

impl Hopper {
    /// Velocity, pressure drop and approach to fluidisation for a flow of dry air (kg/s) of density
    /// `density` (kg/m3) and viscosity `viscosity` (Pa s) through pellets of Sauter diameter
    /// `size` (m) and density `pellet_density` (kg/m3).
    pub fn flow_through(
        &self,
        air_flow: f64,
        density: f64,
        viscosity: f64,
        size: f64,
        pellet_density: f64,
    ) -> FlowThrough {
        let voidage =
            (1.0 - self.spec.bulk_density / pellet_density).clamp(VOIDAGE_HOLDS.0, VOIDAGE_HOLDS.1);
        let slice_volume = self.spec.bed_mass / self.spec.bulk_density / self.sections.len() as f64;
        let pressure_drop = self
            .sections
            .iter()
            .map(|(_, area)| {
                let velocity = air_flow / density / area;
                ergun(velocity, voidage, size, density, viscosity) * slice_volume / area
            })
            .sum();
        let velocity = air_flow / density / (0.25 * PI * self.diameter * self.diameter);
        FlowThrough {
            velocity,
            pressure_drop,
            fluidisation: velocity / minimum_fluidisation(size, pellet_density, density, viscosity),
            voidage,
        }
    }
}

/// Pressure gradient of a packed bed, Pa/m. Ergun (1952), Chem. Eng. Prog. 48, 89, eq. 9.
pub fn ergun(velocity: f64, voidage: f64, size: f64, density: f64, viscosity: f64) -> f64 {
    let solid = 1.0 - voidage;
    let cube = voidage * voidage * voidage;
    150.0 * viscosity * solid * solid * velocity / (cube * size * size)
        + 1.75 * density * velocity * velocity * solid / (cube * size)
}

/// Superficial velocity at which a bed begins to lift, m/s.
/// Wen and Yu (1966), Chem. Eng. Prog. Symp. Ser. 62, 100.
pub fn minimum_fluidisation(size: f64, pellet_density: f64, density: f64, viscosity: f64) -> f64 {
    let archimedes =
        density * (pellet_density - density).max(0.0) * STANDARD_GRAVITY * size * size * size
            / (viscosity * viscosity);
    viscosity / (density * size) * (sqrt(33.7 * 33.7 + 0.0408 * archimedes) - 33.7)
}

/// Cylinder over cone, heights counted from the apex or from the flat bottom.
struct Outline {
    radius: f64,
    /// Tangent of half the cone angle, and height of the cone.
    cone: Option<(f64, f64)>,
}

impl Outline {
    fn new(diameter: f64, angle: Option<f64>) -> Self {
        let radius = 0.5 * diameter;
        let cone = angle.map(|angle| {
            let tangent = tan(0.5 * angle);
            (tangent, radius / tangent)
        });
        Self { radius, cone }
    }

    /// Height that a volume fills.
    fn height(&self, volume: f64) -> f64 {
        let section = PI * self.radius * self.radius;
        match self.cone {
            None => volume / section,
            Some((tangent, top)) => {
                let cone = section * top / 3.0;
                if volume <= cone {
                    cbrt(3.0 * volume / (PI * tangent * tangent))
                } else {
                    top + (volume - cone) / section
                }
            }
        }
    }

    /// Cross-section at a height, m2; never below a tenth of the cylinder's, since an air inlet
    /// near the apex spreads the air over at least that much.
    fn section(&self, height: f64) -> f64 {
        let full = PI * self.radius * self.radius;
        match self.cone {
            Some((tangent, top)) if height < top => {
                (PI * tangent * tangent * height * height).max(0.1 * full)
            }
            _ => full,
        }
    }

    /// Lateral wall between two heights, m2.
    fn lateral(&self, from: f64, to: f64) -> f64 {
        let ring = 2.0 * PI * self.radius;
        match self.cone {
            None => ring * (to - from),
            Some((tangent, top)) => {
                let slant = sqrt(1.0 + tangent * tangent);
                let (low, high) = (from.min(top), to.min(top));
                PI * tangent * slant * (high * high - low * low)
                    + ring * (to.max(top) - from.max(top))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{HopperSpec, VOIDAGE_HOLDS, ergun, insulated_wall, minimum_fluidisation};
    use crate::BedError;
    use std::f64::consts::PI;

    const SPEC: HopperSpec = HopperSpec {
        bed_mass: 70.0,
        below_inlet: 0.0,
        bulk_density: 700.0,
        diameter: Some(0.4),
        cone_angle: None,
        wall_coefficient: 1.0,
    };

    #[test]
    fn exact_cylinder_and_cone() -> Result<(), BedError> {
        let plain = SPEC.check()?;
        assert!((plain.height - 0.1 / (PI * 0.04)).abs() < 1e-12);
        assert!((plain.wall_area - 0.4 * PI * plain.height).abs() < 1e-12);
        assert!((plain.wall.total() - plain.wall_area).abs() < 1e-12);
        // 60 degrees: cone height 0.2/tan(30 degrees), slant 0.4 m, lateral pi r s.
        let cone = HopperSpec {
            cone_angle: Some(PI / 3.0),
            ..SPEC
        }
        .check()?;
        let top = 0.2 / (PI / 6.0).tan();
        let cylinder = (0.1 - PI * 0.04 * top / 3.0) / (PI * 0.04);
        assert!((cone.height - top - cylinder).abs() < 1e-12);
        assert!((cone.wall_area - PI * 0.2 * 0.4 - 0.4 * PI * cylinder).abs() < 1e-10);
        Ok(())
    }

    #[test]
    fn peer_ergun_and_wen_yu_as_in_fluids() {
        // fluids 1.3.1, packed_bed.Ergun at 0.1 m/s, 100 degC, 3 mm, voidage 0.40: 257.0 Pa/m.
        let gradient = ergun(0.1, 0.4, 3e-3, 0.9458, 2.1895e-5);
        assert!((gradient / 257.0 - 1.0).abs() < 1e-3, "{gradient}");
        let lift = minimum_fluidisation(3e-3, 1200.0, 0.9458, 2.1895e-5);
        assert!((lift / 1.001 - 1.0).abs() < 1e-3, "{lift}");
    }

    #[test]
    fn holds_impossible_hoppers_are_named() {
        assert!(
            HopperSpec {
                bed_mass: 0.0,
                ..SPEC
            }
            .check()
            .is_err()
        );
        assert!(
            HopperSpec {
                bed_mass: f64::NAN,
                ..SPEC
            }
            .check()
            .is_err()
        );
        assert!(
            HopperSpec {
                diameter: Some(0.001),
                ..SPEC
            }
            .check()
            .is_err()
        );
        assert!(
            HopperSpec {
                cone_angle: Some(4.0),
                ..SPEC
            }
            .check()
            .is_err()
        );
        assert!(VOIDAGE_HOLDS.0 > 0.0 && VOIDAGE_HOLDS.1 < 1.0);
        assert!((insulated_wall(0.0) - 8.0).abs() < 1e-12 && insulated_wall(0.05) < 1.0);
    }
}
