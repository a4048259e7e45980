//! The sample designs are clean; each change below breaks one thing, and only that is found.

use super::check;
use crate::diagnostic::{Diagnostic, Problems, Severity};
use crate::geometry::{Path, Point};
use crate::ir::sample::{QuiltIds, Sample, finish, mm, notch, quilt, tarp};
use crate::ir::*;
use crate::quantity::{Angle, Style};

fn found(design: &Design) -> Vec<Diagnostic> {
    let mut problems = Problems::default();
    check(design, &mut problems);
    problems.sorted().into_iter().cloned().collect()
}

fn codes(design: &Design) -> Vec<&'static str> {
    found(design).iter().map(|d| d.code).collect()
}

/// The one thing found, which must have this code.
fn only(design: &Design, code: &str) -> Diagnostic {
    let all = found(design);
    let [one] = all.as_slice() else { panic!("not one thing: {all:#?}") };
    assert_eq!(one.code, code, "{one:#?}");
    assert!(one.labels.iter().all(|l| !l.span.is_empty()), "a place without text: {one:#?}");
    assert!(one.help.is_some());
    one.clone()
}

fn says(found: &Diagnostic, figures: &[&str]) {
    let words = std::iter::once(&found.headline).chain(found.labels.iter().map(|l| &l.text)).chain(&found.help);
    let told: Vec<String> = words.map(|w| w.read_in(Style::METRIC)).collect();
    for figure in figures {
        assert!(told.iter().any(|t| t.contains(figure)), "nothing says {figure}: {told:#?}");
    }
}

/// A pouch: two walls stacked face to face and sewn on three sides, a zipper between their heads.
fn pouch() -> (Sample, PieceId, [AttachmentId; 2], SeamId) {
    let mut s = Sample::new("wren", "Wren, a pouch");
    let cloth = s.material("cloth", MaterialKind::Cloth);
    s.goods(cloth).one_sided = true;
    s.goods(cloth).width = Some(mm(1500.0));
    let zip = s.material("zip", MaterialKind::Zipper);
    let wall = s.rectangle("wall", cloth, (260.0, 150.0), 10.0);
    s.copies(wall, &[("front", false), ("back", false)]);
    let heads = [s.side(wall, Some(0), "head"), s.side(wall, Some(1), "head")];
    let halves = heads.map(|head| s.attach("zipper", &head, (0.0, 260.0), true));
    for (id, other, first) in [(halves[0], halves[1], true), (halves[1], halves[0], false)] {
        s.attachment(id).pair = Some(Pair { half: if first { "left_half" } else { "right_half" }.into(), first, with: other });
    }
    s.uses(halves[0], zip, Amount::Length(mm(310.0)));
    s.operation("zipper", OperationKind::SewOn, Subject::Attachment(halves[0]), "Sew it on.");
    let origin = s.span();
    let layers = vec![
        Layer { piece: wall, copy: Some(0), face_up: Some(true), origin },
        Layer { piece: wall, copy: Some(1), face_up: Some(false), origin },
    ];
    let edges = ["left", "foot", "right"].map(String::from).to_vec();
    let stack = Stack { layers, edges, around: false, opening: None, close: None };
    let sides = s.seam("sides", SeamForm::Stack(stack), 560.0);
    s.seam_mut(sides).finish = Some(finish("overlocked", 6.0, true, origin));
    (s, wall, halves, sides)
}

