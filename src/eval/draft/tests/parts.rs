//! Panels split, and panels cut on the fold, against hand calculation.

use super::*;
use crate::geometry::Segment;
use crate::ir::{EdgeId, NotchShape};
use std::f64::consts::PI;

impl PanelInput {
    fn split(mut self, name: &str, of: Option<&str>, line: [(f64, f64); 2], pieces: [&str; 2]) -> Self {
        let n = 110 + self.splits.len();
        let [from, to] = line.map(|(x, y)| pt(x, y));
        let of = of.map(|o| (o.to_owned(), at(n)));
        let pieces = pieces.map(|p| (p.to_owned(), at(n)));
        self.splits.push(SplitInput { name: (name.to_owned(), at(n)), of, from, to, pieces, span: at(n) });
        self
    }

    fn on_fold(mut self, edge: &str) -> Self {
        self.fold = Some((edge.to_owned(), at(120)));
        self
    }
}

fn laid_out(input: &PanelInput) -> Layout {
    let mut problems = Problems::default();
    let layout = draft_all(input, &mut problems);
    assert!(problems.is_empty(), "{:?}", problems.sorted());
    layout.expect("it drafts")
}

fn piece<'l>(layout: &'l Layout, name: &str) -> &'l Drafted {
    layout.pieces.iter().find(|p| p.name.as_ref().is_some_and(|(n, _)| n == name)).expect("a piece of that name")
}

fn middle() -> PanelInput {
    rectangle(2600.0, 2000.0).split("middle", None, [(1300.0, -50.0), (1300.0, 2050.0)], ["windward", "leeward"])
}

#[test]
fn the_first_piece_lies_to_the_left_of_the_line() {
    let layout = laid_out(&middle().allowing(10.0).allowing_on("middle", 16.0));
    let (windward, leeward) = (piece(&layout, "windward"), piece(&layout, "leeward"));
    assert_eq!(names(windward), ["head", "left", "foot", "middle"]);
    assert_eq!(names(leeward), ["foot", "right", "head", "middle"]);
    assert!(edge(windward, "left").path.start.x.abs() < 1e-9);
    // 1300 + 10 + 16 by 2000 + 20.
    near!(windward.cut.width, 1326.0, 1e-9);
    near!(windward.cut.area, 1326.0 * 2020.0, 1e-3);
    near!(windward.finished.area + leeward.finished.area, layout.finished.area, 1e-6);
    near!(edge(windward, "head").length + edge(leeward, "head").length, 2600.0, 1e-9);
    near!(edge(windward, "middle").length, 2000.0, 1e-9);
    assert_eq!(edge(windward, "middle").end_neighbour, "head");
    assert_eq!(edge(windward, "middle").start_neighbour, "foot");
    assert_eq!(edge(leeward, "foot").start_neighbour, "middle");
    let drawn = layout.drawn.iter().map(|e| (e.name.as_str(), e.length)).collect::<Vec<_>>();
    assert_eq!(drawn, [("foot", 2600.0), ("right", 2000.0), ("head", 2600.0), ("left", 2000.0), ("middle", 2000.0)]);
}

#[test]
fn a_slanting_split_of_a_trapezoid() {
    // From (200, 0) to (1300, 2000): the half above it is the triangle (200, 0), (1300, 2000), (0, 2000).
    let layout = laid_out(&trapezoid().allowing(10.0).split("slant", None, [(200.0, 0.0), (1300.0, 2000.0)], ["upper", "lower"]));
    let (upper, lower) = (piece(&layout, "upper"), piece(&layout, "lower"));
    assert_eq!(names(upper), ["head", "left", "slant"]);
    assert_eq!(names(lower), ["foot", "right", "slant"]);
    near!(upper.finished.area, 1300.0 * 2000.0 / 2.0, 1e-6);
    near!(lower.finished.area, 900.0 * 2000.0 / 2.0, 1e-6);
    near!(edge(upper, "slant").length, 1100.0_f64.hypot(2000.0), 1e-9);
}

