//! Places and stretches on edges.

use super::{Expr, Name};
use crate::source::Span;

/// Where on an edge.
#[derive(Debug, Clone, PartialEq)]
pub struct Places {
    /// The form.
    pub kind: PlaceKind,
    /// The whole phrase.
    pub span: Span,
}

/// The forms of place.
#[derive(Debug, Clone, PartialEq)]
pub enum PlaceKind {
    /// `at middle`
    Middle,
    /// `at quarters`: a quarter, half and three quarters of the way.
    Quarters,
    /// `at 25 cm, 60 cm from head`; each a length, a fraction of the edge, a list of these, or (without `from`) a point.
    List {
        /// The distances or points.
        at: Vec<Expr>,
        /// The end they are measured from, named by the neighbouring edge.
        from: Option<Name>,
    },
    /// `at corner head-left, head-right`
    Corners(Vec<Corner>),
    /// `spaced 4 evenly`: equal gaps between them and to both ends.
    Evenly(Expr),
    /// `spaced every 30 cm from head`: the first one gap from that end, as many as fit before the other.
    Every {
        /// The gap.
        gap: Expr,
        /// The end.
        from: Name,
    },
}

/// `head-left`: where two edges meet.
#[derive(Debug, Clone, PartialEq)]
pub struct Corner {
    /// One edge.
    pub first: Name,
    /// The other.
    pub second: Name,
    /// Both.
    pub span: Span,
}

/// `over 45 cm starting 10 cm from foot`, `over 30 cm at middle`
#[derive(Debug, Clone, PartialEq)]
pub struct Stretch {
    /// How long: a length or a fraction of the edge.
    pub length: Expr,
    /// Where it begins.
    pub from: StretchFrom,
    /// The whole phrase.
    pub span: Span,
}

/// Where a stretch begins.
#[derive(Debug, Clone, PartialEq)]
pub enum StretchFrom {
    /// `at middle`: centred on the edge.
    Middle,
    /// `starting x from end`
    End {
        /// How far from the end; nothing for `from end` alone.
        starting: Option<Expr>,
        /// The end, named by the neighbouring edge.
        end: Name,
    },
}

/// `outer.left`, `left.tapered`, `shell.left.straight`: a panel or copy, an edge of it, a part of that.
#[derive(Debug, Clone, PartialEq)]
pub struct EdgeRef {
    /// The names between the dots; never empty.
    pub path: Vec<Name>,
    /// The whole.
    pub span: Span,
}
