//! The thread of a whole design, operation by operation.

use super::thread::{WASTE, consumption, formula};
use super::trail::{Figure, Trail};
use crate::analysis::report::ThreadRow;
use crate::ir::{Design, Material, MaterialId, MaterialKind, Operation, Place, SeamForm, StitchKind, Subject, Text, TraceId};
use crate::quantity::{Dimension, Length};
use indexmap::{IndexMap, IndexSet};

/// A ply of cloth of which no thickness is given, mm: thin coated cloth as such gear is made of.
const THIN_CLOTH: f64 = 0.1;

/// A ply of batting under the foot, mm, whatever its loft: pressed flat, it is mostly air gone.
const PRESSED_BATTING: f64 = 0.5;

/// A bartack where nothing says how long it is, mm: three eighths of an inch in published specifications.
const BARTACK: f64 = 9.5;

/// A tie by hand, knot and tails, mm of thread. Common practice, no source.
const TIE: f64 = 200.0;

/// What the sewing takes.
pub(super) struct Sewing {
    /// By stitch.
    pub(super) rows: Vec<ThreadRow>,
    /// Thread that stays in the design.
    pub(super) kept: Length,
    /// Thread to have, with what is lost.
    pub(super) needed: Length,
    /// Steps behind.
    pub(super) parts: Vec<TraceId>,
    /// What was taken for granted.
    pub(super) assumptions: Vec<Text>,
}

#[derive(Default)]
struct Granted {
    thin: IndexSet<String>,
    pressed: bool,
    /// Acts whose stitching has no known length.
    uncounted: IndexSet<String>,
}

/// Adds up the thread of all operations.
pub(super) fn sewing(design: &Design, trail: &mut Trail<'_>) -> Sewing {
    let mut rows: IndexMap<StitchKind, (f64, f64)> = IndexMap::new();
    let mut granted = Granted::default();
    let mut sewing =
        Sewing { rows: Vec::new(), kept: Length::default(), needed: Length::default(), parts: Vec::new(), assumptions: Vec::new() };
    for op in &design.operations {
        let Some(stitch) = op.stitch.as_ref() else { continue };
        let ties = ties(design, op);
        if ties > 0.0 {
            let needed = ties * (1.0 + WASTE);
            rows.entry(stitch.kind).or_default().1 += needed;
            sewing.kept = sewing.kept + Length::mm(ties);
            sewing.needed = sewing.needed + Length::mm(needed);
            let how = format!("{} ties of {TIE} mm of thread each, knots and tails, and {} % for waste", ties / TIE, WASTE * 100.0);
            sewing.parts.push(trail.step(format!("thread to tie `{}`", op.name), how, Figure::Of(needed, Dimension::LENGTH), &[]));
        }
        let sewn = sewn(design, op, stitch.kind);
        if sewn <= 0.0 && ties > 0.0 {
            continue;
        }
        if sewn <= 0.0 {
            granted.uncounted.insert(op.name.clone());
            continue;
        }
        let thickness = thickness(design, op, &mut granted);
        let Some(ratio) = consumption(stitch.kind, stitch.length, thickness) else { continue };
        let kept = sewn * ratio;
        let needed = kept * (1.0 + WASTE);
        let row = rows.entry(stitch.kind).or_default();
        *row = (row.0 + sewn, row.1 + needed);
        sewing.kept = sewing.kept + Length::mm(kept);
        sewing.needed = sewing.needed + Length::mm(needed);
        let how = format!(
            "{} sewn with {}: {:.2} of thread for 1 of seam ({}; {} plies, {:.2} mm thick), and {} % for ends and waste",
            crate::quantity::format_length(Length::mm(sewn), crate::quantity::Style::default()),
            stitch.kind.words(),
            ratio,
            formula(stitch.kind),
            op.plies,
            thickness.as_mm(),
            WASTE * 100.0
        );
        let what = format!("thread to {} `{}`", op.kind.words(), op.name);
        let id = trail.step(what, how, Figure::Of(needed, Dimension::LENGTH), &behind(design, op));
        sewing.parts.push(id);
    }
    sewing.rows =
        rows.into_iter().map(|(stitch, (sewn, thread))| ThreadRow { stitch, sewn: Length::mm(sewn), thread: Length::mm(thread) }).collect();
    sewing.assumptions = granted.told();
    sewing
}

/// Thread in the ties of a quilting, mm.
fn ties(design: &Design, op: &Operation) -> f64 {
    let Subject::Quilting(index) = op.subject else { return 0.0 };
    let count = design.quilting.get(index as usize).map_or(0, |q| q.ties.len());
    f64::from(u32::try_from(count).unwrap_or(u32::MAX)) * TIE
}

/// The stitching of a box with a cross, as wide and as long as the webbing or ribbon it holds, mm: four sides and two diagonals.
fn boxes(design: &Design, line: &str) -> f64 {
    let all = design.attachments.iter().filter(|a| a.name == line);
    let width = |a: &crate::ir::Attachment| {
        let goods = a.uses.iter().filter_map(|u| design.material(u.material));
        goods.filter(|m| matches!(m.kind, MaterialKind::Ribbon | MaterialKind::Webbing)).find_map(|m| m.width)
    };
    all.filter_map(width).map(|w| w.as_mm() * (4.0 + 2.0 * std::f64::consts::SQRT_2)).sum()
}

