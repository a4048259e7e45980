//! Allowances, and what becomes of raw edges.

use super::{or_more, tape};
use crate::diagnostic::Diagnostic;
use crate::quantity::{Length, said_short};
use crate::source::Span;

/// Something wrong with the allowances of a seam.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::analysis::validity) enum AllowanceError {
    /// The finish asks for more.
    TooNarrow { finish: String, seam: String, needs: Length, edge: String, allowance: Length, at: Span, edge_at: Span },
    /// Raw edges that don't lie level.
    Differ { seam: String, first: (String, Length), second: (String, Length), at: Span, edges_at: [Span; 2] },
    /// Two seams use one stretch.
    SewnTwice { edge: String, overlap: Length, seams: [String; 2], at: [Span; 2] },
    /// An edge joined to itself.
    ToItself { edge: String, seam: String, at: Span },
    /// Nothing covers the raw edges of a seam.
    Exposed { seam: String, at: Span },
}

impl From<AllowanceError> for Diagnostic {
    fn from(error: AllowanceError) -> Self {
        match error {
            AllowanceError::TooNarrow { finish, seam, needs, edge, allowance, at, edge_at } => {
                let (needed, found) = said_short(needs, allowance);
                Self::error(
                    "allowance-too-narrow-for-finish",
                    format!("`{finish}` in `{seam}` needs an allowance of {needed}, and `{edge}` has {found}"),
                    at,
                    format!("needs {needed} on every edge it finishes"),
                )
                .and(edge_at, format!("allowance {found}"))
                .help(format!("Allow {} on that edge, or choose a narrower finish.", or_more(needs)))
            }
            AllowanceError::Differ { seam, first: (a, first), second: (b, second), at, edges_at } => Self::warning(
                "allowances-differ",
                format!("`{seam}` lays an allowance of {} (`{a}`) on one of {} (`{b}`)", tape(first), tape(second)),
                at,
                "with the raw edges level, the seam comes out beside its line",
            )
            .and(edges_at[0], format!("allowance {}", tape(first)))
            .and(edges_at[1], format!("allowance {}", tape(second)))
            .help("Give both edges the same allowance. Where a finish is to fold the wider round the narrower, name it: `with felled()`."),
            AllowanceError::SewnTwice { edge, overlap, seams: [a, b], at } => Self::warning(
                "edge-sewn-twice",
                format!("{} of `{edge}` is sewn in two seams, `{a}` and `{b}`", tape(overlap)),
                at[0],
                "sews it",
            )
            .and(at[1], "sews it too")
            .help(format!("One of the two probably means another edge. If both are meant, say which comes first: `after {a}` in `{b}`.")),
            AllowanceError::ToItself { edge, seam, at } => {
                Self::warning("edge-sewn-twice", format!("`{seam}` joins `{edge}` to itself"), at, "both sides are the same stretch")
                    .help("Name the other edge on one side, or fold the edge by joining one half of it to the other.")
            }
            AllowanceError::Exposed { seam, at } => {
                Self::warning("raw-edge-exposed", format!("the raw edges of `{seam}` stay open"), at, "no finish encloses them").help(
                    "Woven cloth frays there. Finish the seam, for instance `with felled()` or `with bound_seam()`; \
                 if the edges don't fray or are covered later, accept this warning.",
                )
            }
        }
    }
}
