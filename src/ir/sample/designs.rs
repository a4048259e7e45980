//! Designs made of the parts beside.

use super::*;

/// Ids of the quilt's parts.
#[derive(Clone, Copy)]
pub(crate) struct QuiltIds {
    pub(crate) skin: MaterialId,
    pub(crate) loft: MaterialId,
    pub(crate) ribbon: MaterialId,
    pub(crate) shell: PieceId,
    pub(crate) batt: PieceId,
    /// The first of two loops.
    pub(crate) loops: [AttachmentId; 2],
    /// Both halves of the zipper.
    pub(crate) zipper: [AttachmentId; 2],
    pub(crate) bag: SeamId,
}

/// A quilt: a tapered shell cut twice and a batt, stacked, sewn round, turned; two loops and a zipper.
pub(crate) fn quilt() -> (Sample, QuiltIds) {
    let mut s = Sample::new("larch", "Larch, a top quilt");
    let skin = s.material("skin", MaterialKind::Cloth);
    {
        let m = s.goods(skin);
        m.mass = Some(33e-6);
        m.width = Some(mm(1500.0));
        m.selvedge = mm(15.0);
        m.one_sided = true;
    }
    s.price(skin, 9.4e-3, "EUR", PricedBy::Length);
    let loft = s.material("loft", MaterialKind::Batting);
    {
        let m = s.goods(loft);
        m.mass = Some(135e-6);
        m.width = Some(mm(1500.0));
        m.direction = Direction::Any;
        m.thickness = Some(mm(25.0));
    }
    let ribbon = s.material("ribbon", MaterialKind::Ribbon);
    s.goods(ribbon).mass = Some(3e-3);
    s.goods(ribbon).width = Some(mm(15.0));
    s.price(ribbon, 0.8e-3, "EUR", PricedBy::Length);
    let zip = s.material("zip", MaterialKind::Zipper);
    {
        let m = s.goods(zip);
        m.mass = Some(20e-3);
        m.slider_mass = Some(Mass::grams(4.0));
        m.slider_price = Some(Money { amount: 0.5, currency: "EUR".into() });
    }
    s.price(zip, 3e-3, "EUR", PricedBy::Length);

    // Head 1300, foot 900, height 2000, 10 mm all round: the cut line encloses 2 262 601.497 mm².
    let corners = [(200.0, 0.0, "foot"), (1100.0, 0.0, "right"), (1300.0, 2000.0, "head"), (0.0, 2000.0, "left")];
    let cut = (1322.1, 2020.0, 2_262_601.497);
    let shell = s.piece("shell", skin, &corners, 10.0, cut);
    s.copies(shell, &[("outer", false), ("inner", false)]);
    let batt = s.piece("batt", loft, &corners, 10.0, cut);

    let left = s.side(shell, Some(0), "left");
    let right = s.side(shell, Some(0), "right");
    // Left runs from head to foot, right from foot to head.
    let loops = [s.attach("loops", &left, (242.5, 257.5), false), s.attach("loops", &left, (592.5, 607.5), false)];
    for id in loops {
        s.uses(id, ribbon, Amount::Length(mm(80.0)));
    }
    let end = s.design.edge(shell, left.edge).expect("left").length.as_mm();
    let zipper = [s.attach("zip", &left, (end - 450.0, end), true), s.attach("zip", &right, (0.0, 450.0), true)];
    for (id, other, first, half) in [(zipper[0], zipper[1], true, "slider_side"), (zipper[1], zipper[0], false, "plain_side")] {
        let a = s.attachment(id);
        a.component = "separating_zip".into();
        a.number = 1;
        a.depth = mm(15.0);
        a.pair = Some(Pair { half: half.into(), first, with: other });
        if let Place::Edge { distance, from_end, .. } = &mut a.place {
            *distance = mm(0.0);
            *from_end = "foot".into();
        }
    }
    s.uses(zipper[0], zip, Amount::Length(mm(450.0)));
    s.uses(zipper[0], zip, Amount::Count(1.0));

    let layer = |piece, copy, face_up, origin| Layer { piece, copy, face_up, origin };
    let origin = s.span();
    let layers =
        vec![layer(batt, None, None, origin), layer(shell, Some(0), Some(true), origin), layer(shell, Some(1), Some(false), origin)];
    let opening = EdgeSide { from: mm(800.0), to: mm(1100.0), ..right.clone() };
    let close = finish("edgestitch", 5.0, true, origin);
    let stack = Stack {
        layers,
        edges: ["foot", "right", "head", "left"].map(String::from).to_vec(),
        around: true,
        opening: Some(Opening { side: opening, distance: mm(800.0), from_end: "foot".into(), between: (1, 2), origin }),
        close: Some(close),
    };
    let around = 900.0 + 1300.0 + 2.0 * end;
    let bag = s.seam("bag", SeamForm::Stack(stack), around);
    let thread = s.material("thread", MaterialKind::Thread);
    s.goods(thread).mass = Some(27e-6);
    quilt_operations(&mut s, (shell, batt), (loops, zipper, bag), around);
    (s, QuiltIds { skin, loft, ribbon, shell, batt, loops, zipper, bag })
}

