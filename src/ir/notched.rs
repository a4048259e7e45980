//! The line that is cut, with the notches in it that cloth is cut out for.

use super::{Notch, Piece};
use crate::geometry::{COINCIDENT, Path, Point, Vector, meetings};

/// A mouth's ends lie on the cut line but for rounding: looked for this far (mm) to either side.
const NEAR: f64 = 0.2;

/// What is cut along a piece's boundary.
#[derive(Debug, Clone, PartialEq)]
pub struct Notched<'a> {
    /// The boundary, closed.
    pub cut: Path,
    /// Notches that are cut besides: slits, tees, and those that run into each other.
    pub others: Vec<&'a Notch>,
}

/// A notch whose mouth is found on the cut line.
struct Mouth<'a> {
    enter: f64,
    leave: f64,
    line: &'a Path,
    notch: &'a Notch,
}

impl Piece {
    /// The boundary of the piece with its notches.
    #[must_use]
    pub fn notched(&self) -> Notched<'_> {
        self.notched_with(|_| true)
    }

    /// The boundary of the piece with some of its notches; the rest are left to be cut besides.
    pub(super) fn notched_with(&self, taken: impl Fn(&Notch) -> bool) -> Notched<'_> {
        let (mouths, mut others) = self.mouths(taken);
        let length = self.cut_line.length();
        // One mouth may lie across the point where the line is closed.
        let first = mouths.last().filter(|m| m.leave < m.enter).map_or(0.0, |m| m.leave);
        let (mut cut, mut at) = (Path::new(self.cut_line.point_at(first)), first);
        for Mouth { enter, leave, line, notch } in mouths {
            let last = leave < enter;
            if enter < at || (!last && leave > length) {
                others.push(notch);
                continue;
            }
            cut = cut.then(&self.cut_line.subpath(at, enter)).then(line);
            at = if last { length } else { leave };
        }
        if at < length {
            cut = cut.then(&self.cut_line.subpath(at, length));
        }
        let start = cut.start;
        if cut.end().distance(start) > COINCIDENT {
            cut = cut.line_to(start);
        }
        Notched { cut, others }
    }

    /// The mouths in the cut line, as it runs, and the notches that have none.
    fn mouths(&self, taken: impl Fn(&Notch) -> bool) -> (Vec<Mouth<'_>>, Vec<&Notch>) {
        let (mut mouths, mut others) = (Vec::new(), Vec::new());
        for notch in &self.notches {
            match mouth(&self.cut_line, notch).filter(|_| taken(notch)) {
                Some(found) => mouths.push(found),
                None => others.push(notch),
            }
        }
        mouths.sort_by(|a, b| a.enter.total_cmp(&b.enter));
        (mouths, others)
    }
}

fn mouth<'a>(cut: &Path, notch: &'a Notch) -> Option<Mouth<'a>> {
    let line = notch.lines.first().filter(|_| notch.shape.opens())?;
    let on = |at: Point, inward: Vector| {
        let across = Path::line(at - inward * NEAR, at + inward * NEAR);
        meetings(cut, &across).into_iter().min_by(|a, b| a.at.distance(at).total_cmp(&b.at.distance(at))).map(|m| m.first)
    };
    Some(Mouth { enter: on(line.start, notch.inward)?, leave: on(line.end(), notch.inward)?, line, notch })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::export::sample;
    use crate::ir::NotchShape;
    use crate::quantity::Length;

    fn area(path: &Path) -> f64 {
        path.signed_area().abs()
    }

    /// A strip of 1276 by 66 whose four slits, 4 deep, become something else.
    fn strip(shape: NotchShape, outline: fn(Point, Vector) -> Path) -> Piece {
        let design = sample::quilt();
        let mut strip = design.pieces.into_iter().find(|p| p.notches.len() == 4).expect("the casing strip");
        for notch in &mut strip.notches {
            (notch.shape, notch.width) = (shape, Length::mm(4.0));
            notch.lines = vec![outline(notch.point, notch.inward)];
        }
        strip
    }

    fn vee(at: Point, inward: Vector) -> Path {
        let half = inward.right() * 2.0;
        Path::new(at - half).line_to(at + inward * 4.0).line_to(at + half)
    }

    #[test]
    fn the_cut_line_runs_in_and_out_of_what_is_cut_out() {
        let strip = strip(NotchShape::Vee, vee);
        let found = strip.notched();
        assert!(found.others.is_empty() && found.cut.is_closed());
        // Four triangles of base 4 and height 4 less.
        assert!((area(&strip.cut_line) - area(&found.cut) - 32.0).abs() < 1e-6);
        // Each mouth of 4 gives way to two sides of √20.
        let longer = found.cut.length() - strip.cut_line.length();
        assert!((longer - 4.0 * (2.0 * 20.0_f64.sqrt() - 4.0)).abs() < 1e-6, "{longer}");
    }

    #[test]
    fn wherever_the_cut_line_begins_it_is_the_same() {
        let mut strip = strip(NotchShape::Vee, vee);
        let whole = strip.notched().cut;
        let at = strip.notches.first().map(|n| n.point).expect("four");
        // Begun in the middle of a mouth.
        let on = meetings(&strip.cut_line, &Path::line(at - Vector::new(0.0, 1.0), at + Vector::new(0.0, 1.0))).first().map(|m| m.first);
        let (before, after) = strip.cut_line.split_at(on.expect("it lies on the cut line"));
        strip.cut_line = after.then(&before);
        let found = strip.notched();
        assert!(found.cut.is_closed() && found.others.is_empty());
        assert!((area(&found.cut) - area(&whole)).abs() < 1e-6 && (found.cut.length() - whole.length()).abs() < 1e-6);
    }

    #[test]
    fn slits_are_cut_apart_and_so_are_mouths_that_run_into_each_other() {
        let slits = strip(NotchShape::Slit, |at, inward| Path::line(at, at + inward * 4.0));
        let found = slits.notched();
        assert_eq!((found.others.len(), found.cut.length()), (4, slits.cut_line.length()));
        let mut close = strip(NotchShape::Vee, vee);
        let twin = close.notches.first().cloned().expect("four");
        close.notches.push(twin);
        let found = close.notched();
        assert!(found.others.len() == 1 && found.cut.is_closed());
    }
}
