//! Places: names to edges, and distances along them.

use super::error::TradeError;
use crate::check::Entity;
use crate::eval::draft::Along;
use crate::eval::error::EvalError;
use crate::eval::evaluator::{Eval, Evaluator, MAX_REPEAT, Stop};
use crate::eval::value::{Env, Value};
use crate::ir::{Edge, EdgeId, EdgeSide, MarkShape, PieceId};
use crate::quantity::{Length, Quantity, Style, format_length};
use crate::source::Span;
use crate::syntax::ast::{self, PlaceKind, StretchFrom};

/// A place a fraction of this past an end is at it: rounding noise.
const SLACK: f64 = 1e-6;

/// A piece and which copy of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Owner {
    pub(crate) piece: PieceId,
    pub(crate) copy: Option<u32>,
}

/// A place or stretch on an edge.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Spot {
    /// Its middle, or the two ends of a stretch, from the edge's start.
    pub(crate) from: f64,
    pub(crate) to: f64,
    /// As the maker measures it.
    pub(crate) distance: f64,
    pub(crate) from_end: String,
}

/// Which end of an edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum End {
    Start,
    End,
}

pub(crate) fn words(mm: f64) -> String {
    format_length(Length::mm(mm), Style::default())
}

impl<'p> Evaluator<'p> {
    /// The piece and copy that a name means.
    pub(crate) fn owner(&mut self, name: &'p ast::Name, env: &Env<'p>) -> Eval<Owner> {
        let (id, nth) = match self.entity(env.scope, name)? {
            Entity::Panel(id) => (id, None),
            Entity::Copy(id, n) => (id, Some(n)),
            _ => return self.fail(EvalError::WrongKind { wanted: "a panel", got: format!("`{}`", name.text), span: name.span }),
        };
        let piece = self.panel(id, name.span)?;
        let Some(found) = self.pieces.get(piece.index()) else { return Err(Stop) };
        match (found.copies.len(), nth) {
            (1, _) => Ok(Owner { piece, copy: None }),
            (_, Some(n)) => Ok(Owner { piece, copy: Some(n) }),
            _ => {
                let copies = found.copies.iter().map(|c| c.name.clone().unwrap_or_default()).collect();
                self.fail(EvalError::WhichCopy { name: name.text.clone(), span: name.span, copies })
            }
        }
    }

    /// An edge of a piece, by id.
    pub(crate) fn edge_of(&self, side: &EdgeSide) -> Eval<&Edge> {
        self.pieces.get(side.piece.index()).and_then(|p| p.edges.get(side.edge.index())).ok_or(Stop)
    }

    /// The edge, part of one, or marked line that a reference means.
    pub(crate) fn edge_side(&mut self, reference: &'p ast::EdgeRef, env: &Env<'p>) -> Eval<EdgeSide> {
        let Some(root) = reference.path.first() else { return Err(Stop) };
        let owner = self.owner(root, env)?;
        let Some(piece) = self.pieces.get(owner.piece.index()) else { return Err(Stop) };
        let known: Vec<String> = piece.edges.iter().map(|e| e.name.clone()).collect();
        let Some(name) = reference.path.get(1) else {
            return self.fail(TradeError::NeedsEdge { owner: root.text.clone(), edges: known, span: reference.span });
        };
        let side = |edge, line, from, to| EdgeSide {
            piece: owner.piece,
            copy: owner.copy,
            edge,
            line,
            from: Length::mm(from),
            to: Length::mm(to),
        };
        let Some(index) = piece.edges.iter().position(|e| e.name == name.text) else {
            let line = piece.marks.iter().find_map(|m| match &m.shape {
                MarkShape::Line { path } if m.name == name.text => Some(path.length()),
                _ => None,
            });
            return match line {
                Some(length) => Ok(side(EdgeId(0), Some(name.text.clone()), 0.0, length)),
                None => self.fail(TradeError::NoSuchEdge { owner: root.text.clone(), name: name.clone(), known }),
            };
        };
        let Some(edge) = piece.edges.get(index) else { return Err(Stop) };
        let Some(part) = reference.path.get(2) else {
            return Ok(side(EdgeId::at(index), None, 0.0, edge.length.as_mm()));
        };
        match edge.parts.iter().find(|p| p.name == part.text) {
            Some(p) => Ok(side(EdgeId::at(index), None, p.from.as_mm(), p.to.as_mm())),
            None => {
                let known = edge.parts.iter().map(|p| p.name.clone()).collect();
                self.fail(TradeError::NoSuchEdge { owner: format!("{}.{}", root.text, name.text), name: part.clone(), known })
            }
        }
    }

