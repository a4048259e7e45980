//! Chains of edges in a join: that each begins where the one before it ends.

use super::Trade;
use super::error::{TradeError, words};
use crate::eval::error::EvalError;
use crate::eval::evaluator::{Eval, Evaluator, MAX_CHAIN};
use crate::ir::{Apart, By, EdgeId, EdgeSide, Meetings, Piece, Pin, SeamForm};
use crate::quantity::Length;
use crate::source::Span;

/// A corner and a place closer than this are one, mm: what pinning takes up.
const NEAR: f64 = 2.0;

/// More corners than this are not told.
const MOST_TOLD: usize = 4;

/// What sewing brings together; without joins and rows nothing, since nobody asks.
pub(super) fn meetings<'e>(evaluator: &'e Evaluator<'_>, trade: &'e Trade) -> Meetings<'e> {
    let asked = trade.seams.iter().any(|s| matches!(s.form, SeamForm::Join(_))) || trade.jobs.attached.iter().any(|j| !j.row.is_empty());
    let (seams, attachments) = if asked { (trade.seams.as_slice(), trade.attachments.as_slice()) } else { (&[][..], &[][..]) };
    Meetings::of(&evaluator.pieces, seams, attachments)
}

/// Every chain whose edges don't follow each other.
pub(super) fn apart(evaluator: &Evaluator<'_>, trade: &Trade, meetings: &Meetings<'_>) -> Vec<TradeError> {
    let one = |(seam, apart): &(crate::ir::SeamId, Apart)| {
        let Some(SeamForm::Join(join)) = trade.seams.get(seam.index()).map(|s| &s.form) else { return None };
        let [first, second] = &trade.jobs.seams.iter().find(|j| j.seam == *seam)?.runs;
        let (edges, spans) = if apart.second { (&join.second, second) } else { (&join.first, first) };
        Chain { evaluator, trade, meetings, edges, apart }.error(spans, false)
    };
    let in_a_row = |job: &super::AttachJob| {
        let edges: Vec<EdgeSide> = job.places.iter().map(|w| w.side.clone()).collect();
        let apart = if job.row.is_empty() { return None } else { meetings.follow(&edges).err()? };
        Chain { evaluator, trade, meetings, edges: &edges, apart: &apart }.error(&job.row, true)
    };
    let rows = trade.jobs.attached.iter().filter_map(in_a_row);
    meetings.apart.iter().filter_map(one).chain(rows).collect()
}

impl Evaluator<'_> {
    /// Stops at a chain that is longer than can be walked, or that goes over the same stretch of an edge twice.
    pub(super) fn each_once(&mut self, edges: &[EdgeSide], spans: &[Span], of_a_seam: bool) -> Eval<()> {
        if let Some(&span) = spans.get(MAX_CHAIN) {
            let count = spans.len() as f64;
            return self.fail(EvalError::TooMany { what: "edges follow each other here", count, most: MAX_CHAIN, span });
        }
        let overlaps = |a: &EdgeSide, b: &EdgeSide| a.to.as_mm().min(b.to.as_mm()) - a.from.as_mm().max(b.from.as_mm()) > NEAR;
        for (index, (edge, span)) in edges.iter().zip(spans).enumerate() {
            let alike =
                |other: &EdgeSide| (other.piece, other.copy, other.edge, &other.line) == (edge.piece, edge.copy, edge.edge, &edge.line);
            let before = edges.iter().zip(spans).take(index).find(|(other, _)| alike(other) && overlaps(other, edge));
            if let Some((_, first)) = before {
                return self.fail(TradeError::ChainDoubles { edge: self.side_name(edge), of_a_seam, spans: [*first, *span] });
            }
        }
        Ok(())
    }
}

struct Chain<'e, 'p> {
    evaluator: &'e Evaluator<'p>,
    trade: &'e Trade,
    meetings: &'e Meetings<'e>,
    edges: &'e [EdgeSide],
    apart: &'e Apart,
}

