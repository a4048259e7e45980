//! Section 3: expressions, and the quantities and text they are made of.

use std::sync::LazyLock;

use pest::iterators::Pair;
use pest::pratt_parser::{Assoc, Op, PrattParser};

use super::builder::{Builder, Built, Fault, Parts};
use super::grammar::Rule;
use crate::syntax::ast::{Argument, Arguments, BinaryOp, Expr, ExprKind, TextLiteral, TextPart};
use crate::syntax::error::{FigureError, StructureError};

/// How many operators may lie one behind the other, counted along all that encloses them.
const MAX_LINKS: usize = 200;

/// The largest figure.
const MAX_FIGURE: f64 = 1e12;

/// The largest power.
const MAX_POWER: u8 = 9;

/// How operators bind, from the loosest to the tightest: the same steps as in the grammar.
static BINDING: LazyLock<PrattParser<Rule>> = LazyLock::new(|| {
    PrattParser::new()
        .op(Op::infix(Rule::or_op, Assoc::Left))
        .op(Op::infix(Rule::and_op, Assoc::Left))
        .op(Op::prefix(Rule::not_op))
        .op(Op::infix(Rule::compare_op, Assoc::Left))
        .op(Op::infix(Rule::sum_op, Assoc::Left))
        .op(Op::infix(Rule::product_op, Assoc::Left))
        .op(Op::prefix(Rule::minus_op))
        .op(Op::postfix(Rule::exponent))
        .op(Op::postfix(Rule::member))
});

impl<'i> Builder<'_> {
    /// The next part, an expression.
    pub(super) fn expr(&mut self, parts: &mut Parts<'i>) -> Built<Expr> {
        self.one(parts, Rule::expr, Self::build_expr)
    }

    /// The next part, if it is an expression.
    pub(super) fn maybe_expr(&mut self, parts: &mut Parts<'i>) -> Built<Option<Expr>> {
        parts.maybe(Rule::expr).map(|p| self.build_expr(p)).transpose()
    }

    /// All expressions that follow.
    pub(super) fn all_exprs(&mut self, parts: &mut Parts<'i>) -> Built<Vec<Expr>> {
        self.all(parts, Rule::expr, Self::build_expr)
    }

    /// An `expr`: operands and operators in a row, grouped by how they bind.
    pub(super) fn build_expr(&mut self, pair: Pair<'i, Rule>) -> Built<Expr> {
        let at = self.span(&pair);
        let row = pair.into_inner();
        let links = row.clone().filter(|p| is_operator(p.as_rule())).count();
        self.depth += links;
        let built = if self.depth > MAX_LINKS {
            self.slip(StructureError::ExpressionTooLong { at, count: self.depth, most: MAX_LINKS });
            Err(Fault::Reported)
        } else {
            self.build_row(row)
        };
        self.depth -= links;
        built
    }

    fn build_row(&mut self, row: pest::iterators::Pairs<'i, Rule>) -> Built<Expr> {
        let this = std::cell::RefCell::new(self);
        BINDING
            .map_primary(|operand| this.borrow_mut().operand(operand))
            .map_prefix(|op, of| this.borrow().prefix(&op, of?))
            .map_postfix(|of, op| this.borrow_mut().postfix(of?, op))
            .map_infix(|left, op, right| this.borrow().infix(left?, &op, right?))
            .parse(row)
    }

    fn operand(&mut self, pair: Pair<'i, Rule>) -> Built<Expr> {
        let span = self.span(&pair);
        let kind = match pair.as_rule() {
            Rule::number => ExprKind::Number(self.figure(&pair)),
            Rule::quantity => self.quantity(pair)?,
            Rule::feet_inches => self.feet_inches(pair)?,
            Rule::text => ExprKind::Text(self.build_text(pair)?),
            Rule::truth => ExprKind::Truth(pair.as_str() == "yes"),
            Rule::list => ExprKind::List(self.all_exprs(&mut self.parts(pair))?),
            Rule::parenthesised => self.parenthesised(pair)?,
            Rule::choice => self.choice(pair)?,
            Rule::reference => self.reference(pair)?,
            _ => return Err(Fault::Mismatch(span)),
        };
        Ok(Expr { kind, span })
    }

