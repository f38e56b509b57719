//! Question in, answer out: plan, settings, limits and ranges.
