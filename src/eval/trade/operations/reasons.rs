//! Why one act must follow another: cutting, attachments, work on the face, steps.

use super::Bench;
use crate::eval::trade::AttachJob;
use crate::ir::{EdgeId, EdgeSide, OperationId, OperationKind, PieceId, SeamForm, SeamId, Subject};
use crate::syntax::ast::WorkPhase;

/// A piece and the copy of it; none stands for the only one, or for all.
pub(super) type Layer = (PieceId, Option<u32>);

/// Why a loop is bartacked before the turning.
pub(super) const TACKED: &str = "the allowances can still be reached";

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
        self.casing_reasons();
        self.asked_reasons();
        self.chain_reasons();
        self.crossing_reasons();
        self.turning_reasons();
        self.bag_reasons();
        self.opened_reasons();
        self.shown_reasons();
        self.corner_reasons();
        self.take_advice();
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

    pub(super) fn shape(&self, piece: PieceId) -> Option<OperationId> {
        self.all(|o| o.kind == OperationKind::Shape && o.subject == Subject::Piece(piece)).first().copied()
    }

    fn hems_of(&self, piece: PieceId) -> Vec<OperationId> {
        self.hems.iter().filter(|(_, p, _)| *p == piece).map(|(op, _, _)| *op).collect()
    }

    /// Pieces an `attach` line sits on.
    pub(super) fn sits_on(&self, job: &AttachJob) -> Vec<Layer> {
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
                self.before_it_is_set(piece, [place, sew, complete]);
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

    /// What sits on a piece that an attachment brings goes on before that is set in its place.
    fn before_it_is_set(&mut self, piece: PieceId, chain: [Option<OperationId>; 3]) {
        let Some(set) = chain.into_iter().flatten().next() else { return };
        let trade = self.trade;
        for other in trade.jobs.attached.iter().filter(|j| self.sits_on(j).iter().any(|(p, _)| *p == piece)).collect::<Vec<_>>() {
            for op in [OperationKind::Place, OperationKind::SewOn].map(|k| self.of_attach(other.first, k)).into_iter().flatten() {
                self.follows(set, op, "it is still loose");
            }
        }
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
        let tacked = self.is_tacked(job);
        for index in 0..self.trade.seams.len() {
            let seam = SeamId::at(index);
            let (Some(sewn), Some(done), Some(flat)) = (self.sewn(seam), self.done(seam), self.done_flat(seam)) else { continue };
            if !self.layers(seam).iter().any(|l| on.iter().any(|o| same(l, o))) {
                continue;
            }
            let catches = self.catches(seam, touched);
            for &op in early {
                if catches && job.caught {
                    self.follows(sewn, op, "this seam catches it");
                } else if catches || !after_hem {
                    self.advised(sewn, op, "the piece still lies flat");
                }
            }
            if let Some(complete) = complete {
                if !tacked {
                    self.follows(complete, done, "the seams round it must be done");
                } else if catches {
                    self.follows(complete, flat, "it is sewn through this seam's allowances");
                    if let Some(turn) = self.of_seam(seam, OperationKind::Turn) {
                        self.advised(turn, complete, TACKED);
                    }
                }
            }
        }
    }

    /// Whether a seam takes in some of what an `attach` line touches.
    fn catches(&self, seam: SeamId, touched: &[EdgeSide]) -> bool {
        let edges = self.seam_edges(seam);
        touched.iter().any(|s| edges.iter().any(|e| e.piece == s.piece && e.edge == s.edge && overlap(e, s)))
    }

    /// Whether a thing by itself is completed with stitches through the seams that catch it, as a loop is bartacked.
    fn is_tacked(&self, job: &AttachJob) -> bool {
        let touched = self.touched(job);
        let pair = job.ids.iter().filter_map(|id| self.trade.attachments.get(id.index())).any(|a| a.pair.is_some());
        let stitched = job.work.iter().any(|w| w.phase == WorkPhase::Complete && w.stitch.is_some());
        job.caught && !pair && stitched && (0..self.trade.seams.len()).any(|seam| self.catches(SeamId::at(seam), &touched))
    }

    /// The acts that complete what a seam catches, through its allowances.
    pub(super) fn tacked_in(&self, seam: SeamId) -> Vec<OperationId> {
        let jobs = self.trade.jobs.attached.iter().filter(|j| self.is_tacked(j) && self.catches(seam, &self.touched(j)));
        jobs.filter_map(|j| self.of_attach(j.first, OperationKind::Complete)).collect()
    }

    /// The edge stretches an `attach` line touches.
    fn touched(&self, job: &AttachJob) -> Vec<EdgeSide> {
        let mut all: Vec<EdgeSide> = job.places.iter().map(|w| w.side.clone()).collect();
        all.extend(job.touches.iter().cloned());
        all
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
            if let Some(shape) = self.shape(id) {
                self.follows(op, shape, "darts and pleats change how it lies");
            }
        }
        self.after_quilting(op, (onto, copy));
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
        self.better_before_seams_of(op, (onto, copy), "the piece still lies flat");
    }

    /// Layers are quilted before anything is sewn on their face, or the quilting would sew that shut.
    fn after_quilting(&mut self, op: OperationId, layer: Layer) {
        for index in 0..self.trade.quilting.len() {
            let Some(quilt) = self.trade.quilting.get(index) else { continue };
            let flat = quilt.layers.iter().any(|q| same(q, &layer)) && !self.goes_through_a_stack(index);
            let subject = Subject::Quilting(u32::try_from(index).unwrap_or(u32::MAX));
            if let (true, Some(quilted)) = (flat, self.all(|o| o.subject == subject).first().copied()) {
                self.follows(op, quilted, "quilting over it would sew it shut");
            }
        }
    }

    /// Whether a quilting goes through all layers of a stack, and so waits until that is sewn.
    fn goes_through_a_stack(&self, index: usize) -> bool {
        let Some(quilt) = self.trade.quilting.get(index) else { return false };
        (0..self.trade.seams.len()).any(|seam| {
            let stacked = matches!(self.trade.seams.get(seam).map(|s| &s.form), Some(SeamForm::Stack(_)));
            stacked && self.layers(SeamId::at(seam)).iter().all(|l| quilt.layers.iter().any(|q| same(q, l)))
        })
    }

    fn better_before_seams_of(&mut self, op: OperationId, layer: Layer, because: &'static str) {
        for index in 0..self.trade.seams.len() {
            let seam = SeamId::at(index);
            if let Some(sewn) = self.sewn(seam)
                && self.layers(seam).iter().any(|l| same(l, &layer))
            {
                self.advised(sewn, op, because);
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
}

/// Whether two layers may be one: the same piece, and copies that do not differ.
pub(super) fn same(a: &Layer, b: &Layer) -> bool {
    a.0 == b.0 && (a.1 == b.1 || a.1.is_none() || b.1.is_none())
}

/// Whether two stretches of one edge share more than an end; a place is a stretch of no length.
fn overlap(a: &EdgeSide, b: &EdgeSide) -> bool {
    (a.copy == b.copy || a.copy.is_none() || b.copy.is_none())
        && a.from.as_mm() <= b.to.as_mm() + 1e-6
        && b.from.as_mm() <= a.to.as_mm() + 1e-6
}
