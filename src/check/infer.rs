//! Kinds of expressions.

use super::checker::{Checker, Env, Found};
use super::error::{Bare, KindError, NameError};
use super::goods::{FieldKind, SORTS, Sort};
use super::kind::{Kind, Want};
use super::panel_facts::PanelFacts;
use super::program::Entity;
use super::words;
use crate::diagnostic::nearest;
use crate::quantity::{UnitError, unit};
use crate::source::Span;
use crate::syntax::ast::{BinaryOp, Expr, ExprKind, Name, TextLiteral, TextPart};
use std::rc::Rc;

/// What an expression stands for: a value, or something that only has values to read.
pub(super) enum Thing {
    /// A value.
    Value(Kind),
    /// A panel.
    Panel(Rc<PanelFacts>),
    /// An edge of a panel.
    Edge,
}

/// Expressions nested deeper, calls of functions counted in, are not followed: parsing stops at 200 in one expression,
/// and 300 levels fit the stack of any thread. What is too deep is reported when it is worked out.
const DEEPEST: usize = 300;

/// What can be read of an edge.
const EDGE_MEASURES: &[&str] = &["length", "sewn_length", "allowance"];

impl<'p> Checker<'p> {
    /// The kind of an expression that must be a value.
    pub(super) fn value(&mut self, expr: &'p Expr, env: &Env<'p>) -> Kind {
        match self.thing(expr, env) {
            Thing::Value(kind) => kind,
            Thing::Panel(facts) => {
                let edge = facts.listed().into_iter().next().map_or_else(String::new, |e| format!(", `{}.{e}.length`", facts.name));
                let help = format!("read something of it: `{}.width`{edge}", facts.name);
                self.not_a_value(expr, "a panel", help)
            }
            Thing::Edge => {
                let mut text = String::new();
                super::walk::expr(expr, &mut |mention| text = mention.text());
                self.not_a_value(expr, "an edge", format!("read its length: `{text}.length`"))
            }
        }
    }

    fn not_a_value(&mut self, expr: &Expr, is: &'static str, help: String) -> Kind {
        let name = match &expr.kind {
            ExprKind::Reference(name) | ExprKind::Member { member: name, .. } => name.text.clone(),
            _ => String::new(),
        };
        self.report(NameError::WrongThing { name, span: expr.span, is, wanted: "a value", help: Some(help), declared: None });
        Kind::Any
    }

    /// An expression where something in particular is wanted; `role` is the subject of the report, `an allowance`.
    pub(super) fn expect(&mut self, expr: &'p Expr, env: &Env<'p>, want: &Want, role: &str) -> Kind {
        self.expect_declared(expr, env, want, role, None)
    }

    /// The same, showing where the want is declared.
    pub(super) fn expect_declared(&mut self, expr: &'p Expr, env: &Env<'p>, want: &Want, role: &str, declared: Option<Span>) -> Kind {
        let kind = self.value(expr, env);
        if !self.lacks_unit(expr, env, want) {
            self.fit(&kind, expr, want, role, declared);
        }
        kind
    }

    /// Reports a bare number where a measure is meant: past the end of any edge as a share of it, or declared without its unit,
    /// which is told there, once, however often it is used.
    fn lacks_unit(&mut self, expr: &'p Expr, env: &Env<'p>, want: &Want) -> bool {
        let along = matches!(want, Want::Along | Want::Distances);
        let measure = matches!(want, Want::One(Kind::Quantity(d, _)) if !d.is_number()) || along;
        let number = |e: &Expr| if let ExprKind::Number(n) = e.kind { Some(n) } else { None };
        // A share of an edge may be a bare number up to all of it.
        let meant = |n: f64| measure && !(along && n <= 1.0);
        if let Some(n) = number(expr).filter(|n| along && meant(*n)) {
            self.report(KindError::NotAlong { number: n, span: expr.span });
            return true;
        }
        let ExprKind::Reference(name) = &expr.kind else { return false };
        let Found::Entities(all) = self.find(&name.text, env) else { return false };
        let value = match all.as_slice() {
            [Entity::Param(id)] => self.program.params.get(id.index()).map(|d| &d.item.default),
            [Entity::Constant(id)] => self.program.constants.get(id.index()).map(|d| &d.item.value),
            _ => None,
        };
        let Some(literal) = value.filter(|v| number(v).is_some_and(meant)) else { return false };
        let (name, wanted) = (name.text.clone(), if along { "a length".to_owned() } else { want.describe() });
        self.report(KindError::Unitless { name, wanted, literal: literal.span, used: expr.span });
        true
    }

