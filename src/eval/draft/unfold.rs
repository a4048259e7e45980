//! A half laid open about the fold it is cut on.

use super::error::PartError;
use super::opposite;
use super::outline::{Outline, SHORTEST, Work};
use super::sheet::{Sheet, Stretch};
use crate::geometry::{Path, Point, Vector};
use crate::source::Span;
use std::f64::consts::FRAC_PI_2;

/// An edge that meets the fold within this (radians, one degree) of a right angle runs through as one edge: the kink that is
/// left, two degrees at most, is none that a seam or a hem would show.
const RIGHT: f64 = std::f64::consts::PI / 180.0;

/// The fold may stray by this much (mm) from a straight line: rounding noise of the figures behind it.
const STRAIGHT: f64 = 1e-3;

/// Edges with what they are made of.
type Ring = Vec<(Work, Vec<Stretch>)>;

/// The whole piece: the half as drawn, or a piece that a split made of it, and its mirror image.
pub(crate) fn unfold(sheet: &Sheet, fold: &(String, Span)) -> Result<Sheet, PartError> {
    let half = &sheet.outline;
    let at = half.edges.iter().position(|e| e.name == fold.0);
    let Some((at, line)) = at.and_then(|i| half.edges.get(i).map(|e| (i, e.path.clone()))) else {
        if let Some((piece, span)) = sheet.name.clone() {
            return Err(PartError::SplitOnFold { piece, span, fold_span: fold.1 });
        }
        let known = half.edges.iter().map(|e| e.name.clone()).collect();
        return Err(PartError::NoFoldEdge { edge: fold.0.clone(), known, span: fold.1 });
    };
    let (on, along) = (line.start, (line.end() - line.start).unit());
    check(half, at, on, along, fold)?;
    // The half from the end of the fold round to its start.
    let drawn: Ring = (1..half.edges.len())
        .filter_map(|step| {
            let index = (at + step) % half.edges.len();
            Some((half.edges.get(index)?.clone(), sheet.made_of.get(index)?.clone()))
        })
        .collect();
    let straight_on = |tangent: Vector| (tangent.turn_to(along).abs() - FRAC_PI_2).abs() <= RIGHT;
    let first = drawn.first().filter(|(w, _)| straight_on(w.path.tangent_at_start())).map(|(w, _)| w.name.clone());
    let last = drawn.last().filter(|(w, _)| straight_on(w.path.tangent_at_end())).map(|(w, _)| w.name.clone());
    let names = Names {
        first,
        last,
        fold: &fold.0,
        ends: drawn.first().zip(drawn.last()).map(|((f, _), (l, _))| [f.name.clone(), l.name.clone()]),
    };
    if let Some((edge, named)) = drawn.iter().find_map(|(work, _)| names.taken(&work.name, &drawn).map(|n| (work, n))) {
        let (edge, span) = (edge.name.clone(), edge.span);
        return Err(PartError::NamedOpposite { edge, of: named, span, fold_span: fold.1 });
    }
    let mirrored: Ring = drawn.iter().rev().map(|(work, made_of)| image(work, made_of, on, along, &names)).collect();
    let drawn: Ring = drawn.into_iter().map(|(work, made_of)| (names.at_the_fold(work), made_of)).collect();
    let ring = joined(drawn, mirrored, &names);
    let (edges, made_of): (Vec<Work>, Vec<Vec<Stretch>>) = begun_as_drawn(ring, half).into_iter().unzip();
    Ok(Sheet { name: sheet.name.clone(), outline: Outline { edges }, made_of, fold: Some(line) })
}

/// The fold must be straight, and the half lie on one side of it.
fn check(half: &Outline, at: usize, on: Point, along: Vector, fold: &(String, Span)) -> Result<(), PartError> {
    let off = |p: Point| along.cross(p - on);
    for (index, work) in half.edges.iter().enumerate() {
        let points = work.path.flatten(super::outline::LOOK);
        if index == at {
            let stray = points.iter().map(|p| off(*p).abs()).fold(0.0, f64::max);
            if stray > STRAIGHT {
                return Err(PartError::FoldNotStraight { edge: fold.0.clone(), stray, span: fold.1, edge_span: work.span });
            }
            continue;
        }
        let past = points.iter().map(|p| -off(*p)).fold(f64::NEG_INFINITY, f64::max);
        if past > SHORTEST {
            return Err(PartError::OverFold { edge: work.name.clone(), fold: fold.0.clone(), past, span: fold.1, edge_span: work.span });
        }
    }
    Ok(())
}

/// What edges are called on the other half.
struct Names<'f> {
    /// The edge that runs on past the end of the fold, and the one that runs on past its start, where they do.
    first: Option<String>,
    last: Option<String>,
    fold: &'f str,
    /// The edges that end on the fold, at its end and at its start.
    ends: Option<[String; 2]>,
}

