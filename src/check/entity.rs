//! What an entity is called, and where it is declared.

use super::program::{Entity, Program};
use crate::syntax::ast::Name;

impl Entity {
    /// In words, with its article.
    #[must_use]
    pub fn what(self) -> &'static str {
        match self {
            Self::Param(_) => "a parameter",
            Self::Choice => "a choice",
            Self::Constant(_) => "a `let`",
            Self::Function(_) => "a function",
            Self::Material(_) => "a material",
            Self::Component(_) => "a component",
            Self::Outline(_) => "an outline",
            Self::Finish(_) => "a finish",
            Self::Panel(_) => "a panel",
            Self::Copy(..) => "a copy of a panel",
            Self::Part(_) => "a piece of a split panel",
            Self::Attach(_) => "an attachment",
            Self::Seam(_) => "a seam",
            Self::Quilt(_) => "a quilting",
            Self::Step(_) => "a step",
            Self::Builtin(b) if b.is_function() => "a built-in function",
            Self::Builtin(_) => "a built-in number",
        }
    }

    /// Whether it can stand in an expression by itself.
    #[must_use]
    pub fn is_value(self) -> bool {
        match self {
            Self::Param(_) | Self::Choice | Self::Constant(_) | Self::Material(_) => true,
            Self::Builtin(b) => !b.is_function(),
            _ => false,
        }
    }
}

impl Program {
    /// The name an entity is declared by; none for choices and built-in names.
    #[must_use]
    pub fn name_of(&self, entity: Entity) -> Option<&Name> {
        match entity {
            Entity::Param(id) => self.params.get(id.index()).map(|d| &d.item.name),
            Entity::Constant(id) => self.constants.get(id.index()).map(|d| &d.item.name),
            Entity::Function(id) => self.functions.get(id.index()).map(|d| &d.item.name),
            Entity::Material(id) => self.materials.get(id.index()).map(|d| &d.item.name),
            Entity::Component(id) => self.components.get(id.index()).map(|d| &d.item.name),
            Entity::Outline(id) => self.outlines.get(id.index()).map(|d| &d.item.name),
            Entity::Finish(id) => self.finishes.get(id.index()).map(|d| &d.item.name),
            Entity::Panel(id) | Entity::Copy(id, _) | Entity::Part(id) => self.panels.get(id.index()).map(|d| &d.item.name),
            Entity::Attach(id) => self.attaches.get(id.index()).map(|d| &d.item.name),
            Entity::Seam(id) => self.seams.get(id.index()).map(|d| &d.item.name),
            Entity::Quilt(id) => self.quilts.get(id.index()).map(|d| &d.item.name),
            Entity::Step(id) => self.steps.get(id.index()).map(|d| &d.item.name),
            Entity::Choice | Entity::Builtin(_) => None,
        }
    }
}
