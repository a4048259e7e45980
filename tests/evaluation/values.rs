//! Values: rounding, choices and sizes, goods, text, and where everything comes from.

use super::{compiled, compiled_with, design, errors, figure, in_size, near, piece, told};
use lapfell::ir::{Design, SetBy, TraceId};
use lapfell::pipeline::AS_DRAWN;

const SHEET: &str = "panel sheet { cut 1 of plain  shape rectangle(width: 60 cm, height: 40 cm)  allow 1 cm }";

#[test]
fn figures_are_rounded_in_steps_and_noise_rounds_nothing_up() {
    let d = design(&format!(
        "{SHEET}
         let down  = floor(147 mm, 1 cm)
         let up    = ceil(141 mm, 1 cm)
         let near  = round(147 mm, 2 cm)
         let half  = round(2.5)
         let under = round(-2.5)
         let whole = ceil((0.1 + 0.2) * 10)
         let ends  = floor(0.3 m / 0.1 m)
         let inch  = ceil(3 in, 1 in)
         let least = min(3 cm, 1 in, 40 mm)
         let most  = max([1, 5, 3])
         let total = sum([1 cm, 2 cm, 3 mm])
         let many  = count([4 mm, 8 mm])"
    ));
    let expected = [
        ("down", 140.0),
        ("up", 150.0),
        ("near", 140.0), // 147 / 20 = 7.35
        ("half", 3.0),
        ("under", -3.0), // away from nothing, as a tape is read
        ("whole", 3.0),  // 0.1 + 0.2 is 0.30000000000000004
        ("ends", 3.0),   // 0.3 / 0.1 is 2.9999999999999996
        ("inch", 76.2),
        ("least", 25.4),
        ("most", 5.0),
        ("total", 33.0),
        ("many", 2.0),
    ];
    for (name, value) in expected {
        near(figure(&d, name), value);
    }
}

#[test]
fn a_size_sets_some_figures_and_the_command_line_all_it_names() {
    let items = format!(
        "param long = 2 m from 150 cm to 220 cm
         param way = zipped one of zipped, tied
         let goods = when way == zipped then 1 else 2
         size short {{ long = 160 cm  way = tied }}
         {SHEET}"
    );
    let drawn = in_size(&items, AS_DRAWN);
    let short = in_size(&items, "short");
    near(figure(&drawn, "long"), 2000.0);
    near(figure(&drawn, "goods"), 1.0);
    near(figure(&short, "long"), 1600.0);
    near(figure(&short, "goods"), 2.0);
    assert!(short.parameters.iter().all(|p| p.set_by == SetBy::Size));
    let by_hand = compiled_with(&items, &["long=170 cm"]);
    let short = &by_hand.size("short").unwrap().design;
    near(figure(short, "long"), 1700.0);
    let set_by: Vec<_> = short.parameters.iter().map(|p| (p.name.as_str(), p.value.as_str(), p.set_by)).collect();
    assert_eq!(set_by, [("long", "170 cm", SetBy::CommandLine), ("way", "tied", SetBy::Size)]);
}

#[test]
fn ranges_hold_at_both_ends_and_not_beyond() {
    let at = |value: &str| errors(&format!("param long = {value} from 150 cm to 220 cm  let twice = long * 2\n{SHEET}"));
    for value in ["150 cm", "220 cm", "2.2 m"] {
        assert!(at(value).is_empty(), "{value}: {:?}", at(value));
    }
    assert_eq!(at("149.9 cm"), ["out-of-range"]);
    assert_eq!(at("220.1 cm"), ["out-of-range"]);
}

#[test]
fn lengths_of_one_kind_are_the_choice_they_equal() {
    let items =
        |size: &str| format!("param chain = 3 mm one of 3 mm, 5 mm  size other {{ chain = {size} }}  let wide = 2 * chain\n{SHEET}");
    near(figure(&in_size(&items("0.5 cm"), "other"), "wide"), 10.0);
    assert_eq!(errors(&items("4 mm")), ["not-a-choice"]);
}

