//! Outlines: strokes to paths.

use super::call::Item;
use super::draft::EdgeInput;
use super::error::EvalError;
use super::evaluator::{Eval, Evaluator, Stop};
use super::value::{Env, Value};
use crate::check::Entity;
use crate::geometry::{COINCIDENT, Path, Point, Side, Vector};
use crate::quantity::{Dimension, Length, Quantity, said_length, said_most};
use crate::source::Span;
use crate::syntax::ast::{self, OutlineItem, StrokeForm};

/// A curve may hang this many times its span, no more: no cloth edge comes near it.
const MAX_SAG: f64 = 5.0;

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
        let drawn: Vec<_> = items.into_iter().filter_map(|i| if let OutlineItem::Edge(e) = i { Some(e) } else { None }).collect();
        let ends = self.ends(&drawn, start, env)?;
        let end = ends.last().copied().unwrap_or(start);
        if end.distance(start) > COINCIDENT {
            let gap = self.said(&Value::Quantity(Quantity::mm(end.distance(start))));
            return self.fail(EvalError::NotClosed { gap, span: used_at.unwrap_or(span) });
        }
        let outside = outside(start, &ends);
        let (mut at, mut rest, mut direction) = (start, ends.into_iter(), Vector::default());
        let mut edges = Vec::new();
        for edge in drawn {
            let mut path = Path::new(at);
            for stroke in &edge.strokes {
                let end = rest.next().unwrap_or(start);
                let drawn = self.stroke(stroke, Between { from: at, direction, end, outside }, env, used_at)?;
                let arrives = drawn.tangent_at_end();
                direction = if arrives == Vector::default() { direction } else { arrives };
                path = path.then(&drawn);
                at = end;
            }
            edges.push(EdgeInput { name: edge.name.text.clone(), path, taken: None, span: used_at.unwrap_or(edge.span) });
        }
        Ok(edges)
    }

    /// Where every stroke ends, in order.
    fn ends(&mut self, edges: &[&'p ast::OutlineEdge], start: Point, env: &Env<'p>) -> Eval<Vec<Point>> {
        let strokes = edges.iter().flat_map(|e| &e.strokes);
        strokes.map(|s| s.to.as_ref().map_or(Ok(start), |to| self.point(to, env))).collect()
    }

    fn stroke(&mut self, stroke: &'p ast::Stroke, between: Between, env: &Env<'p>, used_at: Option<Span>) -> Eval<Path> {
        let at = used_at.unwrap_or(stroke.span);
        let Between { from, direction, end, outside } = between;
        let chord = from.distance(end);
        let inside = if outside == Side::Left { Side::Right } else { Side::Left };
        match &stroke.form {
            StrokeForm::Line => Ok(Path::line(from, end)),
            StrokeForm::Curve { leaving, arriving } => {
                let (leaving, arriving) = (self.point(leaving, env)?, self.point(arriving, env)?);
                Ok(Path::new(from).cubic_to(leaving, arriving, end))
            }
            StrokeForm::SmoothCurve { arriving } => {
                let arriving = self.point(arriving, env)?;
                let reach = arriving.distance(end);
                match direction == Vector::default() {
                    true => self.fail(EvalError::SmoothAfterNothing { span: at }),
                    false if reach <= COINCIDENT => self.fail(EvalError::SmoothReach { span: at }),
                    false => Ok(Path::new(from).cubic_to(from + direction * reach, arriving, end)),
                }
            }
            _ if chord <= COINCIDENT => self.fail(EvalError::NoChord { span: at }),
            StrokeForm::Arc { rise } => Ok(Path::arc_by_rise(from, end, self.length(rise, env)?, outside)),
            StrokeForm::SmoothArc if direction == Vector::default() => self.fail(EvalError::SmoothAfterNothing { span: at }),
            StrokeForm::SmoothArc => match Path::arc_leaving(from, direction, end) {
                Some(arc) => Ok(arc),
                None => {
                    let turn = 2.0 * direction.turn_to(end - from).abs().to_degrees();
                    let by = (turn < 359.9).then(|| format!("{turn:.0} deg"));
                    self.fail(EvalError::SmoothTurns { by, span: at })
                }
            },
            StrokeForm::Hung { sag } => {
                let q = self.quantity(sag, env)?;
                let sag = match q.dimension {
                    Dimension::LENGTH => q.value,
                    Dimension::NUMBER => q.value * chord,
                    _ => return self.wrong("a length, or a fraction of the span", &Value::Quantity(q), stroke.span),
                };
                if sag.abs() > MAX_SAG * chord {
                    return self.fail(EvalError::HungTooDeep {
                        sag: said_length(Length::mm(sag)),
                        most: said_most(Length::mm(MAX_SAG * chord)),
                        span: at,
                    });
                }
                Ok(Path::catenary(from, end, sag, inside))
            }
        }
    }
}

/// Where a stroke runs.
#[derive(Clone, Copy)]
struct Between {
    from: Point,
    /// The way the strokes before it arrive; zero when none has any length.
    direction: Vector,
    end: Point,
    /// The side of travel that lies outside.
    outside: Side,
}

/// The side of travel that lies outside; an outline of two arcs is taken to run counter-clockwise.
fn outside(start: Point, ends: &[Point]) -> Side {
    let mut twice_area = 0.0;
    let mut at = start;
    for &end in ends {
        twice_area += (at - start).cross(end - start);
        at = end;
    }
    if twice_area < -COINCIDENT { Side::Left } else { Side::Right }
}

fn split(item: &OutlineItem) -> Item<'_, OutlineItem> {
    match item {
        OutlineItem::Constant(c) => Item::Let(c),
        _ => Item::Other,
    }
}
