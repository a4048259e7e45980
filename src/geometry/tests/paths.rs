//! Lengths, places, areas, splits.

use super::*;
use proptest::prelude::*;
use std::f64::consts::PI;

/// Depth of a path below the x axis where it passes an x.
fn depth_at(path: &Path, x: f64) -> f64 {
    let points = path.flatten(1e-4);
    let crossing = points.windows(2).find_map(|w| match w {
        [a, b] if a.x <= x && x <= b.x => Some(a.lerp(*b, (x - a.x) / (b.x - a.x)).y),
        _ => None,
    });
    -crossing.expect("the path passes that x")
}

#[test]
fn hung_curves_have_the_golden_lengths_and_depths() {
    // span, sag, length, depth at a quarter, area removed: table of section 6.1 with g4 and g5; origin: computed.
    let golden = [
        (1000.0, 20.0, 1001.0659, 15.002, 13_334.8),
        (1000.0, 50.0, 1006.6358, 37.531, 33_355.4),
        (1000.0, 100.0, 1026.1869, 75.242, 66_838.9),
        (3000.0, 60.0, 3003.1976, 45.006, 120_012.8),
        (3000.0, 125.0, 3013.8442, 93.8039, 250_115.1),
        (3000.0, 150.0, 3019.9075, 112.593, 300_198.4),
        (3000.0, 250.0, 3054.8537, 187.924, 500_905.7),
    ];
    for (span, sag, length, quarter, area) in golden {
        let path = Path::catenary(pt(0.0, 0.0), pt(span, 0.0), sag, Side::Right);
        near!(path.length(), length, 1e-3);
        near!(depth_at(&path, span / 4.0), quarter, 1e-3);
        near!(depth_at(&path, span / 2.0), sag, 1e-4);
        near!(path.signed_area(), area, 1.0);
    }
}

#[test]
fn a_hung_curve_leaves_its_end_at_the_golden_slope() {
    // Span 1000, sag 100: end slope 22.057 degrees; origin: computed.
    let path = Path::catenary(pt(0.0, 0.0), pt(1000.0, 0.0), 100.0, Side::Left);
    near!(path.tangent_at_start().angle().to_degrees(), 22.057, 1e-3);
    near!(path.tangent_at_end().angle().to_degrees(), -22.057, 1e-3);
}

#[test]
fn a_barely_hung_curve_is_its_parabola() {
    // Length of a shallow curve: L + 8 s² / 3 L (hand calculation: 1000 + 8 · 1e-4 / 3000).
    for sag in [1e-5, 1e-4, 1e-2] {
        let path = Path::catenary(pt(0.0, 0.0), pt(1000.0, 0.0), sag, Side::Left);
        near!(path.length(), 1000.0 + 8.0 * sag * sag / 3000.0, 1e-6);
        near!(path.bounds().max.y, sag, 1e-6);
    }
    assert_eq!(Path::catenary(pt(0.0, 0.0), pt(10.0, 0.0), 0.0, Side::Left).segments.len(), 1);
}

#[test]
fn a_deeply_hung_curve_keeps_its_depth() {
    // Deeper than wide; the length of a chain is 2 a sinh(L/2a), and a chain this deep is little longer than two plumb lines.
    let path = Path::catenary(pt(0.0, 0.0), pt(100.0, 0.0), 1000.0, Side::Right);
    near!(path.bounds().min.y, -1000.0, 1e-3);
    assert!(path.length() > 2000.0 && path.length() < 2030.0, "{}", path.length());
}

#[test]
fn an_arc_by_rise_has_the_radius_of_its_chord() {
    // R = (L²/4 + s²) / 2s = (1500² + 125²) / 250 = 9062.5; length 3013.8697 (origin: computed).
    let arc = Path::arc_by_rise(pt(0.0, 0.0), pt(3000.0, 0.0), 125.0, Side::Right);
    near!(arc.length(), 3013.8697, 1e-4);
    near!(arc.bounds().min.y, -125.0, 1e-9);
    let centre = pt(1500.0, 9062.5 - 125.0);
    for i in 0..=10 {
        near!(arc.point_at(arc.length() * f64::from(i) / 10.0).distance(centre), 9062.5, 1e-7);
    }
    let left = Path::arc_by_rise(pt(0.0, 0.0), pt(3000.0, 0.0), 125.0, Side::Left);
    near!(left.bounds().max.y, 125.0, 1e-9);
}

