//! Crossings of chains, meetings of paths, insides.

use super::*;
use proptest::prelude::*;

#[test]
fn a_simple_outline_does_not_cross_itself() {
    for path in [rectangle(600.0, 400.0), Path::circle(pt(0.0, 0.0), 75.0)] {
        assert_eq!(self_crossing(&path.flatten(FLATTEN)), None);
    }
}

#[test]
fn a_bow_tie_crosses_in_its_middle() {
    let bow = [pt(0.0, 0.0), pt(100.0, 100.0), pt(100.0, 0.0), pt(0.0, 100.0), pt(0.0, 0.0)];
    let crossing = self_crossing(&bow).expect("it crosses");
    near!(crossing.at.x, 50.0, 1e-9);
    near!(crossing.at.y, 50.0, 1e-9);
    assert_eq!((crossing.first, crossing.second), (0, 2));
}

#[test]
fn touching_and_running_back_count() {
    let spike = [pt(0.0, 0.0), pt(50.0, 0.0), pt(20.0, 0.0), pt(20.0, 30.0)];
    assert!(first_self_crossing(&spike).is_some());
    let there_and_back = [pt(0.0, 0.0), pt(50.0, 0.0), pt(0.0, 0.0)];
    assert!(first_self_crossing(&there_and_back).is_some());
    let corner_on_side = [pt(0.0, 0.0), pt(100.0, 0.0), pt(100.0, 50.0), pt(50.0, 0.0), pt(0.0, 50.0), pt(0.0, 0.0)];
    assert!(first_self_crossing(&corner_on_side).is_some());
    let straight_on = [pt(0.0, 0.0), pt(50.0, 0.0), pt(50.0, 0.0), pt(100.0, 0.0), pt(50.0, 80.0), pt(0.0, 0.0)];
    assert_eq!(first_self_crossing(&straight_on), None);
    assert_eq!(first_self_crossing(&[]), None);
    assert_eq!(first_self_crossing(&[pt(f64::NAN, 0.0), pt(1.0, 1.0)]), None);
}

#[test]
fn a_very_long_chain_is_searched_quickly() {
    // A spiral of twenty thousand straights, then the same with a last straight back across all its turns.
    let mut spiral: Vec<Point> = (0..20_000)
        .map(|i| {
            let a = f64::from(i) * 0.02;
            pt(0.0, 0.0) + Vector::at_angle(a) * (10.0 + a)
        })
        .collect();
    #[expect(clippy::disallowed_methods, reason = "how long it takes is what is tested")]
    let start = std::time::Instant::now();
    assert_eq!(self_crossing(&spiral), None);
    spiral.push(pt(0.0, 0.0));
    assert!(self_crossing(&spiral).is_some());
    assert!(start.elapsed().as_secs() < 10, "{:?}", start.elapsed());
}

/// Every pair tried: the plain answer to compare with.
fn crosses_plainly(points: &[Point]) -> bool {
    let pairs: Vec<(Point, Point)> = points.iter().copied().zip(points.iter().skip(1).copied()).collect();
    let side = |a: Point, b: Point, p: Point| (b - a).cross(p - a);
    pairs.iter().enumerate().any(|(i, (a, b))| {
        pairs.iter().skip(i + 2).any(|(c, d)| side(*a, *b, *c) * side(*a, *b, *d) < 0.0 && side(*c, *d, *a) * side(*c, *d, *b) < 0.0)
    })
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(200) })]

    #[test]
    fn the_search_finds_what_trying_all_finds(points in proptest::collection::vec((0.0..100.0_f64, 0.0..100.0_f64), 2..12), drift in 0.0..60.0_f64) {
        // Drifting steps: for large drifts mostly simple, for small ones mostly crossed.
        let mut shift = 0.0;
        let chain: Vec<Point> = points.iter().cycle().take(points.len() * 6).map(|(x, y)| { shift += drift; pt(x + shift, *y) }).collect();
        prop_assert_eq!(self_crossing(&chain).is_some(), crosses_plainly(&chain));
    }

    #[test]
    fn inside_is_inside(x in -20.0..20.0_f64, y in -20.0..20.0_f64) {
        let circle = Path::circle(pt(1.0, 2.0), 12.0).flatten(1e-4);
        let distance = pt(x, y).distance(pt(1.0, 2.0));
        prop_assume!((distance - 12.0).abs() > 1e-3);
        prop_assert_eq!(encloses(&circle, pt(x, y)), distance < 12.0);
        near!(distance_to(&circle, pt(x, y)), (distance - 12.0).abs(), 1e-3);
    }
}

