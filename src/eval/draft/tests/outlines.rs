//! Outlines as drawn, tapers, corners.

use super::*;
use std::f64::consts::PI;

#[test]
fn an_outline_keeps_its_edges_and_turns_counter_clockwise() {
    let d = drafted(&rectangle(600.0, 400.0));
    assert_eq!(names(&d), ["foot", "right", "head", "left"]);
    near!(d.finished.area, 240_000.0, 1e-6);
    let clockwise = straight(&[("left", 0.0, 0.0), ("head", 0.0, 400.0), ("right", 600.0, 400.0), ("foot", 600.0, 0.0)]);
    let d = drafted(&clockwise);
    assert_eq!(names(&d), ["left", "foot", "right", "head"]);
    near!(d.cut_line.signed_area(), 240_000.0, 1e-6);
    let left = edge(&d, "left");
    assert_eq!((left.start_neighbour.as_str(), left.end_neighbour.as_str()), ("head", "foot"));
    assert_eq!(left.path, Path::line(pt(0.0, 400.0), pt(0.0, 0.0)));
}

#[test]
fn a_round_piece_is_one_closed_edge() {
    // g7: a base of 150 with 10 of allowance is cut 170 across; its cut edge is 534.07 long (origin: computed).
    let d = drafted(&panel(vec![("rim", Path::circle(pt(0.0, 0.0), 75.0))]).allowing(10.0));
    near!(d.cut.width, 170.0, 1e-9);
    near!(d.cut_line.length(), 534.0707, 1e-3);
    near!(edge(&d, "rim").length, 150.0 * PI, 1e-9);
    assert!(d.cut_line.is_closed());
    // g7: the body that goes round it is cut 491.2389 wide.
    let d = drafted(&rectangle(150.0 * PI, 300.0).allowing(10.0));
    near!(d.cut.width, 491.2389, 1e-3);
}

#[test]
fn a_cone_has_the_golden_measures() {
    // g6: frustum R 150, r 100, h 300: radii 912.4144 and 608.2763, angle 59.18364 degrees, area 238 869.5 (origin: computed).
    let (outer, inner, half) = (912.4144, 608.2763, (59.18364_f64 / 2.0).to_radians());
    let on = |r: f64, a: f64| pt(r * a.sin(), -r * a.cos());
    let rise = |r: f64| r - r * half.cos();
    let d = drafted(&panel(vec![
        ("foot", Path::arc_by_rise(on(outer, -half), on(outer, half), rise(outer), crate::geometry::Side::Right)),
        ("right", Path::line(on(outer, half), on(inner, half))),
        ("head", Path::arc_by_rise(on(inner, half), on(inner, -half), -rise(inner), crate::geometry::Side::Right)),
        ("left", Path::line(on(inner, -half), on(outer, -half))),
    ]));
    near!(d.finished.area, 238_869.5, 0.5);
    near!(edge(&d, "foot").length, 2.0 * PI * 150.0, 1e-2);
    near!(edge(&d, "head").length, 2.0 * PI * 100.0, 1e-2);
    near!(edge(&d, "left").length, 304.1381, 1e-3);
}

#[test]
fn a_tapered_edge_keeps_its_name_and_gains_parts() {
    // 600 × 1000, tapered by 90 over 400: the slope is √(400² + 90²) = 410.
    let input = rectangle(600.0, 1000.0);
    let input = input.tapered("left", 90.0, Along::Fraction(0.4), "foot").tapered("right", 90.0, Along::Length(400.0), "foot");
    let d = drafted(&input);
    assert_eq!(names(&d), ["foot", "right", "head", "left"]);
    near!(edge(&d, "foot").length, 420.0, 1e-9);
    near!(edge(&d, "left").length, 1010.0, 1e-9);
    near!(d.finished.area, 600.0 * 1000.0 - 90.0 * 400.0, 1e-6);
    // Counter-clockwise, left runs down to the foot: straight first.
    let parts: Vec<_> = edge(&d, "left").parts.iter().map(|p| (p.name.as_str(), p.from.as_mm(), p.to.as_mm())).collect();
    assert_eq!(parts, [("straight", 0.0, 600.0), ("tapered", 600.0, 1010.0)]);
    let parts: Vec<_> = edge(&d, "right").parts.iter().map(|p| p.name.as_str()).collect();
    assert_eq!(parts, ["tapered", "straight"]);
}

