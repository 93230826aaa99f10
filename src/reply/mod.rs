//! What the talk says, as text that fits a phone.
//!
//! - [`alphabet`]: which characters the network's own alphabet has, and a language's stand-ins for those it lacks.
//! - `parts`: where a long text is cut.
//! - [`PhoneText`]: a text with its encoding, units and parts counted.
//! - [`fit`](fit()): which pieces are said, and how fully.
//!
//! It never knows a clock, a database, the network, the file system, the environment or randomness, and holds no word
//! that a grower reads.

pub mod alphabet;
mod fit;
mod parts;
mod phone;

pub use alphabet::Encoding;
pub use fit::{FitTrouble, Joint, MOST_PARTS, Room, Wordings, fit};
pub use phone::{PhoneText, USSD_OCTETS};