impl Names<'_> {
    fn runs_on(&self, name: &str) -> bool {
        [&self.first, &self.last].into_iter().flatten().any(|n| n == name)
    }

    fn of(&self, name: &str) -> String {
        if self.runs_on(name) { name.to_owned() } else { opposite(name) }
    }

    /// The edge whose image would have this name of an edge that is drawn, or would once that is an image itself.
    fn taken(&self, name: &str, drawn: &Ring) -> Option<String> {
        let of = name.strip_suffix(&opposite(""))?;
        let known = drawn.iter().any(|(work, _)| work.name == of && !self.runs_on(of));
        (known || !self.runs_on(name)).then(|| of.to_owned())
    }

    /// Where an edge ends on the fold and does not run on, it meets its own image there.
    fn at_the_fold(&self, mut work: Work) -> Work {
        if let Some([first, last]) = &self.ends {
            if work.name == *first && work.start_neighbour == self.fold {
                work.start_neighbour = opposite(first);
            }
            if work.name == *last && work.end_neighbour == self.fold {
                work.end_neighbour = opposite(last);
            }
        }
        work
    }
}

fn image(work: &Work, made_of: &[Stretch], on: Point, along: Vector, names: &Names<'_>) -> (Work, Vec<Stretch>) {
    let length = work.path.length();
    let neighbour = |name: &String| if name == names.fold { work.name.clone() } else { names.of(name) };
    let part = |name: &String| if names.runs_on(&work.name) { opposite(name) } else { name.clone() };
    let image = Work {
        name: names.of(&work.name),
        path: work.path.mirrored(on, along).reversed(),
        parts: work.parts.iter().rev().map(|(name, from, to)| (part(name), length - to, length - from)).collect(),
        start_neighbour: neighbour(&work.end_neighbour),
        end_neighbour: neighbour(&work.start_neighbour),
        span: work.span,
    };
    (image, made_of.iter().rev().map(|s| s.reversed()).collect())
}

/// Both halves as one ring, edges that run on across the fold made one.
fn joined(drawn: Ring, mirrored: Ring, names: &Names<'_>) -> Ring {
    let mut ring: Ring = Vec::new();
    let mut across = names.last.is_some();
    let half = drawn.len();
    for (index, (work, made_of)) in drawn.into_iter().chain(mirrored).enumerate() {
        match ring.last_mut().filter(|_| index == half && std::mem::take(&mut across)) {
            Some(before) => run_on(before, (work, made_of)),
            None => ring.push((work, made_of)),
        }
    }
    if names.first.is_none() {
        return ring;
    }
    // The last of the ring runs on into the first.
    let Some(mut last) = ring.pop() else { return ring };
    if ring.is_empty() {
        // One edge all round: it begins on the fold, where it also ends.
        return vec![last];
    }
    let first = ring.remove(0);
    run_on(&mut last, first);
    ring.insert(0, last);
    ring
}

fn run_on(before: &mut (Work, Vec<Stretch>), (work, made_of): (Work, Vec<Stretch>)) {
    let length = before.0.path.length();
    let path = before.0.path.clone().then(&work.path);
    // A closed path would begin elsewhere once it is tidied, and places along it lie elsewhere.
    before.0.path = if path.is_closed() { path } else { path.tidied() };
    before.0.parts.extend(work.parts.into_iter().map(|(name, from, to)| (name, from + length, to + length)));
    before.0.end_neighbour = work.end_neighbour;
    before.1.extend(made_of);
}

/// The ring turned so that the edge drawn first, or the next after it that is there, stays the first.
fn begun_as_drawn(mut ring: Ring, half: &Outline) -> Ring {
    let first = half.edges.iter().find_map(|edge| ring.iter().position(|(work, _)| work.name == edge.name));
    ring.rotate_left(first.unwrap_or(0));
    ring
}

/// The cut line made the same on both sides of the fold, from the half that is drawn: both are cut at once, through two layers.
/// And the fold from side to side of it.
pub(crate) fn even(cut_line: &Path, fold: &Path) -> (Path, Option<Path>) {
    let (on, along) = (fold.start, (fold.end() - fold.start).unit());
    let reach = cut_line.bounds().width() + cut_line.bounds().height();
    let Ok(chord) = cut_line.chord(on - along * reach, fold.end() + along * reach, 0.0) else { return (cut_line.clone(), None) };
    let half = chord.left(cut_line);
    let image = half.mirrored(on, along).reversed();
    (half.then(&image).tidied(), Some(Path::line(chord.enters.at, chord.leaves.at)))
}
