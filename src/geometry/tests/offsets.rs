//! Paths beside paths, and mitres.

use super::*;
use std::f64::consts::PI;

#[test]
fn straights_and_arcs_stay_what_they_are() {
    let line = Path::line(pt(0.0, 0.0), pt(100.0, 0.0));
    assert_eq!(line.offset(10.0), Ok(Path::line(pt(0.0, -10.0), pt(100.0, -10.0))));
    assert_eq!(line.offset(-10.0), Ok(Path::line(pt(0.0, 10.0), pt(100.0, 10.0))));
    // A circle of 150, allowance 10: cut circumference 534.07 (table of section 6.3; origin: computed), as an exact arc.
    let cut = Path::circle(pt(0.0, 0.0), 75.0).offset(10.0).expect("outward");
    near!(cut.length(), 534.0707, 1e-3);
    near!(cut.signed_area(), PI * 85.0 * 85.0, 1e-8);
    assert!(cut.segments.iter().all(|s| matches!(s, Segment::Arc { .. })));
    assert!(cut.is_closed());
    // Inward (r − d) / r of the length.
    near!(Path::circle(pt(0.0, 0.0), 75.0).offset(-10.0).expect("inward").length(), 2.0 * PI * 65.0, 1e-9);
}

#[test]
fn half_a_turn_round_a_thickness_is_longer_by_pi_times_it() {
    // g8: 50 thick, half a turn: 157.0796 longer outside; inner 565.5, outer 722.6 at radius 180 (origin: computed).
    let inner = Path::new(pt(180.0, 0.0)).arc_to(pt(-180.0, 0.0), 1.0);
    let outer = inner.offset(50.0).expect("outward");
    near!(inner.length(), 565.5, 0.05);
    near!(outer.length(), 722.6, 0.05);
    near!(outer.length() - inner.length(), 157.0796, 1e-3);
}

#[test]
fn an_arc_tighter_than_the_distance_says_so() {
    let circle = Path::circle(pt(0.0, 0.0), 8.0);
    match circle.offset(-10.0) {
        Err(OffsetError::Tight(bend)) => near!(bend.radius, 8.0, 1e-9),
        other => panic!("{other:?}"),
    }
    assert!(circle.offset(-7.9).is_ok());
    assert!(circle.offset(10.0).is_ok());
    assert!(matches!(circle.offset(-8.0), Err(OffsetError::Tight(_))));
}

#[test]
fn offset_cubics_keep_their_distance() {
    let paths = [
        Path::catenary(pt(0.0, 0.0), pt(3000.0, 0.0), 125.0, Side::Left),
        Path::new(pt(0.0, 0.0)).cubic_to(pt(100.0, 200.0), pt(300.0, -150.0), pt(400.0, 60.0)),
        Path::new(pt(0.0, 0.0)).cubic_to(pt(30.0, 0.0), pt(60.0, 10.0), pt(60.0, 60.0)),
    ];
    for path in paths {
        for right in [12.0, -12.0, 1.5] {
            let beside = path.offset(right).expect("it bends gently");
            let base = path.flatten(1e-4);
            let length = beside.length();
            for i in 0..=400 {
                let p = beside.point_at(length * f64::from(i) / 400.0);
                near!(distance_to(&base, p), right.abs(), 0.01);
            }
            assert!(beside.start.distance(path.start + path.tangent_at_start().right() * right) < 1e-6);
            assert!(beside.end().distance(path.end() + path.tangent_at_end().right() * right) < 1e-6);
        }
    }
}

#[test]
fn the_tightest_bend_of_a_hung_curve_is_at_its_lowest() {
    // At its lowest point a chain's radius is its a: 9020.757 (g4; origin: computed).
    let path = Path::catenary(pt(0.0, 0.0), pt(3000.0, 0.0), 125.0, Side::Right);
    let bend = path.tightest(Side::Left).expect("it bends left");
    near!(bend.radius, 9020.757, 20.0);
    assert_eq!(path.tightest(Side::Right), None);
    let path = Path::catenary(pt(0.0, 0.0), pt(1000.0, 0.0), 100.0, Side::Right);
    near!(path.tightest(Side::Left).expect("it bends left").radius, 1266.324, 4.0);
}

#[test]
fn a_cubic_tighter_than_the_distance_says_so() {
    // A narrow nose: its tip has radius 3 · (handle)² … worked out by sampling the circle through three near points.
    let nose = Path::new(pt(0.0, 0.0)).cubic_to(pt(100.0, 0.0), pt(100.0, 20.0), pt(0.0, 20.0));
    let middle = nose.length() / 2.0;
    let [a, b, c] = [-0.05, 0.0, 0.05].map(|d| nose.point_at(middle + d));
    let doubled = (b - a).cross(c - a).abs();
    let radius = a.distance(b) * b.distance(c) * c.distance(a) / (2.0 * doubled);
    match nose.offset(-12.0) {
        Err(OffsetError::Tight(bend)) => near!(bend.radius, radius, 0.01),
        other => panic!("{other:?}"),
    }
    assert!(nose.offset(12.0).is_ok());
}

