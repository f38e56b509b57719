//! Why a state of air could not be had.

use quantity::OutOfRange;

/// Why a state of air could not be had, with the numbers that say so.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum AirError {
    /// A value lies outside the range the crate holds for, or is not a number.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// The dew point lies above the air's temperature: water would be raining out of it.
    #[error(
        "the dew point {dew_point_c} degC is above the air temperature {temperature_c} degC: such \
         air is supersaturated"
    )]
    DewPointAboveTemperature {
        /// The dew point asked for, degC.
        dew_point_c: f64,
        /// The temperature asked for, degC.
        temperature_c: f64,
    },
    /// The air holds more vapour than saturation over liquid allows at its temperature.
    #[error(
        "a vapour pressure of {vapour_pressure_pa} Pa is above the saturated {saturated_pa} Pa of \
         air at {temperature_c} degC and {pressure_pa} Pa: such air is supersaturated"
    )]
    Supersaturated {
        /// The vapour pressure asked for, Pa.
        vapour_pressure_pa: f64,
        /// The vapour pressure of saturated air at this temperature and pressure, Pa.
        saturated_pa: f64,
        /// The temperature asked for, degC.
        temperature_c: f64,
        /// The total pressure asked for, Pa.
        pressure_pa: f64,
    },
    /// The vapour would condense above the highest dew point the crate holds for.
    #[error(
        "a vapour pressure of {vapour_pressure_pa} Pa has its dew point above {highest_c} degC, the \
         highest these properties hold for"
    )]
    DewPointTooHigh {
        /// The vapour pressure asked for, Pa.
        vapour_pressure_pa: f64,
        /// The highest dew point, degC.
        highest_c: f64,
    },
    /// The vapour asked for would fill the whole pressure: steam, no air left.
    #[error(
        "a vapour pressure of {vapour_pressure_pa} Pa leaves no air at a total pressure of \
         {pressure_pa} Pa: that is steam at or above its boiling point"
    )]
    NoAirLeft {
        /// The vapour pressure asked for, Pa.
        vapour_pressure_pa: f64,
        /// The total pressure asked for, Pa.
        pressure_pa: f64,
    },
    /// Perfectly dry air has neither dew nor frost point.
    #[error("perfectly dry air has neither dew point nor frost point")]
    NoVapour,
    /// The vapour would condense as liquid, above the triple point, so it has no frost point.
    #[error(
        "a vapour pressure of {vapour_pressure_pa} Pa condenses as liquid above 0.01 degC: it has a \
         dew point and no frost point"
    )]
    NoFrostPoint {
        /// The vapour pressure of the air, Pa.
        vapour_pressure_pa: f64,
    },
}
