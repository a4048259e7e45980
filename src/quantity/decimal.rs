//! Numbers as plain decimals, for files that hold thousands of them.

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
    let (mut part, mut places) = (digits % scale, decimals);
    let mut written = Digits::default();
    if part == 0 {
        places = 0;
    }
    while places > 0 && part.is_multiple_of(10) {
        part /= 10;
        places -= 1;
    }
    if places > 0 {
        written.number(part, places);
        written.before(b'.');
    }
    written.number(digits / scale, 1);
    if digits > 0 && value < 0.0 {
        written.before(b'-');
    }
    text.push_str(written.text());
}

/// Writes a whole number.
pub fn push_whole(text: &mut String, number: u64) {
    let mut written = Digits::default();
    written.number(number, 1);
    text.push_str(written.text());
}

/// Digits and signs, written from the last to the first: as many as the largest number has, a sign, a point and decimals.
struct Digits {
    all: [u8; 32],
    from: usize,
}

impl Default for Digits {
    fn default() -> Self {
        Self { all: [b'0'; 32], from: 32 }
    }
}

impl Digits {
    fn before(&mut self, digit: u8) {
        self.from = self.from.saturating_sub(1);
        if let Some(place) = self.all.get_mut(self.from) {
            *place = digit;
        }
    }

    /// Writes a number in so many digits at least.
    fn number(&mut self, mut number: u64, least: usize) {
        let mut written = 0;
        for place in self.all.get_mut(..self.from).unwrap_or_default().iter_mut().rev() {
            *place = (number % 10) as u8 + b'0';
            number /= 10;
            written += 1;
            if number == 0 && written >= least {
                break;
            }
        }
        self.from -= written;
    }

    fn text(&self) -> &str {
        self.all.get(self.from..).and_then(|digits| std::str::from_utf8(digits).ok()).unwrap_or_default()
    }
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
