//! Channel of a honeycomb: the sine duct between a flat and a corrugated sheet.
//!
//! # Equations
//! The duct lies between `y = 0` and `y = (h/2)(1 + cos(2 pi x/p))`, |x| <= p/2.
//! 1. Area of one duct `A = p h/2`, wetted outline `U = p + S`, S the length of the wave, hydraulic
//!    diameter `D = 4 A/U`.
//! 2. A repeating piece holds two ducts, a flat and a corrugated sheet of thickness s: open share
//!    `e = p h/(p h + s (p + S))`, wetted area by volume `a = 2 (p + S)/(p h + s (p + S))`.
//! 3. Developed laminar flow: f Re (Fanning), Nu at equal heat flow (H1) and Nu at one wall temperature
//!    (T) are functions of h/p alone: polynomials in ln(h/p) through values of our own computation by
//!    finite elements; Sh = Nu.
//! 4. Pressure drop over the length L at face velocity v: `u = v/e`,
//!    `dp = 2 (f Re) mu u L/D^2 + K rho u^2/2`, K the excess of the developing flow.
//! 5. Gas side: heat `h_g = Nu k/D`, vapour `k_g = Nu D_v/D`.
//! 6. Solid side, as seen from the gas: `k_s = 3 D_e/d`, d half the sheet, D_e the diffusivity in its
//!    pores counted on the gas: a parabola of loading across half a sheet that is open on both sides
//!    (Glueckauf (1955), Trans. Faraday Soc. 51, 1540, form from memory). Both in series:
//!    `1/k = 1/k_g + 1/k_s`.
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! p | [`ChannelSpec::pitch`] | m
//! h | [`ChannelSpec::height`] | m
//! s | [`ChannelSpec::sheet`] | m
//! e | [`Channel::open_share`] | 1
//! a | [`Channel::wetted_by_volume`] | m2/m3
//! D | [`Channel::hydraulic_diameter`] | m
//!
//! # Holds for
//! Height over pitch within [`ASPECT_HOLDS`] and laminar flow, Reynolds numbers below
//! [`LAMINAR_UP_TO`]; pitch and height are those of the open duct, between the faces of the sheets.
//! Left out: losses at the faces of the block (some pascal at 2 m/s), and the better transfer of the
//! first centimetre (x* = L/(D Re Pr) is about 1 at 0.2 m, where it is below 5 %, our estimate).
//!
//! # Sources
//! Shah and London (1978), Laminar flow forced convection in ducts, Academic Press: f Re and Nu H1 of
//! sine ducts, remembered, equal the computed values in four digits.
//!
//! # Checked by
//! `tests/src/peers/sine_duct.rs` and `tests/src/published/shah_london_1978.rs`.

use crate::DryerError;
use quantity::Range;

/// Height over pitch for which flow and transfer are known.
pub const ASPECT_HOLDS: Range = Range::new("height over pitch of a channel", 0.25, 2.0, "");
/// Highest Reynolds number, on the hydraulic diameter; common practice for ducts with corners.
pub const LAMINAR_UP_TO: f64 = 2000.0;

/// Height over pitch at which the duct was computed.
const ASPECTS: [f64; 7] = [0.25, 0.35, 0.5, 0.75, 1.0, 1.5, 2.0];
/// f Re (Fanning), Nu H1, Nu T and K there: `bench/peers/sine_duct_table.py`.
const VALUES: [[f64; 4]; 7] = [
    [10.1232, 2.2127, 1.7193, 2.0126],
    [10.5333, 2.3815, 1.8937, 1.9103],
    [11.2068, 2.6172, 2.1104, 1.8104],
    [12.2341, 2.9164, 2.3527, 1.7444],
    [13.0232, 3.1015, 2.4761, 1.7438],
    [14.0230, 3.2679, 2.5348, 1.8066],
    [14.5742, 3.3113, 2.4947, 1.8860],
];

/// A channel as its maker describes it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ChannelSpec {
    /// From wave to wave, m.
    pub pitch: f64,
    /// Of the open duct, m.
    pub height: f64,
    /// Thickness of both sheets, m.
    pub sheet: f64,
}

/// A channel with what follows from its shape.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Channel {
    /// Open area of the face over all of it.
    pub open_share: f64,
    /// Wetted area by volume of the block, m2/m3.
    pub wetted_by_volume: f64,
    /// Volume of sheet by volume of the block, m3/m3.
    pub sheet_share: f64,
    /// 4 A/U, m.
    pub hydraulic_diameter: f64,
    /// Half the thickness of a sheet, m.
    pub half_sheet: f64,
    /// Flow and transfer of the shape.
    pub shape: Shape,
}

