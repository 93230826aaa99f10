//! The whole service from outside: real HTTP, a real private PostgreSQL, a gateway on loopback.

#[path = "../common/mod.rs"]
mod common;

mod answers;
mod bulk;
mod commands;
mod conversation;
mod database;
mod delivery;
mod doors;
mod faults;
mod forget;
mod handset;
mod kills;
mod machines;
mod menus;
mod opt_out;
mod places;
mod plans;
mod pooler;
mod refusals;
mod reminders;
mod repeats;
mod sending;
mod shapes;
mod soak;
mod start;
mod tables;
