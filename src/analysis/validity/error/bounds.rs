//! Figures out of bounds.

use super::{fine, listed, tape};
use crate::diagnostic::Diagnostic;
use crate::quantity::Length;
use crate::source::Span;

/// A figure out of bounds.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::analysis::validity) enum BoundsError {
    /// An allowance wider than any seam asks for.
    WideAllowance { edges: Vec<String>, allowance: Length, widest: Length, at: Span },
    /// A stitch that no machine sews.
    Stitch { of: String, kind: &'static str, length: Length, bounds: [Length; 2], at: Span },
}

impl From<BoundsError> for Diagnostic {
    fn from(error: BoundsError) -> Self {
        match error {
            BoundsError::WideAllowance { edges, allowance, widest, at } => Self::warning(
                "allowance-wide",
                format!("the allowance of {} is {}", listed(&edges), tape(allowance)),
                at,
                format!("seams and hems take {} at most", tape(widest)),
            )
            .help("Check its unit: 12 mm is usual. Measures of an outline are finished measures, and the allowance is added to them."),
            BoundsError::Stitch { of, kind, length, bounds: [shortest, longest], at } => Self::warning(
                "stitch-length",
                format!("{of} asks for a {kind} of {}", fine(length)),
                at,
                format!("sewn from {} to {} long", fine(shortest), fine(longest)),
            )
            .help(
                "Check its unit: 2.5 mm is usual, ten stitches to the inch. Shorter ones perforate light cloth, longer ones hold little.",
            ),
        }
    }
}
