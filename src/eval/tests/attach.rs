//! Where things lie on edges.

use super::{SHELL, attached, design, edge, errors, lies, near, on_edge, piece};
use crate::ir::{MarkShape, Place, Side};
use crate::quantity::Style;

fn shell(more: &str) -> crate::ir::Design {
    design(&format!("{SHELL}{more}"))
}

#[test]
fn a_place_is_the_middle_of_its_footprint_from_the_end_named() {
    // The left edge runs from head to foot, the right one from foot to head. The loop is 20 mm wide.
    let d = shell("attach a = loop() at 25 cm, 30% from head on outer.left  attach b = loop() at 25 cm from head on inner.right");
    let a = attached(&d, "a");
    lies(a[0], (240.0, 260.0), 250.0, "head");
    lies(a[1], (590.0, 610.0), 600.0, "head");
    assert_eq!((a[0].copy, a[0].number, a[1].number), (Some(0), 1, 2));
    let b = attached(&d, "b");
    lies(b[0], (1740.0, 1760.0), 250.0, "head");
    assert_eq!(b[0].copy, Some(1));
    // Depth: half of 80 mm less 12 mm of allowance.
    near(a[0].depth.as_mm(), 28.0);
    near(a[0].catches.as_mm(), 8.0);
    assert_eq!(a[0].side, Side::Face);
}

#[test]
fn lists_of_places_are_taken_apart() {
    let d = shell("let all = [10 cm, 1 m]  attach a = loop() at all, [50%], 5 cm from foot on outer.left");
    let a = attached(&d, "a");
    lies(a[0], (1890.0, 1910.0), 100.0, "foot");
    lies(a[1], (990.0, 1010.0), 1000.0, "foot");
    lies(a[2], (990.0, 1010.0), 1000.0, "foot");
    lies(a[3], (1940.0, 1960.0), 50.0, "foot");
}

#[test]
fn spaced_evenly_leaves_equal_gaps_to_both_ends() {
    let d = shell("attach a = loop() spaced 3 evenly on outer.left  attach b = loop() at middle on outer.head");
    let a = attached(&d, "a");
    for (loops, at) in a.iter().zip([500.0, 1000.0, 1500.0]) {
        lies(loops, (at - 10.0, at + 10.0), at, "head");
    }
    lies(attached(&d, "b")[0], (490.0, 510.0), 500.0, "right");
}

#[test]
fn spaced_every_gap_stops_before_the_far_end() {
    // 2000 / 300 is 6.67: six fit. 2000 / 500 is 4, and the fourth would be the end itself: three fit. A fifth of the edge leaves four.
    let d = shell(
        "attach a = loop() spaced every 30 cm from head on outer.left
         attach b = loop() spaced every 50 cm from foot on outer.left
         attach c = loop() spaced every 20% from foot on outer.right",
    );
    let a = attached(&d, "a");
    assert_eq!(a.len(), 6);
    lies(a[5], (1790.0, 1810.0), 1800.0, "head");
    let b = attached(&d, "b");
    assert_eq!(b.len(), 3);
    lies(b[2], (490.0, 510.0), 1500.0, "foot");
    let c = attached(&d, "c");
    assert_eq!(c.len(), 4);
    lies(c[0], (390.0, 410.0), 400.0, "foot");
}

/// The left edge drawn in by 20 cm over 40 % (80 cm) from the foot: √(800² + 200²) = 824.621 mm slanted, 1200 mm straight.
const TAPERED: &str = "
panel body { cut 1 of plain  shape box(width: 1 m, height: 2 m)  taper left by 20 cm over 40% from foot  allow 12 mm }
";

