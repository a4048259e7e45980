//! Pieces and the cloth they are cut from.

use super::error::PieceError;
use super::split;
use crate::diagnostic::Problems;
use crate::geometry::{FLATTEN, Hull};
use crate::ir::{Design, Direction, Material, Piece};
use crate::quantity::Length;
use std::f64::consts::{FRAC_PI_2, PI};

/// Allowance for a joining seam where the piece has none of its own, mm.
const JOINING: f64 = 10.0;

/// A piece in more parts than this is not what anyone means.
const MOST_WIDTHS: u32 = 20;

/// Checks that every piece fits its cloth the way its grain runs.
pub(super) fn check(design: &Design, problems: &mut Problems) {
    for piece in &design.pieces {
        let Some(material) = design.material(piece.material).filter(|m| m.kind.is_sheet()) else { continue };
        if piece.grain.angle.is_none() && material.direction == Direction::OneWay {
            problems.push(PieceError::AnyOnOneWay {
                piece: piece.name.clone(),
                material: material.name.clone(),
                at: piece.grain.origin,
                material_at: material.origin,
            });
        }
        width(piece, material, problems);
    }
}

fn width(piece: &Piece, material: &Material, problems: &mut Problems) {
    let Some(roll) = material.width else { return };
    let usable = roll.as_mm() - 2.0 * material.selvedge.as_mm();
    let hull = Hull::of(piece.cut_line.flatten(FLATTEN));
    let least = |along: f64, within: f64| hull.lies_near(along, within).into_iter().map(|l| l.width).fold(f64::INFINITY, f64::min);
    let fixed = piece.grain.angle.filter(|_| material.direction != Direction::Any);
    let across = match fixed {
        Some(angle) => least(angle.as_radians(), piece.grain.within.as_radians()),
        None => least(FRAC_PI_2, PI),
    };
    if across <= usable + Length::SAME.as_mm() || !across.is_finite() {
        return;
    }
    let turned = fixed.filter(|_| material.direction == Direction::TwoWay).map(|a| hull.lie(a.as_radians() + FRAC_PI_2).width);
    let widest = piece.edges.iter().map(|e| e.allowance.as_mm()).fold(0.0, f64::max);
    let allowance = if widest > 0.0 { widest } else { JOINING };
    let widths = widths(across, usable, allowance);
    let along = fixed.map_or(FRAC_PI_2, |a| a.as_radians());
    let splits = widths.and_then(|(count, _)| split::lines(piece, along, usable, (count, allowance))).unwrap_or_default();
    problems.push(PieceError::TooWide {
        piece: piece.name.clone(),
        material: material.name.clone(),
        across: Length::mm(across),
        usable: Length::mm(usable),
        widths,
        splits,
        on_fold: piece.fold_line.is_some(),
        turned: turned.filter(|w| *w <= usable).map(Length::mm),
        at: piece.origin,
        material_at: material.origin,
    });
}

/// In how many panels a width fits when every joining seam takes two allowances, and how wide each is.
fn widths(across: f64, usable: f64, allowance: f64) -> Option<(u32, Length)> {
    (2..=MOST_WIDTHS).find_map(|count| {
        let n = f64::from(count);
        let each = (across + 2.0 * allowance * (n - 1.0)) / n;
        (each <= usable).then_some((count, Length::mm(each)))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn panels_grow_with_their_joining_seams() {
        // 2000 on 1450 with 10 mm allowances: two of (2000 + 20) / 2 = 1010.
        assert_eq!(widths(2000.0, 1450.0, 10.0), Some((2, Length::mm(1010.0))));
        // 2895 would halve to 1447.5, but with 2 × 10 mm it is 1457.5: three of (2895 + 40) / 3.
        let (count, each) = widths(2895.0, 1450.0, 10.0).expect("it fits");
        assert_eq!(count, 3);
        assert!((each.as_mm() - 978.333).abs() < 1e-3);
        assert_eq!(widths(5000.0, 15.0, 10.0), None);
    }
}
