//! Every question the program can answer, one function each.
