//! Places: names to edges, and distances along them.

use super::error::TradeError;
use crate::check::Entity;
use crate::eval::draft::{Along, InPanel, OutlineError};
use crate::eval::error::EvalError;
use crate::eval::evaluator::{Eval, Evaluator, MAX_REPEAT, Stop};
use crate::eval::value::{Env, Value};
use crate::geometry::Point;
use crate::ir::{Edge, EdgeId, EdgeSide, MarkShape, PieceId};
use crate::quantity::{Length, Quantity};
use crate::source::Span;
use crate::syntax::ast::{self, PlaceKind, StretchFrom};

pub(crate) use super::error::words;

/// A place so little (mm) past an end is at it: rounding noise.
pub(super) const SLACK: f64 = 1e-6;

/// A piece and which copy of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Owner {
    pub(crate) piece: PieceId,
    pub(crate) copy: Option<u32>,
}

/// A place or stretch on an edge.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Spot {
    /// The place, or the two ends of a stretch, from the edge's start.
    pub(crate) from: f64,
    pub(crate) to: f64,
    /// As the maker measures it: always from an end of the whole edge, even where a part of it was named.
    pub(crate) distance: f64,
    pub(crate) from_end: String,
}

/// Which end of an edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum End {
    Start,
    Finish,
}

/// An end as it was named.
#[derive(Debug, Clone, PartialEq, Eq)]
struct NamedEnd {
    end: End,
    name: String,
}

impl<'p> Evaluator<'p> {
    /// The piece and copy that a panel's or a copy's name means.
    pub(crate) fn owner(&mut self, name: &'p ast::Name, env: &Env<'p>) -> Eval<Owner> {
        let (piece, nth) = self.piece_and_copy(name, env)?;
        self.copy_of(piece, nth, name.span)
    }

    /// The piece that a panel's, a copy's or a part's name means, and the copy if it names one.
    pub(crate) fn piece_and_copy(&mut self, name: &'p ast::Name, env: &Env<'p>) -> Eval<(PieceId, Option<u32>)> {
        let entity = self.entity(env.scope, name)?;
        let (Entity::Panel(id) | Entity::Part(id) | Entity::Copy(id, _)) = entity else {
            return self.fail(EvalError::WrongKind { wanted: "a panel", got: format!("`{}`", name.text), span: name.span });
        };
        let piece = self.panel(id, name.span)?;
        self.piece_called(piece, entity, name)
    }

    fn copy_of(&mut self, piece: PieceId, nth: Option<u32>, span: Span) -> Eval<Owner> {
        let Some(found) = self.pieces.get(piece.index()) else { return Err(Stop) };
        match (found.copies.len(), nth) {
            (1, _) => Ok(Owner { piece, copy: None }),
            (_, Some(n)) => Ok(Owner { piece, copy: Some(n) }),
            _ => {
                let copies = found.copies.iter().map(|c| c.name.clone().unwrap_or_default()).collect();
                let name = found.name.clone();
                self.fail(EvalError::WhichCopy { name, span, copies })
            }
        }
    }

    /// The piece that the beginning of a path means (`outer`, or `casing.strip` of an attachment), and the names left.
    fn owner_on_path(&mut self, reference: &'p ast::EdgeRef, env: &Env<'p>) -> Eval<(Owner, &'p [ast::Name])> {
        let Some((root, rest)) = reference.path.split_first() else { return Err(Stop) };
        if !matches!(self.entity(env.scope, root)?, Entity::Attach(_)) {
            return Ok((self.owner(root, env)?, rest));
        }
        let Some((name, rest)) = rest.split_first() else { return Err(Stop) };
        let span = root.span.to(name.span);
        let of_panel = self.brought.get(&root.text).into_iter().flatten().filter(|b| b.panel == name.text);
        let forms: Vec<PieceId> = of_panel.map(|b| b.piece).collect();
        match forms.as_slice() {
            [one] => Ok((self.copy_of(*one, None, span)?, rest)),
            [_, ..] => {
                let piece = format!("{}.{}", root.text, name.text);
                self.fail(TradeError::SeveralPieces { piece, forms: forms.len(), span })
            }
            // A line that failed has said why.
            [] if self.problems.has_errors() => Err(Stop),
            [] => {
                let (attachment, piece) = (root.text.clone(), name.text.clone());
                self.fail(TradeError::NoPiece { attachment, piece, span: name.span })
            }
        }
    }

