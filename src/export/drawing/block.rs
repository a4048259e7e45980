//! A piece's label: placed inside it where it fits, in the largest type that does.

use super::piece::{Draft, LEADING};
use super::room::Slot;
use super::shape::{Anchor, Words, text_width};
use crate::geometry::{Point, Vector};
use std::f64::consts::FRAC_PI_2;

/// How much larger the title's type is.
pub(super) const TITLE: f64 = 1.55;
/// Sizes tried, as parts of the main type.
const SIZES: [f64; 5] = [1.0, 0.85, 0.7, 0.58, 0.48];
/// Type smaller than this (mm) is not tried: the label goes beside the piece.
const LEAST: f64 = 3.2;
/// Air left round the label, as a part of the type's height.
const AIR: f64 = 1.6;

/// Places the label, and says where beside it the grain arrow would look best;
/// gives the label back when there is no room for it inside.
pub(super) fn place(draft: &mut Draft<'_>, lines: Vec<String>) -> Result<Point, Vec<String>> {
    let settings = [lines.clone(), folded(&lines, 3), folded(&lines, 2)];
    let bounds = draft.room.bounds();
    let angles: &[f64] = if bounds.height() > bounds.width() * 2.0 { &[0.0, FRAC_PI_2] } else { &[0.0] };
    let middle = draft.room.middle();
    for scale in SIZES {
        let size = draft.size * scale;
        if size < LEAST {
            break;
        }
        for &angle in angles {
            for lines in &settings {
                let (width, height) = extent(lines, size);
                let slot = |at: Point| Slot::new(at, angle, width + AIR * size, height + AIR * size);
                let around = slot(bounds.min).around();
                // Larger than the piece: no need to try it at every place.
                if around.width() > bounds.width() + 1.0 || around.height() > bounds.height() + 1.0 {
                    continue;
                }
                if let Some(at) = draft.room.nearest(middle, slot) {
                    set(draft, lines, at, angle, size);
                    let lies = draft.piece.grain.angle.map_or(0.0, |grain| (grain.as_radians() - angle).cos().abs());
                    return Ok(at - Vector::at_angle(angle) * (width / 2.0 + (3.0 + 4.5 * lies) * size));
                }
            }
        }
    }
    Err(settings.into_iter().nth(1).unwrap_or(lines))
}

/// Writes lines centred at a place.
fn set(draft: &mut Draft<'_>, lines: &[String], at: Point, angle: f64, size: f64) {
    let up = Vector::at_angle(angle).left();
    let (_, height) = extent(lines, size);
    let mut top = height / 2.0;
    for (i, text) in lines.iter().enumerate() {
        let bold = i == 0;
        let size = if bold { size * TITLE } else { size };
        let base = at + up * (top - size * 0.85);
        draft.write(Words { at: base, angle, size, anchor: Anchor::Middle, bold, text: text.clone() });
        top -= size * LEADING;
    }
}

fn extent(lines: &[String], size: f64) -> (f64, f64) {
    let mut width = 0.0_f64;
    let mut height = 0.0;
    for (i, line) in lines.iter().enumerate() {
        let bold = i == 0;
        let size = if bold { size * TITLE } else { size };
        width = width.max(text_width(line, size, bold));
        height += size * LEADING;
    }
    (width, height)
}

/// The same words on fewer lines: the title on its own, the rest shared out.
fn folded(lines: &[String], onto: usize) -> Vec<String> {
    let Some((title, rest)) = lines.split_first() else { return Vec::new() };
    let per_line = rest.len().div_ceil(onto.saturating_sub(1).max(1)).max(1);
    std::iter::once(title.clone()).chain(rest.chunks(per_line).map(|c| c.join("  ·  "))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_are_shared_out_in_order() {
        let lines = ["Strip", "size: tall", "cut 2", "face up"].map(str::to_owned);
        assert_eq!(folded(&lines, 3), ["Strip", "size: tall  ·  cut 2", "face up"]);
        assert_eq!(folded(&lines, 2), ["Strip", "size: tall  ·  cut 2  ·  face up"]);
    }
}
