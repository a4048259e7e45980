//! What can go wrong while things are put in their places.

use crate::diagnostic::{Diagnostic, nearest};
use crate::source::Span;
use crate::syntax::ast::Name;

/// Every code that only this part of the evaluator reports; a mistake that checking or drafting can also find goes by the same code.
pub const CODES: &[&str] = &[
    "place-past-edge",
    "stretch-past-edge",
    "stretch-of-nothing",
    "gap-too-wide",
    "pair-places-differ",
    "ratio-out-of-range",
    "applied-outside",
    "mark-outside",
];

/// An error of placing.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum TradeError {
    /// A panel where an edge is wanted.
    NeedsEdge { owner: String, edges: Vec<String>, span: Span },
    /// An edge, part or line that the piece does not have.
    NoSuchEdge { owner: String, name: Name, known: Vec<String> },
    /// A distance without the end it is measured from.
    WhichEnd { edge: String, ends: (String, String), span: Span },
    /// An end that is none of the edge's.
    NotAnEnd { edge: String, name: Name, ends: (String, String) },
    /// A place beyond the edge.
    PastEdge { edge: String, distance: String, length: String, span: Span },
    /// A stretch that runs past the end of its edge.
    StretchPast { edge: String, wanted: String, left: String, span: Span },
    /// A stretch of no length.
    NoStretch { span: Span },
    /// A point used on an edge, or a distance used on a panel's face.
    NeedsFace { span: Span },
    /// Two edges that do not meet on that panel.
    NoCorner { panel: String, first: String, second: String, span: Span },
    /// The halves of a pair have unlike numbers of places.
    PairPlaces { first: usize, second: usize, span: Span },
    /// A layer named that the stack does not hold.
    NotALayer { name: Name, layers: Vec<String> },
    /// An opening on a piece that is no layer.
    OpeningElsewhere { edge: String, span: Span },
    /// Quilting lines farther apart than the piece is wide.
    NoLines { every: String, across: String, span: Span },
    /// `spaced every` with a gap longer than its edge.
    GapTooWide { edge: String, gap: String, length: String, span: Span },
    /// A tie beyond the outline.
    TieOutside { span: Span },
    /// A piece applied beside the other.
    AppliedOutside { piece: String, onto: String, span: Span },
    /// A mark, or something set at a point, off the piece.
    MarkOutside { name: String, piece: String, span: Span },
    /// Ease below nothing, gathering below one.
    Ratio { what: &'static str, value: String, span: Span },
}

impl From<TradeError> for Diagnostic {
    fn from(error: TradeError) -> Self {
        match error {
            TradeError::NeedsEdge { owner, edges, span } => {
                Self::error("edge-missing", format!("this must say which edge of `{owner}` is meant"), span, "a whole piece")
                    .help(format!("Write one of {}.", dotted(&owner, &edges)))
            }
            TradeError::NoSuchEdge { owner, name, known } => no_such_edge(&owner, &name, &known),
            TradeError::NoCorner { panel, first, second, span } => {
                Self::error("corner-not-there", format!("`{first}` and `{second}` do not meet in a corner of `{panel}`"), span, "")
                    .help("A corner is named by the two edges that meet in it.")
            }
            TradeError::WhichEnd { edge, ends, span } => {
                Self::error("place-without-end", format!("a distance along `{edge}` must say from which end"), span, "from where?")
                    .help(format!("Add `from {}` or `from {}`.", ends.0, ends.1))
            }
            TradeError::NotAnEnd { edge, name, ends } => not_an_end(&edge, &name, &ends),
            TradeError::PastEdge { edge, distance, length, span } => {
                let headline = format!("{distance} along `{edge}` is past its end: it is {length} long");
                Self::error("place-past-edge", headline, span, "past the end")
            }
            TradeError::StretchPast { edge, wanted, left, span } => {
                let headline = format!("a stretch of {wanted} does not fit `{edge}`: from where it starts, {left} is left");
                Self::error("stretch-past-edge", headline, span, "runs past the end")
            }
            TradeError::NoStretch { span } => Self::error("stretch-of-nothing", "a stretch must have some length", span, ""),
            TradeError::NeedsFace { span } => {
                let headline = "a point (x, y) or a corner is a place on a panel, and a distance is a place on an edge";
                let help = "Write `at (x, y) on panel`, `at corner a-b on panel`, or `at 10 cm from end on panel.edge`.";
                Self::error("wrong-place", headline, span, "the two are mixed here").help(help)
            }
            TradeError::PairPlaces { first, second, span } => {
                let headline = format!("the first edge has {first} places and the second {second}: a pair needs as many on each");
                Self::error("pair-places-differ", headline, span, "").help("Give the places as distances, or take two edges of one length.")
            }
            TradeError::NotALayer { name, layers } => {
                Self::error("not-a-layer", format!("`{}` is no layer of this stack", name.text), name.span, "")
                    .help(format!("Its layers are {}.", layers.join(", ")))
            }
            TradeError::OpeningElsewhere { edge, span } => {
                Self::error("not-a-layer", format!("the opening is on `{edge}`, which is no layer of this stack"), span, "")
            }
            TradeError::NoLines { every, across, span } => {
                Self::error("gap-too-wide", format!("no line fits: they are {every} apart, and the piece is {across} across"), span, "")
            }
            TradeError::GapTooWide { edge, gap, length, span } => {
                Self::error("gap-too-wide", format!("a gap of {gap} fits nowhere on `{edge}`, which is {length} long"), span, "")
            }
            TradeError::TieOutside { span } => {
                Self::error("mark-outside", "this tie lies outside the first layer's outline", span, "outside")
            }
            TradeError::AppliedOutside { piece, onto, span } => Self::error(
                "applied-outside",
                format!("`{piece}` lies beside `{onto}` and not on it"),
                span,
                "laid here",
            )
            .help(
                "Its own start point (0, 0) is laid at the point given. Points are measured from where the outline below has its (0, 0).",
            ),
            TradeError::MarkOutside { name, piece, span } => {
                Self::error("mark-outside", format!("`{name}` lies off the piece `{piece}`"), span, "outside its cut line")
                    .help("Points are measured from where the outline has its (0, 0): x to the right, y towards the head.")
            }
            TradeError::Ratio { what, value, span } => Self::error("ratio-out-of-range", format!("{what}; this is {value}"), span, ""),
        }
    }
}

fn no_such_edge(owner: &str, name: &Name, known: &[String]) -> Diagnostic {
    let headline = format!("`{owner}` has no edge `{}`", name.text);
    let d = Diagnostic::error("edge-not-here", headline, name.span, "not one of its edges").help(format!("It has {}.", known.join(", ")));
    match nearest(&name.text, known.iter().map(String::as_str)) {
        Some(n) => d.edit(name.span, n),
        None => d,
    }
}

fn not_an_end(edge: &str, name: &Name, ends: &(String, String)) -> Diagnostic {
    let headline = format!("`{edge}` does not end at `{}`", name.text);
    let help = format!("Its ends are where it meets {} and {}.", ends.0, ends.1);
    let d = Diagnostic::error("unknown-edge-end", headline, name.span, "not one of its ends").help(help);
    match nearest(&name.text, [ends.0.as_str(), ends.1.as_str()]) {
        Some(n) => d.edit(name.span, n),
        None => d,
    }
}

fn dotted(owner: &str, edges: &[String]) -> String {
    edges.iter().map(|e| format!("`{owner}.{e}`")).collect::<Vec<_>>().join(", ")
}
