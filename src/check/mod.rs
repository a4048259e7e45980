//! Checking: modules, names, and the kinds of all expressions.

mod program;

pub use program::*;
