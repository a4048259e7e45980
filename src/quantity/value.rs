//! A quantity and its arithmetic. Whatever leaves no finite number is an error, never a value.

use super::{Angle, Area, Currency, Dimension, Length, Mass, Money, Unit};
use std::cmp::Ordering;

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

#[allow(clippy::should_implement_trait, reason = "an operator would hide that there may be no answer")]
impl Quantity {
    /// A bare number.
    #[must_use]
    pub const fn number(value: f64) -> Self {
        Self { value, dimension: Dimension::NUMBER, currency: None }
    }

    /// A length of so many millimetres.
    #[must_use]
    pub const fn mm(value: f64) -> Self {
        Self { value, dimension: Dimension::LENGTH, currency: None }
    }

    /// So many base units of a dimension that holds no money.
    ///
    /// # Errors
    /// When the value is not finite.
    pub fn new(value: f64, dimension: Dimension) -> Result<Self, ArithmeticError> {
        Self { value, dimension, currency: None }.finite()
    }

    /// So many of a unit.
    ///
    /// # Errors
    /// When the value in base units is not finite.
    pub fn of(value: f64, unit: &Unit) -> Result<Self, ArithmeticError> {
        Self { value: value * unit.factor + unit.offset, dimension: unit.dimension, currency: unit.currency }.finite()
    }

    /// How many of a unit it is; none when the unit measures something else or other money.
    #[must_use]
    pub fn in_unit(self, unit: &Unit) -> Option<f64> {
        let same = self.dimension == unit.dimension && self.currency == unit.currency;
        same.then(|| (self.value - unit.offset) / unit.factor)
    }

    /// Their sum.
    ///
    /// # Errors
    /// [`ArithmeticError`]
    pub fn add(self, other: Self) -> Result<Self, ArithmeticError> {
        let dimension = self.dimension.plus(other.dimension)?;
        let currency = self.same_money(other)?;
        Self { value: self.value + other.value, dimension, currency }.finite()
    }

    /// Their difference.
    ///
    /// # Errors
    /// [`ArithmeticError`]
    pub fn sub(self, other: Self) -> Result<Self, ArithmeticError> {
        let dimension = self.dimension.minus(other.dimension)?;
        let currency = self.same_money(other)?;
        Self { value: self.value - other.value, dimension, currency }.finite()
    }

    /// Their product.
    ///
    /// # Errors
    /// [`ArithmeticError`]
    pub fn mul(self, other: Self) -> Result<Self, ArithmeticError> {
        let dimension = self.dimension.times(other.dimension)?;
        let currency = self.same_money(other)?;
        Self { value: self.value * other.value, dimension, currency }.finite()
    }

    /// Their quotient.
    ///
    /// # Errors
    /// [`ArithmeticError`]
    pub fn div(self, other: Self) -> Result<Self, ArithmeticError> {
        let dimension = self.dimension.over(other.dimension)?;
        let currency = self.same_money(other)?;
        Self { value: self.value / other.value, dimension, currency }.finite()
    }

    /// Its whole power.
    ///
    /// # Errors
    /// [`ArithmeticError`]
    pub fn powi(self, exponent: u8) -> Result<Self, ArithmeticError> {
        let dimension = self.dimension.power(exponent)?;
        Self { value: self.value.powi(i32::from(exponent)), dimension, currency: self.currency }.finite()
    }

    /// Its root: `degree` 2 is the square root.
    ///
    /// # Errors
    /// [`ArithmeticError`]
    pub fn root(self, degree: u8) -> Result<Self, ArithmeticError> {
        let dimension = self.dimension.root(degree)?;
        let value = match degree {
            2 => self.value.sqrt(),
            3 => self.value.cbrt(),
            _ if self.value < 0.0 => f64::NAN,
            _ => self.value.powf(1.0 / f64::from(degree)),
        };
        Self { value, dimension, currency: self.currency }.finite()
    }

    /// Its opposite. A reading below zero (`-4 degC`) is a literal of its own and never comes here.
    ///
    /// # Errors
    /// For a thermometer reading, which has none.
    pub fn neg(self) -> Result<Self, ArithmeticError> {
        if self.dimension.point {
            return Err(ArithmeticError::TemperaturePoint);
        }
        Ok(Self { value: -self.value, ..self })
    }