    /// The names of a side's two ends: neighbours as drawn, and the edges or parts that now touch it.
    fn end_names(&self, side: &EdgeSide) -> Eval<([String; 2], [String; 2])> {
        let piece = self.pieces.get(side.piece.index()).ok_or(Stop)?;
        let edge = self.edge_of(side)?;
        let count = piece.edges.len();
        let name = |i: usize| piece.edges.get(i % count.max(1)).map(|e| e.name.clone()).unwrap_or_default();
        let mut start = [edge.start_neighbour.clone(), name(side.edge.index() + count - 1)];
        let mut end = [edge.end_neighbour.clone(), name(side.edge.index() + 1)];
        for part in &edge.parts {
            if (part.to.as_mm() - side.from.as_mm()).abs() < SLACK {
                start = [part.name.clone(), part.name.clone()];
            }
            if (part.from.as_mm() - side.to.as_mm()).abs() < SLACK {
                end = [part.name.clone(), part.name.clone()];
            }
        }
        Ok((start, end))
    }

    fn end_named(&mut self, side: &EdgeSide, name: &ast::Name) -> Eval<End> {
        let (start, end) = self.end_names(side)?;
        if start.contains(&name.text) {
            return Ok(End::Start);
        }
        if end.contains(&name.text) {
            return Ok(End::End);
        }
        let edge = self.side_name(side);
        let ([a, _], [b, _]) = (start, end);
        self.fail(TradeError::NotAnEnd { edge, name: name.clone(), ends: (a, b) })
    }

    /// A side's name for reports: `outer.left`.
    pub(crate) fn side_name(&self, side: &EdgeSide) -> String {
        let Some(piece) = self.pieces.get(side.piece.index()) else { return String::new() };
        let owner = side.copy.and_then(|c| piece.copies.get(c as usize)).and_then(|c| c.name.as_deref()).unwrap_or(&piece.name);
        let edge = piece.edges.get(side.edge.index()).map_or("", |e| e.name.as_str());
        format!("{owner}.{}", side.line.as_deref().unwrap_or(edge))
    }

    /// Places on a side.
    pub(crate) fn spots(&mut self, places: &'p ast::Places, side: &EdgeSide, env: &Env<'p>) -> Eval<Vec<Spot>> {
        let (from, to) = (side.from.as_mm(), side.to.as_mm());
        let length = to - from;
        let (start, _) = self.end_names(side)?;
        let [start, _] = start;
        match &places.kind {
            PlaceKind::Middle => self.spot(side, End::Start, start, length / 2.0, places.span).map(|s| vec![s]),
            PlaceKind::Evenly(n) => {
                let n = self.count(n, env, 1, MAX_REPEAT)?;
                let gap = length / f64::from(n + 1);
                (1..=n).map(|i| self.spot(side, End::Start, start.clone(), gap * f64::from(i), places.span)).collect()
            }
            PlaceKind::Every { gap, from } => {
                let end = self.end_named(side, from)?;
                let gap_mm = self.length(gap, env)?;
                if gap_mm <= 0.0 || gap_mm >= length {
                    let (edge, gap_words, length) = (self.side_name(side), words(gap_mm), words(length));
                    return self.fail(TradeError::GapTooWide { edge, gap: gap_words, length, span: gap.span });
                }
                let n = ((length - SLACK) / gap_mm).floor();
                if n > MAX_REPEAT as f64 {
                    return self.fail(EvalError::TooMany { what: "places fit on this edge", count: n, most: MAX_REPEAT, span: gap.span });
                }
                (1..=n as u32).map(|i| self.spot(side, end, from.text.clone(), gap_mm * f64::from(i), places.span)).collect()
            }
            PlaceKind::List { at, from } => {
                let Some(name) = from else {
                    let (edge, (a, b)) = (self.side_name(side), self.end_names(side)?);
                    let ([a, _], [b, _]) = (a, b);
                    return self.fail(TradeError::WhichEnd { edge, ends: (a, b), span: places.span });
                };
                let end = self.end_named(side, name)?;
                let mut all = Vec::new();
                for along in self.distances(at, env)? {
                    all.push(self.spot(side, end, name.text.clone(), along.on(length), places.span)?);
                }
                Ok(all)
            }
            PlaceKind::Corners(_) => self.fail(TradeError::NeedsFace { span: places.span }),
        }
    }

