//! The `d` of an SVG path as paths of the house.
//!
//! `svgtypes` reads the letters and numbers. The curve library could read the whole, but makes every arc a chain of
//! curves a tenth of a unit off; here an arc of a circle stays one.

use super::Line;
use crate::geometry::{Path, Point};
use kurbo::{Affine, SvgArc};
use svgtypes::{PathParser, PathSegment};

/// Curves for an arc of an ellipse stray no farther than this part of its size.
const ELLIPSE: f64 = 1e-7;

/// Radii that differ by less than this part are those of a circle: what a file's decimals leave of one.
const ROUND: f64 = 1e-4;

/// The pen.
struct Pen<'a> {
    to_sheet: &'a Affine,
    /// Where the line in hand began, and where the pen is, before the transform.
    start: kurbo::Point,
    at: kurbo::Point,
    /// The last handle of a curve, and whether it was a cubic's: a smooth curve goes on from it.
    handle: Option<(kurbo::Point, bool)>,
    path: Option<Path>,
    done: Vec<(Path, bool)>,
}

/// The lines of a path, turned y up; none where its data can't be read.
pub(super) fn lines(data: &str, to_sheet: &Affine, label: &str) -> Option<Vec<Line>> {
    let origin = kurbo::Point::ORIGIN;
    let mut pen = Pen { to_sheet, start: origin, at: origin, handle: None, path: None, done: Vec::new() };
    for segment in PathParser::from(data) {
        pen.go(segment.ok()?);
    }
    pen.lift(false);
    let line = |(path, closed)| Line { path, closed, label: label.to_owned(), group: String::new() };
    Some(pen.done.into_iter().map(line).collect())
}

impl Pen<'_> {
    /// A point of the path on the sheet.
    fn on_sheet(&self, p: kurbo::Point) -> Point {
        let p = *self.to_sheet * p;
        Point::new(p.x, -p.y)
    }

    /// A point given outright, or from where the pen is.
    fn point(&self, abs: bool, x: f64, y: f64) -> kurbo::Point {
        if abs { kurbo::Point::new(x, y) } else { self.at + kurbo::Vec2::new(x, y) }
    }

    /// Puts down the line in hand.
    fn lift(&mut self, closed: bool) {
        if let Some(path) = self.path.take().filter(|p| !p.segments.is_empty()) {
            self.done.push((path, closed));
        }
    }

    fn draw(&mut self, to: kurbo::Point, handle: Option<(kurbo::Point, bool)>, stroke: impl FnOnce(Path) -> Path) {
        let path = self.path.take().unwrap_or_else(|| Path::new(self.on_sheet(self.at)));
        self.path = Some(stroke(path));
        self.at = to;
        self.handle = handle;
    }

    fn line(&mut self, to: kurbo::Point) {
        let end = self.on_sheet(to);
        self.draw(to, None, |path| path.line_to(end));
    }

    fn cubic(&mut self, a: kurbo::Point, b: kurbo::Point, to: kurbo::Point) {
        let (leaving, arriving, end) = (self.on_sheet(a), self.on_sheet(b), self.on_sheet(to));
        self.draw(to, Some((b, true)), |path| path.cubic_to(leaving, arriving, end));
    }

    fn quadratic(&mut self, a: kurbo::Point, to: kurbo::Point) {
        let (handle, end) = (self.on_sheet(a), self.on_sheet(to));
        self.draw(to, Some((a, false)), |path| {
            let start = path.end();
            path.cubic_to(start.lerp(handle, 2.0 / 3.0), end.lerp(handle, 2.0 / 3.0), end)
        });
    }

    /// The last handle mirrored, when it was of the same sort of curve; else where the pen is.
    fn mirrored(&self, cubic: bool) -> kurbo::Point {
        self.handle.filter(|(_, was)| *was == cubic).map_or(self.at, |(p, _)| self.at + (self.at - p))
    }

    fn go(&mut self, segment: PathSegment) {
        match segment {
            PathSegment::MoveTo { abs, x, y } => {
                let to = self.point(abs, x, y);
                self.lift(false);
                (self.start, self.at, self.handle) = (to, to, None);
            }
            PathSegment::LineTo { abs, x, y } => self.line(self.point(abs, x, y)),
            PathSegment::HorizontalLineTo { abs, x } => {
                self.line(kurbo::Point::new(if abs { x } else { self.at.x + x }, self.at.y));
            }
            PathSegment::VerticalLineTo { abs, y } => {
                self.line(kurbo::Point::new(self.at.x, if abs { y } else { self.at.y + y }));
            }
            PathSegment::CurveTo { abs, x1, y1, x2, y2, x, y } => {
                self.cubic(self.point(abs, x1, y1), self.point(abs, x2, y2), self.point(abs, x, y));
            }
            PathSegment::SmoothCurveTo { abs, x2, y2, x, y } => {
                self.cubic(self.mirrored(true), self.point(abs, x2, y2), self.point(abs, x, y));
            }
            PathSegment::Quadratic { abs, x1, y1, x, y } => self.quadratic(self.point(abs, x1, y1), self.point(abs, x, y)),
            PathSegment::SmoothQuadratic { abs, x, y } => self.quadratic(self.mirrored(false), self.point(abs, x, y)),
            PathSegment::EllipticalArc { abs, rx, ry, x_axis_rotation, large_arc, sweep, x, y } => {
                let x_rotation = x_axis_rotation.to_radians();
                let (from, to, radii) = (self.at, self.point(abs, x, y), kurbo::Vec2::new(rx, ry));
                self.arc(&SvgArc { from, to, radii, x_rotation, large_arc, sweep });
            }
            PathSegment::ClosePath { .. } => {
                self.lift(true);
                (self.at, self.handle) = (self.start, None);
            }
        }
    }

    fn arc(&mut self, arc: &SvgArc) {
        let (from, to) = (arc.from, arc.to);
        let sane = [from.x, from.y, to.x, to.y, arc.radii.x, arc.radii.y].iter().all(|v| v.is_finite());
        // An arc of no radius is a straight, one to where the pen is already nothing: so the standard has it.
        let whole = if sane && from != to { kurbo::Arc::from_svg_arc(arc) } else { None };
        let Some(whole) = whole else {
            if from != to {
                self.line(to);
            }
            return;
        };
        let round = (whole.radii.x - whole.radii.y).abs() <= ROUND * whole.radii.x.max(whole.radii.y);
        let [a, b, c, d, ..] = self.to_sheet.as_coeffs();
        let even = (a * c + b * d).abs() <= ROUND * (a * d - b * c).abs() && (a.hypot(b) - c.hypot(d)).abs() <= ROUND * a.hypot(b);
        let end = self.on_sheet(to);
        if round && even {
            // The angle from the sagitta's side: y is turned up, and a transform may turn the sheet over too.
            let over = if a * d - b * c < 0.0 { 1.0 } else { -1.0 };
            let bulge = (whole.sweep_angle / 4.0).tan() * over;
            return self.draw(to, None, |path| path.arc_to(end, bulge));
        }
        let mut curves = Vec::new();
        whole.to_cubic_beziers(ELLIPSE * whole.radii.x.max(whole.radii.y), |p, q, r| curves.push((p, q, r)));
        let last = curves.len().saturating_sub(1);
        for (i, (p, q, r)) in curves.into_iter().enumerate() {
            self.cubic(p, q, if i == last { to } else { r });
        }
        self.handle = None;
    }
}
