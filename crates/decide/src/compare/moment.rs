//! One run of a cell on one day, on one dryer.

use crate::DecideError;
use crate::ahead::ahead;
use crate::case::{Case, celsius};
use crate::closed::{line_of, on_the_day, settle};
use crate::compare::cell::SettledRun;
use crate::compare::kinds::{Batches, Dryer};
use crate::compare::sampled::{Asked, Sampled};
use crate::compare::{DayRun, HopperDay, LoopState, money};
use crate::plan::ppm_wet;
use job::Day;
use line::equipment::{Equipment, Machine};
use line::{Account, Line, Room, Served};
use quantity::Quantity;

/// One run of a cell on one day.
pub(super) struct Now<'a> {
    /// Which run.
    pub(super) index: usize,
    pub(super) run: &'a SettledRun,
    day: &'a Day,
    /// Part of the running time of the year.
    share: f64,
    pub(super) room: Room,
    pub(super) cases: Vec<Case>,
    /// What crystallisers ahead of the hoppers took and did.
    account: Account,
    said: Vec<String>,
}

impl<'a> Now<'a> {
    pub(super) fn of(
        index: usize,
        run: &'a SettledRun,
        day: &'a Day,
        days: &[Day],
    ) -> Result<Self, DecideError> {
        let (mut cases, mut room) = (Vec::with_capacity(run.fed.len()), None);
        let (mut account, mut said) = (Account::default(), Vec::new());
        for (case, crystalliser) in &run.fed {
            let (mut case, hall) = on_the_day(case, day)?;
            if let Some(stated) = crystalliser {
                let behind = ahead(&case, stated, &hall)?;
                case = behind.case;
                account.take(behind.account);
                said.push(behind.said);
            }
            cases.push(case);
            room.get_or_insert(hall);
        }
        let year: f64 = days.iter().map(|day| day.share.si()).sum();
        Ok(Self {
            index,
            run,
            day,
            share: run.share * day.share.si() / year,
            room: room.ok_or(DecideError::NoJob)?,
            cases,
            account,
            said,
        })
    }

    /// What the day is called.
    pub(super) fn day(&self) -> &str {
        &self.day.name
    }

    /// Wet resin drawn, kg/s.
    fn rate(&self) -> f64 {
        self.cases.iter().map(Case::wet_rate).sum()
    }

    /// On a dryer.
    pub(super) fn of_dryer(
        &self,
        dryer: &Dryer,
        draws: (u32, u32),
        told: &(dyn Fn(f64) + Sync),
    ) -> Result<DayRun, DecideError> {
        match dryer {
            Dryer::Air(equipment) => self.in_loop(equipment, draws, told),
            Dryer::Batches(dryer) => self.in_batches(dryer.as_ref(), draws, told),
        }
    }

    /// A dryer closed round the hoppers.
    fn in_loop(
        &self,
        equipment: &Equipment,
        draws: (u32, u32),
        told: &(dyn Fn(f64) + Sync),
    ) -> Result<DayRun, DecideError> {
        let line = line_of(equipment, &self.cases, self.room)?;
        let steady = settle(&line, None, &equipment.title)?;
        let asked = Asked::of(self, draws);
        let sampled = asked.closed(equipment, &line, &steady, told)?;
        let supply = dryer::condensation_temperature(steady.delivered.humidity, self.room.pressure);
        let mut told = self.told(sampled, steady.account, free_air(equipment));
        for (hopper, served) in told.hoppers.iter_mut().zip(&steady.stations) {
            hopper.inlet_c = Some(celsius(served.inlet.temperature));
        }
        Ok(DayRun {
            supply_point_c: Some(celsius(supply)),
            return_c: Some(celsius(steady.returned.temperature)),
            shortfalls: steady.shortfalls,
            heater_used: heater_used(&line, &steady.stations),
            states: self.states(&steady.states),
            ..told
        })
    }

