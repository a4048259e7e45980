//! Notches, darts, pleats, holes.

use super::*;
use crate::geometry::Segment;
use crate::geometry::{Vector, encloses};
use crate::ir::{Notch, NotchReason, NotchShape};

#[test]
fn notches_stand_on_the_cut_line_and_point_in() {
    let input = rectangle(600.0, 400.0).allowing(10.0).allowing_on("head", 6.0);
    let input = input.notched("left", Along::Length(80.0), Some("head")).notched("head", Along::Fraction(0.5), None);
    let d = drafted(&input.notched("right", Along::Length(50.0), Some("head")));
    let found: Vec<_> = d.notches.iter().map(|n| (n.edge.index(), n.point, n.inward, n.depth.as_mm(), n.at.as_mm())).collect();
    assert_eq!(found.len(), 3);
    // In outline order; 5 deep, or the allowance less 2.
    let expected = [
        (1, pt(610.0, 350.0), Vector::new(-1.0, 0.0), 5.0, 350.0),
        (2, pt(300.0, 406.0), Vector::new(0.0, -1.0), 4.0, 300.0),
        (3, pt(-10.0, 320.0), Vector::new(1.0, 0.0), 5.0, 80.0),
    ];
    for (found, expected) in found.iter().zip(expected) {
        assert_eq!(found.0, expected.0);
        near!(found.1.distance(expected.1), 0.0, 1e-9);
        near!((found.2 - expected.2).length(), 0.0, 1e-9);
        near!(found.3, expected.3, 1e-9);
        near!(found.4, expected.4, 1e-9);
    }
}

#[test]
fn narrow_allowances_are_not_notched() {
    let mut problems = Problems::default();
    let input = rectangle(600.0, 400.0).allowing(3.0).notched("left", Along::Length(80.0), Some("head"));
    let d = draft(&input, &mut problems).expect("it drafts");
    assert!(d.notches.is_empty());
    let said = problems.sorted();
    assert_eq!(said.iter().map(|d| d.code).collect::<Vec<_>>(), ["notch-too-deep"]);
    assert!(!problems.has_errors());
    let d = drafted(&rectangle(600.0, 400.0).allowing(4.0).notched("left", Along::Length(80.0), Some("head")));
    near!(d.notches.first().expect("one").depth.as_mm(), 2.0, 1e-9);
}

#[test]
fn notches_past_an_end_are_refused() {
    let base = || rectangle(600.0, 400.0).allowing(10.0);
    let (code, words) = refusal(&base().notched("left", Along::Length(480.0), Some("head")));
    assert_eq!(code, "notch-past-end");
    assert!(words.contains("48 cm") && words.contains("40 cm"), "{words}");
    assert_eq!(refusal(&base().notched("left", Along::Length(-1.0), Some("foot"))).0, "notch-past-end");
    assert_eq!(refusal(&base().notched("left", Along::Length(f64::NAN), Some("foot"))).0, "notch-past-end");
    assert_eq!(refusal(&base().notched("lid", Along::Length(1.0), None)).0, "edge-not-here");
}

#[test]
fn an_end_answers_to_both_names_after_its_corner_is_rounded() {
    let rounded = || rectangle(600.0, 400.0).allowing(10.0).corner(CornerTreatment::Round, "head", "left", 50.0);
    let old = drafted(&rounded().notched("left", Along::Length(80.0), Some("head")));
    let new = drafted(&rounded().notched("left", Along::Length(80.0), Some("head_left")));
    assert_eq!(old.notches.iter().map(|n| n.point).collect::<Vec<_>>(), new.notches.iter().map(|n| n.point).collect::<Vec<_>>());
    // 400 − 50 from the foot, less 80.
    near!(old.notches.first().expect("one").point.y, 270.0, 1e-9);
}

