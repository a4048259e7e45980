//! Why one act must follow another.

use super::Bench;
use crate::eval::trade::AttachJob;
use crate::ir::{EdgeId, EdgeSide, OperationId, OperationKind, PieceId, SeamForm, SeamId, Subject};

/// A piece and the copy of it; none stands for the only one, or for all.
type Layer = (PieceId, Option<u32>);

impl Bench<'_, '_> {
    pub(super) fn write_reasons(&mut self) {
        self.after_cutting();
        let trade = self.trade;
        for job in &trade.jobs.attached {
            self.attach_reasons(job);
        }
        for index in 0..trade.applied.len() {
            self.apply_reasons(index);
        }
        for index in 0..trade.quilting.len() {
            self.quilt_reasons(index);
        }
        for index in 0..trade.seams.len() {
            self.seam_reasons(SeamId::at(index));
        }
        self.hem_reasons();
        self.crossing_reasons();
        self.step_reasons();
    }

    fn after_cutting(&mut self) {
        for (index, piece) in self.evaluator.pieces.iter().enumerate() {
            let id = PieceId::at(index);
            let Some(cut) = self.cut(id) else { continue };
            let because = format!("{} must be cut and marked", piece.label);
            for op in self.all(|o| o.kind != OperationKind::Cut && o.subject == Subject::Piece(id)) {
                self.follows(op, cut, &because);
            }
            if let Some(shape) = self.shape(id) {
                for hem in self.hems_of(id) {
                    self.follows(hem, shape, "the darts and pleats end in this edge");
                }
            }
        }
    }

    fn shape(&self, piece: PieceId) -> Option<OperationId> {
        self.all(|o| o.kind == OperationKind::Shape && o.subject == Subject::Piece(piece)).first().copied()
    }

    fn hems_of(&self, piece: PieceId) -> Vec<OperationId> {
        self.hems.iter().filter(|(_, p, _)| *p == piece).map(|(op, _, _)| *op).collect()
    }

    /// Pieces an `attach` line sits on.
    fn sits_on(&self, job: &AttachJob) -> Vec<Layer> {
        let mut all: Vec<Layer> = Vec::new();
        for id in &job.ids {
            if let Some(a) = self.trade.attachments.get(id.index())
                && !all.contains(&(a.piece, a.copy))
            {
                all.push((a.piece, a.copy));
            }
        }
        all
    }

    fn attach_reasons(&mut self, job: &AttachJob) {
        use OperationKind::{Complete, Place, Prepare, SewOn};
        let [prepare, place, sew, complete] = [Prepare, Place, SewOn, Complete].map(|k| self.of_attach(job.first, k));
        let chain: Vec<OperationId> = [prepare, place, sew, complete].into_iter().flatten().collect();
        for pair in chain.windows(2) {
            if let [earlier, later] = pair {
                self.follows(*later, *earlier, "it must be ready first");
            }
        }
        if let Some(&first) = chain.first() {
            for &piece in &job.brings {
                if let Some(cut) = self.cut(piece) {
                    self.follows(first, cut, "its own piece must be cut");
                }
            }
        }
        let on = self.sits_on(job);
        for op in [place, sew, complete].into_iter().flatten() {
            for (piece, _) in &on {
                if let Some(cut) = self.cut(*piece) {
                    self.follows(op, cut, "its place must be cut and marked");
                }
                if let Some(shape) = self.shape(*piece) {
                    self.follows(op, shape, "darts and pleats move its place");
                }
            }
        }
        let touched = self.touched(job);
        for (hem, piece, edges) in self.hems.clone() {
            let on_hem = touched.iter().any(|s| s.piece == piece && edges.contains(&s.edge));
            if !on_hem {
                continue;
            }
            for op in [place, sew].into_iter().flatten() {
                if job.caught {
                    self.follows(hem, op, "the hem catches it");
                } else {
                    self.follows(op, hem, "it is set on the finished hem");
                }
            }
            if let Some(complete) = complete {
                self.follows(complete, hem, "its hem must be sewn");
            }
        }
        self.attach_before_seams(job, &[place, sew].into_iter().flatten().collect::<Vec<_>>(), complete, &on, &touched);
    }

