//! The order of tubes, bags and linings: what is turned when, and what is done where seams meet.

use super::{all_before, because, design, design_beside, in_order, near, operation, operations};
use crate::ir::OperationKind::{Apply, Close, Complete, Cut, Extra, FinishSeam, Hem, Join, Place, Prepare, SewOn, Stack, Turn};
use crate::quantity::Style;

/// A tube, 60 cm round, and what else a test says.
fn tube(more: &str) -> crate::ir::Design {
    design(&format!(
        "panel body {{ cut 1 of plain  shape box(width: 60 cm, height: 40 cm)  allow 10 mm  finish head with hem() }}
         seam side {{ join body.left to body.right  with neat() }}
         {more}"
    ))
}

#[test]
fn a_tube_goes_into_a_tube() {
    let cuff = "panel cuff { cut 1 of plain  shape box(width: 60 cm, height: 10 cm)  allow 10 mm }
                seam ring { join cuff.left to cuff.right }";
    let said = |how: &str| {
        let d = tube(&format!("{cuff} seam round {{ join cuff.head to body.foot  {how} }}"));
        operation(&d, Join, "round").1.what.worded(Style::METRIC)
    };
    assert_eq!(
        said("faces together"),
        "round: slip the tube that ends in cuff.head, turned right side out, into the one that ends in body.foot, which stays inside out, \
         so that their faces lie together, and sew round, seams and notches level"
    );
    assert!(said("backs together").contains("cuff.head, inside out, into the one that ends in body.foot, turned right side out"));
    // A strip sewn on flat, and a base, are no tubes.
    let d = tube(
        "panel strip { cut 1 of plain  shape box(width: 60 cm, height: 10 cm)  allow 10 mm } seam round { join strip.head to body.foot }",
    );
    assert!(operation(&d, Join, "round").1.what.worded(Style::METRIC).starts_with("round: sew strip.head to body.foot, ends"));
}

#[test]
fn a_straight_edge_round_a_curved_base_is_clipped() {
    let d = tube(
        "panel base { cut 1 of plain  shape disc(across: 60 cm / pi)  allow 10 mm  grain any }
         seam bottom { join body.foot to base.rim }",
    );
    let what = operation(&d, Join, "bottom").1.what.worded(Style::METRIC);
    assert!(
        what.starts_with(
            "bottom: clip the allowance of body.foot every 20 mm, to 3 mm from the seam line, so that it spreads round base.rim; then sew body.foot"
        ),
        "{what}"
    );
    // Round a square base it is not; and 8 cm across, a radius of 40 mm, wants twice as many.
    let square = tube(
        "panel base { cut 1 of plain  shape box(width: 15 cm, height: 15 cm)  allow 10 mm }
         seam bottom { join body.foot to base.foot then base.right then base.head then base.left }",
    );
    assert!(!operation(&square, Join, "bottom").1.what.worded(Style::METRIC).contains("clip"));
    let d = design(
        "panel body { cut 1 of plain  shape box(width: 8 cm * pi, height: 40 cm)  allow 10 mm  finish head with hem() }
         panel base { cut 1 of plain  shape disc(across: 8 cm)  allow 10 mm  grain any }
         seam side { join body.left to body.right }  seam bottom { join body.foot to base.rim }",
    );
    assert!(operation(&d, Join, "bottom").1.what.worded(Style::METRIC).contains("every 10 mm"));
}

#[test]
fn a_bag_that_joins_make_is_turned_before_its_cord_goes_in() {
    let bag = "component lace() { sits along stretch  needs casing  uses stretch of line  complete \"Thread it\" }
               attach draw = lace() along body.head
               panel base { cut 1 of plain  shape disc(across: 60 cm / pi)  allow 10 mm  grain any }
               seam bottom { join body.foot to base.rim  with neat() }";
    let d = tube(bag);
    in_order(&d, &[(FinishSeam, "side"), (Hem, "body"), (Turn, "bottom")]);
    in_order(&d, &[(FinishSeam, "bottom"), (Turn, "bottom"), (Complete, "draw")]);
    let what = operation(&d, Turn, "bottom").1.what.worded(Style::METRIC);
    assert_eq!(what, "Reach in at the open head, turn the work right side out, and push the edges out to the seam");
    // The maker's own step is enough, and two strips side by side have nothing to turn.
    let d = tube(&format!("{bag} step out turn \"Turn it\" after bottom"));
    assert!(d.operations.iter().all(|o| o.kind != Turn));
    let d = design(
        "panel a { cut 2 of plain as one_a, one_b  shape box(width: 60 cm, height: 20 cm)  allow 10 mm }
         seam up { join one_a.right to one_b.left }",
    );
    assert!(d.operations.iter().all(|o| o.kind != Turn));
}

