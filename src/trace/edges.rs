//! Names for the runs between an outline's corners.

use super::error::TraceError;
use super::{CLOSE, Drawn, place};
use crate::geometry::{Path, Point, Segment, Vector};
use crate::source::Span;

/// Corners no higher above the lowest than this part of the outline's height count as low: the leftmost of these comes first.
const LOW: f64 = 0.1;

/// An edge's end may be named by a place this part of the outline's size off it: as far off as one points by hand.
const OFF: f64 = 0.01;

/// A joint of two strokes this near to such a place is what is meant.
const JOINT: f64 = 0.002;

/// A name for an edge.
#[derive(Debug, Clone, PartialEq)]
pub struct Named {
    /// The name.
    pub name: String,
    /// Where it ends, if that is said.
    pub end: Option<End>,
    /// Where it is named.
    pub span: Span,
}

/// Where an edge ends, in the drawing's own units and directions.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct End {
    /// The place.
    pub at: (f64, f64),
    /// Where it is said.
    pub span: Span,
}

impl Drawn {
    /// The edges in the order of their names, in mm, the lower left corner of the box round them at the origin.
    ///
    /// An edge runs from one corner to the next: from where the outline turns by more than `turn` (radians), or is said
    /// to end an edge, to the next such place. The first begins at the lowest corner on the left, and they follow each
    /// other counter-clockwise.
    ///
    /// # Errors
    /// When there are more or fewer names than runs, or an edge does not end where it is said to.
    pub fn edges(&self, names: &[Named], turn: f64, unit: f64, span: Span) -> Result<Vec<Path>, TraceError> {
        let mut ring = Ring::new(&self.path, turn);
        let mut ends = Vec::new();
        for named in names {
            ends.push(match &named.end {
                Some(end) => Some(self.end(&mut ring, named, *end)?),
                None => None,
            });
        }
        ring.begin_low_on_the_left();
        let runs = ring.runs();
        if runs.len() != names.len() {
            let corners = runs.iter().map(|r| (place(r.start, self.down), r.length() * unit)).collect();
            let file_turn = turn.to_degrees();
            return Err(TraceError::Names { names: names.len(), corners, turn: file_turn, none: ring.breaks() == 0, span });
        }
        for ((named, end), run) in names.iter().zip(&ends).zip(&runs) {
            if let (Some(said), Some(wanted)) = (&named.end, end)
                && run.end().distance(*wanted) > self.size() * CLOSE
            {
                let ends = (place(*wanted, self.down), place(run.end(), self.down));
                return Err(TraceError::EndsElsewhere { edge: named.name.clone(), ends, span: said.span });
            }
        }
        let origin = self.path.bounds().min;
        let home = Vector::new(-origin.x, -origin.y) * unit;
        Ok(runs.iter().map(|run| run.scaled(unit).translated(home)).collect())
    }

    fn size(&self) -> f64 {
        let bounds = self.path.bounds();
        bounds.min.distance(bounds.max)
    }

    /// Makes a place the end of an edge; gives where on the outline that is.
    fn end(&self, ring: &mut Ring, named: &Named, end: End) -> Result<Point, TraceError> {
        let wanted = Point::new(end.at.0, if self.down { -end.at.1 } else { end.at.1 });
        let found = ring.nearest(wanted, self.size());
        if found.distance(wanted) > OFF * self.size() || !wanted.is_finite() {
            let (place, nearest) = (place(wanted, self.down), place(found, self.down));
            return Err(TraceError::EndOff { edge: named.name.clone(), place, nearest, span: end.span });
        }
        Ok(found)
    }
}

/// A closed path stroke by stroke, with what begins an edge.
struct Ring {
    strokes: Vec<Stroke>,
}

struct Stroke {
    path: Path,
    begins: bool,
}

