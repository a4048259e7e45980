//! Lines all round beside closed paths, and narrow places.

use super::*;

#[test]
fn a_kerf_of_a_fifth_takes_a_fifth_off_each_way() {
    // Kerf 0.2: a rectangle of 2.0 by 4.0 is cut from lines of 2.2 by 4.2, a hole of that size from 1.8 by 3.8 (published guides
    // to the kerf of lasers give this example).
    for (kerf, width, height) in [(0.1, 2.2, 4.2), (-0.1, 1.8, 3.8)] {
        let beside = rectangle(2.0, 4.0).ring_beside(kerf).expect("it fits");
        let bounds = beside.bounds();
        near!(bounds.width(), width, 1e-9);
        near!(bounds.height(), height, 1e-9);
        near!(beside.signed_area(), width * height, 1e-9);
        assert!(beside.is_closed());
        // The same, whichever way round it is drawn.
        near!(rectangle(2.0, 4.0).reversed().ring_beside(kerf).expect("it fits").signed_area(), -width * height, 1e-9);
    }
}

#[test]
fn arcs_stay_arcs_all_round() {
    let stadium =
        Path::new(pt(0.0, 0.0)).line_to(pt(100.0, 0.0)).arc_to(pt(100.0, 40.0), 1.0).line_to(pt(0.0, 40.0)).arc_to(pt(0.0, 0.0), 1.0);
    let beside = stadium.ring_beside(0.1).expect("it fits");
    near!(beside.length(), 200.0 + 2.0 * std::f64::consts::PI * 20.1, 1e-9);
    assert_eq!(beside.segments.iter().filter(|s| matches!(s, Segment::Arc { .. })).count(), 2);
    assert_eq!(beside.segments.len(), 5, "the first straight is parted at its middle");
}

#[test]
fn a_path_begins_in_the_middle_of_its_longest_straight() {
    assert_eq!(rectangle(30.0, 80.0).begun_on_a_straight().start, pt(30.0, 40.0));
    assert_eq!(rectangle(80.0, 30.0).begun_on_a_straight().start, pt(40.0, 0.0));
    let round = Path::circle(pt(0.0, 0.0), 10.0).begun_on_a_straight();
    near!(round.start.distance(pt(0.0, 10.0)), 0.0, 1e-9);
    near!(round.length(), 20.0 * std::f64::consts::PI, 1e-9);
    let open = Path::line(pt(0.0, 0.0), pt(5.0, 0.0));
    assert_eq!(open.begun_on_a_straight(), open);
}

#[test]
fn narrow_tongues_and_slots_are_found_where_they_are() {
    assert_eq!(rectangle(50.0, 2.0).narrower_than(2.0), None);
    assert!(rectangle(50.0, 1.9).narrower_than(2.0).is_some());
    // A slot 1 wide and 30 deep into a square of 100, from the top.
    let slotted = Path::polygon(&[
        pt(0.0, 0.0),
        pt(100.0, 0.0),
        pt(100.0, 100.0),
        pt(60.5, 100.0),
        pt(60.5, 70.0),
        pt(59.5, 70.0),
        pt(59.5, 100.0),
        pt(0.0, 100.0),
    ])
    .expect("it has corners");
    let at = slotted.narrower_than(2.0).expect("the slot is narrow");
    assert!((at.x - 60.0).abs() < 2.5 && at.y > 67.0, "{at:?}");
    assert_eq!(slotted.narrower_than(0.9), None);
    let tight = Path::circle(pt(0.0, 0.0), 0.9);
    assert!(tight.narrower_than(2.0).is_some() && tight.narrower_than(1.7).is_none());
    // A hung edge is as smooth as its rope.
    let hung = Path::new(pt(0.0, 0.0)).line_to(pt(3000.0, 0.0)).then(&Path::catenary(pt(3000.0, 0.0), pt(0.0, 0.0), 120.0, Side::Right));
    let closed = Path::new(pt(0.0, -500.0))
        .line_to(pt(3000.0, -500.0))
        .line_to(pt(3000.0, 0.0))
        .then(&Path::catenary(pt(3000.0, 0.0), pt(0.0, 0.0), 120.0, Side::Left))
        .line_to(pt(0.0, -500.0));
    assert!(hung.is_closed() && closed.is_closed());
    assert_eq!(closed.narrower_than(3.0), None);
    let beside = closed.ring_beside(0.1).expect("it bends gently");
    assert!(beside.is_closed() && beside.segments.iter().any(|s| matches!(s, Segment::Cubic { .. })));
}
