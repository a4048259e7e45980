//! Materials: declarations called into goods, and goods put on the design's list.

use super::error::EvalError;
use super::evaluator::{Eval, Evaluator, Stop};
use super::value::{Env, Goods, Traced, Value};
use crate::check::MaterialDeclId;
use crate::ir::{self, Direction, MaterialId, MaterialKind, Price, PricedBy, TraceId};
use crate::quantity::{Dimension, Length, Mass, Money, Quantity};
use crate::source::Span;
use crate::syntax::ast;
use indexmap::IndexMap;
use std::rc::Rc;

/// Figures that may differ from shop to shop, or be known or not, without the goods being others.
const SAME_GOODS: &[&str] = &["price", "slider_price", "source", "laser"];

impl<'p> Evaluator<'p> {
    /// A declared material, with the figures a call replaces.
    pub(crate) fn goods(&mut self, id: MaterialDeclId, arguments: Option<&'p ast::Arguments>, env: &Env<'p>, span: Span) -> Eval<Traced> {
        let program = self.program;
        let Some(declared) = program.materials.get(id.index()) else { return Err(Stop) };
        let own = Env::of(declared.scope);
        let name = &declared.item.name.text;
        let mut fields = IndexMap::new();
        for setting in &declared.item.settings {
            let traced = self.traced(&format!("{name}.{}", setting.name.text), &setting.value, &own)?;
            self.sound_figure(&setting.name.text, &traced.value, setting.value.span)?;
            fields.insert(setting.name.text.clone(), traced);
        }
        let title = self.title(declared.item.title.as_ref(), &own)?;
        let title = if title.is_empty() { name.clone() } else { title };
        let goods = Goods { decl: id, name: name.clone(), title, fields, unlike: IndexMap::new() };
        self.with_figures(goods, arguments, env, span)
    }

    /// Goods that a name already holds, with the figures a call replaces.
    pub(crate) fn goods_again(&mut self, base: Traced, arguments: &'p ast::Arguments, env: &Env<'p>, span: Span) -> Eval<Value> {
        let Value::Material(goods) = &base.value else { return self.wrong("a material", &base.value, span) };
        self.with_figures((**goods).clone(), Some(arguments), env, span).map(|t| t.value)
    }

    fn with_figures(&mut self, mut goods: Goods, arguments: Option<&'p ast::Arguments>, env: &Env<'p>, span: Span) -> Eval<Traced> {
        for argument in arguments.map(|a| a.items.as_slice()).unwrap_or_default() {
            let Some(name) = &argument.name else {
                return self.fail(EvalError::WrongKind {
                    wanted: "a figure with its name, `mass: 40 g/m2`",
                    got: "a value alone".to_owned(),
                    span: argument.value.span,
                });
            };
            let traced = self.traced(&format!("{}.{}", goods.name, name.text), &argument.value, env)?;
            self.sound_figure(&name.text, &traced.value, argument.value.span)?;
            let said = self.word(&traced.value).replace('_', " ");
            if !SAME_GOODS.contains(&name.text.as_str()) && goods.fields.get(&name.text).is_none_or(|f| self.word(&f.value) != said) {
                goods.unlike.insert(name.text.replace('_', " "), said);
            }
            goods.fields.insert(name.text.clone(), traced);
        }
        let inputs = goods.fields.values().map(|f| f.why).collect();
        let how = self.sources.snippet(span).to_owned();
        let value = Value::Material(Rc::new(goods));
        let why = self.step("material", how, &value, Some(span), inputs);
        Ok(Traced { value, why })
    }

    /// No goods have a width below nothing, and none have a price below it.
    pub(crate) fn sound_figure(&mut self, name: &str, value: &Value, span: Span) -> Eval<()> {
        let Value::Quantity(q) = value else { return Ok(()) };
        let some = matches!(
            name,
            "width" | "diameter" | "thickness" | "tape" | "chain" | "bed_length" | "bed_width" | "offset" | "overlap" | "gap"
        );
        if q.value < 0.0 || (some && q.value <= 0.0) {
            let value = self.said(value);
            return self.fail(EvalError::NotPositive { what: figure_words(name), value, span });
        }
        Ok(())
    }

    /// Goods an expression names.
    pub(crate) fn goods_of(&mut self, expr: &'p ast::Expr, env: &Env<'p>) -> Eval<Rc<Goods>> {
        match self.expr(expr, env)? {
            Value::Material(goods) => Ok(goods),
            other => self.wrong("a material", &other, expr.span),
        }
    }

    /// Puts goods on the design's list, once a name and set of figures.
    pub(crate) fn stock(&mut self, goods: &Rc<Goods>) -> Eval<MaterialId> {
        let material = self.listed(goods)?;
        Ok(self.on_the_list(&material).unwrap_or_else(|| {
            self.materials.push(material);
            MaterialId::at(self.materials.len() - 1)
        }))
    }

