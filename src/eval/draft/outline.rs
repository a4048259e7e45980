//! The outline as drawn: sound, closed, counter-clockwise. And how its edges, ends and corners are found by name.

use super::error::{OutlineError, Report};
use super::{Along, PanelInput, TakenOver};
use crate::geometry::{Path, Point, Segment, line_meeting, self_crossing};
use crate::source::Span;
use std::collections::BTreeMap;

/// Edges shorter than this (mm) have no length: a tenth of what a cutter can place.
pub(crate) const SHORTEST: f64 = 0.01;

/// Outlines that enclose less than this (mm²) hold nothing that could be cut.
pub(crate) const LEAST_AREA: f64 = 1.0;

/// Edges that turn by more than this (radians, 179.9 degrees) run back along each other: they part by 2 mm a metre.
const BACK: f64 = 179.9 * std::f64::consts::PI / 180.0;

/// At corners that turn by more than this (radians, 170 degrees) bent edges are looked at as they are, not flattened.
const SHARP: f64 = 170.0 * std::f64::consts::PI / 180.0;

/// Lengths that differ by no more than this (mm) are the same to a maker.
pub(crate) const SAME: f64 = crate::quantity::Length::SAME.as_mm();

/// Pieces reach no farther than this (mm): 100 m, longer than any roll.
pub(crate) const LARGEST: f64 = 100_000.0;

/// Ends nearer than this (mm) are joined without a word: rounding of the figures behind them.
const GAP: f64 = 1e-3;

/// Outlines are looked at for crossings flattened to this (mm).
pub(crate) const LOOK: f64 = crate::geometry::FLATTEN;

/// An edge while it is worked on.
#[derive(Debug, Clone)]
pub(crate) struct Work {
    pub(crate) name: String,
    pub(crate) path: Path,
    /// Named parts: name, from, to.
    pub(crate) parts: Vec<(String, f64, f64)>,
    pub(crate) start_neighbour: String,
    pub(crate) end_neighbour: String,
    pub(crate) span: Span,
}

impl Work {
    /// The named parts of a stretch of it, measured along that stretch.
    pub(crate) fn parts_between(&self, start: f64, finish: f64) -> Vec<(String, f64, f64)> {
        let kept = (finish - start).max(0.0);
        let parts =
            self.parts.iter().map(|(name, from, to)| (name.clone(), (from - start).clamp(0.0, kept), (to - start).clamp(0.0, kept)));
        parts.filter(|(_, from, to)| to - from > SHORTEST).collect()
    }
}

/// An end of an edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum End {
    Start,
    Finish,
}

/// How an outline came to be as it is, which tells what made it cross itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Made {
    /// As drawn.
    Drawn,
    /// By edges moved in or out.
    Moved,
    /// By other outlines laid on it.
    Combined,
    /// By tapers and corners.
    Reshaped,
}

/// The edges of an outline, a ring.
#[derive(Debug, Clone)]
pub(crate) struct Outline {
    pub(crate) edges: Vec<Work>,
}

impl Outline {
    /// From what is drawn; none when that is no outline.
    pub(crate) fn new(input: &PanelInput, report: &mut Report<'_>) -> Option<Self> {
        check_sizes(input, report)?;
        check_names(input.edges.iter().map(|e| (e.name.as_str(), e.span)), report)?;
        let mut paths: Vec<Path> = input.edges.iter().map(|e| e.path.clone()).collect();
        close(input, &mut paths, report)?;
        let mut outline = Self {
            edges: input
                .edges
                .iter()
                .zip(paths)
                .map(|(e, path)| {
                    let TakenOver { parts, ends } = e.taken.clone().unwrap_or_default();
                    Work { name: e.name.clone(), path, parts, start_neighbour: ends.0, end_neighbour: ends.1, span: e.span }
                })
                .collect(),
        };
        outline.orient();
        outline.name_neighbours();
        outline.check_simple(Made::Drawn, input.span, report)?;
        Some(outline)
    }

    /// Turned counter-clockwise; the edge drawn first stays the first.
    fn orient(&mut self) {
        if self.path().signed_area() >= 0.0 {
            return;
        }
        self.edges.reverse();
        self.edges.rotate_right(1);
        for edge in &mut self.edges {
            edge.path = edge.path.reversed();
        }
    }

