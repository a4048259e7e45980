//! Plans of small designs, measured.

use super::*;
use crate::export::sample as designs;
use crate::export::text::cutting;
use crate::geometry::Vector;
use crate::ir::sample::{Sample, mm};
use crate::ir::{Copy, CutMaterial, CutterKind, Hole, LineSort, MaterialKind, Notch, NotchReason, NotchShape, Pass};
use crate::source::Span;

fn cutter(kind: CutterKind, bed: (f64, f64)) -> Cutter {
    let pass = |cuts, lines: &[LineSort], layer: &str, colour| Pass { cuts, lines: lines.to_vec(), layer: layer.into(), colour };
    Cutter {
        name: "bench".into(),
        title: "Bench".into(),
        kind,
        bed_length: mm(bed.0),
        bed_width: mm(bed.1),
        kerf: mm(0.0),
        offset: mm(0.0),
        overcut: mm(0.0),
        smallest: mm(0.0),
        overlap: mm(20.0),
        gap: mm(2.0),
        passes: vec![
            pass(false, &[LineSort::Marks, LineSort::Text], "PEN", 5),
            pass(true, &[LineSort::Holes, LineSort::Notches], "INNER", 3),
            pass(true, &[LineSort::Outlines], "OUTER", 1),
        ],
        crosses: "CROSSES".into(),
        materials: Vec::new(),
        cautions: Vec::new(),
        origin: Span::default(),
    }
}

/// The design with all of its sheet goods sent to a cutter.
fn sent(mut design: Design, mut cutter: Cutter) -> Design {
    let sheets = design.materials.iter().enumerate().filter(|(_, m)| m.kind.is_sheet()).map(|(i, _)| MaterialId::at(i));
    cutter.materials = sheets.map(|material| CutMaterial { material, origin: Span::default() }).collect();
    design.cutters = vec![cutter];
    design
}

/// A piece of so much by so much, cut from its finished outline, with a hole of 40 by 20 and a notch of 8 at the middle of its foot.
fn plain(width: f64, height: f64) -> Design {
    let mut sample = Sample::new("mat", "Mat");
    let cloth = sample.material("cloth", MaterialKind::Cloth);
    let id = sample.rectangle("seat", cloth, (width, height), 0.0);
    let origin = sample.span();
    let piece = sample.piece_mut(id);
    let at = |x, y| Point::new(x, y);
    piece.cut_line = Path::polygon(&[at(0.0, 0.0), at(width, 0.0), at(width, height), at(0.0, height)]).expect("it has corners");
    let hole = Path::polygon(&[at(30.0, 50.0), at(30.0, 70.0), at(70.0, 70.0), at(70.0, 50.0)]).expect("it has corners");
    piece.holes = vec![Hole { name: "vent".into(), path: hole }];
    piece.notches = vec![Notch {
        edge: crate::ir::EdgeId(0),
        at: mm(width / 2.0),
        place: mm(width / 2.0),
        shape: NotchShape::Slit,
        rows: 1,
        point: at(width / 2.0, 0.0),
        inward: Vector::new(0.0, 1.0),
        depth: mm(8.0),
        width: mm(0.0),
        lines: vec![Path::line(at(width / 2.0, 0.0), at(width / 2.0, 8.0))],
        reason: NotchReason::Asked,
        origin,
    }];
    sample.design
}

fn paths(shapes: &[Shape]) -> Vec<&Path> {
    shapes.iter().filter_map(|s| if let Shape::Line(path) = s { Some(path) } else { None }).collect()
}

fn near(a: f64, b: f64) {
    assert!((a - b).abs() < 1e-6, "{a} is not {b}");
}

