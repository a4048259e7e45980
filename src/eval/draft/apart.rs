//! Notches keep clear of each other: cloth between two that run into each other falls out, and neither can be read.

use super::error::{MarkError, Report};
use super::outline::{LOOK, Outline, SHORTEST};
use super::take::Take;
use crate::geometry::{Point, crossing_between, encloses};
use crate::ir::{Notch, NotchReason, NotchShape};
use crate::source::Span;
use std::collections::BTreeSet;

/// What stands at one place: a notch, or several side by side.
struct Row<'n> {
    notches: Vec<&'n Notch>,
    /// The stretch of its edge that it takes.
    from: f64,
    to: f64,
    shapes: Vec<Vec<Point>>,
    /// Nothing of it lies farther from its first foot than this.
    reach: f64,
}

impl<'n> Row<'n> {
    fn of(notches: Vec<&'n Notch>) -> Option<Self> {
        let (first, last) = (notches.first()?, notches.last()?);
        let half = first.width.as_mm() / 2.0;
        let (from, to) = (first.at.as_mm() - half, last.at.as_mm() + half);
        let shapes = notches.iter().flat_map(|n| &n.lines).map(|line| line.flatten(LOOK)).collect();
        let reach = first.point.distance(last.point) + first.width.as_mm() + first.depth.as_mm();
        Some(Self { from, to, shapes, reach, notches })
    }

    fn first(&self) -> Option<&'n Notch> {
        self.notches.first().copied()
    }

    fn meets(&self, other: &Self) -> bool {
        let (Some(a), Some(b)) = (self.first(), other.first()) else { return false };
        if a.point.distance(b.point) > self.reach + other.reach {
            return false;
        }
        let side_by_side = a.edge == b.edge && self.from < other.to - SHORTEST && other.from < self.to - SHORTEST;
        let inside = |shape: &[Point], of: &[Point]| of.len() > 2 && shape.first().is_some_and(|p| encloses(of, *p));
        let cross = |one: &Vec<Point>, two: &Vec<Point>| crossing_between(one, two).is_some() || inside(one, two) || inside(two, one);
        side_by_side || self.shapes.iter().any(|one| other.shapes.iter().any(|two| cross(one, two)))
    }
}

/// Reports notches of a piece that run into each other, once for two lines of the source.
pub(crate) fn check(outline: &Outline, notches: &[Notch], report: &mut Report<'_>) {
    let alike = |a: &Notch, b: &Notch| a.edge == b.edge && a.place == b.place && a.origin == b.origin;
    let all: Vec<&Notch> = notches.iter().collect();
    let rows: Vec<Row<'_>> = all.chunk_by(|a, b| alike(a, b)).filter_map(|row| Row::of(row.to_vec())).collect();
    let mut told: BTreeSet<(Span, Span)> = BTreeSet::new();
    for (index, one) in rows.iter().enumerate() {
        for other in rows.iter().skip(index + 1).filter(|other| one.meets(other)) {
            let (Some(a), Some(b)) = (one.first(), other.first()) else { continue };
            if told.insert((a.origin.min(b.origin), a.origin.max(b.origin))) {
                report.push(overlap(outline, a, b));
            }
        }
    }
}

fn overlap(outline: &Outline, a: &Notch, b: &Notch) -> MarkError {
    let place = |n: &Notch| {
        let work = outline.edges.get(n.edge.index());
        let (edge, end) = work.map_or_else(Default::default, |w| (w.name.clone(), w.start_neighbour.clone()));
        (edge, n.place.as_mm(), end)
    };
    let (a, b) = if a.reason == NotchReason::Fold { (b, a) } else { (a, b) };
    MarkError::NotchesOverlap {
        places: Box::new([place(a), place(b)]),
        of_fold: b.reason == NotchReason::Fold,
        spans: [a.origin, b.origin],
    }
}

/// Warns of notches between the legs of a dart or a pleat: folded, they show on no edge. A slit at the middle marks it.
pub(crate) fn check_folded_away(outline: &Outline, notches: &[Notch], takes: &[Take], report: &mut Report<'_>) {
    let mut told: BTreeSet<Span> = BTreeSet::new();
    for notch in notches.iter().filter(|n| n.reason == NotchReason::Asked) {
        let at = notch.place.as_mm();
        let slit = notch.shape == NotchShape::Slit && notch.rows == 1;
        let marks_middle = |t: &Take| slit && (at - f64::midpoint(t.from, t.to)).abs() < super::outline::SAME;
        let within = |t: &&Take| t.edge == notch.edge.index() && at > t.from + SHORTEST && at < t.to - SHORTEST && !marks_middle(t);
        let Some(take) = takes.iter().find(within).filter(|_| told.insert(notch.origin)) else { continue };
        let edge = outline.edges.get(take.edge).map(|w| w.name.clone()).unwrap_or_default();
        let what = notch.shape.counted(notch.rows);
        report.push(MarkError::NotchFoldedAway { kind: take.kind_name(), edge, what, span: notch.origin, take: take.span });
    }
}
