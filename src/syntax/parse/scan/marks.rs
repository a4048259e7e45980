//! Marks: those of the language, and those that slip in from a word processor or from habit.

use super::{Kind, Scanner};
use crate::source::Span;
use crate::syntax::error::MarkError;

impl Scanner<'_> {
    /// A character that begins no word, figure, text or bracket.
    pub(super) fn mark(&mut self, c: char) {
        let start = self.pos;
        let two = self.ahead().get(..2).unwrap_or("");
        if self.fresh && two == "--" {
            return self.comment("--");
        }
        match c {
            '=' | '!' | '<' | '>' if matches!(two, "==" | "!=" | "<=" | ">=") => self.pos += 2,
            '=' | '<' | '>' | '+' | '-' | '*' | '/' | '^' | ',' | ':' | '.' | '%' => self.pos += 1,
            '\'' => return self.single_quote(),
            ';' if self.fresh => return self.comment(";"),
            _ => return self.odd_mark(c, two),
        }
        if two == "/*" {
            self.pos = start;
            return self.comment("/*");
        }
        self.push(Kind::Mark, start);
    }

    /// A note that begins as elsewhere.
    fn comment(&mut self, mark: &str) {
        let start = self.pos;
        self.slip_here(start, start + mark.len(), |at| MarkError::CommentMark { at, mark: mark.to_owned() });
        self.pos = self.source.line_end(start);
    }

    /// A mark the language does not have.
    fn odd_mark(&mut self, c: char, two: &str) {
        let start = self.pos;
        self.pos += c.len_utf8();
        if is_control(c) {
            return; // told with those in texts and comments
        }
        let unit = match c {
            '′' | '’' => Some("ft"),
            '″' | '”' => Some("in"),
            _ => None,
        };
        if let Some(unit) = unit
            && let Some(figure) = self.figure_before(start)
        {
            return self.inch_mark(figure, unit);
        }
        if matches!(c, '“' | '”' | '„' | '«' | '»') {
            return self.curly_text(start);
        }
        if c == '°' && self.ahead().starts_with(['C', 'F']) {
            self.pos += 1;
        }
        if let Some(instead) = typographic(c) {
            let found = self.source.slice(start, self.pos).to_owned();
            let instead = self.fitted(&format!("{instead}{}", found.trim_start_matches(c)), start);
            self.slip_here(start, self.pos, |at| MarkError::Typographic { at, found, instead });
            return self.stand_in(c, start);
        }
        match c {
            ';' => self.slip_here(start, self.pos, |at| MarkError::Semicolon { at }),
            '#' => {
                self.pos = start;
                self.comment("#");
            }
            _ => self.unknown_mark(c, two, start),
        }
    }

    fn unknown_mark(&mut self, c: char, two: &str, start: usize) {
        let meant = match two {
            "&&" => Some("and"),
            "||" => Some("or"),
            _ if c == '!' => Some("not"),
            _ => None,
        };
        if matches!(two, "&&" | "||") {
            self.pos = start + 2;
        }
        let mark = self.source.slice(start, self.pos).to_owned();
        self.slip_here(start, self.pos, |at| MarkError::Unknown { at, mark, meant });
        self.push(Kind::Mark, start);
    }

    /// Goes on as if the right mark stood there, so that what follows is read as it was meant.
    fn stand_in(&mut self, c: char, start: usize) {
        match c {
            '−' | '–' | '—' | '×' | '·' | '÷' | '≤' | '≥' | '≠' => self.push(Kind::Mark, start),
            '°' => self.push(Kind::Word, start),
            '½' | '¼' | '¾' | '⅓' | '⅔' | '⅛' | '⅜' | '⅝' | '⅞' => self.push(Kind::Number, start),
            _ => {}
        }
    }

    /// What to write instead: a fraction after a figure takes a blank before it, a degree sign a blank and its unit.
    fn fitted(&self, instead: &str, start: usize) -> String {
        if self.figure_before(start).is_some() && instead.starts_with(|c: char| c.is_ascii_alphanumeric()) && !matches!(instead, "2" | "3")
        {
            format!(" {instead}")
        } else {
            instead.to_owned()
        }
    }

    /// Text between the quotes of a word processor.
    fn curly_text(&mut self, start: usize) {
        let end = self.source.line_end(start);
        let line = self.source.slice(self.pos, end);
        let close = line.char_indices().find(|(_, c)| matches!(c, '“' | '”' | '"' | '«' | '»'));
        let Some((at, quote)) = close else {
            let found = self.source.slice(start, self.pos).to_owned();
            return self.slip_here(start, self.pos, |at| MarkError::Typographic { at, found, instead: "\"".to_owned() });
        };
        let inner = line.get(..at).unwrap_or("").to_owned();
        self.pos += at + quote.len_utf8();
        self.slip_here(start, self.pos, |at| MarkError::CurlyText { at, inner });
        self.push(Kind::Text, start);
    }

    /// `'`: feet after a figure, or a quote that texts don't take.
    fn single_quote(&mut self) {
        let start = self.pos;
        if let Some(figure) = self.figure_before(start) {
            self.pos += 1;
            return self.inch_mark(figure, "ft");
        }
        let line = self.source.slice(start + 1, self.source.line_end(start));
        if let Some(length) = line.find('\'') {
            let inner = line.get(..length).unwrap_or("").to_owned();
            self.pos = start + length + 2;
            self.slip_here(start, self.pos, |at| MarkError::SingleQuotes { at, inner });
            self.push(Kind::Text, start);
        } else {
            self.pos += 1;
            self.slip_here(start, self.pos, |at| MarkError::Unknown { at, mark: "'".to_owned(), meant: None });
        }
    }

    /// Where the figure begins that ends at `at`.
    pub(super) fn figure_before(&self, at: usize) -> Option<usize> {
        self.before(0).filter(|t| t.kind == Kind::Number && t.end == at).map(|t| t.start)
    }

    /// Control characters hide what a text says; they are told wherever they stand.
    pub(super) fn check_controls(&mut self) {
        let text = self.source.text;
        for (at, c) in text.char_indices().filter(|(_, c)| is_control(*c)) {
            if c == '\r' && text.get(at + 1..).is_some_and(|rest| rest.starts_with('\n')) {
                continue;
            }
            if self.hopeless {
                return;
            }
            let span = self.span(at, at + c.len_utf8());
            self.slip(at, MarkError::Control { at: span, which: c });
        }
    }

    fn slip_here(&mut self, start: usize, end: usize, error: impl FnOnce(Span) -> MarkError) {
        let at = self.span(start, end);
        self.slip(start, error(at));
    }
}

