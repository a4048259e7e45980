//! One size of one design, from parameters to resolved geometry.

use super::evaluator::{Eval, Evaluator};
use super::value::Env;
use crate::check::{Entity, PanelId, Program};
use crate::diagnostic::Problems;
use crate::ir::{self, Accepted, Design, FORMAT_VERSION};
use crate::source::{SourceMap, Span};
use crate::syntax::ast;

/// Which size, and what is set by hand.
#[derive(Debug, Clone, Default)]
pub struct Request {
    /// A named size; the defaults when absent.
    pub size: Option<String>,
    /// Parameters set on the command line; they win over the size.
    pub overrides: Vec<Override>,
}

/// A parameter set by hand.
#[derive(Debug, Clone)]
pub struct Override {
    /// Which.
    pub name: ast::Name,
    /// To what.
    pub value: ast::Expr,
    /// The whole setting.
    pub span: Span,
}

/// Resolves a design; none when anything is wrong with it, which is then in `problems`.
#[must_use]
pub fn resolve(program: &Program, sources: &SourceMap, request: &Request, problems: &mut Problems) -> Option<Design> {
    let scope = program.design_scope?;
    let mut evaluator = Evaluator::new(program, sources, scope);
    let design = evaluator.design(request);
    if (design.is_err() || evaluator.stopped) && !evaluator.problems.has_errors() {
        // Whatever stops says why. Should it ever not, half a design must not pass for a whole one.
        evaluator.problems.push(super::error::EvalError::Unsaid { span: program.origin() });
    }
    let mut found = evaluator.problems;
    let failed = found.has_errors();
    found.in_size(request.size.as_deref());
    problems.extend(found);
    design.ok().filter(|_| !failed)
}

impl<'p> Evaluator<'p> {
    fn design(&mut self, request: &'p Request) -> Eval<Design> {
        self.set_params(request);
        let program = self.program;
        for declared in &program.requires {
            if self.stands(declared) {
                // A requirement not met is reported; the rest may hold more to report.
                let outcome = self.require(&declared.item, &Env::of(declared.scope), None);
                self.each(outcome);
            }
        }
        for entity in &program.order {
            // Every `let` of the design is worked out, so that each can be asked about.
            if let Entity::Constant(id) = entity
                && let Some(declared) = program.constants.get(id.index())
                && declared.scope == self.scope
                && self.stands(declared)
            {
                let outcome = self.constant(*id, declared.item.span);
                self.each(outcome);
            }
        }
        for (index, declared) in program.panels.iter().enumerate() {
            if self.stands(declared) {
                let outcome = self.panel(PanelId::at(index), declared.item.name.span);
                self.each(outcome);
            }
        }
        let trade = self.trade();
        let size = request.size.as_deref().and_then(|n| program.sizes.iter().find(|s| s.name.text == n));
        let env = Env::of(self.scope);
        let name = program.name.as_ref().map(|n| n.text.clone()).unwrap_or_default();
        let title = self.title(program.title.as_ref(), &env)?;
        let size_title = match size {
            Some(s) => self.title(s.title.as_ref(), &env)?,
            None => "as drawn".to_owned(),
        };
        let parameters = self.listed_params();
        let accepted = self.accepted();
        self.list_facts(&trade);
        Ok(Design {
            format: FORMAT_VERSION,
            title: if title.is_empty() { name.clone() } else { title },
            name,
            size: request.size.clone(),
            size_title: if size_title.is_empty() { request.size.clone().unwrap_or_default() } else { size_title },
            files: self.sources.files().map(|f| f.name.clone()).collect(),
            parameters,
            materials: std::mem::take(&mut self.materials),
            pieces: std::mem::take(&mut self.pieces),
            attachments: trade.attachments,
            seams: trade.seams,
            applied: trade.applied,
            quilting: trade.quilting,
            operations: trade.operations,
            cautions: std::mem::take(&mut self.cautions),
            accepted,
            provenance: std::mem::take(&mut self.provenance),
        })
    }

    fn accepted(&mut self) -> Vec<Accepted> {
        let program = self.program;
        let mut all = Vec::new();
        for declared in &program.accepts {
            if !self.stands(declared) {
                continue;
            }
            let because = self.title(Some(&declared.item.because), &Env::of(declared.scope)).unwrap_or_default();
            all.push(Accepted { code: declared.item.code.text.clone(), because, origin: declared.item.span });
        }
        all
    }

    /// The facts that can be asked for by name, sorted.
    fn list_facts(&mut self, trade: &super::trade::Trade) {
        let mut facts: Vec<ir::Fact> = Vec::new();
        let mut add = |name: String, why| facts.push(ir::Fact { name, why });
        for (declared, traced) in self.program.params.iter().zip(&self.params) {
            if let Some(t) = traced {
                add(declared.item.name.text.clone(), t.why);
            }
        }
        for (declared, memo) in self.program.constants.iter().zip(&self.constants) {
            if let (true, super::evaluator::Memo::Done(Ok(t))) = (declared.scope == self.scope, memo) {
                add(declared.item.name.text.clone(), t.why);
            }
        }
        for piece in &self.pieces {
            add(format!("{}.area", piece.name), piece.finished.why);
            add(format!("{}.cut_area", piece.name), piece.cut.why);
            for edge in &piece.edges {
                add(format!("{}.{}", piece.name, edge.name), edge.why);
                add(format!("{}.{}.allowance", piece.name, edge.name), edge.why_allowance);
            }
        }
        for parts in self.parts.values() {
            parts.facts(&mut add);
        }
        for attachment in &trade.attachments {
            let name = match &attachment.pair {
                Some(pair) => format!("{}.{}.{}", attachment.name, attachment.number, pair.half),
                None => format!("{}.{}", attachment.name, attachment.number),
            };
            match &attachment.place {
                ir::Place::Edge { why, .. } | ir::Place::Point { why, .. } => add(name, *why),
                ir::Place::Corner { .. } => {}
            }
        }
        for seam in &trade.seams {
            add(seam.name.clone(), seam.why);
        }
        facts.sort_by(|a, b| a.name.cmp(&b.name));
        facts.dedup_by(|a, b| a.name == b.name);
        self.provenance.facts = facts;
    }
}
