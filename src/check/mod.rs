//! Checking: modules, names, and the kinds of all expressions.

mod builtin;
mod entity;
mod error;
pub mod goods;
mod graph;
mod kind;
mod lift;
mod modules;
mod program;
mod walk;
pub mod words;

pub use builtin::{BUILTINS, Builtin, BuiltinRow, Shape};
pub use error::CODES;
pub use program::*;

use crate::diagnostic::Problems;
use crate::source::{FileId, Loader, SourceMap};
use crate::syntax::ast;

/// Checks the main file and everything it imports.
///
/// The program is given only when nothing is wrong, so that what works out its numbers may
/// count on every name being known and every expression making sense.
#[must_use]
pub fn check(main: FileId, file: ast::File, loader: &dyn Loader, sources: &mut SourceMap, problems: &mut Problems) -> Option<Program> {
    let modules = modules::read(main, file, loader, sources, problems);
    let lifted = lift::lift(modules, problems);
    (!problems.has_errors()).then_some(lifted.program)
}

#[cfg(test)]
mod tests;