#[test]
fn a_disc_split_off_its_middle_has_two_stretches_of_its_rim() {
    // Chord at half the radius: the segment is r²(2π/3 - √3/2)/2 and its arc a third of the rim.
    let r = 300.0;
    let rim = Path::new(pt(r, 0.0)).arc_to(pt(-r, 0.0), 1.0).arc_to(pt(r, 0.0), 1.0);
    let layout = laid_out(&panel(vec![("rim", rim)]).allowing(10.0).split("cut", None, [(150.0, -400.0), (150.0, 400.0)], ["big", "cap"]));
    let (big, cap) = (piece(&layout, "big"), piece(&layout, "cap"));
    near!(cap.finished.area, r * r * (2.0 * PI / 3.0 - 3.0_f64.sqrt() / 2.0) / 2.0, 1e-6);
    near!(edge(cap, "rim").length, 2.0 * PI * r / 3.0, 1e-6);
    near!(edge(big, "rim").length, 4.0 * PI * r / 3.0, 1e-6);
    near!(edge(cap, "cut").length, r * 3.0_f64.sqrt(), 1e-6);
    near!(big.finished.area + cap.finished.area, PI * r * r, 1e-6);
}

#[test]
fn what_lies_on_a_panel_falls_to_its_piece() {
    let hole = Path::polygon(&[pt(2000.0, 500.0), pt(2100.0, 500.0), pt(2050.0, 600.0)]).expect("three points");
    let input = middle()
        .allowing(16.0)
        .hemmed("head", 20.0, &[10.0])
        .notched("head", Along::Length(300.0), Some("left"))
        .notched("middle", Along::Length(500.0), Some("foot"))
        .taking(TakeKind::Dart { deep: 80.0 }, "foot", 600.0, "right", 30.0)
        .holed("vent", hole);
    let layout = laid_out(&input);
    let (windward, leeward) = (piece(&layout, "windward"), piece(&layout, "leeward"));
    let on = |d: &Drafted| d.notches.iter().map(|n| (d.edges[n.edge.index()].name.clone(), n.at.as_mm().round())).collect::<Vec<_>>();
    // Head of windward runs from the split, at 1300, to the left: 300 from the left is 1000 along it.
    assert_eq!(on(windward), [("head".to_owned(), 1000.0), ("middle".to_owned(), 500.0)]);
    // The dart stands 600 from the right, 700 along the half of foot; middle runs from head to foot here.
    assert_eq!(on(leeward), [("foot".to_owned(), 685.0), ("foot".to_owned(), 715.0), ("middle".to_owned(), 1500.0)]);
    near!(edge(leeward, "foot").sewn_length, 1270.0, 1e-9);
    near!(edge(windward, "foot").sewn_length, 1300.0, 1e-9);
    assert_eq!((windward.holes.len(), leeward.holes.len()), (0, 1));
    assert!(windward.folds.iter().any(|(of, _)| of == "head") && leeward.folds.iter().any(|(of, _)| of == "head"));
}

#[test]
fn three_strips_and_a_cross_cut_in_any_order_of_the_lines() {
    let input = rectangle(3000.0, 1000.0)
        .allowing(10.0)
        .split("across", Some("right_strip"), [(1900.0, 500.0), (3100.0, 500.0)], ["upper", "lower"])
        .split("second", Some("rest"), [(2000.0, 0.0), (2000.0, 1000.0)], ["centre", "right_strip"])
        .split("first", None, [(1000.0, 0.0), (1000.0, 1000.0)], ["left_strip", "rest"]);
    let layout = laid_out(&input);
    let found: Vec<_> = layout.pieces.iter().map(|p| (p.name.clone().expect("a name").0, p.finished.area.round())).collect();
    let wanted = [("left_strip", 1e6), ("centre", 1e6), ("upper", 5e5), ("lower", 5e5)];
    assert_eq!(found, wanted.map(|(n, a)| (n.to_owned(), a)));
    // The second split is cut by the third, and lies on three pieces.
    near!(edge(piece(&layout, "upper"), "second").length, 500.0, 1e-9);
    near!(edge(piece(&layout, "lower"), "second").length, 500.0, 1e-9);
    near!(edge(piece(&layout, "centre"), "second").length, 1000.0, 1e-9);
}

