//! Whether what goes to a cutter may go there, and comes out as drawn.

use super::error::CutterError;
use crate::diagnostic::Problems;
use crate::geometry::{FLATTEN, Path, Point, distance_to};
use crate::ir::{Cutter, CutterKind, Design, LineSort, Piece, frames_along};
use crate::quantity::Length;

/// More frames than this a size are not what anyone lays by hand.
const MOST_FRAMES: u64 = 1_000;
/// Nor more pieces of cloth than this.
const MOST_PIECES: usize = 2_000;

/// Checks every material at its cutter, and every piece cut of it.
pub(super) fn check(design: &Design, problems: &mut Problems) {
    for cutter in &design.cutters {
        pieces(design, cutter, problems);
        frames(design, cutter, problems);
        for sent in &cutter.materials {
            let Some(material) = design.material(sent.material) else { continue };
            if cutter.kind == CutterKind::Laser {
                let (name, at, material_at) = (material.name.clone(), sent.origin, material.origin);
                match material.laser {
                    Some(true) => {}
                    Some(false) => {
                        problems.push(CutterError::NotForLaser { material: name, cutter: cutter.name.clone(), at, material_at });
                    }
                    None => problems.push(CutterError::LaserNotKnown { material: name, at, material_at }),
                }
            }
            for piece in design.pieces.iter().filter(|p| p.material == sent.material) {
                fine(cutter, piece, problems);
            }
        }
    }
}

/// Counts the frames of pieces larger than the bed: past a certain number the bed is a slip of the pen.
fn frames(design: &Design, cutter: &Cutter, problems: &mut Problems) {
    let (bed, overlap) = ((cutter.bed_length.as_mm(), cutter.bed_width.as_mm()), cutter.overlap.as_mm());
    let sent = |p: &&Piece| cutter.materials.iter().any(|m| m.material == p.material);
    let of = |piece: &Piece| {
        let angle = piece.grain.angle.map_or(0.0, |a| a.as_radians());
        let bounds = piece.cut_line.rotated(Point::default(), -angle).bounds();
        let lies = |along: f64, up: f64| u64::from(frames_along(along, bed.0, overlap)) * u64::from(frames_along(up, bed.1, overlap));
        let as_it_lies = lies(bounds.width(), bounds.height());
        let frames = if piece.grain.angle.is_none() { as_it_lies.min(lies(bounds.height(), bounds.width())) } else { as_it_lies };
        (frames, frames.saturating_mul(piece.copies.len() as u64))
    };
    let pieces = || design.pieces.iter().filter(sent).filter(|p| of(p).0 > 1);
    let all = pieces().map(|p| of(p).1).fold(0, u64::saturating_add);
    if let Some(worst) = pieces().max_by_key(|p| of(p).1).filter(|_| all > MOST_FRAMES) {
        let (piece, cutter_name) = (worst.name.clone(), cutter.name.clone());
        let of_one = of(worst).0;
        problems.push(CutterError::TooManyFrames {
            piece,
            of_one,
            all,
            most: MOST_FRAMES,
            cutter: cutter_name,
            at: cutter.origin,
            piece_at: worst.origin,
        });
    }
}

/// Counts the pieces of cloth: each is drawn, laid and put in order by itself.
fn pieces(design: &Design, cutter: &Cutter, problems: &mut Problems) {
    let sent = |p: &&Piece| cutter.materials.iter().any(|m| m.material == p.material);
    let all: usize = design.pieces.iter().filter(sent).map(|p| p.copies.len()).sum();
    if all > MOST_PIECES {
        problems.push(CutterError::TooManyPieces { all, most: MOST_PIECES, cutter: cutter.name.clone(), at: cutter.origin });
    }
}

/// Looks for what is too fine for the cutter: first the outline, then holes and notches.
fn fine(cutter: &Cutter, piece: &Piece, problems: &mut Problems) {
    let finest = cutter.finest();
    let narrow = |path: &Path| if finest.as_mm() > 0.0 { path.narrower_than(finest.as_mm()) } else { None };
    let mut found: Vec<(String, Point)> = Vec::new();
    if cutter.cuts(LineSort::Outlines) {
        let at = narrow(&piece.cut_line).or_else(|| (!cutter.outline_to_follow(piece).made_up).then_some(piece.cut_line.start));
        found.extend(at.map(|at| ("its outline".to_owned(), at)));
    }
    if cutter.cuts(LineSort::Holes) {
        for hole in &piece.holes {
            let at = narrow(&hole.path).or_else(|| cutter.hole_to_follow(&hole.path).is_err().then_some(hole.path.start));
            found.extend(at.map(|at| (format!("hole `{}`", hole.name), at)));
        }
    }
    if cutter.cuts(LineSort::Notches) {
        let shallow = piece.notches.iter().filter(|n| n.depth.as_mm() < finest.as_mm() - 1e-6);
        found.extend(shallow.map(|n| ("a notch".to_owned(), n.point)));
    }
    for (what, at) in found {
        problems.push(CutterError::TooFine {
            piece: piece.name.clone(),
            what,
            edge: nearest_edge(piece, at),
            place: (Length::mm(at.x), Length::mm(at.y)),
            finest,
            cutter: cutter.name.clone(),
            at: piece.origin,
            cutter_at: cutter.origin,
        });
    }
}

fn nearest_edge(piece: &Piece, at: Point) -> String {
    let off = |e: &&crate::ir::Edge| distance_to(&e.path.flatten(FLATTEN), at);
    piece.edges.iter().min_by(|a, b| off(a).total_cmp(&off(b))).map(|e| e.name.clone()).unwrap_or_default()
}
