//! Syntax: from source text to the syntax tree.
//!
//! [`parse`] reads a whole file ([`excerpt`] some items of one), [`parse_expression`] one value, as given on the command line.
//! The language itself is defined in `grammar/lapfell.pest`; this room turns what that grammar
//! matches into the tree in [`ast`], and what it does not match into errors a newcomer can use.

pub mod ast;
pub mod error;
pub mod excerpt;
mod parse;

pub use parse::{parse, parse_expression};

#[cfg(test)]
mod tests;
