//! Edges joined to edges.

use super::error::{AllowanceError, LengthError, Measured, PieceError};
use super::naming::{chain, edge as edge_name, owner, shared};
use super::symmetry::{Fit, fit, is_strip, is_symmetric_about};
use crate::diagnostic::Problems;
use crate::ir::{Design, Edge, EdgeSide, Join, MaterialKind, NotchReason, NotchShape, Piece, Seam, SeamForm, Subject, Together};
use crate::quantity::Length;
use crate::source::Span;
use std::cmp::Ordering;

/// Ease up to this goes in with care; above it, only with clipping and basting. Trade habit.
const EASY: f64 = 0.03;

/// Gathered lengths may differ by this part: pulling threads holds no closer.
const GATHERED: f64 = 0.01;

/// Notches so far apart (mm) are meant to be different notches or are wrong.
const LEVEL: f64 = 2.0;

/// Stretches that share less than this lie side by side, mm.
const TOUCHING: f64 = 1.0;

/// Checks every join.
pub(super) fn check(design: &Design, problems: &mut Problems) {
    for seam in &design.seams {
        let SeamForm::Join(join) = &seam.form else { continue };
        lengths(design, seam, join, problems);
        allowances(design, seam, join, problems);
        raw_edges(design, seam, join, problems);
        to_itself(design, seam, join, problems);
        if let ([first], [second]) = (join.first.as_slice(), join.second.as_slice()) {
            notches(design, seam, (first, second), problems);
            mirrored(design, seam, join, (first, second), problems);
            wrong_way_round(design, seam, join, (first, second), problems);
        }
    }
}

fn origin(design: &Design, sides: &[EdgeSide], or: Span) -> Span {
    sides.first().and_then(|s| design.edge(s.piece, s.edge)).map_or(or, |e| e.origin)
}

fn lengths(design: &Design, seam: &Seam, join: &Join, problems: &mut Problems) {
    let measured = |sides: &[EdgeSide], length| Measured { name: chain(design, sides), length, at: origin(design, sides, seam.origin) };
    let (first, second) = (measured(&join.first, join.first_length), measured(&join.second, join.second_length));
    let (long, short) = if first.length < second.length { (second, first) } else { (first, second) };
    let extra = long.length - short.length;
    if short.length.as_mm() <= 0.0 {
        return;
    }
    let (name, at) = (seam.name.clone(), seam.origin);
    if let Some(stated) = join.gather {
        let wanted = short.length.as_mm() * stated;
        if (long.length.as_mm() - wanted).abs() > Length::SAME.as_mm().max(wanted.abs() * GATHERED) {
            let ratio = long.length.as_mm() / short.length.as_mm();
            problems.push(LengthError::GatherDiffers { seam: name, long, short, stated, ratio, at });
        }
        return;
    }
    let ease = extra.as_mm() / short.length.as_mm();
    let allowed = join.ease.unwrap_or(0.0).max(0.0) * short.length.as_mm() + Length::SAME.as_mm();
    if extra.as_mm() > allowed {
        problems.push(LengthError::Differ { seam: name, long, short, stated: join.ease, ease, at });
    } else if ease > EASY {
        problems.push(LengthError::EaseHigh { seam: name, ease, extra, at });
    }
}

/// The edges of a seam's sides; marked lines have no allowance.
fn edges<'d>(design: &'d Design, sides: &'d [EdgeSide]) -> impl Iterator<Item = (&'d EdgeSide, &'d Edge)> {
    sides.iter().filter(|s| s.line.is_none()).filter_map(|s| design.edge(s.piece, s.edge).map(|e| (s, e)))
}

fn is_cloth(design: &Design, side: &EdgeSide) -> bool {
    design.piece(side.piece).and_then(|p| design.material(p.material)).is_some_and(|m| m.kind == MaterialKind::Cloth)
}

