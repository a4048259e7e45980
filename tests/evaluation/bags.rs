//! Bags that close, and what is left to turn them through.

use super::{compiled, told};

const WALLS: &str =
    "panel wall { cut 2 of plain as front, back  shape rectangle(width: 30 cm, height: 20 cm)  allow 10 mm  grain along left }";

fn reports(items: &str) -> String {
    told(&compiled(&format!("{WALLS}\n{items}")))
}

fn edge_by_edge(together: &str, last: &str) -> String {
    let join =
        |edge: &str, more: &str| format!("seam at_{edge} {{ join front.{edge} to back.{edge}  {together}  with overlocked()  {more} }}\n");
    join("left", "") + &join("foot", "") + &join("right", "") + &join("head", last)
}

#[test]
fn two_panels_joined_all_round_need_an_opening() {
    let told = reports(&edge_by_edge("faces together", ""));
    assert!(told.contains("no-opening") && told.contains("`at_head` sews `front` and `back` shut"), "{told}");
    let open = "opening 12 cm of front.head at middle  close with edgestitch()";
    let told = reports(&edge_by_edge("faces together", open));
    assert!(!told.contains("no-opening"), "{told}");
}

#[test]
fn what_is_not_turned_needs_none() {
    for together in ["backs together", "lapped"] {
        let told = reports(&edge_by_edge(together, ""));
        assert!(!told.contains("no-opening"), "{told}");
    }
}

#[test]
fn an_edge_left_open_is_a_way_out() {
    let sides = "seam sides { stack front, back  sew left, foot, right  with overlocked() }";
    let told = reports(&format!("{sides} seam mouth {{ join front.head to back.head  faces together  with overlocked() }}"));
    assert!(told.contains("no-opening"), "{told}");
    // 15 of 30 cm of the mouth stay open.
    let told = reports(&format!(
        "{sides} seam mouth {{ join front.head over 15 cm from left to back.head over 15 cm from left  faces together  with overlocked() }}"
    ));
    assert!(!told.contains("no-opening"), "{told}");
    // The work goes out through a hole in a piece as well.
    let hole = edge_by_edge("faces together", "").replace("front.", "lid.");
    let told = reports(&format!(
        "panel lid {{ cut 1 of plain  shape rectangle(width: 30 cm, height: 20 cm)  allow 10 mm  grain along left
           hole way = circle(diameter: 10 cm) at (15 cm, 10 cm) }} {hole}"
    ));
    assert!(!told.contains("no-opening"), "{told}");
}

/// Cautions of a design.
fn cautions(items: &str) -> Vec<String> {
    super::design(items).cautions.iter().map(|c| c.worded(lapfell::quantity::Style::METRIC)).collect()
}

#[test]
fn what_closes_round_a_body_or_lies_on_a_child_says_so() {
    let tube = |height: &str| {
        cautions(&format!(
            "panel body {{ cut 1 of plain  shape rectangle(width: 150 cm, height: {height})  allow 10 mm  finish head, foot with rolled_hem()  grain along left }}
             seam side {{ join body.left to body.right  faces together  with overlocked() }}"
        ))
    };
    let long = tube("190 cm");
    assert!(long.iter().any(|c| c.contains("open from inside")) && long.iter().any(|c| c.contains("over your face")), "{long:?}");
    assert!(tube("40 cm").is_empty(), "a sack is no bag to lie in");
}
