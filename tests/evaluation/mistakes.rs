//! Odd but legal sources, and what is said of those that go too far.

use super::{compiled, design, edge, errors, near, piece, told};

fn doubling(first: &str, next: impl Fn(usize) -> String, last: &str) -> String {
    let steps: String = (1..50).map(|i| next(i) + "\n").collect();
    format!("{first}\n{steps}{last}")
}

const SHEET: &str = "panel sheet { cut 1 of plain  shape rectangle(width: 60 cm, height: 40 cm)  allow 1 cm }";

#[test]
fn functions_that_double_their_work_are_stopped() {
    let items = doubling(
        "fn f0(a: length) = a",
        |i| format!("fn f{i}(a: length) = (f{p}(a) + f{p}(a)) / 2", p = i - 1),
        "panel sheet { cut 1 of plain  shape rectangle(width: f49(60 cm), height: 40 cm)  allow 1 cm }\nlet more = f49(1 cm)",
    );
    assert_eq!(errors(&items), ["too-many"]);
}

#[test]
fn texts_and_lists_that_double_are_stopped() {
    let items = doubling("let t0 = \"aaaaaaaa\"", |i| format!("let t{i} = \"{{t{p}}}{{t{p}}}\"", p = i - 1), SHEET);
    assert_eq!(errors(&items), ["too-many"]);
    let items = doubling("let t0 = [1 cm, 2 cm]", |i| format!("let t{i} = [t{p}, t{p}]", p = i - 1), SHEET);
    assert_eq!(errors(&items), ["too-many"]);
}

#[test]
fn a_let_of_a_body_that_fails_is_told_once() {
    let items = "param rows = 0
                 panel a {
                   cut 1 of plain
                   let gap = 10 cm / rows
                   shape rectangle(width: 60 cm, height: 40 cm)
                   allow gap
                   allow gap * 2 on left
                   notch left at gap from head
                 }";
    assert_eq!(errors(items), ["divided-by-nothing"]);
}

/// A finish that asks how long its edge is.
const EDGED: &str = "
finish edged() {
  require stretch > 20 mm else \"only {stretch} long\"
  let stitches = 100 mm / stretch
  allow 8 mm
  uses stretch * stitches of plain_tape
  sew \"Turn it\"
}
material plain_tape is ribbon { width = 2 cm  source = \"memory\" }
";

#[test]
fn a_finish_knows_how_long_its_edge_comes_out() {
    let d = design(&format!(
        "{EDGED} panel a {{ cut 1 of plain  shape rectangle(width: 60 cm, height: 40 cm)  round corner head-left by 5 cm
         allow 1 cm  finish head_left, left with edged() }}"
    ));
    near(edge(&d, "a", "head_left").allowance.as_mm(), 8.0);
    near(edge(&d, "a", "left").allowance.as_mm(), 8.0);
    // 350 mm of the left edge remain below the round corner
    near(edge(&d, "a", "left").length.as_mm(), 350.0);
    assert!(edge(&d, "a", "head_left").finish.is_some());
    // A corner of 1 cm is 15.7 mm long
    let found = errors(&format!(
        "{EDGED} panel a {{ cut 1 of plain  shape rectangle(width: 60 cm, height: 40 cm)  round corner head-left by 1 cm
         allow 1 cm  finish head_left with edged() }}"
    ));
    assert_eq!(found, ["requirement"]);
}

#[test]
fn what_a_finish_requires_is_told_though_the_piece_cannot_be_drafted() {
    let found = errors(&format!(
        "{EDGED} panel a {{ cut 1 of plain  shape rectangle(width: 15 mm, height: 40 cm)  round corner head-left by 1 m
         allow 1 cm  finish foot with edged() }}"
    ));
    assert!(found.contains(&"requirement") && found.contains(&"corner-too-large"), "{found:?}");
}