    /// The piece that a whole reference means.
    pub(crate) fn piece_on_path(&mut self, reference: &'p ast::EdgeRef, env: &Env<'p>) -> Eval<Owner> {
        let (owner, rest) = self.owner_on_path(reference, env)?;
        match rest.first() {
            None => Ok(owner),
            Some(edge) => {
                let got = format!("the edge `{}`", edge.text);
                self.fail(EvalError::WrongKind { wanted: "a piece alone", got, span: reference.span })
            }
        }
    }

    /// The edge that a side lies on.
    pub(crate) fn edge_of(&self, side: &EdgeSide) -> Eval<&Edge> {
        self.pieces.get(side.piece.index()).and_then(|p| p.edges.get(side.edge.index())).ok_or(Stop)
    }

    /// The edge, or part of one, that a reference means.
    pub(crate) fn edge_side(&mut self, reference: &'p ast::EdgeRef, env: &Env<'p>) -> Eval<EdgeSide> {
        let side = self.edge_or_line(reference, env)?;
        self.no_line(&side, "and this needs an edge", reference.span)?;
        Ok(side)
    }

    fn no_line(&mut self, side: &EdgeSide, why: &'static str, span: Span) -> Eval<()> {
        if side.line.is_none() {
            return Ok(());
        }
        let line = self.side_name(side);
        self.fail(TradeError::LineNoEdge { line, why, span })
    }

    /// The edge, part of one, or marked line that a reference means.
    pub(crate) fn edge_or_line(&mut self, reference: &'p ast::EdgeRef, env: &Env<'p>) -> Eval<EdgeSide> {
        let (owner, names) = self.owner_on_path(reference, env)?;
        let Some(piece) = self.pieces.get(owner.piece.index()) else { return Err(Stop) };
        let known: Vec<String> = piece.edges.iter().map(|e| e.name.clone()).collect();
        let called = self.owner_name(owner);
        let side = |edge, line, from, to| EdgeSide {
            piece: owner.piece,
            copy: owner.copy,
            edge,
            line,
            from: Length::mm(from),
            to: Length::mm(to),
        };
        let Some((name, parts)) = names.split_first() else {
            return self.fail(TradeError::NeedsEdge { owner: called, edges: known, span: reference.span });
        };
        let Some(index) = piece.edges.iter().position(|e| e.name == name.text) else {
            let line = piece.marks.iter().find_map(|m| match &m.shape {
                MarkShape::Line { path } if m.name == name.text => Some(path.length()),
                _ => None,
            });
            return match line {
                Some(length) => Ok(side(EdgeId(0), Some(name.text.clone()), 0.0, length)),
                None => self.no_edge(&called, name, known),
            };
        };
        let Some(edge) = piece.edges.get(index) else { return Err(Stop) };
        let Some(part) = parts.first() else {
            return Ok(side(EdgeId::at(index), None, 0.0, edge.length.as_mm()));
        };
        match edge.parts.iter().find(|p| p.name == part.text) {
            Some(p) => Ok(side(EdgeId::at(index), None, p.from.as_mm(), p.to.as_mm())),
            None => {
                let known = edge.parts.iter().map(|p| p.name.clone()).collect();
                let edge = format!("{called}.{}", name.text);
                self.fail(TradeError::NoPart { edge, part: part.text.clone(), known, span: part.span })
            }
        }
    }

    /// Reports an edge that a piece does not have.
    pub(super) fn no_edge<T>(&mut self, panel: &str, name: &ast::Name, known: Vec<String>) -> Eval<T> {
        let error = OutlineError::UnknownEdge { name: name.text.clone(), known, span: name.span };
        self.fail(InPanel { panel, error })
    }

