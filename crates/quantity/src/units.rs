//! The units people write: one table a dimension, each unit with its symbol, aliases and factor.
//!
//! Factors are exact by definition or follow NIST Special Publication 811 (2008), appendix B.8:
//! pound 0.453 592 37 kg, inch 0.0254 m, Btu (International Table) 1055.055 852 62 J,
//! pound-force per square inch 6894.757 293 168 Pa, mechanical horsepower 745.699 871 582 W,
//! conventional inch of mercury 3386.389 Pa, conventional inch of water 249.088 91 Pa,
//! conventional millimetre of mercury 133.322 4 Pa, thermochemical kilocalorie 4184 J.

use crate::constants::{STANDARD_ATMOSPHERE, ZERO_CELSIUS};
use std::f64::consts::PI;

/// Which system of units a person reads and writes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Units {
    /// Metres, kilograms, degrees Celsius.
    Metric,
    /// Feet, pounds, degrees Fahrenheit.
    UsCustomary,
}

/// One unit of one dimension.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Unit {
    /// As typed on any keyboard.
    pub symbol: &'static str,
    /// As printed.
    pub shown: &'static str,
    /// Other spellings that are read.
    pub aliases: &'static [&'static str],
    /// SI value = (number + `offset`) * `factor`.
    pub factor: f64,
    /// Added to the number before the factor: only points on a temperature scale have one.
    pub offset: f64,
    /// The system it belongs to; none when both use it.
    pub system: Option<Units>,
}

impl Unit {
    /// A number in this unit, as a plain number in SI units.
    pub const fn to_si(&self, number: f64) -> f64 {
        (number + self.offset) * self.factor
    }

    /// A plain number in SI units, as a number in this unit.
    pub const fn number(&self, si: f64) -> f64 {
        si / self.factor - self.offset
    }
}

const METRIC: Option<Units> = Some(Units::Metric);
const US: Option<Units> = Some(Units::UsCustomary);
const BOTH: Option<Units> = None;

const POUND: f64 = 0.453_592_37;
const INCH: f64 = 0.0254;
const FOOT: f64 = 12.0 * INCH;
const CUBIC_FOOT: f64 = FOOT * FOOT * FOOT;
const GRAIN: f64 = POUND / 7000.0;
const BTU: f64 = 1_055.055_852_62;
const PSI: f64 = 6_894.757_293_168_361;
const FAHRENHEIT_DEGREE: f64 = 5.0 / 9.0;
const HOUR: f64 = 3600.0;
const KCAL: f64 = 4184.0;
const GALLON: f64 = 231.0 * INCH * INCH * INCH;

/// What a table measures, apart from meaning and basis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dimension {
    /// In words, with its article, as in "this is a mass flow".
    pub name: &'static str,
    /// Every unit that is read, the customary ones first.
    pub units: &'static [Unit],
}

macro_rules! dimensions {
    ($($name:ident $words:literal { $($symbol:literal $shown:literal [$($alias:literal),*] $factor:expr, $offset:expr, $system:ident;)* })*) => {
        $(pub(crate) static $name: Dimension = Dimension { name: $words, units: &[$(Unit {
            symbol: $symbol, shown: $shown, aliases: &[$($alias),*],
            factor: $factor, offset: $offset, system: $system,
        }),*] };)*
        /// Every table.
        pub(crate) static DIMENSIONS: &[&Dimension] = &[$(&$name),*];
    };
}

