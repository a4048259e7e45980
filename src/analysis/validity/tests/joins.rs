//! Edges sewn to each other.

use super::*;

#[test]
fn edges_of_different_lengths() {
    let (mut s, _, _, [_, bottom]) = sack();
    s.join_mut(bottom).second_length = mm(612.0);
    let one = only(&s.design, "lengths-differ");
    // 12 mm more on 600 is 2 %.
    says(&one, &["differ by 12 mm", "61.2 cm", "`body.foot` is 60 cm", "say `ease 2%`"]);
    assert_eq!(one.labels.len(), 3);
    s.join_mut(bottom).ease = Some(0.02);
    assert_eq!(codes(&s.design), Vec::<&str>::new());
    s.join_mut(bottom).ease = Some(0.01);
    says(&only(&s.design, "lengths-differ"), &["The ease stated, 1%, is not enough"]);
    s.join_mut(bottom).ease = None;
    s.join_mut(bottom).second_length = mm(600.4);
    assert_eq!(codes(&s.design), Vec::<&str>::new());
    // 100 mm on 600 is past easing: 1.17 times.
    s.join_mut(bottom).second_length = mm(700.0);
    says(&only(&s.design, "lengths-differ"), &["say `gather 1.17`"]);
}

#[test]
fn more_ease_than_cloth_takes() {
    let (mut s, _, _, [_, bottom]) = sack();
    s.join_mut(bottom).second_length = mm(624.0);
    s.join_mut(bottom).ease = Some(0.04);
    let one = only(&s.design, "ease-high");
    assert_eq!(one.severity, Severity::Warning);
    says(&one, &["24 mm into a shorter edge, 4% of it", "clip"]);
    s.join_mut(bottom).second_length = mm(690.0);
    s.join_mut(bottom).ease = Some(0.15);
    says(&only(&s.design, "ease-high"), &["say `gather`"]);
    // Ease stated and not used is nobody's trouble.
    s.join_mut(bottom).second_length = mm(606.0);
    assert_eq!(codes(&s.design), Vec::<&str>::new());
}

#[test]
fn gathering_to_another_ratio() {
    let (mut s, _, _, [_, bottom]) = sack();
    s.join_mut(bottom).first_length = mm(900.0);
    s.join_mut(bottom).gather = Some(1.5);
    assert_eq!(codes(&s.design), Vec::<&str>::new());
    s.join_mut(bottom).gather = Some(2.0);
    says(&only(&s.design, "gather-differs"), &["2 to 1", "is 1.50 to 1", "`body.foot` 120 cm long"]);
}

#[test]
fn a_finish_that_needs_more() {
    let (mut s, half, _) = tarp();
    s.edge_mut(half, "ridge").allowance = mm(12.0);
    let one = only(&s.design, "allowance-too-narrow-for-finish");
    says(&one, &["`felled` in `ridge` needs an allowance of 15 mm, and `sunny.ridge` has 12 mm"]);
    // Stacks and their closings too.
    let (mut s, ids) = quilt();
    let origin = s.span();
    s.seam_mut(ids.bag).finish = Some(finish("bagged", 12.0, true, origin));
    only(&s.design, "allowance-too-narrow-for-finish");
    s.seam_mut(ids.bag).finish = None;
    s.stack_mut(ids.bag).close = Some(finish("edgestitch", 11.0, true, origin));
    says(&only(&s.design, "allowance-too-narrow-for-finish"), &["`outer.right` has 10 mm"]);
}

#[test]
fn raw_edges_that_do_not_lie_level() {
    let (mut s, body, _, [side, _]) = sack();
    s.edge_mut(body, "left").allowance = mm(20.0);
    // Felled, one is folded round the other.
    assert_eq!(codes(&s.design), Vec::<&str>::new());
    let origin = s.span();
    s.seam_mut(side).finish = Some(finish("topstitched", 8.0, false, origin));
    let one = only(&s.design, "allowances-differ");
    says(&one, &["20 mm (`body.left`) on one of 16 mm (`body.right`)"]);
    s.join_mut(side).together = Together::Lapped;
    assert_eq!(codes(&s.design), Vec::<&str>::new());
    // In a stack, batting may be cut as it likes; cloth may not.
    let (mut s, ids) = quilt();
    s.edge_mut(ids.batt, "head").allowance = mm(0.0);
    assert_eq!(codes(&s.design), Vec::<&str>::new());
}

