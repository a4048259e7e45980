//! Parameters: default, named size, command line; each within its limits.

use super::error::EvalError;
use super::evaluator::{Eval, Evaluator};
use super::resolve::Request;
use super::value::{Env, Traced, Value};
use crate::check::Entity;
use crate::ir::{self, SetBy};
use crate::quantity::{Dimension, Length, Quantity, said_least, said_most, said_quantity};
use crate::source::Span;
use crate::syntax::ast::{self, Limits};

impl<'p> Evaluator<'p> {
    /// Gives every parameter its value; those that fail stay unset and are reported.
    pub(crate) fn set_params(&mut self, request: &'p Request) {
        let program = self.program;
        let size = request.size.as_deref().and_then(|n| program.sizes.iter().find(|s| s.name.text == n));
        for o in &request.overrides {
            if !program.params.iter().any(|p| p.item.name.text == o.name.text) {
                let known = program.params.iter().map(|p| p.item.name.text.clone()).collect();
                self.problems.push(EvalError::UnknownParameter { name: o.name.clone(), known });
            }
        }
        // A default may be made of other parameters, wherever these stand.
        for entity in &program.order {
            let Entity::Param(id) = entity else { continue };
            let Some(declared) = program.params.get(id.index()) else { continue };
            let param = &declared.item;
            let by_size = size.and_then(|s| s.settings.iter().find(|x| x.name.text == param.name.text)).map(|x| &x.value);
            let by_hand = request.overrides.iter().rfind(|o| o.name.text == param.name.text).map(|o| &o.value);
            let (expr, by) = match (by_hand, by_size) {
                (Some(e), _) => (e, SetBy::CommandLine),
                (None, Some(e)) => (e, SetBy::Size),
                (None, None) => (&param.default, SetBy::Default),
            };
            if !self.stands(declared) {
                continue;
            }
            let env = Env::of(declared.scope);
            let outcome = self.traced(&param.name.text, expr, &env).and_then(|t| self.limited(param, t, expr.span, &env));
            if let (Some(traced), Some(slot)) = (self.each(outcome), self.params.get_mut(id.index())) {
                *slot = Some(traced);
            }
            if let Some(slot) = self.param_set_by.get_mut(id.index()) {
                *slot = by;
            }
        }
    }

    fn limited(&mut self, param: &'p ast::Param, traced: Traced, set_at: Span, env: &Env<'p>) -> Eval<Traced> {
        self.same_kind_as_default(param, &traced, set_at, env)?;
        match &param.limits {
            Limits::Free => {}
            Limits::Range { from, to } => {
                let (from, to) = (self.quantity(from, env)?, self.quantity(to, env)?);
                let Value::Quantity(q) = &traced.value else { return self.wrong("a number", &traced.value, set_at) };
                let low = self.settled(q.compare(from), set_at)?.is_lt();
                let high = self.settled(q.compare(to), set_at)?.is_gt();
                if low || high {
                    let error = EvalError::OutOfRange {
                        name: param.name.text.clone(),
                        value: self.said(&traced.value),
                        from: limit(from, said_least),
                        to: limit(to, said_most),
                        set_at,
                        declared: param.span,
                    };
                    return self.fail(error);
                }
            }
            Limits::OneOf(choices) => {
                let all = choices.iter().map(|c| self.expr(c, env)).collect::<Eval<Vec<_>>>()?;
                if !all.iter().any(|c| same(c, &traced.value)) {
                    let error = EvalError::NotAChoice {
                        name: param.name.text.clone(),
                        value: self.said(&traced.value),
                        choices: choices.iter().map(|c| self.sources.snippet(c.span).to_owned()).collect(),
                        set_at,
                        declared: param.span,
                    };
                    return self.fail(error);
                }
            }
        }
        Ok(traced)
    }

    /// A value from a size or the command line must be of the default's kind.
    fn same_kind_as_default(&mut self, param: &'p ast::Param, traced: &Traced, set_at: Span, env: &Env<'p>) -> Eval<()> {
        let default = self.expr(&param.default, env)?;
        match (&default, &traced.value) {
            (Value::Quantity(a), Value::Quantity(b)) if a.dimension != b.dimension => {
                let error = EvalError::UnlikeDefault {
                    name: param.name.text.clone(),
                    wanted: a.dimension.describe(),
                    got: b.dimension.describe(),
                    set_at,
                };
                self.fail(error)
            }
            (a, b) if std::mem::discriminant(a) != std::mem::discriminant(b) => {
                self.wrong("of the same kind as the parameter's default", b, set_at)
            }
            _ => Ok(()),
        }
    }

    /// The parameters as the resolved design lists them.
    pub(crate) fn listed_params(&mut self) -> Vec<ir::Parameter> {
        let program = self.program;
        let mut all = Vec::new();
        for (index, declared) in program.params.iter().enumerate() {
            let Some(traced) = self.params.get(index).cloned().flatten() else { continue };
            let doc = self.title(declared.item.doc.as_ref(), &Env::of(declared.scope)).unwrap_or_default();
            all.push(ir::Parameter {
                name: declared.item.name.text.clone(),
                value: self.word(&traced.value),
                set_by: self.param_set_by.get(index).copied().unwrap_or(SetBy::Default),
                doc,
                why: traced.why,
            });
        }
        all
    }
}

/// The end of a range: a length rounded inward, so that what a maker reads on the tape can be set.
fn limit(end: Quantity, inward: fn(Length) -> String) -> String {
    if end.dimension == Dimension::LENGTH { inward(Length::mm(end.value)) } else { said_quantity(end) }
}

/// Whether a value is a choice; quantities to rounding noise, so that `5.4 oz/yd2` typed twice is one.
fn same(a: &Value, b: &Value) -> bool {
    match (a, b) {
        (Value::Quantity(a), Value::Quantity(b)) => {
            a.dimension == b.dimension && (a.value - b.value).abs() <= 1e-9 * a.value.abs().max(b.value.abs())
        }
        (Value::Choice(a), Value::Choice(b)) => a == b,
        (Value::Truth(a), Value::Truth(b)) => a == b,
        (Value::Text(a), Value::Text(b)) => a == b,
        (Value::Material(a), Value::Material(b)) => a.name == b.name,
        _ => false,
    }
}
