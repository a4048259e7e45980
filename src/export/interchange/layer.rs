//! The standard's layers, by their numbers.

/// What a layer holds. Of the standard's, those that a sewn piece here needs; numbers are from memory.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Layer {
    /// The boundary of a piece: the cut line. Also the texts of the form `KEYWORD: value`.
    Boundary,
    /// Points on vertices of layers 1, 8, 11 and 14 where the line turns.
    TurnPoint,
    /// Points on vertices of layers 1, 8, 11 and 14 that lie on a curve.
    CurvePoint,
    /// Notches.
    Notch,
    /// The grain line: which way the warp runs.
    Grain,
    /// Lines on the face that are drawn, and not cut: folds and marks.
    Internal,
    /// Holes, cut inside the boundary.
    Cutout,
    /// Points marked on the face.
    DrillHole,
    /// Where to stitch: the finished outline.
    Sew,
    /// Words for people.
    Annotation,
}

impl Layer {
    /// Its name in the file: its number.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Boundary => "1",
            Self::TurnPoint => "2",
            Self::CurvePoint => "3",
            Self::Notch => "4",
            Self::Grain => "7",
            Self::Internal => "8",
            Self::Cutout => "11",
            Self::DrillHole => "13",
            Self::Sew => "14",
            Self::Annotation => "15",
        }
    }
}
