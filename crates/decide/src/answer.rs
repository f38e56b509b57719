//! The answer of a plan, as plain data: what to set, what comes out, what limits it, how sure.
//!
//! Names carry their unit. Moisture is in ppm by mass on the wet basis, as laboratories report it;
//! temperatures in degC; masses and rates count dry resin and dry air unless the name says wet.

use crate::data_sheet::SheetBeside;
use bed::hopper::FlowThrough;
use bed::profile::Level;
use bed::run::Moment;
use bed::steady::Place;
use job::Entry;
use material::Caution;
use quantity::Ledger;
use serde::Serialize;

/// Where the answer stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// The limit is met and nothing is harmed.
    InWindow,
    /// The same by the best value, but in fewer draws than [`crate::stand::SURE`] of what the
    /// evidence leaves open.
    NotSure,
    /// The limit is met, but below the lower edge.
    TooDry,
    /// The limit is not met.
    Wet,
    /// Pellets would fuse at this moisture, load and temperature.
    Sticks,
    /// Pellets stay longer than they bear.
    Cooked,
    /// The resin must be crystallised with agitation before it may rest in a hot hopper.
    CrystalliseFirst,
}

impl Verdict {
    /// Whether there is no plan at all: something has to be done to the resin first.
    pub fn is_refused(self) -> bool {
        self == Self::CrystalliseFirst
    }

    /// Whether the best value meets the limit and nothing is harmed, sure or not.
    pub fn is_met(self) -> bool {
        matches!(self, Self::InWindow | Self::NotSure)
    }
}

/// A setting of hopper and air.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Settings {
    /// Air temperature at the inlet.
    pub air_temperature_c: f64,
    /// Mean residence above the air inlet.
    pub residence_h: f64,
    /// Dry air.
    pub air_flow_kg_h: f64,
    /// The same counted at 20 degC and 1 atm.
    pub air_flow_m3_h_at_20_c: f64,
    /// Dry air per wet resin.
    pub air_per_resin_kg_kg: f64,
    /// Frost point of the air at the pressure of the hopper (dew point above 0 degC).
    pub frost_point_c: f64,
    /// Humidity ratio of the air.
    pub humidity_g_kg: f64,
    /// Dry resin between inlet and level.
    pub bed_mass_kg: f64,
    /// Dry resin below the inlet.
    pub below_inlet_kg: f64,
    /// Volume of the hopper at the stated fill.
    pub hopper_volume_l: f64,
    /// Level as a share of the volume.
    pub fill: f64,
    /// Inner diameter of the cylinder.
    pub diameter_mm: f64,
    /// Bed height above the inlet.
    pub bed_height_mm: f64,
}

/// A value and the range in which it lies nine times in ten.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Ranged {
    /// Best value.
    pub value: f64,
    /// One in twenty lies below.
    pub low: f64,
    /// One in twenty lies above.
    pub high: f64,
}

/// Moisture of what leaves, ppm wet basis.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct OutletMoisture {
    /// Mean over pellets and streams (the mean of a shot), with the doubt of the evidence.
    pub mean_ppm_wet: Ranged,
    /// Surface of the mean pellet.
    pub surface_ppm_wet: f64,
    /// Heart of the mean pellet.
    pub heart_ppm_wet: f64,
    /// Limit at the throat.
    pub limit_ppm_wet: f64,
    /// Lower edge, where the resin has one.
    pub lower_edge_ppm_wet: Option<f64>,
    /// The wettest 1 % of pellets are above this.
    pub wettest_percent_ppm_wet: f64,
    /// The driest 1 % of pellets are below this.
    pub driest_percent_ppm_wet: f64,
    /// Share of pellets above the limit.
    pub share_above_limit: f64,
    /// Probability that what the screw draws is at or below its limit, over the doubt of the
    /// evidence.
    pub probability_within: f64,
    /// Moisture in equilibrium with the air at its inlet: no time dries below it.
    pub floor_ppm_wet: f64,
    /// Moisture of the resin as it arrives.
    pub arriving_ppm_wet: f64,
}