#[test]
fn distances_follow_the_tapered_edge_from_either_end() {
    let slant = (800.0f64.powi(2) + 200.0f64.powi(2)).sqrt();
    near(slant, 824.621_125);
    let whole = 1200.0 + slant;
    let d =
        design(&format!("{TAPERED} attach a = loop() at 10 cm from foot on body.left  attach b = loop() at 10 cm from head on body.left"));
    near(edge(&d, "body", "left").length.as_mm(), whole);
    lies(attached(&d, "a")[0], (whole - 110.0, whole - 90.0), 100.0, "foot");
    lies(attached(&d, "b")[0], (90.0, 110.0), 100.0, "head");
}

#[test]
fn a_part_is_measured_from_its_own_ends_and_told_from_those_of_the_edge() {
    let slant = (800.0f64.powi(2) + 200.0f64.powi(2)).sqrt();
    let whole = 1200.0 + slant;
    let d = design(&format!(
        "{TAPERED}
         attach a = loop() at 10 cm from head on body.left.tapered
         attach b = loop() at 10 cm from foot on body.left.tapered
         attach c = loop() at middle on body.left.tapered
         attach d = loop() at 10 cm from foot on body.left.straight
         attach e = band() along body.left.straight
         attach f = band() over 50% from head on body.left.tapered"
    ));
    // Ten centimetres below where the taper begins: 130 cm from the head.
    lies(attached(&d, "a")[0], (1290.0, 1310.0), 1300.0, "head");
    lies(attached(&d, "b")[0], (whole - 110.0, whole - 90.0), 100.0, "foot");
    lies(attached(&d, "c")[0], (1190.0 + slant / 2.0, 1210.0 + slant / 2.0), 1200.0 + slant / 2.0, "head");
    // Ten centimetres above it, from the end of the straight part that lies towards the foot.
    lies(attached(&d, "d")[0], (1090.0, 1110.0), whole - 1100.0, "foot");
    lies(attached(&d, "e")[0], (0.0, 1200.0), 0.0, "head");
    lies(attached(&d, "f")[0], (1200.0, 1200.0 + slant / 2.0), 1200.0, "head");
}

#[test]
fn tapers_from_both_ends_name_three_parts() {
    let d = design(
        "panel body {
           cut 1 of plain  shape box(width: 1 m, height: 2 m)  allow 12 mm
           taper left by 20 cm over 40 cm from foot
           taper left by 10 cm over 30 cm from head
         }
         attach a = loop() at 5 cm from head on body.left.tapered_foot
         attach b = loop() at 5 cm from foot on body.left.tapered_head",
    );
    let upper = (300.0f64.powi(2) + 100.0f64.powi(2)).sqrt();
    // The straight part is 2000 - 300 - 400 = 1300 long.
    lies(attached(&d, "a")[0], (upper + 1340.0, upper + 1360.0), upper + 1350.0, "head");
    let whole = edge(&d, "body", "left").length.as_mm();
    near(whole, upper + 1300.0 + (400.0f64.powi(2) + 200.0f64.powi(2)).sqrt());
    lies(attached(&d, "b")[0], (upper - 60.0, upper - 40.0), whole - (upper - 50.0), "foot");
}

#[test]
fn ends_keep_their_names_after_corners_are_rounded() {
    // A quarter circle of 20 cm takes 20 cm off the left edge: 1800 mm are left, and either name will do for that end.
    let d = design(
        "panel body { cut 1 of plain  shape box(width: 1 m, height: 2 m)  round corner head-left by 20 cm  allow 12 mm }
         attach a = loop() at 10 cm from head on body.left
         attach b = loop() at 10 cm from head_left on body.left
         attach c = loop() at middle on body.head_left",
    );
    near(edge(&d, "body", "left").length.as_mm(), 1800.0);
    lies(attached(&d, "a")[0], (90.0, 110.0), 100.0, "head");
    lies(attached(&d, "b")[0], (90.0, 110.0), 100.0, "head_left");
    let quarter = std::f64::consts::FRAC_PI_2 * 200.0;
    lies(attached(&d, "c")[0], (quarter / 2.0 - 10.0, quarter / 2.0 + 10.0), quarter / 2.0, "head");
}

