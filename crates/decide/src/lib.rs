//! Question in, answer out: plan a hopper, say what limits it and how sure that is.

pub mod answer;
