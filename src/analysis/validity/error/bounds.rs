//! Figures out of bounds.

use super::{fine, listed, tape};
use crate::diagnostic::Diagnostic;
use crate::quantity::{Length, UnitSystem, read_in, said};
use crate::source::Span;

/// A figure out of bounds.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::analysis::validity) enum BoundsError {
    /// An allowance wider than any seam asks for.
    WideAllowance { edges: Vec<String>, allowance: Length, widest: Length, at: Span },
    /// A stitch that no machine sews.
    Stitch { of: String, kind: &'static str, length: Length, bounds: [Length; 2], at: Span },
}

/// mm; common practice, no source.
const USUAL_ALLOWANCE: f64 = 12.0;

fn to_the_inch(stitch: Length) -> f64 {
    25.4 / stitch.as_mm()
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
            .help(format!(
                "Check its unit: {} is usual. Measures of an outline are finished measures, and the allowance is added to them.",
                tape(Length::mm(USUAL_ALLOWANCE))
            )),
            BoundsError::Stitch { of, kind, length, bounds: [shortest, longest], at } => Self::warning(
                "stitch-length",
                format!("{of} asks for a {kind} of {}", fine(length)),
                at,
                said(|style| match style.system {
                    UnitSystem::Metric => read_in(&format!("sewn from {} to {} long", fine(shortest), fine(longest)), style),
                    // Whole stitches inside the bounds.
                    UnitSystem::Inch => format!("sewn {} to {} to the inch", to_the_inch(longest).ceil(), to_the_inch(shortest).floor()),
                }),
            )
            .help(format!(
                "Check its unit: {} usual. Shorter ones perforate light cloth, longer ones hold little.",
                said(|style| match style.system {
                    UnitSystem::Metric => "2.5 mm is".to_owned(),
                    UnitSystem::Inch => "ten stitches to the inch, written `1 in / 10`, are".to_owned(),
                })
            )),
        }
    }
}