    fn distances(&mut self, at: &'p [ast::Expr], env: &Env<'p>) -> Eval<Vec<Along>> {
        let mut all = Vec::new();
        for expr in at {
            match self.expr(expr, env)? {
                Value::List(items) => {
                    for item in items {
                        all.push(self.along_of(item, expr.span)?);
                    }
                }
                Value::Point(..) => return self.fail(TradeError::NeedsFace { span: expr.span }),
                value => all.push(self.along_of(value, expr.span)?),
            }
        }
        Ok(all)
    }

    fn spot(&mut self, side: &EdgeSide, end: End, from_end: String, distance: f64, span: Span) -> Eval<Spot> {
        let (from, to) = (side.from.as_mm(), side.to.as_mm());
        if distance < -SLACK || distance > to - from + SLACK {
            let (edge, distance, length) = (self.side_name(side), words(distance), words(to - from));
            return self.fail(TradeError::PastEdge { edge, distance, length, span });
        }
        let at = if end == End::Start { from + distance } else { to - distance };
        Ok(Spot { from: at, to: at, distance, from_end })
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
        let (from, to) = (side.from.as_mm(), side.to.as_mm());
        let whole = to - from;
        let long = self.along(length, env)?.on(whole);
        if long <= SLACK {
            return self.fail(TradeError::NoStretch { span: length.span });
        }
        let (end, distance, from_end) = match begins {
            StretchFrom::Middle => {
                let ([start, _], _) = self.end_names(side)?;
                (End::Start, (whole - long) / 2.0, start)
            }
            StretchFrom::End { starting, end } => {
                let which = self.end_named(side, end)?;
                let distance = match starting {
                    Some(e) => self.along(e, env)?.on(whole),
                    None => 0.0,
                };
                (which, distance, end.text.clone())
            }
        };
        if distance < -SLACK || distance + long > whole + SLACK {
            let (edge, wanted, left) = (self.side_name(side), words(long), words((whole - distance).clamp(0.0, whole)));
            return self.fail(TradeError::StretchPast { edge, wanted, left, span });
        }
        let near = if end == End::Start { from + distance } else { to - distance };
        let far = if end == End::Start { near + long } else { near - long };
        Ok(Spot { from: near.min(far), to: near.max(far), distance, from_end })
    }

    /// The corner where two edges meet: the earlier edge and the later in outline order.
    pub(crate) fn corner_of(&mut self, owner: Owner, corner: &ast::Corner) -> Eval<(EdgeId, EdgeId)> {
        let Some(piece) = self.pieces.get(owner.piece.index()) else { return Err(Stop) };
        let count = piece.edges.len();
        let (a, b) = (corner.first.text.as_str(), corner.second.text.as_str());
        for (i, edge) in piece.edges.iter().enumerate() {
            let j = (i + 1) % count;
            let Some(next) = piece.edges.get(j) else { continue };
            if (edge.name == a && next.name == b) || (edge.name == b && next.name == a) {
                return Ok((EdgeId::at(i), EdgeId::at(j)));
            }
        }
        let panel = piece.name.clone();
        self.fail(TradeError::NoCorner { panel, first: a.to_owned(), second: b.to_owned(), span: corner.span })
    }

    /// How much of an edge's sewn length a stretch of its flat length comes to: darts and pleats taken in proportion
    /// to the whole, since they are sewn before any seam along the edge.
    pub(crate) fn sewn(&self, side: &EdgeSide) -> f64 {
        let flat = side.to.as_mm() - side.from.as_mm();
        match self.edge_of(side) {
            Ok(edge) if side.line.is_none() && edge.length.as_mm() > 0.0 && flat >= edge.length.as_mm() - SLACK => edge.sewn_length.as_mm(),
            _ => flat,
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
