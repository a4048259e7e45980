//! Work on the face of a piece: pieces applied, layers quilted.

use super::Trade;
use super::error::TradeError;
use crate::eval::error::EvalError;
use crate::eval::evaluator::{Eval, Evaluator, MAX_REPEAT, Stop};
use crate::eval::finish::FinishedIn;
use crate::eval::value::Env;
use crate::geometry::{COINCIDENT, FLATTEN, Path, Point, Vector, encloses};
use crate::ir::{self, EdgeId, EdgeSide, Mark, MarkShape, PieceId, Stitch, StitchKind, Text};
use crate::quantity::Length;
use crate::source::Span;
use crate::syntax::ast::{self, QuiltItem};

/// The stitch of quilting that names none (trade habit, from memory).
const QUILT_STITCH: f64 = 3.0;

/// A mark on the cut line itself may stray by this much: what cutting by hand strays anyway.
const STRAY: f64 = 0.5;

impl<'p> Evaluator<'p> {
    /// One `apply` line.
    pub(crate) fn apply(&mut self, apply: &'p ast::Apply, env: &Env<'p>, trade: &mut Trade) -> Eval<()> {
        // Which of several copies goes where is all one.
        let (piece, _) = self.piece_and_copy(&apply.panel, env)?;
        let onto = self.owner(&apply.onto, env)?;
        let at = self.point(&apply.at, env)?;
        let Some(applied) = self.pieces.get(piece.index()) else { return Err(Stop) };
        let (mut edges, mut length) = (Vec::new(), 0.0);
        for name in &apply.edges {
            let Some(index) = applied.edges.iter().position(|e| e.name == name.text) else {
                let known = applied.edges.iter().map(|e| e.name.clone()).collect();
                return self.no_edge(&apply.panel.text, name, known);
            };
            length += applied.edges.get(index).map_or(0.0, |e| e.length.as_mm());
            edges.push(EdgeId::at(index));
        }
        let outline = self.outline_of(piece)?.translated(Vector::new(at.x, at.y));
        let cut = self.pieces.get(onto.piece.index()).ok_or(Stop)?.cut_line.flatten(FLATTEN);
        if !outline.flatten(FLATTEN).into_iter().any(|p| encloses(&cut, p)) {
            let (piece, onto) = (apply.panel.text.clone(), apply.onto.text.clone());
            return self.fail(TradeError::AppliedOutside { piece, onto, span: apply.at.span });
        }
        let finish = self.finish_in(FinishedIn::Applied, &apply.finish, env, length)?;
        self.face_line(onto.piece, &apply.panel.text, outline, onto.copy.into_iter().collect(), apply.span);
        trade.applied.push(ir::Applied {
            piece,
            onto: onto.piece,
            onto_copy: onto.copy,
            at,
            edges,
            finish: finish.on_seam(),
            length: Length::mm(length),
            origin: apply.span,
        });
        trade.jobs.applied.push(finish);
        Ok(())
    }

    /// Stops when a point set on a piece lies off it.
    pub(crate) fn on_the_piece(&mut self, piece: PieceId, name: &str, at: Point, span: Span) -> Eval<()> {
        let found = self.pieces.get(piece.index()).ok_or(Stop)?;
        let cut = found.cut_line.flatten(FLATTEN);
        if encloses(&cut, at) || distance(&cut, at) <= STRAY {
            return Ok(());
        }
        self.mark_outside(format!("`{name}`"), piece, span)
    }

    /// Stops when a point marked on a piece lies in a hole of it.
    pub(crate) fn beside_holes(&mut self, piece: PieceId, name: &str, at: Point, span: Span) -> Eval<()> {
        let found = self.pieces.get(piece.index()).ok_or(Stop)?;
        let around = |line: &Path| {
            let line = line.flatten(FLATTEN);
            encloses(&line, at) && distance(&line, at) > STRAY
        };
        let Some(hole) = found.holes.iter().find(|h| around(&h.path)) else { return Ok(()) };
        let (mark, hole, panel) = (name.to_owned(), hole.name.clone(), found.name.clone());
        self.fail(EvalError::MarkInHole { mark, hole, panel, span })
    }

    fn mark_outside<T>(&mut self, what: String, piece: PieceId, span: Span) -> Eval<T> {
        let piece = self.pieces.get(piece.index()).ok_or(Stop)?;
        let size = [piece.finished.width.as_mm(), piece.finished.height.as_mm()];
        let piece = piece.name.clone();
        self.fail(TradeError::MarkOutside { what, piece, size, span })
    }

    fn outline_of(&self, piece: PieceId) -> Eval<Path> {
        let piece = self.pieces.get(piece.index()).ok_or(Stop)?;
        let first = piece.edges.first().ok_or(Stop)?;
        let segments = piece.edges.iter().flat_map(|e| e.path.segments.iter().copied()).collect();
        Ok(Path { start: first.path.start, segments })
    }

    fn face_line(&mut self, piece: PieceId, name: &str, path: Path, copies: Vec<u32>, origin: Span) {
        let mark = Mark { name: name.to_owned(), text: Text::words(name), copies, shape: MarkShape::Line { path }, origin };
        let Some(piece) = self.pieces.get_mut(piece.index()) else { return };
        match piece.marks.iter_mut().find(|m| m.name == mark.name && m.shape == mark.shape) {
            Some(known) => known.copies.extend(mark.copies),
            None => piece.marks.push(mark),
        }
    }