#[test]
fn an_end_of_a_split_may_be_off_by_rounding_and_run_through_a_corner() {
    // From 0.3 inside the foot, through the corner of right and head but for 1e-7.
    let line = [(500.0, 0.3), (2600.0 - 1e-7, 2000.0)];
    let layout = laid_out(&rectangle(2600.0, 2000.0).allowing(10.0).split("slant", None, line, ["upper", "lower"]));
    assert_eq!(names(piece(&layout, "lower")), ["foot", "right", "slant"]);
    assert_eq!(names(piece(&layout, "upper")), ["head", "left", "foot", "slant"]);
}

#[test]
fn corners_of_a_split_panel_are_joined_on_the_piece_they_fall_to() {
    let input = middle().allowing(20.0).joined("head", "left", CornerJoin::Bevelled).joined("middle", "head", CornerJoin::Bevelled);
    let layout = laid_out(&input);
    // Each bevelled corner leaves out a triangle of 20 by 20 of the 20 by 20 square.
    near!(piece(&layout, "windward").cut.area, 1340.0 * 2040.0 - 2.0 * 200.0, 1e-6);
    near!(piece(&layout, "leeward").cut.area, 1340.0 * 2040.0 - 200.0, 1e-6);
    assert_eq!(refusal(&middle().allowing(20.0).joined("right", "left", CornerJoin::Bevelled)).0, "corner-not-there");
}

#[test]
fn a_half_rectangle_on_the_fold() {
    let drafted = drafted(&rectangle(300.0, 400.0).allowing(10.0).on_fold("left").notched("right", Along::Length(100.0), Some("foot")));
    assert_eq!(names(&drafted), ["foot", "right", "head", "right_opposite"]);
    near!(edge(&drafted, "foot").length, 600.0, 1e-9);
    near!(edge(&drafted, "right_opposite").length, 400.0, 1e-9);
    near!(drafted.finished.area, 600.0 * 400.0, 1e-6);
    near!(drafted.cut.area, 620.0 * 420.0, 1e-6);
    assert_eq!(edge(&drafted, "head").end_neighbour, "right_opposite");
    assert_eq!(edge(&drafted, "right_opposite").of, "right");
    let fold = drafted.fold_line.as_ref().expect("a fold");
    // The left edge runs down, so does the fold; its left is where the half lies.
    assert_eq!((fold.start, fold.end()), (pt(0.0, 410.0), pt(0.0, -10.0)));
    let notches: Vec<_> = drafted.notches.iter().map(|n| (n.point.x, n.point.y)).collect();
    assert_eq!(notches, [(310.0, 100.0), (-310.0, 100.0)]);
}

#[test]
fn an_edge_that_leans_on_the_fold_makes_a_corner_there() {
    // A gable: head falls from (0, 500) to (300, 400).
    let half = straight(&[("foot", 0.0, 0.0), ("right", 300.0, 0.0), ("head", 300.0, 400.0), ("left", 0.0, 500.0)]);
    let drafted = drafted(&half.allowing(10.0).on_fold("left"));
    assert_eq!(names(&drafted), ["foot", "right", "head", "head_opposite", "right_opposite"]);
    assert_eq!(edge(&drafted, "head").end_neighbour, "head_opposite");
    assert_eq!(edge(&drafted, "head_opposite").start_neighbour, "head");
    near!(edge(&drafted, "head").length, 300.0_f64.hypot(100.0), 1e-9);
    near!(drafted.finished.area, 600.0 * 450.0, 1e-6);
}

#[test]
fn half_a_disc_on_the_fold_is_a_disc() {
    let arc = Path::new(pt(0.0, -200.0)).arc_to(pt(0.0, 200.0), 1.0);
    let half = panel(vec![("rim", arc), ("fold", Path::line(pt(0.0, 200.0), pt(0.0, -200.0)))]);
    let drafted = drafted(&half.allowing(10.0).on_fold("fold"));
    assert_eq!(names(&drafted), ["rim"]);
    near!(edge(&drafted, "rim").length, 400.0 * PI, 1e-6);
    near!(drafted.finished.area, PI * 200.0 * 200.0, 1e-6);
    near!(drafted.cut.area, PI * 210.0 * 210.0, 1e-3);
}