#[test]
fn chains_meet_each_other_only_where_they_cross() {
    let square = rectangle(100.0, 100.0).flatten(FLATTEN);
    let inside = Path::circle(pt(50.0, 50.0), 20.0).flatten(FLATTEN);
    let across = Path::circle(pt(100.0, 50.0), 20.0).flatten(FLATTEN);
    assert_eq!(crossing_between(&square, &inside), None);
    let crossing = crossing_between(&square, &across).expect("it crosses the right side");
    near!(crossing.at.x, 100.0, 1e-9);
    assert_eq!(crossing.first, 1);
}

#[test]
fn meetings_are_exact() {
    // A line through a circle at half its radius: chord of ± r √3/2 (hand calculation).
    let circle = Path::circle(pt(0.0, 0.0), 100.0);
    let line = Path::line(pt(-200.0, 50.0), pt(200.0, 50.0));
    let met = meetings(&line, &circle);
    assert_eq!(met.len(), 2);
    let (first, second) = (met.first().expect("two"), met.last().expect("two"));
    near!(first.at.x, -50.0 * 3.0_f64.sqrt(), 1e-7);
    near!(second.at.x, 50.0 * 3.0_f64.sqrt(), 1e-7);
    // From the rightmost point counter-clockwise, 30 degrees is a twelfth of the circle.
    near!(second.second, circle.length() / 12.0, 1e-6);
    near!(second.first, 200.0 + 50.0 * 3.0_f64.sqrt(), 1e-6);
}

#[test]
fn meetings_of_arcs_and_cubics_are_exact() {
    // Two circles of radius 50, centres 60 apart: they cross at ± 40 (3-4-5 triangle).
    let met = meetings(&Path::circle(pt(0.0, 0.0), 50.0), &Path::circle(pt(60.0, 0.0), 50.0));
    assert_eq!(met.len(), 2);
    assert!(met.iter().all(|m| (m.at.x - 30.0).abs() < 1e-7 && (m.at.y.abs() - 40.0).abs() < 1e-7), "{met:?}");
    // The parabola y = x (100 − x) / 100 · 1.2 as a cubic, met by y = 22.5: x (100 − x) = 1875, x = 25 or 75.
    let parabola = Path::new(pt(0.0, 0.0)).cubic_to(pt(100.0 / 3.0, 40.0), pt(200.0 / 3.0, 40.0), pt(100.0, 0.0));
    let met = meetings(&parabola, &Path::line(pt(0.0, 22.5), pt(100.0, 22.5)));
    let xs: Vec<f64> = met.iter().map(|m| m.at.x).collect();
    assert!(matches!(xs[..], [a, b] if (a - 25.0).abs() < 1e-7 && (b - 75.0).abs() < 1e-7), "{xs:?}");
}

#[test]
fn paths_that_only_touch_at_ends_meet_there() {
    let met = meetings(&Path::line(pt(0.0, 0.0), pt(10.0, 0.0)), &Path::line(pt(10.0, 0.0), pt(20.0, 0.0)));
    assert_eq!(met.len(), 1);
    let met = meetings(&Path::line(pt(0.0, 0.0), pt(10.0, 0.0)), &Path::line(pt(0.0, 1.0), pt(10.0, 1.0)));
    assert!(met.is_empty());
}
