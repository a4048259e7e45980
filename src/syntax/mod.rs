//! Syntax: from source text to the syntax tree.

pub mod ast;
