//! Seams that sew a stack of layers round.

use super::error::TradeError;
use crate::eval::draft::{Notched, Wanted, notches_on};
use crate::eval::evaluator::{Eval, Evaluator, Stop};
use crate::eval::finish::FinishValue;
use crate::eval::value::Env;
use crate::ir::{Layer, NotchReason, Opening, PieceId, SeamForm, Stack};
use crate::quantity::Length;
use crate::source::Span;
use crate::syntax::ast::{self, SeamItem};

impl<'p> Evaluator<'p> {
    pub(crate) fn stack(
        &mut self,
        layers: &'p [ast::Layer],
        span: Span,
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
        if let Some(opening) = items.iter().find_map(|i| if let SeamItem::Opening(o) = i { Some(o) } else { None }) {
            let found = self.opening(opening, &stack, layers, env)?;
            length -= found.side.to.as_mm() - found.side.from.as_mm();
            stack.opening = Some(found);
        }
        let close = items.iter().find_map(|i| if let SeamItem::Close(f) = i { Some(f) } else { None });
        let gap = stack.opening.as_ref().map_or(0.0, |o| o.side.to.as_mm() - o.side.from.as_mm());
        let close = close.map(|f| self.finish(f, env, gap)).transpose()?;
        stack.close = close.as_ref().map(FinishValue::on_seam);
        let _ = span;
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

    fn opening(&mut self, opening: &'p ast::Opening, stack: &Stack, layers: &'p [ast::Layer], env: &Env<'p>) -> Eval<Opening> {
        let mut side = self.edge_side(&opening.edge, env)?;
        if !stack.layers.iter().any(|l| l.piece == side.piece) {
            let (edge, layers) = (self.side_name(&side), layers.iter().map(|l| l.piece.text.clone()).collect());
            return self.fail(TradeError::OpeningElsewhere { edge, layers, span: opening.edge.span });
        }
        let spot = self.stretch_of(&opening.length, &opening.from, &side, env, opening.span)?;
        side.from = Length::mm(spot.from);
        side.to = Length::mm(spot.to);
        let mut index = |name: &'p ast::Name| {
            let found = layers.iter().position(|l| l.piece.text == name.text);
            match found {
                Some(i) => Ok(u32::try_from(i).unwrap_or(u32::MAX)),
                None => {
                    let layers = layers.iter().map(|l| l.piece.text.clone()).collect();
                    self.fail(TradeError::NotALayer { name: name.text.clone(), layers, span: name.span })
                }
            }
        };
        let (a, b) = (index(&opening.between.0)?, index(&opening.between.1)?);
        self.opening_notches(&side, opening.span)?;
        Ok(Opening {
            side,
            distance: Length::mm(spot.distance),
            from_end: spot.from_end,
            between: (a.min(b), a.max(b)),
            origin: opening.span,
        })
    }

    /// A notch at each end of the opening, where the allowance leaves room for one.
    fn opening_notches(&mut self, side: &crate::ir::EdgeSide, origin: Span) -> Eval<()> {
        let edge = self.edge_of(side)?;
        let (path, allowance) = (edge.path.clone(), edge.allowance.as_mm());
        let Some(piece) = self.pieces.get_mut(side.piece.index()) else { return Err(Stop) };
        for at in [side.from.as_mm(), side.to.as_mm()] {
            let on = Notched { edge: &path, id: side.edge, allowance, cut_line: &piece.cut_line };
            if let Ok(found) = notches_on(&on, &Wanted::slit(at, NotchReason::Opening, origin)) {
                piece.notches.extend(found);
            }
        }
        Ok(())
    }
}
