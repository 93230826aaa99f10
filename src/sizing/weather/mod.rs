//! A place and the weather of its months.

pub mod climate;
pub mod evapotranspiration;
pub mod place;
