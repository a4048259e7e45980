//! What goes wrong with cutters once their figures are known.

use crate::diagnostic::Diagnostic;
use crate::quantity::{Length, said_example, said_length};
use crate::source::Span;

/// Every code of cutters that this stage alone reports.
pub const CODES: &[&str] = &["colour-number", "bed-too-small", "overlap-too-wide", "figure-too-large", "cut-with-two", "nothing-to-cut"];

/// An error of a cutter.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum CutterError {
    /// A colour that the palette does not have.
    Colour { value: f64, span: Span },
    /// A bed on which nothing sewn fits.
    BedTooSmall { side: String, least: String, span: Span },
    /// Frames that have more in common than they have of their own.
    Overlap { overlap: String, bed: String, span: Span },
    /// A figure that no machine has.
    TooLarge { name: &'static str, value: String, most: String, span: Span },
    /// One material for two cutters.
    TwoCutters { material: String, first: (String, Span), second: (String, Span) },
    /// A material of which nothing is cut.
    NothingOfIt { material: String, cutter: String, span: Span },
}

impl From<CutterError> for Diagnostic {
    fn from(error: CutterError) -> Self {
        match error {
            CutterError::Colour { value, span } => {
                Self::error("colour-number", format!("there is no colour {value}"), span, "not a colour").help(
                    "Colours of a drawing go by whole numbers from 1 to 255: 1 red, 2 yellow, 3 green, 4 cyan, 5 blue, 6 magenta, 7 black or white.",
                )
            }
            CutterError::BedTooSmall { side, least, span } => {
                Self::error("bed-too-small", format!("a bed of {side} holds nothing that is sewn"), span, "this side of the bed")
                    .help(format!("Measure how far the machine reaches; {least} is the least that can be worked with."))
            }
            CutterError::Overlap { overlap, bed, span } => Self::error(
                "overlap-too-wide",
                format!("frames that have {overlap} in common leave less than half of a bed of {bed} for new cloth"),
                span,
                "too wide for this bed",
            )
            .help(format!("{} is enough to see both crosses by.", said_length(Length::mm(20.0)))),
            CutterError::TooLarge { name, value, most, span } => {
                Self::error("figure-too-large", format!("no cutter has a `{name}` of {value}"), span, "much too large")
                    .help(format!("Look at its unit; {most} is the most that can be worked with."))
            }
            CutterError::TwoCutters { material, first, second } => Self::error(
                "cut-with-two",
                format!("`{material}` goes to `{}` and to `{}`: each piece would be cut twice", first.0, second.0),
                second.1,
                format!("to `{}` here", second.0),
            )
            .and(first.1, format!("to `{}` here", first.0))
            .help("Leave one of them out, or put each under a `when` of its own."),
            CutterError::NothingOfIt { material, cutter, span } => Self::warning(
                "nothing-to-cut",
                format!("nothing is cut of `{material}`, so `{cutter}` has nothing to do with it"),
                span,
                "no panel is cut of this",
            )
            .help(said_example("Name the material that the panel's `cut … of` line names; with other figures, `nylon(width: 1 m)`, it is another.")),
        }
    }
}
