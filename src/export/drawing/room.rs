//! Free room on and round a piece: where words can stand without touching a line or other words.

use super::lines::{AIR, Lines, Ring};
use super::shape::{Shape, Words};
use crate::geometry::{Bounds, Path, Point, Vector};
use std::cell::{Cell, Ref, RefCell};

/// Once a piece carries so many words, or so many lines were looked at, no more room is looked for and the rest is
/// written below: a piece with ten thousand marks or edges still takes seconds.
const MOST_WORDS: usize = 400;
const MOST_LOOKS: usize = 40_000_000;

/// A box at any angle.
#[derive(Debug, Clone, Copy)]
pub(super) struct Slot {
    centre: Point,
    along: Vector,
    half_width: f64,
    half_height: f64,
}

impl Slot {
    /// A box of a size, its width running along `angle`.
    pub(super) fn new(centre: Point, angle: f64, width: f64, height: f64) -> Self {
        Self { centre, along: Vector::at_angle(angle), half_width: width / 2.0, half_height: height / 2.0 }
    }

    /// The box that words fill, without any air.
    #[cfg(test)]
    pub(super) fn bare(words: &Words) -> Self {
        let [low, right, high, _] = words.corners();
        Self::new(low.lerp(high, 0.5), words.angle, low.distance(right), right.distance(high))
    }

    /// The box that words fill, with some air round it.
    pub(super) fn of(words: &Words) -> Self {
        let [low, right, high, _] = words.corners();
        let air = words.size * 0.3;
        Self::new(low.lerp(high, 0.5), words.angle, low.distance(right) + 2.0 * air, right.distance(high) + air)
    }

    /// The upright box round it.
    pub(super) fn around(&self) -> Bounds {
        let (x, y) = (self.along * self.half_width, self.along.left() * self.half_height);
        let reach = Vector::new(x.x.abs() + y.x.abs(), x.y.abs() + y.y.abs());
        Bounds { min: self.centre - reach, max: self.centre + reach }
    }

    fn corners(&self) -> [Point; 4] {
        let (x, y) = (self.along * self.half_width, self.along.left() * self.half_height);
        [self.centre - x - y, self.centre + x - y, self.centre + x + y, self.centre - x + y]
    }

    fn sides(&self) -> [(Point, Point); 4] {
        let [a, b, c, d] = self.corners();
        [(a, b), (b, c), (c, d), (d, a)]
    }

    /// A point as seen from the box: its middle the origin, its width along x.
    fn seen(&self, p: Point) -> (f64, f64) {
        let v = p - self.centre;
        (v.dot(self.along), v.dot(self.along.left()))
    }

    fn holds(&self, p: Point) -> bool {
        let (x, y) = self.seen(p);
        x.abs() <= self.half_width && y.abs() <= self.half_height
    }

    /// Whether a straight line touches the box: the line's part inside each pair of sides is clipped away (Liang and Barsky, 1984).
    pub(super) fn meets(&self, (from, to): (Point, Point)) -> bool {
        let ((x0, y0), (x1, y1)) = (self.seen(from), self.seen(to));
        let (mut enters, mut leaves) = (0.0_f64, 1.0_f64);
        for (start, step, half) in [(x0, x1 - x0, self.half_width), (y0, y1 - y0, self.half_height)] {
            if step == 0.0 {
                if start.abs() > half {
                    return false;
                }
                continue;
            }
            let (a, b) = ((-half - start) / step, (half - start) / step);
            enters = enters.max(a.min(b));
            leaves = leaves.min(a.max(b));
        }
        enters <= leaves
    }

    pub(super) fn overlaps(&self, other: &Self) -> bool {
        self.holds(other.centre) || other.holds(self.centre) || other.sides().into_iter().any(|side| self.meets(side))
    }
}