#[test]
fn circles_are_exact() {
    let circle = Path::circle(pt(40.0, -7.0), 75.0);
    assert!(circle.is_closed());
    near!(circle.length(), 2.0 * PI * 75.0, 1e-9);
    near!(circle.signed_area(), PI * 75.0 * 75.0, 1e-8);
    let bounds = circle.bounds();
    near!(bounds.width(), 150.0, 1e-9);
    near!(bounds.height(), 150.0, 1e-9);
    near!(bounds.centre().x, 40.0, 1e-9);
}

#[test]
fn areas_of_mixed_outlines_add_up() {
    // A 100 × 60 box whose right side bows out as a half circle of radius 30: 6000 + 450 π, length 100 + 100 + 60 + 30 π.
    let path = Path::new(pt(0.0, 0.0)).line_to(pt(100.0, 0.0)).arc_to(pt(100.0, 60.0), 1.0).line_to(pt(0.0, 60.0)).line_to(pt(0.0, 0.0));
    near!(path.signed_area(), 6000.0 + 450.0 * PI, 1e-9);
    near!(path.length(), 260.0 + 30.0 * PI, 1e-9);
    near!(path.bounds().max.x, 130.0, 1e-9);
    // The cubic y = 3t(1−t) h over x = 3·100 t … is the parabola with rise 0.75 h: area two thirds of 100 × 30.
    let cubic = Path::new(pt(100.0, 0.0)).cubic_to(pt(200.0 / 3.0, 40.0), pt(100.0 / 3.0, 40.0), pt(0.0, 0.0));
    near!(cubic.signed_area(), 2.0 / 3.0 * 100.0 * 30.0, 1e-9);
    near!(cubic.bounds().max.y, 30.0, 1e-9);
}

#[test]
fn flat_arcs_lose_no_digits() {
    // The area of a very flat arc is two thirds of chord by rise.
    let arc = Path::arc_by_rise(pt(0.0, 0.0), pt(1000.0, 0.0), 1e-4, Side::Right);
    near!(arc.signed_area(), 2.0 / 3.0 * 1000.0 * 1e-4, 1e-9);
    near!(arc.point_at(500.0).y, -1e-4, 1e-12);
    // Either side of where the series takes over: sweep 0.05 is rise 0.00625 of the chord; cap r²(θ − sin θ)/2.
    for rise in [6.2, 6.3] {
        let arc = Path::arc_by_rise(pt(0.0, 0.0), pt(1000.0, 0.0), rise, Side::Right);
        let radius = (500.0_f64 * 500.0 + rise * rise) / (2.0 * rise);
        let angle = 2.0 * (500.0 / radius).asin();
        near!(arc.signed_area(), radius * radius * (angle - angle.sin()) / 2.0, 1e-3);
    }
}

#[test]
fn flattening_stays_within_its_tolerance() {
    let paths = [
        Path::circle(pt(0.0, 0.0), 300.0),
        Path::catenary(pt(0.0, 0.0), pt(3000.0, 400.0), 250.0, Side::Left),
        Path::new(pt(0.0, 0.0)).cubic_to(pt(400.0, 900.0), pt(-300.0, 700.0), pt(50.0, 0.0)),
    ];
    for path in paths {
        let points = path.flatten(FLATTEN);
        let length = path.length();
        for i in 0..=500 {
            let p = path.point_at(length * f64::from(i) / 500.0);
            let strays = points
                .windows(2)
                .filter_map(|w| if let [a, b] = w { Some(distance_to_segment(p, *a, *b)) } else { None })
                .fold(f64::INFINITY, f64::min);
            assert!(strays <= FLATTEN + 1e-9, "{strays}");
        }
    }
}

fn distance_to_segment(p: Point, a: Point, b: Point) -> f64 {
    let t = ((p - a).dot(b - a) / (b - a).dot(b - a)).clamp(0.0, 1.0);
    p.distance(a.lerp(b, t))
}

