//! Panels in parts: what splits and folds say, the pieces that come of them, and their names and measures.

use super::derive::taken_over;
use super::draft::{self, DraftedEdge, EdgeInput, Extents, Layout, PanelInput, SplitInput};
use super::error::EvalError;
use super::evaluator::{Eval, Evaluator, Memo};
use super::panel::{Sayings, note};
use super::value::{Env, amount};
use crate::check::Entity;
use crate::geometry::{COINCIDENT, FLATTEN, Path, Point, distance_to, encloses, meetings};
use crate::ir::{self, Mark, MarkShape, PieceId, TraceId};
use crate::quantity::{Dimension, Length};
use crate::source::Span;
use crate::syntax::ast::{self, PanelItem, opposite, part_of_copy};

/// A mark may lie so far (mm) outside the finished outline of the piece it falls to: what cutting by hand strays anyway.
const STRAY: f64 = 0.5;

/// A panel that is split: its pieces, and its measures as a whole.
#[derive(Debug, Clone)]
pub(crate) struct Parts {
    /// The panel's name.
    name: String,
    /// The pieces, in the order of the splits.
    pieces: Vec<PieceId>,
    /// The box round the whole outline and the area in it.
    pub(crate) finished: ir::Extent,
    /// Edges as they were before the split, and the split lines.
    pub(crate) edges: Vec<Measured>,
    /// The outline as it was before the split, for panels that take it over.
    pub(crate) outline: Vec<EdgeInput>,
}

impl Parts {
    /// What can be asked about the whole.
    pub(crate) fn facts(&self, add: &mut impl FnMut(String, TraceId)) {
        add(format!("{}.area", self.name), self.finished.why);
        for edge in &self.edges {
            add(format!("{}.{}", self.name, edge.name), edge.why);
            add(format!("{}.{}.allowance", self.name, edge.name), edge.why_allowance);
        }
    }
}

/// What can be read of an edge.
#[derive(Debug, Clone)]
pub(crate) struct Measured {
    pub(crate) name: String,
    pub(crate) length: Length,
    pub(crate) sewn_length: Length,
    pub(crate) allowance: Length,
    pub(crate) why: TraceId,
    pub(crate) why_allowance: TraceId,
}

impl From<&ir::Edge> for Measured {
    fn from(edge: &ir::Edge) -> Self {
        Self {
            name: edge.name.clone(),
            length: edge.length,
            sewn_length: edge.sewn_length,
            allowance: edge.allowance,
            why: edge.why,
            why_allowance: edge.why_allowance,
        }
    }
}

impl<'p> Evaluator<'p> {
    /// Where a split runs.
    pub(crate) fn split(&mut self, split: &'p ast::Split, env: &Env<'p>, said: &mut Sayings<'p>) -> Eval<()> {
        let (points, inputs) = self.recording(|me| Ok((me.point(&split.from, env)?, me.point(&split.to, env)?)));
        let (from, to) = points?;
        if from.distance(to) < COINCIDENT {
            let value = self.said(&super::value::Value::Quantity(amount(0.0, Dimension::LENGTH)));
            return self.fail(EvalError::NotPositive { what: "the length of a split", value, span: split.span });
        }
        let named = |name: &ast::Name| (name.text.clone(), name.span);
        said.split_how.push_str(&format!("; {}", self.sources.snippet(split.span)));
        said.split_inputs.extend(inputs);
        said.input.splits.push(SplitInput {
            name: named(&split.name),
            of: split.of.as_ref().map(named),
            from,
            to,
            pieces: split.pieces.each_ref().map(named),
            span: split.span,
        });
        Ok(())
    }