impl Chain<'_, '_> {
    fn error(&self, spans: &[Span], attached: bool) -> Option<TradeError> {
        let at = self.apart.index;
        let (one, next) = (self.edges.get(at)?, self.edges.get(at + 1)?);
        let spans = [*spans.get(at)?, *spans.get(at + 1)?];
        let name = |side: &EdgeSide| self.evaluator.side_name(side);
        // Which end is meant can only be guessed at the beginning of a chain: the one where something fits.
        let fits = self.apart.ends.iter().find_map(|pin| Some((pin, self.fits(pin, one, next)?)));
        let meant =
            fits.as_ref().map(|(pin, _)| *pin).or_else(|| self.apart.ends.iter().find(|pin| self.meetings.brought(**pin).len() > 1));
        let ends: Vec<String> = match meant {
            Some(pin) => vec![self.corner(pin)],
            None => self.apart.ends.iter().map(|pin| self.corner(pin)).collect(),
        };
        let there = meant.map(|pin| self.meetings.brought(*pin)).unwrap_or_default();
        let there = there.iter().skip(1).take(MOST_TOLD).map(|b| self.corner(&b.pin)).collect();
        let slit = self.apart.ends.iter().find_map(|pin| self.meetings.long_slit(pin, next)).filter(|_| fits.is_none());
        let slit = slit.and_then(|(seam, long)| Some((self.trade.seams.get(seam.index())?.name.clone(), long)));
        let fits = fits.map(|(_, side)| name(&side));
        Some(TradeError::ChainApart { first: name(one), second: name(next), ends, there, fits, slit, attached, spans })
    }

    /// The edge that goes on from a place: of the piece that was named if that is there, and as long as what was named if one is.
    fn fits(&self, pin: &Pin, one: &EdgeSide, next: &EdgeSide) -> Option<EdgeSide> {
        let mut found: Vec<EdgeSide> = Vec::new();
        for brought in self.meetings.brought(*pin) {
            let there = brought.pin;
            let Some(piece) = self.evaluator.pieces.get(there.piece.index()) else { continue };
            for (index, edge) in piece.edges.iter().enumerate() {
                let touches = edge.path.start.distance(there.at) <= NEAR || edge.path.end().distance(there.at) <= NEAR;
                let side = self.evaluator.whole_edge(there.piece, there.copy, EdgeId::at(index));
                let used = self.edges.iter().any(|s| is_same(s, &side));
                if touches && !used && !brought.by.iter().any(|by| self.sews(*by, &side)) {
                    found.push(side);
                }
            }
        }
        let of = |a: &EdgeSide, b: &EdgeSide| (a.piece, a.copy) == (b.piece, b.copy);
        let named = found.iter().any(|s| of(s, next));
        found.retain(|s| if named { of(s, next) } else { !of(s, one) });
        let off = |s: &EdgeSide| ((s.to - s.from).as_mm() - (next.to - next.from).as_mm()).abs();
        let alike: Vec<EdgeSide> = found.iter().filter(|s| off(s) <= NEAR).cloned().collect();
        match (alike.as_slice(), found.as_slice()) {
            ([only], _) | ([], [only]) => Some(only.clone()),
            _ => None,
        }
    }

    /// Whether an edge is sewn where it brings two places together.
    fn sews(&self, by: By, side: &EdgeSide) -> bool {
        let By::Seam(seam) = by else { return false };
        match self.trade.seams.get(seam.index()).map(|s| &s.form) {
            Some(SeamForm::Join(join)) => join.first.iter().chain(&join.second).any(|s| is_same(s, side)),
            Some(SeamForm::Stack(stack)) => {
                let edge = self.evaluator.edge_of(side).map_or("", |e| e.name.as_str());
                stack.edges.iter().any(|e| e == edge)
            }
            None => false,
        }
    }

    /// A place as a maker finds it: `the corner left-foot of outer`.
    fn corner(&self, pin: &Pin) -> String {
        let side = self.evaluator.whole_edge(pin.piece, pin.copy, EdgeId(0));
        let full = self.evaluator.side_name(&side);
        let owner = full.rsplit_once('.').map_or(full.as_str(), |(owner, _)| owner);
        let Some(piece) = self.evaluator.pieces.get(pin.piece.index()) else { return String::new() };
        format!("{} of `{owner}`", place(piece, pin))
    }
}

fn place(piece: &Piece, pin: &Pin) -> String {
    let before = piece.edges.iter().cycle().skip(piece.edges.len().saturating_sub(1));
    if let Some((before, edge)) = before.zip(&piece.edges).find(|(_, e)| e.path.start.distance(pin.at) <= NEAR) {
        return if piece.edges.len() == 1 {
            format!("the start of {}", edge.name)
        } else {
            format!("the corner {}-{}", before.name, edge.name)
        };
    }
    let on = piece.edges.iter().filter_map(|e| Some((e, e.path.nearest(pin.at)?)));
    match on.min_by(|a, b| a.1.distance.total_cmp(&b.1.distance)).filter(|(_, n)| n.distance <= NEAR) {
        Some((edge, near)) => {
            format!("the place {} from {} on {}", words(Length::mm(near.along).as_mm()), edge.start_neighbour, edge.name)
        }
        None => "a place on the face".to_owned(),
    }
}

fn is_same(a: &EdgeSide, b: &EdgeSide) -> bool {
    (a.piece, a.copy, a.edge) == (b.piece, b.copy, b.edge) && a.line.is_none() && b.line.is_none()
}
