//! A first pass over the text: its words, figures and marks, which brackets form pairs, and the slips of
//! the pen that can be told without the grammar. One pass, no recursion, whatever the text holds.

mod brackets;
mod figures;
mod marks;
mod nesting;
mod text;
mod token;

pub(super) use token::{Bracket, Kind, Token};

use super::source::Source;
use crate::source::Span;
use crate::syntax::error::{StructureError, SyntaxError};
use brackets::Frame;
use nesting::Nesting;

/// How deep brackets, text holes and choices may lie in one another.
pub(super) const MAX_NESTING: usize = 100;

/// How many slips are told of one file.
pub(super) const MAX_SLIPS: usize = 50;

/// What the first pass found.
#[derive(Debug)]
pub(super) struct Scan {
    /// The tokens in order; a text is one, whatever stands in its holes.
    pub(super) tokens: Vec<Token>,
    /// The slips in the order met.
    pub(super) slips: Vec<Slip>,
    /// From here on the blocks don't form pairs, so nothing that depends on them is to be believed.
    pub(super) lost_from: Option<usize>,
    /// Whether the text is nested too deep, or has too many slips, to be read at all.
    pub(super) hopeless: bool,
}

/// A slip of the pen.
#[derive(Debug)]
pub(super) struct Slip {
    /// Where, in bytes of the text.
    pub(super) at: usize,
    /// Which.
    pub(super) error: SyntaxError,
}

/// Reads the tokens of a text.
pub(super) struct Scanner<'s> {
    source: Source<'s>,
    pos: usize,
    line: usize,
    indent: usize,
    fresh: bool,
    tokens: Vec<Token>,
    frames: Vec<Frame>,
    nesting: Nesting,
    slips: Vec<Slip>,
    lost_from: Option<usize>,
    /// The first line on which a text without its closing quote swallowed brackets.
    swallowed: Option<usize>,
    /// The blocks whose closing brace stands further in, and further out, than the line that opened them.
    askew: brackets::Askew,
    hopeless: bool,
}

impl<'s> Scanner<'s> {
    /// Reads all of it.
    pub(super) fn scan(source: Source<'s>) -> Scan {
        let mut scanner = Self {
            source,
            pos: 0,
            line: 0,
            indent: 0,
            fresh: true,
            tokens: Vec::new(),
            frames: Vec::new(),
            nesting: Nesting::new(),
            slips: Vec::new(),
            lost_from: None,
            swallowed: None,
            askew: brackets::Askew::default(),
            hopeless: false,
        };
        scanner.check_controls();
        scanner.start_line();
        while let Some(c) = scanner.peek()
            && !scanner.hopeless
        {
            if matches!(scanner.frames.last(), Some(Frame::Text { .. })) { scanner.text_char(c) } else { scanner.code_char(c) }
        }
        scanner.finish()
    }

    fn finish(mut self) -> Scan {
        if !self.hopeless {
            self.end_line();
            self.check_figures(None);
            self.close_all();
        }
        self.slips.sort_by_key(|s| s.at);
        Scan { tokens: self.tokens, slips: self.slips, lost_from: self.lost_from, hopeless: self.hopeless }
    }

    fn code_char(&mut self, c: char) {
        match c {
            '\n' => {
                self.end_line();
                self.pos += 1;
                self.start_line();
            }
            ' ' | '\t' | '\r' => self.pos += 1,
            '/' if self.ahead().starts_with("//") => self.pos = self.source.line_end(self.pos),
            '"' => self.quote(),
            '0'..='9' => self.number(),
            _ if is_letter(c) => self.word(),
            _ => match Bracket::of(c) {
                Some(Kind::Open(bracket)) => self.open_bracket(bracket),
                Some(Kind::Close(bracket)) => self.close_bracket(bracket),
                _ => self.mark(c),
            },
        }
    }

    fn word(&mut self) {
        let start = self.pos;
        let rest = self.ahead();
        self.pos += rest.find(|c| !is_word_part(c)).unwrap_or(rest.len());
        self.push(Kind::Word, start);
        match self.source.slice(start, self.pos) {
            "when" => {
                let chained = self.before(1).is_some_and(|t| t.text(self.source.text) == "else");
                self.nesting.when(chained);
            }
            "then" => self.nesting.then(),
            "else" => self.nesting.otherwise(),
            _ => {}
        }
        self.check_depth(start);
    }

    /// Notes a token from `start` to here, and what it and those before it give away.
    fn push(&mut self, kind: Kind, start: usize) {
        let token = Token { kind, start, end: self.pos, first: self.fresh, line: self.line, indent: self.indent, mate: None };
        self.fresh = false;
        self.check_figures(Some(token));
        self.check_run_on(token);
        self.tokens.push(token);
    }

    /// The `n`th token before the last one noted; `before(0)` is the last itself. Nothing stands before the first of a hole: the
    /// words between two holes, and the quote before the first, keep their figures apart.
    fn before(&self, n: usize) -> Option<&Token> {
        let hole = self.frames.iter().rev().find_map(|f| if let Frame::Hole { index, .. } = f { Some(*index) } else { None });
        self.tokens.len().checked_sub(n + 1).filter(|i| *i >= hole.unwrap_or(0)).and_then(|i| self.tokens.get(i))
    }

    fn peek(&self) -> Option<char> {
        self.ahead().chars().next()
    }

    fn ahead(&self) -> &'s str {
        self.source.rest(self.pos)
    }

    fn start_line(&mut self) {
        self.line = self.pos;
        self.indent = self.ahead().bytes().take_while(|b| matches!(b, b' ' | b'\t')).count();
        self.fresh = true;
    }

    fn check_depth(&mut self, at: usize) {
        if self.nesting.depth() > MAX_NESTING {
            self.hopeless = true;
            let at_span = self.span(at, self.pos);
            self.slip(at, StructureError::NestedTooDeep { at: at_span, most: MAX_NESTING });
        }
    }

    fn span(&self, start: usize, end: usize) -> Span {
        self.source.span(start, end)
    }

    fn slip(&mut self, at: usize, error: impl Into<SyntaxError>) {
        self.slips.push(Slip { at, error: error.into() });
        self.hopeless |= self.slips.len() >= MAX_SLIPS;
    }
}

/// Whether a name may begin with it.
fn is_letter(c: char) -> bool {
    c == '_' || (c.is_alphabetic() && marks::typographic(c).is_none())
}

/// Whether a name may go on with it.
fn is_word_part(c: char) -> bool {
    is_letter(c) || c.is_ascii_digit() || matches!(c, '\u{300}'..='\u{36f}') || (c.is_numeric() && marks::typographic(c).is_none())
}
