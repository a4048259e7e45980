//! Whether what goes to a cutter may go there, and comes out as drawn.

use super::error::CutterError;
use crate::diagnostic::Problems;
use crate::geometry::{FLATTEN, Path, Point, distance_to};
use crate::ir::{Cutter, CutterKind, Design, LineSort, Piece};
use crate::quantity::Length;

/// Checks every material at its cutter, and every piece cut of it.
pub(super) fn check(design: &Design, problems: &mut Problems) {
    for cutter in &design.cutters {
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

/// Looks for what is too fine for the cutter: first the outline, then holes and notches.
fn fine(cutter: &Cutter, piece: &Piece, problems: &mut Problems) {
    let finest = cutter.finest();
    let narrow = |path: &Path| if finest.as_mm() > 0.0 { path.narrower_than(finest.as_mm()) } else { None };
    let mut found: Vec<(String, Point)> = Vec::new();
    if cutter.does(LineSort::Outlines) {
        let at = narrow(&piece.cut_line).or_else(|| cutter.outline_to_follow(&piece.cut_line).is_err().then_some(piece.cut_line.start));
        found.extend(at.map(|at| ("its outline".to_owned(), at)));
    }
    if cutter.does(LineSort::Holes) {
        for hole in &piece.holes {
            let at = narrow(&hole.path).or_else(|| cutter.hole_to_follow(&hole.path).is_err().then_some(hole.path.start));
            found.extend(at.map(|at| (format!("hole `{}`", hole.name), at)));
        }
    }
    if cutter.does(LineSort::Notches) {
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
