//! Places that meet, with figures worked out by hand.

use super::*;
use crate::ir::sample::{Sample, mm};
use crate::ir::{Joint, Layer, MaterialKind, Pair, Stack, joints_apart};

fn meetings(s: &Sample) -> Meetings<'_> {
    Meetings::of(&s.design.pieces, &s.design.seams, &s.design.attachments)
}

fn cloth(s: &mut Sample, name: &str, size: (f64, f64)) -> PieceId {
    let material = s.material(name, MaterialKind::Cloth);
    s.rectangle(name, material, size, 10.0)
}

fn pin(piece: PieceId, (x, y): (f64, f64)) -> Pin {
    Pin { piece, copy: None, at: Point::new(x, y) }
}

/// Where else a place comes to lie.
fn elsewhere(s: &Sample, from: Pin) -> Vec<(u32, Option<u32>, f64, f64)> {
    let round = |v: f64| (v * 100.0).round() / 100.0;
    let brought = meetings(s).brought(from);
    brought.iter().skip(1).map(|b| (b.pin.piece.0, b.pin.copy, round(b.pin.at.x), round(b.pin.at.y))).collect()
}

fn chain(s: &mut Sample, name: &str, first: &[EdgeSide], second: &[EdgeSide]) -> SeamId {
    let (Some(a), Some(b)) = (first.first(), second.first()) else { panic!("a chain has edges") };
    let seam = s.join(name, a.clone(), b.clone());
    s.join_mut(seam).first = first.to_vec();
    s.join_mut(seam).second = second.to_vec();
    seam
}

#[test]
fn a_left_edge_meets_a_right_one_head_at_head() {
    let mut s = Sample::new("x", "X");
    let (a, b) = (cloth(&mut s, "a", (300.0, 500.0)), cloth(&mut s, "b", (200.0, 500.0)));
    let (left, right) = (s.side(a, None, "left"), s.side(b, None, "right"));
    s.join("side", left, right);
    assert_eq!(elsewhere(&s, pin(a, (0.0, 500.0))), [(b.0, None, 200.0, 500.0)]);
    assert_eq!(elsewhere(&s, pin(a, (0.0, 0.0))), [(b.0, None, 200.0, 0.0)]);
    // A place within the edge too, and one beside it not.
    assert_eq!(elsewhere(&s, pin(a, (0.0, 120.0))), [(b.0, None, 200.0, 120.0)]);
    assert_eq!(elsewhere(&s, pin(a, (300.0, 500.0))), []);
}

#[test]
fn mirrored_copies_meet_in_edges_of_one_name() {
    let mut s = Sample::new("x", "X");
    let a = cloth(&mut s, "a", (300.0, 500.0));
    s.copies(a, &[("sunny", false), ("shady", true)]);
    let (one, other) = (s.side(a, Some(0), "head"), s.side(a, Some(1), "head"));
    s.join("ridge", one, other);
    let at = |copy, x| Pin { piece: a, copy: Some(copy), at: Point::new(x, 500.0) };
    assert_eq!(elsewhere(&s, at(0, 300.0)), [(a.0, Some(1), 300.0, 500.0)]);
    // Cut alike, one lies head to foot on the other.
    s.copies(a, &[("sunny", false), ("shady", false)]);
    assert_eq!(elsewhere(&s, at(0, 300.0)), [(a.0, Some(1), 0.0, 500.0)]);
}

#[test]
fn ease_is_shared_out() {
    let mut s = Sample::new("x", "X");
    let (a, b) = (cloth(&mut s, "a", (300.0, 500.0)), cloth(&mut s, "b", (200.0, 600.0)));
    let (left, right) = (s.side(a, None, "left"), s.side(b, None, "right"));
    s.join("side", left, right);
    assert_eq!(elsewhere(&s, pin(a, (0.0, 100.0))), [(b.0, None, 200.0, 120.0)]);
}