    /// Reports a kind that does not fit.
    pub(super) fn fit(&mut self, kind: &Kind, expr: &Expr, want: &Want, role: &str, declared: Option<Span>) {
        if want.takes(kind) {
            return;
        }
        let (role, wanted, got, span) = (role.to_owned(), want.describe(), kind.describe(), expr.span);
        match (want, kind) {
            (Want::One(Kind::Truth), _) if role.is_empty() => {
                let number = matches!(kind, Kind::Quantity(..));
                self.report(KindError::NotYesNo { got, span, number });
            }
            (Want::One(Kind::Word(known)), Kind::Word(given)) => {
                let word = given.iter().next().cloned().unwrap_or_default();
                let nearest = nearest(&word, known.iter().map(String::as_str)).map(str::to_owned);
                self.report(KindError::WrongWord { role, word, span, known: known.iter().cloned().collect(), nearest });
            }
            (Want::One(Kind::Quantity(..)) | Want::AnyOf(_) | Want::Along | Want::Distances, Kind::Quantity(dimension, _)) => {
                let bare = if dimension.is_number() { bare(expr) } else { Bare::No };
                self.report(KindError::Dimension { role, wanted, got, span, declared, bare });
            }
            _ => self.report(KindError::Wrong { role, wanted, got, span, declared }),
        }
    }

    /// A condition.
    pub(super) fn condition(&mut self, expr: &'p Expr, env: &Env<'p>) {
        self.expect(expr, env, &Want::One(Kind::Truth), "");
    }

    /// A text: everything in its holes must be printable.
    pub(super) fn text(&mut self, text: &'p TextLiteral, env: &Env<'p>) {
        for part in &text.parts {
            if let TextPart::Hole(hole) = part {
                self.expect(hole, env, &Want::Printable, "what is written into a text");
            }
        }
    }

    /// What an expression stands for.
    pub(super) fn thing(&mut self, expr: &'p Expr, env: &Env<'p>) -> Thing {
        if self.depth >= DEEPEST {
            return Thing::Value(Kind::Any);
        }
        self.depth += 1;
        let thing = self.thing_of(expr, env);
        self.depth -= 1;
        thing
    }

    fn thing_of(&mut self, expr: &'p Expr, env: &Env<'p>) -> Thing {
        Thing::Value(match &expr.kind {
            ExprKind::Number(_) => Kind::NUMBER,
            ExprKind::Quantity { value, unit } => self.literal(*value, unit, expr.span, env),
            ExprKind::Text(text) => {
                self.text(text, env);
                Kind::Text
            }
            ExprKind::Truth(_) => Kind::Truth,
            ExprKind::List(items) => self.list(items, env),
            ExprKind::Point(x, y) => {
                self.expect(x, env, &Kind::LENGTH.into(), "how far a point lies to the right");
                self.expect(y, env, &Kind::LENGTH.into(), "how far a point lies up");
                Kind::Point
            }
            ExprKind::Reference(name) => return self.reference(name, env),
            ExprKind::Call { callee, arguments } => self.call(callee, arguments, expr.span, env),
            ExprKind::Member { of, member } => return self.member(of, member, env),
            ExprKind::Negate(of) => self.negate(of, env, expr.span),
            ExprKind::Not(of) => {
                self.condition(of, env);
                Kind::Truth
            }
            ExprKind::Binary { op, left, right } => self.binary(*op, left, right, expr.span, env),
            ExprKind::Power(of, power) => self.power(of, *power, expr.span, env),
            ExprKind::Choose { condition, then, otherwise } => {
                self.condition(condition, env);
                let (a, b) = (self.value(then, env), self.value(otherwise, env));
                a.or(&b).unwrap_or_else(|| self.unlike("chosen between", (&a, then), (&b, otherwise)))
            }
        })
    }

    fn literal(&mut self, value: f64, name: &Name, literal: Span, env: &Env<'p>) -> Kind {
        match unit(&name.text) {
            Ok(unit) => Kind::Quantity(unit.dimension, unit.currency),
            Err(UnitError::Unknown(meant)) => {
                let formula = self.formula(value, name, env);
                self.report(KindError::Unit { unit: name.text.clone(), span: name.span, meant, formula, literal });
                Kind::Any
            }
        }
    }

    /// What was meant by `2 wide` and `12 mm/count`, when these are names and no units.
    fn formula(&self, value: f64, name: &Name, env: &Env<'p>) -> Option<String> {
        let known = |n: &str| matches!(self.find(n, env), Found::Local(_) | Found::Entities(_));
        match name.text.split_once('/') {
            Some((above, below)) if known(below) && unit(above).is_ok() => Some(format!("{value} {above} / {below}")),
            None if known(&name.text) => Some(format!("{value} * {}", name.text)),
            _ => None,
        }
    }

    fn list(&mut self, items: &'p [Expr], env: &Env<'p>) -> Kind {
        let mut all: Option<(Kind, &Expr)> = None;
        for item in items {
            let kind = self.value(item, env);
            match &all {
                None => all = Some((kind, item)),
                Some((first, at)) => match first.or(&kind) {
                    Some(both) => all = Some((both, at)),
                    None => {
                        let (first, other) = (first.describe(), kind.describe());
                        self.report(KindError::MixedList { first, first_span: at.span, other, other_span: item.span });
                        return Kind::List(Box::new(Kind::Any));
                    }
                },
            }
        }
        Kind::List(Box::new(all.map_or(Kind::Any, |(kind, _)| kind)))
    }

