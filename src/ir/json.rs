//! The JSON form: numbers rounded here and nowhere else.

use super::Design;
use super::layout::{CLOSE, Galley, NEXT, OPEN};
use serde::Serialize;
use serde_json::Serializer;
use serde_json::ser::{CompactFormatter, Formatter};
use std::io::{self, Write};

/// Numbers are written to ten significant digits: finer than any cutter or scale, coarser than rounding noise.
const DIGITS: i32 = 10;

/// Anything smaller is noise about nothing; the smallest honest figure is a price per mm², some 1e-6.
const NOISE: f64 = 1e-9;

/// The design as JSON, byte-identical for equal designs.
///
/// # Errors
/// When a figure has no written form.
pub fn to_json(design: &Design) -> Result<String, serde_json::Error> {
    written(design, 1 << 18)
}

/// Anything as JSON laid out for people too, with every number rounded.
///
/// # Errors
/// When it has no JSON form.
pub fn pretty(value: &impl Serialize) -> Result<String, serde_json::Error> {
    written(value, 1 << 14)
}

fn written(value: &impl Serialize, bytes: usize) -> Result<String, serde_json::Error> {
    let mut serializer = Serializer::with_formatter(Galley::with_capacity(bytes), Rounded);
    value.serialize(&mut serializer)?;
    String::from_utf8(serializer.into_inner().done()).map_err(|e| serde_json::Error::io(io::Error::new(io::ErrorKind::InvalidData, e)))
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

/// Rounds every number, and marks where a line may end.
struct Rounded;

impl Formatter for Rounded {
    fn write_f64<W: ?Sized + Write>(&mut self, writer: &mut W, value: f64) -> io::Result<()> {
        CompactFormatter.write_f64(writer, rounded(value))
    }

    fn begin_array<W: ?Sized + Write>(&mut self, writer: &mut W) -> io::Result<()> {
        writer.write_all(&[OPEN, b'['])
    }

    fn end_array<W: ?Sized + Write>(&mut self, writer: &mut W) -> io::Result<()> {
        writer.write_all(&[CLOSE, b']'])
    }

    fn begin_array_value<W: ?Sized + Write>(&mut self, writer: &mut W, first: bool) -> io::Result<()> {
        if first { Ok(()) } else { writer.write_all(&[NEXT]) }
    }

    fn begin_object<W: ?Sized + Write>(&mut self, writer: &mut W) -> io::Result<()> {
        writer.write_all(&[OPEN, b'{'])
    }

    fn end_object<W: ?Sized + Write>(&mut self, writer: &mut W) -> io::Result<()> {
        writer.write_all(&[CLOSE, b'}'])
    }

    fn begin_object_key<W: ?Sized + Write>(&mut self, writer: &mut W, first: bool) -> io::Result<()> {
        if first { Ok(()) } else { writer.write_all(&[NEXT]) }
    }

    fn begin_object_value<W: ?Sized + Write>(&mut self, writer: &mut W) -> io::Result<()> {
        writer.write_all(b": ")
    }
}

/// A number as it is written out: the one place where figures are rounded on their way out.
#[must_use]
pub fn rounded(f: f64) -> f64 {
    let rounded = significant(f) + 0.0;
    if rounded.is_finite() { rounded } else { f }
}

fn significant(f: f64) -> f64 {
    if f.abs() < NOISE {
        return 0.0;
    }
    // Most figures are whole, and short.
    if f == f64::from(f as i32) {
        return f;
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
