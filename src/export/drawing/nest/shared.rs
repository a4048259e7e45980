//! Where the lines of several sizes run together.
//!
//! Dashes of one size over those of another would make a line of neither. So what runs together is drawn once, in a
//! plain line, and a size's own line is the rest.

use crate::geometry::{Path, Point, Segment};
use std::ops::Range;

/// Lines no farther apart than this (mm) are one to the eye.
const TOGETHER: f64 = 0.1;
/// Stretches shorter than this (mm) are no line.
const SLIVER: f64 = 0.2;

/// A path taken apart.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Parts {
    /// What no other path runs along.
    pub(super) own: Vec<Path>,
    /// What others run along; once, with the first of them.
    pub(super) shared: Vec<Path>,
}

/// A stretch of a segment, as parts of it from 0 to 1.
type Stretch = Range<f64>;

/// Takes paths apart, each against all others.
pub(super) fn parts(paths: &[Path]) -> Vec<Parts> {
    (0..paths.len()).map(|index| of_one(paths, index)).collect()
}

fn of_one(paths: &[Path], index: usize) -> Parts {
    let mut parts = Parts::default();
    let Some(path) = paths.get(index) else { return parts };
    let others = |mine: &Range<usize>| -> Vec<&Path> { paths.get(mine.clone()).into_iter().flatten().collect() };
    let (before, after) = (others(&(0..index)), others(&(index + 1..paths.len())));
    let (mut own, mut shared) = (Runs::default(), Runs::default());
    for curve in path.curves() {
        let length = curve.length();
        let (drawn, again) = (along(&before, curve.start, &curve.segment), along(&after, curve.start, &curve.segment));
        let mut cuts: Vec<f64> = drawn.iter().chain(&again).flat_map(|s| [s.start, s.end]).chain([0.0, 1.0]).collect();
        cuts.sort_by(f64::total_cmp);
        for (from, to) in cuts.iter().copied().zip(cuts.iter().copied().skip(1)) {
            if (to - from) * length <= 1e-6 {
                continue;
            }
            let middle = f64::midpoint(from, to);
            let within = |all: &[Stretch]| all.iter().any(|s| s.contains(&middle));
            let whole = from <= 0.0 && to >= 1.0;
            let part = if whole {
                Path { start: curve.start, segments: vec![curve.segment] }
            } else {
                Path { start: curve.start, segments: vec![curve.segment] }.subpath(from * length, to * length)
            };
            match (within(&drawn), within(&again)) {
                (true, _) => {}
                (false, true) => shared.add(part),
                (false, false) => own.add(part),
            }
        }
    }
    parts.own = own.done();
    parts.shared = shared.done();
    parts
}

/// Stretches of a segment along which one of the paths runs.
fn along(paths: &[&Path], start: Point, segment: &Segment) -> Vec<Stretch> {
    let curves = paths.iter().flat_map(|p| p.curves());
    curves
        .filter_map(|other| match (segment, other.segment) {
            (Segment::Line { end }, Segment::Line { end: to }) => straight((start, *end), (other.start, to)),
            (a, b) => (close(start, other.start) && alike(a, &b)).then_some(0.0..1.0),
        })
        .collect()
}

fn close(a: Point, b: Point) -> bool {
    a.distance(b) <= TOGETHER
}

fn alike(a: &Segment, b: &Segment) -> bool {
    match (a, b) {
        (Segment::Arc { end: a, bulge: s }, Segment::Arc { end: b, bulge: t }) => close(*a, *b) && (s - t).abs() <= 1e-6,
        (Segment::Cubic { leaving: a, arriving: b, end: c }, Segment::Cubic { leaving: d, arriving: e, end: f }) => {
            close(*a, *d) && close(*b, *e) && close(*c, *f)
        }
        _ => false,
    }
}