    fn reference(&mut self, name: &'p Name, env: &Env<'p>) -> Thing {
        let entities = match self.find(&name.text, env) {
            Found::Local(local) => return Thing::Value(local.kind.clone()),
            Found::Entities(all) => all,
            Found::Silent => return Thing::Value(Kind::Any),
            Found::Nothing => {
                self.unknown(name, env, None, |_| true);
                return Thing::Value(Kind::Any);
            }
        };
        let mut kind: Option<Kind> = None;
        for entity in entities {
            let next = match entity {
                Entity::Param(id) => self.params.get(id.index()).cloned().unwrap_or(Kind::Any),
                Entity::Choice => Kind::word(&name.text),
                Entity::Constant(id) => self.constants.get(id.index()).cloned().unwrap_or(Kind::Any),
                Entity::Material(id) => Kind::Material(self.sort_of(id)),
                Entity::Builtin(b) if !b.is_function() => Kind::NUMBER,
                Entity::Panel(id) | Entity::Copy(id, _) | Entity::Part(id) => {
                    return Thing::Panel(self.panels.get(id.index()).cloned().unwrap_or_default());
                }
                other => {
                    self.not_standing_alone(name, other);
                    return Thing::Value(Kind::Any);
                }
            };
            kind = Some(kind.map_or(next.clone(), |k: Kind| k.or(&next).unwrap_or(Kind::Any)));
        }
        Thing::Value(kind.unwrap_or(Kind::Any))
    }

    fn not_standing_alone(&mut self, name: &Name, entity: Entity) {
        let help = match entity {
            Entity::Function(_) | Entity::Builtin(_) => Some(format!("call it: `{}(…)`", name.text)),
            _ => None,
        };
        let declared = self.program.name_of(entity).map(|n| n.span);
        self.report(NameError::WrongThing {
            name: name.text.clone(),
            span: name.span,
            is: entity.what(),
            wanted: "a value",
            help,
            declared,
        });
    }

    /// The sort of a declared material.
    pub(super) fn sort_of(&self, id: super::program::MaterialDeclId) -> Option<Sort> {
        self.program.materials.get(id.index()).and_then(|d| Sort::named(&d.item.kind.text))
    }

    fn member(&mut self, of: &'p Expr, member: &'p Name, env: &Env<'p>) -> Thing {
        match self.thing(of, env) {
            Thing::Value(Kind::Any) => Thing::Value(Kind::Any),
            Thing::Value(Kind::Material(sort)) => Thing::Value(self.figure(sort, member)),
            Thing::Value(kind) => {
                self.no_member(kind.describe(), member, &[]);
                Thing::Value(Kind::Any)
            }
            Thing::Panel(facts) => match member.text.as_str() {
                "width" | "height" => Thing::Value(Kind::LENGTH),
                "area" => Thing::Value(Kind::AREA),
                edge if facts.has_edge(edge) || !facts.whole => Thing::Edge,
                _ => {
                    let known: Vec<String> = words::PANEL_MEASURES.iter().map(|w| (*w).to_owned()).chain(facts.listed()).collect();
                    let known: Vec<&str> = known.iter().map(String::as_str).collect();
                    self.no_member(format!("panel `{}`", facts.name), member, &known);
                    Thing::Value(Kind::Any)
                }
            },
            Thing::Edge => {
                if !EDGE_MEASURES.contains(&member.text.as_str()) {
                    self.no_member("an edge".to_owned(), member, EDGE_MEASURES);
                    return Thing::Value(Kind::Any);
                }
                Thing::Value(Kind::LENGTH)
            }
        }
    }

    fn figure(&mut self, sort: Option<Sort>, member: &Name) -> Kind {
        let Some(sort) = sort else {
            if SORTS.iter().all(|(_, s)| s.field(&member.text).is_none()) {
                self.no_member("a material".to_owned(), member, &[]);
            }
            return Kind::Any;
        };
        match sort.field(&member.text) {
            Some(field) if matches!(field.kind, FieldKind::AnyOf(_)) => Kind::Any,
            Some(field) => field.kind.into(),
            None => {
                let known: Vec<&str> = sort.fields().iter().map(|f| f.name).collect();
                self.no_member(Kind::Material(Some(sort)).describe(), member, &known);
                Kind::Any
            }
        }
    }

    fn no_member(&mut self, of: String, member: &Name, known: &[&str]) {
        let nearest = nearest(&member.text, known.iter().copied()).map(str::to_owned);
        let known = known.iter().map(|k| (*k).to_owned()).collect();
        self.report(NameError::UnknownMember { of, member: member.text.clone(), span: member.span, nearest, known });
    }
}

fn is_figure(expr: &Expr) -> bool {
    matches!(expr.kind, ExprKind::Number(_))
}

/// Whether an expression is a bare number as written, or a fraction of two.
fn bare(expr: &Expr) -> Bare {
    match expr.kind {
        ExprKind::Number(0.0) => Bare::Zero,
        ExprKind::Number(_) => Bare::Number,
        ExprKind::Binary { op: BinaryOp::Divide, ref left, ref right } if is_figure(left) && is_figure(right) => Bare::Number,
        _ => Bare::No,
    }
}
