//! The line that a cutter follows round a piece, so that what is left of the cloth is the piece.

use super::{Cutter, Notch, Piece};
use crate::geometry::Path;

/// A piece's outline as a cutter follows it.
#[derive(Debug, Clone, PartialEq)]
pub struct Followed<'a> {
    /// The closed line.
    pub path: Path,
    /// Whether it lies half of the kerf outside the outline; where that leaves no room it is the outline itself.
    pub made_up: bool,
    /// Notches that it does not run in and out of: slits, tees, and those too narrow for the kerf.
    pub others: Vec<&'a Notch>,
    /// Notches that cloth is cut out for, and that are narrower than the kerf.
    pub narrow: Vec<&'a Notch>,
}

impl Cutter {
    /// The line to follow so that what is left of the cloth has the outline of a piece: half of the kerf outside it. A notch
    /// in which the line finds no room is left to be cut by itself.
    #[must_use]
    pub fn outline_to_follow<'p>(&self, piece: &'p Piece) -> Followed<'p> {
        let whole = piece.notched();
        let beside = |outline: &Path| outline.ring_beside(self.kerf.as_mm() / 2.0);
        if let Ok(path) = beside(&whole.cut) {
            return Followed { path, made_up: true, others: whole.others, narrow: Vec::new() };
        }
        // Whether it is a notch or the outline itself is seen without any, then with each alone.
        if beside(&piece.cut_line).is_ok() {
            let fits = |notch: &Notch| beside(&piece.notched_with(|n| std::ptr::eq(n, notch)).cut).is_ok();
            let narrow: Vec<&Notch> = piece.notches.iter().filter(|n| n.shape.opens() && !fits(n)).collect();
            let kept = piece.notched_with(|notch| !narrow.iter().any(|n| std::ptr::eq(*n, notch)));
            if let Ok(path) = beside(&kept.cut) {
                return Followed { path, made_up: true, others: kept.others, narrow };
            }
        }
        Followed { path: whole.cut.begun_on_a_straight(), made_up: false, others: whole.others, narrow: Vec::new() }
    }
}
