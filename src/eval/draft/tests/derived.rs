//! Edges moved, outlines combined, strips: against hand figures and the golden values.

use super::*;
use crate::geometry::{Segment, Side};
use std::f64::consts::PI;

impl PanelInput {
    fn moved(mut self, by: f64, edges: &[&str]) -> Self {
        let line = |edge, n| MoveInput { edge, by: by.abs(), outward: by < 0.0, span: at(n) };
        let n = 200 + self.moves.len();
        if edges.is_empty() {
            self.moves.push(line(None, n));
        }
        self.moves.extend(edges.iter().map(|e| line(Some(((*e).to_owned(), at(n))), n)));
        self
    }

    fn laid(mut self, kind: ToolKind, name: &str, tool: &PanelInput, place: ToolPlace) -> Self {
        let edges = tool.edges.iter().map(|e| (e.name.clone(), e.path.clone())).collect();
        let span = at(220 + self.tools.len());
        self.tools.push(ToolInput { kind, name: name.to_owned(), edges, at: place, span });
        self
    }
}

fn point(x: f64, y: f64) -> ToolPlace {
    ToolPlace::Point(pt(x, y))
}

fn corner(first: &str, second: &str) -> ToolPlace {
    ToolPlace::Corner(first.to_owned(), second.to_owned(), at(230))
}

fn circle(radius: f64) -> PanelInput {
    panel(vec![("rim", Path::circle(pt(0.0, 0.0), radius))])
}

fn half_disc(radius: f64) -> PanelInput {
    let (a, b) = (pt(-radius, 0.0), pt(radius, 0.0));
    panel(vec![("foot", Path::line(a, b)), ("rim", Path::arc_by_rise(b, a, radius, Side::Right))])
}

#[test]
fn an_inset_is_smaller_by_its_distance_on_every_side() {
    let d = drafted(&rectangle(600.0, 400.0).moved(5.0, &[]));
    assert_eq!(names(&d), ["foot", "right", "head", "left"]);
    near!(d.finished.area, 590.0 * 390.0, 1e-6);
    let d = drafted(&rectangle(600.0, 400.0).moved(10.0, &["head"]).moved(20.0, &["foot"]).moved(5.0, &["right"]));
    near!(d.finished.area, 595.0 * 370.0, 1e-6);
    // An edge's own line goes over the one for all.
    let d = drafted(&rectangle(600.0, 400.0).moved(5.0, &[]).moved(-10.0, &["head"]));
    near!(d.finished.area, 590.0 * 405.0, 1e-6);
}

#[test]
fn an_outset_has_the_golden_measures() {
    // g1 and g3 (origin: computed).
    let d = drafted(&rectangle(600.0, 400.0).moved(-10.0, &[]));
    near!(d.finished.area, 260_400.0, 1e-6);
    let d = drafted(&trapezoid().moved(-10.0, &[]));
    near!(d.finished.area, 2_262_601.497, 1e-3);
    near!(edge(&d, "head").length, 1322.100, 1e-3);
    near!(edge(&d, "foot").length, 918.100, 1e-3);
}

#[test]
fn a_moved_circle_is_a_circle() {
    let d = drafted(&circle(75.0).moved(5.0, &[]));
    near!(edge(&d, "rim").length, 140.0 * PI, 1e-9);
    assert!(edge(&d, "rim").path.segments.iter().all(|s| matches!(s, Segment::Arc { .. })));
}

#[test]
fn tapers_and_corners_are_worked_on_what_is_moved() {
    // Half a disc of radius 150 holds no circle wider than its own radius: 75 in, its edges have passed each other.
    let (code, headline) = refusal(&half_disc(150.0).moved(90.0, &[]));
    assert_eq!(code, "moved-away", "{headline}");
    // Inset to 590 × 390, then rounded by 30: each arc is 15 pi, and each corner loses (1 - pi/4) 30².
    let d = drafted(&rectangle(600.0, 400.0).moved(5.0, &[]).corner(CornerTreatment::Round, "head", "left", 30.0));
    near!(edge(&d, "head_left").length, 15.0 * PI, 1e-6);
    near!(d.finished.area, 590.0 * 390.0 - (1.0 - PI / 4.0) * 900.0, 1e-6);
}