#[test]
fn an_edge_in_two_seams() {
    let (mut s, wall, _, _) = pouch();
    let (a, b) = (s.side(wall, Some(0), "left"), s.side(wall, Some(0), "head"));
    let mut extra = s.join("extra", a, b);
    let origin = s.span();
    s.seam_mut(extra).finish = Some(finish("overlocked", 6.0, true, origin));
    s.join_mut(extra).second_length = mm(150.0);
    if let Some(side) = s.join_mut(extra).second.first_mut() {
        side.to = mm(150.0);
    }
    let one = only(&s.design, "edge-sewn-twice");
    says(&one, &["15 cm of `front.left` is sewn in two seams, `sides` and `extra`"]);
    s.design.seams.pop();
    let c = s.side(wall, Some(0), "head");
    extra = s.join("extra", c.clone(), c);
    s.seam_mut(extra).finish = Some(finish("overlocked", 6.0, true, origin));
    says(&only(&s.design, "edge-sewn-twice"), &["`extra` joins `front.head` to itself"]);
}

#[test]
fn raw_edges_in_view() {
    let (mut s, _, _, [side, _]) = sack();
    s.seam_mut(side).finish = None;
    says(&only(&s.design, "raw-edge-exposed"), &["`side`", "felled"]);
    let (mut s, _, _, sides) = pouch();
    s.seam_mut(sides).finish = None;
    only(&s.design, "raw-edge-exposed");
    // Inside a quilt nobody sees them: a shell in two parts joined down its middle.
    let (mut s, ids) = quilt();
    let strip = s.rectangle("strip", ids.skin, (500.0, 100.0), 10.0);
    for edge in ["foot", "right", "left"] {
        s.edge_mut(strip, edge).raw_because = Some("for this test".into());
    }
    let (a, b) = (s.side(strip, None, "head"), s.side(ids.batt, None, "head"));
    let mend = s.join("mend", a, b);
    s.join_mut(mend).second_length = mm(500.0);
    assert_eq!(codes(&s.design), ["edge-sewn-twice"]);
}

#[test]
fn notches_must_meet() {
    let (mut s, wall, _, _) = pouch();
    let lid = s.rectangle("lid", MaterialId(0), (260.0, 100.0), 10.0);
    for edge in ["foot", "right", "left"] {
        s.edge_mut(lid, edge).raw_because = Some("for this test".into());
    }
    s.design.attachments.clear();
    let (a, b) = (s.side(wall, Some(0), "head"), s.side(lid, None, "head"));
    let hinge = s.join("hinge", a.clone(), b.clone());
    let origin = s.span();
    s.seam_mut(hinge).finish = Some(finish("felled", 10.0, true, origin));
    s.edge_mut(wall, "head").raw_because = Some("the back's head, for this test".into());
    let set = |s: &mut Sample, places: [f64; 2]| {
        let (one, other) = (s.span(), s.span());
        s.piece_mut(wall).notches = vec![notch(a.edge, places[0], one)];
        s.piece_mut(lid).notches = vec![notch(b.edge, places[1], other)];
    };
    // Heads laid face to face run against each other: 60 from the start of one is 200 from the start of the other.
    set(&mut s, [60.0, 200.0]);
    assert_eq!(codes(&s.design), Vec::<&str>::new());
    set(&mut s, [60.0, 60.0]);
    let one = only(&s.design, "notches-differ");
    says(&one, &["60 mm from right on `front.head`, 20 cm on `lid.head`"]);
    // A mirrored copy runs along.
    s.copies(wall, &[("front", true), ("back", true)]);
    assert_eq!(codes(&s.design), Vec::<&str>::new());
}

#[test]
fn halves_cut_alike() {
    let (mut s, half, _) = tarp();
    s.copies(half, &[("sunny", false), ("shady", false)]);
    let one = only(&s.design, "needs-mirrored-pair");
    says(&one, &["`sunny` and `shady` are cut alike", "cut 2 mirrored"]);
    // Cloth that is alike on both sides can be turned over.
    s.goods(MaterialId(0)).one_sided = false;
    assert_eq!(codes(&s.design), Vec::<&str>::new());
}
