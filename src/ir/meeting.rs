//! Which places of which pieces sewing brings together: the ends of edges that are joined, the corners of layers that lie on each
//! other, both sides of a zipper, and the two sides of a split.

use super::chain::{self, Run, SAME_PLACE};
use super::{Attachment, AttachmentId, EdgeId, EdgeSide, Join, Lay, Piece, PieceId, Place, Seam, SeamForm, SeamId, lays};
use crate::geometry::Point;
use crate::quantity::Length;

/// A seam that stops so far (mm) short of the end of its edges leaves a slit, and what runs along the ends goes on across it.
pub(crate) const SLIT: f64 = 60.0;

/// A place is followed to at most so many others: far more than ever meet in one point.
const MOST: usize = 64;

/// A place on a piece of cloth, where a maker would put a pin.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Pin {
    pub(crate) piece: PieceId,
    pub(crate) copy: Option<u32>,
    /// In the piece's own space.
    pub(crate) at: Point,
}

impl Pin {
    fn is(&self, other: &Self) -> bool {
        (self.piece, self.copy) == (other.piece, other.copy) && self.at.distance(other.at) <= SAME_PLACE
    }
}

/// What brings two places together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum By {
    Seam(SeamId),
    /// The first half of a pair along a stretch.
    Attachment(AttachmentId),
    /// The line along which one panel is cut in two.
    Split,
}

/// Two chains that lie on each other from their beginnings on.
struct Bond<'d> {
    by: By,
    sides: [Vec<Run<'d>>; 2],
}

/// A place that sewing brings to another, and by what steps.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Brought {
    pub(crate) pin: Pin,
    pub(crate) by: Vec<By>,
}

/// A chain as it is walked.
struct Walk<'d> {
    runs: Vec<Run<'d>>,
    /// What brings each run's end to the next one's beginning.
    links: Vec<Vec<By>>,
}

/// Two runs of a chain that don't follow each other.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Apart {
    /// Whether they stand on the seam's second side.
    pub(crate) second: bool,
    /// The first of the two.
    pub(crate) index: usize,
    /// Where that may end, by what comes before it.
    pub(crate) ends: Vec<Pin>,
}

/// A seam of chains, as its sides are walked from one end to the other.
pub(crate) struct Chained<'d> {
    pub(crate) seam: SeamId,
    pub(crate) sides: [Vec<Run<'d>>; 2],
    /// What must be sewn before its runs follow each other.
    pub(crate) needs: Vec<By>,
}

/// A stretch of one run: its piece, where it begins and ends, and how long it is.
pub(super) struct Stretch<'d> {
    pub(super) layer: (PieceId, Option<u32>),
    pub(super) piece: &'d Piece,
    pub(super) ends: [Point; 2],
    pub(super) length: f64,
}

impl<'d> Stretch<'d> {
    fn of(side: &[Run<'d>], from: f64, to: f64) -> Option<Self> {
        let (run, middle) = chain::run_at(side, f64::midpoint(from, to))?;
        let half = (to - from) / 2.0;
        let ends = [run.at(middle - half), run.at(middle + half)];
        Some(Self { layer: (run.side.piece, run.side.copy), piece: run.piece, ends, length: to - from })
    }
}

/// All that is brought together.
pub(crate) struct Meetings<'d> {
    pieces: &'d [Piece],
    lays: Vec<Lay<'d>>,
    bonds: Vec<Bond<'d>>,
    /// Seams of chains that can be sewn.
    pub(crate) chained: Vec<Chained<'d>>,
    /// Seams of chains that can't, each with the first place where it fails.
    pub(crate) apart: Vec<(SeamId, Apart)>,
}

impl<'d> Meetings<'d> {
    /// Finds what meets. A seam of chains counts once all its own runs follow each other, and never for itself.
    pub(crate) fn of(pieces: &'d [Piece], seams: &'d [Seam], attachments: &'d [Attachment]) -> Self {
        let mut all = Self { pieces, lays: lays(pieces, seams), bonds: Vec::new(), chained: Vec::new(), apart: Vec::new() };
        let mut waiting: Vec<(SeamId, &Join)> = Vec::new();
        for (index, seam) in seams.iter().enumerate() {
            let SeamForm::Join(join) = &seam.form else { continue };
            let id = SeamId::at(index);
            match (join.first.as_slice(), join.second.as_slice()) {
                ([first], [second]) => all.join(By::Seam(id), first, second),
                _ => waiting.push((id, join)),
            }
        }
        for (index, first) in attachments.iter().enumerate() {
            let second = first.pair.as_ref().filter(|p| p.first).and_then(|p| attachments.get(p.with.index()));
            if let (Some(a), Some(b)) = (caught_stretch(first), second.and_then(caught_stretch)) {
                all.join(By::Attachment(AttachmentId::at(index)), &a, &b);
            }
        }
        all.chains(waiting);
        all
    }

