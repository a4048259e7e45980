//! Chains of edges as they are sewn: which way each is walked, how far along a place lies, and where their joints come to lie.

use super::{EdgeId, EdgeSide, MarkShape, Piece};
use crate::geometry::{Path, Point};

/// Places closer than this are one to who pins them, mm. Trade habit.
pub(super) const SAME_PLACE: f64 = 2.0;

/// So near (mm) to an edge a place lies on it.
const ON: f64 = 0.5;

/// A run of a chain, and which way the chain goes along it.
#[derive(Debug, Clone)]
pub(crate) struct Run<'d> {
    /// What is sewn.
    pub(crate) side: EdgeSide,
    /// Whether it is walked as its outline runs.
    pub(crate) along: bool,
    pub(super) piece: &'d Piece,
    path: &'d Path,
}

impl<'d> Run<'d> {
    pub(super) fn new(pieces: &'d [Piece], side: &EdgeSide, along: bool) -> Option<Self> {
        let piece = pieces.get(side.piece.index())?;
        let path = match &side.line {
            None => &piece.edges.get(side.edge.index())?.path,
            Some(line) => piece.marks.iter().find_map(|m| match &m.shape {
                MarkShape::Line { path } if m.name == *line => Some(path),
                _ => None,
            })?,
        };
        Some(Self { side: side.clone(), along, piece, path })
    }

    /// Which way it goes, seen from the face of what it is part of: of two runs that lie on each other one goes each way.
    pub(super) fn hand(&self) -> bool {
        self.along != self.piece.is_mirrored(self.side.copy)
    }

    pub(super) fn turned(mut self) -> Self {
        self.along = !self.along;
        self
    }

    fn sewn(&self, from: f64, to: f64) -> f64 {
        match self.side.line {
            Some(_) => to - from,
            None => self.piece.sewn_between(self.side.edge, from, to),
        }
    }

    fn ends(&self) -> (f64, f64) {
        (self.side.from.as_mm(), self.side.to.as_mm())
    }

    /// How long it is, darts and pleats taken.
    pub(super) fn length(&self) -> f64 {
        let (from, to) = self.ends();
        self.sewn(from, to)
    }

    /// The place on its edge, from the edge's start, that lies so far along as it is walked.
    fn place(&self, distance: f64) -> f64 {
        let (from, to) = self.ends();
        let wanted = if self.along { distance } else { self.length() - distance };
        // What darts take makes it no straight rule; it never goes back.
        let (mut low, mut high) = (from, to);
        for _ in 0..50 {
            let middle = f64::midpoint(low, high);
            if self.sewn(from, middle) < wanted { low = middle } else { high = middle }
        }
        high
    }

    /// The place, in its piece's own space, that lies so far along.
    pub(super) fn at(&self, distance: f64) -> Point {
        self.path.point_at(self.place(distance))
    }

    /// Where it begins and where it ends.
    pub(super) fn start_and_end(&self) -> (Point, Point) {
        let (from, to) = self.ends();
        let (a, b) = (self.path.point_at(from), self.path.point_at(to));
        if self.along { (a, b) } else { (b, a) }
    }

    /// How far along a place lies: nowhere, once, or at both ends of a ring.
    pub(super) fn find(&self, place: Point) -> Vec<f64> {
        let (start, end) = self.start_and_end();
        let length = self.length();
        let mut found = Vec::new();
        if start.distance(place) <= SAME_PLACE {
            found.push(0.0);
        }
        if end.distance(place) <= SAME_PLACE {
            found.push(length);
        }
        let (from, to) = self.ends();
        if let (true, Some(near)) = (found.is_empty(), self.path.nearest(place))
            && near.distance <= ON
            && (from..=to).contains(&near.along)
        {
            found.push(if self.along { self.sewn(from, near.along) } else { self.sewn(near.along, to) });
        }
        found
    }
}