/// What limits the drying.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Limit {
    /// Diffusion inside the pellet.
    Diffusion,
    /// Heat that the air brings.
    AirHeat,
    /// Equilibrium with the humidity of the air.
    DewPoint,
    /// Heat lost through the wall.
    HeatLoss,
    /// The temperature that the pellets bear without fusing.
    Sticking,
    /// The time that the pellets bear.
    OverDrying,
}

/// How much each thing holds the drying up: fall of the outlet moisture, as a share of it, if the
/// thing were taken away.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct LimitShare {
    /// The thing.
    pub limit: Limit,
    /// Fall of the outlet moisture without it, 0 to 1.
    pub share: f64,
}

/// One part of the residence time.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TimePart {
    /// What it is for.
    pub name: &'static str,
    /// Hours.
    pub hours: f64,
}

/// What a frost point buys.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct DewPointRow {
    /// Frost point delivered (dew point above 0 degC).
    pub frost_point_c: f64,
    /// Mean outlet moisture.
    pub mean_ppm_wet: f64,
}

/// Heat, air and electricity per kg of wet resin.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct EnergyUse {
    /// Heat that the pellets and their water keep.
    pub resin_kwh_kg: f64,
    /// Heat through the wall of the hopper.
    pub wall_kwh_kg: f64,
    /// Heat still in the air leaving the hopper, above the hall.
    pub return_air_kwh_kg: f64,
    /// Heat to bring the air from the hall to the inlet: the three above together.
    pub from_hall_kwh_kg: f64,
    /// Heat to bring the return air back to the inlet temperature: the least a closed loop needs.
    pub closed_loop_kwh_kg: f64,
    /// Electricity of the blower for the bed alone.
    pub blower_kwh_kg: f64,
}

/// One end of the window of rates.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct RateEnd {
    /// Wet resin.
    pub rate_kg_h: f64,
    /// What binds it.
    pub bound_by: Limit,
}

/// The window of rates that hopper and air allow.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct RateWindow {
    /// Least rate before the resin stays too long or becomes too dry; none where nothing binds.
    pub least: Option<RateEnd>,
    /// Most that meets the limit; none where no rate does.
    pub most: Option<RateEnd>,
}

/// The map of settings: outlet moisture over temperature and residence.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SettingsMap {
    /// Air temperatures.
    pub temperature_c: Vec<f64>,
    /// Residence times.
    pub residence_h: Vec<f64>,
    /// Mean outlet moisture, a row for each residence.
    pub mean_ppm_wet: Vec<Vec<f64>>,
    /// Heat to bring the return air back to the inlet temperature for each kg of wet resin, a row
    /// for each residence: [`EnergyUse::closed_loop_kwh_kg`] over the map.
    pub closed_loop_kwh_kg: Vec<Vec<f64>>,
    /// Temperature at which the pellets begin to fuse as they enter.
    pub sticking_c: f64,
    /// Longest stay before harm is usual, in air as hot as set.
    pub hold_h: f64,
    /// The same in air of each temperature of the map: it falls with temperature by the activation
    /// energy of the record, or by analogy where it names none.
    pub hold_over_temperature_h: Vec<f64>,
    /// Doubt of the recommended point along temperature (sensor), K, one standard deviation.
    pub temperature_spread_k: f64,
    /// Doubt along residence (level, flow), h, one standard deviation.
    pub residence_spread_h: f64,
}

/// The start.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Start {
    /// Time from air on to the first dry pellet at the air inlet on the fastest stream.
    pub first_dry_h: Option<f64>,
    /// Time to hold the outlet with the air at its set point before the first shot: the longer of
    /// [`Start::computed_hold_h`] and one full planned stay; none where no hold does.
    pub hold_before_drawing_h: Option<f64>,
    /// The hold after which nothing wet is drawn by the best values, without margin: on the fastest
    /// stream, or on the mean one where the fastest stays wet.
    pub computed_hold_h: Option<f64>,
    /// Whether the fastest stream stays above the limit while the mean of all streams is below it.
    pub fastest_stays_wet: bool,
    /// Resin to draw from below the inlet and put back on top before the first shot (wet mass).
    pub put_back_kg: f64,
}

