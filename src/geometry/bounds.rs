//! Upright boxes.

use super::Point;

/// The smallest upright box round something.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bounds {
    /// Its lower left corner.
    pub min: Point,
    /// Its upper right corner.
    pub max: Point,
}

impl Bounds {
    /// Round one point.
    #[must_use]
    pub const fn of(point: Point) -> Self {
        Self { min: point, max: point }
    }

    /// Grown to hold a point.
    #[must_use]
    pub fn with(self, p: Point) -> Self {
        Self { min: Point::new(self.min.x.min(p.x), self.min.y.min(p.y)), max: Point::new(self.max.x.max(p.x), self.max.y.max(p.y)) }
    }

    /// Grown to hold another box.
    #[must_use]
    pub fn union(self, other: Self) -> Self {
        self.with(other.min).with(other.max)
    }

    /// Grown by a margin on every side.
    #[must_use]
    pub fn grown(self, by: f64) -> Self {
        Self { min: Point::new(self.min.x - by, self.min.y - by), max: Point::new(self.max.x + by, self.max.y + by) }
    }

    /// Along x.
    #[must_use]
    pub fn width(self) -> f64 {
        self.max.x - self.min.x
    }

    /// Along y.
    #[must_use]
    pub fn height(self) -> f64 {
        self.max.y - self.min.y
    }

    /// Its middle.
    #[must_use]
    pub fn centre(self) -> Point {
        self.min.lerp(self.max, 0.5)
    }

    /// Whether another box lies wholly inside.
    #[must_use]
    pub fn holds(self, other: Self) -> bool {
        self.min.x <= other.min.x && other.max.x <= self.max.x && self.min.y <= other.min.y && other.max.y <= self.max.y
    }

    /// Whether two boxes share a point.
    #[must_use]
    pub fn meets(self, other: Self) -> bool {
        self.min.x <= other.max.x && other.min.x <= self.max.x && self.min.y <= other.max.y && other.min.y <= self.max.y
    }

    /// How far a point lies outside it; nothing within.
    #[must_use]
    pub fn distance(self, to: Point) -> f64 {
        let beyond = |low: f64, at: f64, high: f64| (low - at).max(at - high).max(0.0);
        beyond(self.min.x, to.x, self.max.x).hypot(beyond(self.min.y, to.y, self.max.y))
    }
}
