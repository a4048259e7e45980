//! The way a tool goes: always on to the nearest line not yet done.

use super::lines::Line;
use crate::export::drawing::{Shape, Words};
use crate::geometry::Point;
use crate::ir::LineSort;

/// Puts the lines of one pass in order, what lies inside a piece before its outline, from where the tool stands. Open lines may be
/// turned round; `whole` makes ready each that is next. Returns how far the tool travels without working.
pub(super) fn order(lines: Vec<Line>, tool: &mut Point, whole: impl Fn(Line) -> Line) -> (Vec<Line>, f64) {
    let (outlines, inner): (Vec<_>, Vec<_>) = lines.into_iter().partition(|l| l.sort == LineSort::Outlines);
    let (mut all, mut travel) = (Vec::new(), 0.0);
    for mut group in [inner, outlines] {
        while let Some((index, turned, far)) = nearest(&group, *tool) {
            let line = group.remove(index);
            let line = whole(if turned { reversed(line) } else { line });
            travel += far;
            *tool = ends(&line.shape).1;
            all.push(line);
        }
    }
    (all, travel)
}

/// The line whose start, or end where it may be turned round, is nearest; the first of several equally near.
fn nearest(lines: &[Line], tool: Point) -> Option<(usize, bool, f64)> {
    let mut best: Option<(usize, bool, f64)> = None;
    for (index, line) in lines.iter().enumerate() {
        let (start, end) = ends(&line.shape);
        let turns = matches!(&line.shape, Shape::Line(path) | Shape::Symbol(path) if !path.is_closed());
        for (turned, from) in [(false, start), (true, end)] {
            let far = tool.distance(from);
            if (!turned || turns) && best.is_none_or(|(.., known)| far < known - 1e-9) {
                best = Some((index, turned, far));
            }
        }
    }
    best
}

/// Where a tool begins a shape and where it leaves it. Letters count as one place.
fn ends(shape: &Shape) -> (Point, Point) {
    match shape {
        Shape::Line(path) | Shape::Symbol(path) | Shape::Solid(path) => (path.start, path.end()),
        Shape::Circle { centre, radius } => {
            let at = Point::new(centre.x + radius, centre.y);
            (at, at)
        }
        Shape::Words(Words { at, .. }) => (*at, *at),
    }
}

fn reversed(line: Line) -> Line {
    let shape = match line.shape {
        Shape::Line(path) => Shape::Line(path.reversed()),
        Shape::Symbol(path) => Shape::Symbol(path.reversed()),
        other => other,
    };
    Line { shape, ..line }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Path;

    fn line(sort: LineSort, from: (f64, f64), to: (f64, f64)) -> Line {
        Line { pass: 0, sort, shape: Shape::Line(Path::line(Point::new(from.0, from.1), Point::new(to.0, to.1))) }
    }

    #[test]
    fn the_nearest_comes_next_and_outlines_last() {
        let square =
            Path::polygon(&[(1.0, 0.0), (9.0, 0.0), (9.0, 9.0), (1.0, 9.0)].map(|(x, y)| Point::new(x, y))).expect("it has corners");
        let outline = Line { pass: 0, sort: LineSort::Outlines, shape: Shape::Line(square) };
        let far = line(LineSort::Notches, (50.0, 0.0), (40.0, 0.0));
        let near = line(LineSort::Notches, (20.0, 0.0), (30.0, 0.0));
        let mut tool = Point::default();
        let (done, travel) = order(vec![outline.clone(), far, near.clone()], &mut tool, |line| line);
        // 0 to 20, 30 to 40 with the far one turned round, 50 back to 1.
        assert!((travel - (20.0 + 10.0 + 49.0)).abs() < 1e-9, "{travel}");
        assert_eq!(done, [near, line(LineSort::Notches, (40.0, 0.0), (50.0, 0.0)), outline]);
        assert_eq!(tool, Point::new(1.0, 0.0));
    }
}
