//! The JSON form: numbers rounded here and nowhere else.

use super::Design;

/// Lengths are written to a tenth of a micrometre: below any cutter, above rounding noise.
const DECIMALS: f64 = 1e4;

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
                // Mass and price per mm² are tiny: keep nine significant digits of those.
                let rounded = if f.abs() < 1.0 { significant(f) } else { (f * DECIMALS).round() / DECIMALS };
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
    if f.abs() < 1e-9 {
        return 0.0;
    }
    format!("{f:.8e}").parse().unwrap_or(f)
}