#[test]
fn a_laser_makes_up_for_its_kerf_outside_inside_and_at_slits() {
    let laser = Cutter { kerf: mm(0.2), ..cutter(CutterKind::Laser, (900.0, 600.0)) };
    let design = sent(plain(200.0, 100.0), laser);
    let plans = plans(&design, Style::default());
    let [Plan { frames, .. }] = plans.as_slice() else { panic!("{plans:?}") };
    let [frame] = frames.as_slice() else { panic!("{frames:?}") };
    let [_, inner, outer] = frame.passes.as_slice() else { panic!("{frame:?}") };
    // The warp runs from foot to head, so that the piece lies on its side.
    let outline = paths(outer).first().expect("an outline").bounds();
    near(outline.width(), 100.2);
    near(outline.height(), 200.2);
    let inner = paths(inner);
    let hole = inner.iter().find(|p| p.is_closed()).expect("a hole");
    near(hole.bounds().width(), 19.8);
    near(hole.bounds().height(), 39.8);
    let slit = inner.iter().find(|p| !p.is_closed()).expect("a notch");
    // From the middle of the burn along the outline to half a burn before its depth: 0.1 + 8 - 0.1.
    near(slit.length(), 8.0);
    near(slit.start.x.min(slit.end().x), outline.min.x);
    // Each of the three is cut once.
    near(frame.cut, 2.0 * (100.2 + 200.2) + 2.0 * (19.8 + 39.8) + 8.0);
}

#[test]
fn knives_blades_and_pens_make_up_for_nothing_and_a_knife_goes_past_its_start() {
    let knife = Cutter { overcut: mm(1.0), offset: mm(0.5), ..cutter(CutterKind::Knife, (900.0, 600.0)) };
    let design = sent(plain(200.0, 100.0), knife);
    let plans = plans(&design, Style::default());
    let frame = plans.first().and_then(|p| p.frames.first()).expect("a frame");
    let outline = paths(frame.passes.last().expect("a pass")).first().copied().cloned().expect("an outline");
    near(outline.length(), 601.0);
    assert!(!outline.is_closed());
    near(outline.point_at(600.0).distance(outline.start), 0.0);
    // It begins half-way along the longest side, where the blade has room to swing round.
    near(outline.start.y, 100.0);
}

#[test]
fn every_copy_is_cut_and_mirrored_ones_are_mirrored() {
    let mut design = plain(200.0, 100.0);
    let piece = design.pieces.first_mut().expect("a piece");
    // Off the middle, so that a mirror image is told apart.
    let notch = piece.notches.first_mut().expect("a notch");
    notch.point = Point::new(30.0, 0.0);
    piece.copies = [false, true, true].map(|mirrored| Copy { name: None, mirrored }).to_vec();
    let design = sent(design, cutter(CutterKind::Blade, (900.0, 600.0)));
    let plans = plans(&design, Style::default());
    let frame = plans.first().and_then(|p| p.frames.first()).expect("a frame");
    assert_eq!(frame.parts.len(), 3);
    let outlines = paths(frame.passes.last().expect("a pass"));
    assert_eq!(outlines.len(), 3);
    let inner = paths(frame.passes.get(1).expect("a pass"));
    let slits: Vec<_> = inner.iter().filter(|p| !p.is_closed()).collect();
    // Seen with the head to the right, x of the panel runs down the bed: 30 from the left edge is 170 up, mirrored 30.
    let mut up: Vec<f64> = slits
        .iter()
        .map(|s| s.start.y - outlines.iter().map(|o| o.bounds()).find(|b| b.meets(s.bounds())).expect("its piece").min.y)
        .collect();
    up.sort_by(f64::total_cmp);
    for (found, wanted) in up.iter().zip([30.0, 30.0, 170.0]) {
        near(*found, wanted);
    }
    assert_eq!(called(design.pieces.first().expect("a piece"), 1), "seat (2 of 3)");
}

#[test]
fn lines_on_each_other_are_cut_once() {
    let mut design = plain(200.0, 100.0);
    let piece = design.pieces.first_mut().expect("a piece");
    let notch = piece.notches.first().expect("a notch").clone();
    // The same again, and one that is shallower.
    piece.notches.extend([notch.clone(), Notch { depth: mm(5.0), ..notch }]);
    piece.notches.rotate_right(1);
    let hole = piece.holes.first().expect("a hole").clone();
    piece.holes.push(Hole { name: "again".into(), path: hole.path.reversed() });
    let design = sent(design, cutter(CutterKind::Blade, (900.0, 600.0)));
    let plans = plans(&design, Style::default());
    let inner = plans.first().and_then(|p| p.frames.first()).and_then(|f| f.passes.get(1)).expect("a pass");
    let lengths: Vec<f64> = paths(inner).iter().map(|p| p.length().round()).collect();
    assert_eq!(lengths.iter().sum::<f64>(), 120.0 + 8.0, "{lengths:?}");
}

