//! How wide a shape is when measured between two parallels, as a roll of cloth measures it.

use super::{Point, Vector};

/// The convex hull of some points: all that parallels can touch.
#[derive(Debug, Clone, PartialEq)]
pub struct Hull {
    corners: Vec<Point>,
}

/// A way to lay a shape and the room it takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lie {
    /// Direction, radians from the shape's own x axis, that runs along the parallels.
    pub along: f64,
    /// Distance of the parallels.
    pub width: f64,
    /// Extent along them.
    pub length: f64,
}

impl Hull {
    /// Of points; those that are not finite are left out.
    #[must_use]
    pub fn of(points: impl IntoIterator<Item = Point>) -> Self {
        let mut all: Vec<Point> = points.into_iter().filter(|p| p.x.is_finite() && p.y.is_finite()).collect();
        all.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
        all.dedup();
        let mut corners = half(all.iter());
        corners.extend(half(all.iter().rev()));
        if corners.is_empty() {
            corners = all;
        }
        Self { corners }
    }

    /// Extent across a direction and along it.
    #[must_use]
    pub fn lie(&self, along: f64) -> Lie {
        let direction = Vector::at_angle(along);
        Lie { along, width: self.extent(direction.left()), length: self.extent(direction) }
    }

    fn extent(&self, direction: Vector) -> f64 {
        let origin = Point::default();
        let at = self.corners.iter().map(|p| (*p - origin).dot(direction));
        let (low, high) = at.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), v| (l.min(v), h.max(v)));
        if high < low { 0.0 } else { high - low }
    }

    /// Every way in which one side of the hull lies on a parallel, within `within` radians of a direction or
    /// its opposite, and the two ends of that range. The least width and the least length are among them.
    #[must_use]
    pub fn lies_near(&self, along: f64, within: f64) -> Vec<Lie> {
        let half_turn = std::f64::consts::PI;
        let within = within.abs().min(half_turn / 2.0);
        let mut lies = vec![self.lie(along), self.lie(along - within), self.lie(along + within)];
        let next = self.corners.iter().cycle().skip(1);
        for (a, b) in self.corners.iter().zip(next) {
            // A side lies along the parallels, or across them.
            for side in [(*b - *a).angle(), (*b - *a).left().angle()] {
                let off = (side - along).rem_euclid(half_turn);
                let off = if off > half_turn / 2.0 { off - half_turn } else { off };
                if off.abs() <= within {
                    lies.push(self.lie(along + off));
                }
            }
        }
        lies
    }
}

/// One half of the hull, by the monotone chain, without its last point.
fn half<'a>(points: impl Iterator<Item = &'a Point>) -> Vec<Point> {
    let mut chain: Vec<Point> = Vec::new();
    for &p in points {
        while let [.., a, b] = chain.as_slice() {
            if (*b - *a).cross(p - *b) > 0.0 {
                break;
            }
            chain.pop();
        }
        chain.push(p);
    }
    chain.pop();
    chain
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::{FRAC_PI_2, FRAC_PI_4};

    fn square() -> Hull {
        let corners = [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0), (5.0, 5.0), (5.0, 0.0)];
        Hull::of(corners.map(|(x, y)| Point::new(x, y)))
    }

    #[test]
    fn inner_points_do_not_count() {
        assert_eq!(square().corners.len(), 4);
    }

    #[test]
    fn a_square_on_its_corner_is_its_diagonal_wide() {
        let lie = square().lie(FRAC_PI_4);
        assert!((lie.width - 200.0_f64.sqrt()).abs() < 1e-9);
    }

    #[test]
    fn the_least_width_lies_along_a_side() {
        // A 30 by 4 rectangle turned by 0.3: its least width is 4, found from any start.
        let turned = [(0.0, 0.0), (30.0, 0.0), (30.0, 4.0), (0.0, 4.0)].map(|(x, y)| {
            let (s, c) = 0.3_f64.sin_cos();
            Point::new(x * c - y * s, x * s + y * c)
        });
        let hull = Hull::of(turned);
        let least = hull.lies_near(FRAC_PI_2, FRAC_PI_2).into_iter().map(|l| l.width).fold(f64::INFINITY, f64::min);
        assert!((least - 4.0).abs() < 1e-9, "{least}");
        // Held to within 0.1 of the x axis, the best is the end of the range: 30 sin 0.2 + 4 cos 0.2.
        let held = hull.lies_near(0.0, 0.1).into_iter().map(|l| l.width).fold(f64::INFINITY, f64::min);
        assert!((held - (30.0 * 0.2_f64.sin() + 4.0 * 0.2_f64.cos())).abs() < 1e-9, "{held}");
    }

    #[test]
    fn nothing_and_a_line_have_no_area_and_no_trouble() {
        assert_eq!(Hull::of([]).lie(0.0).width, 0.0);
        let line = Hull::of([Point::new(0.0, 0.0), Point::new(3.0, 4.0), Point::new(f64::NAN, 0.0)]);
        assert!((line.lie((4.0_f64).atan2(3.0)).length - 5.0).abs() < 1e-9);
        let one = Hull::of([Point::new(1.0, 1.0)]);
        assert_eq!(one.lies_near(0.0, 1.0).len(), 3 + 2);
    }

    proptest::proptest! {
        #[test]
        fn no_lie_is_narrower_than_the_best_found(
            points in proptest::collection::vec((-500.0..500.0, -500.0..500.0), 3..20),
            along in 0.0..3.2,
            within in 0.0..1.6,
        ) {
            let hull = Hull::of(points.iter().map(|(x, y)| Point::new(*x, *y)));
            let lies = hull.lies_near(along, within);
            let best = |get: fn(&Lie) -> f64| lies.iter().map(get).fold(f64::INFINITY, f64::min);
            for step in 0..=200 {
                let lie = hull.lie(along - within + 2.0 * within * f64::from(step) / 200.0);
                proptest::prop_assert!(lie.width >= best(|l| l.width) - 1e-9);
                proptest::prop_assert!(lie.length >= best(|l| l.length) - 1e-9);
            }
        }
    }
}
