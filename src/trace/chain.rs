//! Lines that follow each other, end to end, made one.

use super::Line;
use crate::geometry::{Path, Point, Segment};
use std::collections::{BTreeMap, BTreeSet};

/// More lines than this meeting at one place follow each other in no way that could be told.
const MANY: usize = 8;

/// What became of open lines.
#[derive(Debug, Default)]
pub(super) struct Chained {
    /// Rings.
    pub(super) closed: Vec<Line>,
    /// What stays open.
    pub(super) open: Vec<Line>,
    /// Places where three lines or more meet.
    pub(super) forks: Vec<Point>,
}

/// A place in steps of the distance within which ends meet, on the lines of one group.
type Cell = (usize, i64, i64);

/// A line, and whether it is its end or its start.
type LineEnd = (usize, bool);

/// The ends of lines that are not part of a chain yet.
struct Ends {
    cells: BTreeMap<Cell, BTreeSet<LineEnd>>,
    close: f64,
}

impl Ends {
    #[expect(clippy::cast_possible_truncation, reason = "a place is held within ten million units, and a step is no less than a billionth")]
    fn cell(&self, group: usize, p: Point) -> Cell {
        let step = |v: f64| (v / (2.0 * self.close)).floor() as i64;
        (group, step(p.x), step(p.y))
    }

    /// Ends near a place, at most one more than [`MANY`].
    fn near(&self, group: usize, p: Point, lines: &[Line]) -> Vec<(usize, bool)> {
        let (_, x, y) = self.cell(group, p);
        let cells = (-1..=1).flat_map(|i| (-1..=1).map(move |j| (group, x + i, y + j)));
        let near = |(line, end): &&(usize, bool)| {
            lines.get(*line).is_some_and(|l| (if *end { l.path.end() } else { l.path.start }).distance(p) <= self.close)
        };
        cells.filter_map(|c| self.cells.get(&c)).flat_map(|ends| ends.iter().filter(near)).copied().take(MANY + 1).collect()
    }

    fn each(&mut self, index: usize, group: usize, line: &Line, change: fn(&mut BTreeSet<LineEnd>, LineEnd) -> bool) {
        for (p, end) in [(line.path.start, false), (line.path.end(), true)] {
            let cell = self.cell(group, p);
            change(self.cells.entry(cell).or_default(), (index, end));
        }
    }
}

/// Joins open lines of one group whose ends lie no farther apart than `close`.
pub(super) fn join(lines: &[Line], close: f64) -> Chained {
    let mut groups: BTreeMap<&str, usize> = BTreeMap::new();
    let of_group: Vec<usize> = lines
        .iter()
        .map(|line| {
            let next = groups.len();
            *groups.entry(line.group.as_str()).or_insert(next)
        })
        .collect();
    let mut ends = Ends { cells: BTreeMap::new(), close };
    for (index, (line, group)) in lines.iter().zip(&of_group).enumerate() {
        ends.each(index, *group, line, |set, end| set.insert(end));
    }
    let mut used = vec![false; lines.len()];
    let mut made = Chained::default();
    for (index, (line, group)) in lines.iter().zip(&of_group).enumerate() {
        if std::mem::replace(used.get_mut(index).unwrap_or(&mut false), true) {
            continue;
        }
        ends.each(index, *group, line, |set, end| set.remove(&end));
        let mut path = line.path.clone();
        // First on from its end; then, where that led nowhere, the other way from its start.
        for _ in 0..2 {
            follow(&mut path, lines, *group, &mut ends, &mut used, &mut made.forks);
            if closes(&path, close) {
                break;
            }
            path = path.reversed();
        }
        let closed = closes(&path, close);
        let line = Line { path, closed, label: line.label.clone(), group: line.group.clone() };
        if closed { made.closed.push(line) } else { made.open.push(line) }
    }
    made
}

/// Goes on along lines not used yet, as long as one begins or ends where the path ends.
fn follow(path: &mut Path, lines: &[Line], group: usize, ends: &mut Ends, used: &mut [bool], forks: &mut Vec<Point>) {
    while !closes(path, ends.close) {
        let at = path.end();
        let near = ends.near(group, at, lines);
        if near.len() > 1 && forks.len() < MANY {
            forks.push(at);
        }
        let from_end = |(line, end): &(usize, bool)| {
            lines.get(*line).map_or(f64::INFINITY, |l| if *end { l.path.end() } else { l.path.start }.distance(at))
        };
        let next = near.into_iter().min_by(|a, b| from_end(a).total_cmp(&from_end(b)));
        let Some((index, line, backwards)) = next.and_then(|(i, end)| Some((i, lines.get(i)?, end))) else { return };
        if let Some(slot) = used.get_mut(index) {
            *slot = true;
        }
        ends.each(index, group, line, |set, end| set.remove(&end));
        // Its own start gives way to where the path is.
        path.segments.extend(if backwards { line.path.reversed().segments } else { line.path.segments.clone() });
    }
}

/// Whether a path comes back to where it began, having been somewhere else.
pub(super) fn closes(path: &Path, close: f64) -> bool {
    let away = || {
        path.segments.iter().any(|s| s.end().distance(path.start) > close) || matches!(path.segments.as_slice(), [Segment::Cubic { .. }])
    };
    path.start.distance(path.end()) <= close && away()
}
