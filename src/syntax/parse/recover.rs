//! Reading on after an error: the file is cut into blocks and statements by its braces and lines, each is read on its own,
//! and each that can't be read is reported once.

use pest::Parser;
use pest::error::{ErrorVariant, InputLocation};
use pest::iterators::Pair;

use super::blame::{Blame, Failure};
use super::blocks::{self, Block};
use super::builder::{Builder, Built};
use super::grammar::{Grammar, Rule};
use super::scan::{Bracket, Kind, MAX_SLIPS, Scan, Token};
use super::source::Source;
use crate::diagnostic::Problems;
use crate::syntax::ast::File;
use crate::syntax::error::{StatementError, StructureError, SyntaxError};

/// Reads what can be read of a file with errors.
pub(super) struct Recovery<'s, 'p> {
    source: Source<'s>,
    tokens: &'s [Token],
    slips: Vec<usize>,
    lost_from: Option<usize>,
    problems: &'p mut Problems,
    file: File,
    told: usize,
    /// Whether a closing brace seems too many.
    unopened: bool,
    /// Whether an opening brace was found to be missing.
    missing_brace: bool,
}

impl<'s, 'p> Recovery<'s, 'p> {
    /// Makes ready; what the scan found is told by the caller.
    pub(super) fn new(source: Source<'s>, scan: &'s Scan, problems: &'p mut Problems) -> Self {
        Self {
            source,
            tokens: &scan.tokens,
            slips: scan.slips.iter().map(|s| s.at).collect(),
            lost_from: scan.lost_from,
            problems,
            file: File::default(),
            told: 0,
            unopened: scan.slips.iter().any(|s| matches!(s.error, SyntaxError::Structure(StructureError::StrayBrace { .. }))),
            missing_brace: false,
        }
    }

    /// Reads the whole file; returns the declarations that are right, how many errors were told, and whether an opening brace is missing.
    pub(super) fn run(mut self) -> (File, usize, bool) {
        self.block(Block::File, 0, self.tokens.len());
        (self.file, self.told, self.missing_brace)
    }

    /// Everything between two tokens.
    fn block(&mut self, block: Block, from: usize, to: usize) {
        let mut next = from;
        while next < to && self.told < MAX_SLIPS && !self.is_lost(next) {
            next = self.item(block, next, to).max(next + 1);
        }
    }

    /// One statement; returns the token after it.
    fn item(&mut self, block: Block, from: usize, to: usize) -> usize {
        if matches!(self.tokens.get(from).map(|t| t.kind), Some(Kind::Close(_))) {
            return from + 1; // told by the scan
        }
        if let Some(next) = self.right(block, from, to) {
            return next;
        }
        if let Some(next) = self.descend(block, from, to) {
            return next;
        }
        let end = self.next_statement(from, to);
        self.blame(block, from, end);
        end
    }

    /// Reads a statement that is right, and is followed by something that may follow.
    fn right(&mut self, block: Block, from: usize, to: usize) -> Option<usize> {
        let start = self.tokens.get(from)?.start;
        let pair = Grammar::parse(block.item(), self.source.slice(start, self.end_of(to))).ok()?.next()?;
        let mut silent = Problems::default();
        let end = Builder::new(self.source.file, start, &mut silent).span(&pair).end as usize;
        let next = self.tokens.partition_point(|t| t.start < end);
        if self.tokens.get(next.checked_sub(1)?)?.end > end || !self.may_follow(block, next, to) {
            return None;
        }
        let slipped = self.slipped(from, next);
        let mut builder = Builder::new(self.source.file, self.source.base + start, self.problems);
        keep(&mut builder, block, pair, &mut self.file, slipped);
        Some(next)
    }

    fn may_follow(&self, block: Block, next: usize, to: usize) -> bool {
        let Some(token) = self.tokens.get(next).filter(|_| next < to) else { return true };
        let before = next.checked_sub(1).and_then(|i| self.tokens.get(i));
        let parted = before.is_some_and(|t| t.kind == Kind::Close(Bracket::Brace) || t.text(self.source.text) == ",");
        let sets = block.setting().is_some() && self.tokens.get(next + 1).is_some_and(|t| t.text(self.source.text) == "=");
        let starts = sets || block.statement(token.text(self.source.text)).is_some();
        token.first || parted || starts
    }

