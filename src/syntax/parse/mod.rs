//! From text to the tree. One file a section of the grammar, and one for what all share.

mod builder;
mod component;
mod design;
mod expr;
mod file;
mod finish;
#[allow(unreachable_pub, reason = "what is derived is public")]
mod grammar;
mod outline;
mod panel;
mod place;
mod seam;

use pest::Parser;

use crate::diagnostic::{Diagnostic, Problems};
use crate::source::{FileId, Span};
use crate::syntax::ast::{Expr, File};
use builder::{Builder, Built};
use grammar::{Grammar, Rule};

/// How many operators an expression may hold along one path.
const MAX_LINKS: usize = 200;

/// Reads a source file. What cannot be read is reported, and what can is in the tree.
pub fn parse(file: FileId, text: &str, problems: &mut Problems) -> File {
    read(file, text, Rule::file, problems, |b, p| b.file(p)).unwrap_or_default()
}

/// Reads a single value, as given on the command line for a parameter.
pub fn parse_expression(file: FileId, text: &str, problems: &mut Problems) -> Option<Expr> {
    read(file, text, Rule::lone_expr, problems, |b, p| {
        let mut parts = b.parts(p);
        b.expr(&mut parts)
    })
}

fn read<'i, T>(
    file: FileId,
    text: &'i str,
    rule: Rule,
    problems: &mut Problems,
    build: impl Fn(&mut Builder<'_>, pest::iterators::Pair<'i, Rule>) -> Built<T>,
) -> Option<T> {
    let body = text.strip_prefix('\u{feff}').unwrap_or(text);
    let base = text.len() - body.len();
    match Grammar::parse(rule, body) {
        Ok(mut pairs) => {
            let mut builder = Builder { file, base, problems, depth: 0 };
            pairs.next().and_then(|p| build(&mut builder, p).ok())
        }
        Err(e) => {
            let at = match e.location {
                pest::error::InputLocation::Pos(at) | pest::error::InputLocation::Span((at, _)) => at,
            };
            let span = Span::new(file, base + at, base + at);
            problems.push(Diagnostic::error("syntax", format!("this can't be read: {}", e.variant.message()), span, ""));
            None
        }
    }
}
