//! The state of checking: what is known of every declaration, and looking names up.

use super::error::{NameError, Unused};
use super::kind::Kind;
use super::lift::Lifted;
use super::panel_facts::PanelFacts;
use super::program::{Entity, Program, ScopeId};
use crate::diagnostic::{Diagnostic, Problems, nearest};
use crate::source::{FileId, LoadError, Loader, Span};
use crate::syntax::ast::{Name, Parameter, SitsAt};
use indexmap::{IndexMap, IndexSet};
use std::cell::Cell;
use std::rc::Rc;

/// What can be called, by its parameters.
#[derive(Debug, Clone)]
pub(super) struct Signature<'p> {
    /// Its name.
    pub name: &'p Name,
    /// Its parameters.
    pub parameters: &'p [Parameter],
    /// Their kinds.
    pub kinds: Vec<Kind>,
    /// What it gives, for functions.
    pub result: Kind,
}

/// What an `attach` line needs to know of a component.
#[derive(Debug, Clone, Default)]
pub(super) struct ComponentFacts {
    /// What it sits on, when that is the same in every case.
    pub sits: Option<SitsAt>,
    /// Whether it is a pair, when that is the same in every case.
    pub pair: Option<bool>,
    /// Its own pieces.
    pub panels: Vec<Rc<PanelFacts>>,
}

/// Checks a lifted program.
pub(super) struct Checker<'p> {
    /// The program.
    pub program: &'p Program,
    /// Where modules come from.
    pub loader: &'p dyn Loader,
    /// Names that imports should have brought.
    pub broken: &'p IndexSet<(ScopeId, String)>,
    /// The files that are not the library's.
    pub own_files: &'p IndexSet<FileId>,
    /// Whether the main file was read whole. Where it was not, what seems to be missing may stand in what could not be read.
    pub whole: bool,
    /// Where problems go.
    pub problems: &'p mut Problems,
    /// Kinds of parameters.
    pub params: Vec<Kind>,
    /// Kinds of constants.
    pub constants: Vec<Kind>,
    /// Functions.
    pub functions: Vec<Option<Signature<'p>>>,
    /// Outlines.
    pub outlines: Vec<Option<Signature<'p>>>,
    /// Finishes.
    pub finishes: Vec<Option<Signature<'p>>>,
    /// Components.
    pub components: Vec<Option<Signature<'p>>>,
    /// The same, beyond their parameters.
    pub component_facts: Vec<ComponentFacts>,
    /// Panels.
    pub panels: Vec<Rc<PanelFacts>>,
    /// The calls of functions that are being followed, outermost first.
    pub calls: Vec<Span>,
    /// Results of functions by the kinds they were called with.
    pub results: IndexMap<(usize, Vec<Kind>), Kind>,
    /// How deep the expression in hand is nested.
    pub depth: usize,
    /// Names in bodies that nothing uses.
    pub unused: Vec<Unused>,
    /// For each scope and name, whether anything uses it.
    used: Vec<Vec<Cell<bool>>>,
    /// How many unknown names have been looked up for a likeness.
    likened: usize,
}

/// Past so many unknown names something else is wrong, and likenesses only cost time.
const MOST_LIKENESSES: usize = 50;

/// A name of a body's own.
#[derive(Debug, Clone)]
pub(super) struct Local {
    /// Its kind.
    pub kind: Kind,
    /// Where it is declared; none for words that the language gives.
    pub span: Option<Span>,
    /// In words, with its article.
    pub is: &'static str,
    /// Whether anything uses it, in this body or one inside it.
    pub used: Rc<Cell<bool>>,
}

/// Where names are looked up: in the body first, then in the scope.
#[derive(Debug)]
pub(super) struct Env<'p> {
    /// The scope around the body.
    pub scope: ScopeId,
    /// The body's own names.
    pub locals: IndexMap<&'p str, Local>,
    /// How many of them belong to a body around it.
    inherited: usize,
}

impl<'p> Env<'p> {
    /// A scope, with no names of a body's own.
    pub(super) fn of(scope: ScopeId) -> Self {
        Self { scope, locals: IndexMap::new(), inherited: 0 }
    }

    /// The same names again, for a body inside this one.
    pub(super) fn inner(&self) -> Self {
        Self { scope: self.scope, locals: self.locals.clone(), inherited: self.locals.len() }
    }

    /// The names that this body declares itself.
    pub(super) fn own(&self) -> impl Iterator<Item = (&&'p str, &Local)> {
        self.locals.iter().skip(self.inherited)
    }

    /// Adds a name.
    pub(super) fn bind(&mut self, name: &'p str, kind: Kind, span: Option<Span>, is: &'static str) {
        self.locals.insert(name, Local { kind, span, is, used: Rc::new(Cell::new(span.is_none())) });
    }
}

/// What a name stands for.
pub(super) enum Found<'c> {
    /// A name of the body's own.
    Local(&'c Local),
    /// A declaration; under `when`s that exclude each other, several.
    Entities(Vec<Entity>),
    /// Nothing, and that is already reported.
    Silent,
    /// Nothing.
    Nothing,
}

