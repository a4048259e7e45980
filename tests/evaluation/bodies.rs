//! What stands under a `when` inside panels, components, finishes and seams.

use super::{design, edge, errors, in_size, near, piece};
use lapfell::ir::{Amount, Place, SeamForm, StitchKind};
use lapfell::pipeline::AS_DRAWN;

/// Each body has a branch for the heavy case; `heavy` is a size.
const HEAVY: &str = "
param weight = light one of light, heavy
size sturdy { weight = heavy }
component tab(cut: length = 8 cm) {
  sits at places
  footprint 2 cm
  let long = when weight == heavy then 2 * cut else cut
  when weight == heavy {
    depth 5 cm
    uses 2 of plain_stud
    panel patch { cut places of plain  shape rectangle(width: long, height: 3 cm)  allow 0 mm }
  } else {
    depth 3 cm
    uses 1 of plain_stud
  }
}
material plain_stud is hardware { mass = 2 g  source = \"memory\" }
finish edged(width: length = 10 mm) {
  when weight == heavy { allow 3 * width  stitch zigzag 2 mm rows 2 } else { allow width  stitch lockstitch 3 mm }
  sew \"Turn it\"
}
panel sheet {
  cut when weight == heavy then 2 else 1 of plain
  when weight == heavy { shape rectangle(width: 60 cm, height: 50 cm) } else { shape rectangle(width: 40 cm, height: 50 cm) }
  allow 1 cm
  finish head with edged()
  when weight == heavy { mark point middle at (30 cm, 25 cm) }
}
panel first { cut 1 of plain  shape rectangle(width: 60 cm, height: 50 cm)  allow 1 cm }
panel second { cut 1 of plain  shape rectangle(width: 60 cm, height: 50 cm)  allow 1 cm }
attach tabs = tab() spaced 3 evenly on first.left
seam side {
  join first.right to second.left
  when weight == heavy { stitch zigzag 2 mm } else { stitch lockstitch 2.5 mm }
}
";

#[test]
fn the_branch_that_holds_is_all_there_is() {
    let (light, heavy) = (in_size(HEAVY, AS_DRAWN), in_size(HEAVY, "sturdy"));
    for (d, copies, wide, allow, marks) in [(&light, 1, 400.0, 10.0, 0), (&heavy, 2, 600.0, 30.0, 1)] {
        let sheet = piece(d, "sheet");
        assert_eq!(sheet.copies.len(), copies);
        near(edge(d, "sheet", "foot").length.as_mm(), wide);
        near(edge(d, "sheet", "head").allowance.as_mm(), allow);
        near(edge(d, "sheet", "left").allowance.as_mm(), 10.0);
        assert_eq!(sheet.marks.len(), marks);
    }
    for (d, depth, studs, kind) in [(&light, 30.0, 1.0, StitchKind::Lockstitch), (&heavy, 50.0, 2.0, StitchKind::Zigzag)] {
        assert_eq!(d.attachments.len(), 3);
        near(d.attachments[0].depth.as_mm(), depth);
        assert_eq!(d.attachments[0].uses[0].amount, Amount::Count(studs));
        assert_eq!(d.seams[0].stitch.kind, kind);
    }
    assert!(!light.pieces.iter().any(|p| p.name.starts_with("tabs")));
    // One patch for each of the three places, 16 cm long
    assert_eq!(piece(&heavy, "tabs.patch").copies.len(), 3);
    near(edge(&heavy, "tabs.patch", "foot").length.as_mm(), 160.0);
}

#[test]
fn one_name_may_be_declared_in_branches_that_exclude_each_other() {
    let items = "param tube = no
                 size disc { tube = yes }
                 when tube {
                   let girth = pi * 20 cm
                   panel base { cut 1 of plain  shape circle(diameter: 20 cm)  allow 1 cm }
                 } else {
                   let girth = 80 cm
                   panel base { cut 1 of plain  shape rectangle(width: 20 cm, height: 20 cm)  allow 1 cm }
                 }
                 panel wall { cut 1 of plain  shape rectangle(width: girth, height: 30 cm)  allow 1 cm }";
    near(edge(&in_size(items, AS_DRAWN), "wall", "foot").length.as_mm(), 800.0);
    near(edge(&in_size(items, "disc"), "wall", "foot").length.as_mm(), std::f64::consts::PI * 200.0);
    assert_eq!(piece(&in_size(items, "disc"), "base").edges.len(), 1);
    assert_eq!(piece(&in_size(items, AS_DRAWN), "base").edges.len(), 4);
}

#[test]
fn a_seam_may_change_its_form_with_the_case() {
    let items = "param flat = yes
                 size bag { flat = no }
                 panel first { cut 2 of plain as front, back  shape rectangle(width: 60 cm, height: 50 cm)  allow 1 cm }
                 seam all {
                   when flat { join front.right to back.left } else { stack front face up, back face down  sew left, foot, right }
                 }";
    let flat = in_size(items, AS_DRAWN);
    assert!(matches!(flat.seams[0].form, SeamForm::Join(_)));
    near(flat.seams[0].length.as_mm(), 500.0);
    let bag = in_size(items, "bag");
    assert!(matches!(bag.seams[0].form, SeamForm::Stack(_)));
    near(bag.seams[0].length.as_mm(), 1600.0);
}

#[test]
fn a_condition_may_ask_what_a_panel_measures() {
    let d = design(
        "panel wall { cut 1 of plain  shape rectangle(width: 130 cm, height: 30 cm)  allow 1 cm }
         when wall.width > 120 cm { attach loops = ribbon_loop() spaced 4 evenly on wall.head }
         else { attach loops = ribbon_loop() spaced 2 evenly on wall.head }",
    );
    assert_eq!(d.attachments.len(), 4);
    let Place::Edge { distance, .. } = &d.attachments[0].place else { panic!() };
    near(distance.as_mm(), 260.0);
}

#[test]
fn a_panel_whose_case_needs_itself_is_a_ring() {
    assert_eq!(
        errors("when wall.width > 1 m { panel wall { cut 1 of plain  shape rectangle(width: 2 m, height: 1 m)  allow 1 cm } }"),
        ["cycle"]
    );
    assert_eq!(errors("panel wall { cut 1 of plain  shape rectangle(width: wall.height, height: 1 m)  allow 1 cm }"), ["cycle"]);
}

#[test]
fn locals_of_a_body_hide_nothing_outside_it() {
    let d = design(
        "let slim = 30 cm
         panel a { cut 1 of plain  let inner = 2 * slim  shape rectangle(width: inner, height: 10 cm)  allow 1 cm }
         panel b { cut 1 of plain  let inner = 3 * slim  shape rectangle(width: inner, height: 10 cm)  allow 1 cm }
         panel c { cut 1 of plain  shape as a  allow 1 cm }",
    );
    near(edge(&d, "a", "foot").length.as_mm(), 600.0);
    near(edge(&d, "b", "foot").length.as_mm(), 900.0);
    near(edge(&d, "c", "foot").length.as_mm(), 600.0);
}