    /// Flat before closed: what is set on a piece comes before the seams that close it, unless its hem comes after them.
    fn attach_before_seams(
        &mut self,
        job: &AttachJob,
        early: &[OperationId],
        complete: Option<OperationId>,
        on: &[Layer],
        touched: &[EdgeSide],
    ) {
        // What goes into or on a hem waits for it; the hem knows its own place among the seams.
        let along = |p: PieceId, edges: &[EdgeId]| job.places.iter().any(|w| w.side.piece == p && edges.contains(&w.side.edge));
        let after_hem = self.hems.iter().any(|(_, p, edges)| along(*p, edges));
        for index in 0..self.trade.seams.len() {
            let seam = SeamId::at(index);
            let (Some(sewn), Some(done)) = (self.sewn(seam), self.done(seam)) else { continue };
            if !self.layers(seam).iter().any(|l| on.iter().any(|o| same(l, o))) {
                continue;
            }
            let edges = self.seam_edges(seam);
            let catches = touched.iter().any(|s| edges.iter().any(|e| e.piece == s.piece && e.edge == s.edge && overlap(e, s)));
            for &op in early {
                if catches {
                    self.follows(sewn, op, "this seam catches it");
                } else if !after_hem {
                    self.follows(sewn, op, "the piece still lies flat");
                }
            }
            if let Some(complete) = complete {
                self.follows(complete, done, "the seams round it must be done");
            }
        }
    }

    /// The edge stretches an `attach` line touches.
    fn touched(&self, job: &AttachJob) -> Vec<EdgeSide> {
        let mut all: Vec<EdgeSide> = job.places.iter().map(|w| w.side.clone()).collect();
        all.extend(job.touches.iter().cloned());
        all
    }

    fn layers(&self, seam: SeamId) -> Vec<Layer> {
        match self.trade.seams.get(seam.index()).map(|s| &s.form) {
            Some(SeamForm::Join(join)) => join.first.iter().chain(&join.second).map(|s| (s.piece, s.copy)).collect(),
            Some(SeamForm::Stack(stack)) => stack.layers.iter().map(|l| (l.piece, l.copy)).collect(),
            None => Vec::new(),
        }
    }

