//! What goes wrong with names.

use super::{all_of, suggest};
use crate::diagnostic::Diagnostic;
use crate::quantity::unit;
use crate::source::Span;

/// With names.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::check) enum NameError {
    /// Nothing has this name. `wanted` says what was looked for: `outline`, `panel`, or nothing in particular.
    /// `library` is the module of the standard library that has it.
    Unknown { name: String, span: Span, wanted: Option<&'static str>, nearest: Option<String>, library: Option<String> },
    /// The name is of something else.
    WrongThing { name: String, span: Span, is: &'static str, wanted: &'static str, help: Option<String>, declared: Option<Span> },
    /// Two declarations of one name.
    Twice { name: String, first: Span, first_is: &'static str, second: Span, second_is: &'static str },
    /// A built-in name.
    BuiltIn { name: String, span: Span },
    /// A word that can't be a name here.
    Reserved { name: String, span: Span, why: &'static str },
    /// A choice of a parameter that is also the name of a thing.
    ChoiceClash { name: String, span: Span, is: &'static str, declared: Option<Span> },
    /// Declarations that need each other in a ring. Each link is where one needs the next.
    Cycle { chain: Vec<String>, links: Vec<(Span, String, String)> },
    /// A panel has no edge of this name.
    UnknownEdge { panel: String, edge: String, span: Span, nearest: Option<String>, edges: Vec<String> },
    /// An edge has no part of this name.
    UnknownPart { edge: String, part: String, span: Span, nearest: Option<String>, parts: Vec<String> },
    /// A panel cut several times is pointed at without saying which copy.
    WhichCopy { panel: String, span: Span, count: f64, copies: Vec<String> },
    /// A value has no part of this name to read.
    UnknownMember { of: String, member: String, span: Span, nearest: Option<String>, known: Vec<String> },
    /// A word that is none of a fixed list.
    UnknownWord { word: String, span: Span, role: &'static str, known: &'static [&'static str], nearest: Option<String> },
    /// A stitch that is none.
    UnknownStitch { word: String, span: Span, known: &'static [&'static str], nearest: Option<String> },
    /// A kind of parameter that is none.
    UnknownKind { kind: String, span: Span, nearest: Option<String> },
    /// `grain left`
    GrainWithoutAlong { edge: String, span: Span },
    /// A size that only exists under a `when`.
    SizeUnderWhen { name: String, span: Span },
}

fn unknown(name: &str, span: Span, wanted: Option<&str>, nearest: Option<&str>, library: Option<String>) -> Diagnostic {
    let headline = match wanted {
        Some(wanted) => format!("there is no {wanted} called `{name}`"),
        None => format!("nothing here is called `{name}`"),
    };
    let error = Diagnostic::error("unknown-name", headline, span, "not known");
    if let Some(module) = library {
        return error.help(format!(
            "the library has it: write `use {module} {{ {name} }}` at the top of the file, or add it to the names of that line"
        ));
    }
    match (figure(name), nearest) {
        (Some(figure), _) => error.help("numbers are written in figures").edit(span, figure),
        (None, None) if matches!(name, "center" | "centre") => error.help("half-way along an edge is `at middle`").edit(span, "middle"),
        (None, None) if unit(name).is_ok() => {
            error.help("a unit stands right behind its figure, `34 g`, and the slash in a unit has no blank beside it: `34 g/m2`")
        }
        _ => suggest(error, span, nearest),
    }
}

/// `two`, in figures.
fn figure(word: &str) -> Option<&'static str> {
    const FIGURES: &[(&str, &str)] = &[
        ("zero", "0"),
        ("one", "1"),
        ("two", "2"),
        ("three", "3"),
        ("four", "4"),
        ("five", "5"),
        ("six", "6"),
        ("seven", "7"),
        ("eight", "8"),
        ("nine", "9"),
        ("ten", "10"),
        ("twelve", "12"),
        ("half", "0.5"),
        ("quarter", "0.25"),
    ];
    FIGURES.iter().find(|(name, _)| *name == word.to_lowercase()).map(|(_, figure)| *figure)
}

impl From<NameError> for Diagnostic {
    fn from(error: NameError) -> Self {
        match error {
            NameError::Unknown { name, span, wanted, nearest, library } => unknown(&name, span, wanted, nearest.as_deref(), library),
            NameError::WrongThing { name, span, is, wanted, help, declared } => {
                let mut error =
                    Self::error("wrong-thing", format!("`{name}` is {is}, and {wanted} is wanted here"), span, format!("this is {is}"));
                if let Some(declared) = declared {
                    error = error.and(declared, "declared here");
                }
                match help {
                    Some(help) => error.help(help),
                    None => error,
                }
            }
            NameError::Twice { name, first, first_is, second, second_is } => {
                let headline = if first_is == second_is {
                    format!("`{name}` is declared twice")
                } else {
                    format!("`{name}` is {first_is} and also {second_is}")
                };
                Self::error("name-declared-twice", headline, second, "declared again here").and(first, "declared first here").help(
                    "give one of them another name; a name may be declared twice only in the `{ … }` and the `else { … }` of one `when`",
                )
            }
            NameError::GrainWithoutAlong { edge, span } => {
                Self::error("unknown-name", format!("the grain runs along an edge: `along` is missing before `{edge}`"), span, "an edge")
                    .help("an edge is named after `along`; without it stands an angle, `grain 45 deg`")
                    .edit(span, format!("along {edge}"))
            }
            NameError::BuiltIn { name, span } => {
                let headline = format!("`{name}` is a word of the language's own arithmetic and can't be declared again");
                Self::error("name-taken", headline, span, "choose another name")
                    .help(format!("formulas read `{name}` as theirs; `{name}_1`, or a word for what it is, will do"))
            }
            NameError::Reserved { name, span, why } => {
                Self::error("reserved-name", format!("`{name}` can't be a name here: {why}"), span, "choose another name")
            }
            NameError::ChoiceClash { name, span, is, declared } => {
                let error = Self::error("choice-clash", format!("`{name}` is a choice here and also {is}"), span, "meant as a choice");
                let error = match declared {
                    Some(declared) => error.and(declared, "the other meaning"),
                    None => error,
                };
                error.help("a choice is a word of its own: rename one of the two")
            }
            NameError::Cycle { chain, links } => cycle(&chain, links),
            NameError::UnknownEdge { panel, edge, span, nearest, edges } => unknown_edge(&panel, &edge, span, nearest.as_deref(), &edges),
            NameError::UnknownPart { edge, part, span, nearest, parts } => {
                let error = Self::error("unknown-part", format!("edge `{edge}` has no part called `{part}`"), span, "no such part");
                match nearest {
                    Some(_) => suggest(error, span, nearest.as_deref()),
                    None if parts.is_empty() => error.help("only a tapered edge has parts: `straight` and `tapered`"),
                    None => error.help(format!("its parts are {}", all_of(&parts))),
                }
            }
            NameError::WhichCopy { panel, span, count, copies } => which_copy(&panel, span, count, &copies),
            NameError::UnknownMember { of, member, span, nearest, known } => {
                let error = Self::error("unknown-member", format!("{of} has no `{member}`"), span, "nothing of this name to read");
                match nearest {
                    Some(_) => suggest(error, span, nearest.as_deref()),
                    None if known.is_empty() => error,
                    None => error.help(format!("it has {}", all_of(&known))),
                }
            }
            NameError::UnknownWord { word, span, role, known, nearest } => {
                let error = Self::error("unknown-word", format!("`{word}` is no {role}"), span, "not one of the words that can stand here");
                fixed_words(error, span, nearest.as_deref(), known)
            }
            NameError::UnknownStitch { word, span, known, nearest } => {
                let error = Self::error("unknown-stitch", format!("`{word}` is no stitch known here"), span, "not a stitch");
                fixed_words(error, span, nearest.as_deref(), known)
            }
            NameError::UnknownKind { kind, span, nearest } => {
                let error = Self::error("unknown-kind", format!("`{kind}` is no kind of value"), span, "not a kind");
                match nearest {
                    Some(_) => suggest(error, span, nearest.as_deref()),
                    None => error.help(
                        "kinds are `length`, `area`, `angle`, `number`, `yes_no`, `text`, `point`, `cloth`, `ribbon`, `cord` and the like",
                    ),
                }
            }
            NameError::SizeUnderWhen { name, span } => Self::error(
                "size-under-when",
                format!("size `{name}` stands under a `when`, and sizes hold always"),
                span,
                "move it out of the `when`",
            ),
        }
    }
}

fn cycle(chain: &[String], links: Vec<(Span, String, String)>) -> Diagnostic {
    // A long ring is told by its first links.
    const TOLD: usize = 6;
    let headline = format!("these need each other in a ring: {}", shortened(chain).join(" → "));
    let mut links = links.into_iter().take(TOLD);
    let (span, from, to) = links.next().unwrap_or_default();
    let first = Diagnostic::error("cycle", headline, span, format!("`{from}` needs `{to}`"));
    let error = links.fold(first, |d, (span, from, to)| d.and(span, format!("`{from}` needs `{to}`")));
    error.help("one of them must stand on its own: give it a figure, or work it out from something outside the ring")
}

/// A ring of hundreds would fill the screen: its beginning and its end will do.
fn shortened(chain: &[String]) -> Vec<&str> {
    const FIRST: usize = 12;
    const LAST: usize = 3;
    let name = String::as_str;
    if chain.len() <= FIRST + LAST + 1 {
        return chain.iter().map(name).collect();
    }
    let end = chain.iter().skip(chain.len() - LAST).map(name);
    chain.iter().take(FIRST).map(name).chain(std::iter::once("…")).chain(end).collect()
}

fn unknown_edge(panel: &str, edge: &str, span: Span, nearest: Option<&str>, edges: &[String]) -> Diagnostic {
    let error = Diagnostic::error("unknown-edge", format!("`{panel}` has no edge called `{edge}`"), span, "no such edge");
    match nearest {
        Some(_) => suggest(error, span, nearest),
        None => error.help(format!("its edges are {}", all_of(edges))),
    }
}

fn which_copy(panel: &str, span: Span, count: f64, copies: &[String]) -> Diagnostic {
    let headline = format!("`{panel}` is cut {count} times: say which of them is meant");
    let error = Diagnostic::error("which-copy", headline, span, "which copy?");
    match copies.first() {
        Some(first) => error.help(format!("its copies are {}", all_of(copies))).edit(span, first),
        None => error
            .help(format!("give the copies names in the `cut` line of `{panel}`: `cut {count} of … as outer, inner`, and use those here")),
    }
}

fn fixed_words(error: Diagnostic, span: Span, nearest: Option<&str>, known: &[&str]) -> Diagnostic {
    match nearest {
        Some(_) => suggest(error, span, nearest),
        None => error.help(format!("it can be {}", super::one_of(known))),
    }
}
