//! Turning work right side out, and closing the opening it went through.

use super::Bench;
use super::acts::{act, join_words, sentences, upper_start, whole};
use super::joins::LEFT;
use super::reasons::{TACKED, same};
use crate::eval::finish::FinishValue;
use crate::eval::trade::AttachJob;
use crate::geometry::{Path, Point, Segment};
use crate::ir::{
    Attachment, EdgeId, EdgeSide, MaterialKind, OperationKind, Piece, PieceId, Pin, Place, SeamForm, SeamId, Stack, Subject, Text,
    Together, Use, Where, laid_on, lines_an_edge,
};
use crate::quantity::Length;
use crate::syntax::ast::WorkPhase;
use std::f64::consts::PI;

/// Edges that meet at less than this run on into each other, in radians: 20 degrees.
const CORNER: f64 = 0.35;

impl Bench<'_, '_> {
    pub(super) fn turn_acts(&mut self, id: SeamId, close: Option<&FinishValue>) {
        let Some(seam) = self.trade.seams.get(id.index()) else { return };
        let Some(opening) = seam.form.opening() else { return };
        let mut turn = act(&seam.name, OperationKind::Turn, Subject::Seam(id), opening.origin);
        turn.what = self.before_turning(&self.turned_with(id), "reach in through the opening");
        let place = Where { side: opening.side.clone(), distances: vec![opening.distance], from_end: opening.from_end.clone() };
        turn.places = vec![place];
        let gap = opening.side.to - opening.side.from;
        let close = close.map(|finish| {
            let mut op = act(&seam.name, OperationKind::Close, Subject::Seam(id), finish.origin);
            op.what =
                Text::words("Close the opening: ").text(sentences(&finish.work, &[WorkPhase::Prepare, WorkPhase::Sew], "stitch it shut"));
            op.stitch.clone_from(&finish.stitch);
            op.sewn = gap * f64::from(finish.rows);
            op.plies = 4;
            op.places = turn.places.clone();
            op
        });
        self.push(turn);
        if let Some(op) = close {
            self.push(op);
        }
    }

    /// A stack that is open along an edge is turned through that, once what else is sewn to it inside out is.
    pub(super) fn open_turn_act(&mut self, id: SeamId) {
        let trade = self.trade;
        let Some(seam) = trade.seams.get(id.index()) else { return };
        let SeamForm::Stack(stack) = &seam.form else { return };
        let layers = self.layers(id);
        let other_turns = trade.seams.iter().enumerate().any(|(index, other)| {
            let later = index > id.index() && matches!(&other.form, SeamForm::Stack(s) if is_open_bag(s));
            let shares = self.layers(SeamId::at(index)).iter().filter(|l| layers.contains(l)).count() > 1;
            shares && index != id.index() && (later || other.form.opening().is_some())
        });
        if !is_open_bag(stack) || other_turns {
            return;
        }
        let Some(base) = stack.layers.first() else { return };
        let Some(piece) = self.piece(base.piece) else { return };
        let sewn: Vec<EdgeId> = (0..trade.seams.len())
            .flat_map(|seam| self.seam_edges(SeamId::at(seam)))
            .filter(|s| same(&(s.piece, s.copy), &(base.piece, base.copy)))
            .map(|s| s.edge)
            .collect();
        let edges = piece.edges.iter().enumerate().map(|(i, e)| (EdgeId::at(i), e.name.clone()));
        let open: Vec<(EdgeId, String)> = edges.filter(|(e, _)| !sewn.contains(e)).collect();
        if open.is_empty() {
            return;
        }
        let names: Vec<&str> = open.iter().map(|(_, n)| n.as_str()).collect();
        let sides: Vec<EdgeSide> = open.iter().map(|(e, _)| self.evaluator.whole_edge(base.piece, base.copy, *e)).collect();
        let mut turn = act(&seam.name, OperationKind::Turn, Subject::Seam(id), seam.origin);
        turn.what = self.before_turning(&[id], &self.reach_in(&names, &sides));
        turn.places = sides.iter().cloned().map(whole).collect();
        self.push(turn);
        self.opened_before(&sides);
    }

    /// The seams that are turned through the opening of one: all that hang together with a join, and a stack by itself.
    fn turned_with(&self, id: SeamId) -> Vec<SeamId> {
        let join = matches!(self.trade.seams.get(id.index()).map(|s| &s.form), Some(SeamForm::Join(_)));
        if join { [id].into_iter().chain(self.connected(id)).collect() } else { vec![id] }
    }

