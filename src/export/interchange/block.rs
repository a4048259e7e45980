//! One piece in one size: what stands in its block.

use super::layer::Layer;
use super::vertex::{Chain, Vertex, chain};
use super::{annotation, entity, grain, size_of};
use crate::export::drawing;
use crate::geometry::{COINCIDENT, Path, Point, Vector};
use crate::ir::{Design, Mark, MarkShape, Piece, PieceId, Symbol};
use crate::quantity::Style;
use std::collections::BTreeMap;

/// Type is this part of a piece's lesser side, within bounds (mm).
const TYPE_OF_PIECE: f64 = 0.03;
const TYPE: (f64, f64) = (3.0, 20.0);
/// From one text to the next, as a part of their height.
const LEADING: f64 = 1.6;
/// How wide a letter is on average, as a part of the type's height.
const LETTER: f64 = 0.75;
/// Half the width of a cross, mm.
const CROSS: f64 = 3.0;
/// Vertices nearer than this (mm) are one: what a file's decimals tell apart.
const SAME: f64 = 1e-4;

/// A block being filled.
struct Block {
    text: String,
    /// Vertices by their place in steps of [`SAME`], so that two lines that meet share their point.
    points: BTreeMap<(i64, i64), Vertex>,
    /// Height of type.
    size: f64,
    /// The right side of the piece: words that would reach past it end at their place, and do not begin there.
    right: f64,
}

/// Everything of a piece, in panel space.
pub(super) fn content(design: &Design, id: PieceId, piece: &Piece, style: Style) -> String {
    let bounds = piece.cut_line.bounds();
    let size = (bounds.width().min(bounds.height()) * TYPE_OF_PIECE).clamp(TYPE.0, TYPE.1);
    let mut block = Block { text: String::with_capacity(1 << 12), points: BTreeMap::new(), size, right: bounds.max.x };
    block.line(Layer::Boundary, &piece.cut_line);
    for notch in &piece.notches {
        entity::notch(&mut block.text, notch);
    }
    for hole in &piece.holes {
        block.line(Layer::Cutout, &hole.path);
    }
    block.line(Layer::Sew, &drawing::outline(piece));
    for fold in &piece.folds {
        if let Some(legs) = fold.sewn() {
            block.line(Layer::Sew, legs);
        }
        let line = fold.folded();
        block.line(Layer::Internal, &line);
        block.note(&annotation::fold(&fold.of), line.point_at(line.length() / 2.0));
    }
    if let Some(fold) = &piece.fold_line {
        // The piece is whole, so the line is one to see and no mirror line.
        block.line(Layer::Internal, fold);
        block.note("centre, where the half is placed on fold", fold.point_at(fold.length() / 2.0));
    }
    for mark in drawing::marks(design, id, piece) {
        block.mark(piece, &mark, style);
    }
    let (from, to) = grain::ends(piece);
    entity::line(&mut block.text, Layer::Grain, from, to);
    block.texts(design, piece, from.lerp(to, 0.5));
    block.done()
}

impl Block {
    fn line(&mut self, layer: Layer, path: &Path) {
        let Some(chain) = chain(path) else { return };
        entity::polyline(&mut self.text, layer, &chain);
        self.add_points(&chain);
    }

    /// Where one line turns and another does not, the point is a turn: a reader looks points up by their place.
    fn add_points(&mut self, chain: &Chain) {
        for vertex in &chain.vertices {
            self.points.entry(key(vertex.at)).and_modify(|v| v.turns |= vertex.turns).or_insert(*vertex);
        }
    }

    fn mark(&mut self, piece: &Piece, mark: &Mark, style: Style) {
        let at = match &mark.shape {
            MarkShape::Point { at } => {
                self.cross(*at);
                *at
            }
            MarkShape::Drill { at, .. } => {
                entity::point(&mut self.text, Layer::DrillHole, *at);
                *at
            }
            MarkShape::Line { path } => {
                self.line(Layer::Internal, path);
                path.point_at(path.length() / 2.0)
            }
            // A snap is set through one point, a tie is sewn at one; all else takes a stretch of its edge.
            MarkShape::OnEdge { stretch, at, symbol, .. } => {
                match symbol {
                    Symbol::Ring => entity::point(&mut self.text, Layer::DrillHole, *at),
                    Symbol::Cross => self.cross(*at),
                    _ if stretch.length() <= COINCIDENT => self.cross(*at),
                    _ => self.line(Layer::Internal, stretch),
                }
                *at
            }
        };
        self.note(&drawing::mark_words(piece, mark, style), at);
    }

    /// A point to mark: a small cross.
    fn cross(&mut self, at: Point) {
        for arm in [Vector::new(CROSS, 0.0), Vector::new(0.0, CROSS)] {
            self.line(Layer::Internal, &Path::line(at - arm, at + arm));
        }
    }

    /// Words for people, beside what they are about.
    fn note(&mut self, text: &str, at: Point) {
        let gap = self.size * 0.5;
        let width = text.chars().fold(gap, |sum, _| sum + LETTER * self.size);
        let left = if at.x + width > self.right { -width } else { gap };
        entity::words(&mut self.text, Layer::Annotation, text, at + Vector::new(left, gap), self.size);
    }

    /// What the piece is, one below the other beside its grain line.
    fn texts(&mut self, design: &Design, piece: &Piece, beside: Point) {
        let material = design.material(piece.material).map_or("", |m| m.title.as_str());
        let quantity = piece.copies.len().to_string();
        let said = [
            ("PIECE NAME", piece.name.as_str()),
            ("SIZE", size_of(design)),
            ("QUANTITY", &quantity),
            ("MATERIAL", material),
            ("ANNOTATION", &annotation::of(design, piece)),
        ];
        let mut at = beside + Vector::new(self.size, self.size * LEADING * 2.0);
        for (keyword, value) in said {
            entity::said(&mut self.text, keyword, value, at, self.size);
            at = at - Vector::new(0.0, self.size * LEADING);
        }
    }

    /// The block's text, its points last.
    fn done(mut self) -> String {
        for vertex in self.points.values() {
            let layer = if vertex.turns { Layer::TurnPoint } else { Layer::CurvePoint };
            entity::point(&mut self.text, layer, vertex.at);
        }
        self.text
    }
}

#[expect(clippy::cast_possible_truncation, reason = "a place is at most a kilometre off, ten million steps")]
fn key(at: Point) -> (i64, i64) {
    ((at.x / SAME).round() as i64, (at.y / SAME).round() as i64)
}