    /// The token that most likely begins the next statement.
    fn next_statement(&self, from: usize, to: usize) -> usize {
        let indent = self.indent_of(from);
        let mut at = from;
        loop {
            at = self.after(at);
            match self.tokens.get(at) {
                Some(token) if at < to => {
                    // A closing brace at this level is one too many.
                    if self.begins(token, indent) || token.kind == Kind::Close(Bracket::Brace) {
                        return at;
                    }
                }
                _ => return to,
            }
        }
    }

    /// How far in the lines after a statement may begin and still be statements of their own.
    fn indent_of(&self, from: usize) -> usize {
        self.tokens.get(from).filter(|t| t.first).map_or(usize::MAX, |t| t.indent)
    }

    fn begins(&self, token: &Token, indent: usize) -> bool {
        token.first && token.kind == Kind::Word && token.indent <= indent && !blocks::is_reserved(token.text(self.source.text))
            || token.first && token.indent <= indent && token.text(self.source.text) == "when"
    }

    /// The token after this one, or after the bracket that it opens.
    fn after(&self, at: usize) -> usize {
        match self.tokens.get(at) {
            Some(Token { kind: Kind::Open(_), mate: Some(mate), .. }) => mate + 1,
            _ => at + 1,
        }
    }

    /// Goes into the block that a statement opens; none when it opens none.
    fn descend(&mut self, block: Block, from: usize, to: usize) -> Option<usize> {
        let written = self.tokens.get(from)?.text(self.source.text);
        let word = block.statement(written).map(|s| s.word).or_else(|| block.nearest(written))?;
        let inside = block.inside(word)?;
        // Elsewhere in a panel a brace is one where a bracket belongs.
        if word == "shape" && self.word(from + 1) != "{" {
            return None;
        }
        let told = self.told;
        let mut head = from;
        let end = loop {
            let brace = self.brace_of(head, to)?;
            if word != written {
                self.blame(block, from, brace + 1);
            } else if self.word(head) != "{" {
                self.head(block, head, brace);
            }
            let close = self.tokens.get(brace).and_then(|t| t.mate).unwrap_or(to).min(to);
            self.block(inside, brace + 1, close);
            if word != "when" || self.word(close + 1) != "else" || close + 1 >= to {
                break close + 1;
            }
            head = close + 2;
            if !matches!(self.word(head), "{" | "when") {
                self.expected(head, "`{` or `when`", "when long > 2 m { … } else { … }");
                break self.next_statement(close + 1, to);
            }
        };
        let end = end.min(to);
        if self.told == told && !self.slipped(from, end) {
            self.blame(block, from, end);
        }
        Some(end)
    }

    /// The brace that opens the block of the statement at `from`.
    fn brace_of(&self, from: usize, to: usize) -> Option<usize> {
        let indent = self.indent_of(from);
        let mut at = from;
        while at < to {
            let token = self.tokens.get(at)?;
            if token.kind == Kind::Open(Bracket::Brace) {
                return Some(at);
            }
            if at > from && (self.begins(token, indent) || token.kind == Kind::Close(Bracket::Brace)) {
                return None;
            }
            at = self.after(at);
        }
        None
    }

    /// Checks what stands before a block, as if the block were empty.
    fn head(&mut self, block: Block, from: usize, brace: usize) {
        let Some(start) = self.tokens.get(from).map(|t| t.start) else { return };
        let written = format!("{}}}", self.source.slice(start, self.end_of(brace + 1)));
        if let Err(error) = Grammar::parse(block.lone_item(), &written)
            && !self.slipped(from, brace + 1)
        {
            let failure = failure(&error, start);
            self.tell(block, from, brace + 1, &failure);
        }
    }

    /// Reports what is wrong with the statement between two tokens.
    fn blame(&mut self, block: Block, from: usize, end: usize) {
        let Some(start) = self.tokens.get(from).map(|t| t.start) else { return };
        let written = self.source.slice(start, self.end_of(end));
        if self.slipped(from, end) {
            return;
        }
        match Grammar::parse(block.lone_item(), written) {
            Ok(pairs) => {
                // It reads on its own, and only the line after it did not let it.
                let mut builder = Builder::new(self.source.file, self.source.base + start, self.problems);
                for pair in pairs.flat_map(|p| p.into_inner()) {
                    keep(&mut builder, block, pair, &mut self.file, false);
                }
            }
            Err(error) => {
                let failure = failure(&error, start);
                self.tell(block, from, end, &failure);
            }
        }
    }