    fn choice(&mut self, pair: Pair<'i, Rule>) -> Built<ExprKind> {
        let mut parts = self.parts(pair);
        let condition = Box::new(self.expr(&mut parts)?);
        let then = Box::new(self.expr(&mut parts)?);
        let otherwise = Box::new(self.expr(&mut parts)?);
        Ok(ExprKind::Choose { condition, then, otherwise })
    }

    /// A group is what it holds; with a comma it is a point.
    fn parenthesised(&mut self, pair: Pair<'i, Rule>) -> Built<ExprKind> {
        let mut parts = self.parts(pair);
        let first = self.expr(&mut parts)?;
        Ok(match self.maybe_expr(&mut parts)? {
            Some(second) => ExprKind::Point(Box::new(first), Box::new(second)),
            None => first.kind,
        })
    }

    /// A name, or with arguments a call.
    fn reference(&mut self, pair: Pair<'i, Rule>) -> Built<ExprKind> {
        let mut parts = self.parts(pair);
        let name = self.name(&mut parts)?;
        Ok(match parts.peek() {
            Some(_) => ExprKind::Call { callee: name, arguments: self.arguments(&mut parts)? },
            None => ExprKind::Reference(name),
        })
    }

    /// The next part, the arguments of a call.
    pub(super) fn arguments(&mut self, parts: &mut Parts<'i>) -> Built<Arguments> {
        let mut inner = self.parts(parts.take(Rule::arguments)?);
        let items = self.all(&mut inner, Rule::argument, Self::argument)?;
        Ok(Arguments { items, span: inner.span })
    }

    fn argument(&mut self, pair: Pair<'i, Rule>) -> Built<Argument> {
        let mut parts = self.parts(pair);
        let name = self.maybe_name(&mut parts);
        let value = self.expr(&mut parts)?;
        Ok(Argument { name, value })
    }

    fn prefix(&self, op: &Pair<'i, Rule>, of: Expr) -> Built<Expr> {
        let span = self.span(op).to(of.span);
        let kind = match of.kind {
            _ if op.as_rule() == Rule::not_op => ExprKind::Not(Box::new(of)),
            // A minus belongs to its figure: `-4 degC` is a reading below nothing, where no other reading may be negated.
            ExprKind::Quantity { value, unit } => ExprKind::Quantity { value: -value, unit },
            _ => ExprKind::Negate(Box::new(of)),
        };
        Ok(Expr { kind, span })
    }

    fn postfix(&mut self, of: Expr, op: Pair<'i, Rule>) -> Built<Expr> {
        let at = self.span(&op);
        let span = of.span.to(at);
        let mut parts = self.parts(op);
        let kind = if let Some(digits) = parts.maybe(Rule::digits) {
            let power = digits.as_str().parse().unwrap_or(u8::MAX);
            if power > MAX_POWER {
                self.slip(FigureError::PowerTooLarge { at, most: MAX_POWER });
            }
            ExprKind::Power(Box::new(of), power)
        } else {
            ExprKind::Member { of: Box::new(of), member: self.name(&mut parts)? }
        };
        Ok(Expr { kind, span })
    }

    fn infix(&self, left: Expr, op: &Pair<'i, Rule>, right: Expr) -> Built<Expr> {
        let span = left.span.to(right.span);
        let op = match op.as_str().trim_end() {
            "+" => BinaryOp::Add,
            "-" => BinaryOp::Subtract,
            "*" => BinaryOp::Multiply,
            "/" => BinaryOp::Divide,
            "==" => BinaryOp::Equal,
            "!=" => BinaryOp::NotEqual,
            "<" => BinaryOp::Less,
            "<=" => BinaryOp::LessOrEqual,
            ">" => BinaryOp::Greater,
            ">=" => BinaryOp::GreaterOrEqual,
            "and" => BinaryOp::And,
            "or" => BinaryOp::Or,
            _ => return Err(Fault::Mismatch(self.span(op))),
        };
        Ok(Expr { kind: ExprKind::Binary { op, left: Box::new(left), right: Box::new(right) }, span })
    }