    /// A bag that joins alone have made, its faces inside and somewhere open, is turned when all of them are sewn, unless a step says so.
    pub(super) fn bag_acts(&mut self) {
        let trade = self.trade;
        let mut seen: Vec<SeamId> = Vec::new();
        for seam in (0..trade.seams.len()).map(SeamId::at) {
            if seen.contains(&seam) {
                continue;
            }
            let mut bag: Vec<SeamId> = [seam].into_iter().chain(self.connected(seam)).collect();
            bag.sort_unstable();
            seen.extend(&bag);
            let form = |s: &SeamId| trade.seams.get(s.index()).map(|s| &s.form);
            let joins = bag.iter().all(|s| matches!(form(s), Some(SeamForm::Join(j)) if j.opening.is_none()));
            let inside_out = bag.iter().any(|s| matches!(form(s), Some(SeamForm::Join(j)) if j.together == Together::Faces));
            if joins && inside_out && !trade.jobs.steps.iter().any(|s| s.turns) && !self.meetings.lie_flat(&bag) && !self.hangs_open(&bag) {
                self.bag_act(bag);
            }
        }
    }

    /// Whether every piece is open along half of its outline or more, in one run, as the two of a poncho are: that is no bag.
    fn hangs_open(&self, seams: &[SeamId]) -> bool {
        let sewn: Vec<EdgeSide> = seams.iter().flat_map(|s| self.seam_edges(*s)).collect();
        seams.iter().flat_map(|s| self.layers(*s)).all(|layer| {
            let Some(piece) = self.piece(layer.0) else { return false };
            let is_sewn = |edge: usize| sewn.iter().any(|s| same(&(s.piece, s.copy), &layer) && s.edge.index() == edge);
            let (mut longest, mut run) = (0.0_f64, 0.0);
            // Twice round, since a run may go on past the first edge.
            for (index, edge) in piece.edges.iter().enumerate().cycle().take(2 * piece.edges.len()) {
                run = if is_sewn(index) { 0.0 } else { run + edge.length.as_mm() };
                longest = longest.max(run);
            }
            longest >= piece.edges.iter().map(|e| e.length.as_mm()).sum::<f64>() / 2.0
        })
    }

    fn bag_act(&mut self, bag: Vec<SeamId>) {
        // What is laid on another piece, and sewn to a line on that, shuts none of its edges.
        let laid = laid_on(&self.trade.seams);
        let lines = |s: &SeamId| self.trade.seams.get(s.index()).is_some_and(|s| lines_an_edge(s, &laid)) && self.seam_edges(*s).len() > 1;
        let sewn: Vec<EdgeSide> = bag.iter().filter(|s| !lines(s)).flat_map(|s| self.seam_edges(*s)).collect();
        let mut open: Vec<(EdgeSide, String)> = Vec::new();
        for (id, copy) in bag.iter().flat_map(|s| self.layers(*s)) {
            let Some(piece) = self.piece(id) else { continue };
            for (index, edge) in piece.edges.iter().enumerate() {
                let side = self.evaluator.whole_edge(id, copy, EdgeId::at(index));
                let is = |s: &EdgeSide| (s.piece, s.copy, s.edge) == (side.piece, side.copy, side.edge);
                if !sewn.iter().any(is) && !open.iter().any(|(s, _)| is(s)) {
                    open.push((side, edge.name.clone()));
                }
            }
        }
        let Some(last) = bag.last().and_then(|s| self.trade.seams.get(s.index())).filter(|_| !open.is_empty()) else { return };
        let mut names: Vec<&str> = Vec::new();
        for (_, name) in &open {
            if !names.contains(&name.as_str()) {
                names.push(name);
            }
        }
        let mut turn = act(&last.name, OperationKind::Turn, Subject::Whole, last.origin);
        let sides: Vec<EdgeSide> = open.iter().map(|(side, _)| side.clone()).collect();
        turn.what = self.before_turning(&bag, &self.reach_in(&names, &sides));
        turn.places = sides.iter().cloned().map(whole).collect();
        let turn = self.push(turn);
        self.bags.push((turn, bag));
        self.opened_before(&sides);
    }