#[test]
fn an_edge_tapered_at_both_ends_names_both() {
    let input = rectangle(600.0, 1000.0);
    let input = input.tapered("left", 30.0, Along::Length(300.0), "foot").tapered("left", 40.0, Along::Length(400.0), "head");
    let d = drafted(&input);
    let parts: Vec<_> = edge(&d, "left").parts.iter().map(|p| p.name.as_str()).collect();
    assert_eq!(parts, ["tapered_head", "straight", "tapered_foot"]);
    near!(edge(&d, "head").length, 560.0, 1e-9);
    near!(edge(&d, "foot").length, 570.0, 1e-9);
}

#[test]
fn a_taper_over_the_whole_edge_has_only_that_part() {
    let input = rectangle(1300.0, 2000.0);
    let input = input.tapered("left", 200.0, Along::Fraction(1.0), "foot").tapered("right", 200.0, Along::Length(2000.0), "foot");
    let d = drafted(&input.allowing(10.0));
    let parts: Vec<_> = edge(&d, "left").parts.iter().map(|p| p.name.as_str()).collect();
    assert_eq!(parts, ["tapered"]);
    // Now it is the trapezoid of g3.
    near!(d.cut.area, 2_262_601.497, 1e-3);
}

#[test]
fn a_taper_by_nothing_changes_nothing_but_names() {
    let d = drafted(&rectangle(600.0, 1000.0).tapered("left", 0.0, Along::Fraction(0.4), "foot"));
    near!(edge(&d, "left").length, 1000.0, 1e-9);
    assert_eq!(edge(&d, "left").parts.len(), 2);
}

#[test]
fn tapers_that_cannot_be_say_why() {
    let base = || rectangle(600.0, 1000.0);
    let (code, words) = refusal(&base().tapered("left", 30.0, Along::Length(1200.0), "foot"));
    assert_eq!(code, "taper-longer-than-edge");
    assert!(words.contains("120 cm") && words.contains("100 cm"), "{words}");
    let both = base().tapered("left", 30.0, Along::Fraction(0.6), "foot").tapered("left", 30.0, Along::Fraction(0.6), "head");
    assert_eq!(refusal(&both).0, "tapers-meet");
    let closed = base().tapered("left", 300.0, Along::Fraction(0.6), "foot").tapered("right", 310.0, Along::Fraction(0.6), "foot");
    assert_eq!(refusal(&closed).0, "taper-closes-edge");
    assert_eq!(refusal(&base().tapered("left", 610.0, Along::Fraction(0.6), "foot")).0, "taper-closes-edge");
    let twice = base().tapered("left", 30.0, Along::Fraction(0.6), "foot").tapered("foot", 30.0, Along::Fraction(0.6), "left");
    assert_eq!(refusal(&twice).0, "corner-moved-twice");
    for by in [-3.0, f64::NAN, f64::INFINITY] {
        assert_eq!(refusal(&base().tapered("left", by, Along::Fraction(0.4), "foot")).0, "unusable-size");
    }
    assert_eq!(refusal(&base().tapered("left", 3.0, Along::Fraction(-0.4), "foot")).0, "unusable-size");
    let bowed = panel(vec![
        ("foot", Path::line(pt(0.0, 0.0), pt(600.0, 0.0))),
        ("right", Path::arc_by_rise(pt(600.0, 0.0), pt(600.0, 1000.0), 40.0, crate::geometry::Side::Right)),
        ("head", Path::line(pt(600.0, 1000.0), pt(0.0, 1000.0))),
        ("left", Path::line(pt(0.0, 1000.0), pt(0.0, 0.0))),
    ]);
    assert_eq!(refusal(&bowed.tapered("right", 30.0, Along::Fraction(0.4), "foot")).0, "taper-needs-straight-edge");
}