#[test]
fn corners_are_cut_across_where_a_seam_goes_round_them() {
    let bag = |edges: &str, more: &str| {
        let d = design(&format!(
            "panel wall {{ cut 2 of plain as front, back  shape box(width: 30 cm, height: 20 cm)  allow 12 mm  {more} }}
             seam sides {{ stack front face up, back face down  sew {edges} }}"
        ));
        operation(&d, Turn, "sides").1.what.worded(Style::METRIC)
    };
    assert!(bag("left, foot, right", "finish head with hem()").starts_with("Cut the allowances off across each corner"));
    // Rounded below and open above: the corners of the mouth are no corners of the seam.
    let round = bag("left, left_foot, foot, foot_right, right", "round corner left-foot, foot-right by 5 cm  finish head with hem()");
    assert!(round.starts_with("Snip the allowances every 20 mm along curves"), "{round}");
}

#[test]
fn a_wish_goes_before_advice_and_not_before_what_must_be() {
    let d = |side: &str, more: &str| {
        tube(&format!(
            "attach mark = badge() at (20 cm, 20 cm) on body
             panel pocket {{ cut 1 of plain  shape box(width: 20 cm, height: 10 cm)  allow 20 mm  finish head with hem() }}
             apply pocket on body at (30 cm, 8 cm) sewing left, foot, right with shut()
             panel collar {{ cut 1 of plain  shape box(width: 60 cm, height: 10 cm)  allow 10 mm }}
             seam low {{ join collar.head to body.foot {side} }} {more}"
        ))
    };
    // Flat before closed, where nothing else is said.
    in_order(&d("", ""), &[(SewOn, "mark"), (Join, "low")]);
    in_order(&d("", ""), &[(Apply, "pocket"), (Join, "low")]);
    assert_eq!(because(&d("", ""), (Join, "low"), (Apply, "pocket")), Some("the piece still lies flat"));
    let asked = d("before mark, pocket", "");
    in_order(&asked, &[(Join, "low"), (SewOn, "mark")]);
    in_order(&asked, &[(Join, "low"), (Apply, "pocket")]);
}

#[test]
fn parts_called_after_their_panel_are_not_called_so_twice() {
    let label = |parts: &str, title: &str| {
        let d = design(&format!(
            "panel top {title} {{ cut 1 of plain  shape box(width: 60 cm, height: 20 cm)  allow 10 mm
               split middle from (30 cm, 0 cm) to (30 cm, 20 cm) as {parts} }}"
        ));
        d.pieces.iter().map(|p| p.label.clone()).collect::<Vec<_>>()
    };
    assert_eq!(label("top_port, top_starboard", "\"Top\""), ["Top, port", "Top, starboard"]);
    assert_eq!(label("upper_port, rest", "\"Upper\"").first().map(String::as_str), Some("Upper, port"));
    assert_eq!(label("port_half, other", ""), ["top, port half", "top, other"]);
}

#[test]
fn joins_that_meet_in_a_point_are_trimmed_there() {
    let turned = |more: &str| {
        let d = design(&format!(
            "panel wall {{ cut 2 of plain as front, back  shape box(width: 30 cm, height: 20 cm)  allow 12 mm  finish head with hem() }}
             seam port {{ join front.left to back.right }}  seam starboard {{ join front.right to back.left }}  {more}"
        ));
        operation(&d, Turn, if more.is_empty() { "starboard" } else { "low" }).1.what.worded(Style::METRIC)
    };
    // Two right angles round the bottom corner of two walls; a base between them makes it four, at each of its own two right ones.
    assert!(turned("seam low { join front.foot to back.foot }").starts_with("Cut the allowances off across each corner"));
    assert!(turned("").starts_with("Reach in at the open foot and head"));
    let base = "panel base { cut 1 of plain  shape disc(across: 60 cm / pi)  allow 12 mm  grain any }
                seam low { join front.foot then back.foot to base.rim }";
    assert!(turned(base).starts_with("Snip the allowances every 20 mm along curves"), "{}", turned(base));
}

