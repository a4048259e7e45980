//! The half of a piece that is cut on the fold, as it is drawn for paper: its fold edge marked with the usual bracket, whose
//! arrows point at the fold (common practice, no source). Sheets of all pieces, and cutters, have the whole piece.

use super::piece::Draft;
use super::room::Slot;
use super::shape::{Item, Layer, Shape};
use super::{edges, words};
use crate::geometry::{FLATTEN, Path, Point, Vector, distance_to, meetings};
use crate::ir::{Edge, EdgeId, FoldLine, Mark, MarkShape, Piece};
use crate::quantity::Length;

/// How far the bracket lies from the fold, in heights of small type; and the part of the fold it spans.
const AWAY: f64 = 2.2;
const SPAN: f64 = 0.7;
/// A mark and the image of another are one within this (mm).
const SAME: f64 = 1e-3;

/// A half: a piece whose cut line is closed along the fold, and what is marked on it.
pub(super) struct Half {
    pub(super) piece: Piece,
    pub(super) marks: Vec<Mark>,
    /// The fold, from side to side of the cut line, with the half to its left.
    pub(super) fold: Path,
}

/// The half that is drawn of a piece cut on the fold; none of any other piece.
pub(super) fn of(whole: &Piece, marks: &[Mark]) -> Option<Half> {
    let fold = whole.fold_line.clone()?;
    let side = Side { on: fold.start, along: (fold.end() - fold.start).unit() };
    let chord = whole.cut_line.chord(fold.start, fold.end(), SAME).ok()?;
    let cut_line = chord.left(&whole.cut_line).line_to(chord.leaves.at);
    let mut edges: Vec<Edge> = whole.edges.iter().flat_map(|e| side.keep(&e.path).into_iter().map(|path| half_edge(e, path))).collect();
    // Round from where the fold ends to where it begins.
    let first = edges.iter().position(|e| side.is_on(e.path.start)).unwrap_or(0);
    edges.rotate_left(first);
    let fold_line = |f: &FoldLine| side.keep(&f.path).into_iter().map(|path| FoldLine { of: f.of.clone(), path }).collect::<Vec<_>>();
    let piece = Piece {
        edges,
        cut_line,
        folds: whole.folds.iter().flat_map(fold_line).collect(),
        notches: whole.notches.iter().filter(|n| side.holds(n.point)).cloned().collect(),
        holes: whole.holes.iter().filter(|h| side.holds(h.path.start)).cloned().collect(),
        ..whole.clone()
    };
    let mut marks = side.marks(marks);
    for mark in &mut marks {
        if let MarkShape::OnEdge { edge, at, .. } = &mut mark.shape {
            *edge = nearest(&piece.edges, *at);
        }
    }
    Some(Half { piece, marks, fold })
}

/// The edge that a place lies on.
fn nearest(edges: &[Edge], at: Point) -> EdgeId {
    let away = |e: &Edge| distance_to(&e.path.flatten(FLATTEN), at);
    let found = edges.iter().enumerate().min_by(|a, b| away(a.1).total_cmp(&away(b.1)));
    EdgeId::at(found.map_or(0, |(index, _)| index))
}

/// What is left of an edge; of one that runs across the fold, half.
fn half_edge(edge: &Edge, path: Path) -> Edge {
    let long = path.length();
    let across = long < edge.length.as_mm() - SAME;
    let name = if across { format!("half of {}", edge.name) } else { edge.name.clone() };
    let parts = if across { Vec::new() } else { edge.parts.clone() };
    Edge { name, length: Length::mm(long), parts, path, ..edge.clone() }
}

/// The side of the fold on which the half lies.
#[derive(Clone, Copy)]
struct Side {
    on: Point,
    along: Vector,
}

impl Side {
    fn off(self, p: Point) -> f64 {
        self.along.cross(p - self.on)
    }

    fn is_on(self, p: Point) -> bool {
        self.off(p).abs() <= SAME
    }

    fn holds(self, p: Point) -> bool {
        self.off(p) >= -SAME
    }

