//! Seams, work on the face of a piece, and other steps.

use super::{EdgeRef, Expr, Name, Stitch, Stretch, StretchFrom, TextLiteral, UseFinish, When};
use crate::source::Span;

/// `seam ridge "Ridge" { … }`
#[derive(Debug, Clone, PartialEq)]
pub struct Seam {
    /// Its name.
    pub name: Name,
    /// Its title.
    pub title: Option<TextLiteral>,
    /// What is said of it.
    pub items: Vec<SeamItem>,
    /// The whole construct.
    pub span: Span,
}

/// What may stand in a seam.
#[allow(clippy::large_enum_variant, reason = "a seam holds a handful of these, at most one of them an opening")]
#[derive(Debug, Clone, PartialEq)]
pub enum SeamItem {
    /// `join a.left then b.left to c.right`
    Join {
        /// One side, edge after edge.
        first: Vec<EdgeRun>,
        /// The other.
        second: Vec<EdgeRun>,
        /// The whole line.
        span: Span,
    },
    /// `stack batt, outer face up, inner face down`
    Stack {
        /// From the table up.
        layers: Vec<Layer>,
        /// The whole line.
        span: Span,
    },
    /// `sew around`, or `sew left, foot, right`
    Sew {
        /// Which edges; empty for all.
        edges: Vec<Name>,
        /// The whole line.
        span: Span,
    },
    /// `faces together`, `backs together`, `lapped`
    Together(Together, Span),
    /// `with felled(width: 8 mm)`
    Finish(UseFinish),
    /// `stitch lockstitch 3 mm`
    Stitch(Stitch),
    /// `ease 2%`
    Ease(Expr),
    /// `gather 1.5`
    Gather(Expr),
    /// `opening 30 cm of outer.right starting 40% from foot between outer and inner`
    Opening(Opening),
    /// `close with edgestitch()`
    Close(UseFinish),
    /// `after side`
    After(Vec<Name>, Span),
    /// `before bottom, draw`
    Before(Vec<Name>, Span),
    /// `when … { … }`
    When(When<SeamItem>),
}

/// An edge, or a stretch of one, as a side of a seam.
#[derive(Debug, Clone, PartialEq)]
pub struct EdgeRun {
    /// The edge (or a marked line of a panel).
    pub edge: EdgeRef,
    /// Which part of it; all when absent.
    pub stretch: Option<Stretch>,
}

/// One layer of a stack.
#[derive(Debug, Clone, PartialEq)]
pub struct Layer {
    /// A panel or a copy of one.
    pub piece: Name,
    /// `up` or `down`; none where the two sides are alike.
    pub face: Option<Name>,
}

/// How two edges lie while they are sewn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Together {
    /// Face to face.
    Faces,
    /// Back to back.
    Backs,
    /// One lapped over the other.
    Lapped,
}

/// The opening a seam is turned through.
#[derive(Debug, Clone, PartialEq)]
pub struct Opening {
    /// How long.
    pub length: Expr,
    /// On which edge.
    pub edge: EdgeRef,
    /// Where on it.
    pub from: StretchFrom,
    /// Between which two layers; none where only two meet.
    pub between: Option<(Name, Name)>,
    /// The whole line.
    pub span: Span,
}

/// `apply pocket on outer at (x, y) sewing left, foot, right with edgestitch()`
#[derive(Debug, Clone, PartialEq)]
pub struct Apply {
    /// The panel put on.
    pub panel: Name,
    /// The panel or copy it is put on.
    pub onto: Name,
    /// Where the applied panel's origin lies on it.
    pub at: Expr,
    /// The edges sewn.
    pub edges: Vec<Name>,
    /// How they are sewn.
    pub finish: UseFinish,
    /// The whole line.
    pub span: Span,
}

/// `quilt hold { layers batt, inner  lines parallel to head every 25 cm  stitch lockstitch 4 mm }`
#[derive(Debug, Clone, PartialEq)]
pub struct Quilt {
    /// Its name.
    pub name: Name,
    /// What is said of it.
    pub items: Vec<QuiltItem>,
    /// The whole construct.
    pub span: Span,
}

/// What may stand in a quilt.
#[derive(Debug, Clone, PartialEq)]
pub enum QuiltItem {
    /// `layers batt, inner`; the first carries the marks.
    Layers(Vec<Name>),
    /// `lines parallel to head every 25 cm starting 20 cm`
    Lines {
        /// Along which edge's direction.
        edge: Name,
        /// How far apart.
        every: Expr,
        /// How far from that edge the first one lies; one gap when absent.
        starting: Option<Expr>,
    },
    /// `ties at p, q`
    Ties(Vec<Expr>),
    /// `stitch lockstitch 4 mm`
    Stitch(Stitch),
}

/// `step press_open press "Press the seam open" after ridge before hems`
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// Its name.
    pub name: Name,
    /// `press`, `baste`, `prepare`, `thread`, `seal`, `hand`, `inspect`, …
    pub kind: Name,
    /// What to do.
    pub text: TextLiteral,
    /// Steps it comes after.
    pub after: Vec<Name>,
    /// Steps it comes before.
    pub before: Vec<Name>,
    /// The whole line.
    pub span: Span,
}
