//! Shapes in millimetres, and the layers they lie on.

use crate::geometry::{Bounds, Path, Point, Segment, Vector};
use crate::ir::{Mark, MarkShape, Piece};

/// What a line or a word means.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Layer {
    /// A hole, cut before the outline so that the piece still holds still.
    Hole,
    /// A slit in the cut line.
    Notch,
    /// The line to cut along.
    Cut,
    /// The finished outline, where the stitching runs.
    Stitch,
    /// A line to fold along.
    Fold,
    /// Something marked on the face.
    Mark,
    /// Which way the warp runs.
    Grain,
    /// Words, and the lines that lead from them.
    Text,
    /// Border, title block and check squares.
    Frame,
}

impl Layer {
    /// Every layer, in the order it is drawn and cut.
    pub const ALL: [Self; 9] =
        [Self::Hole, Self::Notch, Self::Cut, Self::Stitch, Self::Fold, Self::Mark, Self::Grain, Self::Text, Self::Frame];

    /// Its name: one short word in small letters.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Hole => "hole",
            Self::Notch => "notch",
            Self::Cut => "cut",
            Self::Stitch => "stitch",
            Self::Fold => "fold",
            Self::Mark => "mark",
            Self::Grain => "grain",
            Self::Text => "text",
            Self::Frame => "frame",
        }
    }
}

/// Something drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    /// What it means.
    pub layer: Layer,
    /// Its shape.
    pub shape: Shape,
}

impl Item {
    pub(super) const fn new(layer: Layer, shape: Shape) -> Self {
        Self { layer, shape }
    }

    pub(super) fn line(layer: Layer, from: Point, to: Point) -> Self {
        Self::new(layer, Shape::Line(Path::line(from, to)))
    }

    /// The same elsewhere.
    pub(super) fn moved(&self, by: Vector) -> Self {
        Self::new(self.layer, self.shape.moved(by))
    }
}

/// A shape.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// A line of any form; closed when its end is its start.
    Line(Path),
    /// A line that is part of a symbol: unbroken, however lines of its layer are drawn.
    Symbol(Path),
    /// A closed form, filled.
    Solid(Path),
    /// A circle.
    Circle {
        /// Its middle.
        centre: Point,
        /// Its radius, mm.
        radius: f64,
    },
    /// Words.
    Words(Words),
}

/// One line of words.
#[derive(Debug, Clone, PartialEq)]
pub struct Words {
    /// Where they are set, on their base line.
    pub at: Point,
    /// Which way they run, radians from the x axis.
    pub angle: f64,
    /// Height of the type (em), mm.
    pub size: f64,
    /// Which part of them is set there.
    pub anchor: Anchor,
    /// Whether they are bold.
    pub bold: bool,
    /// What they say.
    pub text: String,
}

/// Which part of a line of words stands at its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchor {
    /// Its beginning.
    Start,
    /// Its middle.
    Middle,
    /// Its end.
    End,
}

/// Height of a capital as a part of the type's height, in common sans-serif types.
pub(crate) const CAPITAL: f64 = 0.72;
/// How wide a letter is at most on average, as a part of the type's height; types differ, so this is on the wide side.
const LETTER: f64 = 0.6;
/// The same in bold.
const BOLD_LETTER: f64 = 0.66;
/// How far letters hang below their base line.
const DESCENT: f64 = 0.22;

impl Words {
    /// How wide they are at most.
    #[must_use]
    pub fn width(&self) -> f64 {
        text_width(&self.text, self.size, self.bold)
    }

    /// The four corners of the box they fill, counter-clockwise.
    #[must_use]
    pub fn corners(&self) -> [Point; 4] {
        let along = Vector::at_angle(self.angle);
        let before = match self.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => -0.5,
            Anchor::End => -1.0,
        };
        let width = self.width();
        let low = self.at + along * (before * width) - along.left() * (DESCENT * self.size);
        let high = along.left() * ((DESCENT + CAPITAL) * self.size);
        [low, low + along * width, low + along * width + high, low + high]
    }
}

/// How wide a text is at most.
pub(super) fn text_width(text: &str, size: f64, bold: bool) -> f64 {
    let letter = if bold { BOLD_LETTER } else { LETTER };
    text.chars().count() as f64 * letter * size
}

impl Shape {
    pub(super) fn shift(&mut self, by: Vector) {
        match self {
            Self::Line(path) | Self::Symbol(path) | Self::Solid(path) => path.shift(by),
            Self::Circle { centre, .. } => *centre = *centre + by,
            Self::Words(words) => words.at = words.at + by,
        }
    }

    /// The same elsewhere.
    pub(crate) fn moved(&self, by: Vector) -> Self {
        let mut moved = self.clone();
        moved.shift(by);
        moved
    }

    /// Box around it.
    #[must_use]
    pub fn bounds(&self) -> Bounds {
        match self {
            Self::Line(path) | Self::Symbol(path) | Self::Solid(path) => path.bounds(),
            Self::Circle { centre, radius } => Bounds::of(*centre).grown(*radius),
            Self::Words(words) => words.corners().into_iter().fold(Bounds::of(words.at), Bounds::with),
        }
    }
}

/// Box around items; none around nothing.
pub(super) fn bounds_of(items: &[Item]) -> Option<Bounds> {
    items.iter().map(|i| i.shape.bounds()).reduce(Bounds::union)
}

/// Whether every number of a piece is one, and no larger than what can be cut.
pub(super) fn drawable(piece: &Piece, marks: &[Mark], largest: f64) -> bool {
    let fits = |n: f64| n.is_finite() && n.abs() <= largest;
    let point = |p: Point| fits(p.x) && fits(p.y);
    let path = |path: &Path| {
        point(path.start)
            && path.segments.iter().all(|s| match *s {
                Segment::Line { end } => point(end),
                Segment::Arc { end, bulge } => point(end) && fits(bulge),
                Segment::Cubic { leaving, arriving, end } => point(leaving) && point(arriving) && point(end),
            })
    };
    let mark = |shape: &MarkShape| match shape {
        MarkShape::Point { at } => point(*at),
        MarkShape::Drill { at, diameter } => point(*at) && fits(diameter.as_mm()),
        MarkShape::Line { path: line } => path(line),
        MarkShape::OnEdge { stretch, at, inward, .. } => path(stretch) && point(*at) && fits(inward.x) && fits(inward.y),
    };
    path(&piece.cut_line)
        && piece.edges.iter().all(|e| path(&e.path) && fits(e.allowance.as_mm()) && fits(e.length.as_mm()))
        && piece.folds.iter().all(|f| path(&f.path))
        && piece.holes.iter().all(|h| path(&h.path))
        && piece
            .notches
            .iter()
            .all(|n| n.lines.iter().all(path) && point(n.point) && fits(n.inward.x) && fits(n.inward.y) && fits(n.depth.as_mm()))
        && marks.iter().all(|m| mark(&m.shape))
        && piece.grain.angle.is_none_or(|a| fits(a.as_radians()))
}
