//! Calls: arguments against parameters, built-in functions, functions, materials.

use super::builtin::{Builtin, Shape};
use super::checker::{Checker, Env, Found, Signature};
use super::error::{ArgumentError, KindError, MaterialError, NameError};
use super::goods::Sort;
use super::kind::{Kind, Want};
use super::program::{Entity, FunctionId};
use crate::diagnostic::nearest;
use crate::source::Span;
use crate::syntax::ast::{Arguments, Expr, Name, Parameter};

impl<'p> Checker<'p> {
    /// A call in an expression.
    pub(super) fn call(&mut self, callee: &'p Name, arguments: &'p Arguments, span: Span, env: &Env<'p>) -> Kind {
        let entities = match self.find(&callee.text, env) {
            Found::Entities(all) => all,
            Found::Silent => return self.only_look(arguments, env),
            Found::Local(local) => {
                let (is, declared) = (local.is, local.span);
                return self.not_callable(callee, is, declared, arguments, env);
            }
            Found::Nothing => {
                self.unknown(callee, env, Some("function"), |e| matches!(e, Entity::Function(_) | Entity::Material(_)) || is_function(e));
                return self.only_look(arguments, env);
            }
        };
        match entities.first().copied() {
            Some(Entity::Builtin(builtin)) if builtin.is_function() => self.built_in(builtin, callee, arguments, span, env),
            Some(Entity::Function(id)) => self.function(id, arguments, span, env),
            Some(Entity::Material(id)) => self.copy_of_material(self.sort_of(id), arguments, env),
            Some(Entity::Constant(id)) => match self.constants.get(id.index()).cloned() {
                Some(Kind::Material(sort)) => self.copy_of_material(sort, arguments, env),
                Some(Kind::Any) => self.only_look(arguments, env),
                _ => self.not_callable(callee, "a `let`", self.declared_at(Entity::Constant(id)), arguments, env),
            },
            Some(other) => self.not_callable(callee, other.what(), self.declared_at(other), arguments, env),
            None => self.only_look(arguments, env),
        }
    }

    fn declared_at(&self, entity: Entity) -> Option<Span> {
        self.program.name_of(entity).map(|n| n.span)
    }

    /// Arguments of something unknown: only what is wrong inside them is of interest.
    pub(super) fn only_look(&mut self, arguments: &'p Arguments, env: &Env<'p>) -> Kind {
        for argument in &arguments.items {
            self.value(&argument.value, env);
        }
        Kind::Any
    }

    fn not_callable(&mut self, callee: &Name, is: &'static str, declared: Option<Span>, arguments: &'p Arguments, env: &Env<'p>) -> Kind {
        let (name, span) = (callee.text.clone(), callee.span);
        let help = match is {
            "an outline" => Some("an outline stands after `shape` or `hole`".to_owned()),
            "a component" => Some("a component stands in an `attach` line".to_owned()),
            "a finish" => Some("a finish stands after `with`".to_owned()),
            _ => None,
        };
        self.report(NameError::WrongThing { name, span, is, wanted: "a function or a material", help, declared });
        self.only_look(arguments, env)
    }

    /// Checks arguments against parameters; the kinds that the parameters have in this call.
    pub(super) fn arguments(&mut self, signature: &Signature<'p>, arguments: &'p Arguments, env: &Env<'p>) -> Vec<Kind> {
        let callee = &signature.name.text;
        let mut kinds: Vec<Option<Kind>> = vec![None; signature.parameters.len()];
        let mut given: Vec<Option<Span>> = vec![None; signature.parameters.len()];
        let names: Vec<&str> = signature.parameters.iter().map(|p| p.name.text.as_str()).collect();
        let mut lost = false;
        for (value, slot) in self.slots(callee, &names, arguments) {
            let Some((index, at)) = slot else {
                lost = true;
                self.value(value, env);
                continue;
            };
            if let Some(Some(first)) = given.get(index).copied() {
                let name = names.get(index).copied().unwrap_or_default().to_owned();
                self.report(ArgumentError::Twice { name, first, second: at });
                self.value(value, env);
                continue;
            }
            let wanted = signature.kinds.get(index).cloned().unwrap_or(Kind::Any);
            let parameter = signature.parameters.get(index);
            let role = format!("`{}` of `{callee}`", names.get(index).copied().unwrap_or_default());
            let kind = self.expect_declared(value, env, &wanted.clone().into(), &role, parameter.map(|p| p.name.span));
            if let (Some(kinds), Some(given)) = (kinds.get_mut(index), given.get_mut(index)) {
                *kinds = Some(if wanted == Kind::Any { kind } else { wanted });
                *given = Some(at);
            }
        }
        // An argument that found no place is most likely the one that is missing, misspelt.
        if !lost {
            self.missing(signature, &given, arguments.span);
        }
        kinds.into_iter().zip(&signature.kinds).map(|(k, declared)| k.unwrap_or_else(|| declared.clone())).collect()
    }

