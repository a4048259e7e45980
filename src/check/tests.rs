//! Whole sources through [`check`].

use super::{Program, check};
use crate::diagnostic::Problems;
use crate::source::{LoadError, Loaded, Loader, SourceMap};
use crate::stdlib::{Nothing, WithLibrary};

fn run_text(loader: &dyn Loader, name: &str, text: &str) -> (Option<Program>, Problems, SourceMap) {
    let (mut sources, mut problems) = (SourceMap::default(), Problems::default());
    let main = sources.add(name, text);
    let program = check(main, loader, &mut sources, &mut problems);
    (program.ok(), problems, sources)
}

/// The codes of a design's items, in source order.
fn codes(items: &str) -> Vec<&'static str> {
    let (_, problems, _) = run_text(&WithLibrary(Nothing), "main.fell", items);
    problems.sorted().iter().map(|d| d.code).collect()
}

fn shown(problems: &Problems, sources: &SourceMap) -> String {
    use crate::diagnostic::{Look, render_text};
    render_text(problems, sources, Look::plain(120))
}

#[test]
fn the_library_is_in_order() {
    for (path, source) in crate::stdlib::modules() {
        let file = crate::syntax::parse(crate::source::FileId(0), source, &mut Problems::default());
        let names: Vec<&str> = file.declarations.iter().map(|d| d.name().text.as_str()).collect();
        // All at once; then one after the other, each read beside those before it.
        let at_once = format!("use {path} {{ {} }}\n", names.join(", "));
        let one_by_one: String = names.iter().map(|name| format!("use {path} {{ {name} }}\n")).collect();
        for text in [at_once, one_by_one] {
            let (program, mut problems, sources) = run_text(&WithLibrary(Nothing), "main.fell", &text);
            problems.retain(|d| d.code != "no-design" && d.code != "unused-import");
            assert!(problems.is_empty(), "{}", shown(&problems, &sources));
            assert!(program.is_none(), "a file without a design is no program");
        }
    }
}

#[test]
fn a_name_the_library_lacks_is_told_the_nearest_of_all_it_holds() {
    let text = "use std.trims { ribbon_loop }\nuse std.trims { snap_pear }\nuse std.trims { rolled_hem }\n";
    let (_, problems, sources) = run_text(&WithLibrary(Nothing), "main.fell", text);
    let shown = shown(&problems, &sources);
    assert!(shown.contains("snap_pair") && shown.contains("rolled_hem"), "{shown}");
    let lacking = problems.sorted().iter().filter(|d| d.code == "import-missing").count();
    assert_eq!(lacking, 2, "{shown}");
    assert!(!shown.contains("std/trims.fell"), "nothing is wrong with the library itself: {shown}");
}

/// Serves `m1`, `m2`, …, each of which imports the next.
struct Chain(usize);

impl Loader for Chain {
    fn load(&self, path: &str) -> Result<Loaded, LoadError> {
        let number: usize = path.trim_start_matches('m').parse().unwrap();
        let next = number + 1;
        let import = if number < self.0 {
            format!("use m{next} {{ a{next} }}\nlet a{number} = a{next}\n")
        } else {
            format!("let a{number} = 1 m\n")
        };
        Ok(Loaded { name: format!("{path}.fell"), text: import })
    }
}

const CHAIN: &str = "use m1 { a1 }\ndesign d { require a1 == 1 m else \"no\" }";

#[test]
fn a_chain_of_modules_is_followed_up_to_the_limit() {
    let (program, problems, sources) = run_text(&Chain(150), "main.fell", CHAIN);
    assert!(problems.is_empty(), "{}", shown(&problems, &sources));
    assert_eq!(program.unwrap().constants.len(), 150);
    let (program, problems, _) = run_text(&Chain(1000), "main.fell", CHAIN);
    assert!(program.is_none());
    assert_eq!(problems.sorted().iter().map(|d| d.code).collect::<Vec<_>>(), ["module-unreadable"]);
}

