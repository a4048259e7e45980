//! A tube sewn into the mouth of another: which is slipped into which, and what waits until both are turned.

use super::Bench;
use super::reasons::{Layer, same};
use crate::ir::{EdgeId, EdgeSide, Join, OperationId, OperationKind, SeamForm, SeamId, Together, laid_on, lines_an_edge};
use crate::syntax::ast::{PanelItem, ShapeKind};

/// The two sides of a join of tubes.
#[derive(Clone, Copy)]
pub(super) struct Tubes<'a> {
    /// What is slipped into the other.
    pub(super) inner: &'a [EdgeSide],
    pub(super) outer: &'a [EdgeSide],
}

impl<'a> Bench<'a, '_> {
    fn join(&self, id: SeamId) -> Option<&'a Join> {
        let trade = self.trade;
        match trade.seams.get(id.index()).map(|s| &s.form) {
            Some(SeamForm::Join(join)) => Some(join),
            _ => None,
        }
    }

    /// The tubes that a seam joins. What hangs together of more pieces stays as it was sewn, and the other is turned and slipped into it.
    pub(super) fn tubes(&self, id: SeamId) -> Option<Tubes<'a>> {
        let join = self.join(id).filter(|j| self.meetings.tubes(id) == [true; 2] && !has_line(j))?;
        let many = |side: &[EdgeSide]| self.hanging(side, id).len();
        let (first, second) = (join.first.as_slice(), join.second.as_slice());
        Some(if many(first) > many(second) { Tubes { inner: second, outer: first } } else { Tubes { inner: first, outer: second } })
    }

    /// All pieces that hang together with one side of a join, had that not been sewn, nor anything to a line on a face.
    fn hanging(&self, side: &[EdgeSide], without: SeamId) -> Vec<Layer> {
        let mut all: Vec<Layer> = side.iter().map(|s| (s.piece, s.copy)).collect();
        let mut left: Vec<SeamId> =
            (0..self.trade.seams.len()).map(SeamId::at).filter(|s| *s != without && !self.join(*s).is_some_and(has_line)).collect();
        while let Some(at) = left.iter().position(|s| self.layers(*s).iter().any(|l| all.iter().any(|a| same(a, l)))) {
            let more = self.layers(left.swap_remove(at));
            for layer in more {
                if !all.iter().any(|a| same(a, &layer)) {
                    all.push(layer);
                }
            }
        }
        all
    }

    /// Which side of a join of two tubes lines the other: a strip cut along the other's edge, or what shuts as the other does.
    fn lining(&self, id: SeamId) -> Option<&'a [EdgeSide]> {
        let join = self.join(id).filter(|j| j.together == Together::Faces)?;
        let tubes = self.tubes(id)?;
        let (inner, outer) = (self.hanging(tubes.inner, id), self.hanging(tubes.outer, id));
        if inner.iter().any(|l| outer.iter().any(|o| same(l, o))) {
            return None;
        }
        let is_strip = |side: &[EdgeSide]| side.iter().all(|s| self.is_strip(s));
        if let Some(strip) = [join.second.as_slice(), join.first.as_slice()].into_iter().find(|s| is_strip(s)) {
            return Some(strip);
        }
        if !inner.iter().chain(&outer).all(|l| self.is_sewn_all_round(*l)) {
            return None;
        }
        let opens = |side: &[EdgeSide]| {
            let layers = self.hanging(side, id);
            let opening =
                |s: &crate::ir::Seam| s.form.opening().is_some_and(|o| layers.iter().any(|l| same(l, &(o.side.piece, o.side.copy))));
            self.trade.seams.iter().any(opening)
        };
        Some(if opens(&join.first) { &join.first } else { &join.second })
    }

    /// Whether a panel is drawn as a strip of another.
    fn is_strip(&self, side: &EdgeSide) -> bool {
        let Some(piece) = self.piece(side.piece) else { return false };
        let panel = self.evaluator.program.panels.iter().find(|p| p.item.name.text == piece.name);
        let strip = |item: &PanelItem| matches!(item, PanelItem::Shape(shape) if matches!(shape.kind, ShapeKind::Strip { .. }));
        panel.is_some_and(|p| p.item.items.iter().any(strip))
    }

    fn is_sewn_all_round(&self, layer: Layer) -> bool {
        let sewn: Vec<EdgeSide> = (0..self.trade.seams.len()).flat_map(|s| self.seam_edges(SeamId::at(s))).collect();
        let is_sewn = |edge: EdgeId| sewn.iter().any(|s| s.edge == edge && same(&(s.piece, s.copy), &layer));
        self.piece(layer.0).is_some_and(|p| (0..p.edges.len()).all(|e| is_sewn(EdgeId::at(e))))
    }

    /// Once all is turned a lining is pushed in, and then what shows at the mouth is stitched from the face.
    pub(super) fn lining_acts(&mut self) {
        let laid = laid_on(&self.trade.seams);
        // A lining that is stitched down to a line lies in its place before anything is turned.
        let seams = self.trade.seams.iter().enumerate().filter(|(_, s)| !lines_an_edge(s, &laid)).map(|(index, _)| SeamId::at(index));
        for id in seams {
            let Some(out) = self.join(id).filter(|j| j.together == Together::Faces).and_then(|_| self.turned_out(id)) else { continue };
            if let Some(lining) = self.lining(id) {
                let words = format!(
                    "; push the part that ends in {} into the other, backs together, so that the seam lies at the edge",
                    self.rim(lining)
                );
                if let Some(op) = self.list.get_mut(out.index()) {
                    op.what = std::mem::take(&mut op.what).then(words);
                }
            }
            // What encloses the raw edges is worked from inside.
            let finish = self.trade.seams.get(id.index()).and_then(|s| s.finish.as_ref());
            if self.tubes(id).is_some() && finish.is_some_and(|f| f.stitch.is_some() && !f.encloses) {
                self.shown.push((id, out));
            }
        }
    }

    /// The act that brings the face of a seam out: the turning of its bag, or the closing of the opening it was turned through.
    fn turned_out(&self, id: SeamId) -> Option<OperationId> {
        let bag = self.bags.iter().find(|(_, bag)| bag.contains(&id)).map(|(turn, _)| *turn);
        let through = || {
            let all = [id].into_iter().chain(self.connected(id));
            let kinds = [OperationKind::Close, OperationKind::Turn];
            all.filter(|s| self.join(*s).is_some()).find_map(|s| kinds.into_iter().find_map(|kind| self.of_seam(s, kind)))
        };
        bag.or_else(through)
    }

    pub(super) fn shown_reasons(&mut self) {
        for (seam, out) in self.shown.clone() {
            if let Some(finish) = self.of_seam(seam, OperationKind::FinishSeam) {
                self.advised(finish, out, "it is stitched from the face");
            }
        }
    }

    /// Whether a seam is finished from the face, once the work is turned.
    pub(super) fn is_shown(&self, seam: SeamId) -> bool {
        self.shown.iter().any(|(s, _)| *s == seam)
    }
}

/// Whether something is sewn to a line on a face.
fn has_line(join: &Join) -> bool {
    join.first.iter().chain(&join.second).any(|s| s.line.is_some())
}
