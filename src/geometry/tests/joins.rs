//! Strokes that run on smoothly, and how paths bend.

use super::*;
use proptest::prelude::*;
use std::f64::consts::{FRAC_PI_2, PI};

const EAST: Vector = Vector::new(1.0, 0.0);

#[test]
fn an_arc_that_runs_on_is_the_known_quarter_circle() {
    // From (100, 0) going right to (150, 50): a quarter about (100, 50), radius 50, arriving straight up (by hand).
    let arc = Path::arc_leaving(pt(100.0, 0.0), EAST * 7.0, pt(150.0, 50.0)).expect("a quarter");
    near!(arc.length(), 25.0 * PI, 1e-9);
    near!(arc.tangent_at_end().angle(), FRAC_PI_2, 1e-9);
    near!(arc.tangent_at_start().angle(), 0.0, 1e-9);
    for i in 0..=8 {
        near!(arc.point_at(arc.length() * f64::from(i) / 8.0).distance(pt(100.0, 50.0)), 50.0, 1e-9);
    }
    // To the other side it turns right.
    let arc = Path::arc_leaving(pt(100.0, 0.0), EAST, pt(150.0, -50.0)).expect("a quarter");
    near!(arc.tangent_at_end().angle(), -FRAC_PI_2, 1e-9);
    near!(curvature(&arc, 30.0), -1.0 / 50.0, 1e-12);
}