fn allowances(design: &Design, seam: &Seam, join: &Join, problems: &mut Problems) {
    let all = || edges(design, &join.first).chain(edges(design, &join.second));
    if let Some(finish) = &seam.finish {
        let narrow = all().filter(|(_, e)| e.allowance.as_mm() + Length::SAME.as_mm() < finish.needs.as_mm());
        if let Some((side, edge)) = narrow.min_by(|a, b| a.1.allowance.as_mm().total_cmp(&b.1.allowance.as_mm())) {
            problems.push(AllowanceError::TooNarrow {
                finish: finish.name.clone(),
                seam: seam.name.clone(),
                needs: finish.needs,
                edge: design.edge_name(side),
                allowance: edge.allowance,
                at: finish.origin,
                edge_at: edge.origin,
            });
            return;
        }
    }
    // A finish that encloses folds one allowance round the other; lapped edges have no raw edges to lay level.
    if join.together == Together::Lapped || seam.finish.as_ref().is_some_and(|f| f.encloses) {
        return;
    }
    let first = edges(design, &join.first).next();
    let unlike = first.and_then(|a| edges(design, &join.second).find(|b| !a.1.allowance.is_same(b.1.allowance)).map(|b| (a, b)));
    if let Some(((a, first), (b, second))) = unlike {
        problems.push(AllowanceError::Differ {
            seam: seam.name.clone(),
            first: (design.edge_name(a), first.allowance),
            second: (design.edge_name(b), second.allowance),
            at: seam.origin,
            edges_at: [first.origin, second.origin],
        });
    }
}

fn raw_edges(design: &Design, seam: &Seam, join: &Join, problems: &mut Problems) {
    if seam.finish.is_some() {
        return;
    }
    let sides = || join.first.iter().chain(&join.second);
    let inside = |s: &EdgeSide| is_enclosed(design, s) || s.line.is_some() || !is_cloth(design, s);
    let finished = |s: &EdgeSide| {
        let edge = design.edge(s.piece, s.edge);
        edge.is_some_and(|e| e.raw_because.is_some() || e.finish.as_ref().is_some_and(|f| f.encloses))
    };
    if !sides().any(inside) && !sides().all(finished) {
        problems.push(AllowanceError::Exposed { seam: seam.name.clone(), at: seam.origin });
    }
}

/// Whether a piece is a layer of something, whose inside hides its seams.
fn is_enclosed(design: &Design, side: &EdgeSide) -> bool {
    let stacked = design.seams.iter().any(|s| match &s.form {
        SeamForm::Stack(stack) => stack.layers.iter().any(|l| l.piece == side.piece),
        SeamForm::Join(_) => false,
    });
    stacked || design.quilting.iter().any(|q| q.layers.iter().any(|l| l.0 == side.piece))
}

fn to_itself(design: &Design, seam: &Seam, join: &Join, problems: &mut Problems) {
    let stretch = |s: &EdgeSide| (s.from.as_mm(), s.to.as_mm());
    let same = |a: &EdgeSide, b: &EdgeSide| {
        a.piece == b.piece && a.copy == b.copy && a.edge == b.edge && a.line == b.line && shared(stretch(a), stretch(b)) > TOUCHING
    };
    if let Some(side) = join.first.iter().find(|a| join.second.iter().any(|b| same(a, b))) {
        problems.push(AllowanceError::ToItself { edge: design.edge_name(side), seam: seam.name.clone(), at: seam.origin });
    }
}

/// Whether the first edge's start lies on the second's end. Two outlines laid face to face, back to back or edge to
/// edge run against each other there; turning one over for its mirrored copy makes them run together.
fn run_against(pieces: (&Piece, &Piece), sides: (&EdgeSide, &EdgeSide)) -> bool {
    pieces.0.is_mirrored(sides.0.copy) == pieces.1.is_mirrored(sides.1.copy)
}

/// A place marked by notches.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Marked {
    at: f64,
    shape: NotchShape,
    rows: u32,
    origin: Span,
}