/// The stretch of one straight along which another runs.
fn straight((a, b): (Point, Point), (c, d): (Point, Point)) -> Option<Stretch> {
    let length = a.distance(b);
    if length <= SLIVER {
        return (close(a, c) && close(b, d)).then_some(0.0..1.0);
    }
    let along = (b - a).unit();
    let ((x, off), (y, off_too)) = ((along.dot(c - a), along.cross(c - a)), (along.dot(d - a), along.cross(d - a)));
    // Two that cross at a slant are near each other for a moment, which is not running together.
    if off.abs() > TOGETHER || off_too.abs() > TOGETHER {
        return None;
    }
    let (from, to) = (x.min(y).max(0.0), x.max(y).min(length));
    (to - from > SLIVER).then_some(from / length..to / length)
}

/// Paths made of parts, each of which goes on where the last ended or begins a new path.
#[derive(Debug, Default)]
struct Runs(Vec<Path>);

impl Runs {
    fn add(&mut self, part: Path) {
        match self.0.last_mut().filter(|last| last.end().distance(part.start) <= 1e-6) {
            Some(last) => last.segments.extend(part.segments),
            None => self.0.push(part),
        }
    }

    /// The paths without slivers; the last joined to the first where it leads to it.
    fn done(mut self) -> Vec<Path> {
        let joins = self.0.last().zip(self.0.first()).is_some_and(|(last, first)| last.end().distance(first.start) <= 1e-6);
        if joins
            && self.0.len() > 1
            && let Some(mut last) = self.0.pop()
            && let Some(first) = self.0.first_mut()
        {
            last.segments.append(&mut first.segments);
            *first = last;
        }
        self.0.retain(|p| p.length() > SLIVER);
        self.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rectangle(w: f64, h: f64) -> Path {
        Path::polygon(&[Point::new(0.0, 0.0), Point::new(w, 0.0), Point::new(w, h), Point::new(0.0, h)]).expect("it has corners")
    }

    fn lengths(paths: &[Path]) -> Vec<f64> {
        paths.iter().map(Path::length).collect()
    }

    #[test]
    fn what_runs_together_is_drawn_once() {
        let all = parts(&[rectangle(100.0, 50.0), rectangle(120.0, 60.0), rectangle(150.0, 80.0)]);
        // Foot and left of the smallest lie on both others; of the second, 20 more of the foot and 10 more of the left lie on the third.
        let found: Vec<(Vec<f64>, Vec<f64>)> = all.iter().map(|p| (lengths(&p.own), lengths(&p.shared))).collect();
        assert_eq!(found[0], (vec![150.0], vec![150.0]));
        assert_eq!(found[1], (vec![180.0], vec![20.0, 10.0]));
        // Of the third, the rest: 30 of the foot, right, head, 20 of the left, in one.
        assert_eq!(found[2], (vec![30.0 + 80.0 + 150.0 + 20.0], vec![]));
        let first = &all[0].shared[0];
        assert_eq!((first.start, first.end()), (Point::new(0.0, 50.0), Point::new(100.0, 0.0)), "around the corner in one");
    }

    #[test]
    fn a_line_alone_stays_whole_and_one_twice_is_shared_whole() {
        let all = parts(&[rectangle(100.0, 50.0)]);
        assert_eq!(all[0].own, [rectangle(100.0, 50.0)]);
        let ring = Path::circle(Point::new(5.0, 5.0), 40.0);
        let all = parts(&[ring.clone(), ring.clone()]);
        assert_eq!((all[0].own.len(), &all[0].shared), (0, &vec![ring]));
        assert_eq!(all[1], Parts::default());
    }

    #[test]
    fn lines_that_only_cross_are_not_shared() {
        let flat = Path::line(Point::new(0.0, 0.0), Point::new(1000.0, 0.0));
        let slant = Path::line(Point::new(0.0, -1.0), Point::new(1000.0, 1.0));
        let all = parts(&[flat.clone(), slant.clone()]);
        assert_eq!((&all[0].own, &all[1].own), (&vec![flat], &vec![slant]));
    }
}
