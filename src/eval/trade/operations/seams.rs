//! Why seams and hems must follow each other.

use super::Bench;
use super::reasons::{Layer, same};
use super::turning::AT;
use crate::geometry::Point;
use crate::ir::{EdgeId, EdgeSide, OperationId, OperationKind, PieceId, SLIT, SeamForm, SeamId};
use std::collections::BTreeSet;

impl Bench<'_, '_> {
    pub(super) fn layers(&self, seam: SeamId) -> Vec<Layer> {
        match self.trade.seams.get(seam.index()).map(|s| &s.form) {
            Some(SeamForm::Join(join)) => join.first.iter().chain(&join.second).map(|s| (s.piece, s.copy)).collect(),
            Some(SeamForm::Stack(stack)) => stack.layers.iter().map(|l| (l.piece, l.copy)).collect(),
            None => Vec::new(),
        }
    }

    /// Every edge stretch a seam sews, layer by layer.
    pub(super) fn seam_edges(&self, seam: SeamId) -> Vec<EdgeSide> {
        match self.trade.seams.get(seam.index()).map(|s| &s.form) {
            Some(SeamForm::Join(join)) => join.first.iter().chain(&join.second).filter(|s| s.line.is_none()).cloned().collect(),
            Some(SeamForm::Stack(stack)) => {
                let mut all = Vec::new();
                for layer in &stack.layers {
                    let Some(piece) = self.evaluator.pieces.get(layer.piece.index()) else { continue };
                    for (i, edge) in piece.edges.iter().enumerate() {
                        if stack.edges.contains(&edge.name) {
                            all.push(self.evaluator.whole_edge(layer.piece, layer.copy, EdgeId::at(i)));
                        }
                    }
                }
                all
            }
            None => Vec::new(),
        }
    }

    pub(super) fn seam_reasons(&mut self, seam: SeamId) {
        use OperationKind::{Close, FinishSeam, Prepare, Turn};
        let Some(sewn) = self.sewn(seam) else { return };
        for (piece, _) in self.layers(seam) {
            if let Some(cut) = self.cut(piece) {
                self.follows(sewn, cut, "its pieces must be cut and marked");
            }
            if let Some(shape) = self.shape(piece) {
                self.follows(sewn, shape, "darts and pleats end in it or beside it");
            }
        }
        if let Some(prepare) = self.of_seam(seam, Prepare) {
            self.follows(sewn, prepare, "it must be ready first");
        }
        let (trade, layers) = (self.trade, self.layers(seam));
        for job in trade.jobs.attached.iter().filter(|j| layers.iter().any(|(p, _)| j.brings.contains(p))) {
            for op in [Prepare, OperationKind::Place].map(|k| self.of_attach(job.first, k)).into_iter().flatten() {
                self.follows(sewn, op, "it must be ready first");
            }
        }
        let Some(mut last) = self.joined(seam) else { return };
        self.follows(last, sewn, "its first row lies inside it");
        let because = ["its first row holds the edges together", "it is sewn and still inside out", "it must be right side out"];
        for (kind, because) in [FinishSeam, Turn, Close].into_iter().zip(because) {
            if let Some(next) = self.of_seam(seam, kind) {
                self.follows(next, last, because);
                last = next;
            }
        }
    }

    /// Whether a hem must come before a seam (true) or after one (false), as far as the seams say.
    pub(super) fn hem_is_early(&self, piece: PieceId, edge: EdgeId) -> Option<bool> {
        let count = self.evaluator.pieces.get(piece.index()).map(|p| p.edges.len())?;
        let beside = [(edge.index() + count - 1) % count, (edge.index() + 1) % count];
        let mut late = None;
        for index in 0..self.trade.seams.len() {
            let sewn = self.seam_edges(SeamId::at(index));
            let join = matches!(self.trade.seams.get(index).map(|s| &s.form), Some(SeamForm::Join(_)));
            let along = sewn.iter().any(|s| s.piece == piece && s.edge == edge);
            let meets = sewn.iter().any(|s| s.piece == piece && beside.contains(&s.edge.index()));
            if along || meets && !join {
                return Some(true);
            }
            if meets {
                late = Some(false);
            }
        }
        late
    }

    /// A hem that runs across the end of a join comes after it and shuts its raw end in; beside a stack it comes before.
    pub(super) fn hem_reasons(&mut self) {
        for (hem, piece, edges) in self.hems.clone() {
            let Some(count) = self.evaluator.pieces.get(piece.index()).map(|p| p.edges.len()) else { continue };
            let beside: Vec<usize> = edges.iter().flat_map(|e| [(e.index() + count - 1) % count, (e.index() + 1) % count]).collect();
            for index in 0..self.trade.seams.len() {
                let seam = SeamId::at(index);
                let sewn = self.seam_edges(seam);
                let meets = sewn.iter().any(|s| s.piece == piece && beside.contains(&s.edge.index()) && !edges.contains(&s.edge));
                let along = sewn.iter().any(|s| s.piece == piece && edges.contains(&s.edge));
                let (Some(first), Some(done)) = (self.sewn(seam), self.done(seam)) else { continue };
                let join = matches!(self.trade.seams.get(index).map(|s| &s.form), Some(SeamForm::Join(_)));
                if along {
                    self.follows(first, hem, "the seam runs along the finished edge");
                } else if meets && join {
                    self.follows(hem, done, "the hem shuts its raw end in");
                } else if meets {
                    self.follows(first, hem, "the seam crosses the finished ends");
                }
            }
        }
    }

