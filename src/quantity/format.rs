//! How quantities are worded for people: in the units a source would write, rounded to what a
//! tape, a scale or a till can show.

use super::{Currency, Dimension, Length, Quantity, push_decimal};

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

impl Style {
    /// Centimetres and grams.
    pub const METRIC: Self = Self { system: UnitSystem::Metric };
    /// Inches and ounces.
    pub const INCH: Self = Self { system: UnitSystem::Inch };
}

const INCH: f64 = 25.4;
const YARD: f64 = 36.0 * INCH;
const OUNCE: f64 = 28.349_523_125;

/// A length as a tape shows it: `12 mm`, `84.5 cm`, from ten metres `12.35 m`; `33 1/4 in`, from 400 inches `12.5 yd`.
#[must_use]
pub fn format_length(length: Length, style: Style) -> String {
    let mm = length.as_mm();
    match style.system {
        UnitSystem::Metric if mm.abs() >= 10_000.0 => trimmed(mm / 1000.0, 2) + " m",
        UnitSystem::Metric if mm.abs() >= 99.95 => trimmed(mm / 10.0, 1) + " cm",
        UnitSystem::Metric => significant(mm, 1) + " mm",
        UnitSystem::Inch if mm.abs() >= 400.0 * INCH => trimmed(mm / YARD, 2) + " yd",
        UnitSystem::Inch => sixteenths(mm / INCH) + " in",
    }
}

/// A length to a tenth of a millimetre or a hundredth of an inch, for two figures that lie close together.
#[must_use]
pub fn format_length_fine(length: Length, style: Style) -> String {
    let mm = length.as_mm();
    match style.system {
        UnitSystem::Metric if mm.abs() >= 99.95 => format!("{} cm", trimmed(mm / 10.0, 2)),
        UnitSystem::Metric => format!("{} mm", significant(mm, 1)),
        UnitSystem::Inch => format!("{} in", significant(mm / INCH, 2)),
    }
}

/// Any quantity in words, in the usual unit of its dimension.
#[must_use]
pub fn format_quantity(quantity: Quantity, style: Style) -> String {
    let (value, d) = (quantity.value, quantity.dimension);
    if d == Dimension::LENGTH {
        return format_length(Length::mm(value), style);
    }
    if d.money != 0 {
        return match quantity.currency {
            Some(currency) => money(value, d, currency, style),
            None => in_base_units(value, d),
        };
    }
    let usual = match style.system {
        UnitSystem::Metric => metric(value, d),
        UnitSystem::Inch => inch(value, d),
    };
    match usual.or_else(|| either(value, d)) {
        Some((figure, decimals, unit)) => significant(figure, decimals) + " " + unit,
        None if d.is_number() => significant(value, 4),
        None => in_base_units(value, d),
    }
}

