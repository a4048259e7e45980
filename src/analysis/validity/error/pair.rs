//! Halves that must meet.

use super::{fine, tape};
use crate::diagnostic::Diagnostic;
use crate::quantity::{Length, said_example};
use crate::source::Span;

/// Halves of a pair that can't meet as they should.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::analysis::validity) enum PairError {
    /// One takes more of its edge than the other.
    LengthsDiffer { what: String, edges: [String; 2], lengths: [Length; 2], at: Span, edges_at: [Span; 2] },
    /// Both lie on the same stretch.
    OneEdge { what: String, edge: String, at: Span },
    /// Halves that a stack sews in at opposite sides of the work; the stack has only two layers, or more.
    Apart { what: String, edges: [String; 2], mate: String, seam: String, two: bool, at: Span, seam_at: Span },
    /// One seam catches both.
    OneSeam { what: String, edges: [String; 2], seam: String, at: Span, seam_at: Span },
    /// They lie at different distances from the end they close about.
    NotLevel { what: String, edges: [String; 2], ends: [String; 2], distances: [Length; 2], at: Span },
    /// One half of a zipper faces the face, the other the back.
    Twisted { what: String, at: Span },
    /// Both halves of a snap open to one side.
    SnapsAlike { what: String, side: &'static str, at: Span },
}

impl From<PairError> for Diagnostic {
    fn from(error: PairError) -> Self {
        match error {
            PairError::LengthsDiffer { what, edges: [a, b], lengths: [first, second], at, edges_at } => Self::error(
                "pair-lengths-differ",
                format!("the halves of {what} differ in length: {} on `{a}`, {} on `{b}`", fine(first), fine(second)),
                at,
                format!("{} longer on one edge", fine(Length::mm((first - second).as_mm().abs()))),
            )
            .and(edges_at[0], format!("{} here", fine(first)))
            .and(edges_at[1], format!("{} here", fine(second)))
            .help(said_example("Give the stretch as a length (`over 45 cm from …`) that both edges have, or make the edges equal.")),
            PairError::OneEdge { what, edge, at } => Self::error(
                "pair-on-one-edge",
                format!("both halves of {what} lie on the same stretch of `{edge}`"),
                at,
                "there is nothing for the halves to meet across",
            )
            .help("Put the second half on the edge that meets this one: `between outer.left and outer.right`."),
            PairError::OneSeam { what, edges: [a, b], seam, at, seam_at } => Self::error(
                "pair-in-one-seam",
                format!("both halves of {what} are caught in the seam `{seam}`, and can never open"),
                at,
                format!("`{a}` and `{b}` are sewn to each other"),
            )
            .and(seam_at, "this seam joins them")
            .help("Put the halves on two edges that stay apart, or leave these edges out of the seam."),
            PairError::Apart { what, edges: [a, b], mate, seam, two, at, seam_at } => Self::error(
                "pair-apart",
                format!("the halves of {what} end at opposite sides of the work: in `{seam}`, `{a}` lies on `{mate}` and not on `{b}`"),
                at,
                "they can never meet",
            )
            .and(seam_at, "a layer turned over swaps its left and right here")
            .help(if two {
                format!(
                    "Put the second half on `{mate}`. A stack sews its edges whole: leave this one out of `sew …`, and join the rest of it, \
                     beside the opening, in a seam of its own: `join {a} over … from … to {mate} over … from …`."
                )
            } else {
                format!(
                    "Put the second half on `{mate}`. A stack sews its edges whole: leave this one out of `sew …`, and hem it on the other \
                     layers; or sew its layers in several seams."
                )
            }),
            PairError::NotLevel { what, edges: [a, b], ends: [c, d], distances: [first, second], at } => Self::warning(
                "pair-not-level",
                format!("the halves of {what} don't meet level: {} from {c} on `{a}`, {} from {d} on `{b}`", tape(first), tape(second)),
                at,
                format!("{} apart when the edges are laid together", fine(Length::mm((first - second).as_mm().abs()))),
            )
            .help(said_example("Measure both from the end at which the edges meet, as lengths: `at 10 cm from foot`.")),
            PairError::Twisted { what, at } => Self::error(
                "zipper-twisted",
                format!("one half of {what} faces the face and the other the back"),
                at,
                "closed, one side would show its teeth and the other its back",
            )
            .help("Both halves of a zipper face the same way: write `facing face`, or name one side in the component."),
            PairError::SnapsAlike { what, side, at } => Self::warning(
                "snaps-face-alike",
                format!("both halves of {what} open to the {side}"),
                at,
                "lapped edges lay a face on a back, and these halves would not meet",
            )
            .help("Let one half open to the back and the other to the face. If the edges are meant to close face to face, accept this warning."),
        }
    }
}
