//! Plain declarations: parameters, sizes, constants, functions, materials, requirements.

use super::checker::{Checker, Env, Found, Signature};
use super::error::{ConstructError, KindError, MaterialError, NameError, SizeError};
use super::goods::{FieldKind, SORTS, Sort};
use super::kind::{Kind, Want};
use super::program::{Entity, ScopeId};
use crate::diagnostic::nearest;
use crate::source::Span;
use crate::syntax::ast::{Expr, ExprKind, Limits, Name, Param, Parameter, Size, TextPart};
use indexmap::IndexMap;
use std::rc::Rc;

impl<'p> Checker<'p> {
    /// What one declaration is, once all it needs is known.
    pub(super) fn learn(&mut self, entity: Entity) {
        let program = self.program;
        match entity {
            Entity::Param(id) => {
                let Some(d) = program.params.get(id.index()) else { return };
                let kind = self.param_kind(&d.item, &Env::of(d.scope));
                if let Some(slot) = self.params.get_mut(id.index()) {
                    *slot = kind;
                }
            }
            Entity::Constant(id) => {
                let Some(d) = program.constants.get(id.index()) else { return };
                let kind = self.value(&d.item.value, &Env::of(d.scope));
                if let Some(slot) = self.constants.get_mut(id.index()) {
                    *slot = kind;
                }
            }
            Entity::Function(id) => {
                let Some(d) = program.functions.get(id.index()) else { return };
                let mut signature = self.signature(&d.item.name, &d.item.parameters, d.scope);
                let mut env = Env::of(d.scope);
                self.bind_parameters(&d.item.parameters, &signature.kinds, &mut env);
                signature.result = self.value(&d.item.body, &env);
                self.unused_locals(&env);
                put(&mut self.functions, id.index(), signature);
            }
            Entity::Material(id) => {
                let Some(d) = program.materials.get(id.index()) else { return };
                self.material(&d.item, &Env::of(d.scope));
            }
            Entity::Outline(id) => {
                let Some(d) = program.outlines.get(id.index()) else { return };
                let signature = self.signature(&d.item.name, &d.item.parameters, d.scope);
                put(&mut self.outlines, id.index(), signature);
            }
            Entity::Finish(id) => {
                let Some(d) = program.finishes.get(id.index()) else { return };
                let signature = self.signature(&d.item.name, &d.item.parameters, d.scope);
                put(&mut self.finishes, id.index(), signature);
            }
            Entity::Panel(id) => {
                let Some(d) = program.panels.get(id.index()) else { return };
                let facts = Rc::new(self.panel_facts(&d.item, &Env::of(d.scope)));
                if let Some(slot) = self.panels.get_mut(id.index()) {
                    *slot = facts;
                }
            }
            _ => {}
        }
    }