    /// Notes the edge on the fold. It is no edge of the piece, so nothing may be done with it.
    pub(crate) fn on_fold(&mut self, fold: &ast::OnFold, items: &[&'p PanelItem], said: &mut Sayings<'p>) -> Eval<()> {
        said.input.fold = Some((fold.edge.text.clone(), fold.edge.span));
        note(said, &[], self.sources.snippet(fold.span));
        let mut free = Ok(());
        for item in items {
            let (what, names): (&'static str, &[ast::Name]) = match item {
                PanelItem::Allow(allow) => ("an allowance", &allow.edges),
                PanelItem::Finish(finish) => ("a finish", &finish.edges),
                PanelItem::Raw(raw) => ("to stay raw", &raw.edges),
                PanelItem::Notch(notch) => ("a notch", &notch.edges),
                PanelItem::Dart(dart) => ("a dart", std::slice::from_ref(&dart.edge)),
                PanelItem::Pleat(pleat) => ("a pleat", std::slice::from_ref(&pleat.edge)),
                _ => continue,
            };
            for name in names.iter().filter(|n| n.text == fold.edge.text) {
                let (panel, edge) = (said.input.name.clone(), name.text.clone());
                free = self.fail(EvalError::FoldUsed { panel, edge, what, span: name.span, fold_span: fold.span });
            }
        }
        free
    }

    /// Each mark on the piece it lies on, a line across a split in parts; on the fold each on both halves.
    pub(crate) fn share_out(&mut self, marks: Vec<Mark>, layout: &Layout, input: &PanelInput) -> Eval<Vec<Vec<Mark>>> {
        let mut shared = vec![Vec::new(); layout.pieces.len()];
        // All pieces of a half are laid open about one line.
        let fold = layout.pieces.iter().find_map(|p| p.fold_line.as_ref());
        let images: Vec<Mark> = fold.into_iter().flat_map(|fold| marks.iter().filter_map(|m| image(m, fold))).collect();
        for mark in marks.into_iter().chain(images) {
            let origin = mark.origin;
            let places = match &mark.shape {
                MarkShape::Point { at } | MarkShape::Drill { at, .. } => vec![*at],
                MarkShape::Line { path } => vec![path.start, path.end()],
                MarkShape::OnEdge { at, .. } => vec![*at],
            };
            if let Some(split) = split_under(&mark.shape, layout, input) {
                let (mark, panel, drilled) = (mark.name.clone(), input.name.clone(), matches!(mark.shape, MarkShape::Drill { .. }));
                return self.fail(EvalError::MarkOnSplit { mark, drilled, panel, split: split.0.clone(), spans: [origin, split.1] });
            }
            let on = |piece: &draft::Drafted| places.iter().all(|p| lies_on(piece, *p));
            match (layout.pieces.iter().position(on), layout.pieces.len()) {
                (Some(index), _) => shared.get_mut(index).into_iter().for_each(|all| all.push(mark.clone())),
                // Wherever it lies, it is reported as lying off the only piece there is.
                (None, 1) => shared.iter_mut().for_each(|all| all.push(mark.clone())),
                (None, _) if places.iter().any(|p| layout.pieces.iter().all(|piece| !lies_on(piece, *p))) => {
                    return self.fail(EvalError::MarkOffAllPieces { mark: mark.name.clone(), panel: input.name.clone(), span: origin });
                }
                (None, _) => {
                    for (all, piece) in shared.iter_mut().zip(&layout.pieces) {
                        all.extend(part_on(piece, &mark));
                    }
                }
            }
        }
        Ok(shared)
    }

    /// Keeps what is known of a split panel as a whole.
    pub(crate) fn keep_parts(&mut self, name: &str, pieces: Vec<PieceId>, layout: &Layout, said: &Sayings<'p>, origin: Span) {
        let Some(&first) = pieces.first() else { return };
        let finished = self.extent(name, &layout.finished, said, origin, false);
        let is_line = |edge: &DraftedEdge| said.input.splits.iter().any(|s| s.name.0 == edge.name);
        let edges = layout.whole.iter().map(|edge| self.edge_measures(name, edge, said, is_line(edge))).collect();
        let outline = layout.whole.iter().filter(|edge| !is_line(edge)).map(taken_over).collect();
        self.parts.insert(first, Parts { name: name.to_owned(), pieces, finished, edges, outline });
    }

    /// The finished size of a panel, or of a piece of one that is split.
    pub(crate) fn extent(&mut self, name: &str, of: &Extents, said: &Sayings<'p>, origin: Span, split: bool) -> ir::Extent {
        let (how, inputs) = said.shape_steps(split);
        let why = self.geometry_step(&format!("finished area of {name}"), how, amount(of.area, Dimension::AREA), origin, inputs);
        super::piece::extent(of, why)
    }

    /// The lengths of an edge, and the steps behind them.
    pub(crate) fn edge_measures(&mut self, name: &str, edge: &DraftedEdge, said: &Sayings<'p>, split: bool) -> Measured {
        let (how, inputs) = said.shape_steps(split);
        let length = amount(edge.length, Dimension::LENGTH);
        let why = self.geometry_step(&format!("finished length of {name}.{}", edge.name), how, length, edge.span, inputs);
        let stated = said.allow_why.get(&edge.of).or_else(|| said.allow_why.get(""));
        let how = if stated.is_some() { "as stated" } else { "no allowance is stated" };
        let (what, allowance) = (format!("allowance of {name}.{}", edge.name), amount(edge.allowance, Dimension::LENGTH));
        let why_allowance = self.geometry_step(&what, how, allowance, edge.span, stated.copied().into_iter().collect());
        Measured {
            name: edge.name.clone(),
            length: Length::mm(edge.length),
            sewn_length: Length::mm(edge.sewn_length),
            allowance: Length::mm(edge.allowance),
            why,
            why_allowance,
        }
    }

    /// Names of the pieces of a panel that is split.
    pub(crate) fn pieces_of(&self, entity: Entity) -> Vec<String> {
        let Entity::Panel(id) = entity else { return Vec::new() };
        let Some(Memo::Done(Ok(first))) = self.panels.get(&id) else { return Vec::new() };
        let pieces = self.parts.get(first).into_iter().flat_map(|p| &p.pieces);
        pieces.filter_map(|id| self.pieces.get(id.index())).map(|p| p.name.clone()).collect()
    }

    /// The piece, and the copy of it, that a name means where it may be that of a panel, of a copy, or of a part.
    pub(crate) fn piece_called(&mut self, first: PieceId, entity: Entity, name: &ast::Name) -> Eval<(PieceId, Option<u32>)> {
        let copy = if let Entity::Copy(_, nth) = entity { Some(nth) } else { None };
        let Some(parts) = self.parts.get(&first) else {
            let declared = self.program.name_of(entity).map(|n| n.span);
            // A piece of a panel that is not split in this case.
            let part = matches!(entity, Entity::Part(_));
            return if part { self.fail(EvalError::NotInThisCase { name: name.clone(), declared }) } else { Ok((first, copy)) };
        };
        match self.part_called(parts, &name.text) {
            Some(found) => Ok(found),
            None => {
                let known = parts.pieces.iter().filter_map(|id| self.pieces.get(id.index())).flat_map(names_of).collect();
                let (panel, whole) = (parts.name.clone(), name.text == parts.name || copy.is_some());
                self.fail(EvalError::WhichPart { panel, name: name.text.clone(), whole, known, span: name.span })
            }
        }
    }

    fn part_called(&self, parts: &Parts, name: &str) -> Option<(PieceId, Option<u32>)> {
        parts.pieces.iter().find_map(|id| {
            let piece = self.pieces.get(id.index())?;
            let copy = || piece.copies.iter().position(|c| c.name.as_deref() == Some(name));
            if piece.name == name { Some((*id, None)) } else { copy().map(|n| (*id, u32::try_from(n).ok())) }
        })
    }
}

/// What the copies of a piece of a split panel are called.
pub(crate) fn named_copies(copies: &[ir::Copy], part: &str) -> Vec<ir::Copy> {
    let named = |copy: &ir::Copy| ir::Copy { name: copy.name.as_deref().map(|n| part_of_copy(n, part)), mirrored: copy.mirrored };
    copies.iter().map(named).collect()
}

/// The names by which a piece is pointed at.
fn names_of(piece: &ir::Piece) -> Vec<String> {
    let copies: Vec<String> = piece.copies.iter().filter_map(|c| c.name.clone()).collect();
    if copies.is_empty() { vec![piece.name.clone()] } else { copies }
}

fn outline(piece: &draft::Drafted) -> Path {
    let start = piece.edges.first().map_or_else(Point::default, |e| e.path.start);
    Path { start, segments: piece.edges.iter().flat_map(|e| e.path.segments.iter().copied()).collect() }
}

fn lies_on(piece: &draft::Drafted, at: Point) -> bool {
    let outline = outline(piece).flatten(FLATTEN);
    encloses(&outline, at) || distance_to(&outline, at) <= STRAY
}

/// The split, and where it is named, that a point or a drilled hole lies on: where it lies on more pieces than one.
fn split_under<'i>(shape: &MarkShape, layout: &Layout, input: &'i PanelInput) -> Option<&'i (String, Span)> {
    let (at, reach) = match shape {
        MarkShape::Point { at } => (*at, STRAY),
        MarkShape::Drill { at, diameter } => (*at, (diameter.as_mm() / 2.0 - FLATTEN).max(STRAY)),
        MarkShape::Line { .. } | MarkShape::OnEdge { .. } => return None,
    };
    let off = |edge: &DraftedEdge| distance_to(&edge.path.flatten(FLATTEN), at);
    let near = |name: &str| layout.pieces.iter().flat_map(|p| &p.edges).filter(|e| e.of == name).any(|e| off(e) <= reach);
    input.splits.iter().map(|split| &split.name).find(|name| near(&name.0))
}

