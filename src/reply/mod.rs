//! What the talk says, as text that fits a phone.
//!
//! - [`alphabet`]: which characters the network's own alphabet has, and a language's stand-ins for those it lacks.
//! - `parts`: where a long text is cut.
//! - [`PhoneText`]: a text with its encoding, units and parts counted.
//! - [`fit`](fit()): which pieces are said, and how fully.
//! - `wording`, `refusal`, `numbers`: a saying as pieces in one language; [`REQUIRED`]: the keys that a folder must hold.
//! - [`too_long`]: what a language cannot say in the room that a phone gives.
//! - `weights`: how much each piece matters, in one table.
//! - [`render`](render()): a list of sayings as one text.
//!
//! It never knows a clock, a database, the network, the file system, the environment or randomness, and holds no word
//! that a grower reads.

pub mod alphabet;
mod compared;
mod doubt;
mod fit;
mod folder;
mod longest;
mod money;
mod numbers;
mod parts;
mod phone;
mod refusal;
mod render;
mod required;
mod season;
mod weights;
mod wiring;
mod wording;

pub use alphabet::Encoding;
pub use fit::{FitTrouble, Joint, MOST_PARTS, Room, Wordings, fit};
pub use longest::{Bundle, SAYINGS, TooLong, bundles, longest, saying_name, too_long};
pub use phone::{PhoneText, USSD_OCTETS};
pub use render::{RenderTrouble, render, try_render};
pub use required::REQUIRED;
