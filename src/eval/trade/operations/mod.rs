//! Operations: the single acts that pieces, attachments and seams ask for, and what is known of their order.
//!
//! First every act is written down, then the reasons why one must follow another. Sorting is not done here.

mod acts;
mod asked;
mod attached;
mod joins;
mod linings;
mod reasons;
mod runs;
mod seams;
mod turning;

use super::Trade;
use crate::eval::evaluator::Evaluator;
use crate::ir::{After, AttachmentId, EdgeId, Meetings, Operation, OperationId, OperationKind, PieceId, SeamId};

/// Every act and every reason for order.
pub(super) fn operations(evaluator: &Evaluator<'_>, trade: &Trade, meetings: &Meetings<'_>) -> Vec<Operation> {
    let mut bench = Bench {
        evaluator,
        trade,
        meetings,
        list: Vec::new(),
        hems: Vec::new(),
        bags: Vec::new(),
        opened: Vec::new(),
        shown: Vec::new(),
        advice: Vec::new(),
    };
    bench.write_acts();
    bench.write_reasons();
    bench.list
}

/// The acts written so far.
struct Bench<'a, 'p> {
    evaluator: &'a Evaluator<'p>,
    trade: &'a Trade,
    /// What sewing brings together, where a seam is a chain.
    meetings: &'a Meetings<'a>,
    list: Vec<Operation>,
    /// Which edges a hem act covers.
    hems: Vec<(OperationId, PieceId, Vec<EdgeId>)>,
    /// Which seams the turning of a bag waits for that joins alone have made.
    bags: Vec<(OperationId, Vec<SeamId>)>,
    /// Zippers that are opened because the work is turned through them.
    opened: Vec<(OperationId, AttachmentId)>,
    /// Seams round a mouth that are stitched down from the face, and the act that brings the face out.
    shown: Vec<(SeamId, OperationId)>,
    /// What had better follow what, and why: it gives way to what must, and to what the source asks for.
    advice: Vec<(OperationId, OperationId, &'static str)>,
}

impl Bench<'_, '_> {
    fn push(&mut self, operation: Operation) -> OperationId {
        self.list.push(operation);
        OperationId::at(self.list.len() - 1)
    }

    /// `later` must follow `earlier`.
    fn follows(&mut self, later: OperationId, earlier: OperationId, because: &str) {
        self.reason(later, After { operation: earlier, because: because.to_owned(), asked: false });
    }

    /// `later` must follow `earlier` because the source says so.
    fn asked(&mut self, later: OperationId, earlier: OperationId) {
        self.reason(later, After { operation: earlier, because: "the design asks for it in this order".to_owned(), asked: true });
    }

    /// `later` had better follow `earlier`.
    fn advised(&mut self, later: OperationId, earlier: OperationId, because: &'static str) {
        self.advice.push((later, earlier, because));
    }

    /// Takes advice as far as all else allows.
    fn take_advice(&mut self) {
        for (later, earlier, because) in std::mem::take(&mut self.advice) {
            if !self.waits_for(earlier, later) {
                self.follows(later, earlier, because);
            }
        }
    }

    fn reason(&mut self, later: OperationId, after: After) {
        if later == after.operation {
            return;
        }
        if let Some(op) = self.list.get_mut(later.index()) {
            match op.after.iter_mut().find(|a| a.operation == after.operation) {
                Some(known) => known.asked |= after.asked,
                None => op.after.push(after),
            }
        }
    }

    fn all(&self, wanted: impl Fn(&Operation) -> bool) -> Vec<OperationId> {
        self.list.iter().enumerate().filter(|(_, o)| wanted(o)).map(|(i, _)| OperationId::at(i)).collect()
    }

    fn cut(&self, piece: PieceId) -> Option<OperationId> {
        let subject = crate::ir::Subject::Piece(piece);
        self.all(|o| o.kind == OperationKind::Cut && o.subject == subject).first().copied()
    }

    fn of_seam(&self, seam: SeamId, kind: OperationKind) -> Option<OperationId> {
        let subject = crate::ir::Subject::Seam(seam);
        self.all(|o| o.kind == kind && o.subject == subject).first().copied()
    }

    /// The first act that sews a seam: a row that its finish puts before, or its join or stack.
    fn sewn(&self, seam: SeamId) -> Option<OperationId> {
        self.of_seam(seam, OperationKind::Place).or_else(|| self.joined(seam))
    }

    /// The act that joins or stacks.
    fn joined(&self, seam: SeamId) -> Option<OperationId> {
        self.of_seam(seam, OperationKind::Join).or_else(|| self.of_seam(seam, OperationKind::Stack))
    }

    /// The last act of a seam.
    fn done(&self, seam: SeamId) -> Option<OperationId> {
        use OperationKind::{Close, FinishSeam, Turn};
        [Close, Turn, FinishSeam].into_iter().find_map(|k| self.of_seam(seam, k)).or_else(|| self.joined(seam))
    }

    fn of_attach(&self, first: AttachmentId, kind: OperationKind) -> Option<OperationId> {
        let subject = crate::ir::Subject::Attachment(first);
        self.all(|o| o.kind == kind && o.subject == subject).first().copied()
    }
}
