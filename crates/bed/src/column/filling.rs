//! A column whose level rises and falls, and one that stands without air.

use super::{Column, ColumnState, Drive, Feeding, Layer, Passed, at_of};
use crate::lived::{Harms, Lived};

impl ColumnState {
    /// The same, in which each parcel is followed for what it lives through from now on.
    #[must_use]
    pub fn followed(self, harms: Harms) -> Self {
        Self {
            harms: Some(harms),
            ..self
        }
    }

    /// The same, at a time (s) of whoever follows it.
    #[must_use]
    pub fn at(mut self, time: f64) -> Self {
        for layer in &mut self.layers {
            layer.lived.fed_at += time - self.time;
        }
        self.time = time;
        self
    }

    /// Its layers from the air inlet up: share of a parcel, temperature (K), water of the lead with what is free
    /// (kg/kg dry).
    pub fn layers(&self) -> impl Iterator<Item = (f64, f64, f64)> {
        self.layers.iter().map(|layer| {
            (
                layer.share,
                layer.parcel.temperature(),
                layer.parcel.lead.water(),
            )
        })
    }

    /// Resin missing below the full level, kg dry.
    pub fn missing(&self) -> f64 {
        self.missing
    }

    /// Whether nothing is left in it.
    pub fn is_empty(&self) -> bool {
        self.layers.is_empty()
    }

    /// The temperature (K) at a share (0 at the air inlet, 1 on top) of what stands in it; none when empty.
    pub fn temperature_at(&self, share: f64) -> Option<f64> {
        let held: f64 = self.layers.iter().map(|layer| layer.share).sum();
        let mut up = 0.0;
        for layer in &self.layers {
            up += layer.share;
            if up >= share * held {
                return Some(layer.parcel.temperature());
            }
        }
        self.layers.back().map(|layer| layer.parcel.temperature())
    }
}

impl Column {
    /// Tips batches on top when their room has come free.
    pub(super) fn feed(&self, state: &mut ColumnState, drive: &Drive, passed: &mut Passed) {
        let Feeding::Batches(batch) = self.feeding else {
            return;
        };
        while state.missing >= batch * (1.0 - 1e-9) {
            self.tip(state, drive, batch, passed);
        }
    }

    /// Tips a mass (kg dry) as it is fed on top, up to the full level; what goes in is counted in `passed`.
    pub fn tip(&self, state: &mut ColumnState, drive: &Drive, amount: f64, passed: &mut Passed) {
        let mass = self.parcel_mass();
        let fresh = self.fresh(drive);
        let amount = amount.min(state.missing).max(0.0);
        let mut left = amount;
        while left > 1e-12 * mass {
            let share = (left / mass).min(1.0);
            state.layers.push_back(Layer {
                parcel: fresh.clone(),
                share,
                air: (drive.feed_temperature, drive.air_humidity),
                lived: Lived::fed(state.time, drive.feed_temperature),
            });
            left -= share * mass;
        }
        state.missing -= amount;
        passed.resin_in += amount;
        passed.water_in += amount * self.blend().water(&fresh);
        passed.heat_in += amount * self.blend().enthalpy(&fresh);
    }

    /// Air through a hopper in which nothing stands.
    pub(super) fn empty(&self, state: &mut ColumnState, drive: &Drive, duration: f64) -> Passed {
        let calorics = &self.contact.calorics;
        let (t, y) = (drive.air_temperature, drive.air_humidity);
        let air = drive.air_flow * duration;
        let heat = air * calorics.air_enthalpy(t, y);
        state.last = None;
        state.time += duration;
        Passed {
            duration,
            air,
            air_water_in: air * y,
            air_water_out: air * y,
            air_heat_in: heat,
            air_heat_out: heat,
            return_temperature: t,
            return_humidity: y,
            ..Passed::default()
        }
    }

    /// Lets `duration` seconds pass without air and without draw: the pellets keep their water and lose
    /// heat through the wall alone, each slice through its own part of it,
    /// `C dT/dt = -G (T - T_ambient)`. No heat passes from slice to slice, and inside the pellets the
    /// water is left where it is. What the wall takes is told.
    pub fn stand(&self, state: &mut ColumnState, ambient: f64, duration: f64) -> Passed {
        let mut passed = Passed {
            duration,
            ..Passed::default()
        };
        let (mass, blend) = (self.parcel_mass(), self.blend());
        let mut height = 0.0;
        for layer in &mut state.layers {
            let thick = layer.share * mass;
            let conductance = self.wall_between(height, height + thick);
            height += thick;
            let before = layer.parcel.temperature();
            let capacity = thick * blend.capacity(&layer.parcel);
            if capacity > 0.0 {
                let heat = blend.enthalpy(&layer.parcel);
                let left = libm::exp(-conductance * duration / capacity);
                blend.bring_to(&mut layer.parcel, ambient + (before - ambient) * left);
                passed.wall_heat += thick * (heat - blend.enthalpy(&layer.parcel));
            }
            layer.parcel.jolt();
            if let Some(harms) = &state.harms {
                let end = at_of(&layer.parcel);
                let ends = [(before, end.1, end.2), end];
                let isotherm = &self.contact.isotherm;
                layer.lived.live(harms, isotherm, ends, duration);
            }
        }
        state.last = None;
        state.time += duration;
        passed
    }
}

