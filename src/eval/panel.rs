//! Panels: from what the source says to a drafted piece.

use super::along::{finished_lengths, is_spaced};
use super::call::Item;
use super::draft::{
    self, CornerInput, CornerJoin, CornerTreatment, Drafted, EdgeInput, HoleInput, JoinInput, Layout, NotchInput, PanelInput, TakeInput,
    TakeKind, TaperInput,
};
use super::error::EvalError;
use super::evaluator::{Eval, Evaluator, MAX_PIECES, MAX_REPEAT, Memo, Stop};
use super::finish::FinishValue;
use super::parts::{Measured, named_copies};
use super::renaming::{rename, renames};
use super::value::{Env, Value, amount};
use crate::check::{Entity, PanelId};
use crate::geometry::{COINCIDENT, Path};
use crate::ir::{self, PieceId, TraceId};
use crate::quantity::{Dimension, Length};
use crate::source::Span;
use crate::syntax::ast::{self, PanelItem, ShapeKind};
use std::collections::BTreeMap;

/// What a panel says beside its outline.
#[derive(Debug, Default)]
pub(crate) struct Sayings<'p> {
    /// The figures for drafting.
    pub(crate) input: PanelInput,
    /// Values behind the outline.
    pub(crate) shape_inputs: Vec<TraceId>,
    /// How the outline is made, as written.
    pub(crate) shape_how: String,
    /// Where edges taken from another panel are named there, and where they are taken over.
    pub(crate) taken_over: Vec<(Span, Span)>,
    /// Values behind each edge's allowance; the empty name stands for all others.
    pub(crate) allow_why: BTreeMap<String, TraceId>,
    /// Allowances said of an edge by name, and where.
    pub(crate) allowed: BTreeMap<String, (f64, Span)>,
    /// Edges finished.
    pub(crate) finishes: BTreeMap<String, (FinishValue, &'p ast::UseFinish)>,
    /// Edges left raw.
    pub(crate) raw: BTreeMap<String, String>,
    /// How it is split, as written, and the values behind that.
    pub(crate) split_how: String,
    pub(crate) split_inputs: Vec<TraceId>,
    /// Lengths of edges, once something must know them before it can be drafted.
    pub(crate) lengths: BTreeMap<String, f64>,
}

impl Sayings<'_> {
    /// How an outline is made, and the values behind it: of the panel as a whole, or of what its splits make.
    pub(crate) fn shape_steps(&self, split: bool) -> (String, Vec<TraceId>) {
        let (how, inputs) = if split { (self.split_how.as_str(), self.split_inputs.as_slice()) } else { ("", &[][..]) };
        (format!("{}{how}", self.shape_how), self.shape_inputs.iter().chain(inputs).copied().collect())
    }
}

impl<'p> Evaluator<'p> {
    /// The piece of a panel, the first of one that is split; drafted once.
    pub(crate) fn panel(&mut self, id: PanelId, at: Span) -> Eval<PieceId> {
        let program = self.program;
        let Some(declared) = program.panels.get(id.index()) else { return Err(Stop) };
        match self.panels.get(&id) {
            Some(Memo::Done(done)) => return *done,
            Some(Memo::Busy) => return self.fail(EvalError::Cycle { name: declared.item.name.text.clone(), at }),
            _ => {}
        }
        self.panels.insert(id, Memo::Busy);
        let name = declared.item.name.text.clone();
        let env = Env::labelled(declared.scope, format!("{name}."));
        let piece = self.deeper(at, |me| me.draft_panel(&declared.item, name, &env));
        self.panels.insert(id, Memo::Done(piece));
        piece
    }