/// What the shape of the duct does to laminar flow.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shape {
    /// Friction factor (Fanning) times the Reynolds number.
    pub friction: f64,
    /// Nusselt number at equal heat flow along the duct.
    pub nusselt_equal_flow: f64,
    /// Nusselt number at one temperature of the wall.
    pub nusselt_one_wall: f64,
    /// Excess pressure drop of the developing flow over rho u^2/2.
    pub entrance: f64,
}

impl Shape {
    /// The shape of a height over pitch: equation 3.
    ///
    /// # Errors
    /// Outside [`ASPECT_HOLDS`].
    pub fn of(aspect: f64) -> Result<Self, DryerError> {
        let ends = (ASPECT_HOLDS.low, ASPECT_HOLDS.high);
        DryerError::unless_between(ASPECT_HOLDS.name, aspect, "", ends)?;
        let at = libm::log(aspect);
        let mut sum = [0.0; 4];
        for (i, values) in VALUES.iter().enumerate() {
            let here = libm::log(ASPECTS[i]);
            let weight: f64 = ASPECTS
                .iter()
                .enumerate()
                .filter(|(j, _)| *j != i)
                .map(|(_, other)| {
                    let there = libm::log(*other);
                    (at - there) / (here - there)
                })
                .product();
            for (total, value) in sum.iter_mut().zip(values) {
                *total += weight * value;
            }
        }
        let [friction, nusselt_equal_flow, nusselt_one_wall, entrance] = sum;
        Ok(Self {
            friction,
            nusselt_equal_flow,
            nusselt_one_wall,
            entrance,
        })
    }

    /// Nusselt number between both bounds: the wall of a wheel is neither at one temperature nor passed
    /// by equal heat; the mean is used, and the bounds are a tenth from it.
    pub fn nusselt(&self) -> f64 {
        0.5 * (self.nusselt_equal_flow + self.nusselt_one_wall)
    }
}

impl ChannelSpec {
    /// The channel.
    ///
    /// # Errors
    /// A length that no honeycomb has, or a height over pitch outside [`ASPECT_HOLDS`].
    pub fn check(&self) -> Result<Channel, DryerError> {
        DryerError::unless_between("pitch of the channel", self.pitch, "m", (1e-4, 0.05))?;
        DryerError::unless_between("height of the channel", self.height, "m", (1e-4, 0.05))?;
        DryerError::unless_between("thickness of the sheet", self.sheet, "m", (1e-6, 5e-3))?;
        let shape = Shape::of(self.height / self.pitch)?;
        let outline = self.pitch + wave(self.pitch, self.height);
        let whole = self.pitch * self.height + self.sheet * outline;
        Ok(Channel {
            open_share: self.pitch * self.height / whole,
            wetted_by_volume: 2.0 * outline / whole,
            sheet_share: self.sheet * outline / whole,
            hydraulic_diameter: 2.0 * self.pitch * self.height / outline,
            half_sheet: 0.5 * self.sheet,
            shape,
        })
    }
}

impl Channel {
    /// Pressure drop (Pa) over a length (m) at a face velocity (m/s), for air of a viscosity (Pa s) and
    /// a density (kg/m3): equation 4. Odd in the velocity.
    pub fn pressure_drop(
        &self,
        face_velocity: f64,
        length: f64,
        viscosity: f64,
        density: f64,
    ) -> f64 {
        let u = face_velocity / self.open_share;
        let d = self.hydraulic_diameter;
        2.0 * self.shape.friction * viscosity * u * length / (d * d)
            + 0.5 * self.shape.entrance * density * u * u.abs()
    }

    /// Reynolds number on the hydraulic diameter; the flow is laminar below [`LAMINAR_UP_TO`].
    pub fn reynolds(&self, face_velocity: f64, viscosity: f64, density: f64) -> f64 {
        density * face_velocity.abs() / self.open_share * self.hydraulic_diameter / viscosity
    }

    /// Heat transfer on the gas side, W/(m2 K), for air of a conductivity (W/(m K)).
    pub fn heat_transfer(&self, conductivity: f64) -> f64 {
        self.shape.nusselt() * conductivity / self.hydraulic_diameter
    }

    /// Vapour transfer on the gas side, m/s, for a diffusivity of vapour in air (m2/s).
    pub fn gas_side(&self, vapour_diffusivity: f64) -> f64 {
        self.shape.nusselt() * vapour_diffusivity / self.hydraulic_diameter
    }

    /// Vapour transfer inside the sheet as seen from the gas, m/s, for a diffusivity in its pores
    /// counted on the gas (m2/s).
    pub fn solid_side(&self, pore_diffusivity: f64) -> f64 {
        3.0 * pore_diffusivity / self.half_sheet
    }

