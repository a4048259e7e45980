//! Panels: outlines taken over, edges renamed, copies.

use super::{design, edge, errors, figure, in_size, names, near, piece};
use lapfell::pipeline::AS_DRAWN;

const OTHER: &str = "
panel top {
  cut 1 of plain
  shape rectangle(width: 100 cm, height: 200 cm)
  taper left by 10 cm over 80 cm from foot
  round corner right-head by 5 cm
  allow 1 cm
}
";

#[test]
fn a_shape_taken_over_has_the_tapers_and_corners_of_the_other() {
    let d = design(&format!("{OTHER} panel under {{ cut 1 of plain  shape as top  allow 15 mm }}"));
    assert_eq!(names(&d, "under"), names(&d, "top"));
    // The slanted 80 cm come to sqrt(800² + 100²) = 806.2258 mm, the straight 120 cm stay
    near(edge(&d, "under", "left").length.as_mm(), 1200.0 + 650_000.0_f64.sqrt());
    near(edge(&d, "under", "left").allowance.as_mm(), 15.0);
    near(edge(&d, "top", "left").allowance.as_mm(), 10.0);
}

#[test]
fn edges_of_a_shape_taken_over_can_be_renamed() {
    let d = design(&format!(
        "{OTHER} panel under {{ cut 1 of plain  shape as top  rename left to hinge  rename head to mouth  allow 1 cm  allow 2 cm on hinge, right_mouth }}"
    ));
    // Outline order from the start point; the corner right-head is now right-mouth
    assert_eq!(names(&d, "under"), ["foot", "right", "right_mouth", "mouth", "hinge"]);
    near(edge(&d, "under", "hinge").length.as_mm(), 1200.0 + 650_000.0_f64.sqrt());
    near(edge(&d, "under", "hinge").allowance.as_mm(), 20.0);
    // A quarter of a circle of 5 cm
    near(edge(&d, "under", "right_mouth").length.as_mm(), std::f64::consts::FRAC_PI_2 * 50.0);
    near(edge(&d, "under", "right_mouth").allowance.as_mm(), 20.0);
    assert_eq!(edge(&d, "under", "mouth").start_neighbour, "right");
    assert_eq!(names(&d, "top"), ["foot", "right", "right_head", "head", "left"]);
}

#[test]
fn parts_and_ends_follow_new_names() {
    let d = design(&format!(
        "{OTHER} panel under {{ cut 1 of plain  shape as top  rename left to hinge  rename foot to toe  allow 1 cm }}
         attach loops = ribbon_loop() at 10 cm from toe on under.hinge.tapered
         seam side {{ join under.hinge.straight to top.left.straight }}"
    ));
    let part = edge(&d, "under", "hinge").parts.iter().find(|p| p.name == "tapered").unwrap().clone();
    near(part.to.as_mm() - part.from.as_mm(), 650_000.0_f64.sqrt());
    near(d.seams[0].length.as_mm(), 1200.0);
}

#[test]
fn own_corners_and_tapers_use_the_new_names() {
    let d = design(&format!(
        "{OTHER} panel under {{ cut 1 of plain  shape as top  rename head to mouth  bevel corner mouth-left by 3 cm  allow 1 cm }}"
    ));
    assert_eq!(names(&d, "under"), ["foot", "right", "right_mouth", "mouth", "mouth_left", "left"]);
    near(edge(&d, "under", "mouth_left").length.as_mm(), 1800.0_f64.sqrt());
}

#[test]
fn an_edge_that_a_corner_made_can_be_renamed_where_it_is_taken_over() {
    let d = design(&format!(
        "{OTHER} panel under {{ cut 1 of plain  shape as top  rename right_head to nook  allow 1 cm  allow 2 cm on nook }}
         panel third {{ cut 1 of plain  shape as under  rename head to mouth  rename nook to bend  allow 1 cm }}"
    ));
    assert_eq!(names(&d, "under"), ["foot", "right", "nook", "head", "left"]);
    near(edge(&d, "under", "nook").allowance.as_mm(), 20.0);
    assert_eq!(names(&d, "third"), ["foot", "right", "bend", "mouth", "left"]);
}

