//! Values, and the names that hold them inside a body.

use crate::check::{MaterialDeclId, ScopeId};
use crate::ir::{Text, TextPart, TraceId};
use crate::quantity::{Dimension, Quantity};
use crate::syntax::ast;
use indexmap::IndexMap;
use std::cell::RefCell;
use std::rc::Rc;

/// What an expression comes to.
#[derive(Debug, Clone)]
pub(crate) enum Value {
    /// A number with its dimension.
    Quantity(Quantity),
    /// Yes or no.
    Truth(bool),
    /// Text with its measures kept apart.
    Text(Text),
    /// A word that a parameter may be.
    Choice(String),
    /// A place on a panel, mm.
    Point(f64, f64),
    /// Several values.
    List(Vec<Value>),
    /// Goods.
    Material(Rc<Goods>),
}

impl Value {
    /// How many single values or letters it holds: what a copy of it costs.
    pub(crate) fn size(&self) -> usize {
        match self {
            Self::List(items) => items.iter().map(Self::size).sum(),
            Self::Text(text) => letters(&text.0),
            _ => 1,
        }
    }
}

/// Letters in parts of a text, a measure counted as ten.
pub(crate) fn letters(parts: &[TextPart]) -> usize {
    parts.iter().map(|part| if let TextPart::Words(words) = part { words.len() } else { 10 }).sum()
}

/// A value and where it came from.
#[derive(Debug, Clone)]
pub(crate) struct Traced {
    /// The value.
    pub(crate) value: Value,
    /// Its last step.
    pub(crate) why: TraceId,
}

/// A material with every figure worked out.
#[derive(Debug, Clone)]
pub(crate) struct Goods {
    /// Its declaration.
    pub(crate) decl: MaterialDeclId,
    /// The name it goes by: of the `let` that holds it, else its own.
    pub(crate) name: String,
    /// Its title.
    pub(crate) title: String,
    /// Its figures by field name.
    pub(crate) fields: IndexMap<String, Traced>,
    /// Figures in which they are not as declared, in words.
    pub(crate) unlike: IndexMap<String, String>,
}

impl Goods {
    /// The title, with what sets the goods apart from those declared: `Light nylon, mass 30 g/m2`.
    pub(crate) fn full_title(&self) -> String {
        self.unlike.iter().fold(self.title.clone(), |title, (figure, value)| format!("{title}, {figure} {value}"))
    }
}

/// A name inside a body (of a function, component, outline, finish or panel).
#[derive(Debug, Clone)]
pub(crate) enum Local<'p> {
    /// Worked out.
    Ready(Traced),
    /// A `let` not yet asked for.
    Let(&'p ast::Constant),
    /// A `let` being worked out now; asked for again, it is a cycle.
    Busy,
    /// A `let` without a value; why is reported.
    Failed,
}

/// Where names are looked up: first here, then in the scope.
#[derive(Debug, Clone)]
pub(crate) struct Env<'p> {
    /// The scope around the body.
    pub(crate) scope: ScopeId,
    /// The body's own names.
    pub(crate) locals: RefCell<IndexMap<String, Local<'p>>>,
    /// What the body belongs to, in front of the names of its values: `loops.` or nothing.
    pub(crate) label: String,
}

impl<'p> Env<'p> {
    /// A scope with no names of a body's own.
    pub(crate) fn of(scope: ScopeId) -> Self {
        Self { scope, locals: RefCell::default(), label: String::new() }
    }

    /// The same with a label.
    pub(crate) fn labelled(scope: ScopeId, label: impl Into<String>) -> Self {
        Self { scope, locals: RefCell::default(), label: label.into() }
    }

    /// Binds a name.
    pub(crate) fn bind(&self, name: &str, local: Local<'p>) {
        self.locals.borrow_mut().insert(name.to_owned(), local);
    }
}

/// So many base units.
pub(crate) const fn amount(value: f64, dimension: Dimension) -> Quantity {
    Quantity { value, dimension, currency: None }
}
