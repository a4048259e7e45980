//! Components: what an item says of itself, worked out for one edge, corner or face.

use crate::check::{ComponentId, Entity};
use crate::eval::call::Item;
use crate::eval::error::EvalError;
use crate::eval::evaluator::{Eval, Evaluator, Stop};
use crate::eval::finish::WorkValue;
use crate::eval::value::{Env, Value};
use crate::ir::{PieceId, Pointing, Side, Symbol, Use};
use crate::quantity::Quantity;
use crate::syntax::ast::{self, ComponentItem, SitsAt};

/// A component with its figures worked out.
#[derive(Debug, Clone)]
pub(crate) struct ComponentValue {
    pub(crate) name: String,
    pub(crate) title: String,
    pub(crate) sits: SitsAt,
    pub(crate) footprint: f64,
    pub(crate) depth: f64,
    pub(crate) catches: f64,
    /// Sides of the two halves; one alone has both alike.
    pub(crate) sides: [Side; 2],
    pub(crate) points: Pointing,
    pub(crate) symbol: Symbol,
    pub(crate) pair: Option<[String; 2]>,
    pub(crate) uses: Vec<Use>,
    pub(crate) work: Vec<WorkValue>,
    /// Pieces it brings.
    pub(crate) brings: Vec<PieceId>,
}

/// What a component may ask of its place.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Surroundings {
    pub(crate) stretch: f64,
    pub(crate) edge_length: f64,
    pub(crate) allowance: f64,
    pub(crate) places: usize,
}

impl<'p> Evaluator<'p> {
    /// The component an `attach` line names.
    pub(crate) fn component_named(&mut self, attach: &'p ast::Attach, env: &Env<'p>) -> Eval<ComponentId> {
        match self.entity(env.scope, &attach.component)? {
            Entity::Component(id) => Ok(id),
            _ => {
                let got = format!("`{}`", attach.component.text);
                self.fail(EvalError::WrongKind { wanted: "a component", got, span: attach.component.span })
            }
        }
    }

    /// Works a component out; the pieces it brings are named after `label`.
    pub(crate) fn component(&mut self, attach: &'p ast::Attach, env: &Env<'p>, at: Surroundings, label: &str) -> Eval<ComponentValue> {
        let program = self.program;
        let id = self.component_named(attach, env)?;
        let Some(declared) = program.components.get(id.index()) else { return Err(Stop) };
        let component = &declared.item;
        let inner = self.bind(declared.scope, &component.parameters, &attach.arguments, env, &attach.name.text)?;
        let length = |mm| Value::Quantity(Quantity::mm(mm));
        self.given(&inner, "stretch", length(at.stretch), "the length it lies along", Vec::new());
        self.given(&inner, "edge_length", length(at.edge_length), "the finished length of its edge", Vec::new());
        self.given(&inner, "allowance", length(at.allowance), "the allowance of its edge", Vec::new());
        let places = Value::Quantity(Quantity::number(at.places as f64));
        self.given(&inner, "places", places, "how many there are on it", Vec::new());
        let title = self.title(component.doc.as_ref(), &inner)?;
        let mut value = ComponentValue {
            name: component.name.text.clone(),
            title: if title.is_empty() { component.name.text.clone() } else { title },
            sits: SitsAt::Places,
            footprint: 0.0,
            depth: 0.0,
            catches: 0.0,
            sides: [Side::Either; 2],
            points: Pointing::In,
            symbol: Symbol::Tick,
            pair: None,
            uses: Vec::new(),
            work: Vec::new(),
            brings: Vec::new(),
        };
        let items = self.active(&component.items, &inner, split)?;
        for item in &items {
            if let ComponentItem::Require(require) = item {
                self.require(require, &inner, Some(attach.span))?;
            }
        }
        for item in items {
            self.component_item(item, &inner, label, &mut value)?;
        }
        Ok(value)
    }

    fn component_item(&mut self, item: &'p ComponentItem, env: &Env<'p>, label: &str, value: &mut ComponentValue) -> Eval<()> {
        match item {
            ComponentItem::Sits(sits, _) => value.sits = *sits,
            ComponentItem::Pair(a, b) => value.pair = Some([a.text.clone(), b.text.clone()]),
            ComponentItem::Footprint(e) => value.footprint = self.not_negative(e, env, "a footprint")?,
            ComponentItem::Depth(e) => value.depth = self.not_negative(e, env, "a depth")?,
            ComponentItem::Catches(e) => value.catches = self.not_negative(e, env, "what a seam catches")?,
            ComponentItem::Faces(first, second) => {
                let first = self.side_word(first)?;
                let second = second.as_ref().map_or(Ok(first), |n| self.side_word(n))?;
                value.sides = [first, second];
            }
            ComponentItem::Points(name) => value.points = self.pointing_word(name)?,
            ComponentItem::Symbol(name) => value.symbol = self.symbol_word(name)?,
            ComponentItem::Uses(uses) => value.uses.push(self.uses(uses, env)?),
            ComponentItem::Work(work) => value.work.push(self.work(work, env)?),
            ComponentItem::Caution(text) => {
                let text = self.text(text, env)?;
                self.caution(text);
            }
            ComponentItem::Panel(panel) => {
                let inner = Env { label: format!("{label}.{}.", panel.name.text), ..env.clone() };
                let piece = self.draft_panel(panel, format!("{label}.{}", panel.name.text), &inner)?;
                if let Some(brought) = self.pieces.get_mut(piece.index()) {
                    brought.label = format!("{} for {label}", brought.label);
                }
                value.brings.push(piece);
            }
            ComponentItem::Constant(_) | ComponentItem::Require(_) | ComponentItem::When(_) => {}
        }
        Ok(())
    }

    fn not_negative(&mut self, expr: &'p ast::Expr, env: &Env<'p>, what: &'static str) -> Eval<f64> {
        let mm = self.length(expr, env)?;
        if mm < 0.0 {
            return self.fail(EvalError::NotPositive { what, value: super::place::words(mm), span: expr.span });
        }
        Ok(mm)
    }

    pub(crate) fn side_word(&mut self, name: &ast::Name) -> Eval<Side> {
        match name.text.as_str() {
            "face" => Ok(Side::Face),
            "back" => Ok(Side::Back),
            "either" => Ok(Side::Either),
            _ => self.fail(EvalError::Unknown { name: name.clone() }),
        }
    }

    pub(crate) fn pointing_word(&mut self, name: &ast::Name) -> Eval<Pointing> {
        match name.text.as_str() {
            "in" => Ok(Pointing::In),
            "out" => Ok(Pointing::Out),
            _ => self.fail(EvalError::Unknown { name: name.clone() }),
        }
    }

    fn symbol_word(&mut self, name: &ast::Name) -> Eval<Symbol> {
        match name.text.as_str() {
            "bar" => Ok(Symbol::Bar),
            "band" => Ok(Symbol::Band),
            "ring" => Ok(Symbol::Ring),
            "cross" => Ok(Symbol::Cross),
            "tick" => Ok(Symbol::Tick),
            _ => self.fail(EvalError::Unknown { name: name.clone() }),
        }
    }
}

fn split(item: &ComponentItem) -> Item<'_, ComponentItem> {
    match item {
        ComponentItem::Constant(c) => Item::Let(c),
        ComponentItem::When(w) => Item::When(w),
        _ => Item::Other,
    }
}
