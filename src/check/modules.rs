//! Reads every file that a design reaches through `use`, each once.

use super::error::ModuleError;
use crate::diagnostic::{Problems, Severity, nearest};
use crate::source::{FileId, LoadError, Loader, SourceMap, Span};
use crate::syntax::ast;
use indexmap::IndexMap;

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

/// Reads modules.
struct Reading<'a> {
    loader: &'a dyn Loader,
    sources: &'a mut SourceMap,
    problems: &'a mut Problems,
    modules: Vec<Module>,
    by_path: IndexMap<String, Option<usize>>,
    /// The modules being read, outermost first.
    open: Vec<usize>,
    full: bool,
}

/// The main file and all it reaches; the main file first.
pub(super) fn read(main: FileId, file: ast::File, loader: &dyn Loader, sources: &mut SourceMap, problems: &mut Problems) -> Vec<Module> {
    let path = sources.get(main).map_or_else(String::new, |f| f.name.clone());
    let first = Module { path, file: main, ast: file, reaches: Vec::new(), whole: !problems.has_errors() };
    let mut reading = Reading { loader, sources, problems, modules: vec![first], by_path: IndexMap::new(), open: Vec::new(), full: false };
    reading.follow(0);
    reading.modules
}

impl Reading<'_> {
    /// Reads what a module uses. Recursion is as deep as the longest chain of imports, at most [`MOST_MODULES`].
    fn follow(&mut self, index: usize) {
        self.open.push(index);
        let uses: Vec<ast::Name> = self.modules.get(index).map_or_else(Vec::new, |m| m.ast.uses.iter().map(|u| u.path.clone()).collect());
        let reaches = uses.iter().map(|path| self.reach(path)).collect();
        if let Some(module) = self.modules.get_mut(index) {
            module.reaches = reaches;
        }
        self.open.pop();
    }

    fn reach(&mut self, path: &ast::Name) -> Option<usize> {
        if let Some(known) = self.by_path.get(&path.text).copied() {
            let index = known?;
            if self.open.contains(&index) {
                self.report_cycle(index, path.span);
                return None;
            }
            return Some(index);
        }
        let read = self.read(path);
        if let Some(index) = read {
            if self.open.contains(&index) {
                self.report_cycle(index, path.span);
                return None;
            }
            self.by_path.insert(path.text.clone(), Some(index));
            self.follow(index);
        } else {
            self.by_path.insert(path.text.clone(), None);
        }
        read
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
                self.problems.push(load_error(error, path, first_part == "std"));
                return None;
            }
        };
        // The main file is known by its file name only; a file that imports it back closes a ring.
        if self.modules.first().is_some_and(|main| main.path == loaded.name) {
            return Some(0);
        }
        let file = self.sources.add(loaded.name, loaded.text.clone());
        let mut found = Problems::default();
        let ast = crate::syntax::parse(file, &loaded.text, &mut found);
        let whole = !found.sorted().iter().any(|d| d.severity == Severity::Error);
        self.problems.extend(found);
        self.modules.push(Module { path: path.text.clone(), file, ast, reaches: Vec::new(), whole });
        Some(self.modules.len() - 1)
    }

    fn report_cycle(&mut self, back_to: usize, span: Span) {
        let from = self.open.iter().position(|i| *i == back_to).unwrap_or(0);
        let ring = self.open.iter().skip(from).chain(std::iter::once(&back_to));
        let chain = ring.filter_map(|i| self.modules.get(*i)).map(|m| m.path.clone()).collect();
        self.problems.push(ModuleError::Cycle { chain, span });
    }
}

fn load_error(error: LoadError, path: &ast::Name, library: bool) -> ModuleError {
    let (text, span) = (path.text.clone(), path.span);
    match error {
        LoadError::Missing { known } => {
            let nearest = nearest(&text, known.iter().map(String::as_str)).map(str::to_owned);
            ModuleError::Missing { path: text, span, nearest, library }
        }
        LoadError::Outside => ModuleError::Outside { path: text, span },
        LoadError::Unreadable { reason } => ModuleError::Unreadable { path: text, span, reason },
    }
}
