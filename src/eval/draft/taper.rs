//! Tapers: a corner moved in along the neighbouring edge, and its edge drawn straight to it.

use super::error::{OutlineError, Report};
use super::outline::{End, Outline, SHORTEST, straight_from};
use super::{PanelInput, TaperInput};
use crate::geometry::{Path, Point};
use crate::source::Span;

/// What happens at a corner.
#[derive(Debug, Clone, Copy)]
struct Move {
    /// The edge that is tapered.
    edge: usize,
    over: f64,
    by: f64,
    to: Point,
    span: Span,
}

/// What happens at one end of an edge.
#[derive(Debug, Clone, Copy)]
enum Change {
    /// Its own taper, from the moved corner.
    Tapered(Move),
    /// Shortened by a neighbour's taper.
    Shortened(Move),
}

impl Change {
    const fn taken(&self) -> f64 {
        match self {
            Self::Tapered(m) => m.over,
            Self::Shortened(m) => m.by,
        }
    }

    const fn span(&self) -> Span {
        match self {
            Self::Tapered(m) | Self::Shortened(m) => m.span,
        }
    }
}

/// Works all tapers into the outline; none when one can't be.
pub(crate) fn apply(outline: &mut Outline, input: &PanelInput, report: &mut Report<'_>) -> Option<()> {
    // By corner: the index of the edge that runs into it.
    let mut moves: Vec<Option<Move>> = vec![None; outline.edges.len()];
    for taper in &input.tapers {
        let Some((corner, planned)) = report.take(plan(outline, taper)) else { continue };
        let Some(slot) = moves.get_mut(corner) else { continue };
        if let Some(first) = slot {
            let name = |i: usize| outline.edges.get(i).map(|e| e.name.clone()).unwrap_or_default();
            let corner = (name(corner), name(outline.after(corner)));
            report.push(OutlineError::MovedTwice { corner, first: first.span, second: taper.span });
            continue;
        }
        *slot = Some(planned);
    }
    let mut changed = Vec::new();
    for index in 0..outline.edges.len() {
        let at = |corner: usize| {
            let planned = moves.get(corner).copied().flatten()?;
            Some(if planned.edge == index { Change::Tapered(planned) } else { Change::Shortened(planned) })
        };
        changed.push((at(outline.before(index)), at(index)));
    }
    for (index, (start, finish)) in changed.into_iter().enumerate() {
        report.take(reshape(outline, index, start, finish));
    }
    (!report.has_failed()).then_some(())
}

/// The corner that a taper moves, and how.
fn plan(outline: &Outline, taper: &TaperInput) -> Result<(usize, Move), OutlineError> {
    let edge = outline.find(&taper.edge.0, taper.edge.1)?;
    let end = outline.end(edge, &taper.from.0, taper.from.1)?;
    let (neighbour, its_end, corner) = match end {
        End::Start => (outline.before(edge), End::Finish, outline.before(edge)),
        End::Finish => (outline.after(edge), End::Start, edge),
    };
    let unknown = || OutlineError::UnknownEdge { name: taper.edge.0.clone(), known: outline.names(), span: taper.edge.1 };
    let (work, beside) = (outline.edges.get(edge).ok_or_else(unknown)?, outline.edges.get(neighbour).ok_or_else(unknown)?);
    let length = work.path.length();
    let (by, over) = (taper.by, taper.over.on(length));
    if !(by.is_finite() && by >= 0.0) {
        return Err(OutlineError::UnusableSize { what: "how far this taper moves in", size: by, span: taper.span });
    }
    if !(over.is_finite() && over >= SHORTEST) {
        return Err(OutlineError::UnusableSize { what: "the length of this taper", size: over, span: taper.span });
    }
    if over > length + SHORTEST {
        return Err(OutlineError::TaperTooLong { edge: work.name.clone(), length, over, span: taper.span });
    }
    let over = over.min(length);
    let along = beside.path.length();
    if by > along - SHORTEST {
        return Err(OutlineError::TaperCloses { edge: beside.name.clone(), length: along, taken: by, span: taper.span });
    }
    for (e, end, needed) in [(work, end, over), (beside, its_end, by)] {
        let straight = straight_from(&e.path, end);
        if straight < needed - SHORTEST {
            return Err(OutlineError::TaperOnCurve { edge: e.name.clone(), straight, needed, span: taper.span });
        }
    }
    let to = beside.path.point_at(if its_end == End::Start { by } else { along - by });
    Ok((corner, Move { edge, over, by, to, span: taper.span }))
}

