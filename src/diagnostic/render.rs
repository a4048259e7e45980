//! Diagnostics as text for people and as JSON for programs.

use super::Problems;
use crate::source::SourceMap;

/// How text is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Look {
    /// With colours.
    pub colour: bool,
    /// Columns to wrap at.
    pub width: usize,
}

/// All problems as text, in source order.
#[must_use]
pub fn render_text(problems: &Problems, sources: &SourceMap, look: Look) -> String {
    let _ = (problems, sources, look);
    String::new()
}

/// All problems as a JSON array, in source order.
#[must_use]
pub fn render_json(problems: &Problems, sources: &SourceMap) -> String {
    let _ = (problems, sources);
    String::new()
}