    /// A hem that is a casing comes after the hems at its ends, which would be sewn across its mouths.
    pub(super) fn casing_reasons(&mut self) {
        for (casing, piece, edges) in self.hems.clone() {
            let all = self.evaluator.pieces.get(piece.index()).map_or(&[][..], |p| p.edges.as_slice());
            let is_casing = |e: &EdgeId| all.get(e.index()).and_then(|e| e.finish.as_ref()).is_some_and(|f| f.casing_for.is_some());
            let count = all.len();
            let beside = |e: &EdgeId| edges.iter().any(|c| [(c.index() + 1) % count, (c.index() + count - 1) % count].contains(&e.index()));
            let ends: Vec<OperationId> = match edges.iter().any(is_casing) {
                true => self
                    .hems
                    .iter()
                    .filter(|(_, p, e)| *p == piece && !e.iter().any(is_casing) && e.iter().any(beside))
                    .map(|h| h.0)
                    .collect(),
                false => Vec::new(),
            };
            for hem in ends {
                self.follows(casing, hem, "sewn later, it would shut the casing's mouth");
            }
        }
    }

    /// A seam that runs across the end of another comes after it: the rim of a tube after the tube's side,
    /// a boxed corner after the seams that meet in it.
    pub(super) fn crossing_reasons(&mut self) {
        for later in 0..self.trade.seams.len() {
            let later = SeamId::at(later);
            for earlier in 0..self.trade.seams.len() {
                let earlier = SeamId::at(earlier);
                if earlier != later
                    && self.crosses(later, earlier)
                    && !self.runs_through(earlier, later)
                    && let (Some(sewn), Some(done)) = (self.sewn(later), self.done_flat(earlier))
                {
                    self.follows(sewn, done, "the next seam runs across its end");
                    // What crosses a stack that is turned, as a boxed corner does, is sewn before the turning.
                    if let (Some(turn), Some(crossed)) = (self.of_seam(earlier, OperationKind::Turn), self.done_inside(later))
                        && !self.waits_for(crossed, turn)
                    {
                        self.follows(turn, crossed, "it is sewn while the work is inside out");
                    }
                }
            }
        }
    }

    /// Seams that end in one corner take turns: the first is finished before the next one catches its allowances.
    pub(super) fn corner_reasons(&mut self) {
        let ends: Vec<Vec<(Layer, Point)>> = (0..self.trade.seams.len()).map(|seam| self.ends(SeamId::at(seam))).collect();
        let meet = |a: &[(Layer, Point)], b: &[(Layer, Point)]| {
            a.iter().any(|(layer, at)| b.iter().any(|(other, there)| same(layer, other) && at.distance(*there) <= AT))
        };
        for (earlier, one) in ends.iter().enumerate() {
            for (later, _) in ends.iter().enumerate().skip(earlier + 1).filter(|(_, other)| meet(one, other)) {
                let (one, other) = (SeamId::at(earlier), SeamId::at(later));
                // Flat before closed, then the source: where nothing else decides.
                let [a, b] = if self.closes_tube(one) && !self.closes_tube(other) { [other, one] } else { [one, other] };
                for [first, next] in [[a, b], [b, a]] {
                    if let (Some(sewn), Some(done)) = (self.sewn(next), self.done_flat(first)) {
                        self.advised(sewn, done, "the next seam catches its end");
                    }
                }
            }
        }
    }

    fn closes_tube(&self, seam: SeamId) -> bool {
        matches!(self.trade.seams.get(seam.index()).map(|s| &s.form), Some(SeamForm::Join(join)) if join.closes_tube())
    }

    /// Where the stretches end that a seam sews.
    fn ends(&self, seam: SeamId) -> Vec<(Layer, Point)> {
        let stretch = |side: &EdgeSide| Some(((side.piece, side.copy), self.path_of(side)?));
        self.seam_edges(seam).iter().filter_map(stretch).flat_map(|(layer, path)| [(layer, path.start), (layer, path.end())]).collect()
    }

    /// What is turned through an opening in a join, or through an open edge, has all its other seams by then.
    pub(super) fn turning_reasons(&mut self) {
        for index in 0..self.trade.seams.len() {
            let seam = SeamId::at(index);
            let waits = self.trade.seams.get(index).is_some_and(|s| match &s.form {
                SeamForm::Join(_) => true,
                SeamForm::Stack(stack) => stack.opening.is_none(),
            });
            let (true, Some(turn)) = (waits, self.of_seam(seam, OperationKind::Turn)) else { continue };
            for other in self.connected(seam) {
                if let Some(done) = self.done_inside(other).filter(|done| !self.waits_for(*done, turn)) {
                    self.follows(turn, done, "it is sewn while the work is inside out");
                }
            }
        }
    }

