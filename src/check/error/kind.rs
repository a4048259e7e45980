//! What goes wrong with kinds and dimensions.

use super::suggest;
use crate::diagnostic::Diagnostic;
use crate::quantity::{Currency, said_example};
use crate::source::Span;

/// With kinds.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::check) enum KindError {
    /// Two quantities that can't be put together this way: `added`, `compared`.
    Unlike { done: &'static str, left: String, left_span: Span, right: String, right_span: Span, bare: Option<Span> },
    /// A quantity of another dimension than its place takes.
    Dimension { role: String, wanted: String, got: String, span: Span, declared: Option<Span>, bare: Bare },
    /// A bare number along an edge that is more than all of it.
    NotAlong { number: f64, span: Span },
    /// A name whose value has no unit, used as a measure.
    Unitless { name: String, wanted: String, literal: Span, used: Span },
    /// A value of another kind than its place takes.
    Wrong { role: String, wanted: String, got: String, span: Span, declared: Option<Span> },
    /// A condition that is not yes or no.
    NotYesNo { got: String, span: Span, number: bool },
    /// A word that can never be what it is compared with or set to.
    WrongWord { role: String, word: String, span: Span, known: Vec<String>, nearest: Option<String> },
    /// Two currencies in one sum.
    Currencies { left: Currency, right: Currency, span: Span },
    /// Arithmetic that thermometer readings do not allow.
    Reading { span: Span },
    /// A root that leaves a broken power.
    Root { degree: u8, of: String, span: Span },
    /// A power past all use.
    Power { span: Span },
    /// A unit that is none.
    Unit { unit: String, span: Span, meant: Option<String>, formula: Option<String>, literal: Span },
    /// A list of unlike things.
    MixedList { first: String, first_span: Span, other: String, other_span: Span },
}

/// Whether a bare number stands where a measure is wanted, which is the commonest slip.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::check) enum Bare {
    /// It does not.
    No,
    /// `0`, which is nothing in any unit.
    Zero,
    /// Another number.
    Number,
}

impl From<KindError> for Diagnostic {
    fn from(error: KindError) -> Self {
        match error {
            KindError::Unlike { done, left, left_span, right, right_span, bare } => {
                let error = Self::error("dimension-mismatch", format!("{left} and {right} can't be {done}"), left_span, left)
                    .and(right_span, right);
                match bare {
                    Some(_) => error.help(said_example("a number without a unit is a count or a ratio: write its unit, as in `12 mm`")),
                    None => error,
                }
            }
            KindError::Dimension { role, wanted, got, span, declared, bare } => dimension(&role, &wanted, &got, span, declared, bare),
            KindError::NotAlong { number, span } => {
                let headline = format!("{number} without a unit is {number} times the edge, and more than all of it");
                Self::error("dimension-mismatch", headline, span, "a bare number")
                    .help(format!("write its unit: `{number} cm`, `{number} mm` or `{number} in`; a share is written `{number}%`"))
            }
            KindError::Unitless { name, wanted, literal, used } => {
                let headline = format!("`{name}` is a bare number, and is used as {wanted}");
                let help = if wanted == "a length" { "write its unit: `mm`, `cm` or `in`" } else { "write its unit" };
                Self::error("dimension-mismatch", headline, literal, "no unit").and(used, format!("used as {wanted}")).help(help)
            }
            KindError::Wrong { role, wanted, got, span, declared } => {
                let error = Self::error("wrong-kind", format!("{role} must be {wanted}, and this is {got}"), span, got);
                with_declaration(error, declared)
            }
            KindError::NotYesNo { got, span, number } => {
                let error = Self::error("not-yes-or-no", format!("a condition must be yes or no, and this is {got}"), span, got);
                if number { error.help(said_example("compare it with something: `stature > 180 cm`, `count == 2`")) } else { error }
            }
            KindError::WrongWord { role, word, span, known, nearest } => {
                let headline = format!("{role} can never be `{word}`");
                let error = Self::error("wrong-word", headline, span, "not one of its choices");
                match nearest {
                    Some(_) => suggest(error, span, nearest.as_deref()),
                    None => error.help(format!("it can be {}", super::one_of(&known))),
                }
            }
            KindError::Currencies { left, right, span } => {
                Self::error("currencies-mixed", format!("{left} and {right} can't be put together"), span, format!("{left} and {right} meet here"))
                    .help("give all prices of a design in one currency; no rate of exchange is known here")
            }
            KindError::Reading { span } => Self::error("temperature-reading", "a thermometer reading can't be used like this", span, "")
                .help(
                    "`4 degC` is a reading. Readings can be compared, taken from each other, and raised or lowered by a difference, which is written in `K`: \
                     `4 degC - 9 K`",
                ),
            KindError::Root { degree, of, span } => {
                let (root, example) = if degree == 2 { ("square", "an area") } else { ("cube", "a volume") };
                Self::error("impossible-root", format!("{of} has no {root} root"), span, of)
                    .help(format!("the {root} root of {example} is a length; of a bare number, a bare number"))
            }
            KindError::Power { span } => {
                Self::error("power-too-high", "this multiplies measures with each other more often than any real thing needs", span, "")
                    .help("look for a measure that stands in the formula once too often")
            }
            KindError::Unit { unit, span, meant, formula, literal } => unknown_unit(&unit, span, meant.as_deref(), formula, literal),
            KindError::MixedList { first, first_span, other, other_span } => {
                Self::error("wrong-kind", format!("a list holds one kind of thing, and this one mixes {first} with {other}"), other_span, other)
                    .and(first_span, first)
            }
        }
    }
}

