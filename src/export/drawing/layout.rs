//! Pieces laid out on a sheet, in rows: a drawing to read, not a lay to cut from.

use super::Drawing;
use crate::geometry::{Point, Vector};

/// Between pieces: this part of the largest, in bounds (mm).
const GAP_OF_LARGEST: f64 = 0.035;
const GAP: (f64, f64) = (14.0, 80.0);
/// Width over height that a sheet should have: what fills a screen or a long page.
const SHAPE: f64 = 1.5;
/// At most so many widths are tried.
const MOST_TRIED: usize = 64;

/// What the pieces fill.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Spread {
    /// Along x, from the origin.
    pub(super) width: f64,
    /// Along y, from the origin.
    pub(super) height: f64,
}

/// A column of a row: pieces above each other, all drawn from the row's foot up.
struct Column {
    width: f64,
    filled: f64,
    places: Vec<(usize, f64)>,
}

struct Row {
    height: f64,
    columns: Vec<Column>,
}

/// Moves drawings so that none touches another, the lower left of all at the origin.
pub(super) fn arrange(drawings: &mut [Drawing]) -> Spread {
    let mut order: Vec<usize> = (0..drawings.len()).collect();
    let sizes: Vec<(f64, f64)> = drawings.iter().map(|d| (d.bounds.width(), d.bounds.height())).collect();
    let size = |i: usize| sizes.get(i).copied().unwrap_or_default();
    order.sort_by(|&a, &b| size(b).1.total_cmp(&size(a).1));
    let largest = sizes.iter().fold(0.0_f64, |m, &(w, h)| m.max(w).max(h));
    let gap = (largest * GAP_OF_LARGEST).clamp(GAP.0, GAP.1);
    let best = widths(&order, &size, gap)
        .into_iter()
        .map(|limit| rows(&order, &size, gap, limit))
        .map(|rows| (badness(extent(&rows, gap)), rows))
        .min_by(|(a, _), (b, _)| a.total_cmp(b));
    let Some((_, rows)) = best.filter(|(_, rows)| !rows.is_empty()) else { return Spread { width: 0.0, height: 0.0 } };
    let spread = extent(&rows, gap);
    let mut top = spread.height;
    for row in &rows {
        let used = extent(std::slice::from_ref(row), gap).width;
        let mut left = (spread.width - used) / 2.0;
        for column in &row.columns {
            for &(i, up) in &column.places {
                if let Some(drawing) = drawings.get_mut(i) {
                    let free = column.width - drawing.bounds.width();
                    let corner = Point::new(left + free / 2.0, top - row.height + up);
                    drawing.shift(corner - drawing.bounds.min);
                }
            }
            left += column.width + gap;
        }
        top -= row.height + gap;
    }
    spread
}

/// Row widths worth trying: those that hold the first so many pieces side by side.
fn widths(order: &[usize], size: &impl Fn(usize) -> (f64, f64), gap: f64) -> Vec<f64> {
    let widest = order.iter().fold(0.0_f64, |m, &i| m.max(size(i).0));
    let mut sum = -gap;
    let mut all = Vec::new();
    for &i in order.iter().take(MOST_TRIED) {
        sum += size(i).0 + gap;
        all.push(sum.max(widest));
    }
    // Far more pieces than widths: a square's worth of mean pieces beside each other.
    let area: f64 = order.iter().map(|&i| (size(i).0 + gap) * (size(i).1 + gap)).sum();
    all.push((area * SHAPE).sqrt().max(widest));
    all.dedup();
    all
}

fn rows(order: &[usize], size: &impl Fn(usize) -> (f64, f64), gap: f64, limit: f64) -> Vec<Row> {
    let mut rows: Vec<Row> = Vec::new();
    for &i in order {
        let (width, height) = size(i);
        let Some(row) = rows.last_mut() else {
            rows.push(Row { height, columns: vec![Column { width, filled: height, places: vec![(i, 0.0)] }] });
            continue;
        };
        let used: f64 = row.columns.iter().map(|c| c.width + gap).sum();
        let fits = |c: &Column| c.filled + gap + height <= row.height + 1e-9 && width <= c.width + (limit - used + gap).max(0.0);
        // On top of the last column while there is room: a low piece beside a high one wastes a whole column.
        if let Some(column) = row.columns.last_mut().filter(|c| fits(c)) {
            column.places.push((i, column.filled + gap));
            column.filled += gap + height;
            column.width = column.width.max(width);
        } else if used + width <= limit + 1e-9 {
            row.columns.push(Column { width, filled: height, places: vec![(i, 0.0)] });
        } else {
            rows.push(Row { height, columns: vec![Column { width, filled: height, places: vec![(i, 0.0)] }] });
        }
    }
    rows
}

fn extent(rows: &[Row], gap: f64) -> Spread {
    let width = rows.iter().fold(0.0_f64, |m, r| m.max(r.columns.iter().map(|c| c.width + gap).sum::<f64>() - gap));
    let height = rows.iter().map(|r| r.height + gap).sum::<f64>() - gap;
    Spread { width, height }
}

/// Least for a small sheet of the right shape.
fn badness(spread: Spread) -> f64 {
    let shape = spread.width / spread.height.max(1.0);
    let off = if shape > SHAPE { shape / SHAPE } else { SHAPE / shape.max(1e-6) };
    spread.width * spread.height * off.sqrt()
}

/// Moves every drawing.
pub(super) fn shift(drawings: &mut [Drawing], by: Vector) {
    for drawing in drawings {
        drawing.shift(by);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Bounds;
    use crate::ir::PieceId;

    fn block(width: f64, height: f64) -> Drawing {
        let bounds = Bounds { min: Point::new(-5.0, 7.0), max: Point::new(width - 5.0, height + 7.0) };
        Drawing { piece: PieceId(0), id: String::new(), origin: Vector::default(), items: Vec::new(), bounds }
    }

    #[test]
    fn no_two_pieces_touch_and_all_lie_on_the_spread() {
        let sizes = [(2000.0, 1300.0), (2000.0, 1300.0), (80.0, 25.0), (600.0, 90.0), (300.0, 300.0), (1300.0, 60.0), (90.0, 20.0)];
        let mut all: Vec<Drawing> = sizes.iter().map(|&(w, h)| block(w, h)).collect();
        let spread = arrange(&mut all);
        for (i, a) in all.iter().enumerate() {
            let (low, high) = (a.bounds.min, a.bounds.max);
            assert!(low.x >= -1e-6 && low.y >= -1e-6 && high.x <= spread.width + 1e-6 && high.y <= spread.height + 1e-6, "{i}: {a:?}");
            for b in all.iter().skip(i + 1) {
                let apart = |a0: f64, a1: f64, b0: f64, b1: f64| a1 + 13.9 <= b0 || b1 + 13.9 <= a0;
                let (c, d) = (b.bounds.min, b.bounds.max);
                assert!(apart(low.x, high.x, c.x, d.x) || apart(low.y, high.y, c.y, d.y), "{a:?} touches {b:?}");
            }
        }
    }

    #[test]
    fn nothing_needs_no_room() {
        assert_eq!(arrange(&mut []), Spread { width: 0.0, height: 0.0 });
    }
}
