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
