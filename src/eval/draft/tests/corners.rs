//! Ways for two allowances to meet: rounded, stepped, trimmed.

use super::*;
use crate::geometry::{Segment, self_crossing};
use std::f64::consts::PI;

fn passes(d: &Drafted, x: f64, y: f64) -> bool {
    d.cut_line.segments.iter().any(|s| s.end().distance(pt(x, y)) < 1e-6)
}

fn said(input: &PanelInput) -> Vec<&'static str> {
    let mut problems = Problems::default();
    let _ = draft(input, &mut problems);
    problems.sorted().iter().map(|p| p.code).collect()
}

/// Sides of 200, all corners 60 degrees; its third corner stands at (100, 173.2).
fn triangle() -> PanelInput {
    straight(&[("a", 0.0, 0.0), ("b", 200.0, 0.0), ("c", 100.0, 30_000.0_f64.sqrt())])
}

/// An edge along x that ends at the origin, and one that leaves it with a turn of so many degrees.
fn turning(degrees: f64) -> PanelInput {
    let (sin, cos) = degrees.to_radians().sin_cos();
    let (x, y) = (300.0 * cos, 300.0 * sin);
    straight(&[("a", -300.0, 0.0), ("b", 0.0, 0.0), ("c", x, y), ("d", -300.0, y.max(200.0))])
}

#[test]
fn rounded_corners_grow_a_rectangle_as_steiner_says() {
    let mut input = rectangle(600.0, 400.0).allowing(10.0);
    for (a, b) in [("foot", "right"), ("right", "head"), ("head", "left"), ("left", "foot")] {
        input = input.joined(a, b, CornerJoin::Rounded);
    }
    let d = drafted(&input);
    // A + P d + pi d^2 and P + 2 pi d, figures worked out by hand.
    near!(d.cut.area, 240_000.0 + 20_000.0 + 100.0 * PI, 1e-6);
    near!(d.cut_line.length(), 2000.0 + 20.0 * PI, 1e-6);
    assert_eq!(d.cut_line.segments.iter().filter(|s| matches!(s, Segment::Arc { .. })).count(), 4);
}

#[test]
fn a_rounded_corner_of_unlike_allowances_has_the_larger_radius() {
    let input = rectangle(600.0, 400.0).allowing(10.0).allowing_on("right", 20.0);
    let d = drafted(&input.joined("foot", "right", CornerJoin::Rounded));
    // 10 out of the foot a circle of 20 about the corner is 20 sin 60 along.
    assert!(passes(&d, 600.0 + 20.0 * 0.75_f64.sqrt(), -10.0) && passes(&d, 620.0, 0.0), "{:?}", d.cut_line);
    // A gentle turn, where 30 reaches the line at 10 before the corner, is mitred: nothing stands out there.
    let blunt = || turning(30.0).allowing(10.0).allowing_on("a", 30.0);
    near!(drafted(&blunt().joined("a", "b", CornerJoin::Rounded)).cut.area, drafted(&blunt()).cut.area, 1e-9);
    // Nothing on one side: from straight behind it, round to the other.
    let d = drafted(&triangle().allowing(10.0).allowing_on("b", 0.0).joined("a", "b", CornerJoin::Rounded));
    assert!(passes(&d, 205.0, -10.0 * 0.75_f64.sqrt()), "{:?}", d.cut_line);
}

#[test]
fn two_hems_stepped_leave_nothing_outside_both_edges() {
    let hems = |input: PanelInput, edges: &[&str]| edges.iter().fold(input, |i, e| i.hemmed(e, 30.0, &[0.0, 20.0]));
    let mut input = hems(rectangle(600.0, 400.0), &["foot", "right", "head", "left"]);
    for (a, b) in [("foot", "right"), ("right", "head"), ("head", "left"), ("left", "foot")] {
        input = input.joined(a, b, CornerJoin::Stepped);
    }
    let d = drafted(&input);
    near!(d.cut.area, 240_000.0 + 2000.0 * 30.0, 1e-6);
    for (x, y) in [(0.0, 0.0), (0.0, -30.0), (-30.0, 0.0), (600.0, 0.0), (600.0, 400.0)] {
        assert!(passes(&d, x, y), "{x} {y}: {:?}", d.cut_line);
    }
    // Sharper than a right angle: a hem of 20 drawn back 20 / tan 60, as the other edge lies in its mirror image.
    let sharp = triangle().allowing(8.0).hemmed("a", 20.0, &[0.0]).hemmed("b", 20.0, &[0.0]);
    let d = drafted(&sharp.joined("a", "b", CornerJoin::Stepped));
    assert!(passes(&d, 200.0 - 20.0 / 3.0_f64.sqrt(), -20.0), "{:?}", d.cut_line);
    // Three times 60 degrees are one straight line through the corner.
    near!(crate::geometry::distance_to(&d.cut_line.flatten(0.01), pt(200.0, 0.0)), 0.0, 1e-6);
    // Blunter: up to the other edge run on, 20 / tan 60 before the corner.
    let blunt = turning(60.0).allowing(8.0).hemmed("a", 20.0, &[0.0]).hemmed("b", 20.0, &[0.0]);
    let d = drafted(&blunt.joined("a", "b", CornerJoin::Stepped));
    assert!(passes(&d, -20.0 / 3.0_f64.sqrt(), -20.0) && passes(&d, 0.0, 0.0), "{:?}", d.cut_line);
}

