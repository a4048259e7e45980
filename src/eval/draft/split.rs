//! Splits: the outline cut along straight lines, so that each part is a piece of its own.

use super::error::{PartError, Report};
use super::outline::{Outline, SAME, SHORTEST, Work};
use super::sheet::{Drawn, Sheet, SplitLine, Stretch};
use super::{PanelInput, SplitInput};
use crate::geometry::Path;
use crate::source::Span;

/// Edges of a piece with what they are made of.
type Ring = Vec<(Work, Vec<Stretch>)>;

/// All pieces that the splits make; none when one can't be made. The lines are added to what is drawn.
pub(crate) fn apply(drawn: &mut Drawn, input: &PanelInput, report: &mut Report<'_>) -> Option<Vec<Sheet>> {
    let mut sheets = vec![Sheet::whole(&drawn.outline)];
    let mut waiting: Vec<&SplitInput> = input.splits.iter().collect();
    while !waiting.is_empty() {
        // A piece can be cut only once another split has made it, whatever the order of the lines.
        let ready = waiting.iter().enumerate().find_map(|(i, split)| {
            let wanted = split.of.as_ref().map(|(name, _)| name);
            sheets.iter().position(|s| s.name.as_ref().map(|(name, _)| name) == wanted).map(|at| (i, at))
        });
        let Some((next, at)) = ready else {
            let known: Vec<String> = sheets.iter().filter_map(|s| s.name.as_ref()).map(|(name, _)| name.clone()).collect();
            for split in waiting {
                let (part, span) = split.of.clone().unwrap_or_else(|| (input.name.clone(), split.span));
                report.push(PartError::NoSuchPart { part, known: known.clone(), span });
            }
            return None;
        };
        let split = waiting.remove(next);
        let whole = sheets.get(at)?;
        let (line, parts) = report.take(divide(whole, split, drawn.works().count()))?;
        drawn.lines.push(line);
        sheets.splice(at..=at, parts);
    }
    Some(sheets)
}

/// Cuts one piece in two: the line, and the pieces to its left and right.
fn divide(whole: &Sheet, split: &SplitInput, index: usize) -> Result<(SplitLine, [Sheet; 2]), PartError> {
    let name = &split.name.0;
    let chord = whole.outline.path().chord(split.from, split.to, SAME).map_err(|why| PartError::NotAcross {
        split: name.clone(),
        of: split.of.as_ref().map(|(part, _)| part.clone()),
        why,
        span: split.span,
    })?;
    let (enters, leaves) = (chord.enters.second, chord.leaves.second);
    let mut left = stretch(whole, leaves, enters, name);
    let mut right = stretch(whole, enters, leaves, name);
    let (Some((first, _)), Some((last, _))) = (right.first(), right.last()) else {
        let why = crate::geometry::NoChord::Misses;
        return Err(PartError::NotAcross { split: name.clone(), of: None, why, span: split.span });
    };
    let path = Path::line(first.path.start, last.path.end());
    let on_left = left.first().zip(left.last()).map(|((f, _), (l, _))| [l.name.clone(), f.name.clone()]).unwrap_or_default();
    let [enters_at, leaves_at] = on_left;
    let mut ends = [vec![enters_at, first.name.clone()], vec![leaves_at, last.name.clone()]];
    ends.iter_mut().for_each(Vec::dedup);
    let along = Stretch { edge: index, from: 0.0, to: path.length(), turned: false };
    let work = |path: Path, ring: &Ring| Work {
        name: name.clone(),
        path,
        parts: Vec::new(),
        start_neighbour: ring.last().map(|(w, _)| w.name.clone()).unwrap_or_default(),
        end_neighbour: ring.first().map(|(w, _)| w.name.clone()).unwrap_or_default(),
        span: split.name.1,
    };
    let line = SplitLine { work: work(path.clone(), &left), ends };
    left.push((line.work.clone(), vec![along]));
    let back = work(path.reversed(), &right);
    right.push((back, vec![along.reversed()]));
    let [of_left, of_right] = &split.pieces;
    Ok((line, [piece(of_left, left, split)?, piece(of_right, right, split)?]))
}

fn piece(name: &(String, Span), ring: Ring, split: &SplitInput) -> Result<Sheet, PartError> {
    let (edges, made_of): (Vec<Work>, Vec<Vec<Stretch>>) = ring.into_iter().unzip();
    for (i, edge) in edges.iter().enumerate() {
        if edges.iter().take(i).any(|other| other.name == edge.name) {
            let (split_name, span) = (split.name.0.clone(), split.span);
            return Err(PartError::EdgeSplitTwice { edge: edge.name.clone(), split: split_name, span, edge_span: edge.span });
        }
    }
    Ok(Sheet { name: Some(name.clone()), outline: Outline { edges }, made_of, fold: None })
}

/// The outline from one distance along it to another, counter-clockwise.
fn stretch(whole: &Sheet, from: f64, to: f64, split: &str) -> Ring {
    let lengths: Vec<f64> = whole.outline.edges.iter().map(|e| e.path.length()).collect();
    let total: f64 = lengths.iter().sum();
    let to = if to > from { to } else { to + total };
    let (mut ring, mut start) = (Ring::new(), 0.0);
    for _ in 0..2 {
        for ((work, made_of), length) in whole.outline.edges.iter().zip(&whole.made_of).zip(&lengths) {
            let (mut near, mut far) = ((from - start).max(0.0), (to - start).min(*length));
            start += length;
            if far - near <= SHORTEST {
                continue;
            }
            // A line through a corner, but for rounding, leaves no sliver of the edge beyond.
            near = if near <= SHORTEST { 0.0 } else { near };
            far = if length - far <= SHORTEST { *length } else { far };
            ring.push((shortened(work, near, far, *length, split), clipped(made_of, near, far)));
        }
    }
    // A closed edge by itself begins somewhere on one of the pieces, and goes on there.
    match ring.as_mut_slice() {
        [(before, one), (after, two)] if lengths.len() == 1 => {
            let joined = Work { path: before.path.clone().then(&after.path), end_neighbour: after.end_neighbour.clone(), ..before.clone() };
            vec![(joined, one.iter().chain(two.iter()).copied().collect())]
        }
        _ => ring,
    }
}

/// What a split leaves of an edge.
fn shortened(work: &Work, from: f64, to: f64, length: f64, split: &str) -> Work {
    let part = |(name, start, end): &(String, f64, f64)| {
        let (start, end) = (start.max(from), end.min(to));
        (end - start > SHORTEST).then(|| (name.clone(), start - from, end - from))
    };
    let end = |whole: bool, neighbour: &String| if whole { neighbour.clone() } else { split.to_owned() };
    Work {
        name: work.name.clone(),
        path: if from == 0.0 && to == length { work.path.clone() } else { work.path.subpath(from, to) },
        parts: work.parts.iter().filter_map(part).collect(),
        start_neighbour: end(from == 0.0, &work.start_neighbour),
        end_neighbour: end(to == length, &work.end_neighbour),
        span: work.span,
    }
}

/// The stretches of drawn edges that lie between two distances along an edge.
fn clipped(made_of: &[Stretch], from: f64, to: f64) -> Vec<Stretch> {
    let (mut kept, mut before) = (Vec::new(), 0.0);
    for s in made_of {
        let (near, far) = ((from - before).max(0.0), (to - before).min(s.length()));
        before += s.length();
        if far - near > SHORTEST {
            let (start, end) = if s.turned { (s.to - far, s.to - near) } else { (s.from + near, s.from + far) };
            kept.push(Stretch { from: start, to: end, ..*s });
        }
    }
    kept
}
