//! Materials and pieces at a cutter.

use super::{fine, tape};
use crate::diagnostic::Diagnostic;
use crate::quantity::Length;
use crate::source::Span;

/// Something wrong with what goes to a cutter.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::analysis::validity) enum CutterError {
    /// A laser may not cut it.
    NotForLaser { material: String, cutter: String, at: Span, material_at: Span },
    /// Nobody says whether a laser may cut it.
    LaserNotKnown { material: String, at: Span, material_at: Span },
    /// A bed far too small for the pieces.
    TooManyFrames { piece: String, of_one: u64, all: u64, most: u64, cutter: String, at: Span, piece_at: Span },
    /// More pieces than one run of a cutter holds.
    TooManyPieces { all: usize, most: usize, cutter: String, at: Span },
    /// Something smaller than the cutter can cut.
    TooFine {
        piece: String,
        what: String,
        edge: String,
        place: (Length, Length),
        finest: Length,
        cutter: String,
        at: Span,
        cutter_at: Span,
    },
}

impl From<CutterError> for Diagnostic {
    fn from(error: CutterError) -> Self {
        match error {
            CutterError::NotForLaser { material, cutter, at, material_at } => Self::error(
                "not-for-laser",
                format!("`{material}` must not go under a laser: what is on it can give off poisonous gas, which eats the machine as well"),
                at,
                format!("sent to `{cutter}`"),
            )
            .and(material_at, "`laser = no` is said of it here")
            .help("Cut it with a blade or by hand: send it to a knife, or take it out of this line."),
            CutterError::LaserNotKnown { material, at, material_at } => Self::warning(
                "laser-not-known",
                format!("nothing says whether `{material}` may go under a laser"),
                at,
                "an unknown coating may give off poisonous gas",
            )
            .and(material_at, "no `laser` figure here")
            .help("Ask the seller for the cloth's data sheet, and write what it says: `laser = yes` or `laser = no`."),
            CutterError::TooManyFrames { piece, of_one, all, most, cutter, at, piece_at } => Self::error(
                "too-many-frames",
                format!("`{cutter}` would take {all} frames: nobody moves the cloth on so often"),
                at,
                format!("the most is {most}"),
            )
            .and(piece_at, format!("`{piece}` alone takes {of_one} each time it is cut"))
            .help("Check the size of the bed and its units; cut what is much larger than the bed by hand."),
            CutterError::TooManyPieces { all, most, cutter, at } => Self::error(
                "too-many-frames",
                format!("{all} pieces of cloth go to `{cutter}` in one size"),
                at,
                format!("the most is {most}"),
            )
            .help("Cut the design several times over instead, or send fewer of its materials here."),
            CutterError::TooFine { piece, what, edge, place, finest, cutter, at, cutter_at } => Self::warning(
                "finer-than-cutter",
                format!("`{piece}`: {what} is smaller somewhere than the {} that `{cutter}` can cut", fine(finest)),
                at,
                format!("near {edge}, at ({}, {})", tape(place.0), tape(place.1)),
            )
            .and(cutter_at, "this cutter")
            .help("Make it larger, cut it by hand, or try it on a scrap and accept this."),
        }
    }
}
