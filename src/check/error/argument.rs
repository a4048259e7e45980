//! What goes wrong with what is handed over: arguments, settings of sizes, figures of materials.

use super::{all_of, suggest};
use crate::diagnostic::Diagnostic;
use crate::source::Span;

/// With arguments.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::check) enum ArgumentError {
    /// No argument of this name.
    Unknown { callee: String, name: String, span: Span, nearest: Option<String>, known: Vec<String> },
    /// A named argument of a built-in function.
    BuiltInNamed { callee: &'static str, span: Span },
    /// One argument twice.
    Twice { name: String, first: Span, second: Span },
    /// One that is needed and not there.
    Missing { callee: String, names: Vec<String>, span: Span, declared: Option<Span> },
    /// A measure rounded without a step.
    NoStep { callee: &'static str, of: String, span: Span },
    /// More than it takes.
    TooMany { callee: String, takes: usize, given: usize, span: Span },
    /// One by its place after one by its name.
    Order { span: Span, named: Span },
}

/// With sizes.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::check) enum SizeError {
    /// It sets what is no parameter.
    Unknown { name: String, span: Span, nearest: Option<String>, is: Option<&'static str> },
    /// It sets a parameter twice.
    Twice { name: String, first: Span, second: Span },
}

/// With materials.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::check) enum MaterialError {
    /// A sort of material that is none.
    Sort { sort: String, span: Span, nearest: Option<String>, known: Vec<&'static str> },
    /// A figure that this sort of material does not have.
    Field { sort: String, field: String, span: Span, nearest: Option<String>, known: Vec<&'static str> },
    /// A figure twice.
    Twice { field: String, first: Span, second: Span },
    /// A figure that is needed and not there.
    Missing { name: String, sort: &'static str, fields: Vec<&'static str>, on: &'static str, span: Span },
    /// A figure given by its place, not its name.
    Unnamed { span: Span, known: Vec<&'static str> },
}

impl From<ArgumentError> for Diagnostic {
    fn from(error: ArgumentError) -> Self {
        match error {
            ArgumentError::Unknown { callee, name, span, nearest, known } => {
                let headline = format!("`{callee}` takes nothing called `{name}`");
                let error = Self::error("unknown-argument", headline, span, "not one of its arguments");
                match nearest {
                    Some(_) => suggest(error, span, nearest.as_deref()),
                    None if known.is_empty() => error.help(format!("it takes nothing at all: `{callee}()`")),
                    None => error.help(format!("it takes {}", all_of(&known))),
                }
            }
            ArgumentError::BuiltInNamed { callee, span } => {
                let headline = format!("`{callee}` takes its values without names");
                Self::error("unknown-argument", headline, span, "a name").help("leave the name and the colon out")
            }
            ArgumentError::Twice { name, first, second } => {
                Self::error("argument-twice", format!("`{name}` is given twice"), second, "the second")
                    .and(first, "the first")
                    .help("leave one of them out")
            }
            ArgumentError::Missing { callee, names, span, declared } => missing(&callee, &names, span, declared),
            ArgumentError::NoStep { callee, of, span } => {
                let headline = format!("`{callee}` of {of} needs the step to round to");
                Self::error("argument-missing", headline, span, "round to what?")
                    .help(format!("give it as the second value: `{callee}(…, 5 mm)`; only bare numbers are rounded to whole ones"))
            }
            ArgumentError::TooMany { callee, takes, given, span } => {
                let things = match takes {
                    0 => "no values".to_owned(),
                    1 => "one value".to_owned(),
                    _ => format!("{takes} values"),
                };
                Self::error("too-many-arguments", format!("`{callee}` takes {things}, and {given} are given"), span, "one too many")
            }
            ArgumentError::Order { span, named } => {
                Self::error("argument-order", "a value without a name stands after one with a name", span, "which argument is this?")
                    .and(named, "named")
                    .help("put values without names first, or name them all")
            }
        }
    }
}

fn missing(callee: &str, names: &[String], span: Span, declared: Option<Span>) -> Diagnostic {
    let error = Diagnostic::error("argument-missing", format!("`{callee}` needs {} as well", all_of(names)), span, "not given here");
    let shown: Vec<_> = names.iter().map(|n| format!("{n}: …")).collect();
    let error = error.help(format!("write `{callee}({})`", shown.join(", ")));
    match declared {
        Some(declared) => error.and(declared, "declared here"),
        None => error,
    }
}

impl From<SizeError> for Diagnostic {
    fn from(error: SizeError) -> Self {
        match error {
            SizeError::Unknown { name, span, nearest, is } => {
                let headline = match is {
                    Some(is) => format!("a size sets parameters, and `{name}` is {is}"),
                    None => format!("a size sets parameters, and there is none called `{name}`"),
                };
                suggest(Self::error("size-unknown-parameter", headline, span, "not a parameter"), span, nearest.as_deref())
            }
            SizeError::Twice { name, first, second } => {
                Self::error("size-sets-twice", format!("this size sets `{name}` twice"), second, "the second")
                    .and(first, "the first")
                    .help("leave one of them out")
            }
        }
    }
}

impl From<MaterialError> for Diagnostic {
    fn from(error: MaterialError) -> Self {
        match error {
            MaterialError::Sort { sort, span, nearest, known } => {
                let headline = format!("`{sort}` is no kind of material");
                let error = Self::error("unknown-material-kind", headline, span, "not a kind of material");
                match nearest {
                    Some(_) => suggest(error, span, nearest.as_deref()),
                    None => error.help(format!("a material is {}", super::one_of(&known))),
                }
            }
            MaterialError::Field { sort, field, span, nearest, known } => {
                let error = Self::error("unknown-field", format!("{sort} has no figure called `{field}`"), span, "not one of its figures");
                match nearest {
                    Some(_) => suggest(error, span, nearest.as_deref()),
                    None => error.help(format!("it has {}", all_of(&known))),
                }
            }
            MaterialError::Twice { field, first, second } => {
                Self::error("field-set-twice", format!("`{field}` is given twice"), second, "the second")
                    .and(first, "the first")
                    .help("leave one of them out")
            }
            MaterialError::Missing { name, sort, fields, on, span } => {
                let headline = format!("`{name}` lacks {}, which every {sort} needs", all_of(&fields));
                Self::error("missing-field", headline, span, "not all of its figures are here")
                    .help(format!("measure it on your own {on} and write it in"))
            }
            MaterialError::Unnamed { span, known } => {
                let error = Self::error("field-unnamed", "a figure of a material needs its name", span, "which figure is this?");
                if known.is_empty() { error } else { error.help(format!("name it: {}", super::one_of(&known))) }
            }
        }
    }
}
