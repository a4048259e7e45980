//! Reads every file that a design reaches through `use`, each once.

use super::error::ModuleError;
use crate::diagnostic::{Problems, nearest};
use crate::source::{FileId, LoadError, Loader, SourceMap, Span};
use crate::syntax::ast;
use crate::syntax::excerpt::{self, Contents};
use indexmap::IndexMap;
use rayon::prelude::*;
use std::collections::BTreeSet;
use std::ops::Range;

/// More files than any design needs; a guard against a folder that imports without end.
const MOST_MODULES: usize = 200;

/// A file.
pub(super) struct Module {
    /// Its dotted path; for the main file the name of the file.
    pub path: String,
    /// Its id.
    pub file: FileId,
    /// What it says.
    pub ast: ast::File,
    /// For each `use`, the module it reaches; none where that could not be read.
    pub reaches: Vec<Option<usize>>,
    /// Whether it was read whole: names missing from a file with mistakes are no mistakes of their own.
    pub whole: bool,
}

/// A module of the library. Of these, which are long and known to be in order, only what is imported is read.
struct Shelf {
    /// The names asked for so far; none when all of it was read.
    taken: Option<BTreeSet<String>>,
    /// Where those are declared that are still to be read.
    waiting: Vec<Range<usize>>,
}

/// Reads modules.
struct Reading<'a> {
    loader: &'a dyn Loader,
    sources: &'a mut SourceMap,
    problems: &'a mut Problems,
    modules: Vec<Module>,
    by_path: IndexMap<String, Option<usize>>,
    /// Of modules of the library, what has been read.
    shelves: IndexMap<usize, Shelf>,
    /// The modules being read, outermost first.
    open: Vec<usize>,
    /// Those of which only what they seem to import was looked at, and that are still to be read; none when each is read first.
    ahead: Option<Vec<usize>>,
    full: bool,
}

/// The main file and all it reaches; the main file first.
pub(super) fn read(main: FileId, loader: &dyn Loader, sources: &mut SourceMap, problems: &mut Problems) -> Vec<Module> {
    let (path, text) = sources.get(main).map_or_else(Default::default, |f| (f.name.clone(), f.text.clone()));
    let module = |ast, whole| Module { path: path.clone(), file: main, ast, reaches: Vec::new(), whole };
    // What it imports is read while it is itself being read, by what its imports seem to say.
    let (mut sources_ahead, mut found_ahead, mut found) = (sources.clone(), Problems::default(), Problems::default());
    let follow_ahead = || {
        let seem = ast::File { uses: excerpt::imports(main, &text), ..ast::File::default() };
        follow(module(seem, true), true, loader, &mut sources_ahead, &mut found_ahead)
    };
    let (file, (ahead, are_right)) = rayon::join(|| crate::syntax::parse(main, &text, &mut found), follow_ahead);
    let whole = !found.has_errors();
    problems.extend(found);
    let mut ahead = ahead.into_iter();
    match ahead.next() {
        Some(first) if are_right && file.uses == first.ast.uses => {
            *sources = sources_ahead;
            problems.extend(found_ahead);
            std::iter::once(Module { ast: file, whole, ..first }).chain(ahead).collect()
        }
        _ => follow(module(file, whole), false, loader, sources, problems).0,
    }
}

/// A module and all it reaches. `ahead` goes by what each seems to import, and says whether that was right.
fn follow(first: Module, ahead: bool, loader: &dyn Loader, sources: &mut SourceMap, problems: &mut Problems) -> (Vec<Module>, bool) {
    let mut reading = Reading {
        loader,
        sources,
        problems,
        modules: vec![first],
        by_path: IndexMap::new(),
        shelves: IndexMap::new(),
        open: Vec::new(),
        ahead: ahead.then(Vec::new),
        full: false,
    };
    reading.follow(0, 0);
    reading.finish()
}

