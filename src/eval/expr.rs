//! Expressions.

use super::error::EvalError;
use super::evaluator::{Eval, Evaluator, MAX_REPEAT, MAX_TEXT, Stop};
use super::value::{Env, Goods, Local, Traced, Value, letters};
use crate::check::Entity;
use crate::ir::{Text, TextPart};
use crate::quantity::{Area, Dimension, Length, Mass, Quantity, Style, format_quantity, unit};
use crate::source::Span;
use crate::syntax::ast::{self, BinaryOp, Expr, ExprKind};
use std::rc::Rc;

impl<'p> Evaluator<'p> {
    /// Works an expression out.
    pub(crate) fn expr(&mut self, expr: &'p Expr, env: &Env<'p>) -> Eval<Value> {
        self.spend(1, expr.span)?;
        self.deeper(expr.span, |me| me.expr_here(expr, env))
    }

    fn expr_here(&mut self, expr: &'p Expr, env: &Env<'p>) -> Eval<Value> {
        match &expr.kind {
            ExprKind::Number(n) => Ok(Value::Quantity(Quantity::number(*n))),
            ExprKind::Quantity { value, unit } => self.measure(*value, unit),
            ExprKind::Text(text) => Ok(Value::Text(self.text(text, env)?)),
            ExprKind::Truth(t) => Ok(Value::Truth(*t)),
            ExprKind::List(items) => self.list(items, env, expr.span),
            ExprKind::Point(x, y) => Ok(Value::Point(self.length(x, env)?, self.length(y, env)?)),
            ExprKind::Reference(name) => self.reference(name, env),
            ExprKind::Call { callee, arguments } => self.call(callee, arguments, env, expr.span),
            ExprKind::Member { of, member } => self.member(of, member, env, expr.span),
            ExprKind::Negate(inner) => {
                let q = self.quantity(inner, env)?;
                self.checked(q.neg(), expr.span)
            }
            ExprKind::Not(inner) => Ok(Value::Truth(!self.truth(inner, env)?)),
            ExprKind::Power(base, power) => {
                let q = self.quantity(base, env)?;
                self.checked(q.powi(*power), expr.span)
            }
            ExprKind::Choose { condition, then, otherwise } => {
                if self.truth(condition, env)? {
                    self.expr(then, env)
                } else {
                    self.expr(otherwise, env)
                }
            }
            ExprKind::Binary { op, left, right } => self.binary(*op, left, right, env, expr.span),
        }
    }

    fn measure(&mut self, value: f64, name: &ast::Name) -> Eval<Value> {
        match unit(&name.text) {
            Ok(unit) => self.checked(Quantity::of(value, &unit), name.span),
            Err(_) => self.fail(EvalError::Unknown { name: name.clone() }),
        }
    }

    fn list(&mut self, items: &'p [Expr], env: &Env<'p>, span: Span) -> Eval<Value> {
        if items.len() > MAX_REPEAT {
            return self.fail(EvalError::TooMany { what: "values stand in one list", count: items.len() as f64, most: MAX_REPEAT, span });
        }
        let list = Value::List(items.iter().map(|i| self.expr(i, env)).collect::<Eval<_>>()?);
        let count = list.size();
        if count > MAX_REPEAT {
            return self.fail(EvalError::TooMany { what: "values stand in one list", count: count as f64, most: MAX_REPEAT, span });
        }
        Ok(list)
    }

    fn binary(&mut self, op: BinaryOp, left: &'p Expr, right: &'p Expr, env: &Env<'p>, span: Span) -> Eval<Value> {
        match op {
            BinaryOp::And => return Ok(Value::Truth(self.truth(left, env)? && self.truth(right, env)?)),
            BinaryOp::Or => return Ok(Value::Truth(self.truth(left, env)? || self.truth(right, env)?)),
            BinaryOp::Equal => return Ok(Value::Truth(self.equal(left, right, env, span)?)),
            BinaryOp::NotEqual => return Ok(Value::Truth(!self.equal(left, right, env, span)?)),
            _ => {}
        }
        let (a, b) = (self.quantity(left, env)?, self.quantity(right, env)?);
        use std::cmp::Ordering::{Equal, Greater, Less};
        let ordered = |me: &mut Self, ok: &[std::cmp::Ordering]| {
            let order = me.settled(a.compare(b), span)?;
            Ok(Value::Truth(ok.contains(&order)))
        };
        match op {
            BinaryOp::Add => self.checked(a.add(b), span),
            BinaryOp::Subtract => self.checked(a.sub(b), span),
            BinaryOp::Multiply => self.checked(a.mul(b), span),
            BinaryOp::Divide => self.checked(a.div(b), span),
            BinaryOp::Less => ordered(self, &[Less]),
            BinaryOp::LessOrEqual => ordered(self, &[Less, Equal]),
            BinaryOp::Greater => ordered(self, &[Greater]),
            _ => ordered(self, &[Greater, Equal]),
        }
    }

