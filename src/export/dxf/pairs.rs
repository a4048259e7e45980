//! A DXF file as what it is: lines in pairs, a code and a value.

use crate::quantity::{push_decimal, push_whole};

/// A code and its value.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Pair {
    /// What the value means.
    pub(super) code: u16,
    /// The value as text.
    pub(super) value: String,
}

/// A pair.
pub(super) fn pair(code: u16, value: impl ToString) -> Pair {
    Pair { code, value: value.to_string() }
}

/// A length or coordinate to a tenth of a micrometre, never `-0`; the format wants a decimal point.
pub(super) fn decimal(value: f64) -> String {
    let mut text = String::new();
    push_fixed(&mut text, value, DECIMALS);
    text
}

/// Decimals of a length: a tenth of a micrometre.
pub(super) const DECIMALS: usize = 4;
/// Decimals of a bulge: over a chord of ten metres the last moves an arc by less than a micrometre.
pub(super) const BULGE_DECIMALS: usize = 10;

/// Writes a number with a decimal point, never `-0`.
pub(super) fn push_fixed(text: &mut String, value: f64, decimals: usize) {
    let from = text.len();
    push_decimal(text, value, decimals);
    if !text.bytes().skip(from).any(|b| b == b'.') {
        text.push_str(".0");
    }
}

/// Writes a code on its line, three columns wide.
pub(super) fn push_code(text: &mut String, code: u16) {
    text.push_str(match code {
        0..=9 => "  ",
        10..=99 => " ",
        _ => "",
    });
    push_whole(text, u64::from(code));
    text.push('\n');
}

/// Pairs as part of a file.
pub(super) fn text(pairs: &[Pair]) -> String {
    let mut text = String::new();
    for pair in pairs {
        push_code(&mut text, pair.code);
        text.push_str(&pair.value);
        text.push('\n');
    }
    text
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
}
