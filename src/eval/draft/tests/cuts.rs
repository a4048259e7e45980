//! Cut lines: allowances and their corners.

use super::*;
use crate::geometry::{Segment, distance_to, encloses};

/// The corners of a cut line made of straights.
fn corners(d: &Drafted) -> Vec<Point> {
    d.cut_line.segments.iter().map(Segment::end).collect()
}

/// Whether a cut line passes through a point.
fn passes(d: &Drafted, x: f64, y: f64) -> bool {
    corners(d).iter().any(|p| p.distance(pt(x, y)) < 1e-6)
}

#[test]
fn a_rectangle_grows_by_its_allowance() {
    // g1: 600 × 400 with 10, mitred: area 260 400, perimeter 2080 (origin: computed).
    let d = drafted(&rectangle(600.0, 400.0).allowing(10.0));
    near!(d.cut.area, 260_400.0, 1e-6);
    near!(d.cut_line.length(), 2080.0, 1e-6);
    assert_eq!(d.cut_line.segments.len(), 4);
    assert!(d.cut_line.is_closed());
    near!(d.cut.width, 620.0, 1e-9);
    near!(d.cut.height, 420.0, 1e-9);
    near!(d.finished.width, 600.0, 1e-9);
}

#[test]
fn a_trapezoid_grows_by_the_golden_figures() {
    // g3: area 2 262 601.497, head 1322.100, foot 918.100, perimeter 6300.35 (origin: computed).
    let d = drafted(&trapezoid().allowing(10.0));
    near!(d.cut.area, 2_262_601.497, 1e-3);
    near!(d.cut_line.length(), 6300.35, 1e-2);
    let mut lengths: Vec<f64> =
        d.cut_line.segments.iter().zip(corners(&d).iter().cycle().skip(3)).map(|(s, before)| s.end().distance(*before)).collect();
    lengths.sort_by(f64::total_cmp);
    near!(*lengths.first().expect("four"), 918.100, 1e-3);
    near!(*lengths.get(1).expect("four"), 1322.100, 1e-3);
    near!(edge(&d, "left").length, 2009.975, 1e-3);
}

#[test]
fn a_sixty_degree_corner_has_its_tip_twice_as_far() {
    // g10: allowance 10, tip 20 from the corner (origin: computed).
    let h = 300.0_f64.sqrt() * 10.0;
    let d = drafted(&straight(&[("a", 0.0, 0.0), ("b", 200.0, 0.0), ("c", 100.0, h)]).allowing(10.0));
    let nearest = corners(&d).iter().map(|p| p.distance(pt(0.0, 0.0))).fold(f64::INFINITY, f64::min);
    near!(nearest, 20.0, 1e-9);
}

#[test]
fn a_needle_is_blunted_and_keeps_its_allowance_at_the_tip() {
    // Two sides of 600 that meet at 9.5 degrees: the mitre would stand 12 allowances out.
    let d = drafted(&straight(&[("a", 0.0, 0.0), ("b", 100.0, 0.0), ("c", 50.0, 600.0)]).allowing(10.0));
    assert_eq!(d.cut_line.segments.len(), 4);
    let flat = d.cut_line.flatten(0.01);
    near!(distance_to(&flat, pt(50.0, 600.0)), 10.0, 1e-6);
    near!(d.cut_line.bounds().max.y, 610.0, 1e-6);
}

#[test]
fn allowances_of_their_own_meet_where_their_lines_do() {
    let d = drafted(&rectangle(600.0, 400.0).allowing(10.0).allowing_on("head", 25.0).allowing_on("left", 0.0));
    for (x, y) in [(0.0, -10.0), (610.0, -10.0), (610.0, 425.0), (0.0, 425.0)] {
        assert!(passes(&d, x, y), "{:?}", corners(&d));
    }
    near!(edge(&d, "head").allowance, 25.0, 0.0);
    // The last word on an edge counts.
    let d = drafted(&rectangle(600.0, 400.0).allowing_on("head", 25.0).allowing_on("head", 8.0));
    near!(d.cut.height, 408.0, 1e-9);
}