impl Marked {
    /// `a double slit`
    fn words(&self) -> String {
        format!("a {}", self.shape.counted(self.rows))
    }
}

fn is_whole(side: &EdgeSide, edge: &Edge) -> bool {
    side.line.is_none() && (side.to - side.from).is_same(edge.length)
}

fn notches(design: &Design, seam: &Seam, (a, b): (&EdgeSide, &EdgeSide), problems: &mut Problems) {
    let (Some(piece_a), Some(piece_b)) = (design.piece(a.piece), design.piece(b.piece)) else { return };
    let (Some(edge_a), Some(edge_b)) = (design.edge(a.piece, a.edge), design.edge(b.piece, b.edge)) else { return };
    // A closed edge has no end to measure from.
    let closed = piece_a.edges.len() == 1 || piece_b.edges.len() == 1;
    if closed || !is_whole(a, edge_a) || !is_whole(b, edge_b) {
        return;
    }
    let asked = |piece: &Piece, side: &EdgeSide| {
        let mine = piece.notches.iter().filter(|n| n.edge == side.edge && n.reason == NotchReason::Asked);
        let mut places: Vec<Marked> =
            mine.map(|n| Marked { at: n.place.as_mm(), shape: n.shape, rows: n.rows, origin: n.origin }).collect();
        places.sort_by(|a, b| a.at.total_cmp(&b.at));
        // Those of a row mark one place.
        places.dedup();
        places
    };
    let (first, mut second) = (asked(piece_a, a), asked(piece_b, b));
    let slack = LEVEL + (edge_a.length - edge_b.length).as_mm().abs();
    let level_as_drawn = first.iter().zip(&second).all(|(one, other)| (one.at - other.at).abs() <= slack);
    if run_against((piece_a, piece_b), (a, b)) {
        let length = edge_b.length.as_mm();
        second = second.iter().rev().map(|m| Marked { at: length - m.at, ..*m }).collect();
    }
    // Where one side is eased, notches share it out.
    for (one, other) in fellows(&first, &second) {
        let apart = (one.at - other.at).abs() > slack;
        if apart || (one.shape, one.rows) != (other.shape, other.rows) {
            problems.push(LengthError::NotchesDiffer {
                seam: seam.name.clone(),
                first: design.edge_name(a),
                second: design.edge_name(b),
                places: (Length::mm(one.at), Length::mm(other.at)),
                kinds: (!apart).then(|| (one.words(), other.words())),
                end: edge_a.start_neighbour.clone(),
                upside_down: apart && level_as_drawn,
                at: [one.origin, other.origin],
                seam_at: seam.origin,
            });
            return;
        }
    }
}

/// Notches that are to meet. Where one side has more of them some may mark other things, but each of the fewer has the nearest of
/// the other's.
fn fellows<'m>(first: &'m [Marked], second: &'m [Marked]) -> Vec<(&'m Marked, &'m Marked)> {
    let nearest = |of: &Marked, among: &'m [Marked]| {
        let off = |m: &Marked| (m.at - of.at).abs() + if (m.shape, m.rows) == (of.shape, of.rows) { 0.0 } else { LEVEL };
        among.iter().min_by(|a, b| off(a).total_cmp(&off(b)))
    };
    match first.len().cmp(&second.len()) {
        Ordering::Equal => first.iter().zip(second).collect(),
        Ordering::Less => first.iter().filter_map(|one| nearest(one, second).map(|other| (one, other))).collect(),
        Ordering::Greater => second.iter().filter_map(|other| nearest(other, first).map(|one| (one, other))).collect(),
    }
}