    /// Both in series, m/s.
    pub fn vapour_transfer(&self, vapour_diffusivity: f64, pore_diffusivity: f64) -> f64 {
        let (gas, solid) = (
            self.gas_side(vapour_diffusivity),
            self.solid_side(pore_diffusivity),
        );
        if gas > 0.0 && solid > 0.0 {
            gas * solid / (gas + solid)
        } else {
            0.0
        }
    }
}

/// Length of one wave of a sheet, by Simpson's rule; periodic, so that it converges at once.
fn wave(pitch: f64, height: f64) -> f64 {
    const POINTS: u32 = 64;
    let steepness = std::f64::consts::PI * height / pitch;
    let slope = |i: u32| {
        let phase = 2.0 * std::f64::consts::PI * f64::from(i) / f64::from(POINTS);
        let rise = steepness * libm::sin(phase);
        libm::sqrt(1.0 + rise * rise)
    };
    pitch * (0..POINTS).map(slope).sum::<f64>() / f64::from(POINTS)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Pitch and height of a wheel for solvent vapour: Yamauchi and others (2007), Ind. Eng. Chem. Res.
    /// 46, 4316 (abstract).
    const SPEC: ChannelSpec = ChannelSpec {
        pitch: 3.2e-3,
        height: 1.7e-3,
        sheet: 0.2e-3,
    };

    #[test]
    fn holds_open_and_sheet_fill_the_block() -> Result<(), DryerError> {
        let channel = SPEC.check()?;
        assert!((channel.open_share + channel.sheet_share - 1.0).abs() < 1e-14);
        let from_areas = 4.0 * channel.open_share / channel.wetted_by_volume;
        assert!((from_areas / channel.hydraulic_diameter - 1.0).abs() < 1e-14);
        // Each sheet is wetted on both faces.
        let sheets = channel.sheet_share / channel.half_sheet;
        assert!((sheets / channel.wetted_by_volume - 1.0).abs() < 1e-14);
        Ok(())
    }

    #[test]
    fn exact_a_wave_without_height_is_as_long_as_its_pitch() {
        assert!((wave(2.0, 0.0) - 2.0).abs() < 1e-15);
        // Steep waves tend to two heights a pitch.
        assert!((wave(1e-3, 1.0) / 2.0 - 1.0).abs() < 1e-3);
    }

    #[test]
    fn holds_only_inside_the_range_of_shapes() {
        let ends = [ASPECT_HOLDS.low, ASPECT_HOLDS.high];
        assert!(ends.iter().all(|&end| Shape::of(end).is_ok()));
        assert!(Shape::of(ASPECT_HOLDS.low - 1e-6).is_err());
        assert!(Shape::of(ASPECT_HOLDS.high + 1e-6).is_err());
        assert!(Shape::of(f64::NAN).is_err());
        assert!(
            ChannelSpec {
                sheet: f64::NAN,
                ..SPEC
            }
            .check()
            .is_err()
        );
        assert!(
            ChannelSpec {
                pitch: -1.0,
                ..SPEC
            }
            .check()
            .is_err()
        );
    }

    #[test]
    fn holds_friction_and_transfer_are_smooth_between_the_values() -> Result<(), DryerError> {
        let mut last = Shape::of(ASPECT_HOLDS.low)?;
        for i in 1..=200 {
            let aspect = 0.25 * libm::exp(libm::log(8.0) * f64::from(i) / 200.0);
            let next = Shape::of(aspect.min(2.0))?;
            assert!(next.friction > last.friction, "{aspect}");
            assert!(
                next.nusselt_equal_flow > last.nusselt_equal_flow,
                "{aspect}"
            );
            assert!(next.nusselt_one_wall < next.nusselt_equal_flow, "{aspect}");
            last = next;
        }
        Ok(())
    }

    #[test]
    fn holds_pressure_drop_turns_with_the_flow_and_resistances_add() -> Result<(), DryerError> {
        let channel = SPEC.check()?;
        let forth = channel.pressure_drop(1.5, 0.2, 18.4e-6, 1.18);
        assert!((forth + channel.pressure_drop(-1.5, 0.2, 18.4e-6, 1.18)).abs() < 1e-12);
        // Laminar friction alone is 89 Pa; the entrance adds 4 Pa.
        assert!(forth > 80.0 && forth < 110.0, "{forth}");
        let both = channel.vapour_transfer(2.5e-5, 2e-6);
        let sum = 1.0 / channel.gas_side(2.5e-5) + 1.0 / channel.solid_side(2e-6);
        assert!((both * sum - 1.0).abs() < 1e-14);
        assert!(channel.vapour_transfer(2.5e-5, 0.0) == 0.0);
        Ok(())
    }
}
