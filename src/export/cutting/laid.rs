//! A piece as it lies on a bed: turned over or not, and turned so that its warp runs along the bed.

use crate::geometry::{Path, Point, Vector};
use crate::ir::{Mark, MarkShape, Piece};
use crate::quantity::Angle;
use std::f64::consts::{FRAC_PI_2, PI};

/// The way from panel space to the bed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Motion {
    /// Mirrored first, in the panel's upright.
    pub(super) mirrored: bool,
    /// Then turned about the origin, radians, to the left.
    pub(super) turn: f64,
}

impl Motion {
    /// So that the warp of a piece runs along x, its end at the head to the right; where any way will do, so that the
    /// piece is longer than high, unless it only fits the other way.
    pub(super) fn of(piece: &Piece, mirrored: bool, bed: (f64, f64)) -> Self {
        let turn = match piece.grain.angle {
            Some(angle) => {
                let angle = angle.as_radians();
                if mirrored { angle - PI } else { -angle }
            }
            None => {
                let bounds = piece.cut_line.bounds();
                let (wide, high) = (bounds.width(), bounds.height());
                let lies = |w: f64, h: f64| w <= bed.0 && h <= bed.1;
                let upright = match (lies(wide, high), lies(high, wide)) {
                    (true, false) => false,
                    (false, true) => true,
                    _ => high > wide,
                };
                if upright { -FRAC_PI_2 } else { 0.0 }
            }
        };
        Self { mirrored, turn }
    }

    fn point(self, p: Point) -> Point {
        let p = if self.mirrored { Point::new(-p.x, p.y) } else { p };
        p.rotated(Point::default(), self.turn)
    }

    fn vector(self, v: Vector) -> Vector {
        self.point(Point::default() + v) - Point::default()
    }

    fn path(self, path: &Path) -> Path {
        let path = if self.mirrored { path.mirrored(Point::default(), Vector::new(0.0, 1.0)) } else { path.clone() };
        path.rotated(Point::default(), self.turn)
    }

    /// The piece moved. Its edges keep their order, so that an outline turned over now runs clockwise.
    pub(super) fn piece(self, piece: &Piece) -> Piece {
        let mut laid = piece.clone();
        laid.cut_line = self.path(&laid.cut_line);
        laid.edges.iter_mut().for_each(|e| e.path = self.path(&e.path));
        laid.folds.iter_mut().for_each(|f| f.path = self.path(&f.path));
        laid.holes.iter_mut().for_each(|h| h.path = self.path(&h.path));
        for notch in &mut laid.notches {
            (notch.point, notch.inward) = (self.point(notch.point), self.vector(notch.inward));
            notch.lines.iter_mut().for_each(|l| *l = self.path(l));
        }
        // A machine cuts one layer: what is cut on the fold by hand lies open here.
        laid.fold_line = None;
        laid.grain.angle = laid.grain.angle.map(|_| Angle::radians(0.0));
        laid
    }

    /// A mark moved.
    pub(super) fn mark(self, mark: &Mark) -> Mark {
        let shape = match &mark.shape {
            MarkShape::Point { at } => MarkShape::Point { at: self.point(*at) },
            MarkShape::Line { path } => MarkShape::Line { path: self.path(path) },
            MarkShape::Drill { at, diameter } => MarkShape::Drill { at: self.point(*at), diameter: *diameter },
            MarkShape::OnEdge { edge, stretch, at, inward, points, symbol } => MarkShape::OnEdge {
                edge: *edge,
                stretch: self.path(stretch),
                at: self.point(*at),
                inward: self.vector(*inward),
                points: *points,
                symbol: *symbol,
            },
        };
        Mark { shape, ..mark.clone() }
    }
}
