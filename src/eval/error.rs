//! What can go wrong while values are worked out.

use crate::diagnostic::{Diagnostic, nearest};
use crate::quantity::{ArithmeticError, Currency};
use crate::source::Span;
use crate::syntax::ast::Name;

/// Every code of this stage, drafting's apart.
pub const CODES: &[&str] = &[
    "not-in-this-case",
    "value-cycle",
    "wrong-value",
    "no-such-part",
    "arithmetic",
    "divided-by-nothing",
    "not-a-whole-number",
    "too-many",
    "out-of-range",
    "not-a-choice",
    "requirement",
    "unknown-parameter",
    "no-outline-closure",
    "arc-too-flat",
    "copies-and-count",
    "odd-mirrored-pair",
    "which-copy-number",
    "calls-too-deep",
    "not-positive",
];

/// An error of evaluation.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum EvalError {
    /// A name that checking let through, or a value from outside the source.
    Unknown { name: Name },
    /// A name declared only under `when`s that don't hold here.
    NotInThisCase { name: Name },
    /// A value that needs itself.
    Cycle { name: String, at: Span },
    /// A value of another kind than the place needs.
    WrongKind { wanted: &'static str, got: String, span: Span },
    /// `a.b` where `a` has no `b`.
    NoMember { member: Name },
    /// Arithmetic without an answer.
    Arithmetic { error: ArithmeticError, span: Span },
    /// A count that is none.
    NotACount { value: f64, least: u32, span: Span },
    /// More of something than anyone sews.
    TooMany { what: String, count: usize, most: usize, span: Span },
    /// A parameter outside its range.
    OutOfRange { name: String, value: String, from: String, to: String, set_at: Span, declared: Span, size: Option<String> },
    /// A parameter that is none of its choices.
    NotAChoice { name: String, value: String, choices: Vec<String>, set_at: Span, declared: Span },
    /// A `require` not met.
    Requirement { message: String, condition: String, span: Span, used_at: Option<Span> },
    /// A parameter set to a value of another kind than its default.
    UnlikeDefault { name: String, wanted: String, got: String, set_at: Span },
    /// `--set` of a parameter that is not there.
    UnknownParameter { name: Name, known: Vec<String> },
    /// An outline that does not come back to its start.
    NotClosed { gap: String, span: Span },
    /// An arc whose rise is more than half a circle allows, or whose ends are one.
    BadArc { span: Span },
    /// Names of copies that don't match the count.
    CopyNames { names: usize, count: u32, span: Span },
    /// A mirrored pair of an odd number.
    OddPair { count: u32, span: Span },
    /// A panel cut several times pointed at without saying which copy.
    WhichCopy { name: Name, copies: Vec<String> },
    /// Calls nested too deep.
    TooDeep { span: Span },
    /// Something that must be more than nothing.
    NotPositive { what: &'static str, value: String, span: Span },
}

impl From<EvalError> for Diagnostic {
    fn from(error: EvalError) -> Self {
        match error {
            EvalError::Arithmetic { error, span } => arithmetic(error, span),
            EvalError::OutOfRange { .. }
            | EvalError::NotAChoice { .. }
            | EvalError::UnknownParameter { .. }
            | EvalError::Requirement { .. } => parameter(error),
            other => value(other),
        }
    }
}

fn value(error: EvalError) -> Diagnostic {
    match error {
        EvalError::Unknown { name } => {
            Diagnostic::error("not-in-this-case", format!("nothing here is called `{}`", name.text), name.span, "not known")
        }
        EvalError::NotInThisCase { name } => Diagnostic::error(
            "not-in-this-case",
            format!("`{}` is not there in this case", name.text),
            name.span,
            "used here",
        )
        .help("It is declared inside a `when` whose condition is not met. Put what uses it under the same `when`, or give the other case one too."),
        EvalError::Cycle { name, at } => {
            Diagnostic::error("value-cycle", format!("`{name}` needs its own value to be worked out"), at, "asked for again here")
                .help("Break the ring: let one of the values stand on its own.")
        }
        EvalError::WrongKind { wanted, got, span } => {
            Diagnostic::error("wrong-value", format!("this must be {wanted}, and it is {got}"), span, got.clone())
        }
        EvalError::UnlikeDefault { name, wanted, got, set_at } => {
            Diagnostic::error("wrong-value", format!("`{name}` is {wanted}, and this is {got}"), set_at, got)
        }
        EvalError::NoMember { member } => {
            Diagnostic::error("no-such-part", format!("there is no `{}` here", member.text), member.span, "not a part of it")
        }
        EvalError::NotACount { value, least, span } => {
            Diagnostic::error("not-a-whole-number", format!("a count must be a whole number, at least {least}; this is {value}"), span, "")
                .help("Round it: `floor(…)` or `ceil(…)`.")
        }
        EvalError::TooMany { what, count, most, span } => {
            Diagnostic::error("too-many", format!("{count} {what} is more than the {most} allowed"), span, "")
        }
        EvalError::NotClosed { gap, span } => Diagnostic::error(
            "no-outline-closure",
            format!("the outline does not come back to its start; {gap} is open"),
            span,
            "ends here",
        )
        .help("Let the last edge end in `to start`."),
        EvalError::BadArc { span } => {
            Diagnostic::error("arc-too-flat", "this arc can't be drawn: its ends are one point, or its rise is not a length above nothing", span, "")
                .help("The rise is how far the middle of the arc stands off the straight line between its ends.")
        }
        EvalError::CopyNames { names, count, span } => Diagnostic::error(
            "copies-and-count",
            format!("{count} pieces are cut, and {names} names are given"),
            span,
            "one name for each piece, or none at all",
        ),
        EvalError::OddPair { count, span } => {
            Diagnostic::error("odd-mirrored-pair", format!("{count} pieces can't be cut as mirrored pairs"), span, "needs an even number")
        }
        EvalError::WhichCopy { name, copies } => which_copy(&name, &copies),
        EvalError::TooDeep { span } => {
            Diagnostic::error("calls-too-deep", "functions call functions too deep here", span, "").help("Work it out in a few `let`s instead.")
        }
        EvalError::NotPositive { what, value, span } => {
            Diagnostic::error("not-positive", format!("{what} must be more than nothing; it comes to {value}"), span, value)
        }
        _ => Diagnostic::error("wrong-value", "this can't be worked out", Span::default(), ""),
    }
}

fn which_copy(name: &Name, copies: &[String]) -> Diagnostic {
    let d = Diagnostic::error(
        "which-copy-number",
        format!("`{}` is cut {} times: say which one is meant", name.text, copies.len()),
        name.span,
        "which of them?",
    );
    if copies.iter().all(String::is_empty) {
        d.help("Name the pieces where they are cut, `cut 2 of … as outer, inner`, and use one of these names.")
    } else {
        let d = d.help(format!("Use one of its names: {}.", copies.join(", ")));
        match copies.first() {
            Some(first) => d.edit(name.span, first.clone()),
            None => d,
        }
    }
}

fn parameter(error: EvalError) -> Diagnostic {
    match error {
        EvalError::OutOfRange { name, value, from, to, set_at, declared, size } => {
            let whose = size.map_or(String::new(), |s| format!(" in size `{s}`"));
            Diagnostic::error("out-of-range", format!("`{name}` is {value}{whose}; it may be from {from} to {to}"), set_at, value)
                .and(declared, "its range")
        }
        EvalError::NotAChoice { name, value, choices, set_at, declared } => {
            let d = Diagnostic::error("not-a-choice", format!("`{name}` can't be {value}"), set_at, "")
                .and(declared, "its choices")
                .help(format!("It may be one of {}.", choices.join(", ")));
            match nearest(&value, choices.iter().map(String::as_str)) {
                Some(n) => d.edit(set_at, n),
                None => d,
            }
        }
        EvalError::UnknownParameter { name, known } => {
            let d = Diagnostic::error("unknown-parameter", format!("the design has no parameter `{}`", name.text), name.span, "")
                .help(format!("Its parameters are {}.", known.join(", ")));
            match nearest(&name.text, known.iter().map(String::as_str)) {
                Some(n) => d.edit(name.span, n),
                None => d,
            }
        }
        EvalError::Requirement { message, condition, span, used_at } => {
            let d = Diagnostic::error("requirement", message, used_at.unwrap_or(span), if used_at.is_some() { "used here" } else { "" });
            let d = if used_at.is_some() { d.and(span, "asked for here") } else { d };
            d.help(format!("The design asks that {condition}."))
        }
        _ => Diagnostic::error("wrong-value", "this can't be worked out", Span::default(), ""),
    }
}

fn arithmetic(error: ArithmeticError, span: Span) -> Diagnostic {
    let code = "arithmetic";
    match error {
        ArithmeticError::Unlike(a, b) => {
            Diagnostic::error(code, format!("{} and {} can't be added or compared", a.describe(), b.describe()), span, "")
        }
        ArithmeticError::Currencies(a, b) => {
            Diagnostic::error(code, format!("{} and {} can't be added: no rate is known", money(a), money(b)), span, "")
                .help("Give all prices of a design in one currency.")
        }
        ArithmeticError::TemperaturePoint => Diagnostic::error(code, "thermometer readings can't be added or multiplied", span, "")
            .help("A difference of two readings can: write it in K."),
        ArithmeticError::Root(d, n) => {
            let root = if n == 2 { "square" } else { "cube" };
            Diagnostic::error(code, format!("{} has no {root} root", d.describe()), span, "")
        }
        ArithmeticError::PowerTooHigh => Diagnostic::error(code, "this power means nothing in cloth", span, ""),
        ArithmeticError::NotANumber => {
            Diagnostic::error("divided-by-nothing", "this has no value: something is divided by nothing, or is too large", span, "")
                .help("Look which of the figures can become 0 in some size, and state a `require` for it.")
        }
    }
}

fn money(c: Currency) -> String {
    String::from_utf8_lossy(&c.0).into_owned()
}