#[test]
fn frames_hold_every_bit_of_a_long_piece_once_and_share_their_crosses() {
    for bed in [(900.0, 600.0), (500.0, 300.0), (333.0, 211.0), (2000.0, 150.0), (150.0, 9000.0)] {
        for design in [designs::quilt(), designs::tarp(), designs::sack(), crate::ir::sample::quilt().0.design] {
            let design = sent(design, cutter(CutterKind::Blade, bed));
            let plans = plans(&design, Style::default());
            let frames = plans.first().map(|p| p.frames.as_slice()).unwrap_or_default();
            let pieces = || design.pieces.iter().filter(|p| design.material(p.material).is_some_and(|m| m.kind.is_sheet()));
            let of = |p: &Piece| {
                p.cut_line.length()
                    + p.holes.iter().map(|h| h.path.length()).sum::<f64>()
                    + p.notches.iter().map(|n| n.depth.as_mm()).sum::<f64>()
            };
            #[expect(clippy::cast_precision_loss, reason = "a few copies")]
            let wanted: f64 = pieces().map(|p| of(p) * p.copies.len() as f64).sum();
            let cut: f64 = frames.iter().map(|f| f.cut).sum();
            assert!((cut - wanted).abs() < 0.01, "{} on {bed:?}: {cut} of {wanted}", design.name);
            for frame in frames {
                let bed = Bounds { min: Point::new(-1e-6, -1e-6), max: Point::new(bed.0 + 1e-6, bed.1 + 1e-6) };
                let crosses = frame.crosses.iter().map(Path::bounds);
                let shapes = frame.passes.iter().flatten().map(Shape::bounds).chain(crosses);
                assert!(shapes.into_iter().all(|b| bed.holds(b)), "{} {}", design.name, frame.stem);
            }
            // A piece in one row of frames: the crosses at a frame's right are those at the next one's left.
            let rows = frames.windows(2).filter(|w| matches!(w, [a, b] if a.parts.len() == 1 && a.parts.first().map(|p| (p.piece, p.copy)) == b.parts.first().map(|p| (p.piece, p.copy)) && a.parts.first().and_then(|p| p.frame).is_some()));
            for pair in rows.filter(|_| bed == (150.0, 9000.0)) {
                let [a, b] = pair else { continue };
                let step = 150.0 - 20.0;
                let right: Vec<Point> = a
                    .crosses
                    .iter()
                    .map(|c| c.point_at(c.length() / 2.0))
                    .filter(|c| c.x > 75.0)
                    .map(|c| Point::new(c.x - step, c.y))
                    .collect();
                let left: Vec<Point> = b.crosses.iter().map(|c| c.point_at(c.length() / 2.0)).filter(|c| c.x < 75.0).collect();
                assert_eq!(right.len(), left.len());
                assert!(!right.is_empty() && right.iter().zip(&left).all(|(p, q)| p.distance(*q) < 1e-6), "{right:?} {left:?}");
            }
        }
    }
}