#[test]
fn names_that_are_not_there_bring_the_nearest() {
    let said = refused(&rectangle(600.0, 1000.0).tapered("lift", 3.0, Along::Fraction(0.4), "foot"));
    let one = said.first().expect("one");
    assert_eq!((one.code, one.edit.as_ref().map(|e| e.replacement.read_in(Style::METRIC))), ("edge-not-here", Some("left".to_owned())));
    let said = refused(&rectangle(600.0, 1000.0).tapered("left", 3.0, Along::Fraction(0.4), "heat"));
    let one = said.first().expect("one");
    assert_eq!((one.code, one.edit.as_ref().map(|e| e.replacement.read_in(Style::METRIC))), ("unknown-edge-end", Some("head".to_owned())));
    assert_eq!(refusal(&rectangle(600.0, 1000.0).tapered("left", 3.0, Along::Fraction(0.4), "right")).0, "unknown-edge-end");
    let turned = rectangle(600.0, 400.0).corner(CornerTreatment::Round, "left", "head", 30.0).allowing_on("left_head", 5.0);
    let said = refused(&turned);
    assert_eq!(said.first().and_then(|d| d.edit.as_ref()).map(|e| e.replacement.read_in(Style::METRIC)), Some("head_left".to_owned()));
    let lens = || {
        panel(vec![
            ("flat", Path::line(pt(0.0, 0.0), pt(100.0, 0.0))),
            ("bow", Path::arc_by_rise(pt(100.0, 0.0), pt(0.0, 0.0), 30.0, crate::geometry::Side::Right)),
        ])
    };
    drafted(&lens().allowing(10.0));
    assert_eq!(refusal(&lens().notched("bow", Along::Length(5.0), Some("flat"))).0, "unclear-edge-end");
    assert_eq!(refusal(&lens().corner(CornerTreatment::Round, "flat", "bow", 5.0)).0, "corner-not-there");
}

#[test]
fn round_corners_are_tangent_arcs_with_names() {
    // 610 × 410 rounded by 5, allowance 5: the cut line is 600 × 400 grown by a disc of 10, which is g2 (origin: computed).
    let mut input = rectangle(610.0, 410.0).allowing(5.0);
    for (a, b) in [("foot", "right"), ("head", "right"), ("head", "left"), ("foot", "left")] {
        input = input.corner(CornerTreatment::Round, a, b, 5.0);
    }
    let d = drafted(&input);
    assert_eq!(names(&d), ["foot", "foot_right", "right", "right_head", "head", "head_left", "left", "left_foot"]);
    near!(d.cut.area, 260_314.159, 1e-3);
    near!(d.cut_line.length(), 2062.832, 1e-3);
    near!(edge(&d, "head_left").length, 2.5 * PI, 1e-9);
    // Ends keep the names they had.
    let left = edge(&d, "left");
    assert_eq!((left.start_neighbour.as_str(), left.end_neighbour.as_str()), ("head", "foot"));
    near!(left.length, 400.0, 1e-9);
}

#[test]
fn a_round_corner_on_a_slope_is_tangent_to_both() {
    let d = drafted(&trapezoid().corner(CornerTreatment::Round, "left", "foot", 80.0));
    let (arc, left, foot) = (edge(&d, "left_foot"), edge(&d, "left"), edge(&d, "foot"));
    near!((arc.path.tangent_at_start() - left.path.tangent_at_end()).length(), 0.0, 1e-9);
    near!((arc.path.tangent_at_end() - foot.path.tangent_at_start()).length(), 0.0, 1e-9);
    // It turns by the corner's exterior angle, 90 − 5.7106 degrees, at radius 80.
    near!(arc.length, 80.0 * (90.0_f64 - 5.7106).to_radians(), 1e-3);
}

#[test]
fn bevels_and_boxes_take_what_they_say() {
    let d = drafted(&rectangle(600.0, 400.0).corner(CornerTreatment::Bevel, "left", "head", 30.0));
    near!(d.finished.area, 240_000.0 - 450.0, 1e-9);
    near!(edge(&d, "head_left").length, 30.0 * 2.0_f64.sqrt(), 1e-9);
    // A boxed flat bag 240 × 180 with c 40: base width W − 2c, height H − c (table of section 6.3; origin: computed).
    let input =
        rectangle(240.0, 180.0).corner(CornerTreatment::Box, "left", "foot", 40.0).corner(CornerTreatment::Box, "foot", "right", 40.0);
    let d = drafted(&input.allowing(10.0));
    assert_eq!(names(&d), ["foot", "foot_right_1", "foot_right_2", "right", "head", "left", "left_foot_1", "left_foot_2"]);
    near!(edge(&d, "foot").length, 160.0, 1e-9);
    near!(edge(&d, "left").length, 140.0, 1e-9);
    near!(d.finished.area, 240.0 * 180.0 - 2.0 * 1600.0, 1e-9);
    // The cut line is the boxed outline, 10 outside all round: the box is cut smaller by 10 on both sides.
    near!(d.cut.area, 260.0 * 200.0 - 2.0 * 40.0 * 40.0, 1e-6);
    let two = edge(&d, "left_foot_2");
    assert_eq!((two.start_neighbour.as_str(), two.end_neighbour.as_str()), ("left_foot_1", "foot"));
}