#[test]
fn curves_for_the_library_keep_length_and_area() {
    use kurbo::Shape;
    let path = Path::circle(pt(10.0, 10.0), 200.0);
    near!(path.to_kurbo().area().abs(), path.signed_area(), 1.0);
    near!(path.to_kurbo().perimeter(1e-6), path.length(), 1e-2);
}

#[test]
fn splitting_at_the_ends_leaves_nothing_over() {
    let path = rectangle(600.0, 400.0);
    let (none, all) = path.split_at(0.0);
    assert!(none.segments.is_empty());
    assert_eq!(all, path);
    let (all, none) = path.split_at(5000.0);
    assert!(none.segments.is_empty());
    assert_eq!(all, path);
    let (first, second) = path.split_at(600.0);
    assert_eq!((first.segments.len(), second.segments.len()), (1, 3));
    near!(path.subpath(500.0, 700.0).length(), 200.0, 1e-12);
    assert!(path.subpath(700.0, 500.0).segments.is_empty());
}

#[test]
fn tangents_survive_handles_on_the_ends() {
    let path = Path::new(pt(0.0, 0.0)).cubic_to(pt(0.0, 0.0), pt(100.0, 100.0), pt(100.0, 100.0));
    near!(path.tangent_at_start().angle().to_degrees(), 45.0, 1e-9);
    near!(path.tangent_at_end().angle().to_degrees(), 45.0, 1e-9);
    let path = Path::new(pt(0.0, 0.0)).cubic_to(pt(0.0, 0.0), pt(50.0, 0.0), pt(100.0, 100.0));
    near!(path.tangent_at_start().angle(), 0.0, 1e-9);
}

#[test]
fn nothing_here_panics_on_bad_numbers() {
    let bad = [f64::NAN, f64::INFINITY, -f64::INFINITY, 0.0, 1e300, 1e-300, 1e12];
    for a in bad {
        for b in bad {
            let (p, q) = (pt(a, 0.0), pt(b, a));
            let paths = [
                Path::line(p, q),
                Path::new(p).arc_to(q, b),
                Path::new(p).cubic_to(q, p, q),
                Path::new(p).cubic_to(p, p, p),
                Path::circle(p, b),
                Path::catenary(p, q, b, Side::Left),
                Path::catenary(pt(0.0, 0.0), pt(b, 0.0), a, Side::Left),
                Path::arc_by_rise(p, q, b, Side::Right),
                Path::new(p),
            ];
            for path in paths {
                let _ = (path.length(), path.signed_area(), path.bounds(), path.is_closed(), path.is_finite());
                let _ = (path.point_at(a), path.tangent_at(b), path.split_at(a), path.subpath(b, a), path.to_kurbo());
                assert!(path.flatten(FLATTEN).len() <= 300 * 5000);
                let _ = (path.reversed(), path.mirrored(p, q - p), path.tidied(), path.rotated(p, a));
            }
        }
    }
}

#[test]
fn tidying_joins_straights_that_run_on() {
    let path = Path::new(pt(0.0, 0.0)).line_to(pt(1.0, 1.0)).line_to(pt(1.0, 1.0)).line_to(pt(5.0, 5.0)).line_to(pt(2.0, 2.0));
    let tidy = path.tidied();
    assert_eq!(tidy, Path::new(pt(0.0, 0.0)).line_to(pt(5.0, 5.0)).line_to(pt(2.0, 2.0)));
}

