//! Layers laid on each other, and what ends outside.

use super::listed;
use crate::diagnostic::Diagnostic;
use crate::quantity::said_example;
use crate::source::Span;

/// Something wrong with a stack.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::analysis::validity) enum StackError {
    /// One layer, or none.
    TooFew { seam: String, count: usize, at: Span },
    /// Sewn all round with something that must end outside shut in.
    NoOpening { seam: String, inside: String, at: Span, layer_at: Span },
    /// Closed by several seams, faces inside.
    SewnShut { seam: String, pieces: Vec<String>, edge: String, at: Span, inside_at: Option<Span> },
    /// The layers named are not neighbours.
    NotNeighbours { seam: String, first: String, second: String, between: Vec<String>, at: Span },
    /// The opening is on an edge that this seam leaves alone.
    NotSewn { seam: String, edge: String, at: Span, seam_at: Span },
    /// Batting ends outside.
    BattingOutside { seam: String, layer: String, instead: Option<[String; 2]>, at: Span, opening_at: Span },
    /// The back of a cloth ends outside.
    BackOutside { seam: String, layer: String, now: &'static str, turned: &'static str, at: Span, opening_at: Span },
}

impl From<StackError> for Diagnostic {
    fn from(error: StackError) -> Self {
        match error {
            StackError::TooFew { seam, count, at } => Self::error(
                "too-few-layers",
                format!("`{seam}` stacks {}", if count == 0 { "nothing" } else { "a single layer" }),
                at,
                "a stack needs two layers or more",
            )
            .help("Name every layer from the table up: `stack batt, outer face up, inner face down`."),
            StackError::NoOpening { seam, inside, at, layer_at } => Self::error(
                "no-opening",
                format!("`{seam}` is sewn all round with {inside}, and can't be turned"),
                at,
                "no opening is left",
            )
            .and(layer_at, "has to end on the other side")
            .help(said_example(
                "Leave an opening on a straight edge: `opening 25 cm of outer.right starting 40% from foot between outer and inner`. \
                 Or leave an edge out: `sew left, foot, right`.",
            )),
            StackError::SewnShut { seam, pieces, edge, at, inside_at } => {
                let headline =
                    format!("`{seam}` sews {} shut with the faces inside, and nothing is left to turn the work through", listed(&pieces));
                let found = Self::error("no-opening", headline, at, "closes the last open edge");
                let found = if let Some(inside) = inside_at { found.and(inside, "sewn with the faces inside") } else { found };
                found.help(format!(
                    "Leave an opening in this seam, on a straight edge, and say how it is closed: `opening {} of {edge} at middle` and \
                     `close with edgestitch()`. Or leave an edge out of the seam and hem it.",
                    said_example("12 cm")
                ))
            }
            StackError::NotNeighbours { seam, first, second, between, at } => Self::error(
                "opening-between-layers",
                if between.is_empty() {
                    format!("the opening of `{seam}` lies between `{first}` and `{second}`, which are one layer")
                } else {
                    format!("the opening of `{seam}` is between `{first}` and `{second}`, but {} lies between them", listed(&between))
                },
                at,
                "it can only lie between two layers next to each other",
            )
            .help(
                "What is next to the opening ends outside. Name the two layers whose touching sides you want outside, \
                 or lay the others below or above both.",
            ),
            StackError::NotSewn { seam, edge, at, seam_at } => Self::error(
                "opening-not-sewn",
                format!("the opening of `{seam}` is on `{edge}`, which that seam does not sew"),
                at,
                "nothing is sewn here that could be left open",
            )
            .and(seam_at, "this seam")
            .help("Put the opening on one of the edges it sews, or leave it out: an edge that is not sewn is open anyway."),
            StackError::BattingOutside { seam, layer, instead, at, opening_at } => {
                let help = match instead {
                    Some([a, b]) => format!("Let the opening lie `between {a} and {b}`."),
                    None => format!("Lay `{layer}` first or last in the stack, and the opening between the other two layers."),
                };
                Self::error(
                    "inside-out",
                    format!("once `{seam}` is turned, the batting `{layer}` ends outside"),
                    at,
                    "this layer lies next to the opening",
                )
                .and(opening_at, "turned through here: what is next to it ends outside")
                .help(help)
            }
            StackError::BackOutside { seam, layer, now, turned, at, opening_at } => Self::error(
                "inside-out",
                format!("once `{seam}` is turned, the back of `{layer}` ends outside"),
                at,
                format!("lies face {now}, away from where it is turned"),
            )
            .and(opening_at, "turned through here: what is next to it ends outside")
            .help(format!("Lay it the other way: `{layer} face {turned}`.")),
        }
    }
}