impl Reading<'_> {
    /// Reads what a module uses, from its `from`th import on. Recursion is as deep as the longest chain of imports,
    /// at most [`MOST_MODULES`].
    fn follow(&mut self, index: usize, from: usize) {
        self.open.push(index);
        let uses: Vec<ast::Use> = self.modules.get(index).map_or_else(Vec::new, |m| m.ast.uses.iter().skip(from).cloned().collect());
        for one in &uses {
            let reached = self.reach(one);
            if let Some(module) = self.modules.get_mut(index) {
                module.reaches.push(reached);
            }
        }
        self.open.pop();
    }

    fn reach(&mut self, one: &ast::Use) -> Option<usize> {
        let path = &one.path;
        if let Some(known) = self.by_path.get(&path.text).copied() {
            let index = known?;
            if self.open.contains(&index) {
                self.report_cycle(index, path.span);
                return None;
            }
            self.take(index, one);
            return Some(index);
        }
        let read = self.read(path);
        if let Some(index) = read {
            if self.open.contains(&index) {
                self.report_cycle(index, path.span);
                return None;
            }
            self.by_path.insert(path.text.clone(), Some(index));
            if self.shelves.contains_key(&index) {
                self.shelve(index, path.span);
                self.take(index, one);
            } else {
                self.follow(index, 0);
            }
        } else {
            self.by_path.insert(path.text.clone(), None);
        }
        read
    }

    /// Opens all that a module of the library imports from: which files there are does not depend on what is asked for.
    fn shelve(&mut self, index: usize, span: Span) {
        let opened = self.shelves.get(&index).and(self.modules.get(index));
        let paths: Vec<String> = match opened {
            Some(module) => excerpt::imported_paths(text(self.sources, module.file)).map(str::to_owned).collect(),
            None => Vec::new(),
        };
        for text in paths {
            if !self.by_path.contains_key(&text) {
                let opened = self.read(&ast::Name { text: text.clone(), span });
                self.by_path.insert(text, opened);
                opened.into_iter().for_each(|index| self.shelve(index, span));
            }
        }
    }

    /// Notes what an import asks for of a module of the library, and reads what that imports in turn.
    fn take(&mut self, index: usize, one: &ast::Use) {
        let (Some(shelf), Some(module)) = (self.shelves.get_mut(&index), self.modules.get_mut(index)) else { return };
        let Some(taken) = &mut shelf.taken else { return };
        let wanted: BTreeSet<&str> = one.names.iter().map(|n| n.name.text.as_str()).collect();
        let contents = Contents::of(text(self.sources, module.file));
        let uses = match contents.needed(&wanted) {
            Some(mut names) => {
                names.retain(|n| !taken.contains(*n));
                if names.is_empty() {
                    return;
                }
                taken.extend(names.iter().map(|&n| n.to_owned()));
                shelf.waiting.extend(contents.declarations(&names));
                contents.imports(module.file, &names, self.problems)
            }
            // A name it does not declare: all of it, so that the nearest can be named.
            None => {
                let mut whole = crate::syntax::parse(module.file, text(self.sources, module.file), self.problems);
                let known = |name: &ast::Name| taken.contains(&name.text);
                whole.declarations.retain(|d| !known(d.name()));
                whole.uses.iter_mut().for_each(|u| u.names.retain(|n| !known(n.alias.as_ref().unwrap_or(&n.name))));
                shelf.taken = None;
                module.ast.declarations.extend(whole.declarations);
                whole.uses
            }
        };
        let from = module.ast.uses.len();
        module.ast.uses.extend(uses);
        self.follow(index, from);
    }

    /// Reads what is still to be read, as much at once as there are threads; whether all imports are what they seemed to be.
    fn finish(mut self) -> (Vec<Module>, bool) {
        let sources = &*self.sources;
        let file = |index: usize| self.modules.get(index).map_or_else(FileId::default, |m| m.file);
        let whole = self.ahead.iter().flatten().map(|&index| (index, file(index), None));
        let shelves = self.shelves.iter().flat_map(|(&index, shelf)| shelf.waiting.iter().map(move |range| (index, range)));
        let waiting: Vec<_> = whole.chain(shelves.map(|(index, range)| (index, file(index), Some(range.clone())))).collect();
        let read = |(index, file, range): (usize, FileId, Option<Range<usize>>)| {
            let mut found = Problems::default();
            let part = match range {
                Some(range) => excerpt::parse_item(file, text(sources, file), range, &mut found),
                None => crate::syntax::parse(file, text(sources, file), &mut found),
            };
            (index, part, found)
        };
        // Some items are twenty times as long as others.
        let parts: Vec<_> = waiting.into_par_iter().with_max_len(1).map(read).collect();
        let mut are_right = true;
        for (index, part, found) in parts {
            let Some(module) = self.modules.get_mut(index) else { continue };
            if !self.shelves.contains_key(&index) {
                are_right &= part.uses == module.ast.uses;
                module.whole = !found.has_errors();
            }
            module.ast.declarations.extend(part.declarations);
            self.problems.extend(found);
        }
        for index in self.shelves.keys() {
            if let Some(module) = self.modules.get_mut(*index) {
                module.ast.declarations.sort_by_key(|d| d.name().span.start);
            }
        }
        (self.modules, are_right)
    }

    /// Loads and parses one module.
    fn read(&mut self, path: &ast::Name) -> Option<usize> {
        let first_part = path.text.split('.').next().unwrap_or("");
        if first_part.starts_with("std") && first_part != "std" {
            self.problems.push(ModuleError::Reserved { path: path.text.clone(), span: path.span });
            return None;
        }
        if self.modules.len() >= MOST_MODULES {
            if !self.full {
                self.problems.push(ModuleError::TooMany { path: path.text.clone(), limit: MOST_MODULES, span: path.span });
            }
            self.full = true;
            return None;
        }
        let loaded = match self.loader.load(&path.text) {
            Ok(loaded) => loaded,
            Err(error) => {
                let main = self.modules.first().map_or("", |m| m.path.as_str());
                self.problems.push(load_error(error, path, first_part == "std", main));
                return None;
            }
        };
        // The main file is known by its file name only; a file that imports it back closes a ring.
        if self.modules.first().is_some_and(|main| main.path == loaded.name) {
            return Some(0);
        }
        let file = self.sources.add(loaded.name, loaded.text);
        if first_part == "std" {
            let shelf = Shelf { taken: Some(BTreeSet::new()), waiting: Vec::new() };
            self.shelves.insert(self.modules.len(), shelf);
            let ast = ast::File::default();
            self.modules.push(Module { path: path.text.clone(), file, ast, reaches: Vec::new(), whole: true });
            return Some(self.modules.len() - 1);
        }
        let module = |ast, whole| Module { path: path.text.clone(), file, ast, reaches: Vec::new(), whole };
        if let Some(ahead) = &mut self.ahead {
            ahead.push(self.modules.len());
            self.modules.push(module(ast::File { uses: excerpt::imports(file, text(self.sources, file)), ..ast::File::default() }, true));
        } else {
            let mut found = Problems::default();
            let ast = crate::syntax::parse(file, text(self.sources, file), &mut found);
            self.modules.push(module(ast, !found.has_errors()));
            self.problems.extend(found);
        }
        Some(self.modules.len() - 1)
    }

    fn report_cycle(&mut self, back_to: usize, span: Span) {
        let from = self.open.iter().position(|i| *i == back_to).unwrap_or(0);
        let ring = self.open.iter().skip(from).chain(std::iter::once(&back_to));
        let chain = ring.filter_map(|i| self.modules.get(*i)).map(|m| m.path.clone()).collect();
        self.problems.push(ModuleError::Cycle { chain, span });
    }
}

fn text(sources: &SourceMap, file: FileId) -> &str {
    sources.get(file).map_or("", |f| f.text.as_str())
}

/// The main file, `main.fell`, is no module of its own.
fn load_error(error: LoadError, path: &ast::Name, library: bool, main: &str) -> ModuleError {
    let (text, span) = (path.text.clone(), path.span);
    match error {
        LoadError::Missing { known } => {
            let nearest =
                nearest(&text, known.iter().map(String::as_str).filter(|k| main.strip_suffix(".fell") != Some(k))).map(str::to_owned);
            ModuleError::Missing { path: text, span, nearest, library }
        }
        LoadError::Outside => ModuleError::Outside { path: text, span },
        LoadError::Unreadable { reason } => ModuleError::Unreadable { path: text, span, reason },
    }
}
