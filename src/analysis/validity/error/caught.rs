//! What seams catch, and what becomes of it.

use super::{or_more, tape};
use crate::diagnostic::Diagnostic;
use crate::quantity::{Length, said_short};
use crate::source::Span;

/// What does the work of a thing where no seam catches it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::analysis::validity) enum Instead {
    /// A half of a zipper or of another pair.
    Fastener,
    /// A casing of a strip.
    Casing,
    /// A loop or a tab.
    Loop,
}

impl Instead {
    /// How to mend it where the edge is hemmed.
    const fn on_hem(self) -> &'static str {
        match self {
            Self::Fastener => "Leave the edge without a hem: the fastener is sewn to the raw edge and covers it.",
            Self::Casing => {
                "Let the hem be the casing: finish the edge `with casing_hem(cord: …)` and thread a `drawcord()` along it. Or sew the edge \
                 in a seam and leave its finish out."
            }
            Self::Loop => {
                "Take `hem_loop()`, which is pushed into the hem from the back, or `tie_over()`, stitched over the finished edge. \
                 Or sew the edge in a seam and leave its finish out."
            }
        }
    }

    /// How to mend it where nothing is sewn.
    const fn on_open_edge(self) -> &'static str {
        match self {
            Self::Fastener => "Sew that stretch of the edge in a seam.",
            Self::Casing => {
                "Sew that edge in a seam; or hem it `with casing_hem(cord: …)`, which is a casing by itself, and thread a `drawcord()` along it."
            }
            Self::Loop => {
                "Sew that edge in a seam; or hem it and take `hem_loop()`, pushed into the hem. Away from edges, `face_loop()` is \
                 stitched on the face."
            }
        }
    }
}

/// Something wrong with how an attachment is caught, or with what it does once it is.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::analysis::validity) enum CaughtError {
    /// The allowance is narrower than what must be caught.
    TooShallow { what: String, edge: String, allowance: Length, catches: Length, at: Span, edge_at: Span },
    /// Lies on a hem that folds away from it.
    OnHem { what: String, edge: String, finish: String, instead: Instead, at: Span, finish_at: Span },
    /// No seam runs there.
    NoSeam { what: String, edge: String, instead: Instead, at: Span, edge_at: Span },
    /// Reaches past the hem that is to hold it.
    PastHem { what: String, edge: String, width: Length, catches: Length, at: Span, hem_at: Span },
    /// The allowance holds a loop, but little of it.
    Shallow { what: String, edge: String, allowance: Length, least: Length, at: Span, edge_at: Span },
    /// It lies across the piece, under another seam.
    Twice { what: String, reach: Length, edge: String, distance: Length, at: Span, seam_at: Span },
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
            CaughtError::TooShallow { what, edge, allowance, catches, at, edge_at } => {
                let (needed, found) = said_short(catches, allowance);
                Self::error(
                    "caught-too-shallow",
                    format!("the seam along `{edge}` can catch {found} of {what}, which needs {needed}"),
                    at,
                    format!("needs {needed} inside the allowance"),
                )
                .and(edge_at, format!("the allowance of this edge is {found}"))
                .help(format!("Allow {} or more on that edge.", or_more(catches)))
            }
            CaughtError::OnHem { what, edge, finish, instead, at, finish_at } => Self::error(
                "not-caught",
                format!("the hem of `{edge}` can't catch {what}"),
                at,
                "made to lie on a raw edge that a seam sews",
            )
            .and(finish_at, format!("`{finish}` folds this edge to the back, and no seam sews it"))
            .help(instead.on_hem()),
            CaughtError::NoSeam { what, edge, instead, at, edge_at } => {
                Self::error("not-caught", format!("nothing catches {what}: no seam sews `{edge}` there"), at, "only basted here")
                    .and(edge_at, "no seam sews this edge there, and it has no hem")
                    .help(instead.on_open_edge())
            }
            CaughtError::PastHem { what, edge, width, catches, at, hem_at } => {
                let (needed, found) = said_short(catches, width);
                Self::error(
                    "caught-too-shallow",
                    format!("the hem of `{edge}` is {found} wide and can catch no more of {what}, which needs {needed}"),
                    at,
                    format!("needs {needed} inside the hem"),
                )
                .and(hem_at, format!("this hem is {found} wide"))
                .help(format!("Make the hem {} wide or wider, or let less be caught.", or_more(catches)))
            }
            CaughtError::Shallow { what, edge, allowance, least, at, edge_at } => Self::warning(
                "caught-too-shallow",
                format!("the seam along `{edge}` catches only {} of {what}", tape(allowance)),
                at,
                "a pull on it can slip it out of the seam",
            )
            .and(edge_at, format!("the allowance of this edge is {}", tape(allowance)))
            .help(format!("Allow {} or more on that edge.", or_more(least))),
            CaughtError::Twice { what, reach, edge, distance, at, seam_at } => Self::warning(
                "caught-twice",
                format!("{what} reaches across to `{edge}`, and the seam there catches it too"),
                at,
                format!("reaches {} into the piece", tape(reach)),
            )
            .and(seam_at, format!("sews `{edge}`, {} away from it", tape(distance)))
            .help(
                "Cut it shorter; or fold it up and pin it well inside the seam line while that seam is sewn, and then accept this warning.",
            ),
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
