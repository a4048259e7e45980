//! Diagnostics: what is wrong, where, and how to mend it.
//!
//! Every stage has its own error types and words them beside the variant; all of them
//! end as a [`Diagnostic`] in one [`Problems`] sink.

mod nearest;
mod pages;
mod problems;
mod render;
mod words;

pub use nearest::nearest;
pub use pages::{all_codes, explain};
pub use problems::Problems;
pub use render::{Look, failure_json, paragraphs, plain, render_json, render_text};
pub use words::{Words, reads, said_example};

use crate::source::Span;

/// How bad it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// The design can't be built as written; nothing is written out.
    Error,
    /// It can be built, and a master sewer would shake their head.
    Warning,
}

/// A place in the source with a word on its part in the matter.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Label {
    /// Where.
    pub span: Span,
    /// Its part in the matter; may be empty for the main place.
    pub text: Words,
}

/// An edit that mends the matter, where it can be worked out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Edit {
    /// What is replaced.
    pub span: Span,
    /// By what.
    pub replacement: Words,
}

/// One thing found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Diagnostic {
    /// Stable kebab-case code; `lapfell explain CODE` prints its page.
    pub code: &'static str,
    /// How bad it is.
    pub severity: Severity,
    /// The matter in a maker's words, with the figures.
    pub headline: Words,
    /// The places involved, the main one first; never empty.
    pub labels: Vec<Label>,
    /// How to mend it.
    pub help: Option<Words>,
    /// The edit that would.
    pub edit: Option<Edit>,
    /// In which sizes it holds; empty when it holds whatever the size.
    pub sizes: Vec<String>,
}

impl Diagnostic {
    /// An error at a place.
    #[must_use]
    pub fn error(code: &'static str, headline: impl Into<Words>, span: Span, label: impl Into<Words>) -> Self {
        Self {
            code,
            severity: Severity::Error,
            headline: headline.into(),
            labels: vec![Label { span, text: label.into() }],
            help: None,
            edit: None,
            sizes: Vec::new(),
        }
    }

    /// A warning at a place.
    #[must_use]
    pub fn warning(code: &'static str, headline: impl Into<Words>, span: Span, label: impl Into<Words>) -> Self {
        Self { severity: Severity::Warning, ..Self::error(code, headline, span, label) }
    }

    /// Adds another place.
    #[must_use]
    pub fn and(mut self, span: Span, label: impl Into<Words>) -> Self {
        self.labels.push(Label { span, text: label.into() });
        self
    }

    /// Adds how to mend it.
    #[must_use]
    pub fn help(mut self, help: impl Into<Words>) -> Self {
        self.help = Some(help.into());
        self
    }

    /// Adds the edit that mends it.
    #[must_use]
    pub fn edit(mut self, span: Span, replacement: impl Into<Words>) -> Self {
        self.edit = Some(Edit { span, replacement: replacement.into() });
        self
    }
}
