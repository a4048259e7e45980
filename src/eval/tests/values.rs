//! Values: in any order, to any depth that is sound.

use super::{SHELL, design, errors, near, piece, worked};

#[test]
fn lines_may_stand_in_any_order() {
    let d = design(
        "panel a { cut some of plain  shape box(width: wide, height: b.left.length)  allow 12 mm }
         panel b { cut 1 of plain  shape box(width: 10 cm, height: wide * 2)  allow 12 mm }
         param wide = base + 1 cm
         let some = floor(7 / 3)
         param base = 9 cm from 5 cm to 20 cm",
    );
    assert_eq!(piece(&d, "a").copies.len(), 2);
    near(piece(&d, "a").finished.width.as_mm(), 100.0);
    near(piece(&d, "a").finished.height.as_mm(), 200.0);
}

#[test]
fn a_long_chain_of_lets_the_wrong_way_round_is_no_deeper_than_one() {
    let chain: String = (1..5_000).rev().map(|i| format!("let x{i} = x{} + 1 mm\n", i - 1)).collect();
    let d = design(&format!("{chain} let x0 = 1 mm panel a {{ cut 1 of plain  shape box(width: x4999, height: 1 m)  allow 12 mm }}"));
    near(piece(&d, "a").finished.width.as_mm(), 5000.0);
}

#[test]
fn a_count_may_be_whole_but_for_rounding() {
    let d = design("panel a { cut (0.1 + 0.2) * 10 of plain  shape box(width: 1 m, height: 1 m)  allow 12 mm }");
    assert_eq!(piece(&d, "a").copies.len(), 3);
}

#[test]
fn the_same_goods_are_one_material_and_others_are_not() {
    let d = design(
        "panel a { cut 1 of plain  shape box(width: 1 m, height: 1 m)  allow 12 mm }
         panel b { cut 1 of plain(mass: 50 g/m2)  shape as a  allow 12 mm }
         panel c { cut 1 of plain(mass: 60 g/m2)  shape as a  allow 12 mm }",
    );
    assert_eq!(d.materials.len(), 2);
    assert_eq!(piece(&d, "a").material, piece(&d, "b").material);
}

#[test]
fn whether_a_laser_may_cut_it_is_no_part_of_a_name() {
    let d = design(
        "panel a { cut 1 of plain(laser: yes)  shape box(width: 1 m, height: 1 m)  allow 12 mm }
         panel b { cut 1 of plain(laser: yes, mass: 60 g/m2)  shape as a  allow 12 mm }",
    );
    let titles: Vec<&str> = d.materials.iter().map(|m| m.title.as_str()).collect();
    assert!(titles.iter().all(|t| !t.contains("laser")), "{titles:?}");
    assert!(titles.last().is_some_and(|t| t.contains("mass 60 g/m2")), "{titles:?}");
    assert!(d.materials.iter().all(|m| m.laser == Some(true)));
}

#[test]
fn a_size_is_worked_out_with_its_own_figures() {
    let items = "param wide = 1 m from 50 cm to 150 cm  size slim { wide = 60 cm }
                 panel a { cut 1 of plain  shape box(width: wide, height: 1 m)  allow 12 mm }";
    let (slim, problems, _) = worked(items, Some("slim"));
    assert!(!problems.has_errors());
    let slim = slim.unwrap();
    near(piece(&slim, "a").finished.width.as_mm(), 600.0);
    assert_eq!(slim.size.as_deref(), Some("slim"));
}

#[test]
fn a_panel_that_fails_is_told_once_and_takes_nothing_with_it_unsaid() {
    let found = errors(&format!(
        "panel a {{ cut 1 of plain  shape box(width: 1 m - 100 cm, height: 1 m)  allow 12 mm }}
         {SHELL}
         attach x = loop() at middle on a.left
         attach y = loop() at 9 m from head on outer.left"
    ));
    assert!(found.contains(&"zero-length-edge") || found.contains(&"outline-empty"), "{found:?}");
    assert_eq!(found.iter().filter(|c| **c == "place-past-edge").count(), 1, "{found:?}");
}
