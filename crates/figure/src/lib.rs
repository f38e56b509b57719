//! A plot as data: axes, units, series and a title that concludes.
