//! Kinds of what operators make.

use super::checker::{Checker, Env};
use super::error::KindError;
use super::kind::{Kind, Want};
use crate::quantity::{ArithmeticError, Currency, Dimension};
use crate::source::Span;
use crate::syntax::ast::{BinaryOp, Expr, ExprKind};

/// A quantity's kind, taken apart.
type Measure = (Dimension, Option<Currency>);

impl<'p> Checker<'p> {
    /// An operator between two expressions.
    pub(super) fn binary(&mut self, op: BinaryOp, left: &'p Expr, right: &'p Expr, span: Span, env: &Env<'p>) -> Kind {
        use BinaryOp::{Add, And, Divide, Equal, Multiply, NotEqual, Or, Subtract};
        match op {
            And | Or => {
                self.condition(left, env);
                self.condition(right, env);
                Kind::Truth
            }
            Equal | NotEqual => {
                self.equal(left, right, env);
                Kind::Truth
            }
            _ => {
                let (a, b) = (self.quantity(left, env, does(op)), self.quantity(right, env, does(op)));
                let order = !matches!(op, Add | Subtract | Multiply | Divide);
                let (Some(a), Some(b)) = (a, b) else { return if order { Kind::Truth } else { Kind::Any } };
                let currency = self.same_money(a.1, b.1, span);
                let outcome = match op {
                    Add => a.0.plus(b.0),
                    Subtract => a.0.minus(b.0),
                    Multiply => a.0.times(b.0),
                    Divide => a.0.over(b.0),
                    _ if a.0 == b.0 => Ok(a.0),
                    _ => Err(ArithmeticError::Unlike(a.0, b.0)),
                };
                let kind = self.outcome(outcome, currency, done(op), (a.0, left), (b.0, right), span);
                if order { Kind::Truth } else { kind }
            }
        }
    }

    /// A whole power.
    pub(super) fn power(&mut self, of: &'p Expr, power: u8, span: Span, env: &Env<'p>) -> Kind {
        let Some((dimension, currency)) = self.quantity(of, env, "what is raised to a power") else { return Kind::Any };
        self.outcome(dimension.power(power), currency, "multiplied", (dimension, of), (dimension, of), span)
    }

    /// A root, for `sqrt` and `cbrt`.
    pub(super) fn root(&mut self, kind: &Kind, of: &'p Expr, degree: u8, span: Span) -> Kind {
        let Kind::Quantity(dimension, currency) = kind else { return Kind::Any };
        self.outcome(dimension.root(degree), *currency, "multiplied", (*dimension, of), (*dimension, of), span)
    }

    /// The opposite. A reading below zero, `-4 degC`, is a reading and not the opposite of one.
    pub(super) fn negate(&mut self, of: &'p Expr, env: &Env<'p>, span: Span) -> Kind {
        let Some((dimension, currency)) = self.quantity(of, env, "what is made negative") else { return Kind::Any };
        if dimension.is_point() && !matches!(of.kind, ExprKind::Quantity { .. }) {
            self.report(KindError::Reading { span });
            return Kind::Any;
        }
        Kind::Quantity(dimension, currency)
    }

    /// A quantity, or none when it is not known to be one.
    fn quantity(&mut self, expr: &'p Expr, env: &Env<'p>, role: &str) -> Option<Measure> {
        match self.value(expr, env) {
            Kind::Quantity(dimension, currency) => Some((dimension, currency)),
            Kind::Any => None,
            other => {
                let (wanted, got) = ("a number or a measure".to_owned(), other.describe());
                self.report(KindError::Wrong { role: role.to_owned(), wanted, got, span: expr.span, declared: None });
                None
            }
        }
    }

