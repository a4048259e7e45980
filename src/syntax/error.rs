//! What can be wrong with the writing of a source file, each worded beside its variant.

mod figures;
mod habits;
mod marks;
mod statements;
mod structure;

pub use figures::FigureError;
pub use habits::HabitError;
pub use marks::MarkError;
pub use statements::StatementError;
pub use structure::StructureError;

use crate::diagnostic::Diagnostic;

/// The codes of this stage.
pub const CODES: &[&str] = &[
    "brace-in-text",
    "chained-comparison",
    "comment-mark",
    "control-character",
    "decimal-comma",
    "equals-sign",
    "expression-too-long",
    "extra-comma",
    "fraction-by-zero",
    "fraction-without-unit",
    "hyphen-in-measure",
    "inch-mark",
    "keyword-read-as-unit",
    "misplaced-statement",
    "missing-brace",
    "missing-comma",
    "missing-equals",
    "name-starts-with-figure",
    "name-with-blank",
    "name-with-hyphen",
    "needless-semicolon",
    "nested-too-deep",
    "number-too-large",
    "power-too-large",
    "repeated-clause",
    "reserved-word",
    "single-quotes",
    "stray-backslash",
    "stray-brace",
    "stray-bracket",
    "stray-else",
    "syntax",
    "text-needs-quotes",
    "two-numbers",
    "typographic-character",
    "unclosed-brace",
    "unclosed-bracket",
    "unclosed-text",
    "unfinished-decimal",
    "unit-on-next-line",
    "unknown-mark",
    "unknown-statement",
];

/// Anything wrong with the writing of a source file.
#[derive(Debug, Clone, PartialEq)]
pub enum SyntaxError {
    /// A character or a mark.
    Mark(MarkError),
    /// A figure or a measure.
    Figure(FigureError),
    /// Blocks, brackets and sizes.
    Structure(StructureError),
    /// A statement.
    Statement(StatementError),
    /// A way of writing that is right elsewhere.
    Habit(HabitError),
}

impl From<MarkError> for SyntaxError {
    fn from(error: MarkError) -> Self {
        Self::Mark(error)
    }
}

impl From<FigureError> for SyntaxError {
    fn from(error: FigureError) -> Self {
        Self::Figure(error)
    }
}

impl From<StructureError> for SyntaxError {
    fn from(error: StructureError) -> Self {
        Self::Structure(error)
    }
}

impl From<StatementError> for SyntaxError {
    fn from(error: StatementError) -> Self {
        Self::Statement(error)
    }
}

impl From<HabitError> for SyntaxError {
    fn from(error: HabitError) -> Self {
        Self::Habit(error)
    }
}

impl From<SyntaxError> for Diagnostic {
    fn from(error: SyntaxError) -> Self {
        match error {
            SyntaxError::Mark(e) => e.into(),
            SyntaxError::Figure(e) => e.into(),
            SyntaxError::Structure(e) => e.into(),
            SyntaxError::Statement(e) => e.into(),
            SyntaxError::Habit(e) => e.into(),
        }
    }
}