/// How much an act sews, mm: what it says; for bartacks one across each thing set, two at the ends of what lies along a stretch;
/// for other stitches at a place a box with a cross.
fn sewn(design: &Design, op: &Operation, stitch: StitchKind) -> f64 {
    let (Subject::Attachment(first), true) = (op.subject, op.sewn.as_mm() <= 0.0) else { return op.sewn.as_mm() };
    if stitch != StitchKind::Bartack {
        return design.attachments.get(first.index()).map_or(0.0, |a| boxes(design, &a.name));
    }
    let Some(line) = design.attachments.get(first.index()).map(|a| &a.name) else { return 0.0 };
    let mut halves = IndexSet::new();
    let bars = design.attachments.iter().filter(|a| a.name == *line).map(|a| match &a.place {
        Place::Edge { stretch: true, .. } => {
            if halves.insert(a.number) {
                2.0 * BARTACK
            } else {
                0.0
            }
        }
        Place::Edge { from, to, .. } => (*to - *from).as_mm().abs(),
        Place::Corner { .. } | Place::Point { .. } => BARTACK,
    });
    bars.sum()
}

/// What is known of where a length sewn comes from.
fn behind(design: &Design, op: &Operation) -> Vec<TraceId> {
    match op.subject {
        Subject::Seam(id) => design.seams.get(id.index()).map(|s| s.why).into_iter().collect(),
        _ => op.places.iter().filter_map(|p| design.edge(p.side.piece, p.side.edge)).map(|e| e.why).collect(),
    }
}

/// Plies times the mean thickness of what is sewn.
fn thickness(design: &Design, op: &Operation, granted: &mut Granted) -> Length {
    let materials: Vec<&Material> = sewn_materials(design, op).into_iter().filter_map(|id| design.material(id)).collect();
    let mut sum = 0.0;
    for material in &materials {
        sum += match (material.kind, material.thickness) {
            (MaterialKind::Batting, _) => {
                granted.pressed = true;
                PRESSED_BATTING
            }
            (_, Some(t)) => t.as_mm(),
            (_, None) => {
                granted.thin.insert(material.name.clone());
                THIN_CLOTH
            }
        };
    }
    let count = f64::from(u32::try_from(materials.len()).unwrap_or(u32::MAX));
    let mean = if materials.is_empty() { THIN_CLOTH } else { sum / count };
    Length::mm(mean * f64::from(op.plies.max(1)))
}

fn sewn_materials(design: &Design, op: &Operation) -> Vec<MaterialId> {
    let of = |piece| design.piece(piece).map(|p| p.material);
    match op.subject {
        Subject::Piece(piece) => of(piece).into_iter().collect(),
        Subject::Seam(id) => match design.seams.get(id.index()).map(|s| &s.form) {
            Some(SeamForm::Join(join)) => join.first.iter().chain(&join.second).filter_map(|s| of(s.piece)).collect(),
            Some(SeamForm::Stack(stack)) => stack.layers.iter().filter_map(|l| of(l.piece)).collect(),
            None => Vec::new(),
        },
        Subject::Attachment(id) => {
            let Some(attachment) = design.attachments.get(id.index()) else { return Vec::new() };
            let flat = |m: &MaterialId| {
                design.material(*m).is_some_and(|m| matches!(m.kind, MaterialKind::Cloth | MaterialKind::Ribbon | MaterialKind::Webbing))
            };
            of(attachment.piece).into_iter().chain(attachment.uses.iter().map(|u| u.material).filter(flat)).collect()
        }
        Subject::Applied(index) => {
            let applied = design.applied.get(index as usize);
            applied.into_iter().flat_map(|a| [a.piece, a.onto]).filter_map(of).collect()
        }
        Subject::Quilting(index) => {
            let quilting = design.quilting.get(index as usize);
            quilting.into_iter().flat_map(|q| q.layers.iter().filter_map(|(piece, _)| of(*piece))).collect()
        }
        Subject::Whole => Vec::new(),
    }
}

impl Granted {
    fn told(self) -> Vec<Text> {
        let mut told = Vec::new();
        if !self.thin.is_empty() {
            let names: Vec<String> = self.thin.iter().map(|n| format!("`{n}`")).collect();
            let text = Text::words("Thread: a ply of ").then(names.join(", ")).then(", whose thickness is not given, counts as ");
            told.push(text.length(Length::mm(THIN_CLOTH)).then("."));
        }
        if self.pressed {
            let text = Text::words("Thread: a ply of batting, pressed flat under the foot, counts as ");
            told.push(text.length(Length::mm(PRESSED_BATTING)).then("."));
        }
        if !self.uncounted.is_empty() {
            let names: Vec<String> = self.uncounted.iter().map(|n| format!("`{n}`")).collect();
            told.push(Text::words(format!("Thread: what {} takes is not counted, for want of a length.", names.join(", "))));
        }
        told
    }
}