    /// Its size without a sign.
    ///
    /// # Errors
    /// For a thermometer reading.
    pub fn abs(self) -> Result<Self, ArithmeticError> {
        let opposite = self.neg()?;
        Ok(if self.value < 0.0 { opposite } else { self })
    }

    /// Which is greater.
    ///
    /// # Errors
    /// When they are unlike.
    pub fn compare(self, other: Self) -> Result<Ordering, ArithmeticError> {
        if self.dimension != other.dimension {
            return Err(ArithmeticError::Unlike(self.dimension, other.dimension));
        }
        self.same_money(other)?;
        self.value.partial_cmp(&other.value).ok_or(ArithmeticError::NotANumber)
    }

    /// The length, if it is one.
    #[must_use]
    pub fn as_length(self) -> Option<Length> {
        (self.dimension == Dimension::LENGTH).then(|| Length::mm(self.value))
    }

    /// The area, if it is one.
    #[must_use]
    pub fn as_area(self) -> Option<Area> {
        (self.dimension == Dimension::AREA).then(|| Area::mm2(self.value))
    }

    /// The angle, if it is one.
    #[must_use]
    pub fn as_angle(self) -> Option<Angle> {
        (self.dimension == Dimension::ANGLE).then(|| Angle::radians(self.value))
    }

    /// The mass, if it is one.
    #[must_use]
    pub fn as_mass(self) -> Option<Mass> {
        (self.dimension == Dimension::MASS).then(|| Mass::grams(self.value))
    }

    /// The bare number, if it is one.
    #[must_use]
    pub fn as_number(self) -> Option<f64> {
        self.dimension.is_number().then_some(self.value)
    }

    /// The amount of money, if it is one.
    #[must_use]
    pub fn as_money(self) -> Option<Money> {
        let currency = self.currency.filter(|_| self.dimension == Dimension::MONEY)?;
        Some(Money { amount: self.value, currency: currency.to_string() })
    }

    /// The currency of a result, gone where the money cancelled out.
    fn same_money(self, other: Self) -> Result<Option<Currency>, ArithmeticError> {
        match (self.currency, other.currency) {
            (Some(a), Some(b)) if a != b => Err(ArithmeticError::Currencies(a, b)),
            (a, b) => Ok(a.or(b)),
        }
    }

    fn finite(self) -> Result<Self, ArithmeticError> {
        if !self.value.is_finite() {
            return Err(ArithmeticError::NotANumber);
        }
        // Minus zero would be written out as `-0`.
        let currency = self.currency.filter(|_| self.dimension.money != 0);
        Ok(Self { value: self.value + 0.0, currency, ..self })
    }
}

impl From<Length> for Quantity {
    fn from(length: Length) -> Self {
        Self::mm(length.as_mm())
    }
}

impl From<Area> for Quantity {
    fn from(area: Area) -> Self {
        Self { value: area.as_mm2(), dimension: Dimension::AREA, currency: None }
    }
}

impl From<Angle> for Quantity {
    fn from(angle: Angle) -> Self {
        Self { value: angle.as_radians(), dimension: Dimension::ANGLE, currency: None }
    }
}

impl From<Mass> for Quantity {
    fn from(mass: Mass) -> Self {
        Self { value: mass.as_grams(), dimension: Dimension::MASS, currency: None }
    }
}

#[cfg(test)]
mod tests {
    use super::super::unit;
    use super::*;

    fn q(value: f64, name: &str) -> Quantity {
        Quantity::of(value, &unit(name).unwrap()).unwrap()
    }

    #[test]
    fn sums_of_like_things() {
        // 1 1/2 in is 38.1 mm; with 12 mm, 50.1 mm.
        let sum = q(1.5, "in").add(q(12.0, "mm")).unwrap();
        assert!((sum.value - 50.1).abs() < 1e-12);
        assert_eq!(q(1.0, "m").add(q(1.0, "m2")), Err(ArithmeticError::Unlike(Dimension::LENGTH, Dimension::AREA)));
        assert_eq!(q(1.0, "m").add(Quantity::number(1.0)), Err(ArithmeticError::Unlike(Dimension::LENGTH, Dimension::NUMBER)));
    }