impl<'p> Checker<'p> {
    /// Nothing known yet.
    pub(super) fn new(lifted: &'p Lifted, loader: &'p dyn Loader, problems: &'p mut Problems) -> Self {
        let program = &lifted.program;
        Self {
            program,
            loader,
            broken: &lifted.broken,
            own_files: &lifted.own_files,
            whole: lifted.whole,
            problems,
            params: vec![Kind::Any; program.params.len()],
            constants: vec![Kind::Any; program.constants.len()],
            functions: vec![None; program.functions.len()],
            outlines: vec![None; program.outlines.len()],
            finishes: vec![None; program.finishes.len()],
            components: vec![None; program.components.len()],
            component_facts: vec![ComponentFacts::default(); program.components.len()],
            panels: vec![Rc::default(); program.panels.len()],
            calls: Vec::new(),
            results: IndexMap::new(),
            used: program.scopes.iter().map(|s| vec![Cell::new(false); s.names.len()]).collect(),
            depth: 0,
            unused: Vec::new(),
            likened: 0,
        }
    }

    /// Reports; inside a function that is checked for one call, that call is shown as well.
    pub(super) fn report(&mut self, error: impl Into<Diagnostic>) {
        let error = error.into();
        let error = match self.calls.first() {
            Some(call) => error.and(*call, "for this call"),
            None => error,
        };
        self.problems.push(error);
    }

    /// Reports something that is not there.
    pub(super) fn report_missing(&mut self, error: impl Into<Diagnostic>) {
        if self.whole {
            self.report(error);
        }
    }

    /// What a name stands for, which counts as using it.
    pub(super) fn find<'c>(&self, name: &str, env: &'c Env<'p>) -> Found<'c> {
        if let Some(local) = env.locals.get(name) {
            local.used.set(true);
            return Found::Local(local);
        }
        let mut at = Some(env.scope);
        while let Some(id) = at {
            let Some(scope) = self.program.scopes.get(id.index()) else { break };
            if let Some((index, _, entities)) = scope.names.get_full(name) {
                if let Some(used) = self.used.get(id.index()).and_then(|s| s.get(index)) {
                    used.set(true);
                }
                return Found::Entities(entities.clone());
            }
            if self.broken.contains(&(id, name.to_owned())) {
                return Found::Silent;
            }
            at = scope.parent;
        }
        if self.whole { Found::Nothing } else { Found::Silent }
    }

    /// Whether a name of a scope is used anywhere.
    pub(super) fn is_used(&self, scope: ScopeId, name: &str) -> bool {
        let index = self.program.scopes.get(scope.index()).and_then(|s| s.names.get_index_of(name));
        index.and_then(|i| self.used.get(scope.index())?.get(i)).is_none_or(Cell::get)
    }

    /// Reports a name that nothing has; `sort` keeps the suggestion to names of one sort.
    pub(super) fn unknown(&mut self, name: &Name, env: &Env<'p>, wanted: Option<&'static str>, sort: impl Fn(Entity) -> bool) {
        self.likened += 1;
        if self.likened > MOST_LIKENESSES {
            self.report(NameError::Unknown { name: name.text.clone(), span: name.span, wanted, nearest: None, library: None });
            return;
        }
        let mut known: Vec<&str> = if wanted.is_none() { env.locals.keys().copied().collect() } else { Vec::new() };
        let mut at = Some(env.scope);
        while let Some(scope) = at.and_then(|id| self.program.scopes.get(id.index())) {
            known.extend(scope.names.iter().filter(|(_, all)| all.iter().any(|e| sort(*e))).map(|(name, _)| name.as_str()));
            at = scope.parent;
        }
        let nearest = nearest(&name.text, known).map(str::to_owned);
        let library = self.in_library(&name.text);
        self.report(NameError::Unknown { name: name.text.clone(), span: name.span, wanted, nearest, library });
    }

    /// The module of the standard library that declares a name. Looked up only where a name is missing, so in the text.
    fn in_library(&self, name: &str) -> Option<String> {
        let Err(LoadError::Missing { known }) = self.loader.load("std") else { return None };
        let declares = |line: &str| {
            let mut words = line.split(|c: char| !(c.is_alphanumeric() || c == '_')).filter(|w| !w.is_empty());
            let first = words.next().filter(|_| !line.starts_with(' '));
            matches!(first, Some("component" | "finish" | "outline" | "material" | "fn" | "let")) && words.next() == Some(name)
        };
        known.into_iter().find(|module| self.loader.load(module).is_ok_and(|m| m.text.lines().any(declares)))
    }

    /// A name that must be of one sort of thing: the thing, or none and a report.
    pub(super) fn must_be<T>(&mut self, name: &Name, env: &Env<'p>, wanted: Wanted, sort: impl Fn(Entity) -> Option<T>) -> Option<T> {
        match self.find(&name.text, env) {
            Found::Local(local) => {
                let error = wrong_thing(name, local.is, wanted, local.span);
                self.report(error);
                None
            }
            Found::Entities(all) => {
                if let Some(found) = all.iter().find_map(|e| sort(*e)) {
                    return Some(found);
                }
                let first = *all.first()?;
                let declared = self.program.name_of(first).map(|n| n.span);
                self.report(wrong_thing(name, first.what(), wanted, declared));
                None
            }
            Found::Silent => None,
            Found::Nothing => {
                self.unknown(name, env, Some(wanted.bare), |e| sort(e).is_some());
                None
            }
        }
    }
}

/// The sort of thing a place wants: `outline`, `an outline`.
#[derive(Debug, Clone, Copy)]
pub(super) struct Wanted {
    /// Without article.
    pub bare: &'static str,
    /// With its article.
    pub full: &'static str,
}

fn wrong_thing(name: &Name, is: &'static str, wanted: Wanted, declared: Option<Span>) -> NameError {
    NameError::WrongThing { name: name.text.clone(), span: name.span, is, wanted: wanted.full, help: None, declared }
}
