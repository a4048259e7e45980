//! What all builders share: a cursor over the parts of a match, spans, names and lists of names.

use pest::iterators::{Pair, Pairs};

use super::grammar::Rule;
use crate::diagnostic::Problems;
use crate::source::{FileId, Span};
use crate::syntax::ast::Name;
use crate::syntax::error::{StatementError, SyntaxError};

/// Why a match could not be turned into a tree.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Fault {
    /// The reason has been reported.
    Reported,
    /// The grammar and the builder disagree; where.
    Mismatch(Span),
}

/// A part of the tree, or why there is none.
pub(super) type Built<T> = Result<T, Fault>;

/// Builds the tree from what the grammar matched.
pub(super) struct Builder<'p> {
    /// The file.
    pub(super) file: FileId,
    /// Where the matched slice begins in the file.
    pub(super) base: usize,
    /// Where pitfalls that the grammar cannot see are reported.
    pub(super) problems: &'p mut Problems,
    /// Whether something was reported of what is being built.
    pub(super) flawed: bool,
    /// How deep the expression being built may already be nested.
    pub(super) depth: usize,
}

/// The parts of one match in order, without the fixed words and marks.
pub(super) struct Parts<'i> {
    pairs: Pairs<'i, Rule>,
    /// The whole match.
    pub(super) span: Span,
}

/// Whether a rule is a fixed word or mark: the last section of the grammar.
pub(super) fn is_fixed(rule: Rule) -> bool {
    rule >= Rule::comma
}

impl<'i> Parts<'i> {
    /// Looks at the next part.
    pub(super) fn peek(&mut self) -> Option<Rule> {
        loop {
            let rule = self.pairs.peek()?.as_rule();
            if !is_fixed(rule) {
                return Some(rule);
            }
            self.pairs.next();
        }
    }

    /// The next part, if it is of this rule.
    pub(super) fn maybe(&mut self, rule: Rule) -> Option<Pair<'i, Rule>> {
        if self.peek()? == rule { self.pairs.next() } else { None }
    }

    /// The next part, which must be of this rule.
    pub(super) fn take(&mut self, rule: Rule) -> Built<Pair<'i, Rule>> {
        self.maybe(rule).ok_or(Fault::Mismatch(self.span))
    }

    /// The next part, whatever it is.
    pub(super) fn any(&mut self) -> Built<Pair<'i, Rule>> {
        self.peek();
        self.pairs.next().ok_or(Fault::Mismatch(self.span))
    }
}

impl<'p> Builder<'p> {
    /// A builder for what was matched in a slice that begins at `base` of the file.
    pub(super) fn new(file: FileId, base: usize, problems: &'p mut Problems) -> Self {
        Self { file, base, problems, flawed: false, depth: 0 }
    }

    /// Reports an error.
    pub(super) fn slip(&mut self, error: impl Into<SyntaxError>) {
        self.flawed = true;
        self.problems.push(error.into());
    }

    /// What was built; where nothing was, that is reported unless it has been.
    pub(super) fn report<T>(&mut self, built: Built<T>) -> Option<T> {
        match built {
            Ok(tree) => Some(tree),
            Err(Fault::Reported) => None,
            Err(Fault::Mismatch(at)) => {
                let (expected, found) = (String::new(), "this".to_owned());
                self.slip(StatementError::Expected { at, expected, found, nearest: None, example: None });
                None
            }
        }
    }

    /// The span of a match, without the blanks and comments that trail after an absent last part.
    pub(super) fn span(&self, pair: &Pair<'_, Rule>) -> Span {
        let mut last = pair.clone();
        while let Some(inner) = last.clone().into_inner().next_back() {
            last = inner;
        }
        Span::new(self.file, self.base + pair.as_span().start(), self.base + last.as_span().end())
    }

    /// The parts of a match.
    pub(super) fn parts<'i>(&self, pair: Pair<'i, Rule>) -> Parts<'i> {
        Parts { span: self.span(&pair), pairs: pair.into_inner() }
    }

    /// A match as a name.
    pub(super) fn word(&self, pair: &Pair<'_, Rule>) -> Name {
        Name { text: pair.as_str().to_owned(), span: self.span(pair) }
    }

    /// The next part, a name.
    pub(super) fn name(&self, parts: &mut Parts<'_>) -> Built<Name> {
        Ok(self.word(&parts.take(Rule::name)?))
    }

    /// The next part, if it is a name.
    pub(super) fn maybe_name(&self, parts: &mut Parts<'_>) -> Option<Name> {
        parts.maybe(Rule::name).map(|p| self.word(&p))
    }

    /// The next part, a list of names.
    pub(super) fn names(&self, parts: &mut Parts<'_>) -> Built<Vec<Name>> {
        let list = parts.take(Rule::names)?;
        Ok(self.all_names(&mut self.parts(list)))
    }

    /// The next part, if it is a list of names; empty when it is not.
    pub(super) fn maybe_names(&self, parts: &mut Parts<'_>) -> Vec<Name> {
        parts.maybe(Rule::names).map_or_else(Vec::new, |list| self.all_names(&mut self.parts(list)))
    }

    /// All names that follow.
    pub(super) fn all_names(&self, parts: &mut Parts<'_>) -> Vec<Name> {
        std::iter::from_fn(|| self.maybe_name(parts)).collect()
    }

    /// Builds every following part of one rule.
    pub(super) fn all<'i, T>(
        &mut self,
        parts: &mut Parts<'i>,
        rule: Rule,
        build: impl Fn(&mut Self, Pair<'i, Rule>) -> Built<T>,
    ) -> Built<Vec<T>> {
        let mut list = Vec::new();
        while let Some(pair) = parts.maybe(rule) {
            list.push(build(self, pair)?);
        }
        Ok(list)
    }

    /// Builds the next part of a rule.
    pub(super) fn one<'i, T>(
        &mut self,
        parts: &mut Parts<'i>,
        rule: Rule,
        build: impl Fn(&mut Self, Pair<'i, Rule>) -> Built<T>,
    ) -> Built<T> {
        let pair = parts.take(rule)?;
        build(self, pair)
    }
}
