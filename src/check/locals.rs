//! `let`s and parameters inside a body.

use super::checker::{Checker, Env};
use super::error::NameError;
use super::graph::{Graph, Need};
use super::kind::Kind;
use super::lift::exclude_each_other;
use super::walk;
use crate::source::Span;
use crate::syntax::ast::{Constant, Name, Parameter};
use indexmap::IndexMap;

/// A `let` in a body, with the `when`s it stands under.
pub(super) type LocalLet<'p> = (&'p Constant, Vec<(Span, bool)>);

impl<'p> Checker<'p> {
    /// Binds parameters; a parameter that states no kind has that of its default.
    pub(super) fn bind_parameters(&mut self, parameters: &'p [Parameter], kinds: &[Kind], env: &mut Env<'p>) {
        for (parameter, kind) in parameters.iter().zip(kinds) {
            let name = &parameter.name;
            if let Some(Some(first)) = env.locals.get(name.text.as_str()).map(|l| l.span) {
                let is = "a parameter";
                self.report(NameError::Twice { name: name.text.clone(), first, first_is: is, second: name.span, second_is: is });
                continue;
            }
            self.free_to_use(name, env);
            env.bind(&name.text, kind.clone(), Some(name.span), "a parameter");
        }
    }

    /// Works out the kinds of a body's `let`s, which may stand in any order, and binds them.
    pub(super) fn bind_lets(&mut self, lets: &[LocalLet<'p>], env: &mut Env<'p>) {
        let mut by_name: IndexMap<&str, Vec<usize>> = IndexMap::new();
        for (index, (constant, guards)) in lets.iter().enumerate() {
            let name = &constant.name;
            let same = by_name.entry(name.text.as_str()).or_default();
            let other = same.iter().filter_map(|i| lets.get(*i)).find(|(_, other)| !exclude_each_other(other, guards));
            let (first, first_is) = match other {
                Some((other, _)) => (Some(other.name.span), "a `let`"),
                None => self.hides(name, env),
            };
            if let Some(first) = first {
                self.report(NameError::Twice { name: name.text.clone(), first, first_is, second: name.span, second_is: "a `let`" });
            } else {
                self.free_to_use(name, env);
            }
            same.push(index);
        }
        for index in self.order_of(lets, &by_name) {
            if let Some((constant, _)) = lets.get(index) {
                let kind = self.value(&constant.value, env);
                let other = env.locals.get(constant.name.text.as_str()).map(|l| l.kind.clone());
                let kind = other.map_or(kind.clone(), |other| kind.or(&other).unwrap_or(Kind::Any));
                env.bind(&constant.name.text, kind, Some(constant.name.span), "a `let`");
            }
        }
    }

    fn order_of(&mut self, lets: &[LocalLet<'p>], by_name: &IndexMap<&str, Vec<usize>>) -> Vec<usize> {
        let mut needs = Vec::with_capacity(lets.len());
        for (constant, _) in lets {
            let mut all = Vec::new();
            walk::expr(&constant.value, &mut |m| {
                let to = by_name.get(m.root.text.as_str()).into_iter().flatten();
                all.extend(to.map(|to| Need { to: *to, span: m.span, text: m.text() }));
            });
            needs.push(all);
        }
        let name = |i: usize| lets.get(i).map_or_else(String::new, |(c, _)| c.name.text.clone());
        let sorted = Graph { needs, name: &name }.sort();
        sorted.rings.into_iter().for_each(|ring| self.report(ring));
        sorted.order
    }

    /// Where a name is declared that a `let` of this name would hide.
    fn hides(&self, name: &Name, env: &Env<'p>) -> (Option<Span>, &'static str) {
        if let Some(local) = env.locals.get(name.text.as_str()) {
            return (local.span, local.is);
        }
        let Some(entity) = self.program.lookup(env.scope, &name.text).first() else { return (None, "") };
        (self.program.name_of(*entity).map(|n| n.span), entity.what())
    }

    /// Reports a name that the language itself uses here.
    fn free_to_use(&mut self, name: &Name, env: &Env<'p>) {
        if super::Builtin::named(&name.text).is_some() {
            self.report(NameError::BuiltIn { name: name.text.clone(), span: name.span });
        } else if env.locals.get(name.text.as_str()).is_some_and(|l| l.span.is_none()) {
            let why = "it already names something of the edge this is used on";
            self.report(NameError::Reserved { name: name.text.clone(), span: name.span, why });
        }
    }
}