#[test]
fn both_halves_of_a_cut_line_are_alike_whatever_their_corners() {
    // A square corner is not the same seen from the other edge: the other half is the image of the one that is drawn.
    let half = straight(&[("foot", 0.0, 0.0), ("right", 300.0, 0.0), ("head", 260.0, 400.0), ("left", 0.0, 400.0)]);
    let input = half.allowing(10.0).allowing_on("right", 25.0).joined("right", "head", CornerJoin::Square).on_fold("left");
    let drafted = drafted(&input);
    let image = drafted.cut_line.mirrored(pt(0.0, 0.0), crate::geometry::Vector::new(0.0, 1.0)).reversed();
    let flat = drafted.cut_line.flatten(0.01);
    for p in image.flatten(0.01) {
        assert!(crate::geometry::distance_to(&flat, p) < 1e-6, "{p:?}");
    }
}

#[test]
fn tapers_and_corners_of_a_half_are_on_both_halves() {
    let input = rectangle(300.0, 400.0).allowing(10.0).tapered("right", 60.0, Along::Length(200.0), "head");
    let drafted = drafted(&input.corner(CornerTreatment::Bevel, "foot", "right", 50.0).on_fold("left"));
    assert_eq!(names(&drafted), ["foot", "foot_right", "right", "head", "right_opposite", "foot_right_opposite"]);
    near!(edge(&drafted, "head").length, 480.0, 1e-9);
    near!(edge(&drafted, "foot").length, 500.0, 1e-9);
    let parts = |name| edge(&drafted, name).parts.iter().map(|p| p.name.clone()).collect::<Vec<_>>();
    assert_eq!(parts("right"), ["straight", "tapered"]);
    assert_eq!(parts("right_opposite"), ["tapered", "straight"]);
    // Half: 300 × 400 less the taper's triangle, 60 × 200 / 2, and the bevel's, 50 × 50 / 2.
    near!(drafted.finished.area, 2.0 * (120_000.0 - 6000.0 - 1250.0), 1e-6);
}

#[test]
fn a_check_notch_is_the_same_on_both_layers() {
    let sides = |d: &Drafted, edge: &str| -> Vec<Vec<(f64, f64)>> {
        let on = d.edges.iter().position(|e| e.name == edge).expect("an edge");
        let lines = d.notches.iter().filter(|n| n.edge == EdgeId::at(on)).flat_map(|n| n.lines.iter());
        let points =
            |l: &Path| std::iter::once(l.start).chain(l.segments.iter().map(Segment::end)).map(|p| (p.x.round(), p.y.round())).collect();
        lines.map(points).collect()
    };
    // Straight in on the side towards the foot, both where it is drawn and on the other layer.
    let half = rectangle(300.0, 400.0).allowing(10.0).notched("right", Along::Length(100.0), None).formed(NotchShape::Check, 1, Some(4.0));
    let whole = drafted(&half.on_fold("left"));
    assert_eq!(sides(&whole, "right"), [[(310.0, 98.0), (306.0, 98.0), (310.0, 102.0)]]);
    assert_eq!(sides(&whole, "right_opposite"), [[(-310.0, 102.0), (-306.0, 98.0), (-310.0, 98.0)]]);
    // On both sides of a split they lie on each other once the pieces are laid face to face.
    let split = middle().allowing(10.0).notched("middle", Along::Length(500.0), None).formed(NotchShape::Check, 1, Some(4.0));
    let layout = laid_out(&split);
    assert_eq!(sides(piece(&layout, "windward"), "middle"), [[(1310.0, 498.0), (1306.0, 498.0), (1310.0, 502.0)]]);
    assert_eq!(sides(piece(&layout, "leeward"), "middle"), [[(1290.0, 502.0), (1294.0, 498.0), (1290.0, 498.0)]]);
}

