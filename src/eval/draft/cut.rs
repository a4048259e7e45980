//! The cut line: the lines beside all edges, joined round their corners. And fold lines, which end at it.

use super::PanelInput;
use super::allowance::Beside;
use super::cap::{self, Leg};
use super::error::{CutError, OutlineError, Report};
use super::joint::{Flank, Joint, NO_CORNER, NoJoint, joint, nothing_outside};
use super::outline::{LARGEST, LOOK, Outline, SHORTEST, Work, flatten};
use super::sheet::Sheet;
use super::take::Take;
use crate::eval::draft::CornerJoin;
use crate::geometry::{Path, Point, Segment, crossing_between, distance_to, encloses, meetings, self_crossing};
use crate::source::Span;

/// A stitch line may lie this far (mm) outside its cut line through flattening, where there is no allowance.
const ON_LINE: f64 = 2.0 * LOOK;

/// The cut line.
pub(crate) struct CutLine {
    pub(crate) path: Path,
    /// Where the legs of each dart with a cap meet it.
    pub(crate) caps: Vec<Option<[Leg; 2]>>,
}

/// The cut line; none when allowances leave none.
pub(crate) fn cut_line(sheet: &Sheet, besides: &[Beside], takes: &[Take], input: &PanelInput, report: &mut Report<'_>) -> Option<CutLine> {
    let outline = &sheet.outline;
    let asked = asked_joins(sheet, input, report);
    if report.has_failed() {
        return None;
    }
    let flank = |index: usize| Some(Flank { work: outline.edges.get(index)?, beside: besides.get(index)? });
    let mut joints = Vec::new();
    for index in 0..outline.edges.len() {
        let (first, second) = (flank(index)?, flank(outline.after(index))?);
        let asked = asked.get(index).copied().flatten();
        if let (Some((join, span)), Some(why)) = (asked.filter(|(join, _)| *join != CornerJoin::Mitred), nothing_outside(first, second)) {
            let (first, second) = (first.work.name.clone(), second.work.name.clone());
            report.push(CutError::JoinIdle { first, second, join: join.word(), why, span });
        }
        match joint(first, second, asked) {
            Ok(j) => joints.push(j),
            Err(NoJoint::Asked(error)) => report.push(error),
            Err(NoJoint::TooShort { second: at_second }) => {
                report.push(too_short(outline, besides, if at_second { outline.after(index) } else { index })?);
            }
        }
    }
    if report.has_failed() {
        return None;
    }
    step_where_short(outline, besides, &mut joints);
    let mut stretches = stretches(outline, besides, &joints, report)?;
    let caps = cap::put(outline, takes, &mut stretches, report);
    let path = joined(&stretches)?;
    check(outline, besides, &stretches, &path, report)?;
    Some(CutLine { path, caps })
}

/// What the source says of each corner, by the index of the edge that runs into it.
fn asked_joins(sheet: &Sheet, input: &PanelInput, report: &mut Report<'_>) -> Vec<Option<(CornerJoin, Span)>> {
    let outline = &sheet.outline;
    let mut asked = vec![None; outline.edges.len()];
    for join in &input.joins {
        let (first, second, span) = &join.edges;
        let found = outline.corner(first, second, *span);
        // A corner of a split panel falls to one of its pieces; that it is one at all is seen where it is drawn.
        let elsewhere = matches!(found, Err(OutlineError::NoCorner { .. } | OutlineError::UnknownEdge { .. }));
        let Some(index) = (if sheet.name.is_some() && elsewhere { None } else { report.take(found) }) else { continue };
        if let Some(slot) = asked.get_mut(index) {
            *slot = Some((join.join, *span));
        }
    }
    asked
}

fn too_short(outline: &Outline, besides: &[Beside], index: usize) -> Option<CutError> {
    let work = outline.edges.get(index)?;
    let beside = |i: usize| Some((outline.edges.get(i)?.name.clone(), besides.get(i)?.allowance));
    let (before, after) = (beside(outline.before(index))?, beside(outline.after(index))?);
    let neighbours = (before.0, before.1, after.0, after.1);
    Some(CutError::TooShort { edge: work.name.clone(), length: work.path.length(), neighbours, span: work.span })
}

