//! The JSON form: numbers rounded here and nowhere else.

use super::Design;

/// Numbers are written to ten significant digits: finer than any cutter or scale, coarser than rounding noise.
const DIGITS: i32 = 10;

/// Anything smaller is noise about nothing; the smallest honest figure is a price per mm², some 1e-6.
const NOISE: f64 = 1e-9;

/// The design as JSON, byte-identical for equal designs.
///
/// # Errors
/// When a number is not finite.
pub fn to_json(design: &Design) -> Result<String, serde_json::Error> {
    let mut value = serde_json::to_value(design)?;
    round(&mut value);
    let mut text = serde_json::to_string_pretty(&value)?;
    text.push('\n');
    Ok(text)
}

/// A design from its JSON form.
///
/// # Errors
/// When the text is not such a form.
pub fn from_json(text: &str) -> Result<Design, serde_json::Error> {
    serde_json::from_str(text)
}

/// The JSON Schema of the form.
#[must_use]
pub fn schema() -> String {
    let schema = schemars::schema_for!(Design);
    let mut text = serde_json::to_string_pretty(&schema).unwrap_or_default();
    text.push('\n');
    text
}

/// Rounds every number of a JSON value: the one place where figures are rounded on their way out.
pub fn round(value: &mut serde_json::Value) {
    match value {
        serde_json::Value::Number(n) => {
            if let Some(f) = n.as_f64().filter(|_| n.is_f64()) {
                let rounded = significant(f);
                if let Some(n) = serde_json::Number::from_f64(rounded + 0.0) {
                    *value = serde_json::Value::Number(n);
                }
            }
        }
        serde_json::Value::Array(items) => items.iter_mut().for_each(round),
        serde_json::Value::Object(map) => map.values_mut().for_each(round),
        _ => {}
    }
}

fn significant(f: f64) -> f64 {
    if f.abs() < NOISE {
        return 0.0;
    }
    let places = DIGITS - 1 - f.abs().log10().floor() as i32;
    // Dividing by a power of ten is exact to the last digit where multiplying by its inverse is not.
    if places >= 0 {
        let scale = 10_f64.powi(places);
        (f * scale).round() / scale
    } else {
        let scale = 10_f64.powi(-places);
        (f / scale).round() * scale
    }
}

#[cfg(test)]
mod tests {
    use super::significant;

    #[test]
    fn ten_digits_and_no_noise() {
        assert_eq!(significant(28.349_523_125), 28.349_523_13);
        assert_eq!(significant(192.881_25), 192.881_25);
        assert_eq!(significant(2_576_000.000_000_2), 2_576_000.0);
        assert_eq!(significant(-3.390_574_75e-5), -3.390_574_75e-5);
        assert_eq!(significant(4e-14), 0.0);
        assert_eq!(significant(12_345_678_912_345.0), 12_345_678_910_000.0);
    }
}
