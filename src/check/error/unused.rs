//! What is declared and never used.

use crate::diagnostic::Diagnostic;
use crate::source::Span;

/// Declared and never used.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::check) struct Unused {
    /// Its name.
    pub name: String,
    /// What it is.
    pub is: UnusedThing,
    /// Where.
    pub span: Span,
}

/// Things that are declared to be used.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::check) enum UnusedThing {
    /// A parameter, of a design or of something called.
    Parameter,
    /// A `let`.
    Let,
    /// A `let` or a declaration of material.
    Material,
    /// A function.
    Function,
    /// A component.
    Component,
    /// An outline.
    Outline,
    /// A finish.
    Finish,
    /// A cutter.
    Cutter,
}

impl From<Unused> for Diagnostic {
    fn from(unused: Unused) -> Self {
        let (code, what, help) = match unused.is {
            UnusedThing::Parameter => {
                ("unused-parameter", "parameter ", "whoever changes it will wonder why nothing happens: use it, or take it out")
            }
            UnusedThing::Let => ("unused-let", "", "use it, or take it out"),
            UnusedThing::Material => {
                ("unused-material", "material ", "nothing is cut from it or set with it: it will not be on the list of what to buy")
            }
            UnusedThing::Function => ("unused-function", "function ", "use it, or take it out"),
            UnusedThing::Component => ("unused-component", "component ", "set it on an edge with `attach`, or take it out"),
            UnusedThing::Outline => ("unused-outline", "outline ", "cut a panel to it with `shape`, or take it out"),
            UnusedThing::Cutter => ("unused-cutter", "cutter ", "say what is cut with it, `cut skin with …`, or take it out"),
            UnusedThing::Finish => ("unused-finish", "finish ", "name it after `with`, or take it out"),
        };
        Self::warning(code, format!("{what}`{}` is never used", unused.name), unused.span, "not used").help(help)
    }
}
