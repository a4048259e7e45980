//! Blocks, brackets, and texts too large or too deep to read.

use crate::diagnostic::{Diagnostic, said_example};
use crate::source::Span;

/// A fault in how blocks and brackets lie in one another.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum StructureError {
    /// The file is larger than any design.
    SourceTooLarge {
        /// Its beginning.
        at: Span,
        /// Its size.
        bytes: usize,
        /// The most that is read.
        most: usize,
    },
    /// A block without its closing brace.
    UnclosedBrace {
        /// The brace that opens it.
        open: Span,
        /// What stands before that brace on its line.
        header: String,
        /// The end of the file.
        end: Span,
    },
    /// A closing brace too many.
    StrayBrace {
        /// Where.
        at: Span,
    },
    /// A round or square bracket that is not closed, or by the wrong mark.
    UnclosedBracket {
        /// The bracket.
        open: Span,
        /// Its mark.
        mark: &'static str,
        /// The mark that closes it.
        wanted: &'static str,
        /// Where it must have been closed at the latest.
        until: Span,
        /// Whether what stands there is a wrong closing mark.
        instead: bool,
    },
    /// A closing bracket too many.
    StrayBracket {
        /// Where.
        at: Span,
        /// Its mark.
        mark: &'static str,
    },
    /// Brackets, holes or choices in one another beyond reason.
    NestedTooDeep {
        /// The one too many.
        at: Span,
        /// The most that is read.
        most: usize,
    },
    /// A chain of operators beyond reason.
    ExpressionTooLong {
        /// The expression.
        at: Span,
        /// How many operators.
        count: usize,
        /// The most that is read.
        most: usize,
    },
    /// A block without its opening brace.
    MissingBrace {
        /// Where it belongs.
        at: Span,
        /// The statement, with its brace.
        example: &'static str,
    },
    /// `else` without a `when` before it.
    StrayElse {
        /// Where.
        at: Span,
    },
}

impl From<StructureError> for Diagnostic {
    fn from(error: StructureError) -> Self {
        match error {
            StructureError::SourceTooLarge { at, bytes, most } => {
                let (has, limit) = (tenths_of_mib(bytes), tenths_of_mib(most));
                Self::error("syntax", format!("this file is {has} MiB large; no more than {limit} MiB are read"), at, "the file")
                    .help("a design is some kilobytes of text: is this the right file? A large one can be split with `use`")
            }
            StructureError::UnclosedBrace { open, header, end } => {
                let what = if header.is_empty() { "this block".to_owned() } else { format!("the block of `{header}`") };
                Self::error("unclosed-brace", format!("{what} has no closing brace"), open, "opened here")
                    .and(end, "the file ends with it still open")
                    .help("put a } on a line of its own where the block ends; nothing after this block was checked")
            }
            StructureError::StrayBrace { at } => {
                Self::error("stray-brace", "there is one closing brace too many", at, "this one, by all that stands around it")
                    .help("take it away, or put the { that it should close before it; nothing after it was checked")
            }
            StructureError::UnclosedBracket { open, mark, wanted, until, instead } => {
                if instead {
                    Self::error("unclosed-bracket", format!("`{mark}` is closed by `{wanted}`, not by this mark"), until, "the wrong mark")
                        .and(open, "opened here")
                        .help(format!("write {wanted} here"))
                        .edit(until, wanted)
                } else {
                    Self::error("unclosed-bracket", format!("this `{mark}` has no `{wanted}`"), open, "opened here")
                        .and(until, "not closed before this")
                        .help(format!("put a {wanted} where the bracket ends"))
                }
            }
            StructureError::StrayBracket { at, mark } => {
                Self::error("stray-bracket", format!("this `{mark}` closes nothing"), at, "nothing is open here")
                    .help("take it away, or put the opening bracket where it belongs")
            }
            StructureError::NestedTooDeep { at, most } => {
                Self::error("nested-too-deep", format!("brackets and choices lie more than {most} deep in one another"), at, "one too many")
                    .help("give the inner parts names of their own with `let`; nothing of this file was checked")
            }
            StructureError::ExpressionTooLong { at, count, most } => Self::error(
                "expression-too-long",
                format!("this expression has {count} operators in a row; no more than {most} are read"),
                at,
                "too long",
            )
            .help("give parts of it names of their own with `let`"),
            StructureError::MissingBrace { at, example } => {
                Self::error("missing-brace", "a `{` is missing: it opens the block", at, "it belongs here")
                    .help(format!("such as: {example}"))
                    .edit(at, " {")
            }
            StructureError::StrayElse { at } => Self::error("stray-else", "this `else` has no `when` before it", at, "else of what?")
                .help(said_example("`else` follows the closing brace of a `when`: when long > 2 m { … } else { … }")),
        }
    }
}

/// Bytes as MiB with one decimal.
fn tenths_of_mib(bytes: usize) -> String {
    let tenths = bytes.saturating_mul(10).div_ceil(1 << 20);
    if tenths.is_multiple_of(10) { format!("{}", tenths / 10) } else { format!("{}.{}", tenths / 10, tenths % 10) }
}
