//! The command line of drybed: parse, call one function, show.
fn main() {}
