//! Pieces alone, and the order of the steps.

use super::*;

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