#[test]
fn layers_of_a_stack_lie_on_each_other() {
    let mut s = Sample::new("x", "X");
    let wall = cloth(&mut s, "wall", (300.0, 500.0));
    s.copies(wall, &[("front", false), ("back", false)]);
    let origin = s.span();
    let layer = |copy, up| Layer { piece: wall, copy: Some(copy), face_up: Some(up), origin };
    let edges = ["foot", "right", "left"].map(str::to_owned).to_vec();
    let stack = Stack { layers: vec![layer(0, true), layer(1, false)], edges, around: false, opening: None, close: None };
    s.seam("bag", SeamForm::Stack(stack), 1300.0);
    let at = |x, y| Pin { piece: wall, copy: Some(0), at: Point::new(x, y) };
    // The back is turned over: its right lies on the front's left.
    assert_eq!(elsewhere(&s, at(0.0, 0.0)), [(wall.0, Some(1), 300.0, 0.0)]);
    assert_eq!(elsewhere(&s, at(0.0, 500.0)), [(wall.0, Some(1), 300.0, 500.0)]);
    assert_eq!(elsewhere(&s, at(100.0, 500.0)), []);
}

#[test]
fn a_zipper_brings_its_edges_together_and_tapes_that_open_do_not() {
    let mut s = Sample::new("x", "X");
    let (a, b) = (cloth(&mut s, "a", (300.0, 500.0)), cloth(&mut s, "b", (300.0, 500.0)));
    let (left, right) = (s.side(a, None, "left"), s.side(b, None, "right"));
    // 400 mm from the foot: on the left edge, which runs down from the head, that is from 100 to 500.
    let first = s.attach("zip", &left, (100.0, 500.0), true);
    let second = s.attach("zip", &right, (0.0, 400.0), true);
    for (half, with, is_first) in [(first, second, true), (second, first, false)] {
        s.attachment(half).pair = Some(Pair { half: "half".into(), first: is_first, with });
    }
    assert_eq!(elsewhere(&s, pin(a, (0.0, 0.0))), [(b.0, None, 300.0, 0.0)]);
    assert_eq!(elsewhere(&s, pin(a, (0.0, 400.0))), [(b.0, None, 300.0, 400.0)]);
    assert_eq!(elsewhere(&s, pin(a, (0.0, 500.0))), []);
    for half in [first, second] {
        s.attachment(half).catches = mm(0.0);
    }
    assert_eq!(elsewhere(&s, pin(a, (0.0, 0.0))), []);
}

#[test]
fn pieces_of_one_panel_meet_along_its_split() {
    let mut s = Sample::new("x", "X");
    let material = s.material("cloth", MaterialKind::Cloth);
    let port = s.rectangle("port", material, (300.0, 500.0), 10.0);
    let corners = [(300.0, 0.0, "foot"), (700.0, 0.0, "right"), (700.0, 500.0, "head"), (300.0, 500.0, "middle")];
    let starboard = s.piece("starboard", material, &corners, 10.0, (420.0, 520.0, 420.0 * 520.0));
    for piece in [port, starboard] {
        s.piece_mut(piece).split_from = Some("sheet".into());
    }
    assert_eq!(elsewhere(&s, pin(port, (300.0, 500.0))), [(starboard.0, None, 300.0, 500.0)]);
    assert_eq!(elsewhere(&s, pin(port, (0.0, 500.0))), []);
}

/// Two strips of 1,300 and 1,100 mm, and two of 1,200, each pair sewn end to end, then the one pair to the other.
fn two_pairs() -> (Sample, SeamId) {
    let mut s = Sample::new("x", "X");
    let (port, starboard) = (cloth(&mut s, "port", (1300.0, 200.0)), cloth(&mut s, "starboard", (1100.0, 200.0)));
    let (near, far) = (cloth(&mut s, "near", (1200.0, 200.0)), cloth(&mut s, "far", (1200.0, 200.0)));
    let heads = [port, starboard, near, far].map(|p| s.side(p, None, "head"));
    let [a, b, c, d] = heads;
    // Stated before the seams it needs.
    let seam = chain(&mut s, "neck", &[a, b], &[c, d]);
    for (one, other) in [((port, "right"), (starboard, "left")), ((near, "left"), (far, "right"))] {
        let (one, other) = (s.side(one.0, None, one.1), s.side(other.0, None, other.1));
        s.join("end", one, other);
    }
    (s, seam)
}

