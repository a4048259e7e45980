//! What must come before what, and why.

use super::{SHELL, all_before, because, design, design_beside, in_order, near, operation, operations};
use crate::ir::OperationKind::{
    Apply, Close, Complete, Cut, Extra, FinishSeam, Hem, Join, Place, Prepare, Quilt, SewOn, Shape, Stack, Turn,
};
use crate::quantity::Style;

const BAG: &str = "
panel batt { cut 1 of fluff  shape as shell  allow 12 mm }
seam bag {
  stack batt, outer face up, inner face down
  sew around
  with neat()
  opening 25 cm of outer.right at middle between inner and outer
  close with shut()
}
";

#[test]
fn a_bag_is_filled_sewn_turned_and_closed() {
    let d = design(&format!(
        "{SHELL}{BAG} attach a = loop() at 50 cm from head on outer.left  attach s = snap() at 4 cm from head between outer.left and outer.right"
    ));
    in_order(&d, &[(Cut, "shell"), (Place, "a"), (Stack, "bag"), (FinishSeam, "bag"), (Turn, "bag"), (Close, "bag"), (Complete, "a")]);
    in_order(&d, &[(Prepare, "a"), (Place, "a")]);
    in_order(&d, &[(Cut, "batt"), (Stack, "bag")]);
    in_order(&d, &[(Close, "bag"), (Complete, "s")]);
    assert_eq!(because(&d, (Stack, "bag"), (Place, "a")), Some("this seam catches it"));
    assert_eq!(because(&d, (Turn, "bag"), (FinishSeam, "bag")), Some("it is sewn and still inside out"));
}

#[test]
fn what_is_sewn_says_how_much_through_how_many_plies() {
    let d = design(&format!("{SHELL}{BAG}"));
    // Once round less the opening, with three layers; its finish in two rows; the opening by itself.
    let stack = operation(&d, Stack, "bag").1;
    near(stack.sewn.as_mm(), 5750.0);
    assert_eq!(stack.plies, 3);
    near(operation(&d, FinishSeam, "bag").1.sewn.as_mm(), 2.0 * 5750.0);
    near(operation(&d, Close, "bag").1.sewn.as_mm(), 250.0);
    let facing = stack.facing.as_deref();
    assert_eq!(facing, Some("from the table up: batt, outer face up, inner face down"));
    let what = stack.what.worded(Style::METRIC);
    assert!(what.contains("leave 25 cm of outer.right open between outer and inner, starting 87.5 cm from foot"), "{what}");
}

#[test]
fn what_a_join_closes_is_turned_through_it_when_all_else_is_sewn() {
    let d = design(
        "panel body { cut 1 of plain  shape box(width: pi * 20 cm, height: 30 cm)  allow 10 mm }
         panel end { cut 2 of plain as top, bottom  allow 10 mm
           shape { start (20 cm, 10 cm)  edge rim arc to (0 cm, 10 cm) rise 10 cm then arc to start rise 10 cm } }
         seam side { join body.left to body.right  faces together  with neat()  opening 12 cm of body.left at middle  close with shut() }
         seam lower { join body.foot to bottom.rim  faces together  with neat() }
         seam upper { join body.head to top.rim  faces together  with neat() }",
    );
    in_order(&d, &[(FinishSeam, "side"), (Join, "lower"), (FinishSeam, "lower"), (Turn, "side"), (Close, "side")]);
    in_order(&d, &[(FinishSeam, "side"), (Join, "upper"), (FinishSeam, "upper"), (Turn, "side")]);
    assert_eq!(because(&d, (Turn, "side"), (FinishSeam, "lower")), Some("it is sewn while the work is inside out"));
    // 30 cm of side less the 12 left open, which are sewn once it is turned.
    let side = operation(&d, Join, "side").1;
    near(side.sewn.as_mm(), 180.0);
    let what = side.what.worded(Style::METRIC);
    assert!(what.contains("but leave 12 cm of body.left open, starting 90 mm from head"), "{what}");
    near(operation(&d, Close, "side").1.sewn.as_mm(), 120.0);
}

