//! Which declarations need which others, over the whole program.

use super::error::NameError;
use super::graph::{Graph, Need};
use super::program::{Declared, Entity, Program, ScopeId};
use super::walk::{self, Mention};
use crate::syntax::ast::{Expr, FinishItem, Limits, OutlineItem, PanelItem, Parameter, ShapeKind};
use indexmap::{IndexMap, IndexSet};

/// The order and the rings.
pub(super) struct Order {
    /// Every declaration that expressions can reach, each after all it needs.
    pub nodes: Vec<Entity>,
    /// The rings, each once.
    pub rings: Vec<NameError>,
}

/// Local names hide those of the scope.
type Locals<'a> = IndexSet<&'a str>;

/// Gathers needs.
struct Gathering<'p> {
    program: &'p Program,
    index: IndexMap<Entity, usize>,
    needs: Vec<Vec<Need>>,
}

/// Works out the order.
pub(super) fn order(program: &Program) -> Order {
    let mut gathering = Gathering { program, index: nodes(program), needs: Vec::new() };
    gathering.plain();
    gathering.bodies();
    let Gathering { index, needs, .. } = gathering;
    let entity = |i: usize| index.get_index(i).map(|(entity, _)| *entity);
    let name = |i: usize| entity(i).and_then(|e| program.name_of(e)).map_or_else(String::new, |n| n.text.clone());
    let sorted = Graph { needs, name: &name }.sort();
    Order { nodes: sorted.order.into_iter().filter_map(entity).collect(), rings: sorted.rings }
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

fn parameter_names(parameters: &[Parameter]) -> Locals<'_> {
    parameters.iter().map(|p| p.name.text.as_str()).collect()
}

impl<'p> Gathering<'p> {
    /// What has no names of its own. The order is that of [`nodes`], here and in `bodies`.
    fn plain(&mut self) {
        let (program, none) = (self.program, Locals::new());
        let mut settings: IndexMap<&str, Vec<&Expr>> = IndexMap::new();
        for setting in program.sizes.iter().flat_map(|s| &s.settings) {
            settings.entry(setting.name.text.as_str()).or_default().push(&setting.value);
        }
        for d in &program.params {
            let mut needs = self.guards(d);
            let set = settings.get(d.item.name.text.as_str()).into_iter().flatten().copied();
            let limits = match &d.item.limits {
                Limits::Range { from, to } => vec![from, to],
                Limits::OneOf(choices) => choices.iter().collect(),
                Limits::Free => Vec::new(),
            };
            std::iter::once(&d.item.default)
                .chain(set)
                .chain(limits)
                .for_each(|e| walk::expr(e, &mut |m| self.note(d.scope, &none, &m, &mut needs)));
            self.needs.push(needs);
        }
        for d in &program.constants {
            let mut needs = self.guards(d);
            walk::expr(&d.item.value, &mut |m| self.note(d.scope, &none, &m, &mut needs));
            self.needs.push(needs);
        }
        for d in &program.functions {
            let (mut needs, locals) = (self.guards(d), parameter_names(&d.item.parameters));
            walk::parameters(&d.item.parameters, &mut |m| self.note(d.scope, &locals, &m, &mut needs));
            walk::expr(&d.item.body, &mut |m| self.note(d.scope, &locals, &m, &mut needs));
            self.needs.push(needs);
        }
        for d in &program.materials {
            let mut needs = self.guards(d);
            let values = d.item.settings.iter().map(|s| &s.value);
            values.for_each(|e| walk::expr(e, &mut |m| self.note(d.scope, &none, &m, &mut needs)));
            self.needs.push(needs);
        }
    }

    fn bodies(&mut self) {
        let program = self.program;
        for d in &program.outlines {
            let (mut needs, mut locals) = (self.guards(d), parameter_names(&d.item.parameters));
            outline_names(&d.item.items, &mut locals);
            walk::parameters(&d.item.parameters, &mut |m| self.note(d.scope, &locals, &m, &mut needs));
            walk::outline(&d.item.items, &mut |m| self.note(d.scope, &locals, &m, &mut needs));
            self.needs.push(needs);
        }
        for d in &program.finishes {
            let (mut needs, mut locals) = (self.guards(d), parameter_names(&d.item.parameters));
            locals.extend(super::words::FINISH_WORDS);
            finish_names(&d.item.items, &mut locals);
            walk::finish(&d.item, &mut |m| self.note(d.scope, &locals, &m, &mut needs));
            self.needs.push(needs);
        }
        for d in &program.panels {
            let (mut needs, mut locals) = (self.guards(d), Locals::new());
            panel_names(&d.item.items, &mut locals);
            walk::panel(&d.item, &mut |m| self.note(d.scope, &locals, &m, &mut needs));
            self.needs.push(needs);
        }
    }

    fn guards<T>(&self, declared: &Declared<T>) -> Vec<Need> {
        let (mut needs, none) = (Vec::new(), Locals::new());
        let conditions = declared.guards.iter().map(|g| &g.condition);
        conditions.for_each(|c| walk::expr(c, &mut |m| self.note(declared.scope, &none, &m, &mut needs)));
        needs
    }

    fn note(&self, scope: ScopeId, locals: &Locals<'_>, mention: &Mention<'_>, needs: &mut Vec<Need>) {
        if locals.contains(mention.root.text.as_str()) {
            return;
        }
        for entity in self.program.lookup(scope, &mention.root.text) {
            let node = if let Entity::Copy(panel, _) | Entity::Part(panel) = entity { Entity::Panel(*panel) } else { *entity };
            if let Some(to) = self.index.get(&node) {
                needs.push(Need { to: *to, span: mention.span, text: mention.text() });
            }
        }
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