/// An edge with a wide allowance between narrow ones gives way at both ends. Where nothing would be left of it, the cut line
/// steps across at these ends instead.
fn step_where_short(outline: &Outline, besides: &[Beside], joints: &mut [Joint]) {
    for (index, beside) in besides.iter().enumerate() {
        let before = outline.before(index);
        let enter = joints.get(before).map_or(0.0, |j| j.enter);
        let leave = joints.get(index).map_or(beside.length, |j| j.leave);
        if leave > enter {
            continue;
        }
        for corner in [before, index] {
            if let (Some(joint), Some(first)) = (joints.get_mut(corner).filter(|j| j.may_step), besides.get(corner)) {
                *joint = Joint { leave: first.length, between: Vec::new(), enter: 0.0, may_step: false };
            }
        }
    }
}

/// Each edge's stretch of the cut line: what is left of the line beside it, then the way round the corner after it.
fn stretches(outline: &Outline, besides: &[Beside], joints: &[Joint], report: &mut Report<'_>) -> Option<Vec<Path>> {
    let mut all = Vec::new();
    for (index, beside) in besides.iter().enumerate() {
        let (before, after) = (joints.get(outline.before(index))?, joints.get(index)?);
        if after.leave < before.enter - SHORTEST {
            report.push(too_short(outline, besides, index)?);
            continue;
        }
        let mut stretch = beside.line.subpath(before.enter, after.leave);
        stretch.segments.extend(after.between.iter().copied());
        all.push(stretch);
    }
    (!report.has_failed()).then_some(all)
}

/// One closed path, each stretch going straight on to the next one's start.
fn joined(stretches: &[Path]) -> Option<Path> {
    let first = stretches.first()?;
    let mut path = stretches.iter().skip(1).fold(first.clone(), |path, next| path.then(next));
    if path.end().distance(path.start) > crate::geometry::COINCIDENT {
        path = path.line_to(first.start);
    } else if let Some(Segment::Line { end } | Segment::Arc { end, .. } | Segment::Cubic { end, .. }) = path.segments.last_mut() {
        *end = first.start;
    }
    Some(path.tidied())
}

/// Whether the cut line is one: it crosses itself nowhere, and the stitch line lies inside.
fn check(outline: &Outline, besides: &[Beside], stretches: &[Path], path: &Path, report: &mut Report<'_>) -> Option<()> {
    let bounds = path.bounds();
    let size = bounds.width().max(bounds.height());
    if size.is_nan() || size > 2.0 * LARGEST || !path.is_finite() {
        let span = besides.iter().max_by(|a, b| a.allowance.total_cmp(&b.allowance)).map(|b| b.said)?;
        report.push(OutlineError::TooLarge { size, limit: LARGEST, span });
        return None;
    }
    // With the straights between stretches given to the stretch before.
    let starts = stretches.iter().skip(1).chain(stretches.first()).map(|s| s.start);
    let closed: Vec<Path> = stretches.iter().zip(starts).map(|(s, next)| s.clone().then(&Path::new(next))).collect();
    let (points, owners) = flatten(&closed);
    if let Some(crossing) = self_crossing(&points) {
        let owner = |i: usize| owners.get(i).copied();
        report.push(crosses(outline, besides, owner(crossing.first)?, owner(crossing.second)?)?);
        return None;
    }
    let outside = outside(outline, &points);
    if let Some(index) = outside.or((path.signed_area() < 0.0).then_some(0)) {
        report.push(crosses(outline, besides, index, index)?);
        return None;
    }
    Some(())
}

