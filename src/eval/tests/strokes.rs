//! Strokes that run on smoothly from the one before.

use super::{design, edge, errors, near};
use crate::geometry::{Path, Point, Segment};
use std::f64::consts::PI;

fn at(x: f64, y: f64) -> Point {
    Point::new(x, y)
}

fn drawn(edges: &str) -> String {
    format!("panel a {{ cut 1 of plain  shape {{ start (0 mm, 0 mm) {edges} }} allow 12 mm }}")
}

/// Where one path ends and the next begins, they point the same way.
#[track_caller]
fn smooth(before: &Path, after: &Path) {
    let turn = before.tangent_at_end().turn_to(after.tangent_at_start());
    assert!(turn.abs() <= 1e-9, "a corner of {turn}");
}

#[test]
fn an_arc_runs_on_from_the_edge_before_as_the_quarter_of_a_circle() {
    // Up 10 cm, and round a quarter of 30 mm to the left: 15 π.
    let d = design(&drawn(
        "edge foot line to (20 cm, 0 mm)  edge right line to (20 cm, 10 cm)  edge bend arc to (17 cm, 13 cm) smooth
         edge head line to (0 mm, 13 cm)  edge left line to start",
    ));
    let bend = edge(&d, "a", "bend");
    near(bend.length.as_mm(), 15.0 * PI);
    smooth(&edge(&d, "a", "right").path, &bend.path);
    smooth(&bend.path, &edge(&d, "a", "head").path);
    near(bend.path.tangent_at(19.0).turn_to(bend.path.tangent_at(21.0)) / 2.0, 1.0 / 30.0);
}

#[test]
fn within_an_edge_and_drawn_either_way_round_it_runs_on_alike() {
    let left = design(&drawn(
        "edge foot line to (20 cm, 0 mm)  edge round line to (20 cm, 10 cm) then arc to (17 cm, 13 cm) smooth then line to (0 mm, 13 cm)
         edge left line to start",
    ));
    let right = design(&drawn(
        "edge left line to (0 mm, 13 cm)  edge round line to (17 cm, 13 cm) then arc to (20 cm, 10 cm) smooth then line to (20 cm, 0 mm)
         edge foot line to start",
    ));
    for d in [&left, &right] {
        // 100 + 170 of straights, a quarter circle of 30 between.
        near(edge(d, "a", "round").length.as_mm(), 270.0 + 15.0 * PI);
        near(d.pieces[0].finished.area.as_mm2(), 200.0 * 130.0 - (1.0 - PI / 4.0) * 900.0);
    }
}

#[test]
fn a_free_curve_runs_on_as_far_as_its_other_handle_reaches() {
    let d = design(&drawn(
        "edge foot line to (20 cm, 0 mm)  edge right hung to (20 cm, 20 cm) sag 5%
         edge head curve to (5 cm, 20 cm) smooth by (8 cm, 24 cm)  edge left line to start",
    ));
    let (right, head) = (edge(&d, "a", "right"), edge(&d, "a", "head"));
    smooth(&right.path, &head.path);
    let Some(Segment::Cubic { leaving, arriving, .. }) = head.path.segments.first() else { panic!("{:?}", head.path) };
    // 3-4-5: the handle given lies 50 mm from the end, so the other lies 50 mm from the start.
    near(leaving.distance(head.path.start), 50.0);
    near(arriving.distance(at(80.0, 240.0)), 0.0);
}

#[test]
fn a_stroke_of_no_length_between_them_keeps_the_direction() {
    let edges = "edge foot line to (20 cm, 0 mm) then line to (20 cm, 0 mm) then arc to (25 cm, 5 cm) smooth
                 edge head line to (0 mm, 5 cm)  edge left line to start";
    let d = design(&drawn(edges));
    near(edge(&d, "a", "foot").length.as_mm(), 200.0 + 25.0 * PI);
}

#[test]
fn where_it_cant_run_on_it_says_so() {
    let with = |stroke: &str| {
        errors(&drawn(&format!(
            "edge foot line to (20 cm, 0 mm)  edge right {stroke}  edge head line to (0 mm, 9 cm)  edge left line to start"
        )))
    };
    assert_eq!(with("arc to (19 cm, 9 cm) smooth"), ["smooth-impossible"]);
    assert_eq!(with("arc to (10 cm, 0 mm) smooth"), ["smooth-impossible"]);
    assert_eq!(with("curve to (19 cm, 9 cm) smooth by (19 cm, 9 cm)"), ["smooth-impossible"]);
    assert_eq!(with("arc to (20 cm, 0 mm) smooth"), ["zero-length-edge"]);
    let first =
        errors(&drawn("edge foot curve to (20 cm, 0 mm) smooth by (15 cm, 0 mm)  edge head line to (0 mm, 9 cm)  edge left line to start"));
    assert_eq!(first, ["smooth-without-stroke"]);
}
