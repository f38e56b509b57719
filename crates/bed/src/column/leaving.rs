//! What leaves through the plane of the air inlet while the lowest parcel sinks through it.

use super::{Column, Drive, Layer, Passed};
use crate::lived::Lived;
use pellet::blend::Mixed;

/// A parcel before a step: its share in the bed and, per kg of dry resin, what it held.
pub(super) struct Before {
    pub(super) share: f64,
    temperature: f64,
    water: f64,
    heat: f64,
    lived: Lived,
}

impl Column {
    /// A parcel as a step finds it.
    pub(super) fn before(&self, layer: &Layer) -> Before {
        let blend = self.blend();
        Before {
            share: layer.share,
            temperature: layer.parcel.temperature(),
            water: blend.water(&layer.parcel),
            heat: blend.enthalpy(&layer.parcel),
            lived: layer.lived,
        }
    }

    /// Books what left of the lowest parcel over a step, until the share `after` remained, and returns how
    /// much that was, kg. `above` are share and temperature (K) of the parcel that follows.
    ///
    /// A parcel of the share f that leaves as a whole takes its mean along. Of one that leaves bit by bit the
    /// lowest goes first, which stands nearest to the air: with the temperature linear between the middles of
    /// this parcel (`T`) and the next (`T2`, share f2), what goes while f falls to f' is warmer than the whole by
    /// `(T - T2) f'/(f + f2)`, but not beyond the air entering, and the rest is colder by as much heat. Without
    /// that, parcels would take along the temperature a quarter of their height above the inlet.
    /// Water, which diffuses slowly, is left as it is: over the whole parcel it comes to the same.
    pub(super) fn leave(
        &self,
        layer: &mut Layer,
        (was, after): (&Before, f64),
        above: Option<(f64, f64)>,
        drive: &Drive,
        passed: &mut Passed,
    ) -> f64 {
        let (mass, blend) = (self.parcel_mass(), self.blend());
        let left = (was.share - after) * mass;
        let lived = was.lived.times(0.5).and(&layer.lived.times(0.5));
        let heat = blend.enthalpy(&layer.parcel);
        passed.lived = lived.times(left);
        passed.resin_out += left;
        passed.water_out += left * 0.5 * (was.water + blend.water(&layer.parcel));
        passed.heat_out += left * 0.5 * (was.heat + heat);
        passed.outlet_temperature = 0.5 * (was.temperature + layer.parcel.temperature());
        if let Some(above) = above.filter(|_| after > LAST) {
            let warmer = warmer(&layer.parcel, (was.share, after), above, drive);
            passed.outlet_temperature += warmer;
            let colder = layer.parcel.temperature() - warmer * (was.share - after) / after;
            blend.bring_to(&mut layer.parcel, colder);
            passed.heat_out += after * mass * (heat - blend.enthalpy(&layer.parcel));
        }
        left
    }
}

/// Share of a parcel below which nothing is left of it.
pub(super) const LAST: f64 = 1e-9;

/// How much warmer what leaves of a parcel is than the whole of it, K.
fn warmer(
    parcel: &Mixed,
    (share, after): (f64, f64),
    (next_share, next): (f64, f64),
    drive: &Drive,
) -> f64 {
    let here = parcel.temperature();
    let along = (here - next) * after / (share + next_share);
    let most = drive.air_temperature - here;
    along.clamp(most.min(0.0), most.max(0.0))
}
