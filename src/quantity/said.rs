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

/// Words of ours in which metric lengths stand for any: an inch reader reads them as one would choose them on a tape. Not for what is
/// quoted from a source.
#[must_use]
pub fn said_example(words: &str) -> String {
    said(|style| if style.system == UnitSystem::Inch { on_a_tape(words, style) } else { words.to_owned() })
}

/// Each length in a text, such as `12 mm`, in inches a maker would choose.
fn on_a_tape(words: &str, style: Style) -> String {
    let mut out: Vec<String> = Vec::new();
    for word in words.split(' ') {
        let is_part = |c: char| c.is_alphanumeric() || c == '/';
        let (unit, after) = word.split_at(word.find(|c| !is_part(c)).unwrap_or(word.len()));
        let mm = match unit {
            "mm" => 1.0,
            "cm" => 10.0,
            "m" => 1000.0,
            _ => 0.0,
        };
        let last = out.last().map_or("", String::as_str);
        let number = last.trim_start_matches(|c: char| !c.is_ascii_digit()).to_owned();
        match number.parse::<f64>() {
            Ok(number_of) if mm > 0.0 => {
                let before = out.pop().unwrap_or_default();
                let kept = before.strip_suffix(&number).unwrap_or_default();
                let inches = format_length(chosen(number_of * mm), style);
                out.push(format!("{kept}{inches}{after}"));
            }
            _ => out.push(word.to_owned()),
        }
    }
    out.join(" ")
}

/// The nearest length that comes easily on an inch tape.
fn chosen(mm: f64) -> Length {
    let inches = mm / 25.4;
    let step = if inches < 1.5 {
        0.125
    } else if inches < 4.0 {
        0.5
    } else {
        1.0
    };
    Length::mm((inches / step).round() * step * 25.4)
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

/// A length that is needed, rounded up, and one that falls short of it by more than [`Length::SAME`]. On an inch tape the first is the
/// least mark that does not.
#[must_use]
pub fn said_short(needed: Length, found: Length) -> (String, String) {
    let both = |style: Style| {
        let needed = if style.system == UnitSystem::Inch { needed - Length::SAME } else { needed };
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

/// Words with the length that will do where less would, or others where the mark below it is less than `least`.
#[must_use]
pub fn said_room(least: Length, most: Length, with: impl Fn(&str) -> String, without: &str) -> String {
    said(|style| {
        let mark = on_mark(most, style, f64::floor);
        if mark.as_mm() < least.as_mm() - ON_MARK { without.to_owned() } else { with(&format_length(mark, style)) }
    })
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
    fn examples_are_read_on_ones_own_tape() {
        // By hand: 12 / 25.4 = 0.47, 20 / 25.4 = 0.79, 2.5 / 25.4 = 0.098, 140 / 2.54 = 55.1, 2000 / 25.4 = 78.7.
        for (metric, inch) in [
            ("allow 12 mm on head", "allow 1/2 in on head"),
            ("double_hem(width: 2 cm)", "double_hem(width: 3/4 in)"),
            ("stitch lockstitch 2.5 mm", "stitch lockstitch 1/8 in"),
            ("shape rectangle(width: 140 cm, height: 2 m)", "shape rectangle(width: 55 in, height: 79 in)"),
            ("from (0 mm, 10 cm) to", "from (0 in, 4 in) to"),
        ] {
            assert_eq!(both(&said_example(metric)), pair(metric, inch));
        }
        for other in ["mass = 33 g/m2", "an area of 2 m2", "over 40% from foot", "width m, 3 m/s", ""] {
            assert_eq!(said_example(other), other);
        }
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
        // 10 mm are 0.394 in, a little more than 3/8. But 3/8 in (9.525 mm) are within half a millimetre of it, so that they will do.
        let (needed, found) = said_short(Length::mm(10.0), Length::mm(8.0));
        assert_eq!((both(&needed), both(&found)), (pair("10 mm", "3/8 in"), pair("8 mm", "5/16 in")));
        // 9 mm are 5.7 sixteenths: told apart from the mark they are nearest to.
        let (needed, found) = said_short(Length::mm(10.0), Length::mm(9.0));
        assert_eq!((both(&needed), both(&found)), (pair("10 mm", "3/8 in"), pair("9 mm", "0.354 in")));
    }

    #[test]
    fn a_length_too_small_to_work_with_is_not_named() {
        let room = |most: f64| said_room(Length::mm(4.0), Length::mm(most), |w| format!("up to {w}"), "nothing");
        assert_eq!(both(&room(6.4)), pair("up to 6.4 mm", "up to 1/4 in"));
        // 4.5 mm are 2.8 sixteenths, and 1/8 in is less than 4 mm.
        assert_eq!(both(&room(4.5)), pair("up to 4.5 mm", "nothing"));
        assert_eq!(both(&room(4.0)), pair("up to 4 mm", "nothing"));
        assert_eq!(both(&room(0.3)), pair("nothing", "nothing"));
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