    /// Two runs lie on each other one each way.
    fn join(&mut self, by: By, first: &EdgeSide, second: &EdgeSide) {
        let (Some(a), Some(b)) = (Run::new(self.pieces, first, true), Run::new(self.pieces, second, true)) else { return };
        let b = if a.hand() == b.hand() { b.turned() } else { b };
        self.bonds.push(Bond { by, sides: [vec![a], vec![b]] });
    }

    /// Chains bring more together, once it is known how they run.
    fn chains(&mut self, mut waiting: Vec<(SeamId, &Join)>) {
        loop {
            let mut still = Vec::new();
            let before = waiting.len();
            self.apart.clear();
            for (seam, join) in waiting {
                match self.walk_both(join) {
                    Ok(([first, second], needs)) => {
                        self.bonds.push(Bond { by: By::Seam(seam), sides: [first.clone(), second.clone()] });
                        self.chained.push(Chained { seam, sides: [first, second], needs });
                    }
                    Err(apart) => {
                        still.push((seam, join));
                        self.apart.push((seam, apart));
                    }
                }
            }
            if still.is_empty() || still.len() == before {
                return;
            }
            waiting = still;
        }
    }

    fn walk_both(&self, join: &Join) -> Result<([Vec<Run<'d>>; 2], Vec<By>), Apart> {
        // The side that can be walked in one way only says how the other one goes.
        let chain_first = join.first.len() > 1;
        let (one, other) = if chain_first { (&join.first, &join.second) } else { (&join.second, &join.first) };
        let leading = self.walk(one, None).map_err(|apart| Apart { second: !chain_first, ..apart })?;
        let hand = leading.runs.first().is_some_and(Run::hand);
        let mut following = self.walk(other, Some(!hand)).map_err(|apart| Apart { second: chain_first, ..apart })?;
        if following.runs.first().is_some_and(|r| r.hand() == hand) {
            // Written from its other end.
            following.runs = following.runs.into_iter().rev().map(Run::turned).collect();
        }
        let mut needs: Vec<By> = Vec::new();
        for by in leading.links.into_iter().chain(following.links).flatten() {
            if !needs.contains(&by) {
                needs.push(by);
            }
        }
        let sides = if chain_first { [leading.runs, following.runs] } else { [following.runs, leading.runs] };
        Ok((sides, needs))
    }

    /// Whether each of these begins where the one before it ends; else the first place where one does not.
    pub(crate) fn follow(&self, row: &[EdgeSide]) -> Result<(), Apart> {
        self.walk(row, None).map(drop)
    }

    /// Finds which way each run is walked so that each begins where the one before it ends.
    fn walk(&self, chain: &[EdgeSide], hand: Option<bool>) -> Result<Walk<'d>, Apart> {
        let both: Vec<[Run<'d>; 2]> = chain
            .iter()
            .filter_map(|side| {
                let run = Run::new(self.pieces, side, true)?;
                // A chain goes on the same way round, seen from the face, from piece to piece; where it may go either way, it is
                // walked as its first edge is drawn.
                let prefers = hand.unwrap_or_else(|| first_hand(self.pieces, chain));
                let (a, b) = (run.clone(), run.turned());
                Some(if a.hand() == prefers { [a, b] } else { [b, a] })
            })
            .collect();
        // For each run and each way along it, the way along the one before, and what links them; none where it can't be so.
        type Step = Option<(usize, Vec<By>)>;
        let mut steps: Vec<[Step; 2]> = vec![[Some((0, Vec::new())), Some((1, Vec::new()))]];
        for (index, pair) in both.windows(2).enumerate() {
            let [one, next] = pair else { continue };
            let open = |way: usize| steps.get(index).and_then(|s| s.get(way)).is_some_and(Option::is_some);
            let ends: Vec<(usize, Pin)> = one.iter().enumerate().filter(|(way, _)| open(*way)).map(|(way, r)| (way, end(r))).collect();
            let found = [0, 1].map(|way| {
                let begins = next.get(way).map(start)?;
                // The same way round comes first.
                let mut from = ends.clone();
                from.sort_by_key(|(before, _)| usize::from(*before != way));
                from.iter().find_map(|(before, pin)| self.link(*pin, begins).map(|by| (*before, by)))
            });
            if found.iter().all(Option::is_none) {
                return Err(Apart { second: false, index, ends: ends.into_iter().map(|(_, pin)| pin).collect() });
            }
            steps.push(found);
        }
        let mut way = usize::from(steps.last().is_some_and(|s| s.first().is_some_and(Option::is_none)));
        let (mut runs, mut links) = (Vec::new(), Vec::new());
        for (choice, step) in both.iter().zip(&steps).rev() {
            runs.extend(choice.get(way).cloned());
            let Some(Some((before, by))) = step.get(way) else { continue };
            links.push(by.clone());
            way = *before;
        }
        runs.reverse();
        links.reverse();
        Ok(Walk { runs, links })
    }

    /// Which sides of a join other seams have closed to a ring: the end of a tube.
    pub(crate) fn tubes(&self, seam: SeamId) -> [bool; 2] {
        let by = By::Seam(seam);
        let Some(bond) = self.bonds.iter().find(|b| b.by == by) else { return [false; 2] };
        let is_tube = |side: &Vec<Run<'_>>| {
            let (Some(first), Some(last)) = (side.first(), side.last()) else { return false };
            let begins = start(first);
            // What begins where it ends without any seam is the rim of a flat piece.
            let there = self.brought_without(end(last), Some(by));
            there.iter().any(|b| b.pin.is(&begins) && !b.by.is_empty())
        };
        let [first, second] = &bond.sides;
        [is_tube(first), is_tube(second)]
    }

