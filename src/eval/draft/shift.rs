//! Edges moved in or out, each by its own distance.

use super::error::{OutlineError, Report};
use super::outline::{Made, Outline, Work, check_reach};
use super::{MoveInput, PanelInput};
use crate::geometry::{OffsetError, Path, ShiftError};
use crate::source::Span;

/// Neighbours that turn by less than this (radians) run on into each other.
const SMOOTH: f64 = 1e-3;

/// Moves the edges; none when that leaves no outline.
pub(crate) fn apply(outline: &mut Outline, input: &PanelInput, report: &mut Report<'_>) -> Option<()> {
    if input.moves.is_empty() {
        return Some(());
    }
    for line in &input.moves {
        report.take(check(line, outline));
    }
    if report.has_failed() {
        return None;
    }
    let own = |work: &Work| input.moves.iter().find(|m| m.edge.as_ref().is_some_and(|(name, _)| *name == work.name));
    let of = |work: &Work| own(work).or_else(|| input.moves.iter().find(|m| m.edge.is_none()));
    let said: Vec<Option<&MoveInput>> = outline.edges.iter().map(of).collect();
    let inward: Vec<f64> = said.iter().map(|m| m.map_or(0.0, |m| if m.outward { -m.by } else { m.by })).collect();
    match moved(outline, &inward) {
        Ok(edges) => outline.edges = edges,
        Err(fault) => {
            let most = largest(outline, &inward);
            report.push(worded(outline, &said, &inward, fault, most));
            return None;
        }
    }
    for work in &outline.edges {
        report.take(check_reach(&work.path, work.span))?;
    }
    outline.check_simple(Made::Moved, input.moves.first().map_or(input.span, |m| m.span), report)
}

fn check(line: &MoveInput, outline: &Outline) -> Result<(), OutlineError> {
    if let Some((name, span)) = &line.edge {
        outline.find(name, *span)?;
    }
    if line.by.is_finite() && line.by >= 0.0 {
        return Ok(());
    }
    let what = if line.outward { "how far edges are moved out" } else { "how far edges are moved in" };
    Err(OutlineError::UnusableSize { what, size: line.by, span: line.span })
}

/// What is in the way, and the edge it is about.
pub(crate) struct Fault {
    pub(crate) edge: usize,
    pub(crate) error: ShiftError,
}

/// The edges of an outline, each moved in by its own distance. The parts of an edge are moved one by one, so that each
/// is known again afterwards.
pub(crate) fn moved(outline: &Outline, inward: &[f64]) -> Result<Vec<Work>, Fault> {
    let (mut ring, mut owners): (Vec<(Path, f64)>, Vec<usize>) = (Vec::new(), Vec::new());
    let alone = outline.edges.len() == 1;
    for (index, (work, by)) in outline.edges.iter().zip(inward).enumerate() {
        let length = work.path.length();
        let mut ends: Vec<f64> = work.parts.iter().skip(1).map(|(_, from, _)| *from).collect();
        if alone && ends.is_empty() {
            // The two ends of a single edge may meet in a corner like those of two.
            ends.push(length / 2.0);
        }
        ends.push(length);
        let mut from = 0.0;
        for to in ends {
            ring.push((work.path.subpath(from, to), *by));
            owners.push(index);
            from = to;
        }
    }
    let shifted = Path::shifted(&ring).map_err(|error| {
        let (ShiftError::Bends { path, .. } | ShiftError::Vanishes { path } | ShiftError::Parts { path }) = error;
        Fault { edge: owners.get(path).copied().unwrap_or(0), error }
    })?;
    let edges = outline.edges.iter().enumerate().map(|(index, work)| {
        let own = shifted.iter().zip(&owners).filter(|(_, owner)| **owner == index).map(|(path, _)| path);
        again(work, own)
    });
    Ok(edges.collect())
}

/// An edge put together from its parts.
fn again<'p>(work: &Work, paths: impl Iterator<Item = &'p Path>) -> Work {
    let (mut path, mut ends): (Option<Path>, Vec<f64>) = (None, vec![0.0]);
    for part in paths {
        let joined = path.map_or_else(|| part.clone(), |p: Path| p.then(part));
        ends.push(joined.length());
        path = Some(joined);
    }
    let stretches = ends.iter().zip(ends.iter().skip(1));
    let parts = work.parts.iter().zip(stretches).map(|((name, _, _), (from, to))| (name.clone(), *from, *to)).collect();
    Work { path: path.unwrap_or_else(|| work.path.clone()), parts, ..work.clone() }
}

/// Which share of what was asked for could be had, in steps of a hundredth; none when hardly any.
fn largest(outline: &Outline, inward: &[f64]) -> Option<f64> {
    let works = |share: f64| moved(outline, &inward.iter().map(|d| d * share).collect::<Vec<_>>()).is_ok();
    let (mut low, mut high) = (0_u32, 100_u32);
    while high - low > 1 {
        let middle = u32::midpoint(low, high);
        if works(f64::from(middle) / 100.0) {
            low = middle;
        } else {
            high = middle;
        }
    }
    (low > 0).then(|| f64::from(low) / 100.0)
}

fn worded(outline: &Outline, said: &[Option<&MoveInput>], inward: &[f64], fault: Fault, most: Option<f64>) -> OutlineError {
    let line = said.get(fault.edge).copied().flatten().or_else(|| said.iter().copied().flatten().next());
    let span = line.map_or_else(Span::default, |m| m.edge.as_ref().map_or(m.span, |(_, span)| *span));
    let name = |i: usize| outline.edges.get(i).map(|e| e.name.clone()).unwrap_or_default();
    let edge = name(fault.edge);
    let by = inward.get(fault.edge).copied().unwrap_or(0.0);
    let alike = inward.iter().all(|d| *d == by);
    let most = most.filter(|_| alike).map(|share| by.abs() * share);
    let outward = by < 0.0;
    let turn = match (outline.edges.get(fault.edge), outline.edges.get(outline.after(fault.edge))) {
        (Some(first), Some(second)) => first.path.tangent_at_end().turn_to(second.path.tangent_at_start()),
        _ => 0.0,
    };
    match fault.error {
        ShiftError::Bends { error: OffsetError::Tight(bend), .. } => {
            OutlineError::MovedPastBend { edge, by: by.abs(), outward, radius: bend.radius, span }
        }
        ShiftError::Bends { error: OffsetError::Crowded { .. }, .. } | ShiftError::Vanishes { .. } => {
            OutlineError::MovedAway { edge, most, outward: inward.iter().any(|d| *d < 0.0), span }
        }
        // Two that turn a corner meet unless they are moved past each other.
        ShiftError::Parts { .. } if turn.abs() > SMOOTH => {
            OutlineError::MovedAway { edge, most, outward: inward.iter().any(|d| *d < 0.0), span }
        }
        ShiftError::Parts { .. } => OutlineError::MovedApart { first: edge, second: name(outline.after(fault.edge)), span },
    }
}