/// Every cross is marked once, in the first frame that has it: one frame after another, nothing is laid by what is not on the cloth.
#[test]
fn each_cross_is_new_in_the_first_frame_that_has_it() {
    let bed = (400.0, 400.0);
    let design = sent(plain(1000.0, 1000.0), cutter(CutterKind::Laser, bed));
    let plans = plans(&design, Style::default());
    let frames = plans.first().map(|p| p.frames.as_slice()).unwrap_or_default();
    let parted: Vec<&Frame> = frames.iter().filter(|f| f.parts.first().is_some_and(|p| p.frame.is_some())).collect();
    assert_eq!(parted.len(), 9, "three by three");
    // Three frames of 400 with 20 in common, column after column: from one to the next 380 in each direction.
    let on_cloth = |index: usize, at: Point| Point::new(at.x + 380.0 * (index / 3) as f64, at.y + 380.0 * (index % 3) as f64);
    let mut marked: Vec<Point> = Vec::new();
    for (index, frame) in parted.iter().enumerate() {
        let is_marked = |marked: &[Point], at: Point| marked.iter().any(|m| m.distance(at) < 1e-6);
        for at in frame.crosses.iter().step_by(2).map(|c| on_cloth(index, c.point_at(c.length() / 2.0))) {
            let is_new = frame.new_crosses.iter().any(|n| on_cloth(index, *n).distance(at) < 1e-6);
            assert_eq!(is_new, !is_marked(&marked, at), "frame {} at {at:?}", index + 1);
        }
        marked.extend(frame.new_crosses.iter().map(|at| on_cloth(index, *at)));
    }
    let new: Vec<bool> = parted.iter().map(|f| !f.new_crosses.is_empty()).collect();
    assert_eq!(new.iter().filter(|n| **n).count(), 8, "all but the last bring some: {new:?}");
}

#[test]
fn a_knife_goes_on_past_the_border_in_the_later_frame_only() {
    let knife = Cutter { overcut: mm(1.5), ..cutter(CutterKind::Knife, (300.0, 300.0)) };
    let mut design = plain(100.0, 500.0);
    design.pieces.iter_mut().for_each(|p| (p.holes, p.notches) = (Vec::new(), Vec::new()));
    let design = sent(design, knife);
    let plans = plans(&design, Style::default());
    let frames = plans.first().map(|p| p.frames.as_slice()).unwrap_or_default();
    assert_eq!(frames.len(), 2);
    // 500 long on a bed of 300: 580 are covered, 40 left over at both ends; the border halves the piece.
    near(frames[0].cut, 600.0);
    near(frames[1].cut, 600.0 + 2.0 * 1.5);
}

#[test]
fn what_no_pass_takes_is_named() {
    let mut design = plain(200.0, 100.0);
    let mut blade = cutter(CutterKind::Blade, (900.0, 600.0));
    blade.passes.remove(1);
    design = sent(design, blade);
    assert_eq!(plans(&design, Style::default()).first().expect("a plan").undone.left_out, [LineSort::Holes, LineSort::Notches]);
}

#[test]
fn what_is_drawn_is_not_cut_and_is_named() {
    let mut laser = Cutter { kerf: mm(0.2), ..cutter(CutterKind::Laser, (900.0, 600.0)) };
    laser.passes =
        vec![Pass { cuts: false, lines: vec![LineSort::Outlines, LineSort::Holes, LineSort::Notches], layer: "PEN".into(), colour: 5 }];
    let design = sent(plain(200.0, 100.0), laser);
    let plans = plans(&design, Style::default());
    let plan = plans.first().expect("a plan");
    assert_eq!(plan.undone.only_drawn, [LineSort::Outlines, LineSort::Holes, LineSort::Notches]);
    let page = cutting(&design, plan, &[".dxf"], Style::default());
    assert!(page.contains("Drawn on the pieces above and not cut: outlines, holes and notches. Cut"), "{page}");
    assert!(page.contains("No kerf is made up for: neither outlines nor holes are cut here."), "{page}");
}

