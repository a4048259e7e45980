//! Sections 5 and 6: designs, the plain declarations in them, and materials.

use pest::iterators::Pair;

use super::builder::{Builder, Built, Fault, Parts};
use super::grammar::Rule;
use crate::syntax::ast::{
    Accept, Constant, Design, DesignItem, Expr, Function, Limits, Material, Param, Parameter, Require, Setting, Size, When,
};

impl<'i> Builder<'_> {
    /// `design larch "…" { … }`
    pub(super) fn design(&mut self, pair: Pair<'i, Rule>) -> Built<Design> {
        let mut parts = self.parts(pair);
        let name = self.name(&mut parts)?;
        let title = self.maybe_text(&mut parts)?;
        let items = self.one(&mut parts, Rule::design_block, Self::design_items)?;
        Ok(Design { name, title, items, span: parts.span })
    }

    fn design_items(&mut self, block: Pair<'i, Rule>) -> Built<Vec<DesignItem>> {
        let mut parts = self.parts(block);
        self.all(&mut parts, Rule::design_item, Self::design_item)
    }

    /// One thing said in a design.
    pub(super) fn design_item(&mut self, pair: Pair<'i, Rule>) -> Built<DesignItem> {
        let mut parts = self.parts(pair);
        let inner = parts.any()?;
        Ok(match inner.as_rule() {
            Rule::param => DesignItem::Param(self.param(inner)?),
            Rule::size => DesignItem::Size(self.size(inner)?),
            Rule::constant => DesignItem::Constant(self.constant(inner)?),
            Rule::function => DesignItem::Function(self.function(inner)?),
            Rule::material => DesignItem::Material(self.material(inner)?),
            Rule::component => DesignItem::Component(self.component(inner)?),
            Rule::outline => DesignItem::Outline(self.outline(inner)?),
            Rule::finish => DesignItem::Finish(self.finish(inner)?),
            Rule::require => DesignItem::Require(self.require(inner)?),
            Rule::panel => DesignItem::Panel(self.panel(inner)?),
            Rule::attach => DesignItem::Attach(self.attach(inner)?),
            Rule::seam => DesignItem::Seam(self.seam(inner)?),
            Rule::apply => DesignItem::Apply(self.apply(inner)?),
            Rule::quilt => DesignItem::Quilt(self.quilt(inner)?),
            Rule::step => DesignItem::Step(self.step(inner)?),
            Rule::accept => DesignItem::Accept(self.accept(inner)?),
            Rule::thread => DesignItem::Thread(self.expr(&mut self.parts(inner))?),
            Rule::design_when => DesignItem::When(self.design_when(inner)?),
            _ => return Err(Fault::Mismatch(parts.span)),
        })
    }

    fn design_when(&mut self, pair: Pair<'i, Rule>) -> Built<When<DesignItem>> {
        self.when(pair, Rule::design_block, Rule::design_when, Self::design_items, |b, p| Ok(DesignItem::When(b.design_when(p)?)))
    }

