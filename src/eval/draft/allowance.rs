//! Which allowance and which folds each edge has, and the line beside it at that distance.

use super::PanelInput;
use super::error::{CutError, MOST_STRAIN, OutlineError, Report};
use super::outline::{End, Outline, SHORTEST, straight_from};
use super::sheet::{Drawn, Sheet};
use crate::geometry::{OffsetError, Path, Side};
use crate::source::Span;
use std::collections::{BTreeMap, BTreeSet};

/// An edge's allowance and folds, and its cut line before corners are worked out.
#[derive(Debug, Clone)]
pub(crate) struct Beside {
    pub(crate) allowance: f64,
    /// Where the allowance is said.
    pub(crate) said: Span,
    /// Distances of fold lines outward, from 0 up; empty when it is no hem.
    pub(crate) folds: Vec<f64>,
    /// Where the folds are said.
    pub(crate) folds_said: Span,
    /// The line at the allowance's distance, as long as the edge.
    pub(crate) line: Path,
    /// Its length.
    pub(crate) length: f64,
}

impl Beside {
    pub(crate) const fn is_hem(&self) -> bool {
        !self.folds.is_empty()
    }
}

/// What is said of an edge or a split line as it is drawn.
#[derive(Debug, Clone)]
pub(crate) struct Figures {
    pub(crate) allowance: f64,
    /// Where the allowance is said.
    said: Span,
    /// Distances of fold lines outward, from 0 up.
    folds: Vec<f64>,
    folds_said: Span,
}

/// One for each drawn edge and split line; none when one makes no sense.
pub(crate) fn figures(drawn: &Drawn, input: &PanelInput, report: &mut Report<'_>) -> Option<Vec<Figures>> {
    check_allowances(drawn, input, report);
    let folds = resolve_folds(drawn, input, report);
    if report.has_failed() {
        return None;
    }
    let mut all = Vec::new();
    for ((work, (allowance, said)), (folds, folds_said)) in drawn.works().zip(widths(drawn, input)).zip(folds) {
        if let Some(fold) = folds.iter().find(|f| **f > allowance + SHORTEST) {
            report.push(CutError::FoldPastAllowance { edge: work.name.clone(), fold: *fold, allowance, span: folds_said });
            continue;
        }
        all.push(Figures { allowance, said, folds, folds_said });
    }
    (!report.has_failed()).then_some(all)
}

/// One for each edge of a piece; none when an allowance can't be cut.
pub(crate) fn resolve(sheet: &Sheet, figures: &[Figures], report: &mut Report<'_>) -> Option<Vec<Beside>> {
    let mut all = Vec::new();
    for (index, work) in sheet.outline.edges.iter().enumerate() {
        let of = sheet.source(index).and_then(|i| figures.get(i))?;
        let line = match work.path.offset(of.allowance) {
            Ok(line) => line,
            Err(OffsetError::Tight(bend)) => {
                let (edge, allowance) = (work.name.clone(), of.allowance);
                report.push(CutError::ExceedsCurve { edge, allowance, radius: bend.radius, span: work.span, said: of.said });
                continue;
            }
            Err(OffsetError::Crowded { .. }) => {
                let edge = work.name.clone();
                report.push(CutError::Crosses {
                    first: edge.clone(),
                    second: edge,
                    allowances: (of.allowance, of.allowance),
                    first_span: work.span,
                    second_span: work.span,
                });
                continue;
            }
        };
        let length = line.length();
        let Figures { allowance, said, folds, folds_said } = of.clone();
        all.push(Beside { allowance, said, folds, folds_said, line, length });
    }
    (!report.has_failed()).then_some(all)
}

fn check_allowances(drawn: &Drawn, input: &PanelInput, report: &mut Report<'_>) {
    let known: BTreeSet<&str> = drawn.works().map(|w| w.name.as_str()).collect();
    let single = input.allow.iter().map(|(name, width, span)| (Some(name), *width, *span));
    let all = input.allow_all.map(|(width, span)| (None, width, span));
    for (name, width, span) in single.chain(all) {
        if let Some(name) = name.filter(|n| !known.contains(n.as_str())) {
            report.take(drawn.find(name, span));
        }
        if !width.is_finite() {
            report.push(OutlineError::UnusableSize { what: "this allowance", size: width, span });
        } else if width < 0.0 {
            report.push(CutError::Negative { edge: name.cloned(), allowance: width, span });
        }
    }
}

