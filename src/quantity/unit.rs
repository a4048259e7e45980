//! Units and what they measure: one table of atoms, and `a/b` made of two of them.
//!
//! A thermometer reading is in `degC` or `degF`; a difference of two is in `K` (Celsius steps)
//! or `Fdeg` (Fahrenheit steps). Fluid ounce and gallon are those of the United States.

use super::{Currency, Dimension, slips};

/// A unit.
#[derive(Debug, Clone, PartialEq)]
pub struct Unit {
    /// Its name as written.
    pub name: String,
    /// What it measures.
    pub dimension: Dimension,
    /// How many base units one is.
    pub factor: f64,
    /// Added after scaling, for thermometer readings.
    pub offset: f64,
    /// Which money, for prices.
    pub currency: Option<Currency>,
}

/// Why a unit is not one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum UnitError {
    /// No unit of that name; the nearest known, if any is near.
    Unknown(Option<String>),
}

const INCH: f64 = 25.4;
const FOOT: f64 = 12.0 * INCH;
const YARD: f64 = 36.0 * INCH;
const POUND: f64 = 453.592_37;
const GALLON: f64 = 231.0 * INCH * INCH * INCH;
/// 1 m²K/W in mm²K/W.
const RESISTANCE: f64 = 1e6;
/// 0 degF in kelvin.
const ZERO_FAHRENHEIT: f64 = 459.67 * 5.0 / 9.0;

/// Lengths; each may carry a power, `m2`, `in3`.
const LENGTHS: &[(&str, f64)] = &[("mm", 1.0), ("cm", 10.0), ("m", 1e3), ("km", 1e6), ("in", INCH), ("ft", FOOT), ("yd", YARD)];

/// All other atoms that may stand on either side of a slash.
const ATOMS: &[(&str, Dimension, f64)] = &[
    ("ligne", Dimension::LENGTH, INCH / 40.0),
    ("ml", Dimension::VOLUME, 1e3),
    ("l", Dimension::VOLUME, 1e6),
    ("L", Dimension::VOLUME, 1e6),
    ("cuin", Dimension::VOLUME, INCH * INCH * INCH),
    ("floz", Dimension::VOLUME, GALLON / 128.0),
    ("gal", Dimension::VOLUME, GALLON),
    ("deg", Dimension::ANGLE, std::f64::consts::PI / 180.0),
    ("rad", Dimension::ANGLE, 1.0),
    ("mg", Dimension::MASS, 1e-3),
    ("g", Dimension::MASS, 1.0),
    ("kg", Dimension::MASS, 1e3),
    ("oz", Dimension::MASS, POUND / 16.0),
    ("lb", Dimension::MASS, POUND),
    ("tex", Dimension::LINEAR_MASS, 1.0 / 1e6),
    ("dtex", Dimension::LINEAR_MASS, 1.0 / 1e7),
    ("den", Dimension::LINEAR_MASS, 1.0 / 9e6),
    ("K", Dimension::TEMPERATURE_DIFFERENCE, 1.0),
    ("Fdeg", Dimension::TEMPERATURE_DIFFERENCE, 5.0 / 9.0),
    ("clo", Dimension::THERMAL_RESISTANCE, 0.155 * RESISTANCE),
    ("tog", Dimension::THERMAL_RESISTANCE, 0.1 * RESISTANCE),
    ("W", Dimension::HEAT, 1.0),
];

/// Units that stand alone: name, dimension, factor, offset.
const ALONE: &[(&str, Dimension, f64, f64)] = &[
    ("degC", Dimension::TEMPERATURE, 1.0, 273.15),
    ("degF", Dimension::TEMPERATURE, 5.0 / 9.0, ZERO_FAHRENHEIT),
    ("m2K/W", Dimension::THERMAL_RESISTANCE, RESISTANCE, 0.0),
    ("%", Dimension::NUMBER, 0.01, 0.0),
];