/// Two walls, joined on three sides with a finish.
fn walls(finish: &str) -> crate::ir::Design {
    design_beside(
        r#"finish twice(width: length = 6 mm) { needs 2 * width  encloses raw edges  stitch lockstitch 2.5 mm at width
             place "With backs together sew a first row {width} outside the seam line, trim, turn and press" }"#,
        &format!(
            "panel wall {{ cut 2 of plain as a, b  shape box(width: 50 cm, height: 70 cm)  allow 16 mm  finish head with hem() }}
             seam bottom {{ join a.foot to b.foot  faces together  with {finish} }}
             seam near {{ join a.left to b.right  faces together  with {finish} }}
             seam far {{ join a.right to b.left  faces together  with {finish} }}"
        ),
    )
}

#[test]
fn a_seam_is_finished_before_the_next_one_catches_its_end() {
    let d = walls("neat()");
    in_order(&d, &[(Join, "bottom"), (FinishSeam, "bottom"), (Join, "near"), (FinishSeam, "near"), (Hem, "wall")]);
    in_order(&d, &[(FinishSeam, "bottom"), (Join, "far"), (FinishSeam, "far"), (Hem, "wall")]);
    assert_eq!(because(&d, (Join, "near"), (FinishSeam, "bottom")), Some("the next seam catches its end"));
    // The source may want it the other way round.
    let d = design(
        "panel wall { cut 2 of plain as a, b  shape box(width: 50 cm, height: 70 cm)  allow 16 mm }
         seam bottom { join a.foot to b.foot  with neat() }
         seam near { join a.left to b.right  with neat()  before bottom }",
    );
    in_order(&d, &[(FinishSeam, "near"), (Join, "bottom")]);
}

#[test]
fn a_row_before_the_seam_is_sewn_seam_by_seam_and_has_its_stitching() {
    let d = walls("twice()");
    in_order(&d, &[(Cut, "wall"), (Place, "bottom"), (Join, "bottom"), (Place, "near"), (Join, "near"), (Hem, "wall")]);
    in_order(&d, &[(Join, "bottom"), (Place, "far"), (Join, "far"), (Hem, "wall")]);
    // Two rows of 50 cm in all, each told once.
    let row = operation(&d, Place, "bottom").1;
    assert!(row.stitch.is_some() && row.places.len() == 2);
    near(row.sewn.as_mm(), 500.0);
    near(operation(&d, Join, "bottom").1.sewn.as_mm(), 500.0);
    assert!(operations(&d, FinishSeam, "bottom").is_empty() && operations(&d, Prepare, "bottom").is_empty());
}

const ZIP: &str = r#"
material teeth is zipper "Zipper" { tape = 25 mm  chain = 4 mm  source = "memory" }
component teeth_pair() "Zip" { sits along stretch  pair near, far  depth 8 mm  catches 8 mm  faces face  points in  symbol band
  uses stretch of teeth  sew "Sew it" with lockstitch 2.5 mm }
component tab() "Tab" { sits at places  footprint tape.width  depth 3 cm  catches 8 mm  faces face  points in  symbol bar
  place "Baste it"  complete "Bartack it" with bartack 1 mm }
component lace() "Lace" { sits along stretch  depth 0 mm  catches 0 mm  faces either  points in  symbol band  complete "Thread it" }
component patch() "Patch" { sits at places  depth 10 cm  catches 8 mm  faces back  points in  symbol tick
  panel cloth { cut places of plain  shape box(width: 10 cm, height: 10 cm)  allow 8 mm  finish head with lap()  raw foot, left, right because "so" }
  prepare "Fold it"  sew "Stitch it down" with lockstitch 2 mm }
