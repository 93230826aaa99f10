//! The sizing engine against published values, general libraries, and what must hold of any set.
//!
//! Every check names its source beside it. *From memory* marks a value recalled without the text at hand; *cross-check*
//! one that a library gave and nobody published; *common practice* what the trade says and no source backs.

#[path = "sizing/bucket.rs"]
mod bucket;
#[path = "sizing/common.rs"]
mod common;
#[path = "sizing/cost_over_time.rs"]
mod cost_over_time;
#[path = "sizing/demand.rs"]
mod demand;
#[path = "sizing/grids.rs"]
mod grids;
#[path = "sizing/growth.rs"]
mod growth;
#[path = "sizing/modules.rs"]
mod modules;
#[path = "sizing/panels.rs"]
mod panels;
#[path = "sizing/pipes.rs"]
mod pipes;
#[path = "sizing/plan.rs"]
mod plan;
#[path = "sizing/practice.rs"]
mod practice;
#[path = "sizing/properties.rs"]
mod properties;
#[path = "sizing/pumps.rs"]
mod pumps;
#[path = "sizing/quick.rs"]
mod quick;
#[path = "sizing/refusals.rs"]
mod refusals;
#[path = "sizing/second.rs"]
mod second;
#[path = "sizing/sky.rs"]
mod sky;
#[path = "sizing/sure.rs"]
mod sure;
#[path = "sizing/wiring.rs"]
mod wiring;
