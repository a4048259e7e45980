//! The sample designs are clean; each change below breaks one thing, and only that is found.

mod joins;
mod pieces;
mod places;
mod stacks;

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
fn sensible_designs_pass() {
    for design in [quilt().0.design, tarp().0.design, pouch().0.design, sack().0.design] {
        assert_eq!(found(&design), Vec::new(), "{}", design.name);
    }
    assert_eq!(codes(&Sample::new("nothing", "Nothing").design), Vec::<&str>::new());
}

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
