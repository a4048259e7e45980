//! What can go wrong while a panel is drafted: facts in named fields, worded beside each variant.

mod cut;
mod derived;
mod mark;
mod outline;
mod part;

pub(crate) use cut::{CutError, MOST_STRAIN, Unfit};
pub(crate) use mark::MarkError;
pub(crate) use outline::{NotOne, OutlineError};
pub(crate) use part::PartError;

use crate::diagnostic::{Diagnostic, Problems, Severity};
use crate::quantity::{Length, said_apart, said_least, said_length, said_most};
use crate::source::Span;

/// Every code of drafting.
pub const CODES: &[&str] = &[
    "unusable-size",
    "piece-too-large",
    "outline-empty",
    "outline-crosses-itself",
    "zero-length-edge",
    "edge-named-twice",
    "edge-not-here",
    "unknown-edge-end",
    "unclear-edge-end",
    "taper-longer-than-edge",
    "tapers-meet",
    "taper-needs-straight-edge",
    "taper-closes-edge",
    "corner-moved-twice",
    "corner-not-there",
    "corner-too-large",
    "corner-needs-straight-edges",
    "corner-treated-twice",
    "corner-turns-inward",
    "moved-past-bend",
    "moved-away",
    "moved-apart",
    "not-one-outline",
    "changes-nothing",
    "strip-without-ends",
    "strip-too-wide",
    "split-not-across",
    "edge-split-twice",
    "split-on-fold",
    "fold-not-straight",
    "half-over-fold",
    "negative-allowance",
    "allowance-exceeds-curve",
    "allowance-crosses",
    "edge-too-short-for-allowance",
    "hem-deeper-than-half",
    "hem-on-curve",
    "fold-past-allowance",
    "corner-join-idle",
    "corner-join-impossible",
    "folded-corner-without-hem",
    "dart-past-end",
    "dart-too-deep",
    "dart-without-cap",
    "darts-overlap",
    "dart-across-split",
    "hole-outside",
    "hole-crosses",
    "notch-past-end",
    "notch-too-deep",
    "notch-reaches-stitching",
    "notches-overlap",
    "notch-in-dart",
];

/// An error and the panel it is of.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct InPanel<'a, E> {
    /// The panel's name.
    pub(crate) panel: &'a str,
    /// What is wrong with it.
    pub(crate) error: E,
}

/// Where drafting reports to.
pub(crate) struct Report<'a> {
    panel: &'a str,
    problems: &'a mut Problems,
    failed: bool,
}

impl<'a> Report<'a> {
    pub(crate) const fn new(panel: &'a str, problems: &'a mut Problems) -> Self {
        Self { panel, problems, failed: false }
    }

    /// Reports an error or a warning.
    pub(crate) fn push<E>(&mut self, error: E)
    where
        Diagnostic: From<InPanel<'a, E>>,
    {
        let diagnostic = Diagnostic::from(InPanel { panel: self.panel, error });
        self.failed |= diagnostic.severity == Severity::Error;
        self.problems.push(diagnostic);
    }

    /// The value, or none once the error is reported.
    pub(crate) fn take<T, E>(&mut self, result: Result<T, E>) -> Option<T>
    where
        Diagnostic: From<InPanel<'a, E>>,
    {
        result.map_err(|error| self.push(error)).ok()
    }

    /// Whether anything was reported that keeps the piece from being made.
    pub(crate) const fn has_failed(&self) -> bool {
        self.failed
    }
}

/// Another place with its part in the matter, unless it is the place already shown: edges of a called outline share one.
fn also(diagnostic: Diagnostic, span: Span, label: &'static str) -> Diagnostic {
    let shown = diagnostic.labels.iter().any(|l| l.span == span);
    if shown { diagnostic } else { diagnostic.and(span, label) }
}

/// A length as a tape shows it.
fn mm(length: f64) -> String {
    said_length(Length::mm(length))
}

/// A length that will do, and more would.
fn at_least(length: f64) -> String {
    said_least(Length::mm(length))
}

/// A length that will do, and less would.
fn at_most(length: f64) -> String {
    said_most(Length::mm(length))
}

/// Two lengths, to be compared: finer where they would read the same.
fn pair(first: f64, second: f64) -> (String, String) {
    said_apart(Length::mm(first), Length::mm(second))
}

/// Names for a sentence: `head`, `left` and `foot`.
fn list(names: &[String]) -> String {
    let quoted: Vec<String> = names.iter().map(|n| format!("`{n}`")).collect();
    match quoted.split_last() {
        None => "none".to_owned(),
        Some((last, [])) => last.clone(),
        Some((last, others)) => format!("{} and {last}", others.join(", ")),
    }
}
