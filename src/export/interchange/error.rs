//! What can keep a pattern from being handed on.

use thiserror::Error;

/// Why there is no file.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum InterchangeError {
    /// A coordinate is no number, or larger than anything that is cut.
    #[error("{} can't be written as a pattern for others: a number in it is too large, or is none", .pieces.join(", "))]
    NotANumber {
        /// The pieces' labels.
        pieces: Vec<String>,
    },
}
