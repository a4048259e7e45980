//! The act of joining edges, and what a chain of them needs first.

use super::Bench;
use super::acts::{act, join_words};
use super::linings::Tubes;
use crate::geometry::{Path, Segment};
use crate::ir::{By, EdgeSide, Join, Joint, Operation, OperationId, OperationKind, Seam, SeamId, Subject, Text, Together, joints_apart};
use crate::quantity::Length;

/// An allowance narrower than this (mm) spreads by itself.
const CLIPPED: f64 = 6.0;

/// So much (mm) of an allowance is left between a cut into it and the seam line.
pub(super) const LEFT: f64 = 3.0;

/// A curve of a smaller radius than this (mm) wants twice as many cuts.
const TIGHT: f64 = 60.0;

/// An edge that turns by less than this goes round nothing, in radians: 45 degrees.
const ROUND: f64 = 0.78;

/// A curve of a larger radius than this (mm) is eased along.
const GENTLE: f64 = 400.0;

impl Bench<'_, '_> {
    pub(super) fn join_act(&self, id: SeamId, seam: &Seam, join: &Join) -> Operation {
        let mut op = act(&seam.name, OperationKind::Join, Subject::Seam(id), seam.origin);
        let side = |sides: &[EdgeSide]| sides.iter().map(|s| self.evaluator.side_name(s)).collect::<Vec<_>>().join(" and on along ");
        let ease = match (join.ease, join.gather) {
            (Some(_), _) => ", easing the longer edge in evenly",
            (_, Some(_)) => ", gathering the longer edge evenly",
            _ => "",
        };
        let sewn = match self.tubes(id) {
            Some(Tubes { inner, outer }) => {
                format!("{}, seams and notches level", into_each_other(join.together, &self.rim(inner), &self.rim(outer)))
            }
            None => format!("sew {} to {}, ends and notches level", side(&join.first), side(&join.second)),
        };
        let clip = self.clipped(join).unwrap_or_default();
        let what = Text::words(format!("{}: ", seam.title)).text(clip).then(format!("{sewn}{ease}"));
        op.what = self.joints(id, what);
        if let Some(opening) = &join.opening {
            op.what = self.left_open(std::mem::take(&mut op.what), opening, "");
        }
        op.places = join.first.iter().chain(&join.second).map(|s| self.on(s)).collect();
        let facing = match join.together {
            Together::Faces => "faces together",
            Together::Backs => "backs together",
            Together::Lapped => "lapped, both faces up",
        };
        op.facing = Some(facing.to_owned());
        op.plies = 2;
        op
    }

    /// `east.head, north.head and west.head`
    pub(super) fn rim(&self, sides: &[EdgeSide]) -> String {
        let names: Vec<String> = sides.iter().map(|s| self.evaluator.side_name(s)).collect();
        join_words(&names.iter().map(String::as_str).collect::<Vec<_>>())
    }

    /// `; the join between a.foot and b.foot comes 12 cm from left on c.head`
    fn joints(&self, id: SeamId, mut what: Text) -> Text {
        let Some(chained) = self.meetings.chained.iter().find(|c| c.seam == id) else { return what };
        let name = |side: &EdgeSide| self.evaluator.side_name(side);
        for (index, Joint { between: [a, b], on, distance, from_end }) in joints_apart(&chained.sides).iter().enumerate() {
            let lead = if index == 0 { "; " } else { ", " };
            what = what.then(format!("{lead}the join between {} and {} comes ", name(a), name(b))).length(Length::mm(*distance));
            let from = if from_end.is_empty() { " along ".to_owned() } else { format!(" from {from_end} on ") };
            what = what.then(format!("{from}{}", name(on)));
        }
        what
    }

