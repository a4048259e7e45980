//! Numbers as plain decimals, for files that hold thousands of them.

use itoa::Buffer;

/// Tens to the powers that are asked for.
const TENS: [u64; 11] = [1, 10, 100, 1_000, 10_000, 100_000, 1_000_000, 10_000_000, 100_000_000, 1_000_000_000, 10_000_000_000];
/// Up to here the distance of a scaled number from the half between two last digits is known to far better than [`NEAR`].
const MOST: f64 = 1e12;
/// Nearer to the half than this, only exact arithmetic says which way to round.
const NEAR: f64 = 1e-3;

/// Writes a number rounded to at most so many decimals (ten at most), without trailing zeros, never `-0`.
///
/// The digits are those of `format!("{value:.decimals$}")`, which takes ten times as long.
pub fn push_decimal(text: &mut String, value: f64, decimals: usize) {
    if value == 0.0 {
        return text.push('0');
    }
    let Some(&scale) = TENS.get(decimals) else { return push_exact(text, value, decimals) };
    #[expect(clippy::cast_precision_loss, reason = "powers of ten up to 10^22 are exact")]
    let scaled = value.abs() * scale as f64;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "what is not held within 0 and MOST goes no further")]
    let whole = scaled as u64;
    #[expect(clippy::cast_precision_loss, reason = "whole numbers up to MOST are exact")]
    let rest = scaled - whole as f64;
    // Not a number fails this too.
    if !(scaled < MOST && (rest - 0.5).abs() > NEAR) {
        return push_exact(text, value, decimals);
    }
    let digits = whole + u64::from(rest > 0.5);
    if digits > 0 && value < 0.0 {
        text.push('-');
    }
    let mut buffer = Buffer::new();
    let (whole, part) = if digits < scale {
        // With a one before it, its zeros in front are written too.
        ("0", buffer.format(scale + digits).get(1..).unwrap_or_default())
    } else {
        let all = buffer.format(digits);
        all.split_at_checked(all.len().saturating_sub(decimals)).unwrap_or((all, ""))
    };
    text.push_str(whole);
    let zeros = part.bytes().rev().take_while(|digit| *digit == b'0').count();
    let part = part.get(..part.len() - zeros).unwrap_or_default();
    if !part.is_empty() {
        text.push('.');
        text.push_str(part);
    }
}

/// Writes a whole number.
pub fn push_whole(text: &mut String, number: u64) {
    text.push_str(Buffer::new().format(number));
}

fn push_exact(text: &mut String, value: f64, decimals: usize) {
    let exact = format!("{value:.decimals$}");
    let trimmed = if exact.contains('.') { exact.trim_end_matches('0').trim_end_matches('.') } else { &exact };
    text.push_str(if trimmed == "-0" { "0" } else { trimmed });
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn written(value: f64, decimals: usize) -> String {
        let mut text = String::new();
        push_decimal(&mut text, value, decimals);
        text
    }

    #[test]
    fn numbers_are_short_and_plain() {
        let texts = [0.0, -0.0, -0.0001, 1.0, 100.0, 2.5, 1.23456, -7.25, 1300.0, 0.05, 0.9996].map(|n| written(n, 3));
        assert_eq!(texts, ["0", "0", "0", "1", "100", "2.5", "1.235", "-7.25", "1300", "0.05", "1"]);
        assert_eq!(written(0.25, 0), "0");
        assert_eq!(written(1e20, 3), "100000000000000000000");
        assert_eq!(written(0.000_000_000_1, 10), "0.0000000001");
        assert_eq!(written(f64::NAN, 3), "NaN");
    }

    #[test]
    fn halves_go_where_exact_arithmetic_puts_them() {
        // 0.0625 and 0.1875 are exact halves and go to the even digit; 1.0005 lies a hair below a half, 1.0015 above.
        assert_eq!([0.0625, 0.1875, 1.0005, 1.0015].map(|n| written(n, 3)), ["0.062", "0.188", "1", "1.002"]);
    }

    proptest! {
        #[test]
        fn digits_are_those_of_the_standard_library(value in -1e7..1e7_f64, decimals in 0_usize..=10) {
            let mut exact = String::new();
            push_exact(&mut exact, value, decimals);
            prop_assert_eq!(written(value, decimals), exact);
        }
    }
}
