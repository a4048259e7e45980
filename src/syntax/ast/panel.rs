//! Panels: what is said of a piece of cloth.

use super::{Arguments, Constant, Corner, Expr, Name, OutlineItem, Places, Require, TextLiteral, Traced, UseFinish, When};
use crate::source::Span;

/// `panel shell "Shell" { … }`
#[derive(Debug, Clone, PartialEq)]
pub struct Panel {
    /// Its name.
    pub name: Name,
    /// Its label on drawings.
    pub title: Option<TextLiteral>,
    /// What is said of it.
    pub items: Vec<PanelItem>,
    /// The whole construct.
    pub span: Span,
}

/// What may stand in a panel.
#[derive(Debug, Clone, PartialEq)]
pub enum PanelItem {
    /// `let …`
    Constant(Constant),
    /// `require …`
    Require(Require),
    /// `cut 2 of skin as outer, inner`
    Cut(Cut),
    /// `shape …`
    Shape(Shape),
    /// `inset 5 mm on head`, `outset 2 cm`
    Move(Move),
    /// `keep reach = circle(diameter: 40 cm) at corner head-left`
    Lay(Lay),
    /// `taper left, right by a over b from foot`
    Taper(Taper),
    /// `round|bevel|box corner … by r`
    Corner(CornerWork),
    /// `corner head-left is folded`
    CornerJoin(CornerJoin),
    /// `hole vent = circle(diameter: 1 cm) at (x, y)`
    Hole(Hole),
    /// `allow 12 mm on head`
    Allow(Allow),
    /// `finish head with double_hem()`
    Finish(FinishEdges),
    /// `raw foot because "…"`
    Raw(Raw),
    /// `grain along left within 3 deg`
    Grain(Grain),
    /// `notch left, right at 30 cm from foot`
    Notch(Notch),
    /// `mark …`
    Mark(Mark),
    /// `dart head at 10 cm from left wide 2 cm deep 8 cm`
    Dart(Dart),
    /// `pleat head at middle take 3 cm`
    Pleat(Pleat),
    /// `rename head to mouth`
    Rename(Rename),
    /// `split middle from p to q as windward, leeward`
    Split(Split),
    /// `place left on fold`
    OnFold(OnFold),
    /// `when … { … }`
    When(When<PanelItem>),
}

/// `cut 2 mirrored of skin as left_half, right_half`
#[derive(Debug, Clone, PartialEq)]
pub struct Cut {
    /// How many pieces of cloth.
    pub count: Expr,
    /// Half of them turned over.
    pub mirrored: bool,
    /// From which material.
    pub of: Expr,
    /// Names of the copies, in order.
    pub copies: Vec<Name>,
    /// The whole line.
    pub span: Span,
}

/// `shape …`
#[derive(Debug, Clone, PartialEq)]
pub struct Shape {
    /// Where the outline comes from.
    pub kind: ShapeKind,
    /// The whole construct.
    pub span: Span,
}

/// Where a panel's outline comes from.
#[derive(Debug, Clone, PartialEq)]
pub enum ShapeKind {
    /// `shape as shell`: the same finished outline, tapers and corners included.
    As(Name),
    /// `shape strip of shell.head wide 4 cm`: what lies within a distance of an edge of another panel.
    Strip {
        /// The other panel.
        panel: Name,
        /// Its edge.
        edge: Name,
        /// How wide.
        wide: Expr,
    },
    /// `shape rectangle(width: 2 m, height: 1 m)`
    Call {
        /// The outline.
        outline: Name,
        /// Its arguments.
        arguments: Arguments,
    },
    /// `shape { start … edge … }`
    Drawn(Vec<OutlineItem>),
    /// `shape traced from "hood.svg" …`
    Traced(Box<Traced>),
}

/// `inset 5 mm on head`, `outset 2 cm`
#[derive(Debug, Clone, PartialEq)]
pub struct Move {
    /// Whether it moves edges out.
    pub outward: bool,
    /// How far.
    pub by: Expr,
    /// Which edges; empty for all others.
    pub edges: Vec<Name>,
    /// The whole line.
    pub span: Span,
}

