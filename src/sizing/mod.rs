//! The physics.