#[test]
fn corners_shorten_the_parts_of_a_tapered_edge() {
    let input = rectangle(600.0, 1000.0).tapered("left", 90.0, Along::Length(400.0), "foot");
    let d = drafted(&input.corner(CornerTreatment::Bevel, "left", "foot", 10.0));
    let parts: Vec<_> = edge(&d, "left").parts.iter().map(|p| (p.name.as_str(), p.from.as_mm(), p.to.as_mm())).collect();
    assert!(
        matches!(parts[..], [("straight", _, a), ("tapered", b, c)] if (a - 600.0).abs() < 1e-9 && (b - a).abs() < 1e-9 && (c - 1000.0).abs() < 1e-9)
    );
}

#[test]
fn corners_that_cannot_be_say_why() {
    let base = || rectangle(600.0, 400.0);
    assert_eq!(refusal(&base().corner(CornerTreatment::Round, "left", "right", 30.0)).0, "corner-not-there");
    let said = refused(&base().corner(CornerTreatment::Round, "left", "foot", 450.0));
    assert_eq!(said.first().map(|d| d.code), Some("corner-too-large"));
    let both = base().corner(CornerTreatment::Round, "left", "foot", 210.0).corner(CornerTreatment::Round, "left", "head", 210.0);
    let (code, words) = refusal(&both);
    assert_eq!(code, "corner-too-large");
    assert!(words.contains("42 cm") && words.contains("40 cm"), "{words}");
    let twice = base().corner(CornerTreatment::Round, "left", "foot", 21.0).corner(CornerTreatment::Bevel, "foot", "left", 21.0);
    assert_eq!(refusal(&twice).0, "corner-treated-twice");
    assert_eq!(refusal(&base().corner(CornerTreatment::Box, "left", "foot", -1.0)).0, "unusable-size");
    let bowed = panel(vec![
        ("flat", Path::line(pt(0.0, 0.0), pt(100.0, 0.0))),
        ("bow", Path::arc_by_rise(pt(100.0, 0.0), pt(60.0, 50.0), 10.0, crate::geometry::Side::Right)),
        ("back", Path::line(pt(60.0, 50.0), pt(0.0, 0.0))),
    ]);
    assert_eq!(refusal(&bowed.corner(CornerTreatment::Round, "flat", "bow", 5.0)).0, "corner-needs-straight-edges");
    let dented = straight(&[("a", 0.0, 0.0), ("b", 100.0, 0.0), ("c", 100.0, 100.0), ("d", 50.0, 50.0), ("e", 0.0, 100.0)]);
    assert_eq!(refusal(&dented.corner(CornerTreatment::Box, "c", "d", 5.0)).0, "corner-turns-inward");
    let on = straight(&[("a", 0.0, 0.0), ("b", 50.0, 0.0), ("c", 100.0, 0.0), ("d", 50.0, 50.0)]);
    assert_eq!(refusal(&on.corner(CornerTreatment::Round, "a", "b", 5.0)).0, "corner-not-there");
}

#[test]
fn an_inward_corner_can_be_rounded() {
    let dented = straight(&[("a", 0.0, 0.0), ("b", 100.0, 0.0), ("c", 100.0, 100.0), ("d", 50.0, 50.0), ("e", 0.0, 100.0)]);
    let d = drafted(&dented.corner(CornerTreatment::Round, "c", "d", 20.0).allowing(5.0));
    // Cloth is added: a right angle filled by a radius of 20 gains (1 − π/4) r².
    near!(d.finished.area, 7500.0 + (1.0 - PI / 4.0) * 400.0, 1e-6);
    near!(edge(&d, "c_d").length, 10.0 * PI, 1e-9);
}

