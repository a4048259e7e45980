//! Syntax: from source text to the syntax tree.
//!
//! [`parse`] reads a whole file ([`parse_items`] some items of one), [`parse_expression`] one value, as given on the command line.
//! The language itself is defined in `grammar/lapfell.pest`; this room turns what that grammar
//! matches into the tree in [`ast`], and what it does not match into errors a newcomer can use.

pub mod ast;
pub mod error;
mod excerpt;
mod parse;

pub use excerpt::{imported_paths, needed, parse_items};
pub use parse::{parse, parse_expression};

#[cfg(test)]
mod tests;
