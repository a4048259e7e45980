//! Seams and their lengths.

use super::{SHELL, design, near, piece, seam, worked};
use crate::diagnostic::Severity;
use crate::ir::{Join, NotchReason, SeamForm, Stack, StitchKind, Together};

fn join<'d>(d: &'d crate::ir::Design, name: &str) -> &'d Join {
    match &seam(d, name).form {
        SeamForm::Join(join) => join,
        SeamForm::Stack(_) => panic!("{name} is a stack"),
    }
}

fn stack<'d>(d: &'d crate::ir::Design, name: &str) -> &'d Stack {
    match &seam(d, name).form {
        SeamForm::Stack(stack) => stack,
        SeamForm::Join(_) => panic!("{name} is a join"),
    }
}

#[test]
fn a_join_is_as_long_as_its_edges() {
    let d = design(&format!(
        "{SHELL}
         panel strip {{ cut 1 of plain  shape box(width: 1500 mm, height: 10 cm)  allow 12 mm }}
         seam a {{ join outer.left to inner.right }}
         seam b {{ join outer.right over 40 cm starting 10 cm from foot to inner.right over 20% from head  backs together  stitch chainstitch 3 mm }}
         seam c {{ join strip.foot to outer.head  gather 1.5 }}
         seam d {{ join strip.head to outer.foot then inner.foot over 50 cm from right  ease 2%  lapped }}"
    ));
    near(seam(&d, "a").length.as_mm(), 2000.0);
    // Faces together and 2.5 mm are taken for granted.
    assert_eq!(join(&d, "a").together, Together::Faces);
    assert_eq!(seam(&d, "a").stitch.kind, StitchKind::Lockstitch);
    near(seam(&d, "a").stitch.length.as_mm(), 2.5);
    let b = join(&d, "b");
    near(b.first[0].from.as_mm(), 100.0);
    near(b.first[0].to.as_mm(), 500.0);
    // The right edge runs towards the head: the upper fifth of its 2 m is from 1600 on.
    near(b.second[0].from.as_mm(), 1600.0);
    near(b.second[0].to.as_mm(), 2000.0);
    assert_eq!(b.together, Together::Backs);
    assert_eq!(seam(&d, "b").stitch.kind, StitchKind::Chainstitch);
    near(seam(&d, "b").length.as_mm(), 400.0);
    // Gathered to the shorter side.
    near(join(&d, "c").first_length.as_mm(), 1500.0);
    near(seam(&d, "c").length.as_mm(), 1000.0);
    assert_eq!(join(&d, "c").gather, Some(1.5));
    // 1000 + 500 over two edges. The foot runs from left to right.
    let e = join(&d, "d");
    near(e.second_length.as_mm(), 1500.0);
    near(e.second[1].from.as_mm(), 500.0);
    near(e.second[1].to.as_mm(), 1000.0);
    assert_eq!((e.ease, e.together), (Some(0.02), Together::Lapped));
}

#[test]
fn darts_and_pleats_take_theirs_before_the_seam_does() {
    // On a head of 60 cm: a dart takes 20 mm at 10 cm from the left, a pleat 60 mm at 40 cm. The head runs from right to left.
    let d = design(
        "panel a { cut 1 of plain  shape box(width: 60 cm, height: 30 cm)  allow 12 mm
                   dart head at 10 cm from left wide 2 cm deep 8 cm  pleat head at 40 cm from left take 6 cm }
         panel b { cut 1 of plain  shape box(width: 52 cm, height: 30 cm)  allow 12 mm }
         panel c { cut 1 of plain  shape box(width: 60 cm, height: 30 cm)  allow 3 mm
                   dart head at 10 cm from left wide 6 cm deep 8 cm }
         seam whole { join a.head to b.head }
         seam some  { join a.head over 30 cm from left to b.foot over 28 cm from left }
         seam none  { join a.head over 5 cm from left to b.foot over 5 cm from left }
         seam cut   { join a.head over 38 cm from left to b.foot over 35 cm from left }
         seam unseen { join c.head over 30 cm from left to b.left over 27 cm from head }",
    );
    near(join(&d, "whole").first_length.as_mm(), 600.0 - 20.0 - 60.0);
    // The dart lies in it from 90 to 110 mm, the pleat (370 to 430 mm) does not.
    near(join(&d, "some").first_length.as_mm(), 300.0 - 20.0);
    near(join(&d, "none").first_length.as_mm(), 50.0);
    // Ten of the pleat's sixty millimetres lie in the first 38 cm.
    near(join(&d, "cut").first_length.as_mm(), 380.0 - 20.0 - 10.0);
    // An allowance of 3 mm has no notches: half of the edge is taken to have half of what darts take.
    near(join(&d, "unseen").first_length.as_mm(), 300.0 - 30.0);
}

#[test]
fn a_marked_line_may_be_a_side_of_a_join() {
    let d = design(
        "panel body { cut 1 of plain  shape box(width: 1 m, height: 2 m)  allow 12 mm  mark line belt from (30 cm, 50 cm) to (70 cm, 80 cm) }
         panel strip { cut 1 of plain  shape box(width: 50 cm, height: 10 cm)  allow 12 mm }
         seam set { join strip.foot to body.belt }",
    );
    let join = join(&d, "set");
    // 400 across and 300 up: 500.
    near(join.second_length.as_mm(), 500.0);
    assert_eq!(join.second[0].line.as_deref(), Some("belt"));
    assert_eq!(d.edge_name(&join.second[0]), "body.belt");
}