/// What is taken on and round a piece.
#[derive(Debug)]
pub(super) struct Room {
    outline: Ring,
    cut: Ring,
    lines: Lines,
    /// Each with the upright box round it.
    slots: Vec<(Bounds, Slot)>,
    bounds: Bounds,
    looks: Cell<usize>,
    /// Points to look at, from which they are sorted by distance; made when first needed.
    grid: RefCell<(Point, Vec<Point>)>,
}

impl Room {
    /// The empty room inside a finished outline, and between it and the cut line.
    pub(super) fn new(outline: &Path, cut: &Path) -> Self {
        let bounds = outline.bounds();
        let (outline, cut) = (Ring::new(outline), Ring::new(cut));
        Self { outline, cut, lines: Lines::default(), slots: Vec::new(), bounds, looks: Cell::new(0), grid: RefCell::default() }
    }

    /// Box around the finished outline.
    pub(super) const fn bounds(&self) -> Bounds {
        self.bounds
    }

    /// Takes the room of a line.
    pub(super) fn take_line(&mut self, path: &Path) {
        self.lines.add(path);
    }

    /// Takes the lines of a shape.
    pub(super) fn take_shape(&mut self, shape: &Shape) {
        if let Shape::Line(path) | Shape::Symbol(path) | Shape::Solid(path) = shape {
            self.take_line(path);
        }
    }

    /// Takes a box.
    pub(super) fn take(&mut self, slot: Slot) {
        self.slots.push((slot.around().grown(AIR), slot));
    }

    /// Whether a box stands free inside the finished outline.
    pub(super) fn inside(&self, slot: &Slot) -> bool {
        let b = self.bounds;
        let c = slot.centre;
        let near = c.x >= b.min.x && c.x <= b.max.x && c.y >= b.min.y && c.y <= b.max.y;
        near && self.is_free(slot, Some(b)) && self.encloses(c) && !self.outline.meets(slot)
    }

    /// Whether a box stands free outside the cut line.
    pub(super) fn outside(&self, slot: &Slot) -> bool {
        self.is_free(slot, None) && !self.cut.encloses(slot.centre) && !self.cut.meets(slot)
    }

    /// Whether a straight line crosses no words.
    pub(super) fn clear(&self, from: Point, to: Point) -> bool {
        !self.slots.iter().any(|(_, s)| s.meets((from, to)))
    }

    /// Whether a point lies inside the finished outline.
    pub(super) fn encloses(&self, p: Point) -> bool {
        self.outline.encloses(p)
    }

    /// Whether so much is set down already that no more room is looked for.
    pub(super) fn is_crowded(&self) -> bool {
        self.slots.len() > MOST_WORDS || self.looks.get() > MOST_LOOKS
    }

    /// Where a box stands free inside the outline: at a point, or as near to it as the points of a grid allow.
    pub(super) fn nearest(&self, to: Point, slot: impl Fn(Point) -> Slot) -> Option<Point> {
        let free = |at: &Point| self.inside(&slot(*at));
        if free(&to) { Some(to) } else { self.grid(to).iter().copied().find(free) }
    }