#[test]
fn two_edges_may_change_names() {
    let swapped =
        "panel a { cut 1 of plain  shape rectangle(width: 10 cm, height: 30 cm)  rename left to right  rename right to left  allow 1 cm }";
    let d = design(swapped);
    assert_eq!(names(&d, "a"), ["foot", "left", "head", "right"]);
    let d = design(&format!("{OTHER} panel b {{ cut 1 of plain  shape as top  rename left to right  rename right to left  allow 1 cm }}"));
    // The tapered one was left
    assert_eq!(names(&d, "b"), ["foot", "left", "left_head", "head", "right"]);
    near(edge(&d, "b", "right").length.as_mm(), 1200.0 + 650_000.0_f64.sqrt());
}

#[test]
fn a_name_that_was_given_up_is_not_known_any_more() {
    let found =
        errors(&format!("{OTHER} panel under {{ cut 1 of plain  shape as top  rename left to hinge  allow 1 cm  allow 2 cm on left }}"));
    assert_eq!(found, ["unknown-edge"]);
    let found = errors(&format!(
        "{OTHER} panel under {{ cut 1 of plain  shape as top  rename head to mouth  allow 1 cm  allow 2 cm on right_head }}"
    ));
    assert_eq!(found, ["unknown-edge"]);
}

#[test]
fn a_panel_under_a_when_may_be_taken_over_under_it() {
    let items = "param deep = no
                 size deep_one { deep = yes }
                 panel a {
                   cut 1 of plain
                   shape rectangle(width: 10 cm, height: 20 cm)
                   when deep { taper left by 1 cm over 10 cm from foot }
                   allow 1 cm
                 }
                 panel b { cut 1 of plain  shape as a  allow 1 cm }";
    near(edge(&in_size(items, AS_DRAWN), "b", "left").length.as_mm(), 200.0);
    // 100 mm straight and sqrt(100² + 10²)
    near(edge(&in_size(items, "deep_one"), "b", "left").length.as_mm(), 100.0 + 10_100.0_f64.sqrt());
}

#[test]
fn the_second_half_of_mirrored_copies_is_turned_over() {
    let d = design("panel a { cut 4 mirrored of plain as w, x, y, z  shape rectangle(width: 10 cm, height: 20 cm)  allow 1 cm }");
    let copies: Vec<_> = piece(&d, "a").copies.iter().map(|c| (c.name.as_deref().unwrap(), c.mirrored)).collect();
    assert_eq!(copies, [("w", false), ("x", false), ("y", true), ("z", true)]);
}

#[test]
fn an_outline_of_one_edge_closes_on_itself() {
    let d = design(
        "panel base { cut 1 of plain  shape circle(diameter: 20 cm)  allow 1 cm  notch rim spaced 3 evenly }
         attach loops = ribbon_loop() spaced 3 evenly on base.rim",
    );
    let rim = edge(&d, "base", "rim");
    let round = std::f64::consts::PI * 200.0;
    assert!((rim.length.as_mm() - round).abs() < 0.05, "{}", rim.length.as_mm());
    assert_eq!((rim.start_neighbour.as_str(), rim.end_neighbour.as_str()), ("rim", "rim"));
    let notches: Vec<_> = piece(&d, "base").notches.iter().map(|n| n.at.as_mm() / rim.length.as_mm()).collect();
    for (at, share) in notches.iter().zip([0.25, 0.5, 0.75]) {
        near(*at, share);
    }
    assert_eq!(notches.len(), 3);
}

#[test]
fn measures_of_panels_are_finished_ones() {
    let d = design(&format!(
        "{OTHER}
         panel strip {{ cut 1 of plain  shape rectangle(width: top.left.length, height: top.head.allowance * 4)  allow 1 cm }}
         panel square {{ cut 1 of plain  shape rectangle(width: sqrt(top.area), height: top.width)  allow 1 cm }}"
    ));
    near(edge(&d, "strip", "foot").length.as_mm(), 1200.0 + 650_000.0_f64.sqrt());
    near(edge(&d, "strip", "left").length.as_mm(), 40.0);
    // 2 m² less half of 100 mm × 800 mm, less what the round corner takes: r² (1 − π/4)
    let area = 2_000_000.0 - 40_000.0 - 2_500.0 * (1.0 - std::f64::consts::FRAC_PI_4);
    assert!((edge(&d, "square", "foot").length.as_mm() - area.sqrt()).abs() < 0.01);
    near(edge(&d, "square", "left").length.as_mm(), 1000.0);
}

