//! `attach` lines: one entry a place, and its mark on the piece.

use super::component::{ComponentValue, Surroundings};
use super::error::TradeError;
use super::place::{Owner, Spot};
use super::{AttachJob, Trade};
use crate::eval::evaluator::{Eval, Evaluator, Stop};
use crate::eval::value::{Env, Value};
use crate::geometry::Point;
use crate::ir::{self, AttachmentId, EdgeSide, Mark, MarkShape, Pair, Place, Side, Symbol, Text, TraceId, Where};
use crate::quantity::Length;
use crate::source::Span;
use crate::syntax::ast::{self, AttachOn, AttachWhere, PlaceKind, SitsAt, WorkPhase};

impl<'p> Evaluator<'p> {
    /// One `attach` line.
    pub(crate) fn attach(&mut self, attach: &'p ast::Attach, env: &Env<'p>, trade: &mut Trade) -> Eval<()> {
        let mut line = Line::new(attach, trade);
        match &attach.on {
            AttachOn::Each(refs) => {
                let mut whole = Ok(());
                for reference in refs {
                    let one = self.attach_on(&mut line, reference, env, trade);
                    // What is wrong on one edge is no reason to say nothing of the next.
                    whole = whole.and(one);
                }
                whole?;
            }
            AttachOn::Row(refs) => self.attach_in_a_row(&mut line, refs, env, trade)?,
            AttachOn::Between(first, second) => self.attach_between(&mut line, first, second, env, trade)?,
        }
        line.job.brings = self.brought.get(&attach.name.text).into_iter().flatten().map(|b| b.piece).collect();
        // An empty list of places asks for nothing.
        if !line.job.ids.is_empty() {
            trade.jobs.attached.push(line.job);
        }
        Ok(())
    }

    /// On one edge, or at corners or points of one piece.
    fn attach_on(&mut self, line: &mut Line<'p>, reference: &'p ast::EdgeRef, env: &Env<'p>, trade: &mut Trade) -> Eval<()> {
        let AttachWhere::At(places) = &line.attach.where_ else { return self.attach_on_edge(line, reference, env, trade) };
        match &places.kind {
            PlaceKind::Corners(corners) => {
                let owner = self.piece_on_path(reference, env)?;
                self.attach_at_corners(line, owner, corners, env, trade)
            }
            PlaceKind::List { at, from: None } => {
                let owner = self.piece_on_path(reference, env)?;
                self.attach_at_points(line, owner, at, places, env, trade)
            }
            _ => self.attach_on_edge(line, reference, env, trade),
        }
    }

    /// Spots on a side, with the values they were made from.
    fn attach_spots(&mut self, attach: &'p ast::Attach, side: &EdgeSide, env: &Env<'p>) -> Eval<(Vec<Spot>, Vec<TraceId>)> {
        let (spots, inputs) = self.recording(|me| match &attach.where_ {
            AttachWhere::Along => me.all_of(side).map(|s| vec![s]),
            AttachWhere::Over(stretch) => me.stretch(stretch, side, env).map(|s| vec![s]),
            AttachWhere::At(places) => me.spots(places, side, env),
        });
        Ok((spots?, inputs))
    }

    fn surroundings(&self, side: &EdgeSide, spots: &[Spot]) -> Eval<Surroundings> {
        let edge = self.edge_of(side)?;
        let stretch = spots.first().map_or(0.0, |s| s.to - s.from);
        Ok(Surroundings { stretch, edge_length: edge.length.as_mm(), allowance: edge.allowance.as_mm(), places: spots.len() })
    }

    fn attach_on_edge(&mut self, line: &mut Line<'p>, reference: &'p ast::EdgeRef, env: &Env<'p>, trade: &mut Trade) -> Eval<()> {
        let side = self.edge_side(reference, env)?;
        let (spots, inputs) = self.attach_spots(line.attach, &side, env)?;
        let around = self.surroundings(&side, &spots)?;
        let value = self.component(line.attach, env, around)?;
        for spot in &spots {
            line.number += 1;
            let entry = self.entry_on_edge(line, &value, &side, spot, 0, &inputs)?;
            self.mark_on_edge(&entry, &side, spot)?;
            line.push(entry, trade);
        }
        line.places.push(place_words(&side, &spots, self.edge_of(&side)?.length, value.sits == SitsAt::Stretch));
        line.took(&value, &spots);
        Ok(())
    }