    fn tell(&mut self, block: Block, from: usize, end: usize, failure: &Failure) {
        if self.lost_from.is_some_and(|lost| failure.at >= lost) {
            return;
        }
        if self.unopened && failure.expected.contains(&Rule::open_brace) && !failure.expected.contains(&Rule::EOI) {
            // That brace is why a closing one seemed too many; what follows lies in the wrong blocks.
            self.lost_from = Some(failure.at);
            self.missing_brace = true;
        }
        let error = Blame { source: self.source, tokens: self.tokens, block: Some(block), from, end, failure }.error();
        self.told += 1;
        self.problems.push(error);
    }

    fn expected(&mut self, at: usize, expected: &str, example: &'static str) {
        let token = self.tokens.get(at);
        let end = self.source.text.len();
        let span = token.map_or(self.source.span(end, end), |t| self.source.span(t.start, t.end));
        let found = token.map_or_else(|| "the end of the file".to_owned(), |t| super::wording::found(t, self.source.text));
        self.told += 1;
        let error = StatementError::Expected { at: span, expected: expected.to_owned(), found, nearest: None, example: Some(example) };
        self.problems.push(SyntaxError::from(error));
    }

    /// Whether the scan has told of a slip between two tokens.
    fn slipped(&self, from: usize, end: usize) -> bool {
        let start = self.tokens.get(from).map_or(0, |t| t.start);
        let stop = self.end_of(end);
        self.slips.iter().any(|at| (start..stop).contains(at))
    }

    /// Whether blocks don't form pairs from before this token on.
    fn is_lost(&self, at: usize) -> bool {
        self.lost_from.is_some_and(|lost| self.tokens.get(at).is_some_and(|t| t.start >= lost))
    }

    fn word(&self, at: usize) -> &str {
        self.tokens.get(at).map_or("", |t| t.text(self.source.text))
    }

    /// Where the token before `next` ends.
    fn end_of(&self, next: usize) -> usize {
        next.checked_sub(1).and_then(|i| self.tokens.get(i)).map_or(0, |t| t.end)
    }
}

/// Where the grammar stopped and what it would have taken there.
pub(super) fn failure(error: &pest::error::Error<Rule>, start: usize) -> Failure {
    let at = match error.location {
        InputLocation::Pos(at) | InputLocation::Span((at, _)) => at,
    };
    let expected = match &error.variant {
        ErrorVariant::ParsingError { positives, .. } => positives.clone(),
        ErrorVariant::CustomError { .. } => Vec::new(),
    };
    Failure { at: start + at, expected }
}

/// Builds a statement that is right: declarations are kept, and of the others only the pitfalls are told.
fn keep(builder: &mut Builder<'_>, block: Block, pair: Pair<'_, Rule>, file: &mut File, slipped: bool) {
    let built: Built<()> = match (block, pair.as_rule()) {
        (Block::File, Rule::file_item) => builder.file_item(pair, file, slipped),
        (Block::Design, Rule::design_item) => builder.design_item(pair).map(drop),
        (Block::Panel, Rule::panel_item) => builder.panel_item(pair).map(drop),
        (Block::Outline, Rule::outline_item) => builder.outline_item(pair).map(drop),
        (Block::Component, Rule::component_item) => builder.component_item(pair).map(drop),
        (Block::Finish, Rule::finish_item) => builder.finish_item(pair).map(drop),
        (Block::Seam, Rule::seam_item) => builder.seam_item(pair).map(drop),
        (Block::Quilt, Rule::quilt_item) => builder.quilt_item(pair).map(drop),
        (Block::Cutter, Rule::cutter_item) => builder.cutter_item(pair).map(drop),
        (Block::Size | Block::Material, Rule::setting) => builder.setting(pair).map(drop),
        _ => Ok(()),
    };
    builder.report(built);
}
