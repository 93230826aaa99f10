//! The physics: from the sky over a place to the verdict on a set.
//!
//! Never a clock, a database, a network, a file, randomness, or a word of any human language: a pure function of its inputs,
//! which imports nothing of this program but `units`. Out of range is an error, never a number.
//!
//! Reading order, each file one idea:
//! - the sky: [`sun`], [`diffuse`], [`daytypes`], [`stance`], [`sky`]; the place's weather: [`place`], [`evaporation`]
//! - the set: [`panel`], [`array`], [`pump`], [`pipe`], [`wire`], [`circuit`]
//! - where they meet: [`holding`] (one light), [`holding_rows`] and [`flow_table`] (a year of them), [`plain`] (the obvious
//!   way they are held against), [`roots`], [`year`]
//! - the test: [`clear_sky`] (the light at a moment), [`field_test`], [`fitting`]
//! - the garden: [`crop`], [`interval`], [`verdict`]; the water: [`suction`]; the day: [`day_plan`]
//! - the answer: [`sheet`], [`design`], [`site`], [`catalog`], [`market`], [`money`], [`course`] (costs over the
//!   years), [`caution`], [`advice`], [`changes`], [`proposal`], [`spread`]

pub mod advice;
pub mod array;
pub mod catalog;
pub mod caution;
pub mod changes;
pub mod circuit;
pub mod clear_sky;
pub mod course;
pub mod crop;
pub mod day_plan;
pub mod daytypes;
pub mod design;
pub mod diffuse;
pub mod error;
pub mod evaporation;
pub mod field_test;
pub mod fitting;
pub mod flow_table;
pub mod holding;
pub mod holding_rows;
pub mod interval;
pub mod market;
pub mod money;
pub mod panel;
pub mod pipe;
pub mod place;
pub mod plain;
pub mod proposal;
pub mod pump;
pub mod roots;
pub mod sheet;
pub mod site;
pub mod sky;
pub mod spread;
pub mod stance;
pub mod suction;
pub mod sun;
pub mod verdict;
pub mod wire;
pub mod year;

pub use advice::{Advice, advise};
pub use design::Climate;
pub use error::SizingError;
pub use market::Market;
pub use place::{Place, PlaceError};
pub use sheet::Sheet;
