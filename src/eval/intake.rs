//! Holes in the cloth that a dart takes in: once it is sewn they lie behind its seam.

use super::draft::{Drafted, Intake, PanelInput};
use super::error::EvalError;
use super::evaluator::Evaluator;
use crate::geometry::{FLATTEN, Path, Point, crossing_between, distance_to, encloses};
use crate::ir::{Mark, MarkShape};
use crate::quantity::Length;
use crate::source::Span;
use std::collections::BTreeSet;

impl Evaluator<'_> {
    /// Warns of holes and drilled holes of a piece that a dart folds away. A hole drilled on the line along a dart's middle is how its
    /// point is shown to whoever sews it (common practice, no source).
    pub(crate) fn told_in_darts(&mut self, piece: &Drafted, marks: &[Mark], input: &PanelInput) {
        if piece.darts.is_empty() {
            return;
        }
        // Both halves of what is cut on the fold are told of once; the second hole is called after the first.
        let mut told: BTreeSet<Span> = BTreeSet::new();
        let drilled = marks.iter().filter_map(|mark| match mark.shape {
            MarkShape::Drill { at, diameter } => Some((mark.name.clone(), Path::circle(at, diameter.as_mm() / 2.0), Some(at), mark.origin)),
            _ => None,
        });
        let cut = piece.holes.iter().filter_map(|(name, path)| {
            let asked = input.holes.iter().find(|h| h.name == *name)?;
            Some((name.clone(), path.clone(), None, asked.span))
        });
        for (hole, path, drilled_at, span) in cut.chain(drilled) {
            let shows_middle = |dart: &Intake| drilled_at.is_some_and(|at| off_middle(dart, at) < Length::SAME.as_mm());
            let Some(dart) = piece.darts.iter().find(|d| takes_in(d, &path) && !shows_middle(d)) else { continue };
            if told.insert(span) {
                let (panel, edge) = (input.name.clone(), dart.edge.clone());
                self.problems.push(EvalError::HoleInDart { hole, panel, edge, spans: [span, dart.span] });
            }
        }
    }
}

/// Whether any of a hole lies between the legs of a dart.
fn takes_in(dart: &Intake, hole: &Path) -> bool {
    let [one, tip, two] = dart.legs;
    let (between, rim) = ([one, tip, two, one], hole.flatten(FLATTEN));
    let inside = |of: &[Point], at: Option<&Point>| at.is_some_and(|p| encloses(of, *p));
    crossing_between(&[one, tip, two], &rim).is_some() || inside(&between, rim.first()) || inside(&rim, Some(&tip))
}

/// How far a place lies off the line along a dart's middle.
fn off_middle(dart: &Intake, at: Point) -> f64 {
    let [one, tip, two] = dart.legs;
    distance_to(&[one.lerp(two, 0.5), tip], at)
}