    /// `clip the allowance of body.foot every 2 cm …; then `: a straight edge that goes round a curve of a flat piece, as at a round
    /// base, has too little cloth in its allowance. Common practice, no source.
    fn clipped(&self, join: &Join) -> Option<Text> {
        let sides = [(&join.first, &join.second), (&join.second, &join.first)];
        let (straight, curved) = sides.into_iter().find_map(|(one, other)| {
            let curved: Vec<EdgeSide> = other.iter().filter(|s| self.path_of(s).is_some_and(|p| goes_round(&p))).cloned().collect();
            let straight = one.iter().all(|s| self.path_of(s).is_some_and(|p| is_straight(&p)));
            (straight && !curved.is_empty()).then_some((one, curved))
        })?;
        let narrowest = straight.iter().filter_map(|s| self.evaluator.edge_of(s).ok()).map(|e| e.allowance.as_mm()).reduce(f64::min)?;
        if join.together == Together::Lapped || narrowest < CLIPPED {
            return None;
        }
        let tightest = curved.iter().filter_map(|s| self.path_of(s)).map(|p| p.length() / turning(&p)).reduce(f64::min)?;
        let every = if tightest < TIGHT { 10.0 } else { 20.0 };
        let clip = Text::words(format!("clip the allowance of {} every ", self.rim(straight)));
        let clip =
            clip.length(Length::mm(every)).then(", to ").length(Length::mm(LEFT)).then(" from the seam line, so that it spreads round ");
        Some(clip.then(self.rim(&curved)).then("; then "))
    }

    /// The stretch that is sewn, of an edge.
    pub(super) fn path_of(&self, side: &EdgeSide) -> Option<Path> {
        let edge = self.evaluator.edge_of(side).ok().filter(|_| side.line.is_none())?;
        let whole = side.from.as_mm() <= 0.0 && side.to.as_mm() >= edge.path.length();
        Some(if whole { edge.path.clone() } else { edge.path.subpath(side.from.as_mm(), side.to.as_mm()) })
    }

    /// A chain runs across seams that must be sewn before it.
    pub(super) fn chain_reasons(&mut self) {
        let meetings = self.meetings;
        for chained in &meetings.chained {
            let Some(sewn) = self.sewn(chained.seam) else { continue };
            for first in chained.needs.iter().filter_map(|by| self.brings(*by)).collect::<Vec<_>>() {
                self.follows(sewn, first, "the next seam runs on across it");
            }
        }
    }

    /// The act that brings two places together.
    fn brings(&self, by: By) -> Option<OperationId> {
        match by {
            By::Seam(seam) => self.done_flat(seam),
            By::Attachment(half) => {
                let job = self.trade.jobs.attached.iter().find(|j| j.ids.contains(&half))?;
                [OperationKind::SewOn, OperationKind::Place].into_iter().find_map(|kind| self.of_attach(job.first, kind))
            }
            // Its two sides are joined in a seam that is found by itself.
            By::Split => None,
        }
    }
}

/// How the end of one tube is laid into that of another.
fn into_each_other(together: Together, first: &str, second: &str) -> String {
    let [inner, outer, lie] = match together {
        Together::Faces => [", turned right side out,", ", which stays inside out", "faces lie together"],
        Together::Backs => [", inside out,", ", turned right side out", "backs lie together"],
        Together::Lapped => ["", ", both right side out", "edges lap"],
    };
    format!("slip the tube that ends in {first}{inner} into the one that ends in {second}{outer}, so that their {lie}, and sew round")
}

fn is_straight(path: &Path) -> bool {
    path.segments.iter().all(|s| matches!(s, Segment::Line { .. }))
}

/// By how much a path turns to the left in all, in radians: outlines run so that they bulge out there.
fn turning(path: &Path) -> f64 {
    const STEPS: u32 = 64;
    let length = path.length();
    let tangents: Vec<_> = (0..=STEPS).map(|i| path.tangent_at(length * f64::from(i) / f64::from(STEPS))).collect();
    tangents.windows(2).map(|w| if let [a, b] = w { a.turn_to(*b) } else { 0.0 }).sum()
}

/// Whether an edge bulges out so far that what is sewn to it goes round it.
fn goes_round(path: &Path) -> bool {
    !is_straight(path) && turning(path) >= ROUND && path.length() / turning(path) <= GENTLE
}
