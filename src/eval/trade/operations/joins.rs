//! The act of joining edges, and what a chain of them needs first.

use super::Bench;
use super::acts::act;
use crate::ir::{By, EdgeSide, Join, Joint, Operation, OperationId, OperationKind, Seam, SeamId, Subject, Text, Together, joints_apart};
use crate::quantity::Length;

impl Bench<'_, '_> {
    pub(super) fn join_act(&self, id: SeamId, seam: &Seam, join: &Join) -> Operation {
        let mut op = act(&seam.name, OperationKind::Join, Subject::Seam(id), seam.origin);
        let side = |sides: &[EdgeSide]| sides.iter().map(|s| self.evaluator.side_name(s)).collect::<Vec<_>>().join(" and on along ");
        let ease = match (join.ease, join.gather) {
            (Some(_), _) => ", easing the longer edge in evenly",
            (_, Some(_)) => ", gathering the longer edge evenly",
            _ => "",
        };
        let what = format!("{}: sew {} to {}, ends and notches level{ease}", seam.title, side(&join.first), side(&join.second));
        op.what = self.joints(id, Text::words(what));
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
