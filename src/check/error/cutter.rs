//! What goes wrong with cutters.

use super::{one_of, suggest};
use crate::diagnostic::Diagnostic;
use crate::source::Span;

/// With a cutter.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::check) enum CutterError {
    /// A sort of cutter that is none.
    Sort { sort: String, span: Span, nearest: Option<String>, known: Vec<&'static str> },
    /// A pen that is to cut.
    PenCuts { span: Span },
    /// A name that layers of a drawing can't have.
    LayerName { why: &'static str, span: Span },
    /// One layer for what is drawn and what is cut.
    LayerShared { layer: String, drawn: Span, cut: Span },
    /// Lines of one sort in two passes.
    LineTwice { line: String, first: Span, second: Span },
    /// Nothing follows the outlines.
    NoOutlines { cutter: String, act: &'static str, span: Span },
    /// Outlines cut before what lies inside them.
    OutlinesFirst { inner: String, outlines: Span, later: Span },
}

impl From<CutterError> for Diagnostic {
    fn from(error: CutterError) -> Self {
        match error {
            CutterError::Sort { sort, span, nearest, known } => {
                let headline = format!("`{sort}` is no kind of cutter");
                let error = Self::error("unknown-cutter-kind", headline, span, "not a kind of cutter");
                match nearest {
                    Some(_) => suggest(error, span, nearest.as_deref()),
                    None => error.help(format!("a cutter is {}", one_of(&known))),
                }
            }
            CutterError::PenCuts { span } => Self::error("pen-cuts", "a pen draws and cuts nothing", span, "`cut` with a pen")
                .help("write `draw`; what follows the lines with a blade is a `knife` or a `blade`"),
            CutterError::LayerName { why, span } => {
                Self::error("layer-name", format!("no layer can be called so: {why}"), span, "the name of the layer")
                    .help("take capital letters, digits, `-` and `_`, 31 at most: \"INNER\"")
            }
            CutterError::LayerShared { layer, drawn, cut } => {
                let headline = format!("layer {layer} holds lines to draw and lines to cut: the machine can't tell them apart");
                Self::error("layer-drawn-and-cut", headline, cut, "cut from here")
                    .and(drawn, "drawn here")
                    .help("give each a layer of its own")
            }
            CutterError::LineTwice { line, first, second } => {
                Self::error("line-done-twice", format!("`{line}` is done in two passes"), second, "again here")
                    .and(first, "first here")
                    .help("leave one of them out: what is cut twice is burnt or torn")
            }
            CutterError::NoOutlines { cutter, act, span } => {
                Self::error("outlines-not-done", format!("`{cutter}` leaves the outlines out"), span, "no `outlines` here")
                    .help(format!("say on which layer they lie: `{act} outlines on layer \"OUTER\" colour 1`"))
            }
            CutterError::OutlinesFirst { inner, outlines, later } => {
                let headline =
                    format!("the outlines are cut before the {inner}: a piece cut loose moves, and its {inner} miss their place");
                Self::warning("outlines-before-inner", headline, outlines, "cut first")
                    .and(later, "cut after it")
                    .help("put the outlines last")
            }
        }
    }
}
