//! A quantity and its arithmetic.

use super::Dimension;

/// A currency by its ISO 4217 code, three capital letters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Currency(pub [u8; 3]);

/// A value in base units with its dimension.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quantity {
    /// The figure in base units.
    pub value: f64,
    /// What it measures.
    pub dimension: Dimension,
    /// Which money, where the dimension holds money.
    pub currency: Option<Currency>,
}

/// Why arithmetic has no answer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ArithmeticError {
    /// Adding, subtracting or comparing unlike things.
    Unlike(Dimension, Dimension),
    /// Two currencies in one sum.
    Currencies(Currency, Currency),
    /// Two thermometer readings added, or one multiplied.
    TemperaturePoint,
    /// A root that leaves no whole power (the square root of a length).
    Root(Dimension, u8),
    /// A power or product past what any dimension here needs.
    PowerTooHigh,
    /// Division by zero, or another result that is no number.
    NotANumber,
}
