//! What can be wrong with a drawing and with what is said of it: facts in named fields, worded below.

use crate::diagnostic::{Diagnostic, nearest};
use crate::quantity::{self, Length, UnitSystem, said_fine, said_length};
use crate::source::{LoadError, Span};

/// Every code of this stage.
pub const CODES: &[&str] = &[
    "drawing-missing",
    "drawing-outside",
    "drawing-unreadable",
    "drawing-part-missing",
    "drawing-without-outline",
    "drawing-with-several-outlines",
    "traced-open",
    "traced-crosses",
    "traced-names",
    "traced-end",
    "traced-scale",
];

/// More than this in a list is a wall, not a help.
const LISTED: usize = 12;

/// An outline that a drawing holds.
#[derive(Debug, Clone, PartialEq)]
pub struct Seen {
    /// What it goes by.
    pub(super) label: String,
    /// Width and height.
    pub(super) size: (String, String),
    /// The middle of the box round it.
    pub(super) centre: String,
}

/// An error of tracing. Places and measures are worded as the drawing's own program shows them.
#[derive(Debug, Clone, PartialEq)]
pub enum TraceError {
    /// No such file in the project folder; drawings that are there.
    Missing {
        /// The file.
        file: String,
        /// Drawings that are there.
        known: Vec<String>,
        /// Where it is named.
        span: Span,
    },
    /// A file outside the project folder.
    Outside {
        /// The file.
        file: String,
        /// Where it is named.
        span: Span,
    },
    /// A file that can't be read.
    Unreadable {
        /// The file.
        file: String,
        /// Why, to follow "can't be read:".
        reason: String,
        /// Where it is named.
        span: Span,
    },
    /// A file's name with a hole in it.
    Hole {
        /// Where.
        span: Span,
    },
    /// A part asked for that only the other kind of drawing has.
    OtherKind {
        /// What was asked for: `layer`.
        word: &'static str,
        /// What kind of drawing has it.
        kind: &'static str,
        /// The file.
        file: String,
        /// What may be asked for instead.
        instead: &'static str,
        /// Where it is asked for.
        span: Span,
    },
    /// A path, block or layer that is not there.
    NoSuch {
        /// `path`, `block` or `layer`.
        what: &'static str,
        /// The name asked for.
        name: String,
        /// The file.
        file: String,
        /// What there is.
        known: Vec<String>,
        /// Where it is asked for.
        span: Span,
    },
    /// A drawing all of whose lines stand in blocks.
    InBlocks {
        /// The file.
        file: String,
        /// The blocks.
        known: Vec<String>,
        /// Where it is named.
        span: Span,
    },
    /// No outline round the place given.
    NoneAround {
        /// The place.
        place: String,
        /// The file.
        file: String,
        /// Outlines that are there.
        seen: Vec<Seen>,
        /// Where the place is given.
        span: Span,
    },
    /// Nothing that could be an outline.
    Nothing {
        /// The file.
        file: String,
        /// What is there and is not read.
        passed_over: Vec<String>,
        /// Where it is named.
        span: Span,
    },
    /// More than one outline.
    Several {
        /// The file.
        file: String,
        /// The outlines.
        seen: Vec<Seen>,
        /// Whether paths are chosen by id, and not by layer.
        svg: bool,
        /// Whether that tells any of them apart.
        layers: bool,
        /// Where it is named.
        span: Span,
    },
    /// An outline with a gap.
    Open {
        /// The file.
        file: String,
        /// Where its line ends, and where it began.
        ends: Box<[String; 2]>,
        /// How far apart these are.
        gap: String,
        /// What is there besides and is not read.
        passed_over: Vec<String>,
        /// Where it is named.
        span: Span,
    },
    /// An outline that crosses or touches itself.
    Crosses {
        /// The file.
        file: String,
        /// Where.
        place: String,
        /// Where it is named.
        span: Span,
    },
    /// Lines that meet three at a place.
    Fork {
        /// The file.
        file: String,
        /// Where.
        place: String,
        /// Where it is named.
        span: Span,
    },
    /// More or fewer names than edges.
    Names {
        /// How many names.
        names: usize,
        /// Each corner, and how far it is to the next (mm).
        corners: Vec<(String, f64)>,
        /// What turns by more than this is a corner, degrees.
        turn: f64,
        /// Whether it has no corner at all.
        none: bool,
        /// Where the names are.
        span: Span,
    },
    /// A place in a drawing with a unit.
    PlaceWithUnit {
        /// The measure.
        span: Span,
    },
    /// An edge said to end at a place that is not on the outline.
    EndOff {
        /// The edge.
        edge: String,
        /// The place.
        place: String,
        /// The nearest on the outline.
        nearest: String,
        /// Where it is said.
        span: Span,
    },
    /// An edge that does not end where it is said to.
    EndsElsewhere {
        /// The edge.
        edge: String,
        /// The place given, and where it ends.
        ends: (String, String),
        /// Where it is said.
        span: Span,
    },
    /// An edge of another length than stated.
    Scale {
        /// The edge.
        edge: String,
        /// Its length as stated and as traced, mm.
        lengths: (f64, f64),
        /// What a unit would have to be worth, mm.
        unit: f64,
        /// That in words, and as one writes it.
        known: Option<(&'static str, &'static str)>,
        /// Whether the drawing itself says so too.
        says: bool,
        /// Where the length is stated, and the unit.
        spans: (Span, Span),
    },
}