    fn reach_in(&self, names: &[&str], open: &[EdgeSide]) -> String {
        let by = self.zipped(open).map(|job| format!(", through {}", job.name)).unwrap_or_default();
        format!("reach in at the open {}{by}", join_words(names))
    }

    /// The zipper that shuts everything a bag is open along, if one does that doesn't come apart.
    fn zipped(&self, open: &[EdgeSide]) -> Option<&AttachJob> {
        let trade = self.trade;
        trade.jobs.attached.iter().find(|job| {
            let halves = || job.ids.iter().filter_map(|id| trade.attachments.get(id.index())).filter(|a| a.pair.is_some());
            let material = |u: &Use| self.evaluator.materials.get(u.material.index());
            let zipper = |a: &Attachment| a.uses.iter().filter_map(material).any(|m| m.kind == MaterialKind::Zipper && !m.separating);
            let lies_on = |a: &Attachment, side: &EdgeSide| matches!(a.place, Place::Edge { edge, stretch: true, .. } if edge == side.edge);
            let shuts = |side: &EdgeSide| halves().any(|a| lies_on(a, side) && same(&(a.piece, a.copy), &(side.piece, side.copy)));
            halves().any(zipper) && open.iter().all(shuts)
        })
    }

    /// A zipper is opened while there is still a way to its slider.
    fn opened_before(&mut self, open: &[EdgeSide]) {
        let Some(job) = self.zipped(open) else { return };
        let (first, named) = (job.first, &job.name);
        let mut op = act(named, OperationKind::Extra, Subject::Attachment(first), job.origin);
        op.what =
            Text::words(format!("Open the zipper half way: once the work is sewn shut round it, it is turned through there ({named})"));
        op.places.clone_from(&job.places);
        let op = self.push(op);
        self.opened.push((op, first));
    }

    pub(super) fn opened_reasons(&mut self) {
        let trade = self.trade;
        for (op, first) in self.opened.clone() {
            let Some(job) = trade.jobs.attached.iter().find(|j| j.first == first) else { continue };
            for set in [OperationKind::Place, OperationKind::SewOn].iter().filter_map(|k| self.of_attach(first, *k)).collect::<Vec<_>>() {
                self.follows(op, set, "it must be sewn in");
            }
            let on = self.sits_on(job);
            for seam in (0..trade.seams.len()).map(SeamId::at) {
                if let Some(sewn) = self.sewn(seam).filter(|_| self.layers(seam).iter().any(|l| on.iter().any(|o| same(l, o)))) {
                    self.advised(sewn, op, "there is no other way to turn the work");
                }
            }
        }
    }

    /// All seams and hems of a bag are sewn while it is inside out, and cords drawn in once it is not.
    pub(super) fn bag_reasons(&mut self) {
        for (turn, bag) in self.bags.clone() {
            for tacked in bag.iter().flat_map(|s| self.tacked_in(*s)).collect::<Vec<_>>() {
                self.advised(turn, tacked, TACKED);
            }
            let layers: Vec<_> = bag.iter().flat_map(|s| self.layers(*s)).collect();
            let hems = self.hems.iter().filter(|(_, p, _)| layers.iter().any(|(l, _)| l == p)).map(|(op, ..)| *op);
            let first: Vec<_> = bag.iter().filter_map(|s| self.done_flat(*s)).chain(hems).collect();
            for op in first {
                if !self.waits_for(op, turn) {
                    self.follows(turn, op, "it is sewn while the work is inside out");
                }
            }
            let trade = self.trade;
            for job in &trade.jobs.attached {
                let on = job.ids.iter().filter_map(|id| trade.attachments.get(id.index()));
                let cased = on.into_iter().any(|a| a.needs_casing && layers.iter().any(|l| same(l, &(a.piece, a.copy))));
                if let Some(complete) = self.of_attach(job.first, OperationKind::Complete).filter(|op| cased && !self.waits_for(turn, *op))
                {
                    self.follows(complete, turn, "the work must be right side out");
                }
            }
        }
    }

