//! Cords and the casings they run in.

use crate::diagnostic::Diagnostic;
use crate::quantity::{Length, said_short};
use crate::source::Span;

/// Something wrong with a casing.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::analysis::validity) enum CasingError {
    /// There is none.
    None { what: String, edge: String, at: Span, edge_at: Span },
    /// Too narrow for the cord.
    Narrow { what: String, edge: String, width: Length, needs: Length, at: Span, casing_at: Span },
}

impl From<CasingError> for Diagnostic {
    fn from(error: CasingError) -> Self {
        match error {
            CasingError::None { what, edge, at, edge_at } => Self::error(
                "no-casing",
                format!("{what} is threaded through a casing, and `{edge}` has none"),
                at,
                "nothing here to run in",
            )
            .and(edge_at, "this edge has neither a hem nor a strip along it")
            .help(
                "Hem the edge as a casing, `finish EDGE with casing_hem(cord: …)`; or use `cord_casing(…)`, which brings its own strip \
                 and its own cord.",
            ),
            CasingError::Narrow { what, edge, width, needs, at, casing_at } => {
                let (needs, width) = said_short(needs, width);
                Self::error(
                    "casing-too-narrow",
                    format!("the casing of `{edge}` is {width} wide inside, and the cord of {what} needs {needs}"),
                    at,
                    "does not slide",
                )
                .and(casing_at, format!("{width} from fold to stitching"))
                .help("Make the hem wider, or take a thinner cord.")
            }
        }
    }
}