    /// Names the ends of edges that have no such names yet.
    pub(crate) fn name_neighbours(&mut self) {
        let names: Vec<String> = self.edges.iter().map(|e| e.name.clone()).collect();
        let count = names.len();
        for (i, edge) in self.edges.iter_mut().enumerate() {
            if let (Some(before), Some(after)) = (names.get((i + count - 1) % count), names.get((i + 1) % count)) {
                for (end, name) in [(&mut edge.start_neighbour, before), (&mut edge.end_neighbour, after)] {
                    if end.is_empty() {
                        end.clone_from(name);
                    }
                }
            }
        }
    }

    /// The closed path all round.
    pub(crate) fn path(&self) -> Path {
        let start = self.edges.first().map_or_else(Point::default, |e| e.path.start);
        Path { start, segments: self.edges.iter().flat_map(|e| e.path.segments.iter().copied()).collect() }
    }

    /// Index of the edge before.
    pub(crate) fn before(&self, index: usize) -> usize {
        (index + self.edges.len() - 1) % self.edges.len().max(1)
    }

    /// Index of the edge after.
    pub(crate) fn after(&self, index: usize) -> usize {
        (index + 1) % self.edges.len().max(1)
    }

    pub(crate) fn names(&self) -> Vec<String> {
        self.edges.iter().map(|e| e.name.clone()).collect()
    }

    /// Where two edges run back along each other from their corner, with no cloth, or no gap, between them to speak of;
    /// or where, bent, they cross again so near it that their flattened courses don't show it.
    fn needle(&self) -> Option<OutlineError> {
        (0..self.edges.len()).find_map(|index| {
            let (first, second) = (self.edges.get(index)?, self.edges.get(self.after(index))?);
            let turn = first.path.tangent_at_end().turn_to(second.path.tangent_at_start());
            let swaps = turn.abs() > SHARP && swap_sides(&first.path, &second.path, turn);
            (turn.abs() > BACK || swaps).then(|| OutlineError::Needle {
                first: first.name.clone(),
                second: second.name.clone(),
                first_span: first.span,
                second_span: second.span,
            })
        })
    }

    /// Reports names that two edges have; none when there is one.
    pub(crate) fn check_names(&self, report: &mut Report<'_>) -> Option<()> {
        check_names(self.edges.iter().map(|e| (e.name.as_str(), e.span)), report)
    }

    /// Reports crossings; none when there is one.
    pub(crate) fn check_simple(&self, made: Made, span: Span, report: &mut Report<'_>) -> Option<()> {
        report.take(self.simple(made, span))
    }

    /// Whether it runs once round something, and if not, why.
    pub(crate) fn simple(&self, made: Made, span: Span) -> Result<(), OutlineError> {
        let (points, owners) = flatten(self.edges.iter().map(|e| &e.path));
        if let Some(needle) = self.needle() {
            return Err(needle);
        }
        let Some(crossing) = self_crossing(&points) else {
            return if self.path().signed_area() >= LEAST_AREA { Ok(()) } else { Err(OutlineError::Empty { span }) };
        };
        let owner = |i: usize| owners.get(i).and_then(|o| self.edges.get(*o));
        let (Some(first), Some(second)) = (owner(crossing.first), owner(crossing.second)) else {
            return Err(OutlineError::Empty { span });
        };
        Err(OutlineError::Crosses {
            first: first.name.clone(),
            second: second.name.clone(),
            made,
            first_span: first.span,
            second_span: second.span,
        })
    }

    /// The index of an edge.
    pub(crate) fn find(&self, name: &str, span: Span) -> Result<usize, OutlineError> {
        let found = self.edges.iter().position(|e| e.name == name);
        found.ok_or_else(|| OutlineError::UnknownEdge { name: name.to_owned(), known: self.names(), span })
    }