/// Every coefficient the physics used.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Coefficients {
    /// Heat transfer to the pellets, film and inside together.
    pub heat_transfer_w_m2_k: f64,
    /// Mass transfer in the film.
    pub mass_transfer_m_s: f64,
    /// Pellet surface per volume of bed.
    pub interfacial_area_m2_m3: f64,
    /// Pellet surface per dry resin.
    pub surface_m2_kg: f64,
    /// Diffusivity at the temperature of the air inlet, dry.
    pub diffusivity_at_inlet_m2_s: f64,
    /// Moisture at activity 1 and the temperature of the air inlet, kg/kg dry.
    pub capacity_at_inlet_kg_kg: f64,
    /// Heat of sorption at the inlet and half the arriving moisture.
    pub sorption_heat_kj_kg: f64,
    /// Heat transfer units of the whole bed.
    pub heat_transfer_units: f64,
    /// Heat capacity flow of the air over that of the resin.
    pub capacity_ratio: f64,
    /// Slowest decay rate of the pellet over diffusivity.
    pub slowest_decay_1_m2: f64,
    /// Sauter diameter of the pellets.
    pub sauter_diameter_mm: f64,
    /// Heat transfer coefficient of the wall.
    pub wall_w_m2_k: f64,
    /// Wall of the hopper above the inlet.
    pub wall_m2: f64,
    /// Pressure in the hopper.
    pub pressure_kpa: f64,
    /// Dry resin drawn.
    pub dry_rate_kg_h: f64,
    /// Dry resin heat capacity at 0 degC, and its rise.
    pub resin_heat_j_kg_k: f64,
    /// Rise of the resin's heat capacity.
    pub resin_heat_slope_j_kg_k2: f64,
    /// Heat capacity of dry air.
    pub air_heat_j_kg_k: f64,
    /// Heat capacity of vapour.
    pub vapour_heat_j_kg_k: f64,
    /// Heat capacity of liquid water.
    pub water_heat_j_kg_k: f64,
    /// Heat of evaporation at 0 degC.
    pub evaporation_j_kg: f64,
    /// Velocity, pressure drop, approach to fluidisation.
    pub flow: FlowThrough,
    /// Parcels in the bed.
    pub parcels: usize,
    /// Modes or nodes in a pellet.
    pub fineness: usize,
}

/// One component of a lot.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LotPart {
    /// What the user calls it.
    pub name: String,
    /// Its resin.
    pub resin: String,
    /// Its share of what the screw draws, as weighed.
    pub share_percent: f64,
    /// Where it joins the others.
    pub entry: Entry,
    /// Whether it goes through the hopper.
    pub dried: bool,
    /// Moisture with which it comes.
    pub arriving_ppm_wet: f64,
    /// Moisture with which it reaches the throat, mean over its pellets and streams.
    pub leaving_ppm_wet: f64,
    /// What it brings to the moisture of the blend at the screw, kg per million kg of dry blend.
    pub brings_ppm: f64,
}

/// What a lot is made of, and what its blend brings to the screw.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LotAnswer {
    /// Its components, as the job lists them.
    pub parts: Vec<LotPart>,
    /// The component whose mean piece the pictures follow.
    pub leads: String,
    /// Limit of what leaves the hopper, so that the blend meets its own.
    pub hopper_limit_ppm_wet: f64,
    /// Whether what joins undried leaves nothing of the limit to what is dried.
    pub nothing_left: bool,
    /// Moisture of the blend at the screw.
    pub screw_ppm_wet: f64,
    /// One draw in twenty of the blend lies below.
    pub screw_low_ppm_wet: f64,
    /// One draw in twenty of the blend lies above.
    pub screw_high_ppm_wet: f64,
    /// Limit of the blend.
    pub screw_limit_ppm_wet: f64,
    /// The component that decides where the limit is missed: what is dosed undried, where the rest
    /// alone would do; otherwise that which brings most.
    pub decides: Option<String>,
    /// Share up to which that component may be dosed undried, the rest being as dry as it is.
    pub largest_share_percent: Option<f64>,
    /// The same with the usual margin kept below the limit, and no more than nine in ten of the draws
    /// bear.
    pub share_with_margin_percent: Option<f64>,
    /// Moisture to which that component would have to be dried at its present share, with the same
    /// margin.
    pub dry_below_ppm_wet: Option<f64>,
}

