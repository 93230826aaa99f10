//! noonwater answers growers by text message: will this solar pump, on these panels, through that hose, water that
//! garden, and if not, what would.
//!
//! The modules in reading order:
//!
//! - [`units`]: physical quantities and their conversions.
//! - [`terms`]: what words and physics both name. Pure.
//! - [`printable`]: characters that are not seen, and texts without them. Pure.
//! - [`spot`]: a spot on the map as it is typed. Pure.
//! - [`sizing`]: the physics, from the sky to the verdict. Pure.
//! - [`honesty`]: how often what the physics tells is so, by a simulation that repeats itself. Pure.
//! - [`atlas`]: monthly climates of weather stations, towns and spots on the map. Pure.
//! - [`language`]: what a language folder holds: words, units, replies, alphabet. Pure.
//! - [`likeness`]: how like messages are to examples; [`topics`]: what is asked. Pure.
//! - [`danger`]: hearing that somebody is in danger, before anything else. Pure.
//! - [`message`]: the grammar: text and language in, facts and troubles with their positions out. Pure.
//! - [`talk`]: one step of a conversation, with time as an argument. Pure.
//! - [`reply`]: what the talk says, as text that fits a phone. Pure.
//! - [`turn`]: one whole turn: message, step and reply put together; the one way to answer. Pure.
//! - [`single`]: one message answered by itself, with the whole advice or why there is none.
//! - [`outside`]: a turn as machines see it; [`measure`]: how well messages written by hand are understood. Pure.
//! - [`table`] and [`many`]: rows in and out of files, and the answers beside them.
//! - [`rehearsal`]: conversations written down with their times, played and compared. Pure.
//! - [`looping`]: whether two machines answer each other. Pure.
//! - [`sending`]: how important a message is, what became of it, when it is tried again. Pure.
//! - [`meters`]: what the running service counts of itself.
//! - [`number`] and [`refusal`]: phone numbers in E.164, and the one shape of a refused request.
//! - [`config`]: one TOML file and the environment; a wrong key stops the start with one sentence.
//! - [`database`]: where PostgreSQL comes from: the operator's own, or a private cluster in the data folder.
//! - [`store`]: all the SQL, one file per table family.
//! - [`lines`]: the phone-network edge: each line turns what a network sends into an `Incoming` and takes an `Outgoing`.
//! - [`demo`]: the invented place that a deployment starts with.
//! - [`placefile`] and [`pricefile`]: a place file as a checked place, a price list as checked prices.
//! - [`world`]: what every turn may look things up in, loaded once and replaced whole.
//! - [`answering`]: runs the pure core against the store, in one transaction a message; nothing else does.
//! - [`work`]: background loops: delivery, reminders, long lists, and loading the world anew.
//! - [`desk`]: what staff and their machines ask the service.
//! - [`cli`]: the command line, one file per command.
//!
//! # One message's journey
//!
//! A line decodes it and hands it to [`answering`]. In one transaction: store it (a repeat ends here with the stored
//! reply), lock that number's talk, take one [`turn`] (read the message, step the talk, size when enough is known,
//! render and fit the reply), save the talk and queue the reply, commit. Only then is the network told that the message
//! is safe. [`work::deliver`] leases the reply and sends it by the same line, again and again with the same id until
//! the network has taken it. The handset shows the reply at once, from the same transaction.

pub mod answering;
pub mod atlas;
pub mod cli;
pub mod config;
pub mod danger;
pub mod database;
pub mod demo;
pub mod desk;
pub mod honesty;
pub mod language;
pub mod likeness;
pub mod lines;
pub mod looping;
pub mod many;
pub mod measure;
pub mod message;
pub mod meters;
pub mod number;
pub mod outside;
pub mod placefile;
pub mod pricefile;
pub mod printable;
pub mod refusal;
pub mod rehearsal;
pub mod reply;
pub mod sending;
pub mod single;
pub mod sizing;
pub mod spot;
pub mod store;
pub mod table;
pub mod talk;
pub mod terms;
pub mod topics;
pub mod turn;
pub mod units;
pub mod work;
pub mod world;
