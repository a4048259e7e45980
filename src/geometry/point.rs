//! Points and vectors: `Point - Point` is a vector, and `Point + Point` does not exist.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::ops::{Add, Mul, Neg, Sub};

/// A place in the plane, mm.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize, JsonSchema)]
pub struct Point {
    /// To the right.
    pub x: f64,
    /// Up.
    pub y: f64,
}

/// A displacement in the plane, mm.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize, JsonSchema)]
pub struct Vector {
    /// To the right.
    pub x: f64,
    /// Up.
    pub y: f64,
}

impl Point {
    /// The place at `x`, `y`.
    #[must_use]
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    /// Distance to another point.
    #[must_use]
    pub fn distance(self, other: Self) -> f64 {
        (other - self).length()
    }

    /// The point a fraction `t` of the way to another.
    #[must_use]
    pub fn lerp(self, other: Self, t: f64) -> Self {
        self + (other - self) * t
    }

    /// Whether both coordinates are numbers, neither infinite.
    #[must_use]
    pub fn is_finite(self) -> bool {
        self.x.is_finite() && self.y.is_finite()
    }

    /// Turned about another point by an angle, radians, to the left.
    #[must_use]
    pub fn rotated(self, about: Self, radians: f64) -> Self {
        about + (self - about).turned(radians)
    }

    /// The mirror image in the line through `on` along `direction` (any length but zero).
    #[must_use]
    pub fn mirrored(self, on: Self, direction: Vector) -> Self {
        let d = direction.unit();
        let v = self - on;
        on + d * (2.0 * v.dot(d)) - v
    }
}

impl Vector {
    /// The displacement `x`, `y`.
    #[must_use]
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    /// Of length one at an angle from the x axis, radians.
    #[must_use]
    pub fn at_angle(radians: f64) -> Self {
        Self::new(radians.cos(), radians.sin())
    }

    /// Its length.
    #[must_use]
    pub fn length(self) -> f64 {
        // What is sewn is neither too large nor too small to be squared; `hypot` takes ten times as long.
        let length = (self.x * self.x + self.y * self.y).sqrt();
        if length.is_normal() { length } else { self.x.hypot(self.y) }
    }

    /// Its direction at length one; a zero vector stays zero.
    #[must_use]
    pub fn unit(self) -> Self {
        let l = self.length();
        if l == 0.0 { self } else { self * (1.0 / l) }
    }

    /// Turned a quarter to the left.
    #[must_use]
    pub fn left(self) -> Self {
        Self::new(-self.y, self.x)
    }

    /// Turned a quarter to the right: outward, on a counter-clockwise path.
    #[must_use]
    pub fn right(self) -> Self {
        Self::new(self.y, -self.x)
    }

    /// Turned by an angle, radians, to the left.
    #[must_use]
    pub fn turned(self, radians: f64) -> Self {
        let (sin, cos) = radians.sin_cos();
        Self::new(self.x * cos - self.y * sin, self.x * sin + self.y * cos)
    }

    /// The angle by which one turns left to go on along `other`, radians, in (-π, π].
    #[must_use]
    pub fn turn_to(self, other: Self) -> f64 {
        self.cross(other).atan2(self.dot(other))
    }

    /// Scalar product.
    #[must_use]
    pub fn dot(self, other: Self) -> f64 {
        self.x * other.x + self.y * other.y
    }

    /// Cross product; positive when `other` lies to the left.
    #[must_use]
    pub fn cross(self, other: Self) -> f64 {
        self.x * other.y - self.y * other.x
    }

    /// Angle from the x axis, radians, in (-π, π].
    #[must_use]
    pub fn angle(self) -> f64 {
        self.y.atan2(self.x)
    }
}

impl Sub for Point {
    type Output = Vector;
    fn sub(self, other: Self) -> Vector {
        Vector::new(self.x - other.x, self.y - other.y)
    }
}

impl Add<Vector> for Point {
    type Output = Self;
    fn add(self, v: Vector) -> Self {
        Self::new(self.x + v.x, self.y + v.y)
    }
}

impl Sub<Vector> for Point {
    type Output = Self;
    fn sub(self, v: Vector) -> Self {
        Self::new(self.x - v.x, self.y - v.y)
    }
}

impl Add for Vector {
    type Output = Self;
    fn add(self, v: Self) -> Self {
        Self::new(self.x + v.x, self.y + v.y)
    }
}

impl Sub for Vector {
    type Output = Self;
    fn sub(self, v: Self) -> Self {
        Self::new(self.x - v.x, self.y - v.y)
    }
}

impl Mul<f64> for Vector {
    type Output = Self;
    fn mul(self, k: f64) -> Self {
        Self::new(self.x * k, self.y * k)
    }
}

impl Neg for Vector {
    type Output = Self;
    fn neg(self) -> Self {
        Self::new(-self.x, -self.y)
    }
}
