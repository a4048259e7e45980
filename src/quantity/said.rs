//! Measures in words that are made before it is known who reads them: a text that holds each measure in both unit
//! systems, until [`read_in`] keeps the reader's.
//!
//! Both stand between marks that Unicode sets aside for use inside a program. A source that holds them is refused, as one with control
//! characters is, so none of its texts reach a report with marks of its own.

use super::{Length, Quantity, Style, UnitSystem, format_length, format_length_fine, format_quantity};

const METRIC: char = '\u{fdd0}';
const INCH: char = '\u{fdd1}';
const END: char = '\u{fdd2}';

/// Words that depend on who reads them.
#[must_use]
pub fn said(words: impl Fn(Style) -> String) -> String {
    let (metric, inch) = (words(Style::METRIC), words(Style::INCH));
    if metric == inch { metric } else { format!("{METRIC}{metric}{INCH}{inch}{END}") }
}

/// A text as one reader reads it.
#[must_use]
pub fn read_in(text: &str, style: Style) -> String {
    let mut parts = text.split(METRIC);
    let mut out = parts.next().unwrap_or_default().to_owned();
    for part in parts {
        let read = part.split_once(INCH).and_then(|(metric, rest)| rest.split_once(END).map(|(inch, after)| (metric, inch, after)));
        let Some((metric, inch, after)) = read else {
            out.push_str(part);
            continue;
        };
        out.push_str(if style.system == UnitSystem::Metric { metric } else { inch });
        out.push_str(after);
    }
    out
}

/// Any quantity.
#[must_use]
pub fn said_quantity(quantity: Quantity) -> String {
    said(|style| format_quantity(quantity, style))
}

/// A length as a tape shows it.
#[must_use]
pub fn said_length(length: Length) -> String {
    said(|style| format_length(length, style))
}

/// A length to a tenth of a millimetre; on an inch tape a hundredth, where it lies between the marks.
#[must_use]
pub fn said_fine(length: Length) -> String {
    said(|style| fine(length, style))
}

/// Two lengths to be compared: finer where they would read the same.
#[must_use]
pub fn said_apart(first: Length, second: Length) -> (String, String) {
    let both = |style| {
        let plain = (format_length(first, style), format_length(second, style));
        if plain.0 == plain.1 { (fine(first, style), fine(second, style)) } else { plain }
    };
    (said(|style| both(style).0), said(|style| both(style).1))
}

/// A length that is needed, rounded up, and one that falls short of it.
#[must_use]
pub fn said_short(needed: Length, found: Length) -> (String, String) {
    let both = |style| {
        let plain = (format_length(on_mark(needed, style, f64::ceil), style), format_length(found, style));
        if plain.0 == plain.1 { (fine(needed, style), fine(found, style)) } else { plain }
    };
    (said(|style| both(style).0), said(|style| both(style).1))
}

/// A length that will do, and more would: never below it.
#[must_use]
pub fn said_least(length: Length) -> String {
    said(|style| format_length(on_mark(length, style, f64::ceil), style))
}

/// A length that will do, and less would: never above it.
#[must_use]
pub fn said_most(length: Length) -> String {
    said(|style| format_length(on_mark(length, style, f64::floor), style))
}

const SIXTEENTH: f64 = 25.4 / 16.0;
/// What counts as lying on a mark, as a share of the gap between marks.
const ON_MARK: f64 = 1e-6;

fn fine(length: Length, style: Style) -> String {
    let marks = length.as_mm() / SIXTEENTH;
    // Half a hundredth of an inch: to so much the mark says all.
    let on_mark = marks.abs() >= 0.5 && (marks - marks.round()).abs() * SIXTEENTH < 0.127;
    if style.system == UnitSystem::Inch && on_mark { format_length(length, style) } else { format_length_fine(length, style) }
}

