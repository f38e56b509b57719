//! Solvers, roots, quadrature and eigenvalues on plain numbers; knows no units.

pub mod constrained;
pub mod eigen;
mod error;
pub mod fixed_point;
pub mod linear;
pub mod quadrature;
pub mod root;
pub mod table;
pub mod tridiagonal;

pub use error::NumericError;
