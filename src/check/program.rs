//! The checked program: every declaration lifted out of its file into a list of its kind,
//! with the scope its names are looked up in and the `when`s it stands under.
//!
//! The evaluator reads this and the trees inside it; names are known to exist and
//! expressions to have dimensions before any number is worked out.

use super::Builtin;
use crate::source::Span;
use crate::syntax::ast;
use crate::trace::Drawn;
use indexmap::IndexMap;
use std::collections::BTreeMap;

macro_rules! ids {
    ($($(#[$doc:meta])* $name:ident),+ $(,)?) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub struct $name(pub u32);

        impl $name {
            /// The id of the item at an index.
            #[must_use]
            pub fn at(index: usize) -> Self {
                Self(u32::try_from(index).unwrap_or(u32::MAX))
            }

            /// The index of the item.
            #[must_use]
            pub const fn index(self) -> usize {
                self.0 as usize
            }
        }
    )+};
}

ids! {
    /// Of [`Program::scopes`].
    ScopeId,
    /// Of [`Program::params`].
    ParamId,
    /// Of [`Program::constants`].
    ConstantId,
    /// Of [`Program::functions`].
    FunctionId,
    /// Of [`Program::materials`].
    MaterialDeclId,
    /// Of [`Program::components`].
    ComponentId,
    /// Of [`Program::outlines`].
    OutlineId,
    /// Of [`Program::finishes`].
    FinishId,
    /// Of [`Program::cutters`].
    CutterId,
    /// Of [`Program::panels`].
    PanelId,
    /// Of [`Program::attaches`].
    AttachId,
    /// Of [`Program::seams`].
    SeamDeclId,
    /// Of [`Program::applies`].
    ApplyId,
    /// Of [`Program::quilts`].
    QuiltId,
    /// Of [`Program::steps`].
    StepId,
}

/// A `when` that a declaration stands under.
#[derive(Debug, Clone, PartialEq)]
pub struct Guard {
    /// Its condition.
    pub condition: ast::Expr,
    /// Whether the declaration holds when the condition is met (`then`), or when it is not (`else`).
    pub holds: bool,
}

/// A declaration, its scope and its guards.
#[derive(Debug, Clone, PartialEq)]
pub struct Declared<T> {
    /// What was written.
    pub item: T,
    /// Where its names are looked up.
    pub scope: ScopeId,
    /// All must hold for it to be there; outermost first.
    pub guards: Vec<Guard>,
}

/// What a name means.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Entity {
    /// A parameter of the design.
    Param(ParamId),
    /// A word that some parameter may be; the word is the name itself.
    Choice,
    /// A `let`.
    Constant(ConstantId),
    /// A `fn`.
    Function(FunctionId),
    /// A `material`.
    Material(MaterialDeclId),
    /// A `component`.
    Component(ComponentId),
    /// An `outline`.
    Outline(OutlineId),
    /// A `finish`.
    Finish(FinishId),
    /// A `cutter`.
    Cutter(CutterId),
    /// A panel.
    Panel(PanelId),
    /// A named copy of a panel, by its place in the `cut` line.
    Copy(PanelId, u32),
    /// A piece that a panel is split into, or a named copy of one: by its name on the panel's pieces.
    Part(PanelId),
    /// An `attach` line.
    Attach(AttachId),
    /// A seam.
    Seam(SeamDeclId),
    /// A quilt.
    Quilt(QuiltId),
    /// An extra step.
    Step(StepId),
    /// A name that every file knows: `sqrt`, `pi`.
    Builtin(Builtin),
}

/// Names and what they mean. A name has several meanings only under `when`s that exclude each other.
#[derive(Debug, Clone, Default)]
pub struct Scope {
    /// Where to look next: a design's scope looks in its file's, which ends in the built-in names.
    pub parent: Option<ScopeId>,
    /// The names, in source order.
    pub names: IndexMap<String, Vec<Entity>>,
}

/// A checked design with everything it reaches.
#[derive(Debug, Clone, Default)]
pub struct Program {
    /// The design's name.
    pub name: Option<ast::Name>,
    /// The design's title.
    pub title: Option<ast::TextLiteral>,
    /// The design's own scope.
    pub design_scope: Option<ScopeId>,
    /// Every scope.
    pub scopes: Vec<Scope>,
    /// Parameters, in source order.
    pub params: Vec<Declared<ast::Param>>,
    /// Named sizes, in source order.
    pub sizes: Vec<ast::Size>,
    /// Constants of the design and of every module it uses.
    pub constants: Vec<Declared<ast::Constant>>,
    /// Functions.
    pub functions: Vec<Declared<ast::Function>>,
    /// Material declarations.
    pub materials: Vec<Declared<ast::Material>>,
    /// Components.
    pub components: Vec<Declared<ast::Component>>,
    /// Outlines.
    pub outlines: Vec<Declared<ast::OutlineDecl>>,
    /// Finishes.
    pub finishes: Vec<Declared<ast::FinishDecl>>,
    /// Cutters.
    pub cutters: Vec<Declared<ast::Cutter>>,
    /// `cut … with …` lines.
    pub cut_withs: Vec<Declared<ast::CutWith>>,
    /// Panels of the design.
    pub panels: Vec<Declared<ast::Panel>>,
    /// `attach` lines.
    pub attaches: Vec<Declared<ast::Attach>>,
    /// Seams.
    pub seams: Vec<Declared<ast::Seam>>,
    /// `apply` lines.
    pub applies: Vec<Declared<ast::Apply>>,
    /// Quilts.
    pub quilts: Vec<Declared<ast::Quilt>>,
    /// Extra steps.
    pub steps: Vec<Declared<ast::Step>>,
    /// Requirements.
    pub requires: Vec<Declared<ast::Require>>,
    /// Accepted diagnostics.
    pub accepts: Vec<Declared<ast::Accept>>,
    /// The thread, if the design names one.
    pub threads: Vec<Declared<ast::Expr>>,
    /// The outlines of panels traced from drawings, by where the tracing stands.
    pub tracings: BTreeMap<Span, Drawn>,
    /// What values can be made of, each after all that it needs: worked out in this order, nothing waits for anything.
    pub order: Vec<Entity>,
}

impl Program {
    /// All meanings of a name from a scope outward; the nearest scope that has the name decides.
    #[must_use]
    pub fn lookup(&self, scope: ScopeId, name: &str) -> &[Entity] {
        let mut at = Some(scope);
        while let Some(s) = at.and_then(|id| self.scopes.get(id.index())) {
            if let Some(found) = s.names.get(name) {
                return found;
            }
            at = s.parent;
        }
        &[]
    }

    /// Every name that can be seen from a scope, for "did you mean".
    #[must_use]
    pub fn visible(&self, scope: ScopeId) -> Vec<&str> {
        let mut all = Vec::new();
        let mut at = Some(scope);
        while let Some(s) = at.and_then(|id| self.scopes.get(id.index())) {
            all.extend(s.names.keys().map(String::as_str));
            at = s.parent;
        }
        all
    }

    /// Where the design is named, for reports that concern it as a whole.
    #[must_use]
    pub fn origin(&self) -> Span {
        self.name.as_ref().map(|n| n.span).unwrap_or_default()
    }
}
