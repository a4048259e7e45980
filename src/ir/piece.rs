//! Pieces: what is cut from cloth.

use super::{MaterialId, Stitch, Text, TraceId};
use crate::geometry::{Path, Point, Segment, Vector};
use crate::quantity::{Angle, Area, Length};
use crate::source::Span;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A piece to cut, once or several times.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Piece {
    /// Its name in the source: `shell`, or `hem_cord.strip` when a component brought it.
    pub name: String,
    /// Its label on drawings.
    pub label: String,
    /// The panel that it was split from, if it was.
    pub split_from: Option<String>,
    /// One entry a piece of cloth.
    pub copies: Vec<Copy>,
    /// What it is cut from.
    pub material: MaterialId,
    /// The finished outline, edge by edge, counter-clockwise; the end of each is the start of the next.
    pub edges: Vec<Edge>,
    /// The closed line to cut along.
    pub cut_line: Path,
    /// Where it is cut on the fold of the cloth: the fold from side to side of the cut line, with the half that is drawn to its
    /// left. The cut line and all else are those of the whole piece.
    pub fold_line: Option<Path>,
    /// Lines to fold along, hems and pleats.
    pub folds: Vec<FoldLine>,
    /// Notches in the cut line.
    pub notches: Vec<Notch>,
    /// Marks on the face.
    pub marks: Vec<Mark>,
    /// Holes cut inside.
    pub holes: Vec<Hole>,
    /// Which way the warp runs.
    pub grain: Grain,
    /// Box around the finished outline: width (x) and height (y).
    pub finished: Extent,
    /// Box around the cut line.
    pub cut: Extent,
    /// Where it is declared.
    pub origin: Span,
}

impl Piece {
    /// Whether a copy is the mirror image of what is drawn.
    #[must_use]
    pub fn is_mirrored(&self, copy: Option<u32>) -> bool {
        self.copies.get(copy.unwrap_or(0) as usize).is_some_and(|c| c.mirrored)
    }
}

/// One piece of cloth.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Copy {
    /// Its name, if it was given one.
    pub name: Option<String>,
    /// Whether it is the mirror image of what is drawn.
    pub mirrored: bool,
}

/// Width, height and area.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Extent {
    /// Along x.
    pub width: Length,
    /// Along y.
    pub height: Length,
    /// Enclosed, holes taken out.
    pub area: Area,
    /// Where the area comes from.
    pub why: TraceId,
}

/// A named edge of the finished outline.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Edge {
    /// Its name.
    pub name: String,
    /// Its curve, in outline direction.
    pub path: Path,
    /// Its length on the flat piece.
    pub length: Length,
    /// Its length once darts and pleats have taken theirs: what meets another edge.
    pub sewn_length: Length,
    /// Named parts (`straight`, `tapered`), in outline direction; empty for an edge in one part.
    pub parts: Vec<EdgePart>,
    /// Allowance outside it.
    pub allowance: Length,
    /// How the edge itself is finished (hem, binding …), if it is.
    pub finish: Option<EdgeFinish>,
    /// Why it is left raw, if it is.
    pub raw_because: Option<String>,
    /// Names by which a place says it is measured from the start end and from the end end:
    /// the neighbouring edges as the outline named them (before corners were rounded or boxed).
    pub start_neighbour: String,
    /// See `start_neighbour`.
    pub end_neighbour: String,
    /// Where the length comes from.
    pub why: TraceId,
    /// Where the allowance comes from.
    pub why_allowance: TraceId,
    /// Where the edge is named.
    pub origin: Span,
}

/// A named part of an edge, as a stretch along it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct EdgePart {
    /// `straight`, `tapered`.
    pub name: String,
    /// From the edge's start.
    pub from: Length,
    /// From the edge's start.
    pub to: Length,
}

/// How an edge is finished.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct EdgeFinish {
    /// The finish's name: `double_hem`.
    pub name: String,
    /// Distances of fold lines outward from the finished edge.
    pub folds: Vec<Length>,
    /// Whether no raw edge shows once it is done.
    pub encloses: bool,
    /// How it is stitched.
    pub stitch: Option<Stitch>,
    /// How far the stitching lies from the finished edge, inward.
    pub stitch_at: Length,
    /// How many rows.
    pub rows: u32,
    /// What it consumes on one copy.
    pub uses: Vec<super::Use>,
    /// The cord that it is a casing for, by name: one that it is told of and does not use up itself.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub casing_for: Option<String>,
    /// Where this is said.
    pub origin: Span,
}

/// A line to fold along.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct FoldLine {
    /// What it belongs to: an edge's name, a dart's or pleat's: `dart head`, the line then being its legs.
    pub of: String,
    /// The line.
    pub path: Path,
}

impl FoldLine {
    /// Where the cloth is folded: the line itself, and of a dart the line along its middle.
    #[must_use]
    pub fn folded(&self) -> Path {
        if self.sewn().is_none() {
            return self.path.clone();
        }
        let mouth = self.path.start.lerp(self.path.end(), 0.5);
        Path::line(mouth, self.path.segments.first().map_or(mouth, Segment::end))
    }