#[test]
fn a_seam_says_what_it_comes_after_and_before() {
    let walls = "panel wall { cut 2 of plain as front, back  shape box(width: 30 cm, height: 20 cm)  allow 12 mm }";
    let d = design(&format!(
        "{walls}
         seam again {{ join front.left to back.left  lapped  after side }}
         seam side {{ join front.left to back.left  faces together  with neat() }}
         seam low {{ join front.foot to back.foot  faces together  with neat()  before side }}"
    ));
    in_order(&d, &[(Join, "side"), (FinishSeam, "side"), (Join, "again")]);
    in_order(&d, &[(FinishSeam, "low"), (Join, "side")]);
    assert_eq!(because(&d, (Join, "again"), (FinishSeam, "side")), Some("the design asks for it in this order"));
    let asked = |op: &crate::ir::Operation| op.after.iter().filter(|a| a.asked).count();
    assert_eq!(asked(operation(&d, Join, "again").1), 2);
    // It may point at what it catches, and at what is completed at the very end.
    let d = design(&format!(
        "{walls} attach a = loop() at middle on front.left
         seam side {{ join front.left to back.left  faces together  after a }}
         step look inspect \"Look at it\" after side before low
         seam low {{ join front.foot to back.foot  faces together }}"
    ));
    in_order(&d, &[(Place, "a"), (Join, "side"), (Extra, "look"), (Join, "low"), (Complete, "a")]);
}

#[test]
fn a_bag_with_an_open_edge_is_turned_when_what_crosses_it_is_sewn() {
    let d = design(
        "panel wall { cut 2 of plain as front, back  shape box(width: 30 cm, height: 20 cm)  box corner left-foot, foot-right by 4 cm  allow 12 mm  finish head with hem() }
         seam sides { stack front face up, back face down  sew left, foot, right  with neat() }
         seam corner { join front.left_foot_1 then back.foot_right_2 to front.left_foot_2 then back.foot_right_1 }",
    );
    in_order(&d, &[(FinishSeam, "sides"), (Join, "corner"), (Turn, "sides")]);
    let turn = operation(&d, Turn, "sides").1.what.worded(Style::METRIC);
    // The seams end at the boxed corners; none goes round one.
    assert!(turn.starts_with("Reach in at the open foot_right_1, foot_right_2 and head, turn"), "{turn}");
    assert!(!turn.contains("curves"), "{turn}");
    // A round thing has no corners to trim, and curves to snip; what is bound with its backs together is not turned.
    let round = "panel pad { cut 2 of plain as upper, lower  allow 10 mm
        shape { start (20 cm, 10 cm)  edge near arc to (0 cm, 10 cm) rise 10 cm  edge far arc to start rise 10 cm } }";
    let neat = design(&format!("{round} seam rim {{ stack upper face up, lower face down  sew near  with neat() }}"));
    // Edges that are neatened are not cut into.
    assert!(operation(&neat, Turn, "rim").1.what.worded(Style::METRIC).starts_with("Reach in at the open far"));
    let d = design(&format!("{round} seam rim {{ stack upper face up, lower face down  sew near }}"));
    let turn = operation(&d, Turn, "rim").1.what.worded(Style::METRIC);
    assert!(
        turn.starts_with("Snip the allowances every 20 mm along curves, to 3 mm from the stitching, reach in at the open far"),
        "{turn}"
    );
    let d = design(&format!("{round} seam rim {{ stack upper face down, lower face up  sew near  with neat() }}"));
    assert!(operations(&d, Turn, "rim").is_empty());
}

#[test]
fn hems_that_meet_say_how_their_corner_is_folded() {
    let sheet = |edges: &str| {
        let d = design(&format!(
            "panel sheet {{ cut 1 of plain  shape box(width: 30 cm, height: 20 cm)  allow 12 mm  finish {edges} with hem() }}"
        ));
        operation(&d, Hem, "sheet").1.what.worded(Style::METRIC)
    };
    assert!(sheet("head, left").contains("where two hems meet"));
    assert!(!sheet("head, foot").contains("where two hems meet"));
}

#[test]
fn an_edge_left_raw_says_how_it_frays() {
    let d = design(
        "panel sheet { cut 1 of plain  shape box(width: 30 cm, height: 20 cm)  raw head, foot because \"so\"  finish left, right with hem() }",
    );
    let cut = operation(&d, Cut, "sheet").1.what.worded(Style::METRIC);
    assert!(cut.contains("; foot and head stay raw: woven cloth frays there"), "{cut}");
}

