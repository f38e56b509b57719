//! How fast drybed is, measured on stated cases.
