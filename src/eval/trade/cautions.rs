//! Cautions that follow from the whole of a design and not from any one thing in it.

use super::Trade;
use crate::eval::evaluator::Evaluator;
use crate::ir::{MaterialKind, Piece, PieceId, SeamForm, Text};

/// A piece this long and this wide goes round a grown body, mm: the shortest of adults are about 1.5 m.
const BODY: (f64, f64) = (1400.0, 500.0);

/// A piece this large goes round or over a child, mm.
const CHILD: f64 = 600.0;

/// Bedding and babies: published advice of paediatric and product-safety bodies, read.
const BABIES: &str =
    "Not for babies: no quilt, pillow or other soft bedding belongs with a child under twelve months, who can smother under it.";

/// Habit of the trade, from memory.
const SHUT_IN: &str = "What closes round a whole body must open from inside, in the dark, with one hand, and no cord may tighten where the one inside \
                       can't reach it.";

/// Habit of the trade, from memory.
const BREATHING: &str = "If it can lie over your face, leave an opening there that can't be shut, or one of mesh: cloth that keeps water out keeps \
                         air out, and breath wets batting.";

impl Evaluator<'_> {
    /// Adds what the design as a whole asks to be said.
    pub(super) fn whole_cautions(&mut self, trade: &Trade) {
        let body = |p: &Piece| {
            let (w, h) = (p.finished.width.as_mm(), p.finished.height.as_mm());
            w.max(h) >= BODY.0 && w.min(h) >= BODY.1
        };
        let large = |p: &Piece| p.finished.width.as_mm().max(p.finished.height.as_mm()) >= CHILD;
        let batting = self.pieces.iter().any(|p| large(p) && self.is_kind(p, MaterialKind::Batting));
        let shut = trade.attachments.iter().any(|a| {
            let closes = a.uses.iter().filter_map(|u| self.materials.get(u.material.index()));
            let closes = closes.filter(|m| matches!(m.kind, MaterialKind::Zipper | MaterialKind::Cord)).count() > 0;
            closes && self.pieces.get(a.piece.index()).is_some_and(body)
        });
        let bag = trade.seams.iter().any(|s| match &s.form {
            // A tube, or two long sides sewn together.
            SeamForm::Join(join) => join.first.iter().any(|a| {
                let long = (a.to - a.from).as_mm() >= BODY.0 * 0.7;
                long && self.is_body(a.piece, body) && join.second.iter().any(|b| b.piece == a.piece && b.copy == a.copy)
            }),
            SeamForm::Stack(stack) => !stack.around && stack.layers.iter().filter(|l| self.is_body(l.piece, body)).count() > 1,
        });
        if batting {
            self.caution(Text::words(BABIES));
        }
        if shut || bag {
            self.caution(Text::words(SHUT_IN));
            self.caution(Text::words(BREATHING));
        }
    }

    fn is_kind(&self, piece: &Piece, kind: MaterialKind) -> bool {
        self.materials.get(piece.material.index()).is_some_and(|m| m.kind == kind)
    }

    fn is_body(&self, piece: PieceId, body: impl Fn(&Piece) -> bool) -> bool {
        self.pieces.get(piece.index()).is_some_and(body)
    }
}