#[test]
fn stepped_is_for_two_hems_at_a_corner() {
    let one = rectangle(600.0, 400.0).allowing(8.0).hemmed("head", 20.0, &[0.0]).joined("head", "left", CornerJoin::Stepped);
    assert_eq!(refusal(&one).0, "corner-join-impossible");
    // A turn of six degrees: lines beside the edges run on for 20 / sin 6, 191, past four allowances.
    let slight = turning(6.0).allowing(8.0).hemmed("a", 20.0, &[0.0]).hemmed("b", 20.0, &[0.0]);
    let (code, words) = refusal(&slight.joined("a", "b", CornerJoin::Stepped));
    assert!(code == "corner-join-impossible" && words.contains("`a` and `b`"), "{words}");
}

#[test]
fn trimmed_corners_lose_their_point() {
    let all = |join| [("a", "b"), ("b", "c"), ("c", "a")].iter().fold(triangle().allowing(10.0), |i, (x, y)| i.joined(x, y, join));
    let d = drafted(&all(CornerJoin::Trimmed));
    // At 60 degrees the point is cut straight across, as far out as the allowance: a triangle of height 10, base 20 tan 30.
    let side = 200.0 + 20.0 * 3.0_f64.sqrt();
    near!(d.cut.area, 0.75_f64.sqrt() / 2.0 * side * side - 300.0 / 3.0_f64.sqrt(), 1e-6);
    assert!(passes(&d, 200.0 + 10.0 / 3.0_f64.sqrt(), -10.0), "{:?}", d.cut_line);
    // At 45 degrees in two cuts: from 10 tan 22.5 past the corner to (10, −10 tan 22.5), and likewise on the other side.
    let d = drafted(&turning(135.0).allowing(10.0).joined("a", "b", CornerJoin::Trimmed));
    let tan = 22.5_f64.to_radians().tan();
    assert!(passes(&d, 10.0 * tan, -10.0) && passes(&d, 10.0, -10.0 * tan), "{:?}", d.cut_line);
    // A right corner has no point to lose.
    let right = drafted(&rectangle(600.0, 400.0).allowing(10.0).joined("foot", "right", CornerJoin::Trimmed));
    near!(right.cut.area, 260_400.0, 1e-6);
}

#[test]
fn a_trimmed_needle_keeps_its_seam() {
    // Two sides of 600 that meet at 9.5 degrees, where a mitre is blunted: still one line, and no wider than that.
    let needle = || straight(&[("a", 0.0, 0.0), ("b", 100.0, 0.0), ("c", 50.0, 600.0)]).allowing(10.0);
    let d = drafted(&needle().joined("b", "c", CornerJoin::Trimmed));
    assert_eq!(self_crossing(&d.cut_line.flatten(0.01)), None);
    assert!(d.cut.area < drafted(&needle()).cut.area);
}

#[test]
fn a_trimmed_corner_of_very_unlike_allowances_is_refused_by_name() {
    let input = turning(176.0).allowing(2.0).allowing_on("a", 40.0).joined("a", "b", CornerJoin::Trimmed);
    let found = said(&input);
    assert!(found.iter().all(|c| ["corner-join-impossible", "allowance-crosses", "edge-too-short-for-allowance"].contains(c)), "{found:?}");
    assert!(!found.is_empty());
}

#[test]
fn a_way_to_meet_where_nothing_meets_is_pointed_out() {
    let dented = || straight(&[("a", 0.0, 0.0), ("b", 100.0, 0.0), ("c", 100.0, 100.0), ("d", 50.0, 50.0), ("e", 0.0, 100.0)]);
    for (_, join) in CornerJoin::ALL {
        let found = said(&dented().allowing(5.0).joined("c", "d", join));
        assert_eq!(found.is_empty(), join == CornerJoin::Mitred, "{join:?}: {found:?}");
    }
    assert_eq!(said(&dented().joined("a", "b", CornerJoin::Rounded)), ["corner-join-idle"]);
    let on = straight(&[("a", 0.0, 0.0), ("b", 50.0, 0.0), ("c", 100.0, 0.0), ("d", 50.0, 80.0)]).allowing(5.0);
    assert_eq!(said(&on.joined("a", "b", CornerJoin::Trimmed)), ["corner-join-idle"]);
}
