//! Diagnostics as text for people and as JSON for programs.

mod excerpt;
mod json;
mod paragraphs;
mod text;

use crate::quantity::Style;

pub use json::{failure_json, render_json};
pub use paragraphs::paragraphs;
pub use text::{plain, render_text};

/// How text is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Look {
    /// With colours.
    pub colour: bool,
    /// Columns to wrap at.
    pub width: usize,
    /// In whose units.
    pub style: Style,
}

impl Look {
    /// Without colours, for a metric reader.
    #[must_use]
    pub const fn plain(width: usize) -> Self {
        Self { colour: false, width, style: Style::METRIC }
    }
}
