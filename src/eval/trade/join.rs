//! Seams that join edges to edges.

use super::error::TradeError;
use super::opening::opening_of;
use super::{Asked, SeamJob, Trade};
use crate::eval::call::Item;
use crate::eval::evaluator::{Eval, Evaluator};
use crate::eval::finish::{FinishValue, FinishedIn};
use crate::eval::value::{Env, Value};
use crate::ir::{self, EdgeSide, Join, SeamForm, SeamId, Stitch, StitchKind, Together};
use crate::quantity::{Length, Quantity};
use crate::source::Span;
use crate::syntax::ast::{self, SeamItem};

/// The stitch of a seam that names none: 2.5 mm, ten to the inch (trade habit, from memory).
pub(super) const USUAL_STITCH: f64 = 2.5;

impl<'p> Evaluator<'p> {
    /// A seam of either form.
    pub(crate) fn seam(&mut self, seam: &'p ast::Seam, env: &Env<'p>, trade: &mut Trade) -> Eval<()> {
        let items = self.active(&seam.items, env, split)?;
        let title = self.title(seam.title.as_ref(), env)?;
        let title = if title.is_empty() { seam.name.text.clone() } else { title };
        let given = items.iter().find_map(|i| if let SeamItem::Stitch(s) = i { Some(s) } else { None });
        let stitch = match given {
            Some(s) => self.stitch(s, env)?,
            None => Stitch { kind: StitchKind::Lockstitch, length: Length::mm(USUAL_STITCH) },
        };
        let ((form, length, close), inputs) = {
            let (outcome, inputs) = self.recording(|me| {
                for item in &items {
                    match item {
                        SeamItem::Join { first, second, .. } => return me.join(first, second, &items, env),
                        SeamItem::Stack { layers, .. } => return me.stack(layers, &items, env),
                        _ => {}
                    }
                }
                Err(crate::eval::evaluator::Stop)
            });
            (outcome?, inputs)
        };
        let finish = items.iter().find_map(|i| if let SeamItem::Finish(f) = i { Some(f) } else { None });
        let finish = finish.map(|f| self.finish_in(FinishedIn::Seam, f, env, length)).transpose()?;
        let mut inputs = inputs;
        inputs.extend(self.edges_behind(&form));
        let why = self.length_step(
            &format!("length of {}", seam.name.text),
            "the edges it runs along".to_owned(),
            length,
            seam.name.span,
            inputs,
        );
        let mut order = Asked::default();
        for item in &items {
            match item {
                SeamItem::After(names, _) => order.after.extend(self.present(names, env)?),
                SeamItem::Before(names, _) => order.before.extend(self.present(names, env)?),
                _ => {}
            }
        }
        let runs = items.iter().find_map(|i| if let SeamItem::Join { first, second, .. } = i { Some([first, second]) } else { None });
        let runs = runs.map(|sides| sides.map(|side| side.iter().map(|r| r.edge.span).collect())).unwrap_or_default();
        trade.jobs.seams.push(SeamJob { seam: SeamId::at(trade.seams.len()), runs, finish: finish.clone(), close, order });
        trade.seams.push(ir::Seam {
            name: seam.name.text.clone(),
            title,
            form,
            stitch,
            finish: finish.map(|f| f.on_seam()),
            length: Length::mm(length),
            why,
            origin: seam.name.span,
        });
        Ok(())
    }

