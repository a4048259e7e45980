//! What drafting is given.

use crate::geometry::{Path, Point};
use crate::ir::NotchShape;
use crate::source::Span;

/// A panel's figures, evaluated.
#[derive(Debug, Clone, Default)]
pub struct PanelInput {
    /// Its name.
    pub name: String,
    /// Edges of the outline in the order drawn, each an open path that starts where the one before ends.
    /// The outline may run either way round; drafting turns it counter-clockwise.
    pub edges: Vec<EdgeInput>,
    /// How far edges are moved in or out; the entry without an edge is for all that have none of their own.
    pub moves: Vec<MoveInput>,
    /// What is added, kept and removed.
    pub tools: Vec<ToolInput>,
    /// Tapers.
    pub tapers: Vec<TaperInput>,
    /// Corners rounded, bevelled, boxed.
    pub corners: Vec<CornerInput>,
    /// Corner joins of the allowance.
    pub joins: Vec<JoinInput>,
    /// Holes: closed paths in panel space.
    pub holes: Vec<HoleInput>,
    /// Allowance of every edge that has none of its own: value and where it is said.
    pub allow_all: Option<(f64, Span)>,
    /// Allowances of single edges (from `allow … on`, or a finish). The last of an edge wins.
    pub allow: Vec<(String, f64, Span)>,
    /// Fold lines of finished edges, outward from the finished edge: edge, distances.
    pub folds: Vec<(String, Vec<f64>, Span)>,
    /// Notches.
    pub notches: Vec<NotchInput>,
    /// Darts and pleats.
    pub takes: Vec<TakeInput>,
    /// Lines along which it is cut into pieces.
    pub splits: Vec<SplitInput>,
    /// The edge on the fold, where it is drawn as the half of a piece, and where that is said.
    pub fold: Option<(String, Span)>,
    /// Where the panel is declared.
    pub span: Span,
}

/// An edge as drawn.
#[derive(Debug, Clone)]
pub struct EdgeInput {
    /// Its name (after renaming).
    pub name: String,
    /// Its path.
    pub path: Path,
    /// What it brings along from the panel it is taken from.
    pub taken: Option<TakenOver>,
    /// Where it is drawn or called.
    pub span: Span,
}

/// What an edge of another panel's finished outline brings along.
#[derive(Debug, Clone, Default)]
pub struct TakenOver {
    /// Its named parts: name, from, to, mm.
    pub parts: Vec<(String, f64, f64)>,
    /// The neighbours its start and its end are named by.
    pub ends: (String, String),
}

/// `inset 5 mm on head`, `outset 2 cm`
#[derive(Debug, Clone)]
pub struct MoveInput {
    /// The edge, where it is named; none for all others.
    pub edge: Option<(String, Span)>,
    /// How far, mm.
    pub by: f64,
    /// Whether it is moved out.
    pub outward: bool,
    /// The whole line.
    pub span: Span,
}

/// `keep reach = circle(diameter: 40 cm) at corner head-left`
#[derive(Debug, Clone)]
pub struct ToolInput {
    /// What is done.
    pub kind: ToolKind,
    /// Its name.
    pub name: String,
    /// Its outline, edge by edge, about its own origin; either way round.
    pub edges: Vec<(String, Path)>,
    /// Where its origin lies.
    pub at: ToolPlace,
    /// The whole line.
    pub span: Span,
}

/// What is done with another outline laid on a panel's, in this order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum ToolKind {
    /// What lies in either.
    Add,
    /// What lies in both.
    Keep,
    /// What does not lie in the other.
    Remove,
}

/// Where the origin of another outline lies.
#[derive(Debug, Clone)]
pub enum ToolPlace {
    /// At a point of the panel.
    Point(Point),
    /// At the corner of two edges, in either order, and where they are named.
    Corner(String, String, Span),
}

/// `taper edge by … over … from end`
#[derive(Debug, Clone)]
pub struct TaperInput {
    /// Which edge, and where it is named.
    pub edge: (String, Span),
    /// How far its end moves in, mm, along the neighbouring edge.
    pub by: f64,
    /// Over which length of the edge.
    pub over: Along,
    /// At the end where it meets this edge.
    pub from: (String, Span),
    /// The whole line.
    pub span: Span,
}

/// A length along an edge, or a fraction of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Along {
    /// mm
    Length(f64),
    /// 0.4 is 40 %.
    Fraction(f64),
}

impl Along {
    /// In mm on an edge of a given length.
    #[must_use]
    pub fn on(self, length: f64) -> f64 {
        match self {
            Self::Length(mm) => mm,
            Self::Fraction(f) => f * length,
        }
    }
}

