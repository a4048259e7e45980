//! Which of a drawing's outlines is meant, and whether a piece can be cut to it.

use super::chain::{self, Chained, closes};
use super::error::{Seen, TraceError};
use super::{CLOSE, FINE, Line, MOST_IN_OUTLINE, Request, Sheet, measure, place};
use crate::geometry::{Bounds, Path, Point, Segment, encloses, self_crossing};
use std::collections::BTreeSet;

/// A line that ends within this part of its length from where it began was meant to close.
const NEARLY: f64 = 0.05;

/// The outline that was asked for: closed, counter-clockwise, crossing itself nowhere.
pub(super) fn outline(request: &Request, sheet: &Sheet) -> Result<Path, TraceError> {
    let (file, span) = (request.file.0.clone(), request.file.1);
    let size = |path: &Path| diagonal(path.bounds());
    let all = sheet.lines.iter().chain(&sheet.shapes).map(|l| l.path.bounds()).reduce(Bounds::union);
    let close = (all.map_or(0.0, diagonal) * CLOSE).max(1e-9);
    let (mut rings, open): (Vec<Line>, Vec<Line>) = sheet.lines.iter().cloned().partition(|l| l.closed || closes(&l.path, close));
    let Chained { closed, open, forks } = chain::join(&open, close);
    rings.extend(closed);
    let sound_rings = |rings: Vec<Line>| {
        let closed = rings.into_iter().map(|l| Line { path: closed_up(&l.path, close), ..l });
        closed.filter(|l| l.path.signed_area().abs() > close * size(&l.path)).collect::<Vec<Line>>()
    };
    rings = sound_rings(rings);
    if rings.is_empty() {
        // A shape is the outline where no line closes one and none lies outside it.
        let lines = open.iter().map(|l| l.path.bounds()).reduce(Bounds::union);
        let round = sheet.shapes.iter().filter(|s| lines.is_none_or(|b| s.path.bounds().grown(close).holds(b)));
        rings = sound_rings(round.cloned().collect());
    }
    let place_of = |p: Point| place(p, sheet.down);
    if let Some(((x, y), at)) = request.around {
        let inside = Point::new(x, if sheet.down { -y } else { y });
        let round = |l: &Line| encloses(&l.path.flatten(FINE * size(&l.path)), inside);
        let found = rings.iter().filter(|l| round(l)).min_by(|a, b| area(a).total_cmp(&area(b))).cloned();
        if found.is_none() && !rings.is_empty() {
            return Err(TraceError::NoneAround { place: place_of(inside), file, seen: seen(&rings, sheet.down), span: at });
        }
        rings = found.into_iter().collect();
    }
    drop_doubles(&mut rings, close);
    let nearly = open.iter().filter(|l| l.path.start.distance(l.path.end()) <= NEARLY * l.path.length()).max_by(|a, b| longer(a, b));
    match (rings.as_slice(), nearly) {
        // A small closed mark inside an outline with a gap is not the piece.
        ([ring], Some(outer)) if outer.path.bounds().holds(ring.path.bounds()) && request.around.is_none() => {
            Err(gap(outer, sheet, request))
        }
        ([ring], _) => sound(&ring.path, sheet, request),
        ([], _) => match (forks.first(), nearly.or_else(|| open.iter().max_by(|a, b| longer(a, b)))) {
            (Some(fork), _) => Err(TraceError::Fork { place: place_of(*fork), file, span }),
            (None, Some(open)) => Err(gap(open, sheet, request)),
            (None, None) => Err(TraceError::Nothing { file, passed_over: sheet.passed_over.clone(), span }),
        },
        (several, _) => {
            let (svg, layers) = (sheet.down, several.iter().zip(several.iter().skip(1)).any(|(l, m)| l.label != m.label));
            Err(TraceError::Several { file, seen: seen(several, svg), svg, layers, span })
        }
    }
}

fn diagonal(bounds: Bounds) -> f64 {
    bounds.min.distance(bounds.max)
}

fn area(line: &Line) -> f64 {
    line.path.signed_area().abs()
}

fn longer(a: &Line, b: &Line) -> std::cmp::Ordering {
    a.path.length().total_cmp(&b.path.length())
}

/// Outlines drawn twice, one on the other, are one.
fn drop_doubles(rings: &mut Vec<Line>, close: f64) {
    let mut known: BTreeSet<[i64; 5]> = BTreeSet::new();
    rings.retain(|ring| {
        let bounds = ring.path.bounds();
        let (min, max, across) = (bounds.min, bounds.max, area(ring).sqrt());
        #[expect(clippy::cast_possible_truncation, reason = "held within ten million units, in steps of no less than a billionth")]
        let steps = [min.x, min.y, max.x, max.y, across].map(|v| (v / (4.0 * close)).round() as i64);
        known.insert(steps)
    });
}

fn gap(line: &Line, sheet: &Sheet, request: &Request) -> TraceError {
    let (start, end) = (line.path.start, line.path.end());
    TraceError::Open {
        file: request.file.0.clone(),
        ends: Box::new([end, start].map(|p| place(p, sheet.down))),
        gap: measure(start.distance(end)),
        passed_over: sheet.passed_over.clone(),
        span: request.file.1,
    }
}

fn seen(lines: &[Line], down: bool) -> Vec<Seen> {
    let one = |line: &Line| {
        let bounds = line.path.bounds();
        Seen { label: line.label.clone(), size: (measure(bounds.width()), measure(bounds.height())), centre: place(bounds.centre(), down) }
    };
    lines.iter().map(one).collect()
}

/// With its end on its start: moved there over a hair, led there by a straight over more. Strokes of next to no length
/// are left out; they turn any way.
fn closed_up(path: &Path, close: f64) -> Path {
    let sliver = (close / 20.0).max(1e-12);
    let mut whole = Path::new(path.start);
    for segment in &path.segments {
        let short = segment.end().distance(whole.end()) <= sliver;
        match segment {
            Segment::Line { .. } if short => {}
            Segment::Arc { bulge, .. } if short && bulge.abs() < 1.0 => {}
            other => whole.segments.push(*other),
        }
    }
    let start = whole.start;
    if whole.end().distance(start) > close {
        return whole.line_to(start);
    }
    if let Some(Segment::Line { end } | Segment::Arc { end, .. } | Segment::Cubic { end, .. }) = whole.segments.last_mut() {
        *end = start;
    }
    whole
}

/// The outline counter-clockwise, when it runs once round a piece.
fn sound(path: &Path, sheet: &Sheet, request: &Request) -> Result<Path, TraceError> {
    let (file, span) = (request.file.0.clone(), request.file.1);
    if path.segments.len() > MOST_IN_OUTLINE {
        let reason = format!("the outline is made of {} strokes, and no more than {MOST_IN_OUTLINE} are read", path.segments.len());
        return Err(TraceError::Unreadable { file, reason, span });
    }
    // At the size of a piece, which is what touching is measured by.
    let by = 1000.0 / diagonal(path.bounds());
    let points = path.scaled(by).flatten(FINE * 1000.0);
    if let Some(crossing) = self_crossing(&points) {
        let at = Point::new(crossing.at.x / by, crossing.at.y / by);
        return Err(TraceError::Crosses { file, place: place(at, sheet.down), span });
    }
    Ok(if path.signed_area() < 0.0 { path.reversed() } else { path.clone() })
}
