//! How things are called in what is found.

use crate::ir::{Attachment, Design, Edge, EdgeId, EdgeSide, Layer, Piece, PieceId, Place};
use crate::quantity::{Length, said_length};

/// A piece's copy by its own name, or the piece's.
pub(super) fn owner(design: &Design, piece: PieceId, copy: Option<u32>) -> String {
    let Some(piece) = design.piece(piece) else { return String::new() };
    named_copy(piece, copy).unwrap_or(&piece.name).to_owned()
}

fn named_copy(piece: &Piece, copy: Option<u32>) -> Option<&str> {
    copy.and_then(|c| piece.copies.get(c as usize)).and_then(|c| c.name.as_deref())
}

/// A layer, as the `stack` line calls it.
pub(super) fn layer(design: &Design, layer: &Layer) -> String {
    owner(design, layer.piece, layer.copy)
}

/// An edge of a copy: `outer.left`.
pub(super) fn edge(design: &Design, piece: PieceId, copy: Option<u32>, edge: EdgeId) -> String {
    design.edge_name(&EdgeSide { piece, copy, edge, line: None, from: Length::default(), to: Length::default() })
}

/// Several edges in a row.
pub(super) fn chain(design: &Design, sides: &[EdgeSide]) -> String {
    let names: Vec<String> = sides.iter().map(|s| format!("`{}`", design.edge_name(s))).collect();
    names.join(" then ")
}

/// An attachment with its place: `loops` at 25 cm from head.
pub(super) fn attachment(attachment: &Attachment) -> String {
    match &attachment.place {
        Place::Edge { distance, from_end, stretch: false, .. } if !from_end.is_empty() => {
            format!("`{}` at {} from {from_end}", attachment.name, said_length(*distance))
        }
        _ => format!("`{}`", attachment.name),
    }
}

/// A stretch of an edge as the maker measures it from an end: near and far.
pub(super) fn from_end(edge: &Edge, end: &str, (from, to): (f64, f64)) -> (Length, Length) {
    if end == edge.start_neighbour {
        return (Length::mm(from), Length::mm(to));
    }
    let length = edge.length.as_mm();
    (Length::mm(length - to), Length::mm(length - from))
}

/// How much two stretches share, mm; nothing when they lie apart.
pub(super) fn shared(a: (f64, f64), b: (f64, f64)) -> f64 {
    (a.1.min(b.1) - a.0.max(b.0)).max(0.0)
}

/// The longest run of a length that none of some stretches takes, mm.
pub(super) fn longest_gap(mut taken: Vec<(f64, f64)>, length: f64) -> f64 {
    taken.sort_by(|a, b| a.0.total_cmp(&b.0));
    taken.push((length, length));
    let (mut longest, mut reached): (f64, f64) = (0.0, 0.0);
    for (from, to) in taken {
        longest = longest.max(from - reached);
        reached = reached.max(to);
    }
    longest
}
