//! The grammar.