impl TraceError {
    /// A file that the loader could not serve.
    #[must_use]
    pub fn of_load(error: LoadError, file: String, span: Span) -> Self {
        match error {
            LoadError::Missing { known } => Self::Missing { file, known, span },
            LoadError::Outside => Self::Outside { file, span },
            LoadError::Unreadable { reason } => Self::Unreadable { file, reason, span },
        }
    }
}

impl From<TraceError> for Diagnostic {
    fn from(error: TraceError) -> Self {
        match error {
            TraceError::Missing { .. } | TraceError::Outside { .. } | TraceError::Unreadable { .. } | TraceError::Hole { .. } => {
                file(error)
            }
            TraceError::OtherKind { .. } | TraceError::NoSuch { .. } | TraceError::InBlocks { .. } | TraceError::NoneAround { .. } => {
                part(error)
            }
            TraceError::PlaceWithUnit { .. }
            | TraceError::Names { .. }
            | TraceError::EndOff { .. }
            | TraceError::EndsElsewhere { .. }
            | TraceError::Scale { .. } => said(error),
            other => outline(other),
        }
    }
}

fn file(error: TraceError) -> Diagnostic {
    match error {
        TraceError::Missing { file, known, span } => {
            let d =
                Diagnostic::error("drawing-missing", format!("there is no drawing `{file}`"), span, "no such file in the project folder");
            match nearest(&file, known.iter().map(String::as_str)) {
                Some(near) => d.edit(span, format!("\"{near}\"")),
                None => d.help("A drawing is a file beside the design, or in a folder beside it: \"hood.svg\", \"drawings/hood.dxf\"."),
            }
        }
        TraceError::Outside { file, span } => {
            let headline = format!("`{file}` lies outside the project folder");
            Diagnostic::error("drawing-outside", headline, span, "only files in the project folder are read")
                .help("Copy the drawing into the project folder, so that the design stays complete when the folder is moved or shared.")
        }
        TraceError::Hole { span } => {
            Diagnostic::error("drawing-missing", "a drawing's name can't hold a figure in braces", span, "the same file in every size")
                .help("Name the file outright. Where sizes have drawings of their own, put each `shape` under a `when`.")
        }
        TraceError::Unreadable { file, reason, span } => {
            Diagnostic::error("drawing-unreadable", format!("`{file}` can't be read: {reason}"), span, "asked for here")
                .help("An outline is read from an SVG drawing, or from a DXF drawing in text form.")
        }
        other => outline(other),
    }
}

