//! The hopper on the machine: what the pellets take up in it, how long its lid may be open and how
//! much it may hold.

use super::{Going, LONGEST, NO_COVER, OpenTime, SHORTEST, Standing, Walk, air_of, still};
use crate::DecideError;
use crate::plan::ppm_wet;
use job::{Holding, Lid, MachineHopper};
use libm::{exp, log};
use numeric::root::bracketed;
use pellet::contact::{Exchange, Parcel};
use pellet::history::{Curve, Segment};
use quantity::{Duration, HumidityRatio, Quantity};
use serde::Serialize;

/// Heat from the wall of a vessel to still air, W/(m2 K) (common practice, no source).
const VESSEL_HEAT: f64 = 8.0;
/// Surface of a cylinder as high as wide over the two-thirds power of its volume.
const CYLINDER: f64 = 5.5358;
/// Shortest stay that is asked for, s.
const LEAST_STAY: f64 = 1.0;
/// Relative accuracy of a stay.
const CLOSE: f64 = 1e-3;

/// The hopper on the machine.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct HopperFound {
    /// Resin in it, with its water.
    pub holds_kg: f64,
    /// Time that a pellet stays.
    pub stays_min: f64,
    /// Time constant with which the heap cools.
    pub cooling_min: f64,
    /// What stands over the pellets: open, closed or purged.
    pub lid: &'static str,
    /// How long the lid may be open, from the pellets as they enter.
    pub open: OpenTime,
    /// Longest stay under the lid as stated that keeps the limit at the screw; none where a day does.
    pub most_min: Option<f64>,
    /// The resin that belongs to it.
    pub most_kg: Option<f64>,
    /// The same with half of the margin, from the dryer to the limit, left.
    pub most_half_margin_kg: Option<f64>,
    /// Moisture that the vapour of the air entering could bring in all; none where air flows freely.
    pub supply_ppm_wet: Option<f64>,
}

/// Resin in it, with its water, kg, and how long it stays, s, at a rate (kg/s).
pub(super) fn holds(hopper: &MachineHopper, rate: f64) -> (f64, f64) {
    match hopper.holding {
        Holding::Mass(mass) => (mass.si(), mass.si() / rate),
        Holding::Time(time) => (rate * time.si(), time.si()),
    }
}

