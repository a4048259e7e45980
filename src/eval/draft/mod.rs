//! Drafting: from a panel's figures to its finished outline and cut line.
//!
//! Nothing here evaluates expressions: [`PanelInput`] is all numbers, with a span on each
//! so that what can't be drafted is reported at the right word.
//!
//! In this order: the outline as drawn, checked and turned counter-clockwise; edges moved in or out; other outlines added,
//! kept, removed; tapers; corners; the pieces that splits and folds make of it; then darts, pleats and holes on the finished
//! outline; then, piece by piece, each edge's allowance, and the cut line round all of them; last the lines and notches that
//! lie between the two.

mod allowance;
mod apart;
mod cap;
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
mod shaped;
mod sheet;
mod shift;
mod split;
mod strip;
mod take;
mod taper;
mod tool;
mod unfold;

pub use error::CODES;
pub(crate) use error::{InPanel, OutlineError};
pub use input::*;
pub use notch::{NoNotch, Notched, Wanted, notches_on};
pub use output::*;
pub(crate) use strip::strip;

use crate::diagnostic::Problems;
use crate::geometry::Path;
use crate::ir::EdgePart;
use crate::quantity::Length;
use crate::syntax::ast::opposite;
use allowance::{Beside, Figures};
use error::Report;
use outline::{Made, Outline, Work};
use sheet::{Drawn, Sheet};
use take::Take;

/// Drafts a panel that is cut in one piece, or the first piece of one that is split; see [`draft_all`].
#[must_use]
pub fn draft(input: &PanelInput, problems: &mut Problems) -> Option<Drafted> {
    draft_all(input, problems)?.pieces.into_iter().next()
}

/// Drafts a panel with all its pieces; none when that can't be done, and `problems` says why.
#[must_use]
pub fn draft_all(input: &PanelInput, problems: &mut Problems) -> Option<Layout> {
    let mut report = Report::new(&input.name, problems);
    let outline = finished(input, &mut report)?;
    let (drawn, sheets) = sheet::of(outline, input, &mut report)?;
    let placed = Placed {
        takes: take::place(&drawn, input, &mut report),
        holes: hole::place(&drawn, input, &mut report),
        figures: allowance::figures(&drawn, input, &mut report)?,
    };
    drawn.check_joins(input, &mut report);
    let notches = notch::wanted(&drawn, &placed.takes, input, &mut report);
    let pieces: Vec<Drafted> = sheets.iter().filter_map(|s| piece(s, &drawn, &placed, &notches, input, &mut report)).collect();
    if report.has_failed() || pieces.len() < sheets.len() {
        return None;
    }
    let unsplit = sheet::unsplit(&drawn, &sheets, input)?;
    let finished = extents(&unsplit.outline.path(), &hole::on_piece(&unsplit, &placed.holes));
    let whole = whole_edges(&unsplit, &drawn, &placed, &pieces);
    Some(Layout { drawn: drawn_edges(&drawn, &placed), whole, finished, pieces })
}

/// What lies on a panel as it is drawn, before it is shared out to its pieces.
struct Placed {
    takes: Vec<Take>,
    holes: Vec<(String, Path)>,
    figures: Vec<Figures>,
}

