//! Who works at the desk: in and out, accounts, passwords and keys, who did what.

pub mod account_file;
pub mod accounts;
pub mod door;
pub mod events;
pub mod password;
pub mod sign_in;