    /// Every edge stretch a seam sews, layer by layer.
    fn seam_edges(&self, seam: SeamId) -> Vec<EdgeSide> {
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

    fn apply_reasons(&mut self, index: usize) {
        let Some(applied) = self.trade.applied.get(index) else { return };
        let subject = Subject::Applied(u32::try_from(index).unwrap_or(u32::MAX));
        let Some(op) = self.all(|o| o.subject == subject).first().copied() else { return };
        let (piece, onto, copy) = (applied.piece, applied.onto, applied.onto_copy);
        for id in [piece, onto] {
            if let Some(cut) = self.cut(id) {
                self.follows(op, cut, "both pieces must be cut and marked");
            }
        }
        for hem in self.hems_of(piece) {
            self.follows(op, hem, "its free edge is finished while it is loose");
        }
        for job in 0..self.trade.jobs.attached.len() {
            let Some(job) = self.trade.jobs.attached.get(job) else { continue };
            // What sits on the applied piece itself goes on before it is sewn down; what sits on the face
            // under it and on top of it, after.
            let on_piece = self.sits_on(job).iter().any(|(p, _)| *p == piece);
            let on_face = job.places.is_empty() && self.sits_on(job).iter().any(|o| same(o, &(onto, copy)));
            for kind in [OperationKind::Place, OperationKind::SewOn] {
                if let Some(other) = self.of_attach(job.first, kind) {
                    if on_piece {
                        self.follows(op, other, "it is still loose");
                    } else if on_face && job.touches.is_empty() {
                        self.follows(other, op, "it is sewn through what lies under it");
                    }
                }
            }
        }
        self.before_seams_of(op, &[(onto, copy)], "the piece still lies flat");
    }

    fn before_seams_of(&mut self, op: OperationId, layers: &[Layer], because: &str) {
        for index in 0..self.trade.seams.len() {
            let seam = SeamId::at(index);
            if let Some(sewn) = self.sewn(seam)
                && self.layers(seam).iter().any(|l| layers.iter().any(|o| same(l, o)))
            {
                self.follows(sewn, op, because);
            }
        }
    }

    fn quilt_reasons(&mut self, index: usize) {
        let Some(quilt) = self.trade.quilting.get(index) else { return };
        let subject = Subject::Quilting(u32::try_from(index).unwrap_or(u32::MAX));
        let Some(op) = self.all(|o| o.subject == subject).first().copied() else { return };
        for (piece, _) in &quilt.layers {
            if let Some(cut) = self.cut(*piece) {
                self.follows(op, cut, "its layers must be cut and marked");
            }
        }
        for index in 0..self.trade.seams.len() {
            let seam = SeamId::at(index);
            let layers = self.layers(seam);
            let holds = |l: &Layer| quilt.layers.iter().any(|q| same(q, l));
            if !layers.iter().any(holds) {
                continue;
            }
            let stacked = matches!(self.trade.seams.get(index).map(|s| &s.form), Some(SeamForm::Stack(_)));
            if stacked && layers.iter().all(holds) {
                if let Some(done) = self.done(seam) {
                    self.follows(op, done, "it goes through every layer of it");
                }
            } else if let Some(sewn) = self.sewn(seam) {
                self.follows(sewn, op, "the layers still lie flat and open");
            }
        }
    }

    fn seam_reasons(&mut self, seam: SeamId) {
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
        let mut last = sewn;
        let because = ["its first row holds the edges together", "it is sewn and still inside out", "it must be right side out"];
        for (kind, because) in [FinishSeam, Turn, Close].into_iter().zip(because) {
            if let Some(next) = self.of_seam(seam, kind) {
                self.follows(next, last, because);
                last = next;
            }
        }
    }

    /// A hem that runs across the end of a join comes after it and shuts its raw end in; beside a stack it comes before.
    fn hem_reasons(&mut self) {
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

    /// A seam that runs across the end of another comes after it: the rim of a tube after the tube's side,
    /// a boxed corner after the seams that meet in it.
    fn crossing_reasons(&mut self) {
        for later in 0..self.trade.seams.len() {
            let later = SeamId::at(later);
            for earlier in 0..self.trade.seams.len() {
                let earlier = SeamId::at(earlier);
                if earlier != later
                    && self.crosses(later, earlier)
                    && let (Some(sewn), Some(done)) = (self.sewn(later), self.done_flat(earlier))
                {
                    self.follows(sewn, done, "the next seam runs across its end");
                }
            }
        }
    }

    /// The last act of a seam before it is turned.
    fn done_flat(&self, seam: SeamId) -> Option<OperationId> {
        self.of_seam(seam, OperationKind::FinishSeam).or_else(|| self.sewn(seam))
    }

    /// Whether one side of `later` runs across an end of `earlier`: its chain touches both sides of that seam.
    fn crosses(&self, later: SeamId, earlier: SeamId) -> bool {
        let Some(SeamForm::Join(join)) = self.trade.seams.get(later.index()).map(|s| &s.form) else { return false };
        [&join.first, &join.second].into_iter().any(|chain| self.chain_crosses(chain, earlier))
    }

    fn chain_crosses(&self, chain: &[EdgeSide], earlier: SeamId) -> bool {
        let beside = |sides: &[EdgeSide]| {
            let meets = |(layer, edge): &(Layer, EdgeId)| sides.iter().any(|s| same(&(s.piece, s.copy), layer) && s.edge == *edge);
            chain.iter().flat_map(|run| self.neighbours(run)).filter(meets).count()
        };
        match self.trade.seams.get(earlier.index()).map(|s| &s.form) {
            Some(SeamForm::Join(join)) => beside(&join.first) > 0 && beside(&join.second) > 0,
            // A stack's edges lie on each other: two runs of a chain that both end in it meet there.
            Some(SeamForm::Stack(_)) => chain.len() > 1 && beside(&self.seam_edges(earlier)) > 1,
            None => false,
        }
    }

    fn neighbours(&self, side: &EdgeSide) -> Vec<(Layer, EdgeId)> {
        let Some(count) = self.evaluator.pieces.get(side.piece.index()).map(|p| p.edges.len()) else { return Vec::new() };
        let at = side.edge.index();
        [(at + count - 1) % count, (at + 1) % count].into_iter().map(|i| ((side.piece, side.copy), EdgeId::at(i))).collect()
    }

    fn step_reasons(&mut self) {
        let trade = self.trade;
        for step in &trade.jobs.steps {
            let Some(op) = self.all(|o| o.kind == OperationKind::Extra && o.name == step.name).first().copied() else { continue };
            for name in &step.after {
                // With something still to come after the step, what is completed at the very end can't be meant.
                let early = !step.before.is_empty();
                for other in self.all(|o| &o.name == name && !(early && o.kind == OperationKind::Complete)) {
                    self.follows(op, other, "the design asks for it in this order");
                }
            }
            for name in &step.before {
                let main = |k: OperationKind| !matches!(k, OperationKind::Cut | OperationKind::Prepare);
                let mut others = self.all(|o| &o.name == name && main(o.kind));
                if others.is_empty() {
                    others = self.all(|o| &o.name == name);
                }
                for other in others {
                    self.follows(other, op, "the design asks for it in this order");
                }
            }
            if step.after.is_empty() && step.before.is_empty() {
                for other in self.all(|o| o.kind == OperationKind::Cut) {
                    self.follows(op, other, "everything must be cut");
                }
            }
        }
    }
}

/// Whether two layers may be one: the same piece, and copies that do not differ.
fn same(a: &Layer, b: &Layer) -> bool {
    a.0 == b.0 && (a.1 == b.1 || a.1.is_none() || b.1.is_none())
}

/// Whether two stretches of one edge share more than an end; a place is a stretch of no length.
fn overlap(a: &EdgeSide, b: &EdgeSide) -> bool {
    (a.copy == b.copy || a.copy.is_none() || b.copy.is_none())
        && a.from.as_mm() <= b.to.as_mm() + 1e-6
        && b.from.as_mm() <= a.to.as_mm() + 1e-6
}
