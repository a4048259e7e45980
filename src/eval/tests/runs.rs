//! Edges that one strip finishes together.

use super::{design_beside, edge, near, operation, operations, piece, worked_beside};
use crate::ir::{Amount, Design, OperationKind};
use crate::quantity::Style;

const TAPED: &str = r#"
finish taped() {
  allow 0 mm
  encloses raw edges
  stitch lockstitch 3 mm at 5 mm
  uses stretch + 4 cm of tape
  prepare "Cut {stretch + 4 cm} of tape"
  sew "Wrap it round"
}
finish by_length() {
  let long = when stretch > 1 m then 20 mm else 10 mm
  allow 15 mm
  encloses raw edges
  when long > 15 mm { sew "In two goes" } else { sew "In one" }
}
"#;

fn tape(design: &Design, of: &str, name: &str) -> Vec<f64> {
    let finish = edge(design, of, name).finish.as_ref().expect("it is finished");
    finish.uses.iter().map(|u| if let Amount::Length(l) = u.amount { l.as_mm() } else { f64::NAN }).collect()
}

/// 1000 by 600, one corner rounded by 200: 800 along the foot, 100 π round the corner, 400 up the right.
#[test]
fn edges_that_meet_smoothly_are_bound_with_one_strip() {
    let d = design_beside(
        TAPED,
        "panel mat { cut 1 of plain  shape box(width: 1 m, height: 60 cm)  round corner foot-right by 20 cm
           finish foot, foot_right, right with taped()  finish head with taped()  raw left because \"so\" }",
    );
    let run = 800.0 + 100.0 * std::f64::consts::PI + 400.0;
    let used = tape(&d, "mat", "foot");
    assert_eq!(used.len(), 1);
    near(used[0], run + 40.0);
    assert!(tape(&d, "mat", "foot_right").is_empty() && tape(&d, "mat", "right").is_empty(), "the strip is one");
    near(tape(&d, "mat", "head")[0], 1040.0);
    let told: Vec<String> = operations(&d, OperationKind::Hem, "mat").iter().map(|(_, o)| o.what.worded(Style::METRIC)).collect();
    assert_eq!(told.len(), 2, "{told:?}");
    assert!(told[0].starts_with("Finish foot, foot_right and right in one of mat: Cut 155.4 cm of tape"), "{told:?}");
    near(operations(&d, OperationKind::Hem, "mat")[0].1.sewn.as_mm(), run);
}

/// A run may begin at any edge of the outline, corners break it, and so does another line of the source.
#[test]
fn corners_and_other_lines_end_a_strip() {
    let d = design_beside(
        TAPED,
        "panel mat { cut 1 of plain  shape box(width: 1 m, height: 60 cm)  round corner left-foot, foot-right by 20 cm
           finish left, left_foot, foot with taped()  finish foot_right, right, head with taped() }",
    );
    let quarter = 100.0 * std::f64::consts::PI;
    near(tape(&d, "mat", "left")[0], 400.0 + quarter + 600.0 + 40.0);
    near(tape(&d, "mat", "foot_right")[0], quarter + 400.0 + 40.0);
    near(tape(&d, "mat", "head")[0], 1040.0);
    assert_eq!(piece(&d, "mat").edges.iter().filter(|e| !e.finish.as_ref().expect("bound").uses.is_empty()).count(), 3);
}

/// All round: one strip, and its ends meet. Two half circles with one fold between them are a ring of two edges.
#[test]
fn a_strip_that_goes_all_round_has_its_ends_joined() {
    let d = design_beside(
        TAPED,
        "panel mat { cut 1 of plain
           shape { start (0 mm, 0 mm)
             edge low  arc to (40 cm, 0 mm) rise 20 cm
             edge high arc to start rise 20 cm }
           finish low, high with taped() }
         panel lid { cut 1 of plain  shape disc(across: 40 cm)  finish rim with taped() }",
    );
    let around = 400.0 * std::f64::consts::PI;
    let used: Vec<f64> = [tape(&d, "mat", "low"), tape(&d, "mat", "high")].concat();
    assert_eq!(used.len(), 1);
    near(used[0], around + 40.0);
    near(tape(&d, "lid", "rim")[0], around + 40.0);
    for name in ["mat", "lid"] {
        let told = operation(&d, OperationKind::Hem, name).1.what.worded(Style::METRIC);
        assert!(told.contains("all the way round"), "{told}");
    }
}

/// What a finish asks for its words only is no reason for its allowance: the length at that time is not yet the edge's own.
#[test]
fn lengths_before_drafting_are_no_reason_for_an_allowance() {
    let items = "panel mat { cut 1 of plain  shape box(width: 120 cm, height: 60 cm)  round corner foot-right by 20 cm
                   finish foot, foot_right, right, head, left with by_length() }";
    let (design, _, _) = worked_beside(TAPED, items, None);
    let design = design.expect("it is worked out");
    let why = edge(&design, "mat", "foot").why_allowance;
    let mut open = vec![why];
    while let Some(id) = open.pop() {
        let step = design.provenance.node(id).expect("a step");
        assert!(!step.what.contains("stretch"), "{} = {:?}", step.what, step.number);
        open.extend(step.inputs.iter().copied());
    }
}
