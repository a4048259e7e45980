//! Seams that sew a stack of layers round.

use super::opening::opening_of;
use crate::eval::evaluator::{Eval, Evaluator, Stop};
use crate::eval::finish::FinishValue;
use crate::eval::value::Env;
use crate::ir::{Layer, PieceId, SeamForm, Stack};
use crate::syntax::ast::{self, SeamItem};

impl<'p> Evaluator<'p> {
    pub(crate) fn stack(
        &mut self,
        layers: &'p [ast::Layer],
        items: &[&'p SeamItem],
        env: &Env<'p>,
    ) -> Eval<(SeamForm, f64, Option<FinishValue>)> {
        let mut all = Vec::new();
        for layer in layers {
            let owner = self.owner(&layer.piece, env)?;
            let face_up = layer.face.as_ref().map(|n| n.text == "up");
            all.push(Layer { piece: owner.piece, copy: owner.copy, face_up, origin: layer.piece.span });
        }
        let Some(base) = all.first().map(|l| l.piece) else { return Err(Stop) };
        let sewn = items.iter().find_map(|i| if let SeamItem::Sew { edges, .. } = i { Some(edges) } else { None });
        let edges = self.stack_edges(base, sewn.map_or(&[], Vec::as_slice))?;
        let around = sewn.is_none_or(Vec::is_empty);
        let mut stack = Stack { layers: all, edges, around, opening: None, close: None };
        let mut length: f64 = {
            let Some(piece) = self.pieces.get(base.index()) else { return Err(Stop) };
            piece.edges.iter().filter(|e| stack.edges.contains(&e.name)).map(|e| e.sewn_length.as_mm()).sum()
        };
        if let Some(opening) = opening_of(items) {
            stack.opening = Some(self.stack_opening(opening, &stack, layers, env)?);
        }
        let (gap, close) = self.closing(stack.opening.as_ref(), items, env)?;
        stack.close = close.as_ref().map(FinishValue::on_seam);
        length -= gap;
        Ok((SeamForm::Stack(stack), length.max(0.0), close))
    }

    fn stack_edges(&mut self, base: PieceId, named: &'p [ast::Name]) -> Eval<Vec<String>> {
        let Some(piece) = self.pieces.get(base.index()) else { return Err(Stop) };
        let known: Vec<String> = piece.edges.iter().map(|e| e.name.clone()).collect();
        let owner = piece.name.clone();
        if named.is_empty() {
            return Ok(known);
        }
        for name in named {
            if !known.contains(&name.text) {
                return self.no_edge(&owner, name, known);
            }
        }
        Ok(known.into_iter().filter(|e| named.iter().any(|n| &n.text == e)).collect())
    }
}