    /// A dryer with chambers of its own.
    fn in_batches(
        &self,
        dryer: &dyn Batches,
        draws: (u32, u32),
        told: &(dyn Fn(f64) + Sync),
    ) -> Result<DayRun, DecideError> {
        let dried = dryer.dry(&self.cases, &self.room, 0.0)?;
        let asked = Asked::of(self, draws);
        let sampled = asked.in_batches(dryer, &self.room, (&dried.outlets, &dried.stays), told);
        Ok(DayRun {
            shortfalls: dried.shortfalls,
            warnings: self.said.iter().cloned().chain(dried.warnings).collect(),
            ..self.told(sampled, dried.account, 1.0)
        })
    }

    /// The numbered states of a loop in the units people use.
    fn states(&self, states: &[line::State]) -> Vec<LoopState> {
        let each = states.iter().map(|state| LoopState {
            place: state.place.to_owned(),
            dry_air_kg_h: 3600.0 * state.stream.dry_air,
            temperature_c: celsius(state.stream.temperature),
            humidity_g_kg: 1e3 * state.stream.humidity,
            point_c: celsius(dryer::condensation_temperature(
                state.stream.humidity,
                self.room.pressure,
            )),
        });
        each.collect()
    }

    /// What an account and the draws tell; a volume of compressed air as it is counted is so many of 20
    /// degC and 1 atm.
    fn told(&self, sampled: Sampled, mut account: Account, free_air: f64) -> DayRun {
        account.take(self.account.clone());
        let rate = self.rate();
        let elsewhere: f64 = account.elsewhere.iter().map(|drawn| drawn.power).sum();
        DayRun {
            run: self.index,
            day: self.day.name.clone(),
            share: self.share,
            hall: (celsius(self.room.temperature), self.room.humidity),
            hall_point_c: celsius(dryer::condensation_temperature(
                self.room.humidity,
                self.room.pressure,
            )),
            supply_point_c: None,
            return_c: None,
            rate_kg_h: rate * 3600.0,
            hoppers: sampled
                .hoppers
                .iter()
                .zip(&self.cases)
                .map(|(hopper, case)| HopperDay {
                    resin: case.lead.resin.name.clone(),
                    inlet_c: None,
                    outlet_ppm_wet: ppm_wet(hopper.mean),
                    range_ppm_wet: (ppm_wet(hopper.low), ppm_wet(hopper.high)),
                    probability: hopper.probability,
                })
                .collect(),
            probability: sampled.probability,
            lost: sampled.lost,
            energy_draws: sampled.energies,
            elsewhere_kwh_kg: elsewhere / rate / 3.6e6,
            free_air_m3_kg: free_air * account.compressed_air / rate,
            heater_used: None,
            states: Vec::new(),
            energy_kwh_kg: account.electric_power() / rate / 3.6e6,
            heat_to_hall_w: account.heat_to_hall(),
            compressed_air_m3_kg: account.compressed_air / rate,
            cooling_water_kg_kg: money::cooling_water(&account) / rate,
            imbalance: (account.water().imbalance(), account.energy().imbalance()),
            shortfalls: Vec::new(),
            crossings: account.crossings,
            warnings: self.said.clone(),
        }
    }
}

/// The most that a heater before a hopper gives, of what it can.
fn heater_used(line: &Line, served: &[Served]) -> Option<f64> {
    let pairs = line.stations.iter().zip(served);
    pairs
        .map(|(station, served)| served.heated.power / station.heater.power_at_hand())
        .reduce(f64::max)
}

/// Volumes of 20 degC and 1 atm in one of compressed air as it is counted.
fn free_air(equipment: &Equipment) -> f64 {
    match &equipment.machine {
        Machine::Compressed(spec) => {
            spec.reference.density()
                / air::mixture::dry_air_density(
                    293.15,
                    quantity::constants::STANDARD_ATMOSPHERE,
                    0.0,
                )
        }
        _ => 1.0,
    }
}
