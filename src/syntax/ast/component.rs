//! Components and finishes: the trade's items, written in the language.

use super::{Arguments, Constant, EdgeRef, Expr, Name, Panel, Parameter, Places, Require, Stretch, TextLiteral, When};
use crate::source::Span;

/// `attach loops = ribbon_loop(cut: 8 cm) at 25 cm from head on outer.left`
#[derive(Debug, Clone, PartialEq)]
pub struct Attach {
    /// Its name.
    pub name: Name,
    /// Which component.
    pub component: Name,
    /// Its arguments.
    pub arguments: Arguments,
    /// Where on the edge.
    pub where_: AttachWhere,
    /// On which edge or edges.
    pub on: AttachOn,
    /// `facing back`
    pub facing: Option<Name>,
    /// `pointing in`
    pub pointing: Option<Name>,
    /// `may cross corner`
    pub may_cross: Vec<Name>,
    /// The whole line.
    pub span: Span,
}

/// Where on its edge an attachment sits.
#[derive(Debug, Clone, PartialEq)]
pub enum AttachWhere {
    /// `along …`: from end to end.
    Along,
    /// `over 45 cm from foot on …`
    Over(Stretch),
    /// `at 25 cm from head on …`
    At(Places),
}

/// What an attachment sits on.
#[derive(Debug, Clone, PartialEq)]
pub enum AttachOn {
    /// One on each of these (a panel alone when set at a point or corner).
    Each(Vec<EdgeRef>),
    /// One thing along these, each of which begins where the one before it ends.
    Row(Vec<EdgeRef>),
    /// A pair: its first half on the first edge, its second on the second.
    Between(EdgeRef, EdgeRef),
}

/// `component ribbon_loop(cut: length = 8 cm) "…" { … }`
#[derive(Debug, Clone, PartialEq)]
pub struct Component {
    /// Its name.
    pub name: Name,
    /// Its parameters.
    pub parameters: Vec<Parameter>,
    /// Its doc line.
    pub doc: Option<TextLiteral>,
    /// What it says of itself.
    pub items: Vec<ComponentItem>,
    /// The whole construct.
    pub span: Span,
}

/// What may stand in a component. The words `stretch`, `edge_length`, `allowance` and `places`
/// name the length it lies along, its edge's finished length and allowance, and how many there are.
#[derive(Debug, Clone, PartialEq)]
pub enum ComponentItem {
    /// `let …`
    Constant(Constant),
    /// `require …`
    Require(Require),
    /// `sits at places` or `sits along stretch`
    Sits(SitsAt, Span),
    /// `pair socket, stud`
    Pair(Name, Name),
    /// `footprint w`: how much of the edge each takes.
    Footprint(Expr),
    /// `depth d`: how far it reaches into the piece.
    Depth(Expr),
    /// `catches w`: how much of it the seam must catch.
    Catches(Expr),
    /// `faces face|back|either`: the side of the piece it lies on while sewing.
    /// `faces back, face` for the two halves of a pair that lie on different sides.
    Faces(Name, Option<Name>),
    /// `points in|out`: which way it points while sewing.
    Points(Name),
    /// `needs casing`: what must be on its edge already.
    Needs(Name),
    /// `symbol bar|band|cross|ring|tick`: how drawings mark it.
    Symbol(Name),
    /// `uses q of material`
    Uses(Uses),
    /// `prepare|place|sew|complete "…"`
    Work(Work),
    /// `caution "…"`
    Caution(TextLiteral),
    /// A piece of cloth it needs.
    Panel(Panel),
    /// `when … { … }`
    When(When<ComponentItem>),
}

/// What a component sits on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SitsAt {
    /// Single places.
    Places,
    /// A stretch of an edge.
    Stretch,
}

/// `uses 8 cm of ribbon`
#[derive(Debug, Clone, PartialEq)]
pub struct Uses {
    /// How much: a length, an area or a count.
    pub amount: Expr,
    /// Of what.
    pub of: Expr,
    /// The whole line.
    pub span: Span,
}

/// `prepare "Cut {cut} of ribbon and seal both ends"`
#[derive(Debug, Clone, PartialEq)]
pub struct Work {
    /// When it is done.
    pub phase: WorkPhase,
    /// What is done.
    pub text: TextLiteral,
    /// With which stitch.
    pub stitch: Option<Stitch>,
    /// The whole line.
    pub span: Span,
}

/// When a component's or a finish's work is done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum WorkPhase {
    /// On the bench, before it meets the piece.
    Prepare,
    /// Set on its piece, before the seam that catches it.
    Place,
    /// Sewn to its piece.
    Sew,
    /// After all seams, or after turning.
    Complete,
}

/// `lockstitch 3 mm`
#[derive(Debug, Clone, PartialEq)]
pub struct Stitch {
    /// `lockstitch`, `zigzag`, `chainstitch`, `bartack`, `overlock`, `handstitch`.
    pub kind: Name,
    /// Stitch length.
    pub length: Expr,
    /// Both.
    pub span: Span,
}

/// `finish double_hem(width: length = 2 cm) "…" { … }`
#[derive(Debug, Clone, PartialEq)]
pub struct FinishDecl {
    /// Its name.
    pub name: Name,
    /// Its parameters.
    pub parameters: Vec<Parameter>,
    /// Its doc line.
    pub doc: Option<TextLiteral>,
    /// What it says of itself.
    pub items: Vec<FinishItem>,
    /// The whole construct.
    pub span: Span,
}

/// What may stand in a finish. `stretch` names the length it runs along.
#[derive(Debug, Clone, PartialEq)]
pub enum FinishItem {
    /// `let …`
    Constant(Constant),
    /// `require …`
    Require(Require),
    /// `allow w`: the allowance it sets on the edge it finishes.
    Allow(Expr),
    /// `needs w`: the least allowance on each edge of a seam.
    Needs(Expr),
    /// `folds at a, b`: fold lines, measured outward from the finished edge.
    Folds(Vec<Expr>),
    /// `encloses raw edges`
    Encloses,
    /// `stitch lockstitch 3 mm at 2 mm rows 2`; `at` is measured from the finished edge or seam line.
    Stitch {
        /// The stitch.
        stitch: Stitch,
        /// How far from the finished edge or seam line.
        at: Option<Expr>,
        /// How many rows.
        rows: Option<Expr>,
    },
    /// `uses q of material`
    Uses(Uses),
    /// `sew "…"` and the other phases.
    Work(Work),
    /// `caution "…"`
    Caution(TextLiteral),
    /// `when … { … }`
    When(When<FinishItem>),
}

/// `double_hem(width: 2 cm)`
#[derive(Debug, Clone, PartialEq)]
pub struct UseFinish {
    /// Which finish.
    pub finish: Name,
    /// Its arguments.
    pub arguments: Arguments,
    /// Both.
    pub span: Span,
}
