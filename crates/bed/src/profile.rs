//! A column at one moment: what pellets and air are like from the air inlet to the level.
//!
//! The state of a column is read here and nowhere else outside its own equations; a profile is what
//! a picture or a table of the bed in time is made of.

use crate::column::{Column, ColumnState, Drive};
use pellet::blend::Mixed;
use serde::{Deserialize, Serialize};

/// One height of a profile: a parcel, at its middle.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Level {
    /// Dry resin between the inlet and here, kg.
    pub height: f64,
    /// Dry resin this stands for, kg.
    pub resin: f64,
    /// Pellet temperature, K.
    pub temperature: f64,
    /// Mean sorbed moisture of the kind that is looked at, kg/kg dry: the lead unless asked.
    pub moisture: f64,
    /// Free water on it, kg/kg dry.
    pub free_water: f64,
    /// Sorbed and free water of all kinds together, kg/kg dry.
    pub water: f64,
    /// Air temperature, K: the mean of what came in below and left above over the last step.
    pub air_temperature: f64,
    /// Humidity ratio of the air, the same mean.
    pub air_humidity: f64,
}

/// A column at one moment.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Profile {
    /// Seconds since the air was switched on.
    pub time: f64,
    /// From the air inlet up.
    pub levels: Vec<Level>,
}

impl Profile {
    /// Reads a column that has stood under `drive` until `time`.
    pub fn of(column: &Column, state: &ColumnState, drive: &Drive, time: f64) -> Self {
        Self::of_kind(column, state, drive, time, 0)
    }

    /// The same with the moisture and free water of another kind than the lead, which is 0; those
    /// beside it count from 1, and a number that no kind has gives those of the lead.
    pub fn of_kind(
        column: &Column,
        state: &ColumnState,
        drive: &Drive,
        time: f64,
        kind: usize,
    ) -> Self {
        let mass = column.parcel_mass();
        let mut below = (drive.air_temperature, drive.air_humidity);
        let mut height = 0.0;
        let levels = state
            .layers
            .iter()
            .map(|layer| {
                let resin = layer.share * mass;
                let own = layer.parcel.of_kind(kind).unwrap_or(&layer.parcel.lead);
                let level = Level {
                    height: height + 0.5 * resin,
                    resin,
                    temperature: layer.parcel.temperature(),
                    moisture: own.moisture,
                    free_water: own.free_water,
                    water: column.blend().water(&layer.parcel),
                    air_temperature: 0.5 * (below.0 + layer.air.0),
                    air_humidity: 0.5 * (below.1 + layer.air.1),
                };
                below = layer.air;
                height += resin;
                level
            })
            .collect();
        Self { time, levels }
    }

    /// The same with the temperatures averaged where they ring: parcels that enter a hot top in one
    /// step leave every other one too warm and too cold. For showing; water is not touched.
    #[must_use]
    pub fn calmed(mut self) -> Self {
        let pellets = self.levels.iter().map(|level| level.temperature);
        let air = self.levels.iter().map(|level| level.air_temperature);
        let (pellets, air) = (calm(pellets.collect()), calm(air.collect()));
        for ((level, warm), air) in self.levels.iter_mut().zip(pellets).zip(air) {
            (level.temperature, level.air_temperature) = (warm, air);
        }
        self
    }

    /// Water held, sorbed and free, kg.
    pub fn water(&self) -> f64 {
        let each = |level: &Level| level.resin * level.water;
        self.levels.iter().map(each).sum()
    }
}

impl Column {
    /// The pellets of a column that is emptied, the lowest first, each with its dry resin in kg.
    pub fn emptied(&self, state: ColumnState) -> Vec<(f64, Mixed)> {
        let mass = self.parcel_mass();
        state
            .layers
            .into_iter()
            .map(|layer| (layer.share * mass, layer.parcel))
            .collect()
    }

    /// Lowest temperature of the pellets, K.
    pub fn coldest(&self, state: &ColumnState) -> f64 {
        let pellets = state.layers.iter().map(|layer| layer.parcel.temperature());
        pellets.fold(f64::INFINITY, f64::min)
    }
}

/// Times that values which ring are averaged.
const PASSES: usize = 4;

/// Values with each that stands out against both its neighbours made the binomial mean of the
/// three, a few times over; the last, where it turns back, the mean of the last two.
fn calm(mut values: Vec<f64>) -> Vec<f64> {
    let turns = |before: f64, here: f64, after: f64| (here - before) * (after - here) < 0.0;
    for _ in 0..PASSES {
        let rough = values.clone();
        for (here, three) in values.iter_mut().skip(1).zip(rough.windows(3)) {
            if turns(three[0], three[1], three[2]) {
                *here = 0.25 * (three[0] + 2.0 * three[1] + three[2]);
            }
        }
        if let ([.., first, second, third], Some(last)) = (&rough[..], values.last_mut())
            && turns(*first, *second, *third)
        {
            *last = 0.5 * (second + third);
        }
    }
    values
}

#[cfg(test)]
mod tests {
    use super::{Level, Profile, calm};
    use crate::BedError;
    use crate::column::{Column, ColumnState, Drive, Feeding};
    use crate::run::watch;
    use crate::trials::{DRIVE, HENRY, column, constant, steadily};
    use pellet::blend::Beside;