/// Two copies cut alike and joined along the same edge lie head to foot; unless the piece is its own
/// mirror image about that edge, a left and a right were meant.
fn mirrored(design: &Design, seam: &Seam, join: &Join, (a, b): (&EdgeSide, &EdgeSide), problems: &mut Problems) {
    let (Some(piece), Some(edge)) = (design.piece(a.piece), design.edge(a.piece, a.edge)) else { return };
    let alike = a.piece == b.piece && a.copy != b.copy && piece.is_mirrored(a.copy) == piece.is_mirrored(b.copy);
    let one_sided = design.material(piece.material).is_some_and(|m| m.one_sided);
    let whole = a.edge == b.edge && is_whole(a, edge) && is_whole(b, edge);
    if !alike || !one_sided || !whole || join.together == Together::Lapped || is_symmetric_about(piece, a.edge) {
        return;
    }
    problems.push(PieceError::NeedsMirrored {
        piece: piece.name.clone(),
        first: owner(design, a.piece, a.copy),
        second: owner(design, b.piece, b.copy),
        seam: seam.name.clone(),
        alike: true,
        at: piece.origin,
        seam_at: seam.origin,
    });
}

/// A facing drawn from the edge it is sewn to fits that edge; laid face to face it fits only if one of the two is cut turned over.
fn wrong_way_round(design: &Design, seam: &Seam, join: &Join, (a, b): (&EdgeSide, &EdgeSide), problems: &mut Problems) {
    let (Some(one), Some(other)) = (design.piece(a.piece), design.piece(b.piece)) else { return };
    let (Some(edge), Some(on)) = (design.edge(a.piece, a.edge), design.edge(b.piece, b.edge)) else { return };
    let whole = is_whole(a, edge) && is_whole(b, on);
    if a.piece == b.piece || !whole || join.together == Together::Lapped {
        return;
    }
    let wrong = if run_against((one, other), (a, b)) { Fit::Along } else { Fit::Against };
    if fit((one, a.edge), (other, b.edge)) != wrong {
        return;
    }
    // The facing is what was meant to be cut the other way; one of cloth without a face is only turned over.
    let ((facing, piece), shell) = if is_strip(one) && !is_strip(other) { ((a, one), b) } else { ((b, other), a) };
    if design.material(piece.material).is_some_and(|m| m.one_sided) {
        problems.push(PieceError::WrongWayRound {
            edge: design.edge_name(facing),
            on: design.edge_name(shell),
            seam: seam.name.clone(),
            several: piece.copies.len() > 1,
            at: piece.origin,
            seam_at: seam.origin,
        });
    }
}

/// Stretches of one edge that two seams sew.
pub(super) fn sewn_twice(design: &Design, sewn: &[super::edges::Sewn], problems: &mut Problems) {
    let mut sorted: Vec<&super::edges::Sewn> = sewn.iter().collect();
    sorted.sort_by_key(|s| (s.key(), s.seam));
    for (i, first) in sorted.iter().enumerate() {
        for second in sorted.iter().skip(i + 1).take_while(|s| s.key() == first.key()) {
            let overlap = shared(first.stretch, second.stretch);
            let (Some(a), Some(b)) = (design.seams.get(first.seam), design.seams.get(second.seam)) else { continue };
            let deliberate = || order_asked(design, first.seam, second.seam) || order_asked(design, second.seam, first.seam);
            if first.seam != second.seam && overlap > TOUCHING && !deliberate() {
                problems.push(AllowanceError::SewnTwice {
                    edge: edge_name(design, first.piece, first.copy, first.edge),
                    overlap: Length::mm(overlap),
                    seams: [a.name.clone(), b.name.clone()],
                    at: [a.origin, b.origin],
                });
            }
        }
    }
}

/// Whether the source says that one seam comes after another.
fn order_asked(design: &Design, later: usize, earlier: usize) -> bool {
    let of = |subject: Subject, seam: usize| matches!(subject, Subject::Seam(id) if id.index() == seam);
    let acts = design.operations.iter().filter(|o| of(o.subject, later));
    let mut asked = acts.flat_map(|o| &o.after).filter(|a| a.asked);
    asked.any(|a| design.operations.get(a.operation.index()).is_some_and(|o| of(o.subject, earlier)))
}
