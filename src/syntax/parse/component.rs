//! Sections 10 and 11: attachments, and the components they put on.

use pest::iterators::Pair;

use super::builder::{Builder, Built, Fault, Parts};
use super::grammar::Rule;
use crate::source::Span;
use crate::syntax::ast::{
    Attach, AttachOn, AttachWhere, Component, ComponentItem, SitsAt, Stitch, TextLiteral, Uses, When, Work, WorkPhase,
};
use crate::syntax::error::StatementError;

impl<'i> Builder<'_> {
    /// `attach loops = ribbon_loop(…) at 25 cm from head on outer.left`
    pub(super) fn attach(&mut self, pair: Pair<'i, Rule>) -> Built<Attach> {
        let mut parts = self.parts(pair);
        let name = self.name(&mut parts)?;
        let component = self.name(&mut parts)?;
        let arguments = self.arguments(&mut parts)?;
        let mut place = self.parts(parts.take(Rule::attach_where)?);
        let where_ = self.attach_where(&mut place)?;
        let on = self.attach_on(&mut place)?;
        let mut attach =
            Attach { name, component, arguments, where_, on, facing: None, pointing: None, may_cross: Vec::new(), span: parts.span };
        let mut said: Vec<(Rule, Span)> = Vec::new();
        while let Some(way) = parts.maybe(Rule::attach_way) {
            self.attach_way(way, &mut attach, &mut said)?;
        }
        Ok(attach)
    }

    fn attach_where(&mut self, parts: &mut Parts<'i>) -> Built<AttachWhere> {
        Ok(match parts.peek() {
            Some(Rule::stretch) => AttachWhere::Over(self.one(parts, Rule::stretch, Self::stretch)?),
            Some(Rule::places) => AttachWhere::At(self.places(parts)?),
            _ => AttachWhere::Along,
        })
    }

    fn attach_on(&mut self, parts: &mut Parts<'i>) -> Built<AttachOn> {
        let mut on = self.parts(parts.any()?);
        if let Some(list) = on.maybe(Rule::edge_refs) {
            let mut list = self.parts(list);
            return Ok(AttachOn::Each(self.all(&mut list, Rule::edge_ref, Self::edge_ref)?));
        }
        if let Some(row) = on.maybe(Rule::edge_row) {
            let mut row = self.parts(row);
            return Ok(AttachOn::Row(self.all(&mut row, Rule::edge_ref, Self::edge_ref)?));
        }
        let first = self.one(&mut on, Rule::edge_ref, Self::edge_ref)?;
        let second = self.one(&mut on, Rule::edge_ref, Self::edge_ref)?;
        Ok(AttachOn::Between(first, second))
    }

    /// A clause that may stand once, in any order with the others.
    fn attach_way(&mut self, pair: Pair<'i, Rule>, attach: &mut Attach, said: &mut Vec<(Rule, Span)>) -> Built<()> {
        let mut parts = self.parts(pair);
        let way = parts.any()?;
        let rule = way.as_rule();
        let at = parts.span;
        if let Some((_, first)) = said.iter().find(|(r, _)| *r == rule) {
            let word = match rule {
                Rule::facing => "facing",
                Rule::pointing => "pointing",
                _ => "may cross",
            };
            self.slip(StatementError::RepeatedClause { at, first: *first, word });
        }
        said.push((rule, at));
        let mut inner = self.parts(way);
        match rule {
            Rule::facing => attach.facing = Some(self.name(&mut inner)?),
            Rule::pointing => attach.pointing = Some(self.name(&mut inner)?),
            Rule::may_cross => attach.may_cross = self.names(&mut inner)?,
            _ => return Err(Fault::Mismatch(parts.span)),
        }
        Ok(())
    }

    /// `component ribbon_loop(…) "…" { … }`
    pub(super) fn component(&mut self, pair: Pair<'i, Rule>) -> Built<Component> {
        let mut parts = self.parts(pair);
        let name = self.name(&mut parts)?;
        let parameters = self.parameters(&mut parts)?;
        let doc = self.maybe_text(&mut parts)?;
        let items = self.one(&mut parts, Rule::component_block, Self::component_items)?;
        Ok(Component { name, parameters, doc, items, span: parts.span })
    }