#[test]
fn a_tube_and_a_round_base_are_joined_edge_to_edge() {
    // A base 20 cm across: its rim is π × 200 mm, and the body is cut that wide.
    let d = design(
        "panel body { cut 1 of plain  shape box(width: pi * 20 cm, height: 30 cm)  allow 10 mm }
         panel base { cut 1 of plain  allow 10 mm
                      shape { start (20 cm, 10 cm)  edge rim arc to (0 cm, 10 cm) rise 10 cm then arc to start rise 10 cm } }
         seam side { join body.left to body.right }
         seam bottom { join body.foot to base.rim }",
    );
    near(seam(&d, "bottom").length.as_mm(), std::f64::consts::PI * 200.0);
    near(join(&d, "bottom").second_length.as_mm(), std::f64::consts::PI * 200.0);
    near(seam(&d, "side").length.as_mm(), 300.0);
}

const BAG: &str = "
panel batt { cut 1 of fluff  shape as shell  allow 12 mm }
seam bag {
  stack batt, outer face up, inner face down
  sew around
  with neat()
  opening 25 cm of outer.right starting 40% from foot between inner and outer
  close with shut()
}";

#[test]
fn a_stack_is_sewn_round_but_for_its_opening() {
    let d = design(&format!("{SHELL}{BAG}"));
    let bag = stack(&d, "bag");
    assert!(bag.around);
    assert_eq!(bag.edges, ["foot", "right", "head", "left"]);
    // 2 × (1000 + 2000) - 250.
    near(seam(&d, "bag").length.as_mm(), 5750.0);
    let faces: Vec<_> = bag.layers.iter().map(|l| (l.copy, l.face_up)).collect();
    assert_eq!(faces, [(None, None), (Some(0), Some(true)), (Some(1), Some(false))]);
    let opening = bag.opening.as_ref().unwrap();
    // 40 % of 2 m from the foot, where the right edge starts.
    near(opening.side.from.as_mm(), 800.0);
    near(opening.side.to.as_mm(), 1050.0);
    near(opening.distance.as_mm(), 800.0);
    assert_eq!((opening.from_end.as_str(), opening.between), ("foot", (1, 2)));
    let close = bag.close.as_ref().unwrap();
    assert_eq!((close.name.as_str(), close.rows), ("shut", 1));
    assert_eq!(seam(&d, "bag").finish.as_ref().map(|f| (f.name.as_str(), f.rows)), Some(("neat", 2)));
}

#[test]
fn an_opening_is_notched_at_both_ends() {
    let d = design(&format!("{SHELL}{BAG}"));
    let notches: Vec<_> = piece(&d, "shell").notches.iter().filter(|n| n.reason == NotchReason::Opening).collect();
    assert_eq!(notches.len(), 2);
    for (notch, at) in notches.iter().zip([800.0, 1050.0]) {
        near(notch.at.as_mm(), at);
        // On the cut line, 12 mm outside; 5 mm deep, which leaves more than 2 mm to the stitching.
        near(notch.point.x, 1012.0);
        near(notch.point.y, at);
        near(notch.inward.x, -1.0);
        near(notch.depth.as_mm(), 5.0);
    }
}

#[test]
fn edges_of_a_stack_stand_in_outline_order_whatever_order_they_are_named_in() {
    let d = design(&format!("{SHELL} seam sides {{ stack outer face up, inner face down  sew left, right, foot }}"));
    assert_eq!(stack(&d, "sides").edges, ["foot", "right", "left"]);
    assert!(!stack(&d, "sides").around);
    near(seam(&d, "sides").length.as_mm(), 5000.0);
}

#[test]
fn an_opening_in_the_middle_of_a_part_lies_there() {
    let d = design(
        "panel side { cut 2 of plain as a, b  shape box(width: 1 m, height: 2 m)  taper right by 20 cm over 80 cm from foot  allow 12 mm }
         seam round { stack a face up, b face down  sew around  opening 30 cm of b.right.straight at middle between a and b  close with shut() }",
    );
    let opening = stack(&d, "round").opening.as_ref().unwrap();
    let slant = (800.0f64.powi(2) + 200.0f64.powi(2)).sqrt();
    // The straight part runs from where the slanted one ends, 1200 mm on: its middle 300 begin 450 in.
    near(opening.side.from.as_mm(), slant + 450.0);
    near(opening.side.to.as_mm(), slant + 750.0);
    near(opening.distance.as_mm(), slant + 450.0);
    assert_eq!(opening.from_end, "foot");
}

#[test]
fn a_chain_may_hold_two_hundred_edges_and_stretches_that_touch() {
    let bits = |count: usize| {
        let one = |i: usize| format!("outer.left over 5 mm starting {} mm from foot", 5 * i);
        (0..count).map(one).collect::<Vec<_>>().join(" then ")
    };
    let codes = |count: usize| {
        let join = format!("join {} to inner.right over {} mm from foot", bits(count), 5 * count);
        let (_, problems, _) = worked(&format!("{SHELL} seam long {{ {join} }}"), None);
        problems.sorted().iter().filter(|d| d.severity == Severity::Error).map(|d| d.code).collect::<Vec<_>>()
    };
    assert_eq!(codes(200), [""; 0]);
    assert_eq!(codes(201), ["too-many"]);
}
