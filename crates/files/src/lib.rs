//! Files people write to typed specifications, with the place of each mistake.