    /// One thing along several edges, one after the other. What it takes is the length of them all.
    fn attach_in_a_row(&mut self, line: &mut Line<'p>, refs: &'p [ast::EdgeRef], env: &Env<'p>, trade: &mut Trade) -> Eval<()> {
        let sides: Vec<Eval<EdgeSide>> = refs.iter().map(|r| self.edge_side(r, env)).collect();
        let sides = sides.into_iter().collect::<Eval<Vec<_>>>()?;
        line.job.row = refs.iter().map(|r| r.span).collect();
        self.each_once(&sides, &line.job.row, false)?;
        let spots = sides.iter().map(|s| self.all_of(s)).collect::<Eval<Vec<_>>>()?;
        let mut around = Surroundings { places: 1, ..Surroundings::default() };
        for side in &sides {
            let edge = self.edge_of(side)?;
            around.stretch += side.to.as_mm() - side.from.as_mm();
            around.edge_length += edge.length.as_mm();
            around.allowance = around.allowance.max(edge.allowance.as_mm());
        }
        let value = self.component(line.attach, env, around)?;
        for (side, spot) in sides.iter().zip(&spots) {
            line.number += 1;
            let mut entry = self.entry_on_edge(line, &value, side, spot, 0, &[])?;
            if line.number > 1 {
                entry.one_with = Some(line.job.first);
                entry.uses.clear();
            }
            self.mark_on_edge(&entry, side, spot)?;
            line.push(entry, trade);
            line.places.push(place_words(side, std::slice::from_ref(spot), self.edge_of(side)?.length, true));
        }
        line.took(&value, &spots);
        Ok(())
    }

    fn attach_between(
        &mut self,
        line: &mut Line<'p>,
        first: &'p ast::EdgeRef,
        second: &'p ast::EdgeRef,
        env: &Env<'p>,
        trade: &mut Trade,
    ) -> Eval<()> {
        let (first, second) = (self.edge_side(first, env), self.edge_side(second, env));
        let sides = [first?, second?];
        let [a, b] = &sides;
        // Both are looked at before either stops the line.
        let (on_first, on_second) = (self.attach_spots(line.attach, a, env), self.attach_spots(line.attach, b, env));
        let ((first_spots, mut inputs), (second_spots, more)) = (on_first?, on_second?);
        inputs.extend(more);
        if first_spots.len() != second_spots.len() {
            let edges = [self.side_name(a), self.side_name(b)];
            let places = [first_spots.len(), second_spots.len()];
            return self.fail(TradeError::PairPlaces { edges, places, span: line.where_span() });
        }
        let around = self.surroundings(a, &first_spots)?;
        let value = self.component(line.attach, env, around)?;
        let halves = value.pair.clone().unwrap_or_else(|| ["first".to_owned(), "second".to_owned()]);
        for (one, two) in first_spots.iter().zip(&second_spots) {
            line.number += 1;
            let ids = [AttachmentId::at(trade.attachments.len()), AttachmentId::at(trade.attachments.len() + 1)];
            let [first_id, second_id] = ids;
            for (half, (side, spot)) in [(a, one), (b, two)].into_iter().enumerate() {
                let mut entry = self.entry_on_edge(line, &value, side, spot, half, &inputs)?;
                let name = halves.get(half).cloned().unwrap_or_default();
                entry.pair = Some(Pair { half: name, first: half == 0, with: if half == 0 { second_id } else { first_id } });
                if half == 1 {
                    entry.uses.clear();
                }
                self.mark_on_edge(&entry, side, spot)?;
                line.push(entry, trade);
            }
        }
        let stretch = value.sits == SitsAt::Stretch;
        line.places.push(place_words(a, &first_spots, self.edge_of(a)?.length, stretch));
        line.places.push(place_words(b, &second_spots, self.edge_of(b)?.length, stretch));
        line.took(&value, &first_spots);
        line.took(&value, &second_spots);
        Ok(())
    }

    fn attach_at_corners(
        &mut self,
        line: &mut Line<'p>,
        owner: Owner,
        corners: &'p [ast::Corner],
        env: &Env<'p>,
        trade: &mut Trade,
    ) -> Eval<()> {
        let edges = corners.iter().map(|c| self.corner_of(owner, c)).collect::<Eval<Vec<_>>>()?;
        let Some(piece) = self.pieces.get(owner.piece.index()) else { return Err(Stop) };
        let beside = || edges.iter().flat_map(|(a, b)| [a, b]).filter_map(|e| piece.edges.get(e.index()));
        // The widest allowance of all, so that what is caught everywhere is long enough.
        let around = Surroundings {
            places: corners.len(),
            edge_length: beside().next().map_or(0.0, |e| e.length.as_mm()),
            allowance: beside().map(|e| e.allowance.as_mm()).fold(0.0, f64::max),
            stretch: 0.0,
        };
        let value = self.component(line.attach, env, around)?;
        for (first, second) in edges {
            let Some(edge) = self.pieces.get(owner.piece.index()).and_then(|p| p.edges.get(first.index())) else { return Err(Stop) };
            let at = edge.path.end();
            line.number += 1;
            let entry = self.entry(line, &value, owner, Place::Corner { first, second, at }, 0)?;
            self.mark_at(&entry, at);
            line.push(entry, trade);
            for edge in [first, second] {
                let mut side =
                    EdgeSide { piece: owner.piece, copy: owner.copy, edge, line: None, from: Length::mm(0.0), to: Length::mm(0.0) };
                side.to = self.edge_of(&side)?.length;
                let at = if edge == first { side.to.as_mm() } else { 0.0 };
                side.from = Length::mm(at);
                side.to = Length::mm(at);
                line.touches.push(side);
            }
        }
        line.took(&value, &[]);
        Ok(())
    }

