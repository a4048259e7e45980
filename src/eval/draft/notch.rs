//! Notches: slits in the cut line, never so deep that they reach the stitching.

use super::allowance::Beside;
use super::error::{MarkError, Report};
use super::outline::SHORTEST;
use super::sheet::{Drawn, Sheet};
use super::take::Take;
use super::{PanelInput, outline};
use crate::geometry::{Path, Point, Vector, distance_to, meetings};
use crate::ir::{EdgeId, Notch, NotchReason};
use crate::quantity::Length;
use crate::source::Span;

/// A notch is so deep (mm) where the allowance holds it: deep enough to see.
const DEEP: f64 = 5.0;

/// What a notch leaves between itself and the stitch line (mm): a seam may be sewn a thread's width off.
const CLEAR: f64 = 2.0;

/// The narrowest allowance (mm) that is notched: the notch is then 2 mm deep.
const NARROWEST: f64 = 4.0;

/// A slit in a cut line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slit {
    /// On the cut line.
    pub point: Point,
    /// Into the piece, length one.
    pub inward: Vector,
    /// How deep, mm.
    pub depth: f64,
}

/// The notch outside a place on an edge, given by its distance from the edge's start.
///
/// # Errors
/// The allowance there, when it is too narrow for a notch.
pub fn notch_on(edge: &Path, allowance: f64, cut_line: &Path, at: f64) -> Result<Slit, f64> {
    let (on, outward) = (edge.point_at(at), edge.tangent_at(at).right());
    let point = on + outward * allowance;
    // Near an inward corner the cut line lies nearer than the allowance, outside a kink farther.
    let on_line = distance_to(&cut_line.flatten(outline::LOOK), point) <= 2.0 * outline::LOOK;
    let point = if on_line || allowance < NARROWEST {
        point
    } else {
        let ray = Path::line(on + outward * SHORTEST, on + outward * (allowance * 4.0));
        meetings(&ray, cut_line).first().map_or(point, |m| m.at)
    };
    let width = point.distance(on);
    if width < NARROWEST - SHORTEST {
        return Err(width);
    }
    Ok(Slit { point, inward: -outward, depth: DEEP.min(width - CLEAR) })
}

/// A notch on a drawn edge: which, how far from its start, why, and where it is asked for.
pub(crate) type Wanted = (usize, f64, NotchReason, Span);

/// All notches: those asked for and those at the legs of darts and pleats.
pub(crate) fn wanted(drawn: &Drawn, takes: &[Take], input: &PanelInput, report: &mut Report<'_>) -> Vec<Wanted> {
    let mut wanted: Vec<Wanted> = Vec::new();
    for notch in &input.notches {
        let Some(edge) = report.take(drawn.find(&notch.edge.0, notch.edge.1)) else { continue };
        let Some(at) = report.take(drawn.place(edge, notch.at, notch.from.as_ref())) else { continue };
        let (name, length) = drawn.work(edge).map_or_else(Default::default, |e| (e.name.clone(), e.path.length()));
        let given = notch.at.on(length);
        if !(at >= -SHORTEST && at <= length + SHORTEST) {
            report.push(MarkError::NotchPastEnd { edge: name, length, at: given, span: notch.span });
            continue;
        }
        wanted.push((edge, at.clamp(0.0, length), NotchReason::Asked, notch.span));
    }
    for take in takes {
        wanted.extend([take.from, take.to].map(|at| (take.edge, at, NotchReason::Fold, take.span)));
    }
    wanted
}

/// Those that fall to a piece, in the order of its outline.
pub(crate) fn place(sheet: &Sheet, besides: &[Beside], drawn: &[Wanted], cut: &Path, report: &mut Report<'_>) -> Vec<Notch> {
    let outline = &sheet.outline;
    let here = |(edge, at, reason, span): &Wanted| {
        let found = sheet.find(*edge, *at, *at).into_iter();
        found.map(|(edge, at, _)| (edge, at, *reason, *span)).collect::<Vec<Wanted>>()
    };
    let mut wanted: Vec<Wanted> = drawn.iter().flat_map(here).collect();
    wanted.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
    wanted.dedup_by(|a, b| a.0 == b.0 && (a.1 - b.1).abs() < super::outline::SAME);
    let mut notches = Vec::new();
    for (index, at, reason, origin) in wanted {
        let (Some(work), Some(beside)) = (outline.edges.get(index), besides.get(index)) else { continue };
        match notch_on(&work.path, beside.allowance, cut, at) {
            Ok(slit) => notches.push(Notch {
                edge: EdgeId::at(index),
                at: Length::mm(at),
                point: slit.point,
                inward: slit.inward,
                depth: Length::mm(slit.depth),
                reason,
                origin,
            }),
            Err(allowance) => report.push(MarkError::NotchTooDeep { edge: work.name.clone(), allowance, span: origin }),
        }
    }
    notches
}