#[test]
fn a_dart_takes_its_width_and_is_notched_at_its_legs() {
    let dart = TakeKind::Dart { deep: 90.0 };
    let d = drafted(&rectangle(600.0, 400.0).allowing(10.0).taking(dart, "foot", 200.0, "left", 40.0));
    let foot = edge(&d, "foot");
    near!(foot.length, 600.0, 0.0);
    near!(foot.sewn_length, 560.0, 1e-9);
    assert!(d.notches.iter().all(|n| n.reason == NotchReason::Fold));
    // Where its legs, run on, meet the cut line: 20 / 90 of the allowance farther out.
    let ends = [180.0 - 20.0 / 9.0, 220.0 + 20.0 / 9.0];
    let distances: Vec<f64> = d.notches.iter().zip(ends).map(|(n, x)| n.point.distance(pt(x, -10.0))).collect();
    assert!(matches!(distances[..], [a, b] if a < 1e-9 && b < 1e-9), "{distances:?}");
    let (of, line) = d.folds.first().expect("its legs");
    assert_eq!(of, "dart foot");
    let points = line.flatten(1.0);
    let strays: Vec<f64> = points.iter().zip([pt(180.0, 0.0), pt(200.0, 90.0), pt(220.0, 0.0)]).map(|(p, q)| p.distance(q)).collect();
    assert!(points.len() == 3 && strays.iter().all(|d| *d < 1e-9), "{points:?}");
}

/// A panel whose dart has no cap, which is said and no more.
fn without_cap(input: &PanelInput) -> Drafted {
    let mut problems = Problems::default();
    let found = draft(input, &mut problems).expect("it drafts");
    assert_eq!(problems.sorted().iter().map(|d| d.code).collect::<Vec<_>>(), ["dart-without-cap"]);
    found
}

#[test]
fn the_allowance_over_a_dart_ends_level_with_what_it_is_pressed_onto() {
    // Legs 90 deep and 20 to either side, allowance 10: the tip of the cap stands 2 · 20² (90 + 10) / (90² − 20²) past the cut
    // line, by mirroring the cut line at one leg up to the middle.
    let dart = TakeKind::Dart { deep: 90.0 };
    let made = |take| drafted(&rectangle(600.0, 400.0).allowing(10.0).taking(dart, "foot", 200.0, "left", take));
    let d = made(40.0);
    let past = 2.0 * 400.0 * 100.0 / 7700.0;
    for (x, y) in [(180.0 - 20.0 / 9.0, -10.0), (200.0, -10.0 - past), (220.0 + 20.0 / 9.0, -10.0)] {
        assert!(d.cut_line.segments.iter().any(|s| s.end().distance(pt(x, y)) < 1e-6), "{x} {y}: {:?}", d.cut_line);
    }
    near!(d.cut.area, 260_400.0 + past * (20.0 + 20.0 / 9.0), 1e-6);
    // As wide as deep it would be pressed past the edge: no cap.
    let wide = rectangle(600.0, 400.0).allowing(10.0).taking(dart, "foot", 200.0, "left", 180.0);
    near!(without_cap(&wide).cut.area, 260_400.0, 1e-6);
    // The corner on its left is nearer than the dart is wide.
    let near_corner = rectangle(600.0, 400.0).allowing(10.0).taking(dart, "foot", 25.0, "left", 40.0);
    // Pressed to the other side it is the same cap, and that side has room.
    near!(drafted(&near_corner).cut.area, 260_400.0 + past * (20.0 + 20.0 / 9.0), 1e-6);
    // Where both corners are near there is none, and it is said.
    let narrow = rectangle(42.0, 400.0).allowing(10.0).taking(dart, "foot", 21.0, "left", 40.0);
    near!(without_cap(&narrow).cut.area, 62.0 * 420.0, 1e-6);
    // Without an allowance there is none to want; there is nothing to notch either.
    let mut problems = Problems::default();
    draft(&rectangle(42.0, 400.0).taking(dart, "foot", 21.0, "left", 40.0), &mut problems).expect("it drafts");
    assert_eq!(problems.sorted().iter().map(|d| d.code).collect::<Vec<_>>(), ["notch-too-deep"]);
}

#[test]
fn pleats_fold_from_the_cut_line_into_the_piece() {
    let d = drafted(&rectangle(600.0, 400.0).allowing(10.0).taking(TakeKind::Pleat, "head", 100.0, "left", 30.0));
    near!(edge(&d, "head").sewn_length, 570.0, 1e-9);
    let lines: Vec<_> = d.folds.iter().map(|(of, p)| (of.as_str(), p.start, p.end())).collect();
    assert_eq!(lines, [("pleat head", pt(115.0, 410.0), pt(115.0, 370.0)), ("pleat head", pt(85.0, 410.0), pt(85.0, 370.0))]);
}

