//! A DXF file as what it is: lines in pairs, a code and a value.

use super::letters;
use crate::quantity::{push_decimal, push_whole};

/// A code and its value.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Pair {
    /// What the value means.
    pub(crate) code: u16,
    /// The value as text.
    pub(crate) value: String,
}

/// A pair.
pub(crate) fn pair(code: u16, value: impl ToString) -> Pair {
    Pair { code, value: value.to_string() }
}

/// A length or coordinate to a tenth of a micrometre, never `-0`; the format wants a decimal point.
pub(crate) fn decimal(value: f64) -> String {
    let mut text = String::new();
    push_fixed(&mut text, value, DECIMALS);
    text
}

/// Decimals of a length: a tenth of a micrometre.
pub(crate) const DECIMALS: usize = 4;
/// Decimals of a bulge: over a chord of ten metres the last moves an arc by less than a micrometre.
pub(crate) const BULGE_DECIMALS: usize = 10;

/// Writes a number with a decimal point, never `-0`.
pub(crate) fn push_fixed(text: &mut String, value: f64, decimals: usize) {
    let from = text.len();
    push_decimal(text, value, decimals);
    if !text.bytes().skip(from).any(|b| b == b'.') {
        text.push_str(".0");
    }
}

/// Writes a code on its line, three columns wide.
pub(crate) fn push_code(text: &mut String, code: u16) {
    if code > 999 {
        push_whole(text, u64::from(code));
        return text.push('\n');
    }
    let digit = |power: u16| if code >= power || power == 1 { (code / power % 10) as u8 + b'0' } else { b' ' };
    let line = [digit(100), digit(10), digit(1), b'\n'];
    text.push_str(std::str::from_utf8(&line).unwrap_or_default());
}

/// Writes a code and a text.
pub(crate) fn push_text(text: &mut String, code: u16, value: &str) {
    push_code(text, code);
    text.push_str(value);
    text.push('\n');
}

/// Writes a code and a whole number.
pub(crate) fn push_number(text: &mut String, code: u16, value: u64) {
    push_code(text, code);
    push_whole(text, value);
    text.push('\n');
}

/// Writes a code and a length or coordinate, as [`decimal`].
pub(crate) fn push_length(text: &mut String, code: u16, value: f64) {
    push_code(text, code);
    push_fixed(text, value, DECIMALS);
    text.push('\n');
}

/// A section of the file.
pub(crate) fn section(name: &str, content: impl IntoIterator<Item = Pair>) -> Vec<Pair> {
    let mut all = vec![pair(0, "SECTION"), pair(2, name)];
    all.extend(content);
    all.push(pair(0, "ENDSEC"));
    all
}

/// Pairs as part of a file.
pub(crate) fn text(pairs: &[Pair]) -> String {
    let mut text = String::new();
    for pair in pairs {
        push_text(&mut text, pair.code, &pair.value);
    }
    text
}

/// Text of which no letter is taken for a control code: `%%d` would print as a degree sign, `^J` as a new line.
pub(crate) fn without_codes(text: &str) -> String {
    let mut clean = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '%' if clean.ends_with('%') => clean.push_str(" %"),
            '^' => clean.push_str("^ "),
            '\\' => clean.push('/'),
            c if c.is_control() => clean.push(' '),
            c => clean.push(c),
        }
    }
    clean
}

/// The same in ASCII, which is all that release 12 holds for certain.
pub(crate) fn plain(text: &str) -> String {
    letters::ascii(&without_codes(text))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_have_a_point_and_no_empty_sign() {
        let all = [0.0, -0.0, -0.000_01, 1300.0, 0.5, -2.25, 1.0 / 3.0].map(decimal);
        assert_eq!(all, ["0.0", "0.0", "0.0", "1300.0", "0.5", "-2.25", "0.3333"]);
        let mut bulge = String::from("1.5 ");
        push_fixed(&mut bulge, -0.073_333_333_333, BULGE_DECIMALS);
        push_fixed(&mut bulge, 1.0, BULGE_DECIMALS);
        assert_eq!(bulge, "1.5 -0.07333333331.0");
    }

    #[test]
    fn codes_stand_in_three_columns() {
        assert_eq!(text(&[pair(0, "EOF"), pair(10, "1.0"), pair(100, "x")]), "  0\nEOF\n 10\n1.0\n100\nx\n");
    }

    #[test]
    fn text_becomes_ascii_that_is_no_code() {
        assert_eq!(plain("Kohlmeise – Größe 2, 33 g/m²"), "Kohlmeise - Grosse 2, 33 g/m2");
        assert_eq!(plain("50%%d ^J \\U+0041\nΩ"), "50% %d ^ J /U+0041 ?");
        assert_eq!(without_codes("Größe"), "Größe");
    }
}
