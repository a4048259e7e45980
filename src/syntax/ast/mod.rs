//! The syntax tree: what a source file says, with a span on everything.
//!
//! One file a section of the grammar. Nothing here is resolved or checked.

mod component;
mod cutter;
mod design;
mod expr;
mod outline;
mod panel;
mod place;
mod seam;
mod traced;

pub use component::*;
pub use cutter::*;
pub use design::*;
pub use expr::*;
pub use outline::*;
pub use panel::*;
pub use place::*;
pub use seam::*;
pub use traced::*;

use crate::source::Span;

/// A name as written, and where.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Name {
    /// The word itself.
    pub text: String,
    /// Where it stands.
    pub span: Span,
}

/// `when condition { … } else { … }` around items of any section.
/// An `else when` is an `otherwise` with that one item.
#[derive(Debug, Clone, PartialEq)]
pub struct When<T> {
    /// The condition: a truth value.
    pub condition: Expr,
    /// Items that hold when it is met.
    pub then: Vec<T>,
    /// Items that hold when it is not.
    pub otherwise: Vec<T>,
    /// The whole construct.
    pub span: Span,
}

/// A source file.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct File {
    /// Imports, in the order written.
    pub uses: Vec<Use>,
    /// Declarations, in the order written.
    pub declarations: Vec<Declaration>,
}

/// `use std.trims { ribbon_loop as loop, cord_casing }`
#[derive(Debug, Clone, PartialEq)]
pub struct Use {
    /// Dotted module path, as written.
    pub path: Name,
    /// What is taken from it.
    pub names: Vec<Imported>,
    /// The whole line.
    pub span: Span,
}

/// One imported name.
#[derive(Debug, Clone, PartialEq)]
pub struct Imported {
    /// Its name in the module.
    pub name: Name,
    /// What it is called here, if renamed.
    pub alias: Option<Name>,
}

/// A declaration at the top of a file.
#[derive(Debug, Clone, PartialEq)]
pub enum Declaration {
    /// `design …`
    Design(Design),
    /// `material …`
    Material(Material),
    /// `component …`
    Component(Component),
    /// `outline …`
    Outline(OutlineDecl),
    /// `finish …`
    Finish(FinishDecl),
    /// `cutter …`
    Cutter(Cutter),
    /// `fn …`
    Function(Function),
    /// `let …`
    Constant(Constant),
}

impl Declaration {
    /// The declared name.
    #[must_use]
    pub fn name(&self) -> &Name {
        match self {
            Self::Design(d) => &d.name,
            Self::Material(d) => &d.name,
            Self::Component(d) => &d.name,
            Self::Outline(d) => &d.name,
            Self::Finish(d) => &d.name,
            Self::Cutter(d) => &d.name,
            Self::Function(d) => &d.name,
            Self::Constant(d) => &d.name,
        }
    }
}