/// A tube: a body joined to itself, its mouth hemmed, its foot eased round a square base.
fn sack() -> (Sample, PieceId, PieceId, [SeamId; 2]) {
    let mut s = Sample::new("acorn", "Acorn, a sack");
    let cloth = s.material("cloth", MaterialKind::Cloth);
    s.goods(cloth).width = Some(mm(1500.0));
    let body = s.rectangle("body", cloth, (600.0, 400.0), 16.0);
    let base = s.rectangle("base", cloth, (150.0, 150.0), 16.0);
    let origin = s.span();
    let hem = EdgeFinish {
        name: "casing_hem".into(),
        folds: vec![mm(0.0), mm(18.0)],
        encloses: true,
        stitch: None,
        stitch_at: mm(16.0),
        rows: 1,
        uses: Vec::new(),
        casing_for: None,
        origin,
    };
    s.edge_mut(body, "head").finish = Some(hem);
    let (left, right) = (s.side(body, None, "left"), s.side(body, None, "right"));
    // The top 24 mm stay open for the cord.
    let door = |side: EdgeSide, from: f64, to: f64| EdgeSide { from: mm(from), to: mm(to), ..side };
    let side = s.join("side", door(left, 24.0, 400.0), door(right, 0.0, 376.0));
    let foot = s.side(body, None, "foot");
    let round = ["foot", "right", "head", "left"].map(|e| s.side(base, None, e));
    let bottom = s.join("bottom", foot, round[0].clone());
    let join = s.join_mut(bottom);
    join.second = round.to_vec();
    join.second_length = mm(600.0);
    for seam in [side, bottom] {
        s.seam_mut(seam).finish = Some(finish("felled", 16.0, true, origin));
    }
    (s, body, base, [side, bottom])
}

#[test]
fn sensible_designs_pass() {
    for design in [quilt().0.design, tarp().0.design, pouch().0.design, sack().0.design] {
        assert_eq!(found(&design), Vec::new(), "{}", design.name);
    }
    assert_eq!(codes(&Sample::new("nothing", "Nothing").design), Vec::<&str>::new());
}

// ------------------------------------------------------------------------ Places

fn edge_place(
    s: &mut Sample,
    id: AttachmentId,
) -> (&mut crate::quantity::Length, &mut crate::quantity::Length, &mut crate::quantity::Length) {
    match &mut s.attachment(id).place {
        Place::Edge { from, to, distance, .. } => (from, to, distance),
        other => panic!("{other:?}"),
    }
}

fn move_to(s: &mut Sample, id: AttachmentId, at: f64, wide: f64) {
    let (from, to, distance) = edge_place(s, id);
    (*from, *to, *distance) = (mm(at - wide / 2.0), mm(at + wide / 2.0), mm(at));
}

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

// ------------------------------------------------------------------------- Pairs

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

// ------------------------------------------------------------------------- Joins

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

// ------------------------------------------------------------------------ Stacks

fn stack(ids: QuiltIds, s: &mut Sample) -> &mut Stack {
    s.stack_mut(ids.bag)
}

#[test]
fn a_stack_of_one() {
    let (mut s, _, _, sides) = pouch();
    s.stack_mut(sides).layers.pop();
    let all = codes(&s.design);
    assert!(all.contains(&"too-few-layers"), "{all:?}");
}

#[test]
fn sewn_all_round_inside_out() {
    let (mut s, ids) = quilt();
    stack(ids, &mut s).opening = None;
    let all = codes(&s.design);
    assert_eq!(all.iter().filter(|c| **c == "no-opening").count(), 1, "{all:?}");
    // Bound round the edge with its faces out, it needs none.
    let (mut s, ids) = quilt();
    let layers = &mut stack(ids, &mut s).layers;
    layers.swap(0, 1);
    for (layer, up) in layers.iter_mut().zip([Some(false), None, Some(true)]) {
        layer.face_up = up;
    }
    stack(ids, &mut s).opening = None;
    assert_eq!(codes(&s.design), ["raw-edge-exposed"]);
    let origin = s.span();
    s.seam_mut(ids.bag).finish = Some(finish("bound_seam", 10.0, true, origin));
    assert_eq!(codes(&s.design), Vec::<&str>::new());
}

#[test]
fn an_opening_between_layers_that_do_not_touch() {
    let (mut s, ids) = quilt();
    if let Some(opening) = &mut stack(ids, &mut s).opening {
        opening.between = (0, 2);
    }
    says(&only(&s.design, "opening-between-layers"), &["between `batt` and `inner`, but `outer` lies between them"]);
    if let Some(opening) = &mut stack(ids, &mut s).opening {
        opening.between = (1, 1);
    }
    says(&only(&s.design, "opening-between-layers"), &["which are one layer"]);
}