    fn missing(&mut self, signature: &Signature<'p>, given: &[Option<Span>], span: Span) {
        let absent = |(p, given): (&Parameter, &Option<Span>)| (given.is_none() && p.default.is_none()).then(|| p.name.text.clone());
        let names: Vec<String> = signature.parameters.iter().zip(given).filter_map(absent).collect();
        if !names.is_empty() {
            let (callee, declared) = (signature.name.text.clone(), Some(signature.name.span));
            self.report(ArgumentError::Missing { callee, names, span, declared });
        }
    }

    /// Which parameter each argument is for, by its index, and where that is said.
    fn slots(&mut self, callee: &str, names: &[&str], arguments: &'p Arguments) -> Vec<(&'p Expr, Option<(usize, Span)>)> {
        let (mut slots, mut named, mut too_many) = (Vec::new(), None, false);
        for (place, argument) in arguments.items.iter().enumerate() {
            let value = &argument.value;
            let slot = match &argument.name {
                Some(name) => {
                    named = named.or(Some(name.span));
                    let found = names.iter().position(|n| *n == name.text);
                    if found.is_none() {
                        self.unknown_argument(callee, name, names);
                    }
                    found.map(|index| (index, name.span))
                }
                None => match named {
                    Some(named) => {
                        self.report(ArgumentError::Order { span: value.span, named });
                        None
                    }
                    None if place < names.len() => Some((place, value.span)),
                    None => {
                        if !too_many {
                            let given = arguments.items.len();
                            self.report(ArgumentError::TooMany { callee: callee.to_owned(), takes: names.len(), given, span: value.span });
                        }
                        too_many = true;
                        None
                    }
                },
            };
            slots.push((value, slot));
        }
        slots
    }

    fn unknown_argument(&mut self, callee: &str, name: &Name, names: &[&str]) {
        let nearest = nearest(&name.text, names.iter().copied()).map(str::to_owned);
        let known = names.iter().map(|n| (*n).to_owned()).collect();
        self.report(ArgumentError::Unknown { callee: callee.to_owned(), name: name.text.clone(), span: name.span, nearest, known });
    }

    fn function(&mut self, id: FunctionId, arguments: &'p Arguments, span: Span, env: &Env<'p>) -> Kind {
        // In a ring, which is reported, a function has no signature yet.
        let Some(signature) = self.functions.get(id.index()).cloned().flatten() else { return self.only_look(arguments, env) };
        let kinds = self.arguments(&signature, arguments, env);
        if !signature.kinds.contains(&Kind::Any) {
            return signature.result;
        }
        let key = (id.index(), kinds);
        if let Some(known) = self.results.get(&key) {
            return known.clone();
        }
        let Some(declared) = self.program.functions.get(id.index()) else { return Kind::Any };
        let mut body = Env::of(declared.scope);
        for (parameter, kind) in declared.item.parameters.iter().zip(&key.1) {
            body.bind(&parameter.name.text, kind.clone(), Some(parameter.name.span), "a parameter");
        }
        self.calls.push(span);
        let result = self.value(&declared.item.body, &body);
        self.calls.pop();
        self.results.insert(key, result.clone());
        result
    }

    fn copy_of_material(&mut self, sort: Option<Sort>, arguments: &'p Arguments, env: &Env<'p>) -> Kind {
        let mut settings = Vec::new();
        for argument in &arguments.items {
            match &argument.name {
                Some(name) => settings.push((name, &argument.value)),
                None => {
                    let known = sort.map_or_else(Vec::new, |s| s.fields().iter().map(|f| f.name).collect());
                    self.report(MaterialError::Unnamed { span: argument.value.span, known });
                    self.value(&argument.value, env);
                }
            }
        }
        self.figures(sort.map(|s| (Kind::Material(Some(s)).describe(), s.fields())), &settings, env);
        Kind::Material(sort)
    }

