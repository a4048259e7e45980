//! Darts and pleats: what they take from an edge, and their lines on the piece.

use super::error::{MarkError, OutlineError, Report};
use super::outline::{LOOK, Outline, SHORTEST};
use super::sheet::{Drawn, Sheet, Stretch};
use super::{Intake, PanelInput, TakeInput, TakeKind};
use crate::geometry::{Path, Point, crossing_between, distance_to, encloses, meetings};
use crate::source::Span;

/// A dart or a pleat, placed.
#[derive(Debug, Clone)]
pub(crate) struct Take {
    pub(crate) edge: usize,
    /// Where its legs stand on the edge.
    pub(crate) from: f64,
    pub(crate) to: f64,
    pub(crate) kind: TakeKind,
    pub(crate) span: Span,
}

impl Take {
    pub(crate) const fn kind_name(&self) -> &'static str {
        name(self.kind)
    }
}

const fn name(kind: TakeKind) -> &'static str {
    match kind {
        TakeKind::Dart { .. } => "dart",
        TakeKind::Pleat => "pleat",
    }
}

/// Places all darts and pleats; those that have no place are reported and left out.
pub(crate) fn place(drawn: &Drawn, input: &PanelInput, report: &mut Report<'_>) -> Vec<Take> {
    let outline = &drawn.outline;
    let (points, _) = super::outline::flatten(outline.edges.iter().map(|e| &e.path));
    let mut placed: Vec<Take> = Vec::new();
    for take in &input.takes {
        if let Some(line) = drawn.lines.iter().find(|l| l.work.name == take.edge.0) {
            let (kind, split, at) = (name(take.kind), take.edge.0.clone(), line.work.span);
            report.push(MarkError::TakeOnSplit { kind, split, span: take.edge.1, at });
            continue;
        }
        let Some(new) = report.take(find(outline, take)) else { continue };
        let Some(new) = report.take(inside(outline, new, take)) else { continue };
        let edge = outline.edges.get(new.edge).map(|e| e.name.clone()).unwrap_or_default();
        if let TakeKind::Dart { deep } = new.kind {
            report.take(check_dart(outline, &new, deep, &points));
        }
        let near = |t: &&Take| t.edge == new.edge && t.from < new.to - SHORTEST && new.from < t.to - SHORTEST;
        if let Some(other) = placed.iter().find(near) {
            report.push(MarkError::TakesOverlap { edge, span: new.span, other: other.span });
        }
        placed.push(new);
    }
    placed
}

/// Those of a piece, on its own edges. A dart that a split runs through is reported, on one of the pieces it would fall to.
pub(crate) fn on_piece(sheet: &Sheet, drawn: &Drawn, takes: &[Take], input: &PanelInput, report: &mut Report<'_>) -> Vec<Take> {
    let (points, _) = super::outline::flatten(sheet.outline.edges.iter().map(|e| &e.path));
    let mut found = Vec::new();
    for take in takes {
        let mine = self::found(sheet, take);
        let middle = f64::midpoint(take.from, take.to);
        let mut torn = mine.is_empty() && !sheet.find(take.edge, middle, middle).is_empty();
        for here in mine {
            if let (TakeKind::Dart { deep }, false) = (take.kind, input.splits.is_empty()) {
                torn |= check_dart(&sheet.outline, &here, deep, &points).is_err();
            }
            found.push(here);
        }
        if torn {
            let edge = drawn.work(take.edge).map(|w| w.name.clone()).unwrap_or_default();
            report.push(MarkError::TakeSplit { kind: take.kind_name(), edge, span: take.span });
        }
    }
    found
}

/// Where a dart or pleat lies on the edges of a piece.
pub(crate) fn found(sheet: &Sheet, take: &Take) -> Vec<Take> {
    let here = |s: Stretch| Take { edge: s.edge, from: s.from, to: s.to, ..take.clone() };
    sheet.find(take.edge, take.from, take.to).into_iter().map(here).collect()
}

