//! The evaluator's state: what has been worked out so far.

use super::error::EvalError;
use super::finish::FinishValue;
use super::parts::Parts;
use super::value::{Env, Goods, Traced};
use crate::check::{ConstantId, Declared, Entity, PanelId, Program, ScopeId};
use crate::diagnostic::{Diagnostic, Problems};
use crate::ir::{self, Provenance, TraceId, TraceNode};
use crate::quantity::{Length, Style, format_length, format_quantity, said};
use crate::source::{SourceMap, Span};
use crate::syntax::ast;
use std::collections::BTreeMap;

/// Work stopped: the reason is already in the problems.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Stop;

/// The outcome of evaluating something.
pub(crate) type Eval<T> = Result<T, Stop>;

/// What is known of something worked out at most once.
#[derive(Debug, Clone, Default)]
pub(crate) enum Memo<T> {
    /// Not asked for yet.
    #[default]
    Fresh,
    /// Being worked out: asked for again, it is a cycle.
    Busy,
    /// Done, or failed.
    Done(Eval<T>),
}

/// Calls may nest this deep; user functions can't recurse, so honest sources stay far below.
pub(crate) const MAX_CALL_DEPTH: u32 = 64;

/// Expressions and panels may need each other this deep. Half of what the stack holds; sources that people write stay far below.
pub(crate) const MAX_NESTING: u32 = 4_000;

/// A list, or `spaced … evenly`, may hold this many values: more than any edge has loops.
pub(crate) const MAX_REPEAT: usize = 1_000;

/// A chain may have this many edges: more than any piece has.
pub(crate) const MAX_CHAIN: usize = 200;

/// A text may have this many letters: a page.
pub(crate) const MAX_TEXT: usize = 4_000;

/// Steps that a size may take to work out: those of forty thousand `let`s. Functions that call each other twice, and these
/// others twice, would go on past the end of the season.
const MAX_STEPS: usize = 500_000;

/// A design may have this many distinct pieces.
pub(crate) const MAX_PIECES: usize = 1_000;

/// A piece that an attachment's component brings.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Brought {
    /// The panel's name in the component.
    pub(crate) panel: String,
    /// The piece.
    pub(crate) piece: ir::PieceId,
}

/// Evaluates one size of one program.
pub(crate) struct Evaluator<'p> {
    pub(crate) program: &'p Program,
    pub(crate) sources: &'p SourceMap,
    pub(crate) scope: ScopeId,
    pub(crate) problems: Problems,
    pub(crate) provenance: Provenance,
    pub(crate) params: Vec<Option<Traced>>,
    pub(crate) param_set_by: Vec<ir::SetBy>,
    pub(crate) constants: Vec<Memo<Traced>>,
    pub(crate) panels: BTreeMap<PanelId, Memo<ir::PieceId>>,
    pub(crate) pieces: Vec<ir::Piece>,
    /// Panels that are split, by the first of their pieces.
    pub(crate) parts: BTreeMap<ir::PieceId, Parts>,
    pub(crate) materials: Vec<ir::Material>,
    pub(crate) cautions: Vec<ir::Text>,
    /// How edges are finished, by piece and edge.
    pub(crate) edge_finishes: BTreeMap<(String, String), FinishValue>,
    /// Pieces that attachments bring, by the name of the `attach` line.
    pub(crate) brought: BTreeMap<String, Vec<Brought>>,
    /// Steps behind the expression being worked out now.
    inputs: Vec<Vec<TraceId>>,
    pub(crate) depth: u32,
    nesting: u32,
    steps: usize,
    /// Something could not be worked out.
    pub(crate) stopped: bool,
}

impl<'p> Evaluator<'p> {
    /// With nothing worked out.
    pub(crate) fn new(program: &'p Program, sources: &'p SourceMap, scope: ScopeId) -> Self {
        Self {
            program,
            sources,
            scope,
            problems: Problems::default(),
            provenance: Provenance::default(),
            params: vec![None; program.params.len()],
            param_set_by: vec![ir::SetBy::Default; program.params.len()],
            constants: vec![Memo::Fresh; program.constants.len()],
            panels: BTreeMap::new(),
            pieces: Vec::new(),
            parts: BTreeMap::new(),
            materials: Vec::new(),
            cautions: Vec::new(),
            edge_finishes: BTreeMap::new(),
            brought: BTreeMap::new(),
            inputs: Vec::new(),
            depth: 0,
            nesting: 0,
            steps: 0,
            stopped: false,
        }
    }

