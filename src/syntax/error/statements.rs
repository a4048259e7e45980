//! Statements that do not read as the language has them.

use crate::diagnostic::{Diagnostic, reads, said_example};
use crate::source::Span;

/// A statement that can't be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum StatementError {
    /// Something else was expected.
    Expected {
        /// Where.
        at: Span,
        /// What could have stood there, in words; empty when nothing more belongs there.
        expected: String,
        /// What stands there, in words.
        found: String,
        /// The word that was probably meant.
        nearest: Option<&'static str>,
        /// An example of the statement.
        example: Option<&'static str>,
    },
    /// A line that begins with a word no statement begins with.
    Unknown {
        /// The word.
        at: Span,
        /// As written.
        word: String,
        /// In what kind of block.
        block: &'static str,
        /// The word that was probably meant.
        nearest: Option<&'static str>,
        /// An example of that.
        example: Option<&'static str>,
        /// Whether it gives a name a value, and only lacks its `let`.
        names: bool,
        /// What may stand there.
        may: String,
    },
    /// A statement in a block of the wrong kind.
    Misplaced {
        /// Its word.
        at: Span,
        /// As written.
        word: String,
        /// In what kind of block.
        block: &'static str,
        /// Where it belongs.
        belongs: String,
    },
    /// A reserved word where a name is wanted.
    ReservedWord {
        /// The word.
        at: Span,
        /// As written.
        word: String,
    },
    /// `foot-box` as a name.
    NameWithHyphen {
        /// The whole name.
        at: Span,
        /// With `_`.
        corrected: String,
    },
    /// `2nd` as a name.
    NameStartsWithFigure {
        /// The whole name.
        at: Span,
        /// As written.
        written: String,
        /// A name to take instead.
        corrected: String,
    },
    /// `param girth: length = 4 cm`
    KindNotSaid {
        /// From the colon to the kind.
        at: Span,
        /// The kind.
        kind: String,
    },
    /// `=`, `==` or `:` for one another.
    EqualsSign {
        /// The sign.
        at: Span,
        /// As written.
        found: String,
        /// What to write.
        instead: &'static str,
        /// What each of them does.
        why: &'static str,
    },
    /// A name and a value without `=` between them.
    MissingEquals {
        /// What stands where the sign belongs.
        at: Span,
        /// The name before it.
        name: String,
        /// An example of the statement.
        example: Option<&'static str>,
    },
    /// Two things of a list without a comma between them.
    MissingComma {
        /// The second.
        at: Span,
        /// Where the comma belongs.
        between: Span,
    },
    /// A comma with nothing after it.
    ExtraComma {
        /// The comma.
        at: Span,
        /// What stands after it, in words.
        found: String,
    },
    /// Words where a text is wanted.
    TextNeedsQuotes {
        /// The words.
        at: Span,
        /// With quotes.
        corrected: String,
    },
    /// `a < b < c`
    ChainedComparison {
        /// The second sign.
        at: Span,
    },
    /// `facing … facing …`
    RepeatedClause {
        /// The second.
        at: Span,
        /// The first.
        first: Span,
        /// Its word.
        word: &'static str,
    },
}