#[test]
fn no_allowance_cuts_on_the_stitch_line() {
    let d = drafted(&trapezoid());
    near!(d.cut.area, 2_200_000.0, 1e-6);
    assert_eq!(d.cut_line.segments.len(), 4);
}

#[test]
fn edges_that_run_on_step_between_their_allowances() {
    let on = straight(&[("a", 0.0, 0.0), ("b", 50.0, 0.0), ("c", 100.0, 0.0), ("d", 50.0, 80.0)]);
    let d = drafted(&on.allowing(5.0).allowing_on("b", 12.0));
    assert!(passes(&d, 50.0, -5.0) && passes(&d, 50.0, -12.0), "{:?}", corners(&d));
    // A turn of three degrees, either way, is no corner yet.
    for y in [-1.3, 1.3] {
        let bent = straight(&[("a", 0.0, 0.0), ("b", 50.0, y), ("c", 100.0, 0.0), ("d", 50.0, 80.0)]);
        let d = drafted(&bent.allowing(5.0).allowing_on("b", 12.0));
        assert_eq!(corners(&d).len(), 5, "{:?}", corners(&d));
    }
}

#[test]
fn a_slight_inward_corner_of_unlike_allowances_steps_where_the_lines_meet_too_far_off() {
    // A turn of six degrees: lines at 5 and 12 would cross 67 before the corner, and the edge is 50 long.
    let bent = straight(&[("a", 0.0, 0.0), ("b", 50.0, 2.6), ("c", 100.0, 0.0), ("d", 50.0, 80.0)]);
    let d = drafted(&bent.allowing(5.0).allowing_on("b", 12.0));
    assert_eq!(corners(&d).len(), 5, "{:?}", corners(&d));
}

#[test]
fn an_obtuse_corner_of_unlike_allowances_ends_the_wide_one_where_they_meet() {
    // Interior angle 120: the lines at 30 and 10 meet at (10 − 30 cos 60) / sin 60 = −5.7735 along the first edge.
    let (cos, sin) = (0.5, 0.75_f64.sqrt());
    let shape = straight(&[("a", -100.0, 0.0), ("b", 0.0, 0.0), ("c", 100.0 * cos, 100.0 * sin), ("d", -100.0, 100.0)]);
    let d = drafted(&shape.allowing(10.0).allowing_on("a", 30.0));
    assert!(passes(&d, (10.0 - 15.0) / sin, -30.0), "{:?}", corners(&d));
}

#[test]
fn a_wide_allowance_on_a_short_edge_between_narrow_ones_steps_at_both_ends() {
    // Turns of 20 degrees at both ends: each neighbour, at 5, would take (37 cos 20 − 5) / sin 20 = 87 of the edge's 100.
    let (sin, cos) = 20.0_f64.to_radians().sin_cos();
    let (far, high) = (300.0 * cos, 300.0 * sin);
    let shape = straight(&[("a", -far, high), ("b", 0.0, 0.0), ("c", 100.0, 0.0), ("d", 100.0 + far, high)]);
    let d = drafted(&shape.allowing(5.0).allowing_on("b", 37.0));
    assert!(passes(&d, 0.0, -37.0) && passes(&d, 100.0, -37.0), "{:?}", corners(&d));
    assert!(passes(&d, -5.0 * sin, -5.0 * cos), "{:?}", corners(&d));
}

#[test]
fn a_slightly_inward_corner_runs_the_wider_line_on_backwards() {
    // A turn of −19 degrees between 3 and 13: the lines meet (13 − 3 cos 19) / sin 19 = 31.218 before the corner.
    let (sin, cos) = 19.0_f64.to_radians().sin_cos();
    let shape = straight(&[("a", -200.0, 0.0), ("b", 0.0, 0.0), ("c", 200.0 * cos, -200.0 * sin), ("d", 0.0, 200.0)]);
    let d = drafted(&shape.allowing(3.0).allowing_on("b", 13.0));
    assert!(passes(&d, -(13.0 - 3.0 * cos) / sin, -3.0), "{:?}", corners(&d));
}