#[test]
fn what_leaves_no_room_for_the_kerf_is_cut_as_drawn_and_is_named() {
    let mut design = plain(200.0, 100.0);
    let piece = design.pieces.first_mut().expect("a piece");
    piece.holes.push(Hole { name: "pin".into(), path: Path::circle(Point::new(150.0, 50.0), 0.4) });
    // A slot of 0.6 in the foot, which a line half a millimetre outside can't go into.
    let at = |x, y| Point::new(x, y);
    let corners = [(0.0, 0.0), (90.0, 0.0), (90.0, 20.0), (90.6, 20.0), (90.6, 0.0), (200.0, 0.0), (200.0, 100.0), (0.0, 100.0)];
    piece.cut_line = Path::polygon(&corners.map(|(x, y)| at(x, y))).expect("it has corners");
    piece.notches.clear();
    let design = sent(design, Cutter { kerf: mm(1.0), ..cutter(CutterKind::Laser, (900.0, 600.0)) });
    let plans = plans(&design, Style::default());
    let plan = plans.first().expect("a plan");
    let seat = PieceId::at(0);
    assert_eq!(plan.undone.not_made_up, [NotMadeUp { piece: seat, hole: None }, NotMadeUp { piece: seat, hole: Some("pin".into()) }]);
    // Said of what is done: the line is where the finished cut is.
    let outline = paths(plan.frames[0].passes.last().expect("a pass")).first().expect("an outline").bounds();
    near(outline.width(), 100.0);
    let page = cutting(&design, plan, &[".dxf"], Style::default());
    assert!(page.contains("the outline of seat and"), "{page}");
    assert!(page.contains("hole pin of seat"), "{page}");
}

#[test]
fn holes_to_prick_are_left_to_the_hand() {
    let mut design = plain(200.0, 100.0);
    let origin = Span::default();
    let shape = crate::ir::MarkShape::Drill { at: Point::new(50.0, 30.0), diameter: mm(4.0) };
    let piece = design.pieces.first_mut().expect("a piece");
    piece.marks.push(crate::ir::Mark { name: "eye".into(), text: crate::ir::Text::words("cord"), copies: Vec::new(), shape, origin });
    for (marks, words) in [(true, "drawn with the marks and not cut"), (false, "neither drawn nor cut")] {
        let mut blade = cutter(CutterKind::Blade, (900.0, 600.0));
        blade.passes.retain(|p| p.cuts || marks);
        let design = sent(design.clone(), blade);
        let plans = plans(&design, Style::default());
        let page = cutting(&design, plans.first().expect("a plan"), &[".dxf"], Style::default());
        assert!(page.contains("Holes to prick or drill, on seat:") && page.contains(words), "{page}");
    }
}

/// The design's notch made another, its lines with the foot at the middle of the foot.
fn with_notch(design: &mut Design, shape: NotchShape, (depth, width): (f64, f64), lines: &[&[(f64, f64)]]) {
    let notch = design.pieces.first_mut().and_then(|p| p.notches.first_mut()).expect("a notch");
    (notch.shape, notch.depth, notch.width) = (shape, mm(depth), mm(width));
    let path = |points: &&[(f64, f64)]| {
        let points: Vec<Point> = points.iter().map(|(x, y)| Point::new(100.0 + x, *y)).collect();
        Path::polyline(&points).expect("a line")
    };
    notch.lines = lines.iter().map(path).collect();
}

#[test]
fn a_tee_is_burnt_no_deeper_and_no_wider_than_it_is_drawn() {
    let laser = Cutter { kerf: mm(0.2), ..cutter(CutterKind::Laser, (900.0, 600.0)) };
    let mut design = plain(200.0, 100.0);
    with_notch(&mut design, NotchShape::Tee, (4.0, 4.0), &[&[(0.0, 0.0), (0.0, 4.0)], &[(-2.0, 4.0), (2.0, 4.0)]]);
    let design = sent(design, laser);
    let plans = plans(&design, Style::default());
    let inner = paths(&plans[0].frames[0].passes[1]);
    let outline = paths(&plans[0].frames[0].passes[2])[0].bounds();
    let mut lines: Vec<&&Path> = inner.iter().filter(|p| !p.is_closed()).collect();
    lines.sort_by(|a, b| a.length().total_cmp(&b.length()));
    let [bar, slit] = lines.as_slice() else { panic!("{lines:?}") };
    // The bar's burn reaches half a burn past its ends and its line: 4 - 0.2 long, 4 - 0.1 + 0.1 from the followed outline.
    near(bar.length(), 3.8);
    near(slit.length(), 4.0);
    near(bar.bounds().min.x - outline.min.x, 4.0);
}

