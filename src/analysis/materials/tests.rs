//! Against figures worked out by hand on the sample quilt and tarp.

use super::materials;
use crate::analysis::report::{GoodsRow, MaterialsReport};
use crate::ir::sample::{self, finish, mm, quilt, tarp};
use crate::ir::{Amount, Direction, MaterialKind, OperationKind, PricedBy, Stitch, StitchKind, Subject, Use};
use crate::quantity::{Angle, Area, Mass};

fn row<'r>(report: &'r MaterialsReport, title: &str) -> &'r GoodsRow {
    report.goods.iter().find(|r| r.title == title).expect("a row of that title")
}

fn near(got: f64, wanted: f64, within: f64) {
    assert!((got - wanted).abs() <= within, "{got} is not {wanted}");
}

fn length(amount: Amount) -> f64 {
    match amount {
        Amount::Length(l) => l.as_mm(),
        other => panic!("{other:?} is no length"),
    }
}

#[test]
fn cloth_is_weighed_by_cut_area_of_all_copies() {
    let report = materials(&quilt().0.design);
    let skin = row(&report, "The skin");
    // 2 × 2 262 601.497 mm² (a published golden value for this trapezoid and 10 mm).
    assert!(matches!(skin.amount, Amount::Area(a) if (a.as_mm2() - 4_525_202.994).abs() < 1e-3));
    // × 33 g/m²
    near(skin.mass.expect("weighed").as_grams(), 149.331_7, 1e-3);
    // Wider than half of (1500 − 2 × 15) mm from end to end, the two can't lie beside each other: 2 × 2020 mm, more than
    // their area over the width, 3078.37 mm.
    near(skin.roll_length.expect("a roll").as_mm(), 4040.0, 0.01);
    // × 9.40 EUR/m
    let cost = skin.cost.clone().expect("priced");
    near(cost.amount, 37.976, 1e-3);
    assert_eq!(cost.currency, "EUR");
}

#[test]
fn a_long_narrow_piece_sets_the_length_of_roll() {
    let (mut s, half, _) = tarp();
    s.copies(half, &[("only", false)]);
    let report = materials(&s.design);
    // One half of 1440 × 2840: its area over 1480 mm would do with 2763 mm, its own length would not.
    near(row(&report, "The fly").roll_length.expect("a roll").as_mm(), 2840.0, 1e-6);
    // Allowed to lie any way, it lies crosswise on paper: the bound falls to its area.
    let fly = s.design.pieces.first().expect("the half").material;
    s.goods(fly).direction = Direction::Any;
    near(row(&materials(&s.design), "The fly").roll_length.expect("a roll").as_mm(), 1440.0 * 2840.0 / 1480.0, 1e-6);
    // Cut on the bias its length along the roll is that of its slanted box: (1440 + 2840) / √2.
    s.goods(fly).direction = Direction::TwoWay;
    s.piece_mut(half).grain.angle = Some(Angle::radians(std::f64::consts::FRAC_PI_4));
    near(row(&materials(&s.design), "The fly").roll_length.expect("a roll").as_mm(), 3026.42, 0.01);
}

#[test]
fn goods_by_length_and_counted_goods() {
    let report = materials(&quilt().0.design);
    // Two loops of 80 mm at 3 g/m and 0.80 EUR/m.
    let ribbon = row(&report, "The ribbon");
    near(length(ribbon.amount), 160.0, 1e-9);
    near(ribbon.mass.expect("weighed").as_grams(), 0.48, 1e-9);
    near(ribbon.cost.clone().expect("priced").amount, 0.128, 1e-9);
    // 450 mm at 20 g/m, 3.00 EUR/m; the slider beside it 4 g and 0.50 EUR.
    let zip = row(&report, "The zip");
    near(zip.mass.expect("weighed").as_grams(), 9.0, 1e-9);
    near(zip.cost.clone().expect("priced").amount, 1.35, 1e-9);
    let slider = row(&report, "The zip: sliders");
    assert_eq!(slider.amount, Amount::Count(1.0));
    near(slider.mass.expect("weighed").as_grams(), 4.0, 1e-9);
    near(slider.cost.clone().expect("priced").amount, 0.5, 1e-9);
}

