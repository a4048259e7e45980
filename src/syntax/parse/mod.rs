//! From text to the tree. One file a section of the grammar; besides, what all share, and what is done where the text is wrong.
//!
//! A text is first scanned for slips that need no grammar, then matched against the grammar in one pass.
//! Only when that fails is it cut into statements that are read one by one, so that each error is told.

mod blame;
mod blocks;
mod builder;
mod component;
mod cutter;
mod design;
mod expr;
mod file;
mod finish;
#[allow(unreachable_pub, reason = "what is derived is public")]
mod grammar;
mod outline;
mod panel;
mod place;
mod recover;
mod scan;
mod seam;
mod source;
mod traced;
mod wording;

use pest::Parser;

use crate::diagnostic::Problems;
use crate::source::FileId;
use crate::syntax::ast::{Expr, File};
use crate::syntax::error::{StructureError, SyntaxError};
use blame::Blame;
use builder::Builder;
use grammar::{Grammar, Rule};
use recover::{Recovery, failure};
use scan::{Scan, Scanner, Slip};
use source::Source;

/// The largest file that is read, in bytes.
const MAX_SOURCE: usize = 4 << 20;

/// Reads a source file. Whatever can't be read is reported; the tree then holds the imports and declarations in which nothing is wrong.
pub fn parse(file: FileId, text: &str, problems: &mut Problems) -> File {
    read(Source::new(file, text), problems)
}

/// Reads part of a source file: some of its items, which begin at a byte of it.
pub(super) fn parse_part(file: FileId, base: usize, text: &str, problems: &mut Problems) -> File {
    read(Source { file, base, text }, problems)
}

/// Reads part of a file that is known to be in order, and so neither nested too deep nor full of slips.
pub(super) fn parse_known(file: FileId, base: usize, text: &str, problems: &mut Problems) -> File {
    match Grammar::parse(Rule::file, text) {
        Ok(mut pairs) => pairs.next().map(|p| Builder::new(file, base, problems).file(p, &[])).unwrap_or_default(),
        Err(_) => parse_part(file, base, text, problems),
    }
}

fn read(source: Source<'_>, problems: &mut Problems) -> File {
    let Some(scan) = scanned(source, problems) else { return File::default() };
    let matched = Grammar::parse(Rule::file, source.text);
    let error = match matched {
        Ok(mut pairs) => {
            let slips: Vec<usize> = scan.slips.iter().map(|s| s.at).collect();
            tell(scan.slips, false, problems);
            let mut builder = Builder::new(source.file, source.base, problems);
            return pairs.next().map(|p| builder.file(p, &slips)).unwrap_or_default();
        }
        Err(error) => error,
    };
    let (tree, told, missing_brace) = Recovery::new(source, &scan, problems).run();
    if told == 0 && scan.slips.is_empty() {
        let failure = failure(&error, 0);
        let whole = Blame { source, tokens: &scan.tokens, block: None, from: 0, end: scan.tokens.len(), failure: &failure };
        problems.push(whole.error());
    }
    tell(scan.slips, missing_brace, problems);
    tree
}

/// Reads a single value, as given on the command line for a parameter.
pub fn parse_expression(file: FileId, text: &str, problems: &mut Problems) -> Option<Expr> {
    let source = Source::new(file, text);
    let scan = scanned(source, problems)?;
    let slipped = !scan.slips.is_empty();
    match Grammar::parse(Rule::lone_expr, source.text) {
        Ok(mut pairs) => {
            tell(scan.slips, false, problems);
            let mut builder = Builder::new(file, source.base, problems);
            let mut parts = builder.parts(pairs.next()?);
            let built = builder.expr(&mut parts);
            builder.report(built).filter(|_| !slipped)
        }
        Err(error) => {
            if !slipped {
                let failure = failure(&error, 0);
                let blame = Blame { source, tokens: &scan.tokens, block: None, from: 0, end: scan.tokens.len(), failure: &failure };
                problems.push(blame.error());
            }
            tell(scan.slips, false, problems);
            None
        }
    }
}

/// The first pass; none when the text is too large or too deep to be read.
fn scanned(source: Source<'_>, problems: &mut Problems) -> Option<Scan> {
    let bytes = source.text.len();
    if bytes > MAX_SOURCE {
        let at = source.span(0, 0);
        problems.push(SyntaxError::from(StructureError::SourceTooLarge { at, bytes, most: MAX_SOURCE }));
        return None;
    }
    let scan = Scanner::scan(source);
    if scan.hopeless {
        tell(scan.slips, false, problems);
        return None;
    }
    Some(scan)
}

/// Tells of the slips that the scan found, but of no closing brace too many where an opening one is missing.
fn tell(slips: Vec<Slip>, missing_brace: bool, problems: &mut Problems) {
    for slip in slips {
        if !(missing_brace && matches!(slip.error, SyntaxError::Structure(StructureError::StrayBrace { .. }))) {
            problems.push(slip.error);
        }
    }
}