/// What is done to a corner.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CornerTreatment {
    /// An arc of this radius, tangent to both edges; the new edge is named `first_second` in outline order.
    Round,
    /// A straight cut from this far on one edge to as far on the other; one new edge, named so too.
    Bevel,
    /// A square (parallelogram) of this side taken out; two new edges `first_second_1` and `_2`.
    Box,
}

/// `round corner head-left by …`
#[derive(Debug, Clone)]
pub struct CornerInput {
    /// What is done.
    pub treatment: CornerTreatment,
    /// The edges that meet, in either order, and where they are named.
    pub edges: (String, String, Span),
    /// Radius or side, mm.
    pub by: f64,
    /// The whole line.
    pub span: Span,
}

/// How the allowances of two edges meet outside a corner.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CornerJoin {
    /// Both cut lines run on until they meet. Past four times the larger allowance a sharp corner is cut off at right
    /// angles to its halving line, so far out that the larger allowance is kept at its tip; edges that hardly turn step
    /// straight across.
    Mitred,
    /// The first edge's allowance, in outline order, ends at right angles to its stitch line, where that, run on, meets the
    /// second edge's cut line.
    Square,
    /// The allowance outside the hem's fold is the mirror image of the piece inside it. Of two hems the longer is folded
    /// last, over the ends of the shorter; of two as long, the second in outline order.
    Folded,
    /// Cut straight from one offset end to the other.
    Bevelled,
    /// An arc about the finished corner, of the larger allowance, as far as the narrower one's line run on.
    Rounded,
    /// Two hems without what would stack: all cloth outside both finished edges is cut out, to the very corner. At a corner
    /// sharper than a right angle each hem's end is drawn back as far as the other finished edge lies once it is folded.
    Stepped,
    /// Mitred, and the point cut off: each allowance ends where the other's cut line lies once it is pressed back about its
    /// stitch line. A right or blunt corner has no such point.
    Trimmed,
}

impl CornerJoin {
    /// Every way, by the word for it.
    pub const ALL: [(&'static str, Self); 7] = [
        ("mitred", Self::Mitred),
        ("square", Self::Square),
        ("folded", Self::Folded),
        ("bevelled", Self::Bevelled),
        ("rounded", Self::Rounded),
        ("stepped", Self::Stepped),
        ("trimmed", Self::Trimmed),
    ];

    /// The word for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        Self::ALL.iter().find(|(_, join)| *join == self).map_or("", |(word, _)| word)
    }
}

/// `corner head-left is folded`
#[derive(Debug, Clone)]
pub struct JoinInput {
    /// The edges that meet, in either order.
    pub edges: (String, String, Span),
    /// How.
    pub join: CornerJoin,
}

/// A hole.
#[derive(Debug, Clone)]
pub struct HoleInput {
    /// Its name.
    pub name: String,
    /// Its closed outline, either way round.
    pub path: Path,
    /// Where it is asked for.
    pub span: Span,
}

/// A notch.
#[derive(Debug, Clone)]
pub struct NotchInput {
    /// On which edge.
    pub edge: (String, Span),
    /// Where, from the end that meets this edge; or from either when it is the middle.
    pub at: Along,
    /// The end it is measured from, named by the neighbour; none for the middle.
    pub from: Option<(String, Span)>,
    /// Its form.
    pub shape: NotchShape,
    /// How many stand side by side.
    pub rows: u32,
    /// How deep, mm, if it is said.
    pub deep: Option<f64>,
    /// The whole line.
    pub span: Span,
}

/// `split middle from p to q as windward, leeward`
#[derive(Debug, Clone)]
pub struct SplitInput {
    /// The new edge's name on both pieces.
    pub name: (String, Span),
    /// The piece it cuts; none for the panel itself.
    pub of: Option<(String, Span)>,
    /// Where the line begins.
    pub from: Point,
    /// Where it ends.
    pub to: Point,
    /// The piece to its left and the one to its right.
    pub pieces: [(String, Span); 2],
    /// The whole line.
    pub span: Span,
}

/// A dart or a pleat: what it takes from an edge.
#[derive(Debug, Clone)]
pub struct TakeInput {
    /// Its kind.
    pub kind: TakeKind,
    /// On which edge.
    pub edge: (String, Span),
    /// Where its middle is.
    pub at: Along,
    /// The end it is measured from; none for the middle.
    pub from: Option<(String, Span)>,
    /// What it takes, mm.
    pub take: f64,
    /// The whole line.
    pub span: Span,
}

/// Darts and pleats.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum TakeKind {
    /// Its point lies this far inside.
    Dart {
        /// mm
        deep: f64,
    },
    /// Folded over along the whole allowance.
    Pleat,
}