    /// The other seams of the pieces that a seam joins, and of those that these are sewn to.
    pub(super) fn connected(&self, seam: SeamId) -> Vec<SeamId> {
        let (mut pieces, mut found) = (self.layers(seam), vec![seam]);
        while let Some(next) = (0..self.trade.seams.len())
            .map(SeamId::at)
            .find(|s| !found.contains(s) && self.layers(*s).iter().any(|l| pieces.iter().any(|p| same(l, p))))
        {
            pieces.extend(self.layers(next));
            found.push(next);
        }
        found.retain(|s| *s != seam);
        found
    }

    /// Whether an act waits for another, by whatever way round.
    pub(super) fn waits_for(&self, act: OperationId, other: OperationId) -> bool {
        let (mut seen, mut path) = (BTreeSet::new(), vec![act]);
        while let Some(at) = path.pop() {
            if at == other {
                return true;
            }
            if seen.insert(at) {
                path.extend(self.list.get(at.index()).into_iter().flat_map(|o| o.after.iter().map(|a| a.operation)));
            }
        }
        false
    }

    /// The last act of a seam that what it hangs together with may be turned after.
    fn done_inside(&self, seam: SeamId) -> Option<OperationId> {
        if self.is_shown(seam) { self.joined(seam) } else { self.done(seam) }
    }

    /// The last act of a seam before it is turned.
    pub(super) fn done_flat(&self, seam: SeamId) -> Option<OperationId> {
        self.of_seam(seam, OperationKind::FinishSeam).filter(|_| !self.is_shown(seam)).or_else(|| self.joined(seam))
    }

    /// Whether one side of `later` runs across an end of `earlier`: its chain touches both sides of that seam.
    fn crosses(&self, later: SeamId, earlier: SeamId) -> bool {
        match self.trade.seams.get(later.index()).map(|s| &s.form) {
            Some(SeamForm::Join(join)) => [&join.first, &join.second].into_iter().any(|chain| self.chain_crosses(chain, earlier)),
            // All edges of a stack are sewn in one round, which runs across the end of a join beside them.
            Some(SeamForm::Stack(_)) => {
                let (round, join) = (self.seam_edges(later), self.seam_edges(earlier));
                let apart = join.iter().all(|j| round.iter().all(|r| (r.piece, r.edge) != (j.piece, j.edge)));
                let is_join = matches!(self.trade.seams.get(earlier.index()).map(|s| &s.form), Some(SeamForm::Join(_)));
                is_join && apart && self.chain_crosses(&round, earlier) && !self.crosses(earlier, later)
            }
            None => false,
        }
    }

    /// Whether a chain of `seam` goes on from one side of the join `other` to its other side, with `then`.
    fn runs_through(&self, seam: SeamId, other: SeamId) -> bool {
        let form = |id: SeamId| self.trade.seams.get(id.index()).map(|s| &s.form);
        let (Some(SeamForm::Join(join)), Some(SeamForm::Join(across))) = (form(seam), form(other)) else { return false };
        let touches = |run: &EdgeSide, sides: &[EdgeSide]| self.corners_met(run, sides) > 0;
        [&join.first, &join.second].into_iter().any(|chain| {
            chain.iter().zip(chain.iter().skip(1)).any(|(a, b)| {
                touches(a, &across.first) && touches(b, &across.second) || touches(a, &across.second) && touches(b, &across.first)
            })
        })
    }

    fn chain_crosses(&self, chain: &[EdgeSide], earlier: SeamId) -> bool {
        let beside = |sides: &[EdgeSide]| chain.iter().map(|run| self.corners_met(run, sides)).sum::<usize>();
        match self.trade.seams.get(earlier.index()).map(|s| &s.form) {
            Some(SeamForm::Join(join)) => beside(&join.first) > 0 && beside(&join.second) > 0,
            // A stack's edges lie on each other: two runs of a chain that both end in it meet there.
            Some(SeamForm::Stack(_)) => chain.len() > 1 && beside(&self.seam_edges(earlier)) > 1,
            None => false,
        }
    }

    /// At how many of the corners that a run reaches it meets one of these stretches.
    fn corners_met(&self, run: &EdgeSide, sides: &[EdgeSide]) -> usize {
        let Some(piece) = self.evaluator.pieces.get(run.piece.index()) else { return 0 };
        let follows = |first: &EdgeSide, second: &EdgeSide| {
            let length = |side: &EdgeSide| piece.edges.get(side.edge.index()).map_or(0.0, |e| e.length.as_mm());
            let adjoin = (first.edge.index() + 1) % piece.edges.len().max(1) == second.edge.index();
            adjoin && length(first) - first.to.as_mm() <= SLIT && second.from.as_mm() <= SLIT
        };
        let on_it = |side: &&EdgeSide| side.line.is_none() && same(&(side.piece, side.copy), &(run.piece, run.copy));
        let before = sides.iter().filter(on_it).any(|side| follows(side, run));
        let after = sides.iter().filter(on_it).any(|side| follows(run, side));
        usize::from(before) + usize::from(after)
    }
}