    /// Drafts a panel under a name; `env` holds what its body may use.
    pub(crate) fn draft_panel(&mut self, panel: &'p ast::Panel, name: String, env: &Env<'p>) -> Eval<PieceId> {
        if self.pieces.len() >= MAX_PIECES {
            let count = (self.pieces.len() + 1) as f64;
            return self.fail(EvalError::TooMany { what: "sorts of piece are cut", count, most: MAX_PIECES, span: panel.name.span });
        }
        let items = self.active(&panel.items, env, split)?;
        let mut said = Sayings::default();
        said.input.name.clone_from(&name);
        said.input.span = panel.name.span;
        self.shape(&items, env, &mut said)?;
        let mut whole = true;
        let (spaced, others): (Vec<&PanelItem>, Vec<&PanelItem>) = items.iter().partition(|item| is_spaced(item));
        for item in others {
            // Each line of a panel can be wrong by itself; all are reported.
            whole &= match item {
                PanelItem::OnFold(fold) => self.on_fold(fold, &items, &mut said).is_ok(),
                _ => self.panel_item(item, env, &mut said).is_ok(),
            };
        }
        if !spaced.is_empty() {
            said.lengths = finished_lengths(&said.input);
        }
        for item in spaced {
            whole &= self.panel_item(item, env, &mut said).is_ok();
        }
        whole &= self.allowances_agree(&said).is_ok();
        let layout = draft::draft_all(&said.input, &mut self.problems);
        let (Some(layout), true) = (layout, whole) else {
            // What finishes require may be the reason behind it.
            for (edge, (_, call)) in said.finishes {
                let drawn = said.input.edges.iter().find(|e| e.name == edge).map_or(0.0, |e| e.path.length());
                if drawn > 0.0 {
                    let outcome = self.finish(call, env, drawn);
                    self.each(outcome);
                }
            }
            return Err(Stop);
        };
        let cut = items.iter().find_map(|i| if let PanelItem::Cut(c) = i { Some(c) } else { None });
        let Some(cut) = cut else { return Err(Stop) };
        let marks = self.panel_marks(&items, env)?;
        let shared = self.share_out(marks, &layout, &said.input)?;
        let first = self.pieces.len();
        for (drafted, marks) in layout.pieces.iter().zip(shared) {
            self.told_in_darts(drafted, &marks, &said.input);
            let piece = self.piece(panel, &name, cut, &items, drafted, &layout, marks, &said, env)?;
            self.pieces.push(piece);
        }
        let made: Vec<PieceId> = (first..self.pieces.len()).map(PieceId::at).collect();
        for &id in &made {
            self.marks_on_the_piece(id)?;
        }
        if !said.input.splits.is_empty() {
            self.keep_parts(&name, made.clone(), &layout, &said, panel.name.span);
        }
        made.first().copied().ok_or(Stop)
    }

