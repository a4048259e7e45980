//! Hems: folded corners, fold lines, warnings.

use super::*;
use crate::geometry::{Segment, meetings};

fn corners(d: &Drafted) -> Vec<Point> {
    d.cut_line.segments.iter().map(Segment::end).collect()
}

fn passes(d: &Drafted, x: f64, y: f64) -> bool {
    corners(d).iter().any(|p| p.distance(pt(x, y)) < 1e-6)
}

/// Where a cut line crosses a height, left and right.
fn width_at(d: &Drafted, y: f64) -> (f64, f64) {
    let met = meetings(&Path::line(pt(-500.0, y), pt(2000.0, y)), &d.cut_line);
    assert_eq!(met.len(), 2, "{met:?}");
    (met.first().expect("two").at.x, met.last().expect("two").at.x)
}

#[test]
fn a_hem_on_a_slanted_side_is_the_mirror_of_the_piece() {
    // Side slope 5.7106 degrees, hem 25 at the foot: run on straight instead of mirrored it would be 2 · 25 · tan α = 5.0
    // narrower on each side (section 6.2; origin: computed).
    let input = trapezoid().allowing(10.0).hemmed("foot", 25.0, &[0.0]);
    let folded = drafted(&input);
    let straight_on = drafted(&input.clone().joined("foot", "left", CornerJoin::Mitred).joined("foot", "right", CornerJoin::Mitred));
    let (left, right) = width_at(&folded, -24.999_999);
    let (left_on, right_on) = width_at(&straight_on, -24.999_999);
    near!(left_on - left, 5.0, 1e-4);
    near!(right - right_on, 5.0, 1e-4);
    // Folded about the foot, every height of the hem is as wide as the piece at that height.
    for depth in [1.0, 7.5, 24.0] {
        let (inside, outside) = (width_at(&folded, depth), width_at(&folded, -depth));
        near!(inside.0, outside.0, 1e-6);
        near!(inside.1, outside.1, 1e-6);
    }
}

#[test]
fn a_hem_folded_twice_is_mirrored_twice() {
    // Folds at 0 and 15, allowance 30: what lies between 15 and 30 is the image of what lies between 15 and 0.
    let d = drafted(&trapezoid().allowing(10.0).hemmed("foot", 30.0, &[0.0, 15.0]));
    for depth in [1.0, 6.0, 14.0] {
        let (inside, once, twice) = (width_at(&d, depth), width_at(&d, -depth), width_at(&d, -30.0 + depth));
        near!(inside.0, once.0, 1e-6);
        near!(once.0, twice.0, 1e-6);
        near!(once.1, twice.1, 1e-6);
    }
    // The finished edge is a fold whether the source counts it or not.
    let same = drafted(&trapezoid().allowing(10.0).hemmed("foot", 30.0, &[15.0]));
    assert_eq!(same.cut_line, d.cut_line);
}

#[test]
fn a_hem_with_a_turn_is_mirrored_at_both_folds() {
    // Width 20 and 10 turned under: folds at 0 and 20, raw edge at 30; the turn lies on the hem between 20 and 10.
    let d = drafted(&trapezoid().allowing(10.0).hemmed("head", 30.0, &[0.0, 20.0]));
    let (under, turned) = (width_at(&d, 2000.0 + 14.0), width_at(&d, 2000.0 + 26.0));
    near!(under.0, turned.0, 1e-6);
    near!(width_at(&d, 2000.0 - 14.0).0, under.0, 1e-6);
}

#[test]
fn on_a_right_angle_a_folded_corner_is_square() {
    let d = drafted(&rectangle(600.0, 400.0).allowing(10.0).hemmed("head", 30.0, &[0.0, 20.0]));
    assert_eq!(d.cut_line.segments.len(), 4);
    assert!(passes(&d, -10.0, 430.0) && passes(&d, 610.0, 430.0));
}