/// A sack of a tube, a round base, a hem round its mouth with a cord in it, and a loop in the base seam.
const SACK: &str = "
panel body { cut 1 of plain  shape box(width: pi * 20 cm, height: 30 cm)  allow 10 mm  finish head with hem() }
panel base { cut 1 of plain  allow 10 mm  shape { start (20 cm, 10 cm)  edge rim arc to (0 cm, 10 cm) rise 10 cm then arc to start rise 10 cm } }
seam bottom { join body.foot to base.rim  with neat() }
seam side { join body.left to body.right  with neat() }
attach draw = cord() along body.head
attach grip = loop() at middle on body.foot
";

#[test]
fn a_tube_is_closed_before_its_base_and_its_mouth() {
    let d = design(SACK);
    in_order(&d, &[(Place, "grip"), (Join, "side"), (FinishSeam, "side"), (Join, "bottom"), (FinishSeam, "bottom"), (Complete, "grip")]);
    in_order(&d, &[(FinishSeam, "side"), (Hem, "body"), (Complete, "draw")]);
    assert_eq!(because(&d, (Hem, "body"), (FinishSeam, "side")), Some("the hem shuts its raw end in"));
    assert_eq!(because(&d, (Join, "bottom"), (FinishSeam, "side")), Some("the next seam runs across its end"));
    // The loop lies flat for both seams, and is caught by the one along its edge.
    assert_eq!(because(&d, (Join, "bottom"), (Place, "grip")), Some("this seam catches it"));
    assert_eq!(because(&d, (Join, "side"), (Place, "grip")), Some("the piece still lies flat"));
    // Round once, at 30 cm high.
    near(operation(&d, Hem, "body").1.sewn.as_mm(), std::f64::consts::PI * 200.0);
}

#[test]
fn a_hem_beside_a_stack_comes_first_and_across_a_join_last() {
    let d = design(
        "panel wall { cut 2 of plain as front, back  shape box(width: 20 cm, height: 30 cm)  allow 10 mm  finish head with hem() }
         seam sides { stack front face up, back face down  sew left, foot, right }",
    );
    in_order(&d, &[(Hem, "wall"), (Stack, "sides")]);
    // Both copies are hemmed: 2 × 20 cm.
    near(operation(&d, Hem, "wall").1.sewn.as_mm(), 400.0);
    assert_eq!(operation(&d, Hem, "wall").1.places.len(), 2);
}

#[test]
fn edges_hemmed_alike_are_two_acts_where_seams_part_them() {
    // The foot lies beside the join on the left; the right edge is sewn along after it is hemmed.
    let d = design(
        "panel a { cut 1 of plain  shape box(width: 20 cm, height: 30 cm)  allow 20 mm  finish foot, right with hem() }
         panel b { cut 1 of plain  shape box(width: 20 cm, height: 30 cm)  allow 20 mm }
         seam ab { join a.left to b.right }
         seam lap { join a.right to b.left  lapped }",
    );
    let hems = operations(&d, Hem, "a");
    assert_eq!(hems.len(), 2);
    let names = |i: usize| hems[i].1.places.iter().map(|p| d.edge_name(&p.side)).collect::<Vec<_>>();
    assert_eq!((names(0), names(1)), (vec!["a.foot".to_owned()], vec!["a.right".to_owned()]));
    let (ab, lap) = (operation(&d, Join, "ab").0, operation(&d, Join, "lap").0);
    assert!(all_before(&d, hems[0].0).contains(&ab));
    assert!(all_before(&d, lap).contains(&hems[1].0));
    // Free to come when they like, edges of one finish stay one act.
    let d = design("panel a { cut 1 of plain  shape box(width: 20 cm, height: 30 cm)  finish foot, right, head, left with hem() }");
    near(operation(&d, Hem, "a").1.sewn.as_mm(), 1000.0);
}

const WALLS: &str = "
panel wall { cut 2 of plain as front, back  shape box(width: 40 cm, height: 30 cm)  box corner left-foot, foot-right by 5 cm  allow 10 mm }
seam first { join front.left_foot_1 then back.foot_right_2 to front.left_foot_2 then back.foot_right_1  with neat() }
seam second { join front.foot_right_2 then back.left_foot_1 to front.foot_right_1 then back.left_foot_2  with neat() }
";

