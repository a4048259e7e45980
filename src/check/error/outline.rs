//! What goes wrong with outlines, and with places on their edges.

use crate::diagnostic::Diagnostic;
use crate::quantity::said_example;
use crate::source::Span;

/// With outlines.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::check) enum OutlineError {
    /// It does not say where it starts.
    NoStart { span: Span },
    /// It has no edges.
    NoEdges { span: Span },
    /// Its last edge does not lead back.
    Open { edge: String, span: Span, target: Option<Span> },
    /// It is back at its start before its last stroke.
    ClosedEarly { edge: String, span: Span, next: Span },
    /// Its first stroke is to run on smoothly, and none comes before it.
    NothingBefore { edge: String, span: Span },
}

/// With places.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::check) enum PlaceError {
    /// A distance that does not say from which end.
    NoEnd { span: Span, ends: Vec<String> },
    /// A panel where an edge of it is wanted.
    EdgeMissing { panel: String, span: Span, edges: Vec<String> },
    /// An edge where the panel is wanted.
    EdgeNotNeeded { panel: String, span: Span, what: &'static str },
    /// Corners without their names.
    Corners { span: Span, corners: Vec<String> },
    /// More names than an edge can have.
    PathTooLong { span: Span },
}

impl From<OutlineError> for Diagnostic {
    fn from(error: OutlineError) -> Self {
        match error {
            OutlineError::NoStart { span } => {
                Self::error("outline-without-start", "this outline does not say where it starts", span, "no `start` here")
                    .help(said_example("begin with a point: `start (0 mm, 0 mm)`"))
            }
            OutlineError::NoEdges { span } => Self::error("outline-without-edges", "this outline has no edges", span, "no `edge` here")
                .help(said_example("draw them one after the other: `edge foot line to (60 cm, 0 mm)`")),
            OutlineError::Open { edge, span, target } => {
                let headline = format!("the last edge, `{edge}`, does not lead back to the start");
                let error = Self::error("outline-open", headline, span, "the outline stays open here")
                    .help("let it end in `to start`, which closes the outline whatever the figures");
                match target {
                    Some(target) => error.edit(target, "start"),
                    None => error,
                }
            }
            OutlineError::ClosedEarly { edge, span, next } => {
                let headline = format!("edge `{edge}` goes back to the start, and more follows");
                Self::error("outline-closed-early", headline, span, "closed here")
                    .and(next, "this comes after it")
                    .help("only the last stroke of the last edge ends in `to start`")
            }
            OutlineError::NothingBefore { edge, span } => {
                let headline = format!("edge `{edge}` is drawn first, and has no stroke before it to run on from");
                Self::error("smooth-without-stroke", headline, span, "smooth with what?").help(
                    "give this stroke its own bend, `arc to … rise …` or `curve to … by …, …`, or start the outline at another corner",
                )
            }
        }
    }
}

impl From<PlaceError> for Diagnostic {
    fn from(error: PlaceError) -> Self {
        match error {
            PlaceError::NoEnd { span, ends } => {
                let example = ends.first().map_or("head", String::as_str);
                Self::error("place-without-end", "this distance does not say from which end of the edge", span, "from where?")
                    .help(format!("name the edge that meets this one there: `from {example}`"))
            }
            PlaceError::EdgeMissing { panel, span, edges } => {
                let error = Self::error("edge-missing", format!("which edge of `{panel}`?"), span, "a piece, and an edge is wanted");
                if edges.is_empty() {
                    return error;
                }
                let all: Vec<_> = edges.iter().map(|e| format!("{panel}.{e}")).collect();
                error.help(format!("it can be {}", super::one_of(&all)))
            }
            PlaceError::EdgeNotNeeded { panel, span, what } => {
                let headline = format!("a place given by {what} lies on the piece, not on one of its edges");
                Self::error("edge-not-needed", headline, span, "an edge")
                    .help(format!("name the piece alone: `on {panel}`"))
                    .edit(span, panel)
            }
            PlaceError::Corners { span, corners } => {
                Self::error("unknown-name", "corners are named, each by the two edges that meet there", span, "which corners?")
                    .help(format!("name them: `at corner {}`", corners.join(", ")))
                    .edit(span, format!("corner {}", corners.join(", ")))
            }
            PlaceError::PathTooLong { span } => {
                Self::error("unknown-part", "there is nothing inside a part of an edge", span, "too many names")
                    .help("an edge is named `piece.edge`, a part of it `piece.edge.tapered`")
            }
        }
    }
}