    fn component_items(&mut self, block: Pair<'i, Rule>) -> Built<Vec<ComponentItem>> {
        let mut parts = self.parts(block);
        self.all(&mut parts, Rule::component_item, Self::component_item)
    }

    /// One thing said in a component.
    pub(super) fn component_item(&mut self, pair: Pair<'i, Rule>) -> Built<ComponentItem> {
        let mut parts = self.parts(pair);
        let span = parts.span;
        let item = parts.any()?;
        let rule = item.as_rule();
        let mut inner = self.parts(item.clone());
        Ok(match rule {
            Rule::constant => ComponentItem::Constant(self.constant(item)?),
            Rule::require => ComponentItem::Require(self.require(item)?),
            Rule::sits => ComponentItem::Sits(Self::sits(&mut inner)?, span),
            Rule::pair => ComponentItem::Pair(self.name(&mut inner)?, self.name(&mut inner)?),
            Rule::footprint => ComponentItem::Footprint(self.expr(&mut inner)?),
            Rule::depth => ComponentItem::Depth(self.expr(&mut inner)?),
            Rule::catches => ComponentItem::Catches(self.expr(&mut inner)?),
            Rule::faces => ComponentItem::Faces(self.name(&mut inner)?, self.maybe_name(&mut inner)),
            Rule::points => ComponentItem::Points(self.name(&mut inner)?),
            Rule::component_needs => ComponentItem::Needs(self.name(&mut inner)?),
            Rule::symbol => ComponentItem::Symbol(self.name(&mut inner)?),
            Rule::uses => ComponentItem::Uses(self.uses(item)?),
            Rule::work => ComponentItem::Work(self.work(item)?),
            Rule::caution => ComponentItem::Caution(self.caution(item)?),
            Rule::panel => ComponentItem::Panel(self.panel(item)?),
            Rule::component_when => ComponentItem::When(self.component_when(item)?),
            _ => return Err(Fault::Mismatch(span)),
        })
    }

    fn component_when(&mut self, pair: Pair<'i, Rule>) -> Built<When<ComponentItem>> {
        self.when(pair, Rule::component_block, Rule::component_when, Self::component_items, |b, p| {
            Ok(ComponentItem::When(b.component_when(p)?))
        })
    }

    fn sits(parts: &mut Parts<'i>) -> Built<SitsAt> {
        match parts.any()?.as_rule() {
            Rule::sits_places => Ok(SitsAt::Places),
            Rule::sits_stretch => Ok(SitsAt::Stretch),
            _ => Err(Fault::Mismatch(parts.span)),
        }
    }

    /// `uses 8 cm of ribbon`
    pub(super) fn uses(&mut self, pair: Pair<'i, Rule>) -> Built<Uses> {
        let mut parts = self.parts(pair);
        Ok(Uses { amount: self.expr(&mut parts)?, of: self.expr(&mut parts)?, span: parts.span })
    }

    /// `sew "…" with lockstitch 3 mm`
    pub(super) fn work(&mut self, pair: Pair<'i, Rule>) -> Built<Work> {
        let mut parts = self.parts(pair);
        let phase = match parts.take(Rule::work_phase)?.as_str() {
            "prepare" => WorkPhase::Prepare,
            "place" => WorkPhase::Place,
            "sew" => WorkPhase::Sew,
            "complete" => WorkPhase::Complete,
            _ => return Err(Fault::Mismatch(parts.span)),
        };
        let text = self.text(&mut parts)?;
        let stitch = match parts.maybe(Rule::with_stitch) {
            Some(with) => Some(self.stitch(&mut self.parts(with))?),
            None => None,
        };
        Ok(Work { phase, text, stitch, span: parts.span })
    }

    /// `caution "…"`
    pub(super) fn caution(&mut self, pair: Pair<'i, Rule>) -> Built<TextLiteral> {
        let mut parts = self.parts(pair);
        self.text(&mut parts)
    }

    /// The next part, `lockstitch 3 mm`.
    pub(super) fn stitch(&mut self, parts: &mut Parts<'i>) -> Built<Stitch> {
        let mut inner = self.parts(parts.take(Rule::stitch)?);
        Ok(Stitch { kind: self.name(&mut inner)?, length: self.expr(&mut inner)?, span: inner.span })
    }
}