#[test]
fn two_hems_are_mitred_unless_told_otherwise() {
    let both = || trapezoid().allowing(10.0).hemmed("foot", 20.0, &[0.0, 10.0]).hemmed("left", 20.0, &[0.0, 10.0]);
    let d = drafted(&both());
    // One point for the mitre and one for right and head; three for each of the two folded corners.
    assert_eq!(d.cut_line.segments.len(), 1 + 1 + 3 + 3);
    let d = drafted(&both().joined("left", "foot", CornerJoin::Folded));
    // Left is the longer: it is folded last, and its allowance mirrors the line beside the foot.
    let foot_line = Path::line(pt(-500.0, -20.0), pt(2000.0, -20.0));
    assert!(!meetings(&foot_line, &d.cut_line).is_empty());
    let left = edge(&d, "left");
    let (corner, along) = (left.path.end(), left.path.tangent_at_end());
    // The image of a place on the foot's line, 5 inside the left edge, lies on the cut line, 5 outside.
    let inside =
        meetings(&Path::line(corner + along.left() * 5.0 - along * 500.0, corner + along.left() * 5.0 + along * 500.0), &foot_line);
    let place = inside.first().expect("it crosses").at;
    let image = place.mirrored(corner, along);
    near!(crate::geometry::distance_to(&d.cut_line.flatten(0.001), image), 0.0, 1e-3);
}

#[test]
fn a_gently_hung_hem_folds_and_a_tight_one_does_not() {
    let tarp = |sag: f64| {
        panel(vec![
            ("eave", Path::catenary(pt(0.0, 0.0), pt(3000.0, 0.0), sag, crate::geometry::Side::Left)),
            ("right", Path::line(pt(3000.0, 0.0), pt(2900.0, 1400.0))),
            ("ridge", Path::line(pt(2900.0, 1400.0), pt(100.0, 1400.0))),
            ("left", Path::line(pt(100.0, 1400.0), pt(0.0, 0.0))),
        ])
        .allowing(10.0)
    };
    // Radius about 9 m, hem 12: 0.13 % (section 6.2; origin: computed). It folds, and without a word.
    let d = drafted(&tarp(125.0).hemmed("eave", 24.0, &[0.0, 12.0]).joined("left", "eave", CornerJoin::Folded));
    let mitred = drafted(&tarp(125.0).hemmed("eave", 24.0, &[0.0, 12.0]).joined("left", "eave", CornerJoin::Mitred));
    assert!((d.cut.area - mitred.cut.area).abs() > 1.0);
    assert_eq!(d.folds.len(), 2);
}

#[test]
fn a_hem_on_a_tight_curve_is_warned_of() {
    // Circle r 75, hem 10: 13 %, not foldable (section 6.2; origin: computed).
    let mut problems = Problems::default();
    let input = panel(vec![("rim", Path::circle(pt(0.0, 0.0), 75.0))]).hemmed("rim", 10.0, &[0.0]);
    assert!(draft(&input, &mut problems).is_some());
    let said = problems.sorted();
    let one = said.first().expect("a warning");
    assert_eq!((said.len(), one.code), (1, "hem-on-curve"));
    assert!(one.headline.read_in(Style::METRIC).contains("13.3 %"), "{one:?}");
}

#[test]
fn a_hem_deeper_than_half_is_warned_of() {
    let mut problems = Problems::default();
    let input = rectangle(600.0, 50.0).hemmed("head", 30.0, &[0.0]);
    assert!(draft(&input, &mut problems).is_some());
    let codes: Vec<_> = problems.sorted().iter().map(|d| d.code).collect();
    assert_eq!(codes, ["hem-deeper-than-half"]);
    let mut problems = Problems::default();
    // Folded twice by 20 it reaches in by 20 only.
    assert!(draft(&rectangle(600.0, 50.0).hemmed("head", 40.0, &[0.0, 20.0]), &mut problems).is_some());
    assert!(problems.is_empty());
}

#[test]
fn fold_lines_run_from_side_to_side_of_the_cut_line() {
    let d = drafted(&trapezoid().allowing(10.0).hemmed("foot", 30.0, &[0.0, 15.0]));
    assert_eq!(d.folds.len(), 2);
    for (of, line) in &d.folds {
        assert_eq!(of, "foot");
        let y = line.start.y;
        assert!(y == 0.0 || (y + 15.0).abs() < 1e-9, "{y}");
        let (left, right) = width_at(&d, y - 1e-7);
        near!(line.start.x, left, 1e-5);
        near!(line.end().x, right, 1e-5);
    }
}