fn with_declaration(error: Diagnostic, declared: Option<Span>) -> Diagnostic {
    match declared {
        Some(span) => error.and(span, "declared here"),
        None => error,
    }
}

fn dimension(role: &str, wanted: &str, got: &str, span: Span, declared: Option<Span>, bare: Bare) -> Diagnostic {
    let error = Diagnostic::error("dimension-mismatch", format!("{role} must be {wanted}, and this is {got}"), span, got);
    let error = with_declaration(error, declared);
    match bare {
        Bare::Zero if wanted == "a length" => error.help("nothing has a unit too: `0 mm`").edit(span, "0 mm"),
        Bare::Zero | Bare::Number if wanted == "a length" => error.help("write its unit: `mm`, `cm` or `in`"),
        Bare::Zero | Bare::Number if wanted == "an angle" => error.help("write its unit: `deg`"),
        Bare::Zero | Bare::Number => error.help("a number without a unit is a count or a ratio: write its unit"),
        Bare::No => match (wanted, got) {
            ("a mass per area", "a mass") => error.help("say of how much cloth: `g/m2` or `oz/yd2`"),
            ("a mass per length", "a mass") => error.help("say of how much of it: `g/m` or `oz/yd`"),
            _ => error,
        },
    }
}

fn unknown_unit(unit: &str, span: Span, meant: Option<&str>, formula: Option<String>, literal: Span) -> Diagnostic {
    let error = Diagnostic::error("unknown-unit", format!("`{unit}` is no unit"), span, "not a unit");
    match (formula, meant) {
        (Some(formula), _) if unit.contains('/') => {
            error.help("to divide by a name, put a space on each side of the slash").edit(literal, formula)
        }
        (Some(formula), _) => error.help("to multiply, write `*` between the number and the name").edit(literal, formula),
        (None, Some("g/m2")) if unit.eq_ignore_ascii_case("gsm") => {
            error.help("grams per square metre are written `g/m2`").edit(span, "g/m2")
        }
        (None, Some(meant)) => error.help(format!("did you mean `{meant}`?")).edit(span, meant),
        (None, None) => error.help("the usual ones are `mm`, `cm`, `m`, `in`, `ft`, `yd`, `g/m2`, `oz/yd2`, `g/m`, `deg`, `%`, `EUR/m`"),
    }
}