    /// Stretches that a seam lays on each other: two pieces, and both ends of the stretch on each.
    pub(super) fn matched(&self, seam: SeamId) -> Vec<[Stretch<'d>; 2]> {
        let Some(bond) = self.bonds.iter().find(|b| b.by == By::Seam(seam)) else { return Vec::new() };
        let [first, second] = &bond.sides;
        let share = chain::length(second) / chain::length(first).max(f64::MIN_POSITIVE);
        let mut breaks: Vec<f64> = chain::joints(first).chain(chain::joints(second).map(|at| at / share)).collect();
        breaks.extend([0.0, chain::length(first)]);
        breaks.sort_by(f64::total_cmp);
        let stretches = breaks.windows(2).filter_map(|w| if let [a, b] = w { (b - a > SAME_PLACE).then_some((*a, *b)) } else { None });
        stretches.filter_map(|(from, to)| Some([Stretch::of(first, from, to)?, Stretch::of(second, from * share, to * share)?])).collect()
    }

    /// What brings one place to another, if anything does.
    fn link(&self, from: Pin, to: Pin) -> Option<Vec<By>> {
        self.brought(from).into_iter().find(|b| b.pin.is(&to)).map(|b| b.by).or_else(|| self.across_slit(from, to))
    }

    /// A seam that stops short of the corners at the ends of its edges, as it does where a cord comes out, leaves them side by side.
    fn across_slit(&self, from: Pin, to: Pin) -> Option<Vec<By>> {
        let stops_at = |run: &Run<'_>, pin: &Pin, at_end: bool| {
            let (start, end) = run.start_and_end();
            let stops = if at_end { end } else { start };
            let edge = run.piece.edges.get(run.side.edge.index()).filter(|_| run.side.line.is_none());
            let reaches = edge.is_some_and(|e| [e.path.start, e.path.end()].iter().any(|p| p.distance(pin.at) <= SAME_PLACE));
            (run.side.piece, run.side.copy) == (pin.piece, pin.copy) && reaches && stops.distance(pin.at) <= SLIT
        };
        let joins = |one: &[Run<'_>], other: &[Run<'_>]| {
            let starts = one.first().zip(other.first()).is_some_and(|(a, b)| stops_at(a, &from, false) && stops_at(b, &to, false));
            starts || one.last().zip(other.last()).is_some_and(|(a, b)| stops_at(a, &from, true) && stops_at(b, &to, true))
        };
        let bond = self.bonds.iter().find(|Bond { sides: [a, b], .. }| joins(a, b) || joins(b, a))?;
        Some(vec![bond.by])
    }

    /// Every place that sewing brings to a place, itself first, then by the fewest seams.
    pub(crate) fn brought(&self, pin: Pin) -> Vec<Brought> {
        self.brought_without(pin, None)
    }

    /// The same, had one seam not been sewn.
    fn brought_without(&self, pin: Pin, left_out: Option<By>) -> Vec<Brought> {
        let mut all = vec![Brought { pin, by: Vec::new() }];
        let mut next = 0;
        while let Some(one) = all.get(next).filter(|_| all.len() < MOST).cloned() {
            for (pin, by) in self.images(one.pin) {
                if Some(by) != left_out && !all.iter().any(|b| b.pin.is(&pin)) {
                    all.push(Brought { pin, by: one.by.iter().copied().chain([by]).collect() });
                }
            }
            next += 1;
        }
        all
    }

    /// Where one seam, pair or split lays a place.
    fn images(&self, pin: Pin) -> Vec<(Pin, By)> {
        let mut all = Vec::new();
        for bond in &self.bonds {
            let [a, b] = &bond.sides;
            for (one, other) in [(a, b), (b, a)] {
                let share = chain::length(other) / chain::length(one).max(f64::MIN_POSITIVE);
                let mut before = 0.0;
                for run in one {
                    if (run.side.piece, run.side.copy) == (pin.piece, pin.copy) {
                        let found = run.find(pin.at).into_iter().filter_map(|far| chain::run_at(other, (before + far) * share));
                        all.extend(found.map(|(run, far)| (on(run, far), bond.by)));
                    }
                    before += run.length();
                }
            }
        }
        self.stacked(pin, &mut all);
        self.across_splits(pin, &mut all);
        all
    }

    fn stacked(&self, pin: Pin, all: &mut Vec<(Pin, By)>) {
        for lay in &self.lays {
            let Some((index, layer)) = lay.layer_of(pin.piece, pin.copy) else { continue };
            for edge in lay.sewn(index) {
                let Some(run) = self.whole(pin.piece, pin.copy, edge) else { continue };
                for far in run.find(pin.at) {
                    let mates = lay.stack.layers.iter().filter(|l| (l.piece, l.copy) != (pin.piece, pin.copy));
                    all.extend(mates.filter_map(|other| {
                        let mate = lay.mate(layer, edge, other)?;
                        let lies = self.whole(other.piece, other.copy, mate.edge)?;
                        let share = far / run.length().max(f64::MIN_POSITIVE);
                        let far = lies.length() * if mate.reversed { 1.0 - share } else { share };
                        Some((on(&lies, far), By::Seam(SeamId::at(lay.index))))
                    }));
                }
            }
        }
    }

    /// The pieces of a split panel share its space, and along the split their outlines.
    fn across_splits(&self, pin: Pin, all: &mut Vec<(Pin, By)>) {
        let Some(panel) = self.pieces.get(pin.piece.index()).and_then(|p| p.split_from.as_ref()) else { return };
        for (index, other) in self.pieces.iter().enumerate() {
            let id = PieceId::at(index);
            let there = |e: &super::Edge| e.path.nearest(pin.at).is_some_and(|n| n.distance <= SAME_PLACE);
            if id != pin.piece && other.split_from.as_ref() == Some(panel) && other.edges.iter().any(there) {
                all.push((Pin { piece: id, ..pin }, By::Split));
            }
        }
    }

    fn whole(&self, piece: PieceId, copy: Option<u32>, edge: EdgeId) -> Option<Run<'d>> {
        let to = self.pieces.get(piece.index())?.edges.get(edge.index())?.length;
        Run::new(self.pieces, &EdgeSide { piece, copy, edge, line: None, from: Length::mm(0.0), to }, true)
    }
}

fn first_hand(pieces: &[Piece], chain: &[EdgeSide]) -> bool {
    chain.first().and_then(|side| Run::new(pieces, side, true)).is_some_and(|run| run.hand())
}

fn on(run: &Run<'_>, far: f64) -> Pin {
    Pin { piece: run.side.piece, copy: run.side.copy, at: run.at(far) }
}

fn start(run: &Run<'_>) -> Pin {
    Pin { piece: run.side.piece, copy: run.side.copy, at: run.start_and_end().0 }
}

fn end(run: &Run<'_>) -> Pin {
    Pin { piece: run.side.piece, copy: run.side.copy, at: run.start_and_end().1 }
}

/// The stretch of a half that is sewn in: what is only laid side by side once all is finished brings nothing together.
fn caught_stretch(half: &Attachment) -> Option<EdgeSide> {
    let Place::Edge { edge, from, to, stretch: true, .. } = half.place else { return None };
    let caught = half.catches.as_mm() > 0.0;
    caught.then_some(EdgeSide { piece: half.piece, copy: half.copy, edge, line: None, from, to })
}

#[cfg(test)]
mod tests;
