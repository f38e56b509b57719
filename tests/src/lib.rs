//! Whole-program checks: published sources, peers and journeys.