#[test]
fn batting_turned_out() {
    let (mut s, ids) = quilt();
    if let Some(opening) = &mut stack(ids, &mut s).opening {
        opening.between = (0, 1);
    }
    let all = found(&s.design);
    let inside_out: Vec<_> = all.iter().filter(|d| d.code == "inside-out").collect();
    // The batt, and the outer whose back is next to it.
    assert_eq!(inside_out.len(), 2, "{all:#?}");
    says(inside_out.first().expect("two"), &["the batting `batt` ends outside", "`between outer and inner`"]);
    // Now the loops lie on the far side as well.
    assert!(all.iter().any(|d| d.code == "points-inside"));
}

#[test]
fn batting_in_the_middle_of_the_stack() {
    let (mut s, ids) = quilt();
    stack(ids, &mut s).layers.swap(0, 1);
    let all = found(&s.design);
    let one = all.iter().find(|d| d.code == "inside-out").expect("batting outside");
    says(one, &["`batt` ends outside", "Lay `batt` first or last"]);
}

#[test]
fn the_back_turned_out() {
    let (mut s, ids) = quilt();
    for layer in &mut stack(ids, &mut s).layers {
        layer.face_up = layer.face_up.map(|_| true);
    }
    let one = only(&s.design, "inside-out");
    says(&one, &["the back of `inner` ends outside", "`inner face down`"]);
    // Cloth alike on both sides has no back.
    s.goods(ids.skin).one_sided = false;
    assert_eq!(codes(&s.design), Vec::<&str>::new());
}

#[test]
fn openings_in_wrong_places() {
    let (mut s, ids) = quilt();
    let open = |s: &mut Sample, from: f64, to: f64| {
        if let Some(opening) = &mut s.stack_mut(ids.bag).opening {
            opening.side.from = mm(from);
            opening.side.to = mm(to);
        }
    };
    open(&mut s, 800.0, 900.0);
    let one = only(&s.design, "opening-short");
    assert_eq!(one.severity, Severity::Warning);
    says(&one, &["an opening of 10 cm is narrow for turning `bag`, batting and all", "15 cm or more"]);
    open(&mut s, 800.0, 950.0);
    assert_eq!(codes(&s.design), Vec::<&str>::new());
    for side in ["left", "right"] {
        let edge = s.edge_mut(ids.shell, side);
        edge.path = Path::new(edge.path.start).arc_to(edge.path.end(), 0.05);
    }
    assert_eq!(codes(&s.design), ["opening-on-curve"]);
}

#[test]
fn an_opening_in_no_seam() {
    let (mut s, wall, _, sides) = pouch();
    let origin = s.span();
    let head = s.side(wall, Some(0), "head");
    let side = EdgeSide { from: mm(80.0), to: mm(180.0), ..head };
    s.stack_mut(sides).opening = Some(Opening { side, distance: mm(80.0), from_end: "right".into(), between: (0, 1), origin });
    says(&only(&s.design, "opening-not-sewn"), &["on `front.head`, which that seam does not sew"]);
}

#[test]
fn layers_that_do_not_match() {
    let (mut s, ids) = quilt();
    s.copies(ids.shell, &[("outer", false)]);
    s.piece_mut(ids.shell).copies = vec![Copy { name: None, mirrored: false }];
    let lining = s.piece(
        "lining",
        ids.skin,
        &[(210.0, 0.0, "foot"), (1100.0, 0.0, "right"), (1300.0, 2000.0, "head"), (0.0, 2000.0, "left")],
        10.0,
        (1.0, 1.0, 1.0),
    );
    for a in &mut s.design.attachments {
        a.copy = None;
    }
    let layers = &mut stack(ids, &mut s).layers;
    for (layer, piece) in layers.iter_mut().zip([ids.batt, ids.shell, lining]) {
        (layer.piece, layer.copy) = (piece, None);
    }
    if let Some(opening) = &mut stack(ids, &mut s).opening {
        opening.side.copy = None;
    }
    let all = found(&s.design);
    assert!(all.iter().all(|d| d.code == "layers-differ"), "{all:#?}");
    says(all.first().expect("the foot"), &["`shell.foot` is 90 cm", "`lining.foot` is 89 cm"]);
    s.edge_mut(lining, "foot").name = "bottom".into();
    says(
        &found(&s.design).into_iter().find(|d| d.headline.read_in(Style::METRIC).contains("has no edge")).expect("it lacks one"),
        &["`lining` has no edge `foot`"],
    );
}