    /// The stretches of a path that lie on this side, end to end where they go on.
    fn keep(self, path: &Path) -> Vec<Path> {
        let bounds = path.bounds();
        let reach = bounds.width() + bounds.height() + (bounds.centre() - self.on).length();
        let line = Path::line(self.on - self.along * reach, self.on + self.along * reach);
        let length = path.length();
        let stops: Vec<f64> = std::iter::once(0.0).chain(meetings(path, &line).iter().map(|m| m.first)).chain([length]).collect();
        let stretches = stops.iter().zip(stops.iter().skip(1));
        let inside = stretches.filter(|(a, b)| **b - **a > SAME && self.off(path.point_at(f64::midpoint(**a, **b))) > 0.0);
        inside.map(|(a, b)| path.subpath(*a, *b)).collect()
    }

    /// Marks as they are seen on this half: those of both halves and on the fold without a word, and of one half alone with one.
    fn marks(self, marks: &[Mark]) -> Vec<Mark> {
        let place = |m: &Mark| match &m.shape {
            MarkShape::Point { at } | MarkShape::Drill { at, .. } | MarkShape::OnEdge { at, .. } => *at,
            MarkShape::Line { path } => path.point_at(path.length() / 2.0),
        };
        let (here, there): (Vec<&Mark>, Vec<&Mark>) = marks.iter().partition(|m| self.holds(place(m)));
        let fellow = |mark: &Mark, others: &[&Mark]| {
            let at = place(mark).mirrored(self.on, self.along);
            others.iter().any(|m| place(m).distance(at) <= SAME && m.text == mark.text && m.copies == mark.copies)
        };
        let noted = |mark: &Mark, note: &str| Mark { text: mark.text.clone().then(note), ..mark.clone() };
        let mine = here.iter().map(|m| {
            let both = self.is_on(place(m)) || fellow(m, &there);
            if both { (*m).clone() } else { noted(m, " (this half only)") }
        });
        let others = there.iter().filter(|m| !fellow(m, &here));
        let turned = others.map(|m| Mark { shape: self.turned_over(&m.shape), ..noted(m, " (other half only)") });
        mine.chain(turned).collect()
    }

    fn turned_over(self, shape: &MarkShape) -> MarkShape {
        let flip = |p: Point| p.mirrored(self.on, self.along);
        match shape {
            MarkShape::Point { at } => MarkShape::Point { at: flip(*at) },
            MarkShape::Drill { at, diameter } => MarkShape::Drill { at: flip(*at), diameter: *diameter },
            MarkShape::Line { path } => MarkShape::Line { path: path.mirrored(self.on, self.along) },
            MarkShape::OnEdge { edge, stretch, at, inward, points, symbol } => MarkShape::OnEdge {
                edge: *edge,
                stretch: stretch.mirrored(self.on, self.along).reversed(),
                at: flip(*at),
                inward: flip(*at + *inward) - flip(*at),
                points: *points,
                symbol: *symbol,
            },
        }
    }
}

/// The fold and its bracket.
pub(super) fn bracket(draft: &mut Draft<'_>, fold: &Path) {
    draft.items.push(Item::new(Layer::Fold, Shape::Line(fold.clone())));
    let (along, length) = ((fold.end() - fold.start).unit(), fold.length());
    let (inward, size) = (along.left(), draft.small());
    let (from, to) = (length * (1.0 - SPAN) / 2.0, length * f64::midpoint(1.0, SPAN));
    let foot = |at: f64| fold.start + along * at;
    let bar = |at: f64| foot(at) + inward * (size * AWAY);
    let head = (size * 0.7).min(length * 0.1);
    for at in [from, to] {
        draft.items.push(Item::line(Layer::Text, bar(at), foot(at) + inward * (head * 0.8)));
        let (back, side) = (foot(at) + inward * head, along * (head * 0.3));
        let arrow = Path::polygon(&[foot(at), back + side, back - side]);
        draft.items.extend(arrow.map(|a| Item::new(Layer::Text, Shape::Solid(a))));
    }
    draft.items.push(Item::line(Layer::Text, bar(from), bar(to)));
    let middle = foot(f64::midpoint(from, to)) + inward * (size * AWAY / 2.0);
    draft.room.take(Slot::new(middle, along.angle(), to - from + head, size * (AWAY + 0.4)));
    let words = edges::set(middle, along, inward, 0.0, size, "place on fold");
    if words.width() < to - from {
        draft.items.push(Item::new(Layer::Text, Shape::Words(words)));
    } else {
        draft.notes.push("place on fold along the side with the arrows".to_owned());
    }
}

