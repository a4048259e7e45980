//! Curves of DXF drawings that are neither straights nor arcs of circles.

use crate::geometry::{Path, Point};
use ::dxf::entities::{Ellipse, Spline};
use std::f64::consts::TAU;

/// Curves for an ellipse stray no farther than this part of its size.
const ELLIPSE: f64 = 1e-7;

/// Weights, and radii, that differ by less than this part are alike.
const ALIKE: f64 = 1e-9;

/// An ellipse or a part of one, and whether it goes all the way round; none of one without size.
pub(super) fn ellipse(of: &Ellipse) -> Option<(Path, bool)> {
    let (long, turned) = (of.major_axis.x.hypot(of.major_axis.y), of.major_axis.y.atan2(of.major_axis.x));
    let short = long * of.minor_axis_ratio;
    let sweep = (of.end_parameter - of.start_parameter).rem_euclid(TAU);
    // All the way round, but for rounding.
    let whole = sweep < ALIKE || TAU - sweep < ALIKE;
    if !(long > 0.0 && short > 0.0 && long.is_finite() && sweep.is_finite()) {
        return None;
    }
    let arc = kurbo::Arc {
        center: kurbo::Point::new(of.center.x, of.center.y),
        radii: kurbo::Vec2::new(long, short),
        start_angle: of.start_parameter,
        sweep_angle: if whole { TAU } else { sweep },
        x_rotation: turned,
    };
    let point = |p: kurbo::Point| Point::new(p.x, p.y);
    let axes = kurbo::Affine::rotate(turned);
    let start = arc.center + (axes * kurbo::Point::new(long * arc.start_angle.cos(), short * arc.start_angle.sin())).to_vec2();
    let mut path = Some(Path::new(point(start)));
    arc.to_cubic_beziers(ELLIPSE * long, |leaving, arriving, end| {
        path = path.take().map(|p| p.cubic_to(point(leaving), point(arriving), point(end)));
    });
    path.map(|p| (p, whole))
}

/// A spline of up to the third degree, whose points all weigh alike, as the free curves that it is made of; of another, what it is.
pub(super) fn spline(of: &Spline) -> Result<Path, &'static str> {
    if of.control_points.is_empty() && !of.fit_points.is_empty() {
        return Err("SPLINE given by the points it runs through");
    }
    let Some(degree) = usize::try_from(of.degree_of_curve).ok().filter(|d| (1..=3).contains(d)) else {
        return Err("SPLINE of a degree above 3");
    };
    let first = of.weight_values.first().copied().unwrap_or(1.0);
    if !of.weight_values.iter().all(|w| (w - first).abs() <= ALIKE * first.abs()) {
        return Err("SPLINE with weights");
    }
    curves(of, degree).ok_or("SPLINE with unsound knots")
}

fn curves(of: &Spline, degree: usize) -> Option<Path> {
    let points: Vec<Point> = of.control_points.iter().map(|p| Point::new(p.x, p.y)).collect();
    let knots = &of.knot_values;
    let rising = knots.iter().zip(knots.iter().skip(1)).all(|(a, b)| a <= b);
    if !rising || points.len() <= degree || knots.len() != points.len() + degree + 1 {
        return None;
    }
    let mut path: Option<Path> = None;
    for span in degree..points.len() {
        let (from, to) = (*knots.get(span)?, *knots.get(span + 1)?);
        if to <= from {
            continue;
        }
        // The handles of the curve over a stretch are the spline's blossom at its two ends.
        let at = |ends: usize| blossom(&points, knots, span, degree, |level| if level < ends { to } else { from });
        let line = match path.take() {
            Some(line) => line,
            None => Path::new(at(0)?),
        };
        path = Some(match degree {
            1 => line.line_to(at(1)?),
            2 => {
                let (start, handle, end) = (line.end(), at(1)?, at(2)?);
                line.cubic_to(start.lerp(handle, 2.0 / 3.0), end.lerp(handle, 2.0 / 3.0), end)
            }
            _ => line.cubic_to(at(1)?, at(2)?, at(3)?),
        });
    }
    path
}

/// What de Boor's scheme gives over a stretch between two knots, with a place of its own at each of its levels.
fn blossom(points: &[Point], knots: &[f64], span: usize, degree: usize, place: impl Fn(usize) -> f64) -> Option<Point> {
    let mut row: Vec<Point> = points.get(span - degree..=span)?.to_vec();
    for level in 0..degree {
        let at = place(level);
        row = row
            .iter()
            .zip(row.iter().skip(1))
            .enumerate()
            .map(|(i, (a, b))| {
                let low = *knots.get(span + i + 1 + level - degree)?;
                let high = *knots.get(span + i + 1)?;
                (high > low).then(|| a.lerp(*b, (at - low) / (high - low)))
            })
            .collect::<Option<Vec<Point>>>()?;
    }
    row.first().copied()
}
