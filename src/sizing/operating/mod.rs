//! Where panels and pump meet in one light, and through a year of it.

pub mod flow_table;
pub mod outline;
pub mod plain;
pub mod point;
pub mod roots;
pub mod rows;
pub mod year;
