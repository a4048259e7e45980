//! Other outlines laid on a panel's: added to it, kept of it, removed from it.
//!
//! Everything is added first, then kept, then removed, so that the order of the lines means nothing.

use super::error::{NotOne, OutlineError, Report};
use super::outline::{LEAST_AREA, Made, Outline, SHORTEST, Work, check_reach};
use super::{PanelInput, ToolInput, ToolKind, ToolPlace};
use crate::geometry::{Bit, Combine, Path, Point, Vector, combine, self_crossing};
use std::collections::BTreeMap;

/// Works all of them into the outline; none when one leaves no outline.
pub(crate) fn apply(outline: &mut Outline, input: &PanelInput, report: &mut Report<'_>) -> Option<()> {
    let mut placed: Vec<(&ToolInput, Vec<Path>)> = Vec::new();
    for tool in &input.tools {
        placed.extend(report.take(laid(outline, tool)).map(|paths| (tool, paths)));
    }
    if report.has_failed() {
        return None;
    }
    placed.sort_by_key(|(tool, _)| tool.kind);
    for (tool, paths) in &placed {
        if !work_in(outline, tool, paths, report)? {
            report.push(OutlineError::Idle { tool: tool.name.clone(), kind: tool.kind, span: tool.span });
        }
    }
    let Some((last, _)) = placed.last() else { return Some(()) };
    number(outline);
    outline.name_neighbours();
    outline.check_names(report)?;
    outline.check_simple(Made::Combined, last.span, report)
}

/// A tool's paths where they lie on the panel, counter-clockwise.
fn laid(outline: &Outline, tool: &ToolInput) -> Result<Vec<Path>, OutlineError> {
    let at = match &tool.at {
        ToolPlace::Point(at) => *at,
        ToolPlace::Corner(first, second, span) => outline.corner_point(first, second, *span)?,
    };
    let by = Vector::new(at.x, at.y);
    let paths: Vec<Path> = tool.edges.iter().map(|(_, path)| path.translated(by)).collect();
    for path in &paths {
        check_reach(path, tool.span)?;
    }
    let (points, _) = super::outline::flatten(&paths);
    if self_crossing(&points).is_some() {
        return Err(OutlineError::ToolCrosses { tool: tool.name.clone(), span: tool.span });
    }
    Ok(paths)
}

/// Whether a ring of paths runs counter-clockwise.
fn runs_left(paths: &[Path]) -> bool {
    let start = paths.first().map_or_else(Point::default, |p| p.start);
    Path { start, segments: paths.iter().flat_map(|p| p.segments.iter().copied()).collect() }.signed_area() >= 0.0
}

/// A stretch of an edge of either outline in the new one; several where it goes on past the start of a closed edge.
struct Stretch {
    bits: Vec<Bit>,
}

/// Works one tool in. Whether that changed anything; none once it is reported that no single outline is left.
fn work_in(outline: &mut Outline, tool: &ToolInput, paths: &[Path], report: &mut Report<'_>) -> Option<bool> {
    let mut named: Vec<(String, Path)> =
        tool.edges.iter().zip(paths).map(|((edge, _), path)| (name_of(tool, edge), path.clone())).collect();
    // Two bits of one edge share its name until they are numbered; those of two edges must not.
    if let Some(work) = outline.edges.iter().find(|e| named.iter().any(|(name, _)| *name == e.name)) {
        report.push(OutlineError::NamedTwice { edge: work.name.clone(), first: work.span, second: tool.span });
        return None;
    }
    if !runs_left(paths) {
        named.reverse();
        named.iter_mut().for_each(|(_, path)| *path = path.reversed());
    }
    let first: Vec<Path> = outline.edges.iter().map(|e| e.path.clone()).collect();
    let second: Vec<Path> = named.iter().map(|(_, path)| path.clone()).collect();
    let how = match tool.kind {
        ToolKind::Add => Combine::Either,
        ToolKind::Keep => Combine::Both,
        ToolKind::Remove => Combine::FirstAlone,
    };
    let ring = match single(combine(&first, &second, how)) {
        Ok(ring) => ring,
        Err(found) => {
            report.push(OutlineError::NotOne { tool: tool.name.clone(), kind: tool.kind, found, span: tool.span });
            return None;
        }
    };
    let changed = ring.iter().any(|b| b.of_second);
    let edges = stretches(ring, &first, &second).into_iter().filter_map(|s| edge_of(&s, outline, tool, &named));
    let edges: Vec<Work> = edges.collect();
    if changed {
        outline.edges = edges;
    }
    Some(changed)
}

/// What the edges of a tool are called on the panel.
fn name_of(tool: &ToolInput, edge: &str) -> String {
    if tool.edges.len() == 1 { tool.name.clone() } else { format!("{}_{edge}", tool.name) }
}

