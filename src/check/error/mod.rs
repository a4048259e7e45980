//! What checking finds, and how it is worded: one file a family.

mod argument;
mod construct;
mod cutter;
mod kind;
mod module;
mod name;
mod outline;
mod seam;
mod unused;

pub(super) use argument::{ArgumentError, MaterialError, SizeError};
pub(super) use construct::ConstructError;
pub(super) use cutter::CutterError;
pub(super) use kind::{Bare, KindError};
pub(super) use module::ModuleError;
pub(super) use name::NameError;
pub(super) use outline::{OutlineError, PlaceError};
pub(super) use seam::SeamError;
pub(super) use unused::{Unused, UnusedThing};

use crate::diagnostic::Diagnostic;
use crate::source::Span;

/// Every code that checking reports, by family.
pub const CODES: &[&str] = &[
    // Between files
    "module-missing",
    "module-outside",
    "module-unreadable",
    "module-reserved",
    "module-cycle",
    "import-missing",
    "import-clash",
    "unused-import",
    "design-in-module",
    "no-design",
    "two-designs",
    // Names
    "unknown-name",
    "wrong-thing",
    "name-declared-twice",
    "name-taken",
    "reserved-name",
    "choice-clash",
    "size-under-when",
    "cycle",
    "unknown-edge",
    "unknown-part",
    "which-copy",
    "unknown-member",
    "unknown-word",
    "unknown-stitch",
    "unknown-kind",
    // Kinds
    "dimension-mismatch",
    "wrong-kind",
    "not-yes-or-no",
    "wrong-word",
    "currencies-mixed",
    "temperature-reading",
    "impossible-root",
    "power-too-high",
    "unknown-unit",
    // What is handed over
    "unknown-argument",
    "argument-twice",
    "argument-missing",
    "too-many-arguments",
    "argument-order",
    "size-unknown-parameter",
    "size-sets-twice",
    "unknown-material-kind",
    "unknown-field",
    "field-set-twice",
    "missing-field",
    "field-unnamed",
    // Panels, outlines, components, places
    "said-twice",
    "panel-without-shape",
    "panel-without-cut",
    "no-such-part",
    "split-in-component",
    "component-without-sits",
    "pair-needs-between",
    "not-a-pair",
    "wrong-place",
    "range-without-order",
    "outline-without-start",
    "outline-without-edges",
    "outline-open",
    "outline-closed-early",
    "smooth-without-stroke",
    "place-without-end",
    "edge-missing",
    "edge-not-needed",
    // Seams and quiltings
    "seam-without-edges",
    "seam-of-two-forms",
    "stray-in-seam",
    "stack-not-sewn",
    "opening-without-close",
    "close-without-opening",
    "ease-and-gather",
    "not-a-layer",
    "quilt-without-layers",
    "nothing-quilted",
    // Cutters
    "unknown-cutter-kind",
    "pen-cuts",
    "layer-name",
    "layer-drawn-and-cut",
    "line-done-twice",
    "outlines-not-done",
    "outlines-before-inner",
    // Never used
    "unused-parameter",
    "unused-let",
    "unused-material",
    "unused-function",
    "unused-component",
    "unused-outline",
    "unused-finish",
    "unused-cutter",
];

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