    /// A start followed for so many hours, looked at after every step.
    fn seen(
        column: &Column,
        hours: f64,
        mut look: impl FnMut(&ColumnState, Profile),
    ) -> Result<(), BedError> {
        let state = column.filled(DRIVE.feed_temperature, DRIVE.feed_moisture, 1e-4);
        let each = |state: &ColumnState, drive: &Drive, time: f64| {
            look(state, Profile::of(column, state, drive, time));
        };
        watch(
            column,
            state,
            3600.0 * hours,
            (0.0, 0.0),
            steadily(DRIVE),
            each,
        )?;
        Ok(())
    }

    #[test]
    fn exact_what_rings_is_calmed_and_what_bends_is_kept() {
        let bend = vec![9.0, 8.0, 6.0, 1.0, 0.5, 0.5, 0.4];
        assert_eq!(calm(bend.clone()), bend);
        let ringing: Vec<f64> = (0..9_i32)
            .map(|k| f64::from(10 - k) + if k > 3 { 1.5 * (-1_f64).powi(k) } else { 0.0 })
            .collect();
        let calmed = calm(ringing);
        let falls = |pair: &[f64]| pair[0] > pair[1] - 0.05;
        assert!(calmed.windows(2).all(falls), "{calmed:?}");
        assert!(calm(Vec::new()).is_empty() && calm(vec![1.0, 2.0]) == [1.0, 2.0]);
    }

    #[test]
    fn holds_a_profile_has_the_water_that_is_held() -> Result<(), BedError> {
        for feeding in [Feeding::Continuous, Feeding::Batches(4.0)] {
            let column = Column {
                feeding,
                ..column(HENRY, constant(33.1e3), 24)?
            };
            let mut looks = 0;
            seen(&column, 8.0, |state, profile| {
                looks += 1;
                let [resin, water, _] = column.held(state);
                assert!((profile.water() / water - 1.0).abs() < 1e-12);
                let top = profile
                    .levels
                    .last()
                    .map_or(0.0, |l| l.height + 0.5 * l.resin);
                assert!((top / resin - 1.0).abs() < 1e-12, "{top} {resin}");
            })?;
            assert!(looks > 24, "{looks}");
        }
        Ok(())
    }

    #[test]
    fn holds_the_kinds_of_a_profile_share_its_water() -> Result<(), BedError> {
        let mut column = column(HENRY, constant(33.1e3), 24)?;
        column.beside.push(Beside {
            share: 0.25,
            contact: column.contact.clone(),
            moisture: 5e-3,
            free_water: 0.0,
        });
        let state = column.filled(DRIVE.feed_temperature, DRIVE.feed_moisture, 0.0);
        let look = |state: &ColumnState, drive: &Drive, time: f64| {
            let of_kind = |kind| Profile::of_kind(&column, state, drive, time, kind);
            let (lead, other) = (Profile::of(&column, state, drive, time), of_kind(1));
            assert_eq!((&lead, &lead), (&of_kind(0), &of_kind(7)));
            for (one, two) in lead.levels.iter().zip(&other.levels) {
                let sum = |x: &Level| x.moisture + x.free_water;
                let mean = 0.75 * sum(one) + 0.25 * sum(two);
                assert!((mean / one.water - 1.0).abs() < 1e-12 && two.moisture > one.moisture);
            }
        };
        let (pair, drive) = ((0.0, 0.0), steadily(DRIVE));
        watch(&column, state, 3600.0 * 3.0, pair, drive, look)?;
        Ok(())
    }

    #[test]
    fn holds_the_last_profile_lies_on_the_steady_way() -> Result<(), BedError> {
        let column = column(HENRY, constant(33.1e3), 60)?;
        let steady = column.steady(&DRIVE)?;
        let mut last = None;
        seen(&column, 40.0, |_, profile| last = Some(profile))?;
        let levels = last.map_or_else(Vec::new, |profile| profile.levels);
        assert!(levels.len() >= 60, "{}", levels.len());
        // Away from the two ends, where parcels are only partly in the bed.
        for level in &levels[2..56] {
            let near = steady
                .lead
                .path
                .windows(2)
                .find(|pair| pair[0].height >= level.height && level.height >= pair[1].height);
            let Some([above, below]) = near else {
                panic!("no place at {} kg", level.height);
            };
            let share = (level.height - below.height) / (above.height - below.height);
            let between = |low: f64, high: f64| low + share * (high - low);
            let warm = between(below.temperature, above.temperature);
            assert!((level.temperature - warm).abs() < 0.3, "{level:?} {warm}");
            let air = between(below.air_temperature, above.air_temperature);
            assert!((level.air_temperature - air).abs() < 0.6, "{level:?} {air}");
            let wet = between(below.moisture, above.moisture);
            assert!((level.moisture / wet - 1.0).abs() < 0.02, "{level:?} {wet}");
        }
        Ok(())
    }

    #[test]
    fn holds_the_heat_climbs() -> Result<(), BedError> {
        let column = column(HENRY, constant(33.1e3), 24)?;
        let mut before = 0.0;
        seen(&column, 10.0, |_, profile| {
            let warm = profile.levels.iter().filter(|l| l.temperature > 350.0);
            let height: f64 = warm.map(|level| level.resin).sum();
            assert!(
                height > before - 1.5 * column.parcel_mass(),
                "{height} {before}"
            );
            before = height;
        })?;
        assert!(before > 0.5 * column.mass, "{before}");
        Ok(())
    }
}
