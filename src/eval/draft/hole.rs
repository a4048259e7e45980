//! Holes: inside the outline, clear of its edges and of each other.

use super::PanelInput;
use super::error::{MarkError, Report};
use super::opposite;
use super::outline::LOOK;
use super::sheet::{Drawn, Sheet};
use crate::geometry::{Path, Point, crossing_between, encloses, self_crossing};

/// All holes, clockwise; those that have no place are reported and left out.
pub(crate) fn place(drawn: &Drawn, input: &PanelInput, report: &mut Report<'_>) -> Vec<(String, Path)> {
    let (points, _) = super::outline::flatten(drawn.outline.edges.iter().map(|e| &e.path));
    let mut placed: Vec<(String, Path)> = Vec::new();
    let mut others: Vec<(String, Vec<Point>)> = Vec::new();
    for hole in &input.holes {
        let (name, span) = (hole.name.clone(), hole.span);
        let flat = if hole.path.is_finite() { hole.path.flatten(LOOK) } else { Vec::new() };
        let Some(first) = flat.first().copied() else {
            report.push(MarkError::HoleOutside { hole: name, span });
            continue;
        };
        let other = others
            .iter()
            .find(|(_, o)| crossing_between(o, &flat).is_some() || encloses(o, first) || o.first().is_some_and(|p| encloses(&flat, *p)));
        let crossed = if crossing_between(&points, &flat).is_some() {
            Some("an edge".to_owned())
        } else if self_crossing(&flat).is_some() || !hole.path.is_closed() {
            Some("itself".to_owned())
        } else if let Some(line) = drawn.lines.iter().find(|l| crossing_between(&l.work.path.flatten(LOOK), &flat).is_some()) {
            Some(format!("the split `{}`", line.work.name))
        } else {
            other.map(|(name, _)| format!("the hole `{name}`"))
        };
        if let Some(what) = crossed {
            report.push(MarkError::HoleCrosses { hole: name, what, span });
            continue;
        }
        if !encloses(&points, first) {
            report.push(MarkError::HoleOutside { hole: name, span });
            continue;
        }
        let clockwise = hole.path.signed_area() <= 0.0;
        placed.push((name.clone(), if clockwise { hole.path.clone() } else { hole.path.reversed() }));
        others.push((name, flat));
    }
    placed
}

/// Those of a piece: all of a whole panel, those inside one that a split made, and on the fold each with its image.
pub(crate) fn on_piece(sheet: &Sheet, holes: &[(String, Path)]) -> Vec<(String, Path)> {
    let (points, _) = super::outline::flatten(sheet.outline.edges.iter().map(|e| &e.path));
    let mine = |(_, path): &&(String, Path)| sheet.name.is_none() || encloses(&points, path.start);
    let own: Vec<(String, Path)> = holes.iter().filter(mine).cloned().collect();
    let image = |fold: &Path, path: &Path| path.mirrored(fold.start, fold.end() - fold.start).reversed();
    let images: Vec<(String, Path)> =
        sheet.fold.iter().flat_map(|fold| own.iter().map(|(name, path)| (opposite(name), image(fold, path)))).collect();
    own.into_iter().chain(images).collect()
}