#[test]
fn an_outline_taken_over_keeps_its_parts_and_ends_when_moved() {
    let other = drafted(&rectangle(600.0, 1000.0).tapered("left", 90.0, Along::Length(400.0), "foot").corner(
        CornerTreatment::Round,
        "head",
        "left",
        50.0,
    ));
    let taken = |e: &DraftedEdge| TakenOver {
        parts: e.parts.iter().map(|p| (p.name.clone(), p.from.as_mm(), p.to.as_mm())).collect(),
        ends: (e.start_neighbour.clone(), e.end_neighbour.clone()),
    };
    let mut input = rectangle(1.0, 1.0);
    input.edges =
        other.edges.iter().map(|e| EdgeInput { name: e.name.clone(), path: e.path.clone(), taken: Some(taken(e)), span: e.span }).collect();
    let d = drafted(&input.moved(10.0, &[]));
    let left = edge(&d, "left");
    let parts: Vec<(&str, f64)> = left.parts.iter().map(|p| (p.name.as_str(), p.to.as_mm() - p.from.as_mm())).collect();
    assert_eq!(parts.iter().map(|(n, _)| *n).collect::<Vec<_>>(), ["straight", "tapered"]);
    // From the arc's end, 50 below the head, to the kink at 400; the kink of turn t moves up the inset line by 10 tan(t/2).
    let turn = (90.0_f64 / 400.0).atan();
    near!(parts[0].1, 550.0 - 10.0 * (turn / 2.0).tan(), 1e-6);
    near!(edge(&d, "head_left").length, 20.0 * PI, 1e-6);
    assert_eq!((left.start_neighbour.as_str(), left.end_neighbour.as_str()), ("head", "foot"));
}

#[test]
fn an_edge_moved_too_far_is_refused() {
    // A bevel of 10 by 10 between sides that turn by 45 degrees: it loses 2 tan 22.5 for each millimetre of 14.142.
    let bevelled =
        straight(&[("foot", 0.0, 0.0), ("right", 300.0, 0.0), ("bevel", 300.0, 190.0), ("head", 290.0, 200.0), ("left", 0.0, 200.0)]);
    let refused = refusal(&bevelled.clone().moved(20.0, &[]));
    assert_eq!(refused.0, "moved-away");
    assert!(refused.1.contains("`shell.bevel`"), "{}", refused.1);
    drafted(&bevelled.moved(17.0, &[]));
    assert_eq!(refusal(&circle(75.0).moved(80.0, &[])).0, "moved-past-bend");
    let soft = drafted(&rectangle(600.0, 400.0).corner(CornerTreatment::Round, "head", "left", 50.0));
    let soft = panel(soft.edges.iter().map(|e| (e.name.as_str(), e.path.clone())).collect());
    assert_eq!(refusal(&soft.clone().moved(-10.0, &["head"])).0, "moved-apart");
    drafted(&soft.moved(10.0, &["head"]));
    assert_eq!(refusal(&rectangle(600.0, 400.0).moved(5.0, &["hed"])).0, "edge-not-here");
    assert_eq!(refusal(&rectangle(600.0, 400.0).moved(f64::NAN, &[])).0, "unusable-size");
    // A dumb-bell whose bar is thinner than what is taken off both its sides.
    let bell = straight(&[
        ("a", 0.0, 0.0),
        ("b", 100.0, 0.0),
        ("c", 100.0, 45.0),
        ("d", 200.0, 45.0),
        ("e", 200.0, 0.0),
        ("f", 300.0, 0.0),
        ("g", 300.0, 100.0),
        ("h", 200.0, 100.0),
        ("i", 200.0, 55.0),
        ("j", 100.0, 55.0),
        ("k", 100.0, 100.0),
        ("l", 0.0, 100.0),
    ]);
    assert_eq!(refusal(&bell.moved(8.0, &[])).0, "outline-crosses-itself");
}