dimensions! {
    TEMPERATURE "a temperature" {
        "degC" "°C" ["C", "celsius", "degcelsius", "degreesC", "degc"] 1.0, ZERO_CELSIUS, METRIC;
        "degF" "°F" ["F", "fahrenheit", "degfahrenheit", "degreesF", "degf"] FAHRENHEIT_DEGREE, 459.67, US;
        "K" "K" ["kelvin", "degK"] 1.0, 0.0, METRIC;
    }
    DIFFERENCE "a temperature difference" {
        "K" "K" ["kelvin", "degCdifference", "Cdifference", "Kdifference"] 1.0, 0.0, METRIC;
        "degF difference" "°F difference" ["Fdifference"] FAHRENHEIT_DEGREE, 0.0, US;
    }
    PRESSURE "a pressure" {
        "bar" "bar" ["bars", "Bar"] 1e5, 0.0, METRIC;
        "kPa" "kPa" ["KPa", "kpa"] 1e3, 0.0, METRIC;
        "Pa" "Pa" ["pascal"] 1.0, 0.0, METRIC;
        "MPa" "MPa" [] 1e6, 0.0, METRIC;
        "mbar" "mbar" ["hPa", "millibar"] 100.0, 0.0, METRIC;
        "mmH2O" "mmH2O" ["mmWC", "mmWG"] 9.806_65, 0.0, METRIC;
        "mmHg" "mmHg" ["torr", "Torr"] 133.322_4, 0.0, METRIC;
        "psi" "psi" ["PSI", "lbf/in2", "lb/in2"] PSI, 0.0, US;
        "inH2O" "inH2O" ["inWC", "inWG", "inwc", "iwc", "\"WC"] 249.088_91, 0.0, US;
        "inHg" "inHg" ["\"Hg"] 3_386.389, 0.0, US;
        "atm" "atm" [] STANDARD_ATMOSPHERE, 0.0, BOTH;
    }
    HUMIDITY_RATIO "a humidity ratio" {
        "g/kg" "g/kg" ["g/kgdryair", "g/kgda"] 1e-3, 0.0, METRIC;
        "kg/kg" "kg/kg" ["kg/kgdryair"] 1.0, 0.0, METRIC;
        "mg/kg" "mg/kg" ["ppmbymass", "ppmw", "ppm(w)", "mg/kgdryair"] 1e-6, 0.0, METRIC;
        "gr/lb" "gr/lb" ["grains/lb", "grain/lb", "gr/lbdryair", "grains/pound"] 1.0 / 7000.0, 0.0, US;
        "lb/lb" "lb/lb" ["lb/lbdryair"] 1.0, 0.0, US;
    }
    RELATIVE_HUMIDITY "a relative humidity" {
        "%RH" "% RH" ["%rh", "%r.h.", "%R.H.", "percentRH", "%relativehumidity"] 1e-2, 0.0, BOTH;
    }
    VAPOUR_SHARE "a share of vapour by volume" {
        "ppm by volume" "ppm by volume" ["ppmv", "ppm(v)", "ppmvol", "umol/mol", "ppmV"] 1e-6, 0.0, BOTH;
        "% by volume" "% by volume" ["vol%", "%vol", "%(v)"] 1e-2, 0.0, BOTH;
        "mol/mol" "mol/mol" [] 1.0, 0.0, BOTH;
    }
    VAPOUR_DENSITY "a mass of vapour in a volume" {
        "g/m3" "g/m³" [] 1e-3, 0.0, METRIC;
        "kg/m3" "kg/m³" [] 1.0, 0.0, METRIC;
        "mg/m3" "mg/m³" [] 1e-6, 0.0, METRIC;
        "gr/ft3" "gr/ft³" ["grains/ft3", "gr/cuft"] GRAIN / CUBIC_FOOT, 0.0, US;
        "lb/ft3" "lb/ft³" [] POUND / CUBIC_FOOT, 0.0, US;
    }
    MOISTURE "a moisture" {
        "%" "%" ["percent", "pct", "wt%", "%bymass", "%w/w", "%mass"] 1e-2, 0.0, BOTH;
        "ppm" "ppm" ["PPM", "mg/kg", "ppmbymass", "ppmw"] 1e-6, 0.0, BOTH;
        "kg/kg" "kg/kg" ["lb/lb", "g/g"] 1.0, 0.0, BOTH;
        "g/kg" "g/kg" [] 1e-3, 0.0, METRIC;
    }
    TIME "a time" {
        "h" "h" ["hr", "hrs", "hour", "hours", "H"] HOUR, 0.0, BOTH;
        "min" "min" ["mins", "minute", "minutes"] 60.0, 0.0, BOTH;
        "s" "s" ["sec", "secs", "second", "seconds"] 1.0, 0.0, BOTH;
        "d" "d" ["day", "days"] 24.0 * HOUR, 0.0, BOTH;
        "week" "weeks" ["weeks", "wk"] 168.0 * HOUR, 0.0, BOTH;
        "month" "months" ["months"] 730.0 * HOUR, 0.0, BOTH;
        "year" "years" ["years", "yr"] 8760.0 * HOUR, 0.0, BOTH;
    }
    MASS "a mass" {
        "kg" "kg" ["Kg", "kgs", "KG", "kilogram", "kilograms"] 1.0, 0.0, METRIC;
        "g" "g" ["gram", "grams"] 1e-3, 0.0, METRIC;
        "mg" "mg" [] 1e-6, 0.0, METRIC;
        "t" "t" ["tonne", "tonnes"] 1e3, 0.0, METRIC;
        "lb" "lb" ["lbs", "LB", "pound", "pounds", "lbm"] POUND, 0.0, US;
        "oz" "oz" ["ounce", "ounces"] POUND / 16.0, 0.0, US;
        "gr" "gr" ["grain", "grains"] GRAIN, 0.0, US;
    }
    MASS_FLOW "a mass flow" {
        "kg/h" "kg/h" ["kg/hr", "kg/hour", "Kg/h", "KG/H", "kgs/h", "kgph"] 1.0 / HOUR, 0.0, METRIC;
        "kg/s" "kg/s" [] 1.0, 0.0, METRIC;
        "kg/min" "kg/min" [] 1.0 / 60.0, 0.0, METRIC;
        "g/s" "g/s" [] 1e-3, 0.0, METRIC;
        "g/min" "g/min" [] 1e-3 / 60.0, 0.0, METRIC;
        "g/h" "g/h" ["g/hr"] 1e-3 / HOUR, 0.0, METRIC;
        "t/h" "t/h" [] 1e3 / HOUR, 0.0, METRIC;
        "t/d" "t/d" ["t/day"] 1e3 / (24.0 * HOUR), 0.0, METRIC;
        "kg/d" "kg/d" ["kg/day"] 1.0 / (24.0 * HOUR), 0.0, METRIC;
        "lb/h" "lb/h" ["lb/hr", "lbs/h", "lbs/hr", "lb/hour", "pph", "LB/HR", "lbm/h"] POUND / HOUR, 0.0, US;
        "lb/min" "lb/min" ["lbs/min"] POUND / 60.0, 0.0, US;
        "lb/s" "lb/s" [] POUND, 0.0, US;
    }
    VOLUME_FLOW "a volume flow" {
        "m3/h" "m³/h" ["m3/hr", "cbm/h", "m3/hour"] 1.0 / HOUR, 0.0, METRIC;
        "m3/min" "m³/min" [] 1.0 / 60.0, 0.0, METRIC;
        "m3/s" "m³/s" [] 1.0, 0.0, METRIC;
        "l/min" "l/min" ["L/min", "lpm"] 1e-3 / 60.0, 0.0, METRIC;
        "l/s" "l/s" ["L/s"] 1e-3, 0.0, METRIC;
        "l/h" "l/h" ["L/h"] 1e-3 / HOUR, 0.0, METRIC;
        "cfm" "cfm" ["CFM", "ft3/min", "cuft/min"] CUBIC_FOOT / 60.0, 0.0, US;
        "ft3/h" "ft³/h" ["cfh", "ft3/hr"] CUBIC_FOOT / HOUR, 0.0, US;
        "ft3/s" "ft³/s" [] CUBIC_FOOT, 0.0, US;
    }
    LENGTH "a length" {
        "mm" "mm" ["millimetre", "millimetres", "millimeter", "millimeters"] 1e-3, 0.0, METRIC;
        "m" "m" ["metre", "metres", "meter", "meters"] 1.0, 0.0, METRIC;
        "cm" "cm" [] 1e-2, 0.0, METRIC;
        "um" "µm" ["micron", "microns"] 1e-6, 0.0, METRIC;
        "km" "km" [] 1e3, 0.0, METRIC;
        "in" "in" ["inch", "inches", "\""] INCH, 0.0, US;
        "ft" "ft" ["foot", "feet"] FOOT, 0.0, US;
        "mil" "mil" ["mils", "thou"] INCH / 1000.0, 0.0, US;
    }
    AREA "an area" {
        "m2" "m²" ["sqm"] 1.0, 0.0, METRIC;
        "cm2" "cm²" [] 1e-4, 0.0, METRIC;
        "mm2" "mm²" [] 1e-6, 0.0, METRIC;
        "ft2" "ft²" ["sqft"] FOOT * FOOT, 0.0, US;
        "in2" "in²" ["sqin"] INCH * INCH, 0.0, US;
    }
    VOLUME "a volume" {
        "l" "l" ["L", "litre", "litres", "liter", "liters", "dm3"] 1e-3, 0.0, METRIC;
        "m3" "m³" ["cbm"] 1.0, 0.0, METRIC;
        "cm3" "cm³" ["cc", "ml", "mL"] 1e-6, 0.0, METRIC;
        "mm3" "mm³" [] 1e-9, 0.0, METRIC;
        "ft3" "ft³" ["cuft", "cu.ft."] CUBIC_FOOT, 0.0, US;
        "in3" "in³" ["cuin"] INCH * INCH * INCH, 0.0, US;
        "gal" "gal" ["gallon", "gallons", "USgal"] GALLON, 0.0, US;
    }
    DENSITY "a density" {
        "kg/m3" "kg/m³" [] 1.0, 0.0, METRIC;
        "g/cm3" "g/cm³" ["g/cc", "kg/l", "kg/L", "g/ml", "kg/dm3"] 1e3, 0.0, METRIC;
        "g/l" "g/l" ["g/L"] 1.0, 0.0, METRIC;
        "lb/ft3" "lb/ft³" ["lbs/ft3", "lb/cuft", "pcf", "lbm/ft3"] POUND / CUBIC_FOOT, 0.0, US;
        "lb/in3" "lb/in³" [] POUND / (INCH * INCH * INCH), 0.0, US;
    }
    VELOCITY "a velocity" {
        "m/s" "m/s" [] 1.0, 0.0, METRIC;
        "mm/s" "mm/s" [] 1e-3, 0.0, METRIC;
        "cm/s" "cm/s" [] 1e-2, 0.0, METRIC;
        "m/min" "m/min" [] 1.0 / 60.0, 0.0, METRIC;
        "m/h" "m/h" [] 1.0 / HOUR, 0.0, METRIC;
        "ft/min" "ft/min" ["fpm"] FOOT / 60.0, 0.0, US;
        "ft/s" "ft/s" ["fps"] FOOT, 0.0, US;
        "ft/h" "ft/h" ["ft/hr"] FOOT / HOUR, 0.0, US;
    }
    HEAT_CAPACITY "a heat capacity" {
        "kJ/(kg K)" "kJ/(kg K)" ["kJ/kgK", "kJ/kgdegC", "kJ/kgC", "J/gK", "J/gdegC"] 1e3, 0.0, METRIC;
        "J/(kg K)" "J/(kg K)" ["J/kgK", "J/kgdegC", "J/kgC"] 1.0, 0.0, METRIC;
        "Btu/(lb degF)" "Btu/(lb °F)" ["Btu/lbF", "BTU/lbF", "BTU/lbdegF", "btu/lbF"] BTU / (POUND * FAHRENHEIT_DEGREE), 0.0, US;
        "kcal/(kg K)" "kcal/(kg K)" ["cal/gK", "kcal/kgdegC", "cal/gdegC"] KCAL, 0.0, METRIC;
    }
    HEAT_CAPACITY_SLOPE "a slope of heat capacity with temperature" {
        "J/(kg K2)" "J/(kg K²)" ["J/kgK/K"] 1.0, 0.0, METRIC;
        "kJ/(kg K2)" "kJ/(kg K²)" [] 1e3, 0.0, METRIC;
        "Btu/(lb degF2)" "Btu/(lb °F²)" [] BTU / (POUND * FAHRENHEIT_DEGREE * FAHRENHEIT_DEGREE), 0.0, US;
    }
    ENERGY_PER_MASS "an energy per mass" {
        "kJ/kg" "kJ/kg" ["J/g"] 1e3, 0.0, METRIC;
        "J/kg" "J/kg" [] 1.0, 0.0, METRIC;
        "MJ/kg" "MJ/kg" [] 1e6, 0.0, METRIC;
        "kWh/kg" "kWh/kg" ["kwh/kg"] 1e3 * HOUR, 0.0, METRIC;
        "Wh/kg" "Wh/kg" [] HOUR, 0.0, METRIC;
        "Btu/lb" "Btu/lb" ["BTU/lb", "btu/lb"] BTU / POUND, 0.0, US;
        "kWh/lb" "kWh/lb" ["kwh/lb"] 1e3 * HOUR / POUND, 0.0, US;
        "kcal/kg" "kcal/kg" ["cal/g"] KCAL, 0.0, METRIC;
    }
    ENERGY_PER_AMOUNT "an energy per amount of substance" {
        "kJ/mol" "kJ/mol" ["J/mmol"] 1e3, 0.0, METRIC;
        "J/mol" "J/mol" [] 1.0, 0.0, METRIC;
        "kcal/mol" "kcal/mol" [] KCAL, 0.0, METRIC;
        "Btu/lbmol" "Btu/lbmol" ["BTU/lbmol"] BTU / (POUND * 1e3), 0.0, US;
    }
    ENERGY "an energy" {
        "kWh" "kWh" ["kwh", "KWH", "kWhr"] 1e3 * HOUR, 0.0, BOTH;
        "kJ" "kJ" [] 1e3, 0.0, METRIC;
        "J" "J" [] 1.0, 0.0, METRIC;
        "MJ" "MJ" [] 1e6, 0.0, METRIC;
        "Wh" "Wh" [] HOUR, 0.0, METRIC;
        "Btu" "Btu" ["BTU", "btu"] BTU, 0.0, US;
        "therm" "therm" [] 1e5 * BTU, 0.0, US;
    }
    POWER "a power" {
        "kW" "kW" ["KW", "kw"] 1e3, 0.0, BOTH;
        "W" "W" ["watt", "watts"] 1.0, 0.0, BOTH;
        "MW" "MW" [] 1e6, 0.0, METRIC;
        "kJ/h" "kJ/h" [] 1e3 / HOUR, 0.0, METRIC;
        "Btu/h" "Btu/h" ["BTU/h", "BTU/hr", "Btu/hr", "btu/h", "btu/hr"] BTU / HOUR, 0.0, US;
        "hp" "hp" ["HP"] 745.699_871_582, 0.0, US;
    }
    CONDUCTIVITY "a thermal conductivity" {
        "W/(m K)" "W/(m K)" ["W/mK", "W/mdegC", "W/Km"] 1.0, 0.0, METRIC;
        "mW/(m K)" "mW/(m K)" [] 1e-3, 0.0, METRIC;
        "Btu/(h ft degF)" "Btu/(h ft °F)" ["Btu/hrftF", "BTU/hftF", "BTU/hrftF", "Btu/hftF", "Btu/hrftdegF", "BTU/hrftdegF"] BTU / (HOUR * FOOT * FAHRENHEIT_DEGREE), 0.0, US;
        "Btu in/(h ft2 degF)" "Btu in/(h ft² °F)" ["BTUin/hrft2F", "Btuin/hrft2degF"] BTU * INCH / (HOUR * FOOT * FOOT * FAHRENHEIT_DEGREE), 0.0, US;
    }
    HEAT_TRANSFER "a heat transfer coefficient" {
        "W/(m2 K)" "W/(m² K)" ["W/m2K", "W/m2degC", "W/Km2"] 1.0, 0.0, METRIC;
        "Btu/(h ft2 degF)" "Btu/(h ft² °F)" ["Btu/hft2F", "Btu/hrft2F", "BTU/hft2F", "BTU/hrft2F", "Btu/hrft2degF", "BTU/hrft2degF"] BTU / (HOUR * FOOT * FOOT * FAHRENHEIT_DEGREE), 0.0, US;
    }
    CONDUCTANCE "a heat per temperature difference" {
        "W/K" "W/K" ["W/degC"] 1.0, 0.0, METRIC;
        "kW/K" "kW/K" ["kW/degC"] 1e3, 0.0, METRIC;
        "Btu/(h degF)" "Btu/(h °F)" ["Btu/hF", "Btu/hrF", "BTU/hF", "BTU/hrF", "Btu/hrdegF"] BTU / (HOUR * FAHRENHEIT_DEGREE), 0.0, US;
    }
    FOULING "a resistance of dirt to heat" {
        "m2 K/W" "m² K/W" ["m2degC/W", "Km2/W"] 1.0, 0.0, METRIC;
        "h ft2 degF/Btu" "h ft² °F/Btu" ["hft2F/Btu", "hrft2F/Btu", "hft2F/BTU", "hrft2F/BTU"] HOUR * FOOT * FOOT * FAHRENHEIT_DEGREE / BTU, 0.0, US;
    }
    DIFFUSIVITY "a diffusivity" {
        "m2/s" "m²/s" [] 1.0, 0.0, METRIC;
        "cm2/s" "cm²/s" [] 1e-4, 0.0, METRIC;
        "mm2/s" "mm²/s" [] 1e-6, 0.0, METRIC;
        "ft2/h" "ft²/h" ["ft2/hr"] FOOT * FOOT / HOUR, 0.0, US;
        "in2/h" "in²/h" ["in2/hr"] INCH * INCH / HOUR, 0.0, US;
    }
    VISCOSITY "a dynamic viscosity" {
        "Pa s" "Pa s" ["kg/ms", "Pa.s"] 1.0, 0.0, METRIC;
        "mPa s" "mPa s" ["cP", "mPa.s"] 1e-3, 0.0, METRIC;
        "uPa s" "µPa s" ["uPa.s"] 1e-6, 0.0, METRIC;
        "lb/(ft s)" "lb/(ft s)" ["lbm/fts"] POUND / FOOT, 0.0, US;
        "lb/(ft h)" "lb/(ft h)" ["lbm/fth", "lb/fthr"] POUND / (FOOT * HOUR), 0.0, US;
    }
    FRACTION "a share" {
        "%" "%" ["percent", "pct"] 1e-2, 0.0, BOTH;
        "of 1" "" ["fraction", "of1", "offull"] 1.0, 0.0, BOTH;
    }
    ANGLE "an angle" {
        "deg" "°" ["degree", "degrees"] PI / 180.0, 0.0, BOTH;
        "rad" "rad" ["radian", "radians"] 1.0, 0.0, BOTH;
    }
    SOUND_LEVEL "a sound level" {
        "dB(A)" "dB(A)" [] 1.0, 0.0, BOTH;
    }
    NUMBER "a plain number" {
        "" "" ["1"] 1.0, 0.0, BOTH;
    }
    PER_TEMPERATURE "a change per degree" {
        "1/K" "1/K" ["/K", "K-1", "1/degC", "/degC"] 1.0, 0.0, METRIC;
        "1/degF" "1/°F" ["/degF", "1/F"] 1.0 / FAHRENHEIT_DEGREE, 0.0, US;
    }
    PER_MOISTURE "a change per moisture" {
        "1/%" "1/%" ["/%", "1/%dry", "1/%drybasis"] 100.0, 0.0, BOTH;
    }
    TEMPERATURE_PER_MOISTURE "a fall of temperature per moisture" {
        "K/%" "K/%" ["degC/%", "K/%dry", "degC/%dry", "K/%drybasis"] 100.0, 0.0, METRIC;
        "degF/%" "°F/%" ["degF/%dry", "F/%"] 100.0 * FAHRENHEIT_DEGREE, 0.0, US;
    }
    PRICE_OF_ENERGY "a price of energy" {
        "per kWh" "per kWh" ["/kWh"] 1.0 / (1e3 * HOUR), 0.0, BOTH;
        "per MWh" "per MWh" ["/MWh"] 1.0 / (1e6 * HOUR), 0.0, BOTH;
    }
    PRICE_OF_MASS "a price of mass" {
        "per kg" "per kg" ["/kg"] 1.0, 0.0, METRIC;
        "per t" "per t" ["/t", "pertonne"] 1e-3, 0.0, METRIC;
        "per lb" "per lb" ["/lb", "perpound"] 1.0 / POUND, 0.0, US;
    }
    PRICE_OF_VOLUME "a price of volume" {
        "per m3" "per m3" ["/m3"] 1.0, 0.0, METRIC;
        "per gal" "per gal" ["/gal", "pergallon"] 1.0 / GALLON, 0.0, US;
        "per ft3" "per ft3" ["/ft3"] 1.0 / CUBIC_FOOT, 0.0, US;
    }
    PRICE_OF_TIME "a price of time" {
        "per h" "per h" ["/h", "perhour"] 1.0 / HOUR, 0.0, BOTH;
    }
    MASS_PER_ENERGY "a mass per energy" {
        "kg/kWh" "kg/kWh" [] 1.0 / (1e3 * HOUR), 0.0, METRIC;
        "g/kWh" "g/kWh" ["kg/MWh"] 1e-3 / (1e3 * HOUR), 0.0, METRIC;
        "lb/kWh" "lb/kWh" [] POUND / (1e3 * HOUR), 0.0, US;
    }
    ENERGY_PER_VOLUME "an energy per volume" {
        "kWh/m3" "kWh/m3" [] 1e3 * HOUR, 0.0, METRIC;
        "Wh/m3" "Wh/m3" [] HOUR, 0.0, METRIC;
        "kWh/ft3" "kWh/ft3" [] 1e3 * HOUR / CUBIC_FOOT, 0.0, US;
    }
    PER_TIME "a frequency" {
        "1/h" "1/h" ["/h", "perh", "1/hr"] 1.0 / HOUR, 0.0, BOTH;
        "1/min" "1/min" ["/min", "rpm"] 1.0 / 60.0, 0.0, BOTH;
        "1/s" "1/s" ["/s", "Hz"] 1.0, 0.0, BOTH;
    }
}