#[test]
fn copies_cut_alike_that_lie_as_left_and_right() {
    let (mut s, wall, _, _) = pouch();
    // A wall with one slanting side: 260 wide at the foot, 230 at the head.
    let skew = [(0.0, 0.0, "foot"), (260.0, 0.0, "right"), (230.0, 150.0, "head"), (0.0, 150.0, "left")];
    let made = s.piece("skew", MaterialId(0), &skew, 10.0, (280.0, 170.0, 1.0));
    let edges = s.piece_mut(made).edges.clone();
    s.design.pieces.pop();
    s.piece_mut(wall).edges = edges;
    s.design.attachments.clear();
    s.edge_mut(wall, "head").raw_because = Some("for this test".into());
    says(&only(&s.design, "needs-mirrored-pair"), &["`front` and `back` are cut alike, but `sides`"]);
    s.copies(wall, &[("front", false), ("back", true)]);
    assert_eq!(codes(&s.design), Vec::<&str>::new());
}

#[test]
fn loops_that_end_inside() {
    let (mut s, ids) = quilt();
    s.attachment(ids.loops[0]).points = Pointing::Out;
    says(&only(&s.design, "points-inside"), &["`loops` at 25 cm from head ends inside once `bag` is turned", "`pointing in`"]);
    let (mut s, ids) = quilt();
    s.attachment(ids.loops[0]).side = Side::Back;
    says(&only(&s.design, "points-inside"), &["lies on the back, away from the opening"]);
    // Elastic that is zigzagged down inside is not caught, and may lie there.
    s.attachment(ids.loops[0]).catches = mm(0.0);
    assert_eq!(codes(&s.design), Vec::<&str>::new());
    // On a seam that is not turned through an opening nothing is known of inside and outside.
    let (mut s, _, _, _) = pouch();
    let left = s.side(PieceId(0), Some(0), "left");
    let tag = s.attach("tag", &left, (50.0, 65.0), false);
    s.attachment(tag).points = Pointing::Out;
    assert_eq!(codes(&s.design), Vec::<&str>::new());
}

// ------------------------------------------------------------------------ Pieces

#[test]
fn an_edge_that_nothing_uses() {
    let (mut s, _, halves, _) = pouch();
    for id in halves {
        s.attachment(id).place = Place::Point { at: Point::default(), why: TraceId(0) };
    }
    // Open on both walls, it is told once.
    let one = only(&s.design, "edge-unused");
    says(&one, &["nothing is done with `wall.head`"]);
    s.edge_mut(PieceId(0), "head").raw_because = Some("the selvedge".into());
    assert_eq!(codes(&s.design), Vec::<&str>::new());
    let (mut s, half, _) = tarp();
    s.edge_mut(half, "foot").finish = None;
    says(&only(&s.design, "edge-unused"), &["`half.foot`"]);
    let (mut s, _, _, sides) = pouch();
    s.stack_mut(sides).edges.retain(|e| e != "left");
    // The back lies face down: its right is under the front's left.
    let told: Vec<_> = found(&s.design).into_iter().map(|d| d.headline.read_in(Style::METRIC)).collect();
    assert_eq!(told.len(), 2, "{told:?}");
    assert!(told.iter().any(|t| t.contains("`front.left`")) && told.iter().any(|t| t.contains("`back.right`")), "{told:?}");
}

#[test]
fn a_piece_that_nothing_uses() {
    let (mut s, _, _, _) = pouch();
    s.rectangle("spare", MaterialId(0), (100.0, 100.0), 10.0);
    says(&only(&s.design, "panel-unused"), &["`spare` is cut and then never sewn"]);
    // A component's strip is its own affair; a hemmed square is a design by itself.
    let (mut s, _, _, _) = pouch();
    s.rectangle("draw.strip", MaterialId(0), (100.0, 100.0), 10.0);
    assert_eq!(codes(&s.design), Vec::<&str>::new());
    let (mut s, wall, _, _) = pouch();
    s.copies(wall, &[("front", false), ("back", false), ("spare", false)]);
    says(&only(&s.design, "panel-unused"), &["`spare`"]);
}

