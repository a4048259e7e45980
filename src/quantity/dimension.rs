//! Dimensions: what kind of thing a quantity measures.

use super::ArithmeticError;

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

/// No base dimension may reach a higher power: warmth per areal mass needs four, and a slip in a
/// formula is reported long before it overflows.
const HIGHEST: i8 = 8;

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
    /// W
    pub const HEAT: Self = Self { power: 1, ..Self::NUMBER };
    /// W/mm²
    pub const HEAT_PER_AREA: Self = Self { power: 1, length: -2, ..Self::NUMBER };
    /// Thermal resistance per areal mass: what a batting is worth for its weight.
    pub const WARMTH_PER_MASS: Self = Self { length: 4, temperature: 1, power: -1, mass: -1, ..Self::NUMBER };
}

/// Every dimension that has a name: the kind a parameter states, the dimension, and its wording.
/// The first row of a dimension words it; `ratio` and `count` are other names for a bare number.
const NAMED: &[(&str, Dimension, &str)] = &[
    ("number", Dimension::NUMBER, "a bare number"),
    ("ratio", Dimension::NUMBER, "a bare number"),
    ("count", Dimension::NUMBER, "a bare number"),
    ("length", Dimension::LENGTH, "a length"),
    ("area", Dimension::AREA, "an area"),
    ("volume", Dimension::VOLUME, "a volume"),
    ("angle", Dimension::ANGLE, "an angle"),
    ("mass", Dimension::MASS, "a mass"),
    ("areal_mass", Dimension::AREAL_MASS, "a mass per area"),
    ("linear_mass", Dimension::LINEAR_MASS, "a mass per length"),
    ("fill_power", Dimension::FILL_POWER, "a fill power"),
    ("money", Dimension::MONEY, "money"),
    ("price_per_length", Dimension::PRICE_PER_LENGTH, "money per length"),
    ("price_per_area", Dimension::PRICE_PER_AREA, "money per area"),
    ("price_per_mass", Dimension::PRICE_PER_MASS, "money per mass"),
    ("temperature", Dimension::TEMPERATURE, "a temperature"),
    ("temperature_difference", Dimension::TEMPERATURE_DIFFERENCE, "a temperature difference"),
    ("thermal_resistance", Dimension::THERMAL_RESISTANCE, "a thermal resistance"),
    ("warmth_per_mass", Dimension::WARMTH_PER_MASS, "a thermal resistance for its mass per area"),
    ("heat", Dimension::HEAT, "a heat flow"),
    ("heat_per_area", Dimension::HEAT_PER_AREA, "a heat flow per area"),
];

impl Dimension {
    /// The dimension of a kind that a parameter states: `length`, `areal_mass`, `ratio`.
    #[must_use]
    pub fn named(kind: &str) -> Option<Self> {
        NAMED.iter().find(|(name, ..)| *name == kind).map(|(_, dimension, _)| *dimension)
    }

