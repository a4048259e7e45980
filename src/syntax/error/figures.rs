//! Figures and measures that are not written as the language reads them.

use crate::diagnostic::{Diagnostic, said_example};
use crate::source::Span;

/// A wrong figure.
#[derive(Debug, Clone, PartialEq)]
pub enum FigureError {
    /// `0,6`
    DecimalComma {
        /// Both figures and the comma.
        at: Span,
        /// With a point.
        decimal: String,
        /// Whether it may as well be two figures of a list.
        list: bool,
    },
    /// `1-1/2 in`
    HyphenInMeasure {
        /// The figures.
        at: Span,
        /// With a blank.
        corrected: String,
    },
    /// `1 1/2` alone.
    FractionWithoutUnit {
        /// The figures.
        at: Span,
        /// As written.
        written: String,
    },
    /// `1 000`
    TwoNumbers {
        /// Both.
        at: Span,
        /// One.
        first: String,
        /// The other.
        second: String,
        /// Joined, where that may have been meant.
        joined: Option<String>,
    },
    /// `5.` or `.5`
    UnfinishedDecimal {
        /// The figure.
        at: Span,
        /// What to write.
        corrected: String,
    },
    /// `20..80`
    Dots {
        /// The figure and the dots.
        at: Span,
    },
    /// `12"` or `5'`
    InchMark {
        /// Figure and mark.
        at: Span,
        /// The figure.
        figure: String,
        /// `in` or `ft`.
        unit: &'static str,
    },
    /// More than any count or measure needs.
    TooLarge {
        /// The figure.
        at: Span,
        /// The most that is taken.
        most: f64,
    },
    /// `1/0 in`
    ByZero {
        /// The figure.
        at: Span,
    },
    /// `x ^ 99`
    PowerTooLarge {
        /// The power.
        at: Span,
        /// The most that is taken.
        most: u8,
    },
    /// A unit that begins the line after its figure.
    UnitOnNextLine {
        /// The figure.
        figure: Span,
        /// The unit.
        unit: Span,
        /// Both on one line.
        corrected: String,
    },
    /// `width = 3  base = 4`: a word that begins something new, taken for the unit of the figure before it.
    WordReadAsUnit {
        /// The figure.
        figure: Span,
        /// The word.
        word: Span,
        /// The figure as written.
        written: String,
        /// The word as written.
        read: String,
    },
    /// `wide 2 deep 8 cm`
    KeywordReadAsUnit {
        /// The figure.
        figure: Span,
        /// The word after it.
        word: Span,
        /// As written.
        written: String,
        /// The word.
        keyword: String,
    },
}

impl From<FigureError> for Diagnostic {
    fn from(error: FigureError) -> Self {
        match error {
            FigureError::DecimalComma { at, decimal, list } => decimal_comma(at, decimal, list),
            FigureError::HyphenInMeasure { at, corrected } => Self::error(
                "hyphen-in-measure",
                "the hyphen in this measure would be read as a minus",
                at,
                "read as: less than the first figure",
            )
            .help(format!("write {corrected} with a blank; a minus that is meant stands between blanks"))
            .edit(at, corrected),
            FigureError::FractionWithoutUnit { at, written } => {
                Self::error("fraction-without-unit", format!("`{written}` has no unit after it"), at, "of what?").help(format!(
                    "say the unit on the same line, such as {written} in; a plain ratio is written as a decimal, such as 1.5"
                ))
            }
            FigureError::TwoNumbers { at, first, second, joined } => two_numbers(at, &first, &second, joined),
            FigureError::UnfinishedDecimal { at, corrected } => {
                Self::error("unfinished-decimal", "a decimal point has figures on both sides", at, "one side is empty")
                    .help(format!("write {corrected}"))
                    .edit(at, corrected)
            }
            FigureError::Dots { at } => Self::error("unfinished-decimal", "a range is not written with dots", at, "from here on?")
                .help(said_example("a range is said with both its ends, `from 20 cm to 80 cm`; single values one by one, with commas")),
            FigureError::InchMark { at, figure, unit } => {
                let what = if unit == "in" { "inches" } else { "feet" };
                Self::error(
                    "inch-mark",
                    format!("{what} are written `{unit}`; quote marks belong to text"),
                    at,
                    format!("{figure} {what}?"),
                )
                .help(format!("write {figure} {unit}; feet and inches together are written 5 ft 10 in"))
                .edit(at, if unit == "ft" { format!("{figure} ft ") } else { format!("{figure} in") })
            }
            FigureError::TooLarge { at, most } => {
                Self::error("number-too-large", "no measure or count needs a number as large as this", at, format!("more than {most:e}"))
                    .help("check for a figure typed too often; a larger unit, such as m for mm, makes a smaller number")
            }
            FigureError::ByZero { at } => Self::error("fraction-by-zero", "this fraction divides by zero", at, "the figure below is 0")
                .help("an inch is read in halves, quarters, eighths, sixteenths or thirty-seconds, such as 3/8 in"),
            FigureError::PowerTooLarge { at, most } => {
                Self::error("power-too-large", format!("a power is a whole number from 0 to {most}"), at, "too large")
                    .help("an area is a length ^ 2; sewing has no use for more than ^ 3")
            }
            FigureError::UnitOnNextLine { figure, unit, corrected } => {
                Self::error("unit-on-next-line", "a figure and its unit stand on one line", unit, "the unit")
                    .and(figure, "the figure it belongs to")
                    .help("bring the unit up behind its figure")
                    .edit(figure.to(unit), corrected)
            }
            FigureError::WordReadAsUnit { figure, word, written, read } => Self::error(
                "keyword-read-as-unit",
                format!("`{read}` stands right behind `{written}` and was taken for its unit"),
                word,
                "taken for a unit",
            )
            .and(figure, "a figure without a unit")
            .help(format!("begin `{read}` on a new line")),
            FigureError::KeywordReadAsUnit { figure, word, written, keyword } => Self::error(
                "keyword-read-as-unit",
                format!("`{written}` has no unit, so `{keyword}` was taken for one"),
                word,
                "taken for a unit",
            )
            .and(figure, "of what?")
            .help(format!("write the unit behind the figure, such as {written} cm {keyword}")),
        }
    }
}

fn decimal_comma(at: Span, decimal: String, list: bool) -> Diagnostic {
    let headline = "a comma right between two figures: decimals are written with a point";
    let diagnostic = Diagnostic::error("decimal-comma", headline, at, format!("{decimal}, or two figures?"));
    let thousands = decimal.split_once('.').filter(|(whole, part)| part.len() == 3 && *whole != "0");
    if let Some((whole, part)) = thousands {
        let diagnostic = diagnostic.and(at, format!("or {whole}{part}?"));
        diagnostic.help(format!("thousands are written without a mark, {whole}{part}; a decimal with a point, {decimal}"))
    } else if list {
        diagnostic.help(format!("for a decimal write {decimal}; for two figures of a list put a blank after the comma"))
    } else {
        diagnostic.help(format!("write {decimal}")).edit(at, decimal)
    }
}

fn two_numbers(at: Span, first: &str, second: &str, joined: Option<String>) -> Diagnostic {
    let headline = format!("two numbers side by side: `{first}` and `{second}`");
    let diagnostic = Diagnostic::error("two-numbers", headline, at, "a comma, a unit or a sign is missing between them");
    match joined {
        Some(joined) => diagnostic.help(format!("thousands are written without a gap: {joined}")).edit(at, joined),
        None => diagnostic.help("put a comma between two figures of a list, or the unit behind the first"),
    }
}