#[test]
fn darts_that_cannot_be_say_why() {
    let base = || rectangle(600.0, 400.0).allowing(10.0);
    let dart = |deep| TakeKind::Dart { deep };
    assert_eq!(refusal(&base().taking(dart(90.0), "foot", 10.0, "left", 40.0)).0, "dart-past-end");
    assert_eq!(refusal(&base().taking(TakeKind::Pleat, "foot", 590.0, "left", 40.0)).0, "dart-past-end");
    let said = refused(&base().taking(dart(450.0), "foot", 100.0, "left", 40.0));
    let one = said.first().expect("one");
    assert_eq!(one.code, "dart-too-deep");
    assert!(one.help.as_ref().is_some_and(|h| h.read_in(Style::METRIC).contains("40 cm")), "{one:?}");
    let overlap = base().taking(dart(90.0), "foot", 100.0, "left", 40.0).taking(TakeKind::Pleat, "foot", 130.0, "left", 40.0);
    assert_eq!(refusal(&overlap).0, "darts-overlap");
    for (kind, take) in [(dart(-1.0), 40.0), (dart(f64::NAN), 40.0), (dart(50.0), 0.0), (TakeKind::Pleat, -3.0)] {
        assert_eq!(refusal(&base().taking(kind, "foot", 100.0, "left", take)).0, "unusable-size");
    }
    assert_eq!(refusal(&base().taking(dart(50.0), "foot", 100.0, "head", 40.0)).0, "unknown-edge-end");
}

#[test]
fn holes_run_clockwise_and_count_out_of_the_area() {
    let d = drafted(&rectangle(600.0, 400.0).allowing(10.0).holed("eye", Path::circle(pt(300.0, 200.0), 50.0)));
    let (name, path) = d.holes.first().expect("one");
    assert_eq!(name, "eye");
    let disc = std::f64::consts::PI * 2500.0;
    near!(path.signed_area(), -disc, 1e-6);
    near!(d.finished.area, 240_000.0 - disc, 1e-6);
    near!(d.cut.area, 260_400.0 - disc, 1e-6);
    assert!(encloses(&d.cut_line.flatten(0.1), path.start));
}

#[test]
fn holes_without_cloth_round_them_are_refused() {
    let base = || rectangle(600.0, 400.0).allowing(10.0);
    assert_eq!(refusal(&base().holed("eye", Path::circle(pt(900.0, 200.0), 50.0))).0, "hole-outside");
    assert_eq!(refusal(&base().holed("eye", Path::circle(pt(590.0, 200.0), 50.0))).0, "hole-crosses");
    assert_eq!(refusal(&base().holed("eye", Path::circle(pt(300.0, 200.0), 5000.0))).0, "hole-outside");
    let two = base().holed("eye", Path::circle(pt(300.0, 200.0), 50.0)).holed("ear", Path::circle(pt(360.0, 200.0), 50.0));
    let (code, words) = refusal(&two);
    assert_eq!(code, "hole-crosses");
    assert!(words.contains("the hole `eye`"), "{words}");
    let nested = base().holed("eye", Path::circle(pt(300.0, 200.0), 50.0)).holed("ear", Path::circle(pt(300.0, 200.0), 20.0));
    assert_eq!(refusal(&nested).0, "hole-crosses");
    assert_eq!(refusal(&base().holed("eye", Path::circle(pt(f64::NAN, 200.0), 50.0))).0, "hole-outside");
}

/// The notches of the foot of a rectangle 600 long with an allowance of 10, asked for at its middle.
fn at_middle(shape: NotchShape, rows: u32, deep: Option<f64>) -> Vec<Notch> {
    let input = rectangle(600.0, 400.0).allowing(10.0).notched("foot", Along::Fraction(0.5), None);
    drafted(&input.formed(shape, rows, deep)).notches
}

/// Every point of a notch's lines.
fn corners(notch: &Notch) -> Vec<(f64, f64)> {
    let points = notch.lines.iter().flat_map(|l| std::iter::once(l.start).chain(l.segments.iter().map(Segment::end)));
    points.map(|p| ((p.x * 1e6).round() / 1e6, (p.y * 1e6).round() / 1e6)).collect()
}