    /// Which end of an edge meets the neighbour named. Ends answer to the edge beside them and to the one that
    /// stood there before the corner was worked.
    pub(crate) fn end(&self, edge: usize, named: &str, span: Span) -> Result<End, OutlineError> {
        let name_of = |i: usize| self.edges.get(i).map(|e| e.name.clone()).unwrap_or_default();
        let (before, after) = (name_of(self.before(edge)), name_of(self.after(edge)));
        let Some(work) = self.edges.get(edge) else {
            return Err(OutlineError::UnknownEdge { name: named.to_owned(), known: self.names(), span });
        };
        let at_start = named == work.start_neighbour || named == before;
        let at_finish = named == work.end_neighbour || named == after;
        match (at_start, at_finish) {
            (true, false) => Ok(End::Start),
            (false, true) => Ok(End::Finish),
            // A ring of one edge begins and ends at the same point.
            (true, true) if self.edges.len() == 1 => Ok(End::Start),
            (true, true) => Err(OutlineError::UnclearEnd { edge: work.name.clone(), named: named.to_owned(), span }),
            (false, false) => Err(OutlineError::UnknownEnd {
                edge: work.name.clone(),
                named: named.to_owned(),
                ends: vec![work.start_neighbour.clone(), work.end_neighbour.clone()],
                span,
                edge_span: work.span,
            }),
        }
    }

    /// The corner of two edges, given in either order: the index of the edge that runs into it.
    pub(crate) fn corner(&self, first: &str, second: &str, span: Span) -> Result<usize, OutlineError> {
        let (a, b) = (self.find(first, span)?, self.find(second, span)?);
        match (self.after(a) == b, self.after(b) == a) {
            (true, true) if a != b => {
                Err(OutlineError::CornerUnclear { first: first.to_owned(), second: second.to_owned(), twice: true, span })
            }
            (true, _) => Ok(a),
            (_, true) => Ok(b),
            _ => {
                let worked = [(a, b), (b, a)].into_iter().find_map(|(a, b)| self.worked_between(a, b));
                if let Some(between) = worked {
                    return Err(OutlineError::TreatedTwice {
                        corner: (first.to_owned(), second.to_owned()),
                        first: between.span,
                        second: span,
                    });
                }
                let of = |i: usize| self.edges.get(i).map(|e| e.name.clone());
                let neighbours = [of(self.before(a)), of(self.after(a))].into_iter().flatten().collect();
                Err(OutlineError::NoCorner { first: first.to_owned(), second: second.to_owned(), neighbours, span })
            }
        }
    }

    /// Where two edges meet, given in either order; or would, run straight on, where their corner has been rounded or cut off.
    pub(crate) fn corner_point(&self, first: &str, second: &str, span: Span) -> Result<Point, OutlineError> {
        let (a, b) = (self.find(first, span)?, self.find(second, span)?);
        for (a, b) in [(a, b), (b, a)] {
            if let (Some(_), Some(into), Some(out)) = (self.worked_between(a, b), self.edges.get(a), self.edges.get(b)) {
                let (end, along) = (into.path.end(), into.path.tangent_at_end());
                let met = line_meeting(end, along, out.path.start, out.path.tangent_at_start());
                return Ok(met.map_or(end, |(on, _)| end + along * on));
            }
        }
        let index = self.corner(first, second, span)?;
        Ok(self.edges.get(index).map(|e| e.path.end()).unwrap_or_default())
    }

    /// The edge that a corner of two edges was made into, where it was.
    fn worked_between(&self, a: usize, b: usize) -> Option<&Work> {
        let (first, second) = (self.edges.get(a)?, self.edges.get(b)?);
        let met = self.after(a) != b && first.end_neighbour == second.name && second.start_neighbour == first.name;
        if met { self.edges.get(self.after(a)) } else { None }
    }

    /// How far from an edge's start a place lies.
    pub(crate) fn place(&self, edge: usize, at: Along, from: Option<&(String, Span)>) -> Result<f64, OutlineError> {
        let length = self.edges.get(edge).map_or(0.0, |e| e.path.length());
        let distance = at.on(length);
        match from {
            None => Ok(distance),
            Some((named, span)) => match self.end(edge, named, *span)? {
                End::Start => Ok(distance),
                End::Finish => Ok(length - distance),
            },
        }
    }
}

