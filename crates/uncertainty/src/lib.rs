//! Distributions, seeded samples and intervals: what is not known, carried through a question.

mod interval;
mod normal;
mod sample;
mod tail;

pub use interval::{Interval, quantile};
pub use normal::{normal_probability, normal_quantile};
pub use sample::{Design, classes};
pub use tail::{ENOUGH_BEYOND, share_above, share_below};