    fn quantity(&mut self, pair: Pair<'i, Rule>) -> Built<ExprKind> {
        let mut parts = self.parts(pair);
        let value = self.figure(&parts.any()?);
        let unit = self.word(&parts.any()?);
        Ok(ExprKind::Quantity { value, unit })
    }

    fn feet_inches(&mut self, pair: Pair<'i, Rule>) -> Built<ExprKind> {
        let mut parts = self.parts(pair);
        let feet = self.figure(&parts.any()?);
        parts.take(Rule::feet)?;
        let inches = self.figure(&parts.any()?);
        let unit = self.word(&parts.take(Rule::inches)?);
        Ok(ExprKind::Quantity { value: feet * 12.0 + inches, unit })
    }

    /// `12`, `0.6`, `1/2` or `1 1/2` as a figure.
    pub(super) fn figure(&mut self, pair: &Pair<'i, Rule>) -> f64 {
        let text = pair.as_str();
        let value = match text.split_once('/') {
            None => plain(text),
            Some((upper, lower)) => match upper.split_once([' ', '\t']) {
                None => plain(upper) / plain(lower),
                Some((whole, upper)) => plain(whole) + plain(upper) / plain(lower),
            },
        };
        let at = self.span(pair);
        if text.split_once('/').is_some_and(|(_, lower)| plain(lower) == 0.0) {
            self.slip(FigureError::ByZero { at });
        } else if value.is_nan() || value > MAX_FIGURE {
            self.slip(FigureError::TooLarge { at, most: MAX_FIGURE });
        }
        value
    }

    /// The next part, a text.
    pub(super) fn text(&mut self, parts: &mut Parts<'i>) -> Built<TextLiteral> {
        self.one(parts, Rule::text, Self::build_text)
    }

    /// The next part, if it is a text.
    pub(super) fn maybe_text(&mut self, parts: &mut Parts<'i>) -> Built<Option<TextLiteral>> {
        parts.maybe(Rule::text).map(|p| self.build_text(p)).transpose()
    }

    fn build_text(&mut self, pair: Pair<'i, Rule>) -> Built<TextLiteral> {
        let mut parts = self.parts(pair);
        let mut list = Vec::new();
        while parts.peek().is_some() {
            let part = parts.any()?;
            list.push(match part.as_rule() {
                Rule::text_chunk => TextPart::Chunk(unescape(part.as_str())),
                _ => TextPart::Hole(self.expr(&mut self.parts(part))?),
            });
        }
        Ok(TextLiteral { parts: list, span: parts.span })
    }
}

fn is_operator(rule: Rule) -> bool {
    use Rule::{and_op, compare_op, exponent, member, minus_op, not_op, or_op, product_op, sum_op};
    matches!(rule, or_op | and_op | not_op | compare_op | sum_op | product_op | minus_op | exponent | member)
}

/// Digits with or without a decimal point; the grammar lets nothing else through.
fn plain(digits: &str) -> f64 {
    digits.trim().parse().unwrap_or(f64::NAN)
}

/// Resolves the escapes of a chunk of text.
fn unescape(chunk: &str) -> String {
    let mut plain = String::with_capacity(chunk.len());
    let mut rest = chunk.chars();
    while let Some(c) = rest.next() {
        match c {
            '\\' => match rest.next() {
                Some('n') => plain.push('\n'),
                Some(other) => plain.push(other),
                None => plain.push('\\'),
            },
            '{' | '}' => {
                rest.next();
                plain.push(c);
            }
            _ => plain.push(c),
        }
    }
    plain
}