/// Something the reader must know, in words.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Warning {
    /// What is the matter.
    pub text: String,
    /// What to do.
    pub mend: String,
}

/// A crystalliser ahead of the hopper, and what leaves it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CrystalliserFound {
    /// Temperature of the resin in it.
    pub temperature_c: f64,
    /// Mean residence.
    pub residence_min: f64,
    /// Moisture of what comes, mean over the kinds.
    pub arriving_ppm_wet: f64,
    /// Moisture of what leaves, mean over the kinds.
    pub leaving_ppm_wet: f64,
    /// Temperature of what leaves, and enters the hopper.
    pub leaving_c: f64,
    /// Share of what can crystallise that has; none without a law measured on the resin.
    pub crystallised_share: Option<f64>,
    /// Current that it takes, kWh per kg of resin as weighed, beside the dryer.
    pub energy_kwh_kg: f64,
    /// Why it does not crystallise enough, where that is so.
    pub not_enough: Option<String>,
}

/// Where a number of the plan came from.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Provenance {
    /// Which number.
    pub what: String,
    /// Its value as written.
    pub written: String,
    /// Key of the source.
    pub source: String,
    /// Where in it.
    pub place: String,
    /// How it came to be known.
    pub grade: &'static str,
    /// Spread in words.
    pub spread: String,
}

/// The transient from the moment the air is switched on.
#[derive(Clone, Debug, Serialize)]
pub struct Transient {
    /// Moments at which resin left.
    pub moments: Vec<Moment>,
    /// Water ledger.
    pub water: Ledger,
    /// Energy ledger.
    pub energy: Ledger,
    /// Imbalance of water relative to what entered.
    pub water_imbalance: f64,
    /// Imbalance of energy relative to what entered.
    pub energy_imbalance: f64,
}

/// The bed at one moment of its start.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FrontMoment {
    /// Time since the air was switched on.
    pub time_h: f64,
    /// Dry resin between the air inlet and the height up to which pellets are warm.
    pub warm_up_to_kg: f64,
    /// Water held by the bed.
    pub water_kg: f64,
    /// Pellets and air from the air inlet up.
    pub levels: Vec<Level>,
}

/// The front that moves: how the heat climbs in the bed from the moment the air is switched on.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Front {
    /// Temperature from which pellets count as warm: three quarters of the way from feed to inlet.
    pub warm_c: f64,
    /// Dry resin between the air inlet and the height up to which pellets are warm at steady state;
    /// none where they never are.
    pub warm_up_to_kg: Option<f64>,
    /// Time at which the warm part of the bed first reaches that height, to within a twentieth of
    /// it.
    pub up_h: Option<f64>,
    /// Time from which on the moisture at the air inlet stays within a twentieth of its steady value.
    pub settled_h: Option<f64>,
    /// The bed at a few moments: while the heat climbs, while the moisture settles, and at the end.
    pub moments: Vec<FrontMoment>,
}

/// Harm over the stay of the mean pellet, from its feed to the throat.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Harm {
    /// Share of the number-average molar mass lost to water; none where no rate is known.
    pub molar_mass_loss: Option<f64>,
    /// Dose of oxidation over that which makes harm visible; none where no rate is known.
    pub oxidation_dose: Option<f64>,
}

/// What keeps a stay below what limit and margin need.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum StayBound {
    /// The margin is kept to half of what the pellets bear.
    MarginToHalf,
    /// The limit alone takes more than that half, so that no margin is added.
    LimitAlone,
    /// The pellets bear no longer stay.
    LongestStay,
    /// The hopper as given holds no more.
    GivenHopper,
}

/// A stay shorter than limit and margin need.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ShortStay {
    /// What keeps it short.
    pub bound_by: StayBound,
    /// What limit and margin need, h; two days where even they do not do.
    pub needed_h: f64,
    /// What the pellets bear in this air, h.
    pub borne_h: f64,
    /// The hopper for all of that, or for as much of it as the pellets bear; none where that is no
    /// more than they have.
    pub larger: Option<LargerHopper>,
}

