//! What was meant by a unit that is not one.

use super::unit::known;
use super::{currency_codes, unit_names};

/// Ways of writing a unit that are common elsewhere, in small letters, and the one way here.
const SLIPS: &[(&str, &str)] = &[
    ("\"", "in"),
    ("”", "in"),
    ("″", "in"),
    ("inch", "in"),
    ("inches", "in"),
    ("ins", "in"),
    ("'", "ft"),
    ("’", "ft"),
    ("′", "ft"),
    ("foot", "ft"),
    ("feet", "ft"),
    ("yard", "yd"),
    ("yards", "yd"),
    ("yds", "yd"),
    ("millimetre", "mm"),
    ("millimetres", "mm"),
    ("millimeter", "mm"),
    ("millimeters", "mm"),
    ("mms", "mm"),
    ("centimetre", "cm"),
    ("centimetres", "cm"),
    ("centimeter", "cm"),
    ("centimeters", "cm"),
    ("cms", "cm"),
    ("metre", "m"),
    ("metres", "m"),
    ("meter", "m"),
    ("meters", "m"),
    ("mtr", "m"),
    ("mtrs", "m"),
    ("sqcm", "cm2"),
    ("sqm", "m2"),
    ("m²", "m2"),
    ("cm²", "cm2"),
    ("sqin", "in2"),
    ("sqft", "ft2"),
    ("sqyd", "yd2"),
    ("yd²", "yd2"),
    ("litre", "l"),
    ("litres", "l"),
    ("liter", "l"),
    ("liters", "l"),
    ("ltr", "l"),
    ("cc", "cm3"),
    ("gallon", "gal"),
    ("gallons", "gal"),
    ("gram", "g"),
    ("grams", "g"),
    ("gramme", "g"),
    ("grammes", "g"),
    ("gm", "g"),
    ("gms", "g"),
    ("gr", "g"),
    ("kilo", "kg"),
    ("kilos", "kg"),
    ("kgs", "kg"),
    ("ounce", "oz"),
    ("ounces", "oz"),
    ("ozs", "oz"),
    ("pound", "lb"),
    ("pounds", "lb"),
    ("lbs", "lb"),
    ("gsm", "g/m2"),
    ("osy", "oz/yd2"),
    ("denier", "den"),
    ("d", "den"),
    ("degree", "deg"),
    ("degrees", "deg"),
    ("°", "deg"),
    ("radian", "rad"),
    ("radians", "rad"),
    ("c", "degC"),
    ("°c", "degC"),
    ("celsius", "degC"),
    ("centigrade", "degC"),
    ("f", "degF"),
    ("°f", "degF"),
    ("fahrenheit", "degF"),
    ("kelvin", "K"),
    ("cdeg", "K"),
    ("fp", "cuin/oz"),
    ("watt", "W"),
    ("watts", "W"),
    ("euro", "EUR"),
    ("euros", "EUR"),
    ("€", "EUR"),
    ("dollar", "USD"),
    ("dollars", "USD"),
    ("$", "USD"),
    ("£", "GBP"),
    ("percent", "%"),
    ("pct", "%"),
];

/// The unit that was most likely meant.
pub(super) fn meant(name: &str) -> Option<String> {
    let pair = || {
        let (above, below) = name.split_once('/')?;
        let pair = format!("{}/{}", part_meant(above)?, part_meant(below)?);
        known(&pair).map(|u| u.name)
    };
    written_otherwise(name).or_else(pair).or_else(|| near(name).map(str::to_owned))
}

fn part_meant(part: &str) -> Option<String> {
    if known(part).is_some() {
        return Some(part.to_owned());
    }
    written_otherwise(part).or_else(|| near(part).map(str::to_owned))
}

/// A known slip, or the right letters in the wrong case.
fn written_otherwise(name: &str) -> Option<String> {
    let small = name.to_lowercase();
    let slip = SLIPS.iter().find(|(slip, _)| *slip == small).map(|(_, right)| *right);
    let same_letters = || unit_names().into_iter().chain(currency_codes()).find(|n| n.to_lowercase() == small);
    slip.or_else(same_letters).map(str::to_owned)
}

/// The listed unit a letter or so away; of two letters, one must be right.
fn near(part: &str) -> Option<&'static str> {
    let letters = part.chars().count();
    let limit = (letters / 3).max(1);
    // A word spelt out is misspelt as a word is.
    let words = SLIPS.iter().filter(|_| letters > 4).map(|(word, unit)| (strsim::damerau_levenshtein(&part.to_lowercase(), word), *unit));
    unit_names()
        .into_iter()
        .map(|n| (strsim::damerau_levenshtein(part, n), n))
        .chain(words)
        .filter(|(distance, _)| *distance <= limit && *distance < letters)
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, n)| n)
}

#[cfg(test)]
mod tests {
    use super::super::{UnitError, unit};
    use super::*;

    #[test]
    fn slips_are_understood() {
        let meant = |name: &str| match unit(name) {
            Err(UnitError::Unknown(near)) => near,
            Ok(_) => panic!("{name} is a unit"),
        };
        for (slip, right) in [
            ("\"", "in"),
            ("inch", "in"),
            ("Inches", "in"),
            ("cms", "cm"),
            ("CM", "cm"),
            ("mtr", "m"),
            ("gsm", "g/m2"),
            ("GSM", "g/m2"),
            ("gm/m2", "g/m2"),
            ("g/sqm", "g/m2"),
            ("oz/sqyd", "oz/yd2"),
            ("euro/m", "EUR/m"),
            ("eur/m", "EUR/m"),
            ("Usd", "USD"),
            ("C", "degC"),
            ("degc", "degC"),
            ("D", "den"),
            ("denn", "den"),
            ("mn", "mm"),
            ("KG", "kg"),
            ("m2k/W", "m2K/W"),
        ] {
            assert_eq!(meant(slip).as_deref(), Some(right), "{slip}");
        }
        for none in ["banana", "q", "xx/m", "", "/"] {
            assert_eq!(meant(none), None, "{none}");
        }
    }

    #[test]
    fn every_slip_leads_to_a_unit() {
        for (slip, right) in SLIPS {
            assert!(known(right).is_some(), "{right}");
            assert!(known(slip).is_none(), "{slip} is a unit");
            assert_eq!(slip.to_lowercase(), *slip);
        }
    }
}
