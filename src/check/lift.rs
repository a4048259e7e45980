//! Lifts every declaration out of its file into the program's lists, and fills the scopes.

use super::builtin::BUILTINS;
use super::error::{ModuleError, NameError};
use super::modules::Module;
use super::program::{
    AttachId, ComponentId, ConstantId, CutterId, Declared, Entity, FinishId, FunctionId, Guard, MaterialDeclId, OutlineId, PanelId,
    ParamId, Program, QuiltId, Scope, ScopeId, SeamDeclId, StepId,
};
use crate::diagnostic::{Problems, nearest};
use crate::source::{FileId, Span};
use crate::syntax::ast;
use indexmap::{IndexMap, IndexSet};

/// Words of the grammar that would be read before a name of the same spelling.
const KEPT_WORDS: &[(&str, &str)] = &[
    ("std", "it is the library's"),
    ("middle", "`at middle` already means something"),
    ("quarters", "`at quarters` already means something"),
    ("start", "`line to start` already means something"),
    ("any", "`grain any` already means something"),
];

/// The program with what later checks need beside it.
pub(super) struct Lifted {
    /// The program.
    pub program: Program,
    /// Names that an import should have brought and could not: silent wherever they are used.
    pub broken: IndexSet<(ScopeId, String)>,
    /// Every `when` around declarations, once, with its scope.
    pub conditions: Vec<(ScopeId, ast::Expr)>,
    /// Imports that arrived.
    pub imports: Vec<Import>,
    /// The files that are not the library's.
    pub own_files: IndexSet<FileId>,
    /// Whether the main file was read whole.
    pub whole: bool,
    /// The scope of the main file.
    pub main_scope: ScopeId,
}

/// A name that was imported.
pub(super) struct Import {
    /// Into which file's scope.
    pub scope: ScopeId,
    /// Under which name.
    pub name: ast::Name,
    /// From where.
    pub module: String,
}

/// Where a name is declared, under which `when`s.
struct Site {
    span: Span,
    is: &'static str,
    guards: Vec<(Span, bool)>,
    imported: bool,
}

/// Fills the lists.
struct Lifting<'a> {
    out: Lifted,
    problems: &'a mut Problems,
    sites: Vec<IndexMap<String, Vec<Site>>>,
}

/// Lifts all modules; the first is the main file.
pub(super) fn lift(modules: Vec<Module>, problems: &mut Problems) -> Lifted {
    let program = Program { scopes: vec![built_in_scope()], ..Program::default() };
    let own_files = modules.iter().filter(|m| !m.path.starts_with("std.")).map(|m| m.file).collect();
    let out = Lifted {
        program,
        broken: IndexSet::new(),
        conditions: Vec::new(),
        imports: Vec::new(),
        own_files,
        whole: modules.first().is_some_and(|m| m.whole),
        main_scope: ScopeId(1),
    };
    let mut lifting = Lifting { out, problems, sites: vec![IndexMap::new()] };
    let (mut links, mut designs) = (Vec::new(), Vec::new());
    for (index, module) in modules.into_iter().enumerate() {
        let scope = lifting.new_scope(ScopeId(0));
        let mut here = Vec::new();
        for declaration in module.ast.declarations {
            lifting.declaration(declaration, scope, &mut here);
        }
        if index == 0 {
            designs = here;
            lifting.out.main_scope = scope;
        } else if let Some(design) = here.first() {
            let (name, span) = (design.name.text.clone(), design.name.span);
            lifting.problems.push(ModuleError::DesignInModule { name, module: module.path.clone(), span });
        }
        links.push(Link {
            scope,
            path: module.path,
            file: module.file,
            uses: module.ast.uses,
            reaches: module.reaches,
            whole: module.whole,
        });
    }
    let own: Vec<Scope> = links.iter().filter_map(|l| lifting.out.program.scopes.get(l.scope.index()).cloned()).collect();
    for link in &links {
        lifting.imports(link, &links, &own);
    }
    let main = links.first().map(|l| l.file).unwrap_or_default();
    lifting.design(designs, main);
    lifting.out
}

/// A file's imports, kept until all files are declared.
struct Link {
    scope: ScopeId,
    path: String,
    file: FileId,
    uses: Vec<ast::Use>,
    reaches: Vec<Option<usize>>,
    whole: bool,
}

fn built_in_scope() -> Scope {
    Scope { parent: None, names: BUILTINS.iter().map(|r| (r.name.to_owned(), vec![Entity::Builtin(r.builtin)])).collect() }
}