#[test]
fn outlines_that_are_none_say_why() {
    assert_eq!(refusal(&panel(Vec::new())).0, "outline-empty");
    let bow_tie = straight(&[("a", 0.0, 0.0), ("b", 100.0, 100.0), ("c", 100.0, 0.0), ("d", 10.0, 100.0)]);
    let (code, words) = refusal(&bow_tie);
    assert_eq!(code, "outline-crosses-itself");
    assert!(words.contains("`shell.a`") && words.contains("`shell.c`"), "{words}");
    let open = panel(vec![("a", Path::line(pt(0.0, 0.0), pt(100.0, 0.0))), ("b", Path::line(pt(100.0, 0.0), pt(5.0, 80.0)))]);
    let (code, words) = refusal(&open);
    assert_eq!(code, "outline-open");
    assert!(words.contains("80.2 mm"), "{words}");
    let flat = straight(&[("a", 0.0, 0.0), ("b", 100.0, 0.0), ("c", 100.0, 0.0)]);
    assert_eq!(refusal(&flat).0, "zero-length-edge");
    let there_and_back = straight(&[("a", 0.0, 0.0), ("b", 100.0, 0.0)]);
    assert_eq!(refusal(&there_and_back).0, "outline-crosses-itself");
    let speck = straight(&[("a", 0.0, 0.0), ("b", 0.6, 0.0), ("c", 0.0, 0.5)]);
    assert_eq!(refusal(&speck).0, "outline-empty");
    let named = straight(&[("a", 0.0, 0.0), ("b", 100.0, 0.0), ("a", 50.0, 80.0)]);
    assert_eq!(refusal(&named).0, "edge-named-twice");
    let crossing =
        rectangle(600.0, 400.0).tapered("left", 500.0, Along::Fraction(1.0), "foot").tapered("right", 500.0, Along::Fraction(1.0), "head");
    drafted(&crossing);
    let pinched = straight(&[("a", 0.0, 0.0), ("b", 100.0, 0.0), ("c", 100.0, 50.0), ("d", 50.0, 10.0), ("e", 0.0, 50.0)]);
    let said = refusal(&pinched.tapered("a", 30.0, Along::Fraction(1.0), "b"));
    assert_eq!(said.0, "outline-crosses-itself");
}

#[test]
fn edges_that_run_back_along_each_other_are_refused() {
    // A tip that opens by 0.9 mm on a metre; by 9 mm it can be cut.
    let tip = |opens: f64| straight(&[("a", 0.0, 0.0), ("b", 1000.0, 0.0), ("c", 0.0, opens)]);
    let (code, words) = refusal(&tip(0.9));
    assert_eq!(code, "outline-crosses-itself");
    assert!(words.contains("run back along each other"), "{words}");
    drafted(&tip(9.0).allowing(10.0));
    // The bow leaves the corner below the straight, by half a degree, and crosses it within a few millimetres.
    let crossed = panel(vec![
        ("low", Path::line(pt(0.0, -300.0), pt(300.0, 0.0))),
        ("bow", Path::new(pt(300.0, 0.0)).cubic_to(pt(200.0, -100.9), pt(100.0, -150.0), pt(0.0, -100.0))),
        ("back", Path::line(pt(0.0, -100.0), pt(0.0, -300.0))),
    ]);
    assert_eq!(refusal(&crossed).0, "outline-crosses-itself");
}

#[test]
fn measures_without_sense_are_refused() {
    for size in [f64::NAN, f64::INFINITY, 1e9, -2e8, 1e300] {
        assert_eq!(refusal(&rectangle(size, 400.0)).0, "piece-too-large");
    }
    let codes: Vec<_> = refused(&rectangle(0.0, 400.0)).iter().map(|d| d.code).collect();
    assert_eq!(codes, ["zero-length-edge", "zero-length-edge"]);
    // A negative width is only drawn the other way.
    near!(drafted(&rectangle(-600.0, 400.0)).finished.area, 240_000.0, 1e-6);
    assert_eq!(refusal(&rectangle(600.0, 400.0).allowing(1e7)).0, "piece-too-large");
}
