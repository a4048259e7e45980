//! What checking finds, and how it is worded: one file a family.

mod module;
mod name;

pub(super) use module::ModuleError;
pub(super) use name::NameError;

use crate::diagnostic::Diagnostic;
use crate::source::Span;

/// Every code that checking reports, by family.
pub const CODES: &[&[&str]] = &[module::CODES, name::CODES];

/// Adds the nearest known name as help and as the edit that mends it.
fn suggest(diagnostic: Diagnostic, span: Span, nearest: Option<&str>) -> Diagnostic {
    match nearest {
        Some(name) => diagnostic.help(format!("did you mean `{name}`?")).edit(span, name),
        None => diagnostic,
    }
}

/// `a, b or c`, each in backquotes.
fn one_of<S: AsRef<str>>(words: &[S]) -> String {
    joined(words, "or")
}

/// `a, b and c`, each in backquotes.
fn all_of<S: AsRef<str>>(words: &[S]) -> String {
    joined(words, "and")
}

fn joined<S: AsRef<str>>(words: &[S], last: &str) -> String {
    match words {
        [] => String::new(),
        [only] => format!("`{}`", only.as_ref()),
        [first @ .., end] => {
            let first: Vec<_> = first.iter().map(|w| format!("`{}`", w.as_ref())).collect();
            format!("{} {last} `{}`", first.join(", "), end.as_ref())
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lists_in_words() {
        assert_eq!(one_of(&["a", "b", "c"]), "`a`, `b` or `c`");
        assert_eq!(all_of(&["a", "b"]), "`a` and `b`");
        assert_eq!(all_of::<&str>(&[]), "");
    }
}