/// `keep reach = circle(diameter: 40 cm) at corner head-left`
#[derive(Debug, Clone, PartialEq)]
pub struct Lay {
    /// What is done with it.
    pub kind: LayKind,
    /// Its name.
    pub name: Name,
    /// Its outline.
    pub outline: Name,
    /// The outline's arguments.
    pub arguments: Arguments,
    /// Where the outline's origin lies on the panel.
    pub at: LayPlace,
    /// The whole line.
    pub span: Span,
}

/// What is done with an outline laid on a panel.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LayKind {
    /// `add`: what lies in either.
    Add,
    /// `keep`: what lies in both.
    Keep,
    /// `remove`: what does not lie in it.
    Remove,
}

/// Where an outline is laid.
#[derive(Debug, Clone, PartialEq)]
pub enum LayPlace {
    /// `at (x, y)`
    Point(Expr),
    /// `at corner head-left`
    Corner(Corner),
}

/// `taper left, right by a over b from foot`
#[derive(Debug, Clone, PartialEq)]
pub struct Taper {
    /// The edges drawn in.
    pub edges: Vec<Name>,
    /// By how much at the end.
    pub by: Expr,
    /// Over what length of the edge, or which fraction of it.
    pub over: Expr,
    /// At which end, named by the neighbouring edge.
    pub from: Name,
    /// The whole line.
    pub span: Span,
}

/// `round corner head-left, head-right by 3 cm`
#[derive(Debug, Clone, PartialEq)]
pub struct CornerWork {
    /// What is done.
    pub kind: CornerKind,
    /// To which corners.
    pub corners: Vec<Corner>,
    /// Radius, or the length taken off each side.
    pub by: Expr,
    /// The whole line.
    pub span: Span,
}

/// What is done to a corner. The new edges are named after the corner:
/// `head_left`, or `head_left_1` and `head_left_2` for a boxed one, in outline order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CornerKind {
    /// Rounded by a radius.
    Round,
    /// Cut straight across.
    Bevel,
    /// A square taken out, to be sewn across as depth.
    Box,
}

/// `corner head-left is folded`
#[derive(Debug, Clone, PartialEq)]
pub struct CornerJoin {
    /// Which corners.
    pub corners: Vec<Corner>,
    /// `mitred`, `square`, `folded` and so on.
    pub join: Name,
    /// The whole line.
    pub span: Span,
}

/// `hole vent = circle(diameter: 1 cm) at (x, y)`
#[derive(Debug, Clone, PartialEq)]
pub struct Hole {
    /// Its name.
    pub name: Name,
    /// Its outline.
    pub outline: Name,
    /// The outline's arguments.
    pub arguments: Arguments,
    /// Where the outline's origin lies on the panel.
    pub at: Expr,
    /// The whole line.
    pub span: Span,
}

/// `allow 12 mm on head`
#[derive(Debug, Clone, PartialEq)]
pub struct Allow {
    /// How much.
    pub width: Expr,
    /// On which edges; empty for all others.
    pub edges: Vec<Name>,
    /// The whole line.
    pub span: Span,
}

/// `finish head, foot with double_hem(width: 2 cm)`
#[derive(Debug, Clone, PartialEq)]
pub struct FinishEdges {
    /// Which edges.
    pub edges: Vec<Name>,
    /// How.
    pub finish: UseFinish,
    /// The whole line.
    pub span: Span,
}

/// `raw foot because "hot cut"`
#[derive(Debug, Clone, PartialEq)]
pub struct Raw {
    /// Which edges.
    pub edges: Vec<Name>,
    /// Why no seam or hem uses them.
    pub because: TextLiteral,
    /// The whole line.
    pub span: Span,
}

/// `grain …`
#[derive(Debug, Clone, PartialEq)]
pub struct Grain {
    /// Which way.
    pub kind: GrainKind,
    /// The tolerance, an angle.
    pub within: Option<Expr>,
    /// The whole line.
    pub span: Span,
}

