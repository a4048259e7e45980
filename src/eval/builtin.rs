//! The built-in functions and constants.

use super::error::EvalError;
use super::evaluator::{Eval, Evaluator};
use super::value::{Env, Value, amount};
use crate::check::Builtin;
use crate::quantity::{ArithmeticError, Currency, Dimension, Quantity};
use crate::source::Span;
use crate::syntax::ast;

impl<'p> Evaluator<'p> {
    /// A built-in constant.
    pub(crate) fn builtin_constant(&mut self, builtin: Builtin, name: &ast::Name) -> Eval<Value> {
        match builtin {
            Builtin::Pi => Ok(Value::Quantity(Quantity::number(std::f64::consts::PI))),
            _ => self.fail(EvalError::WrongKind { wanted: "a value", got: format!("the function `{}`", name.text), span: name.span }),
        }
    }

    /// A built-in function's value.
    pub(crate) fn builtin_call(&mut self, builtin: Builtin, arguments: &'p ast::Arguments, env: &Env<'p>, span: Span) -> Eval<Value> {
        let values = arguments.items.iter().map(|a| self.expr(&a.value, env)).collect::<Eval<Vec<_>>>()?;
        match builtin {
            Builtin::Count => match values.first() {
                Some(Value::List(items)) => Ok(Value::Quantity(Quantity::number(items.len() as f64))),
                _ => self.fail(EvalError::WrongKind { wanted: "a list", got: "something else".to_owned(), span }),
            },
            Builtin::Sum | Builtin::Min | Builtin::Max => self.fold(builtin, values, span),
            Builtin::Round | Builtin::Floor | Builtin::Ceil => self.stepped(builtin, values, span),
            _ => self.of_one(builtin, values, span),
        }
    }

    fn quantities(&mut self, values: Vec<Value>, span: Span) -> Eval<Vec<Quantity>> {
        let mut all = Vec::new();
        for value in values {
            match value {
                Value::Quantity(q) => all.push(q),
                Value::List(items) => all.extend(self.quantities(items, span)?),
                other => return self.wrong("a number", &other, span),
            }
        }
        Ok(all)
    }

    fn fold(&mut self, builtin: Builtin, values: Vec<Value>, span: Span) -> Eval<Value> {
        let all = self.quantities(values, span)?;
        let mut rest = all.into_iter();
        let Some(mut result) = rest.next() else {
            return self.fail(EvalError::WrongKind { wanted: "at least one value", got: "none".to_owned(), span });
        };
        for q in rest {
            result = match builtin {
                Builtin::Sum => self.settled(result.add(q), span)?,
                Builtin::Min if self.settled(q.compare(result), span)?.is_lt() => q,
                Builtin::Max if self.settled(q.compare(result), span)?.is_gt() => q,
                _ => result,
            };
        }
        Ok(Value::Quantity(result))
    }

    fn stepped(&mut self, builtin: Builtin, values: Vec<Value>, span: Span) -> Eval<Value> {
        let all = self.quantities(values, span)?;
        let Some(&q) = all.first() else { return self.fail(EvalError::WrongKind { wanted: "a number", got: "none".to_owned(), span }) };
        let step = all.get(1).copied().unwrap_or(amount(1.0, q.dimension));
        if step.dimension != q.dimension {
            return self.fail(EvalError::WrongKind {
                wanted: "a step of the same kind as the value",
                got: step.dimension.describe(),
                span,
            });
        }
        if step.value <= 0.0 {
            let value = self.said(&Value::Quantity(step));
            return self.fail(EvalError::NotPositive { what: "the step to round to", value, span });
        }
        let n = q.value / step.value;
        // A value that is a whole number of steps but for rounding noise stays where it is.
        let whole = if (n - n.round()).abs() < 1e-9 { n.round() } else { n };
        let n = match builtin {
            Builtin::Round => whole.round(),
            Builtin::Floor => whole.floor(),
            _ => whole.ceil(),
        };
        self.checked(finite(n * step.value, q.dimension, q.currency), span)
    }

    fn of_one(&mut self, builtin: Builtin, values: Vec<Value>, span: Span) -> Eval<Value> {
        let all = self.quantities(values, span)?;
        let Some(&q) = all.first() else { return self.fail(EvalError::WrongKind { wanted: "a number", got: "none".to_owned(), span }) };
        if matches!(builtin, Builtin::Asin | Builtin::Acos) && q.value.abs() > 1.0 {
            let name = if builtin == Builtin::Asin { "asin" } else { "acos" };
            return self.fail(EvalError::NoAngle { name, value: self.said(&Value::Quantity(q)), span });
        }
        let angle = |v: f64| finite(v, Dimension::ANGLE, None);
        let number = |v: f64| finite(v, Dimension::NUMBER, None);
        let outcome = match builtin {
            Builtin::Sqrt => q.root(2),
            Builtin::Cbrt => q.root(3),
            Builtin::Abs => q.abs(),
            Builtin::Sin => number(q.value.sin()),
            Builtin::Cos => number(q.value.cos()),
            Builtin::Tan => number(q.value.tan()),
            Builtin::Asin => angle(q.value.asin()),
            Builtin::Acos => angle(q.value.acos()),
            _ => angle(q.value.atan()),
        };
        self.checked(outcome, span)
    }
}

fn finite(value: f64, dimension: Dimension, currency: Option<Currency>) -> Result<Quantity, ArithmeticError> {
    Quantity::new(value, dimension).map(|q| Quantity { currency, ..q })
}