finish lap() { allow 8 mm  folds at 0 mm  encloses raw edges  stitch lockstitch 2 mm at 2 mm  sew "Stitch it" }
"#;

#[test]
fn a_zipper_that_shuts_the_last_opening_is_opened_before_the_bag_is_closed() {
    let walls = "panel wall { cut 2 of plain as front, back  shape box(width: 20 cm, height: 15 cm)  allow 10 mm }
                 attach zip = teeth_pair() along between front.head and back.head";
    let d =
        design_beside(ZIP, &format!("{walls} seam sides {{ stack front face up, back face down  sew left, foot, right  with neat() }}"));
    in_order(&d, &[(SewOn, "zip"), (Extra, "zip"), (Stack, "sides"), (Turn, "sides")]);
    assert_eq!(because(&d, (Stack, "sides"), (Extra, "zip")), Some("there is no other way to turn the work"));
    let turn = operation(&d, Turn, "sides").1.what.worded(Style::METRIC);
    assert!(turn.starts_with("Reach in at the open head, through zip, turn"), "{turn}");
    // In joins too; and where another edge is open, that will do.
    let joined = |low: &str| {
        design_beside(ZIP, &format!("{walls} seam l {{ join front.left to back.right }}  seam r {{ join front.right to back.left }} {low}"))
    };
    let d = joined("seam low { join front.foot to back.foot }");
    in_order(&d, &[(Extra, "zip"), (Join, "l"), (Turn, "low")]);
    assert!(operations(&joined(""), Extra, "zip").is_empty());
}

#[test]
fn a_loop_is_bartacked_before_its_seam_is_turned() {
    let d = design_beside(
        ZIP,
        "panel wall { cut 2 of plain as front, back  shape box(width: 30 cm, height: 20 cm)  allow 12 mm  finish head with hem() }
         attach grip = tab() at 5 cm from head on front.right
         seam sides { stack front face up, back face down  sew left, foot, right  with neat() }",
    );
    in_order(&d, &[(Place, "grip"), (Stack, "sides"), (FinishSeam, "sides"), (Complete, "grip"), (Turn, "sides")]);
    assert_eq!(because(&d, (Turn, "sides"), (Complete, "grip")), Some("the allowances can still be reached"));
    let d = design_beside(
        ZIP,
        "panel body { cut 1 of plain  shape box(width: 60 cm, height: 40 cm)  allow 10 mm  finish head with hem() }
         panel base { cut 1 of plain  shape disc(across: 60 cm / pi)  allow 10 mm  grain any }
         attach grip = tab() at 5 cm from left on body.foot
         seam side { join body.left to body.right  with neat() }
         seam bottom { join body.foot to base.rim  with neat() }",
    );
    in_order(&d, &[(FinishSeam, "bottom"), (Complete, "grip"), (Turn, "bottom")]);
}

#[test]
fn hems_that_run_on_into_each_other_have_no_corner() {
    let sheet = |corner: &str| {
        let edges = if corner.is_empty() { "foot, right" } else { "foot, foot_right, right" };
        let d = design(&format!(
            "panel sheet {{ cut 1 of plain  shape box(width: 30 cm, height: 20 cm)  {corner}  allow 12 mm  finish {edges} with hem() }}"
        ));
        operation(&d, Hem, "sheet").1.what.worded(Style::METRIC)
    };
    assert!(sheet("").contains("where two hems meet"));
    assert!(!sheet("round corner foot-right by 10 cm").contains("where two hems meet"));
}

#[test]
fn what_hangs_open_is_not_turned() {
    let poncho = |low: &str| {
        design(&format!(
            "panel cape {{ cut 2 of plain as front, back  allow 12 mm
               shape {{ start (0 cm, 0 cm)  edge foot line to (120 cm, 0 cm)  edge east line to (120 cm, 60 cm)
                 edge port line to (75 cm, 90 cm)  edge neck line to (45 cm, 90 cm)  edge star line to (0 cm, 60 cm)  edge west line to start }} }}
             seam port {{ join front.port to back.star }}  seam star {{ join front.star to back.port }} {low}"
        ))
    };
    assert!(poncho("").operations.iter().all(|o| o.kind != Turn));
    // With its sides sewn too it is a bag.
    let sides = "seam a { join front.east to back.west }  seam b { join front.west to back.east }";
    assert!(poncho(sides).operations.iter().any(|o| o.kind == Turn));
}