    fn join(
        &mut self,
        first: &'p [ast::EdgeRun],
        second: &'p [ast::EdgeRun],
        items: &[&'p SeamItem],
        env: &Env<'p>,
    ) -> Eval<(SeamForm, f64, Option<FinishValue>)> {
        let first = self.chain(first, env)?;
        let second = self.chain(second, env)?;
        let length = |me: &Self, sides: &[EdgeSide]| sides.iter().map(|s| me.sewn(s)).sum::<f64>();
        let (first_length, second_length) = (length(self, &first), length(self, &second));
        let mut join = Join {
            first,
            second,
            first_length: Length::mm(first_length),
            second_length: Length::mm(second_length),
            together: Together::Faces,
            ease: None,
            gather: None,
            opening: None,
            close: None,
        };
        for item in items {
            match item {
                SeamItem::Together(t, _) => {
                    join.together = match t {
                        ast::Together::Faces => Together::Faces,
                        ast::Together::Backs => Together::Backs,
                        ast::Together::Lapped => Together::Lapped,
                    }
                }
                SeamItem::Ease(e) => join.ease = Some(self.ratio(e, env, (0.0, "nothing"), "ease, a share of the shorter edge,")?),
                SeamItem::Gather(e) => {
                    join.gather = Some(self.ratio(e, env, (1.0, "1"), "gathering, the longer edge over the shorter,")?)
                }
                _ => {}
            }
        }
        join.opening = opening_of(items).map(|o| self.join_opening(o, env)).transpose()?;
        let (gap, close) = self.closing(join.opening.as_ref(), items, env)?;
        join.close = close.as_ref().map(FinishValue::on_seam);
        Ok((SeamForm::Join(join), (first_length.min(second_length) - gap).max(0.0), close))
    }

    fn ratio(&mut self, expr: &'p ast::Expr, env: &Env<'p>, (least, words): (f64, &'static str), what: &'static str) -> Eval<f64> {
        let n = self.number(expr, env)?;
        if n < least {
            let value = self.said(&Value::Quantity(Quantity::number(n)));
            return self.fail(TradeError::Ratio { what, least: words, value, span: expr.span });
        }
        Ok(n)
    }

    fn chain(&mut self, runs: &'p [ast::EdgeRun], env: &Env<'p>) -> Eval<Vec<EdgeSide>> {
        let edges = runs.iter().map(|r| self.run(r, env)).collect::<Eval<Vec<_>>>()?;
        let spans: Vec<Span> = runs.iter().map(|r| r.edge.span).collect();
        self.each_once(&edges, &spans, true)?;
        Ok(edges)
    }

    fn run(&mut self, run: &'p ast::EdgeRun, env: &Env<'p>) -> Eval<EdgeSide> {
        let mut side = self.edge_or_line(&run.edge, env)?;
        if let Some(stretch) = &run.stretch {
            let spot = self.stretch(stretch, &side, env)?;
            side.from = Length::mm(spot.from);
            side.to = Length::mm(spot.to);
        }
        Ok(side)
    }

    /// The length of a side once the darts and pleats in it have taken theirs.
    pub(crate) fn sewn(&self, side: &EdgeSide) -> f64 {
        let (from, to) = (side.from.as_mm(), side.to.as_mm());
        match self.pieces.get(side.piece.index()) {
            Some(piece) if side.line.is_none() => piece.sewn_between(side.edge, from, to),
            _ => to - from,
        }
    }

    /// The steps behind the lengths of the edges a seam runs along.
    fn edges_behind(&self, form: &SeamForm) -> Vec<ir::TraceId> {
        let mut all = Vec::new();
        let mut add = |why| {
            if !all.contains(&why) {
                all.push(why);
            }
        };
        match form {
            SeamForm::Join(join) => {
                for side in join.first.iter().chain(&join.second) {
                    if let Ok(edge) = self.edge_of(side) {
                        add(edge.why);
                    }
                }
            }
            SeamForm::Stack(stack) => {
                let piece = stack.layers.first().and_then(|l| self.pieces.get(l.piece.index()));
                for edge in piece.map(|p| p.edges.as_slice()).unwrap_or_default() {
                    if stack.edges.contains(&edge.name) {
                        add(edge.why);
                    }
                }
            }
        }
        all
    }
}

fn split(item: &SeamItem) -> Item<'_, SeamItem> {
    match item {
        SeamItem::When(w) => Item::When(w),
        _ => Item::Other,
    }
}
