//! Section 7: outlines and the strokes of their edges.

use pest::iterators::Pair;

use super::builder::{Builder, Built, Fault, Parts};
use super::grammar::Rule;
use crate::syntax::ast::{Expr, OutlineDecl, OutlineEdge, OutlineItem, Stroke, StrokeForm};

impl<'i> Builder<'_> {
    /// `outline rectangle(…) "…" { … }`
    pub(super) fn outline(&mut self, pair: Pair<'i, Rule>) -> Built<OutlineDecl> {
        let mut parts = self.parts(pair);
        let name = self.name(&mut parts)?;
        let parameters = self.parameters(&mut parts)?;
        let doc = self.maybe_text(&mut parts)?;
        let items = self.all(&mut parts, Rule::outline_item, Self::outline_item)?;
        Ok(OutlineDecl { name, parameters, doc, items, span: parts.span })
    }

    /// One thing said in an outline.
    pub(super) fn outline_item(&mut self, pair: Pair<'i, Rule>) -> Built<OutlineItem> {
        let mut parts = self.parts(pair);
        let inner = parts.any()?;
        Ok(match inner.as_rule() {
            Rule::constant => OutlineItem::Constant(self.constant(inner)?),
            Rule::require => OutlineItem::Require(self.require(inner)?),
            Rule::outline_start => OutlineItem::Start(self.expr(&mut self.parts(inner))?),
            Rule::outline_edge => OutlineItem::Edge(self.outline_edge(inner)?),
            _ => return Err(Fault::Mismatch(parts.span)),
        })
    }

    fn outline_edge(&mut self, pair: Pair<'i, Rule>) -> Built<OutlineEdge> {
        let mut parts = self.parts(pair);
        let name = self.name(&mut parts)?;
        let strokes = self.all(&mut parts, Rule::stroke, Self::stroke)?;
        Ok(OutlineEdge { name, strokes, span: parts.span })
    }

    fn stroke(&mut self, pair: Pair<'i, Rule>) -> Built<Stroke> {
        let mut parts = self.parts(pair);
        let span = parts.span;
        let inner = parts.any()?;
        let rule = inner.as_rule();
        let mut parts = self.parts(inner);
        let to = self.stroke_end(&mut parts)?;
        let smooth = parts.maybe(Rule::smooth).is_some();
        let form = match rule {
            Rule::line_stroke => StrokeForm::Line,
            Rule::arc_stroke if smooth => StrokeForm::SmoothArc,
            Rule::arc_stroke => StrokeForm::Arc { rise: self.expr(&mut parts)? },
            Rule::curve_stroke if smooth => StrokeForm::SmoothCurve { arriving: self.expr(&mut parts)? },
            Rule::curve_stroke => StrokeForm::Curve { leaving: self.expr(&mut parts)?, arriving: self.expr(&mut parts)? },
            Rule::hung_stroke => StrokeForm::Hung { sag: self.expr(&mut parts)? },
            _ => return Err(Fault::Mismatch(span)),
        };
        Ok(Stroke { to, form, span })
    }

    fn stroke_end(&mut self, parts: &mut Parts<'i>) -> Built<Option<Expr>> {
        let mut end = self.parts(parts.take(Rule::stroke_end)?);
        self.maybe_expr(&mut end)
    }
}
