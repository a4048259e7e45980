//! Closed paths: where they begin, lines all round beside them, and where they are narrow.

use super::offset::OffsetError;
use super::{COINCIDENT, FLATTEN, Path, Point, Segment, crossing};

impl Path {
    /// A closed path begun in the middle of its longest straight, or of its longest segment where it has none; an open one as it is.
    #[must_use]
    pub fn begun_on_a_straight(&self) -> Self {
        let tidy = self.tidied();
        if !tidy.is_closed() {
            return self.clone();
        }
        let (mut before, mut best) = (0.0, (false, -1.0, 0.0));
        for curve in tidy.curves() {
            let (straight, length) = (matches!(curve.segment, Segment::Line { .. }), curve.length());
            // Longer by more than noise, so that the first of several equals is taken on every machine.
            if (straight, length - 1e-6) > (best.0, best.1) || (straight && !best.0) {
                best = (straight, length, before + length / 2.0);
            }
            before += length;
        }
        let (first, second) = tidy.split_at(best.2);
        closed(second.then(&first)).unwrap_or(tidy)
    }

    /// The closed path all round this closed one, so far outside it; a negative distance lies inside. Corners keep their points
    /// where the mitre of [`Path::offset`] does. It begins in the middle of a straight.
    ///
    /// # Errors
    /// [`OffsetError`] when it bends too tightly for that, or the line would cross itself.
    pub fn ring_beside(&self, outward: f64) -> Result<Self, OffsetError> {
        let begun = self.begun_on_a_straight();
        if outward == 0.0 {
            return Ok(begun);
        }
        let right = if begun.signed_area() < 0.0 { -outward } else { outward };
        let crowded = || OffsetError::Crowded { at: begun.start };
        let beside = closed(begun.offset(right)?).ok_or_else(crowded)?;
        if let Some(at) = crossing::first_self_crossing(&beside.flatten(FLATTEN)) {
            return Err(OffsetError::Crowded { at });
        }
        // An inside that has turned inside out is none.
        if beside.signed_area() * begun.signed_area() > 0.0 { Ok(beside) } else { Err(crowded()) }
    }

    /// Where what a closed path encloses, or a slot that it leaves, is narrower than a width; none when it is nowhere.
    #[must_use]
    pub fn narrower_than(&self, width: f64) -> Option<Point> {
        // As chords: of a curve only its course matters here.
        let chords = Self::polyline(&self.flatten(FLATTEN))?;
        // A hair less, so that what is just as wide as the width is wide enough.
        let half = width / 2.0 - 1e-3;
        let place = |outward: f64| match chords.ring_beside(outward) {
            Ok(_) => None,
            Err(OffsetError::Tight(bend)) => Some(bend.at),
            Err(OffsetError::Crowded { at }) => Some(at),
        };
        if half > 0.0 { place(-half).or_else(|| place(half)) } else { None }
    }
}

/// A path whose ends lie together, made to close exactly; none when they lie apart.
fn closed(mut path: Path) -> Option<Path> {
    let start = path.start;
    if path.end().distance(start) > 100.0 * COINCIDENT {
        return None;
    }
    match path.segments.last_mut()? {
        Segment::Line { end } | Segment::Arc { end, .. } | Segment::Cubic { end, .. } => *end = start,
    }
    Some(path)
}
