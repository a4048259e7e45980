//! How the layers of a stack lie on each other.
//!
//! A layer that lies face down shows its outline mirrored, and so does a mirrored copy; one that is
//! both shows it as drawn. Layers of one hand meet in edges of one name, running the same way. Layers
//! of different hands meet in edges that are each other's mirror image: the left of one on the right
//! of the other.

use super::naming::is_mirrored;
use crate::geometry::{Point, Vector};
use crate::ir::{Design, EdgeId, Layer, Piece, Seam, SeamForm, Stack};
use std::collections::BTreeSet;

/// Corners of an outline and of its mirror image closer than this are the same corner, mm.
const SYMMETRIC: f64 = 2.0;

/// A stack seen as layers with hands.
pub(super) struct Lay<'d> {
    design: &'d Design,
    /// Index of its seam.
    pub(super) index: usize,
    pub(super) seam: &'d Seam,
    pub(super) stack: &'d Stack,
    /// The edges sewn of each layer.
    sewn: Vec<BTreeSet<EdgeId>>,
}

/// Every stack of a design, laid out once for all checks.
pub(super) fn lays(design: &Design) -> Vec<Lay<'_>> {
    let stack = |(index, seam): (usize, &'_ Seam)| match &seam.form {
        SeamForm::Stack(_) => Some(index),
        SeamForm::Join(_) => None,
    };
    let stacks: Vec<usize> = design.seams.iter().enumerate().filter_map(stack).collect();
    stacks.into_iter().filter_map(|index| Lay::of(design, index)).collect()
}

/// The edge of another layer that lies on an edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Mate {
    /// Which.
    pub(super) edge: EdgeId,
    /// Whether it runs the other way.
    pub(super) reversed: bool,
}

impl<'d> Lay<'d> {
    fn of(design: &'d Design, index: usize) -> Option<Self> {
        let seam = design.seams.get(index)?;
        let SeamForm::Stack(stack) = &seam.form else { return None };
        let mut lay = Self { design, index, seam, stack, sewn: Vec::new() };
        let edges = |layer: &Layer| {
            let count = design.piece(layer.piece).map_or(0, |p| p.edges.len());
            if stack.around {
                return (0..count).map(EdgeId::at).collect();
            }
            stack.edges.iter().filter_map(|name| lay.edge(layer, name)).collect()
        };
        let sewn = stack.layers.iter().map(edges).collect();
        lay.sewn = sewn;
        Some(lay)
    }

    /// Whether a layer shows its outline mirrored; none when it may lie either way up, as its neighbours do.
    fn mirrored(&self, layer: &Layer) -> Option<bool> {
        let piece = self.design.piece(layer.piece)?;
        layer.face_up.map(|up| up == is_mirrored(piece, layer.copy))
    }

    /// The hand in which the stack's edges are named: that of its first layer, or of the first that has one.
    fn hand(&self) -> bool {
        self.stack.layers.iter().find_map(|l| self.mirrored(l)).unwrap_or(false)
    }

    /// The edge of a layer that lies where a named edge of the stack is sewn.
    pub(super) fn edge(&self, layer: &Layer, name: &str) -> Option<EdgeId> {
        let turned = self.mirrored(layer).is_some_and(|m| m != self.hand());
        self.named(layer, name, turned).map(|m| m.edge)
    }

    /// The edge of `other` that lies on an edge of `layer`.
    pub(super) fn mate(&self, layer: &Layer, edge: EdgeId, other: &Layer) -> Option<Mate> {
        let name = &self.design.edge(layer.piece, edge)?.name;
        let turned = match (self.mirrored(layer), self.mirrored(other)) {
            (Some(a), Some(b)) => a != b,
            _ => false,
        };
        self.named(other, name, turned)
    }

    fn named(&self, layer: &Layer, name: &str, turned: bool) -> Option<Mate> {
        let piece = self.design.piece(layer.piece)?;
        let index = piece.edges.iter().position(|e| e.name == name)?;
        let own = Mate { edge: EdgeId::at(index), reversed: turned };
        if !turned {
            return Some(own);
        }
        // A piece that is not its own mirror image can't lie on its like at all; its names are as good as any.
        Some(mirror_image(piece, index).map_or(own, |edge| Mate { edge, reversed: true }))
    }

    /// The layer that a copy of a piece is.
    pub(super) fn layer_of(&self, piece: crate::ir::PieceId, copy: Option<u32>) -> Option<(usize, &'d Layer)> {
        self.stack.layers.iter().enumerate().find(|(_, l)| l.piece == piece && l.copy == copy)
    }

    /// The edges sewn of a layer.
    pub(super) fn sewn(&self, layer: usize) -> impl Iterator<Item = EdgeId> + '_ {
        self.sewn.get(layer).into_iter().flatten().copied()
    }

    /// Whether an edge of a layer is sewn in this stack.
    pub(super) fn sews(&self, layer: usize, edge: EdgeId) -> bool {
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
