//! What can be wrong with a request, and with what a source accepts.

use crate::diagnostic::{Diagnostic, nearest};
use crate::source::Span;
use std::fmt;

/// Codes of this stage.
pub(super) const CODES: &[&str] = &["accepted-nothing", "accepted-error"];

/// A request that can't be met, whatever the source says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum UsageError {
    /// `--size` names none.
    UnknownSize {
        /// What was asked for.
        name: String,
        /// What there is.
        known: Vec<String>,
    },
    /// `--nest-at` names an edge that no piece has.
    UnknownEdge {
        /// What was asked for.
        name: String,
        /// What there is.
        known: Vec<String>,
    },
    /// `--set` without a name, an equals sign or a value.
    NotASetting {
        /// What was given.
        text: String,
    },
    /// `--set` gives one parameter two values.
    SetTwice {
        /// The parameter.
        name: String,
        /// What was given.
        texts: [String; 2],
    },
    /// `--set` makes a parameter of itself.
    SetsToItself {
        /// The parameter.
        name: String,
    },
    /// `why` asks for what has no figure; in words.
    UnknownFigure(String),
    /// `library` asks for what is not there.
    UnknownModule {
        /// What was asked for.
        name: String,
        /// What there is.
        known: Vec<String>,
    },
}

/// More names than this are a wall, not a help.
const LISTED: usize = 12;

fn suggest(name: &str, known: &[String]) -> String {
    if let Some(near) = nearest(name, known.iter().map(String::as_str)) {
        return format!("Did you mean {near}?");
    }
    match known {
        [] => "There are none.".to_owned(),
        few if few.len() <= LISTED => format!("There are {}.", few.join(", ")),
        many => format!("There are {} and {} more.", many.iter().take(LISTED).cloned().collect::<Vec<_>>().join(", "), many.len() - LISTED),
    }
}

impl fmt::Display for UsageError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::UnknownSize { name, known } => write!(f, "there is no size called {name}. {}", suggest(name, known)),
            Self::UnknownEdge { name, known } => write!(f, "no piece has an edge called {name}. {}", suggest(name, known)),
            Self::NotASetting { text } => {
                write!(f, "`--set {text}` sets nothing: write the parameter, an equals sign and its value, as in --set \"length=180 cm\"")
            }
            Self::SetTwice { name, texts: [a, b] } => {
                write!(f, "`--set` gives {name} two values, `{}` and `{}`: leave one out", a.trim(), b.trim())
            }
            Self::SetsToItself { name } => {
                write!(f, "`--set` can't make {name} of {name} itself: write its value, as in --set \"length=180 cm\"")
            }
            Self::UnknownFigure(words) => f.write_str(words),
            Self::UnknownModule { name, known } => write!(f, "the library holds nothing called {name}. {}", suggest(name, known)),
        }
    }
}

impl std::error::Error for UsageError {}

/// What is wrong with an `accept`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum AcceptError {
    /// Nothing of that code was found in any size.
    Nothing { code: String, span: Span },
    /// What was found is an error.
    IsAnError { code: String, span: Span, found_at: Span },
}

impl From<AcceptError> for Diagnostic {
    fn from(error: AcceptError) -> Self {
        match error {
            AcceptError::Nothing { code, span } => {
                Self::warning("accepted-nothing", format!("nothing here is reported as {code}, so there is nothing to accept"), span, "")
                    .help("Take the line out, or check the code against the report: a code stands above each warning.")
            }
            AcceptError::IsAnError { code, span, found_at } => {
                Self::warning("accepted-error", format!("{code} is an error, and an error can't be accepted"), span, "accepted here")
                    .and(found_at, "the error")
                    .help(format!("Mend the error, then take this line out. `lapfell explain {code}` says how."))
            }
        }
    }
}