    /// Kinds of parameters: as stated, or those of their defaults, which may use the parameters before them.
    pub(super) fn signature(&mut self, name: &'p Name, parameters: &'p [Parameter], scope: ScopeId) -> Signature<'p> {
        let (mut env, mut kinds) = (Env::of(scope), Vec::new());
        for parameter in parameters {
            let stated = parameter.kind.as_ref().map(|kind| self.kind_named(kind));
            parameter.doc.iter().for_each(|t| self.text(t, &env));
            let kind = match (&parameter.default, stated) {
                (Some(default), Some(stated)) => {
                    let role = format!("the default of `{}`", parameter.name.text);
                    self.expect_declared(default, &env, &stated.clone().into(), &role, parameter.kind.as_ref().map(|k| k.span));
                    stated
                }
                (Some(default), None) => self.value(default, &env),
                (None, stated) => stated.unwrap_or(Kind::Any),
            };
            env.bind(&parameter.name.text, kind.clone(), Some(parameter.name.span), "a parameter");
            kinds.push(kind);
        }
        Signature { name, parameters, kinds, result: Kind::Any }
    }

    fn kind_named(&mut self, name: &Name) -> Kind {
        Kind::named(&name.text).unwrap_or_else(|| {
            let nearest = nearest(&name.text, Kind::names()).map(str::to_owned);
            self.report(NameError::UnknownKind { kind: name.text.clone(), span: name.span, nearest });
            Kind::Any
        })
    }

    /// The kind of a parameter: that of its default, and all its words when it is a word.
    fn param_kind(&mut self, param: &'p Param, env: &Env<'p>) -> Kind {
        let choices = match &param.limits {
            Limits::OneOf(choices) => choices.as_slice(),
            _ => &[],
        };
        let mut words = Vec::new();
        for choice in choices {
            if let ExprKind::Reference(name) = &choice.kind
                && matches!(self.find(&name.text, env), Found::Entities(all) if all.first() == Some(&Entity::Choice))
            {
                words.push(name.text.clone());
            }
        }
        let default = self.value(&param.default, env);
        if !default.is_plain() {
            let role = format!("the default of `{}`", param.name.text);
            let wanted = "something that can be set: a measure, a word, a text, yes or no, or a material".to_owned();
            let (got, span) = (default.describe(), param.default.span);
            self.report(super::error::KindError::Wrong { role, wanted, got, span, declared: None });
            return Kind::Any;
        }
        match default {
            Kind::Word(_) if !words.is_empty() => {
                let all = Kind::Word(Rc::new(words));
                self.fit(&default, &param.default, &Want::One(all.clone()), &format!("`{}`", param.name.text), None);
                all
            }
            other => other,
        }
    }

    /// What a parameter may be. Looked at when all kinds are known, since limits may name anything.
    pub(super) fn limits(&mut self, param: &'p Param, kind: &Kind, env: &Env<'p>) {
        match &param.limits {
            Limits::Free => {}
            Limits::Range { from, to } => {
                if !matches!(kind, Kind::Quantity(..) | Kind::Any) {
                    let (name, span, is) = (param.name.text.clone(), from.span.to(to.span), kind.describe());
                    self.report(ConstructError::RangeOnWords { name, span, is });
                }
                if let (ExprKind::Number(_), Kind::Quantity(limit, _)) = (&param.default.kind, self.value(from, env))
                    && !limit.is_number()
                {
                    let (name, wanted) = (param.name.text.clone(), limit.describe());
                    self.report(KindError::Unitless { name, wanted, literal: param.default.span, used: from.span });
                    return;
                }
                let want = if matches!(kind, Kind::Quantity(..)) { kind.clone() } else { Kind::Any };
                self.expect_declared(from, env, &want.clone().into(), "the start of the range", Some(param.default.span));
                self.expect_declared(to, env, &want.into(), "the end of the range", Some(param.default.span));
            }
            Limits::OneOf(choices) => {
                for choice in choices {
                    // A word that clashes with a panel or the like is reported as such, once.
                    if let ExprKind::Reference(name) = &choice.kind
                        && matches!(self.find(&name.text, env), Found::Entities(all) if all.first().is_some_and(|e| !e.is_value()))
                    {
                        continue;
                    }
                    let role = format!("every choice of `{}`", param.name.text);
                    self.expect_declared(choice, env, &kind.clone().into(), &role, Some(param.default.span));
                }
            }
        }
    }

    /// All sizes.
    pub(super) fn sizes(&mut self, env: &Env<'p>) {
        let mut named: IndexMap<&str, Span> = IndexMap::new();
        for size in &self.program.sizes {
            if let Some(first) = named.insert(&size.name.text, size.name.span) {
                let (name, is) = (size.name.text.clone(), "a size");
                self.report(NameError::Twice { name, first, first_is: is, second: size.name.span, second_is: is });
            }
            self.size(size, env);
        }
    }

    fn size(&mut self, size: &'p Size, env: &Env<'p>) {
        size.title.iter().for_each(|t| self.text(t, env));
        let mut set: IndexMap<&str, Span> = IndexMap::new();
        for setting in &size.settings {
            let name = &setting.name;
            if let Some(first) = set.insert(&name.text, name.span) {
                self.report(SizeError::Twice { name: name.text.clone(), first, second: name.span });
            }
            let entities = self.program.lookup(env.scope, &name.text);
            let param = entities.iter().find_map(|e| if let Entity::Param(id) = e { Some(*id) } else { None });
            let Some(id) = param else {
                let names = self.program.params.iter().map(|d| d.item.name.text.as_str());
                let nearest = nearest(&name.text, names).map(str::to_owned);
                let is = entities.first().map(|e| e.what());
                self.report_missing(SizeError::Unknown { name: name.text.clone(), span: name.span, nearest, is });
                self.value(&setting.value, env);
                continue;
            };
            let kind = self.params.get(id.index()).cloned().unwrap_or(Kind::Any);
            let declared = self.program.params.get(id.index()).map(|d| d.item.name.span);
            self.expect_declared(&setting.value, env, &kind.into(), &format!("`{}`", name.text), declared);
        }
    }

    fn material(&mut self, material: &'p crate::syntax::ast::Material, env: &Env<'p>) {
        material.title.iter().for_each(|t| self.text(t, env));
        let sort = Sort::named(&material.kind.text);
        if sort.is_none() {
            let known: Vec<&'static str> = SORTS.iter().map(|(name, _)| *name).collect();
            let nearest = nearest(&material.kind.text, known.iter().copied()).map(str::to_owned);
            self.report(MaterialError::Sort { sort: material.kind.text.clone(), span: material.kind.span, nearest, known });
        }
        let settings: Vec<(&'p Name, &'p Expr)> = material.settings.iter().map(|s| (&s.name, &s.value)).collect();
        self.figures(sort, &settings, env);
        let Some(sort) = sort else { return };
        let lacks = |f: &&super::goods::Field| f.needed && settings.iter().all(|(name, _)| name.text != f.name);
        let fields: Vec<_> = sort.fields().iter().filter(lacks).map(|f| f.name).collect();
        if !fields.is_empty() {
            let material = &material.name;
            self.report_missing(MaterialError::Missing { material: material.text.clone(), sort: sort.name(), fields, span: material.span });
        }
    }

    /// Figures of a material, in its declaration or a call.
    pub(super) fn figures(&mut self, sort: Option<Sort>, settings: &[(&'p Name, &'p Expr)], env: &Env<'p>) {
        let mut given: IndexMap<&str, Span> = IndexMap::new();
        for (name, value) in settings {
            if let Some(first) = given.insert(&name.text, name.span) {
                self.report(MaterialError::Twice { field: name.text.clone(), first, second: name.span });
            }
            let role = format!("`{}`", name.text);
            match sort.map(|s| (s, s.field(&name.text))) {
                None => drop(self.value(value, env)),
                Some((sort, None)) => {
                    let known: Vec<&'static str> = sort.fields().iter().map(|f| f.name).collect();
                    let nearest = nearest(&name.text, known.iter().copied()).map(str::to_owned);
                    let sort = Kind::Material(Some(sort)).describe();
                    self.report(MaterialError::Field { sort, field: name.text.clone(), span: name.span, nearest, known });
                    self.value(value, env);
                }
                Some((_, Some(field))) => match field.kind {
                    FieldKind::AnyOf(dimensions) => drop(self.expect(value, env, &Want::AnyOf(dimensions), &role)),
                    FieldKind::OneOf(words) => {
                        self.expect(value, env, &Kind::Text.into(), &role);
                        self.text_word(value, words, name);
                    }
                    other => drop(self.expect(value, env, &Kind::from(other).into(), &role)),
                },
            }
        }
    }

    /// A text that must be one of a few, where it is plain.
    fn text_word(&mut self, value: &Expr, words: &'static [&'static str], field: &Name) {
        let ExprKind::Text(text) = &value.kind else { return };
        let [TextPart::Chunk(word)] = text.parts.as_slice() else { return };
        if !words.contains(&word.as_str()) {
            let nearest = nearest(word, words.iter().copied()).map(|w| format!("\"{w}\""));
            let role = if field.text == "faces" { "word on the sides of a cloth" } else { "direction of a cloth" };
            self.report(NameError::UnknownWord { word: word.clone(), span: value.span, role, known: words, nearest });
        }
    }
}

fn put<T>(list: &mut [Option<T>], index: usize, value: T) {
    if let Some(slot) = list.get_mut(index) {
        *slot = Some(value);
    }
}
