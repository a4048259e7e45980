//! Section 8: panels traced from drawings.

use pest::iterators::Pair;

use super::builder::{Builder, Built, Parts};
use super::grammar::Rule;
use crate::source::Span;
use crate::syntax::ast::{DrawingPlace, TextLiteral, Traced, TracedEdge, TracedLength};

impl<'i> Builder<'_> {
    /// What stands behind `shape traced`.
    pub(super) fn traced(&mut self, parts: &mut Parts<'i>) -> Built<Traced> {
        let span = parts.span;
        let file = self.text(parts)?;
        let path = self.traced_choice(parts, Rule::traced_path)?;
        let block = self.traced_choice(parts, Rule::traced_block)?;
        let layer = self.traced_choice(parts, Rule::traced_layer)?;
        let around = match parts.maybe(Rule::traced_around) {
            Some(pair) => Some(self.drawing_place(&mut self.parts(pair))?),
            None => None,
        };
        let unit = self.expr(parts)?;
        let corners = match parts.maybe(Rule::traced_corners) {
            Some(pair) => Some(self.expr(&mut self.parts(pair))?),
            None => None,
        };
        let edges = self.all(parts, Rule::traced_edge, Self::traced_edge)?;
        let lengths = self.all(parts, Rule::traced_length, Self::traced_length)?;
        Ok(Traced { file, path, block, layer, around, unit, corners, edges, lengths, span })
    }

    fn traced_choice(&mut self, parts: &mut Parts<'i>, rule: Rule) -> Built<Option<TextLiteral>> {
        match parts.maybe(rule) {
            Some(pair) => Ok(Some(self.text(&mut self.parts(pair))?)),
            None => Ok(None),
        }
    }

    fn traced_edge(&mut self, pair: Pair<'i, Rule>) -> Built<TracedEdge> {
        let mut parts = self.parts(pair);
        let name = self.name(&mut parts)?;
        let to = if parts.peek() == Some(Rule::drawing_place) { Some(self.drawing_place(&mut parts)?) } else { None };
        Ok(TracedEdge { name, to })
    }

    fn traced_length(&mut self, pair: Pair<'i, Rule>) -> Built<TracedLength> {
        let mut parts = self.parts(pair);
        Ok(TracedLength { edge: self.name(&mut parts)?, length: self.expr(&mut parts)? })
    }

    fn drawing_place(&mut self, parts: &mut Parts<'i>) -> Built<DrawingPlace> {
        let mut inner = self.parts(parts.take(Rule::drawing_place)?);
        let span = inner.span;
        let ((x, first), (y, second)) = (self.drawing_figure(&mut inner)?, self.drawing_figure(&mut inner)?);
        Ok(DrawingPlace { at: (x, y), unit: first.or(second), span })
    }

    /// A figure, and the measure that it is where it has a unit.
    fn drawing_figure(&mut self, parts: &mut Parts<'i>) -> Built<(f64, Option<Span>)> {
        let mut figure = self.parts(parts.take(Rule::drawing_figure)?);
        let sign = if figure.maybe(Rule::minus_op).is_some() { -1.0 } else { 1.0 };
        Ok(match figure.maybe(Rule::quantity) {
            Some(measure) => (0.0, Some(self.span(&measure))),
            None => (sign * self.figure(&figure.take(Rule::number)?), None),
        })
    }
}