/// What a reference lists: every atom, and the usual pairs.
const LISTED: &[&str] = &[
    "mm", "cm", "m", "km", "in", "ft", "yd", "ligne", "mm2", "cm2", "m2", "in2", "ft2", "yd2", "mm3", "cm3", "m3", "in3", "ft3", "ml", "l",
    "L", "cuin", "floz", "gal", "deg", "rad", "mg", "g", "kg", "oz", "lb", "g/m2", "oz/yd2", "g/m", "oz/yd", "tex", "dtex", "den", "EUR",
    "EUR/m", "EUR/m2", "EUR/kg", "USD/yd", "degC", "degF", "K", "Fdeg", "m2K/W", "clo", "tog", "cuin/oz", "cm3/g", "W", "W/m2", "%",
];

/// The unit of a name: `mm`, `g/m2`, `EUR/m`.
///
/// # Errors
/// [`UnitError`] when there is none.
pub fn unit(name: &str) -> Result<Unit, UnitError> {
    known(name).ok_or_else(|| UnitError::Unknown(slips::meant(name)))
}

/// Every unit name, in the reference's order. Any [currency](super::currency_codes) may stand for `EUR`,
/// and any two units of measure may stand round a slash.
#[must_use]
pub fn unit_names() -> Vec<&'static str> {
    LISTED.to_vec()
}

/// The unit of a name, if there is one.
pub(super) fn known(name: &str) -> Option<Unit> {
    if let Some((_, dimension, factor, offset)) = ALONE.iter().find(|(n, ..)| *n == name) {
        return Some(Unit { name: name.to_owned(), dimension: *dimension, factor: *factor, offset: *offset, currency: None });
    }
    let Some((above, below)) = name.split_once('/') else { return atom(name) };
    let (above, below) = (atom(above)?, atom(below)?);
    let dimension = above.dimension.over(below.dimension).ok()?;
    // `m/m2` would be a needless riddle, and `EUR/USD` an exchange rate.
    let distinct = below.currency.is_none() && !dimension.is_number();
    distinct.then(|| Unit { name: name.to_owned(), dimension, factor: above.factor / below.factor, offset: 0.0, currency: above.currency })
}

fn atom(name: &str) -> Option<Unit> {
    let plain = |dimension, factor| Unit { name: name.to_owned(), dimension, factor, offset: 0.0, currency: None };
    let length = |name: &str| LENGTHS.iter().find(|(n, _)| *n == name).map(|(_, factor)| *factor);
    if let Some(factor) = length(name) {
        return Some(plain(Dimension::LENGTH, factor));
    }
    if let Some((_, dimension, factor)) = ATOMS.iter().find(|(n, ..)| *n == name) {
        return Some(plain(*dimension, *factor));
    }
    if let Some(factor) = name.strip_suffix('2').and_then(length) {
        return Some(plain(Dimension::AREA, factor * factor));
    }
    if let Some(factor) = name.strip_suffix('3').and_then(length) {
        return Some(plain(Dimension::VOLUME, factor * factor * factor));
    }
    let currency = Currency::named(name)?;
    Some(Unit { currency: Some(currency), ..plain(Dimension::MONEY, 1.0) })
}

#[cfg(test)]
mod tests {
    use super::super::Quantity;
    use super::*;

    fn convert(value: f64, from: &str, to: &str) -> f64 {
        Quantity::of(value, &unit(from).unwrap()).unwrap().in_unit(&unit(to).unwrap()).unwrap()
    }

