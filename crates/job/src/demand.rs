//! How much is drawn, how it arrives, and how dry it must be.

use crate::{ColdBag, Storage};
use material::{Evidence, MoistureLimits};
use quantity::{Duration, Fraction, Mass, MassFlow, Moisture, MoistureDryBasis, Temperature};
use serde::{Deserialize, Serialize};

/// How much resin is drawn. Rates count the wet resin as it is weighed.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Demand {
    /// A steady rate.
    Rate(MassFlow),
    /// Shots of one or several machines; the rate is that of the hour when all run.
    Shots {
        /// Mass of the parts of a shot.
        shot: Mass,
        /// Mass of the runner, if it does not come back through this hopper.
        runner: Mass,
        /// Cycle time.
        cycle: Duration,
        /// Machines drawing from this hopper.
        machines: u32,
    },
}

impl Demand {
    /// Rate of the peak hour: shots times (parts and runner) over the cycle.
    pub fn peak(&self) -> MassFlow {
        match *self {
            Self::Rate(rate) => rate,
            Self::Shots {
                shot,
                runner,
                cycle,
                machines,
            } => MassFlow::from_kg_per_s(
                (shot.kilograms() + runner.kilograms()) * f64::from(machines) / cycle.seconds(),
            ),
        }
    }

    /// Mass of one shot, over which moisture is averaged at the throat; none for a plain rate.
    pub fn shot(&self) -> Option<Mass> {
        match *self {
            Self::Rate(_) => None,
            Self::Shots { shot, runner, .. } => {
                Some(Mass::from_kilograms(shot.kilograms() + runner.kilograms()))
            }
        }
    }
}

/// How the resin arrives.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Arrival {
    /// Moisture, where it is known.
    pub moisture: Option<Moisture>,
    /// Spread of the moisture from lot to lot, one standard deviation.
    pub spread: Option<Fraction>,
    /// Storage, from which it is computed otherwise.
    pub storage: Option<Storage>,
    /// A cold bag from which they come, and with it their temperature and the water on them.
    pub bag: Option<ColdBag>,
    /// Temperature of the pellets fed, where no bag says it.
    pub temperature: Temperature,
    /// Free water on their surface.
    pub surface_water: MoistureDryBasis,
}

/// What happens to the resin after the hopper.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Process {
    /// Injection moulding.
    Moulding,
    /// Extrusion, sheet and film.
    Extrusion,
    /// Spinning fibre.
    Fibre,
}

impl Process {
    /// The limit of a record for this process; where it has none for fibre that for extrusion
    /// stands, and where it has none for extrusion that for moulding.
    pub fn limit_of(self, limits: &MoistureLimits) -> &Evidence<MoistureDryBasis> {
        let extrusion = limits.extrusion.as_ref();
        let found = match self {
            Self::Moulding => None,
            Self::Extrusion => extrusion,
            Self::Fibre => limits.fibre.as_ref().or(extrusion),
        };
        found.unwrap_or(&limits.moulding)
    }
}

/// How dry the resin must be at the throat.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Target {
    /// What follows; chooses the record's limit.
    pub process: Process,
    /// Limit, where it is stated instead of the record's.
    pub limit: Option<Moisture>,
    /// Lower edge, where it is stated instead of the record's.
    pub lower_edge: Option<Moisture>,
    /// Margin on residence time, applied once.
    pub margin: Fraction,
    /// Whether a setting outside the resin record's customary window may be recommended.
    pub outside_window: bool,
}

#[cfg(test)]
mod tests {
    use super::{Demand, Process};
    use material::{Evidence, MoistureLimits};
    use quantity::{Duration, Mass, MoistureDryBasis};

    #[test]
    fn exact_a_process_falls_back_to_the_next_limit_known() {
        let of = |ppm: f64| Evidence::stated(MoistureDryBasis::from_ppm(ppm), "");
        let mut limits = MoistureLimits {
            moulding: of(200.0),
            extrusion: Some(of(100.0)),
            fibre: Some(of(30.0)),
            lower_edge: None,
        };
        let all = [Process::Moulding, Process::Extrusion, Process::Fibre];
        let found = |limits: &MoistureLimits| {
            all.map(|process| process.limit_of(limits).value.ppm().round().to_string())
        };
        assert_eq!(found(&limits), ["200", "100", "30"]);
        limits.fibre = None;
        assert_eq!(found(&limits), ["200", "100", "100"]);
        limits.extrusion = None;
        assert_eq!(found(&limits), ["200", "200", "200"]);
    }

    #[test]
    fn exact_peak_rate_of_two_machines() {
        let demand = Demand::Shots {
            shot: Mass::from_kilograms(0.045),
            runner: Mass::from_kilograms(0.005),
            cycle: Duration::from_seconds(30.0),
            machines: 2,
        };
        assert!((demand.peak().kg_per_hour() - 12.0).abs() < 1e-12);
    }
}