#[test]
fn cords_along_several_edges_are_one_each() {
    let d = |along: &str| {
        let d = design_beside(
            ZIP,
            &format!(
                "panel a {{ cut 2 of plain as near, far  shape box(width: 60 cm, height: 40 cm)  allow 10 mm
                   finish head with hem()  raw foot, left, right because \"so\" }}
                 attach ties = lace() along {along}"
            ),
        );
        operation(&d, Complete, "ties").1.what.worded(Style::METRIC)
    };
    assert_eq!(d("near.head, far.head"), "Thread it (ties, one for each edge)");
    assert_eq!(d("near.head"), "Thread it (ties)");
}

#[test]
fn a_patch_is_sewn_down_when_it_is_sewn_on_and_its_thread_is_counted() {
    let d = design_beside(
        ZIP,
        "panel sheet { cut 1 of plain  shape box(width: 60 cm, height: 40 cm)  finish foot, right, head, left with hem() }
         attach corner = patch() at corner left-foot, foot-right on sheet",
    );
    in_order(&d, &[(Prepare, "corner"), (SewOn, "corner"), (Hem, "sheet")]);
    // Two patches of 10 cm.
    near(operation(&d, SewOn, "corner").1.sewn.as_mm(), 200.0);
    near(operation(&d, Prepare, "corner").1.sewn.as_mm(), 0.0);
}

const TOP: &str = r#"finish topped() { needs 8 mm  stitch lockstitch 3 mm at 6 mm  sew "Stitch it from the face" }"#;

#[test]
fn a_lining_is_slipped_into_the_work_turned_with_it_and_pushed_in_before_the_mouth_is_stitched() {
    let sack = "panel body { cut 1 of plain  shape box(width: 60 cm, height: 40 cm)  allow 12 mm }
                panel base { cut 1 of plain  shape disc(across: 60 cm / pi)  allow 12 mm  grain any }
                seam side { join body.left to body.right  with neat() }
                seam bottom { join body.foot to base.rim  with neat() }";
    // A strip round the mouth: the body has its base and stays as it is.
    let d = design_beside(
        TOP,
        &format!(
            "{sack} panel lining {{ cut 1 of plain  shape strip of body.head wide 10 cm  allow 12 mm  finish inner with hem() }}
             seam lining_side {{ join lining.left to lining.right  with neat() }}
             seam mouth {{ join body.head to lining.outer  faces together  with topped() }}"
        ),
    );
    let what = operation(&d, Join, "mouth").1.what.worded(Style::METRIC);
    assert!(
        what.contains(
            "slip the tube that ends in lining.outer, turned right side out, into the one that ends in body.head, which stays inside out"
        ),
        "{what}"
    );
    in_order(&d, &[(FinishSeam, "bottom"), (Turn, "mouth"), (FinishSeam, "mouth")]);
    in_order(&d, &[(Join, "mouth"), (Turn, "mouth")]);
    let turn = operation(&d, Turn, "mouth").1.what.worded(Style::METRIC);
    assert!(turn.starts_with("Reach in at the open inner") || turn.contains("reach in at the open inner"), "{turn}");
    assert!(
        turn.ends_with("push the part that ends in lining.outer into the other, backs together, so that the seam lies at the edge"),
        "{turn}"
    );
    // Lined throughout, and turned through the lining.
    let d = design_beside(
        TOP,
        &format!(
            "{sack} panel lining {{ cut 1 of plain  shape box(width: 60 cm, height: 40 cm)  allow 12 mm }}
             panel under {{ cut 1 of plain  shape disc(across: 60 cm / pi)  allow 12 mm  grain any }}
             seam lining_side {{ join lining.left to lining.right  with neat()  opening 12 cm of lining.left at middle  close with shut() }}
             seam lower {{ join lining.foot to under.rim  with neat() }}
             seam mouth {{ join body.head to lining.head  faces together  with topped() }}"
        ),
    );
    in_order(&d, &[(Join, "mouth"), (Turn, "lining_side"), (Close, "lining_side"), (FinishSeam, "mouth")]);
    let close = operation(&d, Close, "lining_side").1.what.worded(Style::METRIC);
    assert!(close.contains("push the part that ends in lining.head into the other"), "{close}");
    // A collar that runs on from the mouth is not pushed in.
    let d = tube(
        "panel collar { cut 1 of plain  shape box(width: 60 cm, height: 10 cm)  allow 10 mm  finish head with hem() }
         panel base { cut 1 of plain  shape disc(across: 60 cm / pi)  allow 10 mm  grain any }
         seam ring { join collar.left to collar.right }  seam low { join collar.foot to body.foot }
         panel lid { cut 1 of plain  shape box(width: 60 cm, height: 10 cm)  allow 10 mm }",
    );
    assert!(d.operations.iter().all(|o| !o.what.worded(Style::METRIC).contains("backs together")));
}

