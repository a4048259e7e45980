//! What is declared and never used. Only in the maker's own files: the library is there to be picked from.

use super::checker::{Checker, Env};
use super::error::{ModuleError, Unused, UnusedThing};
use super::kind::Kind;
use super::lift::Lifted;
use super::program::{Entity, ScopeId};
use indexmap::IndexSet;

impl<'p> Checker<'p> {
    /// Names of a body that nothing in it uses.
    pub(super) fn unused_locals(&mut self, env: &Env<'p>) {
        for (name, local) in env.own() {
            if let Some(span) = local.span.filter(|s| !local.used.get() && self.own_files.contains(&s.file)) {
                let is = if local.is == "a parameter" { UnusedThing::Parameter } else { UnusedThing::Let };
                self.unused.push(Unused { name: (*name).to_owned(), is, span });
            }
        }
    }

    /// Declarations of the main file and its design, and imports of every file. While anything is wrong this is
    /// not looked at: what seems unused may be what was meant.
    pub(super) fn unused_declarations(&mut self, lifted: &Lifted) {
        if self.problems.has_errors() {
            return;
        }
        std::mem::take(&mut self.unused).into_iter().for_each(|unused| self.report(unused));
        for import in &lifted.imports {
            if self.own_files.contains(&import.name.span.file) && !self.is_used(import.scope, &import.name.text) {
                let (name, module, span) = (import.name.text.clone(), import.module.clone(), import.name.span);
                self.report(ModuleError::Unused { name, module, span });
            }
        }
        let scopes = [Some(lifted.main_scope), self.program.design_scope];
        for scope in scopes.into_iter().flatten() {
            self.unused_in(scope, lifted);
        }
    }

    fn unused_in(&mut self, scope: ScopeId, lifted: &Lifted) {
        let Some(names) = self.program.scopes.get(scope.index()).map(|s| &s.names) else { return };
        let imported: IndexSet<&str> = lifted.imports.iter().filter(|i| i.scope == scope).map(|i| i.name.text.as_str()).collect();
        for (name, entities) in names {
            if self.is_used(scope, name) || imported.contains(name.as_str()) {
                continue;
            }
            for entity in entities {
                if let (Some(is), Some(declared)) = (self.sort_of_unused(*entity), self.program.name_of(*entity)) {
                    self.report(Unused { name: name.clone(), is, span: declared.span });
                }
            }
        }
    }

    fn sort_of_unused(&self, entity: Entity) -> Option<UnusedThing> {
        Some(match entity {
            Entity::Param(_) => UnusedThing::Parameter,
            Entity::Constant(id) => match self.constants.get(id.index()) {
                Some(Kind::Material(_)) => UnusedThing::Material,
                _ => UnusedThing::Let,
            },
            Entity::Function(_) => UnusedThing::Function,
            Entity::Material(_) => UnusedThing::Material,
            Entity::Component(_) => UnusedThing::Component,
            Entity::Outline(_) => UnusedThing::Outline,
            Entity::Finish(_) => UnusedThing::Finish,
            Entity::Cutter(_) => UnusedThing::Cutter,
            _ => return None,
        })
    }
}
