//! Outlines made from others: taken from another panel, a strip along its edge, edges moved, outlines laid on top.

use super::draft::{self, DraftedEdge, EdgeInput, MoveInput, PanelInput, TakenOver, ToolInput, ToolKind, ToolPlace};
use super::error::EvalError;
use super::evaluator::{Eval, Evaluator, Stop};
use super::panel::{Sayings, note};
use super::value::Env;
use crate::check::Entity;
use crate::geometry::Path;
use crate::ir::{self, EdgePart};
use crate::source::Span;
use crate::syntax::ast::{self, LayKind, LayPlace};

impl<'p> Evaluator<'p> {
    /// The finished edges of another panel, as its piece has them.
    fn edges_of(&mut self, other: &'p ast::Name, env: &Env<'p>, said: &mut Sayings<'p>) -> Eval<Vec<EdgeInput>> {
        let Entity::Panel(id) = self.entity(env.scope, other)? else {
            return self.fail(EvalError::WrongKind { wanted: "a panel", got: format!("`{}`", other.text), span: other.span });
        };
        let first = self.panel(id, other.span)?;
        if let Some(parts) = self.parts.get(&first) {
            said.shape_inputs.push(parts.finished.why);
            return Ok(parts.outline.clone());
        }
        let Some(piece) = self.pieces.get(first.index()) else { return Err(Stop) };
        said.shape_inputs.push(piece.finished.why);
        let taken = |e: &ir::Edge| edge_input(&e.name, &e.path, &e.parts, (&e.start_neighbour, &e.end_neighbour), e.origin);
        Ok(piece.edges.iter().map(taken).collect())
    }

    /// The finished outline of another panel.
    pub(crate) fn shape_as(&mut self, other: &'p ast::Name, span: Span, env: &Env<'p>, said: &mut Sayings<'p>) -> Eval<()> {
        said.input.edges = self.edges_of(other, env, said)?;
        said.taken_over = said.input.edges.iter().map(|edge| (edge.span, span)).collect();
        said.shape_how = self.sources.snippet(span).to_owned();
        Ok(())
    }

    /// A strip along an edge of another panel.
    pub(crate) fn shape_strip(
        &mut self,
        (panel, edge, wide): (&'p ast::Name, &'p ast::Name, &'p ast::Expr),
        span: Span,
        env: &Env<'p>,
        said: &mut Sayings<'p>,
    ) -> Eval<()> {
        let edges = self.edges_of(panel, env, said)?;
        self.no_split(panel, edge, env)?;
        let (wide, inputs) = self.recording(|me| me.length(wide, env));
        let of = PanelInput { name: panel.text.clone(), edges, span, ..PanelInput::default() };
        let drawn = draft::strip(&of, &(edge.text.clone(), edge.span), wide?, span, &mut self.problems);
        said.input.edges = drawn.ok_or(Stop)?;
        said.shape_how = self.sources.snippet(span).to_owned();
        said.shape_inputs.extend(inputs);
        Ok(())
    }

    /// Stops at the line of a split, which a strip has no side of.
    fn no_split(&mut self, panel: &'p ast::Name, edge: &'p ast::Name, env: &Env<'p>) -> Eval<()> {
        let Entity::Panel(id) = self.entity(env.scope, panel)? else { return Ok(()) };
        let first = self.panel(id, panel.span)?;
        let is_edge = |parts: &super::parts::Parts| parts.outline.iter().any(|e| e.name == edge.text);
        let is_line = |parts: &super::parts::Parts| !is_edge(parts) && parts.edges.iter().any(|e| e.name == edge.text);
        if self.parts.get(&first).is_some_and(is_line) {
            return self.fail(EvalError::StripOfSplit { panel: panel.text.clone(), split: edge.text.clone(), span: edge.span });
        }
        Ok(())
    }

    pub(crate) fn move_edges(&mut self, moved: &'p ast::Move, env: &Env<'p>, said: &mut Sayings<'p>) -> Eval<()> {
        let (by, inputs) = self.recording(|me| me.length(&moved.by, env));
        let by = by?;
        note(said, &inputs, self.sources.snippet(moved.span));
        let line = |edge| MoveInput { edge, by, outward: moved.outward, span: moved.span };
        if moved.edges.is_empty() {
            said.input.moves.push(line(None));
        }
        said.input.moves.extend(moved.edges.iter().map(|e| line(Some((e.text.clone(), e.span)))));
        Ok(())
    }

    pub(crate) fn lay(&mut self, lay: &'p ast::Lay, env: &Env<'p>, said: &mut Sayings<'p>) -> Eval<()> {
        let (found, inputs) = self.recording(|me| {
            let edges = me.outline_call(&lay.outline, &lay.arguments, env, lay.span)?;
            let at = match &lay.at {
                LayPlace::Point(at) => ToolPlace::Point(me.point(at, env)?),
                LayPlace::Corner(c) => ToolPlace::Corner(c.first.text.clone(), c.second.text.clone(), c.span),
            };
            Ok((edges, at))
        });
        let (edges, at) = found?;
        note(said, &inputs, self.sources.snippet(lay.span));
        let kind = match lay.kind {
            LayKind::Add => ToolKind::Add,
            LayKind::Keep => ToolKind::Keep,
            LayKind::Remove => ToolKind::Remove,
        };
        let edges = edges.into_iter().map(|e| (e.name, e.path)).collect();
        said.input.tools.push(ToolInput { kind, name: lay.name.text.clone(), edges, at, span: lay.span });
        Ok(())
    }
}

/// A drafted edge as another panel takes it over.
pub(crate) fn taken_over(edge: &DraftedEdge) -> EdgeInput {
    edge_input(&edge.name, &edge.path, &edge.parts, (&edge.start_neighbour, &edge.end_neighbour), edge.span)
}

fn edge_input(name: &str, path: &Path, parts: &[EdgePart], ends: (&str, &str), span: Span) -> EdgeInput {
    let parts = parts.iter().map(|p| (p.name.clone(), p.from.as_mm(), p.to.as_mm())).collect();
    let taken = TakenOver { parts, ends: (ends.0.to_owned(), ends.1.to_owned()) };
    EdgeInput { name: name.to_owned(), path: path.clone(), taken: Some(taken), span }
}
