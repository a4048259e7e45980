//! Cutters: machines that cut, and what is cut with which.

use super::{Expr, Name, Setting, TextLiteral};
use crate::source::Span;

/// `cutter bench_laser is laser "Laser on the bench" { bed_length = 900 mm … }`
#[derive(Debug, Clone, PartialEq)]
pub struct Cutter {
    /// Its name, which its files are named after.
    pub name: Name,
    /// `laser`, `knife`, `blade` or `pen`.
    pub kind: Name,
    /// What people call it.
    pub title: Option<TextLiteral>,
    /// Its figures, in the order written.
    pub settings: Vec<Setting>,
    /// What it does, in the order it does it.
    pub passes: Vec<Pass>,
    /// The whole construct.
    pub span: Span,
}

/// One thing said of a cutter.
#[derive(Debug, Clone, PartialEq)]
pub enum CutterItem {
    /// `kerf = 0.2 mm`
    Setting(Setting),
    /// `cut outlines on layer "OUTER" colour 1`
    Pass(Pass),
}

/// `draw marks, folds on layer "PEN" colour 5`, or `cut …`
#[derive(Debug, Clone, PartialEq)]
pub struct Pass {
    /// Whether it goes through the cloth.
    pub cuts: bool,
    /// `outlines`, `holes`, `marks`, …
    pub lines: Vec<Name>,
    /// The layer they lie on.
    pub layer: TextLiteral,
    /// Its colour, by its number.
    pub colour: Option<Expr>,
    /// The whole line.
    pub span: Span,
}

/// `cut skin, lining with bench_laser`
#[derive(Debug, Clone, PartialEq)]
pub struct CutWith {
    /// What is cut.
    pub materials: Vec<Expr>,
    /// With which cutter.
    pub cutter: Name,
    /// The whole line.
    pub span: Span,
}