/// What lies on a piece of a marked line: from where it first lies there to where it last does, since straights split a panel.
fn part_on(piece: &draft::Drafted, mark: &Mark) -> Option<Mark> {
    let MarkShape::Line { path } = &mark.shape else { return None };
    let outline = outline(piece);
    let flat = outline.flatten(FLATTEN);
    let mut places: Vec<f64> = meetings(path, &outline).into_iter().map(|m| m.first).chain([0.0, path.length()]).collect();
    places.sort_by(f64::total_cmp);
    let inside: Vec<(f64, f64)> = places
        .iter()
        .zip(places.iter().skip(1))
        .map(|(from, to)| (*from, *to))
        .filter(|(from, to)| to - from > STRAY && encloses(&flat, path.point_at(f64::midpoint(*from, *to))))
        .collect();
    let (from, to) = (inside.first()?.0, inside.last()?.1);
    Some(Mark { shape: MarkShape::Line { path: path.subpath(from, to) }, ..mark.clone() })
}

/// A mark on the other half; none for one that lies on the fold, and is there once.
fn image(mark: &Mark, fold: &Path) -> Option<Mark> {
    let along = fold.end() - fold.start;
    let across = |p: Point| p.mirrored(fold.start, along);
    let on_fold = |p: Point| p.distance(across(p)) <= 2.0 * COINCIDENT;
    let shape = match &mark.shape {
        MarkShape::Point { at } if !on_fold(*at) => MarkShape::Point { at: across(*at) },
        MarkShape::Drill { at, diameter } if !on_fold(*at) => MarkShape::Drill { at: across(*at), diameter: *diameter },
        MarkShape::Line { path } if !(on_fold(path.start) && on_fold(path.end())) => {
            MarkShape::Line { path: path.mirrored(fold.start, along) }
        }
        _ => return None,
    };
    Some(Mark { name: opposite(&mark.name), shape, ..mark.clone() })
}