    /// The names of a side's two ends, start and finish: the neighbours as drawn, the edges that now touch it, and
    /// where it is part of an edge, the part beside it.
    fn end_names(&self, side: &EdgeSide) -> Eval<[Vec<String>; 2]> {
        let piece = self.pieces.get(side.piece.index()).ok_or(Stop)?;
        let edge = self.edge_of(side)?;
        let count = piece.edges.len();
        let name = |i: usize| piece.edges.get(i % count.max(1)).map(|e| e.name.clone()).unwrap_or_default();
        let mut start = vec![edge.start_neighbour.clone(), name(side.edge.index() + count - 1)];
        let mut finish = vec![edge.end_neighbour.clone(), name(side.edge.index() + 1)];
        let meets = |a: Length, b: Length| (a.as_mm() - b.as_mm()).abs() < SLACK;
        start.extend(edge.parts.iter().filter(|p| meets(p.to, side.from)).map(|p| p.name.clone()));
        finish.extend(edge.parts.iter().filter(|p| meets(p.from, side.to)).map(|p| p.name.clone()));
        Ok([start, finish])
    }

    fn end_named(&mut self, side: &EdgeSide, name: &ast::Name) -> Eval<NamedEnd> {
        let [start, finish] = self.end_names(side)?;
        let edge = self.edge_of(side)?;
        let neighbours = vec![edge.start_neighbour.clone(), edge.end_neighbour.clone()];
        let (edge, edge_span) = (edge.name.clone(), edge.origin);
        let panel = self.owner_name(Owner { piece: side.piece, copy: side.copy });
        let (named, span) = (name.text.clone(), name.span);
        let ring = self.pieces.get(side.piece.index()).is_some_and(|p| p.edges.len() == 1);
        match (start.contains(&name.text), finish.contains(&name.text)) {
            (true, false) => Ok(NamedEnd { end: End::Start, name: named }),
            (false, true) => Ok(NamedEnd { end: End::Finish, name: named }),
            // A ring of one edge begins and ends at the same point.
            (true, true) if ring => Ok(NamedEnd { end: End::Start, name: named }),
            (true, true) => self.fail(InPanel { panel: &panel, error: OutlineError::UnclearEnd { edge, named, span } }),
            (false, false) => {
                self.fail(InPanel { panel: &panel, error: OutlineError::UnknownEnd { edge, named, ends: neighbours, span, edge_span } })
            }
        }
    }

    /// The start of a side's edge, under the name makers measure from.
    fn start_of(&self, side: &EdgeSide) -> Eval<NamedEnd> {
        Ok(NamedEnd { end: End::Start, name: self.edge_of(side)?.start_neighbour.clone() })
    }

    /// A piece's or copy's name for reports.
    pub(super) fn owner_name(&self, owner: Owner) -> String {
        let Some(piece) = self.pieces.get(owner.piece.index()) else { return String::new() };
        let copy = owner.copy.and_then(|c| piece.copies.get(c as usize)).and_then(|c| c.name.clone());
        copy.unwrap_or_else(|| piece.name.clone())
    }

    /// A side's name for reports: `outer.left`.
    pub(crate) fn side_name(&self, side: &EdgeSide) -> String {
        let edge = self.edge_of(side).map_or("", |e| e.name.as_str());
        let owner = self.owner_name(Owner { piece: side.piece, copy: side.copy });
        format!("{owner}.{}", side.line.as_deref().unwrap_or(edge))
    }

