//! What can be wrong with the finished outline: its edges, tapers and corners.

use super::derived;
use super::{InPanel, also, at_least, at_most, list, mm, pair};
use crate::diagnostic::{Diagnostic, nearest};
use crate::eval::draft::ToolKind;
use crate::eval::draft::outline::Made;
use crate::source::Span;

/// An outline that can't be drawn.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum OutlineError {
    /// A size that is negative, nothing, or no number.
    UnusableSize { what: &'static str, size: f64, span: Span },
    /// Larger than any cloth.
    TooLarge { size: f64, limit: f64, span: Span },
    /// No edges, or an outline with nothing inside.
    Empty { span: Span },
    /// An edge that ends away from the next one's start.
    NotClosed { edge: String, next: String, gap: f64, span: Span },
    /// Two edges, or one, cross; `made` says what is to blame.
    Crosses { first: String, second: String, made: Made, first_span: Span, second_span: Span },
    /// Two edges that run back along each other from their corner.
    Needle { first: String, second: String, first_span: Span, second_span: Span },
    /// An edge without length.
    ZeroLength { edge: String, span: Span },
    /// Two edges of one name.
    NamedTwice { edge: String, first: Span, second: Span },
    /// No edge of that name.
    UnknownEdge { name: String, known: Vec<String>, span: Span },
    /// An end named by an edge that doesn't meet there.
    UnknownEnd { edge: String, named: String, ends: Vec<String>, span: Span, edge_span: Span },
    /// Both ends meet the edge named.
    UnclearEnd { edge: String, named: String, span: Span },
    /// A taper over more than there is.
    TaperTooLong { edge: String, length: f64, over: f64, span: Span },
    /// Two tapers that overlap on one edge.
    TapersMeet { edge: String, length: f64, over: (f64, f64), span: Span, other: Span },
    /// A taper where an edge bends.
    TaperOnCurve { edge: String, straight: f64, needed: f64, span: Span },
    /// Tapers that leave nothing of the edge between them.
    TaperCloses { edge: String, length: f64, taken: f64, span: Span },
    /// A corner moved by two tapers.
    MovedTwice { corner: (String, String), first: Span, second: Span },
    /// Edges that don't meet.
    NoCorner { first: String, second: String, neighbours: Vec<String>, span: Span },
    /// Two edges that run straight on, or meet at two corners.
    CornerUnclear { first: String, second: String, twice: bool, span: Span },
    /// A corner that takes more of an edge than there is.
    CornerTooLarge { edge: String, length: f64, needed: f64, largest: f64, span: Span },
    /// A corner on an edge that bends there.
    CornerOnCurve { edge: String, straight: f64, needed: f64, span: Span },
    /// A corner rounded, bevelled or boxed twice.
    TreatedTwice { corner: (String, String), first: Span, second: Span },
    /// A box asked for in a corner that turns inward.
    TurnsInward { corner: (String, String), span: Span },
    /// An edge moved past the middle of a bend.
    MovedPastBend { edge: String, by: f64, outward: bool, radius: f64, span: Span },
    /// An edge of which moving leaves nothing; the most that all may be moved, where all are moved alike.
    MovedAway { edge: String, most: Option<f64>, outward: bool, span: Span },
    /// Neighbours that, once moved, don't meet.
    MovedApart { first: String, second: String, span: Span },
    /// An outline laid on the panel's that crosses itself.
    ToolCrosses { tool: String, span: Span },
    /// Two outlines that make no single one.
    NotOne { tool: String, kind: ToolKind, found: NotOne, span: Span },
    /// An outline laid on the panel's that changes nothing.
    Idle { tool: String, kind: ToolKind, span: Span },
    /// A strip along an edge that has no ends.
    StripOfRing { edge: String, span: Span },
    /// A strip along an edge that runs on into others without a corner.
    StripRunsOn { of: String, edge: String, into: Vec<String>, span: Span },
    /// A strip wider than there is room for; which edge is in the way.
    StripTooWide { of: String, edge: String, wide: f64, at: Option<String>, span: Span },
}

