//! Edges sewn together, and how long they are.

use super::{fine, tape};
use crate::diagnostic::Diagnostic;
use crate::quantity::Length;
use crate::source::Span;

/// One side of a seam.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::analysis::validity) struct Measured {
    /// Its edge or edges.
    pub(in crate::analysis::validity) name: String,
    /// Their length, sewn.
    pub(in crate::analysis::validity) length: Length,
    /// Where the first is named.
    pub(in crate::analysis::validity) at: Span,
}

/// Lengths that don't go together.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::analysis::validity) enum LengthError {
    /// Two sides of a join, and what ease would make up for it.
    Differ { seam: String, long: Measured, short: Measured, stated: Option<f64>, ease: f64, at: Span },
    /// More ease than cloth takes.
    EaseHigh { seam: String, ease: f64, extra: Length, at: Span },
    /// Gathering that comes to another ratio than stated.
    GatherDiffers { seam: String, long: Measured, short: Measured, stated: f64, ratio: f64, at: Span },
    /// Two layers of a stack.
    LayersDiffer { seam: String, long: Measured, short: Measured, at: Span },
    /// A layer without an edge that is to be sewn.
    LayerLacks { seam: String, edge: String, layer: String, at: Span, layer_at: Span },
    /// Notches that don't meet.
    NotchesDiffer {
        seam: String,
        first: String,
        second: String,
        places: (Length, Length),
        /// Where they meet and differ in form: the two forms.
        kinds: Option<(String, String)>,
        end: String,
        /// Whether they would meet if the edges lay as they are drawn.
        upside_down: bool,
        at: [Span; 2],
        seam_at: Span,
    },
}

/// What makes notches meet that don't.
fn how_to_meet(upside_down: bool) -> &'static str {
    match upside_down {
        true => {
            "So joined, one piece lies head to foot on the other: what lies over a left edge, face to face, is a right one. \
             Join it to the edge on the other side, or cut the pair `mirrored`."
        }
        false => "Set both at the same distance from the end at which the edges meet.",
    }
}

/// A ratio as a percentage that a maker would write, never below what is needed.
fn percent(ratio: f64) -> String {
    format!("{}%", (ratio * 1000.0).ceil() / 10.0)
}

impl From<LengthError> for Diagnostic {
    fn from(error: LengthError) -> Self {
        match error {
            LengthError::Differ { seam, long, short, stated, ease, at } => {
                let gap = Length::mm((long.length - short.length).as_mm());
                let headline = format!(
                    "the edges joined in `{seam}` differ by {}: {} is {}, {} is {}",
                    fine(gap),
                    long.name,
                    fine(long.length),
                    short.name,
                    fine(short.length)
                );
                let stated = stated.map(|e| format!("The ease stated, {}, is not enough. ", percent(e))).unwrap_or_default();
                let ways = if ease > 0.10 {
                    format!("say `gather {:.2}` to gather it", long.length.as_mm() / short.length.as_mm())
                } else {
                    format!("say `ease {}` in the seam", percent(ease))
                };
                Self::error("lengths-differ", headline, at, "these must be equally long")
                    .and(long.at, format!("{} long", fine(long.length)))
                    .and(short.at, format!("{} long", fine(short.length)))
                    .help(format!(
                        "{stated}Make {} {} shorter or {} as much longer; or, if the longer is meant to be eased in, {ways}.",
                        long.name,
                        fine(gap),
                        short.name
                    ))
            }
            LengthError::EaseHigh { seam, ease, extra, at } => {
                let help = if ease > 0.10 {
                    "So much is gathering: say `gather` with how many times longer the long edge is."
                } else {
                    "Up to 3% goes in with care; above that clip the shorter edge, spread the ease between notches, and baste first."
                };
                let headline = format!("`{seam}` eases {} into a shorter edge, {} of it", tape(extra), percent(ease));
                Self::warning("ease-high", headline, at, "more than cloth takes without puckers").help(help)
            }
            LengthError::GatherDiffers { seam, long, short, stated, ratio, at } => Self::error(
                "gather-differs",
                format!(
                    "`{seam}` is to gather {stated} to 1, but {} at {} to {} at {} is {ratio:.2} to 1",
                    long.name,
                    fine(long.length),
                    short.name,
                    fine(short.length)
                ),
                at,
                format!("the edges come to {ratio:.2}"),
            )
            .and(long.at, format!("{} long", fine(long.length)))
            .and(short.at, format!("{} long", fine(short.length)))
            .help(format!(
                "Say `gather {ratio:.2}`, or make {} {} long.",
                long.name,
                fine(Length::mm(short.length.as_mm() * stated.max(1.0)))
            )),
            LengthError::LayersDiffer { seam, long, short, at } => Self::error(
                "layers-differ",
                format!("layers of `{seam}` don't match: {} is {}, {} is {}", long.name, fine(long.length), short.name, fine(short.length)),
                at,
                "edges that lie on each other must be equally long",
            )
            .and(long.at, format!("{} long", fine(long.length)))
            .and(short.at, format!("{} long", fine(short.length)))
            .help("Draw one from the other, with `shape as`, or change the measure that sets them apart."),
            LengthError::LayerLacks { seam, edge, layer, at, layer_at } => Self::error(
                "layers-differ",
                format!("`{layer}` has no edge `{edge}`, which `{seam}` sews"),
                at,
                format!("sews along `{edge}`"),
            )
            .and(layer_at, "has other edges")
            .help("Rename its edges with `rename`, or name only edges that all layers have after `sew`."),
            LengthError::NotchesDiffer { seam, first, second, places: (place, _), kinds: Some((a, b)), end, at, seam_at, .. } => {
                Self::warning(
                    "notches-differ",
                    format!("notches that meet in `{seam}`, {} from {end}, differ: {a} on `{first}`, {b} on `{second}`", tape(place)),
                    at[0],
                    a,
                )
                .and(at[1], b)
                .and(seam_at, "sewn together here")
                .help("Cut both in one form, so that they are seen to belong together.")
            }
            LengthError::NotchesDiffer { seam, first, second, places: (a, b), kinds: None, end, upside_down, at, seam_at } => {
                Self::warning(
                    "notches-differ",
                    format!("notches don't meet in `{seam}`: {} from {end} on `{first}`, {} on `{second}`", tape(a), tape(b)),
                    at[0],
                    format!("{} from {end}", tape(a)),
                )
                .and(at[1], format!("{} from the same end", tape(b)))
                .and(seam_at, "sewn together here")
                .help(how_to_meet(upside_down))
            }
        }
    }
}
