//! Designs and the plain declarations.

use super::{Apply, Attach, Component, Expr, FinishDecl, Name, OutlineDecl, Panel, Quilt, Seam, Step, TextLiteral, When};
use crate::source::Span;

/// `design larch "Larch, a top quilt" { … }`
#[derive(Debug, Clone, PartialEq)]
pub struct Design {
    /// Its name, which files are named after.
    pub name: Name,
    /// Its title.
    pub title: Option<TextLiteral>,
    /// What it declares, in the order written (which carries no meaning).
    pub items: Vec<DesignItem>,
    /// The whole construct.
    pub span: Span,
}

/// What may stand in a design.
#[derive(Debug, Clone, PartialEq)]
pub enum DesignItem {
    /// `param …`
    Param(Param),
    /// `size …`
    Size(Size),
    /// `let …`
    Constant(Constant),
    /// `fn …`
    Function(Function),
    /// `material …`
    Material(Material),
    /// `component …`
    Component(Component),
    /// `outline …`
    Outline(OutlineDecl),
    /// `finish …`
    Finish(FinishDecl),
    /// `require …`
    Require(Require),
    /// `panel …`
    Panel(Panel),
    /// `attach …`
    Attach(Attach),
    /// `seam …`
    Seam(Seam),
    /// `apply …`
    Apply(Apply),
    /// `quilt …`
    Quilt(Quilt),
    /// `step …`
    Step(Step),
    /// `accept …`
    Accept(Accept),
    /// `thread …`
    Thread(Expr),
    /// `when … { … }`
    When(When<DesignItem>),
}

/// `param stature = 176 cm from 150 cm to 205 cm "standing height"`
#[derive(Debug, Clone, PartialEq)]
pub struct Param {
    /// Its name.
    pub name: Name,
    /// Its value unless a size or the command line sets another.
    pub default: Expr,
    /// What it may be.
    pub limits: Limits,
    /// Its doc line.
    pub doc: Option<TextLiteral>,
    /// The whole line.
    pub span: Span,
}

/// What a parameter may be.
#[derive(Debug, Clone, PartialEq)]
pub enum Limits {
    /// Anything of the default's kind.
    Free,
    /// `from a to b`, both included.
    Range {
        /// The least.
        from: Expr,
        /// The greatest.
        to: Expr,
    },
    /// `one of a, b, c`; bare words here are declared as choices.
    OneOf(Vec<Expr>),
}

/// `size tall "Tall" { stature = 192 cm }`
#[derive(Debug, Clone, PartialEq)]
pub struct Size {
    /// Its name.
    pub name: Name,
    /// Its title.
    pub title: Option<TextLiteral>,
    /// The parameters it sets.
    pub settings: Vec<Setting>,
    /// The whole construct.
    pub span: Span,
}

/// `name = value`, in sizes and materials.
#[derive(Debug, Clone, PartialEq)]
pub struct Setting {
    /// What is set.
    pub name: Name,
    /// To what.
    pub value: Expr,
}

/// `let long = stature + 8 cm`
#[derive(Debug, Clone, PartialEq)]
pub struct Constant {
    /// Its name.
    pub name: Name,
    /// Its value.
    pub value: Expr,
    /// Its doc line.
    pub doc: Option<TextLiteral>,
    /// The whole line.
    pub span: Span,
}

/// `fn around(d: length) = pi * d`
#[derive(Debug, Clone, PartialEq)]
pub struct Function {
    /// Its name.
    pub name: Name,
    /// Its parameters.
    pub parameters: Vec<Parameter>,
    /// Its value.
    pub body: Expr,
    /// Its doc line.
    pub doc: Option<TextLiteral>,
    /// The whole line.
    pub span: Span,
}

/// A parameter of a function, outline, component or finish.
#[derive(Debug, Clone, PartialEq)]
pub struct Parameter {
    /// Its name.
    pub name: Name,
    /// Its kind, if stated (`length`, `cord`, …).
    pub kind: Option<Name>,
    /// Its default.
    pub default: Option<Expr>,
    /// What it is for.
    pub doc: Option<TextLiteral>,
}

/// `material light_nylon is cloth "…" { mass = 36 g/m2 }`
#[derive(Debug, Clone, PartialEq)]
pub struct Material {
    /// Its name.
    pub name: Name,
    /// `cloth`, `batting`, `ribbon`, …
    pub kind: Name,
    /// What it is called in lists.
    pub title: Option<TextLiteral>,
    /// Its figures.
    pub settings: Vec<Setting>,
    /// The whole construct.
    pub span: Span,
}

/// `require long <= 240 cm else "longer than the table"`
#[derive(Debug, Clone, PartialEq)]
pub struct Require {
    /// What must hold.
    pub condition: Expr,
    /// What to say when it does not.
    pub message: TextLiteral,
    /// The whole line.
    pub span: Span,
}

/// `accept unused-material because "spare for repairs"`
#[derive(Debug, Clone, PartialEq)]
pub struct Accept {
    /// The diagnostic's code.
    pub code: Name,
    /// Why it is accepted.
    pub because: TextLiteral,
    /// The whole line.
    pub span: Span,
}
