//! What can be wrong with splits and folds.

use super::{InPanel, also, list, mm};
use crate::diagnostic::{Diagnostic, nearest};
use crate::geometry::{NoChord, Point};
use crate::source::Span;

/// A panel that can't be cut in parts, or laid open.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum PartError {
    /// A split line that does not run across once; `of` where it cuts a piece of another split.
    NotAcross { split: String, of: Option<String>, why: NoChord, span: Span },
    /// A split that cuts an edge twice, so that a piece has two of that name.
    EdgeSplitTwice { edge: String, split: String, span: Span, edge_span: Span },
    /// A split of a piece that is not there.
    NoSuchPart { part: String, known: Vec<String>, span: Span },
    /// A piece of a half that does not reach the fold.
    SplitOnFold { piece: String, span: Span, fold_span: Span },
    /// An edge of a half that is called as the image of another, or as if it were one.
    NamedOpposite { edge: String, of: String, span: Span, fold_span: Span },
    /// No edge of that name to lie on the fold.
    NoFoldEdge { edge: String, known: Vec<String>, span: Span },
    /// An edge on the fold that bends.
    FoldNotStraight { edge: String, stray: f64, span: Span, edge_span: Span },
    /// A half that reaches past the fold.
    OverFold { edge: String, fold: String, past: f64, span: Span, edge_span: Span },
}

impl From<InPanel<'_, PartError>> for Diagnostic {
    fn from(of: InPanel<'_, PartError>) -> Self {
        let panel = of.panel;
        match of.error {
            PartError::NotAcross { split, of, why, span } => not_across(&split, &of.unwrap_or_else(|| panel.to_owned()), why, span),
            PartError::EdgeSplitTwice { edge, split, span, edge_span } => Self::error(
                "edge-split-twice",
                format!("the split `{split}` cuts `{panel}.{edge}` at two places: one piece would have two edges called `{edge}`"),
                span,
                "this line",
            )
            .and(edge_span, "this edge")
            .help("Draw that edge as two edges with names of their own, which meet between the two cuts."),
            PartError::NoSuchPart { part, known, span } => {
                let d = Self::error("no-such-part", format!("`{panel}` has no piece `{part}` that could be split again"), span, "");
                match known.is_empty() {
                    true => d,
                    false => d.help(format!("Its pieces are {}.", list(&known))),
                }
            }
            PartError::SplitOnFold { piece, span, fold_span } => Self::error(
                "split-on-fold",
                format!("the piece `{piece}` of `{panel}` does not reach the fold: there would be two of it"),
                span,
                "off the fold",
            )
            .and(fold_span, "placed on the fold here")
            .help(
                "Split across the fold, so that each piece has a part of it. For a split beside the fold draw the whole, and split it on \
                 both sides, or cut the half as a mirrored pair.",
            ),
            PartError::NamedOpposite { edge, of, span, fold_span } => {
                let headline =
                    format!("an edge of a half can't be called `{edge}`: so is the image of `{of}` across the fold of `{panel}`");
                let d = Self::error("edge-named-twice", headline, span, "drawn here");
                also(d, fold_span, "placed on the fold").help(format!("Give it another name in this panel: `rename {edge} to {of}_2`."))
            }
            PartError::NoFoldEdge { edge, known, span } => {
                let likely = nearest(&edge, known.iter().map(String::as_str)).map(str::to_owned);
                let d = Self::error("edge-not-here", format!("`{panel}` has no edge `{edge}`"), span, "");
                match likely {
                    Some(near) => d.help(format!("Did you mean `{near}`?")).edit(span, near),
                    // The image of an edge: the outline of a panel on the fold, laid open.
                    None if known.iter().any(|k| k.ends_with("_opposite")) => d.help(
                        "`shape as` takes over the whole outline of a panel that is cut on the fold, laid open: leave `place … on fold` \
                         out of this panel.",
                    ),
                    None => d.help(format!("Its edges are {}.", list(&known))),
                }
            }
            PartError::FoldNotStraight { edge, stray, span, edge_span } => Self::error(
                "fold-not-straight",
                format!("`{panel}.{edge}` bends by {}, and a fold is straight", mm(stray)),
                span,
                "on the fold",
            )
            .and(edge_span, "drawn here")
            .help("Draw it as one straight line, and leave tapers off it. A piece that bends in its middle has a seam there."),
            PartError::OverFold { edge, fold, past, span, edge_span } => Self::error(
                "half-over-fold",
                format!("`{panel}.{edge}` reaches {} past the fold along `{fold}`", mm(past)),
                span,
                "the fold",
            )
            .and(edge_span, "drawn past it")
            .help("Only one half is drawn: all of it must lie on one side of the fold."),
        }
    }
}

fn not_across(split: &str, piece: &str, why: NoChord, span: Span) -> Diagnostic {
    let at = |p: &Point| format!("({}, {})", mm(p.x), mm(p.y));
    let (headline, help) = match why {
        NoChord::Misses => (
            format!("the split `{split}` does not run across `{piece}`"),
            "Draw it from one side of the outline to another; its ends may lie on the outline or past it.",
        ),
        NoChord::EndsInside(p) => (
            format!("the split `{split}` ends inside `{piece}`, at {}", at(&p)),
            "A split goes all the way across: run it on to the outline, or past it.",
        ),
        NoChord::Several(places) => {
            let places: Vec<String> = places.iter().map(at).collect();
            (
                format!(
                    "the split `{split}` crosses or touches the outline of `{piece}` at {} places: {}",
                    places.len(),
                    places.join(", ")
                ),
                "One split makes two pieces: end its line in the open between two of these places, and split again for the rest.",
            )
        }
    };
    Diagnostic::error("split-not-across", headline, span, "").help(help)
}