#[test]
fn variants_of_a_material_are_goods_of_their_own() {
    let d = design(
        "let light = plain(mass: 30 g/m2)
         panel a { cut 1 of plain  shape rectangle(width: 1 m, height: 1 m)  allow 0 mm }
         panel b { cut 1 of light  shape as a  allow 0 mm }
         panel c { cut 1 of plain(mass: 40 g/m2)  shape as a  allow 0 mm }
         panel d { cut 1 of plain(price: 9 EUR/m)  shape as a  allow 0 mm }
         panel e { cut 1 of plain(direction: \"one_way\")  shape as a  allow 0 mm }
         panel f { cut 1 of plain(thickness: 1 mm)  shape as a  allow 0 mm }
         panel g { cut 1 of plain(mass: 40 g/m2)  shape as a  allow 0 mm }
         panel h { cut 1 of light  shape as a  allow 0 mm }",
    );
    // 50 g/m² is 5e-5 g on a square millimetre
    let mass = |of: &str| d.material(piece(&d, of).material).unwrap().mass.unwrap() * 1e6;
    for (of, grams) in [("a", 50.0), ("b", 30.0), ("c", 40.0), ("d", 50.0), ("e", 50.0), ("g", 40.0), ("h", 30.0)] {
        near(mass(of), grams);
    }
    let goods = |of: &str| piece(&d, of).material;
    assert_eq!(goods("c"), goods("g"));
    assert_eq!(goods("b"), goods("h"));
    assert_eq!(d.material(goods("b")).unwrap().name, "light");
    let titles: Vec<_> = d.materials.iter().map(|m| m.title.as_str()).collect();
    assert_eq!(
        titles,
        [
            "Plain cloth",
            "Plain cloth, mass 30 g/m2",
            "Plain cloth, mass 40 g/m2",
            "Plain cloth",
            "Plain cloth, direction one way",
            "Plain cloth, thickness 1 mm"
        ]
    );
    let all: std::collections::BTreeSet<_> = ["a", "b", "c", "d", "e", "f"].iter().map(|of| goods(of)).collect();
    assert_eq!(all.len(), 6, "a figure replaced makes other goods");
}

#[test]
fn text_holds_measures_and_words() {
    let d = design(
        "param way = tied one of tied, zipped
         param long = 30 cm
         component tag() \"Tag of {2 * 15 mm}\" {
           sits at places
           let wide = long / 2
           prepare \"Cut {wide} of {plain}, {way}, {3 / 2} times, {{as is}}\"
         }
         panel sheet \"Sheet, {long}\" { cut 1 of plain  shape rectangle(width: long, height: 40 cm)  allow 1 cm }
         attach tags = tag() at middle on sheet.left",
    );
    assert_eq!(piece(&d, "sheet").label, "Sheet, 30 cm");
    assert_eq!(d.attachments[0].title, "Tag of 30 mm");
    let prepare = d.operations.iter().find(|o| o.kind == lapfell::ir::OperationKind::Prepare).unwrap();
    let metric = prepare.what.worded(lapfell::pipeline::Style::METRIC);
    assert!(metric.contains("Cut 15 cm of Plain cloth, tied, 1.5 times, {as is}"), "{metric}");
}

/// Everything behind a value, itself included.
fn behind(design: &Design, why: TraceId) -> Vec<String> {
    let node = design.provenance.node(why).unwrap();
    assert!(node.inputs.iter().all(|i| i.0 < why.0), "a value rests on one that comes after it");
    let mut all = vec![node.what.clone()];
    all.extend(node.inputs.iter().flat_map(|i| behind(design, *i)));
    all
}

#[test]
fn every_figure_leads_back_to_what_it_was_made_from() {
    let d = design(
        "param long = 2 m
         param slim = 20 cm
         param idle = 7 mm
         let unused = idle * 2
         let wide = long / 2 - slim
         component tag(reach: length = 2 cm) { sits at places  footprint reach  uses 4 * reach of plain }
         panel a {
           cut 1 of plain
           let taper_by = slim / 4
           shape rectangle(width: wide, height: long)
           taper left by taper_by over 50% from foot
           allow slim / 10
         }
         panel b { cut 1 of plain  shape rectangle(width: a.left.length, height: 1 m)  allow 1 cm }
         attach tags = tag() at long / 4 from head on a.right
         seam s { join a.right to b.foot over long from left }",
    );
    let of = |fact: &str| behind(&d, d.provenance.fact(fact).unwrap_or_else(|| panic!("no {fact}")));
    let rests = |fact: &str, on: &[&str]| {
        let all = of(fact);
        assert!(on.iter().all(|name| all.iter().any(|x| x == name)), "{fact}: {all:?}");
        assert!(!all.iter().any(|x| x == "idle" || x == "unused"), "{fact}: {all:?}");
    };
    rests("wide", &["long", "slim"]);
    rests("a.left", &["long", "slim", "wide", "a.taper_by"]);
    rests("a.left.allowance", &["slim"]);
    rests("a.cut_area", &["long", "slim", "wide"]);
    rests("b.foot", &["long", "slim", "finished length of a.left"]);
    rests("tags.1", &["long"]);
    rests("s", &["long", "finished length of b.foot"]);
}

#[test]
fn what_a_design_reads_of_a_material_is_traced_to_it() {
    let d = design(
        "let usable = plain.width - 2 * plain.selvedge  panel a { cut 1 of plain  shape rectangle(width: usable, height: 1 m)  allow 0 mm }",
    );
    near(figure(&d, "usable"), 3000.0);
    let all = behind(&d, d.provenance.fact("usable").unwrap());
    assert!(all.iter().any(|x| x == "plain.width") && all.iter().any(|x| x == "plain.selvedge"), "{all:?}");
}

#[test]
fn one_mistake_is_told_once_with_the_sizes_it_is_in() {
    let found = compiled(&format!(
        "param rows = 1 from 0 to 9
         size two {{ rows = 2 }}
         size none {{ rows = 0 }}
         let gap = 60 cm / (rows - 1)
         let twice = gap * 2
         let thrice = gap + twice
         {SHEET}"
    ));
    let all: Vec<_> = found.problems.sorted().into_iter().filter(|d| d.code == "divided-by-nothing").collect();
    assert_eq!(all.len(), 1, "{}", told(&found));
    assert_eq!(all[0].sizes, [AS_DRAWN]);
}

#[test]
fn a_range_may_be_made_of_parameters_that_come_later() {
    let items = |most: &str| {
        format!(
            "param long = 2 * base from 1 cm to most  param base = 10 cm  param most = {most}  size big {{ long = 3 * base  base = 12 cm }}\n{SHEET}\nlet used = long"
        )
    };
    near(figure(&in_size(&items("50 cm"), "big"), "long"), 360.0);
    assert_eq!(errors(&items("30 cm")), ["out-of-range"]);
    assert_eq!(errors(&format!("param long = 1 cm from 0 cm to 2 * long\n{SHEET}")), ["cycle"]);
}

#[test]
fn a_setting_from_outside_that_comes_too_early_is_told() {
    let items = format!("param first = 1 cm\nparam second = 2 cm\n{SHEET}\nlet used = first + second");
    let found = compiled_with(&items, &["first=2 * second"]);
    let codes: Vec<_> = found.problems.sorted().iter().map(|d| d.code).filter(|c| !c.starts_with("unused")).collect();
    assert_eq!(codes, ["cycle"]);
    let found = compiled_with(&items, &["second=2 * first"]);
    near(figure(&found.size(AS_DRAWN).unwrap().design, "used"), 30.0);
}
