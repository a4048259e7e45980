//! What goes wrong with what is handed over: arguments, settings of sizes, figures of materials.

use super::{all_of, suggest};
use crate::diagnostic::Diagnostic;
use crate::source::Span;

/// With what is handed over.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::check) enum ArgumentError {
    /// No argument of this name.
    Unknown { callee: String, name: String, span: Span, nearest: Option<String>, known: Vec<String> },
    /// One argument twice.
    Twice { name: String, first: Span, second: Span },
    /// One that is needed and not there.
    Missing { callee: String, names: Vec<String>, span: Span, declared: Option<Span> },
    /// More than it takes.
    TooMany { callee: String, takes: usize, given: usize, span: Span },
    /// One by its place after one by its name.
    Order { span: Span, named: Span },
    /// A size sets what is no parameter.
    SizeUnknown { name: String, span: Span, nearest: Option<String>, is: Option<&'static str> },
    /// A size sets a parameter twice.
    SizeTwice { name: String, first: Span, second: Span },
    /// A sort of material that is none.
    UnknownSort { sort: String, span: Span, nearest: Option<String>, known: Vec<&'static str> },
    /// A figure that this sort of material does not have.
    UnknownField { sort: &'static str, field: String, span: Span, nearest: Option<String>, known: Vec<&'static str> },
    /// A figure twice.
    FieldTwice { field: String, first: Span, second: Span },
    /// A figure that is needed and not there.
    MissingField { material: String, sort: &'static str, fields: Vec<&'static str>, span: Span },
    /// A figure given by its place, not its name.
    FieldUnnamed { span: Span, known: Vec<&'static str> },
}

impl From<ArgumentError> for Diagnostic {
    fn from(error: ArgumentError) -> Self {
        match error {
            ArgumentError::SizeUnknown { .. } | ArgumentError::SizeTwice { .. } => size(error),
            ArgumentError::UnknownSort { .. }
            | ArgumentError::UnknownField { .. }
            | ArgumentError::FieldTwice { .. }
            | ArgumentError::MissingField { .. }
            | ArgumentError::FieldUnnamed { .. } => figure(error),
            other => call(other),
        }
    }
}

fn call(error: ArgumentError) -> Diagnostic {
    match error {
        ArgumentError::Unknown { callee, name, span, nearest, known } => {
            let error = Diagnostic::error(
                "unknown-argument",
                format!("`{callee}` takes nothing called `{name}`"),
                span,
                "not one of its arguments",
            );
            match nearest {
                Some(_) => suggest(error, span, nearest.as_deref()),
                None if known.is_empty() => error.help(format!("it takes nothing at all: `{callee}()`")),
                None => error.help(format!("it takes {}", all_of(&known))),
            }
        }
        ArgumentError::Twice { name, first, second } => {
            Diagnostic::error("argument-twice", format!("`{name}` is given twice"), second, "the second")
                .and(first, "the first")
                .help("leave one of them out")
        }
        ArgumentError::Missing { callee, names, span, declared } => {
            let error =
                Diagnostic::error("argument-missing", format!("`{callee}` needs {} as well", all_of(&names)), span, "not given here");
            let error = match declared {
                Some(declared) => error.and(declared, "declared here"),
                None => error,
            };
            let shown: Vec<_> = names.iter().map(|n| format!("{n}: …")).collect();
            error.help(format!("write `{callee}({})`", shown.join(", ")))
        }
        ArgumentError::TooMany { callee, takes, given, span } => {
            let things = if takes == 1 { "one value".to_owned() } else { format!("{takes} values") };
            Diagnostic::error("too-many-arguments", format!("`{callee}` takes {things}, and {given} are given"), span, "one too many")
        }
        ArgumentError::Order { span, named } => {
            Diagnostic::error("argument-order", "a value without a name stands after one with a name", span, "which argument is this?")
                .and(named, "named")
                .help("put values without names first, or name them all")
        }
        other => figure(other),
    }
}

fn size(error: ArgumentError) -> Diagnostic {
    match error {
        ArgumentError::SizeUnknown { name, span, nearest, is } => {
            let headline = match is {
                Some(is) => format!("a size sets parameters, and `{name}` is {is}"),
                None => format!("a size sets parameters, and there is none called `{name}`"),
            };
            suggest(Diagnostic::error("size-unknown-parameter", headline, span, "not a parameter"), span, nearest.as_deref())
        }
        ArgumentError::SizeTwice { name, first, second } => {
            Diagnostic::error("size-sets-twice", format!("this size sets `{name}` twice"), second, "the second").and(first, "the first")
        }
        other => call(other),
    }
}

fn figure(error: ArgumentError) -> Diagnostic {
    match error {
        ArgumentError::UnknownSort { sort, span, nearest, known } => {
            let error =
                Diagnostic::error("unknown-material-kind", format!("`{sort}` is no kind of material"), span, "not a kind of material");
            match nearest {
                Some(_) => suggest(error, span, nearest.as_deref()),
                None => error.help(format!("a material is {}", super::one_of(&known))),
            }
        }
        ArgumentError::UnknownField { sort, field, span, nearest, known } => {
            let error =
                Diagnostic::error("unknown-field", format!("{sort} has no figure called `{field}`"), span, "not one of its figures");
            match nearest {
                Some(_) => suggest(error, span, nearest.as_deref()),
                None => error.help(format!("it has {}", all_of(&known))),
            }
        }
        ArgumentError::FieldTwice { field, first, second } => {
            Diagnostic::error("field-set-twice", format!("`{field}` is given twice"), second, "the second").and(first, "the first")
        }
        ArgumentError::MissingField { material, sort, fields, span } => {
            let headline = format!("`{material}` lacks {}, which every {sort} needs", all_of(&fields));
            Diagnostic::error("missing-field", headline, span, "not all of its figures are here")
                .help("measure it on your own goods and write it in")
        }
        ArgumentError::FieldUnnamed { span, known } => {
            Diagnostic::error("field-unnamed", "a figure of a material needs its name", span, "which figure is this?")
                .help(format!("name it: one of {}", super::one_of(&known)))
        }
        ArgumentError::Unknown { .. }
        | ArgumentError::Twice { .. }
        | ArgumentError::Missing { .. }
        | ArgumentError::TooMany { .. }
        | ArgumentError::Order { .. } => call(error),
        ArgumentError::SizeUnknown { .. } | ArgumentError::SizeTwice { .. } => size(error),
    }
}
