//! Panels traced from drawings.

use super::{Expr, Name, TextLiteral};
use crate::source::Span;

/// `shape traced from "hood.svg" unit 1 mm edges foot, right, head, left where foot is 42 cm`
#[derive(Debug, Clone, PartialEq)]
pub struct Traced {
    /// The drawing's file.
    pub file: TextLiteral,
    /// `path "hood"`: the id of the outline's path.
    pub path: Option<TextLiteral>,
    /// `block "hood"`: the block it stands in.
    pub block: Option<TextLiteral>,
    /// `layer "cut"`: the layer of its lines.
    pub layer: Option<TextLiteral>,
    /// `around (120, 80)`: a place inside it.
    pub around: Option<DrawingPlace>,
    /// What one unit of the drawing is, a length.
    pub unit: Expr,
    /// `corners over 30 deg`: what turns by more is a corner.
    pub corners: Option<Expr>,
    /// Names of its edges, counter-clockwise from the lowest corner on the left.
    pub edges: Vec<TracedEdge>,
    /// `where foot is 42 cm`: lengths that edges must have.
    pub lengths: Vec<TracedLength>,
    /// From `traced` on.
    pub span: Span,
}

/// `right`, or `right to (120, 80)` for an edge that ends without a corner.
#[derive(Debug, Clone, PartialEq)]
pub struct TracedEdge {
    /// Its name.
    pub name: Name,
    /// Where it ends.
    pub to: Option<DrawingPlace>,
}

/// `foot is 42 cm`
#[derive(Debug, Clone, PartialEq)]
pub struct TracedLength {
    /// The edge.
    pub edge: Name,
    /// Its length.
    pub length: Expr,
}

/// `(120, 80)`: a place in a drawing, in its own units.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DrawingPlace {
    /// Across and down, or up, as the drawing counts.
    pub at: (f64, f64),
    /// A figure that has a unit, which places in a drawing don't.
    pub unit: Option<Span>,
    /// With its brackets.
    pub span: Span,
}