#[test]
fn a_lining_sewn_down_on_a_line_leaves_the_mouth_open() {
    let d = design(
        "panel body { cut 1 of plain  shape box(width: 60 cm, height: 40 cm)  allow 12 mm  mark line channel from (0 cm, 30 cm) to (60 cm, 30 cm) \"here\" }
         panel lining { cut 1 of plain  shape box(width: 60 cm, height: 10 cm)  allow 12 mm }
         panel base { cut 1 of plain  shape disc(across: 60 cm / pi)  allow 12 mm  grain any }
         seam side { join body.left to body.right  with neat() }
         seam lining_side { join lining.left to lining.right  with neat() }
         seam mouth { join body.head to lining.head  with neat() }
         seam low { join lining.foot to body.channel  lapped }
         seam bottom { join body.foot to base.rim  with neat() }",
    );
    let turn = operation(&d, Turn, "bottom").1.what.worded(Style::METRIC);
    assert!(turn.contains("each in at the open head, turn"), "{turn}");
    let [mouth, low] = ["mouth", "low"].map(|seam| operation(&d, Join, seam).1.what.worded(Style::METRIC));
    assert!(mouth.contains("slip the tube that ends in lining.head, turned right side out"), "{mouth}");
    assert!(low.starts_with("low: sew lining.foot to body.channel"), "{low}");
}

#[test]
fn a_bag_of_one_piece_is_sewn_in_either_order() {
    let d = |side: &str, low: &str| {
        design(&format!(
            "panel sheet {{ cut 1 of plain  shape box(width: 60 cm, height: 40 cm)  allow 10 mm  finish head with hem() }}
             seam side {{ join sheet.left to sheet.right {side} }}
             seam low {{ join sheet.foot over 30 cm from left to sheet.foot over 30 cm from right {low} }}"
        ))
    };
    in_order(&d("", "after side"), &[(Join, "side"), (Join, "low")]);
    in_order(&d("after low", ""), &[(Join, "low"), (Join, "side")]);
}

#[test]
fn a_casing_is_folded_over_the_hems_at_its_ends() {
    let tunnel = "finish tunnel(cord: cord) { allow 3 cm  folds at 0 mm, 2 cm  encloses raw edges  stitch lockstitch 2.5 mm  sew \"Fold over {cord.diameter}\" }";
    let (casing, sides) = ("finish head with tunnel(cord: line)", "finish left, right, foot with hem()");
    for hems in [[casing, sides], [sides, casing]] {
        let panel = format!(
            "panel curtain {{ cut 1 of plain  shape box(width: 60 cm, height: 30 cm)  allow 10 mm  {} }}
             attach draw = cord() along curtain.head",
            hems.join("  ")
        );
        let d = design_beside(tunnel, &panel);
        let first = |op: &crate::ir::Operation| op.places.first().map(|w| w.side.edge);
        let is_head = |op: &crate::ir::Operation| first(op) == Some(crate::ir::EdgeId::at(2));
        let (at, _) = *operations(&d, Hem, "curtain").iter().find(|(_, op)| is_head(op)).expect("the casing");
        let (other, _) = *operations(&d, Hem, "curtain").iter().find(|(_, op)| !is_head(op)).expect("the hems");
        assert!(all_before(&d, at).contains(&other), "lines may stand in any order");
    }
}
