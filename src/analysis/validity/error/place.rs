//! Where attachments lie on their edges.

use super::{or_more, tape};
use crate::diagnostic::Diagnostic;
use crate::quantity::Length;
use crate::source::Span;

/// What an attachment takes of its edge.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::analysis::validity) struct Taken {
    /// Its name and place: `loops` at 25 cm from head.
    pub(in crate::analysis::validity) what: String,
    /// From and to, measured from the end named in the error.
    pub(in crate::analysis::validity) stretch: (Length, Length),
    /// Where it is declared.
    pub(in crate::analysis::validity) at: Span,
}

impl Taken {
    fn words(&self) -> String {
        format!("{} to {}", tape(self.stretch.0), tape(self.stretch.1))
    }
}

/// An attachment in a wrong place.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::analysis::validity) enum PlaceError {
    /// Two take the same stretch.
    Collide { first: Taken, second: Taken, edge: String, overlap: Length, end: String },
    /// One reaches past an end.
    PastEnd { what: String, edge: String, past: Length, end: String, length: Length, at: Span, edge_at: Span },
    /// One lies where the piece is turned.
    InOpening { what: String, edge: String, seam: String, overlap: Length, at: Span, opening_at: Span },
    /// One hides a notch.
    AcrossNotch { what: String, edge: String, notch: Length, end: String, at: Span, notch_at: Span },
}

impl From<PlaceError> for Diagnostic {
    fn from(error: PlaceError) -> Self {
        match error {
            PlaceError::Collide { first, second, edge, overlap, end } => {
                let headline = format!("{} and {} want the same {} of `{edge}`", first.what, second.what, tape(overlap));
                let found = Self::error("attachments-collide", headline, first.at, format!("takes {} from {end}", first.words()));
                let found =
                    if first.at == second.at { found } else { found.and(second.at, format!("takes {} from {end}", second.words())) };
                found.help(format!(
                    "Measured from {end}, the first takes {}, the second {}. Move one of them. If one is to lie on the other, \
                     write `may cross attachment` at the end of its line.",
                    first.words(),
                    second.words()
                ))
            }
            PlaceError::PastEnd { what, edge, past, end, length, at, edge_at } => Self::error(
                "past-end",
                format!("{what} reaches {} past the end of `{edge}`, where it meets {end}", tape(past)),
                at,
                "part of it has no edge to lie on",
            )
            .and(edge_at, format!("this edge is {} long", tape(length)))
            .help(format!(
                "Move it {} away from {end}. If it is meant to go round the corner, write `may cross corner` at the end of its line.",
                or_more(past)
            )),
            PlaceError::InOpening { what, edge, seam, overlap, at, opening_at } => Self::error(
                "in-opening",
                format!("{what} lies in the turning opening of `{seam}`, with {} of it", tape(overlap)),
                at,
                format!("`{edge}` is left open here, and no seam catches it"),
            )
            .and(opening_at, "the opening")
            .help(
                "Start the opening elsewhere, or move this. If it is sewn in when the opening is closed, \
                 write `may cross opening` at the end of its line.",
            ),
            PlaceError::AcrossNotch { what, edge, notch, end, at, notch_at } => Self::warning(
                "across-notch",
                format!("{what} covers the notch of `{edge}` at {} from {end}", tape(notch)),
                at,
                "the notch can't be seen under this",
            )
            .and(notch_at, "the notch")
            .help("Move one of them, or write `may cross notch` at the end of the line."),
        }
    }
}