/// The next mark of a tape: a sixteenth of an inch, a tenth of a millimetre, and past ten centimetres a millimetre.
fn on_mark(length: Length, style: Style, round: fn(f64) -> f64) -> Length {
    let mark = match style.system {
        UnitSystem::Inch => SIXTEENTH,
        UnitSystem::Metric if length.as_mm().abs() >= 99.9 => 1.0,
        UnitSystem::Metric => 0.1,
    };
    let (marks, nearest) = (length.as_mm() / mark, (length.as_mm() / mark).round());
    Length::mm(if (marks - nearest).abs() < ON_MARK { nearest } else { round(marks) } * mark)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn both(text: &str) -> (String, String) {
        (read_in(text, Style::METRIC), read_in(text, Style::INCH))
    }

    fn pair(metric: &str, inch: &str) -> (String, String) {
        (metric.to_owned(), inch.to_owned())
    }

    #[test]
    fn each_reader_reads_their_own() {
        let text = format!("the casing is {} longer than {}.", said_length(Length::mm(12.7)), said_length(Length::mm(845.0)));
        assert_eq!(both(&text), pair("the casing is 12.7 mm longer than 84.5 cm.", "the casing is 1/2 in longer than 33 1/4 in."));
        assert_eq!(said_quantity(Quantity::number(3.0)), "3");
    }

    #[test]
    fn marks_gone_astray_break_nothing() {
        for text in ["\u{fdd0}", "\u{fdd1}a\u{fdd2}", "a\u{fdd0}b\u{fdd2}c\u{fdd1}", "\u{fdd0}\u{fdd0}1\u{fdd1}2\u{fdd2}3", ""] {
            for style in [Style::METRIC, Style::INCH] {
                let read = read_in(text, style);
                assert!(read.chars().filter(char::is_ascii_alphabetic).eq(text.chars().filter(char::is_ascii_alphabetic)), "{text:?}");
            }
        }
    }

    #[test]
    fn close_figures_are_told_apart_and_marks_are_said_as_such() {
        assert_eq!(both(&said_fine(Length::mm(12.7))), pair("12.7 mm", "1/2 in"));
        assert_eq!(both(&said_fine(Length::mm(845.6))), pair("84.56 cm", "33.29 in"));
        assert_eq!(both(&said_fine(Length::mm(0.3))), pair("0.3 mm", "0.0118 in"));
        let (a, b) = said_apart(Length::mm(10.0), Length::mm(9.0));
        assert_eq!((both(&a), both(&b)), (pair("10 mm", "0.394 in"), pair("9 mm", "0.354 in")));
        let (a, b) = said_apart(Length::mm(10.0), Length::mm(12.0));
        assert_eq!((both(&a), both(&b)), (pair("10 mm", "3/8 in"), pair("12 mm", "1/2 in")));
    }

    #[test]
    fn what_is_needed_reads_as_more_than_what_is_there() {
        // 10 mm are 0.3937 in, a little more than 3/8.
        let (needed, found) = said_short(Length::mm(10.0), Length::mm(9.525));
        assert_eq!((both(&needed), both(&found)), (pair("10 mm", "7/16 in"), pair("9.5 mm", "3/8 in")));
        let (needed, found) = said_short(Length::mm(11.1), Length::mm(10.9));
        assert_eq!((both(&needed), both(&found)), (pair("11.1 mm", "7/16 in"), pair("10.9 mm", "0.429 in")));
    }

    #[test]
    fn what_will_do_is_rounded_to_the_safe_side() {
        // 10 mm are 6.3 sixteenths.
        assert_eq!(both(&said_least(Length::mm(10.0))), pair("10 mm", "7/16 in"));
        assert_eq!(both(&said_most(Length::mm(10.0))), pair("10 mm", "3/8 in"));
        assert_eq!(both(&said_least(Length::mm(12.7))), pair("12.7 mm", "1/2 in"));
        assert_eq!(both(&said_most(Length::mm(12.7))), pair("12.7 mm", "1/2 in"));
        assert_eq!(both(&said_least(Length::mm(300.4))), pair("30.1 cm", "11 7/8 in"));
        assert_eq!(both(&said_most(Length::mm(4.27))), pair("4.2 mm", "1/8 in"));
    }
}