#[test]
fn stretches_run_from_where_they_are_said_to_begin() {
    let d = shell(
        "attach a = band() over 45 cm starting 10 cm from foot on outer.left, outer.right
         attach b = band() over 25% at middle on outer.left
         attach c = band() over 1 m starting 50% from head on inner.left
         attach d = band() along inner.head",
    );
    let a = attached(&d, "a");
    lies(a[0], (1450.0, 1900.0), 100.0, "foot");
    lies(a[1], (100.0, 550.0), 100.0, "foot");
    lies(attached(&d, "b")[0], (750.0, 1250.0), 750.0, "head");
    // As long as what is left, to the last hair.
    lies(attached(&d, "c")[0], (1000.0, 2000.0), 1000.0, "head");
    lies(attached(&d, "d")[0], (0.0, 1000.0), 0.0, "right");
}

#[test]
fn halves_of_a_pair_know_each_other_and_its_goods_count_once() {
    let d = shell("attach s = snap() at 4 cm, 14 cm from head between outer.left and outer.right");
    let s = attached(&d, "s");
    assert_eq!(s.len(), 4);
    for (index, half) in s.iter().enumerate() {
        let pair = half.pair.as_ref().unwrap();
        let first = index % 2 == 0;
        assert_eq!((pair.half.as_str(), pair.first), if first { ("socket", true) } else { ("stud", false) });
        assert_eq!(d.attachments[pair.with.index()].pair.as_ref().unwrap().with.index(), index);
        assert_eq!(half.number, index as u32 / 2 + 1);
        assert_eq!(half.uses.len(), usize::from(first));
        assert_eq!(half.side, if first { Side::Back } else { Side::Face });
    }
    lies(s[0], (35.0, 45.0), 40.0, "head");
    lies(s[1], (1955.0, 1965.0), 40.0, "head");
    lies(s[2], (135.0, 145.0), 140.0, "head");
}

#[test]
fn what_a_line_says_of_sides_goes_before_the_component() {
    let d = shell("attach a = loop() at middle on outer.left facing back pointing out may cross corner, notch");
    let a = attached(&d, "a")[0];
    assert_eq!((a.side, a.points), (Side::Back, crate::ir::Pointing::Out));
    assert_eq!(a.may_cross, ["corner", "notch"]);
}

#[test]
fn corners_and_points_have_their_places() {
    let d = shell("attach a = badge() at corner head-left, foot-right on outer  attach b = badge() at (30 cm, 40 cm) on inner");
    let a = attached(&d, "a");
    let corners: Vec<(f64, f64)> = a
        .iter()
        .map(|a| match &a.place {
            Place::Corner { at, .. } => (at.x, at.y),
            other => panic!("{other:?}"),
        })
        .collect();
    assert_eq!(corners, [(0.0, 2000.0), (1000.0, 0.0)]);
    assert!(matches!(&attached(&d, "b")[0].place, Place::Point { at, .. } if (at.x, at.y) == (300.0, 400.0)));
}

#[test]
fn marks_say_what_is_set_where_and_on_which_copies() {
    let d = shell(
        "attach a = loop() at 25 cm from head on outer.left, inner.left
         attach b = loop() at 60 cm from foot on inner.right
         attach s = snap() at 4 cm from head between outer.left and outer.right",
    );
    let marks: Vec<(String, Vec<u32>)> =
        piece(&d, "shell").marks.iter().map(|m| (m.text.worded(Style::METRIC), m.copies.clone())).collect();
    let expected = [
        ("a 25 cm from head", vec![0, 1]),
        ("b 60 cm from foot", vec![1]),
        ("s socket 40 mm from head", vec![0]),
        ("s stud 40 mm from head", vec![0]),
    ];
    assert_eq!(marks, expected.map(|(text, copies)| (text.to_owned(), copies)));
    let MarkShape::OnEdge { at, inward, .. } = &piece(&d, "shell").marks[0].shape else { panic!() };
    assert_eq!((at.x, at.y), (0.0, 1750.0));
    near(inward.x, 1.0);
}

