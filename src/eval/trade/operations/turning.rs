//! Turning work right side out, and closing the opening it went through.

use super::Bench;
use super::acts::{act, join_words, sentences, whole};
use super::reasons::same;
use crate::eval::finish::FinishValue;
use crate::geometry::Segment;
use crate::ir::{EdgeId, OperationKind, Piece, SeamForm, SeamId, Stack, Subject, Text, Where};
use crate::syntax::ast::WorkPhase;

/// Edges that meet at less than this run on into each other, in radians: 20 degrees.
const CORNER: f64 = 0.35;

impl Bench<'_, '_> {
    pub(super) fn turn_acts(&mut self, id: SeamId, close: Option<&FinishValue>) {
        let Some(seam) = self.trade.seams.get(id.index()) else { return };
        let Some(opening) = seam.form.opening() else { return };
        let mut turn = act(&seam.name, OperationKind::Turn, Subject::Seam(id), opening.origin);
        turn.what = Text::words(self.before_turning(id, "reach in through the opening"));
        let place = Where { side: opening.side.clone(), distances: vec![opening.distance], from_end: opening.from_end.clone() };
        turn.places = vec![place];
        let gap = opening.side.to - opening.side.from;
        let close = close.map(|finish| {
            let mut op = act(&seam.name, OperationKind::Close, Subject::Seam(id), finish.origin);
            op.what =
                Text::words("Close the opening: ").text(sentences(&finish.work, &[WorkPhase::Prepare, WorkPhase::Sew], "stitch it shut"));
            op.stitch.clone_from(&finish.stitch);
            op.sewn = gap * f64::from(finish.rows);
            op.plies = 4;
            op.places = turn.places.clone();
            op
        });
        self.push(turn);
        if let Some(op) = close {
            self.push(op);
        }
    }

    /// A stack that is open along an edge is turned through that, once what else is sewn to it inside out is.
    pub(super) fn open_turn_act(&mut self, id: SeamId) {
        let trade = self.trade;
        let Some(seam) = trade.seams.get(id.index()) else { return };
        let SeamForm::Stack(stack) = &seam.form else { return };
        let layers = self.layers(id);
        let other_turns = trade.seams.iter().enumerate().any(|(index, other)| {
            let later = index > id.index() && matches!(&other.form, SeamForm::Stack(s) if is_open_bag(s));
            let shares = self.layers(SeamId::at(index)).iter().filter(|l| layers.contains(l)).count() > 1;
            shares && index != id.index() && (later || other.form.opening().is_some())
        });
        if !is_open_bag(stack) || other_turns {
            return;
        }
        let Some(base) = stack.layers.first() else { return };
        let Some(piece) = self.piece(base.piece) else { return };
        let sewn: Vec<EdgeId> = (0..trade.seams.len())
            .flat_map(|seam| self.seam_edges(SeamId::at(seam)))
            .filter(|s| same(&(s.piece, s.copy), &(base.piece, base.copy)))
            .map(|s| s.edge)
            .collect();
        let edges = piece.edges.iter().enumerate().map(|(i, e)| (EdgeId::at(i), e.name.clone()));
        let open: Vec<(EdgeId, String)> = edges.filter(|(e, _)| !sewn.contains(e)).collect();
        if open.is_empty() {
            return;
        }
        let names: Vec<&str> = open.iter().map(|(_, n)| n.as_str()).collect();
        let mut turn = act(&seam.name, OperationKind::Turn, Subject::Seam(id), seam.origin);
        turn.what = Text::words(self.before_turning(id, &format!("reach in at the open {}", join_words(&names))));
        turn.places = open.iter().map(|(e, _)| whole(self.evaluator.whole_edge(base.piece, base.copy, *e))).collect();
        self.push(turn);
    }

    /// What thins a seam before it is turned, by what its pieces have, and the turning itself.
    fn before_turning(&self, id: SeamId, reach: &str) -> String {
        let layers = self.layers(id);
        let pieces: Vec<&Piece> = layers.iter().filter_map(|(p, _)| self.piece(*p)).collect();
        let (corners, curves) = (pieces.iter().any(|p| has_corners(p)), pieces.iter().any(|p| has_curves(p)));
        let mut acts = Vec::new();
        if corners {
            acts.push("Cut the allowances off across each corner, 3 mm from the stitching".to_owned());
        }
        if curves {
            acts.push("snip the allowances every 2 cm along curves, to 3 mm from the stitching".to_owned());
        }
        acts.push(reach.to_owned());
        let out = if corners { "corners and edges" } else { "the edges" };
        let text = format!("{}, turn the work right side out, and push {out} out to the seam", acts.join(", "));
        let mut letters = text.chars();
        letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
    }
}

/// Whether a stack lies with its faces inside and is open along an edge.
fn is_open_bag(stack: &Stack) -> bool {
    let faces_in =
        stack.layers.first().is_some_and(|l| l.face_up == Some(true)) && stack.layers.last().is_some_and(|l| l.face_up == Some(false));
    !stack.around && stack.opening.is_none() && faces_in
}

fn has_corners(piece: &Piece) -> bool {
    let next = piece.edges.iter().cycle().skip(1);
    piece.edges.iter().zip(next).any(|(a, b)| {
        let (into, out) = (a.path.tangent_at(a.path.length()), b.path.tangent_at(0.0));
        let turn = (into.x * out.y - into.y * out.x).atan2(into.x * out.x + into.y * out.y);
        turn.abs() > CORNER
    })
}

fn has_curves(piece: &Piece) -> bool {
    piece.edges.iter().flat_map(|e| &e.path.segments).any(|s| !matches!(s, Segment::Line { .. }))
}