#[test]
fn thread_follows_the_stitching() {
    let report = materials(&quilt().0.design);
    // Layers of 0.5 (pressed batting), 0.1 and 0.1 mm: a ply is 0.7 / 3 mm on average.
    // Round the edge, 5919.950 mm, 3 plies, 2.5 mm: 2 + 2 × 0.7 / 2.5 = 2.56 → 15 155.07 mm.
    // Closing, 6219.950 mm, 4 plies, 3 mm: 2 + 2 × 0.9333 / 3 = 2.6222 → 16 310.09 mm. × 1.15.
    let thread = row(&report, "The thread");
    near(length(thread.amount), 36_184.94, 0.5);
    // What is sewn in: 31 465.16 mm at 27 tex.
    near(thread.mass.expect("weighed").as_grams(), 0.849_56, 1e-4);
    let line = report.thread.first().expect("lockstitch");
    assert_eq!(report.thread.len(), 1);
    near(line.sewn.as_mm(), 12_139.90, 0.01);
    near(line.thread.as_mm(), length(thread.amount), 1e-9);
    let said: Vec<String> = report.assumptions.iter().map(|t| t.worded(crate::quantity::Style::default())).collect();
    assert!(said.iter().any(|t| t.contains("`skin`") && t.contains("0.1 mm")), "{said:?}");
    assert!(said.iter().any(|t| t.contains("batting")), "{said:?}");
}

#[test]
fn a_stated_thickness_is_used_and_not_excused() {
    let (mut s, ids) = quilt();
    s.goods(ids.skin).thickness = Some(mm(0.06));
    let report = materials(&s.design);
    // (0.5 + 0.06 + 0.06) / 3 × 3 = 0.62: 2 + 2 × 0.62 / 2.5 = 2.496; closing 2 + 2 × 0.826667 / 3 = 2.551111.
    let wanted = (5919.950 * 2.496 + 6219.950 * 2.551_111) * 1.15;
    near(length(row(&report, "The thread").amount), wanted, 0.1);
    assert!(report.assumptions.iter().all(|t| !t.worded(crate::quantity::Style::default()).contains("`skin`")));
}

#[test]
fn bartacks_go_across_what_they_hold() {
    let (mut s, ids) = quilt();
    for op in &mut s.design.operations {
        op.stitch = None;
    }
    let bar = |subject| (OperationKind::Complete, Subject::Attachment(subject));
    let stitched = |s: &mut sample::Sample, name: &str, (kind, subject), length: f64| {
        let op = s.operation(name, kind, subject, "Bartack it.");
        s.op(op).stitch = Some(Stitch { kind: StitchKind::Bartack, length: mm(length) });
    };
    stitched(&mut s, "loops", bar(ids.loops[0]), 1.0);
    stitched(&mut s, "zip", bar(ids.zipper[0]), 1.0);
    let tied = s.operation("ties", OperationKind::Quilt, Subject::Whole, "Tie it.");
    s.op(tied).stitch = Some(Stitch { kind: StitchKind::Handstitch, length: mm(3.0) });
    let report = materials(&s.design);
    // Two loops of 15 mm, and two bars of 9.5 mm for the zipper, whose halves share them.
    near(report.thread.first().expect("bartacks").sewn.as_mm(), 2.0 * 15.0 + 2.0 * 9.5, 1e-9);
    let said: Vec<String> = report.assumptions.iter().map(|t| t.worded(crate::quantity::Style::default())).collect();
    assert!(said.iter().any(|t| t.contains("`ties`") && !t.contains("`loops`")), "{said:?}");
}

#[test]
fn totals_name_what_they_leave_out() {
    let (mut s, ids) = quilt();
    let report = materials(&s.design);
    near(report.mass.as_grams(), 149.3317 + 305.4512 + 0.48 + 9.0 + 4.0 + 0.8496, 1e-3);
    assert_eq!(report.without_mass, Vec::<String>::new());
    assert_eq!(report.without_price, ["The loft", "The thread"]);
    let cost = report.cost.first().expect("a cost");
    near(cost.amount, 37.976 + 0.128 + 1.35 + 0.5, 1e-3);
    s.goods(ids.loft).mass = None;
    let report = materials(&s.design);
    assert_eq!(report.without_mass, ["The loft"]);
    near(report.mass.as_grams(), 149.3317 + 0.48 + 9.0 + 4.0 + 0.8496, 1e-3);
}

#[test]
fn currencies_are_not_added_up() {
    let (mut s, ids) = quilt();
    s.price(ids.loft, 6e-6, "CHF", PricedBy::Area);
    s.price(ids.ribbon, 0.5, "EUR", PricedBy::Mass);
    let report = materials(&s.design);
    let sums: Vec<(&str, f64)> = report.cost.iter().map(|m| (m.currency.as_str(), m.amount)).collect();
    let [("EUR", euros), ("CHF", francs)] = sums.as_slice() else { panic!("{sums:?}") };
    // Ribbon by weight: 0.48 g × 0.50 EUR/g.
    near(*euros, 37.976 + 0.24 + 1.35 + 0.5, 1e-3);
    near(*francs, 2.262_601_497 * 6.0, 1e-6);
}