fn part(error: TraceError) -> Diagnostic {
    match error {
        TraceError::OtherKind { word, kind, file, instead, span } => {
            let headline = format!("only {kind} drawings have a `{word}`, and `{file}` is none");
            Diagnostic::error("drawing-part-missing", headline, span, "").help(format!("Say `{instead}` instead, or `around (x, y)`."))
        }
        TraceError::NoSuch { what, name, file, known, span } => {
            let d = Diagnostic::error("drawing-part-missing", format!("`{file}` has no {what} `{name}`"), span, "not there");
            match nearest(&name, known.iter().map(String::as_str)) {
                Some(near) => d.edit(span, format!("\"{near}\"")),
                None if known.is_empty() => d.help(format!("Nothing in it goes by a {what}.")),
                None => d.help(format!("It has {}.", listed(known.iter().map(|k| format!("\"{k}\""))))),
            }
        }
        TraceError::InBlocks { file, known, span } => {
            Diagnostic::error("drawing-part-missing", format!("all lines of `{file}` stand in blocks"), span, "which block?")
                .help(format!("Say which: `block \"…\"`. It has {}.", listed(known.iter().map(|k| format!("\"{k}\"")))))
        }
        TraceError::NoneAround { place, file, seen, span } => {
            Diagnostic::error("drawing-part-missing", format!("no outline of `{file}` runs round {place}"), span, "not inside any")
                .help(format!("It has {}.", listed(seen.iter().map(worded))))
        }
        other => outline(other),
    }
}

fn outline(error: TraceError) -> Diagnostic {
    match error {
        TraceError::Nothing { file, passed_over, span } => {
            let d = Diagnostic::error("drawing-without-outline", format!("`{file}` holds no outline"), span, "no closed line");
            if passed_over.is_empty() {
                return d.help("Draw the finished outline as one closed line.");
            }
            let there = listed(passed_over.iter().cloned());
            d.help(format!(
                "What stands there is not read: {there}. In the drawing program show what is hidden, and turn the rest into paths or polylines."
            ))
        }
        TraceError::Several { file, seen, svg, layers, span } => {
            let headline = format!("`{file}` holds {} outlines", seen.len());
            let choice = match (svg, layers) {
                (true, true) => "`path \"…\"` with its id, or `around (x, y)` with a place inside it",
                (false, true) => "`layer \"…\"`, or `around (x, y)` with a place inside it",
                (_, false) => "`around (x, y)` with a place inside it",
            };
            Diagnostic::error("drawing-with-several-outlines", headline, span, "which of them?")
                .help(format!("Say which: {choice}. There are {}.", listed(seen.iter().map(worded))))
        }
        TraceError::Open { file, ends, gap, passed_over, span } => {
            let [from, to] = *ends;
            let headline = format!("the outline in `{file}` is not closed: a gap of {gap} units between {from} and {to}");
            let d = Diagnostic::error("traced-open", headline, span, "");
            if !passed_over.is_empty() {
                return d.help(format!(
                    "What may close it is not read: {}. In the drawing program show what is hidden, break blocks up, and turn curves into \
                     polylines or into straights and arcs; then save it again.",
                    listed(passed_over.iter().cloned())
                ));
            }
            d.help("Close it in the drawing: join the two ends, then save it again. Places are given as the drawing program shows them.")
        }
        TraceError::Fork { file, place, span } => {
            let headline = format!("three lines of `{file}` meet at {place}: which of them the outline follows can't be told");
            Diagnostic::error("traced-crosses", headline, span, "")
                .help("Leave one closed line on the layer, and put what is drawn inside it on another.")
        }
        TraceError::Crosses { file, place, span } => {
            let headline = format!("the outline in `{file}` crosses or touches itself at {place}");
            Diagnostic::error("traced-crosses", headline, span, "")
                .help("An outline runs once round its piece. Look there for a loop, a doubled line or a spike.")
        }
        other => Diagnostic::error("drawing-unreadable", "this drawing can't be read", span_of(&other), ""),
    }
}

