//! The acts of an `attach` line.

use super::Bench;
use super::acts::{act, join_words, lower_first, sentences};
use crate::eval::trade::AttachJob;
use crate::ir::{Attachment, EdgeId, Operation, OperationKind, Place, Subject, Text};
use crate::quantity::Length;
use crate::syntax::ast::WorkPhase;

impl Bench<'_, '_> {
    /// Where attachments sit that are on no edge: corners and points, in words.
    fn off_edge(&self, job: &AttachJob) -> String {
        let mut all: Vec<String> = Vec::new();
        for a in job.ids.iter().filter_map(|id| self.trade.attachments.get(id.index())) {
            let owner = self.layer_name(a.piece, a.copy);
            let Some(piece) = self.piece(a.piece) else { continue };
            let name = |e: EdgeId| piece.edges.get(e.index()).map_or("", |e| e.name.as_str());
            match &a.place {
                Place::Corner { first, second, .. } => all.push(format!("corner {}-{} of {owner}", name(*first), name(*second))),
                Place::Point { .. } => all.push(format!("its mark on {owner}")),
                Place::Edge { .. } => {}
            }
        }
        all.dedup();
        join_words(&all.iter().map(String::as_str).collect::<Vec<_>>())
    }

    pub(super) fn attach_acts(&mut self, job: &AttachJob) {
        let subject = Subject::Attachment(job.first);
        let title = self.trade.attachments.get(job.first.index()).map(|a| a.title.clone()).unwrap_or_default();
        let kinds = [
            (OperationKind::Prepare, WorkPhase::Prepare),
            (OperationKind::Place, WorkPhase::Place),
            (OperationKind::SewOn, WorkPhase::Sew),
            (OperationKind::Complete, WorkPhase::Complete),
        ];
        let mut any = false;
        for (kind, phase) in kinds {
            if !job.work.iter().any(|w| w.phase == phase) {
                continue;
            }
            any = true;
            let mut op = act(&job.name, kind, subject, job.origin);
            let off_edge = if kind == OperationKind::Prepare { String::new() } else { self.off_edge(job) };
            let each = if self.is_several(job) { ", one for each edge" } else { "" };
            let tag = if off_edge.is_empty() { format!("{}{each}", job.name) } else { format!("{}: {off_edge}", job.name) };
            op.what = sentences(&job.work, &[phase], "").text(Text::words(format!(" ({tag})")));
            op.stitch = job.work.iter().filter(|w| w.phase == phase).find_map(|w| w.stitch.clone());
            if kind != OperationKind::Prepare {
                op.places.clone_from(&job.places);
            }
            if kind == OperationKind::SewOn {
                op.sewn = Length::mm(job.sewn);
            }
            // Itself and the two layers it is sewn to.
            op.plies = if op.stitch.is_some() { 3 } else { 0 };
            if kind == OperationKind::Prepare || kind == OperationKind::SewOn {
                self.hems_of_brought(job, &mut op);
            }
            self.push(op);
        }
        if !any {
            let mut op = act(&job.name, OperationKind::Place, subject, job.origin);
            op.what = Text::words(format!("Set {} in its place ({})", lower_first(&title), job.name));
            op.places.clone_from(&job.places);
            self.push(op);
        }
    }

    /// Whether an `attach` line asks for one thing along each of several edges.
    fn is_several(&self, job: &AttachJob) -> bool {
        let along = |a: &Attachment| a.pair.is_none() && matches!(a.place, Place::Edge { stretch: true, .. });
        job.ids.len() > 1 && job.row.is_empty() && job.ids.iter().filter_map(|id| self.trade.attachments.get(id.index())).all(along)
    }

    /// Hems of pieces that a component brings are sewn with it where it is sewn on with their stitch, and else part of preparing it.
    fn hems_of_brought(&self, job: &AttachJob, op: &mut Operation) {
        for piece in job.brings.iter().filter_map(|id| self.piece(*id)) {
            for edge in &piece.edges {
                let Some(finish) = self.evaluator.edge_finishes.get(&(piece.name.clone(), edge.name.clone())) else { continue };
                let Some(stitch) = &finish.stitch else { continue };
                let sewn_on = job.work.iter().any(|w| w.phase == WorkPhase::Sew && w.stitch.as_ref() == Some(stitch));
                if sewn_on != (op.kind == OperationKind::SewOn) {
                    continue;
                }
                // One act has one stitch; what is sewn otherwise is too little to tell.
                if op.stitch.get_or_insert_with(|| stitch.clone()) == stitch {
                    op.sewn = op.sewn + edge.sewn_length * (f64::from(finish.rows) * piece.copies.len() as f64);
                    op.plies = op.plies.max(u32::try_from(finish.folds.len() + 1).unwrap_or(2));
                }
            }
        }
    }
}