/// Whether two guarded places can't both be there.
pub(super) fn exclude_each_other(a: &[(Span, bool)], b: &[(Span, bool)]) -> bool {
    a.iter().any(|(span, holds)| b.iter().any(|(other, other_holds)| span == other && holds != other_holds))
}

/// The path of `when`s as places, which is all that telling branches apart needs.
pub(super) fn guard_path(guards: &[Guard]) -> Vec<(Span, bool)> {
    guards.iter().map(|g| (g.condition.span, g.holds)).collect()
}

fn with(guards: &[Guard], condition: &ast::Expr, holds: bool) -> Vec<Guard> {
    let mut all = guards.to_vec();
    all.push(Guard { condition: condition.clone(), holds });
    all
}

impl Lifting<'_> {
    fn new_scope(&mut self, parent: ScopeId) -> ScopeId {
        self.out.program.scopes.push(Scope { parent: Some(parent), names: IndexMap::new() });
        self.sites.push(IndexMap::new());
        ScopeId::at(self.out.program.scopes.len() - 1)
    }

    fn declaration(&mut self, declaration: ast::Declaration, scope: ScopeId, designs: &mut Vec<ast::Design>) {
        match declaration {
            ast::Declaration::Design(d) => designs.push(d),
            ast::Declaration::Material(d) => self.material(d, scope, &[]),
            ast::Declaration::Component(d) => self.component(d, scope, &[]),
            ast::Declaration::Outline(d) => self.outline(d, scope, &[]),
            ast::Declaration::Finish(d) => self.finish(d, scope, &[]),
            ast::Declaration::Cutter(d) => self.cutter(d, scope, &[]),
            ast::Declaration::Function(d) => self.function(d, scope, &[]),
            ast::Declaration::Constant(d) => self.constant(d, scope, &[]),
        }
    }

    fn imports(&mut self, link: &Link, links: &[Link], own: &[Scope]) {
        for (one, reaches) in link.uses.iter().zip(&link.reaches) {
            for imported in &one.names {
                let local = imported.alias.as_ref().unwrap_or(&imported.name);
                let found = reaches.and_then(|i| own.get(i)).and_then(|s| s.names.get(&imported.name.text));
                match (found, reaches.and_then(|i| links.get(i))) {
                    (Some(meanings), Some(from)) => {
                        let is = meanings.first().map_or("", |e| e.what());
                        let site = Site { span: local.span, is, guards: Vec::new(), imported: true };
                        if self.enter(link.scope, local, meanings, site) {
                            let (name, module) = (local.clone(), from.path.clone());
                            self.out.imports.push(Import { scope: link.scope, name, module });
                        }
                    }
                    (_, from) => {
                        self.out.broken.insert((link.scope, local.text.clone()));
                        if let Some(from) = from.filter(|f| f.whole) {
                            self.no_such_name(from, imported, own, *reaches);
                        }
                    }
                }
            }
        }
    }

    fn no_such_name(&mut self, from: &Link, imported: &ast::Imported, own: &[Scope], reaches: Option<usize>) {
        let name = &imported.name;
        let known = reaches.and_then(|i| own.get(i)).into_iter().flat_map(|s| s.names.keys().map(String::as_str));
        let nearest = nearest(&name.text, known).map(str::to_owned);
        let imported_there = from.uses.iter().flat_map(|u| &u.names).any(|n| n.alias.as_ref().unwrap_or(&n.name).text == name.text);
        let (module, text) = (from.path.clone(), name.text.clone());
        self.problems.push(ModuleError::NoSuchName { module, name: text, span: name.span, nearest, imported_there });
    }

    fn design(&mut self, designs: Vec<ast::Design>, main: FileId) {
        let mut designs = designs.into_iter();
        let Some(design) = designs.next() else {
            if self.out.whole {
                self.problems.push(ModuleError::NoDesign { span: Span::new(main, 0, 0) });
            }
            return;
        };
        for other in designs {
            self.problems.push(ModuleError::TwoDesigns { first: design.name.span, second: other.name.span, name: other.name.text });
        }
        let scope = self.new_scope(self.out.main_scope);
        self.out.program.name = Some(design.name);
        self.out.program.title = design.title;
        self.out.program.design_scope = Some(scope);
        self.design_items(design.items, scope);
        self.choices(scope);
    }

    /// Items in source order, `when`s opened on the way; a pile of open branches stands for recursion, which
    /// would use up the stack where `when`s are nested deep.
    fn design_items(&mut self, items: Vec<ast::DesignItem>, scope: ScopeId) {
        let mut open = vec![(items.into_iter(), Vec::new())];
        while let Some((items, guards)) = open.last_mut() {
            match items.next() {
                None => drop(open.pop()),
                Some(ast::DesignItem::When(when)) => {
                    let ast::When { condition, then, otherwise, .. } = when;
                    let (held, not_held) = (with(guards, &condition, true), with(guards, &condition, false));
                    self.out.conditions.push((scope, condition));
                    open.push((otherwise.into_iter(), not_held));
                    open.push((then.into_iter(), held));
                }
                Some(item) => self.design_item(item, scope, guards),
            }
        }
    }

    fn design_item(&mut self, item: ast::DesignItem, scope: ScopeId, guards: &[Guard]) {
        let guarded = || guards.to_vec();
        let program = &mut self.out.program;
        match item {
            ast::DesignItem::Param(item) => {
                let (name, id) = (item.name.clone(), ParamId::at(program.params.len()));
                program.params.push(Declared { item, scope, guards: guarded() });
                self.declare(scope, &name, Entity::Param(id), guards);
            }
            ast::DesignItem::Size(size) => {
                if !guards.is_empty() {
                    self.problems.push(NameError::SizeUnderWhen { name: size.name.text.clone(), span: size.name.span });
                }
                program.sizes.push(size);
            }
            ast::DesignItem::Constant(d) => self.constant(d, scope, guards),
            ast::DesignItem::Function(d) => self.function(d, scope, guards),
            ast::DesignItem::Material(d) => self.material(d, scope, guards),
            ast::DesignItem::Component(d) => self.component(d, scope, guards),
            ast::DesignItem::Outline(d) => self.outline(d, scope, guards),
            ast::DesignItem::Finish(d) => self.finish(d, scope, guards),
            ast::DesignItem::Cutter(d) => self.cutter(d, scope, guards),
            ast::DesignItem::Panel(d) => self.panel(d, scope, guards),
            ast::DesignItem::Attach(item) => {
                let (name, id) = (item.name.clone(), AttachId::at(program.attaches.len()));
                program.attaches.push(Declared { item, scope, guards: guarded() });
                self.declare(scope, &name, Entity::Attach(id), guards);
            }
            ast::DesignItem::Seam(item) => {
                let (name, id) = (item.name.clone(), SeamDeclId::at(program.seams.len()));
                program.seams.push(Declared { item, scope, guards: guarded() });
                self.declare(scope, &name, Entity::Seam(id), guards);
            }
            ast::DesignItem::Quilt(item) => {
                let (name, id) = (item.name.clone(), QuiltId::at(program.quilts.len()));
                program.quilts.push(Declared { item, scope, guards: guarded() });
                self.declare(scope, &name, Entity::Quilt(id), guards);
            }
            ast::DesignItem::Step(item) => {
                let (name, id) = (item.name.clone(), StepId::at(program.steps.len()));
                program.steps.push(Declared { item, scope, guards: guarded() });
                self.declare(scope, &name, Entity::Step(id), guards);
            }
            ast::DesignItem::Require(item) => program.requires.push(Declared { item, scope, guards: guarded() }),
            ast::DesignItem::Apply(item) => program.applies.push(Declared { item, scope, guards: guarded() }),
            ast::DesignItem::CutWith(item) => program.cut_withs.push(Declared { item, scope, guards: guarded() }),
            ast::DesignItem::Accept(item) => program.accepts.push(Declared { item, scope, guards: guarded() }),
            ast::DesignItem::Thread(item) => program.threads.push(Declared { item, scope, guards: guarded() }),
            ast::DesignItem::When(_) => {}
        }
    }

    fn constant(&mut self, item: ast::Constant, scope: ScopeId, guards: &[Guard]) {
        let list = &mut self.out.program.constants;
        let (name, id) = (item.name.clone(), ConstantId::at(list.len()));
        list.push(Declared { item, scope, guards: guards.to_vec() });
        self.declare(scope, &name, Entity::Constant(id), guards);
    }

    fn function(&mut self, item: ast::Function, scope: ScopeId, guards: &[Guard]) {
        let list = &mut self.out.program.functions;
        let (name, id) = (item.name.clone(), FunctionId::at(list.len()));
        list.push(Declared { item, scope, guards: guards.to_vec() });
        self.declare(scope, &name, Entity::Function(id), guards);
    }

    fn material(&mut self, item: ast::Material, scope: ScopeId, guards: &[Guard]) {
        let list = &mut self.out.program.materials;
        let (name, id) = (item.name.clone(), MaterialDeclId::at(list.len()));
        list.push(Declared { item, scope, guards: guards.to_vec() });
        self.declare(scope, &name, Entity::Material(id), guards);
    }

    fn component(&mut self, item: ast::Component, scope: ScopeId, guards: &[Guard]) {
        let list = &mut self.out.program.components;
        let (name, id) = (item.name.clone(), ComponentId::at(list.len()));
        list.push(Declared { item, scope, guards: guards.to_vec() });
        self.declare(scope, &name, Entity::Component(id), guards);
    }

    fn outline(&mut self, item: ast::OutlineDecl, scope: ScopeId, guards: &[Guard]) {
        let list = &mut self.out.program.outlines;
        let (name, id) = (item.name.clone(), OutlineId::at(list.len()));
        list.push(Declared { item, scope, guards: guards.to_vec() });
        self.declare(scope, &name, Entity::Outline(id), guards);
    }

    fn finish(&mut self, item: ast::FinishDecl, scope: ScopeId, guards: &[Guard]) {
        let list = &mut self.out.program.finishes;
        let (name, id) = (item.name.clone(), FinishId::at(list.len()));
        list.push(Declared { item, scope, guards: guards.to_vec() });
        self.declare(scope, &name, Entity::Finish(id), guards);
    }

    fn cutter(&mut self, item: ast::Cutter, scope: ScopeId, guards: &[Guard]) {
        let list = &mut self.out.program.cutters;
        let (name, id) = (item.name.clone(), CutterId::at(list.len()));
        list.push(Declared { item, scope, guards: guards.to_vec() });
        self.declare(scope, &name, Entity::Cutter(id), guards);
    }

    fn panel(&mut self, item: ast::Panel, scope: ScopeId, guards: &[Guard]) {
        let list = &mut self.out.program.panels;
        let (name, id) = (item.name.clone(), PanelId::at(list.len()));
        let mut copies = Vec::new();
        copies_in(&item.items, guards, &mut copies);
        let parts = parts_in(&item.items, guards, &copies);
        list.push(Declared { item, scope, guards: guards.to_vec() });
        self.declare(scope, &name, Entity::Panel(id), guards);
        for (copy, index, guards) in copies {
            self.declare(scope, &copy, Entity::Copy(id, index), &guards);
        }
        for (part, guards) in parts {
            self.declare(scope, &part, Entity::Part(id), &guards);
        }
    }

    /// Declares a name unless it is taken.
    fn declare(&mut self, scope: ScopeId, name: &ast::Name, entity: Entity, guards: &[Guard]) {
        let site = Site { span: name.span, is: entity.what(), guards: guard_path(guards), imported: false };
        self.enter(scope, name, &[entity], site);
    }

    /// Enters a name into a scope; false when it can't be, which is reported.
    fn enter(&mut self, scope: ScopeId, name: &ast::Name, meanings: &[Entity], site: Site) -> bool {
        if name.text.is_empty() {
            return false;
        }
        // Names of work are never read in an expression, so `step count` hides nothing.
        let read = !meanings.iter().all(|m| matches!(m, Entity::Attach(_) | Entity::Seam(_) | Entity::Quilt(_) | Entity::Step(_)));
        let kept = KEPT_WORDS.iter().find(|(word, _)| *word == name.text).filter(|_| read);
        if let Some((_, why)) = kept {
            self.problems.push(NameError::Reserved { name: name.text.clone(), span: name.span, why });
        } else if read && super::Builtin::named(&name.text).is_some() {
            self.problems.push(NameError::BuiltIn { name: name.text.clone(), span: name.span });
        } else if let Some(error) = self.taken(scope, name, meanings, &site) {
            self.problems.push(error);
            return false;
        }
        if let (Some(entries), Some(sites)) = (self.out.program.scopes.get_mut(scope.index()), self.sites.get_mut(scope.index())) {
            entries.names.entry(name.text.clone()).or_default().extend_from_slice(meanings);
            sites.entry(name.text.clone()).or_default().push(site);
        }
        true
    }

    /// The error, if the name is already declared in this scope or the file around it.
    fn taken(&self, scope: ScopeId, name: &ast::Name, meanings: &[Entity], site: &Site) -> Option<crate::diagnostic::Diagnostic> {
        let parent = self.out.program.scopes.get(scope.index()).and_then(|s| s.parent);
        let sites = [Some(scope), parent].into_iter().flatten().filter_map(|s| self.sites.get(s.index())).filter_map(|s| s.get(&name.text));
        let other = sites.flatten().find(|other| !exclude_each_other(&other.guards, &site.guards))?;
        let text = name.text.clone();
        let known = self.out.program.scopes.get(scope.index()).and_then(|s| s.names.get(&name.text));
        Some(if site.imported && other.imported && known.is_some_and(|known| known == meanings) {
            ModuleError::Twice { name: text, span: site.span, other: other.span }.into()
        } else if site.imported {
            ModuleError::Clash { name: text, span: site.span, other: other.span, other_is_import: other.imported }.into()
        } else if other.imported {
            ModuleError::Clash { name: text, span: other.span, other: site.span, other_is_import: false }.into()
        } else {
            NameError::Twice { name: text, first: other.span, first_is: other.is, second: site.span, second_is: site.is }.into()
        })
    }

    /// Declares the words that parameters may be: bare names after `one of` that mean nothing else.
    fn choices(&mut self, scope: ScopeId) {
        let mut words: Vec<ast::Name> = Vec::new();
        for param in &self.out.program.params {
            if let ast::Limits::OneOf(all) = &param.item.limits {
                words.extend(all.iter().filter_map(|e| match &e.kind {
                    ast::ExprKind::Reference(name) => Some(name.clone()),
                    _ => None,
                }));
            }
        }
        for word in words {
            match self.out.program.lookup(scope, &word.text).first().copied() {
                None if !self.out.broken.contains(&(self.out.main_scope, word.text.clone())) => {
                    if let Some(entries) = self.out.program.scopes.get_mut(scope.index()) {
                        entries.names.insert(word.text, vec![Entity::Choice]);
                    }
                }
                Some(entity) if !entity.is_value() => {
                    let declared = self.out.program.name_of(entity).map(|n| n.span);
                    self.problems.push(NameError::ChoiceClash { name: word.text, span: word.span, is: entity.what(), declared });
                }
                _ => {}
            }
        }
    }
}