#[test]
fn a_piece_wider_than_its_cloth() {
    let (mut s, ids) = quilt();
    s.goods(ids.skin).width = Some(mm(1340.0));
    // 1322.1 (the sample's cut line is its box) on 1340 − 30.
    let one = only(&s.design, "wider-than-cloth");
    says(&one, &["`shell` is 132.2 cm across the roll, and `skin` gives 131 cm", "12.1 mm too wide", "2 pieces of 67.1 cm"]);
    // Laid any way it fits no better: its box is 1322.1 × 2020. With a grain that may turn, it still is.
    s.goods(ids.skin).direction = Direction::Any;
    only(&s.design, "wider-than-cloth");
    // A shorter piece may lie crosswise, and the help says so.
    let (mut s, half, _) = tarp();
    let corners = [(0.0, 0.0), (1600.0, 0.0), (1600.0, 1000.0), (0.0, 1000.0)].map(|(x, y)| Point::new(x, y));
    s.piece_mut(half).cut_line = Path::polygon(&corners).expect("a box");
    says(&only(&s.design, "wider-than-cloth"), &["Turned a quarter it is 100 cm across and fits"]);
    s.piece_mut(half).grain.angle = Some(Angle::radians(0.0));
    assert_eq!(codes(&s.design), Vec::<&str>::new());
    s.piece_mut(half).grain.angle = None;
    assert_eq!(codes(&s.design), Vec::<&str>::new());
    s.goods(MaterialId(0)).direction = Direction::OneWay;
    assert_eq!(only(&s.design, "grain-any-on-one-way").severity, Severity::Warning);
}

#[test]
fn a_patch_that_hangs_over() {
    let (mut s, half, _) = tarp();
    let patch = s.rectangle("patch", MaterialId(0), (200.0, 200.0), 8.0);
    let origin = s.span();
    let edges = (0..4).map(EdgeId).collect();
    let sewn = finish("edgestitch", 6.0, true, origin);
    let applied = Applied {
        piece: patch,
        onto: half,
        onto_copy: Some(0),
        at: Point::new(300.0, 300.0),
        edges,
        finish: sewn,
        length: mm(800.0),
        origin,
    };
    s.design.applied.push(applied);
    assert_eq!(codes(&s.design), Vec::<&str>::new());
    if let Some(applied) = s.design.applied.first_mut() {
        applied.at = Point::new(-30.0, 300.0);
    }
    says(&only(&s.design, "patch-past-edge"), &["`patch` hangs 30 mm over the edge of `sunny`"]);
    if let Some(applied) = s.design.applied.first_mut() {
        applied.at = Point::new(300.0, 300.0);
        applied.finish.needs = mm(10.0);
        applied.edges.pop();
    }
    assert_eq!(codes(&s.design), ["edge-unused", "allowance-too-narrow-for-finish"]);
}

// ------------------------------------------------------------------------- Order

#[test]
fn steps_that_wait_for_each_other() {
    let (mut s, _) = quilt();
    let id = |n| OperationId(n);
    // The stack waits for the closing, which waits for turning, which waits for the stack.
    s.after(id(2), id(0), "an added step says so");
    let one = only(&s.design, "order-cycle");
    assert_eq!(one.labels.len(), 3);
    says(&one, &["close `bag` waits for turn `bag` waits for sew the stack `bag` waits for close `bag`", "because an added step says so"]);
}

#[test]
fn a_long_chain_of_steps_is_no_ring_and_no_trouble() {
    let mut s = Sample::new("long", "Long");
    let mut last = s.operation("0", OperationKind::Extra, Subject::Whole, "0");
    for n in 1..20_000 {
        let next = s.operation("n", OperationKind::Extra, Subject::Whole, "n");
        s.after(next, last, "it says so");
        if n % 2 == 0 {
            s.after(next, OperationId(0), "it says so");
        }
        last = next;
    }
    assert_eq!(codes(&s.design), Vec::<&str>::new());
}

