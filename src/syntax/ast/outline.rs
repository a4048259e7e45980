//! Outlines: closed shapes made of named edges.

use super::{Constant, Expr, Name, Parameter, Require, TextLiteral};
use crate::source::Span;

/// `outline rectangle(width: length, height: length) "…" { … }`
#[derive(Debug, Clone, PartialEq)]
pub struct OutlineDecl {
    /// Its name.
    pub name: Name,
    /// Its parameters.
    pub parameters: Vec<Parameter>,
    /// Its doc line.
    pub doc: Option<TextLiteral>,
    /// How it is drawn.
    pub items: Vec<OutlineItem>,
    /// The whole construct.
    pub span: Span,
}

/// What may stand in an outline, or in a `shape { … }`.
#[derive(Debug, Clone, PartialEq)]
pub enum OutlineItem {
    /// `let …`
    Constant(Constant),
    /// `require …`
    Require(Require),
    /// `start (x, y)`
    Start(Expr),
    /// `edge name …`
    Edge(OutlineEdge),
}

/// `edge rim arc to (x, y) rise 3 cm then line to start`
#[derive(Debug, Clone, PartialEq)]
pub struct OutlineEdge {
    /// The edge's name.
    pub name: Name,
    /// Its strokes, one after the other.
    pub strokes: Vec<Stroke>,
    /// The whole line.
    pub span: Span,
}

/// One stroke of an edge.
#[derive(Debug, Clone, PartialEq)]
pub struct Stroke {
    /// Where it ends; none for `start`, which closes the outline.
    pub to: Option<Expr>,
    /// Its form.
    pub form: StrokeForm,
    /// The whole stroke.
    pub span: Span,
}

/// How a stroke runs.
#[derive(Debug, Clone, PartialEq)]
pub enum StrokeForm {
    /// `line to …`
    Line,
    /// `arc to … rise r`: a circular arc whose middle stands `r` off the chord; outward is positive.
    Arc {
        /// The rise, a length.
        rise: Expr,
    },
    /// `arc to … smooth`: the circular arc that leaves the way the stroke before it arrives.
    SmoothArc,
    /// `curve to … by p, q`: a cubic curve with two handle points.
    Curve {
        /// Handle of the start.
        leaving: Expr,
        /// Handle of the end.
        arriving: Expr,
    },
    /// `curve to … smooth by q`: a cubic curve that leaves the way the stroke before it arrives, its first handle as far from
    /// its start as the second is from its end.
    SmoothCurve {
        /// Handle of the end.
        arriving: Expr,
    },
    /// `hung to … sag s`: a catenary; inward is positive; a length or a fraction of the span.
    Hung {
        /// The sag.
        sag: Expr,
    },
}
