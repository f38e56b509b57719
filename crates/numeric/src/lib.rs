//! Solvers, roots, quadrature and eigenvalues on plain numbers.
