//! A strip of a panel along one of its edges: a facing, a casing.

use super::error::{OutlineError, Report};
use super::outline::{Made, Outline, SHORTEST};
use super::shift::moved;
use super::{EdgeInput, PanelInput, TakenOver};
use crate::diagnostic::Problems;
use crate::geometry::{Path, Point, ShiftError};
use crate::source::Span;

/// An edge that turns into the next by less than this (radians, one degree) runs on.
const RUNS_ON: f64 = std::f64::consts::PI / 180.0;

/// The outline of a strip inside an edge of another panel. The edge is its `outer` edge; its `inner` edge lies `wide` inside;
/// its ends lie on the edge's neighbours, and are named like them.
///
/// `of` holds the finished edges of the other panel; none once it is reported that there is no such strip.
pub(crate) fn strip(of: &PanelInput, edge: &(String, Span), wide: f64, span: Span, problems: &mut Problems) -> Option<Vec<EdgeInput>> {
    let mut report = Report::new(&of.name, problems);
    let outline = Outline::new(of, &mut report)?;
    let result = drawn(&outline, &of.name, edge, wide, span);
    report.take(result)
}

fn drawn(outline: &Outline, panel: &str, edge: &(String, Span), wide: f64, span: Span) -> Result<Vec<EdgeInput>, OutlineError> {
    let index = outline.find(&edge.0, edge.1)?;
    if !(wide.is_finite() && wide >= SHORTEST) {
        return Err(OutlineError::UnusableSize { what: "the width of this strip", size: wide, span });
    }
    let (before, after) = (outline.before(index), outline.after(index));
    let too_wide = |at: Option<usize>| OutlineError::StripTooWide {
        of: panel.to_owned(),
        edge: edge.0.clone(),
        wide,
        at: at.and_then(|i| outline.edges.get(i)).map(|e| e.name.clone()),
        span,
    };
    let (Some(work), Some(previous), Some(next)) = (outline.edges.get(index), outline.edges.get(before), outline.edges.get(after)) else {
        return Err(too_wide(None));
    };
    if index == before {
        return Err(OutlineError::StripOfRing { edge: edge.0.clone(), span: edge.1 });
    }
    let runs_on = |from: &Path, to: &Path| from.tangent_at_end().turn_to(to.tangent_at_start()).abs() < RUNS_ON;
    let ends = [(index, runs_on(&work.path, &next.path), &next.name), (before, runs_on(&previous.path, &work.path), &previous.name)];
    let smooth: Vec<(usize, String)> = ends.into_iter().filter(|(_, on, _)| *on).map(|(corner, _, name)| (corner, name.clone())).collect();
    let inward: Vec<f64> = (0..outline.edges.len()).map(|i| if i == index { wide } else { 0.0 }).collect();
    let edges = moved(outline, &inward).map_err(|fault| match fault.error {
        // Beside an edge that runs on, the far side runs on too.
        ShiftError::Parts { .. } if smooth.iter().any(|(corner, _)| *corner == fault.edge) => {
            let into = smooth.iter().map(|(_, name)| name.clone()).collect();
            OutlineError::StripRunsOn { of: panel.to_owned(), edge: edge.0.clone(), into, span }
        }
        // The neighbour that ends before the far side reaches it.
        ShiftError::Parts { .. } if fault.edge == index => too_wide(Some(after)),
        _ if fault.edge == index => too_wide(None),
        _ => too_wide(Some(fault.edge)),
    })?;
    let rest = Outline { edges };
    rest.simple(Made::Moved, span).map_err(|_| too_wide(None))?;
    let Some(inner) = rest.edges.get(index).map(|e| e.path.reversed()) else { return Err(too_wide(None)) };
    let (first, last) = (end_on(&next.path, inner.start), end_on(&previous.path.reversed(), inner.end()).reversed());
    let (mut first_name, mut last_name) = (next.name.clone(), previous.name.clone());
    if before == after {
        first_name.push_str("_1");
        last_name.push_str("_2");
    }
    let parts = TakenOver { parts: work.parts.clone(), ends: (last_name.clone(), first_name.clone()) };
    let edge = |name: String, path: Path, taken: Option<TakenOver>| EdgeInput { name, path, taken, span };
    Ok(vec![
        edge("outer".to_owned(), work.path.clone(), Some(parts)),
        edge(first_name, first, None),
        edge("inner".to_owned(), inner, None),
        edge(last_name, last, None),
    ])
}

/// Along a neighbour from the corner to where the strip ends; straight there where the neighbour had to run on to meet it.
fn end_on(neighbour: &Path, to: Point) -> Path {
    match neighbour.nearest(to) {
        Some(n) if n.distance < SHORTEST && n.along > SHORTEST => {
            let mut path = neighbour.subpath(0.0, n.along);
            if let Some(last) = path.segments.last_mut() {
                last.move_end(to);
            }
            path
        }
        _ => Path::line(neighbour.start, to),
    }
}