impl From<StatementError> for Diagnostic {
    fn from(error: StatementError) -> Self {
        match error {
            StatementError::Expected { at, expected, found, nearest, example } => wanted(at, &expected, &found, nearest, example),
            StatementError::Unknown { at, word, block, nearest, example, names, may } => {
                unknown(at, &word, (block, &may), nearest.zip(example), names)
            }
            StatementError::Misplaced { at, word, block, belongs } => {
                Self::error("misplaced-statement", format!("`{word}` does not stand {block}"), at, "not here")
                    .help(format!("it belongs {belongs}"))
            }
            StatementError::ReservedWord { at, word } => Self::error(
                "reserved-word",
                format!("`{word}` is a word of the language, so nothing can be named so"),
                at,
                "choose another name",
            )
            .help(format!("for instance {word}_1 or my_{word}"))
            .edit(at, format!("my_{word}")),
            StatementError::NameWithHyphen { at, corrected } => {
                Self::error("name-with-hyphen", "a name has no hyphen in it: `-` is a minus", at, "read as a subtraction")
                    .help(format!("join the words with _, and wherever the name is used: {corrected}"))
                    .edit(at, corrected)
            }
            StatementError::NameStartsWithFigure { at, written, corrected } => Self::error(
                "name-starts-with-figure",
                format!("a name begins with a letter, and `{written}` with a figure"),
                at,
                "read as a number",
            )
            .help(format!("put the figure behind: {corrected}"))
            .edit(at, corrected),
            StatementError::KindNotSaid { at, kind } => {
                Self::error("equals-sign", format!("a value shows what it is by its unit: no `: {kind}` stands here"), at, "leave this out")
                    .help("only the parameters of components, outlines, finishes and functions say their kind")
                    .edit(at, "")
            }
            StatementError::EqualsSign { at, found, instead, why } => {
                Self::error("equals-sign", format!("`{instead}` belongs here, not `{found}`"), at, format!("write {instead}"))
                    .help(why)
                    .edit(at, instead)
            }
            StatementError::MissingEquals { at, name, example } => missing_equals(at, &name, example),
            StatementError::MissingComma { at, between } => {
                Self::error("missing-comma", "a comma is missing before this", at, "belongs to the list before it")
                    .help("things of a list are parted by commas")
                    .edit(between, ",")
            }
            StatementError::ExtraComma { at, found } => {
                Self::error("extra-comma", format!("after this comma something is missing: {found} follows"), at, "a comma too many")
                    .help("take the comma away, or add what belongs after it")
                    .edit(at, "")
            }
            StatementError::TextNeedsQuotes { at, corrected } => {
                Self::error("text-needs-quotes", "a text stands between quotes", at, "meant as text?")
                    .help(format!("write {corrected}"))
                    .edit(at, corrected)
            }
            StatementError::ChainedComparison { at } => {
                Self::error("chained-comparison", "two comparisons can't be strung together", at, "the second")
                    .help(said_example("compare twice and join with `and`: 1 m < wide and wide < 2 m"))
            }
            StatementError::RepeatedClause { at, first, word } => {
                Self::error("repeated-clause", format!("`{word}` is said twice, and only one can hold"), at, "said again")
                    .and(first, "first said here")
                    .help("take one of them away")
            }
        }
    }
}

fn wanted(at: Span, expected: &str, found: &str, nearest: Option<&'static str>, example: Option<&'static str>) -> Diagnostic {
    let expected = said_example(expected);
    let diagnostic = if expected.is_empty() {
        Diagnostic::error("syntax", format!("{found} does not belong here"), at, "the statement is complete before this")
    } else {
        Diagnostic::error("syntax", format!("expected {expected}, found {found}"), at, format!("expected {expected}"))
    };
    let reads = example.map(reads);
    match (nearest, reads) {
        (Some(word), Some(reads)) => diagnostic.help(format!("did you mean `{word}`? {reads}")).edit(at, word),
        (Some(word), None) => diagnostic.help(format!("did you mean `{word}`?")).edit(at, word),
        (None, Some(reads)) => diagnostic.help(reads),
        (None, None) => diagnostic,
    }
}

fn unknown(at: Span, word: &str, (block, may): (&str, &str), nearest: Option<(&str, &str)>, names: bool) -> Diagnostic {
    let diagnostic = Diagnostic::error("unknown-statement", format!("no line {block} begins with `{word}`"), at, "not known here");
    match nearest {
        _ if names => diagnostic.help(format!("a value gets its name with `let`: let {word} = …")).edit(at, format!("let {word}")),
        Some((nearest, example)) => diagnostic.help(format!("did you mean `{nearest}`? {}", reads(example))).edit(at, nearest),
        None => diagnostic.help(format!("{block} may stand: {may}")),
    }
}

fn missing_equals(at: Span, name: &str, example: Option<&'static str>) -> Diagnostic {
    let before = Span { end: at.start, ..at };
    let diagnostic =
        Diagnostic::error("missing-equals", format!("`=` is missing between `{name}` and what it is"), at, "`=` belongs before this");
    let help = example.map_or_else(|| format!("write {name} = and then its value"), reads);
    diagnostic.help(help).edit(before, "= ")
}