    /// The legs of a dart, which are sewn to each other; none of any other line.
    #[must_use]
    pub fn sewn(&self) -> Option<&Path> {
        self.of.starts_with("dart ").then_some(&self.path)
    }
}

/// A notch in the cut line: one of a row, where several stand side by side.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Notch {
    /// The edge it stands on.
    pub edge: super::EdgeId,
    /// How far along the finished edge, from its start.
    pub at: Length,
    /// The place it marks, measured so: the middle of its row.
    pub place: Length,
    /// Its form.
    pub shape: NotchShape,
    /// How many stand side by side at its place, itself among them.
    pub rows: u32,
    /// Its middle, on the cut line.
    pub point: Point,
    /// Inward, length one.
    pub inward: Vector,
    /// How deep: never past the allowance less 2 mm.
    pub depth: Length,
    /// How wide: of what opens the cut line its mouth, of a tee its bar; nothing of a slit.
    pub width: Length,
    /// Its lines as cut. Of what opens the cut line one, from the cut line and back to it, in the order the outline runs;
    /// else each from the cut line inward, or within.
    pub lines: Vec<Path>,
    /// What it marks.
    pub reason: NotchReason,
    /// Where it is asked for.
    pub origin: Span,
}

/// Forms of notch.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum NotchShape {
    /// A cut straight in.
    Slit,
    /// A wedge cut out, its point inward.
    Vee,
    /// A rectangle cut out.
    Castle,
    /// A wedge cut out with one side straight in, that nearer to the edge's start.
    Check,
    /// A slit with a bar across its end.
    Tee,
    /// Cut out with a round end.
    U,
}

impl NotchShape {
    /// Every form.
    pub const ALL: [Self; 6] = [Self::Slit, Self::Vee, Self::Castle, Self::Check, Self::Tee, Self::U];

    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Slit => "slit",
            Self::Vee => "vee",
            Self::Castle => "castle",
            Self::Check => "check",
            Self::Tee => "tee",
            Self::U => "u",
        }
    }

    /// It and how many stand side by side, in words: `slit`, `double vee notch`.
    #[must_use]
    pub fn counted(self, rows: u32) -> String {
        let count = match rows {
            0 | 1 => "",
            2 => "double ",
            _ => "triple ",
        };
        format!("{count}{}{}", self.word(), if self == Self::Slit { "" } else { " notch" })
    }

    /// Whether cloth is cut out, so that the cut line itself runs in and out again.
    #[must_use]
    pub const fn opens(self) -> bool {
        !matches!(self, Self::Slit | Self::Tee)
    }
}

/// Why there is a notch.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum NotchReason {
    /// The source asks for it.
    Asked,
    /// A dart's or pleat's leg meets the edge here.
    Fold,
    /// The turning opening begins or ends here.
    Opening,
}

/// A mark on the face of a piece.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Mark {
    /// Its name in the source, or that of the attachment it places.
    pub name: String,
    /// What is written beside it.
    pub text: Text,
    /// On which copies; empty for all.
    pub copies: Vec<u32>,
    /// What is drawn.
    pub shape: MarkShape,
    /// Where it is asked for.
    pub origin: Span,
}

/// What is drawn for a mark.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum MarkShape {
    /// A cross at a point, drawn and no more.
    Point {
        /// Where.
        at: Point,
    },
    /// A hole pricked or drilled through.
    Drill {
        /// Its middle.
        at: Point,
        /// How wide.
        diameter: Length,
    },
    /// A line to sew or place along.
    Line {
        /// The line.
        path: Path,
    },
    /// An attachment on an edge: a symbol at its middle and the stretch it takes.
    OnEdge {
        /// Which edge.
        edge: super::EdgeId,
        /// The stretch of the finished edge it takes.
        stretch: Path,
        /// Its middle.
        at: Point,
        /// Into the piece, length one.
        inward: Vector,
        /// Which way it points while it is sewn.
        points: super::Pointing,
        /// Its symbol.
        symbol: Symbol,
    },
}

/// Symbols of attachments; the legend names them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Symbol {
    /// A loop or tab.
    Bar,
    /// Something along a stretch: a zipper half, a casing, a binding.
    Band,
    /// A snap or other point fastener.
    Ring,
    /// A tie or drill point.
    Cross,
    /// Anything else.
    Tick,
}

/// A hole cut inside a piece.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Hole {
    /// Its name.
    pub name: String,
    /// Its outline, clockwise.
    pub path: Path,
}

/// Which way the warp runs on a piece.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Grain {
    /// Angle from the x axis; π/2 runs from foot to head. None when any will do.
    pub angle: Option<Angle>,
    /// How far it may lie off.
    pub within: Angle,
    /// Where this is said.
    pub origin: Span,
}