#[test]
fn a_half_split_across_its_fold_is_pieces_each_on_the_fold() {
    // Half of 600 by 400, split at 150: at right angles to the fold, so that the line runs through as one edge.
    let hole = Path::circle(pt(100.0, 300.0), 20.0);
    let input =
        rectangle(300.0, 400.0).allowing(10.0).on_fold("left").split("yoke", None, [(0.0, 150.0), (300.0, 150.0)], ["upper", "lower"]);
    let input =
        input.holed("vent", hole).notched("right", Along::Length(50.0), Some("foot")).notched("yoke", Along::Length(100.0), Some("left"));
    let layout = laid_out(&input);
    let (upper, lower) = (piece(&layout, "upper"), piece(&layout, "lower"));
    assert_eq!(names(upper), ["right", "head", "right_opposite", "yoke"]);
    assert_eq!(names(lower), ["foot", "right", "yoke", "right_opposite"]);
    near!(edge(lower, "yoke").length, 600.0, 1e-9);
    near!(lower.finished.area, 600.0 * 150.0, 1e-6);
    // The hole and its image are on the upper piece.
    near!(upper.finished.area, 600.0 * 250.0 - 2.0 * PI * 400.0, 1e-3);
    assert_eq!((upper.holes.len(), lower.holes.len()), (2, 0));
    near!(upper.cut.area, 620.0 * 270.0 - 2.0 * PI * 400.0, 1e-3);
    let places = |p: &Drafted| {
        let mut all: Vec<(f64, f64)> = p.notches.iter().map(|n| (n.point.x.round(), n.point.y.round())).collect();
        all.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
        all
    };
    assert_eq!(places(lower), [(-310.0, 50.0), (-100.0, 160.0), (100.0, 160.0), (310.0, 50.0)]);
    assert_eq!(places(upper), [(-100.0, 140.0), (100.0, 140.0)]);
    for (p, from, to) in [(upper, 140.0, 410.0), (lower, -10.0, 160.0)] {
        let fold = p.fold_line.as_ref().expect("on the fold");
        near!(fold.bounds().min.y, from, 1e-6);
        near!(fold.bounds().max.y, to, 1e-6);
    }
    // The whole is measured laid open.
    near!(layout.finished.width, 600.0, 1e-9);
    near!(layout.finished.area, 600.0 * 400.0 - 2.0 * PI * 400.0, 1e-3);
    let whole: Vec<(&str, f64)> = layout.whole.iter().map(|e| (e.name.as_str(), e.length.round())).collect();
    assert_eq!(whole, [("foot", 600.0), ("right", 400.0), ("head", 600.0), ("right_opposite", 400.0), ("yoke", 600.0)]);
}

#[test]
fn a_slanted_split_of_a_half_meets_its_image_on_the_fold() {
    let input =
        rectangle(300.0, 400.0).allowing(10.0).on_fold("left").split("yoke", None, [(0.0, 100.0), (300.0, 200.0)], ["upper", "lower"]);
    let layout = laid_out(&input);
    assert_eq!(names(piece(&layout, "lower")), ["foot", "right", "yoke", "yoke_opposite", "right_opposite"]);
    near!(piece(&layout, "lower").finished.area, 600.0 * 150.0, 1e-6);
    near!(piece(&layout, "upper").finished.area, 600.0 * 250.0, 1e-6);
    near!(edge(piece(&layout, "upper"), "yoke_opposite").length, 300.0_f64.hypot(100.0), 1e-9);
}

#[test]
fn what_cannot_be_notched_on_the_fold_is_said_once() {
    let mut problems = Problems::default();
    let dart = TakeKind::Dart { deep: 60.0 };
    let half = rectangle(300.0, 400.0).allowing(3.0).on_fold("left").taking(dart, "right", 200.0, "foot", 20.0);
    draft(&half, &mut problems).expect("it drafts");
    assert_eq!(problems.sorted().iter().map(|d| d.code).collect::<Vec<_>>(), ["notch-too-deep"]);
}
