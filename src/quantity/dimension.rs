//! Dimensions: what kind of thing a quantity measures.

/// Powers of the base dimensions, and whether a temperature is a point on the scale.
///
/// `Dimension::default()` is a bare number: a count or a ratio.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Default)]
pub struct Dimension {
    /// Power of length (mm).
    pub length: i8,
    /// Power of mass (g).
    pub mass: i8,
    /// Power of temperature difference (K).
    pub temperature: i8,
    /// Power of heat flow (W).
    pub power: i8,
    /// Power of angle (rad).
    pub angle: i8,
    /// Power of money.
    pub money: i8,
    /// A temperature as read on a thermometer, not a difference of two.
    pub point: bool,
}

impl Dimension {
    /// A bare number.
    pub const NUMBER: Self = Self { length: 0, mass: 0, temperature: 0, power: 0, angle: 0, money: 0, point: false };
    /// mm
    pub const LENGTH: Self = Self { length: 1, ..Self::NUMBER };
    /// mm²
    pub const AREA: Self = Self { length: 2, ..Self::NUMBER };
    /// mm³
    pub const VOLUME: Self = Self { length: 3, ..Self::NUMBER };
    /// rad
    pub const ANGLE: Self = Self { angle: 1, ..Self::NUMBER };
    /// g
    pub const MASS: Self = Self { mass: 1, ..Self::NUMBER };
    /// g/mm²
    pub const AREAL_MASS: Self = Self { mass: 1, length: -2, ..Self::NUMBER };
    /// g/mm
    pub const LINEAR_MASS: Self = Self { mass: 1, length: -1, ..Self::NUMBER };
    /// mm³/g: fill power
    pub const FILL_POWER: Self = Self { mass: -1, length: 3, ..Self::NUMBER };
    /// money
    pub const MONEY: Self = Self { money: 1, ..Self::NUMBER };
    /// money/mm
    pub const PRICE_PER_LENGTH: Self = Self { money: 1, length: -1, ..Self::NUMBER };
    /// money/mm²
    pub const PRICE_PER_AREA: Self = Self { money: 1, length: -2, ..Self::NUMBER };
    /// money/g
    pub const PRICE_PER_MASS: Self = Self { money: 1, mass: -1, ..Self::NUMBER };
    /// A thermometer reading, held in kelvin.
    pub const TEMPERATURE: Self = Self { temperature: 1, point: true, ..Self::NUMBER };
    /// K
    pub const TEMPERATURE_DIFFERENCE: Self = Self { temperature: 1, ..Self::NUMBER };
    /// mm² K/W
    pub const THERMAL_RESISTANCE: Self = Self { length: 2, temperature: 1, power: -1, ..Self::NUMBER };
}