#[test]
fn an_inward_corner_ends_both_lines_where_they_cross() {
    let dented = straight(&[("a", 0.0, 0.0), ("b", 100.0, 0.0), ("c", 100.0, 100.0), ("d", 50.0, 50.0), ("e", 0.0, 100.0)]);
    let d = drafted(&dented.allowing(5.0));
    assert!(passes(&d, 50.0, 50.0 + 5.0 * 2.0_f64.sqrt()), "{:?}", corners(&d));
}

#[test]
fn square_corners_end_at_right_angles_to_the_first_edge() {
    // Interior angle 60 at the origin of a: left (coming in) and a. The line beside a, 10 out, meets the stitch line of
    // left, run on, 10 / sin 60 beyond the corner; there the allowance of left ends.
    let h = 300.0_f64.sqrt() * 10.0;
    let triangle = || straight(&[("a", 0.0, 0.0), ("b", 200.0, 0.0), ("c", 100.0, h)]).allowing(10.0);
    let d = drafted(&triangle().joined("a", "c", CornerJoin::Square));
    let along = crate::geometry::Vector::new(-0.5, -(0.75_f64.sqrt()));
    let foot = pt(0.0, 0.0) + along * (10.0 / 0.75_f64.sqrt());
    let outer = foot + along.right() * 10.0;
    assert!(passes(&d, foot.x, foot.y) && passes(&d, outer.x, outer.y), "{:?}", corners(&d));
    assert!(d.cut.area < drafted(&triangle()).cut.area);
    // On a right angle square and mitred are one.
    let square = drafted(&rectangle(600.0, 400.0).allowing(10.0).joined("head", "left", CornerJoin::Square));
    near!(square.cut.area, 260_400.0, 1e-6);
}

#[test]
fn bevelled_corners_go_straight_across() {
    let d = drafted(&rectangle(600.0, 400.0).allowing(10.0).joined("left", "head", CornerJoin::Bevelled));
    near!(d.cut.area, 260_400.0 - 50.0, 1e-6);
    assert_eq!(d.cut_line.segments.len(), 5);
}

#[test]
fn arcs_stay_arcs_in_the_cut_line() {
    let half = panel(vec![
        ("flat", Path::line(pt(-100.0, 0.0), pt(100.0, 0.0))),
        ("bow", Path::arc_by_rise(pt(100.0, 0.0), pt(-100.0, 0.0), 60.0, crate::geometry::Side::Right)),
    ]);
    let d = drafted(&half.allowing(10.0));
    let arcs = d.cut_line.segments.iter().filter(|s| matches!(s, Segment::Arc { .. })).count();
    assert_eq!(arcs, 1);
    // Radius (100² + 60²) / 120 = 113.333, centre 53.333 below the flat side; the cut arc is 10 outside it.
    let centre = pt(0.0, 60.0 - 13_600.0 / 120.0);
    near!(d.cut_line.bounds().max.y, 70.0, 1e-6);
    let top = d.cut_line.flatten(0.001);
    assert!(top.iter().filter(|p| p.y > 0.0).all(|p| p.distance(centre) > 123.333 - 0.01));
}

#[test]
fn a_hung_edge_keeps_its_allowance_everywhere() {
    let tarp = panel(vec![
        ("eave", Path::catenary(pt(0.0, 0.0), pt(3000.0, 0.0), 125.0, crate::geometry::Side::Left)),
        ("right", Path::line(pt(3000.0, 0.0), pt(3000.0, 1400.0))),
        ("ridge", Path::line(pt(3000.0, 1400.0), pt(0.0, 1400.0))),
        ("left", Path::line(pt(0.0, 1400.0), pt(0.0, 0.0))),
    ]);
    let d = drafted(&tarp.allowing(16.0));
    // g4: 3013.8442 (origin: computed).
    near!(edge(&d, "eave").length, 3013.8442, 1e-3);
    near!(d.finished.area, 3000.0 * 1400.0 - 250_115.1, 1.0);
    let cut = d.cut_line.flatten(0.001);
    let eave = &edge(&d, "eave").path;
    for i in 1..100 {
        near!(distance_to(&cut, eave.point_at(30.13 * f64::from(i))), 16.0, 0.02);
    }
    assert!(eave.flatten(1.0).iter().all(|p| encloses(&cut, *p)));
}