#[test]
fn boxed_corners_follow_the_seams_they_cross_and_come_before_the_turning() {
    let d = design(&format!(
        "{WALLS} seam round {{ stack front face up, back face down  sew left, foot, right, head
           opening 10 cm of front.head at middle between front and back  close with shut() }}"
    ));
    for corner in ["first", "second"] {
        in_order(&d, &[(Stack, "round"), (Join, corner), (FinishSeam, corner), (Turn, "round"), (Close, "round")]);
    }
    assert_eq!(because(&d, (Turn, "round"), (FinishSeam, "first")), Some("it is sewn while the work is inside out"));
}

#[test]
fn a_stack_that_runs_across_the_end_of_a_join_waits_for_it() {
    let d = design(
        "panel wall { cut 2 of plain as front, back  shape box(width: 40 cm, height: 30 cm)  allow 10 mm }
         seam bottom { stack front face up, back face down  sew foot }
         seam side { join front.left to back.left }",
    );
    in_order(&d, &[(Join, "side"), (Stack, "bottom")]);
}

#[test]
fn a_pocket_is_finished_and_filled_out_before_it_is_sewn_on_and_then_the_piece_is_closed() {
    let d = design(&format!(
        "{SHELL}{BAG}
         panel pocket {{ cut 1 of plain  shape box(width: 30 cm, height: 20 cm)  allow 20 mm  finish head with hem()
                         pleat foot at middle take 2 cm }}
         attach on_it = badge() at middle on pocket.left
         attach on_top = badge() at (40 cm, 90 cm) on outer
         apply pocket on outer at (30 cm, 80 cm) sewing left, foot, right with shut()"
    ));
    in_order(&d, &[(Cut, "pocket"), (Shape, "pocket"), (Hem, "pocket"), (Apply, "pocket"), (SewOn, "on_top"), (Stack, "bag")]);
    in_order(&d, &[(SewOn, "on_it"), (Apply, "pocket")]);
    assert_eq!(because(&d, (Stack, "bag"), (Apply, "pocket")), Some("the piece still lies flat"));
    assert_eq!(because(&d, (Apply, "pocket"), (SewOn, "on_it")), Some("it is still loose"));
    let apply = operation(&d, Apply, "pocket").1;
    near(apply.sewn.as_mm(), 700.0);
    assert_eq!(apply.facing.as_deref(), Some("both faces up: pocket on top"));
}

#[test]
fn layers_are_quilted_before_they_are_stacked_or_through_all_of_them_after() {
    let d = design(&format!(
        "{SHELL}{BAG}
         panel label {{ cut 1 of plain  shape box(width: 10 cm, height: 5 cm)  allow 10 mm }}
         quilt hold {{ layers outer, batt  lines parallel to head every 50 cm }}
         quilt through {{ layers outer, batt, inner  ties at (50 cm, 1 m) stitch handstitch 3 mm }}
         apply label on outer at (30 cm, 80 cm) sewing left, foot, right, head with shut()"
    ));
    in_order(&d, &[(Quilt, "hold"), (Apply, "label"), (Stack, "bag"), (Close, "bag"), (Quilt, "through")]);
    assert_eq!(because(&d, (Apply, "label"), (Quilt, "hold")), Some("quilting over it would sew it shut"));
    let hold = operation(&d, Quilt, "hold").1;
    // Three lines a metre long, through two layers.
    near(hold.sewn.as_mm(), 3000.0);
    assert_eq!(hold.plies, 2);
}

#[test]
fn darts_come_before_everything_on_their_piece() {
    let d = design(
        "panel a { cut 2 of plain as upper, under  shape box(width: 60 cm, height: 30 cm)  allow 20 mm  finish foot with hem()
                   dart head at 10 cm from left wide 6 cm deep 4 cm  pleat head at middle take 2 cm }
         seam top { join upper.head to under.head }",
    );
    in_order(&d, &[(Cut, "a"), (Shape, "a"), (Join, "top")]);
    in_order(&d, &[(Shape, "a"), (Hem, "a")]);
    let shape = operation(&d, Shape, "a").1;
    // Each dart is sewn along one leg: √(30² + 40²) = 50 mm, on two copies.
    near(shape.sewn.as_mm(), 100.0);
    let what = shape.what.worded(Style::METRIC);
    assert!(what.contains("dart") && what.contains("pleat"), "{what}");
}