const SPLIT: &str = "
panel sheet \"Sheet\" {
  cut 2 mirrored of plain as upper, lower
  shape rectangle(width: 100 cm, height: 200 cm)
  split middle from (40 cm, 0 cm) to (40 cm, 200 cm) as narrow, wide
  allow 1 cm
  allow 2 cm on middle
  grain along middle
}
";

#[test]
fn a_split_panel_has_measures_as_a_whole_and_piece_by_piece() {
    let d = design(&format!(
        "{SPLIT}
         let whole = sheet.width  let narrow_width = narrow.width  let of_a_copy = upper.height
         let head = sheet.head.length  let part = wide.head.length  let line = sheet.middle.length
         let joining = narrow.middle.allowance  let of_a_part = lower_wide.foot.length  let area = sheet.area / 1 cm / 1 cm"
    ));
    for (name, wanted) in [("whole", 1000.0), ("narrow_width", 400.0), ("of_a_copy", 2000.0), ("head", 1000.0), ("part", 600.0)] {
        near(figure(&d, name), wanted);
    }
    for (name, wanted) in [("line", 2000.0), ("joining", 20.0), ("of_a_part", 600.0), ("area", 20_000.0)] {
        near(figure(&d, name), wanted);
    }
    let narrow = piece(&d, "narrow");
    assert_eq!((narrow.label.as_str(), narrow.split_from.as_deref()), ("Sheet, narrow", Some("sheet")));
    let copies: Vec<_> = narrow.copies.iter().map(|c| (c.name.clone().unwrap(), c.mirrored)).collect();
    assert_eq!(copies, [("upper_narrow".to_owned(), false), ("lower_narrow".to_owned(), true)]);
    assert_eq!(narrow.grain.angle.map(|a| a.as_radians()), Some(std::f64::consts::FRAC_PI_2));
}

#[test]
fn a_split_under_a_when_makes_pieces_in_its_case_only() {
    let sheet = "param wide = yes  size small { wide = no }
         panel sheet { cut 1 of plain  shape rectangle(width: 100 cm, height: 200 cm)  allow 1 cm
           when wide { split middle from (40 cm, 0 cm) to (40 cm, 200 cm) as left_part, right_part } }";
    let pieces = |size: &str, items: &str| in_size(items, size).pieces.iter().map(|p| p.name.clone()).collect::<Vec<_>>();
    assert_eq!(pieces(AS_DRAWN, sheet), ["left_part", "right_part"]);
    assert_eq!(pieces("small", sheet), ["sheet"]);
    let reads = format!("{sheet} let a = left_part.width");
    assert_eq!(errors(&reads), ["not-in-this-case"]);
}

#[test]
fn splits_that_wait_for_each_other_are_told_of() {
    let ring = "panel sheet { cut 1 of plain  shape rectangle(width: 100 cm, height: 200 cm)  allow 1 cm
           split a from (40 cm, 0 cm) to (40 cm, 200 cm) as p, q
           split b of r from (60 cm, 0 cm) to (60 cm, 200 cm) as s, t
           split c of s from (70 cm, 0 cm) to (70 cm, 200 cm) as r, u }";
    assert_eq!(errors(ring), ["no-such-part", "no-such-part"]);
}

#[test]
fn a_piece_on_the_fold_is_measured_whole() {
    let d = design(
        "panel half { cut 1 of plain  shape rectangle(width: 30 cm, height: 50 cm)  allow 1 cm  place left on fold  grain along left
           mark line crease from (5 cm, 10 cm) to (25 cm, 10 cm) \"crease\"  mark point centre at (0 cm, 20 cm) \"centre\" }
         let across = half.width  let head = half.head.length  let side = half.right_opposite.length",
    );
    for (name, wanted) in [("across", 600.0), ("head", 600.0), ("side", 500.0)] {
        near(figure(&d, name), wanted);
    }
    let marks: Vec<&str> = piece(&d, "half").marks.iter().map(|m| m.name.as_str()).collect();
    assert_eq!(marks, ["crease", "centre", "crease_opposite"]);
    assert_eq!(piece(&d, "half").grain.angle.map(|a| a.as_radians()), Some(std::f64::consts::FRAC_PI_2));
    assert_eq!(
        errors(
            "panel half { cut 1 of plain  shape rectangle(width: 30 cm, height: 50 cm)  allow 1 cm  place left on fold } let a = half.left.length"
        ),
        ["edge-not-here"]
    );
}