fn said(error: TraceError) -> Diagnostic {
    match error {
        TraceError::Names { names, corners, turn, none, span } => names_differ(names, &corners, turn, none, span),
        TraceError::PlaceWithUnit { span } => {
            Diagnostic::error("traced-end", "a place in a drawing is two bare numbers, in the drawing's own units", span, "has a unit")
                .help("Take the units out, and write the numbers that the drawing program shows: `(120, 80)`.")
        }
        TraceError::EndOff { edge, place, nearest, span } => {
            let headline = format!("`{edge}` can't end at {place}: the outline does not run there");
            Diagnostic::error("traced-end", headline, span, "off the outline")
                .help(format!("The nearest place on it is {nearest}. Places are those of the drawing, in its own units."))
        }
        TraceError::EndsElsewhere { edge, ends: (said, found), span } => {
            let headline = format!("`{edge}` ends at {found}, and is said to end at {said}");
            Diagnostic::error("traced-end", headline, span, "the end of another edge").help(
                "Edges are named counter-clockwise from the lowest corner on the left; every corner ends one. Put the place behind the \
                 edge that ends there.",
            )
        }
        TraceError::Scale { edge, lengths, unit, known, says, spans } => {
            let (said, found) = (mm(lengths.0), mm(lengths.1));
            let headline = format!("`{edge}` is {said} as stated, and {found} as traced");
            let d = Diagnostic::error("traced-scale", headline, spans.0, "as measured").and(spans.1, "the unit that it was traced with");
            let factor = lengths.0 / lengths.1;
            let own = if says { " The drawing itself says so too." } else { "" };
            match known {
                Some((words, written)) => d
                    .help(format!("A unit would have to be {} times what is stated: is it drawn {words}?{own}", plain(factor)))
                    .edit(spans.1, written.to_owned()),
                None => {
                    let unit = quantity::said(|style| match style.system {
                        UnitSystem::Metric => format!("{} mm", plain(unit)),
                        UnitSystem::Inch => format!("{} in", plain(unit / 25.4)),
                    });
                    d.help(format!("A unit would have to be {unit}, {} times what is stated, if the length is right.{own}", plain(factor)))
                }
            }
        }
        other => outline(other),
    }
}

fn names_differ(names: usize, corners: &[(String, f64)], turn: f64, none: bool, span: Span) -> Diagnostic {
    let turn = plain(turn);
    let count = |n: usize, what: &str| if n == 1 { format!("1 {what}") } else { format!("{n} {what}s") };
    let (edges, named) =
        (count(corners.len(), "edge"), format!("{} {} given", count(names, "name"), if names == 1 { "is" } else { "are" }));
    if none {
        let headline = format!("the outline turns nowhere by more than {turn} degrees, so it is one edge, and {named}");
        return Diagnostic::error("traced-names", headline, span, "")
            .help("Say where the others end, with places of the drawing: `edges foot to (120, 80), head to (0, 80)`.");
    }
    let from = |i: usize, (place, length): &(String, f64)| match i {
        0 => format!("from {place} {}", mm(*length)),
        _ => format!("to {place}, {}", mm(*length)),
    };
    let mut way: Vec<String> = corners.iter().take(LISTED).enumerate().map(|(i, c)| from(i, c)).collect();
    way.push(match corners.len().saturating_sub(LISTED) {
        0 => "back to the first".to_owned(),
        more => format!("and so on over {more} more"),
    });
    Diagnostic::error("traced-names", format!("the outline has {edges}, and {named}"), span, "").help(format!(
        "Its corners turn by more than {turn} degrees. Counter-clockwise, in places of the drawing: {}. Where an edge ends without a \
         corner, say so: `edges foot to (120, 80), …`; with fewer corners meant, `corners over 45 deg`.",
        way.join(" ")
    ))
}

fn worded(seen: &Seen) -> String {
    let (width, height) = &seen.size;
    let at = format!("{width} by {height} with its middle at {}", seen.centre);
    if seen.label.is_empty() { at } else { format!("\"{}\", {at}", seen.label) }
}

/// `a; b and 3 more`
fn listed(all: impl Iterator<Item = String>) -> String {
    let all: Vec<String> = all.collect();
    let first = all.iter().take(LISTED).cloned().collect::<Vec<_>>().join("; ");
    match all.len().saturating_sub(LISTED) {
        0 => first,
        more => format!("{first}; and {more} more"),
    }
}

fn mm(length: f64) -> String {
    if length < 1.0 { said_fine(Length::mm(length)) } else { said_length(Length::mm(length)) }
}

/// A number to four figures.
fn plain(value: f64) -> String {
    let decimals = if value >= 100.0 {
        1
    } else if value >= 1.0 {
        3
    } else {
        5
    };
    let mut text = String::new();
    crate::quantity::push_decimal(&mut text, value, decimals);
    text
}

fn span_of(error: &TraceError) -> Span {
    match error {
        TraceError::Missing { span, .. } | TraceError::Unreadable { span, .. } | TraceError::Nothing { span, .. } => *span,
        _ => Span::default(),
    }
}
