//! Where a straight line cuts a closed path in two.

use super::meeting::{Meeting, meetings};
use super::{FLATTEN, Path, Point, distance_to, encloses};

/// Stretches of the line shorter than this (mm) are one place.
const ONE_PLACE: f64 = 1e-4;

/// The stretch of a line that lies inside a closed path, given by the places where it enters and leaves: `first` along the
/// line, `second` along the path.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Chord {
    /// Where the line comes in.
    pub enters: Meeting,
    /// Where it goes out.
    pub leaves: Meeting,
}

/// Why a line does not cut a closed path in two.
#[derive(Debug, Clone, PartialEq)]
pub enum NoChord {
    /// It passes by, or runs along the path.
    Misses,
    /// It begins or ends inside, here.
    EndsInside(Point),
    /// It lies inside in several stretches; the places where it meets the path.
    Several(Vec<Point>),
}

impl Chord {
    /// What lies to the left of the line of a closed path that runs counter-clockwise: from where the line leaves it round to
    /// where it enters.
    #[must_use]
    pub fn left(&self, path: &Path) -> Path {
        let (from, to) = (self.leaves.second, self.enters.second);
        if from < to {
            return path.subpath(from, to);
        }
        path.subpath(from, path.length()).then(&path.subpath(0.0, to))
    }
}

impl Path {
    /// How the straight line from one point to another cuts this closed path in two. Ends of the line nearer to the path than
    /// `reach` (mm) are run on to it.
    ///
    /// # Errors
    /// [`NoChord`] when it does not.
    pub fn chord(&self, from: Point, to: Point, reach: f64) -> Result<Chord, NoChord> {
        let along = (to - from).unit();
        let line = Self::line(from - along * reach, to + along * reach);
        let total = line.length();
        let met = meetings(&line, self);
        let flat = self.flatten(FLATTEN);
        let inside = |a: f64, b: f64| {
            let middle = line.point_at(f64::midpoint(a, b));
            b - a > ONE_PLACE && encloses(&flat, middle) && distance_to(&flat, middle) > 2.0 * FLATTEN
        };
        let first = met.first().map_or(total, |m| m.first);
        if inside(0.0, first) {
            return Err(NoChord::EndsInside(from));
        }
        if met.last().is_some_and(|m| inside(m.first, total)) {
            return Err(NoChord::EndsInside(to));
        }
        let mut found = met.iter().zip(met.iter().skip(1)).filter(|(a, b)| inside(a.first, b.first));
        match (found.next(), found.next()) {
            (Some((enters, leaves)), None) => Ok(Chord { enters: *enters, leaves: *leaves }),
            (None, _) => Err(NoChord::Misses),
            _ => Err(NoChord::Several(met.iter().map(|m| m.at).collect())),
        }
    }
}