/// The named copies of a panel, with the `when`s they stand under.
fn copies_in(items: &[ast::PanelItem], guards: &[Guard], found: &mut Vec<(ast::Name, u32, Vec<Guard>)>) {
    for item in items {
        match item {
            ast::PanelItem::Cut(cut) => {
                let numbered = cut.copies.iter().zip(0_u32..);
                found.extend(numbered.map(|(name, index)| (name.clone(), index, guards.to_vec())));
            }
            ast::PanelItem::When(when) => {
                copies_in(&when.then, &with(guards, &when.condition, true), found);
                copies_in(&when.otherwise, &with(guards, &when.condition, false), found);
            }
            _ => {}
        }
    }
}

/// The pieces that a panel is split into, and where its copies have names, those of each piece's copies.
fn parts_in(items: &[ast::PanelItem], guards: &[Guard], copies: &[(ast::Name, u32, Vec<Guard>)]) -> Vec<(ast::Name, Vec<Guard>)> {
    let mut parts = Vec::new();
    splits_in(items, guards, &mut parts);
    let mut all = Vec::new();
    for (part, under) in parts {
        let meets = |(_, _, other): &&(ast::Name, u32, Vec<Guard>)| !exclude_each_other(&guard_path(&under), &guard_path(other));
        for (copy, _, other) in copies.iter().filter(meets) {
            let name = ast::Name { text: ast::part_of_copy(&copy.text, &part.text), span: part.span };
            all.push((name, under.iter().chain(other).cloned().collect()));
        }
        all.push((part, under));
    }
    all
}

fn splits_in(items: &[ast::PanelItem], guards: &[Guard], found: &mut Vec<(ast::Name, Vec<Guard>)>) {
    for item in items {
        match item {
            ast::PanelItem::Split(split) => found.extend(split.pieces.iter().map(|p| (p.clone(), guards.to_vec()))),
            ast::PanelItem::When(when) => {
                splits_in(&when.then, &with(guards, &when.condition, true), found);
                splits_in(&when.otherwise, &with(guards, &when.condition, false), found);
            }
            _ => {}
        }
    }
}