    /// Points of a grid inside the box of the outline, the nearest to `to` first.
    fn grid(&self, to: Point) -> Ref<'_, Vec<Point>> {
        const STEPS: u32 = 14;
        if self.grid.borrow().0 != to || self.grid.borrow().1.is_empty() {
            let b = self.bounds;
            let at = |low: f64, length: f64, i: u32| low + length * f64::from(i) / f64::from(STEPS);
            let all = (1..STEPS).flat_map(|i| (1..STEPS).map(move |j| Point::new(at(b.min.x, b.width(), i), at(b.min.y, b.height(), j))));
            let mut all: Vec<(f64, Point)> = all.map(|p| (p.distance(to), p)).collect();
            all.sort_by(|p, q| p.0.total_cmp(&q.0));
            self.grid.replace((to, all.into_iter().map(|(_, p)| p).collect()));
        }
        Ref::map(self.grid.borrow(), |(_, points)| points)
    }

    /// The middle of the finished outline's area; the middle of its box when that lies outside.
    pub(super) fn middle(&self) -> Point {
        let low = self.bounds.min;
        let (mut area, mut x, mut y) = (0.0, 0.0, 0.0);
        for (a, b) in self.outline.sides() {
            let (a, b) = (a - low, b - low);
            let cross = a.cross(b);
            area += cross;
            x += (a.x + b.x) * cross;
            y += (a.y + b.y) * cross;
        }
        let centroid = if area == 0.0 { self.bounds.centre() } else { low + Vector::new(x, y) * (1.0 / (3.0 * area)) };
        if self.encloses(centroid) { centroid } else { self.bounds.centre() }
    }

    /// Whether a box touches nothing that is taken; and stays within bounds, when these are given.
    fn is_free(&self, slot: &Slot, within: Option<Bounds>) -> bool {
        let lines = self.slots.len() + self.lines.count() + self.outline.count() + self.cut.count();
        self.looks.set(self.looks.get().saturating_add(lines));
        let around = slot.around();
        if within.is_some_and(|b| !b.grown(AIR).holds(around)) {
            return false;
        }
        let taken = self.slots.iter().any(|(near, s)| near.meets(around) && s.overlaps(slot));
        !taken && !self.lines.any_meets(slot)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    fn ell() -> Room {
        // An L: 100 wide, 100 high, its upper right 60 by 60 missing.
        let corners = [(0.0, 0.0), (100.0, 0.0), (100.0, 40.0), (40.0, 40.0), (40.0, 100.0), (0.0, 100.0)].map(|(x, y)| Point::new(x, y));
        let outline = Path::polygon(&corners).expect("it has corners");
        Room::new(&outline, &outline)
    }

    #[test]
    fn a_box_must_fit_inside_the_outline() {
        let room = ell();
        assert!(room.inside(&Slot::new(Point::new(50.0, 20.0), 0.0, 90.0, 30.0)));
        assert!(!room.inside(&Slot::new(Point::new(50.0, 20.0), 0.0, 102.0, 30.0)), "wider than the piece");
        assert!(!room.inside(&Slot::new(Point::new(70.0, 70.0), 0.0, 10.0, 10.0)), "in the part that is missing");
        assert!(room.outside(&Slot::new(Point::new(70.0, 70.0), 0.0, 10.0, 10.0)));
        assert!(!room.outside(&Slot::new(Point::new(50.0, 20.0), 0.0, 200.0, 200.0)), "the piece lies inside the box");
    }

    #[test]
    fn a_turned_box_fits_where_an_upright_one_does_not() {
        let room = ell();
        let quarter = std::f64::consts::FRAC_PI_2;
        assert!(!room.inside(&Slot::new(Point::new(20.0, 50.0), 0.0, 80.0, 20.0)));
        assert!(room.inside(&Slot::new(Point::new(20.0, 50.0), quarter, 80.0, 20.0)));
    }

    #[test]
    fn what_is_taken_is_not_free() {
        let mut room = ell();
        let slot = Slot::new(Point::new(20.0, 20.0), 0.0, 20.0, 10.0);
        assert!(room.inside(&slot));
        room.take(Slot::new(Point::new(20.0, 20.0), 0.0, 60.0, 2.0));
        assert!(!room.inside(&slot), "a bar lies right across it");
        assert!(room.inside(&Slot::new(Point::new(20.0, 30.0), 0.0, 20.0, 10.0)));
        assert!(!room.clear(Point::new(20.0, 0.0), Point::new(20.0, 40.0)));
        assert!(room.clear(Point::new(60.0, 0.0), Point::new(60.0, 40.0)));
    }

    #[test]
    fn the_middle_is_the_middle_of_the_area() {
        // 100 x 40 at (50, 20) and 40 x 60 at (20, 70): x = (4000*50 + 2400*20) / 6400, y = (4000*20 + 2400*70) / 6400.
        let middle = ell().middle();
        assert!((middle.x - 38.75).abs() < 1e-9 && (middle.y - 38.75).abs() < 1e-9, "{middle:?}");
    }
}