/// The folds of each edge and where they are said; the finished edge of a hem is itself a fold.
fn resolve_folds(drawn: &Drawn, input: &PanelInput, report: &mut Report<'_>) -> Vec<(Vec<f64>, Span)> {
    let mut all: Vec<(Vec<f64>, Span)> = drawn.works().map(|e| (Vec::new(), e.span)).collect();
    for (name, distances, span) in &input.folds {
        // An edge that is not there has been told of where its allowance is said.
        let Ok(index) = drawn.find(name, *span) else { continue };
        if let Some(bad) = distances.iter().find(|d| !(d.is_finite() && **d >= 0.0)) {
            report.push(OutlineError::UnusableSize { what: "the distance of a fold", size: *bad, span: *span });
            continue;
        }
        let mut folds = distances.clone();
        if !folds.is_empty() {
            folds.push(0.0);
        }
        folds.sort_by(f64::total_cmp);
        folds.dedup_by(|a, b| (*a - *b).abs() < SHORTEST);
        if let Some(slot) = all.get_mut(index) {
            *slot = (folds, *span);
        }
    }
    all
}

/// The allowance of each edge and where it is said. What names the edge wins, the last of several. An edge made by a
/// corner takes that of its neighbours where both have the same; else the panel's own; else the larger of the two.
fn widths(drawn: &Drawn, input: &PanelInput) -> Vec<(f64, Span)> {
    let outline = &drawn.outline;
    let said: BTreeMap<&str, (f64, Span)> = input.allow.iter().map(|(name, width, span)| (name.as_str(), (*width, *span))).collect();
    let as_drawn: BTreeSet<&str> = input.edges.iter().map(|e| e.name.as_str()).collect();
    let named = |name: &str| said.get(name).copied();
    let of_drawn = |name: &str| named(name).or(input.allow_all).unwrap_or((0.0, input.span));
    let is_drawn = |name: &str| as_drawn.contains(name);
    let drawn_beside = |index: usize, step: fn(&Outline, usize) -> usize| {
        let mut at = step(outline, index);
        for _ in 0..outline.edges.len() {
            match outline.edges.get(at) {
                Some(work) if is_drawn(&work.name) => return of_drawn(&work.name),
                _ => at = step(outline, at),
            }
        }
        (0.0, input.span)
    };
    let of_corner = |index: usize| {
        let (before, after) = (drawn_beside(index, Outline::before), drawn_beside(index, Outline::after));
        let larger = if before.0 >= after.0 { before } else { after };
        if (before.0 - after.0).abs() < SHORTEST { before } else { input.allow_all.unwrap_or(larger) }
    };
    let width = |(index, work): (usize, &super::outline::Work)| match named(&work.name) {
        Some(said) => said,
        None if is_drawn(&work.name) => of_drawn(&work.name),
        None => of_corner(index),
    };
    let lines = drawn.lines.iter().map(|line| of_drawn(&line.work.name));
    outline.edges.iter().enumerate().map(width).chain(lines).collect()
}

/// Warns of hems that won't lie flat or reach too far in.
pub(crate) fn check_hems(outline: &Outline, besides: &[Beside], report: &mut Report<'_>) {
    for (work, beside) in outline.edges.iter().zip(besides).filter(|(_, b)| b.is_hem()) {
        let deep = deepest_strip(beside);
        let bends = [Side::Left, Side::Right].into_iter().filter_map(|side| work.path.tightest(side));
        let radius = bends.map(|b| b.radius).fold(f64::INFINITY, f64::min);
        let edge = work.name.clone();
        if deep > radius * MOST_STRAIN {
            report.push(CutError::CurvedHem { edge: edge.clone(), deep, radius, span: beside.folds_said });
        }
        let piece = depth(outline, &work.path);
        if deep > piece / 2.0 {
            report.push(CutError::DeepHem { edge, deep, piece, span: beside.folds_said });
        }
    }
}

/// The widest strip between two folds, or between the last fold and the raw edge.
fn deepest_strip(beside: &Beside) -> f64 {
    let ends = beside.folds.iter().skip(1).copied().chain(std::iter::once(beside.allowance));
    beside.folds.iter().zip(ends).map(|(from, to)| to - from).fold(0.0, f64::max)
}

/// How far the piece reaches inward from an edge, at right angles to its chord.
fn depth(outline: &Outline, edge: &Path) -> f64 {
    let chord = edge.end() - edge.start;
    let along = if chord.length() > SHORTEST { chord.unit() } else { edge.tangent_at_start() };
    let inward = along.left();
    let bounds = outline.path().flatten(super::outline::LOOK);
    bounds.iter().map(|p| (*p - edge.start).dot(inward)).fold(0.0, f64::max)
}

/// Whether a hem's corner at an end of its edge can be folded about a straight line; when not, the tightest radius there.
pub(crate) fn fold_line_is_straight(path: &Path, end: End, allowance: f64) -> Result<(), f64> {
    if straight_from(path, end) >= allowance.min(path.length() - SHORTEST) {
        return Ok(());
    }
    let radius = |side| path.tightest(side).map_or(f64::INFINITY, |b| b.radius);
    let tightest = radius(Side::Left).min(radius(Side::Right));
    let gentle = tightest.is_finite() && allowance <= tightest * MOST_STRAIN;
    if gentle { Ok(()) } else { Err(tightest) }
}
