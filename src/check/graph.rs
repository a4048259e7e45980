//! What needs what: the order in which declarations can be understood, and the rings that have none.

use super::error::NameError;
use super::program::{Entity, Guard, Program, ScopeId};
use super::walk::{self, Mention};
use crate::diagnostic::Problems;
use crate::source::Span;
use crate::syntax::ast::{FinishItem, OutlineItem, PanelItem, Parameter, ShapeKind};
use indexmap::IndexMap;
use std::collections::HashSet;

/// One declaration needing another.
#[derive(Debug, Clone)]
struct Need {
    to: usize,
    span: Span,
    text: String,
}

/// The order and the rings.
pub(super) struct Order {
    /// Every declaration that expressions can reach, each after all it needs.
    pub nodes: Vec<Entity>,
    /// Those that stand in a ring.
    pub ringed: HashSet<Entity>,
}

/// Gathers needs.
struct Graph<'p> {
    program: &'p Program,
    index: IndexMap<Entity, usize>,
    needs: Vec<Vec<Need>>,
}

/// Works out the order; each ring is reported once.
pub(super) fn order(program: &Program, problems: &mut Problems) -> Order {
    let mut graph = Graph { program, index: nodes(program), needs: Vec::new() };
    graph.gather();
    graph.sort(problems)
}

fn nodes(program: &Program) -> IndexMap<Entity, usize> {
    use super::program::{ConstantId, FinishId, FunctionId, MaterialDeclId, OutlineId, PanelId, ParamId};
    let all = (0..program.params.len()).map(|i| Entity::Param(ParamId::at(i)));
    let all = all.chain((0..program.constants.len()).map(|i| Entity::Constant(ConstantId::at(i))));
    let all = all.chain((0..program.functions.len()).map(|i| Entity::Function(FunctionId::at(i))));
    let all = all.chain((0..program.materials.len()).map(|i| Entity::Material(MaterialDeclId::at(i))));
    let all = all.chain((0..program.outlines.len()).map(|i| Entity::Outline(OutlineId::at(i))));
    let all = all.chain((0..program.finishes.len()).map(|i| Entity::Finish(FinishId::at(i))));
    let all = all.chain((0..program.panels.len()).map(|i| Entity::Panel(PanelId::at(i))));
    all.enumerate().map(|(index, entity)| (entity, index)).collect()
}

/// Local names hide those of the scope.
type Locals<'a> = HashSet<&'a str>;

fn parameter_names(parameters: &[Parameter]) -> Locals<'_> {
    parameters.iter().map(|p| p.name.text.as_str()).collect()
}

impl<'p> Graph<'p> {
    fn gather(&mut self) {
        let program = self.program;
        for d in &program.params {
            let mut needs = self.guards(d.scope, &d.guards);
            walk::expr(&d.item.default, &mut |m| self.note(d.scope, &Locals::new(), &m, &mut needs));
            let settings = program.sizes.iter().flat_map(|s| &s.settings).filter(|s| s.name.text == d.item.name.text);
            settings.for_each(|s| walk::expr(&s.value, &mut |m| self.note(d.scope, &Locals::new(), &m, &mut needs)));
            self.needs.push(needs);
        }
        for d in &program.constants {
            let mut needs = self.guards(d.scope, &d.guards);
            walk::expr(&d.item.value, &mut |m| self.note(d.scope, &Locals::new(), &m, &mut needs));
            self.needs.push(needs);
        }
        for d in &program.functions {
            let (mut needs, locals) = (self.guards(d.scope, &d.guards), parameter_names(&d.item.parameters));
            walk::parameters(&d.item.parameters, &mut |m| self.note(d.scope, &locals, &m, &mut needs));
            walk::expr(&d.item.body, &mut |m| self.note(d.scope, &locals, &m, &mut needs));
            self.needs.push(needs);
        }
        for d in &program.materials {
            let mut needs = self.guards(d.scope, &d.guards);
            let values = d.item.settings.iter().map(|s| &s.value);
            values.for_each(|e| walk::expr(e, &mut |m| self.note(d.scope, &Locals::new(), &m, &mut needs)));
            self.needs.push(needs);
        }
        self.gather_bodies();
    }

    fn gather_bodies(&mut self) {
        let program = self.program;
        for d in &program.outlines {
            let (mut needs, mut locals) = (self.guards(d.scope, &d.guards), parameter_names(&d.item.parameters));
            outline_names(&d.item.items, &mut locals);
            walk::parameters(&d.item.parameters, &mut |m| self.note(d.scope, &locals, &m, &mut needs));
            walk::outline(&d.item.items, &mut |m| self.note(d.scope, &locals, &m, &mut needs));
            self.needs.push(needs);
        }
        for d in &program.finishes {
            let (mut needs, mut locals) = (self.guards(d.scope, &d.guards), parameter_names(&d.item.parameters));
            locals.extend(super::words::FINISH_WORDS);
            finish_names(&d.item.items, &mut locals);
            walk::finish(&d.item, &mut |m| self.note(d.scope, &locals, &m, &mut needs));
            self.needs.push(needs);
        }
        for d in &program.panels {
            let (mut needs, mut locals) = (self.guards(d.scope, &d.guards), Locals::new());
            panel_names(&d.item.items, &mut locals);
            walk::panel(&d.item, &mut |m| self.note(d.scope, &locals, &m, &mut needs));
            self.needs.push(needs);
        }
    }