/// The one ring round the result.
fn single(rings: Option<Vec<Vec<Bit>>>) -> Result<Vec<Bit>, NotOne> {
    let area = |ring: &Vec<Bit>| {
        let paths: Vec<Path> = ring.iter().map(|b| b.path.clone()).collect();
        let start = paths.first().map_or_else(Point::default, |p| p.start);
        Path { start, segments: paths.into_iter().flat_map(|p| p.segments).collect() }.signed_area()
    };
    // Less than can be cut is no piece, and no hole.
    let mut found: Vec<(f64, Vec<Bit>)> = rings.ok_or(NotOne::Unclear)?.into_iter().map(|r| (area(&r), r)).collect();
    found.retain(|(area, _)| area.abs() >= LEAST_AREA);
    let pieces = found.iter().filter(|(area, _)| *area > 0.0).count();
    match pieces {
        0 => Err(NotOne::Nothing),
        1 if found.len() > 1 => Err(NotOne::Hole),
        1 => found.pop().map(|(_, ring)| ring).ok_or(NotOne::Nothing),
        n => Err(NotOne::Pieces(n)),
    }
}

/// Bits that go on along one edge put together, from where one edge ends, and from the first edge of the panel that is left.
fn stretches(mut ring: Vec<Bit>, first: &[Path], second: &[Path]) -> Vec<Stretch> {
    let goes_on = |a: &Bit, b: &Bit| {
        if (a.of_second, a.index) != (b.of_second, b.index) {
            return false;
        }
        let Some(path) = (if a.of_second { second } else { first }).get(a.index) else { return false };
        let length = path.length();
        let (one, two) = (a.to, b.from);
        let (back, on) = (a.from, b.to);
        // Either on in its own direction, or against it; a closed edge also past its start.
        let meets = |p: f64, q: f64| (p - q).abs() < SHORTEST || (path.is_closed() && (p - q).abs() > length - SHORTEST);
        meets(one, two) || meets(back, on)
    };
    let before = ring.iter().cycle().skip(ring.len().saturating_sub(1));
    let starts = before.zip(&ring).enumerate().filter(|(_, (a, b))| !goes_on(a, b));
    let start =
        starts.min_by(|(_, (_, a)), (_, (_, b))| (a.of_second, a.index).cmp(&(b.of_second, b.index)).then(a.from.total_cmp(&b.from)));
    let start = start.map_or(0, |(i, _)| i);
    ring.rotate_left(start);
    let mut all: Vec<Stretch> = Vec::new();
    for bit in ring {
        match all.last_mut() {
            Some(last) if last.bits.last().is_some_and(|b| goes_on(b, &bit)) => last.bits.push(bit),
            _ => all.push(Stretch { bits: vec![bit] }),
        }
    }
    all
}

/// A stretch as an edge; its ends are named later where they are new.
fn edge_of(stretch: &Stretch, outline: &Outline, tool: &ToolInput, named: &[(String, Path)]) -> Option<Work> {
    let (head, tail) = (stretch.bits.first()?, stretch.bits.last()?);
    let joined = stretch.bits.iter().skip(1).fold(head.path.clone(), |path, bit| path.then(&bit.path));
    if head.of_second {
        let (name, _) = named.get(head.index)?;
        let new = String::new;
        return Some(Work {
            name: name.clone(),
            path: joined.tidied(),
            parts: Vec::new(),
            start_neighbour: new(),
            end_neighbour: new(),
            span: tool.span,
        });
    }
    let work = outline.edges.get(head.index)?;
    let length = work.path.length();
    let (at_start, at_end) = (head.from <= SHORTEST, tail.to >= length - SHORTEST);
    if at_start && at_end && head.from < tail.to {
        return Some(Work { path: joined, ..work.clone() });
    }
    let kept = |keep: bool, name: &String| if keep { name.clone() } else { String::new() };
    Some(Work {
        name: work.name.clone(),
        path: joined.tidied(),
        parts: work.parts_between(head.from, tail.to),
        start_neighbour: kept(at_start, &work.start_neighbour),
        end_neighbour: kept(at_end, &work.end_neighbour),
        span: work.span,
    })
}

/// Numbers the bits of edges that are there in several, in outline order.
fn number(outline: &mut Outline) {
    let mut count: BTreeMap<String, usize> = BTreeMap::new();
    for work in &outline.edges {
        *count.entry(work.name.clone()).or_default() += 1;
    }
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    for work in &mut outline.edges {
        if count.get(&work.name).is_some_and(|n| *n > 1) {
            let n = seen.entry(work.name.clone()).or_default();
            *n += 1;
            work.name = format!("{}_{n}", work.name);
        }
    }
}