/// Draws an edge anew between its changed ends.
fn reshape(outline: &mut Outline, index: usize, start: Option<Change>, finish: Option<Change>) -> Result<(), OutlineError> {
    let Some(work) = outline.edges.get_mut(index) else { return Ok(()) };
    let length = work.path.length();
    let taken = |c: &Option<Change>| c.as_ref().map_or(0.0, Change::taken);
    let (from, to) = (taken(&start), length - taken(&finish));
    if let (Some(s), Some(f)) = (&start, &finish) {
        check_room(&work.name, length, s, f)?;
    }
    if start.is_none() && finish.is_none() {
        return Ok(());
    }
    let straight = work.path.subpath(from, to);
    let mut parts: Vec<(String, f64, f64)> = Vec::new();
    let mut path = Path::new(straight.start);
    // The panel that the outline is taken from may have tapered it already.
    let was_tapered = |part: Option<&(String, f64, f64)>| part.is_some_and(|(name, ..)| name.starts_with("tapered"));
    let (was_at_start, was_at_finish) = (was_tapered(work.parts.first()), was_tapered(work.parts.last()));
    let is_tapered = |change: &Option<Change>| matches!(change, Some(Change::Tapered(_)));
    let both = (is_tapered(&start) || was_at_start) && (is_tapered(&finish) || was_at_finish);
    let name = |neighbour: &str| if both { format!("tapered_{neighbour}") } else { "tapered".to_owned() };
    let before: Vec<(String, f64, f64)> = work.parts_between(from, to);
    let mut at = 0.0;
    if let Some(Change::Tapered(m)) = &start {
        path = Path::line(m.to, straight.start);
        at = path.length();
        parts.push((name(&work.start_neighbour), 0.0, at));
    }
    let rest = straight.length();
    if rest > SHORTEST {
        path = path.then(&straight);
        if before.is_empty() && (!parts.is_empty() || is_tapered(&finish)) {
            parts.push(("straight".to_owned(), at, at + rest));
        }
        for (old, start, finish) in before {
            let old = match old.as_str() {
                "tapered" if was_at_start => name(&work.start_neighbour),
                "tapered" => name(&work.end_neighbour),
                _ => old,
            };
            parts.push((old, at + start, at + finish));
        }
    }
    if let Some(Change::Tapered(m)) = &finish {
        path = path.line_to(m.to);
        parts.push((name(&work.end_neighbour), at + rest, path.length()));
    }
    parts.dedup_by(|next, part| {
        part.0 == next.0 && {
            part.2 = next.2;
            true
        }
    });
    work.path = path;
    work.parts = parts;
    Ok(())
}

fn check_room(edge: &str, length: f64, start: &Change, finish: &Change) -> Result<(), OutlineError> {
    let (a, b) = (start.taken(), finish.taken());
    let edge = edge.to_owned();
    match (start, finish) {
        (Change::Tapered(_), Change::Tapered(_)) if a + b > length + SHORTEST => {
            Err(OutlineError::TapersMeet { edge, length, over: (a, b), span: start.span(), other: finish.span() })
        }
        (Change::Shortened(_), Change::Shortened(_)) if a + b > length - SHORTEST => {
            Err(OutlineError::TaperCloses { edge, length, taken: a + b, span: start.span() })
        }
        (Change::Tapered(m), Change::Shortened(s)) | (Change::Shortened(s), Change::Tapered(m)) if a + b > length + SHORTEST => {
            Err(OutlineError::TaperTooLong { edge, length: length - s.by, over: m.over, span: m.span })
        }
        _ => Ok(()),
    }
}