#[test]
fn a_notch_narrower_than_the_kerf_is_a_slit_and_the_outline_is_made_up_for() {
    // A square notch of 0.8: no line half a millimetre outside its sides goes into it.
    let laser = Cutter { kerf: mm(1.0), ..cutter(CutterKind::Laser, (900.0, 600.0)) };
    let mut design = plain(200.0, 100.0);
    with_notch(&mut design, NotchShape::Castle, (0.8, 0.8), &[&[(-0.4, 0.0), (-0.4, 0.8), (0.4, 0.8), (0.4, 0.0)]]);
    let design = sent(design, laser);
    let plans = plans(&design, Style::default());
    let plan = &plans[0];
    let outline = paths(&plan.frames[0].passes[2])[0];
    near(outline.bounds().height(), 201.0);
    // The plain ring: four sides with a millimetre more.
    near(outline.length(), 2.0 * (201.0 + 101.0));
    let inner = paths(&plan.frames[0].passes[1]);
    let slit = inner.iter().find(|p| !p.is_closed()).expect("a slit");
    // From the followed line, 0.5 outside, to 0.3 inside: the burn ends at 0.8.
    near(slit.length(), 0.8);
    assert_eq!(plan.undone.not_made_up, []);
    let page = cutting(&design, plan, &[".dxf"], Style::default()).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(page.contains("each is cut as a slit of its depth: a notch on foot of seat"), "{page}");
}

#[test]
fn a_wide_notch_beside_a_narrow_one_stays_in_the_outline() {
    let laser = Cutter { kerf: mm(1.0), ..cutter(CutterKind::Laser, (900.0, 600.0)) };
    let mut design = plain(200.0, 100.0);
    with_notch(&mut design, NotchShape::Castle, (0.8, 0.8), &[&[(-0.4, 0.0), (-0.4, 0.8), (0.4, 0.8), (0.4, 0.0)]]);
    let narrow = design.pieces[0].notches[0].clone();
    with_notch(&mut design, NotchShape::Castle, (4.0, 4.0), &[&[(28.0, 0.0), (28.0, 4.0), (32.0, 4.0), (32.0, 0.0)]]);
    design.pieces[0].notches[0].point = Point::new(130.0, 0.0);
    design.pieces[0].notches.push(narrow);
    let design = sent(design, laser);
    let plans = plans(&design, Style::default());
    let outline = paths(&plans[0].frames[0].passes[2])[0];
    // The plain ring, and twice the depth of the wide notch: its bottom lies half a millimetre nearer, as the ring does.
    near(outline.length(), 2.0 * (201.0 + 101.0) + 2.0 * 4.0);
}

#[test]
fn a_dart_is_sewn_along_its_legs_and_folded_along_its_middle() {
    let mut design = plain(200.0, 100.0);
    let piece = design.pieces.first_mut().expect("a piece");
    (piece.holes, piece.notches) = (Vec::new(), Vec::new());
    let legs = Path::polyline(&[Point::new(80.0, 0.0), Point::new(100.0, 48.0), Point::new(120.0, 0.0)]).expect("a line");
    piece.folds = vec![crate::ir::FoldLine { of: "dart foot".into(), path: legs }];
    let mut blade = cutter(CutterKind::Blade, (900.0, 600.0));
    let pass = |sort, layer: &str| Pass { cuts: false, lines: vec![sort], layer: layer.into(), colour: 5 };
    blade.passes = vec![pass(LineSort::Folds, "FOLDS")];
    let without = sent(design.clone(), blade.clone());
    assert_eq!(plans(&without, Style::default())[0].undone.left_out, [LineSort::Outlines, LineSort::Stitching]);
    blade.passes.push(pass(LineSort::Stitching, "SEW"));
    let design = sent(design, blade);
    let plans = plans(&design, Style::default());
    let lengths = |pass: usize| paths(&plans[0].frames[0].passes[pass]).iter().map(|p| p.length()).collect::<Vec<_>>();
    assert_eq!(lengths(0), [48.0]);
    // Legs of 20 and 48, so 52 each (5, 12, 13), beside the finished outline.
    let mut sewn = lengths(1);
    sewn.sort_by(f64::total_cmp);
    assert!(matches!(sewn[..], [a, b] if (a - 104.0).abs() < 1e-9 && (b - 600.0).abs() < 1e-9), "{sewn:?}");
}
