//! What the talk says, as text that fits a phone.
mod phone;
pub use phone::{Encoding, PhoneText};
