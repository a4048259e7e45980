//! The standard's layers, by their numbers.

/// What a layer holds. Of the standard's, those that a sewn piece here needs; numbers are from memory.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Layer {
    /// The boundary of a piece: the cut line. Also the texts of the form `KEYWORD: value`.
    Boundary = 1,
    /// Points on vertices of layers 1, 8, 11 and 14 where the line turns.
    TurnPoint = 2,
    /// Points on vertices of layers 1, 8, 11 and 14 that lie on a curve.
    CurvePoint = 3,
    /// Slits and vee notches.
    Notch = 4,
    /// The grain line: which way the warp runs.
    Grain = 7,
    /// Lines on the face that are drawn, and not cut: folds and marks.
    Internal = 8,
    /// Holes, cut inside the boundary.
    Cutout = 11,
    /// Holes pricked or drilled through.
    DrillHole = 13,
    /// Where to stitch: the finished outline.
    Sew = 14,
    /// Words for people.
    Annotation = 15,
    /// Tee notches.
    TNotch = 80,
    /// Castle notches.
    CastleNotch = 81,
    /// Check notches.
    CheckNotch = 82,
    /// U notches.
    UNotch = 83,
}

impl Layer {
    /// Its name in the file: its number.
    #[must_use]
    pub fn name(self) -> String {
        (self as u8).to_string()
    }
}
