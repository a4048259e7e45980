//! Wording of what can be wrong where an outline is made from another: edges moved, outlines combined, strips.

use super::{NotOne, OutlineError, at_most, list, mm};
use crate::diagnostic::Diagnostic;
use crate::eval::draft::ToolKind;
use crate::source::Span;

pub(super) fn worded(panel: &str, error: OutlineError) -> Diagnostic {
    match error {
        OutlineError::MovedPastBend { edge, by, outward, radius, span } => {
            let way = if outward { "out" } else { "in" };
            let headline = format!("`{panel}.{edge}` can't be moved {way} by {}: its tightest bend has a radius of {}", mm(by), mm(radius));
            Diagnostic::error("moved-past-bend", headline, span, "").help(format!(
                "A bend moved towards its middle gets tighter, and is a point at its middle: stay well below {}.",
                mm(radius)
            ))
        }
        OutlineError::MovedAway { edge, most, outward, span } => {
            let headline = format!("moving the edges leaves nothing of `{panel}.{edge}`: what lies beside it meets first");
            let d = Diagnostic::error("moved-away", headline, span, "");
            match most {
                Some(most) => d.help(format!("Up to {} leaves something of every edge.", at_most(most))),
                None if outward => d.help("Move its neighbours less, or this edge further."),
                None => d.help("Move the edges less, or draw the outline without this edge."),
            }
        }
        OutlineError::MovedApart { first, second, span } => {
            let headline = format!("moved, `{panel}.{first}` and `{panel}.{second}` don't meet");
            Diagnostic::error("moved-apart", headline, span, "").help(
                "Edges that run on smoothly into each other have to be moved by the same distance: a rounded corner with both its sides.",
            )
        }
        OutlineError::ToolCrosses { tool, span } => {
            Diagnostic::error("outline-crosses-itself", format!("the outline `{tool}` on `{panel}` crosses or touches itself"), span, "")
                .help("An outline runs once round its piece.")
        }
        OutlineError::NotOne { tool, kind, found, span } => not_one(panel, &tool, kind, found, span),
        OutlineError::Idle { tool, kind, span } => {
            let (what, because) = match kind {
                ToolKind::Add => ("adds nothing to", "lies wholly inside"),
                ToolKind::Keep => ("takes nothing off", "goes right round"),
                ToolKind::Remove => ("takes nothing off", "lies wholly outside"),
            };
            Diagnostic::warning("changes-nothing", format!("`{tool}` {what} `{panel}`: it {because} its outline"), span, "no effect").help(
                "It is placed by the origin of its outline, measured as the panel's own outline is. If it is needed in some sizes only, put it under a `when`.",
            )
        }
        OutlineError::StripOfRing { edge, span } => Diagnostic::error(
            "strip-without-ends",
            format!("`{panel}.{edge}` has no ends: a strip along it would be a closed ring"),
            span,
            "",
        )
        .help("Draw the ring as a circle or an oval with a `hole` in it, or bind the edge with a straight strip."),
        OutlineError::StripRunsOn { of, edge, into, span } => {
            let headline = format!("`{of}.{edge}` runs on into {} without a corner: a strip along it alone has no end there", list(&into));
            Diagnostic::error("strip-without-ends", headline, span, "").help(
                "Where a strip is to follow a rounded corner, draw it in one edge with what it joins: `edge head line to … then arc to … smooth`.",
            )
        }
        OutlineError::StripTooWide { of, edge, wide, at, span } => {
            let headline = format!("a strip {} wide along `{of}.{edge}` does not fit on `{of}`", mm(wide));
            let d = Diagnostic::error("strip-too-wide", headline, span, "");
            match at {
                Some(at) => d.help(format!("Its far side must meet `{of}.{at}`, and runs past its end. Make the strip narrower.")),
                None => d.help("Its far side bends too tightly, or crosses another edge. Make the strip narrower."),
            }
        }
        _ => Diagnostic::error("not-one-outline", format!("`{panel}` has no outline"), Span::default(), ""),
    }
}

fn not_one(panel: &str, tool: &str, kind: ToolKind, found: NotOne, span: Span) -> Diagnostic {
    let did = match kind {
        ToolKind::Add => format!("with `{tool}` added"),
        ToolKind::Keep => format!("with only what lies inside `{tool}` kept"),
        ToolKind::Remove => format!("with `{tool}` removed"),
    };
    let headline = match found {
        NotOne::Nothing => format!("{did}, nothing is left of `{panel}`"),
        NotOne::Pieces(n) => format!("{did}, `{panel}` is {n} pieces, not one"),
        NotOne::Hole => format!("{did}, `{panel}` has a hole inside its outline"),
        NotOne::Unclear => format!("{did}, `{panel}` has no outline that can be followed"),
    };
    let help = match (found, kind) {
        (NotOne::Hole, ToolKind::Remove) => "What lies inside is cut out with `hole`, not removed.",
        (NotOne::Hole, _) => "The two enclose a gap between them: let them lie closer, or cut the hole with `hole`.",
        (NotOne::Pieces(_), ToolKind::Add) => "What is added must overlap the panel. It is placed by the origin of its outline.",
        (NotOne::Pieces(_), _) => "Cut each piece as a panel of its own, taking its shape with `shape as`.",
        (NotOne::Nothing, ToolKind::Keep) => "The two don't overlap. An outline is placed by its origin: that of a circle is its middle.",
        (NotOne::Nothing, _) => "It covers the whole panel. Make it smaller, or move it.",
        (NotOne::Unclear, _) => "Their edges run along each other within a few thousandths of a millimetre: move one by a tenth.",
    };
    Diagnostic::error("not-one-outline", headline, span, "").help(help)
}
