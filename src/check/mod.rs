//! Checking: modules, names, and the kinds of all expressions.
//!
//! `modules` reads what the main file imports, `lift` gathers all declarations into a [`Program`],
//! `needs` finds an order in which they can be understood, and `checker` goes through them: kinds of
//! expressions first (`infer`, `operators`, `call`), then what stands in panels, components and seams.

mod attach;
mod builtin;
mod call;
mod checker;
mod component;
mod cutter;
mod declare;
mod entity;
mod error;
pub mod goods;
mod graph;
mod infer;
mod kind;
mod lift;
mod locals;
mod modules;
mod needs;
mod nested;
mod operators;
mod outline;
mod panel;
mod panel_facts;
mod place;
mod program;
mod seam;
pub mod tools;
mod traced;
mod unused;
mod walk;
pub mod words;

pub use builtin::{BUILTINS, Builtin, BuiltinRow, Shape};
pub use cutter::CROSSES;
pub use error::CODES;
pub use program::*;

use crate::diagnostic::Problems;
use crate::source::{FileId, Loader, SourceMap};
use crate::syntax::ast;
use checker::{Checker, Env};
use lift::Lifted;

/// Reads and checks the main file, which is among the sources, and everything it imports.
///
/// The program is given only when nothing is wrong, so that what works out its numbers may
/// count on every name being known and every expression making sense.
///
/// # Errors
/// The warnings that the source accepts, when something is wrong, which `problems` tells.
pub fn check(main: FileId, loader: &dyn Loader, sources: &mut SourceMap, problems: &mut Problems) -> Result<Program, Vec<ast::Accept>> {
    let modules = modules::read(main, loader, sources, problems);
    let mut lifted = lift::lift(modules, problems);
    let order = Checker::new(&lifted, loader, problems).everything(&lifted);
    lifted.program.order = order;
    lifted.program.tracings = traced::read(&lifted.program, loader, problems);
    if problems.has_errors() {
        return Err(lifted.program.accepts.into_iter().map(|d| d.item).collect());
    }
    Ok(lifted.program)
}

/// Whether an expression mentions a name.
#[must_use]
pub fn mentions(expression: &ast::Expr, name: &str) -> bool {
    let mut found = false;
    walk::expr(expression, &mut |mention| found |= mention.root.text == name);
    found
}

impl<'p> Checker<'p> {
    fn everything(&mut self, lifted: &'p Lifted) -> Vec<Entity> {
        let order = needs::order(self.program);
        order.rings.into_iter().for_each(|ring| self.report(ring));
        order.nodes.iter().for_each(|entity| self.learn(*entity));
        self.learn_components();
        self.declarations(lifted);
        self.bodies();
        self.work();
        self.unused_declarations(lifted);
        order.nodes
    }

    /// Nothing in an expression needs a component, so they come after all that expressions need.
    fn learn_components(&mut self) {
        let program = self.program;
        for (index, d) in program.components.iter().enumerate() {
            let signature = self.signature(&d.item.name, &d.item.parameters, d.scope);
            let facts = self.component_facts(&d.item, &Env::of(d.scope));
            if let (Some(slot), Some(known)) = (self.components.get_mut(index), self.component_facts.get_mut(index)) {
                *slot = Some(signature);
                *known = facts;
            }
        }
    }

    /// What is left to look at in plain declarations.
    fn declarations(&mut self, lifted: &'p Lifted) {
        let program = self.program;
        for (scope, condition) in &lifted.conditions {
            self.condition(condition, &Env::of(*scope));
        }
        for (index, d) in program.params.iter().enumerate() {
            let (env, kind) = (Env::of(d.scope), self.params.get(index).cloned().unwrap_or(kind::Kind::Any));
            self.limits(&d.item, &kind, &env);
            d.item.doc.iter().for_each(|t| self.text(t, &env));
        }
        for d in &program.constants {
            d.item.doc.iter().for_each(|t| self.text(t, &Env::of(d.scope)));
        }
        for d in &program.functions {
            d.item.doc.iter().for_each(|t| self.text(t, &Env::of(d.scope)));
        }
        if let Some(scope) = program.design_scope {
            let env = Env::of(scope);
            program.title.iter().for_each(|t| self.text(t, &env));
            self.sizes(&env);
        }
        for d in &program.requires {
            self.require(&d.item, &Env::of(d.scope));
        }
        for d in &program.accepts {
            self.text(&d.item.because, &Env::of(d.scope));
        }
        let thread = kind::Want::Goods(&[goods::Sort::Thread]);
        for d in &program.threads {
            self.expect(&d.item, &Env::of(d.scope), &thread, "the thread of a design");
        }
    }

    /// What stands in outlines, finishes, components and panels.
    fn bodies(&mut self) {
        let program = self.program;
        for (index, d) in program.outlines.iter().enumerate() {
            let kinds = self.outlines.get(index).and_then(Option::as_ref).map(|s| s.kinds.clone()).unwrap_or_default();
            self.outline_decl(&d.item, &kinds, Env::of(d.scope));
        }
        for (index, d) in program.finishes.iter().enumerate() {
            let kinds = self.finishes.get(index).and_then(Option::as_ref).map(|s| s.kinds.clone()).unwrap_or_default();
            self.finish(&d.item, &kinds, Env::of(d.scope));
        }
        for (index, d) in program.components.iter().enumerate() {
            let kinds = self.components.get(index).and_then(Option::as_ref).map(|s| s.kinds.clone()).unwrap_or_default();
            let facts = self.component_facts.get(index).cloned().unwrap_or_default();
            self.component(&d.item, &kinds, &facts, Env::of(d.scope));
        }
        for (index, d) in program.panels.iter().enumerate() {
            let facts = self.panels.get(index).cloned().unwrap_or_default();
            self.panel(&d.item, &facts, Env::of(d.scope));
        }
    }

    /// What is done with the pieces.
    fn work(&mut self) {
        let program = self.program;
        program.attaches.iter().for_each(|d| self.attach(&d.item, &Env::of(d.scope)));
        program.seams.iter().for_each(|d| self.seam(&d.item, &Env::of(d.scope)));
        program.applies.iter().for_each(|d| self.apply(&d.item, &Env::of(d.scope)));
        program.quilts.iter().for_each(|d| self.quilt(&d.item, &Env::of(d.scope)));
        program.steps.iter().for_each(|d| self.step(&d.item, &Env::of(d.scope)));
        program.cutters.iter().for_each(|d| self.cutter(&d.item, &Env::of(d.scope)));
        program.cut_withs.iter().for_each(|d| self.cut_with(&d.item, &Env::of(d.scope)));
    }
}

#[cfg(test)]
mod tests;