    /// Goods as they stand on the design's list; none when nothing uses them.
    pub(crate) fn stocked(&mut self, goods: &Rc<Goods>) -> Eval<Option<MaterialId>> {
        let material = self.listed(goods)?;
        Ok(self.on_the_list(&material))
    }

    fn on_the_list(&self, material: &ir::Material) -> Option<MaterialId> {
        self.materials.iter().position(|m| m.name == material.name && m.same_goods(material)).map(MaterialId::at)
    }

    fn listed(&mut self, goods: &Rc<Goods>) -> Eval<ir::Material> {
        let program = self.program;
        let Some(declared) = program.materials.get(goods.decl.index()) else { return Err(Stop) };
        let origin = declared.item.name.span;
        let kind = kind_named(&declared.item.kind.text).ok_or(Stop)?;
        let field = |name: &str| goods.fields.get(name);
        let number = |name: &str| field(name).and_then(quantity).map(|q| q.value);
        let word = |name: &str| match field(name).map(|t| &t.value) {
            Some(Value::Text(t)) => super::expr::plain(t),
            Some(Value::Choice(w)) => w.clone(),
            _ => String::new(),
        };
        let truth = |name: &str| match field(name).map(|t| &t.value) {
            Some(Value::Truth(t)) => Some(*t),
            _ => None,
        };
        let (why_mass, why_price) = (self.why_figure(goods, "mass", origin), self.why_figure(goods, "price", origin));
        let thickness = ["thickness", "loft", "diameter"].into_iter().find_map(number);
        Ok(ir::Material {
            name: goods.name.clone(),
            title: goods.full_title(),
            kind,
            mass: number("mass"),
            price: field("price").and_then(quantity).and_then(price),
            width: number("width").or_else(|| number("tape")).map(Length::mm),
            selvedge: Length::mm(number("selvedge").unwrap_or(0.0)),
            thickness: thickness.map(Length::mm),
            one_sided: word("faces") == "one_sided",
            direction: match word("direction").as_str() {
                "one_way" => Direction::OneWay,
                "any" => Direction::Any,
                _ => Direction::TwoWay,
            },
            laser: truth("laser"),
            chain: number("chain").map(Length::mm),
            separating: truth("separating").unwrap_or(false),
            slider_mass: number("slider_mass").map(Mass::grams),
            slider_price: field("slider_price").and_then(quantity).and_then(price).map(|p| p.money),
            source: word("source"),
            why_mass,
            why_price,
            origin,
        })
    }

    /// Whether goods are a cord.
    pub(crate) fn is_cord(&self, goods: &Goods) -> bool {
        let declared = self.program.materials.get(goods.decl.index());
        declared.is_some_and(|d| kind_named(&d.item.kind.text) == Some(MaterialKind::Cord))
    }

    fn why_figure(&mut self, goods: &Goods, name: &str, origin: Span) -> TraceId {
        if let Some(field) = goods.fields.get(name) {
            return field.why;
        }
        let not_known = Value::Text(ir::Text::words("not known"));
        let how = format!("`{}` does not say", goods.name);
        self.step(&format!("{}.{name}", goods.name), how, &not_known, Some(origin), Vec::new())
    }
}

fn figure_words(name: &str) -> &'static str {
    match name {
        "mass" | "slider_mass" => "the mass of goods",
        "price" | "slider_price" => "the price of goods",
        "selvedge" => "a selvedge",
        "thickness" | "loft" | "diameter" => "the thickness of goods",
        "bed_length" | "bed_width" => "the bed of a cutter",
        "kerf" | "offset" | "overcut" | "smallest" | "overlap" | "gap" => "this figure of a cutter",
        _ => "the width of goods",
    }
}

fn quantity(traced: &Traced) -> Option<Quantity> {
    match traced.value {
        Value::Quantity(q) => Some(q),
        _ => None,
    }
}

fn price(q: Quantity) -> Option<Price> {
    let per = match q.dimension {
        Dimension::PRICE_PER_LENGTH => PricedBy::Length,
        Dimension::PRICE_PER_AREA => PricedBy::Area,
        Dimension::PRICE_PER_MASS => PricedBy::Mass,
        Dimension::MONEY => PricedBy::Each,
        _ => return None,
    };
    let currency = q.currency.map(|c| String::from_utf8_lossy(&c.0).into_owned()).unwrap_or_default();
    Some(Price { money: Money { amount: q.value, currency }, per })
}

fn kind_named(word: &str) -> Option<MaterialKind> {
    Some(match word {
        "cloth" => MaterialKind::Cloth,
        "batting" => MaterialKind::Batting,
        "ribbon" => MaterialKind::Ribbon,
        "webbing" => MaterialKind::Webbing,
        "cord" => MaterialKind::Cord,
        "zipper" => MaterialKind::Zipper,
        "hardware" => MaterialKind::Hardware,
        "thread" => MaterialKind::Thread,
        _ => return None,
    })
}