#[test]
fn what_is_sewn_on_flat_comes_before_the_seams_and_counts_its_length() {
    let d = design(&format!("{SHELL}{BAG} attach b = band() over 60 cm from head on outer.left, outer.right"));
    in_order(&d, &[(SewOn, "b"), (Stack, "bag")]);
    // It is not caught, though it lies along a seam.
    assert_eq!(because(&d, (Stack, "bag"), (SewOn, "b")), Some("the piece still lies flat"));
    near(operation(&d, SewOn, "b").1.sewn.as_mm(), 1200.0);
    let places = &operation(&d, SewOn, "b").1.places;
    assert_eq!((places.len(), places[0].from_end.as_str()), (2, "head"));
}

#[test]
fn what_a_hem_catches_waits_for_nothing_but_its_preparation() {
    let d = design(
        "panel sheet { cut 1 of plain  shape box(width: 1 m, height: 2 m)  finish foot, right, head, left with hem() }
         attach a = loop() at 50 cm from head on sheet.left
         attach b = badge() at 1 m from head on sheet.left",
    );
    in_order(&d, &[(Prepare, "a"), (Place, "a"), (Hem, "sheet"), (Complete, "a")]);
    in_order(&d, &[(Hem, "sheet"), (SewOn, "b")]);
    assert_eq!(because(&d, (Hem, "sheet"), (Place, "a")), Some("the hem catches it"));
}

#[test]
fn added_steps_stand_where_the_design_puts_them() {
    let d = design(&format!(
        "{SHELL}{BAG} param soft = no
         attach a = loop() at middle on outer.left
         when soft {{ attach gone = loop() at middle on outer.right }}
         step look inspect \"Look at it\" after a, gone before bag
         step last hand \"Fold it up\" after bag
         step first prepare \"Wash the cloth\""
    ));
    in_order(&d, &[(Place, "a"), (Extra, "look"), (Stack, "bag"), (Close, "bag"), (Extra, "last")]);
    // The loop is completed once the bag is closed: that can't be meant by a step that comes before the bag.
    assert!(!all_before(&d, operation(&d, Extra, "look").0).contains(&operation(&d, Complete, "a").0));
    in_order(&d, &[(Cut, "batt"), (Extra, "first")]);
}

#[test]
fn a_component_without_a_word_of_work_is_still_set_in_its_place() {
    let silent = r#"component tag() "Small tag" { sits at places  footprint 1 cm  catches 5 mm }"#;
    let d = design_beside(silent, &format!("{SHELL}{BAG} attach a = tag() at middle on outer.left"));
    in_order(&d, &[(Place, "a"), (Stack, "bag")]);
    assert!(operation(&d, Place, "a").1.what.worded(Style::METRIC).contains("small tag"));
}

#[test]
fn a_seam_that_runs_on_across_a_joining_seam_comes_after_it() {
    let d = design(
        "panel wall { cut 1 of plain  shape box(width: 60 cm, height: 40 cm)  allow 10 mm  finish head, foot with hem()
           split yoke from (60 cm, 25 cm) to (0 cm, 25 cm) as lower, upper }
         seam side { join lower.left then upper.left to lower.right then upper.right  with neat() }
         seam across { join lower.yoke to upper.yoke  with neat() }
         step look inspect \"Look at all of it\" after wall",
    );
    in_order(&d, &[(Cut, "lower"), (Join, "across"), (FinishSeam, "across"), (Join, "side"), (FinishSeam, "side"), (Hem, "lower")]);
    // A step after the panel comes after the work on each of its pieces.
    in_order(&d, &[(Hem, "lower"), (Extra, "look")]);
    in_order(&d, &[(Hem, "upper"), (Extra, "look")]);
    near(operation(&d, Join, "side").1.sewn.as_mm(), 400.0);
}