    /// Every kind that [`Dimension::named`] knows.
    pub fn kinds() -> impl Iterator<Item = &'static str> {
        NAMED.iter().map(|(name, ..)| *name)
    }

    /// In words, with its article: `a length`, `money per length`, `a bare number`.
    #[must_use]
    pub fn describe(self) -> String {
        match NAMED.iter().find(|(_, dimension, _)| *dimension == self) {
            Some((_, _, words)) => (*words).to_owned(),
            None => self.spell_out(),
        }
    }

    /// `length to the power 2 times money per mass`, for what has no name.
    fn spell_out(self) -> String {
        let bases = [
            (self.money, "money"),
            (self.mass, "mass"),
            (self.length, "length"),
            (self.temperature, "temperature"),
            (self.power, "heat flow"),
            (self.angle, "angle"),
        ];
        let side = |sign: i8| {
            let powers = bases.iter().filter(move |(p, _)| p.signum() == sign);
            powers.map(|(p, name)| if p.abs() == 1 { (*name).to_owned() } else { format!("{name} to the power {}", p.abs()) })
        };
        let over: Vec<_> = side(1).collect();
        let over = if over.is_empty() { "one".to_owned() } else { over.join(" times ") };
        std::iter::once(over).chain(side(-1)).collect::<Vec<_>>().join(" per ")
    }

    /// Whether it is a bare number.
    #[must_use]
    pub fn is_number(self) -> bool {
        self == Self::NUMBER
    }

    /// Whether it is a temperature as read on a thermometer.
    #[must_use]
    pub const fn is_point(self) -> bool {
        self.point
    }

    /// Of a sum. A reading plus a difference, either way round, is a reading.
    ///
    /// # Errors
    /// When the two are unlike, or both are readings.
    pub fn plus(self, other: Self) -> Result<Self, ArithmeticError> {
        match (self, other) {
            (Self::TEMPERATURE, Self::TEMPERATURE) => Err(ArithmeticError::TemperaturePoint),
            (Self::TEMPERATURE, Self::TEMPERATURE_DIFFERENCE) | (Self::TEMPERATURE_DIFFERENCE, Self::TEMPERATURE) => Ok(Self::TEMPERATURE),
            (a, b) if a == b => Ok(a),
            (a, b) => Err(ArithmeticError::Unlike(a, b)),
        }
    }

    /// Of a difference. Two readings leave a difference; a reading less a difference is a reading.
    ///
    /// # Errors
    /// When the two are unlike, or a reading is taken from a difference.
    pub fn minus(self, other: Self) -> Result<Self, ArithmeticError> {
        match (self, other) {
            (Self::TEMPERATURE, Self::TEMPERATURE) => Ok(Self::TEMPERATURE_DIFFERENCE),
            (Self::TEMPERATURE, Self::TEMPERATURE_DIFFERENCE) => Ok(Self::TEMPERATURE),
            (Self::TEMPERATURE_DIFFERENCE, Self::TEMPERATURE) => Err(ArithmeticError::TemperaturePoint),
            (a, b) if a == b => Ok(a),
            (a, b) => Err(ArithmeticError::Unlike(a, b)),
        }
    }

    /// Of a product.
    ///
    /// # Errors
    /// When one is a thermometer reading, or a power grows past all use.
    pub fn times(self, other: Self) -> Result<Self, ArithmeticError> {
        self.combine(other, 1)
    }

    /// Of a quotient.
    ///
    /// # Errors
    /// As [`Dimension::times`].
    pub fn over(self, other: Self) -> Result<Self, ArithmeticError> {
        self.combine(other, -1)
    }

    /// Of a whole power.
    ///
    /// # Errors
    /// As [`Dimension::times`].
    pub fn power(self, exponent: u8) -> Result<Self, ArithmeticError> {
        if self.is_number() {
            return Ok(self);
        }
        let exponent = i8::try_from(exponent).map_err(|_| ArithmeticError::PowerTooHigh)?;
        Self::NUMBER.combine(self, exponent)
    }

    /// Of the `degree`th root.
    ///
    /// # Errors
    /// When a base dimension would keep a broken power, or it is a thermometer reading.
    pub fn root(self, degree: u8) -> Result<Self, ArithmeticError> {
        if self.point {
            return Err(ArithmeticError::TemperaturePoint);
        }
        let whole = i8::try_from(degree).ok().filter(|d| *d > 0).ok_or(ArithmeticError::Root(self, degree))?;
        let part = |p: i8| if p % whole == 0 { Ok(p / whole) } else { Err(ArithmeticError::Root(self, degree)) };
        Ok(Self {
            length: part(self.length)?,
            mass: part(self.mass)?,
            temperature: part(self.temperature)?,
            power: part(self.power)?,
            angle: part(self.angle)?,
            money: part(self.money)?,
            point: false,
        })
    }

    fn combine(self, other: Self, by: i8) -> Result<Self, ArithmeticError> {
        if self.point || other.point {
            return Err(ArithmeticError::TemperaturePoint);
        }
        let part = |a: i8, b: i8| {
            let sum = b.checked_mul(by).and_then(|b| a.checked_add(b));
            sum.filter(|p| (-HIGHEST..=HIGHEST).contains(p)).ok_or(ArithmeticError::PowerTooHigh)
        };
        Ok(Self {
            length: part(self.length, other.length)?,
            mass: part(self.mass, other.mass)?,
            temperature: part(self.temperature, other.temperature)?,
            power: part(self.power, other.power)?,
            angle: part(self.angle, other.angle)?,
            money: part(self.money, other.money)?,
            point: false,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_and_words() {
        assert_eq!(Dimension::named("areal_mass"), Some(Dimension::AREAL_MASS));
        assert_eq!(Dimension::named("ratio"), Dimension::named("count"));
        assert_eq!(Dimension::named("cloth"), None);
        assert_eq!(Dimension::LENGTH.describe(), "a length");
        assert_eq!(Dimension::AREA.describe(), "an area");
        assert_eq!(Dimension::PRICE_PER_LENGTH.describe(), "money per length");
        assert_eq!(Dimension::NUMBER.describe(), "a bare number");
        assert_eq!(Dimension { length: 4, ..Dimension::NUMBER }.describe(), "length to the power 4");
        assert_eq!(Dimension { length: 1, mass: -1, ..Dimension::NUMBER }.describe(), "length per mass");
        assert_eq!(Dimension { length: -1, ..Dimension::NUMBER }.describe(), "one per length");
    }

    #[test]
    fn every_kind_is_listed_once() {
        let mut kinds: Vec<_> = Dimension::kinds().collect();
        kinds.sort_unstable();
        let count = kinds.len();
        kinds.dedup();
        assert_eq!(kinds.len(), count);
    }

    #[test]
    fn products_powers_and_roots() {
        assert_eq!(Dimension::LENGTH.times(Dimension::LENGTH), Ok(Dimension::AREA));
        assert_eq!(Dimension::MASS.over(Dimension::AREA), Ok(Dimension::AREAL_MASS));
        assert_eq!(Dimension::THERMAL_RESISTANCE.over(Dimension::AREAL_MASS), Ok(Dimension::WARMTH_PER_MASS));
        assert_eq!(Dimension::LENGTH.power(3), Ok(Dimension::VOLUME));
        assert_eq!(Dimension::NUMBER.power(200), Ok(Dimension::NUMBER));
        assert_eq!(Dimension::LENGTH.power(9), Err(ArithmeticError::PowerTooHigh));
        assert_eq!(Dimension::LENGTH.power(200), Err(ArithmeticError::PowerTooHigh));
        assert_eq!(Dimension::AREA.root(2), Ok(Dimension::LENGTH));
        assert_eq!(Dimension::LENGTH.root(2), Err(ArithmeticError::Root(Dimension::LENGTH, 2)));
        assert_eq!(Dimension::LENGTH.root(0), Err(ArithmeticError::Root(Dimension::LENGTH, 0)));
    }

    #[test]
    fn readings_and_differences() {
        let (point, step) = (Dimension::TEMPERATURE, Dimension::TEMPERATURE_DIFFERENCE);
        assert_eq!(point.minus(point), Ok(step));
        assert_eq!(point.plus(step), Ok(point));
        assert_eq!(step.plus(point), Ok(point));
        assert_eq!(point.minus(step), Ok(point));
        assert_eq!(point.plus(point), Err(ArithmeticError::TemperaturePoint));
        assert_eq!(step.minus(point), Err(ArithmeticError::TemperaturePoint));
        assert_eq!(point.times(Dimension::NUMBER), Err(ArithmeticError::TemperaturePoint));
        assert_eq!(Dimension::NUMBER.times(point), Err(ArithmeticError::TemperaturePoint));
        assert_eq!(point.power(1), Err(ArithmeticError::TemperaturePoint));
        assert_eq!(point.plus(Dimension::LENGTH), Err(ArithmeticError::Unlike(point, Dimension::LENGTH)));
    }
}
