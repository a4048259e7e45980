//! The least length of roll that could hold some pieces: no lay can do with less, a real one takes more.

use super::trail::{Figure, Trail};
use crate::geometry::{COINCIDENT, FLATTEN, Hull, Point, Vector};
use crate::ir::{Design, Direction, Material, MaterialId, Piece, TraceId};
use crate::quantity::{Dimension, Length};
use std::f64::consts::{FRAC_PI_2, PI};

/// The least length, and the step behind it; none when the roll's width is not known.
pub(super) fn least(design: &Design, id: MaterialId, area: (f64, TraceId), trail: &mut Trail<'_>) -> Option<(Length, TraceId)> {
    let material = design.material(id)?;
    let usable = material.width?.as_mm() - 2.0 * material.selvedge.as_mm();
    if usable <= 0.0 {
        return None;
    }
    let by_area = area.0 / usable;
    let mine: Vec<&Piece> = design.pieces.iter().filter(|p| p.material == id).collect();
    let longest = mine.iter().map(|p| (length_along(p, material), *p)).max_by(|a, b| a.0.total_cmp(&b.0));
    let (alone, alone_why) = lying_alone(&mine, material, usable);
    let (value, how, inputs) = match longest {
        Some((long, piece)) if long > by_area.max(alone) => {
            (long, format!("no shorter than its longest piece, `{}`, along the roll", piece.name), vec![piece.cut.why])
        }
        _ if alone > by_area => {
            let how = "pieces wider than half the usable width can't lie beside each other: their lengths add up".to_owned();
            (alone, how, alone_why)
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

/// The least length taken by stretches of pieces that fill more than half the usable width: no two such stretches
/// can lie beside each other, so their lengths add up, copy by copy. Holds for any lay; a piece whose grain may
/// lie any way counts for nothing here.
fn lying_alone(pieces: &[&Piece], material: &Material, usable: f64) -> (f64, Vec<TraceId>) {
    let (mut sum, mut why) = (0.0, Vec::new());
    for piece in pieces {
        let Some(angle) = piece.grain.angle else { continue };
        if material.direction == Direction::Any || piece.grain.within.as_radians() > MOST_TILT {
            continue;
        }
        // Tilted by its tolerance, a chord shrinks by no more than its cosine; asking for so much more keeps this a lower bound.
        let wide = wide_stretch(&piece.cut_line.flatten(FLATTEN), angle.as_radians(), usable / 2.0 / piece.grain.within.as_radians().cos());
        if wide > 0.0 {
            sum += wide * piece.copies.len() as f64;
            why.push(piece.cut.why);
        }
    }
    (sum, why)
}

/// Grain that may lie farther off than this says little about width (six degrees).
const MOST_TILT: f64 = PI / 30.0;

/// Over what length, along a direction, a polygon is wider than a width. Between two corners the width changes evenly.
fn wide_stretch(corners: &[Point], angle: f64, width: f64) -> f64 {
    let along = Vector::at_angle(angle);
    let origin = Point::new(0.0, 0.0);
    let turned: Vec<Point> = corners.iter().map(|p| Point::new((*p - origin).dot(along), along.cross(*p - origin))).collect();
    let mut stations: Vec<f64> = turned.iter().map(|p| p.x).collect();
    stations.sort_by(f64::total_cmp);
    let mut sum = 0.0;
    for (from, to) in stations.iter().zip(stations.iter().skip(1)) {
        let long = to - from;
        if long <= COINCIDENT {
            continue;
        }
        // Just inside both ends, where a side that lies on the station itself can't be counted twice or not at all.
        let (a, b) = (chord(&turned, long.mul_add(1e-6, *from)) - width, chord(&turned, long.mul_add(-1e-6, *to)) - width);
        sum += match (a > 0.0, b > 0.0) {
            (true, true) => long,
            (false, false) => 0.0,
            _ => long * a.max(b) / (a - b).abs(),
        };
    }
    sum
}

/// How much of the line at a station lies inside a polygon.
fn chord(corners: &[Point], x: f64) -> f64 {
    let next = corners.iter().cycle().skip(1);
    let crosses = |(a, b): (&Point, &Point)| ((a.x < x) != (b.x < x)).then(|| a.lerp(*b, (x - a.x) / (b.x - a.x)).y);
    let mut cuts: Vec<f64> = corners.iter().zip(next).filter_map(crosses).collect();
    cuts.sort_by(f64::total_cmp);
    cuts.chunks_exact(2).map(|pair| pair.last().copied().unwrap_or(0.0) - pair.first().copied().unwrap_or(0.0)).sum()
}

#[cfg(test)]
mod tests {
    use super::wide_stretch;
    use crate::geometry::Point;
    use std::f64::consts::FRAC_PI_2;

    #[test]
    fn only_what_is_wider_than_half_the_roll_counts() {
        // A triangle 100 wide at its foot and 200 high is wider than 50 over its lower half: 100.
        let triangle = [Point::new(0.0, 0.0), Point::new(100.0, 0.0), Point::new(50.0, 200.0)];
        assert!((wide_stretch(&triangle, FRAC_PI_2, 50.0) - 100.0).abs() < 0.01);
        assert_eq!(wide_stretch(&triangle, FRAC_PI_2, 101.0), 0.0);
        // Along the other way it is 200 wide at its middle, and wider than 150 within 12.5 of that.
        assert!((wide_stretch(&triangle, 0.0, 150.0) - 25.0).abs() < 0.01);
    }
}