    #[test]
    fn money() {
        let (eur, usd) = (Currency::named("EUR").unwrap(), Currency::named("USD").unwrap());
        // 2.5 m at 9.40 EUR/m is 23.50 EUR.
        let cost = q(9.4, "EUR/m").mul(q(2.5, "m")).unwrap();
        assert_eq!(cost.dimension, Dimension::MONEY);
        let money = cost.as_money().unwrap();
        assert!((money.amount - 23.5).abs() < 1e-9);
        assert_eq!(money.currency, "EUR");
        assert_eq!(q(1.0, "EUR").add(q(1.0, "USD")), Err(ArithmeticError::Currencies(eur, usd)));
        assert_eq!(q(1.0, "EUR").compare(q(1.0, "USD")), Err(ArithmeticError::Currencies(eur, usd)));
        let ratio = q(3.0, "EUR").div(q(2.0, "EUR")).unwrap();
        assert_eq!((ratio.as_number(), ratio.currency), (Some(1.5), None));
        assert_eq!(q(1.0, "EUR").div(q(1.0, "USD")), Err(ArithmeticError::Currencies(eur, usd)));
    }

    #[test]
    fn temperatures() {
        // Water freezes at 32 degF and boils at 212 degF: 180 Fahrenheit steps, 100 K.
        let step = q(212.0, "degF").sub(q(32.0, "degF")).unwrap();
        assert!((step.value - 100.0).abs() < 1e-9);
        assert_eq!(step.dimension, Dimension::TEMPERATURE_DIFFERENCE);
        let warmer = q(4.0, "degC").add(q(9.0, "Fdeg")).unwrap();
        assert!((warmer.in_unit(&unit("degC").unwrap()).unwrap() - 9.0).abs() < 1e-9);
        assert_eq!(q(4.0, "degC").neg(), Err(ArithmeticError::TemperaturePoint));
        assert_eq!(q(4.0, "degC").abs(), Err(ArithmeticError::TemperaturePoint));
        assert_eq!(q(4.0, "degC").mul(Quantity::number(2.0)), Err(ArithmeticError::TemperaturePoint));
        assert_eq!(q(4.0, "degC").compare(q(40.0, "degF")), Ok(Ordering::Less)); // 4 degC is 39.2 degF
        assert_eq!(
            q(4.0, "degC").compare(q(4.0, "K")),
            Err(ArithmeticError::Unlike(Dimension::TEMPERATURE, Dimension::TEMPERATURE_DIFFERENCE))
        );
    }

    #[test]
    fn what_is_no_number_is_an_error() {
        let zero = Quantity::number(0.0);
        assert_eq!(q(1.0, "mm").div(zero), Err(ArithmeticError::NotANumber));
        assert_eq!(zero.div(zero), Err(ArithmeticError::NotANumber));
        assert_eq!(Quantity::number(-4.0).root(2), Err(ArithmeticError::NotANumber));
        assert_eq!(Quantity::number(-4.0).root(4), Err(ArithmeticError::NotANumber));
        assert_eq!(Quantity::number(f64::MAX).mul(Quantity::number(2.0)), Err(ArithmeticError::NotANumber));
        assert_eq!(Quantity::number(1e200).powi(2), Err(ArithmeticError::NotANumber));
        assert_eq!(Quantity::new(f64::NAN, Dimension::LENGTH), Err(ArithmeticError::NotANumber));
        assert_eq!(Quantity::of(f64::MAX, &unit("km").unwrap()), Err(ArithmeticError::NotANumber));
    }

    #[test]
    fn roots_powers_and_signs() {
        // The diagonal of 3 m by 4 m is 5 m.
        let square = q(3.0, "m").powi(2).unwrap().add(q(4.0, "m").powi(2).unwrap()).unwrap();
        assert_eq!(square.root(2).unwrap().as_length().map(Length::as_mm), Some(5000.0));
        assert_eq!(Quantity::number(-8.0).root(3).unwrap().as_number(), Some(-2.0));
        assert_eq!(Quantity::number(16.0).root(4).unwrap().as_number(), Some(2.0));
        assert_eq!(q(2.0, "m").root(2), Err(ArithmeticError::Root(Dimension::LENGTH, 2)));
        assert_eq!(q(-2.0, "mm").abs().unwrap().value, 2.0);
        assert_eq!(q(2.0, "mm").neg().unwrap().value, -2.0);
        assert!(Quantity::number(0.0).mul(Quantity::number(-1.0)).unwrap().value.is_sign_positive());
    }
}
