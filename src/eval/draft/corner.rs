//! Corners rounded, bevelled and boxed: each becomes one or two edges of its own.

use super::error::{OutlineError, Report};
use super::outline::{End, Outline, SHORTEST, Work, straight_from};
use super::{CornerInput, CornerTreatment, PanelInput};
use crate::geometry::Path;
use crate::source::Span;

/// Edges that turn by less than this (radians, one degree) run straight on.
const STRAIGHT_ON: f64 = std::f64::consts::PI / 180.0;

/// What is done at a corner.
#[derive(Debug, Clone, Copy)]
struct Plan {
    treatment: CornerTreatment,
    /// How far it reaches along both edges.
    cut: f64,
    by: f64,
    turn: f64,
    span: Span,
}

/// Works all corners into the outline; none when one can't be.
pub(crate) fn apply(outline: &mut Outline, input: &PanelInput, report: &mut Report<'_>) -> Option<()> {
    let mut plans: Vec<Option<Plan>> = vec![None; outline.edges.len()];
    for corner in &input.corners {
        let Some((index, planned)) = report.take(plan(outline, corner)) else { continue };
        let Some(slot) = plans.get_mut(index) else { continue };
        if let Some(first) = slot {
            let corner_names = (corner.edges.0.clone(), corner.edges.1.clone());
            report.push(OutlineError::TreatedTwice { corner: corner_names, first: first.span, second: planned.span });
            continue;
        }
        *slot = Some(planned);
    }
    for index in 0..outline.edges.len() {
        let (start, finish) = (plans.get(outline.before(index)).copied().flatten(), plans.get(index).copied().flatten());
        if let Some(work) = outline.edges.get(index) {
            report.take(check_room(work, start, finish));
        }
    }
    if report.has_failed() {
        return None;
    }
    let edges = rebuilt(outline, &plans);
    outline.edges = edges;
    outline.check_names(report)
}

fn plan(outline: &Outline, corner: &CornerInput) -> Result<(usize, Plan), OutlineError> {
    let (first, second, span) = (&corner.edges.0, &corner.edges.1, corner.edges.2);
    let index = outline.corner(first, second, span)?;
    let what = match corner.treatment {
        CornerTreatment::Round => "the radius of this corner",
        CornerTreatment::Bevel => "the size of this bevel",
        CornerTreatment::Box => "the side of this box",
    };
    let by = corner.by;
    if !(by.is_finite() && by >= SHORTEST) {
        return Err(OutlineError::UnusableSize { what, size: by, span: corner.span });
    }
    let unclear = || OutlineError::CornerUnclear { first: first.clone(), second: second.clone(), twice: false, span };
    let (a, b) = (outline.edges.get(index).ok_or_else(unclear)?, outline.edges.get(outline.after(index)).ok_or_else(unclear)?);
    let turn = a.path.tangent_at_end().turn_to(b.path.tangent_at_start());
    if turn.abs() < STRAIGHT_ON {
        return Err(unclear());
    }
    if corner.treatment == CornerTreatment::Box && turn < 0.0 {
        return Err(OutlineError::TurnsInward { corner: (first.clone(), second.clone()), span });
    }
    let cut = if corner.treatment == CornerTreatment::Round { by * (turn.abs() / 2.0).tan() } else { by };
    Ok((index, Plan { treatment: corner.treatment, cut, by, turn, span }))
}

/// Whether an edge is long and straight enough for what is done at its ends.
fn check_room(work: &Work, start: Option<Plan>, finish: Option<Plan>) -> Result<(), OutlineError> {
    let length = work.path.length();
    let cut = |p: Option<Plan>| p.map_or(0.0, |p| p.cut);
    for (plan, end) in [(start, End::Start), (finish, End::Finish)] {
        let Some(plan) = plan else { continue };
        let straight = straight_from(&work.path, end);
        if straight < plan.cut && straight < length - SHORTEST {
            return Err(OutlineError::CornerOnCurve { edge: work.name.clone(), straight, needed: plan.cut, span: plan.span });
        }
    }
    let needed = cut(start) + cut(finish);
    let Some(plan) = finish.or(start) else { return Ok(()) };
    if needed > length - SHORTEST {
        // The same treatment at both ends could grow until they meet.
        let alike = matches!((start, finish), (Some(a), Some(b)) if a.treatment == b.treatment && (a.by - b.by).abs() < SHORTEST);
        let alone = start.is_none() || finish.is_none();
        let largest = if alike || alone { plan.by * (length / needed) } else { 0.0 };
        return Err(OutlineError::CornerTooLarge { edge: work.name.clone(), length, needed, largest, span: plan.span });
    }
    Ok(())
}

fn rebuilt(outline: &Outline, plans: &[Option<Plan>]) -> Vec<Work> {
    let cut = |corner: usize| plans.get(corner).copied().flatten().map_or(0.0, |p| p.cut);
    let mut edges = Vec::new();
    for (index, work) in outline.edges.iter().enumerate() {
        let trimmed = trim(work, cut(outline.before(index)), cut(index));
        let finish = trimmed.path.end();
        edges.push(trimmed);
        let (Some(plan), Some(next)) = (plans.get(index).copied().flatten(), outline.edges.get(outline.after(index))) else { continue };
        let resume = next.path.point_at(plan.cut);
        let corner = next.path.start;
        let name = format!("{}_{}", work.name, next.name);
        let new = |name: String, path: Path, before: &str, after: &str| Work {
            name,
            path,
            parts: Vec::new(),
            start_neighbour: before.to_owned(),
            end_neighbour: after.to_owned(),
            span: plan.span,
        };
        match plan.treatment {
            CornerTreatment::Round => {
                let arc = Path::new(finish).arc_to(resume, (plan.turn / 4.0).tan());
                edges.push(new(name, arc, &work.name, &next.name));
            }
            CornerTreatment::Bevel => edges.push(new(name, Path::line(finish, resume), &work.name, &next.name)),
            CornerTreatment::Box => {
                let inner = finish + (resume - corner);
                let (one, two) = (format!("{name}_1"), format!("{name}_2"));
                edges.push(new(one.clone(), Path::line(finish, inner), &work.name, &two));
                edges.push(new(two, Path::line(inner, resume), &one, &next.name));
            }
        }
    }
    edges
}

/// An edge without what its corners take, its parts moved along.
fn trim(work: &Work, start: f64, finish: f64) -> Work {
    if start == 0.0 && finish == 0.0 {
        return work.clone();
    }
    let length = work.path.length();
    let path = work.path.subpath(start, length - finish);
    Work { path, parts: work.parts_between(start, length - finish), ..work.clone() }
}
