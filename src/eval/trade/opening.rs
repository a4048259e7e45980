//! Openings that seams are turned through.

use super::error::TradeError;
use crate::eval::draft::notch_on;
use crate::eval::evaluator::{Eval, Evaluator, Stop};
use crate::eval::finish::{FinishValue, FinishedIn};
use crate::eval::value::Env;
use crate::ir::{EdgeSide, Notch, NotchReason, Opening, Stack};
use crate::quantity::Length;
use crate::source::Span;
use crate::syntax::ast::{self, SeamItem};

/// The opening that a seam's items ask for.
pub(super) fn opening_of<'p>(items: &[&'p SeamItem]) -> Option<&'p ast::Opening> {
    items.iter().find_map(|i| if let SeamItem::Opening(o) = i { Some(o) } else { None })
}

impl<'p> Evaluator<'p> {
    /// The opening of a stack, between two of its layers.
    pub(super) fn stack_opening(
        &mut self,
        opening: &'p ast::Opening,
        stack: &Stack,
        layers: &'p [ast::Layer],
        env: &Env<'p>,
    ) -> Eval<Opening> {
        let side = self.edge_side(&opening.edge, env)?;
        if !stack.layers.iter().any(|l| l.piece == side.piece) {
            let (edge, layers) = (self.side_name(&side), layers.iter().map(|l| l.piece.text.clone()).collect());
            return self.fail(TradeError::OpeningElsewhere { edge, layers, span: opening.edge.span });
        }
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
        let (a, b) = match &opening.between {
            Some((a, b)) => (index(a)?, index(b)?),
            // Where only two meet it lies between these.
            None => (0, 1),
        };
        self.opening_on(opening, side, (a.min(b), a.max(b)), env)
    }

    /// The opening of a join, between its two sides.
    pub(super) fn join_opening(&mut self, opening: &'p ast::Opening, env: &Env<'p>) -> Eval<Opening> {
        let side = self.edge_side(&opening.edge, env)?;
        self.opening_on(opening, side, (0, 1), env)
    }

    fn opening_on(&mut self, opening: &'p ast::Opening, mut side: EdgeSide, between: (u32, u32), env: &Env<'p>) -> Eval<Opening> {
        let spot = self.stretch_of(&opening.length, &opening.from, &side, env, opening.span)?;
        side.from = Length::mm(spot.from);
        side.to = Length::mm(spot.to);
        self.opening_notches(&side, opening.span)?;
        Ok(Opening { side, distance: Length::mm(spot.distance), from_end: spot.from_end, between, origin: opening.span })
    }

    /// How long an opening is, and the finish that closes it.
    pub(super) fn closing(&mut self, opening: Option<&Opening>, items: &[&'p SeamItem], env: &Env<'p>) -> Eval<(f64, Option<FinishValue>)> {
        let gap = opening.map_or(0.0, |o| o.side.to.as_mm() - o.side.from.as_mm());
        let close = items.iter().find_map(|i| if let SeamItem::Close(f) = i { Some(f) } else { None });
        Ok((gap, close.map(|f| self.finish_in(FinishedIn::Opening, f, env, gap)).transpose()?))
    }

    /// A notch at each end of the opening, where the allowance leaves room for one.
    fn opening_notches(&mut self, side: &EdgeSide, origin: Span) -> Eval<()> {
        let edge = self.edge_of(side)?;
        let (path, allowance) = (edge.path.clone(), edge.allowance.as_mm());
        let Some(piece) = self.pieces.get_mut(side.piece.index()) else { return Err(Stop) };
        for at in [side.from.as_mm(), side.to.as_mm()] {
            if let Ok(slit) = notch_on(&path, allowance, &piece.cut_line, at) {
                piece.notches.push(Notch {
                    edge: side.edge,
                    at: Length::mm(at),
                    point: slit.point,
                    inward: slit.inward,
                    depth: Length::mm(slit.depth),
                    reason: NotchReason::Opening,
                    origin,
                });
            }
        }
        Ok(())
    }
}
