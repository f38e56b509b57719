//! A resin: every number a plan needs, each with its evidence.

use crate::{Caution, Degradation, Diffusivity, Documented, Evidence, Filler, Isotherm, Oxidation};
use quantity::constants::MOLAR_GAS;
use quantity::{
    BulkDensity, Density, Duration, Fraction, FrostPoint, GlassTransitionDrop, HeatCapacitySlope,
    Length, MoistureDryBasis, MolarEnergy, Quantity, SpecificEnergy, SpecificHeatCapacity,
    Temperature, ThermalConductivity,
};
use serde::{Deserialize, Serialize};

/// Whether water enters the resin.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Behaviour {
    /// Water is sorbed inside and diffuses.
    Hygroscopic,
    /// Water sits on the surface only.
    SurfaceWaterOnly,
}

/// How the chains are arranged.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Structure {
    /// No crystals.
    Amorphous,
    /// Crystals and amorphous matter between them.
    Semicrystalline,
}

/// Outline of a pellet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum PelletShape {
    /// Strand pellet: a finite circular cylinder.
    Cylinder,
    /// Underwater pellet: a sphere.
    Sphere,
    /// An ellipsoid of revolution; length along its axis.
    Spheroid,
    /// Two equal spherical caps; length is the thickness.
    Lens,
    /// Ground or cut flake: a flat disc; length is the thickness of the thickest pieces.
    Flake,
}

/// Form and size of the pellets; the spread of a size is from pellet to pellet.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct PelletForm {
    /// Outline.
    pub shape: Evidence<PelletShape>,
    /// Diameter across the axis.
    pub diameter: Evidence<Length>,
    /// Length along the axis; absent for a sphere.
    pub length: Option<Evidence<Length>>,
}

/// Activation energy by which the longest stay follows the temperature where the record names none,
/// J/mol: by analogy with the oxidation of PA6 in air, 120 (80 to 150) kJ/mol by what is looked at
/// (Dong and Gijsman 2010, abstract), and of rubber-modified styrenics, 80 to 120 (from memory).
/// Taken low, so that it moves the customary stay little; doubt 25 kJ/mol, which over 20 K is a
/// factor of 1.5.
pub(crate) const ANALOGOUS_HOLD_ENERGY: f64 = 100e3;

/// Customary settings and the longest stay.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct DryingPractice {
    /// Customary set point.
    pub temperature: Evidence<Temperature>,
    /// Lower end of the customary window.
    pub temperature_low: Evidence<Temperature>,
    /// Upper end of the customary window.
    pub temperature_high: Evidence<Temperature>,
    /// Customary residence time.
    pub time: Evidence<Duration>,
    /// Frost point that practice asks for, at one atmosphere.
    pub frost_point: Evidence<FrostPoint>,
    /// Longest time at the customary temperature before harm is usual.
    pub hold: Evidence<Duration>,
    /// Activation energy of the harm that ends the hold.
    pub hold_energy: Option<Evidence<MolarEnergy>>,
}

/// Moisture limits at the throat.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct MoistureLimits {
    /// For injection moulding.
    pub moulding: Evidence<MoistureDryBasis>,
    /// For extrusion, sheet and film.
    pub extrusion: Option<Evidence<MoistureDryBasis>>,
    /// For spinning fibre.
    pub fibre: Option<Evidence<MoistureDryBasis>>,
    /// Below this the resin is too dry (polyamides).
    pub lower_edge: Option<Evidence<MoistureDryBasis>>,
}

/// Moisture of the resin as it arrives.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ReceivedMoisture {
    /// From a sealed, lined bag.
    pub sealed: Evidence<MoistureDryBasis>,
    /// From an opened or stored package.
    pub opened: Evidence<MoistureDryBasis>,
}

