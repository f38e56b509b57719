//! Water and heat inside one pellet, and its history.