/// Figure, decimals to keep, unit.
type Worded = Option<(f64, usize, &'static str)>;

fn metric(value: f64, d: Dimension) -> Worded {
    Some(match d {
        Dimension::AREA if value.abs() >= 1e5 => (value / 1e6, 2, "m2"),
        Dimension::AREA => (value / 100.0, 1, "cm2"),
        Dimension::VOLUME if value.abs() >= 1e6 => (value / 1e6, 1, "l"),
        Dimension::VOLUME => (value / 1e3, 0, "ml"),
        Dimension::MASS if value.abs() >= 1000.0 => (value / 1000.0, 2, "kg"),
        Dimension::MASS => (value, 1, "g"),
        Dimension::AREAL_MASS => (value * 1e6, 1, "g/m2"),
        Dimension::LINEAR_MASS => (value * 1e3, 1, "g/m"),
        Dimension::TEMPERATURE => (value - 273.15, 1, "degC"),
        Dimension::TEMPERATURE_DIFFERENCE => (value, 1, "K"),
        Dimension::THERMAL_RESISTANCE => (value / 1e6, 2, "m2K/W"),
        Dimension::FILL_POWER => (value / 1e3, 0, "cm3/g"),
        _ => return None,
    })
}

fn inch(value: f64, d: Dimension) -> Worded {
    let areal = OUNCE / (YARD * YARD);
    Some(match d {
        Dimension::AREA if value.abs() >= YARD * YARD => (value / (YARD * YARD), 2, "yd2"),
        Dimension::AREA => (value / (INCH * INCH), 1, "in2"),
        Dimension::VOLUME => (value / INCH.powi(3), 0, "cuin"),
        Dimension::MASS if value.abs() >= 32.0 * OUNCE => (value / (16.0 * OUNCE), 2, "lb"),
        Dimension::MASS => (value / OUNCE, 2, "oz"),
        Dimension::AREAL_MASS => (value / areal, 2, "oz/yd2"),
        Dimension::LINEAR_MASS => (value / (OUNCE / YARD), 2, "oz/yd"),
        Dimension::TEMPERATURE => (value * 9.0 / 5.0 - 459.67, 1, "degF"),
        Dimension::TEMPERATURE_DIFFERENCE => (value * 9.0 / 5.0, 1, "Fdeg"),
        Dimension::THERMAL_RESISTANCE => (value / 155_000.0, 2, "clo"),
        Dimension::FILL_POWER => (value * OUNCE / INCH.powi(3), 0, "cuin/oz"),
        _ => return None,
    })
}

fn either(value: f64, d: Dimension) -> Worded {
    Some(match d {
        Dimension::ANGLE => (value.to_degrees(), 1, "deg"),
        Dimension::HEAT => (value, 1, "W"),
        Dimension::HEAT_PER_AREA => (value * 1e6, 1, "W/m2"),
        _ => return None,
    })
}

fn money(value: f64, d: Dimension, currency: Currency, style: Style) -> String {
    let inch = style.system == UnitSystem::Inch;
    let (figure, per) = match d {
        Dimension::MONEY => (value, ""),
        Dimension::PRICE_PER_LENGTH if inch => (value * YARD, "/yd"),
        Dimension::PRICE_PER_LENGTH => (value * 1e3, "/m"),
        Dimension::PRICE_PER_AREA if inch => (value * YARD * YARD, "/yd2"),
        Dimension::PRICE_PER_AREA => (value * 1e6, "/m2"),
        Dimension::PRICE_PER_MASS if inch => (value * OUNCE * 16.0, "/lb"),
        Dimension::PRICE_PER_MASS => (value * 1e3, "/kg"),
        _ => return format!("{} ({currency})", in_base_units(value, d)),
    };
    let decimals = currency.decimals();
    format!("{} {currency}{per}", whole_zero(format!("{figure:.decimals$}")))
}

/// `3.2 mm4 K / W g`, for what has no usual unit.
fn in_base_units(value: f64, d: Dimension) -> String {
    let bases = [(d.money, "money"), (d.length, "mm"), (d.mass, "g"), (d.temperature, "K"), (d.power, "W"), (d.angle, "rad")];
    let side = |sign: i8| {
        let powers = bases.iter().filter(|(p, _)| p.signum() == sign);
        powers.map(|(p, unit)| if p.abs() == 1 { (*unit).to_owned() } else { format!("{unit}{}", p.abs()) }).collect::<Vec<_>>().join(" ")
    };
    let (above, below) = (side(1), side(-1));
    let figure = significant(value, 4);
    match (above.is_empty(), below.is_empty()) {
        (_, true) => format!("{figure} {above}").trim_end().to_owned(),
        (true, false) => format!("{figure} / {below}"),
        (false, false) => format!("{figure} {above} / {below}"),
    }
}

/// Inches to the nearest sixteenth in lowest terms; a figure too small for that as a decimal.
fn sixteenths(inches: f64) -> String {
    let count = (inches.abs() * 16.0).round();
    if count == 0.0 && inches != 0.0 {
        return significant(inches, 3);
    }
    let sign = if inches < 0.0 { "-" } else { "" };
    let whole = (count / 16.0).floor();
    let mut above = count - whole * 16.0;
    let mut below = 16.0;
    while above > 0.0 && above % 2.0 == 0.0 {
        above /= 2.0;
        below /= 2.0;
    }
    match (whole > 0.0, above > 0.0) {
        (_, false) => format!("{sign}{whole:.0}"),
        (true, true) => format!("{sign}{whole:.0} {above:.0}/{below:.0}"),
        (false, true) => format!("{sign}{above:.0}/{below:.0}"),
    }
}

/// As long as most figures are with their unit, in bytes.
const SHORT: usize = 16;

/// With so many decimals, without the zeros at their end.
fn trimmed(value: f64, decimals: usize) -> String {
    let mut text = String::with_capacity(SHORT);
    push_decimal(&mut text, value, decimals);
    text
}

/// As [`trimmed`], but a figure below one keeps three significant digits.
fn significant(value: f64, decimals: usize) -> String {
    let size = value.abs();
    if size == 0.0 || size >= 1.0 {
        return trimmed(value, decimals);
    }
    let mut needed = 3;
    let mut scaled = size * 10.0;
    while scaled < 1.0 && needed < 15 {
        scaled *= 10.0;
        needed += 1;
    }
    trimmed(value, decimals.max(needed))
}

/// `-0.00` is nothing, and nothing has no sign.
fn whole_zero(text: String) -> String {
    match text.strip_prefix('-') {
        Some(rest) if rest.bytes().all(|b| b == b'0' || b == b'.') => rest.to_owned(),
        _ => text,
    }
}

#[cfg(test)]
mod tests {
    use super::super::unit;
    use super::*;

    #[test]
    fn lengths_on_a_metric_tape() {
        let say = |mm| format_length(Length::mm(mm), Style::METRIC);
        for (mm, words) in [
            (12.0, "12 mm"),
            (12.7, "12.7 mm"),
            (0.35, "0.35 mm"),
            (0.0, "0 mm"),
            (-0.0, "0 mm"),
            (-3.0, "-3 mm"),
            (99.9, "99.9 mm"),
            (99.96, "10 cm"),
            (100.0, "10 cm"),
            (845.0, "84.5 cm"),
            (1840.0, "184 cm"),
            (1840.4, "184 cm"),
            (250_000.0, "250 m"),
            (12_345.0, "12.35 m"),
        ] {
            assert_eq!(say(mm), words);
        }
    }

    #[test]
    fn lengths_on_an_inch_tape() {
        let say = |inches: f64| format_length(Length::mm(inches * 25.4), Style::INCH);
        for (inches, words) in [
            (33.25, "33 1/4 in"),
            (0.4, "3/8 in"),
            (0.5, "1/2 in"),
            (2.0, "2 in"),
            (1.97, "2 in"),
            (1.0625, "1 1/16 in"),
            (0.014, "0.014 in"),
            (0.0, "0 in"),
            (-1.5, "-1 1/2 in"),
            (450.0, "12.5 yd"),
        ] {
            assert_eq!(say(inches), words);
        }
        // 12 mm is 0.472 in, nearest sixteenth 8/16.
        assert_eq!(format_length(Length::mm(12.0), Style::INCH), "1/2 in");
    }

    #[test]
    fn fine_lengths_tell_close_figures_apart() {
        assert_eq!(format_length_fine(Length::mm(845.6), Style::METRIC), "84.56 cm");
        assert_eq!(format_length_fine(Length::mm(845.0), Style::METRIC), "84.5 cm");
        assert_eq!(format_length_fine(Length::mm(12.04), Style::METRIC), "12 mm");
        assert_eq!(format_length_fine(Length::mm(845.6), Style::INCH), "33.29 in");
    }

    #[test]
    fn every_dimension_in_both_systems() {
        for (value, name, metric, inch) in [
            (1.0, "m2", "1 m2", "1.2 yd2"),
            (25.0, "cm2", "25 cm2", "3.9 in2"),
            (4.5, "l", "4.5 l", "275 cuin"),
            (250.0, "ml", "250 ml", "15 cuin"),
            (34.6, "g", "34.6 g", "1.22 oz"),
            (1250.0, "g", "1.25 kg", "2.76 lb"),
            (36.0, "g/m2", "36 g/m2", "1.06 oz/yd2"),
            (1.1, "oz/yd2", "37.3 g/m2", "1.1 oz/yd2"),
            (27.0, "tex", "0.027 g/m", "0.000871 oz/yd"),
            (9.4, "EUR/m", "9.40 EUR/m", "8.60 EUR/yd"),
            (12.0, "EUR", "12.00 EUR", "12.00 EUR"),
            (1200.0, "JPY", "1200 JPY", "1200 JPY"),
            (6.0, "EUR/m2", "6.00 EUR/m2", "5.02 EUR/yd2"),
            (80.0, "EUR/kg", "80.00 EUR/kg", "36.29 EUR/lb"),
            (4.0, "degC", "4 degC", "39.2 degF"),
            (-4.0, "degC", "-4 degC", "24.8 degF"),
            (5.0, "K", "5 K", "9 Fdeg"),
            (0.6, "m2K/W", "0.6 m2K/W", "3.87 clo"),
            (800.0, "cuin/oz", "462 cm3/g", "800 cuin/oz"),
            (30.0, "deg", "30 deg", "30 deg"),
            (46.5, "W/m2", "46.5 W/m2", "46.5 W/m2"),
            (3.0, "W", "3 W", "3 W"),
            (40.0, "%", "0.4", "0.4"),
        ] {
            let quantity = Quantity::of(value, &unit(name).unwrap()).unwrap();
            assert_eq!(format_quantity(quantity, Style::METRIC), metric);
            assert_eq!(format_quantity(quantity, Style::INCH), inch);
        }
        assert_eq!(format_quantity(Quantity::number(4.0), Style::METRIC), "4");
        assert_eq!(format_quantity(Quantity::number(1.0 / 3.0), Style::METRIC), "0.3333");
        assert_eq!(format_quantity(Quantity::number(12345.678), Style::METRIC), "12345.678");
        let odd = Quantity::new(2.5, Dimension { length: 4, mass: -1, ..Dimension::NUMBER }).unwrap();
        assert_eq!(format_quantity(odd, Style::METRIC), "2.5 mm4 / g");
        let odd = Quantity::new(2.5, Dimension { length: -1, ..Dimension::NUMBER }).unwrap();
        assert_eq!(format_quantity(odd, Style::METRIC), "2.5 / mm");
    }
}