#[cfg(test)]
mod tests {
    #![expect(
        clippy::unwrap_used,
        reason = "a trial that cannot be built has failed"
    )]

    use super::{Column, Drive, Feeding, Passed};
    use crate::column::Wall;
    use crate::lived::Harms;
    use crate::trials::{HENRY, column as trial, constant};

    fn column(feeding: Feeding) -> Column {
        Column {
            feeding,
            wall: Wall::of_slices(&[0.05; 40]),
            mass: 100.0,
            ..trial(HENRY, constant(33e3), 20).unwrap()
        }
    }

    fn drive(rate: f64) -> Drive {
        Drive {
            rate,
            air_flow: 0.017,
            air_temperature: 393.15,
            air_humidity: 1e-4,
            feed_temperature: 296.15,
            feed_moisture: 2e-3,
            feed_free_water: 0.0,
            ambient: 296.15,
        }
    }

    #[test]
    fn holds_a_hopper_that_is_run_down_and_filled_again_keeps_its_books() {
        let column = column(Feeding::Shut);
        let mut state = column.filled(350.0, 2e-3, 0.0).followed(Harms::default());
        let start = column.held(&state);
        let (mut resin, mut water, mut heat) = (0.0, 0.0, 0.0);
        let mut book = |passed: &Passed| {
            resin += passed.resin_in - passed.resin_out;
            water += passed.water_in - passed.water_out;
            water += passed.air_water_in - passed.air_water_out;
            heat += passed.heat_in - passed.heat_out - passed.wall_heat;
            heat += passed.air_heat_in - passed.air_heat_out;
        };
        // Drawn until nothing is left, and on.
        let mut time = 0.0;
        while time < 6.0 * 3600.0 {
            let passed = column.step(&mut state, &drive(0.006), 60.0).unwrap();
            time += passed.duration;
            book(&passed);
        }
        assert!(state.is_empty() && (state.missing() - 100.0).abs() < 1e-9);
        let mut tipped = Passed::default();
        column.tip(&mut state, &drive(0.0), 250.0, &mut tipped);
        assert!(
            (tipped.resin_in - 100.0).abs() < 1e-9,
            "{}",
            tipped.resin_in
        );
        book(&tipped);
        book(&column.step(&mut state, &drive(0.0), 60.0).unwrap());
        book(&column.stand(&mut state, 296.15, 3600.0));
        let end = column.held(&state);
        for (gain, (was, is)) in [resin, water, heat].iter().zip(start.iter().zip(&end)) {
            assert!(
                (gain - (is - was)).abs() < 1e-9 * was.abs(),
                "{gain} {was} {is}"
            );
        }
    }

    #[test]
    fn exact_a_hopper_without_air_cools_as_its_wall_lets_it() {
        let column = column(Feeding::Continuous);
        let mut state = column.filled(393.15, 1e-4, 0.0);
        for _ in 0..10 {
            column.stand(&mut state, 296.15, 600.0);
        }
        // 40 slices of 0.05 W/K on 100 kg: the heat capacity falls with temperature, so between the two.
        let capacity = |t: f64| column.contact.calorics.resin_capacity(t, 1e-4, 0.0);
        let left = |t: f64| (-2.0 * 6000.0 / (100.0 * capacity(t))).exp();
        let found = (state.temperature_at(0.5).unwrap() - 296.15) / 97.0;
        assert!(
            found <= left(393.15) + 1e-12 && found >= left(296.15) - 1e-12,
            "{found}"
        );
        assert!((column.held(&state)[1] - 1e-2).abs() < 1e-12);
    }

    #[test]
    fn holds_what_leaves_has_lived_as_long_as_it_stayed() {
        let column = column(Feeding::Continuous);
        let mut state = column.filled(296.15, 2e-3, 0.0).followed(Harms {
            hot_from: 0.0,
            ..Harms::default()
        });
        let (mut time, mut last) = (0.0, (0.0, 0.0));
        while time < 12.0 * 3600.0 {
            let passed = column.step(&mut state, &drive(0.006), 60.0).unwrap();
            time += passed.duration;
            if passed.resin_out > 0.0 {
                let stay = time - passed.lived.fed_at / passed.resin_out;
                last = (stay, passed.lived.hot / passed.resin_out);
            }
        }
        let stay = 100.0 / 0.006;
        assert!((last.0 / stay - 1.0).abs() < 0.03, "{last:?}");
        assert!((last.1 / stay - 1.0).abs() < 0.03, "{last:?}");
    }
}
