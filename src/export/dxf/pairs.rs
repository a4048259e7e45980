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
    fixed(value, 4)
}

/// A bulge: over a chord of ten metres its last decimal moves an arc by less than a micrometre.
pub(super) fn bulge(value: f64) -> String {
    fixed(value, 10)
}

fn fixed(value: f64, decimals: usize) -> String {
    let mut text = String::new();
    push_decimal(&mut text, value, decimals);
    if !text.contains('.') {
        text.push_str(".0");
    }
    text
}

/// Pairs as a file.
pub(super) fn text(pairs: &[Pair]) -> String {
    let mut text = String::with_capacity(pairs.iter().map(|p| p.value.len() + 5).sum());
    for pair in pairs {
        text.push_str(match pair.code {
            0..=9 => "  ",
            10..=99 => " ",
            _ => "",
        });
        push_whole(&mut text, u64::from(pair.code));
        text.push('\n');
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
        assert_eq!(bulge(-0.073_333_333_333), "-0.0733333333");
    }

    #[test]
    fn codes_stand_in_three_columns() {
        assert_eq!(text(&[pair(0, "EOF"), pair(10, "1.0"), pair(100, "x")]), "  0\nEOF\n 10\n1.0\n100\nx\n");
    }
}