/// What two outlines made in place of a single one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum NotOne {
    /// Nothing.
    Nothing,
    /// So many pieces.
    Pieces(usize),
    /// A piece with a hole in it.
    Hole,
    /// Nothing that could be told.
    Unclear,
}

impl From<InPanel<'_, OutlineError>> for Diagnostic {
    fn from(of: InPanel<'_, OutlineError>) -> Self {
        let panel = of.panel;
        match of.error {
            error @ (OutlineError::UnusableSize { .. }
            | OutlineError::TooLarge { .. }
            | OutlineError::Empty { .. }
            | OutlineError::NotClosed { .. }
            | OutlineError::Crosses { .. }
            | OutlineError::Needle { .. }
            | OutlineError::ZeroLength { .. }
            | OutlineError::NamedTwice { .. }) => shape(panel, error),
            error @ (OutlineError::UnknownEdge { .. } | OutlineError::UnknownEnd { .. } | OutlineError::UnclearEnd { .. }) => {
                name(panel, error)
            }
            error @ (OutlineError::TaperTooLong { .. }
            | OutlineError::TapersMeet { .. }
            | OutlineError::TaperOnCurve { .. }
            | OutlineError::TaperCloses { .. }
            | OutlineError::MovedTwice { .. }) => taper(panel, error),
            error @ (OutlineError::MovedPastBend { .. }
            | OutlineError::MovedAway { .. }
            | OutlineError::MovedApart { .. }
            | OutlineError::ToolCrosses { .. }
            | OutlineError::NotOne { .. }
            | OutlineError::Idle { .. }
            | OutlineError::StripOfRing { .. }
            | OutlineError::StripRunsOn { .. }
            | OutlineError::StripTooWide { .. }) => derived::worded(panel, error),
            error => corner(panel, error),
        }
    }
}

fn shape(panel: &str, error: OutlineError) -> Diagnostic {
    match error {
        OutlineError::UnusableSize { what, size, span } => {
            let value = if size.is_finite() { format!("is {}", mm(size)) } else { "has no value".to_owned() };
            Diagnostic::error("unusable-size", format!("{what} {value}: it must be more than nothing"), span, "")
                .help("Look which figures it is made of; in one of the sizes they may come out wrong. A `require` can say so earlier.")
        }
        OutlineError::TooLarge { size, limit, span } => {
            let headline = match size.is_finite() {
                true => format!("`{panel}` reaches {} across: nothing past {} can be cut", mm(size), mm(limit)),
                false => format!("`{panel}` has a measure without end: nothing past {} can be cut", mm(limit)),
            };
            Diagnostic::error("piece-too-large", headline, span, "").help("Look for a wrong unit: `m` for `mm`, or `in` for `cm`.")
        }
        OutlineError::NotClosed { edge, next, gap, span } => Diagnostic::error(
            // Evaluating looks first; outlines not made there are told in the same words.
            "outline-open",
            format!("`{panel}.{edge}` ends {} from where `{next}` begins", mm(gap)),
            span,
            "ends apart",
        )
        .help("Let each edge begin where the one before ends, and the last end at `start`."),
        OutlineError::Crosses { first, second, made, first_span, second_span } => {
            let headline = match first == second {
                true => format!("`{panel}.{first}` crosses or touches itself"),
                false => format!("`{panel}.{first}` and `{panel}.{second}` cross or touch away from a corner"),
            };
            let d = Diagnostic::error("outline-crosses-itself", headline, first_span, "");
            let d = also(d, second_span, "and this one");
            d.help(match made {
                Made::Drawn => {
                    "An outline runs once round its piece. Draw the points of its edges on paper in their order to see where it goes wrong."
                }
                Made::Moved => "Before its edges were moved the outline was sound: they are moved so far that they meet. Move them less.",
                Made::Combined => "What is added, kept or removed ends just where it touches: move it, or let it reach farther.",
                Made::Reshaped => {
                    "As drawn the outline is sound: the tapers and corners make it cross. Take less off, or over a shorter length."
                }
            })
        }
        OutlineError::Needle { first, second, first_span, second_span } => {
            let headline = format!("`{panel}.{first}` and `{panel}.{second}` run back along each other from their corner");
            let d = Diagnostic::error("outline-crosses-itself", headline, first_span, "");
            also(d, second_span, "and this one")
                .help("There is next to nothing to sew, or to cut, between them: a corner must open by 2 mm a metre at the very least.")
        }
        OutlineError::ZeroLength { edge, span } => {
            Diagnostic::error("zero-length-edge", format!("`{panel}.{edge}` has no length"), span, "ends where it begins")
                .help("Leave the edge out, or look which of its figures comes out as nothing in this size.")
        }
        OutlineError::NamedTwice { edge, first, second } => {
            Diagnostic::error("edge-named-twice", format!("`{panel}` has two edges named `{edge}`"), second, "named again here")
                .and(first, "the first one")
                .help("Each edge of a panel needs a name of its own; a treated corner is an edge named after both its edges.")
        }
        _ => {
            Diagnostic::error("outline-empty", format!("there is next to nothing inside the outline of `{panel}`"), error_span(&error), "")
                .help("A piece must be at least a square millimetre. Look for a wrong unit: `mm` for `cm` or `m`.")
        }
    }
}