#[test]
fn what_is_kept_about_a_corner_is_a_quarter_of_a_disc() {
    let d = drafted(&rectangle(600.0, 400.0).laid(ToolKind::Keep, "reach", &circle(100.0), corner("left", "head")));
    assert_eq!(names(&d), ["head", "left", "reach"]);
    near!(d.finished.area, PI * 2500.0, 1e-6);
    near!(edge(&d, "reach").length, 50.0 * PI, 1e-6);
    near!(edge(&d, "head").length, 100.0, 1e-6);
    let head = edge(&d, "head");
    assert_eq!((head.start_neighbour.as_str(), head.end_neighbour.as_str()), ("reach", "left"));
    assert!(edge(&d, "reach").path.segments.iter().all(|s| matches!(s, Segment::Arc { .. })));
}

#[test]
fn a_corner_that_was_rounded_is_still_where_its_edges_would_meet() {
    let other = drafted(&rectangle(600.0, 400.0).corner(CornerTreatment::Round, "head", "left", 50.0));
    let taken = |e: &DraftedEdge| TakenOver { parts: Vec::new(), ends: (e.start_neighbour.clone(), e.end_neighbour.clone()) };
    let mut input = rectangle(1.0, 1.0);
    input.edges =
        other.edges.iter().map(|e| EdgeInput { name: e.name.clone(), path: e.path.clone(), taken: Some(taken(e)), span: e.span }).collect();
    let d = drafted(&input.laid(ToolKind::Keep, "reach", &circle(100.0), corner("head", "left")));
    assert_eq!(names(&d), ["head", "head_left", "left", "reach"]);
    near!(d.finished.area, PI * 2500.0 - (1.0 - PI / 4.0) * 2500.0, 1e-6);
    near!(edge(&d, "reach").length, 50.0 * PI, 1e-6);
}

#[test]
fn an_edge_left_in_two_bits_is_numbered() {
    // A slot of 40 by 100 out of the foot, flush with it.
    let d = drafted(&rectangle(600.0, 400.0).laid(ToolKind::Remove, "slot", &rectangle(40.0, 100.0), point(200.0, 0.0)));
    assert_eq!(names(&d), ["foot_1", "slot_left", "slot_head", "slot_right", "foot_2", "right", "head", "left"]);
    near!(d.finished.area, 236_000.0, 1e-6);
    near!(edge(&d, "foot_1").length, 200.0, 1e-6);
    near!(edge(&d, "foot_2").length, 360.0, 1e-6);
    // Ends still answer to the edges they met.
    assert_eq!(edge(&d, "foot_2").end_neighbour, "right");
    assert_eq!(edge(&d, "right").start_neighbour, "foot");
    // Numbered once, whatever is taken out of it, and whichever line stands first.
    let two = |first: f64, second: f64| {
        let slot = rectangle(40.0, 100.0);
        let input = rectangle(600.0, 400.0).laid(ToolKind::Remove, "a", &slot, point(first, -50.0));
        drafted(&input.laid(ToolKind::Remove, "b", &slot, point(second, -50.0)))
    };
    let bits = |d: &Drafted| d.edges.iter().filter(|e| e.name.starts_with("foot")).map(|e| (e.name.clone(), e.length)).collect::<Vec<_>>();
    assert_eq!(bits(&two(100.0, 300.0)), bits(&two(300.0, 100.0)));
    assert_eq!(bits(&two(100.0, 300.0)).iter().map(|(n, _)| n.as_str()).collect::<Vec<_>>(), ["foot_1", "foot_2", "foot_3"]);
}

#[test]
fn a_rim_cut_across_its_start_stays_one_edge() {
    // The tool lies over the left of the disc, far from where its rim begins on the right.
    let d = drafted(&circle(100.0).laid(ToolKind::Remove, "flat", &rectangle(200.0, 400.0), point(-260.0, -200.0)));
    assert_eq!(names(&d), ["rim", "flat_right"]);
    let half = (60.0_f64 / 100.0).acos();
    near!(edge(&d, "rim").length, 100.0 * (2.0 * PI - 2.0 * half), 1e-6);
    near!(edge(&d, "flat_right").length, 160.0, 1e-6);
}

