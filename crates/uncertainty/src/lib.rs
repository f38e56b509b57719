//! Distributions, seeded samples, intervals and sensitivity.