    /// Reports an error and stops the work in hand.
    pub(crate) fn fail<T>(&mut self, error: impl Into<Diagnostic>) -> Eval<T> {
        self.problems.push(error);
        Err(Stop)
    }

    /// Does some work one level deeper; values that need values without end would run out of stack.
    pub(crate) fn deeper<T>(&mut self, at: Span, work: impl FnOnce(&mut Self) -> Eval<T>) -> Eval<T> {
        if self.nesting >= MAX_NESTING {
            return self.fail(EvalError::TooDeep { span: at });
        }
        self.nesting += 1;
        let result = work(self);
        self.nesting -= 1;
        result
    }

    /// Counts steps; past the last one everything stops, and that is reported once.
    pub(crate) fn spend(&mut self, steps: usize, at: Span) -> Eval<()> {
        if self.steps > MAX_STEPS {
            return Err(Stop);
        }
        self.steps += steps;
        if self.steps > MAX_STEPS {
            return self.fail(EvalError::TooLong { most: MAX_STEPS, span: at });
        }
        Ok(())
    }

    /// Goes on after something failed, whose reason is in the problems.
    pub(crate) fn each<T>(&mut self, outcome: Eval<T>) -> Option<T> {
        self.stopped |= outcome.is_err();
        outcome.ok()
    }

    /// Notes that the expression in hand reads a value.
    pub(crate) fn read(&mut self, why: TraceId) {
        if let Some(top) = self.inputs.last_mut()
            && !top.contains(&why)
        {
            top.push(why);
        }
    }

    /// Does some work and returns, beside its result, the values it read.
    pub(crate) fn recording<T>(&mut self, work: impl FnOnce(&mut Self) -> T) -> (T, Vec<TraceId>) {
        self.inputs.push(Vec::new());
        let result = work(self);
        (result, self.inputs.pop().unwrap_or_default())
    }

    /// Works out an expression as a value with a name of its own in the provenance.
    pub(crate) fn traced(&mut self, what: &str, expr: &'p ast::Expr, env: &Env<'p>) -> Eval<Traced> {
        let (value, inputs) = self.recording(|me| me.expr(expr, env));
        let value = value?;
        let how = self.sources.snippet(expr.span).to_owned();
        let why = self.step(what, how, &value, Some(expr.span), inputs);
        Ok(Traced { value, why })
    }

    /// Adds a step of provenance.
    pub(crate) fn step(
        &mut self,
        what: &str,
        how: impl Into<String>,
        value: &super::value::Value,
        origin: Option<Span>,
        inputs: Vec<TraceId>,
    ) -> TraceId {
        let number = match value {
            super::value::Value::Quantity(q) => Some(q.value),
            _ => None,
        };
        self.provenance.add(TraceNode {
            what: what.to_owned(),
            how: how.into(),
            value: self.word(value),
            number,
            origin,
            place: origin.map(|s| self.sources.place(s)).unwrap_or_default(),
            inputs,
        })
    }

    /// Adds a step for a quantity that geometry, not an expression, makes.
    pub(crate) fn geometry_step(
        &mut self,
        what: &str,
        how: impl Into<String>,
        quantity: crate::quantity::Quantity,
        origin: Span,
        inputs: Vec<TraceId>,
    ) -> TraceId {
        self.step(what, how, &super::value::Value::Quantity(quantity), Some(origin), inputs)
    }

    /// A value in words, metric.
    pub(crate) fn word(&self, value: &super::value::Value) -> String {
        worded(value, Style::METRIC)
    }

    /// A value in words for a report.
    pub(crate) fn said(&self, value: &super::value::Value) -> String {
        said(|style| worded(value, style))
    }

    /// What a name means from a scope, of those whose `when`s hold.
    pub(crate) fn entity(&mut self, scope: ScopeId, name: &ast::Name) -> Eval<Entity> {
        let program = self.program;
        let candidates = program.lookup(scope, &name.text);
        if candidates.is_empty() {
            return self.fail(EvalError::Unknown { name: name.clone() });
        }
        for &candidate in candidates {
            if self.holds(candidate)? {
                return Ok(candidate);
            }
        }
        let declared = candidates.first().and_then(|&e| program.name_of(e)).map(|n| n.span);
        self.fail(EvalError::NotInThisCase { name: name.clone(), declared })
    }