#[test]
fn forms_of_notch_are_cut_into_the_allowance() {
    // The cut line lies 10 below the foot; 4 deep is 6 short of it.
    let only = |shape| match at_middle(shape, 1, Some(4.0)).as_slice() {
        [one] => one.clone(),
        other => panic!("{other:?}"),
    };
    for (shape, wanted) in [
        (NotchShape::Slit, vec![(300.0, -10.0), (300.0, -6.0)]),
        (NotchShape::Tee, vec![(300.0, -10.0), (300.0, -6.0), (298.0, -6.0), (302.0, -6.0)]),
        (NotchShape::Vee, vec![(298.0, -10.0), (300.0, -6.0), (302.0, -10.0)]),
        (NotchShape::Castle, vec![(298.0, -10.0), (298.0, -6.0), (302.0, -6.0), (302.0, -10.0)]),
        (NotchShape::Check, vec![(298.0, -10.0), (298.0, -6.0), (302.0, -10.0)]),
        (NotchShape::U, vec![(298.0, -10.0), (298.0, -8.0), (302.0, -8.0), (302.0, -10.0)]),
    ] {
        let found = only(shape);
        assert_eq!(corners(&found), wanted, "{shape:?}");
        near!(found.depth.as_mm(), 4.0, 1e-9);
        near!(found.width.as_mm(), if shape == NotchShape::Slit { 0.0 } else { 4.0 }, 1e-9);
    }
    // A half circle of radius 2 below the straight sides, which are 2 long: to 4 deep.
    let u = only(NotchShape::U);
    near!(u.lines.first().expect("one").bounds().max.y, -6.0, 1e-9);
}

#[test]
fn notches_of_a_row_stand_about_its_place() {
    let places = |shape, rows| at_middle(shape, rows, None).iter().map(|n| n.at.as_mm()).collect::<Vec<_>>();
    assert_eq!(places(NotchShape::Slit, 2), [297.0, 303.0]);
    assert_eq!(places(NotchShape::Slit, 3), [294.0, 300.0, 306.0]);
    // Mouths of 5, with 3 of cloth between.
    assert_eq!(places(NotchShape::Vee, 2), [296.0, 304.0]);
    assert!(at_middle(NotchShape::Vee, 2, None).iter().all(|n| n.place == Length::mm(300.0) && n.rows == 2));
}

#[test]
fn a_notch_keeps_clear_of_the_stitching() {
    let on = |allowance: f64, deep| {
        let input = rectangle(600.0, 400.0).allowing(allowance).notched("foot", Along::Fraction(0.5), None);
        input.formed(NotchShape::Vee, 1, deep)
    };
    near!(drafted(&on(6.0, None)).notches.first().expect("one").depth.as_mm(), 4.0, 1e-9);
    near!(drafted(&on(10.0, Some(8.0))).notches.first().expect("one").depth.as_mm(), 8.0, 1e-9);
    let (code, words) = refusal(&on(10.0, Some(8.5)));
    assert!(code == "notch-reaches-stitching" && words.contains("a vee notch 8.5 mm deep"), "{words}");
    for bad in [0.0, -3.0, f64::NAN] {
        assert_eq!(refusal(&on(10.0, Some(bad))).0, "unusable-size");
    }
}

#[test]
fn a_mouth_round_a_corner_is_refused() {
    let near_end = |at: f64, shape, rows| {
        let input = rectangle(600.0, 400.0).allowing(10.0).joined("left", "foot", CornerJoin::Bevelled);
        input.notched("foot", Along::Length(at), Some("left")).formed(shape, rows, None)
    };
    assert_eq!(refusal(&near_end(1.0, NotchShape::Castle, 1)).0, "notch-past-end");
    assert_eq!(refusal(&near_end(2.0, NotchShape::Slit, 2)).0, "notch-past-end");
    assert_eq!(drafted(&near_end(3.0, NotchShape::Slit, 2)).notches.len(), 2);
    assert_eq!(drafted(&near_end(2.6, NotchShape::Castle, 1)).notches.len(), 1);
}

#[test]
fn a_notch_on_a_round_piece_follows_its_cut_line() {
    let round = panel(vec![("rim", Path::circle(pt(0.0, 0.0), 50.0))]).allowing(10.0);
    let d = drafted(&round.notched("rim", Along::Fraction(0.25), None).formed(NotchShape::Castle, 1, Some(6.0)));
    let notch = d.notches.first().expect("one");
    let line = notch.lines.first().expect("one");
    // Both ends of its mouth lie on the circle of 60, its bottom on a straight 54 out.
    near!(line.start.distance(pt(0.0, 0.0)), 60.0, 1e-6);
    near!(line.end().distance(pt(0.0, 0.0)), 60.0, 1e-6);
    near!(line.bounds().min.y, 54.0_f64.min(line.start.y), 1e-6);
}
