//! What components bring.

use super::{SHELL, attached, design, design_beside, edge, near, operation, piece, seam, worked_beside};
use crate::ir::{Amount, OperationKind, SeamForm};

#[test]
fn a_casing_brings_its_strip_in_the_length_of_its_edge() {
    // 1 m of head less 2 × 15 mm: 970 mm, 30 mm high; its own ends are hemmed with 2 × 5 mm, its long sides have the edge's 12 mm.
    let d = design(&format!("{SHELL} attach neck = casing() along outer.head"));
    let strip = piece(&d, "neck.strip");
    assert_eq!((strip.label.as_str(), strip.copies.len()), ("Strip for neck", 1));
    near(strip.finished.width.as_mm(), 970.0);
    near(strip.finished.height.as_mm(), 30.0);
    near(strip.cut.width.as_mm(), 970.0 + 2.0 * 10.0);
    near(strip.cut.height.as_mm(), 30.0 + 2.0 * 12.0);
    let neck = attached(&d, "neck")[0];
    assert!(matches!(neck.uses[0].amount, Amount::Length(l) if (l.as_mm() - 1130.0).abs() < 1e-9), "970 + 160 mm of cord");
    // Its two hems of 30 mm are sewn while it is prepared.
    near(operation(&d, OperationKind::Prepare, "neck").1.sewn.as_mm(), 60.0);
    assert!(operation(&d, OperationKind::Cut, "neck.strip").1.what.worded(crate::quantity::Style::METRIC).contains("Strip for neck"));
}

#[test]
fn pieces_alike_are_copies_and_others_are_pieces_of_their_own() {
    let d = design(&format!("{SHELL} attach ends = casing() along outer.head, outer.left, outer.foot, outer.right"));
    let names: Vec<(&str, usize)> = d.pieces.iter().map(|p| (p.name.as_str(), p.copies.len())).collect();
    assert_eq!(names, [("shell", 2), ("ends.strip", 2), ("ends.strip_2", 2)]);
    near(piece(&d, "ends.strip").finished.width.as_mm(), 970.0);
    near(piece(&d, "ends.strip_2").finished.width.as_mm(), 1970.0);
}

#[test]
fn a_component_of_two_panels_brings_both_once_for_each_edge() {
    let two = "
        panel body { cut 1 of plain  shape box(width: 1 m, height: 1 m)  allow 12 mm }
        attach patch = both() along body.head, body.foot";
    let component = r#"component both() "Both" {
        sits along stretch
        panel upper { cut 1 of plain  shape box(width: stretch, height: 5 cm)  allow 0 mm  raw foot, right, head, left because "so" }
        panel lower { cut 2 of plain  shape box(width: stretch, height: 6 cm)  allow 0 mm  raw foot, right, head, left because "so" }
        place "Lay them on"
    }"#;
    let d = design_beside(component, two);
    let names: Vec<(&str, usize)> = d.pieces.iter().map(|p| (p.name.as_str(), p.copies.len())).collect();
    assert_eq!(names, [("body", 1), ("patch.upper", 2), ("patch.lower", 4)]);
}

#[test]
fn a_component_knows_the_edge_it_is_on() {
    let beside = |what: &str| {
        format!(r#"component probe() "Probe" {{ sits at places  footprint 1 mm  require {what} else "not so"  place "Set it" }}"#)
    };
    let items = "panel body { cut 1 of plain  shape box(width: 1 m, height: 50 cm)  allow 12 mm  allow 8 mm on left }
                 attach a = probe() at 10 cm, 20 cm from head on body.left";
    design_beside(&beside("edge_length == 50 cm and allowance == 8 mm and places == 2"), items);
    let (design, problems, _) = worked_beside(&beside("places == 1"), items, None);
    assert!(design.is_none());
    let all = problems.sorted();
    let found: Vec<_> = all.iter().filter(|d| d.code == "requirement").collect();
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].labels.len(), 2, "where it is used and where it is asked for");
}

#[test]
fn at_corners_the_widest_allowance_counts() {
    let probe = r#"component probe() "Probe" {
        sits at places  footprint 1 mm  require allowance == 20 mm and places == 2 and stretch == 0 mm else "not so"  place "Set it" }"#;
    design_beside(
        probe,
        "panel body { cut 1 of plain  shape box(width: 1 m, height: 50 cm)  allow 12 mm  allow 20 mm on foot }
         attach a = probe() at corner head-left, left-foot on body",
    );
}

#[test]
fn edges_of_a_piece_that_an_attachment_brings_can_be_sewn_and_set_on() {
    let d = design(&format!(
        "{SHELL}
         panel flap {{ cut 1 of plain  shape box(width: 970 mm, height: 20 cm)  allow 12 mm }}
         attach tag = loop(cut: 6 cm) at 10 cm from left on neck.strip.foot
         attach neck = casing() along outer.head
         seam set {{ join flap.head to neck.strip.head }}"
    ));
    near(edge(&d, "neck.strip", "head").length.as_mm(), 970.0);
    let SeamForm::Join(join) = &seam(&d, "set").form else { panic!() };
    assert_eq!(d.edge_name(&join.second[0]), "neck.strip.head");
    assert_eq!(d.pieces[attached(&d, "tag")[0].piece.index()].name, "neck.strip");
    super::in_order(&d, &[(OperationKind::Place, "tag"), (OperationKind::Place, "neck"), (OperationKind::Join, "set")]);
}

#[test]
fn a_mirrored_or_counted_panel_keeps_its_copies() {
    let d = design("panel half { cut 4 mirrored of plain as a, b, c, d  shape box(width: 1 m, height: 1 m)  allow 12 mm }");
    let copies: Vec<(Option<&str>, bool)> = piece(&d, "half").copies.iter().map(|c| (c.name.as_deref(), c.mirrored)).collect();
    assert_eq!(copies, [(Some("a"), false), (Some("b"), false), (Some("c"), true), (Some("d"), true)]);
}

#[test]
fn the_thread_ends_the_list_of_materials() {
    let d = design(&format!("thread spun {SHELL} attach a = loop() at middle on outer.left"));
    let names: Vec<&str> = d.materials.iter().map(|m| m.name.as_str()).collect();
    assert_eq!(names, ["plain", "tape", "spun"]);
    let without = design(&format!("{SHELL} attach a = loop() at middle on outer.left"));
    assert_eq!(without.materials.len(), 2);
}
