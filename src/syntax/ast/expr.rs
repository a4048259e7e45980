//! Expressions, quantities and text.

use super::Name;
use crate::source::Span;

/// An expression and where it stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Expr {
    /// What it is.
    pub kind: ExprKind,
    /// Where.
    pub span: Span,
}

/// The forms of expression.
#[derive(Debug, Clone, PartialEq)]
pub enum ExprKind {
    /// A bare number: a count or a ratio.
    Number(f64),
    /// A number with a unit, `1 1/2 in`; `5 ft 10 in` arrives as one quantity of 70 `in`.
    Quantity {
        /// The figure before the unit.
        value: f64,
        /// The unit as written (`g/m2`, `%`).
        unit: Name,
    },
    /// Text with `{holes}`.
    Text(TextLiteral),
    /// `yes` or `no`.
    Truth(bool),
    /// `[a, b]`
    List(Vec<Expr>),
    /// `(x, y)`
    Point(Box<Expr>, Box<Expr>),
    /// A name.
    Reference(Name),
    /// `f(a, name: b)`: a function, material, outline, component or finish.
    Call {
        /// What is called.
        callee: Name,
        /// Its arguments.
        arguments: Arguments,
    },
    /// `a.b`
    Member {
        /// What it is a part of.
        of: Box<Expr>,
        /// The part.
        member: Name,
    },
    /// `-a`
    Negate(Box<Expr>),
    /// `not a`
    Not(Box<Expr>),
    /// `a + b` and all other operators between two expressions.
    Binary {
        /// The operator.
        op: BinaryOp,
        /// Left side.
        left: Box<Expr>,
        /// Right side.
        right: Box<Expr>,
    },
    /// `a ^ 2`
    Power(Box<Expr>, u8),
    /// `when a then b else c`
    Choose {
        /// The condition.
        condition: Box<Expr>,
        /// Its value when met.
        then: Box<Expr>,
        /// Its value when not.
        otherwise: Box<Expr>,
    },
}

/// Operators between two expressions.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BinaryOp {
    /// `+`
    Add,
    /// `-`
    Subtract,
    /// `*`
    Multiply,
    /// `/`
    Divide,
    /// `==`
    Equal,
    /// `!=`
    NotEqual,
    /// `<`
    Less,
    /// `<=`
    LessOrEqual,
    /// `>`
    Greater,
    /// `>=`
    GreaterOrEqual,
    /// `and`
    And,
    /// `or`
    Or,
}

/// The arguments of a call.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Arguments {
    /// In the order written.
    pub items: Vec<Argument>,
    /// From `(` to `)`.
    pub span: Span,
}

/// One argument, named or by place.
#[derive(Debug, Clone, PartialEq)]
pub struct Argument {
    /// `width:` before the value.
    pub name: Option<Name>,
    /// The value.
    pub value: Expr,
}

/// Quoted text; holes are filled when it is evaluated.
#[derive(Debug, Clone, PartialEq)]
pub struct TextLiteral {
    /// Chunks and holes in order.
    pub parts: Vec<TextPart>,
    /// From quote to quote.
    pub span: Span,
}

/// A chunk of text or a hole in it.
#[derive(Debug, Clone, PartialEq)]
pub enum TextPart {
    /// Plain text, escapes resolved.
    Chunk(String),
    /// `{expression}`
    Hole(Expr),
}