    /// `when condition { … } else …`, whatever the items are.
    pub(super) fn when<T>(
        &mut self,
        pair: Pair<'i, Rule>,
        block: Rule,
        nested: Rule,
        items: impl Fn(&mut Self, Pair<'i, Rule>) -> Built<Vec<T>>,
        item: impl Fn(&mut Self, Pair<'i, Rule>) -> Built<T>,
    ) -> Built<When<T>> {
        let mut parts = self.parts(pair);
        let condition = self.expr(&mut parts)?;
        let then = self.one(&mut parts, block, &items)?;
        let otherwise = match parts.maybe(nested) {
            Some(chained) => vec![item(self, chained)?],
            None => parts.maybe(block).map(|p| items(self, p)).transpose()?.unwrap_or_default(),
        };
        Ok(When { condition, then, otherwise, span: parts.span })
    }

    fn param(&mut self, pair: Pair<'i, Rule>) -> Built<Param> {
        let mut parts = self.parts(pair);
        let name = self.name(&mut parts)?;
        let default = self.expr(&mut parts)?;
        let limits = self.limits(&mut parts)?;
        let doc = self.maybe_text(&mut parts)?;
        Ok(Param { name, default, limits, doc, span: parts.span })
    }

    fn limits(&mut self, parts: &mut Parts<'i>) -> Built<Limits> {
        if let Some(choices) = parts.maybe(Rule::one_of) {
            let mut choices = self.parts(choices);
            return Ok(Limits::OneOf(self.all_exprs(&mut choices)?));
        }
        let Some(range) = parts.maybe(Rule::range) else { return Ok(Limits::Free) };
        let mut range = self.parts(range);
        Ok(Limits::Range { from: self.expr(&mut range)?, to: self.expr(&mut range)? })
    }

    fn size(&mut self, pair: Pair<'i, Rule>) -> Built<Size> {
        let mut parts = self.parts(pair);
        let name = self.name(&mut parts)?;
        let title = self.maybe_text(&mut parts)?;
        let settings = self.all(&mut parts, Rule::setting, Self::setting)?;
        Ok(Size { name, title, settings, span: parts.span })
    }

    /// `stature = 192 cm`
    pub(super) fn setting(&mut self, pair: Pair<'i, Rule>) -> Built<Setting> {
        let mut parts = self.parts(pair);
        Ok(Setting { name: self.name(&mut parts)?, value: self.expr(&mut parts)? })
    }

    /// `let long = stature + 8 cm`
    pub(super) fn constant(&mut self, pair: Pair<'i, Rule>) -> Built<Constant> {
        let mut parts = self.parts(pair);
        let name = self.name(&mut parts)?;
        let value = self.expr(&mut parts)?;
        let doc = self.maybe_text(&mut parts)?;
        Ok(Constant { name, value, doc, span: parts.span })
    }

    /// `fn around(d: length) = pi * d`
    pub(super) fn function(&mut self, pair: Pair<'i, Rule>) -> Built<Function> {
        let mut parts = self.parts(pair);
        let name = self.name(&mut parts)?;
        let parameters = self.parameters(&mut parts)?;
        let body = self.expr(&mut parts)?;
        let doc = self.maybe_text(&mut parts)?;
        Ok(Function { name, parameters, body, doc, span: parts.span })
    }

    /// The next part, the parameters of a declaration.
    pub(super) fn parameters(&mut self, parts: &mut Parts<'i>) -> Built<Vec<Parameter>> {
        let mut inner = self.parts(parts.take(Rule::parameters)?);
        self.all(&mut inner, Rule::parameter, Self::parameter)
    }

    fn parameter(&mut self, pair: Pair<'i, Rule>) -> Built<Parameter> {
        let mut parts = self.parts(pair);
        let name = self.name(&mut parts)?;
        let kind = self.maybe_name(&mut parts);
        let default = self.maybe_expr(&mut parts)?;
        let doc = self.maybe_text(&mut parts)?;
        Ok(Parameter { name, kind, default, doc })
    }

    /// `require long <= 240 cm else "…"`
    pub(super) fn require(&mut self, pair: Pair<'i, Rule>) -> Built<Require> {
        let mut parts = self.parts(pair);
        let condition: Expr = self.expr(&mut parts)?;
        let message = self.text(&mut parts)?;
        Ok(Require { condition, message, span: parts.span })
    }

    fn accept(&mut self, pair: Pair<'i, Rule>) -> Built<Accept> {
        let mut parts = self.parts(pair);
        let code = self.word(&parts.take(Rule::code)?);
        let because = self.text(&mut parts)?;
        Ok(Accept { code, because, span: parts.span })
    }

    /// `material light_nylon is cloth "…" { … }`
    pub(super) fn material(&mut self, pair: Pair<'i, Rule>) -> Built<Material> {
        let mut parts = self.parts(pair);
        let name = self.name(&mut parts)?;
        let kind = self.name(&mut parts)?;
        let title = self.maybe_text(&mut parts)?;
        let settings = self.all(&mut parts, Rule::setting, Self::setting)?;
        Ok(Material { name, kind, title, settings, span: parts.span })
    }
}