/// Which way the grain (the warp) runs.
#[derive(Debug, Clone, PartialEq)]
pub enum GrainKind {
    /// Along an edge: its chord, if curved.
    Along(Name),
    /// It does not matter.
    Any,
    /// At an angle from the panel's height (the direction from foot to head).
    Angle(Expr),
}

/// `notch left, right at 30 cm from foot as double vee deep 4 mm`
#[derive(Debug, Clone, PartialEq)]
pub struct Notch {
    /// On which edges.
    pub edges: Vec<Name>,
    /// Where.
    pub places: Places,
    /// `slit`, `vee` and so on, if it is said.
    pub kind: Option<Name>,
    /// How many stand side by side: one, or as `double` or `triple` says.
    pub rows: u32,
    /// How deep, if it is said.
    pub deep: Option<Expr>,
    /// The whole line.
    pub span: Span,
}

/// `mark point …`, `mark drill …` or `mark line …`
#[derive(Debug, Clone, PartialEq)]
pub struct Mark {
    /// Its name.
    pub name: Name,
    /// Its form.
    pub kind: MarkKind,
    /// What is written beside it.
    pub text: Option<TextLiteral>,
    /// The whole line.
    pub span: Span,
}

/// The forms of mark.
#[derive(Debug, Clone, PartialEq)]
pub enum MarkKind {
    /// `mark point name at p`
    Point(Expr),
    /// `mark drill name at p wide d`
    Drill {
        /// Where its middle lies.
        at: Expr,
        /// Its diameter, if it is said.
        wide: Option<Expr>,
    },
    /// `mark line name from p to q`
    Line(Expr, Expr),
}

/// `dart head at 10 cm from left wide 2 cm deep 8 cm`
#[derive(Debug, Clone, PartialEq)]
pub struct Dart {
    /// The edge it opens on.
    pub edge: Name,
    /// Where its middle is.
    pub places: Places,
    /// How much it takes from the edge.
    pub wide: Expr,
    /// How far its point reaches in.
    pub deep: Expr,
    /// The whole line.
    pub span: Span,
}

/// `pleat head at middle take 3 cm`
#[derive(Debug, Clone, PartialEq)]
pub struct Pleat {
    /// The edge.
    pub edge: Name,
    /// Where its middle is.
    pub places: Places,
    /// How much it takes from the edge.
    pub take: Expr,
    /// The whole line.
    pub span: Span,
}

/// `rename head to mouth`
#[derive(Debug, Clone, PartialEq)]
pub struct Rename {
    /// The outline's name for the edge.
    pub from: Name,
    /// The panel's.
    pub to: Name,
}

/// `split second of rest from p to q as centre, right_strip`
#[derive(Debug, Clone, PartialEq)]
pub struct Split {
    /// What the new edge is called on both pieces.
    pub name: Name,
    /// The piece of an earlier split that is cut again; the panel itself when absent.
    pub of: Option<Name>,
    /// Where the straight line begins.
    pub from: Expr,
    /// Where it ends.
    pub to: Expr,
    /// The piece on the left, seen from the beginning of the line to its end, and the one on the right.
    pub pieces: [Name; 2],
    /// The whole line.
    pub span: Span,
}

/// What the copy of a piece of a split panel is called: `outer_port`.
#[must_use]
pub fn part_of_copy(copy: &str, part: &str) -> String {
    format!("{copy}_{part}")
}

/// What ends the names of things on the half of a piece that the fold brings.
pub const OPPOSITE: &str = "_opposite";

/// What an edge or a mark is called on the half that the fold brings: `right_opposite`.
#[must_use]
pub fn opposite(name: &str) -> String {
    format!("{name}{OPPOSITE}")
}

/// `place left on fold`
#[derive(Debug, Clone, PartialEq)]
pub struct OnFold {
    /// The edge that lies on the fold of the cloth.
    pub edge: Name,
    /// The whole line.
    pub span: Span,
}
