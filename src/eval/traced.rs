//! Panels traced from drawings: what depends on the size, and the edges.

use super::draft::EdgeInput;
use super::error::EvalError;
use super::evaluator::{Eval, Evaluator, Stop};
use super::value::{Env, Value, amount};
use crate::quantity::Dimension;
use crate::syntax::ast;
use crate::trace::{End, Named, Stated, check_scale};

/// What turns by more than this is a corner where the source doesn't say: 20 degrees, more than chords along a curve turn
/// from one to the next, less than any corner that is sewn as one.
const CORNER: f64 = 20.0 * std::f64::consts::PI / 180.0;

impl<'p> Evaluator<'p> {
    /// The edges of an outline traced from a drawing.
    pub(crate) fn traced_shape(&mut self, traced: &'p ast::Traced, env: &Env<'p>) -> Eval<Vec<EdgeInput>> {
        let program = self.program;
        let Some(drawn) = program.tracings.get(&traced.span) else { return Err(Stop) };
        let unit = self.more_than_nothing(&traced.unit, env, Dimension::LENGTH, "a unit of the drawing")?;
        let turn = match &traced.corners {
            Some(angle) => self.more_than_nothing(angle, env, Dimension::ANGLE, "what a corner turns by")?,
            None => CORNER,
        };
        let named = |edge: &ast::TracedEdge| Named {
            name: edge.name.text.clone(),
            end: edge.to.map(|place| End { at: place.at, span: place.span }),
            span: edge.name.span,
        };
        let names: Vec<Named> = traced.edges.iter().map(named).collect();
        let whole = names.iter().map(|n| n.span).reduce(crate::source::Span::to).unwrap_or(traced.span);
        let paths = match drawn.edges(&names, turn, unit, whole) {
            Ok(paths) => paths,
            Err(error) => return self.fail(error),
        };
        let edges: Vec<EdgeInput> =
            names.into_iter().zip(paths).map(|(named, path)| EdgeInput { name: named.name, path, taken: None, span: named.span }).collect();
        for stated in &traced.lengths {
            let length = self.more_than_nothing(&stated.length, env, Dimension::LENGTH, "the length of an edge")?;
            let Some(edge) = edges.iter().find(|e| e.name == stated.edge.text) else { return Err(Stop) };
            let said = Stated { edge: stated.edge.text.clone(), length, span: stated.length.span, unit: (unit, traced.unit.span) };
            if let Err(error) = check_scale(&said, edge.path.length(), drawn.says()) {
                return self.fail(error);
            }
        }
        Ok(edges)
    }

    fn more_than_nothing(&mut self, expr: &'p ast::Expr, env: &Env<'p>, dimension: Dimension, what: &'static str) -> Eval<f64> {
        let wanted = if dimension == Dimension::ANGLE { "an angle" } else { "a length" };
        let found = self.of_dimension(expr, env, dimension, wanted)?;
        if found > 0.0 {
            return Ok(found);
        }
        let value = self.said(&Value::Quantity(amount(found, dimension)));
        self.fail(EvalError::NotPositive { what, value, span: expr.span })
    }
}