/// The length of a chain.
pub(super) fn length(chain: &[Run<'_>]) -> f64 {
    chain.iter().map(Run::length).sum()
}

/// The run of a chain that lies so far along it, and how far along that run.
pub(super) fn run_at<'r, 'd>(chain: &'r [Run<'d>], distance: f64) -> Option<(&'r Run<'d>, f64)> {
    let mut left = distance;
    for (index, run) in chain.iter().enumerate() {
        let length = run.length();
        if left <= length || index + 1 == chain.len() {
            return Some((run, left.clamp(0.0, length)));
        }
        left -= length;
    }
    None
}

/// A joint between two runs of one side of a seam that comes to lie within a run of the other side.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Joint {
    /// The runs that meet there.
    pub(crate) between: [EdgeSide; 2],
    /// What lies on it.
    pub(crate) on: EdgeSide,
    /// How far, mm, from the end of that edge at which the chain comes to it.
    pub(crate) distance: f64,
    /// The name of that end; empty where it has none.
    pub(crate) from_end: String,
}

/// Joints of either side of a seam that don't lie on a joint of the other. Ease and gathers are spread evenly.
pub(crate) fn joints_apart(sides: &[Vec<Run<'_>>; 2]) -> Vec<Joint> {
    let [first, second] = sides;
    let mut all = Vec::new();
    for (one, other) in [(first, second), (second, first)] {
        let share = length(other) / length(one).max(f64::MIN_POSITIVE);
        let others: Vec<f64> = joints(other).collect();
        for (at, pair) in joints(one).map(|at| at * share).zip(one.windows(2)) {
            let ([a, b], true) = (pair, others.iter().all(|o| (o - at).abs() > SAME_PLACE)) else { continue };
            if let Some(joint) = run_at(other, at).and_then(|(run, far)| joint([a, b], run, far)) {
                all.push(joint);
            }
        }
    }
    all
}

/// How far along a chain one of its runs ends and the next begins.
pub(super) fn joints<'c>(chain: &'c [Run<'_>]) -> impl Iterator<Item = f64> + 'c {
    let mut sum = 0.0;
    let ends = chain.iter().map(move |run| {
        sum += run.length();
        sum
    });
    ends.take(chain.len().saturating_sub(1))
}

/// A joint on a run. On a piece of one closed edge there is nothing to measure from.
fn joint([a, b]: [&Run<'_>; 2], on: &Run<'_>, far: f64) -> Option<Joint> {
    let place = on.place(far);
    let between = [a.side.clone(), b.side.clone()];
    if on.side.line.is_some() {
        return Some(Joint { between, on: on.side.clone(), distance: far, from_end: String::new() });
    }
    let edge = on.piece.edges.get(on.side.edge.index()).filter(|_| on.piece.edges.len() > 1)?;
    let (distance, from_end) = if on.along { (place, &edge.start_neighbour) } else { (edge.length.as_mm() - place, &edge.end_neighbour) };
    Some(Joint { between, on: on.side.clone(), distance, from_end: from_end.clone() })
}

impl Piece {
    /// How long a stretch of an edge is once the darts and pleats in it have taken theirs: these are sewn before any seam along it.
    #[must_use]
    pub fn sewn_between(&self, edge: EdgeId, from: f64, to: f64) -> f64 {
        let Some(found) = self.edges.get(edge.index()) else { return to - from };
        let taken = found.length.as_mm() - found.sewn_length.as_mm();
        if taken <= NOTHING {
            return to - from;
        }
        // Each stands between two notches, in outline order, where the allowance is wide enough for these.
        let folds = self.notches.iter().filter(|n| n.edge == edge && n.reason == super::NotchReason::Fold);
        let legs: Vec<f64> = folds.map(|n| n.at.as_mm()).collect();
        let takes = || legs.chunks_exact(2).filter_map(|pair| if let [a, b] = pair { Some((*a, *b)) } else { None });
        let all_seen = (takes().map(|(a, b)| b - a).sum::<f64>() - taken).abs() < ON;
        if all_seen {
            return to - from - takes().map(|(a, b)| (b.min(to) - a.max(from)).max(0.0)).sum::<f64>();
        }
        (to - from) * (1.0 - taken / found.length.as_mm())
    }
}

/// Darts that take less than this (mm) are none: rounding noise.
const NOTHING: f64 = 1e-6;
