//! The whole service from outside: real HTTP, a real private PostgreSQL, a gateway on loopback.

#[path = "../common/mod.rs"]
mod common;

mod answers;
mod bulk;
mod commands;
mod conversation;
mod database;
mod delivery;
mod faults;
mod forget;
mod handset;
mod kills;
mod machines;
mod menus;
mod opt_out;
mod places;
mod pooler;
mod refusals;
mod reminders;
mod repeats;
mod sending;
mod start;
mod tables;
