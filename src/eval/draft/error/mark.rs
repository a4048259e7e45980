//! What can be wrong with what lies on a piece: darts, pleats, holes, notches.

use super::{InPanel, also, at_least, at_most, mm, pair};
use crate::diagnostic::Diagnostic;
use crate::eval::draft::cap::NoCap;
use crate::eval::draft::notch::{CLEAR, NARROWEST};
use crate::eval::draft::{NoNotch, Wanted};
use crate::source::Span;

/// Marks that have no place.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum MarkError {
    /// A dart or pleat whose legs lie past an end of its edge.
    TakePastEnd { kind: &'static str, edge: String, length: f64, from: f64, to: f64, span: Span },
    /// A dart whose point lies outside the piece or too near its far side.
    DartTooDeep { edge: String, deep: f64, room: f64, span: Span },
    /// A dart over which the allowance is cut straight.
    DartWithoutCap { edge: String, why: NoCap, span: Span },
    /// Two darts or pleats that take the same stretch.
    TakesOverlap { edge: String, span: Span, other: Span },
    /// A dart or pleat that a split runs through.
    TakeSplit { kind: &'static str, edge: String, span: Span },
    /// A dart or pleat in a split line.
    TakeOnSplit { kind: &'static str, split: String, span: Span, at: Span },
    /// A hole that lies outside.
    HoleOutside { hole: String, span: Span },
    /// A hole that crosses an edge, itself, or another hole.
    HoleCrosses { hole: String, what: String, span: Span },
    /// A notch past the end of its edge.
    NotchPastEnd { edge: String, length: f64, at: f64, span: Span },
    /// Notches that run into each other: each its edge, how far along it, and from which end; whether the second is a dart's
    /// or pleat's.
    NotchesOverlap { places: Box<[(String, f64, String); 2]>, of_fold: bool, spans: [Span; 2] },
    /// A notch between the legs of a dart or a pleat.
    NotchFoldedAway { kind: &'static str, edge: String, what: String, span: Span, take: Span },
    /// A place that can't be notched.
    NoNotch { edge: String, wanted: Box<Wanted>, why: NoNotch },
}

impl From<InPanel<'_, MarkError>> for Diagnostic {
    fn from(of: InPanel<'_, MarkError>) -> Self {
        let panel = of.panel;
        match of.error {
            MarkError::TakePastEnd { kind, edge, length, from, to, span } => {
                let headline = format!(
                    "a {kind} from {} to {} along `{panel}.{edge}` runs past its end: the edge is {} long",
                    mm(from),
                    mm(to),
                    mm(length)
                );
                Self::error("dart-past-end", headline, span, "").help(format!(
                    "Its place is that of its middle: half of what it takes, {}, lies on either side.",
                    mm((to - from) / 2.0)
                ))
            }
            MarkError::DartTooDeep { edge, deep, room, span } => {
                let headline = format!("a dart {} deep on `{panel}.{edge}` leaves the piece", mm(deep));
                let d = Self::error("dart-too-deep", headline, span, "its point is outside");
                match room > 0.0 && room < deep {
                    true => d.help(format!("From there the piece is {} deep.", mm(room))),
                    false => d.help("Its legs meet another edge on the way: move the dart, or make it narrower or less deep."),
                }
            }
            MarkError::DartWithoutCap { edge, why, span } => without_cap(panel, &edge, why, span),
            MarkError::TakesOverlap { edge, span, other } => {
                Self::error("darts-overlap", format!("two darts or pleats on `{panel}.{edge}` take the same stretch"), span, "this one")
                    .and(other, "and this one")
                    .help("Move them apart, or let them take less.")
            }
            MarkError::TakeSplit { kind, edge, span } => {
                let headline = format!("a split of `{panel}` runs through a {kind} on `{edge}`");
                Self::error("dart-across-split", headline, span, "")
                    .help("Move it so that it lies on one of the pieces, or move the split.")
            }
            MarkError::TakeOnSplit { kind, split, span, at } => {
                let headline = format!("`{split}` is where `{panel}` is split, and a {kind} can't be taken out of it");
                Self::error("dart-across-split", headline, span, "no edge as drawn").and(at, "split here").help(
                    "Both pieces would have to be taken in alike. For a shaped seam there, draw the two pieces as panels of their own.",
                )
            }
            MarkError::HoleOutside { hole, span } => {
                Self::error("hole-outside", format!("the hole `{hole}` lies outside `{panel}`"), span, "")
                    .help("A hole is placed by the origin of its outline, measured as the panel's own outline is.")
            }
            MarkError::HoleCrosses { hole, what, span } => {
                Self::error("hole-crosses", format!("the hole `{hole}` of `{panel}` crosses {what}"), span, "")
                    .help("Move it, or make it smaller: there must be cloth all round a hole.")
            }
            MarkError::NotchPastEnd { edge, length, at, span } => {
                let (at, length) = pair(at, length);
                let headline = if at.starts_with('-') {
                    format!("a notch at {at} lies before the beginning of `{panel}.{edge}`")
                } else {
                    format!("a notch at {at} lies past the end of `{panel}.{edge}`, which is {length} long")
                };
                Self::error("notch-past-end", headline, span, "")
            }
            MarkError::NotchesOverlap { places, of_fold, spans } => overlap(panel, &places, of_fold, spans),
            MarkError::NotchFoldedAway { kind, edge, what, span, take } => {
                Self::warning("notch-in-dart", format!("a {what} on `{panel}.{edge}` lies between the legs of a {kind}"), span, "folded away")
                    .and(take, format!("this {kind}"))
                    .help(format!(
                        "The legs of a {kind} are notched without being asked. Take this notch out, or move it past them; a slit may mark the middle."
                    ))
            }
            MarkError::NoNotch { edge, wanted, why } => no_notch(panel, &edge, &wanted, why),
        }
    }
}

fn no_notch(panel: &str, edge: &str, wanted: &Wanted, why: NoNotch) -> Diagnostic {
    match why {
        NoNotch::Narrow(allowance) => {
            let headline =
                format!("the allowance of `{panel}.{edge}` is {} here: a notch would reach the stitching, so none is cut", mm(allowance));
            Diagnostic::warning("notch-too-deep", headline, wanted.origin, "no notch").help(format!(
                "A notch stays {} clear of the stitch line and needs an allowance of {}. Mark this place with chalk or a pin.",
                mm(CLEAR),
                at_least(NARROWEST)
            ))
        }
        NoNotch::Deep(most) => {
            let (deep, _) = pair(wanted.deep.unwrap_or(0.0), most);
            let (clear, most) = (mm(CLEAR), at_most(most));
            let what = wanted.shape.counted(1);
            let headline = format!("a {what} {deep} deep on `{panel}.{edge}` comes too near its stitching");
            Diagnostic::error("notch-reaches-stitching", headline, wanted.origin, format!("{most} deep at most"))
                .help(format!("A notch stays {clear} clear of the stitch line. Say `deep {most}` or less, or allow more on this edge."))
        }
        NoNotch::Corner(width) => {
            let what = wanted.shape.counted(wanted.rows);
            let headline = format!("a {what} on `{panel}.{edge}` is {} wide and reaches past the corner", mm(width));
            Diagnostic::error("notch-past-end", headline, wanted.origin, "too near the end of the edge")
                .help("Move it along the edge by as much, or say `as slit`, which has no width.")
        }
    }
}

fn overlap(panel: &str, places: &[(String, f64, String); 2], of_fold: bool, [one, other]: [Span; 2]) -> Diagnostic {
    let [(edge, at, end), (second, to, second_end)] = places;
    if of_fold {
        let headline = format!("a notch on `{panel}.{edge}`, {} from `{end}`, runs into the slit at a leg of a dart or pleat", mm(*at));
        let d = also(Diagnostic::error("notches-overlap", headline, one, "this notch"), other, "its legs are notched");
        return d.help("Legs are notched without being asked. Take the notch out, or move it clear of them.");
    }
    let headline = if edge == second {
        let (at, to) = pair(*at, *to);
        format!("two notches on `{panel}.{edge}`, {at} and {to} from `{end}`, run into each other")
    } else {
        let (at, to) = (mm(*at), mm(*to));
        format!("a notch on `{panel}.{edge}`, {at} from `{end}`, runs into one on `{panel}.{second}`, {to} from `{second_end}`")
    };
    let label = if one == other { "both of these" } else { "this one" };
    let d = also(Diagnostic::error("notches-overlap", headline, one, label), other, "and this one");
    d.help("Neither could be matched with its fellow, and cloth between them may fall out. Move them apart, or take one out.")
}

fn without_cap(panel: &str, edge: &str, why: NoCap, span: Span) -> Diagnostic {
    let (because, help) = match why {
        NoCap::Wide => ("it is no deeper than half its width", "Draw it deeper or narrower, or make two of it."),
        NoCap::Near => ("a corner or another dart is too near", "Move it, or draw it deeper or narrower."),
        NoCap::Bends => (
            "the edge bends differently on either side of it",
            "Put it where the edge is straight, or leave more allowance there and trim it level once the dart is pressed.",
        ),
    };
    let headline = format!("the allowance over a dart on `{panel}.{edge}` is cut straight: {because}");
    Diagnostic::warning("dart-without-cap", headline, span, "ends short of the raw edge, once folded").help(help)
}
