//! Checking: modules, names, and the kinds of all expressions.

mod builtin;
mod program;

pub use builtin::{BUILTINS, Builtin, BuiltinRow, Shape};
pub use program::*;
