//! Where attachments lie, and halves that belong together.

use super::*;

#[test]
fn two_loops_in_one_place() {
    let (mut s, ids) = quilt();
    move_to(&mut s, ids.loops[1], 260.0, 15.0);
    let one = only(&s.design, "attachments-collide");
    // 242.5 … 257.5 and 252.5 … 267.5 share 5 mm.
    says(&one, &["5 mm of `outer.left`", "`loops` at 25 cm from head", "`loops` at 26 cm from head"]);
    assert_eq!(one.severity, Severity::Error);
    s.attachment(ids.loops[0]).may_cross.push("attachment".into());
    assert_eq!(codes(&s.design), Vec::<&str>::new());
}

#[test]
fn side_by_side_is_no_collision() {
    let (mut s, ids) = quilt();
    move_to(&mut s, ids.loops[1], 265.0, 15.0);
    assert_eq!(codes(&s.design), Vec::<&str>::new());
    // Nor is another copy's edge, nor a cord through a casing that is there.
    let inner = s.side(ids.shell, Some(1), "right");
    s.attach("tag", &inner, (500.0, 520.0), false);
    let outer = s.side(ids.shell, Some(0), "left");
    let cord = s.attach("draw", &outer, (0.0, 500.0), true);
    s.attachment(cord).depth = mm(0.0);
    s.attachment(cord).catches = mm(0.0);
    assert_eq!(codes(&s.design), Vec::<&str>::new());
}

#[test]
fn a_loop_across_the_corner() {
    let (mut s, ids) = quilt();
    move_to(&mut s, ids.loops[0], 3.0, 15.0);
    let one = only(&s.design, "past-end");
    says(&one, &["4.5 mm past the end of `outer.left`", "meets head", "201 cm long"]);
    s.attachment(ids.loops[0]).may_cross.push("corner".into());
    assert_eq!(codes(&s.design), Vec::<&str>::new());
}

#[test]
fn a_stretch_longer_than_its_edge() {
    let (mut s, _, halves, _) = pouch();
    for id in halves {
        *edge_place(&mut s, id).1 = mm(280.0);
    }
    let all = found(&s.design);
    assert_eq!(all.iter().map(|d| d.code).collect::<Vec<_>>(), ["past-end", "past-end"]);
    says(all.first().expect("two"), &["`zipper` reaches 20 mm past the end of `front.head`, where it meets left"]);
}

#[test]
fn a_loop_where_the_bag_is_turned() {
    let (mut s, ids) = quilt();
    let right = s.side(ids.shell, Some(0), "right");
    let tag = s.attach("tag", &right, (1090.0, 1110.0), false);
    let one = only(&s.design, "in-opening");
    says(&one, &["`tag` at 110 cm from foot", "with 10 mm of it", "turning opening of `bag`"]);
    s.attachment(tag).may_cross.push("opening".into());
    assert_eq!(codes(&s.design), Vec::<&str>::new());
}

#[test]
fn the_opening_is_open_on_every_layer() {
    // The inner shell is cut like the outer and lies face down: its left lies on the outer's right, running the other way.
    let (mut s, ids) = quilt();
    let length = s.side(ids.shell, None, "left").to.as_mm();
    let left = s.side(ids.shell, Some(1), "left");
    s.attach("tag", &left, (length - 1000.0, length - 980.0), false);
    says(&only(&s.design, "in-opening"), &["`inner.left` is left open here"]);
    // Cut as a mirrored pair, its right does.
    let (mut s, ids) = quilt();
    s.copies(ids.shell, &[("outer", false), ("inner", true)]);
    let right = s.side(ids.shell, Some(1), "right");
    s.attach("tag", &right, (980.0, 1000.0), false);
    says(&only(&s.design, "in-opening"), &["`inner.right` is left open here"]);
}

#[test]
fn a_loop_over_a_notch() {
    let (mut s, ids) = quilt();
    let left = s.side(ids.shell, Some(0), "left");
    let origin = s.span();
    s.piece_mut(ids.shell).notches.push(notch(left.edge, 600.0, origin));
    let one = only(&s.design, "across-notch");
    assert_eq!(one.severity, Severity::Warning);
    says(&one, &["`loops` at 60 cm from head covers the notch of `outer.left` at 60 cm from head"]);
    s.attachment(ids.loops[1]).may_cross.push("notch".into());
    assert_eq!(codes(&s.design), Vec::<&str>::new());
}

#[test]
fn a_seam_too_narrow_to_hold_a_loop() {
    let (mut s, ids) = quilt();
    s.attachment(ids.loops[0]).catches = mm(15.0);
    let one = only(&s.design, "caught-too-shallow");
    assert_eq!(one.severity, Severity::Error);
    says(&one, &["can catch 10 mm of `loops` at 25 cm from head, which needs 15 mm"]);

    let (mut s, ids) = quilt();
    for edge in ["foot", "right", "head", "left"] {
        s.edge_mut(ids.shell, edge).allowance = mm(6.0);
        s.edge_mut(ids.batt, edge).allowance = mm(6.0);
    }
    for id in ids.loops.into_iter().chain(ids.zipper) {
        s.attachment(id).catches = mm(6.0);
    }
    // The loops, told once, and not the zipper: half of its visible tape is all it needs.
    let one = only(&s.design, "caught-too-shallow");
    assert_eq!(one.severity, Severity::Warning);
    says(&one, &["catches only 6 mm of `loops`"]);
}

