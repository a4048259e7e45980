//! Layers sewn and turned.

use super::*;

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
