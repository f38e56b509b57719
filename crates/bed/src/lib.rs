//! Pellets sinking through rising air: the hopper.
