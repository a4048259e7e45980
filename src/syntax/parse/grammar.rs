//! The parser that the grammar file defines. It has a module of its own because what is derived carries no docs.

/// Matches text against the rules of `grammar/lapfell.pest`.
#[derive(pest_derive::Parser)]
#[grammar = "../grammar/lapfell.pest"]
pub(super) struct Grammar;