/// One piece with all that falls to it.
fn piece(
    sheet: &Sheet,
    drawn: &Drawn,
    placed: &Placed,
    notches: &[notch::OnEdge],
    input: &PanelInput,
    report: &mut Report<'_>,
) -> Option<Drafted> {
    let outline = &sheet.outline;
    let takes = take::on_piece(sheet, drawn, &placed.takes, input, report);
    let holes = hole::on_piece(sheet, &placed.holes);
    let besides = allowance::resolve(sheet, &placed.figures, report)?;
    allowance::check_hems(outline, &besides, report);
    let mut cut = cut::cut_line(sheet, &besides, &takes, input, report)?;
    let mut fold_line = None;
    if let Some(fold) = &sheet.fold {
        (cut.path, fold_line) = unfold::even(&cut.path, fold);
    }
    let notches = notch::place(sheet, &besides, notches, &takes, &cut, report);
    apart::check(outline, &notches, report);
    if !report.has_failed() {
        apart::check_folded_away(outline, &notches, &takes, report);
    }
    let cut_line = cut.path;
    if report.has_failed() {
        return None;
    }
    let allowances: Vec<f64> = besides.iter().map(|b| b.allowance).collect();
    let mut folds = cut::fold_lines(outline, &besides, &cut_line);
    folds.extend(take::lines(outline, &allowances, &takes));
    let finished = extents(&outline.path(), &holes);
    let cut = extents(&cut_line, &holes);
    let edges = edges(sheet, drawn, &besides, &takes);
    let darts = take::intakes(outline, &takes);
    Some(Drafted { name: sheet.name.clone(), edges, cut_line, folds, darts, notches, holes, finished, cut, fold_line })
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

fn edges(sheet: &Sheet, drawn: &Drawn, besides: &[Beside], takes: &[Take]) -> Vec<DraftedEdge> {
    let edge = |(index, (work, beside)): (usize, (&Work, &Beside))| {
        let source = sheet.source(index).and_then(|i| drawn.work(i)).map_or_else(|| work.name.clone(), |w| w.name.clone());
        drafted_edge(work, source, beside.allowance, index, takes)
    };
    sheet.outline.edges.iter().zip(besides).enumerate().map(edge).collect()
}

/// The edges of a panel as if it were in one piece, then the split lines as they are on the first of their pieces.
fn whole_edges(unsplit: &Sheet, drawn: &Drawn, placed: &Placed, pieces: &[Drafted]) -> Vec<DraftedEdge> {
    let takes: Vec<Take> = placed.takes.iter().flat_map(|t| take::found(unsplit, t)).collect();
    let edge = |(index, work): (usize, &Work)| {
        let source = unsplit.source(index);
        let of = source.and_then(|i| drawn.work(i)).map_or_else(|| work.name.clone(), |w| w.name.clone());
        let allowance = source.and_then(|i| placed.figures.get(i)).map_or(0.0, |f| f.allowance);
        drafted_edge(work, of, allowance, index, &takes)
    };
    let outline = unsplit.outline.edges.iter().enumerate().map(edge);
    let on_a_piece = |name: &str| pieces.iter().flat_map(|p| &p.edges).find(|e| e.name == name).cloned();
    outline.chain(drawn.lines.iter().filter_map(|line| on_a_piece(&line.work.name))).collect()
}

/// Edges and split lines as they are drawn, whichever pieces they fall to.
fn drawn_edges(drawn: &Drawn, placed: &Placed) -> Vec<DraftedEdge> {
    let edge = |(index, (work, figures)): (usize, (&Work, &Figures))| {
        drafted_edge(work, work.name.clone(), figures.allowance, index, &placed.takes)
    };
    drawn.works().zip(&placed.figures).enumerate().map(edge).collect()
}

fn drafted_edge(work: &Work, of: String, allowance: f64, index: usize, takes: &[Take]) -> DraftedEdge {
    let length = work.path.length();
    let taken: f64 = takes.iter().filter(|t| t.edge == index).map(|t| t.to - t.from).sum();
    let part = |(name, from, to): &(String, f64, f64)| EdgePart { name: name.clone(), from: Length::mm(*from), to: Length::mm(*to) };
    DraftedEdge {
        name: work.name.clone(),
        of,
        path: work.path.clone(),
        length,
        sewn_length: length - taken,
        parts: work.parts.iter().map(part).collect(),
        allowance,
        start_neighbour: work.start_neighbour.clone(),
        end_neighbour: work.end_neighbour.clone(),
        span: work.span,
    }
}

fn extents(path: &Path, holes: &[(String, Path)]) -> Extents {
    let bounds = path.bounds();
    let taken: f64 = holes.iter().map(|(_, hole)| hole.signed_area().abs()).sum();
    Extents { width: bounds.width(), height: bounds.height(), area: path.signed_area().abs() - taken }
}

#[cfg(test)]
mod tests;
