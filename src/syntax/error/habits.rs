//! Ways of writing that are right elsewhere: in other notations, on paper, or aloud.

use crate::diagnostic::{Diagnostic, reads, said_example};
use crate::source::Span;

/// A statement written as it would be elsewhere.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum HabitError {
    /// `shape = rectangle(…)`
    NoEquals {
        /// The sign.
        at: Span,
        /// As written.
        found: String,
        /// The word of the statement.
        word: &'static str,
    },
    /// `foot, head and left`
    AndInList {
        /// The word.
        at: Span,
        /// From what stands before it to its end.
        between: Span,
    },
    /// `attach ribbon_loop(cut: 8 cm) at …`
    AttachWithoutName {
        /// What is attached.
        at: Span,
        /// As written.
        what: String,
    },
    /// `right sides together`
    SidesTogether {
        /// The words.
        at: Span,
        /// As the language has it.
        corrected: &'static str,
    },
    /// `seat left` or `seat:left`
    EdgeWithoutPoint {
        /// Piece and edge.
        at: Span,
        /// With a point.
        corrected: String,
    },
    /// `40 cm x 60 cm`
    TimesSign {
        /// The letter.
        at: Span,
    },
    /// `finish head with rolled_hem`
    NoBrackets {
        /// The name.
        at: Span,
        /// As written.
        name: String,
        /// Right behind it.
        behind: Span,
        /// An example of the statement.
        example: &'static str,
    },
    /// `cut 1 skin`
    CutWithoutOf {
        /// What it is cut from.
        at: Span,
        /// Right before it.
        before: Span,
        /// An example of the statement.
        example: &'static str,
    },
    /// `cut skin`
    CutWithoutCount {
        /// What it is cut from.
        at: Span,
        /// An example of the statement.
        example: &'static str,
    },
    /// `size tall { param stature = … }`, `from the foot`
    NeedlessWord {
        /// The word.
        at: Span,
        /// As written.
        word: String,
        /// An example of the statement.
        example: &'static str,
    },
    /// `stitch lockstitch`
    StitchWithoutLength {
        /// The stitch.
        at: Span,
        /// An example of the statement.
        example: &'static str,
    },
    /// `stack front up`
    LayerWithoutFace {
        /// `up` or `down`.
        at: Span,
        /// Right before it.
        before: Span,
        /// As written.
        way: String,
        /// An example of the statement.
        example: &'static str,
    },
    /// `cut 1 on fold of skin`
    CutOnFold {
        /// `on fold`.
        at: Span,
        /// An example of the line that is meant.
        example: &'static str,
    },
    /// `stitch lockstitch 8 to the inch`
    ToTheInch {
        /// The figure and the words.
        at: Span,
        /// As a length.
        corrected: String,
    },
    /// `30 in.`
    FullStop {
        /// The point.
        at: Span,
        /// The unit.
        unit: String,
    },
    /// `1 yd 4 in`
    TwoMeasures {
        /// Both.
        at: Span,
        /// With a sign between them.
        corrected: String,
    },
    /// `use std.trims.ribbon_loop`
    UseWithoutBraces {
        /// From the last point to the end of the name.
        at: Span,
        /// The name with braces.
        corrected: String,
    },
    /// `panel back rest`
    NameWithBlank {
        /// Both words.
        at: Span,
        /// Joined.
        corrected: String,
    },
}