    fn equal(&mut self, left: &'p Expr, right: &'p Expr, env: &Env<'p>) {
        let (a, b) = (self.value(left, env), self.value(right, env));
        match (&a, &b) {
            (Kind::Quantity(x, c), Kind::Quantity(y, d)) if x == y => drop(self.same_money(*c, *d, left.span.to(right.span))),
            (Kind::Word(_), Kind::Word(given)) if !a.fits(&b) => {
                // The side that may be more words is the parameter; the other is what can never be it.
                let swap = given.len() > 1;
                let (kind, expr, want, of) = if swap { (&a, left, &b, right) } else { (&b, right, &a, left) };
                let role = match &of.kind {
                    ExprKind::Reference(name) => format!("`{}`", name.text),
                    _ => "this".to_owned(),
                };
                self.fit(kind, expr, &Want::One(want.clone()), &role, None);
            }
            (Kind::Point | Kind::List(_), _) | (_, Kind::Point | Kind::List(_)) => {
                let at = if matches!(a, Kind::Point | Kind::List(_)) { (&a, left) } else { (&b, right) };
                let (role, wanted) = ("what is compared".to_owned(), "a measure, a word, a text or yes or no".to_owned());
                self.report(KindError::Wrong { role, wanted, got: at.0.describe(), span: at.1.span, declared: None });
            }
            _ if a.fits(&b) || b.fits(&a) => {}
            _ => drop(self.unlike("compared", (&a, left), (&b, right))),
        }
    }

    /// Reports two values that can't be put together.
    pub(super) fn unlike(&mut self, done: &'static str, left: (&Kind, &Expr), right: (&Kind, &Expr)) -> Kind {
        let quantities = matches!((left.0, right.0), (Kind::Quantity(..), Kind::Quantity(..)));
        let (left_text, right_text) = (left.0.describe(), right.0.describe());
        if quantities {
            let bare = [left.1, right.1].into_iter().find(|e| matches!(e.kind, ExprKind::Number(_))).map(|e| e.span);
            let (left_span, right_span) = (left.1.span, right.1.span);
            self.report(KindError::Unlike { done, left: left_text, left_span, right: right_text, right_span, bare });
        } else {
            let role = format!("what is {done} with {left_text}");
            self.report(KindError::Wrong { role, wanted: left_text, got: right_text, span: right.1.span, declared: Some(left.1.span) });
        }
        Kind::Any
    }

    fn same_money(&mut self, left: Option<Currency>, right: Option<Currency>, span: Span) -> Option<Currency> {
        match (left, right) {
            (Some(left), Some(right)) if left != right => {
                self.report(KindError::Currencies { left, right, span });
                None
            }
            (left, right) => left.or(right),
        }
    }

    fn outcome(
        &mut self,
        outcome: Result<Dimension, ArithmeticError>,
        currency: Option<Currency>,
        done: &'static str,
        left: (Dimension, &'p Expr),
        right: (Dimension, &'p Expr),
        span: Span,
    ) -> Kind {
        match outcome {
            Ok(dimension) => Kind::Quantity(dimension, currency.filter(|_| dimension.money != 0)),
            Err(ArithmeticError::TemperaturePoint) => {
                self.report(KindError::Reading { span });
                Kind::Any
            }
            Err(ArithmeticError::Root(of, degree)) => {
                self.report(KindError::Root { degree, of: of.describe(), span });
                Kind::Any
            }
            Err(ArithmeticError::PowerTooHigh) => {
                self.report(KindError::Power { span });
                Kind::Any
            }
            Err(_) => self.unlike(done, (&Kind::of(left.0), left.1), (&Kind::of(right.0), right.1)),
        }
    }
}

const fn done(op: BinaryOp) -> &'static str {
    match op {
        BinaryOp::Add => "added",
        BinaryOp::Subtract => "taken from each other",
        BinaryOp::Multiply => "multiplied",
        BinaryOp::Divide => "divided",
        _ => "compared",
    }
}

const fn does(op: BinaryOp) -> &'static str {
    match op {
        BinaryOp::Add => "what is added",
        BinaryOp::Subtract => "what is subtracted",
        BinaryOp::Multiply => "what is multiplied",
        BinaryOp::Divide => "what is divided",
        _ => "what is compared by size",
    }
}
