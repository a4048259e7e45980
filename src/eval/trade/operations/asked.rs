//! The order that the source itself asks for, with `after` and `before`.

use super::Bench;
use crate::eval::trade::Asked;
use crate::ir::{Operation, OperationId, OperationKind};

impl Bench<'_, '_> {
    pub(super) fn asked_reasons(&mut self) {
        let trade = self.trade;
        for step in &trade.jobs.steps {
            let Some(op) = self.all(|o| o.kind == OperationKind::Extra && o.name == step.name).first().copied() else { continue };
            // With something still to come after the step, what is completed at the very end can't be meant.
            self.in_order(&[op], op, &step.order, !step.order.before.is_empty());
            if step.order.after.is_empty() && step.order.before.is_empty() {
                for other in self.all(|o| o.kind == OperationKind::Cut) {
                    self.follows(op, other, "everything must be cut");
                }
            }
        }
        for job in &trade.jobs.seams {
            let (Some(sewn), Some(done)) = (self.sewn(job.seam), self.done(job.seam)) else { continue };
            let prepared = self.of_seam(job.seam, OperationKind::Prepare);
            let firsts: Vec<OperationId> = prepared.into_iter().chain([sewn]).collect();
            // What is completed once all seams are sewn can't come before one.
            self.in_order(&firsts, done, &job.order, true);
        }
    }

    /// Acts from the first, which come after all that is named, to the last, which comes before it.
    fn in_order(&mut self, firsts: &[OperationId], last: OperationId, order: &Asked, early: bool) {
        for name in &order.after {
            for other in self.all(|o| &o.name == name && !(early && o.kind == OperationKind::Complete)) {
                firsts.iter().for_each(|first| self.asked(*first, other));
            }
        }
        for name in &order.before {
            let main = |o: &Operation| &o.name == name && !matches!(o.kind, OperationKind::Cut | OperationKind::Prepare);
            let mut others = self.all(main);
            if others.is_empty() {
                others = self.all(|o| &o.name == name);
            }
            for other in others {
                self.asked(other, last);
            }
        }
    }
}
