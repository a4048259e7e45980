//! The least length of roll that could hold some pieces: no lay can do with less, a real one takes more.

use super::trail::{Figure, Trail};
use crate::geometry::{FLATTEN, Hull};
use crate::ir::{Design, Direction, Material, MaterialId, Piece, TraceId};
use crate::quantity::{Dimension, Length};
use std::f64::consts::{FRAC_PI_2, PI};

/// The least length, and the step behind it; none when the roll's width is not known.
pub(super) fn least(design: &Design, id: MaterialId, area: (f64, TraceId), trail: &mut Trail) -> Option<(Length, TraceId)> {
    let material = design.material(id)?;
    let usable = material.width?.as_mm() - 2.0 * material.selvedge.as_mm();
    if usable <= 0.0 {
        return None;
    }
    let by_area = area.0 / usable;
    let mine = design.pieces.iter().filter(|p| p.material == id);
    let longest = mine.map(|p| (length_along(p, material), p)).max_by(|a, b| a.0.total_cmp(&b.0));
    let (value, how, inputs) = match longest {
        Some((long, piece)) if long > by_area => {
            (long, format!("no shorter than its longest piece, `{}`, along the roll", piece.name), vec![piece.cut.why])
        }
        _ => {
            let width = crate::quantity::format_length(Length::mm(usable), crate::quantity::Style::default());
            (by_area, format!("area over the usable width, {width}: the roll's less a selvedge on each side"), vec![area.1])
        }
    };
    let what = format!("least length of roll of `{}`, before anything is laid", material.name);
    let step = trail.step(what, how, Figure::Of(value, Dimension::LENGTH), &inputs);
    Some((Length::mm(value), step))
}

/// The least a piece takes along the roll, whichever allowed way it lies.
fn length_along(piece: &Piece, material: &Material) -> f64 {
    let hull = Hull::of(piece.cut_line.flatten(FLATTEN));
    let (along, within) = match piece.grain.angle {
        Some(angle) if material.direction != Direction::Any => (angle.as_radians(), piece.grain.within.as_radians()),
        Some(_) | None => (FRAC_PI_2, PI),
    };
    hull.lies_near(along, within).into_iter().map(|l| l.length).fold(f64::INFINITY, f64::min)
}