/// An edge that does not lie inside the cut line. A stitch line that meets it nowhere is inside where one point of it is;
/// only one that touches it, having no allowance somewhere, is looked at point by point.
fn outside(outline: &Outline, cut: &[Point]) -> Option<usize> {
    let (stitch, _) = flatten(outline.edges.iter().map(|e| &e.path));
    if crossing_between(cut, &stitch).is_none() && stitch.first().is_some_and(|p| encloses(cut, *p)) {
        return None;
    }
    let inside = |p: Point| encloses(cut, p) || distance_to(cut, p) <= ON_LINE;
    outline.edges.iter().position(|e| !e.path.flatten(LOOK).into_iter().all(inside))
}

fn crosses(outline: &Outline, besides: &[Beside], first: usize, second: usize) -> Option<CutError> {
    let (a, b) = (outline.edges.get(first)?, outline.edges.get(second)?);
    Some(CutError::Crosses {
        first: a.name.clone(),
        second: b.name.clone(),
        allowances: (besides.get(first)?.allowance, besides.get(second)?.allowance),
        first_span: a.span,
        second_span: b.span,
    })
}

/// Fold lines of hems, each from side to side of the cut line.
pub(crate) fn fold_lines(outline: &Outline, besides: &[Beside], cut: &Path) -> Vec<(String, Path)> {
    let mut lines = Vec::new();
    for (index, (work, beside)) in outline.edges.iter().zip(besides).enumerate() {
        let near = |i: usize| besides.get(i).map_or(0.0, |b| b.allowance);
        let widest = beside.allowance.max(near(outline.before(index))).max(near(outline.after(index)));
        let turns_out = |corner: usize| {
            let (first, second) = (outline.edges.get(corner), outline.edges.get(outline.after(corner)));
            first.zip(second).is_some_and(|(a, b)| a.path.tangent_at_end().turn_to(b.path.tangent_at_start()) > NO_CORNER)
        };
        let ends = (turns_out(outline.before(index)), turns_out(index));
        for fold in beside.folds.iter().filter(|f| **f < beside.allowance - SHORTEST) {
            lines.extend(fold_line(work, *fold, widest, ends, cut).map(|line| (work.name.clone(), line)));
        }
    }
    lines
}

/// One of them. Past an outward corner it runs on to the cut line; at an inward one, or where there is hardly a corner and the
/// cut line runs on beside it, it ends with its edge.
fn fold_line(work: &Work, distance: f64, widest: f64, turns_out: (bool, bool), cut: &Path) -> Option<Path> {
    let line = work.path.offset(distance).unwrap_or_else(|_| work.path.clone());
    let reach = widest * 2.0 * crate::geometry::MITRE_LIMIT;
    let before = if turns_out.0 { line.start - line.tangent_at_start() * reach } else { line.start };
    let after = if turns_out.1 { line.end() + line.tangent_at_end() * reach } else { line.end() };
    let long = Path::new(before).then(&line).then(&Path::new(after));
    let (start, end) = (before.distance(line.start), before.distance(line.start) + line.length());
    let total = long.length();
    let stops: Vec<f64> = std::iter::once(0.0).chain(meetings(&long, cut).iter().map(|m| m.first)).chain([total]).collect();
    let flat = cut.flatten(LOOK);
    let middle = f64::midpoint(start, end);
    // A strongly slanted hem may have its fold beside the edge's own span: the stretch in cloth that lies nearest.
    let in_cloth = stops
        .iter()
        .zip(stops.iter().skip(1))
        .filter(|(a, b)| **b - **a > SHORTEST && encloses(&flat, long.point_at(f64::midpoint(**a, **b))));
    let off = |a: f64, b: f64| (a - middle).max(middle - b).max(0.0);
    let (from, to) = in_cloth.min_by(|x, y| off(*x.0, *x.1).total_cmp(&off(*y.0, *y.1))).map(|(a, b)| (*a, *b))?;
    let (from, to) = (if from == 0.0 { start } else { from }, if to == total { end } else { to });
    (to - from > SHORTEST).then(|| long.subpath(from, to).tidied())
}
