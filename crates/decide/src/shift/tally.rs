//! How much resin came to the screw wet, in its window, too dry or after too long a stay.

use super::streams::Spread;
use crate::case::celsius;
use crate::plan::ppm_wet;
use line::follow::Lot;
use serde::Serialize;

/// Resin as weighed, kg, by what became of it; each kilogram counts once, in this order.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Masses {
    /// All that came to the screw.
    pub all_kg: f64,
    /// Wetter than the limit.
    pub wet_kg: f64,
    /// Hot for longer than the longest customary stay.
    pub overstayed_kg: f64,
    /// Drier than the lower edge.
    pub too_dry_kg: f64,
    /// None of these.
    pub in_window_kg: f64,
}

/// Share of the resin that may be amiss before it is said.
pub const MAY_BE: f64 = 1e-3;

impl Masses {
    /// Those of two together.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        Self {
            all_kg: self.all_kg + other.all_kg,
            wet_kg: self.wet_kg + other.wet_kg,
            overstayed_kg: self.overstayed_kg + other.overstayed_kg,
            too_dry_kg: self.too_dry_kg + other.too_dry_kg,
            in_window_kg: self.in_window_kg + other.in_window_kg,
        }
    }

    /// A part of it as a share; none of nothing.
    pub fn share(&self, kg: f64) -> f64 {
        if self.all_kg > 0.0 {
            kg / self.all_kg
        } else {
            0.0
        }
    }

    /// Whether a part of it is more than may be.
    pub fn is_much(&self, kg: f64) -> bool {
        kg > MAY_BE * self.all_kg
    }

    /// Share of all that is not as it should be.
    pub fn amiss(&self) -> f64 {
        if self.all_kg > 0.0 {
            1.0 - self.in_window_kg / self.all_kg
        } else {
            0.0
        }
    }
}

/// A lot with its streams.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Judged {
    pub(crate) lot: Lot,
    pub(crate) spread: Spread,
}

/// Limits of a resin, kg/kg dry.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Window {
    pub(crate) limit: f64,
    pub(crate) lower_edge: Option<f64>,
}

/// One lot for people.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct LotTold {
    /// Hours since the beginning at which it was fed to the hopper.
    pub fed_h: f64,
    /// At which it left the air.
    pub left_air_h: f64,
    /// At which it came to the screw.
    pub used_h: f64,
    /// Its moisture, mean.
    pub mean_ppm_wet: f64,
    /// Five percent of its pellets are wetter.
    pub high_ppm_wet: f64,
    /// What it took up on the press.
    pub taken_up_ppm: f64,
    /// Its temperature at the screw.
    pub temperature_c: f64,
    /// Share of the longest customary stay that it was hot for.
    pub stay_share: f64,
    /// Molar mass lost by hydrolysis.
    pub molar_mass_loss: f64,
    /// Share of the dose of visible oxidation.
    pub oxidation_dose: f64,
}

/// Share of the pellets of a lot that is told as its wetter end.
pub(crate) const WETTER_END: f64 = 0.95;

impl Judged {
    /// What became of it; `drawn` is what the screw draws, as weighed, per dry resin.
    pub(crate) fn masses(&self, window: &Window, drawn: f64) -> Masses {
        let all = self.lot.mass * drawn;
        let wet = self.spread.above(window.limit);
        let rest = 1.0 - wet;
        let overstayed = if self.lot.lived.stayed > 1.0 {
            rest
        } else {
            0.0
        };
        let rest = rest - overstayed;
        let below = window
            .lower_edge
            .map_or(0.0, |edge| 1.0 - self.spread.above(edge));
        let too_dry = rest.min(below);
        Masses {
            all_kg: all,
            wet_kg: all * wet,
            overstayed_kg: all * overstayed,
            too_dry_kg: all * too_dry,
            in_window_kg: all * (rest - too_dry),
        }
    }

    /// The lot for people.
    pub(crate) fn told(&self) -> LotTold {
        let lot = &self.lot;
        LotTold {
            fed_h: lot.lived.fed_at / 3600.0,
            left_air_h: lot.left_air / 3600.0,
            used_h: lot.used / 3600.0,
            mean_ppm_wet: ppm_wet(self.spread.mean),
            high_ppm_wet: ppm_wet(self.spread.quantile(WETTER_END)),
            taken_up_ppm: 1e6 * lot.taken_up,
            temperature_c: celsius(lot.temperature),
            stay_share: lot.lived.stayed,
            molar_mass_loss: material::lost_share(lot.lived.cut).fraction(),
            oxidation_dose: lot.lived.oxidised,
        }
    }
}
