//! Drafting: from a panel's figures to its finished outline and cut line.
//!
//! Nothing here evaluates expressions: [`PanelInput`] is all numbers, with a span on each
//! so that what can't be drafted is reported at the right word.
//!
//! In this order: the outline as drawn, checked and turned counter-clockwise; edges moved in or out; other outlines added,
//! kept, removed; tapers; corners; then darts, pleats and holes on the finished outline; then each edge's allowance, and the cut line round all of them; last the lines and
//! notches that lie between the two.

mod allowance;
mod corner;
mod cut;
mod error;
mod fold;
mod hole;
mod input;
mod joint;
mod notch;
mod outline;
mod output;
mod shift;
mod strip;
mod take;
mod taper;
mod tool;

pub use error::CODES;
pub(crate) use error::{InPanel, OutlineError};
pub use input::*;
pub use notch::{Slit, notch_on};
pub use output::*;
pub(crate) use strip::strip;

use crate::diagnostic::Problems;
use crate::geometry::Path;
use crate::ir::EdgePart;
use crate::quantity::Length;
use allowance::Beside;
use error::Report;
use outline::{Made, Outline};
use take::Take;

/// Drafts a panel; none when that can't be done, and `problems` says why.
#[must_use]
pub fn draft(input: &PanelInput, problems: &mut Problems) -> Option<Drafted> {
    let mut report = Report::new(&input.name, problems);
    let outline = finished(input, &mut report)?;
    let takes = take::place(&outline, input, &mut report);
    let holes = hole::place(&outline, input, &mut report);
    let besides = allowance::resolve(&outline, input, &mut report)?;
    allowance::check_hems(&outline, &besides, &mut report);
    let cut_line = cut::cut_line(&outline, &besides, input, &mut report)?.path;
    let notches = notch::place(&outline, &besides, &takes, &cut_line, input, &mut report);
    if report.has_failed() {
        return None;
    }
    let allowances: Vec<f64> = besides.iter().map(|b| b.allowance).collect();
    let mut folds = cut::fold_lines(&outline, &besides, &cut_line);
    folds.extend(take::lines(&outline, &allowances, &takes));
    let finished = extents(&outline.path(), &holes);
    let cut = extents(&cut_line, &holes);
    Some(Drafted { edges: edges(outline, &besides, &takes), cut_line, folds, notches, holes, finished, cut })
}

/// The finished outline, tapered and its corners worked.
fn finished(input: &PanelInput, report: &mut Report<'_>) -> Option<Outline> {
    let mut outline = Outline::new(input, report)?;
    shift::apply(&mut outline, input, report)?;
    tool::apply(&mut outline, input, report)?;
    taper::apply(&mut outline, input, report)?;
    corner::apply(&mut outline, input, report)?;
    if !(input.tapers.is_empty() && input.corners.is_empty()) {
        outline.check_simple(Made::Reshaped, input.span, report)?;
    }
    Some(outline)
}

fn edges(outline: Outline, besides: &[Beside], takes: &[Take]) -> Vec<DraftedEdge> {
    let edge = |(index, (work, beside)): (usize, (outline::Work, &Beside))| {
        let length = work.path.length();
        let taken: f64 = takes.iter().filter(|t| t.edge == index).map(|t| t.to - t.from).sum();
        let part = |(name, from, to)| EdgePart { name, from: Length::mm(from), to: Length::mm(to) };
        DraftedEdge {
            name: work.name,
            path: work.path,
            length,
            sewn_length: length - taken,
            parts: work.parts.into_iter().map(part).collect(),
            allowance: beside.allowance,
            start_neighbour: work.start_neighbour,
            end_neighbour: work.end_neighbour,
            span: work.span,
        }
    };
    outline.edges.into_iter().zip(besides).enumerate().map(edge).collect()
}

fn extents(path: &Path, holes: &[(String, Path)]) -> Extents {
    let bounds = path.bounds();
    let taken: f64 = holes.iter().map(|(_, hole)| hole.signed_area().abs()).sum();
    Extents { width: bounds.width(), height: bounds.height(), area: path.signed_area().abs() - taken }
}

#[cfg(test)]
mod tests;