/// Serves one module of this text, `lengths`, and one that it may import, `base`.
struct Lengths(&'static str);

impl Loader for Lengths {
    fn load(&self, path: &str) -> Result<Loaded, LoadError> {
        let text = if path == "base" { "let metre = 1 m\n" } else { self.0 };
        Ok(Loaded { name: format!("{path}.fell"), text: text.to_owned() })
    }
}

#[test]
fn imports_are_found_wherever_they_are_written() {
    let modules = [
        "use base { metre }\nlet two = 2 * metre\n",
        "  use base { metre }\n  let two = 2 * metre\n",
        "// of\nlet a = 1 m  use base { metre } let two = 2 * metre",
    ];
    let mains = ["use lengths { two }\n", "  use lengths { two }\n", "let b = 2 m use lengths { two }\n"];
    for (module, main) in modules.iter().flat_map(|module| mains.map(|main| (module, main))) {
        let text = format!("{main}design d {{ require two == 2 m else \"no\" }}");
        let (program, problems, sources) = run_text(&Lengths(module), "main.fell", &text);
        let program = program.unwrap_or_else(|| panic!("{}", shown(&problems, &sources)));
        assert!(program.constants.iter().any(|c| c.item.name.text == "metre"), "{module} {main}");
        assert_eq!(sources.files().count(), 3);
    }
    let (_, problems, _) = run_text(
        &Lengths("use base { metre, lost }\nlet two = 2 * metre\nlet three = \n"),
        "main.fell",
        "use lengths { two }\ndesign d { require two == 2 m else \"no\" }",
    );
    assert_eq!(problems.sorted().iter().map(|d| d.code).collect::<Vec<_>>(), ["import-missing", "syntax"]);
}

/// A module that can't be read whole.
struct Broken;

impl Loader for Broken {
    fn load(&self, path: &str) -> Result<Loaded, LoadError> {
        Ok(Loaded { name: format!("{path}.fell"), text: "let a = \nlet hem = (".to_owned() })
    }
}

#[test]
fn one_mistake_is_reported_once() {
    let text = "use broken { hem }\ndesign d { let w = hem + 1 m  require w > hem else \"no\" }";
    let (_, problems, _) = run_text(&Broken, "main.fell", text);
    assert!(problems.sorted().iter().all(|d| d.labels.first().is_some_and(|l| l.span.file.0 == 1)));
    // What seems to be missing may stand in what could not be read.
    assert_eq!(codes("design d { let a = 1 m +\n let b = }\n design e { require c > 1 m else \"no\" }").first(), Some(&"syntax"));
    // What comes of an unknown name is silent, and so is what only seems unused because of it.
    assert_eq!(codes("design d { param a = 1 m  let b = c + 1 m  require b > 2 g else \"no\" }"), ["unknown-name"]);
    assert_eq!(codes("design d { let a = 1 m + 1 g  let b = 2 * a  require b > 1 m else \"no\" }"), ["dimension-mismatch"]);
}

#[test]
fn independent_mistakes_are_all_reported() {
    let text = "design d { let a = b  let c = 1 m + 1 g  require sqrt(1 m) > 1 else \"no\"  size s { e = 1 }  size s { } }";
    let found = codes(text);
    for code in ["unknown-name", "dimension-mismatch", "impossible-root", "size-unknown-parameter", "name-declared-twice"] {
        assert!(found.contains(&code), "{code} is not in {found:?}");
    }
}

#[test]
fn ten_thousand_lets_in_a_chain() {
    let mut text = "design d {\n  let a0 = 1 mm\n".to_owned();
    for i in 1..10_000 {
        // Written from the last to the first would be as good: order carries no meaning.
        text.push_str(&format!("  let a{i} = a{} + 1 mm\n", i - 1));
    }
    text.push_str("  require a9999 > 1 m else \"no\"\n}");
    let (program, problems, sources) = run_text(&Nothing, "main.fell", &text);
    assert!(problems.is_empty(), "{}", shown(&problems, &sources));
    assert_eq!(program.unwrap().constants.len(), 10_000);
}

#[test]
fn names_of_branches_that_exclude_each_other() {
    let text = "design d { param wide = yes  when wide { let w = 2 m } else when not wide { let w = 1 m } else { let w = 3 m }  require w > 1 mm else \"no\" }";
    assert_eq!(codes(text), Vec::<&str>::new());
}

#[test]
fn edges_after_renaming_and_corners() {
    let panel = |lines: &str| {
        format!(
            "use std.cloths {{ light_nylon }}\nuse std.shapes {{ rectangle }}\ndesign d {{ panel p {{ cut 1 of light_nylon  shape rectangle(width: 1 m, height: 1 m)  allow 1 cm\n{lines} }} }}"
        )
    };
    // Two edges may change names with each other.
    assert_eq!(codes(&panel("rename head to foot  rename foot to head  allow 2 cm on head")), Vec::<&str>::new());
    assert_eq!(codes(&panel("rename head to foot")), ["name-declared-twice"]);
    assert_eq!(codes(&panel("rename top to mouth")), ["unknown-edge"]);
    // A corner's new edge has one of two names; which, the outline's direction tells.
    assert_eq!(codes(&panel("round corner head-left by 3 cm  allow 2 cm on left_head")), Vec::<&str>::new());
    assert_eq!(codes(&panel("box corner head-left by 3 cm  allow 2 cm on head_left")), ["unknown-edge"]);
    assert_eq!(codes(&panel("box corner head-left by 3 cm  allow 2 cm on head_left_2")), Vec::<&str>::new());
}

#[test]
fn functions_without_kinds_take_those_of_each_call() {
    let text = |call: &str| format!("design d {{ fn twice(a) = 2 * a  fn sum_of(a, b = 1 m) = twice(a) + b  require {call} else \"no\" }}");
    assert_eq!(codes(&text("sum_of(1 m) > 1 m")), Vec::<&str>::new());
    assert_eq!(codes(&text("sum_of(1 g) > 1 m")), ["dimension-mismatch"]);
    assert_eq!(codes(&text("twice(1 g) > 1 g")), ["unused-function"]);
}

#[test]
fn readings_below_zero_and_their_differences() {
    let text = |condition: &str| format!("design d {{ require {condition} else \"no\" }}");
    assert_eq!(codes(&text("-4 degC < 4 degC")), Vec::<&str>::new());
    assert_eq!(codes(&text("4 degC - -4 degC == 8 K")), Vec::<&str>::new());
    assert_eq!(codes(&text("4 degC + 4 degC > 4 degC")), ["temperature-reading"]);
}

#[test]
fn an_outline_taken_over_leaves_the_name_of_a_split_free() {
    let both = "use std.cloths { tarp_cloth }\nuse std.shapes { rectangle }\ndesign bag {\n\
                panel top { cut 1 of tarp_cloth  shape rectangle(width: 2 m, height: 2 m)  split middle from (1 m, 0 m) to (1 m, 2 m) as a, b }\n\
                panel ground { cut 1 of tarp_cloth  shape as top  split middle from (1 m, 0 m) to (1 m, 2 m) as c, d  allow 16 mm on middle }\n}";
    assert_eq!(codes(both), [""; 0]);
}

#[test]
fn imports_reach_the_same_wherever_they_stand() {
    let reached = |text: &str| {
        let (_, problems, sources) = run_text(&WithLibrary(Nothing), "main.fell", text);
        let files: Vec<String> = sources.files().map(|f| f.name.clone()).collect();
        (files, problems.sorted().iter().map(|d| d.code).filter(|c| *c != "no-design").collect::<Vec<_>>())
    };
    let (files, codes) = reached("use std.cloths { sack_cloth as cloth }\nuse std.lost { a }\nlet a = 1 mm\n");
    assert_eq!(files, ["main.fell", "std/cloths.fell"]);
    assert_eq!(codes, ["module-missing"]);
    for text in [
        "  use std.cloths {\n sack_cloth // so\n as cloth }\n use std.lost { a }\nlet a = 1 mm\n",
        "let a = 1 mm use std.cloths { sack_cloth as cloth }\nuse std.lost { a }",
        "use std.cloths\n  { sack_cloth as cloth } use std.lost { a }\nlet a = 1 mm",
        "// use std.shapes { circle }\nuse std.cloths { sack_cloth as cloth }\n/* use std.lost { a }\n",
    ] {
        let (others, found) = reached(text);
        assert_eq!(others, files, "{text}");
        assert!(found == codes || text.contains("/*"), "{text}: {found:?}");
    }
    // An import that can't be read reaches nothing, though it looks like one that does.
    let (files, codes) = reached("use std.cloths { sack_cloth as cloth } }\nuse std.shapes { circle, }\n");
    assert_eq!(files, ["main.fell", "std/cloths.fell"], "{codes:?}");
}