#[test]
fn cords_near_a_neck() {
    let (mut s, ids) = quilt();
    let cord = s.material("string", MaterialKind::Cord);
    let head = s.side(ids.shell, Some(0), "head");
    let casing = s.attach("neck_cord", &head, (0.0, 1300.0), true);
    s.uses(casing, cord, Amount::Length(mm(1460.0)));
    let one = only(&s.design, "cord-near-neck");
    assert_eq!(one.severity, Severity::Warning);
    says(&one, &["`neck_cord` puts a cord, `string`, along `outer.head`", "child", "Local rules"]);
    // The head of a sack is no neck; a hood is one on anything.
    let (mut s, body, ..) = sack();
    let cord = s.material("string", MaterialKind::Cord);
    let mouth = s.side(body, None, "head");
    let draw = s.attach("draw", &mouth, (0.0, 600.0), true);
    s.attachment(draw).catches = mm(0.0);
    s.uses(draw, cord, Amount::Length(mm(800.0)));
    assert_eq!(codes(&s.design), Vec::<&str>::new());
    s.edge_mut(body, "head").name = "hood_front".into();
    only(&s.design, "cord-near-neck");
}

#[test]
fn halves_of_different_lengths() {
    let (mut s, ids) = quilt();
    *edge_place(&mut s, ids.zipper[1]).1 = mm(440.0);
    let one = only(&s.design, "pair-lengths-differ");
    says(&one, &["45 cm on `outer.left`, 44 cm on `outer.right`", "10 mm longer"]);
}

#[test]
fn halves_on_top_of_each_other() {
    let (mut s, ids) = quilt();
    let place = s.attachment(ids.zipper[0]).place.clone();
    s.attachment(ids.zipper[1]).place = place;
    says(&only(&s.design, "pair-on-one-edge"), &["both halves of `zip` lie on the same stretch of `outer.left`"]);
}

#[test]
fn halves_sewn_to_each_other() {
    let (mut s, _, halves, sides) = pouch();
    s.stack_mut(sides).edges.push("head".into());
    let one = only(&s.design, "pair-in-one-seam");
    says(&one, &["`front.head` and `back.head` are sewn to each other"]);
    // Joined edges count too.
    s.stack_mut(sides).edges.pop();
    let heads = [s.side(PieceId(0), Some(0), "head"), s.side(PieceId(0), Some(1), "head")];
    let [a, b] = heads;
    let lid = s.join("lid", a, b);
    let origin = s.span();
    s.seam_mut(lid).finish = Some(finish("overlocked", 6.0, true, origin));
    says(&only(&s.design, "pair-in-one-seam"), &["`lid`"]);
    // What is not caught, as a snap, may well sit on edges that are sewn together.
    for id in halves {
        s.attachment(id).catches = mm(0.0);
    }
    assert_eq!(codes(&s.design), Vec::<&str>::new());
}

#[test]
fn halves_that_do_not_meet_level() {
    let (mut s, ids) = quilt();
    let right = s.side(ids.shell, Some(0), "right");
    let left = s.side(ids.shell, Some(0), "left");
    let a = s.attach("snap", &left, (1000.0, 1012.0), false);
    let b = s.attach("snap", &right, (700.0, 712.0), false);
    s.attachment(a).pair = Some(Pair { half: "socket".into(), first: true, with: b });
    s.attachment(b).pair = Some(Pair { half: "stud".into(), first: false, with: a });
    s.attachment(b).number = 1;
    for (id, at) in [(a, 706.0), (b, 709.0)] {
        if let Place::Edge { distance, from_end, .. } = &mut s.attachment(id).place {
            *distance = mm(at);
            *from_end = "foot".into();
        }
    }
    let one = only(&s.design, "pair-not-level");
    assert_eq!(one.severity, Severity::Warning);
    says(&one, &["70.6 cm from foot on `outer.left`, 70.9 cm from foot on `outer.right`", "3 mm apart"]);
    *edge_place(&mut s, b).2 = mm(707.5);
    assert_eq!(codes(&s.design), Vec::<&str>::new());
}

#[test]
fn a_zipper_with_a_twist_and_snaps_that_look_one_way() {
    let (mut s, ids) = quilt();
    s.attachment(ids.zipper[1]).side = Side::Back;
    let all = found(&s.design);
    // Turned over, the half also lies on the wrong side of its layer.
    assert_eq!(all.iter().map(|d| d.code).collect::<Vec<_>>(), ["zipper-twisted", "points-inside"]);
    let (mut s, ids) = quilt();
    for id in ids.zipper {
        s.attachment(id).uses.clear();
        s.attachment(id).symbol = Symbol::Ring;
        s.attachment(id).catches = mm(0.0);
    }
    says(&only(&s.design, "snaps-face-alike"), &["both halves of `zip` open to the face"]);
    s.attachment(ids.zipper[0]).side = Side::Back;
    assert_eq!(codes(&s.design), Vec::<&str>::new());
}