// ------------------------------------------------------------------- Everything

#[test]
fn every_code_is_listed_once() {
    let mut codes = super::CODES.to_vec();
    codes.sort_unstable();
    codes.dedup();
    assert_eq!(codes.len(), super::CODES.len());
}

#[test]
fn a_design_of_thousands_of_parts_is_checked_in_a_while() {
    let mut s = Sample::new("many", "Many");
    let cloth = s.material("cloth", MaterialKind::Cloth);
    s.goods(cloth).one_sided = true;
    let names: Vec<String> = (0..400).map(|n| format!("e{n}")).collect();
    let corner = |n: usize| (n as f64 / 400.0 * std::f64::consts::TAU).sin_cos();
    let corners: Vec<(f64, f64, &str)> =
        names.iter().enumerate().map(|(n, e)| (2000.0 * corner(n).1, 2000.0 * corner(n).0, e.as_str())).collect();
    let round = s.piece("round", cloth, &corners, 10.0, (4000.0, 4000.0, 1.0));
    s.copies(round, &[("a", false), ("b", false), ("c", false), ("d", false)]);
    let origin = s.span();
    let layers = (0..4).map(|c| Layer { piece: round, copy: Some(c), face_up: Some(c % 2 == 0), origin }).collect();
    let stack = Stack { layers, edges: names.iter().skip(1).cloned().collect(), around: false, opening: None, close: None };
    s.seam("all", SeamForm::Stack(stack), 1.0);
    for name in &names {
        let side = s.side(round, Some(0), name);
        s.attach("tab", &side, (2.0, 22.0), false);
        s.attach("tag", &side, (12.0, 27.0), false);
    }
    let all = codes(&s.design);
    assert_eq!(all.iter().filter(|c| **c == "attachments-collide").count(), 400);
    // The edge left out, and on the two that lie face down the one that lies on it.
    assert_eq!(all.iter().filter(|c| **c == "edge-unused").count(), 4);
}

proptest::proptest! {
    #![proptest_config(proptest::prelude::ProptestConfig::with_cases(64))]
    /// Whatever figures a design holds, nothing that reads it panics or hangs.
    #[test]
    fn odd_figures_break_nothing(which in 0usize..12, odd in proptest::sample::select(vec![f64::NAN, f64::INFINITY, -1.0, 0.0, 1e300, -1e9])) {
        let (mut s, ids) = quilt();
        let length = mm(odd);
        match which {
            0 => s.goods(ids.skin).width = Some(length),
            1 => s.goods(ids.skin).mass = Some(odd),
            2 => s.edge_mut(ids.shell, "left").length = length,
            3 => s.edge_mut(ids.shell, "left").sewn_length = length,
            4 => s.edge_mut(ids.shell, "left").allowance = length,
            5 => move_to(&mut s, ids.loops[0], odd, odd),
            6 => s.piece_mut(ids.shell).cut_line.start = Point::new(odd, odd),
            7 => s.piece_mut(ids.shell).grain = Grain { angle: Some(Angle::radians(odd)), within: Angle::radians(odd), origin: Default::default() },
            8 => s.op(OperationId(2)).sewn = length,
            9 => s.op(OperationId(2)).stitch = Some(Stitch { kind: StitchKind::Zigzag, length }),
            10 => if let Some(opening) = &mut s.stack_mut(ids.bag).opening { opening.side.from = length },
            _ => s.edge_mut(ids.shell, "left").path.start = Point::new(odd, odd),
        }
        let _ = codes(&s.design);
        let report = crate::analysis::materials::materials(&s.design);
        let page = crate::export::text::materials(&s.design, &report, crate::quantity::Style::INCH);
        proptest::prop_assert!(!page.is_empty());
        let order = crate::analysis::order::order(&s.design);
        proptest::prop_assert!(!crate::export::text::order(&s.design, &order, crate::quantity::Style::INCH).is_empty());
    }
}