#[test]
fn kinks_open_to_mitres_and_close_to_crossings() {
    let elbow = Path::new(pt(0.0, 0.0)).line_to(pt(100.0, 0.0)).line_to(pt(100.0, 100.0));
    let outside = Path::new(pt(0.0, -10.0)).line_to(pt(110.0, -10.0)).line_to(pt(110.0, 100.0));
    let inside = Path::new(pt(0.0, 10.0)).line_to(pt(90.0, 10.0)).line_to(pt(90.0, 100.0));
    let close = |a: &Path, b: &Path| {
        a.segments.len() == b.segments.len() && a.curves().zip(b.curves()).all(|(p, q)| p.end().distance(q.end()) < 1e-9)
    };
    assert!(close(&elbow.offset(10.0).expect("outside").tidied(), &outside));
    assert!(close(&elbow.offset(-10.0).expect("inside").tidied(), &inside));
    // A last stretch of 5 can't hold a crossing 10 from the corner.
    let short = Path::new(pt(0.0, 0.0)).line_to(pt(100.0, 0.0)).line_to(pt(100.0, 5.0));
    assert!(matches!(short.offset(-10.0), Err(OffsetError::Crowded { .. })));
}

#[test]
fn a_finely_drawn_curve_offsets_to_both_sides() {
    let points: Vec<Point> = (0..=720).map(|i| pt(0.0, 0.0) + Vector::at_angle(f64::from(i) * PI / 720.0) * 100.0).collect();
    let half = Path::polyline(&points).expect("points");
    // Each of the 719 kinks turns by π/720 and lengthens the outside, shortens the inside, by 2 d tan(turn/2).
    let (drawn, kinks) = (720.0 * 200.0 * (PI / 1440.0).sin(), 719.0 * 20.0 * (PI / 1440.0).tan());
    near!(half.offset(10.0).expect("outside").length(), drawn + kinks, 1e-6);
    near!(half.offset(-10.0).expect("inside").length(), drawn - kinks, 1e-6);
}

/// The tip of the mitre at a corner with interior angle `degrees`, both lines 10 away: its distance from the corner.
fn tip(degrees: f64) -> f64 {
    let arriving = Vector::new(1.0, 0.0);
    let leaving = Vector::at_angle((180.0 - degrees).to_radians());
    let corner = pt(3.0, 4.0);
    let points = mitre(corner, (corner + arriving.right() * 10.0, arriving), (corner + leaving.right() * 10.0, leaving));
    assert_eq!(points.len(), 1);
    points.first().expect("one").distance(corner)
}

#[test]
fn mitre_tips_stand_where_they_should() {
    // d / sin(φ/2): 30 deg 3.864 d, 45 deg 2.613, 60 deg 2.000 (g10), 90 deg 1.414, 120 deg 1.155; origin: computed.
    near!(tip(60.0), 20.0, 1e-9);
    for (degrees, factor) in [(30.0, 3.864), (45.0, 2.613), (90.0, 1.414), (120.0, 1.155)] {
        near!(tip(degrees), 10.0 * factor, 6e-3);
    }
}

#[test]
fn a_corner_past_the_mitre_limit_is_blunted_and_keeps_the_distance() {
    // Limit 4 bevels below 28.955 degrees (section 6.2; angle computed).
    near!(tip(28.96), 40.0, 0.01);
    let corner = pt(0.0, 0.0);
    let (arriving, leaving) = (Vector::new(1.0, 0.0), Vector::at_angle((180.0_f64 - 28.95).to_radians()));
    let points = mitre(corner, (corner + arriving.right() * 10.0, arriving), (corner + leaving.right() * 10.0, leaving));
    let [a, b] = points[..] else { panic!("{points:?}") };
    near!(distance_to(&[a, b], corner), 10.0, 1e-9);
    near!(a.distance(corner), b.distance(corner), 1e-9);
}

#[test]
fn nearly_parallel_lines_at_different_distances_step() {
    let (corner, arriving, leaving) = (pt(0.0, 0.0), Vector::new(1.0, 0.0), Vector::at_angle(0.02));
    let points = mitre(corner, (corner + arriving.right() * 10.0, arriving), (corner + leaving.right() * 25.0, leaving));
    assert!(points.is_empty());
}

#[test]
fn bad_numbers_give_no_panic() {
    let bad = [f64::NAN, f64::INFINITY, 0.0, 1e300, -1e12];
    for a in bad {
        for b in bad {
            let paths = [
                Path::line(pt(a, 0.0), pt(b, 1.0)),
                Path::new(pt(a, b)).arc_to(pt(b, a), a),
                Path::new(pt(a, b)).cubic_to(pt(b, a), pt(0.0, 0.0), pt(1.0, b)),
                Path::new(pt(a, b)).cubic_to(pt(a, b), pt(a, b), pt(a, b)),
            ];
            for path in &paths {
                let _ = (path.offset(a), path.offset(-5.0), path.tightest(Side::Left));
                let _ = meetings(path, &Path::circle(pt(0.0, 0.0), 50.0));
                let flat = path.flatten(FLATTEN);
                let _ = (self_crossing(&flat), encloses(&flat, pt(0.0, 0.0)), distance_to(&flat, pt(a, b)));
            }
        }
    }
}
