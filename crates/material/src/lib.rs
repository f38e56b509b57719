//! Resins: evidence, isotherms, diffusivity, transitions and limits.