/// A corner rounded by 320 between hems of 12, folded at 0 and 6, either way round.
#[test]
fn fold_lines_of_hems_that_meet_smoothly_run_on_into_one_another() {
    let names = ["foot", "foot_right", "right", "head", "left"];
    let mut input = rectangle(800.0, 500.0).corner(CornerTreatment::Round, "foot", "right", 320.0);
    for name in names {
        input = input.hemmed(name, 12.0, &[0.0, 6.0]);
    }
    let d = drafted(&input);
    let of = |name: &str| d.folds.iter().filter(|(of, _)| of == name).map(|(_, line)| line).collect::<Vec<_>>();
    for (first, second, corner) in [("foot", "foot_right", pt(480.0, 0.0)), ("foot_right", "right", pt(800.0, 320.0))] {
        for (index, (a, b)) in of(first).into_iter().zip(of(second)).enumerate() {
            near!(a.end().distance(b.start), 0.0, 1e-9);
            // Square to the edge where the two meet.
            near!(a.end().distance(corner), 6.0 * index as f64, 1e-9);
        }
    }
    // Past a true corner they still run to the cut line.
    assert!(of("right").iter().all(|line| (line.end().y - 512.0).abs() < 1e-9), "{:?}", of("right"));
}

/// Edges that turn by two degrees: the fold line of a hem ends with its edge, beside a narrower hem and beside none.
#[test]
fn fold_lines_stop_where_there_is_hardly_a_corner() {
    let bent = [("foot", 0.0, 0.0), ("heel", 400.0, 0.0), ("right", 800.0, 14.0), ("head", 800.0, 500.0), ("left", 0.0, 500.0)];
    let hemmed = straight(&bent).hemmed("foot", 30.0, &[0.0, 15.0]);
    for input in [hemmed.clone(), hemmed.clone().hemmed("heel", 12.0, &[0.0, 6.0]), hemmed.hemmed("heel", 30.0, &[0.0, 15.0])] {
        let d = drafted(&input);
        for (_, line) in d.folds.iter().filter(|(of, _)| of == "foot") {
            near!(line.end().x, 400.0, 1e-9);
        }
    }
}

#[test]
fn hems_that_cannot_be_say_why() {
    assert_eq!(refusal(&rectangle(600.0, 400.0).hemmed("head", 20.0, &[0.0, 25.0])).0, "fold-past-allowance");
    assert_eq!(refusal(&rectangle(600.0, 400.0).hemmed("head", 20.0, &[-1.0])).0, "unusable-size");
    let none = rectangle(600.0, 400.0).allowing(10.0).joined("head", "left", CornerJoin::Folded);
    assert_eq!(refusal(&none).0, "folded-corner-without-hem");
    let tight = panel(vec![
        ("flat", Path::line(pt(-100.0, 0.0), pt(100.0, 0.0))),
        ("bow", Path::arc_by_rise(pt(100.0, 0.0), pt(-100.0, 0.0), 60.0, crate::geometry::Side::Right)),
    ]);
    let mut problems = Problems::default();
    let asked = panel(vec![
        ("flat", Path::line(pt(-100.0, 0.0), pt(100.0, 0.0))),
        ("bow", Path::arc_by_rise(pt(100.0, 0.0), pt(0.0, 90.0), 20.0, crate::geometry::Side::Right)),
        ("back", Path::line(pt(0.0, 90.0), pt(-100.0, 0.0))),
    ]);
    let asked = asked.allowing(10.0).hemmed("bow", 20.0, &[0.0, 10.0]).joined("flat", "bow", CornerJoin::Folded);
    assert!(draft(&asked, &mut problems).is_none());
    let codes: Vec<_> = problems.sorted().iter().map(|d| d.code).collect();
    assert!(codes.contains(&"folded-corner-without-hem"), "{codes:?}");
    // Unasked, a hem on such a curve meets its neighbour in a mitre; only its strain is remarked on.
    let mut problems = Problems::default();
    assert!(draft(&tight.allowing(10.0).hemmed("bow", 20.0, &[0.0, 10.0]), &mut problems).is_some());
    assert!(!problems.has_errors());
}
