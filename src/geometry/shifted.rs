//! A closed ring of paths, each moved sideways by a distance of its own.

use super::{COINCIDENT, OffsetError, Path, Point, Vector, meetings};

/// Less than this (mm) is nothing left of a path.
const LEAST: f64 = 0.01;

/// Neighbours that turn by less than this (radians) run on into each other.
const SMOOTH: f64 = 1e-6;

/// What keeps a ring from being moved; each names a path by its place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ShiftError {
    /// It bends more tightly than it is moved.
    Bends {
        /// Which.
        path: usize,
        /// How.
        error: OffsetError,
    },
    /// Its neighbours meet before it begins: nothing is left of it.
    Vanishes {
        /// Which.
        path: usize,
    },
    /// It and the next, run straight on, nowhere meet.
    Parts {
        /// The first of the two.
        path: usize,
    },
}

/// Where two neighbours meet: how far along the first, how far along the second (before its start, negative), and where.
#[derive(Debug, Clone, Copy)]
struct Corner {
    leave: f64,
    enter: f64,
    at: Point,
}

/// A path moved, and how far it was.
struct Moved {
    path: Path,
    length: f64,
    by: f64,
}

impl Path {
    /// A ring of paths, each starting where the one before ends, each moved to the left by its distance: into the ring, when
    /// that runs counter-clockwise. Neighbours are cut where they meet, or run straight on until they do.
    ///
    /// # Errors
    /// [`ShiftError`] when a path bends too tightly, when nothing is left of one, or when two don't meet.
    pub fn shifted(ring: &[(Self, f64)]) -> Result<Vec<Self>, ShiftError> {
        let mut moved = Vec::new();
        for (index, (path, by)) in ring.iter().enumerate() {
            let path = path.offset(-by).map_err(|error| ShiftError::Bends { path: index, error })?;
            moved.push(Moved { length: path.length(), path, by: *by });
        }
        let after = moved.iter().cycle().skip(1);
        let found = moved.iter().zip(after).enumerate().map(|(i, (a, b))| corner(a, b).ok_or(ShiftError::Parts { path: i }));
        let corners = found.collect::<Result<Vec<Corner>, ShiftError>>()?;
        let before = corners.iter().cycle().skip(corners.len().saturating_sub(1));
        let ends = before.zip(&corners);
        moved
            .iter()
            .zip(ends)
            .enumerate()
            .map(|(i, (m, (from, to)))| between(m, *from, *to).ok_or(ShiftError::Vanishes { path: i }))
            .collect()
    }
}

fn corner(first: &Moved, second: &Moved) -> Option<Corner> {
    let (end, start) = (first.path.end(), second.path.start);
    if end.distance(start) <= 10.0 * COINCIDENT {
        return Some(Corner { leave: first.length, enter: 0.0, at: start });
    }
    let (arriving, leaving) = (first.path.tangent_at_end(), second.path.tangent_at_start());
    let turn = arriving.turn_to(leaving);
    // Side by side, one may still reach the other where that bends away.
    let far = if turn.abs() < SMOOTH { first.length.max(second.path.length()) } else { reach(first, second, turn) };
    let (a, b) = (run_on(&first.path, arriving * far), run_on_before(&second.path, leaving * -far));
    let off = |leave: f64, enter: f64| (first.length - leave).abs() + enter.abs();
    let all = meetings(&a, &b).into_iter().map(|m| Corner { leave: m.first, enter: m.second - far, at: m.at });
    all.min_by(|m, n| off(m.leave, m.enter).total_cmp(&off(n.leave, n.enter)))
}

/// Far enough for two straights beside a corner to meet.
fn reach(first: &Moved, second: &Moved, turn: f64) -> f64 {
    1.0 + 2.0 * (first.by.abs() + second.by.abs()) / turn.sin().abs().max(1e-4)
}

fn run_on(path: &Path, by: Vector) -> Path {
    let end = path.end() + by;
    if by == Vector::default() { path.clone() } else { path.clone().line_to(end) }
}

fn run_on_before(path: &Path, by: Vector) -> Path {
    if by == Vector::default() { path.clone() } else { Path::line(path.start + by, path.start).then(path) }
}

/// A path from one corner to the next; none when that is nothing.
fn between(moved: &Moved, from: Corner, to: Corner) -> Option<Path> {
    if to.leave - from.enter < LEAST {
        return None;
    }
    let path = &moved.path;
    let (before, after) = ((-from.enter).max(0.0), (to.leave - moved.length).max(0.0));
    let longer = run_on_before(&run_on(path, path.tangent_at_end() * after), path.tangent_at_start() * -before);
    let mut cut = longer.subpath(from.enter + before, to.leave + before).tidied();
    // The corner itself, so that neighbours end at one point.
    cut.start = from.at;
    if let Some(last) = cut.segments.last_mut() {
        last.move_end(to.at);
    }
    Some(cut)
}