fn quilt_operations(
    s: &mut Sample,
    (shell, batt): (PieceId, PieceId),
    (loops, zipper, bag): ([AttachmentId; 2], [AttachmentId; 2], SeamId),
    around: f64,
) {
    // In no order, as the evaluator may leave them.
    let close = s.operation("bag", OperationKind::Close, Subject::Seam(bag), "Close the opening.");
    let turn = s.operation("bag", OperationKind::Turn, Subject::Seam(bag), "Turn the bag right side out through the opening.");
    let sew = s.operation("bag", OperationKind::Stack, Subject::Seam(bag), "Sew around the three layers, leaving the opening.");
    let set_zip = s.operation("zip", OperationKind::Place, Subject::Attachment(zipper[0]), "Baste the halves of the zipper.");
    let set_loops = s.operation("loops", OperationKind::Place, Subject::Attachment(loops[0]), "Baste each loop, its fold pointing in.");
    let prepare = s.operation("loops", OperationKind::Prepare, Subject::Attachment(loops[0]), "Cut the ribbon and seal its ends.");
    let cut_batt = s.operation("batt", OperationKind::Cut, Subject::Piece(batt), "Cut batt once.");
    let cut_shell = s.operation("shell", OperationKind::Cut, Subject::Piece(shell), "Cut shell twice.");
    s.after(set_loops, prepare, "the loops must be ready to be set");
    s.after(set_loops, cut_shell, "the edge must be cut");
    s.after(set_zip, cut_shell, "the edge must be cut");
    s.after(sew, set_loops, "the seam catches their ends");
    s.after(sew, set_zip, "the seam catches its tapes");
    s.after(sew, cut_batt, "the batt lies in the stack");
    s.after(turn, sew, "only a sewn bag can be turned");
    s.after(close, turn, "once closed it can't be turned");
    let place = |side: EdgeSide, distances: &[f64], end: &str| Where {
        side,
        distances: distances.iter().map(|&d| mm(d)).collect(),
        from_end: end.into(),
    };
    let (left, right) = (s.side(shell, Some(0), "left"), s.side(shell, Some(0), "right"));
    s.op(set_loops).places = vec![place(left.clone(), &[250.0, 600.0], "head")];
    let stretch = |side: EdgeSide, from: f64, to: f64| place(EdgeSide { from: mm(from), to: mm(to), ..side }, &[0.0], "foot");
    let end = left.to.as_mm();
    s.op(set_zip).places = vec![stretch(left, end - 450.0, end), stretch(right, 0.0, 450.0)];
    let op = s.op(sew);
    op.stitch = Some(lockstitch(2.5));
    op.sewn = mm(around - 300.0);
    op.plies = 3;
    op.facing = Some("outer and inner face to face".into());
    let op = s.op(close);
    op.stitch = Some(lockstitch(3.0));
    op.sewn = mm(around);
    op.plies = 4;
    s.design.cautions.push(Text::words("Sealing ends with a flame drips hot plastic: work over metal, away from batting."));
}

/// A tarp of two mirrored halves with a ridge join; all other edges hemmed.
pub(crate) fn tarp() -> (Sample, PieceId, SeamId) {
    let mut s = Sample::new("heron", "Heron, a flat tarp");
    let fly = s.material("fly", MaterialKind::Cloth);
    {
        let m = s.goods(fly);
        m.mass = Some(45e-6);
        m.width = Some(mm(1500.0));
        m.selvedge = mm(10.0);
        m.one_sided = true;
    }
    s.price(fly, 12e-3, "CHF", PricedBy::Length);
    let corners = [(0.0, 0.0, "foot"), (1300.0, 0.0, "right"), (1400.0, 2800.0, "head"), (0.0, 2800.0, "ridge")];
    let half = s.piece("half", fly, &corners, 20.0, (1440.0, 2840.0, 1440.0 * 2840.0));
    s.copies(half, &[("sunny", false), ("shady", true)]);
    for edge in ["foot", "right", "head"] {
        let origin = s.span();
        let done = EdgeFinish {
            name: "double_hem".into(),
            folds: vec![mm(0.0), mm(10.0)],
            encloses: true,
            stitch: Some(lockstitch(3.0)),
            stitch_at: mm(8.0),
            rows: 1,
            uses: Vec::new(),
            casing_for: None,
            origin,
        };
        s.edge_mut(half, edge).finish = Some(done);
    }
    let (a, b) = (s.side(half, Some(0), "ridge"), s.side(half, Some(1), "ridge"));
    let ridge = s.join("ridge", a, b);
    let origin = s.span();
    s.seam_mut(ridge).finish = Some(finish("felled", 15.0, true, origin));
    (s, half, ridge)
}
