//! From where the grammar stopped to what the maker most likely did.

use super::blocks::{self, Block, Statement};
use super::grammar::Rule;
use super::scan::{Bracket, Kind, Token};
use super::source::Source;
use super::wording;
use crate::source::Span;
use crate::syntax::error::{FigureError, StatementError, StructureError, SyntaxError};

/// Where the grammar stopped, and what it would have taken there.
#[derive(Debug, Clone)]
pub(super) struct Failure {
    /// In bytes of the text.
    pub(super) at: usize,
    /// The rules tried there.
    pub(super) expected: Vec<Rule>,
}

/// A statement that could not be read, and what is known of it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Blame<'b> {
    /// The text.
    pub(super) source: Source<'b>,
    /// Its tokens.
    pub(super) tokens: &'b [Token],
    /// The kind of block it stands in; none for a lone value.
    pub(super) block: Option<Block>,
    /// The first token of the statement.
    pub(super) from: usize,
    /// One past its last token.
    pub(super) end: usize,
    /// Where and why it stopped.
    pub(super) failure: &'b Failure,
}

/// Units a maker may put on the next line.
pub(super) const UNITS: &[&str] = &["mm", "cm", "m", "in", "ft", "yd", "g", "kg", "oz", "deg", "degC"];

/// Words after which a name of the maker's own choice follows.
const NAMING: &[&str] = &[
    "design",
    "material",
    "cutter",
    "component",
    "outline",
    "finish",
    "fn",
    "let",
    "param",
    "size",
    "panel",
    "attach",
    "seam",
    "quilt",
    "step",
    "edge",
    "hole",
    "add",
    "keep",
    "remove",
    "point",
    "line",
    "rename",
    "to",
    "as",
    "pair",
];

impl<'b> Blame<'b> {
    /// What to tell.
    pub(super) fn error(&self) -> SyntaxError {
        let stopped = self.tokens.partition_point(|t| t.end <= self.failure.at);
        let Some(token) = self.tokens.get(stopped).filter(|_| stopped < self.end).copied() else {
            return self.habit(self.end).unwrap_or_else(|| self.cut_short());
        };
        let before = stopped.checked_sub(1).filter(|i| *i >= self.from).and_then(|i| self.tokens.get(i)).copied();
        self.unit_below(stopped, &token)
            .or_else(|| self.panels_cut(&token))
            .or_else(|| self.habit(stopped))
            .or_else(|| self.misspelt_beside_settings(stopped))
            .or_else(|| self.unknown_line(stopped, &token))
            .or_else(|| before.and_then(|b| self.after(b, stopped, &token)))
            .unwrap_or_else(|| self.plain(&token, before))
    }

    /// What a token and the one before it give away together.
    fn after(&self, before: Token, stopped: usize, token: &Token) -> Option<SyntaxError> {
        self.equals(before, stopped, token)
            .or_else(|| self.bad_name(before, stopped, token))
            .or_else(|| self.unit_word(before, stopped, token))
            .or_else(|| self.commas(before, stopped, token))
            .or_else(|| self.quotes(stopped, token))
            .or_else(|| self.brace(before, stopped, token))
            .or_else(|| self.comparison(token))
    }

    pub(super) fn wants(&self, rule: Rule) -> bool {
        self.failure.expected.contains(&rule)
    }

    fn wants_value(&self) -> bool {
        wording::is_value(&self.failure.expected)
    }

    fn wants_text(&self) -> bool {
        self.wants(Rule::text) || self.wants(Rule::quote)
    }