#[test]
fn an_empty_list_sets_nothing_and_asks_for_nothing() {
    let d = shell("attach a = loop() at [] from head on outer.left  attach b = loop() at middle on outer.left");
    assert_eq!(attached(&d, "a").len(), 0);
    assert_eq!(d.operations.iter().filter(|o| o.name == "a").count(), 0);
    assert_eq!(d.operations.iter().filter(|o| o.name == "b").count(), 3);
}

#[test]
fn what_stands_under_a_when_is_there_when_it_holds() {
    let d = shell(
        "param loops = yes
         when loops { attach a = loop() at middle on outer.left } else { attach a = badge() at middle on outer.left }
         when not loops { attach b = loop() at middle on outer.right }",
    );
    assert_eq!(attached(&d, "a")[0].component, "loop");
    assert_eq!(attached(&d, "b").len(), 0);
}

#[test]
fn everything_that_is_wrong_is_said_at_once() {
    let wrong = "
        attach a = loop() at 3 m from head on outer.left, outer.right
        attach b = loop() at 10 cm from left on outer.right
        attach c = band() over 3 m from head on outer.left
        attach d = badge() at (3 m, 1 m) on outer
        seam e { join outer.left over 0 mm from head to inner.left }
        quilt f { layers outer  lines parallel to head every 3 m }";
    let found = errors(&format!("{SHELL}{wrong}"));
    let expected = ["place-past-edge", "unknown-edge-end", "stretch-past-edge", "mark-outside", "stretch-of-nothing", "gap-too-wide"];
    let mut seen = found.clone();
    seen.dedup();
    assert_eq!(seen, expected);
    assert_eq!(found.iter().filter(|c| **c == "place-past-edge").count(), 2, "one for each edge");
}

#[test]
fn places_can_be_asked_where_they_come_from() {
    let d = shell("param drop = 20 cm  let low = drop + 5 cm  attach a = loop() at low from head on outer.left");
    let fact = |name: &str| d.provenance.facts.iter().find(|f| f.name == name).unwrap_or_else(|| panic!("no {name}")).why;
    let mut open = vec![fact("a.1")];
    let mut found = Vec::new();
    while let Some(id) = open.pop() {
        found.push(id);
        open.extend(d.provenance.nodes[id.index()].inputs.iter().copied());
    }
    for name in ["low", "drop", "shell.left"] {
        assert!(found.contains(&fact(name)), "{name} is behind it");
    }
    assert_eq!(on_edge(attached(&d, "a")[0]).2, 250.0);
}

#[test]
fn one_cord_runs_along_edges_in_a_row() {
    let halves = "panel sheet { cut 1 of plain  shape box(width: 100 cm, height: 80 cm)  allow 10 mm  finish head with hem()
                    split middle from (60 cm, 0 cm) to (60 cm, 80 cm) as port, starboard }
                  seam joining { join port.middle to starboard.middle }";
    // 60 and 40 cm, and 20 cm over, once; with a comma each has its own.
    let d = design(&format!("{halves} attach draw = cord() along port.head then starboard.head"));
    let draw = attached(&d, "draw");
    assert_eq!(draw.iter().map(|a| a.uses.len()).collect::<Vec<_>>(), [1, 0]);
    assert_eq!(draw[0].uses[0].amount, crate::ir::Amount::Length(crate::quantity::Length::mm(1200.0)));
    assert_eq!((draw[0].one_with, draw[1].one_with), (None, Some(crate::ir::AttachmentId(0))));
    lies(draw[1], (0.0, 400.0), 0.0, "right");
    let d = design(&format!("{halves} attach draw = cord() along port.head, starboard.head"));
    assert_eq!(attached(&d, "draw").iter().map(|a| a.uses.len()).collect::<Vec<_>>(), [1, 1]);
    let found = errors(&format!("{halves} attach draw = cord() along port.head then starboard.foot"));
    assert_eq!(found, ["chain-apart"]);
}
