//! The words, figures and marks of a source text, as seen without knowing what they mean.

/// What a token is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::syntax::parse) enum Kind {
    /// A name, a keyword or a unit.
    Word,
    /// `12` or `0.6`.
    Number,
    /// Quoted text with its quotes and holes.
    Text,
    /// An opening bracket.
    Open(Bracket),
    /// A closing bracket.
    Close(Bracket),
    /// Any other mark.
    Mark,
}

/// The brackets that stand in pairs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::syntax::parse) enum Bracket {
    /// `( )`
    Round,
    /// `[ ]`
    Square,
    /// `{ }`
    Brace,
}

impl Bracket {
    /// The bracket a character opens or closes.
    pub(in crate::syntax::parse) fn of(c: char) -> Option<Kind> {
        Some(match c {
            '(' => Kind::Open(Self::Round),
            '[' => Kind::Open(Self::Square),
            '{' => Kind::Open(Self::Brace),
            ')' => Kind::Close(Self::Round),
            ']' => Kind::Close(Self::Square),
            '}' => Kind::Close(Self::Brace),
            _ => return None,
        })
    }

    /// The mark that opens it.
    pub(in crate::syntax::parse) fn opening(self) -> &'static str {
        match self {
            Self::Round => "(",
            Self::Square => "[",
            Self::Brace => "{",
        }
    }

    /// The mark that closes it.
    pub(in crate::syntax::parse) fn closing(self) -> &'static str {
        match self {
            Self::Round => ")",
            Self::Square => "]",
            Self::Brace => "}",
        }
    }
}

/// One token, and where it stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::syntax::parse) struct Token {
    /// What it is.
    pub(in crate::syntax::parse) kind: Kind,
    /// First byte.
    pub(in crate::syntax::parse) start: usize,
    /// One past the last byte.
    pub(in crate::syntax::parse) end: usize,
    /// Whether nothing but blanks stands before it on its line.
    pub(in crate::syntax::parse) first: bool,
    /// Where its line begins.
    pub(in crate::syntax::parse) line: usize,
    /// How many blanks its line begins with.
    pub(in crate::syntax::parse) indent: usize,
    /// For a bracket, the index of the token that it forms a pair with.
    pub(in crate::syntax::parse) mate: Option<usize>,
}

impl Token {
    /// The token's text.
    pub(in crate::syntax::parse) fn text<'t>(&self, source: &'t str) -> &'t str {
        source.get(self.start..self.end).unwrap_or("")
    }

    /// Whether `next` follows with nothing between.
    pub(in crate::syntax::parse) fn touches(&self, next: &Self) -> bool {
        self.end == next.start
    }
}