impl Ring {
    fn new(path: &Path, turn: f64) -> Self {
        let mut at = path.start;
        let mut strokes: Vec<Stroke> = Vec::with_capacity(path.segments.len());
        for segment in &path.segments {
            strokes.push(Stroke { path: Path { start: at, segments: vec![*segment] }, begins: false });
            at = segment.end();
        }
        let arriving: Vec<Vector> = strokes.iter().map(|s| s.path.tangent_at_end()).collect();
        let before = arriving.iter().cycle().skip(arriving.len().saturating_sub(1));
        for (stroke, arriving) in strokes.iter_mut().zip(before) {
            stroke.begins = arriving.turn_to(stroke.path.tangent_at_start()).abs() > turn;
        }
        Self { strokes }
    }

    fn breaks(&self) -> usize {
        self.strokes.iter().filter(|s| s.begins).count()
    }

    /// The place of the ring nearest to another, from now on the end of an edge.
    fn nearest(&mut self, to: Point, size: f64) -> Point {
        let joint = self.strokes.iter_mut().min_by(|a, b| a.path.start.distance(to).total_cmp(&b.path.start.distance(to)));
        if let Some(joint) = joint.filter(|s| s.path.start.distance(to) <= JOINT * size) {
            joint.begins = true;
            return joint.path.start;
        }
        let mut nearest = (f64::INFINITY, 0, 0.0);
        for (index, stroke) in self.strokes.iter().enumerate() {
            let (away, along) = nearest_on(&stroke.path, to, size);
            if away < nearest.0 {
                nearest = (away, index, along);
            }
        }
        let (away, index, along) = nearest;
        let Some(stroke) = self.strokes.get_mut(index) else { return to };
        let (first, second) = stroke.path.split_at(along);
        let found = second.start;
        // A place off the outline ends nothing; the caller says so.
        if away <= OFF * size && !first.segments.is_empty() && !second.segments.is_empty() {
            stroke.path = first;
            self.strokes.insert(index + 1, Stroke { path: second, begins: true });
        }
        found
    }

    /// Turns the ring round until it begins where the first edge does.
    fn begin_low_on_the_left(&mut self) {
        let broken = self.breaks() > 0;
        let starts = || self.strokes.iter().enumerate().filter(|(_, s)| s.begins || !broken).map(|(i, s)| (i, s.path.start));
        let lowest = starts().map(|(_, p)| p.y).fold(f64::INFINITY, f64::min);
        let highest = self.strokes.iter().map(|s| s.path.bounds().max.y).fold(f64::NEG_INFINITY, f64::max);
        let low = starts().filter(|(_, p)| p.y <= lowest + LOW * (highest - lowest));
        let first = low.min_by(|(_, p), (_, q)| p.x.total_cmp(&q.x).then(p.y.total_cmp(&q.y))).map(|(i, _)| i);
        self.strokes.rotate_left(first.unwrap_or_default());
    }

    /// The edges, the first from where the ring begins.
    fn runs(&self) -> Vec<Path> {
        let mut runs: Vec<Path> = Vec::new();
        for stroke in &self.strokes {
            match runs.last_mut().filter(|_| !stroke.begins) {
                Some(run) => run.segments.extend_from_slice(&stroke.path.segments),
                None => runs.push(stroke.path.clone()),
            }
        }
        runs
    }
}

/// How far a place lies from a stroke, and how far along the stroke its nearest point is.
fn nearest_on(stroke: &Path, to: Point, size: f64) -> (f64, f64) {
    let points = match stroke.segments.as_slice() {
        [Segment::Line { end }] => vec![stroke.start, *end],
        _ => stroke.flatten(super::FINE * size),
    };
    let length = stroke.length();
    let chords: f64 = points.iter().zip(points.iter().skip(1)).map(|(a, b)| a.distance(*b)).sum();
    let mut nearest = (f64::INFINITY, 0.0);
    let mut before = 0.0;
    for (a, b) in points.iter().zip(points.iter().skip(1)) {
        let along = *b - *a;
        let square = along.dot(along);
        let t = if square > 0.0 { ((to - *a).dot(along) / square).clamp(0.0, 1.0) } else { 0.0 };
        let away = a.lerp(*b, t).distance(to);
        if away < nearest.0 {
            nearest = (away, (before + t * along.length()) * length / chords);
        }
        before += along.length();
    }
    nearest
}
