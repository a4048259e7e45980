//! Many straight lines, and which of them touch a box: looked for in runs, each with an upright box round it,
//! since lines that follow each other on a path lie near each other.

use super::room::Slot;
use crate::geometry::{Bounds, Path, Point, encloses};

/// Lines are followed this closely (mm) when room is looked for: finer than the narrowest gap left round words.
const CLOSE: f64 = 0.25;
/// So many lines share a box.
const RUN: usize = 12;
/// Boxes are this much (mm) larger than what they hold: far above rounding noise.
pub(super) const AIR: f64 = 1e-6;

/// A straight line.
type Line = (Point, Point);

/// A run of lines and the box round it.
#[derive(Debug)]
struct Run {
    around: Bounds,
    lines: Vec<Line>,
}

/// Lines in the order they were added.
#[derive(Debug, Default)]
pub(super) struct Lines {
    runs: Vec<Run>,
    count: usize,
}

impl Lines {
    /// Adds a path, as chords.
    pub(super) fn add(&mut self, path: &Path) {
        self.extend(&path.flatten(CLOSE));
    }

    fn extend(&mut self, points: &[Point]) {
        let lines: Vec<Line> = sides(points).collect();
        self.count += lines.len();
        for run in lines.chunks(RUN) {
            let around = run.iter().map(|&(a, b)| Bounds::of(a).with(b)).reduce(Bounds::union);
            self.runs.extend(around.map(|b| Run { around: b.grown(AIR), lines: run.to_vec() }));
        }
    }

    /// How many there are.
    pub(super) const fn count(&self) -> usize {
        self.count
    }

    /// Whether one touches a box.
    pub(super) fn any_meets(&self, slot: &Slot) -> bool {
        let near = slot.around();
        self.runs.iter().filter(|r| r.around.meets(near)).any(|r| r.lines.iter().any(|&l| slot.meets(l)))
    }
}

/// A closed chain of points.
#[derive(Debug)]
pub(super) struct Ring {
    points: Vec<Point>,
    lines: Lines,
}

impl Ring {
    /// A path as a chain of points.
    pub(super) fn new(path: &Path) -> Self {
        let points = path.flatten(CLOSE);
        let mut lines = Lines::default();
        lines.extend(&points);
        Self { points, lines }
    }

    /// How many points it has.
    pub(super) const fn count(&self) -> usize {
        self.points.len()
    }

    /// Whether it touches a box.
    pub(super) fn meets(&self, slot: &Slot) -> bool {
        self.lines.any_meets(slot)
    }

    /// Whether a point lies inside.
    pub(super) fn encloses(&self, p: Point) -> bool {
        encloses(&self.points, p)
    }

    /// Its straight lines.
    pub(super) fn sides(&self) -> impl Iterator<Item = (Point, Point)> + '_ {
        sides(&self.points)
    }
}

fn sides(points: &[Point]) -> impl Iterator<Item = Line> + '_ {
    points.iter().copied().zip(points.iter().copied().skip(1))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_touches_a_box_is_found_in_every_run() {
        // Fifty teeth, two lines each, 10 wide and 30 high.
        let tip = |i: u32| Point::new(f64::from(i) * 5.0, if i.is_multiple_of(2) { 0.0 } else { 30.0 });
        let saw = (1..=100).fold(Path::new(tip(0)), |path, i| path.line_to(tip(i)));
        let mut lines = Lines::default();
        lines.add(&saw);
        assert_eq!(lines.count(), 100);
        for tooth in 0..50 {
            let left = f64::from(tooth) * 10.0;
            assert!(!lines.any_meets(&Slot::new(Point::new(left + 5.0, 2.0), 0.0, 4.0, 2.0)), "it stands inside tooth {tooth}");
            assert!(lines.any_meets(&Slot::new(Point::new(left + 5.0, 28.0), 0.0, 4.0, 2.0)), "it lies across the tip of tooth {tooth}");
            assert!(!lines.any_meets(&Slot::new(Point::new(left + 5.0, 32.0), 0.0, 400.0, 3.0)), "it floats above");
        }
    }
}