    /// Places on a side.
    pub(crate) fn spots(&mut self, places: &'p ast::Places, side: &EdgeSide, env: &Env<'p>) -> Eval<Vec<Spot>> {
        let length = side.to.as_mm() - side.from.as_mm();
        match &places.kind {
            PlaceKind::Middle => {
                let start = self.start_of(side)?;
                Ok(vec![self.spot(side, &start, length / 2.0, places.span)?])
            }
            PlaceKind::Evenly(n) => {
                let n = self.count(n, env, 1, MAX_REPEAT)?;
                let (gap, start) = (length / f64::from(n + 1), self.start_of(side)?);
                (1..=n).map(|i| self.spot(side, &start, gap * f64::from(i), places.span)).collect()
            }
            PlaceKind::Every { gap, from } => {
                let end = self.end_named(side, from)?;
                let (step, at) = (self.along(gap, env)?.on(length), gap.span);
                if step <= 0.0 || step >= length - SLACK {
                    let on = self.side_name(side);
                    return self.fail(TradeError::GapTooWide { what: "places", on, gap: step, room: length, span: at });
                }
                let n = ((length - SLACK) / step).floor();
                if n > MAX_REPEAT as f64 {
                    return self.fail(EvalError::TooMany { what: "places fit on this edge", count: n, most: MAX_REPEAT, span: at });
                }
                (1..=n as u32).map(|i| self.spot(side, &end, step * f64::from(i), places.span)).collect()
            }
            PlaceKind::List { at, from: Some(name) } => {
                let end = self.end_named(side, name)?;
                let distances = self.distances(at, env)?;
                distances.into_iter().map(|(along, span)| self.spot(side, &end, along.on(length), span)).collect()
            }
            PlaceKind::List { from: None, .. } | PlaceKind::Corners(_) => {
                let edge = self.edge_of(side)?;
                let ends = [edge.start_neighbour.clone(), edge.end_neighbour.clone()];
                let edge = self.side_name(side);
                self.fail(TradeError::WhichEnd { edge, ends, span: places.span })
            }
        }
    }

    fn distances(&mut self, at: &'p [ast::Expr], env: &Env<'p>) -> Eval<Vec<(Along, Span)>> {
        let mut all = Vec::new();
        for expr in at {
            match self.expr(expr, env)? {
                Value::List(items) => {
                    for item in items {
                        all.push((self.along_of(item, expr.span)?, expr.span));
                    }
                }
                value => all.push((self.along_of(value, expr.span)?, expr.span)),
            }
        }
        Ok(all)
    }

    /// Points on the face of a piece, lists of them taken apart.
    pub(super) fn points(&mut self, at: &'p [ast::Expr], env: &Env<'p>) -> Eval<Vec<(Point, Span)>> {
        let mut all = Vec::new();
        for expr in at {
            let values = match self.expr(expr, env)? {
                Value::List(items) => items,
                value => vec![value],
            };
            for value in values {
                match value {
                    Value::Point(x, y) => all.push((Point::new(x, y), expr.span)),
                    other => return self.wrong("a point (x, y)", &other, expr.span),
                }
            }
        }
        Ok(all)
    }

    /// A place so far from an end of a side.
    fn spot(&mut self, side: &EdgeSide, end: &NamedEnd, distance: f64, span: Span) -> Eval<Spot> {
        let (from, to) = (side.from.as_mm(), side.to.as_mm());
        if distance < -SLACK || distance > to - from + SLACK {
            let (edge, edge_at) = (self.side_name(side), self.edge_of(side)?.origin);
            let (length, from) = (to - from, end.name.clone());
            return self.fail(TradeError::PastEdge { edge, distance, from, length, span, edge_at });
        }
        let at = if end.end == End::Start { from + distance } else { to - distance };
        self.measured(side, end, at, at)
    }

    /// A place or stretch as the maker measures it, from the end of the whole edge.
    fn measured(&self, side: &EdgeSide, end: &NamedEnd, from: f64, to: f64) -> Eval<Spot> {
        let edge = self.edge_of(side)?;
        let (neighbour, distance) = match end.end {
            End::Start => (&edge.start_neighbour, from),
            End::Finish => (&edge.end_neighbour, edge.length.as_mm() - to),
        };
        // A part beside the side is no end of the edge.
        let is_part = edge.parts.iter().any(|p| p.name == end.name);
        let from_end = if is_part { neighbour.clone() } else { end.name.clone() };
        Ok(Spot { from, to, distance: distance.max(0.0), from_end })
    }

