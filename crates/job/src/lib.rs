//! What must be dried: demand, storage, target, hopper, air and site.
