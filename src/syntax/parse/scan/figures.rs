//! Figures: numbers, and the ways of writing a measure that mean something else here than on paper.

use super::{Kind, Scanner, Token};
use crate::syntax::error::FigureError;
use crate::syntax::parse::blocks;

impl Scanner<'_> {
    /// `12`, `0.6`; or `5.`, which lacks something.
    pub(super) fn number(&mut self) {
        let start = self.pos;
        self.digits();
        if self.ahead().starts_with("..") {
            self.push(Kind::Number, start);
            let dots = self.pos;
            self.pos += self.ahead().bytes().take_while(|b| *b == b'.').count();
            let at = self.span(start, self.pos);
            self.slip(start, FigureError::Dots { at });
            return self.push(Kind::Mark, dots);
        } else if self.ahead().starts_with('.') {
            let after = self.ahead().chars().nth(1);
            if after.is_some_and(|c| c.is_ascii_digit()) {
                self.pos += 1;
                self.digits();
            } else {
                let corrected = self.source.slice(start, self.pos).to_owned();
                self.pos += 1;
                let at = self.span(start, self.pos);
                self.slip(start, FigureError::UnfinishedDecimal { at, corrected });
            }
        }
        self.push(Kind::Number, start);
    }

    fn digits(&mut self) {
        let rest = self.ahead();
        self.pos += rest.find(|c: char| !c.is_ascii_digit()).unwrap_or(rest.len());
    }

    /// What `next`, or the end of the text, shows of the figures before it.
    pub(super) fn check_figures(&mut self, next: Option<Token>) {
        let Some(last) = self.before(0).copied() else { return };
        if last.kind != Kind::Number {
            return;
        }
        let mark = self.before(1).copied().filter(|t| t.kind == Kind::Mark && t.touches(&last));
        match mark.map_or("", |m| m.text(self.source.text)) {
            "," => self.decimal_comma(last, next),
            "." => self.bare_point(last),
            "/" => self.fraction(last, next),
            "-" => self.hyphenated_feet(last),
            _ => {}
        }
        if let Some(next) = next
            && next.kind == Kind::Number
            && next.line == last.line
        {
            self.two_numbers(last, next);
        }
    }

    /// `0,6`
    fn decimal_comma(&mut self, last: Token, next: Option<Token>) {
        let (Some(comma), Some(whole)) = (self.before(1).copied(), self.before(2).copied()) else { return };
        if whole.kind != Kind::Number || !whole.touches(&comma) {
            return;
        }
        let decimal = format!("{}.{}", whole.text(self.source.text), last.text(self.source.text));
        let list = self.in_list() || next.is_none_or(|n| !self.is_unit(last, n));
        let at = self.span(whole.start, last.end);
        self.slip(whole.start, FigureError::DecimalComma { at, decimal, list });
    }

    /// `.6`, with nothing before the point.
    fn bare_point(&mut self, last: Token) {
        let Some(point) = self.before(1).copied() else { return };
        let attached = self.before(2).is_some_and(|t| t.touches(&point));
        if !attached {
            let corrected = format!("0.{}", last.text(self.source.text));
            let at = self.span(point.start, last.end);
            self.slip(point.start, FigureError::UnfinishedDecimal { at, corrected });
        }
    }

    /// `1/2`, perhaps of `1 1/2` or `1-1/2`.
    fn fraction(&mut self, last: Token, next: Option<Token>) {
        let (Some(slash), Some(upper)) = (self.before(1).copied(), self.before(2).copied()) else { return };
        if upper.kind != Kind::Number || !upper.touches(&slash) {
            return;
        }
        let Some(before) = self.before(3).copied() else { return };
        let united = next.is_some_and(|n| self.is_unit(last, n));
        if before.kind == Kind::Number && before.line == last.line && !united {
            let at = self.span(before.start, last.end);
            let written = self.source.slice(before.start, last.end).to_owned();
            self.slip(before.start, FigureError::FractionWithoutUnit { at, written });
        } else if before.text(self.source.text) == "-" && before.touches(&upper) && united {
            let whole = self.before(4).copied().filter(|w| w.kind == Kind::Number && w.touches(&before));
            if let Some(whole) = whole {
                self.hyphen(whole, before, last);
            }
        }
    }

    /// `5 ft-10`
    fn hyphenated_feet(&mut self, last: Token) {
        let (Some(hyphen), Some(feet)) = (self.before(1).copied(), self.before(2).copied()) else { return };
        let Some(whole) = self.before(3).copied() else { return };
        if feet.text(self.source.text) == "ft" && feet.touches(&hyphen) && whole.kind == Kind::Number {
            self.hyphen(whole, hyphen, last);
        }
    }

    fn hyphen(&mut self, whole: Token, hyphen: Token, last: Token) {
        let source = self.source;
        let corrected = format!("{} {}", source.slice(whole.start, hyphen.start), source.slice(hyphen.end, last.end));
        let at = self.span(whole.start, last.end);
        self.slip(whole.start, FigureError::HyphenInMeasure { at, corrected });
    }

    /// `1 000`; `1 1/2` is one figure and is told by what follows it.
    fn two_numbers(&mut self, first: Token, second: Token) {
        if self.source.rest(second.end).starts_with('/')
            || self.before(1).is_some_and(|t| t.touches(&first) && t.text(self.source.text) == "/")
        {
            return;
        }
        let (a, b) = (first.text(self.source.text), second.text(self.source.text));
        if !a.is_ascii() || !b.is_ascii() {
            return; // a fraction character, told as such
        }
        let joined = (b.len() == 3 && !a.contains('.')).then(|| format!("{a}{b}"));
        let at = self.span(first.start, second.end);
        self.slip(first.start, FigureError::TwoNumbers { at, first: a.to_owned(), second: b.to_owned(), joined });
    }

    fn in_list(&self) -> bool {
        matches!(self.frames.last(), Some(super::Frame::Bracket(super::Bracket::Round | super::Bracket::Square, _)))
    }

    /// Whether a word is the unit of the figure before it.
    fn is_unit(&self, figure: Token, word: Token) -> bool {
        let text = word.text(self.source.text);
        figure.line == word.line && (text == "%" || (word.kind == Kind::Word && !blocks::is_reserved(text)))
    }
}