fn error_span(error: &OutlineError) -> Span {
    if let OutlineError::Empty { span } = error { *span } else { Span::default() }
}

fn name(panel: &str, error: OutlineError) -> Diagnostic {
    match error {
        OutlineError::UnknownEdge { name, known, span } => {
            let d = Diagnostic::error("edge-not-here", format!("`{panel}` has no edge `{name}`"), span, "not one of its edges")
                .help(format!("In this size its edges are {}.", list(&known)));
            // A corner's edge is named in the order of the outline, and often asked for in the other.
            let turned = known.iter().find(|k| same_words(k, &name));
            match turned {
                Some(k) => d.edit(span, k.clone()),
                None => suggest(d, &name, &known, span),
            }
        }
        OutlineError::UnknownEnd { edge, named, ends, span, edge_span } => {
            let headline = format!("`{panel}.{edge}` does not meet `{named}`");
            let help = format!("An end is named by the edge it meets: `{edge}` runs between {}.", list(&ends));
            let d = Diagnostic::error("unknown-edge-end", headline, span, "not a neighbour").help(help);
            let d = also(d, edge_span, "of this edge");
            suggest(d, &named, &ends, span)
        }
        OutlineError::UnclearEnd { edge, named, span } => {
            let headline = format!("`{panel}.{edge}` meets `{named}` at both ends: `from {named}` may mean either");
            Diagnostic::error("unclear-edge-end", headline, span, "which end?")
                .help(format!("Draw `{named}` as two edges with names of their own, or measure from the middle."))
        }
        other => shape(panel, other),
    }
}

/// Whether two names are made of the same words.
fn same_words(one: &str, other: &str) -> bool {
    let words = |name: &str| {
        let mut words: Vec<String> = name.split('_').map(str::to_owned).collect();
        words.sort_unstable();
        words
    };
    words(one) == words(other)
}

fn suggest(diagnostic: Diagnostic, word: &str, known: &[String], span: Span) -> Diagnostic {
    match nearest(word, known.iter().map(String::as_str)) {
        Some(n) => diagnostic.edit(span, n),
        None => diagnostic,
    }
}

