//! Characters and marks that the language does not take where they stand.

use crate::diagnostic::Diagnostic;
use crate::source::Span;

/// A wrong character or mark.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum MarkError {
    /// A character that can't be seen and changes what is seen.
    Control {
        /// Where.
        at: Span,
        /// Which.
        which: char,
    },
    /// A character that a word processor puts in.
    Typographic {
        /// Where.
        at: Span,
        /// What stands there.
        found: String,
        /// What to write instead.
        instead: String,
    },
    /// `“text”`
    CurlyText {
        /// From quote to quote.
        at: Span,
        /// What stands between.
        inner: String,
    },
    /// `'text'`
    SingleQuotes {
        /// From quote to quote.
        at: Span,
        /// What stands between.
        inner: String,
    },
    /// A text that the end of its line cuts off.
    UnclosedText {
        /// From its quote on.
        at: Span,
    },
    /// A single brace in a text.
    BraceInText {
        /// Where.
        at: Span,
        /// Which.
        mark: &'static str,
    },
    /// A backslash in a text that escapes nothing.
    Backslash {
        /// Where.
        at: Span,
    },
    /// `#` or `/*`
    CommentMark {
        /// Where.
        at: Span,
        /// Which.
        mark: String,
    },
    /// `;`
    Semicolon {
        /// Where.
        at: Span,
    },
    /// A mark without a meaning.
    Unknown {
        /// Where.
        at: Span,
        /// Which.
        mark: String,
        /// The word that says it here.
        meant: Option<&'static str>,
    },
}

impl From<MarkError> for Diagnostic {
    fn from(error: MarkError) -> Self {
        match error {
            MarkError::Control { at, which } => control(at, which),
            MarkError::Typographic { at, found, instead } => typographic(at, &found, instead),
            MarkError::CurlyText { at, inner } => {
                let headline = "text stands between straight quotes, \"like this\", not between curly ones";
                Self::error("typographic-character", headline, at, "curly quotes, as a word processor sets them")
                    .help("write a straight \" before and after the text, and switch \"smart quotes\" off in your editor")
                    .edit(at, format!("\"{inner}\""))
            }
            MarkError::SingleQuotes { at, inner } => {
                Self::error("single-quotes", "text stands between double quotes, \"like this\"", at, "between single quotes")
                    .help("write \" before and after the text")
                    .edit(at, format!("\"{inner}\""))
            }
            MarkError::UnclosedText { at } => Self::error(
                "unclosed-text",
                "this text has a quote at its beginning and none at its end",
                at,
                "begins here and runs to the end of the line",
            )
            .help("put a \" where the text ends; a text stays on one line, and \\n in it begins a new line when it is printed"),
            MarkError::BraceInText { at, mark } => brace_in_text(at, mark),
            MarkError::Backslash { at } => {
                Self::error("stray-backslash", "a \\ in a text needs one of three partners: \\\" or \\\\ or \\n", at, "this one has none")
                    .help("for the mark \\ itself write it twice")
                    .edit(at, "\\\\")
            }
            MarkError::CommentMark { at, mark } => {
                Self::error("comment-mark", format!("`{mark}` does not begin a note here"), at, "write // instead")
                    .help("everything after // on a line is a note for people; put // before each line of a longer note")
                    .edit(at, "//")
            }
            MarkError::Semicolon { at } => Self::error("needless-semicolon", "no line needs a `;` at its end", at, "take it away")
                .help("one statement a line is enough; the end of the line, or the next statement, ends it")
                .edit(at, ""),
            MarkError::Unknown { at, mark, meant } => unknown(at, &mark, meant),
        }
    }
}

fn control(at: Span, which: char) -> Diagnostic {
    let name = match which {
        '\0' => "a null character",
        '\r' => "a lone carriage return (an old kind of line break)",
        '\u{1b}' => "an escape character",
        '\u{7f}' => "a delete character",
        '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' => "a character that turns the reading direction",
        _ if !which.is_control() => "a character that Unicode keeps for the inside of programs",
        _ => "a control character",
    };
    let number = u32::from(which);
    let instead = if which == '\r' { "\n" } else { "" };
    Diagnostic::error("control-character", format!("{name} (U+{number:04X}) stands here, which nobody can see"), at, "here")
        .help("what can't be seen could hide what a line says: take it out, or save the file again as plain text (UTF-8)")
        .edit(at, instead)
}

fn typographic(at: Span, found: &str, instead: String) -> Diagnostic {
    let shown = match found.chars().next() {
        Some('\u{a0}' | '\u{2007}' | '\u{2009}' | '\u{202f}') => "a special blank".to_owned(),
        _ if instead.is_empty() => "an invisible character".to_owned(),
        _ => format!("`{found}`"),
    };
    let headline = format!("{shown} comes from a word processor or a web page; the language is written with the plain keys");
    let help = match instead.trim() {
        "" if instead.is_empty() => "take it away".to_owned(),
        "" => "type an ordinary blank".to_owned(),
        plain => format!("write {plain} instead"),
    };
    Diagnostic::error("typographic-character", headline, at, "this one").help(help).edit(at, instead)
}

fn brace_in_text(at: Span, mark: &str) -> Diagnostic {
    let (headline, label) = if mark == "{" {
        ("a `{` in a text opens a place for a value, and here nothing closes it", "no } follows on this line")
    } else {
        ("a `}` in a text closes a place for a value, and here none is open", "nothing to close")
    };
    let diagnostic = Diagnostic::error("brace-in-text", headline, at, label);
    let help = "\"cut {length}\" prints the value of `length`; to print a brace itself write it twice, {{ or }}";
    if mark == "{" { diagnostic.help(help) } else { diagnostic.help(help).edit(at, "}}") }
}

fn unknown(at: Span, mark: &str, meant: Option<&'static str>) -> Diagnostic {
    let diagnostic = Diagnostic::error("unknown-mark", format!("`{mark}` has no meaning in the language"), at, "not known");
    match (meant, mark) {
        (Some(word), _) => diagnostic.help(format!("write the word `{word}`")).edit(at, format!("{word} ")),
        (None, "€" | "$" | "£") => diagnostic.help("money is written with its letters after the figure, such as 9.40 EUR/m"),
        (None, "'") => diagnostic.help("text stands between double quotes, and feet are written ft, as in 5 ft 10 in"),
        _ => diagnostic.help("take it away; names are made of letters, figures and _"),
    }
}