    /// One quilt.
    pub(crate) fn quilt(&mut self, quilt: &'p ast::Quilt, env: &Env<'p>, trade: &mut Trade) -> Eval<()> {
        let (mut layers, mut lines, mut ties) = (Vec::new(), Vec::new(), Vec::new());
        let mut stitch = Stitch { kind: StitchKind::Lockstitch, length: Length::mm(QUILT_STITCH) };
        for item in &quilt.items {
            if let QuiltItem::Layers(names) = item {
                for name in names {
                    let owner = self.owner(name, env)?;
                    layers.push((owner.piece, owner.copy));
                }
            }
        }
        let Some(&(base, copy)) = layers.first() else { return Err(Stop) };
        for item in &quilt.items {
            match item {
                QuiltItem::Lines { edge, every, starting } => lines.extend(self.quilt_lines(base, edge, every, starting.as_ref(), env)?),
                QuiltItem::Ties(points) => {
                    let outline = self.outline_of(base)?.flatten(FLATTEN);
                    for (at, span) in self.points(points, env)? {
                        if !encloses(&outline, at) {
                            return self.mark_outside("this tie".to_owned(), base, span);
                        }
                        ties.push(at);
                    }
                }
                QuiltItem::Stitch(s) => stitch = self.stitch(s, env)?,
                QuiltItem::Layers(_) => {}
            }
        }
        let copies: Vec<u32> = copy.into_iter().collect();
        for line in &lines {
            self.face_line(base, &quilt.name.text, line.clone(), copies.clone(), quilt.span);
        }
        if let Some(piece) = self.pieces.get_mut(base.index()) {
            piece.marks.extend(ties.iter().map(|&at| Mark {
                name: quilt.name.text.clone(),
                text: Text::words("tie"),
                copies: copies.clone(),
                shape: MarkShape::Point { at },
                origin: quilt.span,
            }));
        }
        trade.quilting.push(ir::Quilting { name: quilt.name.text.clone(), layers, lines, ties, stitch, origin: quilt.name.span });
        Ok(())
    }

    /// Straight lines parallel to an edge's chord, clipped to the outline.
    fn quilt_lines(
        &mut self,
        base: PieceId,
        edge: &'p ast::Name,
        every: &'p ast::Expr,
        starting: Option<&'p ast::Expr>,
        env: &Env<'p>,
    ) -> Eval<Vec<Path>> {
        let gap = self.length(every, env)?;
        let first = starting.map_or(Ok(gap), |e| self.length(e, env))?;
        let Some(piece) = self.pieces.get(base.index()) else { return Err(Stop) };
        let Some(found) = piece.edges.iter().find(|e| e.name == edge.text) else {
            let (panel, known) = (piece.name.clone(), piece.edges.iter().map(|e| e.name.clone()).collect());
            return self.no_edge(&panel, edge, known);
        };
        let along = (found.path.end() - found.path.start).unit();
        let origin = found.path.start;
        let inward = along.left();
        let corners = self.outline_of(base)?.flatten(FLATTEN);
        let across = corners.iter().map(|p| (*p - origin).dot(inward)).fold(0.0, f64::max);
        let on = self.pieces.get(base.index()).map(|p| p.name.clone()).unwrap_or_default();
        if gap <= 0.0 || first <= 0.0 || first >= across - COINCIDENT {
            let (what, span) = ("lines", starting.map_or(every.span, |s| s.span));
            let (gap, span) = if gap <= 0.0 { (gap, every.span) } else { (first, span) };
            return self.fail(TradeError::GapTooWide { what, on, gap, room: across, span });
        }
        let count = ((across - first) / gap).floor() + 1.0;
        if count > MAX_REPEAT as f64 {
            return self.fail(EvalError::TooMany { what: "lines fit on this piece", count, most: MAX_REPEAT, span: every.span });
        }
        let mut all = Vec::new();
        let mut nth = 0.0;
        // A line on the far side itself would be stitched on the edge.
        while first + gap * nth < across - COINCIDENT {
            all.extend(clipped(&corners, origin + inward * (first + gap * nth), along));
            nth += 1.0;
        }
        Ok(all)
    }

    /// A whole edge as a side.
    pub(crate) fn whole_edge(&self, piece: PieceId, copy: Option<u32>, edge: EdgeId) -> EdgeSide {
        let length = self.pieces.get(piece.index()).and_then(|p| p.edges.get(edge.index())).map_or(Length::mm(0.0), |e| e.length);
        EdgeSide { piece, copy, edge, line: None, from: Length::mm(0.0), to: length }
    }
}

/// How far a point lies from a closed chain of points.
fn distance(corners: &[Point], at: Point) -> f64 {
    let next = corners.iter().cycle().skip(1);
    let pairs = corners.iter().zip(next);
    pairs.map(|(a, b)| near(*a, *b, at)).fold(f64::INFINITY, f64::min)
}

/// How far a point lies from a straight.
fn near(a: Point, b: Point, at: Point) -> f64 {
    let along = b - a;
    let whole = along.dot(along);
    let part = if whole > 0.0 { ((at - a).dot(along) / whole).clamp(0.0, 1.0) } else { 0.0 };
    a.lerp(b, part).distance(at)
}

/// The stretches of a line inside a polygon.
fn clipped(corners: &[Point], on: Point, along: Vector) -> Vec<Path> {
    let side = |p: Point| along.cross(p - on);
    let next = corners.iter().cycle().skip(1);
    let mut cuts: Vec<f64> = corners
        .iter()
        .zip(next)
        .filter_map(|(&a, &b)| {
            let (sa, sb) = (side(a), side(b));
            ((sa < 0.0) != (sb < 0.0)).then(|| (a.lerp(b, sa / (sa - sb)) - on).dot(along))
        })
        .collect();
    cuts.sort_by(f64::total_cmp);
    cuts.chunks_exact(2)
        .filter_map(|pair| match pair {
            [a, b] => Some(Path::line(on + along * *a, on + along * *b)),
            _ => None,
        })
        .collect()
}