/// A resin record.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Resin {
    /// File name of the record.
    pub key: String,
    /// Name people use.
    pub name: String,
    /// What it is, in a few words.
    pub title: String,
    /// Other names.
    pub aliases: Vec<String>,
    /// The family it is listed under.
    pub family: Option<String>,
    /// The record or family it stands on where it says nothing itself.
    pub like: Option<String>,
    /// What is mixed into the polymer.
    pub filler: Option<Filler>,
    /// Whether water enters it.
    pub behaviour: Behaviour,
    /// How its chains are arranged.
    pub structure: Structure,
    /// Whether a static hopper would fuse it before it has crystallised.
    pub crystallise_first: bool,
    /// Whether it comes amorphous, may be dried so, and crystallises where it is stirred hot.
    pub crystallises: bool,
    /// What it can give off or do.
    pub cautions: Vec<Caution>,
    /// What staying too long, or becoming too dry, does to it.
    pub over_drying: String,
    /// Form and size of the pellets.
    pub pellet: PelletForm,
    /// Density of the dry resin.
    pub density: Evidence<Density>,
    /// Density of poured virgin pellets.
    pub bulk_density: Evidence<BulkDensity>,
    /// Heat capacity at 23 degC.
    pub heat_capacity: Evidence<SpecificHeatCapacity>,
    /// Rise of the heat capacity per kelvin, J/(kg K2).
    pub heat_capacity_slope: Evidence<HeatCapacitySlope>,
    /// Thermal conductivity of the solid.
    pub thermal_conductivity: Evidence<ThermalConductivity>,
    /// Glass transition of the dry resin.
    pub glass_transition: Option<Evidence<Temperature>>,
    /// Fall of the glass transition per moisture, K/(kg/kg).
    pub glass_transition_drop: Option<Evidence<GlassTransitionDrop>>,
    /// Melting point.
    pub melting: Option<Evidence<Temperature>>,
    /// Temperature at which dry pellets begin to fuse under the load of a hopper.
    pub sticking: Evidence<Temperature>,
    /// Sorption law of the resin as it is dried, filler and all; where a filler takes up nothing its
    /// values are those of the polymer, and the law is that of the compound.
    pub isotherm: Documented<Isotherm>,
    /// Heat of sorption, where it is stated instead of following from the isotherm.
    pub sorption_heat: Option<Evidence<SpecificEnergy>>,
    /// Diffusion law, its moisture counted on the resin as it is dried; its values are those of the
    /// polymer.
    pub diffusivity: Documented<Diffusivity>,
    /// Customary settings.
    pub drying: DryingPractice,
    /// Moisture limits.
    pub limit: MoistureLimits,
    /// Moisture as it arrives.
    pub received: ReceivedMoisture,
    /// How fast water and air harm it while it is hot.
    pub degradation: Degradation,
}

/// Temperature at which heat capacities are stated, K (23 degC, ISO 291 standard atmosphere).
pub(crate) const HEAT_CAPACITY_REFERENCE: f64 = 296.15;

impl Resin {
    /// Heat capacity of the dry resin at a temperature: linear about 23 degC.
    pub fn heat_capacity_at(&self, temperature: Temperature) -> SpecificHeatCapacity {
        SpecificHeatCapacity::from_si(
            self.heat_capacity.value.si()
                + self.heat_capacity_slope.value.si()
                    * (temperature.kelvin() - HEAT_CAPACITY_REFERENCE),
        )
    }

    /// Temperature at which pellets of this moisture begin to fuse: the dry value less the fall of
    /// the glass transition by that moisture (no fall where none is known).
    pub fn sticking_at(&self, moisture: MoistureDryBasis) -> Temperature {
        let drop = self
            .glass_transition_drop
            .as_ref()
            .map_or(0.0, |fall| fall.value.si());
        Temperature::from_si(self.sticking.value.si() - drop * moisture.si().max(0.0))
    }

    /// Longest stay at an air temperature: `hold exp((E/R)(1/T - 1/T_customary))` with the activation
    /// energy of the harm that ends it, or 100 kJ/mol by analogy where the record names none.
    ///
    /// Arrhenius about the customary temperature, and so an extrapolation away from it.
    pub fn hold_at(&self, temperature: Temperature) -> Duration {
        let drying = &self.drying;
        let energy: f64 = self.hold_energy().si();
        let change = 1.0 / temperature.si() - 1.0 / drying.temperature.value.si();
        Duration::from_si(drying.hold.value.si() * libm::exp(energy / MOLAR_GAS * change))
    }

    /// The same as a rate: the share of the longest stay that passes in a second, which has the form of an oxidation.
    pub fn stay_law(&self) -> Oxidation {
        Oxidation {
            rate: 1.0 / self.drying.hold.value.si(),
            reference_temperature: self.drying.temperature.value.si(),
            activation_energy: self.hold_energy().si(),
        }
    }

    /// Activation energy with which the longest stay changes: that of the harm that ends it, or 100 kJ/mol by
    /// analogy.
    pub fn hold_energy(&self) -> MolarEnergy {
        let stated = self.drying.hold_energy.as_ref();
        stated.map_or(MolarEnergy::from_si(ANALOGOUS_HOLD_ENERGY), |energy| {
            energy.value
        })
    }

    /// Share by mass of the polymer in the dry resin.
    pub fn polymer_share(&self) -> Fraction {
        self.filler
            .as_ref()
            .map_or_else(|| Fraction::from_si(1.0), Filler::polymer_share)
    }

    /// Activation energy of diffusion, for tables.
    pub fn activation_energy(&self) -> Option<MolarEnergy> {
        self.diffusivity
            .value("activation_energy")
            .map(|evidence| MolarEnergy::from_si(evidence.value))
    }
}