#[test]
fn goods_have_no_figures_below_nothing() {
    for figure in ["mass: -5 g/m2", "width: 0 cm", "selvedge: -1 cm", "price: -3 EUR/m", "thickness: 0 mm"] {
        let found = errors(&format!(
            "let odd = plain({figure})\npanel a {{ cut 1 of odd  shape rectangle(width: 60 cm, height: 40 cm)  allow 1 cm }}"
        ));
        assert_eq!(found, ["not-positive"], "{figure}");
    }
    let gift = "let gift = plain(price: 0 EUR/m, selvedge: 0 mm)\n";
    assert!(errors(&format!("{gift}{}", SHEET.replace("of plain", "of gift"))).is_empty());
    assert_eq!(errors(&SHEET.replace("allow", "grain 0 deg within -3 deg  allow")), ["not-positive"]);
}

#[test]
fn notches_and_darts_stand_every_so_far() {
    let d = design(
        "panel a {
           cut 1 of plain
           shape rectangle(width: 60 cm, height: 50 cm)
           taper left by 10 cm over 100% from head
           allow 1 cm
           notch left spaced every 20 cm from head
           notch foot spaced every 25% from left
           dart head spaced every 20 cm from right wide 2 cm deep 8 cm
         }",
    );
    // The slanted edge is sqrt(500² + 100²) = 509.902 mm long: two fit, measured from its head end, where it starts
    let left = edge(&d, "a", "left").length.as_mm();
    near(left, 260_000.0_f64.sqrt());
    let on = |name: &str| {
        let index = piece(&d, "a").edges.iter().position(|e| e.name == name).unwrap();
        let asked = piece(&d, "a").notches.iter().filter(|n| n.edge.index() == index && n.reason == lapfell::ir::NotchReason::Asked);
        asked.map(|n| n.at.as_mm()).collect::<Vec<_>>()
    };
    for (at, expected) in on("left").iter().zip([200.0, 400.0]) {
        near(*at, expected);
    }
    assert_eq!(on("left").len(), 2);
    // At 100 % it would stand on the corner
    for (at, expected) in on("foot").iter().zip([150.0, 300.0, 450.0]) {
        near(*at, expected);
    }
    assert_eq!(on("foot").len(), 3);
    // The head is 500 mm: darts at 200 and 400 mm from right take 20 mm each
    near(edge(&d, "a", "head").length.as_mm(), 500.0);
    near(edge(&d, "a", "head").sewn_length.as_mm(), 460.0);
}

#[test]
fn notches_too_far_apart_or_too_many_are_told() {
    let with = |gap: &str| errors(&SHEET.replace("allow 1 cm", &format!("allow 1 cm  notch left spaced every {gap} from head")));
    assert_eq!(with("40 cm"), ["gap-too-wide"]);
    assert_eq!(with("0 cm"), ["gap-too-wide"]);
    assert_eq!(with("-5 cm"), ["gap-too-wide"]);
    assert_eq!(with("0.1 mm"), ["too-many"]);
    assert!(with("39 cm").is_empty());
}

#[test]
fn empty_lists_ask_for_nothing() {
    let d = design(&format!(
        "let none = []\n{} attach loops = ribbon_loop() at none from head on sheet.left",
        SHEET.replace("allow 1 cm", "allow 1 cm  notch left at none from head")
    ));
    assert!(d.attachments.is_empty());
    assert!(piece(&d, "sheet").notches.is_empty());
}

#[test]
fn a_long_chain_of_shapes_taken_over_is_worked_out() {
    let chain: String = (1..300).map(|i| format!("panel p{i} {{ cut 1 of plain  shape as p{}  allow 1 cm }}\n", i - 1)).collect();
    let d = design(&format!("panel p0 {{ cut 1 of plain  shape rectangle(width: 60 cm, height: 40 cm)  allow 1 cm }}\n{chain}"));
    near(edge(&d, "p299", "foot").length.as_mm(), 600.0);
}

#[test]
fn nothing_is_said_of_what_rests_on_something_that_failed() {
    let found = compiled(
        "param long = 3 m from 1 m to 2 m
         let half = long / 2
         panel a { cut 1 of plain  shape rectangle(width: half, height: long)  allow 1 cm }
         panel b { cut 1 of plain  shape as a  allow 1 cm }
         attach loops = ribbon_loop() at half from head on b.left
         seam s { join a.left to b.left }",
    );
    let all: Vec<_> = found.problems.sorted().iter().map(|d| d.code).filter(|c| *c != "unused-import").collect();
    assert_eq!(all, ["out-of-range"], "{}", told(&found));
}