    /// value, from, expected, to, tolerance, where the figure is from.
    const GOLDEN: &[(f64, &str, f64, &str, f64, &str)] = &[
        (1.0, "oz/yd2", 33.905_747_5, "g/m2", 1e-6, "computed: 28.349523125 / 0.83612736"),
        (1.0, "clo", 0.155, "m2K/W", 1e-12, "read: definition of the clo"),
        (1.0, "tog", 0.1, "m2K/W", 1e-12, "memory: definition of the tog"),
        (1.0, "tog", 0.645, "clo", 5e-4, "read: to three places"),
        (0.176_110, "m2K/W", 1.136, "clo", 5e-4, "computed: one US R in clo"),
        (750.0, "cuin/oz", 433.527_5, "cm3/g", 1e-3, "computed: 0.57804 cm3/g each"),
        (850.0, "cuin/oz", 491.3, "cm3/g", 0.05, "computed table of fill powers"),
        (20.0, "den", 2.222_2, "tex", 1e-4, "computed: denier is nine tex"),
        (210.0, "den", 23.3, "tex", 0.05, "computed table of deniers"),
        (27.0, "tex", 0.027, "g/m", 1e-12, "memory: tex is grams a kilometre"),
        (40.0, "tex", 400.0, "dtex", 1e-9, "memory: ten dtex a tex"),
        (24.0, "ligne", 15.24, "mm", 1e-9, "read: button size table"),
        (40.0, "ligne", 1.0, "in", 1e-12, "read: button size table"),
        (1.5, "in", 38.1, "mm", 1e-9, "read: a half inch turn and a one inch hem"),
        (0.375, "in", 9.525, "mm", 1e-9, "computed: webbing of 3/8 in"),
        (70.0, "in", 177.8, "cm", 1e-9, "computed: 5 ft 10 in"),
        (58.0, "in", 147.32, "cm", 1e-9, "computed: usable width of 60 in cloth"),
        (7933.0, "cuin", 130.0, "l", 5e-3, "computed: 2.00 m x 1.30 m x 50 mm"),
        (9.92, "oz", 281.1, "g", 0.15, "computed: that volume at 800 cuin/oz, rounded"),
        (1.0, "lb", 453.592_37, "g", 1e-9, "memory: the international pound"),
        (1.0, "gal", 3.785_411_784, "l", 1e-9, "memory: 231 cubic inches"),
        (1.0, "floz", 29.573_529_562_5, "ml", 1e-9, "computed: a 128th of a gallon"),
        (1.0, "yd2", 0.836_127_36, "m2", 1e-12, "computed: 0.9144 squared"),
        (1.0, "ft3", 1728.0, "in3", 1e-9, "computed: twelve cubed"),
        (180.0, "deg", std::f64::consts::PI, "rad", 1e-12, "computed"),
        (45.0, "degF", 7.222, "degC", 1e-3, "computed: (45 - 32) x 5 / 9"),
        (-40.0, "degF", -40.0, "degC", 1e-9, "computed: where the scales meet"),
        (9.0, "Fdeg", 5.0, "K", 1e-12, "computed"),
        (10.0, "USD/yd", 10.936_13, "USD/m", 1e-5, "computed: 10 / 0.9144"),
    ];

    #[test]
    fn golden_conversions() {
        for (value, from, expected, to, tolerance, origin) in GOLDEN {
            let found = convert(*value, from, to);
            assert!((found - expected).abs() <= *tolerance, "{value} {from} gave {found} {to}, not {expected} ({origin})");
        }
        assert_eq!(Quantity::of(40.0, &unit("%").unwrap()).unwrap().as_number(), Some(0.4));
        assert!((Quantity::of(46.5, &unit("W/m2").unwrap()).unwrap().value - 46.5e-6).abs() < 1e-18);
    }

    #[test]
    fn every_listed_unit_is_known_and_every_atom_listed() {
        for name in unit_names() {
            assert!(known(name).is_some(), "{name}");
        }
        let atoms = LENGTHS.iter().map(|l| l.0).chain(ATOMS.iter().map(|a| a.0)).chain(ALONE.iter().map(|a| a.0));
        for name in atoms {
            assert!(LISTED.contains(&name), "{name}");
        }
    }

    #[test]
    fn any_two_measures_compose() {
        assert_eq!(unit("lb/ft3").unwrap().dimension, Dimension::MASS.over(Dimension::VOLUME).unwrap());
        assert_eq!(unit("NOK/m").unwrap().currency, Currency::named("NOK"));
        assert_eq!(unit("clo/in").unwrap().dimension, Dimension::THERMAL_RESISTANCE.over(Dimension::LENGTH).unwrap());
        for wrong in ["degC/m", "m/EUR", "EUR/USD", "m/cm", "g/m2/s", "m4", "g2", "/m", "m/", "", "DEM", "m2K"] {
            assert!(unit(wrong).is_err(), "{wrong}");
        }
    }
}