/// Whether two edges that leave a sharp corner side by side come to lie the other way round a little farther on.
fn swap_sides(first: &Path, second: &Path, turn: f64) -> bool {
    let (corner, length) = (second.start, first.length());
    let farthest = length.min(second.length()) / 2.0;
    let steps = std::iter::successors(Some(0.05), |s| Some(s * 1.5)).take_while(|s| *s < farthest.min(50.0));
    let mut sides = steps.map(|s| {
        let (back, on) = (first.point_at(length - s) - corner, second.point_at(s) - corner);
        on.cross(back) * turn.signum() / (s * s)
    });
    sides.any(|side| side < -1e-9)
}

/// How far an edge is straight from one of its ends.
pub(crate) fn straight_from(path: &Path, end: End) -> f64 {
    let path = if end == End::Start { path.clone() } else { path.reversed() };
    let first = path.tangent_at_start();
    let mut at = path.start;
    let mut straight = 0.0;
    for segment in &path.segments {
        let Segment::Line { end } = segment else { break };
        let step = *end - at;
        if step.length() > SHORTEST && (step.unit() - first).length() > 1e-6 {
            break;
        }
        straight += step.length();
        at = *end;
    }
    straight
}

/// The points of paths that follow each other, and for the straight from each point to the next, which path it is of.
pub(crate) fn flatten<'p>(paths: impl IntoIterator<Item = &'p Path>) -> (Vec<Point>, Vec<usize>) {
    let (mut points, mut owners): (Vec<Point>, Vec<usize>) = (Vec::new(), Vec::new());
    for (i, path) in paths.into_iter().enumerate() {
        let flat = path.flatten(LOOK);
        let skip = usize::from(!points.is_empty());
        owners.extend(std::iter::repeat_n(i, flat.len().saturating_sub(1)));
        points.extend(flat.into_iter().skip(skip));
    }
    (points, owners)
}

fn check_sizes(input: &PanelInput, report: &mut Report<'_>) -> Option<()> {
    if input.edges.is_empty() {
        report.push(OutlineError::Empty { span: input.span });
        return None;
    }
    for edge in &input.edges {
        report.take(check_reach(&edge.path, edge.span))?;
    }
    let mut sound = Some(());
    for edge in input.edges.iter().filter(|e| e.path.length() < SHORTEST) {
        report.push(OutlineError::ZeroLength { edge: edge.name.clone(), span: edge.span });
        sound = None;
    }
    sound
}

/// Nothing reaches farther than a roll of cloth.
pub(crate) fn check_reach(path: &Path, span: Span) -> Result<(), OutlineError> {
    let bounds = path.bounds();
    let reach = [bounds.min.x, bounds.min.y, bounds.max.x, bounds.max.y].into_iter().map(f64::abs).fold(0.0, f64::max);
    if path.is_finite() && reach <= LARGEST {
        return Ok(());
    }
    let size = if path.is_finite() { reach } else { f64::INFINITY };
    Err(OutlineError::TooLarge { size, limit: LARGEST, span })
}

fn check_names<'e>(edges: impl Iterator<Item = (&'e str, Span)>, report: &mut Report<'_>) -> Option<()> {
    let mut sound = Some(());
    let mut seen: BTreeMap<&str, Span> = BTreeMap::new();
    for (name, span) in edges {
        if let Some(&first) = seen.get(name) {
            report.push(OutlineError::NamedTwice { edge: name.to_owned(), first, second: span });
            sound = None;
        }
        seen.entry(name).or_insert(span);
    }
    sound
}

/// Joins ends that lie a rounding error apart, and reports those that don't meet.
fn close(input: &PanelInput, paths: &mut [Path], report: &mut Report<'_>) -> Option<()> {
    let starts: Vec<Point> = paths.iter().map(|p| p.start).collect();
    let mut sound = Some(());
    for (i, path) in paths.iter_mut().enumerate() {
        let next = (i + 1) % starts.len();
        let (Some(start), Some(edge), Some(after)) = (starts.get(next), input.edges.get(i), input.edges.get(next)) else { continue };
        let gap = path.end().distance(*start);
        if gap > GAP {
            let (edge_name, next_name) = (edge.name.clone(), after.name.clone());
            report.push(OutlineError::NotClosed { edge: edge_name, next: next_name, gap, span: edge.span });
            sound = None;
        }
        if let Some(last) = path.segments.last_mut() {
            last.move_end(*start);
        }
    }
    sound
}
