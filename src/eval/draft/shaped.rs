//! Allowances that don't run on to a point: rounded, stepped and trimmed corners.

use super::allowance::{Beside, fold_line_is_straight};
use super::error::Unfit;
use super::fold::{Hem, fold_over};
use super::joint::{Corner, Flank, Joint};
use super::outline::{End, SHORTEST};
use crate::geometry::{Path, Point, Segment, Vector, meetings};

/// Past this (cosine of the turn) a corner is sharper than a right angle.
const SHARP: f64 = -1e-9;

impl Corner<'_> {
    fn is_sharp(&self) -> bool {
        self.arriving.dot(self.leaving) < SHARP
    }

    /// An arc about the corner, of the larger allowance, from the first line or its run-on to the second or its run-up. Where
    /// the wider allowance reaches the narrower one's line before the corner there is nothing to round.
    pub(super) fn rounded(&self) -> Joint {
        let radius = self.first.allowance.max(self.second.allowance);
        // Where the arc lies so far out of either edge, as an angle from what points straight out of the first.
        let from = (self.first.allowance / radius).acos();
        let to = self.turn() - (self.second.allowance / radius).acos();
        if self.clear().is_some() || to - from <= SHORTEST / radius {
            return self.mitred();
        }
        let on = |angle: f64| self.at + self.arriving.right().turned(angle) * radius;
        let arc = Segment::Arc { end: on(to), bulge: ((to - from) / 4.0).tan() };
        Joint { between: vec![Segment::Line { end: on(from) }, arc], ..self.across() }
    }

    /// In to the corner along the end of the first hem, and out again along the end of the second.
    pub(super) fn notched_out(&self, first: Flank<'_>, second: Flank<'_>) -> Result<Joint, Unfit> {
        if !(self.first.is_hem() && self.second.is_hem()) {
            return Err(Unfit::NotTwoHems);
        }
        // Both as if the hem's edge began at the corner.
        let one = (&second.work.path.reversed(), &self.first.line.reversed(), self.first, -self.arriving, (-self.arriving).left());
        let two = (&first.work.path, &self.second.line, self.second, self.leaving, self.leaving.right());
        for (flank, end) in [(first, End::Finish), (second, End::Start)] {
            if self.is_sharp() && fold_line_is_straight(&flank.work.path, end, flank.beside.allowance).is_err() {
                return Err(Unfit::Bends);
            }
        }
        let ((before, way_in), (enter, way_out)) = (self.hem_end(one)?, self.hem_end(two)?);
        let way = way_in.reversed().then(&way_out);
        let between = std::iter::once(Segment::Line { end: way.start }).chain(way.segments.iter().copied()).collect();
        Ok(Joint { leave: self.first.length - before, between, enter, may_step: false })
    }

    /// How a hem ends beside another finished edge, which runs towards the corner: where on the hem's line, and the way there
    /// from the corner.
    fn hem_end(&self, (side, line, beside, along, outward): (&Path, &Path, &Beside, Vector, Vector)) -> Result<(f64, Path), Unfit> {
        if self.is_sharp() {
            let hem = Hem { corner: self.at, along, outward, folds: &beside.folds, line: line.clone(), limit: self.limit() };
            return fold_over(side, &hem).map(|found| (found.enter, found.way)).ok_or(Unfit::LinesDontMeet);
        }
        let run_on = Path::line(self.at, self.at + side.tangent_at_end() * self.limit());
        let met = self.nearest(meetings(line, &run_on)).ok_or(Unfit::LinesDontMeet)?;
        Ok((met.first, Path::line(self.at, met.at)))
    }

    /// Mitred, then cut along each cut line as it lies when the other allowance is pressed back; none where a line so laid
    /// misses the allowance.
    pub(super) fn trimmed(&self) -> Option<Joint> {
        let mitred = self.mitred();
        if !self.is_sharp() {
            return Some(mitred);
        }
        let (cos, sin) = (self.arriving.dot(self.leaving), self.arriving.cross(self.leaving));
        let (a, b) = (self.first.allowance, self.second.allowance);
        // Each passes through the place where its cut line meets the stitch line that it is mirrored at.
        let over_first = (self.at + self.arriving * (b / sin), self.arriving * cos + self.arriving.right() * sin);
        let over_second = (self.at - self.leaving * (a / sin), self.leaving * cos + self.leaving.left() * sin);
        let way = Path { start: self.first.line.end(), segments: mitred.between };
        let mut chain = self.first.line.clone().then(&way).then(&self.second.line);
        let (mut leave, mut tail) = (self.first.length, self.second.length);
        for (on, along) in [over_first, over_second] {
            let (from, to) = self.crossings(&chain, on, along)?;
            let total = chain.length();
            leave = leave.min(from);
            tail = tail.min(total - to);
            chain = chain.subpath(0.0, from).line_to(chain.point_at(to)).then(&chain.subpath(to, total));
        }
        let between = chain.subpath(leave, chain.length() - tail).segments;
        Some(Joint { leave, between, enter: self.second.length - tail, may_step: false })
    }

    /// Where a line first crosses the way round the corner, and where last.
    fn crossings(&self, chain: &Path, on: Point, along: Vector) -> Option<(f64, f64)> {
        let line = Path::line(on - along * self.reach(), on + along * self.reach());
        let near = meetings(chain, &line).into_iter().filter(|m| m.at.distance(self.at) <= self.limit() * (1.0 + 1e-9));
        let met: Vec<f64> = near.map(|m| m.first).collect();
        let (from, to) = (met.first()?, met.last()?);
        (to - from > SHORTEST).then_some((*from, *to))
    }
}