#[test]
fn an_outline_added_joins_the_panel() {
    let d = drafted(&rectangle(600.0, 400.0).laid(ToolKind::Add, "tab", &rectangle(80.0, 50.0), point(200.0, 400.0)));
    near!(d.finished.area, 244_000.0, 1e-6);
    assert_eq!(names(&d), ["foot", "right", "head_1", "tab_right", "tab_head", "tab_left", "head_2", "left"]);
}

#[test]
fn added_then_kept_then_removed_whatever_the_order_of_lines() {
    let tab = rectangle(100.0, 100.0);
    // The tab reaches to 450; kept to 430, and a bite of 20 by 20 out of the kept top.
    let input = rectangle(600.0, 400.0)
        .laid(ToolKind::Remove, "bite", &rectangle(20.0, 20.0), point(240.0, 410.0))
        .laid(ToolKind::Keep, "within", &rectangle(600.0, 430.0), point(0.0, 0.0))
        .laid(ToolKind::Add, "tab", &tab, point(200.0, 350.0));
    near!(drafted(&input).finished.area, 240_000.0 + 100.0 * 30.0 - 400.0, 1e-6);
}

#[test]
fn what_makes_no_single_outline_is_refused() {
    let base = || rectangle(600.0, 400.0);
    let cases = [
        (ToolKind::Keep, circle(50.0), point(900.0, 0.0), "nothing is left"),
        (ToolKind::Remove, rectangle(900.0, 900.0), point(-100.0, -100.0), "nothing is left"),
        (ToolKind::Remove, rectangle(40.0, 900.0), point(200.0, -100.0), "2 pieces"),
        (ToolKind::Remove, circle(50.0), point(300.0, 200.0), "hole"),
        (ToolKind::Add, circle(50.0), point(900.0, 0.0), "2 pieces"),
    ];
    for (kind, tool, place, said) in cases {
        let (code, headline) = refusal(&base().laid(kind, "it", &tool, place));
        assert_eq!(code, "not-one-outline");
        assert!(headline.contains(said), "{headline}");
    }
    let mut problems = Problems::default();
    assert!(draft(&base().laid(ToolKind::Remove, "it", &circle(50.0), point(900.0, 0.0)), &mut problems).is_some());
    assert_eq!(problems.sorted().iter().map(|d| d.code).collect::<Vec<_>>(), ["changes-nothing"]);
    assert_eq!(refusal(&base().laid(ToolKind::Keep, "it", &circle(50.0), corner("head", "foot"))).0, "corner-not-there");
    assert_eq!(refusal(&base().laid(ToolKind::Keep, "head", &circle(200.0), corner("head", "left"))).0, "edge-named-twice");
    let bow = straight(&[("a", 0.0, 0.0), ("b", 100.0, 100.0), ("c", 100.0, 0.0), ("d", 0.0, 100.0)]);
    assert_eq!(refusal(&base().laid(ToolKind::Keep, "it", &bow, point(0.0, 0.0))).0, "outline-crosses-itself");
    let far = rectangle(10.0, 10.0);
    assert_eq!(refusal(&base().laid(ToolKind::Add, "it", &far, point(1e9, 0.0))).0, "piece-too-large");
}

fn strip_of(of: &PanelInput, edge: &str, wide: f64) -> Result<Drafted, (&'static str, String)> {
    let mut problems = Problems::default();
    match strip(of, &(edge.to_owned(), at(240)), wide, at(241), &mut problems) {
        Some(edges) => Ok(drafted(&PanelInput { edges, ..rectangle(1.0, 1.0) })),
        None => Err(problems.sorted().first().map(|d| (d.code, d.headline.read_in(Style::METRIC))).expect("a reason")),
    }
}