#[test]
fn a_price_that_does_not_fit_the_amount_is_no_price() {
    let (mut s, ids) = quilt();
    s.price(ids.ribbon, 1.0, "EUR", PricedBy::Each);
    let report = materials(&s.design);
    assert_eq!(row(&report, "The ribbon").cost, None);
    assert!(report.without_price.contains(&"The ribbon".to_owned()));
}

#[test]
fn finishes_and_closings_consume_too() {
    let (mut s, half, ridge) = tarp();
    let tape = s.material("tape", MaterialKind::Ribbon);
    let why = s.trace("tape", "2 m", 2000.0);
    let used = |length: f64| Use { material: tape, amount: Amount::Length(mm(length)), why };
    let origin = s.span();
    let mut bound = finish("bound_seam", 10.0, true, origin);
    bound.uses = vec![used(2840.0)];
    s.seam_mut(ridge).finish = Some(bound);
    // A finish of an edge says what one copy takes, and there are two.
    s.edge_mut(half, "foot").finish.as_mut().expect("hemmed").uses = vec![used(1300.0)];
    near(length(row(&materials(&s.design), "The tape").amount), 2840.0 + 2.0 * 1300.0, 1e-9);
}

#[test]
fn odd_amounts_stay_what_they_are() {
    let (mut s, ids) = quilt();
    s.uses(ids.loops[0], ids.loft, Amount::Mass(Mass::grams(7.0)));
    s.uses(ids.loops[0], ids.skin, Amount::Area(Area::mm2(1000.0)));
    s.uses(ids.loops[0], ids.skin, Amount::Length(mm(2.0)));
    let report = materials(&s.design);
    // 1000 mm² and 2 mm off a roll of 1500 mm join the rest of the cloth.
    let Amount::Area(skin) = row(&report, "The skin").amount else { panic!("not an area") };
    near(skin.as_mm2(), 4_525_202.994 + 1000.0 + 3000.0, 1e-3);
    let loft: Vec<_> = report.goods.iter().filter(|r| r.title == "The loft").collect();
    assert_eq!(loft.len(), 2);
    assert!(loft.iter().any(|r| r.mass == Some(Mass::grams(7.0))));
}

#[test]
fn the_chain_behind_the_mass_reaches_the_source() {
    let (s, ids) = quilt();
    let report = materials(&s.design);
    let provenance = report.provenance(&s.design);
    let why = provenance.fact("mass").expect("the mass can be asked for");
    let mut seen = vec![why];
    let mut at = 0;
    while let Some(id) = seen.get(at).copied() {
        for input in &provenance.node(id).expect("a step").inputs {
            assert!(input.index() < id.index(), "steps come before what is made of them");
            if !seen.contains(input) {
                seen.push(*input);
            }
        }
        at += 1;
    }
    let piece = s.design.piece(ids.shell).expect("the shell");
    let material = s.design.material(ids.skin).expect("the skin");
    for behind in [piece.cut.why, material.why_mass] {
        assert!(seen.contains(&behind));
    }
    for fact in ["cost", "thread", "mass.skin", "cost.skin", "roll.skin", "amount.skin", "mass.zip.sliders", "cut_area.shell"] {
        assert!(provenance.fact(fact).is_some(), "{fact}");
    }
    let names: Vec<_> = provenance.facts.iter().map(|f| &f.name).collect();
    assert!(names.is_sorted());
}

#[test]
fn a_name_of_the_design_keeps_its_meaning() {
    let (mut s, _) = quilt();
    let mine = s.trace("mass", "a figure of the design's own", 1.0);
    s.design.provenance.facts.push(crate::ir::Fact { name: "mass".into(), why: mine });
    assert_eq!(materials(&s.design).provenance(&s.design).fact("mass"), Some(mine));
}

#[test]
fn an_empty_design_has_an_empty_bill() {
    let s = sample::Sample::new("nothing", "Nothing");
    let report = materials(&s.design);
    assert!(report.goods.is_empty() && report.cost.is_empty() && report.cuts.is_empty());
    assert_eq!(report.mass, Mass::grams(0.0));
}

#[test]
fn the_cut_list_counts_mirrored_copies() {
    let (s, ..) = tarp();
    let report = materials(&s.design);
    let cut = report.cuts.first().expect("the half");
    assert_eq!((cut.count, cut.mirrored), (2, 1));
    assert_eq!(cut.cut, (mm(1440.0), mm(2840.0)));
    // 2 × 1.44 × 2.84 m² × 45 g/m²
    near(cut.mass.expect("weighed").as_grams(), 2.0 * 1.44 * 2.84 * 45.0, 1e-9);
}
