//! How the layers of a stack lie on each other.
//!
//! A layer that lies face down shows its outline mirrored, and so does a mirrored copy; one that is
//! both shows it as drawn. Layers of one hand meet in edges of one name, running the same way. Layers
//! of different hands meet in edges that are each other's mirror image: the left of one on the right
//! of the other.

use super::{EdgeId, Layer, Piece, PieceId, Seam, SeamForm, Stack};
use crate::geometry::{Point, Vector};
use std::collections::BTreeSet;

/// Corners of an outline and of its mirror image closer than this are the same corner, mm.
const SYMMETRIC: f64 = 2.0;

/// A stack seen as layers with hands.
pub(crate) struct Lay<'d> {
    pieces: &'d [Piece],
    /// Index of its seam.
    pub(crate) index: usize,
    pub(crate) seam: &'d Seam,
    pub(crate) stack: &'d Stack,
    /// The edges sewn of each layer.
    sewn: Vec<BTreeSet<EdgeId>>,
}

/// Every stack of a design, laid out once for all checks.
pub(crate) fn lays<'d>(pieces: &'d [Piece], seams: &'d [Seam]) -> Vec<Lay<'d>> {
    seams.iter().enumerate().filter_map(|(index, seam)| Lay::of(pieces, index, seam)).collect()
}

/// The edge of another layer that lies on an edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Mate {
    /// Which.
    pub(crate) edge: EdgeId,
    /// Whether it runs the other way.
    pub(crate) reversed: bool,
}

impl<'d> Lay<'d> {
    fn of(pieces: &'d [Piece], index: usize, seam: &'d Seam) -> Option<Self> {
        let SeamForm::Stack(stack) = &seam.form else { return None };
        let mut lay = Self { pieces, index, seam, stack, sewn: Vec::new() };
        let edges = |layer: &Layer| {
            let count = lay.piece(layer).map_or(0, |p| p.edges.len());
            if stack.around {
                return (0..count).map(EdgeId::at).collect();
            }
            stack.edges.iter().filter_map(|name| lay.edge(layer, name)).collect()
        };
        let sewn = stack.layers.iter().map(edges).collect();
        lay.sewn = sewn;
        Some(lay)
    }

    fn piece(&self, layer: &Layer) -> Option<&'d Piece> {
        self.pieces.get(layer.piece.index())
    }

    /// Whether a layer shows its outline mirrored; none when it may lie either way up, as its neighbours do.
    fn mirrored(&self, layer: &Layer) -> Option<bool> {
        let piece = self.piece(layer)?;
        layer.face_up.map(|up| up == piece.is_mirrored(layer.copy))
    }

    /// The hand in which the stack's edges are named: that of its first layer, or of the first that has one.
    fn hand(&self) -> bool {
        self.stack.layers.iter().find_map(|l| self.mirrored(l)).unwrap_or(false)
    }

    /// The edge of a layer that lies where a named edge of the stack is sewn.
    pub(crate) fn edge(&self, layer: &Layer, name: &str) -> Option<EdgeId> {
        let turned = self.mirrored(layer).is_some_and(|m| m != self.hand());
        self.named(layer, name, turned).map(|m| m.edge)
    }

    /// The edge of `other` that lies on an edge of `layer`.
    pub(crate) fn mate(&self, layer: &Layer, edge: EdgeId, other: &Layer) -> Option<Mate> {
        let name = &self.piece(layer)?.edges.get(edge.index())?.name;
        let turned = match (self.mirrored(layer), self.mirrored(other)) {
            (Some(a), Some(b)) => a != b,
            _ => false,
        };
        self.named(other, name, turned)
    }

    fn named(&self, layer: &Layer, name: &str, turned: bool) -> Option<Mate> {
        let piece = self.piece(layer)?;
        let index = piece.edges.iter().position(|e| e.name == name)?;
        let own = Mate { edge: EdgeId::at(index), reversed: turned };
        if !turned {
            return Some(own);
        }
        // A piece that is not its own mirror image can't lie on its like at all; its names are as good as any.
        Some(mirror_image(piece, index).map_or(own, |edge| Mate { edge, reversed: true }))
    }

    /// The layer that a copy of a piece is.
    pub(crate) fn layer_of(&self, piece: PieceId, copy: Option<u32>) -> Option<(usize, &'d Layer)> {
        self.stack.layers.iter().enumerate().find(|(_, l)| l.piece == piece && l.copy == copy)
    }

    /// The edges sewn of a layer.
    pub(crate) fn sewn(&self, layer: usize) -> impl Iterator<Item = EdgeId> + '_ {
        self.sewn.get(layer).into_iter().flatten().copied()
    }

    /// Whether an edge of a layer is sewn in this stack.
    pub(crate) fn sews(&self, layer: usize, edge: EdgeId) -> bool {
        self.sewn.get(layer).is_some_and(|edges| edges.contains(&edge))
    }
}

/// The edge that is an edge's mirror image across the upright middle line of its piece.
fn mirror_image(piece: &Piece, index: usize) -> Option<EdgeId> {
    let ends = |p: &crate::geometry::Path| (p.start, p.point_at(p.length() / 2.0), p.end());
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    for edge in &piece.edges {
        let bounds = edge.path.bounds();
        (low, high) = (low.min(bounds.min.x), high.max(bounds.max.x));
    }
    let axis = Point::new(f64::midpoint(low, high), 0.0);
    let (start, middle, end) = ends(&piece.edges.get(index)?.path);
    let near = |p: Point, q: Point| p.mirrored(axis, Vector::new(0.0, 1.0)).distance(q) <= SYMMETRIC;
    let found = piece.edges.iter().position(|other| {
        let (s, m, e) = ends(&other.path);
        near(start, e) && near(middle, m) && near(end, s)
    });
    found.map(EdgeId::at)
}