    fn equal(&mut self, left: &'p Expr, right: &'p Expr, env: &Env<'p>, span: Span) -> Eval<bool> {
        match (self.expr(left, env)?, self.expr(right, env)?) {
            (Value::Quantity(a), Value::Quantity(b)) => Ok(self.settled(a.compare(b), span)?.is_eq()),
            (Value::Truth(a), Value::Truth(b)) => Ok(a == b),
            (Value::Choice(a), Value::Choice(b)) => Ok(a == b),
            (Value::Text(a), Value::Text(b)) => Ok(plain(&a) == plain(&b)),
            (Value::Material(a), Value::Material(b)) => Ok(a.name == b.name),
            _ => self.fail(EvalError::WrongKind { wanted: "two things of one kind", got: "two unlike things".to_owned(), span }),
        }
    }

    /// Turns arithmetic's outcome into a value, or reports why it has none.
    pub(crate) fn checked(&mut self, outcome: Result<Quantity, crate::quantity::ArithmeticError>, span: Span) -> Eval<Value> {
        self.settled(outcome, span).map(Value::Quantity)
    }

    /// Arithmetic's outcome, or a report of why it has none.
    pub(crate) fn settled<T>(&mut self, outcome: Result<T, crate::quantity::ArithmeticError>, span: Span) -> Eval<T> {
        match outcome {
            Ok(q) => Ok(q),
            Err(error) => self.fail(EvalError::Arithmetic { error, span }),
        }
    }

    fn reference(&mut self, name: &ast::Name, env: &Env<'p>) -> Eval<Value> {
        if let Some(traced) = self.local(name, env)? {
            self.read(traced.why);
            self.spend(traced.value.size() / 10, name.span)?;
            return Ok(traced.value);
        }
        let traced = match self.entity(env.scope, name)? {
            Entity::Param(id) => match self.params.get(id.index()).cloned().flatten() {
                Some(t) => t,
                // It failed, or one set from outside needs another that is worked out after it.
                None if self.problems.has_errors() => return Err(Stop),
                None => return self.fail(EvalError::NotYet { name: name.clone() }),
            },
            Entity::Choice => return Ok(Value::Choice(name.text.clone())),
            Entity::Constant(id) => self.constant(id, name.span)?,
            Entity::Material(id) => self.goods(id, None, env, name.span)?,
            Entity::Builtin(b) => return self.builtin_constant(b, name),
            _ => return self.fail(EvalError::WrongKind { wanted: "a value", got: format!("`{}`", name.text), span: name.span }),
        };
        self.read(traced.why);
        self.spend(traced.value.size() / 10, name.span)?;
        Ok(traced.value)
    }

    /// A name of the body's own, worked out at first use.
    pub(crate) fn local(&mut self, name: &ast::Name, env: &Env<'p>) -> Eval<Option<Traced>> {
        let found = env.locals.borrow().get(&name.text).cloned();
        match found {
            None => Ok(None),
            Some(Local::Ready(traced)) => Ok(Some(traced)),
            Some(Local::Failed) => Err(Stop),
            Some(Local::Busy) => self.fail(EvalError::Cycle { name: name.text.clone(), at: name.span }),
            Some(Local::Let(constant)) => {
                env.bind(&name.text, Local::Busy);
                let what = format!("{}{}", env.label, name.text);
                let traced = self.traced(&what, &constant.value, env).map(|t| super::evaluator::named(t, &constant.name.text));
                env.bind(&name.text, traced.clone().map_or(Local::Failed, Local::Ready));
                traced.map(Some)
            }
        }
    }

    fn member(&mut self, of: &'p Expr, member: &'p ast::Name, env: &Env<'p>, span: Span) -> Eval<Value> {
        if let Some(path) = dotted(of, member)
            && let Some(root) = path.first()
            && !env.locals.borrow().contains_key(&root.text)
            && let entity @ (Entity::Panel(id) | Entity::Copy(id, _) | Entity::Part(id)) = self.entity(env.scope, root)?
        {
            return self.panel_measure(id, entity, &path, span);
        }
        match self.expr(of, env)? {
            Value::Material(goods) => self.goods_field(&goods, member),
            other => self.wrong("a material, a panel or an edge", &other, of.span),
        }
    }

    fn goods_field(&mut self, goods: &Rc<Goods>, member: &ast::Name) -> Eval<Value> {
        match goods.fields.get(&member.text) {
            Some(field) => {
                self.read(field.why);
                Ok(field.value.clone())
            }
            None => {
                let declared = self.program.materials.get(goods.decl.index()).map(|d| d.item.name.span);
                self.fail(EvalError::NoFigure { goods: goods.name.clone(), figure: member.clone(), declared })
            }
        }
    }

    /// A quantity of any dimension.
    pub(crate) fn quantity(&mut self, expr: &'p Expr, env: &Env<'p>) -> Eval<Quantity> {
        match self.expr(expr, env)? {
            Value::Quantity(q) => Ok(q),
            other => self.wrong("a number", &other, expr.span),
        }
    }

