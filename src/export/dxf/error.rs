//! What can keep a cutter file from being written.

use thiserror::Error;

/// Why there is no file.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum DxfError {
    /// A coordinate is no number, or larger than anything that is cut.
    #[error("{} can't be written for a cutter: a number in it is too large, or is none", .pieces.join(", "))]
    NotANumber {
        /// The pieces' labels.
        pieces: Vec<String>,
    },
}
