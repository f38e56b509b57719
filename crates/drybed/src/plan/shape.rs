//! The hopper in outline: heights of the resin in it, and half a section.

use decide::answer::Settings;
use job::Job;
use quantity::Quantity;
use serde::Serialize;
use std::f64::consts::PI;

/// Radius of the outlet over that of the cylinder, where one is drawn.
const OUTLET: f64 = 0.15;

/// A hopper in outline: cylinder over cone.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct HopperShape {
    /// Inner radius of the cylinder.
    pub radius_m: f64,
    /// Height of the cone; zero for a flat bottom.
    pub cone_m: f64,
    /// Dry resin in a volume of hopper.
    pub bulk_density_kg_m3: f64,
    /// Dry resin below the air inlet.
    pub below_inlet_kg: f64,
    /// Half a section, from the outlet up: height and radius.
    pub half_profile_m: Vec<[f64; 2]>,
}

impl HopperShape {
    /// The hopper of the settings of a job.
    pub(crate) fn of(settings: &Settings, job: &Job) -> Self {
        let radius = 5e-4 * settings.diameter_mm;
        let angle = job.hopper.cone_angle.filter(|_| job.model.cone);
        let cone = angle.map_or(0.0, |angle| radius / libm::tan(0.5 * angle.si()));
        let mut shape = Self {
            radius_m: radius,
            cone_m: cone,
            bulk_density_kg_m3: job.resin.bulk_density.value.si(),
            below_inlet_kg: settings.below_inlet_kg,
            half_profile_m: Vec::new(),
        };
        let full = shape.height(1e-3 * settings.hopper_volume_l);
        let top = full.max(shape.height_of(settings.bed_mass_kg));
        shape.half_profile_m = if cone > 0.0 {
            vec![
                [0.0, OUTLET * radius],
                [OUTLET * cone, OUTLET * radius],
                [cone.min(top), radius * (cone.min(top) / cone)],
                [top, radius * (top / cone).min(1.0)],
            ]
        } else {
            vec![[0.0, radius], [top, radius]]
        };
        shape
    }

    /// Height, in m above the outlet, of the plane with so much dry resin (kg) between it and the
    /// air inlet.
    pub fn height_of(&self, above_inlet_kg: f64) -> f64 {
        self.height((self.below_inlet_kg + above_inlet_kg) / self.bulk_density_kg_m3)
    }

    /// Height of the hopper, m.
    pub fn top_m(&self) -> f64 {
        self.half_profile_m.last().map_or(0.0, |point| point[0])
    }

    /// Height that a volume of resin fills.
    fn height(&self, volume: f64) -> f64 {
        let section = PI * self.radius_m * self.radius_m;
        let cone = section * self.cone_m / 3.0;
        if volume >= cone {
            self.cone_m + (volume - cone) / section
        } else {
            self.cone_m * libm::cbrt(volume.max(0.0) / cone)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_heights_in_cone_and_cylinder() {
        let shape = HopperShape {
            radius_m: 0.2,
            cone_m: 0.3,
            bulk_density_kg_m3: 700.0,
            below_inlet_kg: 0.0,
            half_profile_m: vec![[0.0, 0.0], [0.3, 0.2], [1.0, 0.2]],
        };
        let cone = 700.0 * PI * 0.04 * 0.1;
        assert!((shape.height_of(cone) - 0.3).abs() < 1e-12);
        assert!((shape.height_of(cone / 8.0) - 0.15).abs() < 1e-12);
        assert!((shape.height_of(cone + 700.0 * PI * 0.04 * 0.5) - 0.8).abs() < 1e-12);
        assert!((shape.top_m() - 1.0).abs() < 1e-12);
    }
}
