//! What answers are made from: places with their climate, prices, classes of pump.

mod climate;
mod place_form;
pub mod places;
pub mod prices;
pub mod pumps;
