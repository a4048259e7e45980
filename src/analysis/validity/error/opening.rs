//! Turning openings.

use super::{or_more, tape};
use crate::diagnostic::Diagnostic;
use crate::quantity::Length;
use crate::source::Span;

/// Something wrong with an opening.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::analysis::validity) enum OpeningError {
    /// Too short for what goes through it.
    Short { seam: String, length: Length, least: Length, batting: bool, at: Span },
    /// On a curve.
    OnCurve { seam: String, edge: String, at: Span },
}

impl From<OpeningError> for Diagnostic {
    fn from(error: OpeningError) -> Self {
        match error {
            OpeningError::Short { seam, length, least, batting, at } => Self::warning(
                "opening-short",
                format!("an opening of {} is narrow for turning `{seam}`{}", tape(length), if batting { ", batting and all" } else { "" }),
                at,
                format!("{} or more turns without tearing stitches", or_more(least)),
            )
            .help(format!("Leave {} or more open.", or_more(least))),
            OpeningError::OnCurve { seam, edge, at } => Self::warning(
                "opening-on-curve",
                format!("the opening of `{seam}` lies on a curve of `{edge}`"),
                at,
                "a curve stretches while it is turned, and is hard to close neatly",
            )
            .help("Move it to a straight stretch of the seam."),
        }
    }
}