fn find(outline: &Outline, take: &TakeInput) -> Result<Take, OutlineError> {
    let edge = outline.find(&take.edge.0, take.edge.1)?;
    let middle = outline.place(edge, take.at, take.from.as_ref())?;
    let usable = |what, size: f64| {
        let sound = size.is_finite() && size >= SHORTEST;
        if sound { Ok(()) } else { Err(OutlineError::UnusableSize { what, size, span: take.span }) }
    };
    match take.kind {
        TakeKind::Dart { deep } => {
            usable("the width of this dart", take.take)?;
            usable("the depth of this dart", deep)?;
        }
        TakeKind::Pleat => usable("what this pleat takes", take.take)?,
    }
    if !middle.is_finite() {
        return Err(OutlineError::UnusableSize { what: "this place", size: middle, span: take.span });
    }
    let half = take.take / 2.0;
    Ok(Take { edge, from: middle - half, to: middle + half, kind: take.kind, span: take.span })
}

fn inside(outline: &Outline, take: Take, input: &TakeInput) -> Result<Take, MarkError> {
    let Some(work) = outline.edges.get(take.edge) else { return Ok(take) };
    let length = work.path.length();
    if take.from < -SHORTEST || take.to > length + SHORTEST {
        return Err(MarkError::TakePastEnd {
            kind: name(take.kind),
            edge: work.name.clone(),
            length,
            from: take.from,
            to: take.to,
            span: input.span,
        });
    }
    Ok(take)
}

/// The legs of a dart and its point.
pub(crate) fn legs(path: &Path, take: &Take, deep: f64) -> [Point; 3] {
    let middle = f64::midpoint(take.from, take.to);
    let point = path.point_at(middle) + path.tangent_at(middle).left() * deep;
    [path.point_at(take.from), point, path.point_at(take.to)]
}

/// The cloth that each dart takes in.
pub(crate) fn intakes(outline: &Outline, takes: &[Take]) -> Vec<Intake> {
    let one = |take: &Take| {
        let TakeKind::Dart { deep } = take.kind else { return None };
        let work = outline.edges.get(take.edge)?;
        Some(Intake { edge: work.name.clone(), legs: legs(&work.path, take, deep), span: take.span })
    };
    takes.iter().filter_map(one).collect()
}

/// A dart's point and legs must lie inside.
fn check_dart(outline: &Outline, take: &Take, deep: f64, points: &[Point]) -> Result<(), MarkError> {
    let Some(work) = outline.edges.get(take.edge) else { return Ok(()) };
    let [one, tip, two] = legs(&work.path, take, deep);
    // The legs stand on the outline: looked at from a little way in.
    let [a, b] = [one, two].map(|leg| leg.lerp(tip, 0.01));
    if encloses(points, tip) && distance_to(points, tip) > SHORTEST && crossing_between(&[a, tip, b], points).is_none() {
        return Ok(());
    }
    let middle = one.lerp(two, 0.5);
    let inward = (tip - middle).unit();
    let ray = Path::line(middle + inward * SHORTEST, middle + inward * (2.0 * deep + 1.0));
    let room = meetings(&ray, &outline.path()).first().map_or(0.0, |m| m.first);
    Err(MarkError::DartTooDeep { edge: work.name.clone(), deep, room, span: take.span })
}

/// Lines of darts and pleats: a dart's legs as one line, a pleat's two folds from the cut line into the piece.
pub(crate) fn lines(outline: &Outline, allowances: &[f64], takes: &[Take]) -> Vec<(String, Path)> {
    let (points, _) = super::outline::flatten(outline.edges.iter().map(|e| &e.path));
    let mut lines = Vec::new();
    for take in takes {
        let Some(work) = outline.edges.get(take.edge) else { continue };
        let of = format!("{} {}", take.kind_name(), work.name);
        match take.kind {
            TakeKind::Dart { deep } => lines.extend(Path::polyline(&legs(&work.path, take, deep)).map(|path| (of, path))),
            TakeKind::Pleat => {
                let allowance = allowances.get(take.edge).copied().unwrap_or(0.0);
                for at in [take.from, take.to] {
                    let (on, outward) = (work.path.point_at(at), work.path.tangent_at(at).right());
                    // As far in as the pleat takes, where the piece reaches so far.
                    let deep = [take.to - take.from, 0.0].into_iter().find(|d| encloses(&points, on - outward * *d)).unwrap_or(0.0);
                    if allowance + deep > LOOK {
                        lines.push((of.clone(), Path::line(on + outward * allowance, on - outward * deep)));
                    }
                }
            }
        }
    }
    lines
}
