//! Where pieces lie on a bed: in rows, high ones first, one frame after another. A simple lay, not a close one.

use crate::geometry::{Bounds, Point};

/// A place on a bed: which frame, and where the lower left corner of the piece lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Spot {
    /// The frame, from 0.
    pub(super) frame: usize,
    /// The corner.
    pub(super) corner: Point,
}

struct Row {
    foot: f64,
    height: f64,
    filled: f64,
}

/// Places boxes that each fit the bed, `gap` apart.
pub(super) fn spots(boxes: &[Bounds], (length, width): (f64, f64), gap: f64) -> Vec<Spot> {
    let size = |i: usize| boxes.get(i).map_or((0.0, 0.0), |b| (b.width(), b.height()));
    let mut order: Vec<usize> = (0..boxes.len()).collect();
    order.sort_by(|&a, &b| size(b).1.total_cmp(&size(a).1).then(size(b).0.total_cmp(&size(a).0)));
    let mut frames: Vec<Vec<Row>> = Vec::new();
    let mut spots = vec![Spot { frame: 0, corner: Point::default() }; boxes.len()];
    for i in order {
        let box_size = size(i);
        let found = frames.iter_mut().enumerate().find_map(|(frame, rows)| Some((frame, place(rows, box_size, (length, width), gap)?)));
        let (frame, corner) = found.unwrap_or_else(|| {
            frames.push(vec![Row { foot: 0.0, height: box_size.1, filled: box_size.0 }]);
            (frames.len() - 1, Point::default())
        });
        if let Some(spot) = spots.get_mut(i) {
            *spot = Spot { frame, corner };
        }
    }
    spots
}

/// A place in a row of a frame, or in a new row above.
fn place(rows: &mut Vec<Row>, (wide, high): (f64, f64), (length, width): (f64, f64), gap: f64) -> Option<Point> {
    const NOISE: f64 = 1e-9;
    if let Some(row) = rows.iter_mut().find(|r| high <= r.height + NOISE && r.filled + gap + wide <= length + NOISE) {
        let corner = Point::new(row.filled + gap, row.foot);
        row.filled += gap + wide;
        return Some(corner);
    }
    let foot = rows.last().map_or(0.0, |r| r.foot + r.height + gap);
    if foot + high > width + NOISE || wide > length + NOISE {
        return None;
    }
    rows.push(Row { foot, height: high, filled: wide });
    Some(Point::new(0.0, foot))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_two_pieces_touch_and_all_lie_on_the_bed() {
        let sizes =
            [(400.0, 300.0), (400.0, 300.0), (80.0, 25.0), (600.0, 90.0), (300.0, 300.0), (899.9, 60.0), (90.0, 20.0), (900.0, 600.0)];
        let boxes: Vec<Bounds> =
            sizes.iter().map(|&(w, h)| Bounds { min: Point::new(-7.0, 3.0), max: Point::new(w - 7.0, h + 3.0) }).collect();
        let spots = spots(&boxes, (900.0, 600.0), 5.0);
        let placed: Vec<(usize, Bounds)> = spots
            .iter()
            .zip(sizes)
            .map(|(s, (w, h))| (s.frame, Bounds { min: s.corner, max: Point::new(s.corner.x + w, s.corner.y + h) }))
            .collect();
        for (i, (frame, a)) in placed.iter().enumerate() {
            assert!(a.min.x >= 0.0 && a.min.y >= 0.0 && a.max.x <= 900.0 + 1e-6 && a.max.y <= 600.0 + 1e-6, "{a:?}");
            for (other, b) in placed.iter().skip(i + 1) {
                assert!(frame != other || !a.grown(4.99).meets(*b), "{a:?} {b:?}");
            }
        }
        let frames: std::collections::BTreeSet<usize> = placed.iter().map(|(f, _)| *f).collect();
        assert_eq!(frames, (0..frames.len()).collect(), "no frame is left empty");
    }
}
