//! House keeping: check, tidy, validate, bench.
fn main() {}