    /// The outline and what reshapes it, with the values these read.
    fn shape(&mut self, items: &[&'p PanelItem], env: &Env<'p>, said: &mut Sayings<'p>) -> Eval<()> {
        let shape = items.iter().find_map(|i| if let PanelItem::Shape(s) = i { Some(s) } else { None });
        let Some(shape) = shape else { return Err(Stop) };
        let renamed = renames(items);
        match &shape.kind {
            ShapeKind::As(other) => self.shape_as(other, shape.span, env, said)?,
            ShapeKind::Strip { panel, edge, wide } => self.shape_strip((panel, edge, wide), shape.span, env, said)?,
            ShapeKind::Call { outline, arguments } => {
                self.drawn(shape.span, said, |me| me.outline_call(outline, arguments, env, shape.span))?;
            }
            ShapeKind::Drawn(items) => self.drawn(shape.span, said, |me| me.outline(items, &env.clone(), shape.span, None))?,
            ShapeKind::Traced(traced) => self.drawn(shape.span, said, |me| me.traced_shape(traced, env))?,
        }
        rename(&mut said.input, &renamed);
        Ok(())
    }

    /// An outline drawn, with the values it reads.
    fn drawn(&mut self, span: Span, said: &mut Sayings<'p>, draw: impl FnOnce(&mut Self) -> Eval<Vec<EdgeInput>>) -> Eval<()> {
        let (edges, inputs) = self.recording(draw);
        said.input.edges = edges?;
        said.shape_inputs = inputs;
        said.shape_how = self.sources.snippet(span).to_owned();
        Ok(())
    }

    fn panel_item(&mut self, item: &'p PanelItem, env: &Env<'p>, said: &mut Sayings<'p>) -> Eval<()> {
        match item {
            PanelItem::Require(require) => self.require(require, env, None),
            PanelItem::Move(moved) => self.move_edges(moved, env, said),
            PanelItem::Lay(lay) => self.lay(lay, env, said),
            PanelItem::Taper(taper) => self.taper(taper, env, said),
            PanelItem::Corner(corner) => self.corner(corner, env, said),
            PanelItem::CornerJoin(join) => self.corner_join(join, said),
            PanelItem::Hole(hole) => self.hole(hole, env, said),
            PanelItem::Split(split) => self.split(split, env, said),
            PanelItem::Allow(allow) => self.allow(allow, env, said),
            PanelItem::Finish(finish) => self.finish_edges(finish, env, said),
            PanelItem::Raw(raw) => {
                let because = self.title(Some(&raw.because), env)?;
                said.raw.extend(raw.edges.iter().map(|e| (e.text.clone(), because.clone())));
                Ok(())
            }
            PanelItem::Notch(notch) => {
                let shape = match &notch.kind {
                    Some(kind) => match ir::NotchShape::ALL.iter().find(|s| s.word() == kind.text) {
                        Some(shape) => *shape,
                        None => return self.fail(EvalError::Unknown { name: kind.clone() }),
                    },
                    None => ir::NotchShape::Slit,
                };
                let deep = notch.deep.as_ref().map(|d| self.length(d, env)).transpose()?;
                for edge in &notch.edges {
                    let places = self.along_places(&notch.places, edge, env, said)?;
                    said.input.notches.extend(places.iter().map(|(at, from)| NotchInput {
                        edge: (edge.text.clone(), edge.span),
                        at: *at,
                        from: from.clone(),
                        shape,
                        rows: notch.rows,
                        deep,
                        span: notch.span,
                    }));
                }
                Ok(())
            }
            PanelItem::Dart(dart) => {
                let (take, deep) = (self.length(&dart.wide, env)?, self.length(&dart.deep, env)?);
                self.take(TakeKind::Dart { deep }, &dart.edge, &dart.places, take, dart.span, env, said)
            }
            PanelItem::Pleat(pleat) => {
                let take = self.length(&pleat.take, env)?;
                self.take(TakeKind::Pleat, &pleat.edge, &pleat.places, take, pleat.span, env, said)
            }
            _ => Ok(()),
        }
    }

    fn taper(&mut self, taper: &'p ast::Taper, env: &Env<'p>, said: &mut Sayings<'p>) -> Eval<()> {
        let (figures, inputs) = self.recording(|me| Ok((me.length(&taper.by, env)?, me.along(&taper.over, env)?)));
        let (by, over) = figures?;
        note(said, &inputs, self.sources.snippet(taper.span));
        for edge in &taper.edges {
            said.input.tapers.push(TaperInput {
                edge: (edge.text.clone(), edge.span),
                by,
                over,
                from: (taper.from.text.clone(), taper.from.span),
                span: taper.span,
            });
        }
        Ok(())
    }

    fn corner(&mut self, corner: &'p ast::CornerWork, env: &Env<'p>, said: &mut Sayings<'p>) -> Eval<()> {
        let (by, inputs) = self.recording(|me| me.length(&corner.by, env));
        let by = by?;
        note(said, &inputs, self.sources.snippet(corner.span));
        let treatment = match corner.kind {
            ast::CornerKind::Round => CornerTreatment::Round,
            ast::CornerKind::Bevel => CornerTreatment::Bevel,
            ast::CornerKind::Box => CornerTreatment::Box,
        };
        for c in &corner.corners {
            let edges = (c.first.text.clone(), c.second.text.clone(), c.span);
            said.input.corners.push(CornerInput { treatment, edges, by, span: corner.span });
        }
        Ok(())
    }

    fn corner_join(&mut self, join: &'p ast::CornerJoin, said: &mut Sayings<'p>) -> Eval<()> {
        let found = CornerJoin::ALL.iter().find(|(word, _)| *word == join.join.text);
        let Some(&(_, kind)) = found else { return self.fail(EvalError::Unknown { name: join.join.clone() }) };
        said.input
            .joins
            .extend(join.corners.iter().map(|c| JoinInput { edges: (c.first.text.clone(), c.second.text.clone(), c.span), join: kind }));
        Ok(())
    }

    fn hole(&mut self, hole: &'p ast::Hole, env: &Env<'p>, said: &mut Sayings<'p>) -> Eval<()> {
        let edges = self.outline_call(&hole.outline, &hole.arguments, env, hole.span)?;
        let at = self.point(&hole.at, env)?;
        let Some(first) = edges.first() else { return Err(Stop) };
        let segments = edges.iter().flat_map(|e| e.path.segments.iter().copied()).collect();
        let path = Path { start: first.path.start, segments }.translated(crate::geometry::Vector::new(at.x, at.y));
        said.input.holes.push(HoleInput { name: hole.name.text.clone(), path, span: hole.span });
        Ok(())
    }

    fn allow(&mut self, allow: &'p ast::Allow, env: &Env<'p>, said: &mut Sayings<'p>) -> Eval<()> {
        let traced = self.traced(&format!("{}allow", env.label), &allow.width, env)?;
        let width = match traced.value {
            Value::Quantity(q) if q.dimension == Dimension::LENGTH => q.value,
            other => return self.wrong("a length", &other, allow.width.span),
        };
        if allow.edges.is_empty() {
            said.input.allow_all = Some((width, allow.span));
            said.allow_why.insert(String::new(), traced.why);
        }
        for edge in &allow.edges {
            said.input.allow.push((edge.text.clone(), width, edge.span));
            said.allowed.insert(edge.text.clone(), (width, edge.span));
            said.allow_why.insert(edge.text.clone(), traced.why);
        }
        Ok(())
    }

    fn finish_edges(&mut self, finish: &'p ast::FinishEdges, env: &Env<'p>, said: &mut Sayings<'p>) -> Eval<()> {
        for edge in &finish.edges {
            let drawn = said.input.edges.iter().find(|e| e.name == edge.text).map_or(0.0, |e| e.path.length());
            let (value, inputs) = self.recording(|me| me.finish_for_drafting(&finish.finish, env, drawn));
            let value = value?;
            if value.allow.is_none() {
                return self.fail(EvalError::FinishForSeams { finish: value.name, span: finish.finish.span });
            }
            if let Some(allow) = value.allow {
                said.input.allow.push((edge.text.clone(), allow, edge.span));
                let how = self.sources.snippet(finish.finish.span).to_owned();
                let q = amount(allow, Dimension::LENGTH);
                let why = self.geometry_step(&format!("allowance of {}", value.name), how, q, finish.span, inputs);
                said.allow_why.insert(edge.text.clone(), why);
            }
            if !value.folds.is_empty() {
                said.input.folds.push((edge.text.clone(), value.folds.clone(), finish.span));
            }
            said.finishes.insert(edge.text.clone(), (value, &finish.finish));
        }
        Ok(())
    }

    /// A finish that folds or binds an edge says how much that takes; another figure beside it would be cut by neither.
    fn allowances_agree(&mut self, said: &Sayings<'p>) -> Eval<()> {
        let mut clashes: Vec<(Vec<String>, (f64, Span), &FinishValue)> = Vec::new();
        for (edge, (finish, _)) in &said.finishes {
            let differs = |&&(width, _): &&(f64, Span)| finish.allow.is_some_and(|allow| (width - allow).abs() > COINCIDENT);
            let Some(&(width, span)) = said.allowed.get(edge).filter(differs) else { continue };
            let edge = format!("{}.{edge}", said.input.name);
            // Edges of the same two lines are told of at once, at the first.
            match clashes.iter_mut().find(|(_, (known, _), of)| of.origin == finish.origin && (known - width).abs() <= COINCIDENT) {
                Some((edges, (_, first), _)) => {
                    edges.push(edge);
                    *first = (*first).min(span);
                }
                None => clashes.push((vec![edge], (width, span), finish)),
            }
        }
        let agree = if clashes.is_empty() { Ok(()) } else { Err(Stop) };
        for (edges, (width, span), of) in clashes {
            let (finish, allow, finish_at) = (of.name.clone(), of.allow.unwrap_or_default(), of.origin);
            self.problems.push(EvalError::AllowanceOfFinish { edges, width, finish, allow, span, finish_at });
        }
        agree
    }

    #[expect(clippy::too_many_arguments, reason = "a dart and a pleat share all of a place's words")]
    fn take(
        &mut self,
        kind: TakeKind,
        edge: &'p ast::Name,
        places: &'p ast::Places,
        take: f64,
        span: Span,
        env: &Env<'p>,
        said: &mut Sayings<'p>,
    ) -> Eval<()> {
        for (at, from) in self.along_places(places, edge, env, said)? {
            said.input.takes.push(TakeInput { kind, edge: (edge.text.clone(), edge.span), at, from, take, span });
        }
        Ok(())
    }

    /// `panel.width`, `panel.left.length`, …; of the whole, also where it is split, unless a part is named.
    pub(crate) fn panel_measure(&mut self, id: PanelId, entity: Entity, path: &[&ast::Name], span: Span) -> Eval<Value> {
        let first = self.panel(id, span)?;
        let length = |mm: Length| Value::Quantity(amount(mm.as_mm(), Dimension::LENGTH));
        let Some(root) = path.first() else { return Err(Stop) };
        let (owner, finished, edges): (_, _, Vec<Measured>) = match self.parts.get(&first).filter(|_| !matches!(entity, Entity::Part(_))) {
            Some(parts) => (root.text.clone(), parts.finished, parts.edges.clone()),
            None => {
                let (piece, _) = self.piece_called(first, entity, root)?;
                let Some(piece) = self.pieces.get(piece.index()) else { return Err(Stop) };
                (piece.name.clone(), piece.finished, piece.edges.iter().map(Measured::from).collect())
            }
        };
        let names: Vec<&str> = path.iter().skip(1).map(|n| n.text.as_str()).collect();
        let edge = |name: &str| edges.iter().find(|e| e.name == name);
        let found = match names.as_slice() {
            ["width"] => Some((length(finished.width), finished.why)),
            ["height"] => Some((length(finished.height), finished.why)),
            ["area"] => Some((Value::Quantity(amount(finished.area.as_mm2(), Dimension::AREA)), finished.why)),
            [name, "length"] => edge(name).map(|e| (length(e.length), e.why)),
            [name, "sewn_length"] => edge(name).map(|e| (length(e.sewn_length), e.why)),
            [name, "allowance"] => edge(name).map(|e| (length(e.allowance), e.why_allowance)),
            _ => None,
        };
        let Some((value, why)) = found else {
            // Its measures are always there; an edge may be there in other cases only.
            let known = edges.iter().map(|e| e.name.clone()).collect();
            let Some(&name) = path.get(1) else { return Err(Stop) };
            return self.fail(EvalError::NoEdge { owner, name: name.clone(), known });
        };
        self.read(why);
        Ok(value)
    }

    #[expect(clippy::too_many_arguments, reason = "all that is known of a panel comes together here, once")]
    fn piece(
        &mut self,
        panel: &'p ast::Panel,
        called: &str,
        cut: &'p ast::Cut,
        items: &[&'p PanelItem],
        drafted: &Drafted,
        layout: &Layout,
        marks: Vec<ir::Mark>,
        said: &Sayings<'p>,
        env: &Env<'p>,
    ) -> Eval<ir::Piece> {
        let goods = self.goods_of(&cut.of, env)?;
        let material = self.stock(&goods)?;
        let copies = self.copies(cut, env)?;
        let title = self.title(panel.title.as_ref(), env)?;
        let title = if title.is_empty() { called.to_owned() } else { title };
        let (name, label, copies, origin) = match &drafted.name {
            None => (called.to_owned(), title, copies, panel.name.span),
            Some((part, span)) => (part.clone(), part_label(&title, called, part), named_copies(&copies, part), *span),
        };
        let grain = self.grain(items, env, &layout.drawn, panel.name.span)?;
        let extents = self.extents(&name, drafted, said, origin);
        let edges = self.edges(&name, drafted, said, env)?;
        Ok(ir::Piece {
            label,
            split_from: drafted.name.as_ref().map(|_| called.to_owned()),
            name,
            copies,
            material,
            edges,
            folds: drafted.folds.iter().map(|(of, path)| ir::FoldLine { of: of.clone(), path: path.clone() }).collect(),
            notches: drafted.notches.clone(),
            marks,
            holes: drafted.holes.iter().map(|(name, path)| ir::Hole { name: name.clone(), path: path.clone() }).collect(),
            grain,
            finished: extents.0,
            cut: extents.1,
            cut_line: drafted.cut_line.clone(),
            fold_line: drafted.fold_line.clone(),
            origin,
        })
    }

    fn copies(&mut self, cut: &'p ast::Cut, env: &Env<'p>) -> Eval<Vec<ir::Copy>> {
        let count = self.count(&cut.count, env, 1, MAX_REPEAT)?;
        if cut.mirrored && count % 2 != 0 {
            return self.fail(EvalError::OddPair { count, span: cut.count.span });
        }
        if !cut.copies.is_empty() && cut.copies.len() != count as usize {
            return self.fail(EvalError::CopyNames { names: cut.copies.len(), count, span: cut.span });
        }
        Ok((0..count)
            .map(|i| ir::Copy { name: cut.copies.get(i as usize).map(|n| n.text.clone()), mirrored: cut.mirrored && i >= count / 2 })
            .collect())
    }
}

/// Adds a line that reshapes the outline to what is known of its making.
pub(crate) fn note(said: &mut Sayings<'_>, inputs: &[TraceId], how: &str) {
    said.shape_how = format!("{}; {how}", said.shape_how);
    for input in inputs {
        if !said.shape_inputs.contains(input) {
            said.shape_inputs.push(*input);
        }
    }
}

/// Tells a panel's items apart.
pub(crate) fn split(item: &PanelItem) -> Item<'_, PanelItem> {
    match item {
        PanelItem::Constant(c) => Item::Let(c),
        PanelItem::When(w) => Item::When(w),
        _ => Item::Other,
    }
}

/// `Sheet, port`: a part called after its panel, as `sheet_port`, does not say that twice.
fn part_label(title: &str, panel: &str, part: &str) -> String {
    let own =
        [panel.to_owned(), title.to_lowercase()].iter().find_map(|p| part.strip_prefix(p.as_str())?.strip_prefix('_')).unwrap_or(part);
    format!("{title}, {}", own.replace('_', " "))
}