    pub(super) fn text(&self, token: &Token) -> &'b str {
        token.text(self.source.text)
    }

    pub(super) fn span(&self, token: &Token) -> Span {
        self.source.span(token.start, token.end)
    }

    /// The statement being read.
    fn statement(&self) -> Option<Statement> {
        let block = self.block?;
        let begins = self.tokens.get(self.from).and_then(|t| block.statement(self.text(t)));
        begins.or_else(|| block.setting())
    }

    pub(super) fn example(&self) -> Option<&'static str> {
        let first = self.tokens.get(self.from).map(|t| self.text(t));
        let traced = self.tokens.get(self.from + 1).is_some_and(|t| self.text(t) == "traced");
        if self.block == Some(Block::Panel) && first == Some("shape") && traced {
            return Some(blocks::TRACED);
        }
        self.statement().map(|s| s.example)
    }

    /// The statement ends before it is complete.
    fn cut_short(&self) -> SyntaxError {
        let last = self.end.checked_sub(1).and_then(|i| self.tokens.get(i)).copied();
        let next = self.tokens.get(self.end).copied();
        let end = last.map_or(0, |t| t.end);
        if let (Some(last), Some(next)) = (last, next)
            && self.wants(Rule::open_brace)
            && let Some(error) = self.brace(last, self.end, &next)
        {
            return error;
        }
        if let Some(comma) = last
            && self.text(&comma) == ","
        {
            let found = next.map_or_else(|| "the end of the file".to_owned(), |t| wording::found(&t, self.source.text));
            return StatementError::ExtraComma { at: self.span(&comma), found }.into();
        }
        let same_line = next.zip(last).filter(|(n, l)| n.line == l.line).map(|(n, _)| n);
        let (at, found) = match same_line {
            Some(token) => (self.span(&token), wording::found(&token, self.source.text)),
            None if self.block.is_none() => (self.source.span(end, end), "the end of the value".to_owned()),
            None => (self.source.span(end, end), "the end of the line".to_owned()),
        };
        let expected = self.expected(last, false);
        StatementError::Expected { at, expected, found, nearest: None, example: self.example() }.into()
    }

    /// What was expected after a token, in words.
    fn expected(&self, after: Option<Token>, sign: bool) -> String {
        wording::expected(&self.failure.expected, after.map_or("", |t| self.text(&t)), sign)
    }

    /// Whether a value may begin with this token.
    fn is_operand(&self, token: &Token) -> bool {
        match token.kind {
            Kind::Word => !blocks::is_reserved(self.text(token)),
            Kind::Number | Kind::Text => true,
            Kind::Open(_) | Kind::Close(_) | Kind::Mark => false,
        }
    }

    /// A unit that begins the line after its figure.
    fn unit_below(&self, stopped: usize, token: &Token) -> Option<SyntaxError> {
        let figure = stopped.checked_sub(1).and_then(|i| self.tokens.get(i))?;
        let fits = token.first && figure.kind == Kind::Number && UNITS.contains(&self.text(token));
        fits.then(|| {
            let corrected = format!("{} {}", self.text(figure), self.text(token));
            FigureError::UnitOnNextLine { figure: self.span(figure), unit: self.span(token), corrected }.into()
        })
    }

    /// `cut 2 of skin` in a design, where `cut` sends cloth to a cutter.
    fn panels_cut(&self, token: &Token) -> Option<SyntaxError> {
        let first = self.tokens.get(self.from).filter(|_| self.block == Some(Block::Design))?;
        let panels = self.text(first) == "cut" && matches!(self.text(token), "of" | "mirrored");
        panels.then(|| {
            let (word, belongs) = (format!("cut … {}", self.text(token)), Block::Panel.place().to_owned());
            StatementError::Misplaced { at: self.span(first), word, block: Block::Design.place(), belongs }.into()
        })
    }

    /// A statement misspelt in a block that holds settings as well, read as the name of one.
    fn misspelt_beside_settings(&self, stopped: usize) -> Option<SyntaxError> {
        let block = self.block.filter(|b| b.setting().is_some())?;
        let first = self.tokens.get(self.from).filter(|_| stopped == self.from + 1 && self.wants(Rule::equals))?;
        let word = self.text(first).to_owned();
        let nearest = block.nearest(&word)?;
        Some(unknown(self.span(first), word, block, Some(nearest), false))
    }

    /// A line that begins with no statement of its block, after one that is complete.
    fn unknown_line(&self, stopped: usize, token: &Token) -> Option<SyntaxError> {
        let block = self.block.filter(|b| b.setting().is_none())?;
        let word = self.text(token);
        // On the line of the statement before it only what certainly begins another.
        let begins = token.first || block.knows_elsewhere(word);
        let complete = stopped == self.from || (begins && self.wants(Rule::EOI));
        if !complete || token.kind != Kind::Word || block.statement(word).is_some() {
            return None;
        }
        let at = self.span(token);
        if word == "else" {
            return Some(StructureError::StrayElse { at }.into());
        }
        if blocks::is_reserved(word) {
            return None;
        }
        let word = word.to_owned();
        let names = self.tokens.get(stopped + 1).is_some_and(|t| self.text(t) == "=") && block.statement("let").is_some();
        let homes: Vec<String> = blocks::ALL.iter().filter(|b| b.statement(&word).is_some()).map(|b| b.place().to_owned()).collect();
        if !homes.is_empty() && !names {
            return Some(StatementError::Misplaced { at, word, block: block.place(), belongs: wording::join(&homes) }.into());
        }
        let near = block.nearest(&word);
        Some(unknown(at, word, block, near, names))
    }

    /// `=`, `==` and `:` for one another, or none where there should be one.
    fn equals(&self, before: Token, stopped: usize, token: &Token) -> Option<SyntaxError> {
        const NAMES: &str = "a name takes its value with `=`; `==` asks whether two things are the same";
        const ASKS: &str = "`==` asks whether two things are the same; `=` gives a name its value";
        const ARGUMENTS: &str = "in the brackets of a call a value is given to a name with `:`, as in f(width: 3 cm)";
        let found = self.text(token);
        let at = self.span(token);
        let sign = |instead, why| Some(StatementError::EqualsSign { at, found: found.to_owned(), instead, why }.into());
        let kind = self.tokens.get(stopped + 1).filter(|t| t.kind == Kind::Word);
        let value = self.tokens.get(stopped + 2).is_some_and(|t| self.text(t) == "=");
        if let (":", true, true, Some(kind)) = (found, self.wants(Rule::equals), value, kind) {
            let at = at.to(self.span(kind));
            return Some(StatementError::KindNotSaid { at, kind: self.text(kind).to_owned() }.into());
        }
        if self.wants(Rule::equals) && matches!(found, "==" | ":") {
            return sign("=", NAMES);
        }
        if found == "=" && self.wants(Rule::colon) {
            return sign(":", ARGUMENTS);
        }
        if found == "=" && self.wants(Rule::compare_op) && before.kind == Kind::Word {
            let figure =
                stopped.checked_sub(2).and_then(|i| self.tokens.get(i)).filter(|f| f.kind == Kind::Number && f.line == before.line);
            if let Some(figure) = figure {
                return Some(self.word_as_unit(figure, &before));
            }
        }
        if found == "=" && self.wants(Rule::compare_op) {
            return sign("==", ASKS);
        }
        let alone = self.wants(Rule::equals) && !self.wants(Rule::comma) && before.kind == Kind::Word;
        if !alone || self.is_hyphen(before, stopped, token) {
            return None;
        }
        Some(StatementError::MissingEquals { at, name: self.text(&before).to_owned(), example: self.example() }.into())
    }

    fn is_hyphen(&self, before: Token, stopped: usize, token: &Token) -> bool {
        let next = self.tokens.get(stopped + 1);
        self.text(token) == "-"
            && before.kind == Kind::Word
            && before.touches(token)
            && next.is_some_and(|n| matches!(n.kind, Kind::Word | Kind::Number) && token.touches(n))
    }

    /// A name with a hyphen, one that begins with a figure, or one that is reserved.
    fn bad_name(&self, before: Token, stopped: usize, token: &Token) -> Option<SyntaxError> {
        if self.is_hyphen(before, stopped, token) && !self.wants(Rule::sum_op) {
            let end = self.word_end(stopped);
            let corrected = self.source.slice(before.start, end).replace('-', "_");
            return Some(StatementError::NameWithHyphen { at: self.source.span(before.start, end), corrected }.into());
        }
        let name = [Rule::name, Rule::names, Rule::imported, Rule::parameter].iter().any(|r| self.wants(*r));
        if !name || self.wants_value() {
            return None;
        }
        if token.kind == Kind::Number && self.tokens.get(stopped + 1).is_some_and(|n| n.kind == Kind::Word && token.touches(n)) {
            let end = self.word_end(stopped);
            let written = self.source.slice(token.start, end).to_owned();
            let corrected = figure_behind(&written);
            return Some(StatementError::NameStartsWithFigure { at: self.source.span(token.start, end), written, corrected }.into());
        }
        let word = self.text(token);
        // A word that the statement has anyway is in its place, and the name before it is missing.
        let own = self.example().is_some_and(|e| e.split(' ').any(|w| w == word));
        let names = NAMING.contains(&self.text(&before)) && blocks::is_reserved(word) && token.line == before.line && !own;
        names.then(|| StatementError::ReservedWord { at: self.span(token), word: self.text(token).to_owned() }.into())
    }

    /// Where the words end that are joined without blanks from this token on.
    fn word_end(&self, from: usize) -> usize {
        let mut end = self.tokens.get(from).map_or(0, |t| t.end);
        for token in self.tokens.iter().skip(from + 1) {
            let joins = matches!(token.kind, Kind::Word | Kind::Number) || self.text(token) == "-";
            if token.start != end || !joins {
                break;
            }
            end = token.end;
        }
        end
    }

    /// `wide 2 deep 8 cm`: the word that was expected has been read as the unit of the figure before it; or nearly that word, as in `cut 1 off skin`.
    fn unit_word(&self, before: Token, stopped: usize, token: &Token) -> Option<SyntaxError> {
        let word = self.text(&before);
        let figure = stopped.checked_sub(2).and_then(|i| self.tokens.get(i))?;
        if figure.kind != Kind::Number || before.kind != Kind::Word || self.text(token) == word {
            return None;
        }
        if figure.line == before.line && !UNITS.contains(&word) && self.block.is_some_and(|b| b.statement(word).is_some()) {
            return Some(self.word_as_unit(figure, &before));
        }
        let near = self.near(&before)?;
        if near != word && !UNITS.contains(&word) {
            let found = wording::found(&before, self.source.text);
            let expected = self.expected(Some(*figure), false);
            return Some(
                StatementError::Expected { at: self.span(&before), expected, found, nearest: Some(near), example: self.example() }.into(),
            );
        }
        if near != word {
            return None;
        }
        let written = self.text(figure).to_owned();
        Some(
            FigureError::KeywordReadAsUnit { figure: self.span(figure), word: self.span(&before), written, keyword: word.to_owned() }
                .into(),
        )
    }

    /// A word that begins something new, read as the unit of the figure before it.
    fn word_as_unit(&self, figure: &Token, word: &Token) -> SyntaxError {
        let written = self.text(figure).to_owned();
        FigureError::WordReadAsUnit { figure: self.span(figure), word: self.span(word), written, read: self.text(word).to_owned() }.into()
    }

    /// A comma too many, or too few.
    fn commas(&self, before: Token, stopped: usize, token: &Token) -> Option<SyntaxError> {
        if self.text(&before) == "," && !self.wants(Rule::EOI) {
            let found = wording::found(token, self.source.text);
            return Some(StatementError::ExtraComma { at: self.span(&before), found }.into());
        }
        if !self.wants(Rule::comma) || !self.is_operand(token) || self.near(token).is_some() {
            return None;
        }
        let closes = [Rule::close_paren, Rule::close_bracket, Rule::close_brace];
        let bracketed = closes.iter().any(|r| self.wants(*r));
        let line = token.line == before.line;
        let listed = match token.kind {
            Kind::Word => line && (self.wants(Rule::EOI) || self.only_comma() || self.goes_on(stopped)),
            _ => line && token.kind == Kind::Number,
        };
        (bracketed || listed).then(|| {
            let between = self.source.span(before.end, before.end);
            StatementError::MissingComma { at: self.span(token), between }.into()
        })
    }

    fn only_comma(&self) -> bool {
        self.failure.expected.iter().all(|r| *r == Rule::comma || wording::is_operator(*r))
    }

    /// Whether a word follows further on that could have followed here.
    fn goes_on(&self, stopped: usize) -> bool {
        let later = self.tokens.get(stopped + 1..self.end).unwrap_or(&[]);
        let words = |rule: &Rule| match rule {
            Rule::places => vec!["at", "spaced"],
            Rule::attach_edges_on => vec!["on", "between"],
            other => wording::keyword(*other).into_iter().collect(),
        };
        let expected: Vec<&str> = self.failure.expected.iter().flat_map(words).collect();
        later.iter().any(|t| expected.contains(&self.text(t)))
    }

    /// Words where a text belongs.
    fn quotes(&self, stopped: usize, token: &Token) -> Option<SyntaxError> {
        if token.kind != Kind::Word
            || !self.wants_text()
            || self.wants_value()
            || self.wants(Rule::EOI)
            || token.first
            || self.near(token).is_some()
        {
            return None;
        }
        if self.begins_inside(stopped) {
            return None;
        }
        let line = self.tokens.get(stopped..self.end)?.iter().take_while(|t| t.line == token.line);
        let opens = |t: &&Token| matches!(t.kind, Kind::Open(Bracket::Brace) | Kind::Close(Bracket::Brace) | Kind::Text);
        if self.wants(Rule::open_brace) && !line.clone().any(|t| opens(&t)) {
            return None;
        }
        let end = line.take_while(|t| !opens(t)).last()?.end;
        let corrected = format!("\"{}\"", self.source.slice(token.start, end));
        Some(StatementError::TextNeedsQuotes { at: self.source.span(token.start, end), corrected }.into())
    }

    /// A block that lacks its opening brace: the next line begins where it belongs.
    fn brace(&self, before: Token, stopped: usize, token: &Token) -> Option<SyntaxError> {
        let missing = self.wants(Rule::open_brace) && (token.line != before.line || self.begins_inside(stopped));
        let example = self.example()?;
        missing.then(|| StructureError::MissingBrace { at: self.source.span(before.end, before.end), example }.into())
    }

    /// Whether a token begins what the block would hold that the statement opens.
    fn begins_inside(&self, at: usize) -> bool {
        let (Some(block), Some(first), Some(token)) = (self.block, self.tokens.get(self.from), self.tokens.get(at)) else { return false };
        let Some(inside) = block.inside(self.text(first)) else { return false };
        let setting = inside.setting().is_some() && self.tokens.get(at + 1).is_some_and(|t| self.text(t) == "=");
        setting || inside.statement(self.text(token)).is_some()
    }

    /// `a < b < c`
    fn comparison(&self, token: &Token) -> Option<SyntaxError> {
        let compares = matches!(self.text(token), "<" | ">" | "<=" | ">=" | "==" | "!=");
        let value = self.wants(Rule::sum_op) && !self.wants(Rule::compare_op);
        (compares && value).then(|| StatementError::ChainedComparison { at: self.span(token) }.into())
    }

    /// The expected keyword that a word nearly is.
    fn near(&self, token: &Token) -> Option<&'static str> {
        if token.kind != Kind::Word || blocks::is_reserved(self.text(token)) {
            return None;
        }
        let words = self.failure.expected.iter().filter_map(|r| wording::keyword(*r));
        blocks::near(self.text(token), words)
    }

    /// What was expected and what was found.
    fn plain(&self, token: &Token, before: Option<Token>) -> SyntaxError {
        let expected = self.expected(before, !token.first && self.is_operand(token));
        let incomplete = token.first && !self.wants(Rule::EOI);
        let (at, found) = match before {
            Some(before) if incomplete && before.line != token.line => (
                self.source.span(before.end, before.end),
                format!("the end of the line, and then {}", wording::found(token, self.source.text)),
            ),
            _ => (self.span(token), wording::found(token, self.source.text)),
        };
        let nearest = self.near(token);
        StatementError::Expected { at, expected, found, nearest, example: self.example() }.into()
    }
}

/// A line that begins with no statement of its block.
pub(super) fn unknown(at: Span, word: String, block: Block, nearest: Option<&'static str>, names: bool) -> SyntaxError {
    let example = nearest.and_then(|n| block.statement(n)).map(|s| s.example);
    StatementError::Unknown { at, word, block: block.place(), nearest, example, names, may: block.words() }.into()
}

/// `2nd_layer` as `layer_2`.
fn figure_behind(written: &str) -> String {
    let letters = written.trim_start_matches(|c: char| c.is_ascii_digit() || c == '.');
    let figure = written.get(..written.len() - letters.len()).unwrap_or("").replace('.', "_");
    let rest =
        ["st", "nd", "rd", "th"].iter().find_map(|ending| letters.strip_prefix(ending).filter(|r| r.is_empty() || r.starts_with('_')));
    let name = rest.unwrap_or(letters).trim_matches('_').replace('-', "_");
    if name.is_empty() { format!("no_{figure}") } else { format!("{name}_{figure}") }
}