    fn attach_at_points(
        &mut self,
        line: &mut Line<'p>,
        owner: Owner,
        at: &'p [ast::Expr],
        places: &'p ast::Places,
        env: &Env<'p>,
        trade: &mut Trade,
    ) -> Eval<()> {
        let (points, inputs) = self.recording(|me| me.points(at, env));
        let points = points?;
        let around = Surroundings { places: points.len(), ..Surroundings::default() };
        let value = self.component(line.attach, env, around)?;
        for (at, span) in points {
            self.on_the_piece(owner.piece, &line.attach.name.text, at, span)?;
            line.number += 1;
            let how = self.sources.snippet(places.span).to_owned();
            let what = format!("place of {}.{}", line.attach.name.text, line.number);
            let why = self.step(&what, how, &Value::Point(at.x, at.y), Some(places.span), inputs.clone());
            let entry = self.entry(line, &value, owner, Place::Point { at, why }, 0)?;
            self.mark_at(&entry, at);
            line.push(entry, trade);
        }
        line.took(&value, &[]);
        Ok(())
    }

    fn entry_on_edge(
        &mut self,
        line: &Line<'p>,
        value: &ComponentValue,
        side: &EdgeSide,
        spot: &Spot,
        half: usize,
        inputs: &[TraceId],
    ) -> Eval<ir::Attachment> {
        let stretch = value.sits == SitsAt::Stretch;
        let half_print = if stretch { 0.0 } else { value.footprint / 2.0 };
        let what = format!("place of {}.{} from {}", line.attach.name.text, line.number, spot.from_end);
        let how = match &line.attach.where_ {
            AttachWhere::Along => "from end to end".to_owned(),
            AttachWhere::Over(s) => self.sources.snippet(s.span).to_owned(),
            AttachWhere::At(p) => self.sources.snippet(p.span).to_owned(),
        };
        let mut all = inputs.to_vec();
        all.push(self.edge_of(side)?.why);
        let why = self.length_step(&what, how, spot.distance, line.attach.span, all);
        let place = Place::Edge {
            edge: side.edge,
            from: Length::mm(spot.from - half_print),
            to: Length::mm(spot.to + half_print),
            distance: Length::mm(spot.distance),
            from_end: spot.from_end.clone(),
            stretch,
            why,
        };
        self.entry(line, value, Owner { piece: side.piece, copy: side.copy }, place, half)
    }

    fn entry(&mut self, line: &Line<'p>, value: &ComponentValue, owner: Owner, place: Place, half: usize) -> Eval<ir::Attachment> {
        let attach = line.attach;
        let [first, second] = value.sides;
        let own = if half == 0 { first } else { second };
        let side: Side = attach.facing.as_ref().map_or(Ok(own), |n| self.side_word(n))?;
        let points = attach.pointing.as_ref().map_or(Ok(value.points), |n| self.pointing_word(n))?;
        Ok(ir::Attachment {
            name: attach.name.text.clone(),
            number: line.number,
            component: value.name.clone(),
            title: value.title.clone(),
            piece: owner.piece,
            copy: owner.copy,
            place,
            depth: Length::mm(value.depth),
            catches: Length::mm(value.catches),
            side,
            points,
            symbol: value.symbol,
            needs_casing: value.needs_casing,
            pair: None,
            one_with: None,
            may_cross: attach.may_cross.iter().map(|n| n.text.clone()).collect(),
            uses: value.uses.clone(),
            origin: attach.span,
        })
    }

