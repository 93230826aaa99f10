//! Who works at the desk: in and out, accounts, passwords and keys, who did what.

pub mod account_file;
pub mod accounts;
mod address;
pub mod door;
pub mod events;
pub mod hashing;
pub mod names;
pub mod noticed;
pub mod origin;
pub mod own_password;
pub mod password;
pub mod session;
pub mod sign_in;
pub mod streams;
pub mod taken;
pub mod tries;
mod weak;
pub mod writing_down;
