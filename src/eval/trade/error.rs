//! What can go wrong while things are put in their places.
//!
//! A mistake that checking or drafting can also find goes by the same code, whoever finds it.

use crate::diagnostic::Diagnostic;
use crate::ir::SLIT;
use crate::quantity::{Length, said_apart, said_example, said_length, said_most};
use crate::source::Span;

/// Every code that only this part of the evaluator reports.
pub const CODES: &[&str] = &[
    "place-past-edge",
    "stretch-past-edge",
    "stretch-of-nothing",
    "gap-too-wide",
    "pair-places-differ",
    "ratio-out-of-range",
    "applied-outside",
    "mark-outside",
    "line-is-no-edge",
    "chain-apart",
    "edge-twice-in-chain",
];

/// An error of placing. Lengths are millimetres.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum TradeError {
    /// A panel where an edge is wanted.
    NeedsEdge { owner: String, edges: Vec<String>, span: Span },
    /// A part that an edge does not have in this case.
    NoPart { edge: String, part: String, known: Vec<String>, span: Span },
    /// A distance without the end it is measured from.
    WhichEnd { edge: String, ends: [String; 2], span: Span },
    /// A marked line where only an edge will do.
    LineNoEdge { line: String, why: &'static str, span: Span },
    /// A place beyond the edge.
    PastEdge { edge: String, distance: f64, from: String, length: f64, span: Span, edge_at: Span },
    /// A stretch that runs past the end of its edge.
    StretchPast { edge: String, long: f64, left: f64, span: Span, long_at: Span, edge_at: Span },
    /// A stretch of no length.
    NoStretch { long: f64, span: Span },
    /// The halves of a pair have unlike numbers of places.
    PairPlaces { edges: [String; 2], places: [usize; 2], span: Span },
    /// A layer named that the stack does not hold.
    NotALayer { name: String, layers: Vec<String>, span: Span },
    /// An opening on a piece that is no layer.
    OpeningElsewhere { edge: String, layers: Vec<String>, span: Span },
    /// A gap that fits nowhere.
    GapTooWide { what: &'static str, on: String, gap: f64, room: f64, span: Span },
    /// A piece applied beside the other.
    AppliedOutside { piece: String, onto: String, span: Span },
    /// A mark, a tie, or something set at a point, off the piece.
    MarkOutside { what: String, piece: String, size: [f64; 2], span: Span },
    /// Two edges of a chain that don't follow each other. `ends` are the corners at which the first may end, `there` what sewing
    /// brings to it, `fits` the edge of that which would go on, `slit` a seam that ends too far from there,
    /// `attached` whether something lies along them and they are not sewn.
    ChainApart {
        first: String,
        second: String,
        ends: Vec<String>,
        there: Vec<String>,
        fits: Option<String>,
        slit: Option<(String, Length)>,
        attached: bool,
        spans: [Span; 2],
    },
    /// The same stretch of an edge twice in one chain; `of_a_seam` or of one thing attached.
    ChainDoubles { edge: String, of_a_seam: bool, spans: [Span; 2] },
    /// Ease below nothing, gathering below one.
    Ratio { what: &'static str, least: &'static str, value: String, span: Span },
    /// A piece that an attachment does not bring in this case.
    NoPiece { attachment: String, piece: String, span: Span },
    /// A piece that an attachment brings in several forms.
    SeveralPieces { piece: String, forms: usize, span: Span },
    /// Attachments that sit on each other's pieces in a ring.
    Ring { names: Vec<String>, span: Span },
}

impl From<TradeError> for Diagnostic {
    fn from(error: TradeError) -> Self {
        match error {
            TradeError::PastEdge { .. }
            | TradeError::StretchPast { .. }
            | TradeError::NoStretch { .. }
            | TradeError::GapTooWide { .. }
            | TradeError::AppliedOutside { .. }
            | TradeError::MarkOutside { .. } => measure(error),
            TradeError::NeedsEdge { owner, edges, span } => {
                let d = Self::error("edge-missing", format!("this must say which edge of `{owner}` is meant"), span, "a whole piece");
                let all = edges.iter().map(|e| format!("`{owner}.{e}`")).collect::<Vec<_>>().join(", ");
                if edges.is_empty() { d } else { d.help(format!("Its edges are {all}.")) }
            }
            TradeError::NoPart { edge, part, known, span } => {
                let d = Self::error("unknown-part", format!("`{edge}` has no part `{part}` in this case"), span, "no such part");
                if known.is_empty() { d.help("It is not tapered here.") } else { d.help(format!("Its parts are {}.", quoted(&known))) }
            }
            TradeError::WhichEnd { edge, ends, span } => {
                let headline = format!("a distance along `{edge}` must say from which end");
                Self::error("place-without-end", headline, span, "from where?").help(format!("Add {}.", from_either(&ends)))
            }
            TradeError::LineNoEdge { line, why, span } => {
                Self::error("line-is-no-edge", format!("`{line}` is a marked line, {why}"), span, "not an edge")
                    .help("A marked line can be one side of a `join`, along its whole length. Everything else needs an edge.")
            }
            TradeError::PairPlaces { edges: [a, b], places: [first, second], span } => {
                let headline = format!("on `{a}` this makes {}, and on `{b}` {second}: every half needs another", places(first));
                Self::error("pair-places-differ", headline, span, "").help(said_example(
                    "The two edges differ in length. Give the places as distances, which both edges have: `at 10 cm, 40 cm from …`.",
                ))
            }
            TradeError::ChainApart { .. } => chain(error),
            TradeError::ChainDoubles { edge, of_a_seam, spans: [first, second] } => {
                let (what, once) = if of_a_seam { ("seam", "A seam runs over cloth") } else { ("row", "One thing lies along an edge") };
                let headline = format!("this {what} goes over `{edge}` and then over the same stretch again");
                Self::error("edge-twice-in-chain", headline, second, "again here").and(first, "here for the first time").help(format!(
                    "{once} once: take one of the two out. Two stretches of one edge, each with its own `over …`, may follow each \
                     other where they don't overlap."
                ))
            }
            TradeError::NotALayer { name, layers, span } => {
                Self::error("not-a-layer", format!("`{name}` is no layer of this stack"), span, "not in the stack")
                    .help(format!("Its layers are {}.", quoted(&layers)))
            }
            TradeError::OpeningElsewhere { edge, layers, span } => {
                Self::error("not-a-layer", format!("the opening is on `{edge}`, which is no layer of this stack"), span, "not in the stack")
                    .help(format!("Its layers are {}: name an edge of one of them.", quoted(&layers)))
            }
            TradeError::Ratio { what, least, value, span } => {
                Self::error("ratio-out-of-range", format!("{what} must be {least} or more, and this is {value}"), span, value)
            }
            TradeError::NoPiece { attachment, piece, span } => {
                let headline = format!("`{attachment}` brings no piece `{piece}` in this case");
                Self::error("not-in-this-case", headline, span, "not there")
                    .help("Its component brings the piece only under a `when` that does not hold here.")
            }
            TradeError::SeveralPieces { piece, forms, span } => {
                let headline = format!("`{piece}` is {forms} pieces that differ: say which of them is meant");
                Self::error("which-copy", headline, span, "which one?")
                    .help("Give each edge an `attach` line of its own, and point at its piece by that line's name.")
            }
            TradeError::Ring { names, span } => {
                let ring = names.iter().map(|n| format!("`{n}`")).collect::<Vec<_>>().join(" on a piece of ");
                Self::error("cycle", format!("these attachments sit on each other in a ring: {ring}"), span, "one of the ring")
                    .help("One of them must sit on a panel.")
            }
        }
    }
}

fn chain(error: TradeError) -> Diagnostic {
    let TradeError::ChainApart { first, second, ends, there, fits, slit, attached, spans: [at, second_at] } = error else {
        return Diagnostic::from(error);
    };
    let headline = format!("`{second}` does not go on where `{first}` ends");
    let found = Diagnostic::error("chain-apart", headline, second_at, "begins and ends elsewhere")
        .and(at, format!("ends at {}", ends.join(" or at ")));
    if let Some((seam, long)) = slit {
        let (long, most) = (said_length(long), said_most(Length::mm(SLIT)));
        let (what, apart) = if attached {
            ("one thing", "give each edge its own, with a comma in place of `then`")
        } else {
            ("a chain", "sew each edge in a seam of its own")
        };
        return found.help(format!(
            "The seam `{seam}` stops {long} short of that corner, and {what} runs on across a slit of {most} at most: sew `{seam}` further, \
             or {apart}."
        ));
    }
    let brought = if there.is_empty() {
        "No seam brings anything there.".to_owned()
    } else {
        format!("Sewing brings {} there.", there.join(" and "))
    };
    match fits {
        Some(edge) => found.help(format!("{brought} Did you mean `{edge}`?")).edit(second_at, edge),
        None if attached => found.help(format!(
            "{brought} One thing lies along edges that meet across a seam: name the edge that lies there, or give each edge its own, with \
             a comma in place of `then`."
        )),
        None => found.help(format!(
            "{brought} A chain runs on across a seam that is sewn before it: name the edge that lies there, state the seam that brings \
             `{second}` there, or give `{second}` a seam of its own."
        )),
    }
}

fn measure(error: TradeError) -> Diagnostic {
    match error {
        TradeError::PastEdge { edge, distance, from, length, span, edge_at } => {
            let (at, long) = pair(distance, length);
            let (headline, label) = if distance < 0.0 {
                (format!("a place {at} from {from} lies before the beginning of `{edge}`"), "less than nothing")
            } else {
                (format!("a place {at} from {from} lies past the other end of `{edge}`, which is {long} long"), "past the end")
            };
            also(Diagnostic::error("place-past-edge", headline, span, label), edge_at, "this edge")
                .help("Distances run along the finished edge. A share of it, as `at 40%`, keeps its place in every size.")
        }
        TradeError::StretchPast { edge, long, left, span, long_at, edge_at } => {
            let (long, room) = pair(long, left);
            let d = if left <= 0.0 {
                Diagnostic::error("stretch-past-edge", format!("this starts past the end of `{edge}`"), span, "nothing is left here")
            } else {
                let headline = format!("a stretch of {long} runs past the end of `{edge}`: where it starts, {room} is left");
                Diagnostic::error("stretch-past-edge", headline, span, "runs past the end")
            };
            let d = also(d, edge_at, "this edge");
            if left >= 1.0 { d.help("Make it shorter, or start it elsewhere.").edit(long_at, said_most(Length::mm(left))) } else { d }
        }
        TradeError::NoStretch { long, span } => {
            let headline =
                if long < 0.0 { format!("a stretch can't be {} long", words(long)) } else { "this stretch has no length".to_owned() };
            Diagnostic::error("stretch-of-nothing", headline, span, words(long))
                .help("If it is not there in some sizes, put the line under a `when`.")
        }
        TradeError::GapTooWide { what, on, gap, room, span } => {
            let (gap, room) = pair(gap, room);
            Diagnostic::error("gap-too-wide", format!("{what} {gap} apart fit nowhere on `{on}`, with {room} of room"), span, gap)
                .help("The first stands one gap from where it is measured, the last one must still lie before the other end.")
        }
        TradeError::AppliedOutside { piece, onto, span } => {
            Diagnostic::error("applied-outside", format!("`{piece}` lies beside `{onto}` and not on it"), span, "laid here").help(
                "Its own start point (0, 0) is laid at the point given. Points are measured from where the outline below has its (0, 0).",
            )
        }
        TradeError::MarkOutside { what, piece, size: [width, height], span } => {
            let (width, height) = (words(width), words(height));
            Diagnostic::error("mark-outside", format!("{what} lies off the piece `{piece}`"), span, "outside its cut line").help(format!(
                "`{piece}` is {width} wide and {height} high. Points are measured from where its outline has its (0, 0): x to the right, y towards the head."
            ))
        }
        other => Diagnostic::from(other),
    }
}

/// A length as a tape shows it.
pub(crate) fn words(mm: f64) -> String {
    said_length(Length::mm(mm))
}

/// Two lengths to be compared: finer where they would read the same.
fn pair(a: f64, b: f64) -> (String, String) {
    said_apart(Length::mm(a), Length::mm(b))
}

fn also(d: Diagnostic, span: Span, label: &str) -> Diagnostic {
    if d.labels.iter().any(|l| l.span == span) { d } else { d.and(span, label) }
}

fn from_either([a, b]: &[String; 2]) -> String {
    if a == b { format!("`from {a}`") } else { format!("`from {a}` or `from {b}`") }
}

fn places(n: usize) -> String {
    if n == 1 { "1 place".to_owned() } else { format!("{n} places") }
}

fn quoted(names: &[String]) -> String {
    names.iter().map(|n| format!("`{n}`")).collect::<Vec<_>>().join(", ")
}
