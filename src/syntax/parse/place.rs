//! Section 9: places and stretches on edges.

use pest::iterators::Pair;

use super::builder::{Builder, Built, Fault, Parts};
use super::grammar::Rule;
use crate::syntax::ast::{Corner, EdgeRef, PlaceKind, Places, Stretch, StretchFrom};

impl<'i> Builder<'_> {
    /// The next part, places on an edge.
    pub(super) fn places(&mut self, parts: &mut Parts<'i>) -> Built<Places> {
        let mut inner = self.parts(parts.take(Rule::places)?);
        let form = inner.any()?;
        let rule = form.as_rule();
        let mut form = self.parts(form);
        let kind = match rule {
            Rule::place_middle => PlaceKind::Middle,
            Rule::place_quarters => PlaceKind::Quarters,
            Rule::place_corners => PlaceKind::Corners(self.corners(&mut form)?),
            Rule::place_list => PlaceKind::List { at: self.all_exprs(&mut form)?, from: self.maybe_name(&mut form) },
            Rule::spaced => self.spaced(&mut form)?,
            _ => return Err(Fault::Mismatch(inner.span)),
        };
        Ok(Places { kind, span: inner.span })
    }

    fn spaced(&mut self, parts: &mut Parts<'i>) -> Built<PlaceKind> {
        if let Some(evenly) = parts.maybe(Rule::spaced_evenly) {
            return Ok(PlaceKind::Evenly(self.expr(&mut self.parts(evenly))?));
        }
        let mut every = self.parts(parts.take(Rule::spaced_every)?);
        Ok(PlaceKind::Every { gap: self.expr(&mut every)?, from: self.name(&mut every)? })
    }

    /// The next part, a list of corners.
    pub(super) fn corners(&mut self, parts: &mut Parts<'i>) -> Built<Vec<Corner>> {
        let mut inner = self.parts(parts.take(Rule::corners)?);
        self.all(&mut inner, Rule::corner, Self::corner)
    }

    /// `head-left`
    pub(super) fn corner(&mut self, pair: Pair<'i, Rule>) -> Built<Corner> {
        let mut parts = self.parts(pair);
        Ok(Corner { first: self.name(&mut parts)?, second: self.name(&mut parts)?, span: parts.span })
    }

    /// `over 45 cm from foot`
    pub(super) fn stretch(&mut self, pair: Pair<'i, Rule>) -> Built<Stretch> {
        let mut parts = self.parts(pair);
        let length = self.expr(&mut parts)?;
        let from = self.stretch_from(&mut parts)?;
        Ok(Stretch { length, from, span: parts.span })
    }

    /// The next part, where a stretch begins.
    pub(super) fn stretch_from(&mut self, parts: &mut Parts<'i>) -> Built<StretchFrom> {
        if parts.maybe(Rule::stretch_middle).is_some() {
            return Ok(StretchFrom::Middle);
        }
        let mut from = self.parts(parts.take(Rule::stretch_from)?);
        Ok(StretchFrom::End { starting: self.maybe_expr(&mut from)?, end: self.name(&mut from)? })
    }

    /// `shell.left.tapered`
    pub(super) fn edge_ref(&mut self, pair: Pair<'i, Rule>) -> Built<EdgeRef> {
        let mut parts = self.parts(pair);
        let mut path = vec![self.name(&mut parts)?];
        while let Some(member) = parts.maybe(Rule::member) {
            path.push(self.name(&mut self.parts(member))?);
        }
        Ok(EdgeRef { path, span: parts.span })
    }
}