    /// Whether joins that meet in a corner leave a point there to push out: less cloth lies round it than would lie flat, by far.
    fn comes_to_a_point(&self, seams: &[SeamId]) -> bool {
        let join = |s: &&SeamId| matches!(self.trade.seams.get(s.index()).map(|s| &s.form), Some(SeamForm::Join(_)));
        let sewn: Vec<EdgeSide> = seams.iter().filter(join).flat_map(|s| self.seam_edges(*s)).collect();
        let is_sewn =
            |layer: (PieceId, Option<u32>), edge: usize| sewn.iter().any(|s| (s.piece, s.copy) == layer && s.edge.index() == edge);
        sewn.iter().any(|side| {
            let Some(piece) = self.piece(side.piece) else { return false };
            let Some(path) = piece.edges.get(side.edge.index()).map(|e| &e.path) else { return false };
            let layer = (side.piece, side.copy);
            let both = piece.edges.len() > 1 && is_sewn(layer, (side.edge.index() + 1) % piece.edges.len());
            let round = || self.meetings.brought(Pin { piece: side.piece, copy: side.copy, at: path.end() });
            let cloth = || round().iter().filter_map(|b| Some(angle_at(self.piece(b.pin.piece)?, b.pin.at))).sum::<f64>();
            both && cloth() < POINTED
        })
    }

    /// Whether a seam is sewn round a corner of a piece: along both of the edges that meet there.
    fn rounds_corner(&self, seam: SeamId) -> bool {
        let sewn = self.seam_edges(seam);
        sewn.iter().any(|a| {
            let Some(piece) = self.piece(a.piece) else { return false };
            let next = EdgeId::at((a.edge.index() + 1) % piece.edges.len().max(1));
            let both = sewn.iter().any(|b| (b.piece, b.copy, b.edge) == (a.piece, a.copy, next)) && a.edge != next;
            let edges = (piece.edges.get(a.edge.index()), piece.edges.get(next.index()));
            both && matches!(edges, (Some(a), Some(b)) if is_corner(&a.path, &b.path))
        })
    }

    /// What thins seams before they are turned, by what they run round, and the turning itself.
    fn before_turning(&self, seams: &[SeamId], reach: &str) -> Text {
        // Edges that a finish has enclosed are not cut into.
        let encloses = |s: &&SeamId| self.trade.seams.get(s.index()).is_some_and(|s| s.finish.as_ref().is_some_and(|f| f.encloses));
        let seams: Vec<SeamId> = seams.iter().filter(|s| !encloses(s)).copied().collect();
        let corners = seams.iter().any(|s| self.rounds_corner(*s)) || self.comes_to_a_point(&seams);
        let curves = seams.iter().flat_map(|s| self.seam_edges(*s)).any(|s| self.evaluator.edge_of(&s).is_ok_and(|e| is_curved(&e.path)));
        let left = |text: Text| text.length(Length::mm(LEFT)).then(" from the stitching, ");
        let mut text = Text::default();
        if corners {
            text = left(text.then("cut the allowances off across each corner, "));
        }
        if curves {
            text = left(text.then("snip the allowances every ").length(Length::mm(SNIPPED)).then(" along curves, to "));
        }
        let out = if corners { "corners and edges" } else { "the edges" };
        upper_start(text.then(format!("{reach}, turn the work right side out, and push {out} out to the seam")))
    }
}

/// How far apart (mm) the allowances are snipped along a curve.
const SNIPPED: f64 = 20.0;

/// Cloth round a corner, in radians: a flat place has 360 degrees, a corner of two layers 180, and one of a box 270.
const POINTED: f64 = 4.2;

/// How much of a piece lies round a place on its outline.
fn angle_at(piece: &Piece, at: Point) -> f64 {
    let next = piece.edges.iter().cycle().skip(1);
    let corner = piece.edges.iter().zip(next).find(|(a, _)| a.path.end().distance(at) <= AT);
    corner.map_or(PI, |(a, b)| PI - a.path.tangent_at_end().turn_to(b.path.tangent_at_start()))
}

/// A corner this near (mm) is the one that is meant.
pub(super) const AT: f64 = 2.0;

/// Whether a stack lies with its faces inside and is open along an edge.
fn is_open_bag(stack: &Stack) -> bool {
    let faces_in =
        stack.layers.first().is_some_and(|l| l.face_up == Some(true)) && stack.layers.last().is_some_and(|l| l.face_up == Some(false));
    !stack.around && stack.opening.is_none() && faces_in
}

/// Whether two edges that follow each other meet in a corner that points out.
pub(super) fn is_corner(a: &Path, b: &Path) -> bool {
    a.tangent_at_end().turn_to(b.tangent_at_start()) > CORNER
}

fn is_curved(path: &Path) -> bool {
    path.segments.iter().any(|s| !matches!(s, Segment::Line { .. }))
}