/// A chain of every kind of segment.
fn any_path() -> impl Strategy<Value = Path> {
    let coordinate = || (-500.0..500.0, -500.0..500.0_f64).prop_map(|(x, y)| pt(x, y));
    let segment = prop_oneof![
        coordinate().prop_map(|end| Segment::Line { end }),
        (coordinate(), -2.0..2.0_f64).prop_map(|(end, bulge)| Segment::Arc { end, bulge }),
        (coordinate(), coordinate(), coordinate()).prop_map(|(leaving, arriving, end)| Segment::Cubic { leaving, arriving, end }),
    ];
    (coordinate(), proptest::collection::vec(segment, 1..6)).prop_map(|(start, segments)| Path { start, segments })
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(96) })]

    #[test]
    fn splitting_keeps_length_and_ends(path in any_path(), at in 0.0..1.0_f64) {
        let length = path.length();
        let (before, after) = path.split_at(at * length);
        near!(before.length(), at * length, 1e-5);
        near!(before.length() + after.length(), length, 1e-5);
        prop_assert_eq!(before.end(), after.start);
        prop_assert!(after.end().distance(path.end()) < 1e-9);
        prop_assert!(path.point_at(at * length).distance(before.end()) < 1e-5);
    }

    #[test]
    fn mirroring_and_turning_keep_length_and_area(path in any_path(), angle in -7.0..7.0_f64) {
        let area = path.signed_area();
        near!(path.mirrored(pt(3.0, -8.0), Vector::at_angle(angle)).signed_area(), -area, 1e-6);
        near!(path.rotated(pt(30.0, 8.0), angle).signed_area(), area, 1e-6);
        near!(path.reversed().signed_area(), -area, 1e-6);
        near!(path.rotated(pt(30.0, 8.0), angle).length(), path.length(), 1e-6);
        near!(path.reversed().length(), path.length(), 1e-6);
    }

    #[test]
    fn everything_lies_in_its_bounds(path in any_path()) {
        let bounds = path.bounds().grown(1e-7);
        let flat = path.flatten(FLATTEN);
        prop_assert!(flat.iter().all(|p| bounds.meets(Bounds::of(*p))));
    }

    #[test]
    fn the_area_is_that_of_the_flattened_path(path in any_path()) {
        let flat = Path::polyline(&path.flatten(1e-3)).expect("points");
        near!(flat.signed_area(), path.signed_area(), 1e-3 * path.length() + 1e-6);
    }
}

#[test]
fn a_chord_is_where_a_line_cuts_a_closed_path_in_two() {
    let square = rectangle(100.0, 80.0);
    let chord = square.chord(pt(40.0, -10.0), pt(40.0, 90.0), 0.5).expect("it cuts");
    near!(chord.enters.second, 40.0, 1e-6);
    // Round by the foot, the right side, and 60 of the head.
    near!(chord.leaves.second, 100.0 + 80.0 + 60.0, 1e-6);
    let left = chord.left(&square);
    assert_eq!((left.start, left.end()), (pt(40.0, 80.0), pt(40.0, 0.0)));
    near!(left.signed_area(), 40.0 * 80.0, 1e-6);
    // The other way, the other side lies to its left.
    let back = square.chord(pt(40.0, 90.0), pt(40.0, -10.0), 0.5).expect("it cuts");
    near!(back.left(&square).signed_area(), 60.0 * 80.0, 1e-6);
    assert_eq!(square.chord(pt(-10.0, 80.0), pt(110.0, 80.0), 0.5), Err(NoChord::Misses));
    assert_eq!(square.chord(pt(-10.0, 120.0), pt(110.0, 120.0), 0.5), Err(NoChord::Misses));
    assert_eq!(square.chord(pt(40.0, -10.0), pt(40.0, 79.0), 0.5), Err(NoChord::EndsInside(pt(40.0, 79.0))));
    assert_eq!(square.chord(pt(40.0, 2.0), pt(40.0, 90.0), 0.5), Err(NoChord::EndsInside(pt(40.0, 2.0))));
    // From corner to corner; and through a notch, whose tip it touches.
    assert!(square.chord(pt(0.0, 0.0), pt(100.0, 80.0), 0.5).is_ok());
    let notched = Path::polygon(&[pt(0.0, 0.0), pt(100.0, 0.0), pt(50.0, 40.0), pt(100.0, 80.0), pt(0.0, 80.0)]).expect("five points");
    assert!(matches!(notched.chord(pt(50.0, -1.0), pt(50.0, 81.0), 0.5), Err(NoChord::Several(at)) if at.len() == 3));
    assert!(notched.chord(pt(60.0, -1.0), pt(60.0, 40.0), 0.5).is_ok());
}
