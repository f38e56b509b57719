//! Universal constants and the reference states of the trade, each with its source.

/// Molar gas constant, J/(mol K). BIPM, The International System of Units, 9th edition (2019):
/// exact product of the Boltzmann and Avogadro constants.
pub const MOLAR_GAS: f64 = 8.314_462_618_153_24;
/// Molar mass of water, kg/mol. IAPWS R6-95(2018), table 1.
pub const WATER_MOLAR_MASS: f64 = 0.018_015_268;
/// Molar mass of dry air with 400 ppm of carbon dioxide, kg/mol. Gatley, Herrmann and Kretzschmar
/// (2008), A twenty-first century molar mass for dry air, HVAC&R Res. 14, 655 (from memory).
pub const DRY_AIR_MOLAR_MASS: f64 = 0.028_966;
/// Standard atmosphere, Pa. ISO 2533:1975.
pub const STANDARD_ATMOSPHERE: f64 = 101_325.0;
/// Zero of the Celsius scale, K. BIPM, The International System of Units, 9th edition (2019).
pub const ZERO_CELSIUS: f64 = 273.15;
/// Standard acceleration of gravity, m/s2. ISO 80000-3:2019.
pub const STANDARD_GRAVITY: f64 = 9.806_65;