    /// Whether the `when`s around a declaration hold.
    pub(crate) fn holds(&mut self, entity: Entity) -> Eval<bool> {
        let program = self.program;
        match entity {
            Entity::Constant(id) => self.guards(program.constants.get(id.index())),
            Entity::Function(id) => self.guards(program.functions.get(id.index())),
            Entity::Material(id) => self.guards(program.materials.get(id.index())),
            Entity::Component(id) => self.guards(program.components.get(id.index())),
            Entity::Outline(id) => self.guards(program.outlines.get(id.index())),
            Entity::Finish(id) => self.guards(program.finishes.get(id.index())),
            Entity::Cutter(id) => self.guards(program.cutters.get(id.index())),
            Entity::Panel(id) | Entity::Copy(id, _) | Entity::Part(id) => self.guards(program.panels.get(id.index())),
            Entity::Attach(id) => self.guards(program.attaches.get(id.index())),
            Entity::Seam(id) => self.guards(program.seams.get(id.index())),
            Entity::Quilt(id) => self.guards(program.quilts.get(id.index())),
            Entity::Step(id) => self.guards(program.steps.get(id.index())),
            _ => Ok(true),
        }
    }

    /// Whether the `when`s around a declaration hold.
    pub(crate) fn guards<T>(&mut self, declared: Option<&'p Declared<T>>) -> Eval<bool> {
        let Some(declared) = declared else { return Ok(false) };
        for guard in &declared.guards {
            if self.truth(&guard.condition, &Env::of(declared.scope))? != guard.holds {
                return Ok(false);
            }
        }
        Ok(true)
    }

    /// Whether the `when`s around a declaration hold, as far as that can be told.
    pub(crate) fn stands<T>(&mut self, declared: &'p Declared<T>) -> bool {
        let outcome = self.guards(Some(declared));
        self.each(outcome).unwrap_or(false)
    }

    /// A constant's value, worked out once.
    pub(crate) fn constant(&mut self, id: ConstantId, at: Span) -> Eval<Traced> {
        let program = self.program;
        let Some(declared) = program.constants.get(id.index()) else { return Err(Stop) };
        match self.constants.get(id.index()) {
            Some(Memo::Done(done)) => return done.clone(),
            Some(Memo::Busy) => return self.fail(EvalError::Cycle { name: declared.item.name.text.clone(), at }),
            _ => {}
        }
        self.set_constant(id, Memo::Busy);
        let env = Env::of(declared.scope);
        let value = self.traced(&declared.item.name.text, &declared.item.value, &env).map(|t| named(t, &declared.item.name.text));
        self.set_constant(id, Memo::Done(value.clone()));
        value
    }

    fn set_constant(&mut self, id: ConstantId, memo: Memo<Traced>) {
        if let Some(slot) = self.constants.get_mut(id.index()) {
            *slot = memo;
        }
    }
}

/// A material goes by the name of the `let` that holds it.
pub(crate) fn named(traced: Traced, name: &str) -> Traced {
    use super::value::Value;
    match traced.value {
        Value::Material(goods) => {
            let goods = Goods { name: name.to_owned(), ..(*goods).clone() };
            Traced { value: Value::Material(std::rc::Rc::new(goods)), why: traced.why }
        }
        value => Traced { value, why: traced.why },
    }
}

fn worded(value: &super::value::Value, style: Style) -> String {
    use super::value::Value;
    match value {
        Value::Quantity(q) => format_quantity(*q, style),
        Value::Truth(true) => "yes".to_owned(),
        Value::Truth(false) => "no".to_owned(),
        Value::Text(t) => t.worded(style),
        Value::Choice(word) => word.clone(),
        Value::Point(x, y) => format!("({}, {})", format_length(Length::mm(*x), style), format_length(Length::mm(*y), style)),
        Value::List(items) => items.iter().map(|v| worded(v, style)).collect::<Vec<_>>().join(", "),
        Value::Material(goods) => goods.full_title(),
    }
}