/// A larger hopper, all else the same.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct LargerHopper {
    /// Residence in it.
    pub residence_h: f64,
    /// Its volume at the same fill.
    pub hopper_volume_l: f64,
    /// Share of draws that meet the limit in it.
    pub probability_within: f64,
}

/// What leaves at the nearest safe settings.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct SafeOutlet {
    /// Mean over pellets and streams.
    pub mean_ppm_wet: Ranged,
    /// Share of draws that meet the limit.
    pub probability_within: f64,
}

/// A plan.
#[derive(Clone, Debug, Serialize)]
pub struct Plan {
    /// Name of the job.
    pub title: String,
    /// Name of the resin.
    pub resin: String,
    /// Rate, wet resin.
    pub rate_kg_h: f64,
    /// Where the answer stands.
    pub verdict: Verdict,
    /// The settings judged: those given, completed with those recommended where none were given.
    pub settings: Settings,
    /// The nearest safe settings, where those judged do not do.
    pub nearest_safe: Option<Settings>,
    /// What leaves at them.
    pub nearest_safe_outlet: Option<SafeOutlet>,
    /// The component that bears the shortest stay, in a lot of which others bear more.
    pub bears_least: Option<String>,
    /// Why the stay is shorter than limit and margin need, where they are met by less.
    pub short_stay: Option<ShortStay>,
    /// Names of the settings that were chosen here and not given.
    pub chosen: Vec<&'static str>,
    /// What storage made of the resin; none where no climate is stated.
    pub stored: Option<crate::storage::Stored>,
    /// What a cold bag comes to; none where none is stated.
    pub bag: Option<crate::bag::ColdBagFound>,
    /// The way after the dryer; none for a resin that takes up no water.
    pub way: Option<crate::way::WayFound>,
    /// What leaves.
    pub outlet: OutletMoisture,
    /// What the lot is made of, where it is a mixture.
    pub lot: Option<LotAnswer>,
    /// What limits it, strongest first.
    pub limits: Vec<LimitShare>,
    /// What the residence time is made of.
    pub time_parts: Vec<TimePart>,
    /// Residence at which 95 of 100 draws meet the limit, h; none where two days do not do.
    pub surely_dry_h: Option<f64>,
    /// Customary residence of the record, h.
    pub customary_time_h: f64,
    /// Customary temperature of the record.
    pub customary_temperature_c: f64,
    /// Wettest air that keeps the mean within a twentieth of the limit of the driest.
    pub needed_frost_point_c: f64,
    /// What a frost point buys.
    pub dew_point_rows: Vec<DewPointRow>,
    /// Heat, air and electricity.
    pub energy: EnergyUse,
    /// The crystalliser ahead of the hopper, where the job states one.
    pub crystalliser: Option<CrystalliserFound>,
    /// The window of rates.
    pub rate_window: RateWindow,
    /// The start.
    pub start: Start,
    /// The map of settings.
    pub map: SettingsMap,
    /// The way of the mean pellet, from top to bottom.
    pub path: Vec<Place>,
    /// Imbalance of water at steady state, relative.
    pub water_imbalance: f64,
    /// Imbalance of energy at steady state, relative.
    pub energy_imbalance: f64,
    /// Air leaving the hopper.
    pub return_temperature_c: f64,
    /// The transient.
    pub transient: Transient,
    /// The front that moves in it.
    pub front: Front,
    /// Every coefficient.
    pub coefficients: Coefficients,
    /// What the heat, water and air of the stay do to the resin, as far as it is known.
    pub harm: Harm,
    /// What the reader must know.
    pub warnings: Vec<Warning>,
    /// What the resin can give off or do.
    pub cautions: Vec<Caution>,
    /// What over-drying does to it.
    pub over_drying: String,
    /// Where the numbers came from.
    pub evidence: Vec<Provenance>,
    /// What the data sheet says beside it.
    pub data_sheet: Option<SheetBeside>,
    /// Samples behind the ranges.
    pub samples: usize,
    /// Their seed.
    pub seed: u32,
}
