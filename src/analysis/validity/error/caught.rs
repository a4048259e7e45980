//! What seams catch, and what becomes of it.

use super::tape;
use crate::diagnostic::Diagnostic;
use crate::quantity::Length;
use crate::source::Span;

/// Something wrong with how an attachment is caught, or with what it does once it is.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::analysis::validity) enum CaughtError {
    /// The allowance is narrower than what must be caught.
    TooShallow { what: String, edge: String, allowance: Length, catches: Length, at: Span, edge_at: Span },
    /// The allowance holds a loop, but little of it.
    Shallow { what: String, edge: String, allowance: Length, least: Length, at: Span, edge_at: Span },
    /// It points beyond the raw edge in a seam that will be turned.
    PointsOut { what: String, seam: String, at: Span, seam_at: Span },
    /// It lies on a side that ends inside.
    WrongSide { what: String, seam: String, side: &'static str, at: Span, seam_at: Span },
    /// A cord on an edge that lies near a neck.
    CordNearNeck { what: String, edge: String, cord: String, at: Span },
}

impl From<CaughtError> for Diagnostic {
    fn from(error: CaughtError) -> Self {
        match error {
            CaughtError::TooShallow { what, edge, allowance, catches, at, edge_at } => Self::error(
                "caught-too-shallow",
                format!("the seam along `{edge}` can catch {} of {what}, which needs {}", tape(allowance), tape(catches)),
                at,
                format!("needs {} inside the allowance", tape(catches)),
            )
            .and(edge_at, format!("the allowance of this edge is {}", tape(allowance)))
            .help(format!("Allow {} or more on that edge.", tape(catches))),
            CaughtError::Shallow { what, edge, allowance, least, at, edge_at } => Self::warning(
                "caught-too-shallow",
                format!("the seam along `{edge}` catches only {} of {what}", tape(allowance)),
                at,
                "a pull on it can slip it out of the seam",
            )
            .and(edge_at, format!("the allowance of this edge is {}", tape(allowance)))
            .help(format!("Allow {} or more on that edge.", tape(least))),
            CaughtError::PointsOut { what, seam, at, seam_at } => Self::warning(
                "points-inside",
                format!("{what} ends inside once `{seam}` is turned"),
                at,
                "points beyond the raw edge while it is sewn",
            )
            .and(seam_at, "turned right side out through its opening")
            .help("What is to stick out of a turned seam points into the piece while it is sewn: write `pointing in`."),
            CaughtError::WrongSide { what, seam, side, at, seam_at } => Self::warning(
                "points-inside",
                format!("{what} ends inside once `{seam}` is turned"),
                at,
                format!("lies on the {side}, away from the opening, while it is sewn"),
            )
            .and(seam_at, "turned right side out through its opening")
            .help(
                "What is to stick out lies between the two layers that the opening lies between: \
                 turn it over with `facing face` or `facing back`, or set it on one of those two layers.",
            ),
            CaughtError::CordNearNeck { what, edge, cord, at } => Self::warning(
                "cord-near-neck",
                format!("{what} puts a cord, `{cord}`, along `{edge}`, near a neck"),
                at,
                "a cord here can tighten round a neck",
            )
            .help(
                "Leave it out of anything that a child wears or sleeps in: cords at the neck have killed children, and many countries \
                 forbid them. For a grown-up keep the tails short and the lock easy to open with one hand, and then accept this \
                 warning. Local rules come first.",
            ),
        }
    }
}
