//! Brackets: which form pairs, and which one is to blame where they don't.

use super::{Bracket, Kind, Scanner, Token};
use crate::syntax::error::{StructureError, SyntaxError};
use crate::syntax::parse::blocks;

/// Something open.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Frame {
    /// A bracket, and the index of its token.
    Bracket(Bracket, usize),
    /// A text that began at a byte, as the token of an index.
    Text {
        /// Its quote.
        start: usize,
        /// The index its token will have.
        index: usize,
    },
    /// A hole in a text that began at a byte, with the index that its first token has.
    Hole {
        /// Its brace.
        at: usize,
        /// The index its first token will have.
        index: usize,
    },
}

/// Blocks whose two braces are not indented alike: the likeliest culprits where braces don't form pairs.
#[derive(Debug, Default)]
pub(super) struct Askew {
    /// The first that is closed further out than it was opened: one before it lacks its brace, by the index of its opening token.
    out: Option<usize>,
    /// The first that is closed further in: that brace is one too many, by its index.
    inward: Option<usize>,
    /// The first that is closed within a line after the one that opened it, by the index of that brace.
    within: Option<usize>,
}

impl Scanner<'_> {
    pub(super) fn open_bracket(&mut self, bracket: Bracket) {
        let at = self.pos;
        if bracket == Bracket::Brace {
            self.drop_round(at);
        }
        self.pos += 1;
        self.push(Kind::Open(bracket), at);
        self.frames.push(Frame::Bracket(bracket, self.tokens.len() - 1));
        self.nesting.open();
        self.check_depth(at);
    }

    pub(super) fn close_bracket(&mut self, bracket: Bracket) {
        let at = self.pos;
        if bracket == Bracket::Brace {
            if let Some((open, index)) = self.mistyped() {
                self.pos += 1;
                self.push(Kind::Close(open), at);
                self.pop();
                self.unclosed(open, index, at, true);
                return self.pair(index, self.tokens.len() - 1);
            }
            self.drop_round(at);
            if matches!(self.frames.last(), Some(Frame::Hole { .. })) {
                return self.close_hole();
            }
        }
        self.pos += 1;
        self.push(Kind::Close(bracket), at);
        match self.frames.last().copied() {
            Some(Frame::Bracket(open, index)) if open == bracket => {
                self.pop();
                self.pair(index, self.tokens.len() - 1);
            }
            Some(Frame::Bracket(open, index)) if open != Bracket::Brace => self.close_other(open, index, bracket, at),
            _ => self.stray(bracket, at),
        }
    }

    /// The bracket that a brace within a line was meant to close: one opened on that line, in a block opened before it.
    fn mistyped(&self) -> Option<(Bracket, usize)> {
        let (last, outer) = (self.frames.last()?, self.frames.iter().rev().nth(1)?);
        let (Frame::Bracket(open @ (Bracket::Round | Bracket::Square), index), Frame::Bracket(Bracket::Brace, block)) = (*last, *outer)
        else {
            return None;
        };
        let here = |index: usize| self.tokens.get(index).is_some_and(|t| t.line == self.line);
        (here(index) && !here(block) && !self.fresh).then_some((open, index))
    }

    /// A round bracket met by a square one, or the reverse: either the inner one was forgotten, or the wrong one typed.
    fn close_other(&mut self, open: Bracket, index: usize, found: Bracket, at: usize) {
        self.pop();
        let outer = self.frames.last().copied();
        let forgotten = matches!(outer, Some(Frame::Bracket(b, _)) if b == found);
        self.unclosed(open, index, at, !forgotten);
        if let Some(Frame::Bracket(_, outer)) = outer
            && forgotten
        {
            self.pop();
            self.pair(outer, self.tokens.len() - 1);
        }
    }

    fn stray(&mut self, bracket: Bracket, at: usize) {
        let here = self.span(at, self.pos);
        if bracket != Bracket::Brace {
            return self.slip(at, StructureError::StrayBracket { at: here, mark: bracket.closing() });
        }
        if self.lost_from.is_some() || self.blame_text() {
            return;
        }
        let culprit = self.askew.inward.or(self.askew.within).and_then(|i| self.tokens.get(i)).map_or(at, |t| t.start);
        self.lost_from = Some(culprit);
        let span = self.span(culprit, culprit + 1);
        self.slip(culprit, StructureError::StrayBrace { at: span });
    }

    /// Braces never stand in round or square brackets, so those still open were forgotten.
    fn drop_round(&mut self, until: usize) {
        while let Some(Frame::Bracket(bracket @ (Bracket::Round | Bracket::Square), index)) = self.frames.last().copied() {
            self.pop();
            self.unclosed(bracket, index, until, false);
        }
    }

    /// In brackets two words never stand side by side; a line that begins like a statement tells that a bracket before it was forgotten.
    pub(super) fn check_run_on(&mut self, token: Token) {
        let Some(Frame::Bracket(Bracket::Round | Bracket::Square, _)) = self.frames.last() else { return };
        let Some(before) = self.before(0).copied() else { return };
        let operand = || match token.kind {
            Kind::Word => !blocks::is_reserved(token.text(self.source.text)),
            Kind::Number | Kind::Text => true,
            _ => false,
        };
        let begins = before.first && before.kind == Kind::Word && before.line == token.line;
        if begins && blocks::starts_a_line(before.text(self.source.text)) && operand() {
            self.drop_round(before.start);
        }
    }

    /// Whether a text swallowed the bracket that is missed; that text has been told of.
    fn blame_text(&mut self) -> bool {
        self.lost_from = self.swallowed;
        self.swallowed.is_some()
    }

    /// Tells of a bracket that is not closed, unless a text swallowed what closes it.
    fn unclosed(&mut self, bracket: Bracket, index: usize, until: usize, instead: bool) {
        let Some(open) = self.tokens.get(index).copied().filter(|t| Some(t.line) != self.swallowed) else { return };
        let (at, until) = (self.span(open.start, open.end), self.span(until, (until + 1).min(self.source.text.len())));
        let error = StructureError::UnclosedBracket { open: at, mark: bracket.opening(), wanted: bracket.closing(), until, instead };
        self.slip(open.start, error);
    }

    pub(super) fn pop(&mut self) {
        let braces = matches!(self.frames.pop(), Some(Frame::Bracket(Bracket::Brace, _)));
        self.nesting.close(braces);
    }

    /// Notes that two brackets form a pair.
    fn pair(&mut self, open: usize, close: usize) {
        let (Some(&first), Some(&last)) = (self.tokens.get(open), self.tokens.get(close)) else { return };
        if let Some(token) = self.tokens.get_mut(open) {
            token.mate = Some(close);
        }
        if let Some(token) = self.tokens.get_mut(close) {
            token.mate = Some(open);
        }
        if last.kind != Kind::Close(Bracket::Brace) || last.line == first.line {
            return;
        }
        if !last.first {
            self.askew.within.get_or_insert(close);
        } else if last.indent < first.indent {
            self.askew.out.get_or_insert(open);
        } else if last.indent > first.indent {
            self.askew.inward.get_or_insert(close);
        }
    }

    /// The text is at its end: what is still open was forgotten.
    pub(super) fn close_all(&mut self) {
        let end = self.source.text.len();
        self.drop_round(end);
        let Some(Frame::Bracket(_, innermost)) = self.frames.last().copied() else { return };
        self.frames.clear();
        if self.lost_from.is_some() || self.blame_text() {
            return;
        }
        let culprit = self.askew.out.unwrap_or(innermost);
        let Some(open) = self.tokens.get(culprit).copied() else { return };
        self.lost_from = Some(open.line);
        let line = self.source.slice(open.line, open.start);
        let header = line.rsplit('}').next().unwrap_or(line).trim().to_owned();
        let error = StructureError::UnclosedBrace { open: self.span(open.start, open.end), header, end: self.span(end, end) };
        self.slip(open.start, SyntaxError::from(error));
    }
}