#[test]
fn a_hollow_too_tight_for_its_allowance_says_so() {
    let scoop = |radius: f64| {
        panel(vec![
            ("foot", Path::line(pt(0.0, 0.0), pt(200.0, 0.0))),
            ("right", Path::line(pt(200.0, 0.0), pt(200.0, 100.0))),
            ("shoulder", Path::line(pt(200.0, 100.0), pt(100.0 + radius, 100.0))),
            ("scoop", Path::new(pt(100.0 + radius, 100.0)).arc_to(pt(100.0 - radius, 100.0), -1.0)),
            ("strap", Path::line(pt(100.0 - radius, 100.0), pt(0.0, 100.0))),
            ("left", Path::line(pt(0.0, 100.0), pt(0.0, 0.0))),
        ])
        .allowing(10.0)
    };
    let (code, words) = refusal(&scoop(8.0));
    assert_eq!(code, "allowance-exceeds-curve");
    assert!(words.contains("10 mm") && words.contains("8 mm"), "{words}");
    let d = drafted(&scoop(40.0));
    assert!(d.cut_line.segments.iter().any(|s| matches!(s, Segment::Arc { bulge, .. } if *bulge < 0.0)));
}

#[test]
fn allowances_that_meet_across_a_gap_say_so() {
    // A slot 12 wide with allowances of 10 on both sides.
    let slot = |wide: f64| {
        straight(&[
            ("foot", 0.0, 0.0),
            ("right", 200.0, 0.0),
            ("head", 200.0, 100.0),
            ("far", 100.0 + wide, 100.0),
            ("end", 100.0 + wide, 30.0),
            ("near", 100.0, 30.0),
            ("rest", 100.0, 100.0),
            ("left", 0.0, 100.0),
        ])
        .allowing(10.0)
    };
    drafted(&slot(30.0));
    let (code, words) = refusal(&slot(12.0));
    assert_eq!(code, "edge-too-short-for-allowance");
    assert!(words.contains("`shell.end` is 12 mm long"), "{words}");
    // Two prongs that only come near each other.
    let prongs = straight(&[
        ("foot", 0.0, 0.0),
        ("right", 200.0, 0.0),
        ("head", 200.0, 100.0),
        ("far", 105.0, 100.0),
        ("in_far", 150.0, 50.0),
        ("in_near", 50.0, 50.0),
        ("rest", 95.0, 100.0),
        ("left", 0.0, 100.0),
    ]);
    assert_eq!(refusal(&prongs.allowing(10.0)).0, "allowance-crosses");
}

#[test]
fn negative_and_unknown_allowances_are_refused() {
    assert_eq!(refusal(&rectangle(600.0, 400.0).allowing(-10.0)).0, "negative-allowance");
    assert_eq!(refusal(&rectangle(600.0, 400.0).allowing_on("head", -1.0)).0, "negative-allowance");
    assert_eq!(refusal(&rectangle(600.0, 400.0).allowing_on("heed", 10.0)).0, "edge-not-here");
    assert_eq!(refusal(&rectangle(600.0, 400.0).allowing_on("head", f64::NAN)).0, "unusable-size");
}

#[test]
fn an_edge_from_a_corner_takes_the_allowance_beside_it() {
    let rounded = || rectangle(600.0, 400.0).corner(CornerTreatment::Round, "head", "left", 50.0);
    let of = |input: &PanelInput| edge(&drafted(input), "head_left").allowance;
    near!(of(&rounded().allowing(10.0).allowing_on("head", 15.0).allowing_on("left", 15.0)), 15.0, 0.0);
    near!(of(&rounded().allowing(10.0).allowing_on("head", 15.0)), 10.0, 0.0);
    near!(of(&rounded().allowing_on("head", 15.0).allowing_on("left", 8.0)), 15.0, 0.0);
    near!(of(&rounded().allowing(10.0).allowing_on("head_left", 3.0)), 3.0, 0.0);
}
