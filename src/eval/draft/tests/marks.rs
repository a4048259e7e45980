//! Notches, darts, pleats, holes.

use super::*;
use crate::geometry::{Vector, encloses};
use crate::ir::NotchReason;

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
    let distances: Vec<f64> = d.notches.iter().zip([180.0, 220.0]).map(|(n, x)| n.point.distance(pt(x, -10.0))).collect();
    assert!(matches!(distances[..], [a, b] if a < 1e-9 && b < 1e-9), "{distances:?}");
    let (of, line) = d.folds.first().expect("its legs");
    assert_eq!(of, "dart foot");
    let points = line.flatten(1.0);
    let strays: Vec<f64> = points.iter().zip([pt(180.0, 0.0), pt(200.0, 90.0), pt(220.0, 0.0)]).map(|(p, q)| p.distance(q)).collect();
    assert!(points.len() == 3 && strays.iter().all(|d| *d < 1e-9), "{points:?}");
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
    assert!(one.help.as_deref().is_some_and(|h| h.contains("40 cm")), "{one:?}");
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