    fn built_in(&mut self, builtin: Builtin, callee: &Name, arguments: &'p Arguments, span: Span, env: &Env<'p>) -> Kind {
        let row = builtin.row();
        if let Some(named) = arguments.items.iter().find_map(|a| a.name.as_ref()) {
            self.report(ArgumentError::BuiltInNamed { callee: row.name, span: named.span });
            return self.only_look(arguments, env);
        }
        let given: Vec<(&'p Expr, Kind)> = arguments.items.iter().map(|a| (&a.value, self.value(&a.value, env))).collect();
        let most = if row.shape == Shape::Extreme { usize::MAX } else { row.needs.len() + row.may.len() };
        if let Some((extra, _)) = given.get(most) {
            self.report(ArgumentError::TooMany { callee: row.name.to_owned(), takes: most, given: given.len(), span: extra.span });
            return Kind::Any;
        }
        let Some((first, kind)) = given.first() else {
            let names = row.needs.iter().map(|n| (*n).to_owned()).collect();
            self.report(ArgumentError::Missing { callee: callee.text.clone(), names, span: arguments.span, declared: None });
            return Kind::Any;
        };
        let role = format!("what `{}` is given", row.name);
        match row.shape {
            Shape::Number => Kind::NUMBER,
            Shape::Root(degree) => {
                self.measure(first, kind, &role);
                self.root(kind, first, degree, span)
            }
            Shape::OfAngle => {
                self.fit(kind, first, &Kind::ANGLE.into(), &role, None);
                Kind::NUMBER
            }
            Shape::ToAngle => {
                self.fit(kind, first, &Kind::NUMBER.into(), &role, None);
                Kind::ANGLE
            }
            Shape::Same => self.measure(first, kind, &role),
            Shape::Step => self.stepped(row.name, &given, &role),
            Shape::Extreme => self.extreme(&given, &role),
            Shape::Sum => match kind {
                Kind::List(of) => self.measure(first, of, &role),
                other => self.not_a_list(first, other, &role),
            },
            Shape::Count => {
                if !matches!(kind, Kind::List(_) | Kind::Any) {
                    self.not_a_list(first, kind, &role);
                }
                Kind::NUMBER
            }
        }
    }

    /// A value that must be some quantity.
    fn measure(&mut self, expr: &Expr, kind: &Kind, role: &str) -> Kind {
        match kind {
            Kind::Quantity(..) | Kind::Any => kind.clone(),
            other => {
                let (wanted, got) = ("a number or a measure".to_owned(), other.describe());
                self.report(KindError::Wrong { role: role.to_owned(), wanted, got, span: expr.span, declared: None });
                Kind::Any
            }
        }
    }

    fn not_a_list(&mut self, expr: &Expr, kind: &Kind, role: &str) -> Kind {
        if *kind != Kind::Any {
            let got = kind.describe();
            self.report(KindError::Wrong { role: role.to_owned(), wanted: "a list".to_owned(), got, span: expr.span, declared: None });
        }
        Kind::Any
    }

    fn stepped(&mut self, callee: &'static str, given: &[(&'p Expr, Kind)], role: &str) -> Kind {
        let Some((first, kind)) = given.first() else { return Kind::Any };
        let value = self.measure(first, kind, role);
        match (given.get(1), &value) {
            (Some((step, step_kind)), _) => {
                self.fit(step_kind, step, &Want::One(value.clone()), "the step", Some(first.span));
            }
            (None, Kind::Quantity(dimension, _)) if !dimension.is_number() => {
                let of = value.describe();
                self.report(ArgumentError::NoStep { callee, of, span: first.span });
            }
            _ => {}
        }
        value
    }

    fn extreme(&mut self, given: &[(&'p Expr, Kind)], role: &str) -> Kind {
        let mut all: Option<(&'p Expr, Kind)> = None;
        for (expr, kind) in given {
            let kind = match kind {
                Kind::List(of) if given.len() == 1 => of,
                other => other,
            };
            let kind = self.measure(expr, kind, role);
            all = Some(match all {
                None => (expr, kind),
                Some((first, so_far)) => match so_far.or(&kind) {
                    Some(both) => (first, both),
                    None => return self.unlike("compared", (&so_far, first), (&kind, expr)),
                },
            });
        }
        all.map_or(Kind::Any, |(_, kind)| kind)
    }
}

fn is_function(entity: Entity) -> bool {
    matches!(entity, Entity::Builtin(b) if b.is_function())
}