    fn guards(&self, scope: ScopeId, guards: &[Guard]) -> Vec<Need> {
        let mut needs = Vec::new();
        guards.iter().for_each(|g| walk::expr(&g.condition, &mut |m| self.note(scope, &Locals::new(), &m, &mut needs)));
        needs
    }

    fn note(&self, scope: ScopeId, locals: &Locals<'_>, mention: &Mention<'_>, needs: &mut Vec<Need>) {
        if locals.contains(mention.root.text.as_str()) {
            return;
        }
        for entity in self.program.lookup(scope, &mention.root.text) {
            let node = if let Entity::Copy(panel, _) = entity { Entity::Panel(*panel) } else { *entity };
            if let Some(to) = self.index.get(&node) {
                needs.push(Need { to: *to, span: mention.span, text: mention.text() });
            }
        }
    }

    /// Depth first, without recursion: a chain of ten thousand `let`s is no reason to run out of stack.
    fn sort(&self, problems: &mut Problems) -> Order {
        let mut order = Order { nodes: Vec::with_capacity(self.index.len()), ringed: HashSet::new() };
        let mut state = vec![State::New; self.index.len()];
        for start in 0..self.index.len() {
            if state.get(start) != Some(&State::New) {
                continue;
            }
            set(&mut state, start, State::Open);
            let mut path = vec![Visit { node: start, next: 0, by: None }];
            while let Some(visit) = path.last_mut() {
                let (node, next) = (visit.node, visit.next);
                visit.next += 1;
                let Some(need) = self.needs.get(node).and_then(|all| all.get(next)) else {
                    set(&mut state, node, State::Done);
                    order.nodes.extend(self.entity(node));
                    path.pop();
                    continue;
                };
                match state.get(need.to) {
                    Some(State::New) => {
                        set(&mut state, need.to, State::Open);
                        path.push(Visit { node: need.to, next: 0, by: Some(need) });
                    }
                    Some(State::Open) => self.report(&path, need, &mut order.ringed, problems),
                    _ => {}
                }
            }
        }
        order
    }

    fn entity(&self, node: usize) -> Option<Entity> {
        self.index.get_index(node).map(|(entity, _)| *entity)
    }

    fn name(&self, node: usize) -> String {
        self.entity(node).and_then(|e| self.program.name_of(e)).map_or_else(String::new, |n| n.text.clone())
    }

    fn report(&self, path: &[Visit<'_>], closing: &Need, ringed: &mut HashSet<Entity>, problems: &mut Problems) {
        let from = path.iter().position(|v| v.node == closing.to).unwrap_or(0);
        let ring = path.get(from..).unwrap_or_default();
        let members: Vec<Entity> = ring.iter().filter_map(|v| self.entity(v.node)).collect();
        let known = members.iter().any(|m| ringed.contains(m));
        ringed.extend(members);
        if known {
            return;
        }
        let mut chain = vec![self.name(closing.to)];
        let mut links = Vec::new();
        let needs = ring.iter().skip(1).filter_map(|v| v.by).chain(std::iter::once(closing));
        for (need, needing) in needs.zip(ring) {
            let (needing, needed) = (self.name(needing.node), self.name(need.to));
            links.push((need.span, needing, need.text.clone()));
            if need.text != needed {
                chain.push(need.text.clone());
            }
            chain.push(needed);
        }
        problems.push(NameError::Cycle { chain, links });
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum State {
    New,
    Open,
    Done,
}

struct Visit<'g> {
    node: usize,
    next: usize,
    by: Option<&'g Need>,
}

fn set(state: &mut [State], at: usize, to: State) {
    if let Some(slot) = state.get_mut(at) {
        *slot = to;
    }
}

fn outline_names<'a>(items: &'a [OutlineItem], names: &mut Locals<'a>) {
    names.extend(items.iter().filter_map(|i| if let OutlineItem::Constant(c) = i { Some(c.name.text.as_str()) } else { None }));
}

fn finish_names<'a>(items: &'a [FinishItem], names: &mut Locals<'a>) {
    for item in items {
        match item {
            FinishItem::Constant(c) => drop(names.insert(c.name.text.as_str())),
            FinishItem::When(when) => {
                finish_names(&when.then, names);
                finish_names(&when.otherwise, names);
            }
            _ => {}
        }
    }
}

fn panel_names<'a>(items: &'a [PanelItem], names: &mut Locals<'a>) {
    for item in items {
        match item {
            PanelItem::Constant(c) => drop(names.insert(c.name.text.as_str())),
            PanelItem::Shape(shape) => {
                if let ShapeKind::Drawn(items) = &shape.kind {
                    outline_names(items, names);
                }
            }
            PanelItem::When(when) => {
                panel_names(&when.then, names);
                panel_names(&when.otherwise, names);
            }
            _ => {}
        }
    }
}
