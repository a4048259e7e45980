//! What is done with the pieces: attachments, seams, work on the face, and the operations they ask for.
//!
//! Each construct stands or fails by itself, so that all that is wrong is reported in one run.

mod attach;
mod component;
mod error;
mod face;
mod join;
mod operations;
mod place;
mod stack;

pub use error::CODES;

use super::evaluator::Evaluator;
use super::finish::{FinishValue, WorkValue};
use super::value::Env;
use crate::ir::{self, AttachmentId, PieceId, SeamId, Where};
use crate::source::Span;

/// Everything but the pieces.
#[derive(Debug, Default)]
pub(crate) struct Trade {
    /// Attachments.
    pub(crate) attachments: Vec<ir::Attachment>,
    /// Seams.
    pub(crate) seams: Vec<ir::Seam>,
    /// Pieces applied.
    pub(crate) applied: Vec<ir::Applied>,
    /// Quilting.
    pub(crate) quilting: Vec<ir::Quilting>,
    /// Operations.
    pub(crate) operations: Vec<ir::Operation>,
    /// What operations are made of, in source order.
    jobs: Jobs,
}

/// What the constructs say of the work they ask for; operations are made of it at the end.
#[derive(Debug, Default)]
struct Jobs {
    attached: Vec<AttachJob>,
    seams: Vec<SeamJob>,
    applied: Vec<FinishValue>,
    steps: Vec<StepJob>,
}

/// The work of one `attach` line.
#[derive(Debug)]
struct AttachJob {
    name: String,
    first: AttachmentId,
    ids: Vec<AttachmentId>,
    work: Vec<WorkValue>,
    places: Vec<Where>,
    /// Ends of edges it touches at corners.
    touches: Vec<ir::EdgeSide>,
    /// Pieces the component brings.
    brings: Vec<PieceId>,
    /// Length sewn when it is sewn on along its stretch.
    sewn: f64,
    /// Whether a seam or hem must catch it.
    caught: bool,
    origin: Span,
}

/// The work of one seam.
#[derive(Debug)]
struct SeamJob {
    seam: SeamId,
    finish: Option<FinishValue>,
    close: Option<FinishValue>,
}

/// An extra step.
#[derive(Debug)]
struct StepJob {
    name: String,
    text: ir::Text,
    after: Vec<String>,
    before: Vec<String>,
    origin: Span,
}

impl<'p> Evaluator<'p> {
    /// Works out everything but the pieces.
    pub(crate) fn trade(&mut self) -> Trade {
        let program = self.program;
        let mut trade = Trade::default();
        for declared in &program.attaches {
            if self.guards(Some(declared)) == Ok(true) {
                let _ = self.attach(&declared.item, &Env::of(declared.scope), &mut trade);
            }
        }
        for declared in &program.seams {
            if self.guards(Some(declared)) == Ok(true) {
                let _ = self.seam(&declared.item, &Env::of(declared.scope), &mut trade);
            }
        }
        for declared in &program.applies {
            if self.guards(Some(declared)) == Ok(true) {
                let _ = self.apply(&declared.item, &Env::of(declared.scope), &mut trade);
            }
        }
        for declared in &program.quilts {
            if self.guards(Some(declared)) == Ok(true) {
                let _ = self.quilt(&declared.item, &Env::of(declared.scope), &mut trade);
            }
        }
        for declared in &program.steps {
            if self.guards(Some(declared)) == Ok(true) {
                let _ = self.extra_step(&declared.item, &Env::of(declared.scope), &mut trade);
            }
        }
        for declared in &program.threads {
            if self.guards(Some(declared)) == Ok(true)
                && let Ok(goods) = self.goods_of(&declared.item, &Env::of(declared.scope))
            {
                // Stocked last, so that the list of materials ends with the thread.
                let _ = self.stock(&goods);
            }
        }
        if !self.problems.has_errors() {
            trade.operations = operations::operations(self, &trade);
        }
        trade
    }

    fn extra_step(&mut self, step: &'p crate::syntax::ast::Step, env: &Env<'p>, trade: &mut Trade) -> super::evaluator::Eval<()> {
        let text = self.text(&step.text, env)?;
        let mut present = |names: &'p [crate::syntax::ast::Name]| -> super::evaluator::Eval<Vec<String>> {
            let mut all = Vec::new();
            for name in names {
                // A name that is not there in this case asks for nothing.
                for &entity in self.program.lookup(env.scope, &name.text) {
                    if self.holds(entity)? {
                        all.push(name.text.clone());
                    }
                }
            }
            Ok(all)
        };
        let (after, before) = (present(&step.after)?, present(&step.before)?);
        let name = step.name.text.clone();
        trade.jobs.steps.push(StepJob { name, text, after, before, origin: step.span });
        Ok(())
    }
}
