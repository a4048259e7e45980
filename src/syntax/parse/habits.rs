//! What is told of ways of writing that are right elsewhere.

use super::blame::{Blame, UNITS, unknown};
use super::blocks::{self, Block};
use super::grammar::Rule;
use super::scan::{Kind, Token};
use crate::source::Span;
use crate::syntax::error::{HabitError, MarkError, StatementError, SyntaxError};

/// Statements that give a new thing its name right behind their word.
const NAMED: &[&str] =
    &["design", "material", "cutter", "component", "outline", "finish", "fn", "let", "param", "size", "panel", "attach", "seam", "quilt"];

/// Lengths, from the smallest unit.
const LENGTHS: &[&str] = &["mm", "cm", "in", "ft", "yd", "m"];

/// Words after which a piece and its edge are named.
const BEFORE_EDGE: &[&str] = &["on", "between", "and", "along", "join", "to", "then", "of", ","];

impl Blame<'_> {
    /// A habit from elsewhere; `stopped` is past the end where the statement is cut short.
    pub(super) fn habit(&self, stopped: usize) -> Option<SyntaxError> {
        let token = self.tokens.get(stopped).filter(|_| stopped < self.end);
        let before = stopped.checked_sub(1).filter(|i| *i >= self.from).and_then(|i| self.tokens.get(i));
        if let Some(token) = token {
            let told = self.first_word(stopped, token).or_else(|| self.turned_round(stopped, token));
            let told = told.or_else(|| self.article(stopped).or_else(|| self.sides(stopped)).map(SyntaxError::from));
            let told = told.or_else(|| self.figure(stopped, token).map(SyntaxError::from));
            if told.is_some() {
                return told;
            }
        }
        let before = before?;
        if let Some(token) = token {
            let told = self.and_in_list(before, stopped, token).or_else(|| self.edge(before, stopped, token));
            let told = told
                .or_else(|| self.nameless(before, stopped, token))
                .or_else(|| self.layer(before, token))
                .or_else(|| self.times(before, stopped, token))
                .or_else(|| self.blank(before, stopped, token));
            if told.is_some() {
                return told.map(SyntaxError::from);
            }
        }
        let told = self.cut(stopped).or_else(|| self.stitch(before, stopped));
        told.or_else(|| self.braces(before, token)).or_else(|| self.brackets(before, token)).map(SyntaxError::from)
    }

    fn at(&self, index: usize) -> &str {
        self.tokens.get(index).map_or("", |t| self.text(t))
    }

    fn behind(&self, token: &Token) -> Span {
        self.source.span(token.end, token.end)
    }

    /// What the first word of the statement and the one after it give away.
    fn first_word(&self, stopped: usize, token: &Token) -> Option<SyntaxError> {
        let block = self.block?;
        let first = self.tokens.get(self.from)?;
        let (word, found) = (self.text(first), self.text(token));
        if stopped == self.from && word == "/" {
            return Some(MarkError::CommentMark { at: self.span(first), mark: word.to_owned() }.into());
        }
        let said = [self.from, stopped].into_iter().find(|i| (self.at(*i), self.at(i + 1)) == ("seam", "allowance"));
        if let Some([seam, allowance]) = said.filter(|_| block == Block::Panel).and_then(|i| self.tokens.get(i..i + 2)) {
            let at = self.span(seam).to(self.span(allowance));
            return Some(unknown(at, "seam allowance".to_owned(), block, Some("allow"), false));
        }
        if matches!(block, Block::Design | Block::File) && word == "finish" && matches!(found, "." | "," | "with") {
            let belongs = Block::Panel.place().to_owned();
            let (at, word) = (self.span(first), "finish … with".to_owned());
            return Some(StatementError::Misplaced { at, word, block: block.place(), belongs }.into());
        }
        let needless = |example| Some(HabitError::NeedlessWord { at: self.span(first), word: word.to_owned(), example }.into());
        if block == Block::Seam && word == "finish" && (found == "with" || stopped == self.from) {
            return block.statement("with").and_then(|with| needless(with.example));
        }
        if stopped != self.from + 1 {
            return None;
        }
        if let Some(setting) = block.setting()
            && matches!(word, "param" | "let" | "set")
            && token.kind == Kind::Word
        {
            return needless(setting.example);
        }
        let statement = block.statement(word).filter(|_| matches!(found, "=" | ":"))?;
        let none = !self.wants(Rule::equals) && !self.wants(Rule::colon);
        none.then(|| HabitError::NoEquals { at: self.span(token), found: found.to_owned(), word: statement.word }.into())
    }

    /// What is said of a measure on paper, and of a cut in a pattern's margin.
    fn figure(&self, stopped: usize, token: &Token) -> Option<HabitError> {
        self.full_stop(stopped).or_else(|| self.two_measures(stopped, token)).or_else(|| self.stitches_to_the_inch(stopped)).or_else(|| {
            let on_fold = self.text(token) == "on" && self.at(stopped + 1) == "fold" && self.at(self.from) == "cut";
            let example = self.block.filter(|b| on_fold && *b == Block::Panel)?.statement("place")?.example;
            Some(HabitError::CutOnFold { at: self.span(token).to(self.span(self.tokens.get(stopped + 1)?)), example })
        })
    }

    /// `30 in.`
    fn full_stop(&self, stopped: usize) -> Option<HabitError> {
        let [figure, unit, point] = self.tokens.get(stopped.checked_sub(3)?..stopped)? else { return None };
        let is_stop = figure.kind == Kind::Number && UNITS.contains(&self.text(unit)) && self.text(point) == "." && unit.touches(point);
        is_stop.then(|| HabitError::FullStop { at: self.span(point), unit: self.text(unit).to_owned() })
    }

    /// `1 yd 4 in`
    fn two_measures(&self, stopped: usize, token: &Token) -> Option<HabitError> {
        let size = |unit: &str| LENGTHS.iter().position(|l| *l == unit);
        let ([figure, unit], second) = (self.tokens.get(stopped.checked_sub(2)?..stopped)?, self.tokens.get(stopped + 1)?) else {
            return None;
        };
        let smaller = size(self.text(second))? < size(self.text(unit))?;
        let two = smaller && figure.kind == Kind::Number && token.kind == Kind::Number && token.line == unit.line;
        // `1 1/2 yd`: its figure begins further on the left.
        let is_figure = |t: &&Token| (t.kind == Kind::Number || self.text(t) == "/") && t.line == unit.line;
        let first = self.tokens.get(self.from..stopped - 1)?.iter().rev().take_while(is_figure).last().filter(|_| two)?;
        let corrected = format!("{} + {}", self.source.slice(first.start, unit.end), self.source.slice(token.start, second.end));
        Some(HabitError::TwoMeasures { at: self.source.span(first.start, second.end), corrected })
    }

    /// `8 to the inch`, `8 per inch`
    fn stitches_to_the_inch(&self, stopped: usize) -> Option<HabitError> {
        let line = self.tokens.get(stopped)?.line;
        let from = stopped.saturating_sub(2).max(self.from);
        let figure = (from..stopped).find(|i| {
            let behind = self.at(i + 1);
            self.tokens.get(*i).is_some_and(|t| t.kind == Kind::Number && t.line == line) && matches!(behind, "to" | "per")
        })?;
        let words = self.tokens.get(figure + 2..)?.iter().take(2);
        let inch = words.take_while(|t| t.line == line).find(|t| matches!(self.text(t), "inch" | "in"))?;
        let number = self.tokens.get(figure)?;
        let at = self.source.span(number.start, inch.end);
        Some(HabitError::ToTheInch { at, corrected: format!("1 in / {}", self.text(number)) })
    }

    /// `from the foot`
    fn article(&self, stopped: usize) -> Option<HabitError> {
        let near = [Some(stopped), stopped.checked_sub(1)].into_iter().flatten();
        let index = near.filter(|i| *i > self.from && *i < self.end).find(|i| self.at(*i) == "the")?;
        let the = self.tokens.get(index)?;
        let goes_on = self.tokens.get(index + 1).is_some_and(|t| t.kind == Kind::Word && t.line == the.line);
        let example = self.example().filter(|_| goes_on)?;
        Some(HabitError::NeedlessWord { at: self.span(the), word: self.text(the).to_owned(), example })
    }

    /// `attach ribbon_loop(cut: 8 cm) at …`
    fn nameless(&self, before: &Token, stopped: usize, token: &Token) -> Option<HabitError> {
        let lacks = self.at(self.from) == "attach" && stopped == self.from + 2 && self.text(token) == "(" && self.wants(Rule::equals);
        lacks.then(|| HabitError::AttachWithoutName { at: self.span(before), what: self.text(before).to_owned() })
    }

    /// `right sides together`
    fn sides(&self, stopped: usize) -> Option<HabitError> {
        let corrected = match self.at(stopped) {
            "right" => "faces together",
            "wrong" => "backs together",
            _ => return None,
        };
        let said =
            self.block == Some(Block::Seam) && matches!(self.at(stopped + 1), "side" | "sides") && self.at(stopped + 2) == "together";
        let (first, last) = (self.tokens.get(stopped)?, self.tokens.get(stopped + 2)?);
        said.then(|| HabitError::SidesTogether { at: self.span(first).to(self.span(last)), corrected })
    }

    /// `stack front up`
    fn layer(&self, before: &Token, token: &Token) -> Option<HabitError> {
        let way = self.text(token);
        let stacks = self.block == Some(Block::Seam) && self.at(self.from) == "stack" && matches!(way, "up" | "down");
        let example = self.example().filter(|_| stacks && before.kind == Kind::Word)?;
        let right_before = self.source.span(token.start, token.start);
        Some(HabitError::LayerWithoutFace { at: self.span(token), before: right_before, way: way.to_owned(), example })
    }

    /// `stitch lockstitch`
    fn stitch(&self, before: &Token, stopped: usize) -> Option<HabitError> {
        let lacks = self.at(self.from) == "stitch" && stopped == self.from + 2 && before.kind == Kind::Word;
        let on_line = self.tokens.get(stopped).is_some_and(|t| t.line == before.line && stopped < self.end);
        let example = self.example().filter(|_| lacks && !on_line)?;
        Some(HabitError::StitchWithoutLength { at: self.span(before), example })
    }

    /// `=>`
    fn turned_round(&self, stopped: usize, token: &Token) -> Option<SyntaxError> {
        let next = self.tokens.get(stopped + 1).filter(|n| token.touches(n) && self.text(token) == "=")?;
        let instead = match self.text(next) {
            ">" => ">=",
            "<" => "<=",
            _ => return None,
        };
        let at = self.span(token).to(self.span(next));
        let why = "at least is written `>=`, at most `<=`, as they are said: greater, or equal";
        Some(StatementError::EqualsSign { at, found: format!("={}", self.text(next)), instead, why }.into())
    }

    /// `foot, head and left`, `foot, head, and left`
    fn and_in_list(&self, before: &Token, stopped: usize, token: &Token) -> Option<HabitError> {
        let next = self.tokens.get(stopped + 1)?;
        let and = self.text(token) == "and" && next.kind == Kind::Word && !self.wants(Rule::sum_op);
        let comma = self.text(before) == ",";
        let from = if comma { before.start } else { before.end };
        let listed = and && (comma || self.wants(Rule::comma));
        listed.then(|| HabitError::AndInList { at: self.span(token), between: self.source.span(from, token.end) })
    }

    /// `seat left`, `seat:left`
    fn edge(&self, before: &Token, stopped: usize, token: &Token) -> Option<HabitError> {
        // `cut 2 of skin` names no piece.
        let after_word =
            self.at(self.from) != "cut" && stopped.checked_sub(2).is_some_and(|i| i >= self.from && BEFORE_EDGE.contains(&self.at(i)));
        if !after_word || before.kind != Kind::Word || token.line != before.line || !(self.wants(Rule::member) || self.wants(Rule::dot)) {
            return None;
        }
        let plain = |t: &&Token| t.kind == Kind::Word && !blocks::is_reserved(self.text(t));
        let edge = match self.text(token) {
            ":" | "/" => self.tokens.get(stopped + 1).filter(plain)?,
            _ => Some(token).filter(plain).filter(|_| !matches!(self.at(stopped + 1), "." | "("))?,
        };
        let corrected = format!("{}.{}", self.text(before), self.text(edge));
        Some(HabitError::EdgeWithoutPoint { at: self.span(before).to(self.span(edge)), corrected })
    }

    /// `40 cm x 60 cm`, or `40 x 60 cm`, where the letter has been read as a unit.
    fn times(&self, before: &Token, stopped: usize, token: &Token) -> Option<HabitError> {
        let next = self.tokens.get(stopped + 1).is_some_and(|n| n.kind == Kind::Number);
        let is_times = |t: &Token| matches!(self.text(t), "x" | "X");
        let unit = stopped.checked_sub(2).and_then(|i| self.tokens.get(i)).is_some_and(|t| t.kind == Kind::Number);
        if is_times(token) && next {
            return Some(HabitError::TimesSign { at: self.span(token) });
        }
        (is_times(before) && unit && token.kind == Kind::Number).then(|| HabitError::TimesSign { at: self.span(before) })
    }

    /// `panel back rest "Back rest"`
    fn blank(&self, before: &Token, stopped: usize, token: &Token) -> Option<HabitError> {
        let named = stopped == self.from + 2 && NAMED.contains(&self.at(self.from)) && before.kind == Kind::Word;
        let next = self.tokens.get(stopped + 1)?;
        let is = self.wants(Rule::kw_is);
        let ends = if is { self.text(next) == "is" } else { next.kind == Kind::Text || self.text(next) == "=" };
        let word = token.kind == Kind::Word && token.line == before.line && !blocks::is_reserved(self.text(token));
        (named && ends && word).then(|| HabitError::NameWithBlank {
            at: self.span(before).to(self.span(token)),
            corrected: format!("{}_{}", self.text(before), self.text(token)),
        })
    }

    /// `cut 1 skin`, `cut skin`
    fn cut(&self, stopped: usize) -> Option<HabitError> {
        let block = self.block.filter(|b| *b == Block::Panel && self.at(self.from) == "cut" && self.wants(Rule::kw_of))?;
        let line = self.tokens.get(self.from)?.line;
        if self.tokens.get(stopped).is_some_and(|t| t.line == line) {
            return None;
        }
        let example = block.statement("cut")?.example;
        let second = self.tokens.get(self.from + 1)?;
        match second.kind {
            Kind::Word if stopped == self.from + 2 => Some(HabitError::CutWithoutCount { at: self.span(second), example }),
            Kind::Number if stopped == self.from + 3 => {
                let cloth = self.tokens.get(self.from + 2).filter(|t| t.kind == Kind::Word)?;
                let before = self.source.span(cloth.start, cloth.start);
                Some(HabitError::CutWithoutOf { at: self.span(cloth), before, example })
            }
            _ => None,
        }
    }

    /// `use std.trims.ribbon_loop`
    fn braces(&self, before: &Token, token: Option<&Token>) -> Option<HabitError> {
        let names = self.tokens.get(self.from + 1..self.end)?.iter().take_while(|t| t.line == before.line);
        let points: Vec<&Token> = names.filter(|t| self.text(t) == ".").collect();
        let goes_on = token.is_some_and(|t| t.line == before.line);
        if self.at(self.from) != "use" || !self.wants(Rule::open_brace) || goes_on || points.len() < 2 {
            return None;
        }
        let at = self.source.span(points.last()?.start, before.end);
        Some(HabitError::UseWithoutBraces { at, corrected: format!(" {{ {} }}", self.text(before)) })
    }

    /// `finish head with rolled_hem`
    fn brackets(&self, before: &Token, token: Option<&Token>) -> Option<HabitError> {
        let ends = token.is_none_or(|t| t.line != before.line || blocks::is_reserved(self.text(t)));
        let lacks = (self.wants(Rule::arguments) || self.wants(Rule::open_paren)) && before.kind == Kind::Word && ends;
        let example = self.example().filter(|_| lacks && !blocks::is_reserved(self.text(before)))?;
        Some(HabitError::NoBrackets { at: self.span(before), name: self.text(before).to_owned(), behind: self.behind(before), example })
    }
}