impl Walk<'_> {
    /// Humidity ratio over the pellets.
    pub(super) fn over(&self, hopper: &MachineHopper) -> Result<HumidityRatio, DecideError> {
        match hopper.lid {
            Lid::Open | Lid::Closed => Ok(self.hall.ratio()),
            Lid::Purged(stated) => self.dry(stated, "the machine hopper"),
        }
    }

    /// Through the machine hopper; the pellets as they entered are handed back.
    pub(super) fn hold(
        &self,
        hopper: &MachineHopper,
        going: &mut Going,
    ) -> Result<(HopperFound, Parcel), DecideError> {
        let rate = self.case.wet_rate();
        let (mass, stay) = holds(hopper, rate);
        let entering = going.pellet.clone();
        let heap = Heap {
            air: self.over(hopper)?,
            cooling: self.cooling(hopper, mass, &entering),
            lid: hopper.lid,
        };
        self.go(self.held(&heap, &entering, stay), going)?;
        let open = Heap {
            air: self.hall.ratio(),
            lid: Lid::Open,
            ..heap
        };
        let open = self.followed(&open, &entering, LONGEST)?;
        let supply = self.hall.vapour_density / self.case.bulk_density;
        let found = HopperFound {
            holds_kg: mass,
            stays_min: stay / 60.0,
            cooling_min: heap.cooling / 60.0,
            lid: match hopper.lid {
                Lid::Open => "open",
                Lid::Closed => "closed",
                Lid::Purged(_) => "purged",
            },
            open: self.open_time(&open, entering.water()),
            most_min: None,
            most_kg: None,
            most_half_margin_kg: None,
            supply_ppm_wet: (hopper.lid == Lid::Closed).then(|| ppm_wet(supply)),
        };
        Ok((found, entering))
    }

    /// What it does to pellets that enter dried and stay for any of some times, s.
    pub(super) fn standing(
        &self,
        hopper: &MachineHopper,
        entering: &Parcel,
        stays: &[f64],
    ) -> Result<Standing, DecideError> {
        let (holds, _) = holds(hopper, self.case.wet_rate());
        let heap = Heap {
            air: self.over(hopper)?,
            cooling: self.cooling(hopper, holds, entering),
            lid: hopper.lid,
        };
        let mut uptake = vec![(0.0, 0.0)];
        for &stay in stays {
            let stretch = self.held(&heap, entering, stay);
            let (_, end) = self
                .traveller
                .through(entering, vec![stretch], Vec::new())?;
            uptake.push((stay, (end.water() - entering.water()).max(0.0)));
        }
        Ok(Standing {
            holds,
            cooling: heap.cooling,
            uptake,
        })
    }

    /// How much the hopper may hold so that the pellets come through the throat below the limit.
    pub(super) fn most(
        &self,
        way: &job::Way,
        found: &mut HopperFound,
        entering: &Parcel,
    ) -> Result<(), DecideError> {
        let Some(hopper) = &way.hopper else {
            return Ok(());
        };
        let heap = Heap {
            air: self.over(hopper)?,
            cooling: 60.0 * found.cooling_min,
            lid: hopper.lid,
        };
        let rate = self.case.wet_rate();
        let throat = way.throat.as_ref();
        let throat = throat
            .map(|throat| self.in_throat(way, throat))
            .transpose()?;
        let throat = throat.filter(|stretch| stretch.duration.si() >= SHORTEST);
        let start = entering.water();
        let stay = |level: f64| self.stay_to(&heap, entering, throat.as_ref(), level);
        let limit = self.limit;
        let most = stay(limit);
        found.most_min = most.map(|seconds| seconds / 60.0);
        found.most_kg = most.map(|seconds| rate * seconds);
        found.most_half_margin_kg = if start >= limit {
            Some(0.0)
        } else {
            stay(0.5 * (start + limit)).map(|seconds| rate * seconds)
        };
        Ok(())
    }

    /// Stay (s) at which the pellets reach the screw with a moisture; none where a day does not bring
    /// them there.
    fn stay_to(
        &self,
        heap: &Heap,
        entering: &Parcel,
        throat: Option<&Segment>,
        level: f64,
    ) -> Option<f64> {
        if entering.water() >= level {
            return Some(0.0);
        }
        // Under a lid the longer stay has less air for each hour, and a throat meets pellets that are
        // the colder the longer they stayed: each stay is followed on its own.
        let over = |seconds: f64| {
            let stretches = std::iter::once(self.held(heap, entering, seconds.max(SHORTEST)))
                .chain(throat.cloned())
                .collect();
            let through = self.traveller.through(entering, stretches, Vec::new());
            through.map_or(0.0, |(_, end)| end.water()) - level
        };
        if over(LONGEST) < 0.0 {
            return None;
        }
        if over(LEAST_STAY) >= 0.0 {
            return Some(0.0);
        }
        bracketed(log(LEAST_STAY), log(LONGEST), CLOSE, |x| over(exp(x)))
            .ok()
            .map(exp)
    }

    fn followed(&self, heap: &Heap, entering: &Parcel, stay: f64) -> Result<Curve, DecideError> {
        let stretch = self.held(heap, entering, stay.max(SHORTEST));
        Ok(self
            .traveller
            .through(entering, vec![stretch], Vec::new())?
            .0)
    }

    /// A stay in the heap.
    fn held(&self, heap: &Heap, entering: &Parcel, stay: f64) -> Segment {
        let state = air_of(self.hall.temperature, heap.air);
        let mut stretch = still("machine hopper", Duration::from_si(stay), state);
        let heat = self.capacity(entering) / heap.cooling;
        stretch.cover = Some(match heap.lid {
            Lid::Closed => self.sharing(1.0 / self.case.bulk_density, stay.max(SHORTEST), heat),
            Lid::Open | Lid::Purged(_) => Exchange {
                heat,
                vapour: NO_COVER,
            },
        });
        stretch
    }

    /// Time constant (s) of a heap of this mass.
    fn cooling(&self, hopper: &MachineHopper, mass: f64, entering: &Parcel) -> f64 {
        let computed = || {
            let volume = mass / self.case.bulk_density;
            let surface = CYLINDER * exp(2.0 / 3.0 * log(volume.max(1e-9)));
            mass * self.capacity(entering) / (VESSEL_HEAT * surface)
        };
        let stated: Option<f64> = hopper.cooling.map(Quantity::si);
        stated.unwrap_or_else(computed).max(1.0)
    }

    /// Heat capacity between the pellets as they enter and the hall, J/(kg K).
    fn capacity(&self, entering: &Parcel) -> f64 {
        let middle = 0.5 * (entering.temperature + self.hall.temperature);
        self.case
            .lead
            .calorics
            .resin_capacity(middle, entering.moisture, 0.0)
    }
}

/// Pellets in a machine hopper, SI.
#[derive(Clone, Copy)]
struct Heap {
    air: HumidityRatio,
    cooling: f64,
    lid: Lid,
}
