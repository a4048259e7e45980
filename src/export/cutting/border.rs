//! Where in the strip that two frames share the lines are parted: beside what is small, so that holes, slits and notches are cut in
//! one go, and not in halves that meet only as well as the cloth was laid again.

use super::lines::Line;
use crate::export::drawing::Shape;
use crate::geometry::Bounds;

/// A border keeps this far (mm) from what is small.
const CLEAR: f64 = 0.5;

/// What is small along one direction: from where to where.
pub(super) type Extent = (f64, f64);

/// All along a direction that is no longer there than a length: lines, and strokes of longer ones, such as the sides of a notch.
pub(super) fn small(lines: &[Line], most: f64, along: fn(Bounds) -> Extent) -> Vec<Extent> {
    let mut found = Vec::new();
    let is_small = |(from, to): &Extent| to - from <= most;
    for line in lines {
        let whole = along(line.shape.bounds());
        match &line.shape {
            Shape::Words(_) => {}
            Shape::Line(path) if !is_small(&whole) => found.extend(path.curves().map(|c| along(c.bounds())).filter(is_small)),
            _ => found.extend(Some(whole).filter(is_small)),
        }
    }
    found
}

/// The place nearest to the middle of a strip, and no farther from it than there is play, where nothing small lies; the middle
/// itself where there is none.
pub(super) fn place(middle: f64, play: f64, small: &[Extent]) -> f64 {
    let reach = play + CLEAR;
    let near: Vec<Extent> =
        small.iter().map(|(a, b)| (a - CLEAR, b + CLEAR)).filter(|(a, b)| *b >= middle - reach && *a <= middle + reach).collect();
    let free = |at: &f64| (at - middle).abs() <= play && !near.iter().any(|(a, b)| *a < *at && *at < *b);
    let places = std::iter::once(middle).chain(near.iter().flat_map(|(a, b)| [*a, *b]));
    places.filter(free).min_by(|a, b| (a - middle).abs().total_cmp(&(b - middle).abs()).then(a.total_cmp(b))).unwrap_or(middle)
}

#[cfg(test)]
mod tests {
    use super::place;

    #[test]
    fn a_border_goes_beside_what_is_small_and_no_farther_than_it_may() {
        let is = |found: f64, wanted: f64| assert!((found - wanted).abs() < 1e-9, "{found} is not {wanted}");
        is(place(100.0, 5.0, &[]), 100.0);
        is(place(100.0, 5.0, &[(110.0, 112.0)]), 100.0);
        // A mouth from 98 to 103: half a millimetre before it is nearer than behind it.
        is(place(100.0, 5.0, &[(98.0, 103.0)]), 97.5);
        // Its three strokes one by one are the same; another notch just before sends the border behind both.
        is(place(100.0, 5.0, &[(98.0, 98.0), (98.0, 103.0), (103.0, 103.0), (93.0, 97.8)]), 103.5);
        // A slit that lies along the border.
        is(place(100.0, 5.0, &[(100.0, 100.0)]), 99.5);
        // Nowhere free within reach: where it would be without.
        is(place(100.0, 5.0, &[(90.0, 99.0), (99.0, 111.0)]), 100.0);
    }
}
