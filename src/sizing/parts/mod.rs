//! What a shop sells, one file each, and one pump's circuit of them.

pub mod array;
pub mod circuit;
pub mod panel;
pub mod pipe;
pub mod pump;
pub mod pump_class;
pub mod suction;
pub mod wire;
