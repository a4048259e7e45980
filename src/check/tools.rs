//! Sorts of cutter and the figures each may carry. The evaluator reads the same table.

use super::goods::{Field, LENGTH, may, must};

/// A sort of cutter, as `cutter x is …` names it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CutterSort {
    /// Burns its way through.
    Laser,
    /// A knife that is dragged and trails its holder.
    Knife,
    /// A blade that is turned by a motor, rolls, or is led by hand.
    Blade,
    /// Draws, and cuts nothing.
    Pen,
}

const LASER: &[Field] = &[
    must("bed_length", LENGTH),
    must("bed_width", LENGTH),
    may("kerf", LENGTH),
    may("smallest", LENGTH),
    may("overlap", LENGTH),
    may("gap", LENGTH),
];
const KNIFE: &[Field] = &[
    must("bed_length", LENGTH),
    must("bed_width", LENGTH),
    must("offset", LENGTH),
    may("overcut", LENGTH),
    may("smallest", LENGTH),
    may("overlap", LENGTH),
    may("gap", LENGTH),
];
const BLADE: &[Field] =
    &[must("bed_length", LENGTH), must("bed_width", LENGTH), may("smallest", LENGTH), may("overlap", LENGTH), may("gap", LENGTH)];
const PEN: &[Field] = &[must("bed_length", LENGTH), must("bed_width", LENGTH), may("overlap", LENGTH), may("gap", LENGTH)];

/// Every sort, as a source names it.
pub const CUTTER_SORTS: &[(&str, CutterSort)] =
    &[("laser", CutterSort::Laser), ("knife", CutterSort::Knife), ("blade", CutterSort::Blade), ("pen", CutterSort::Pen)];

impl CutterSort {
    /// The sort of a name.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        CUTTER_SORTS.iter().find(|(n, _)| *n == name).map(|(_, sort)| *sort)
    }

    /// How it is written.
    #[must_use]
    pub fn name(self) -> &'static str {
        CUTTER_SORTS.iter().find(|(_, sort)| *sort == self).map_or("", |(name, _)| name)
    }

    /// The figures it may carry.
    #[must_use]
    pub fn fields(self) -> &'static [Field] {
        match self {
            Self::Laser => LASER,
            Self::Knife => KNIFE,
            Self::Blade => BLADE,
            Self::Pen => PEN,
        }
    }
}
