//! What is done with the pieces: attachments, seams, work on the face, and the operations they ask for.
//!
//! Each construct stands or fails by itself, so that all that is wrong is reported in one run.

mod attach;
mod cautions;
mod chain;
mod component;
mod error;
mod face;
mod join;
mod opening;
mod operations;
mod place;
mod stack;

pub use error::CODES;

use super::evaluator::{Eval, Evaluator};
use super::finish::{FinishValue, WorkValue};
use super::value::Env;
use crate::check::Declared;
use crate::ir::{self, AttachmentId, PieceId, SeamId, Where};
use crate::source::Span;
use crate::syntax::ast::{Attach, AttachOn, Name, Step};
use std::collections::BTreeSet;

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
    /// Where the edges are named that it lies along one after the other; none where each has one of its own.
    row: Vec<Span>,
    /// Whether a seam or hem must catch it.
    caught: bool,
    origin: Span,
}

/// The work of one seam.
#[derive(Debug)]
struct SeamJob {
    seam: SeamId,
    /// Where the edges of either side of a join are named.
    runs: [Vec<Span>; 2],
    finish: Option<FinishValue>,
    close: Option<FinishValue>,
    order: Asked,
}

/// The order that the source itself asks for: names of what comes first, and of what comes later.
#[derive(Debug, Default)]
struct Asked {
    after: Vec<String>,
    before: Vec<String>,
}

/// An extra step.
#[derive(Debug)]
struct StepJob {
    name: String,
    /// Whether it is one of turning.
    turns: bool,
    text: ir::Text,
    order: Asked,
    origin: Span,
}

impl<'p> Evaluator<'p> {
    /// Works out everything but the pieces.
    pub(crate) fn trade(&mut self) -> Trade {
        let program = self.program;
        let mut trade = Trade::default();
        for declared in self.attaches_in_order() {
            let outcome = self.attach(&declared.item, &Env::of(declared.scope), &mut trade);
            self.each(outcome);
        }
        self.all(&program.seams, |me, seam, env| me.seam(seam, env, &mut trade));
        self.all(&program.applies, |me, apply, env| me.apply(apply, env, &mut trade));
        self.all(&program.quilts, |me, quilt, env| me.quilt(quilt, env, &mut trade));
        self.all(&program.steps, |me, step, env| me.extra_step(step, env, &mut trade));
        // Stocked last, so that the list of materials ends with the thread.
        self.all(&program.threads, |me, thread, env| me.goods_of(thread, env).and_then(|goods| me.stock(&goods)).map(drop));
        if !self.problems.has_errors() {
            self.whole_cautions(&trade);
            let meetings = chain::meetings(self, &trade);
            let apart = chain::apart(self, &trade, &meetings);
            let operations = if apart.is_empty() { operations::operations(self, &trade, &meetings) } else { Vec::new() };
            apart.into_iter().for_each(|error| self.problems.push(error));
            trade.operations = operations;
        }
        trade
    }

    /// Each that stands is worked out; one that fails is no reason to leave out the next.
    fn all<T>(&mut self, list: &'p [Declared<T>], mut work: impl FnMut(&mut Self, &'p T, &Env<'p>) -> Eval<()>) {
        for declared in list {
            if self.stands(declared) {
                let outcome = work(self, &declared.item, &Env::of(declared.scope));
                self.each(outcome);
            }
        }
    }

    /// The `attach` lines that stand, each after those on whose pieces it sits.
    fn attaches_in_order(&mut self) -> Vec<&'p Declared<Attach>> {
        let program = self.program;
        let mut waiting: Vec<_> = program.attaches.iter().filter(|d| self.stands(d)).collect();
        let mut sorted = Vec::new();
        while !waiting.is_empty() {
            let names: BTreeSet<&str> = waiting.iter().map(|d| d.item.name.text.as_str()).collect();
            let waits = |d: &&Declared<Attach>| roots(&d.item).any(|root| names.contains(root));
            let (still, ready): (Vec<_>, Vec<_>) = waiting.iter().copied().partition(waits);
            if ready.is_empty() {
                let ring = ring(&still);
                let span = still.iter().find(|d| ring.contains(&d.item.name.text)).map_or(program.origin(), |d| d.item.name.span);
                self.problems.push(error::TradeError::Ring { names: ring, span });
                break;
            }
            sorted.extend(ready);
            waiting = still;
        }
        sorted
    }

    fn extra_step(&mut self, step: &'p Step, env: &Env<'p>, trade: &mut Trade) -> Eval<()> {
        let text = self.text(&step.text, env)?;
        let order = Asked { after: self.present(&step.after, env)?, before: self.present(&step.before, env)? };
        let name = step.name.text.clone();
        trade.jobs.steps.push(StepJob { name, turns: step.kind.text == "turn", text, order, origin: step.span });
        Ok(())
    }

    /// The names of other work that are there in this case; one that is not asks for nothing.
    fn present(&mut self, names: &'p [Name], env: &Env<'p>) -> Eval<Vec<String>> {
        let mut all = Vec::new();
        for name in names {
            for &entity in self.program.lookup(env.scope, &name.text) {
                if self.holds(entity)? {
                    // Of a panel that is split, the work on any of its pieces is meant.
                    let pieces = self.pieces_of(entity);
                    all.extend(if pieces.is_empty() { vec![name.text.clone()] } else { pieces });
                }
            }
        }
        Ok(all)
    }
}

/// The first names of all that an `attach` line sits on.
fn roots(attach: &Attach) -> impl Iterator<Item = &str> {
    let (each, pair) = match &attach.on {
        AttachOn::Each(all) | AttachOn::Row(all) => (all.as_slice(), None),
        AttachOn::Between(first, second) => (&[][..], Some([first, second])),
    };
    each.iter().chain(pair.into_iter().flatten()).filter_map(|r| r.path.first()).map(|n| n.text.as_str())
}

/// Names of lines that wait for each other, from one round to itself.
fn ring(waiting: &[&Declared<Attach>]) -> Vec<String> {
    let next = |name: &str| {
        let line = waiting.iter().find(|d| d.item.name.text == name)?;
        roots(&line.item).find(|root| waiting.iter().any(|d| d.item.name.text == *root))
    };
    let mut path: Vec<&str> = waiting.first().map(|d| d.item.name.text.as_str()).into_iter().collect();
    while let Some(follower) = path.last().and_then(|name| next(name)) {
        if let Some(start) = path.iter().position(|n| *n == follower) {
            return path.into_iter().skip(start).chain([follower]).map(str::to_owned).collect();
        }
        path.push(follower);
    }
    path.into_iter().map(str::to_owned).collect()
}