    /// A quantity of one dimension, in base units.
    pub(crate) fn of_dimension(&mut self, expr: &'p Expr, env: &Env<'p>, dimension: Dimension, wanted: &'static str) -> Eval<f64> {
        let q = self.quantity(expr, env)?;
        if q.dimension == dimension { Ok(q.value) } else { self.wrong(wanted, &Value::Quantity(q), expr.span) }
    }

    /// A length, mm.
    pub(crate) fn length(&mut self, expr: &'p Expr, env: &Env<'p>) -> Eval<f64> {
        self.of_dimension(expr, env, Dimension::LENGTH, "a length")
    }

    /// A bare number.
    pub(crate) fn number(&mut self, expr: &'p Expr, env: &Env<'p>) -> Eval<f64> {
        self.of_dimension(expr, env, Dimension::NUMBER, "a bare number")
    }

    /// A whole number of things, from `least` to `most`.
    pub(crate) fn count(&mut self, expr: &'p Expr, env: &Env<'p>, least: u32, most: usize) -> Eval<u32> {
        let n = self.number(expr, env)?;
        // A whole number but for rounding noise, as of `(0.1 + 0.2) * 10`, is one.
        let n = if (n - n.round()).abs() < 1e-9 { n.round() } else { n };
        if n.fract() != 0.0 || n < f64::from(least) {
            return self.fail(EvalError::NotACount { value: n, least, span: expr.span });
        }
        if n > most as f64 {
            return self.fail(EvalError::TooMany { what: "are asked for", count: n, most, span: expr.span });
        }
        Ok(n as u32)
    }

    /// Yes or no.
    pub(crate) fn truth(&mut self, expr: &'p Expr, env: &Env<'p>) -> Eval<bool> {
        match self.expr(expr, env)? {
            Value::Truth(t) => Ok(t),
            other => self.wrong("yes or no", &other, expr.span),
        }
    }

    /// A point.
    pub(crate) fn point(&mut self, expr: &'p Expr, env: &Env<'p>) -> Eval<crate::geometry::Point> {
        match self.expr(expr, env)? {
            Value::Point(x, y) => Ok(crate::geometry::Point::new(x, y)),
            other => self.wrong("a point (x, y)", &other, expr.span),
        }
    }

    /// Reports a value of the wrong kind.
    pub(crate) fn wrong<T>(&mut self, wanted: &'static str, got: &Value, span: Span) -> Eval<T> {
        let got = match got {
            Value::Quantity(q) => q.dimension.describe(),
            Value::Truth(_) => "yes or no".to_owned(),
            Value::Text(_) => "text".to_owned(),
            Value::Choice(word) => format!("the word `{word}`"),
            Value::Point(..) => "a point".to_owned(),
            Value::List(_) => "a list".to_owned(),
            Value::Material(_) => "a material".to_owned(),
        };
        self.fail(EvalError::WrongKind { wanted, got, span })
    }

    /// Text with its holes filled; measures stay measures.
    pub(crate) fn text(&mut self, literal: &'p ast::TextLiteral, env: &Env<'p>) -> Eval<Text> {
        let mut parts: Vec<TextPart> = Vec::new();
        for part in &literal.parts {
            match part {
                ast::TextPart::Chunk(words) => parts.push(TextPart::Words(words.clone())),
                ast::TextPart::Hole(expr) => match self.expr(expr, env)? {
                    Value::Quantity(q) => parts.push(measured(q)),
                    Value::Text(text) => parts.extend(text.0),
                    other => parts.push(TextPart::Words(self.word(&other))),
                },
            }
        }
        let count = letters(&parts);
        if count > MAX_TEXT {
            return self.fail(EvalError::TooMany {
                what: "letters stand in one text",
                count: count as f64,
                most: MAX_TEXT,
                span: literal.span,
            });
        }
        Ok(Text(parts))
    }

    /// A title or doc line in plain words; empty when absent.
    pub(crate) fn title(&mut self, literal: Option<&'p ast::TextLiteral>, env: &Env<'p>) -> Eval<String> {
        literal.map_or(Ok(String::new()), |t| self.text(t, env).map(|t| plain(&t)))
    }
}

fn measured(q: Quantity) -> TextPart {
    match q.dimension {
        Dimension::LENGTH => TextPart::Length(Length::mm(q.value)),
        Dimension::AREA => TextPart::Area(Area::mm2(q.value)),
        Dimension::MASS => TextPart::Mass(Mass::grams(q.value)),
        _ => TextPart::Words(format_quantity(q, Style::default())),
    }
}

/// Text in metric words.
pub(crate) fn plain(text: &Text) -> String {
    text.worded(Style::METRIC)
}

/// `a.b.c` as its names, when it is nothing but names.
fn dotted<'p>(of: &'p Expr, member: &'p ast::Name) -> Option<Vec<&'p ast::Name>> {
    let mut path = match &of.kind {
        ExprKind::Reference(name) => vec![name],
        ExprKind::Member { of, member } => dotted(of, member)?,
        _ => return None,
    };
    path.push(member);
    Some(path)
}
