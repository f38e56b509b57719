//! The water of a steady column: each kind of pellet followed down, the humidity summed up.

use super::{Place, Slot, Unknowns, place};
use crate::BedError;
use crate::column::{Column, Drive};
use pellet::blend::{BlendWork, Mixed};
use pellet::contact::AirIn;

impl Column {
    /// Follows a parcel of each kind down, then sums the humidity up; returns the largest relative change of
    /// the humidity and of the moisture.
    #[expect(
        clippy::too_many_arguments,
        reason = "one round, each argument a different thing"
    )]
    pub(super) fn water_round(
        &self,
        drive: &Drive,
        slots: &[Slot],
        fresh: &Mixed,
        unknowns: &mut Unknowns,
        relax: f64,
        paths: &mut [Vec<Place>],
        work: &mut BlendWork,
    ) -> Result<f64, BedError> {
        let mut change = 0.0_f64;
        for kind in 0..unknowns.kinds.len() {
            change =
                change.max(self.follow_down(drive, slots, fresh, unknowns, kind, paths, work)?);
        }
        // No rise counts for more than what the film can carry away per kelvin.
        let steepest = 10.0 * self.blend().conductance() / self.contact.calorics.evaporation;
        let count = slots.len();
        for (k, slot) in slots.iter().enumerate() {
            let start = if k + 1 < count {
                unknowns.pellet[k + 1]
            } else {
                fresh.temperature()
            };
            let mean = start + slot.weight * (unknowns.pellet[k] - start);
            let rate = unknowns.rate_of_all(self, k);
            let apart = mean - unknowns.met_at[k];
            if apart.abs() > 1e-6 {
                let secant = (rate - unknowns.rate[k]) / apart;
                unknowns.rise[k] = secant.clamp(0.0, steepest);
            }
            unknowns.met_at[k] = mean;
            unknowns.rate[k] = rate;
        }
        let mut humidity = drive.air_humidity;
        for (k, slot) in slots.iter().enumerate() {
            humidity += slot.load * unknowns.rate[k];
            let next = unknowns.humidity[k] + relax * (humidity - unknowns.humidity[k]);
            change = change.max((humidity - unknowns.humidity[k]).abs() / humidity.abs().max(1e-6));
            unknowns.humidity[k] = next;
        }
        Ok(change)
    }

    /// Follows a parcel of one kind down; returns the largest relative change of its moisture.
    #[expect(
        clippy::too_many_arguments,
        reason = "one round, each argument a different thing"
    )]
    fn follow_down(
        &self,
        drive: &Drive,
        slots: &[Slot],
        fresh: &Mixed,
        unknowns: &mut Unknowns,
        kind: usize,
        paths: &mut [Vec<Place>],
        work: &mut BlendWork,
    ) -> Result<f64, BedError> {
        let count = slots.len();
        let mut all = self
            .blend()
            .kinds()
            .zip(std::iter::once(&fresh.lead).chain(&fresh.beside));
        let (Some(((share, contact), fed)), Some(work), Some(path)) =
            (all.nth(kind), work.of_kind(kind), paths.get_mut(kind))
        else {
            return Ok(0.0);
        };
        let mut parcel = fed.clone();
        let scale = parcel.water().max(1e-9);
        let mut change = 0.0_f64;
        path.clear();
        path.push(place(
            contact,
            &parcel,
            self.mass,
            0.0,
            unknowns.air[count - 1],
            unknowns.humidity[count - 1],
        ));
        let (mut height, mut age) = (self.mass, 0.0);
        for k in (0..count).rev() {
            let slot = &slots[k];
            let below = if k == 0 {
                drive.air_humidity
            } else {
                unknowns.humidity[k - 1]
            };
            let air_below = if k == 0 {
                drive.air_temperature
            } else {
                unknowns.air[k - 1]
            };
            // What the other kinds give off, as far as it is known.
            let own = share * unknowns.kinds[kind].rate[k];
            let others = if unknowns.kinds.len() > 1 {
                slot.water_lean * slot.load * (unknowns.rate_of_all(self, k) - own)
            } else {
                0.0
            };
            let start = parcel.temperature;
            let end = unknowns.pellet[k];
            let meets = AirIn {
                temperature: air_below,
                humidity: (below + others).max(0.0),
                load: share * slot.load,
                wall: slot.wall,
                pellet_wall: slot.pellet_wall,
                ambient: drive.ambient,
                heat_lean: slot.heat_lean,
                water_lean: slot.water_lean,
                end_weight: slot.settled,
            };
            let mean = start + slot.weight * (end - start);
            let rate = contact.meet_at(&mut parcel, &meets, slot.duration, (mean, end), work)?;
            let mine = &mut unknowns.kinds[kind];
            change = change.max((parcel.water() - mine.moisture[k] - mine.free[k]).abs() / scale);
            mine.rate[k] = rate;
            mine.moisture[k] = parcel.moisture;
            mine.free[k] = parcel.free_water;
            height = (height - slot.duration * drive.rate).max(0.0);
            age += slot.duration;
            if k > 0 {
                path.push(place(contact, &parcel, height, age, air_below, below));
            } else {
                // The lowest parcel crosses the plane of the inlet in the middle of its last step.
                let middle = age - 0.5 * slot.duration;
                let mut last = place(contact, &parcel, 0.0, middle, air_below, below);
                if let Some(before) = path.last() {
                    last.temperature = 0.5 * (before.temperature + last.temperature);
                    last.moisture = 0.5 * (before.moisture + last.moisture);
                    last.surface = 0.5 * (before.surface + last.surface);
                    last.heart = 0.5 * (before.heart + last.heart);
                    last.free_water = 0.5 * (before.free_water + last.free_water);
                }
                path.push(last);
            }
        }
        Ok(change)
    }
}