#[test]
fn a_chain_says_where_its_seams_come_to_lie_and_waits_for_them() {
    // The chain stands first in the source; 60 and 50 cm against two of 55.
    let d = design(
        "panel a { cut 1 of plain  shape box(width: 60 cm, height: 20 cm)  allow 10 mm }
         panel b { cut 1 of plain  shape box(width: 50 cm, height: 20 cm)  allow 10 mm }
         panel c { cut 2 of plain as near, far  shape box(width: 55 cm, height: 10 cm)  allow 10 mm }
         seam neck { join a.head then b.head to near.head then far.head  with neat() }
         seam up { join a.right to b.left  with neat() }
         seam ends { join near.left to far.right  with neat() }",
    );
    in_order(&d, &[(FinishSeam, "up"), (Join, "neck")]);
    in_order(&d, &[(FinishSeam, "ends"), (Join, "neck")]);
    assert_eq!(because(&d, (Join, "neck"), (FinishSeam, "up")), Some("the next seam runs on across it"));
    // From where `near.right` lies on `a.left`: the seam `up` 60 cm along, 5 cm into `far`; the seam `ends` 55 cm along `a`.
    let what = operation(&d, Join, "neck").1.what.worded(Style::METRIC);
    assert!(
        what.ends_with(
            "ends and notches level; the join between a.head and b.head comes 50 mm from right on far.head, \
             the join between near.head and far.head comes 55 cm from left on a.head"
        ),
        "{what}"
    );
}

#[test]
fn a_chain_across_a_zipper_comes_after_it() {
    let zipped = |chain: &str| {
        design(&format!(
            "component zip() {{ sits along stretch  pair near, far  depth 8 mm  catches 8 mm  faces face  points in  symbol band
               place \"Baste it\"  sew \"Sew it\" with lockstitch 2.5 mm  complete \"Close it\" }}
             panel a {{ cut 1 of plain  shape box(width: 60 cm, height: 20 cm)  allow 10 mm }}
             panel b {{ cut 1 of plain  shape box(width: 50 cm, height: 20 cm)  allow 10 mm }}
             panel skirt {{ cut 1 of plain  shape box(width: 110 cm, height: 5 cm)  allow 10 mm }}
             attach middle = zip() along between a.right and b.left
             {chain}"
        ))
    };
    let d = zipped("seam low { join a.foot then b.foot to skirt.head }");
    in_order(&d, &[(SewOn, "middle"), (Join, "low"), (Complete, "middle")]);
}

#[test]
fn a_finish_runs_along_the_edge_that_its_darts_leave() {
    // 60 cm less two darts of 6 cm: 48 cm, and a tape for them is 4 cm longer.
    let d = design(
        "finish wrap() { allow 0 mm  encloses raw edges  stitch lockstitch 3 mm at 6 mm  prepare \"Cut {stretch + 4 cm}\"  sew \"Wrap the edge\" }
         panel body { cut 1 of plain  shape box(width: 60 cm, height: 40 cm)  allow 10 mm
                      finish head with wrap()  raw foot, left, right because \"no matter\"
                      dart head at 15 cm, 40 cm from left wide 6 cm deep 8 cm }",
    );
    let hem = operation(&d, Hem, "body").1;
    near(hem.sewn.as_mm(), 480.0);
    assert!(hem.what.worded(Style::METRIC).contains("Cut 52 cm; then wrap the edge"), "{}", hem.what.worded(Style::METRIC));
}

#[test]
fn what_is_done_alike_at_several_edges_is_said_once() {
    let d = design(
        "component lace() \"Lace\" { sits along stretch  depth 0 mm  catches 0 mm  faces either  points in  symbol band
           complete \"Thread {stretch} of lace\" }
         panel port { cut 1 of plain  shape box(width: 60 cm, height: 40 cm)  allow 10 mm
                      finish left, head, right with hem()  raw foot because \"no matter\" }
         panel starboard { cut 1 of plain  shape box(width: 60 cm + 0.0000001 mm, height: 40 cm)  allow 10 mm
                      finish left, head, right with hem()  raw foot because \"no matter\" }
         attach ties = lace() along port.head, starboard.head",
    );
    let what = operation(&d, Complete, "ties").1.what.worded(Style::METRIC);
    assert!(what.starts_with("Thread 60 cm of lace (ties, one for each edge)"), "{what}");
}