impl From<HabitError> for Diagnostic {
    fn from(error: HabitError) -> Self {
        match error {
            HabitError::NoEquals { at, found, word } => {
                Self::error("equals-sign", format!("`{word}` takes no `{found}`"), at, "leave this out")
                    .help("only names take a value with `=`; the lines of a panel begin with their word and go straight on")
                    .edit(at, "")
            }
            HabitError::AndInList { at, between } => {
                Self::error("missing-comma", "things of a list are parted by commas, the last one too", at, "a comma instead")
                    .help("as in `foot, head, left`; `and` joins conditions, and the two edges after `between`")
                    .edit(between, ",")
            }
            HabitError::AttachWithoutName { at, what } => Self::error(
                "missing-equals",
                "this says what is attached, and not what it is called",
                at,
                "its name and `=` belong before this",
            )
            .help(format!("all that is attached has a name of its own, by which the design speaks of it: attach NAME = {what}(…)")),
            HabitError::SidesTogether { at, corrected } => {
                Self::error("syntax", format!("how two pieces lie is said with `{corrected}`"), at, "in other words")
                    .help("the right side of a cloth is its face, the wrong side its back; in a seam it is a line of its own")
                    .edit(at, corrected)
            }
            HabitError::EdgeWithoutPoint { at, corrected } => {
                Self::error("syntax", "a piece and its edge are joined by a point", at, "the edge of a piece?")
                    .help("the piece first, then the edge: `shell.left`")
                    .edit(at, corrected)
            }
            HabitError::TimesSign { at } => Self::error("syntax", "`x` does not stand between two measures", at, "no sign of the language")
                .help(said_example(
                    "give each measure by its own name, as in `rectangle(width: 40 cm, height: 60 cm)`; to multiply, write `*`",
                )),
            HabitError::NoBrackets { at, name, behind, example } => {
                Self::error("syntax", format!("`{name}` lacks its brackets"), at, "brackets belong behind this")
                    .help(format!("they stand there even with nothing to say: `{name}()`. Such a line reads: {}", said_example(example)))
                    .edit(behind, "()")
            }
            HabitError::CutWithoutOf { at, before, example } => {
                Self::error("syntax", "`of` is missing between how many are cut and what from", at, "`of` belongs before this")
                    .help(reads(example))
                    .edit(before, "of ")
            }
            HabitError::CutWithoutCount { at, example } => {
                Self::error("syntax", "this does not say how many are cut", at, "how many of it?").help(reads(example))
            }
            HabitError::NeedlessWord { at, word, example } => {
                Self::error("syntax", format!("`{word}` does not belong here"), at, "leave this out").help(reads(example)).edit(at, "")
            }
            HabitError::StitchWithoutLength { at, example } => {
                Self::error("syntax", "this does not say how long a stitch is", at, "how long?").help(reads(example))
            }
            HabitError::LayerWithoutFace { at, before, way, example } => {
                Self::error("syntax", format!("a layer lies `face {way}`: its face is meant"), at, "what of it?")
                    .help(reads(example))
                    .edit(before, "face ")
            }
            HabitError::CutOnFold { at, example } => {
                Self::error("syntax", "what lies on the fold is said in a line of its own", at, "leave this out")
                    .help(format!("it names the edge that lies there; {}", reads(example)))
                    .edit(at, "")
            }
            HabitError::ToTheInch { at, corrected } => Self::error("syntax", "a stitch is given by its length", at, "how long is one?")
                .help("so many to the inch is an inch, divided: `1 in / 8`")
                .edit(at, corrected),
            HabitError::FullStop { at, unit } => {
                Self::error("syntax", format!("`{unit}` is written without a full stop"), at, "leave this out").edit(at, "")
            }
            HabitError::TwoMeasures { at, corrected } => {
                Self::error("syntax", "two measures stand side by side; only feet and inches do, `5 ft 10 in`", at, "one measure?")
                    .help("add them, or give all of it in one unit")
                    .edit(at, corrected)
            }
            HabitError::UseWithoutBraces { at, corrected } => {
                Self::error("syntax", "names taken from a file stand in braces", at, "a name of that file?")
                    .help("such a line reads: use std.trims { ribbon_loop }")
                    .edit(at, corrected)
            }
            HabitError::NameWithBlank { at, corrected } => {
                Self::error("name-with-blank", "a name is one word, without blanks", at, "read as two words")
                    .help(format!("join the words with _, here and wherever the name is used: {corrected}"))
                    .edit(at, corrected)
            }
        }
    }
}