/// Whether a character is invisible and changes what is seen; a line break is told apart by the caller.
fn is_control(c: char) -> bool {
    let direction = matches!(c, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    // Unicode's noncharacters: measures in both unit systems stand between three of them until a report is read.
    let inside = matches!(c, '\u{fdd0}'..='\u{fdef}') || u32::from(c) & 0xfffe == 0xfffe;
    (c.is_control() && !matches!(c, '\n' | '\t')) || direction || inside
}

/// What to write instead of a character that a word processor puts in.
pub(super) fn typographic(c: char) -> Option<&'static str> {
    Some(match c {
        '“' | '”' | '„' | '«' | '»' | '″' => "\"",
        '‘' | '’' | '′' => "'",
        '−' | '–' | '—' => "-",
        '×' | '·' => "*",
        '÷' => "/",
        '≤' => "<=",
        '≥' => ">=",
        '≠' => "!=",
        '½' => "1/2",
        '¼' => "1/4",
        '¾' => "3/4",
        '⅓' => "1/3",
        '⅔' => "2/3",
        '⅛' => "1/8",
        '⅜' => "3/8",
        '⅝' => "5/8",
        '⅞' => "7/8",
        '²' => "2",
        '³' => "3",
        '°' => "deg",
        '\u{a0}' | '\u{2007}' | '\u{2009}' | '\u{202f}' => " ",
        '\u{ad}' | '\u{200b}' | '\u{200c}' | '\u{200d}' | '\u{2060}' | '\u{feff}' => "",
        _ => return None,
    })
}