#[test]
fn an_arc_runs_on_as_far_as_a_half_circle_and_no_farther() {
    let half = Path::arc_leaving(pt(0.0, 0.0), EAST, pt(0.0, 20.0)).expect("a half circle");
    near!(half.length(), 10.0 * PI, 1e-9);
    near!(half.bounds().max.x, 10.0, 1e-9);
    assert_eq!(Path::arc_leaving(pt(0.0, 0.0), EAST, pt(50.0, 0.0)), Some(Path::line(pt(0.0, 0.0), pt(50.0, 0.0))));
    let none = [(EAST, pt(-0.001, 20.0)), (EAST, pt(-50.0, 0.0)), (EAST, pt(0.0, 0.0)), (Vector::default(), pt(9.0, 9.0))];
    for (direction, end) in none {
        assert_eq!(Path::arc_leaving(pt(0.0, 0.0), direction, end), None, "{direction:?} {end:?}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(400) })]

    #[test]
    fn an_arc_leaves_the_way_the_path_before_it_arrives(angle in -PI..PI, turn in -1.57..1.57_f64, chord in 1.0..900.0_f64) {
        let (start, before) = (pt(30.0, -8.0), Vector::at_angle(angle));
        let end = start + before.turned(turn) * chord;
        let arc = Path::arc_leaving(start, before, end).expect("less than a half circle");
        prop_assert!(before.turn_to(arc.tangent_at_start()).abs() <= 1e-9);
        // As far past the chord's direction as before it; radius chord / 2 sin.
        near!(before.turn_to(arc.tangent_at_end()), 2.0 * turn, 1e-9);
        near!(curvature(&arc, arc.length() / 2.0), 2.0 * turn.sin() / chord, 1e-9);
        prop_assert_eq!(arc.end(), end);
    }
}

/// The curvature of the curve on which a distance along a path lies.
fn curvature(path: &Path, distance: f64) -> f64 {
    let mut left = distance;
    for curve in path.curves() {
        let length = curve.length();
        if left <= length {
            return curve.curvature(curve.parameter(left, length));
        }
        left -= length;
    }
    path.curves().next_back().map_or(0.0, |last| last.curvature(1.0))
}

/// Curvature by its meaning: how far the direction turns over a short stretch.
fn turned_over(path: &Path, at: f64) -> f64 {
    let h = 0.05;
    path.tangent_at(at - h).turn_to(path.tangent_at(at + h)) / (2.0 * h)
}

#[test]
fn curvature_is_how_fast_the_direction_turns() {
    let free = Path::new(pt(0.0, 0.0)).cubic_to(pt(100.0, 200.0), pt(300.0, -150.0), pt(400.0, 60.0));
    let paths = [
        Path::line(pt(3.0, 4.0), pt(300.0, 90.0)),
        Path::arc_by_rise(pt(0.0, 0.0), pt(300.0, 0.0), 40.0, Side::Right),
        Path::arc_by_rise(pt(0.0, 0.0), pt(300.0, 0.0), 40.0, Side::Left),
        free.reversed(),
        free,
        Path::catenary(pt(0.0, 0.0), pt(900.0, 200.0), 90.0, Side::Right),
    ];
    for path in paths {
        for i in 1..40 {
            // Not on the joints of a hung curve, where its cubics change.
            let at = path.length() * (f64::from(i) + 0.013) / 40.0;
            near!(curvature(&path, at), turned_over(&path, at), 1e-6);
        }
    }
}

#[test]
fn curvatures_have_known_values() {
    // Lines 0; an arc one over its radius, 9062.5 by (1500² + 125²) / 250.
    assert_eq!(curvature(&Path::line(pt(0.0, 0.0), pt(10.0, 10.0)), 3.0), 0.0);
    let arc = Path::arc_by_rise(pt(0.0, 0.0), pt(3000.0, 0.0), 125.0, Side::Right);
    near!(curvature(&arc, 700.0) * 9062.5, 1.0, 1e-9);
    // At the joint of a straight and an arc, the straight's.
    let joined = Path::line(pt(0.0, 0.0), pt(100.0, 0.0)).arc_to(pt(150.0, 50.0), (PI / 8.0).tan());
    near!(curvature(&joined, 100.0), 0.0, 0.0);
    near!(curvature(&joined, 100.1), 1.0 / 50.0, 1e-12);
    // The parabola y = x (100 − x) · 0.012 as a cubic: at its top y'' = −0.024.
    let parabola = Path::new(pt(0.0, 0.0)).cubic_to(pt(100.0 / 3.0, 40.0), pt(200.0 / 3.0, 40.0), pt(100.0, 0.0));
    near!(curvature(&parabola, parabola.length() / 2.0), -0.024, 1e-9);
    // A chain's, at a length s from its lowest point, is a / (a² + s²); a = 1266.324 for span 1000 and sag 100.
    let hung = Path::catenary(pt(0.0, 0.0), pt(1000.0, 0.0), 100.0, Side::Right);
    for i in 0..=20 {
        let at = hung.length() * f64::from(i) / 20.0;
        let (a, s) = (1266.324_f64, at - hung.length() / 2.0);
        near!(curvature(&hung, at) * (a * a + s * s) / a, 1.0, 5e-3);
    }
}

/// How deep a curve from (0, 0) to (span, 0) lies, `along` of the span from its start; found on its flattened chain.
fn depth(path: &Path, x: f64) -> f64 {
    let met = meetings(path, &Path::line(pt(x, 10.0), pt(x, -1000.0)));
    -met.first().expect("it passes there").at.y
}

#[test]
fn hung_edge_parabola_and_arc_differ_by_less_than_cloth_shows() {
    // Span 3000, sag 150 (5 %). At a quarter: chain 112.593, parabola 3/4 · 150 = 112.5, arc 112.780 (origin: computed).
    let (from, to, sag) = (pt(0.0, 0.0), pt(3000.0, 0.0), 150.0);
    let hung = Path::catenary(from, to, sag, Side::Right);
    let arc = Path::arc_by_rise(from, to, sag, Side::Right);
    // A parabola's handles stand at a third of the span and 4/3 of its depth.
    let parabola = Path::new(from).cubic_to(pt(1000.0, -200.0), pt(2000.0, -200.0), to);
    near!(depth(&hung, 750.0), 112.593, 1e-3);
    near!(depth(&parabola, 750.0), 112.5, 1e-3);
    near!(depth(&arc, 750.0), 112.780, 1e-3);
    let places = || (1..60).map(|i| 50.0 * f64::from(i));
    let farthest = |other: &Path| places().map(|x| (depth(&hung, x) - depth(other, x)).abs()).fold(0.0, f64::max);
    // Farthest apart near 440 mm from the ends: 0.124 and 0.251 (origin: computed).
    near!(farthest(&parabola), 0.124, 1e-3);
    near!(farthest(&arc), 0.251, 1e-3);
}