#[test]
fn a_strip_lies_within_the_panel_along_its_edge() {
    let d = strip_of(&rectangle(600.0, 400.0), "head", 40.0).unwrap();
    assert_eq!(names(&d), ["outer", "left", "inner", "right"]);
    near!(d.finished.area, 24_000.0, 1e-6);
    // The sides of the trapezoid slope by 200 in 2000: 50 in, it is 1290 wide.
    let d = strip_of(&trapezoid(), "head", 50.0).unwrap();
    near!(edge(&d, "inner").length, 1290.0, 1e-6);
    near!(d.finished.area, 50.0 * (1300.0 + 1290.0) / 2.0, 1e-6);
    near!(edge(&d, "left").length, 50.0 * (1.0_f64 + 0.01).sqrt(), 1e-6);
    // Round the bow of half a disc: both ends lie on the one straight edge.
    let d = strip_of(&half_disc(100.0), "rim", 20.0).unwrap();
    assert_eq!(names(&d), ["outer", "foot_1", "inner", "foot_2"]);
    near!(edge(&d, "outer").length, 100.0 * PI, 1e-6);
    near!(edge(&d, "inner").length, 80.0 * PI, 1e-6);
    near!(d.finished.area, PI * (100.0 * 100.0 - 80.0 * 80.0) / 2.0, 1e-6);
    // At a corner that turns inward it ends straight on from its neighbour: a step of 100 in a block of 300 by 200.
    let step = straight(&[
        ("foot", 0.0, 0.0),
        ("right", 300.0, 0.0),
        ("tread", 300.0, 200.0),
        ("riser", 200.0, 200.0),
        ("top", 200.0, 300.0),
        ("left", 0.0, 300.0),
    ]);
    let d = strip_of(&step, "tread", 40.0).unwrap();
    near!(d.finished.area, 4000.0, 1e-6);
}

#[test]
fn a_strip_of_hung_edges_and_chains_of_strokes_follows_them() {
    // A hung edge, then a straight, in one edge: two points 40 in from the straight part; the strip is 40 wide all along.
    let head = Path::catenary(pt(1000.0, 400.0), pt(300.0, 400.0), 30.0, Side::Left).line_to(pt(0.0, 400.0));
    let length = head.length();
    let of = panel(vec![
        ("foot", Path::line(pt(0.0, 0.0), pt(1000.0, 0.0))),
        ("right", Path::line(pt(1000.0, 0.0), pt(1000.0, 400.0))),
        ("head", head),
        ("left", Path::line(pt(0.0, 400.0), pt(0.0, 0.0))),
    ]);
    let d = strip_of(&of, "head", 40.0).unwrap();
    near!(edge(&d, "outer").length, length, 1e-9);
    let inner = &edge(&d, "inner").path;
    for share in [0.1, 0.3, 0.5, 0.7, 0.9] {
        let off = edge(&d, "outer").path.nearest(inner.point_at(share * inner.length())).unwrap().distance;
        near!(off, 40.0, 2e-3);
    }
}

#[test]
fn a_strip_that_has_no_room_is_refused() {
    assert_eq!(strip_of(&circle(100.0), "rim", 20.0).unwrap_err().0, "strip-without-ends");
    assert_eq!(strip_of(&rectangle(600.0, 400.0), "head", 400.0).unwrap_err().0, "strip-too-wide");
    assert_eq!(strip_of(&rectangle(600.0, 400.0), "head", 0.0).unwrap_err().0, "unusable-size");
    assert_eq!(strip_of(&rectangle(600.0, 400.0), "brim", 10.0).unwrap_err().0, "edge-not-here");
    assert_eq!(strip_of(&half_disc(100.0), "rim", 120.0).unwrap_err().0, "strip-too-wide");
    // A bevel of 20 by 20 beside the head ends before the strip does.
    let bevelled =
        straight(&[("foot", 0.0, 0.0), ("right", 300.0, 0.0), ("bevel", 300.0, 180.0), ("head", 280.0, 200.0), ("left", 0.0, 200.0)]);
    let (code, _) = strip_of(&bevelled, "head", 30.0).unwrap_err();
    assert_eq!(code, "strip-too-wide");
}
