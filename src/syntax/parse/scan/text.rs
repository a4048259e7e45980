//! Quoted text and the holes in it.

use super::brackets::Frame;
use super::{Bracket, Kind, Scanner};
use crate::syntax::error::{FigureError, MarkError, SyntaxError};

impl Scanner<'_> {
    /// A quote outside text: it begins one, or marks inches after a figure.
    pub(super) fn quote(&mut self) {
        let after = self.ahead().chars().nth(1);
        if let Some(figure) = self.figure_before(self.pos)
            && !after.is_some_and(char::is_alphabetic)
        {
            self.pos += 1;
            return self.inch_mark(figure, "in");
        }
        self.frames.push(Frame::Text { start: self.pos, index: self.tokens.len() });
        self.nesting.open();
        self.check_depth(self.pos);
        self.pos += 1;
    }

    /// `12"` or `5'`, which ends here: the figure began at `start`. What follows is read as if the unit stood there.
    pub(super) fn inch_mark(&mut self, start: usize, unit: &'static str) {
        let mark = self.before(0).map_or(start, |t| t.end);
        let start = self.measure_before().unwrap_or(start);
        let figure = self.source.slice(start, mark).to_owned();
        let at = self.span(start, self.pos);
        self.slip(start, FigureError::InchMark { at, figure, unit });
        self.push(Kind::Word, mark);
    }

    /// Where the measure begins whose last figure stands just before: at the 1 of `1 1/2`.
    fn measure_before(&self) -> Option<usize> {
        let (lower, slash, upper) = (self.before(0)?, self.before(1)?, self.before(2)?);
        let fraction = slash.text(self.source.text) == "/" && upper.kind == Kind::Number && upper.touches(slash) && slash.touches(lower);
        let whole = self.before(3).filter(|w| w.kind == Kind::Number && w.line == upper.line);
        fraction.then(|| whole.unwrap_or(upper).start)
    }

    /// One character of text.
    pub(super) fn text_char(&mut self, c: char) {
        let two = self.ahead().get(..2).unwrap_or("");
        match c {
            '\n' => {
                self.end_line();
                self.pos += 1;
                self.start_line();
            }
            '"' => {
                self.pos += 1;
                self.end_text();
            }
            '\\' if matches!(two, "\\\"" | "\\\\" | "\\n") => self.pos += 2,
            '{' | '}' if matches!(two, "{{" | "}}") => self.pos += 2,
            '\\' => {
                let at = self.pos;
                self.pos += 1;
                let span = self.span(at, self.pos);
                self.slip(at, MarkError::Backslash { at: span });
            }
            '{' => {
                self.frames.push(Frame::Hole { at: self.pos, index: self.tokens.len() });
                self.nesting.open();
                self.check_depth(self.pos);
                self.pos += 1;
            }
            '}' => {
                let at = self.pos;
                self.pos += 1;
                let span = self.span(at, self.pos);
                self.slip(at, MarkError::BraceInText { at: span, mark: "}" });
            }
            _ => self.pos += c.len_utf8(),
        }
    }

    pub(super) fn close_hole(&mut self) {
        self.check_figures(None);
        self.pos += 1;
        self.pop();
    }

    /// A text ends here: it becomes one token, and what stood in its holes is forgotten.
    fn end_text(&mut self) {
        let Some(Frame::Text { start, index }) = self.frames.last().copied() else { return };
        self.pop();
        self.forget_from(start, index);
        self.push(Kind::Text, start);
    }

    /// Forgets the tokens of a text's holes; the first of them may have been the first of its line.
    fn forget_from(&mut self, start: usize, index: usize) {
        self.tokens.truncate(index);
        self.fresh = self.source.slice(self.line, start).trim().is_empty();
    }

    /// At the end of a line every text must be closed.
    pub(super) fn end_line(&mut self) {
        let Some(outermost) = self.frames.iter().position(|f| matches!(f, Frame::Text { .. })) else { return };
        let Some(Frame::Text { start, index }) = self.frames.get(outermost).copied() else { return };
        let hole = self.frames.iter().skip(outermost).find_map(|f| if let Frame::Hole { at, .. } = f { Some(*at) } else { None });
        while self.frames.len() > outermost {
            self.pop();
        }
        self.forget_from(start, index);
        // What was told of the text's inside goes with it.
        self.slips.retain(|s| {
            let inside = matches!(s.error, SyntaxError::Mark(MarkError::BraceInText { .. } | MarkError::Backslash { .. }));
            s.at < start || !inside
        });
        let end = self.source.line_end(start);
        let brace = self.block_brace(start, end);
        match hole {
            Some(at) if brace != Some(at) => {
                let span = self.span(at, at + 1);
                self.slip(at, MarkError::BraceInText { at: span, mark: "{" });
            }
            _ => {
                let span = self.span(start, brace.unwrap_or(end));
                self.slip(start, MarkError::UnclosedText { at: span });
            }
        }
        if self.source.slice(start + 1, brace.unwrap_or(end)).contains(['(', ')', '[', ']', '{', '}']) {
            self.swallowed.get_or_insert(self.line);
        }
        let resume = self.pos;
        self.pos = brace.unwrap_or(end);
        self.push(Kind::Text, start);
        if brace.is_some() {
            self.open_bracket(Bracket::Brace);
        }
        self.pos = resume;
    }

    /// The brace at the end of a line that a text ran into: it was meant to open a block.
    fn block_brace(&self, start: usize, end: usize) -> Option<usize> {
        let written = self.source.slice(start, end).trim_end();
        written.ends_with('{').then(|| start + written.len() - 1)
    }
}