fn taper(panel: &str, error: OutlineError) -> Diagnostic {
    match error {
        OutlineError::TaperTooLong { edge, length, over, span } => {
            let (over, length) = pair(over, length);
            let headline = format!("a taper over {over} is longer than `{panel}.{edge}`, which is {length}");
            Diagnostic::error("taper-longer-than-edge", headline, span, "longer than its edge")
                .help(format!("Taper over {length} at most, or over a share of the edge: `over 40%`."))
        }
        OutlineError::TapersMeet { edge, length, over, span, other } => {
            let headline = format!(
                "the tapers at both ends of `{panel}.{edge}` take {} and {} of {}: they run into each other",
                mm(over.0),
                mm(over.1),
                mm(length)
            );
            Diagnostic::error("tapers-meet", headline, span, "this one").and(other, "and this one").help(format!(
                "Together they may take {}; shorten one of them by {}.",
                mm(length),
                at_least(over.0 + over.1 - length)
            ))
        }
        OutlineError::TaperOnCurve { edge, straight, needed, span } => {
            let headline = match straight > 0.0 {
                true => format!("`{panel}.{edge}` is straight for {} at this corner, and the taper needs {}", mm(straight), mm(needed)),
                false => format!("`{panel}.{edge}` bends at this corner: a taper needs it straight for {}", mm(needed)),
            };
            Diagnostic::error("taper-needs-straight-edge", headline, span, "").help(
                "Both edges at a tapered corner must be straight as far as the taper reaches. Draw the shape you want with `edge` instead.",
            )
        }
        OutlineError::TaperCloses { edge, length, taken, span } => {
            let (taken, length) = pair(taken, length);
            let headline = format!("the tapers take {taken} off `{panel}.{edge}`, which is only {length}");
            Diagnostic::error("taper-closes-edge", headline, span, "nothing is left of the edge between them")
                .help(format!("Let all tapers along `{edge}` together take less than {length}."))
        }
        OutlineError::MovedTwice { corner, first, second } => {
            let headline = format!("the corner of `{}` and `{}` on `{panel}` is moved by two tapers", corner.0, corner.1);
            Diagnostic::error("corner-moved-twice", headline, second, "moved again here")
                .and(first, "moved here")
                .help("A corner can be moved along one of its edges only: take one of the tapers out.")
        }
        other => shape(panel, other),
    }
}

fn corner(panel: &str, error: OutlineError) -> Diagnostic {
    match error {
        OutlineError::NoCorner { first, second, neighbours, span } => {
            let headline = format!("`{first}` and `{second}` of `{panel}` do not meet in a corner");
            Diagnostic::error("corner-not-there", headline, span, "no such corner").help(format!("`{first}` meets {}.", list(&neighbours)))
        }
        OutlineError::CornerUnclear { first, second, twice, span } => {
            let (headline, help) = match twice {
                true => (
                    format!("`{first}` and `{second}` of `{panel}` meet in two corners: which of them is meant can't be told"),
                    "Draw one of them as two edges with names of their own.",
                ),
                false => (
                    format!("`{first}` and `{second}` of `{panel}` run straight on into each other: there is no corner between them"),
                    "Take this line out.",
                ),
            };
            Diagnostic::error("corner-not-there", headline, span, "no such corner").help(help)
        }
        OutlineError::CornerTooLarge { edge, length, needed, largest, span } => {
            let (needed, length) = pair(needed, length);
            let headline = format!("the corners worked on `{panel}.{edge}` take {needed} of it, and it is {length} long");
            let d = Diagnostic::error("corner-too-large", headline, span, "too large for its edges");
            match largest > 0.0 {
                true => d.help(format!("At most {} fits here.", at_most(largest))),
                false => d.help(format!("The corners at both ends of `{edge}` share its length: make them smaller.")),
            }
        }
        OutlineError::CornerOnCurve { edge, straight, needed, span } => {
            let headline = match straight > 0.0 {
                true => format!("`{panel}.{edge}` is straight for {} at this corner, and {} is needed", mm(straight), mm(needed)),
                false => format!("`{panel}.{edge}` bends at this corner: it must be straight there for {}", mm(needed)),
            };
            Diagnostic::error("corner-needs-straight-edges", headline, span, "")
                .help("Only a corner of straight edges can be rounded, bevelled or boxed. Draw this one into the outline.")
        }
        OutlineError::TreatedTwice { corner, first, second } => {
            let headline = format!("the corner of `{}` and `{}` on `{panel}` is worked twice", corner.0, corner.1);
            Diagnostic::error("corner-treated-twice", headline, second, "again here")
                .and(first, "first here")
                .help("Take one of the two out.")
        }
        OutlineError::TurnsInward { corner, span } => {
            let headline =
                format!("the corner of `{}` and `{}` on `{panel}` turns inward: there is no cloth to box out", corner.0, corner.1);
            Diagnostic::error("corner-turns-inward", headline, span, "").help("A box is taken out of a corner that points outward.")
        }
        other => shape(panel, other),
    }
}
