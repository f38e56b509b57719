//! Humid air down to -80 degC frost point, with its transport properties.

pub mod saturation;