    fn mark_on_edge(&mut self, entry: &ir::Attachment, side: &EdgeSide, spot: &Spot) -> Eval<()> {
        let Place::Edge { edge, from, to, .. } = &entry.place else { return Err(Stop) };
        let path = self.edge_of(side)?.path.clone();
        let middle = f64::midpoint(spot.from, spot.to);
        let whole = (spot.to - spot.from - path.length()).abs() < crate::geometry::COINCIDENT;
        let half = entry.pair.as_ref().map_or(String::new(), |p| format!(" {}", p.half.replace('_', " ")));
        let called = format!("{}{half}", entry.name);
        let text = match (&entry.place, whole) {
            (_, true) => Text::words(called),
            (Place::Edge { distance, from_end, stretch, .. }, _) => {
                let mut text = Text::words(format!("{called} "));
                if *stretch {
                    text = text.then("over ").length(Length::mm(spot.to - spot.from));
                }
                if !stretch || distance.as_mm() > 0.0 {
                    text = text.then(if *stretch { " starting " } else { "" }).length(*distance);
                }
                text.then(format!(" from {from_end}"))
            }
            _ => Text::words(called),
        };
        let inward = path.tangent_at(middle).left();
        // A fastener is set at its middle, inside the edge by its depth less half its own size.
        let inset = if entry.symbol == Symbol::Ring { (entry.depth.as_mm() - (to.as_mm() - from.as_mm()) / 2.0).max(0.0) } else { 0.0 };
        let shape = MarkShape::OnEdge {
            edge: *edge,
            stretch: path.subpath(from.as_mm().max(0.0), to.as_mm().min(path.length())),
            at: path.point_at(middle) + inward * inset,
            inward,
            points: entry.points,
            symbol: entry.symbol,
        };
        self.push_mark(entry, text, shape);
        Ok(())
    }

    fn mark_at(&mut self, entry: &ir::Attachment, at: Point) {
        self.push_mark(entry, Text::words(entry.name.clone()), MarkShape::Point { at });
    }

    fn push_mark(&mut self, entry: &ir::Attachment, text: Text, shape: MarkShape) {
        let copies = entry.copy.into_iter().collect();
        let mark = Mark { name: entry.name.clone(), text, copies, shape, origin: entry.origin };
        if let Some(piece) = self.pieces.get_mut(entry.piece.index()) {
            let same = piece.marks.iter_mut().find(|m| m.name == mark.name && m.shape == mark.shape);
            match same {
                // The same place on another copy of the piece is one mark on the drawing.
                Some(known) => known.copies.extend(mark.copies),
                None => piece.marks.push(mark),
            }
        }
    }
}

/// An `attach` line on its way.
struct Line<'p> {
    attach: &'p ast::Attach,
    number: u32,
    places: Vec<Where>,
    touches: Vec<EdgeSide>,
    job: AttachJob,
}

impl<'p> Line<'p> {
    fn new(attach: &'p ast::Attach, trade: &Trade) -> Self {
        let job = AttachJob {
            name: attach.name.text.clone(),
            first: AttachmentId::at(trade.attachments.len()),
            ids: Vec::new(),
            work: Vec::new(),
            places: Vec::new(),
            touches: Vec::new(),
            brings: Vec::new(),
            sewn: 0.0,
            row: Vec::new(),
            caught: false,
            origin: attach.span,
        };
        Self { attach, number: 0, places: Vec::new(), touches: Vec::new(), job }
    }

    /// Where on its edge it is said to sit.
    fn where_span(&self) -> Span {
        match &self.attach.where_ {
            AttachWhere::Along => self.attach.span,
            AttachWhere::Over(stretch) => stretch.span,
            AttachWhere::At(places) => places.span,
        }
    }

    fn push(&mut self, entry: ir::Attachment, trade: &mut Trade) {
        self.job.ids.push(AttachmentId::at(trade.attachments.len()));
        trade.attachments.push(entry);
    }

    /// Notes the work a component asks for on one edge.
    fn took(&mut self, value: &ComponentValue, spots: &[Spot]) {
        for work in &value.work {
            if !self.job.work.contains(work) {
                self.job.work.push(work.clone());
            }
        }
        self.job.caught |= value.catches > 0.0;
        if value.work.iter().any(|w| w.phase == WorkPhase::Sew) && value.sits == SitsAt::Stretch {
            self.job.sewn += spots.iter().map(|s| s.to - s.from).sum::<f64>();
        }
        self.job.places.append(&mut self.places);
        self.job.touches.append(&mut self.touches);
    }
}

/// For instructions: distances along the whole edge, or the stretch itself.
fn place_words(side: &EdgeSide, spots: &[Spot], edge_length: Length, stretch: bool) -> Where {
    let mut side = EdgeSide { from: Length::mm(0.0), to: edge_length, ..side.clone() };
    if let (true, Some(spot)) = (stretch, spots.first()) {
        side.from = Length::mm(spot.from);
        side.to = Length::mm(spot.to);
        if (side.to - side.from).is_same(edge_length) {
            return Where { side, distances: Vec::new(), from_end: String::new() };
        }
    }
    let from_end = spots.first().map(|s| s.from_end.clone()).unwrap_or_default();
    Where { side, distances: spots.iter().map(|s| Length::mm(s.distance)).collect(), from_end }
}