    /// The whole of a side as a stretch.
    pub(super) fn all_of(&self, side: &EdgeSide) -> Eval<Spot> {
        let start = self.start_of(side)?;
        self.measured(side, &start, side.from.as_mm(), side.to.as_mm())
    }

    /// A stretch of a side.
    pub(crate) fn stretch(&mut self, stretch: &'p ast::Stretch, side: &EdgeSide, env: &Env<'p>) -> Eval<Spot> {
        self.stretch_of(&stretch.length, &stretch.from, side, env, stretch.span)
    }

    /// A length of a side, from where it is said to begin.
    pub(crate) fn stretch_of(
        &mut self,
        length: &'p ast::Expr,
        begins: &'p StretchFrom,
        side: &EdgeSide,
        env: &Env<'p>,
        span: Span,
    ) -> Eval<Spot> {
        self.no_line(side, "and its ends have no names to measure from", span)?;
        let (from, to) = (side.from.as_mm(), side.to.as_mm());
        let whole = to - from;
        let long = self.along(length, env)?.on(whole);
        if long <= SLACK {
            return self.fail(TradeError::NoStretch { long, span: length.span });
        }
        let (end, distance) = match begins {
            StretchFrom::Middle => (self.start_of(side)?, (whole - long) / 2.0),
            StretchFrom::End { starting, end } => {
                let named = self.end_named(side, end)?;
                let distance = starting.as_ref().map_or(Ok(0.0), |e| self.along(e, env).map(|a| a.on(whole)))?;
                (named, distance)
            }
        };
        if distance < -SLACK || distance + long > whole + SLACK {
            // Centred, all of the side is there to take; from an end, what lies beyond the start.
            let left = if *begins == StretchFrom::Middle { whole } else { (whole - distance).min(whole) };
            let (edge, edge_at) = (self.side_name(side), self.edge_of(side)?.origin);
            return self.fail(TradeError::StretchPast { edge, long, left, span, long_at: length.span, edge_at });
        }
        let (near, far) =
            if end.end == End::Start { (from + distance, from + distance + long) } else { (to - distance - long, to - distance) };
        self.measured(side, &end, near.max(from), far.min(to))
    }

    /// The corner where two edges meet: the earlier edge and the later in outline order.
    pub(crate) fn corner_of(&mut self, owner: Owner, corner: &ast::Corner) -> Eval<(EdgeId, EdgeId)> {
        let Some(piece) = self.pieces.get(owner.piece.index()) else { return Err(Stop) };
        let count = piece.edges.len();
        let known: Vec<String> = piece.edges.iter().map(|e| e.name.clone()).collect();
        let panel = self.owner_name(owner);
        let (first, second) = (&corner.first, &corner.second);
        let at = |name: &ast::Name| known.iter().position(|e| *e == name.text);
        let (Some(a), Some(b)) = (at(first), at(second)) else {
            let missing = if at(first).is_none() { first } else { second };
            return self.no_edge(&panel, missing, known);
        };
        let (first, second, span) = (first.text.clone(), second.text.clone(), corner.span);
        match ((a + 1) % count == b, (b + 1) % count == a) {
            (true, true) if a != b => {
                self.fail(InPanel { panel: &panel, error: OutlineError::CornerUnclear { first, second, twice: true, span } })
            }
            (true, _) => Ok((EdgeId::at(a), EdgeId::at(b))),
            (_, true) => Ok((EdgeId::at(b), EdgeId::at(a))),
            _ => {
                let beside = |i: usize| known.get(i % count).cloned();
                let neighbours = [beside(a + count - 1), beside(a + 1)].into_iter().flatten().collect();
                self.fail(InPanel { panel: &panel, error: OutlineError::NoCorner { first, second, neighbours, span } })
            }
        }
    }

    /// A length step of provenance.
    pub(crate) fn length_step(
        &mut self,
        what: &str,
        how: String,
        mm: f64,
        origin: Span,
        inputs: Vec<crate::ir::TraceId>,
    ) -> crate::ir::TraceId {
        self.geometry_step(what, how, Quantity::mm(mm), origin, inputs)
    }
}
