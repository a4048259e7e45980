//! The pieces that come of a drawn outline: one as it is drawn, several where it is split, or a half with its mirror image.
//! And where on their edges a place on a drawn edge comes to lie.

use super::error::{OutlineError, Report};
use super::outline::{Outline, SHORTEST, Work};
use super::{Along, PanelInput, split, unfold};
use crate::geometry::Path;
use crate::source::Span;

/// A stretch of a drawn edge, or of a piece's edge where one lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Stretch {
    /// Its index in [`Drawn`], or in its piece.
    pub(crate) edge: usize,
    pub(crate) from: f64,
    pub(crate) to: f64,
    /// Whether the piece's edge runs the other way than the drawn one.
    pub(crate) turned: bool,
}

impl Stretch {
    pub(crate) const fn length(&self) -> f64 {
        self.to - self.from
    }

    /// The same seen the other way.
    pub(crate) const fn reversed(self) -> Self {
        Self { turned: !self.turned, ..self }
    }
}

/// A piece before its allowances.
#[derive(Debug, Clone)]
pub(crate) struct Sheet {
    /// Its name, where a split made it.
    pub(crate) name: Option<(String, Span)>,
    pub(crate) outline: Outline,
    /// For each edge of its outline, the stretches of drawn edges it is made of, in its own direction.
    pub(crate) made_of: Vec<Vec<Stretch>>,
    /// The fold it is cut on, with the half that is drawn to its left.
    pub(crate) fold: Option<Path>,
}

impl Sheet {
    /// The outline as one piece.
    pub(crate) fn whole(outline: &Outline) -> Self {
        let all = |(edge, work): (usize, &Work)| vec![Stretch { edge, from: 0.0, to: work.path.length(), turned: false }];
        Self { name: None, made_of: outline.edges.iter().enumerate().map(all).collect(), outline: outline.clone(), fold: None }
    }

    /// Stretches of this piece's edges on which a stretch of a drawn edge lies whole.
    pub(crate) fn find(&self, edge: usize, from: f64, to: f64) -> Vec<Stretch> {
        let mut found = Vec::new();
        for (index, stretches) in self.made_of.iter().enumerate() {
            let mut before = 0.0;
            for s in stretches {
                if s.edge == edge && from >= s.from - SHORTEST && to <= s.to + SHORTEST {
                    let (near, far) = if s.turned { (s.to - to, s.to - from) } else { (from - s.from, to - s.from) };
                    let (from, to) = (before + near.max(0.0), before + far.min(s.length()));
                    found.push(Stretch { edge: index, from, to, turned: s.turned });
                }
                before += s.length();
            }
        }
        found
    }

    /// The drawn edge that one of its edges comes from.
    pub(crate) fn source(&self, edge: usize) -> Option<usize> {
        self.made_of.get(edge)?.first().map(|s| s.edge)
    }
}

/// A split line across the outline, from where it enters to where it leaves.
#[derive(Debug, Clone)]
pub(crate) struct SplitLine {
    pub(crate) work: Work,
    /// The edges that it meets at its start and at its end.
    pub(crate) ends: [Vec<String>; 2],
}

/// All that has edges' names in a panel: the finished outline, then the lines that split it.
#[derive(Debug, Clone)]
pub(crate) struct Drawn {
    pub(crate) outline: Outline,
    pub(crate) lines: Vec<SplitLine>,
}

impl Drawn {
    pub(crate) fn works(&self) -> impl Iterator<Item = &Work> {
        self.outline.edges.iter().chain(self.lines.iter().map(|l| &l.work))
    }

    pub(crate) fn work(&self, index: usize) -> Option<&Work> {
        self.works().nth(index)
    }

    /// The index of an edge or a split line.
    pub(crate) fn find(&self, name: &str, span: Span) -> Result<usize, OutlineError> {
        let known = || self.works().map(|w| w.name.clone()).collect();
        self.works().position(|w| w.name == name).ok_or_else(|| OutlineError::UnknownEdge { name: name.to_owned(), known: known(), span })
    }

    /// Reports joins at what is no corner of a split panel: neither as it is drawn nor at an end of a split line.
    pub(crate) fn check_joins(&self, input: &PanelInput, report: &mut Report<'_>) {
        if self.lines.is_empty() {
            return;
        }
        for (first, second, span) in input.joins.iter().map(|j| &j.edges) {
            let line = self.lines.iter().find(|l| l.work.name == *first || l.work.name == *second);
            let Some(line) = line else {
                report.take(self.outline.corner(first, second, *span));
                continue;
            };
            let neighbours: Vec<String> = line.ends.iter().flatten().cloned().collect();
            if !neighbours.iter().any(|n| n == first || n == second) {
                report.push(OutlineError::NoCorner { first: first.clone(), second: second.clone(), neighbours, span: *span });
            }
        }
    }

    /// How far from the start of an edge or a split line a place lies.
    pub(crate) fn place(&self, index: usize, at: Along, from: Option<&(String, Span)>) -> Result<f64, OutlineError> {
        let Some(line) = index.checked_sub(self.outline.edges.len()).and_then(|i| self.lines.get(i)) else {
            return self.outline.place(index, at, from);
        };
        let length = line.work.path.length();
        let distance = at.on(length);
        let Some((named, span)) = from else { return Ok(distance) };
        let edge = line.work.name.clone();
        match line.ends.each_ref().map(|names| names.contains(named)) {
            [true, false] => Ok(distance),
            [false, true] => Ok(length - distance),
            [true, true] => Err(OutlineError::UnclearEnd { edge, named: named.clone(), span: *span }),
            [false, false] => {
                let ends = line.ends.iter().filter_map(|names| names.first().cloned()).collect();
                Err(OutlineError::UnknownEnd { edge, named: named.clone(), ends, span: *span, edge_span: line.work.span })
            }
        }
    }
}

/// The panel as it would be without its splits, laid open where it is cut on the fold; `sheets` are its pieces.
pub(crate) fn unsplit(drawn: &Drawn, sheets: &[Sheet], input: &PanelInput) -> Option<Sheet> {
    let whole = match sheets {
        [one] => return Some(one.clone()),
        _ => Sheet::whole(&drawn.outline),
    };
    match &input.fold {
        None => Some(whole),
        // Each of its pieces was laid open about it.
        Some(fold) => unfold::unfold(&whole, fold).ok(),
    }
}

/// The pieces, and what in a panel has names.
pub(crate) fn of(outline: Outline, input: &PanelInput, report: &mut Report<'_>) -> Option<(Drawn, Vec<Sheet>)> {
    let mut drawn = Drawn { outline, lines: Vec::new() };
    let sheets = match (&input.fold, input.splits.is_empty()) {
        (None, true) => vec![Sheet::whole(&drawn.outline)],
        (None, false) => split::apply(&mut drawn, input, report)?,
        (Some(fold), true) => vec![report.take(unfold::unfold(&Sheet::whole(&drawn.outline), fold))?],
        (Some(fold), false) => {
            let halves = split::apply(&mut drawn, input, report)?;
            halves.iter().map(|half| report.take(unfold::unfold(half, fold))).collect::<Option<Vec<Sheet>>>()?
        }
    };
    for sheet in sheets.iter().filter(|s| s.fold.is_some()) {
        sheet.outline.check_simple(super::outline::Made::Reshaped, input.span, report)?;
    }
    Some((drawn, sheets))
}
