//! What is said about a piece in words.

use crate::export::drawing;
use crate::ir::{Design, Piece};

/// What a maker must know of a piece that no other text says: its title, its copies and which of them are mirrored.
pub(super) fn of(design: &Design, piece: &Piece) -> String {
    let mut said = vec![piece.label.clone(), drawing::quantity(&piece.copies)];
    said.extend(drawing::copies(&piece.copies));
    if design.material(piece.material).is_some_and(|m| m.laser == Some(false)) {
        said.push("not for the laser".to_owned());
    }
    if piece.grain.angle.is_none() {
        said.push("grain any way".to_owned());
    }
    said.push("face up".to_owned());
    said.join("; ")
}

/// What is written beside a fold line.
pub(super) fn fold(of: &str) -> String {
    format!("fold, {of}")
}