/// The lines of its label.
pub(super) fn block(lines: Vec<String>, piece: &Piece) -> Vec<String> {
    let quantity = words::quantity(&piece.copies);
    let kept = lines.into_iter().filter(|l| l != "face up" && l != words::WHOLE);
    let each = if piece.copies.len() > 1 { ", each" } else { "" };
    kept.map(|l| if l == quantity { format!("{l}{each} on the fold") } else { l }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::export::drawing::{Drawings, Shape};
    use crate::ir::Text;
    use crate::ir::sample::Sample;
    use crate::ir::{Design, MaterialKind, PieceId};
    use crate::quantity::Style;
    use crate::source::Span;

    fn point(name: &str, x: f64, y: f64) -> Mark {
        let shape = MarkShape::Point { at: Point::new(x, y) };
        Mark { name: name.into(), text: Text::words(name), copies: Vec::new(), shape, origin: Span::default() }
    }

    /// 400 wide and 300 high with its fold at x = 200, the half to the right of it drawn.
    fn folded(marks: Vec<Mark>) -> Design {
        let mut sample = Sample::new("given", "Given");
        let cloth = sample.material("cloth", MaterialKind::Cloth);
        let corners = [(0.0, 0.0, "foot"), (400.0, 0.0, "right"), (400.0, 300.0, "head"), (0.0, 300.0, "right_opposite")];
        let id = sample.piece("cape", cloth, &corners, 10.0, (420.0, 320.0, 134_400.0));
        let piece = sample.piece_mut(id);
        piece.fold_line = Some(Path::line(Point::new(200.0, 310.0), Point::new(200.0, -10.0)));
        piece.marks = marks;
        sample.design
    }

    #[test]
    fn a_half_is_closed_along_its_fold() {
        let design = folded(Vec::new());
        let half = of(design.pieces.first().expect("a piece"), &[]).expect("a half");
        assert!((half.piece.cut_line.signed_area() - 210.0 * 320.0).abs() < 1e-6);
        let edges: Vec<_> = half.piece.edges.iter().map(|e| (e.name.as_str(), e.length.as_mm())).collect();
        assert_eq!(edges, [("half of foot", 200.0), ("right", 300.0), ("half of head", 200.0)]);
    }

    #[test]
    fn marks_of_one_half_alone_say_so() {
        let marks = vec![point("both", 300.0, 50.0), point("both", 100.0, 50.0), point("mine", 300.0, 100.0)];
        let design = folded([marks, vec![point("other", 100.0, 150.0), point("centre", 200.0, 200.0)]].concat());
        let sheet = Drawings::of(&design, Style::default()).single(PieceId(0));
        let items = sheet.drawings.iter().flat_map(|d| &d.items);
        let words: Vec<&str> = items.filter_map(|i| if let Shape::Words(w) = &i.shape { Some(w.text.as_str()) } else { None }).collect();
        for text in ["both", "mine (this half only)", "other (other half only)", "centre", "place on fold", "cut 1 on the fold"] {
            assert_eq!(words.iter().filter(|w| **w == text).count(), 1, "{text}: {words:?}");
        }
    }

    #[test]
    fn the_sheet_of_all_pieces_has_the_whole() {
        let design = folded(Vec::new());
        let sheet = Drawings::of(&design, Style::default()).sheet();
        let drawn = sheet.drawings.first().expect("a drawing");
        let cut = drawn.items.iter().find(|i| i.layer == Layer::Cut).expect("a cut line");
        assert!((cut.shape.bounds().width() - 420.0).abs() < 1e-9);
        let words = |text: &str| drawn.items.iter().any(|i| matches!(&i.shape, Shape::Words(w) if w.text == text));
        assert!(words("cut 1") && words("cut on the fold, drawn whole"));
    }
}