#[test]
fn joints_come_to_lie_by_length() {
    let (s, seam) = two_pairs();
    let found = meetings(&s);
    assert_eq!(found.apart, []);
    let chained = found.chained.first().expect("the chain");
    assert_eq!((chained.seam, &chained.needs), (seam, &vec![By::Seam(SeamId(1)), By::Seam(SeamId(2))]));
    // Face to face the right end of `near` lies on the left end of `port`. So the joint of the first pair, 1,300 from there, is
    // 100 past the joint of the second, and that lies 1,200 along the 1,300 of `port`.
    let told: Vec<(u32, f64, String)> =
        joints_apart(&chained.sides).into_iter().map(|j| (j.on.piece.0, j.distance.round(), j.from_end)).collect();
    assert_eq!(told, [(3, 100.0, "right".to_owned()), (0, 1200.0, "left".to_owned())]);
}

#[test]
fn joints_that_meet_are_not_told() {
    let (mut s, seam) = two_pairs();
    let narrower = s.side(PieceId(0), None, "head");
    s.join_mut(seam).first = vec![EdgeSide { from: mm(100.0), ..narrower }, s.side(PieceId(1), None, "head")];
    let found = meetings(&s);
    // 100 mm less at its far end, the left one; the head runs from right to left, so it now starts wrong.
    assert_eq!(found.chained.len(), 0);
    let whole = s.side(PieceId(0), None, "head");
    s.join_mut(seam).first = vec![EdgeSide { to: mm(1200.0), ..whole }, s.side(PieceId(1), None, "head")];
    let other = s.side(PieceId(3), None, "head");
    s.join_mut(seam).second = vec![s.side(PieceId(2), None, "head"), EdgeSide { to: mm(1100.0), ..other }];
    let found = meetings(&s);
    let chained = found.chained.first().expect("the chain");
    assert_eq!(joints_apart(&chained.sides), Vec::<Joint>::new());
}

#[test]
fn a_chain_written_from_its_other_end_is_the_same_chain() {
    let (mut s, seam) = two_pairs();
    let other_way: Vec<EdgeSide> = s.join_mut(seam).second.iter().rev().cloned().collect();
    s.join_mut(seam).second = other_way;
    let found = meetings(&s);
    let chained = found.chained.first().expect("the chain");
    let told: Vec<f64> = joints_apart(&chained.sides).iter().map(|j| j.distance.round()).collect();
    assert_eq!(told, [100.0, 1200.0]);
}

#[test]
fn a_chain_that_nothing_links_says_where() {
    let (mut s, seam) = two_pairs();
    s.design.seams.pop();
    let found = meetings(&s);
    let (of, apart) = found.apart.first().expect("a chain apart");
    assert_eq!((*of, apart.second, apart.index, apart.ends.len()), (seam, true, 0, 2));
    // What a chain brings together itself is no link of its own.
    assert_eq!(found.chained.len(), 0);
}

#[test]
fn a_chain_may_lean_on_a_chain() {
    let (mut s, _) = two_pairs();
    let (top, side) = (cloth(&mut s, "top", (2400.0, 300.0)), cloth(&mut s, "side", (300.0, 300.0)));
    // The top lies along the foot of the first pair, and at its end another piece lies on both of them.
    let feet = [0, 1].map(|p| s.side(PieceId(p), None, "foot"));
    let [a, b] = feet;
    let head = s.side(top, None, "head");
    let first = chain(&mut s, "along", &[a, b], &[head]);
    let (down, on) = (s.side(PieceId(0), None, "left"), s.side(top, None, "left"));
    let long = s.side(side, None, "right");
    let second = chain(&mut s, "end", &[down, on], &[long]);
    let found = meetings(&s);
    let of = |seam| found.chained.iter().find(|c| c.seam == seam).map(|c| c.needs.clone());
    assert_eq!(of(first), Some(vec![By::Seam(SeamId(1))]));
    assert_eq!(of(second), Some(vec![By::Seam(first)]));
}

