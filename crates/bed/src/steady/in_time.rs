//! The steady column found by following it until it no longer changes.

use super::{Place, Steady, Way, place};
use crate::BedError;
use crate::column::{Column, ColumnState, Drive, Feeding, Passed};
use pellet::blend::Mixed;

impl Column {
    /// Follows the column, started dry and hot, until the resin and the air leaving repeat
    /// themselves over a residence. A bed that keeps wandering (water that evaporates below,
    /// condenses above and is carried back) is shown as it is in the end, with the mean of its last
    /// residence and its unrest in [`Steady::unrest`].
    pub(super) fn steady_in_time(&self, drive: &Drive) -> Result<Steady, BedError> {
        const MOST_RESIDENCES: usize = 40;
        let column = Self {
            steps_per_parcel: 1,
            feeding: Feeding::Continuous,
            ..self.clone()
        };
        let mut state = column.filled(drive.air_temperature, 0.0, 0.0);
        let mut last = (f64::INFINITY, f64::INFINITY);
        let mut residence = 0;
        loop {
            residence += 1;
            let mut passed = Passed::default();
            let (mut water, mut resin) = (0.0, 0.0);
            for _ in 0..column.parcels {
                passed = column.step(&mut state, drive, f64::INFINITY)?;
                water += passed.water_out;
                resin += passed.resin_out;
            }
            let now = (water / resin, passed.return_temperature);
            let unrest =
                (now.0 - last.0).abs() / now.0.abs().max(1e-9) + (now.1 - last.1).abs() * 1e-3;
            last = now;
            if unrest < 1e-7 || residence == MOST_RESIDENCES {
                let mut found = column.seen(drive, &state, &passed, residence);
                found.unrest = unrest;
                found.outlet_free_water = found.outlet_free_water.min(now.0);
                found.outlet_moisture = now.0 - found.outlet_free_water;
                return Ok(found);
            }
        }
    }

    /// What a column that no longer changes shows.
    fn seen(&self, drive: &Drive, state: &ColumnState, passed: &Passed, rounds: usize) -> Steady {
        let fresh = self.fresh(drive);
        let moisture = passed.water_out / passed.resin_out;
        let mut ways: Vec<Way> = (0..=self.beside.len())
            .map(|kind| self.way(drive, state, passed, &fresh, kind))
            .collect();
        let shares: Vec<f64> = self.blend().kinds().map(|(share, _)| share).collect();
        // The ways show the lowest parcel; what leaves is the mean over its last step.
        let shown: f64 = ways.iter().zip(&shares).map(|(w, s)| s * w.water()).sum();
        let ratio = if shown > 0.0 { moisture / shown } else { 1.0 };
        let mut free = 0.0;
        for (way, share) in ways.iter_mut().zip(&shares) {
            let water = ratio * way.water();
            way.free_water = way.free_water.min(water);
            way.moisture = water - way.free_water;
            if let Some(last) = way.path.last_mut() {
                last.moisture = way.moisture;
            }
            free += share * way.free_water;
        }
        let beside = ways.split_off(1);
        let water_in = passed.water_in + passed.air_water_in;
        let heat_in = passed.heat_in + passed.air_heat_in;
        Steady {
            lead: ways.pop().unwrap_or_default(),
            beside,
            outlet_moisture: moisture - free,
            outlet_free_water: free,
            outlet_temperature: passed.outlet_temperature,
            return_temperature: passed.return_temperature,
            return_humidity: passed.return_humidity,
            feed_heat: passed.heat_in / passed.duration,
            outlet_heat: passed.heat_out / passed.duration,
            wall_heat: passed.wall_heat / passed.duration,
            energy_imbalance: (heat_in - passed.heat_out - passed.air_heat_out - passed.wall_heat)
                / heat_in.abs().max(f64::MIN_POSITIVE),
            water_imbalance: (water_in - passed.water_out - passed.air_water_out)
                / water_in.max(f64::MIN_POSITIVE),
            rounds,
            unrest: 0.0,
        }
    }
    /// The way of one kind through a column, at one time.
    fn way(
        &self,
        drive: &Drive,
        state: &ColumnState,
        passed: &Passed,
        fresh: &Mixed,
        kind: usize,
    ) -> Way {
        let Some((_, contact)) = self.blend().kinds().nth(kind) else {
            return Way::default();
        };
        let mass = self.parcel_mass();
        let mut path = Vec::with_capacity(state.layers.len() + 2);
        let back = (passed.return_temperature, passed.return_humidity);
        if let Some(parcel) = fresh.of_kind(kind) {
            path.push(place(contact, parcel, self.mass, 0.0, back.0, back.1));
        }
        let mut height = self.mass;
        for layer in state.layers.iter().rev() {
            height -= 0.5 * mass;
            let age = (self.mass - height) / drive.rate;
            if let Some(parcel) = layer.parcel.of_kind(kind) {
                path.push(place(
                    contact,
                    parcel,
                    height,
                    age,
                    layer.air.0,
                    layer.air.1,
                ));
            }
            height -= 0.5 * mass;
        }
        let lowest = path.last().copied();
        if let Some(lowest) = lowest {
            path.push(Place {
                height: 0.0,
                age: self.mass / drive.rate,
                temperature: passed.outlet_temperature,
                air_temperature: drive.air_temperature,
                air_humidity: drive.air_humidity,
                ..lowest
            });
        }
        Way {
            path,
            moisture: lowest.map_or(0.0, |place| place.moisture),
            free_water: lowest.map_or(0.0, |place| place.free_water),
        }
    }
}
