//! Outlines: strokes to paths.

use super::call::Item;
use super::draft::EdgeInput;
use super::error::EvalError;
use super::evaluator::{Eval, Evaluator, Stop};
use super::value::{Env, Value, amount};
use crate::check::Entity;
use crate::geometry::{COINCIDENT, Path, Point, Segment, catenary_segments};
use crate::quantity::Dimension;
use crate::source::Span;
use crate::syntax::ast::{self, OutlineItem, StrokeForm};

impl<'p> Evaluator<'p> {
    /// The edges of an outline called by name.
    pub(crate) fn outline_call(
        &mut self,
        outline: &'p ast::Name,
        arguments: &'p ast::Arguments,
        env: &Env<'p>,
        span: Span,
    ) -> Eval<Vec<EdgeInput>> {
        let program = self.program;
        let Entity::Outline(id) = self.entity(env.scope, outline)? else {
            return self.fail(EvalError::WrongKind { wanted: "an outline", got: format!("`{}`", outline.text), span: outline.span });
        };
        let Some(declared) = program.outlines.get(id.index()) else { return Err(Stop) };
        let inner = self.bind(declared.scope, &declared.item.parameters, arguments, env, &outline.text)?;
        self.outline(&declared.item.items, &inner, span, Some(span))
    }

    /// The edges of an outline drawn; reports stand at `used_at` when it is drawn elsewhere.
    pub(crate) fn outline(&mut self, items: &'p [OutlineItem], env: &Env<'p>, span: Span, used_at: Option<Span>) -> Eval<Vec<EdgeInput>> {
        let items = self.active(items, env, split)?;
        for item in &items {
            if let OutlineItem::Require(require) = item {
                self.require(require, env, used_at)?;
            }
        }
        let start = items.iter().find_map(|i| if let OutlineItem::Start(e) = i { Some(e) } else { None });
        let Some(start) = start else { return self.fail(EvalError::NotClosed { gap: "its start".to_owned(), span }) };
        let start = self.point(start, env)?;
        let (mut at, mut edges) = (start, Vec::new());
        for item in items {
            if let OutlineItem::Edge(edge) = item {
                let mut path = Path { start: at, segments: Vec::new() };
                for stroke in &edge.strokes {
                    let segments = self.stroke(stroke, at, start, env, used_at)?;
                    at = segments.last().map_or(at, Segment::end);
                    path.segments.extend(segments);
                }
                edges.push(EdgeInput { name: edge.name.text.clone(), path, span: used_at.unwrap_or(edge.span) });
            }
        }
        if at.distance(start) > COINCIDENT {
            let gap = self.word(&Value::Quantity(amount(at.distance(start), Dimension::LENGTH)));
            return self.fail(EvalError::NotClosed { gap, span: used_at.unwrap_or(span) });
        }
        Ok(edges)
    }

    fn stroke(&mut self, stroke: &'p ast::Stroke, from: Point, start: Point, env: &Env<'p>, used_at: Option<Span>) -> Eval<Vec<Segment>> {
        let end = match &stroke.to {
            Some(to) => self.point(to, env)?,
            None => start,
        };
        let at = used_at.unwrap_or(stroke.span);
        let chord = from.distance(end);
        Ok(match &stroke.form {
            StrokeForm::Line => vec![Segment::Line { end }],
            StrokeForm::Curve { leaving, arriving } => {
                vec![Segment::Cubic { leaving: self.point(leaving, env)?, arriving: self.point(arriving, env)?, end }]
            }
            StrokeForm::Arc { rise } => {
                let rise = self.length(rise, env)?;
                if chord <= COINCIDENT {
                    return self.fail(EvalError::BadArc { span: at });
                }
                // tan(angle/4) is rise over half the chord; a positive rise bulges outward,
                // which is to the right of travel, so the arc turns left.
                if rise == 0.0 { vec![Segment::Line { end }] } else { vec![Segment::Arc { end, bulge: rise / (chord / 2.0) }] }
            }
            StrokeForm::Hung { sag } => {
                let q = self.quantity(sag, env)?;
                let sag = match q.dimension {
                    Dimension::LENGTH => q.value,
                    Dimension::NUMBER => q.value * chord,
                    _ => return self.wrong("a length, or a fraction of the span", &Value::Quantity(q), stroke.span),
                };
                match catenary_segments(from, end, sag) {
                    Some(segments) => segments,
                    None => return self.fail(EvalError::BadArc { span: at }),
                }
            }
        })
    }
}

fn split(item: &OutlineItem) -> Item<'_, OutlineItem> {
    match item {
        OutlineItem::Constant(c) => Item::Let(c),
        _ => Item::Other,
    }
}