#[test]
fn a_ring_of_two_is_walked_as_its_first_edge_is_drawn() {
    let mut s = Sample::new("x", "X");
    let (a, b) = (cloth(&mut s, "a", (300.0, 500.0)), cloth(&mut s, "b", (300.0, 500.0)));
    let rim = cloth(&mut s, "rim", (600.0, 100.0));
    for (one, other) in [("left", "right"), ("right", "left")] {
        let (one, other) = (s.side(a, None, one), s.side(b, None, other));
        s.join("side", one, other);
    }
    let (first, second, head) = (s.side(a, None, "foot"), s.side(b, None, "foot"), s.side(rim, None, "head"));
    chain(&mut s, "rim", &[first, second], &[head]);
    let found = meetings(&s);
    let sides = &found.chained.first().expect("the chain").sides;
    assert_eq!(sides.iter().flatten().map(|r| r.along).collect::<Vec<_>>(), [true, true, false]);
    // A foot is drawn from left to right, and the rim's head is walked against its own: so the side seam of `a` at its right
    // comes half-way along, from the left of the rim.
    let told: Vec<(f64, String)> = joints_apart(sides).into_iter().map(|j| (j.distance.round(), j.from_end)).collect();
    assert_eq!(told, [(300.0, "left".to_owned())]);
}

#[test]
fn what_a_dart_takes_is_not_walked() {
    let mut s = Sample::new("x", "X");
    let (a, b) = (cloth(&mut s, "a", (300.0, 500.0)), cloth(&mut s, "b", (200.0, 460.0)));
    s.edge_mut(a, "left").sewn_length = mm(460.0);
    // The dart takes 40 mm, from 100 to 140 down from the head.
    for at in [100.0, 140.0] {
        let origin = s.span();
        let notch = crate::ir::sample::notch(EdgeId(3), at, origin);
        s.piece_mut(a).notches.push(crate::ir::Notch { reason: crate::ir::NotchReason::Fold, ..notch });
    }
    let (left, right) = (s.side(a, None, "left"), s.side(b, None, "right"));
    s.join("side", left, right);
    // 300 down from the head of `a`, with 40 of it in the dart, is 260 down from the head of `b`: 200 from its foot.
    assert_eq!(elsewhere(&s, pin(a, (0.0, 200.0))), [(b.0, None, 200.0, 200.0)]);
    assert_eq!(elsewhere(&s, pin(b, (200.0, 200.0))), [(a.0, None, 0.0, 200.0)]);
    // Above the dart both count alike.
    assert_eq!(elsewhere(&s, pin(b, (200.0, 400.0))), [(a.0, None, 0.0, 440.0)]);
}

#[test]
fn a_chain_goes_on_across_a_short_slit() {
    let across = |open: f64| {
        let mut s = Sample::new("x", "X");
        let (a, b) = (cloth(&mut s, "a", (300.0, 500.0)), cloth(&mut s, "b", (300.0, 500.0)));
        let band = cloth(&mut s, "band", (600.0, 50.0));
        let (right, left) = (s.side(a, None, "right"), s.side(b, None, "left"));
        // The right edge runs up to the head, the left one down from it.
        let seam = s.join("side", EdgeSide { to: mm(500.0 - open), ..right }, EdgeSide { from: mm(open), ..left });
        let heads = [a, b].map(|p| s.side(p, None, "head"));
        let long = s.side(band, None, "foot");
        chain(&mut s, "rim", &heads, &[long]);
        // A foot is not where the slit is.
        let wrong = [s.side(a, None, "head"), s.side(b, None, "foot")];
        let long = s.side(band, None, "head");
        let never = chain(&mut s, "never", &wrong, &[long]);
        let found = meetings(&s);
        assert!(found.apart.iter().any(|(s, _)| *s == never));
        found.chained.first().map(|c| c.needs.clone()) == Some(vec![By::Seam(seam)])
    };
    assert_eq!([0.0, 24.0, 60.0, 80.0].map(across), [true, true, true, false]);
}
