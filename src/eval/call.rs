//! Calls: binding arguments to parameters, and bodies that are looked at item by item.

use super::error::EvalError;
use super::evaluator::{Eval, Evaluator, MAX_CALL_DEPTH, Stop};
use super::value::{Env, Local, Traced, Value};
use crate::check::{Entity, FunctionId, ScopeId};
use crate::quantity::said;
use crate::source::Span;
use crate::syntax::ast;

impl<'p> Evaluator<'p> {
    /// The value of a call in an expression.
    pub(crate) fn call(&mut self, callee: &'p ast::Name, arguments: &'p ast::Arguments, env: &Env<'p>, span: Span) -> Eval<Value> {
        match self.entity(env.scope, callee)? {
            Entity::Builtin(builtin) => self.builtin_call(builtin, arguments, env, span),
            Entity::Function(id) => self.function(id, arguments, env, span),
            Entity::Material(id) => {
                let traced = self.goods(id, Some(arguments), env, span)?;
                self.read(traced.why);
                Ok(traced.value)
            }
            Entity::Constant(id) => {
                let base = self.constant(id, callee.span)?;
                self.read(base.why);
                self.goods_again(base, arguments, env, span)
            }
            _ => self.fail(EvalError::WrongKind { wanted: "a function", got: format!("`{}`", callee.text), span: callee.span }),
        }
    }

    fn function(&mut self, id: FunctionId, arguments: &'p ast::Arguments, env: &Env<'p>, span: Span) -> Eval<Value> {
        let program = self.program;
        let Some(declared) = program.functions.get(id.index()) else { return Err(Stop) };
        if self.depth >= MAX_CALL_DEPTH {
            return self.fail(EvalError::TooDeep { span });
        }
        self.depth += 1;
        let result = self
            .bind(declared.scope, &declared.item.parameters, arguments, env, &declared.item.name.text)
            .and_then(|inner| self.expr(&declared.item.body, &inner));
        self.depth -= 1;
        result
    }

    /// An environment with a callee's parameters bound; defaults may use the parameters before them.
    pub(crate) fn bind(
        &mut self,
        scope: ScopeId,
        parameters: &'p [ast::Parameter],
        arguments: &'p ast::Arguments,
        env: &Env<'p>,
        label: &str,
    ) -> Eval<Env<'p>> {
        let inner = Env::labelled(scope, format!("{label}."));
        for (index, parameter) in parameters.iter().enumerate() {
            let given = arguments
                .items
                .iter()
                .enumerate()
                .find(|(i, a)| a.name.as_ref().map_or(*i == index, |n| n.text == parameter.name.text))
                .map(|(_, a)| &a.value);
            let what = format!("{label}.{}", parameter.name.text);
            let traced = match (given, &parameter.default) {
                (Some(value), _) => self.traced(&what, value, env)?,
                (None, Some(default)) => self.traced(&what, default, &inner)?,
                (None, None) => {
                    let got = format!("no `{}`", parameter.name.text);
                    return self.fail(EvalError::WrongKind { wanted: "a call with every argument", got, span: arguments.span });
                }
            };
            inner.bind(&parameter.name.text, Local::Ready(traced));
        }
        Ok(inner)
    }

    /// The items of a body whose `when`s hold, `let`s bound on the way; `split` tells a `when`
    /// and a `let` from the rest.
    pub(crate) fn active<T>(&mut self, items: &'p [T], env: &Env<'p>, split: fn(&'p T) -> Item<'p, T>) -> Eval<Vec<&'p T>> {
        for item in items {
            if let Item::Let(constant) = split(item) {
                env.bind(&constant.name.text, Local::Let(constant));
            }
        }
        let mut all = Vec::new();
        for item in items {
            match split(item) {
                Item::Let(_) => {}
                Item::When(when) => {
                    let branch = if self.truth(&when.condition, env)? { &when.then } else { &when.otherwise };
                    all.extend(self.active(branch, env, split)?);
                }
                Item::Other => all.push(item),
            }
        }
        Ok(all)
    }

    /// Checks a `require`; `used_at` is where the body that states it is used.
    pub(crate) fn require(&mut self, require: &'p ast::Require, env: &Env<'p>, used_at: Option<Span>) -> Eval<()> {
        if self.truth(&require.condition, env)? {
            return Ok(());
        }
        let message = self.text(&require.message, env).map(|t| said(|style| t.worded(style)))?;
        let condition = self.sources.snippet(require.condition.span).to_owned();
        self.fail(EvalError::Requirement { message, condition, span: require.span, used_at })
    }

    /// A value bound under a name that no source expression gives (`stretch`, `allowance`).
    pub(crate) fn given(&mut self, env: &Env<'p>, name: &str, value: Value, how: &str, inputs: Vec<crate::ir::TraceId>) {
        let why = self.step(&format!("{}{name}", env.label), how, &value, None, inputs);
        env.bind(name, Local::Ready(Traced { value, why }));
    }
}

/// An item of a body, told apart.
pub(crate) enum Item<'p, T> {
    /// `let …`
    Let(&'p ast::Constant),
    /// `when … { … }`
    When(&'p ast::When<T>),
    /// All else.
    Other,
}
