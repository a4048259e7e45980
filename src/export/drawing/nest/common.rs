//! The point at which sizes are laid over one another.

use crate::export::drawing::outline;
use crate::geometry::Point;
use crate::ir::Piece;

/// The start of an edge, in the order in which the outline runs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct EdgeStart {
    /// Of this piece; of every piece that has such an edge when none is named.
    pub piece: Option<String>,
    /// The edge's name.
    pub edge: String,
}

impl EdgeStart {
    /// `head`, or `shell.head`.
    #[must_use]
    pub fn named(text: &str) -> Self {
        match text.rsplit_once('.') {
            Some((piece, edge)) => Self { piece: Some(piece.to_owned()), edge: edge.to_owned() },
            None => Self { piece: None, edge: text.to_owned() },
        }
    }

    /// Where it is on a piece, if it means that piece.
    #[must_use]
    pub fn on(&self, piece: &Piece) -> Option<Point> {
        let meant = self.piece.as_ref().is_none_or(|p| *p == piece.name);
        piece.edges.iter().find(|e| meant && e.name == self.edge).map(|e| e.path.start)
    }
}

/// Where a piece is laid over its other sizes.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Common {
    /// The start of an edge of this name.
    Start(String),
    /// The middle of its box: the outline has no corner.
    Middle,
}

impl Common {
    /// As chosen, or the lower left corner of one size, by which it is found on the others.
    pub(super) fn choose(piece: &Piece, at: &[EdgeStart]) -> Self {
        // What names the piece goes before what names no piece.
        let mut named: Vec<&EdgeStart> = at.iter().filter(|a| a.on(piece).is_some()).collect();
        named.sort_by_key(|a| a.piece.is_none());
        if let Some(start) = named.first() {
            return Self::Start(start.edge.clone());
        }
        let round = piece.edges.len() == 1 && piece.edges.iter().all(|e| e.path.is_closed());
        match lower_left(piece).filter(|_| !round) {
            Some((edge, _)) => Self::Start(edge),
            None => Self::Middle,
        }
    }

    /// Where it is on a piece.
    pub(super) fn on(&self, piece: &Piece) -> Point {
        match self {
            Self::Start(edge) => {
                let start = piece.edges.iter().find(|e| e.name == *edge).map(|e| e.path.start);
                start.or_else(|| lower_left(piece).map(|(_, p)| p)).unwrap_or(piece.cut_line.start)
            }
            Self::Middle => outline(piece).bounds().centre(),
        }
    }
}

/// The corner farthest to the lower left, and the edge that starts there; of two as far, the lower one.
fn lower_left(piece: &Piece) -> Option<(String, Point)> {
    // To a thousandth of a millimetre, so that rounding does not choose.
    let key = |p: Point| (((p.x + p.y) * 1e3).round(), (p.y * 1e3).round());
    let before = |a: Point, b: Point| key(a).0.total_cmp(&key(b).0).then(key(a).1.total_cmp(&key(b).1));
    let corners = piece.edges.iter().map(|e| (e.name.clone(), e.path.start));
    corners.min_by(|(_, a), (_, b)| before(*a, *b))
}
