//! What the deployment knows of its places and its town: climates, prices, classes of pump.

pub mod places;
pub mod prices;
