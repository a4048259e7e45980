//! Components: what an item says of itself, worked out for one edge, corner or face.

use crate::check::{ComponentId, Entity};
use crate::eval::call::Item;
use crate::eval::error::EvalError;
use crate::eval::evaluator::{Brought, Eval, Evaluator, Stop};
use crate::eval::finish::WorkValue;
use crate::eval::value::{Env, Value};
use crate::ir::{Piece, PieceId, Pointing, Side, Symbol, Use};
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
    pub(crate) needs_casing: bool,
    pub(crate) pair: Option<[String; 2]>,
    pub(crate) uses: Vec<Use>,
    pub(crate) work: Vec<WorkValue>,
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

    /// Works a component out for one edge or piece. The pieces it brings are noted under the name of the line.
    pub(crate) fn component(&mut self, attach: &'p ast::Attach, env: &Env<'p>, at: Surroundings) -> Eval<ComponentValue> {
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
            needs_casing: false,
            pair: None,
            uses: Vec::new(),
            work: Vec::new(),
        };
        let items = self.active(&component.items, &inner, split)?;
        for item in &items {
            if let ComponentItem::Require(require) = item {
                self.require(require, &inner, Some(attach.span))?;
            }
        }
        for item in items {
            self.component_item(item, &inner, &attach.name.text, &mut value)?;
        }
        Ok(value)
    }

    fn component_item(&mut self, item: &'p ComponentItem, env: &Env<'p>, line: &str, value: &mut ComponentValue) -> Eval<()> {
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
            ComponentItem::Needs(_) => value.needs_casing = true,
            ComponentItem::Symbol(name) => value.symbol = self.symbol_word(name)?,
            ComponentItem::Uses(uses) => value.uses.push(self.uses(uses, env)?),
            ComponentItem::Work(work) => value.work.push(self.work(work, env)?),
            ComponentItem::Caution(text) => {
                let text = self.text(text, env)?;
                self.caution(text);
            }
            ComponentItem::Panel(panel) => self.bring(panel, env, line)?,
            ComponentItem::Constant(_) | ComponentItem::Require(_) | ComponentItem::When(_) => {}
        }
        Ok(())
    }

    /// Drafts a piece that a component brings: one more copy of a piece like it that the line has already, or a new one.
    fn bring(&mut self, panel: &'p ast::Panel, env: &Env<'p>, line: &str) -> Eval<()> {
        let called = format!("{line}.{}", panel.name.text);
        let taken = |name: &str| self.pieces.iter().any(|p| p.name == name);
        let name = (1..).map(|n| if n == 1 { called.clone() } else { format!("{called}_{n}") }).find(|n| !taken(n)).unwrap_or(called);
        let inner = Env { label: format!("{name}."), ..env.clone() };
        let piece = self.draft_panel(panel, name.clone(), &inner)?;
        let known: Vec<PieceId> = self.brought.get(line).into_iter().flatten().map(|b| b.piece).collect();
        let twin = known.into_iter().find(|&old| {
            let (old, new) = (self.pieces.get(old.index()), self.pieces.get(piece.index()));
            old.zip(new).is_some_and(|(old, new)| alike(old, new))
        });
        if let Some(twin) = twin {
            let copies = self.pieces.pop().map(|p| p.copies).unwrap_or_default();
            self.edge_finishes.retain(|(of, _), _| *of != name);
            if let Some(twin) = self.pieces.get_mut(twin.index()) {
                twin.copies.extend(copies);
            }
            return Ok(());
        }
        let forms = self.brought.get(line).into_iter().flatten().filter(|b| b.panel == panel.name.text).count();
        if let Some(new) = self.pieces.get_mut(piece.index()) {
            let number = if forms == 0 { String::new() } else { format!(", {}", forms + 1) };
            new.label = format!("{} for {line}{number}", new.label);
        }
        self.brought.entry(line.to_owned()).or_default().push(Brought { panel: panel.name.text.clone(), piece });
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

/// Whether two pieces can't be told apart once they are cut and marked.
fn alike(a: &Piece, b: &Piece) -> bool {
    let edge = |p: &Piece| p.edges.iter().map(|e| (e.name.clone(), e.path.clone())).collect::<Vec<_>>();
    let mark = |p: &Piece| p.marks.iter().map(|m| (m.text.clone(), m.shape.clone())).collect::<Vec<_>>();
    let notch = |p: &Piece| p.notches.iter().map(|n| (n.edge, n.at)).collect::<Vec<_>>();
    a.origin == b.origin
        && a.material == b.material
        && a.cut_line == b.cut_line
        && a.folds == b.folds
        && a.holes == b.holes
        && a.grain == b.grain
        && (edge(a), mark(a), notch(a)) == (edge(b), mark(b), notch(b))
}

fn split(item: &ComponentItem) -> Item<'_, ComponentItem> {
    match item {
        ComponentItem::Constant(c) => Item::Let(c),
        ComponentItem::When(w) => Item::When(w),
        _ => Item::Other,
    }
}
